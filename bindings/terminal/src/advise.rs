//! `trug advise`: how much of what stands there may be taken, and why.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::{Value, json};
use trug::allowance::{self, Advice, Answer as Said, Reason};
use trug::find::{Find, How, Width};
use trug::id::FindId;
use trug::notebook::{FindRecord, Given, Notebook, Question};
use trug::outing::Permission;
use trug::pack::Pack;
use trug::units::Grams;

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::fields::{self, Fields};
use crate::knowledge;

/// How much of what stands there may be taken, and why. `--taken` and `--grams` are what was taken from here already, on
/// this visit.
#[derive(Debug, Args)]
pub struct Command {
    /// What it is taken for: an id of the pack, or an exact Latin or English name.
    #[arg(required_unless_present = "find")]
    taxon: Option<String>,
    /// A find that is kept, by the beginning of its id; what else is given stands in place of what it says.
    #[arg(long, value_name = "ID")]
    find: Option<String>,
    /// How the name was reached: key, sight, told, spore-print, microscope, or not-settled [default: sight, or as the find says].
    #[arg(long, value_name = "HOW", value_parser = named)]
    named: Option<Named>,
    #[command(flatten)]
    more: More,
    /// Hold it against this code, in place of those chosen. May be given more than once.
    #[arg(long, value_name = "ID")]
    code: Vec<String>,
    /// Show also the rules that leave the answer as it is.
    #[arg(long)]
    all: bool,
    /// A pack's folder [default: the one that is built in].
    #[arg(long, value_name = "DIR")]
    pack: Option<PathBuf>,
    #[command(flatten)]
    fields: Box<Fields>,
}

/// What only advice asks after.
#[derive(Debug, Clone, Default, Args)]
pub struct More {
    /// How high they are, in mm: 80, or 60-90.
    #[arg(long, value_name = "MM")]
    height: Option<Width>,
    /// What one of them weighs, in grams.
    #[arg(long, value_name = "GRAMS", value_parser = fields::grams)]
    each: Option<Grams>,
    /// May I pick here? own, permitted, open, unknown [default: the outing's answer].
    #[arg(long, value_name = "ANSWER")]
    land: Option<Permission>,
}

impl More {
    /// How high they are.
    pub fn height(&self) -> Option<Width> {
        self.height
    }

    /// The question that a find puts.
    pub fn question(self, find: Find) -> Question {
        Question { find, height: self.height, each: self.each, land: self.land, ..Question::default() }
    }
}

/// How a name was reached, or that it is not settled.
#[derive(Debug, Clone, Copy)]
pub struct Named(pub Option<How>);

pub fn named(text: &str) -> Result<Named, String> {
    if text.trim() == "not-settled" {
        return Ok(Named(None));
    }
    let how: Result<How, _> = text.parse();
    how.map(|how| Named(Some(how))).map_err(|error| format!("{error}, not-settled"))
}

pub fn run(command: Command, folder: &Path) -> Done {
    let Command { taxon, find, named, more, code, all, pack, fields } = command;
    let notebook = Notebook::open(folder)?;
    let given = fields.into_find(&notebook)?;
    let kept = find.map(|id| notebook.find(notebook.find_beginning(&id)?)).transpose()?;
    knowledge::with(pack.as_ref(), |pack| {
        let mut question = match kept {
            Some(kept) => of_kept(pack, &kept, &given, &more)?,
            None => more.question(given.clone()),
        };
        let further = given.taken.or(given.grams.map(|_| 1));
        question.taken =
            further.filter(|_| !question.is_kept || given.taken.is_some()).map(|n| (n, given.grams));
        if !question.is_kept {
            question.find.taken = None;
            question.find.grams = None;
        }
        question.how = match named {
            Some(named) => named.0,
            None if taxon.is_some() => question.how.or(Some(How::Sight)),
            None => question.how,
        };
        question.taxon = taxon.or(question.taxon);
        question.codes = (!code.is_empty()).then_some(code);
        let advice = notebook.advise(pack, &question)?;
        Ok(Answer::new(told(&advice, all), &advice))
    })
}

