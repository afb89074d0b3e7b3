//! Reading codes from TOML and own rules from JSON. What is not understood to the last word is refused: half a rule is a
//! wrong rule.

use serde_json::Value;
use toml::Spanned;

use super::limit::Limit;
use super::model::{About, Code, Mark, Rule};
use crate::pack::{Pack, Problem, did_you_mean, is_id};

/// Why a code cannot be had.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// The file does not hold a code.
    #[error("the code has {} problems, the first of them: {}", .0.len(), .0.first().map(ToString::to_string).unwrap_or_default())]
    Broken(Vec<Problem>),
    /// No code goes by that id.
    #[error("there is no code {id:?}{hint}: a list shows the codes there are")]
    Unknown {
        /// As given.
        id: String,
        /// What may have been meant.
        hint: String,
    },
}

impl CodeError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Broken(_) => "code-broken",
            Self::Unknown { .. } => "code-unknown",
        }
    }
}

/// Why an own rule cannot be read. A rule of a later version is one of these: it is kept, and never judged by half.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {message}")]
pub struct RuleError {
    /// The field, as a path.
    pub field: String,
    /// What is wrong with it.
    pub message: String,
}

impl RuleError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        "rule-unreadable"
    }
}

/// The file of a code: as the code itself, with the places of its rules.
#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    code: Spanned<About>,
    #[serde(default)]
    rule: Vec<Spanned<Rule>>,
}

/// Reads the text of a code.
///
/// # Errors
/// [`CodeError::Broken`] names file, line and field of what is wrong.
pub fn read(file: &str, text: &str) -> Result<Code, CodeError> {
    let broken = |problem| CodeError::Broken(vec![problem]);
    let source = toml::de::Deserializer::parse(text).map_err(|error| broken(syntax(file, text, &error)))?;
    let read: File = serde_path_to_error::deserialize(source).map_err(|error| {
        let mut problem = syntax(file, text, error.inner());
        problem.field = path(error.path());
        broken(problem)
    })?;
    let (at, about) = (read.code.span().start, read.code.into_inner());
    let mut problems = Vec::new();
    let mut note = |offset: usize, field: &str, rule: &'static str, message: String| {
        let (file, field) = (file.to_owned(), field.to_owned());
        problems.push(Problem { file, line: line(text, offset), field, rule, message });
    };
    for (field, message) in slips_of_about(&about) {
        note(at, field, "code", message);
    }
    if read.rule.is_empty() {
        note(at, "rule", "missing-field", "a code has at least one [[rule]]".into());
    }
    let mut rules: Vec<Rule> = Vec::new();
    for rule in read.rule {
        let (at, rule) = (rule.span().start, rule.into_inner());
        for (field, message) in slips_of_rule(&rule) {
            note(at, field, "rule", message);
        }
        if rules.iter().any(|other| other.id == rule.id) {
            note(at, "id", "twice", format!("a rule {:?} stands above already", rule.id));
        }
        rules.push(rule);
    }
    if problems.is_empty() { Ok(Code { about, rules }) } else { Err(CodeError::Broken(problems)) }
}

/// Everything that is wrong with a code, its names held against a pack as well.
#[must_use]
pub fn check(file: &str, text: &str, pack: &Pack) -> Vec<Problem> {
    let code = match read(file, text) {
        Ok(code) => code,
        Err(CodeError::Broken(problems)) => return problems,
        Err(CodeError::Unknown { .. }) => return Vec::new(),
    };
    let known: Vec<&str> = pack
        .character_by_id("form")
        .and_then(|form| pack.character(form))
        .map(|form| form.states.iter().map(|state| state.id.as_str()).collect())
        .unwrap_or_default();
    let unknown = code.rules.iter().flat_map(|rule| {
        let forms = rule.names.forms.iter().filter(|form| !known.contains(&form.as_str()));
        forms.map(|form| Problem {
            file: file.to_owned(),
            line: 0,
            field: format!("rule {}: for.forms", rule.id),
            rule: "unknown-form",
            message: format!("the pack has no form {form:?}{}", did_you_mean(form, known.iter().copied())),
        })
    });
    unknown.collect()
}

