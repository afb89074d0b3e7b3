//! The table of worked situations. Every expected value was worked by hand from the text of the rule, never taken from an
//! answer of ours.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;

use trug::allowance::{Advice, Verdict};
use trug::code::{Code, LimitKind};
use trug::pack::Pack;
use trug::stage::Stage;

use super::codes;
use super::situation::{File, Situation};

/// The least number of situations that the table holds.
const LEAST: usize = 120;

fn situations() -> Vec<Situation> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/situations");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let read = |file: &std::path::PathBuf| {
        let text = fs::read_to_string(file).unwrap();
        let file: File = toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        file.situation
    };
    files.iter().flat_map(read).collect()
}

/// Everything in which an answer differs from what was worked out.
fn differences(situation: &Situation, advice: &Advice) -> Vec<String> {
    let expect = &situation.expect;
    let mut wrong = Vec::new();
    let mut same = |what: &str, expected: String, got: String| {
        if expected != got {
            wrong.push(format!("{what}: expected {expected}, got {got}"));
        }
    };
    same("answer", expect.answer.clone(), advice.answer.word().to_owned());
    same("up_to", expect.up_to.to_string(), advice.up_to.to_string());
    same("specimen", expect.specimen.to_string(), advice.specimen.to_string());
    if let Some(leave) = expect.leave {
        same("leave", format!("{:?}", Some(leave)), format!("{:?}", advice.leave));
    }
    if let Some(grams) = expect.grams_left {
        same("grams_left", format!("{:?}", Some(grams)), format!("{:?}", advice.grams_left));
    }
    if let Some(stage) = &expect.stage {
        same("stage", stage.clone(), advice.stage.clone());
    }
    if let Some(day) = &expect.look_again {
        let got = advice.look_again.map_or_else(|| "never".into(), |day| day.to_string());
        same("look_again", day.clone(), got);
    }
    for words in &expect.says {
        if !advice.headline.contains(words.as_str()) {
            wrong.push(format!("says {words:?}: got {:?}", advice.headline));
        }
    }
    for (of, verdict) in &expect.reasons {
        let got: Vec<String> = reasons(advice, of).map(|reason| word(reason.verdict)).collect();
        if !got.contains(verdict) {
            wrong.push(format!("{of}: expected {verdict}, got {got:?}"));
        }
    }
    for (of, missing) in &expect.missing {
        let got: Vec<String> =
            reasons(advice, of).flat_map(|reason| &reason.missing).map(ToString::to_string).collect();
        if got != *missing {
            wrong.push(format!("{of}: expected {missing:?} missing, got {got:?}"));
        }
    }
    if let Some(then) = situation.then {
        let followed = advice.is_followed_by(then.taken, then.specimens);
        if followed != then.followed {
            wrong.push(format!("followed: expected {}, got {followed}", then.followed));
        }
    }
    wrong
}

fn reasons<'a>(advice: &'a Advice, of: &str) -> impl Iterator<Item = &'a trug::allowance::Reason> {
    let (code, clause) = of.split_once('/').unwrap();
    let (code, clause) = (code.to_owned(), clause.to_owned());
    advice.reasons.iter().filter(move |reason| reason.code == code && reason.clause == clause)
}

fn word(verdict: Verdict) -> String {
    serde_json::to_value(verdict).unwrap().as_str().unwrap().to_owned()
}

#[test]
fn every_situation_is_answered_as_it_was_worked_by_hand() {
    let all = codes::all();
    let situations = situations();
    assert!(situations.len() >= LEAST, "{} situations", situations.len());
    let mut names = BTreeSet::new();
    let mut wrong = String::new();
    for situation in &situations {
        let name = &situation.name;
        assert!(names.insert(name.clone()), "{name:?} stands twice");
        assert!(!name.is_empty() && !situation.source.is_empty(), "{name:?} has no name or no source");
        assert!(
            !situation.expect.answer.is_empty() && !situation.expect.reasons.is_empty(),
            "{name:?} expects nothing"
        );
        let advice = situation.advice(&all);
        for difference in differences(situation, &advice) {
            writeln!(wrong, "{name}: {difference}\n  {}", advice.headline).unwrap();
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// Kind of each rule by `code/clause`, own rules included.
fn kinds(codes: &[Code]) -> BTreeMap<String, LimitKind> {
    let of = |code: &Code| -> Vec<(String, LimitKind)> {
        let rules = code.rules.iter();
        rules.map(|rule| (format!("{}/{}", code.about.id, rule.id), rule.limit.kind())).collect()
    };
    codes.iter().flat_map(of).collect()
}

#[test]
fn the_table_covers_every_kind_of_limit_every_form_and_every_stage() {
    let all = codes::all();
    let pack = Pack::britain().unwrap();
    let mut held: BTreeSet<LimitKind> = BTreeSet::new();
    let mut judged: BTreeSet<(LimitKind, String)> = BTreeSet::new();
    let (mut forms, mut stages, mut chosen) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    for situation in situations() {
        let in_force = situation.codes_in_force(&all);
        chosen.extend(in_force.iter().map(|code| code.about.id.clone()));
        let kinds = kinds(&in_force);
        for (of, verdict) in &situation.expect.reasons {
            if let Some(kind) = kinds.get(of) {
                judged.insert((*kind, verdict.clone()));
                if verdict == "holds" || *kind == LimitKind::Volume {
                    held.insert(*kind);
                }
            }
        }
        forms.extend(situation.subject().map(|fungus| fungus.forms).unwrap_or_default());
        stages.extend(situation.stages.keys().copied().chain([situation.stage]));
    }
    assert_eq!(held, LimitKind::ALL.iter().copied().collect());
    let form = pack.character(pack.character_by_id("form").unwrap()).unwrap();
    let every: BTreeSet<String> = form.states.iter().map(|state| state.id.clone()).collect();
    assert_eq!(forms, every);
    assert_eq!(stages, Stage::ALL.iter().copied().collect());
    let every: BTreeSet<String> = all.iter().map(|code| code.about.id.clone()).collect();
    let untried: Vec<&String> = every.difference(&chosen).collect();
    assert!(untried.is_empty(), "no situation chooses {untried:?}");
    // A kind that can be judged either way is seen to be judged either way.
    for kind in LimitKind::ALL {
        let one_way =
            [LimitKind::Share, LimitKind::Keep, LimitKind::Count, LimitKind::Weight, LimitKind::Volume]
                .contains(kind)
                || [LimitKind::OwnUse, LimitKind::Study, LimitKind::Advice].contains(kind);
        assert!(
            one_way || judged.contains(&(*kind, "does not hold".into())),
            "{kind} is never seen not to hold"
        );
    }
}

#[test]
fn no_answer_says_that_anything_may_be_eaten() {
    let all = codes::all();
    for situation in situations() {
        let advice = situation.advice(&all);
        let told = serde_json::to_string(&(
            &advice.headline,
            advice.reasons.iter().map(|r| &r.text).collect::<Vec<_>>(),
        ));
        let told = told.unwrap().to_lowercase();
        for word in ["safe", "edible", "eat ", "eaten", "enjoy", "delicious"] {
            assert!(!told.contains(word), "{}: {told}", situation.name);
        }
    }
}