/// The question that a kept find puts, with whatever is given now in place of what it says.
fn of_kept(pack: &Pack, kept: &FindRecord, given: &Find, more: &More) -> Result<Question, Refusal> {
    let mut fields = serde_json::to_value(&kept.find.value)?;
    let over = serde_json::to_value(Find { taken: None, grams: None, ..given.clone() })?;
    if let (Some(fields), serde_json::Value::Object(over)) = (fields.as_object_mut(), over) {
        fields.extend(over);
    }
    let find = serde_json::from_value(fields)?;
    let More { height, each, land } = *more;
    Ok(Question { find, height, each, land, ..Question::of_kept(pack, kept) })
}

/// The advice for a tired person: one line first, the reasons under it.
pub fn told(advice: &Advice, all: bool) -> String {
    let mut words = advice.headline.clone();
    let leave = advice.answer == Said::Leave;
    let told = allowance::told(advice);
    list(&mut words, "Why", &told.why);
    list(&mut words, "Not known", &told.not_known);
    if !leave {
        list(&mut words, "Holds as well", &told.further);
        checks(&mut words, advice);
    }
    if all {
        list(&mut words, "Mind", &told.conduct);
        list(&mut words, "Judged, and leaves it as it is", &told.idle);
    } else if !leave && !told.conduct.is_empty() {
        let _ = write!(words, "\nAnd {} rules of conduct to mind: `--all` shows them.", told.conduct.len());
    }
    if told.lacks_stage {
        words.push_str("\nWhat shows it: `trug condition signs` with its name lists the signs of age.");
    }
    words.push_str("\nIf in any doubt, leave it.");
    words
}

fn list(words: &mut String, head: &str, reasons: &[&Reason]) {
    if reasons.is_empty() {
        return;
    }
    let _ = write!(words, "\n{head}:"); // a String takes everything
    for reason in reasons {
        let title = if reason.title.is_empty() { String::new() } else { format!(" ({})", reason.title) };
        let _ = write!(words, "\n  - {}{title}", reason.text);
    }
}

fn checks(words: &mut String, advice: &Advice) {
    if advice.checks.is_empty() {
        return;
    }
    let _ = write!(words, "\nCheck on every one that you cut:");
    for check in &advice.checks {
        let harm = if check.deadly { "has killed" } else { "makes people ill" };
        let _ = write!(words, "\n  - {} ({harm}): {}", check.name, check.look_at.join(", "));
    }
}

/// Advice for a find that was just kept, kept with it.
pub fn for_new_find(
    notebook: &Notebook,
    pack: &Pack,
    record: FindRecord,
    taxon: Option<String>,
    how: Option<How>,
    more: More,
    because: Option<String>,
) -> Result<Advice, Refusal> {
    let question = Question { taxon, how, is_kept: true, ..more.question(record.find.value) };
    let advice = notebook.advise(pack, &question)?;
    notebook.keep_advice(record.id, &advice, because)?;
    Ok(advice)
}

/// The advice given for a find, as programs read it.
pub fn given(given: &[Given], find: &Find) -> Value {
    let rows = given.iter().map(|one| {
        json!({"at": one.at, "advice": one.advice, "because": one.because, "followed": one.is_followed_by(find)})
    });
    rows.collect()
}

/// The advice given for a find, in words.
pub fn given_told(given: &[Given], find: &Find) -> String {
    given.iter().fold(String::new(), |mut words, one| {
        let Some(advice) = one.advice() else { return words };
        let _ = writeln!(words, "  advice     {}", advice.headline);
        if one.is_followed_by(find) == Some(false) {
            let because = one.because.as_deref().map_or(String::new(), |because| format!(": {because}"));
            let _ = writeln!(words, "             taken against it{because}");
        }
        words
    })
}

/// Advice for a find as it is kept by now, kept with it.
pub fn for_kept_find(notebook: &Notebook, pack: &Pack, id: FindId) -> Result<Advice, Refusal> {
    let question = of_kept(pack, &notebook.find(id)?, &Find::default(), &More::default())?;
    let advice = notebook.advise(pack, &question)?;
    notebook.keep_advice(id, &advice, None)?;
    Ok(advice)
}