impl Rule {
    /// Reads an own rule as a record holds it.
    ///
    /// # Errors
    /// [`RuleError`] names the field.
    pub fn from_json(value: &Value) -> Result<Self, RuleError> {
        let rule: Self = serde_path_to_error::deserialize(value).map_err(|error| RuleError {
            field: path(error.path()),
            message: plainly(&error.inner().to_string()),
        })?;
        match slips_of_rule(&rule).into_iter().next() {
            None => Ok(rule),
            Some((field, message)) => Err(RuleError { field: field.to_owned(), message }),
        }
    }
}

fn slips_of_about(about: &About) -> Vec<(&'static str, String)> {
    let mut slips = Vec::new();
    if !is_id(&about.id) {
        slips.push(("code.id", format!("{:?}: write lower-case words joined by hyphens", about.id)));
    }
    let texts = [
        ("code.title", &about.title),
        ("code.short", &about.short),
        ("code.holds_in", &about.holds_in),
        ("code.source", &about.source),
    ];
    slips.extend(texts.iter().filter(|(_, text)| text.trim().is_empty()).map(|(field, _)| empty(field)));
    if about.mark == Mark::Read && about.seen.is_none() {
        slips.push(("code.seen", "a text that was read has a date on which it was seen".into()));
    }
    slips
}

/// What no single field can see: that the parts of a rule make sense together.
fn slips_of_rule(rule: &Rule) -> Vec<(&'static str, String)> {
    let mut slips = Vec::new();
    if !is_id(&rule.id) {
        slips.push(("id", format!("{:?}: write lower-case words joined by hyphens", rule.id)));
    }
    if rule.words.trim().is_empty() {
        slips.push(empty("words"));
    }
    let nothing = match &rule.limit {
        Limit::Stage(limit) => limit.leave.is_empty(),
        Limit::ClosedDays(limit) => limit.of_month.is_empty(),
        Limit::ClosedWeekdays(limit) => limit.on.is_empty(),
        Limit::Ground(limit) => limit.leave.is_empty(),
        Limit::Host(limit) => limit.leave.is_empty() && !limit.unknown,
        Limit::Protected => rule.names.any.is_empty(),
        _ => false,
    };
    if nothing {
        slips.push(("limit", "it limits nothing: name what it speaks of".into()));
    }
    match &rule.limit {
        Limit::Weight(weight) if weight.clump && weight.single.is_none() => {
            slips.push((
                "limit.weight.clump",
                "it says how a `single` fruitbody is counted, and there is none".into(),
            ));
        }
        Limit::Volume(volume) if !(volume.litres.is_finite() && volume.litres > 0.0) => {
            slips.push(("limit.volume.litres", "give litres above nought".into()));
        }
        Limit::Host(host) if host.leave.iter().any(|tree| *tree != tree.trim().to_lowercase()) => {
            slips.push(("limit.host.leave", "write trees in lower case".into()));
        }
        Limit::ClosedHours(hours) if hours.from == hours.to => {
            slips.push((
                "limit.closed-hours",
                "it closes and opens at the same time: use another kind".into(),
            ));
        }
        _ => {}
    }
    slips
}

fn empty(field: &'static str) -> (&'static str, String) {
    (field, "this text is empty".into())
}

fn syntax(file: &str, text: &str, error: &toml::de::Error) -> Problem {
    let line = error.span().map_or(0, |span| line(text, span.start));
    let (file, message) = (file.to_owned(), plainly(error.message()));
    Problem { file, line, field: String::new(), rule: "toml", message }
}

fn line(text: &str, offset: usize) -> usize {
    text.bytes().take(offset).filter(|byte| *byte == b'\n').count() + 1
}

/// The path to a field, without the steps that only the reader takes.
fn path(path: &serde_path_to_error::Path) -> String {
    use serde_path_to_error::Segment;
    let steps = path.iter().filter_map(|segment| match segment {
        Segment::Seq { index } => Some(format!("[{index}]")),
        Segment::Map { key } | Segment::Enum { variant: key } => {
            (!key.starts_with("$__")).then(|| format!(".{key}"))
        }
        Segment::Unknown => None,
    });
    steps.collect::<String>().trim_start_matches('.').to_owned()
}

/// A reader's message on one line. Of a long list of what it expected, what is nearest is enough.
fn plainly(message: &str) -> String {
    let message = message.lines().next().unwrap_or_default();
    let named: Vec<&str> = message.split('`').skip(1).step_by(2).collect();
    match named.split_first() {
        Some((misspelt, known)) if message.starts_with("unknown ") && !known.is_empty() => {
            let what = message.split('`').next().unwrap_or_default().trim();
            let hint = did_you_mean(misspelt, known.iter().copied());
            let hint = if hint.is_empty() { format!(": choose one of {}", known.join(", ")) } else { hint };
            format!("{what} `{misspelt}`{hint}")
        }
        _ => message.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::code::LimitKind;

    const CODE: &str = r#"
[code]
id = "invented"
title = "An invented byelaw"
short = "byelaw"
holds_in = "Harrow Shaw (invented)"
kind = "byelaw"
in_force = "if-chosen"
source = "invented for a test"
mark = "from-memory"

[[rule]]
id = "half"
words = "At most half."
limit = { share = { most = "1/2" } }
"#;

    /// Line, field and message of the one problem.
    fn problem(text: &str) -> (usize, String, String) {
        match read("invented.toml", text) {
            Err(CodeError::Broken(problems)) if problems.len() == 1 => {
                let problem = &problems[0];
                (problem.line, problem.field.clone(), problem.message.clone())
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_good_code_is_read_and_survives_json() {
        let code = read("invented.toml", CODE).unwrap();
        assert_eq!(code.rules[0].limit.kind(), LimitKind::Share);
        let json = serde_json::to_value(&code).unwrap();
        assert_eq!(serde_json::from_value::<Code>(json).unwrap(), code);
        let rule = serde_json::to_value(&code.rules[0]).unwrap();
        assert_eq!(Rule::from_json(&rule).unwrap(), code.rules[0]);
    }

    #[test]
    fn a_slip_is_told_with_its_line_its_field_and_what_was_meant() {
        let cases = [
            (
                "share = { most = \"1/2\" }",
                "share = { mots = \"1/2\" }",
                15,
                "rule[0].limit.share.mots",
                "did you mean `most`?",
            ),
            ("share = {", "shear = {", 15, "rule[0].limit", "did you mean `share`?"),
            ("holds_in =", "hold_in =", 6, "code.hold_in", "did you mean `holds_in`?"),
            ("\"1/2\"", "\"3/2\"", 15, "rule[0].limit.share.most", "write it like 1/2"),
            ("kind = \"byelaw\"", "kind = \"bylaw\"", 7, "code.kind", "did you mean `byelaw`?"),
            (
                "limit = { share = { most = \"1/2\" } }",
                "limit = { stage = { leave = [] } }",
                12,
                "limit",
                "limits nothing",
            ),
            ("id = \"half\"", "id = \"Half\"", 12, "id", "lower-case"),
            ("mark = \"from-memory\"", "mark = \"read\"", 2, "code.seen", "date on which it was seen"),
            ("words =", "words", 14, "", ""),
        ];
        for (good, bad, line, field, message) in cases {
            assert!(CODE.contains(good));
            let (at, of, told) = problem(&CODE.replace(good, bad));
            assert_eq!((at, of.as_str()), (line, field), "{bad}: {told}");
            assert!(told.contains(message), "{bad}: {told}");
        }
    }

    #[test]
    fn english_names_are_no_names() {
        let named = |name: &str| CODE.replace("limit =", &format!("for = {{ any = [\"{name}\"] }}\nlimit ="));
        for good in ["Boletus edulis", "Morchella", "velvet-shank", "Auricularia auricula-judae"] {
            assert!(read("invented.toml", &named(good)).is_ok(), "{good}");
        }
        for bad in ["Hedgehog Fungus", "Bearded tooth (fungus)", "boletus edulis", ""] {
            assert!(problem(&named(bad)).2.contains("no name a rule can use"), "{bad}");
        }
    }

    #[test]
    fn a_form_that_the_pack_lacks_is_found() {
        let pack = Pack::britain().unwrap();
        let formed = CODE.replace("limit =", "for = { forms = [\"braket\"] }\nlimit =");
        let found = check("invented.toml", &formed, pack);
        assert!(found[0].to_string().contains("did you mean `bracket`?"), "{found:?}");
        assert_eq!(check("invented.toml", CODE, pack), []);
    }

    #[test]
    fn an_own_rule_of_a_later_version_is_refused_whole() {
        let later = serde_json::json!({"id": "third", "words": "A third.", "limit": {"share": {"most": "1/3", "when": "wet"}}});
        let error = Rule::from_json(&later).unwrap_err();
        assert_eq!((error.code(), error.field.as_str()), ("rule-unreadable", "limit.share.when"));
    }
}
