//! A judgement in plain words. Nothing here says that anything is fit to eat.

use crate::pack::Standing;

use super::Stage;
use super::judge::{Judgement, Part};
use super::signs::TaxonSign;
use super::size::{Measure, SizeSeen, SizeVerdict};
use super::weigh::{By, Contradiction};

/// The judgement itself.
pub(super) fn text(
    known: &[TaxonSign<'_>],
    seen: &[TaxonSign<'_>],
    judgement: &Judgement,
    standing: Standing,
) -> String {
    match leave_it(standing) {
        Some(leave) => format!("{leave}{}", age(judgement.stage)),
        None => of_food(known, seen, judgement),
    }
}

/// What is said of a taxon that nobody takes, whatever its age; nothing of food.
#[must_use]
pub fn leave_it(standing: Standing) -> Option<&'static str> {
    match standing {
        Standing::Food => None,
        Standing::Inedible => Some("Not gathered as food: leave it."),
        Standing::Harmful | Standing::Deadly => Some("Dangerous at every age: leave it."),
    }
}

/// The age of what nobody takes, in words that invite nobody.
fn age(stage: Option<Stage>) -> &'static str {
    match stage {
        Some(Stage::Button) => " Still a button.",
        Some(Stage::Young) => " Young.",
        Some(Stage::Prime) => " Full grown.",
        Some(Stage::Past) => " Old.",
        None => "",
    }
}

fn of_food(known: &[TaxonSign<'_>], seen: &[TaxonSign<'_>], judgement: &Judgement) -> String {
    if let Some(contradiction) = judgement.contradictions.first() {
        return at_odds(known, contradiction, judgement.stage);
    }
    if judgement.is_mixed() {
        return format!("A mixed tuft: {}. Each part is judged by itself.", parts(&judgement.parts));
    }
    let by_size = judgement.decided_by == [By::Size(judgement.size.measure)];
    let why = reasons(known, &judgement.decided_by);
    match judgement.stage {
        Some(Stage::Button) if by_size => format!("Still a button: {}", taken_from(&judgement.size)),
        Some(_) if by_size => format!("Still too small: {}", taken_from(&judgement.size)),
        Some(Stage::Button) => format!("Still a button: {why}."),
        Some(Stage::Young) => format!("Young: {why}."),
        Some(Stage::Prime) => format!("In its prime: {why}."),
        Some(Stage::Past) => format!("Past its best: {why}."),
        None if seen.iter().any(|sign| sign.span.to < Stage::Past) => {
            "Condition not known: not past its best, but how far it has opened was not seen.".to_owned()
        }
        None if !seen.is_empty() => "Condition not known: what was seen fits more than one age.".to_owned(),
        None => "Condition not known: no sign of its age was given.".to_owned(),
    }
}

/// What else to know.
pub(super) fn notes(
    known: &[TaxonSign<'_>],
    seen: &[TaxonSign<'_>],
    judgement: &Judgement,
    standing: Standing,
) -> Vec<String> {
    if standing != Standing::Food {
        return Vec::new();
    }
    let mut notes: Vec<String> = Vec::new();
    notes.extend(seen.iter().filter_map(|sign| sign.note.map(str::to_owned)));
    notes.extend(of_size(judgement));
    if !judgement.contradictions.is_empty() {
        notes.push("Look again. If they are of different ages, count them by stage.".to_owned());
    }
    notes.extend(to_look_for(known, judgement));
    notes
}

fn at_odds(known: &[TaxonSign<'_>], it: &Contradiction, meanwhile: Option<Stage>) -> String {
    let said = |by: By, stage: Stage| match by {
        By::Count(_) => reason(known, by),
        By::Sign(_) | By::Size(_) => format!("{} ({stage})", reason(known, by)),
    };
    let reckon = match meanwhile {
        Some(Stage::Past) => "past its best",
        Some(Stage::Button) => "a button",
        _ => "young",
    };
    format!(
        "What was seen does not go together: {}, and {}. Until you have looked again, reckon with the worse: {reckon}.",
        said(it.younger, it.up_to),
        said(it.older, it.from),
    )
}

/// `2 buttons, 4 in their prime, 1 past`.
fn parts(parts: &[Part]) -> String {
    let told = |part: &Part| {
        let stage = match (part.stage, part.count) {
            (Stage::Button, 1) => "button",
            (Stage::Button, _) => "buttons",
            (Stage::Young, _) => "young",
            (Stage::Prime, 1) => "in its prime",
            (Stage::Prime, _) => "in their prime",
            (Stage::Past, _) => "past",
        };
        format!("{} {stage}", part.count)
    };
    parts.iter().map(told).collect::<Vec<_>>().join(", ")
}

fn reasons(known: &[TaxonSign<'_>], all: &[By]) -> String {
    all.iter().map(|by| reason(known, *by)).collect::<Vec<_>>().join("; ")
}

fn reason(known: &[TaxonSign<'_>], by: By) -> String {
    match by {
        By::Sign(at) => known.iter().find(|sign| sign.at == at).map_or("", |sign| sign.text).to_owned(),
        By::Count(Stage::Button) => "counted as buttons".to_owned(),
        By::Count(stage) => format!("counted as {stage}"),
        By::Size(Measure::Width) => "its width".to_owned(),
        By::Size(Measure::Height) => "its height".to_owned(),
    }
}

/// `14 mm across; this species is taken from 20 mm.`
fn taken_from(size: &SizeSeen) -> String {
    let from = size.taken_from.unwrap_or_default();
    let seen = size.seen.map(|seen| {
        let (least, most) = (seen.least(), seen.most());
        let range = if least == most { most.to_string() } else { format!("{least} to {most}") };
        format!("{range} mm {}; ", size.measure.adverb())
    });
    format!("{}this species is taken from {from} mm.", seen.unwrap_or_default())
}

fn of_size(judgement: &Judgement) -> Option<String> {
    let size = &judgement.size;
    let from = size.taken_from.unwrap_or_default();
    let told = match size.verdict {
        SizeVerdict::NotKnown => "No size to take it from is known: signs alone decide.".to_owned(),
        SizeVerdict::NotMeasured if judgement.stage != Some(Stage::Past) => {
            format!("It is taken from {from} mm {}: measure the smallest.", size.measure.adverb())
        }
        SizeVerdict::Some => {
            let least = size.seen.map(|seen| seen.least().to_string()).unwrap_or_default();
            format!(
                "The smallest, {least} mm {}, are still too small: leave those under {from} mm.",
                size.measure.adverb()
            )
        }
        SizeVerdict::TooSmall if !judgement.decided_by.contains(&By::Size(size.measure)) => {
            format!("Too small besides: {}", taken_from(size))
        }
        SizeVerdict::Enough if judgement.stage.is_none() && !judgement.is_mixed() => {
            format!("Large enough: {} But size alone does not tell its age.", taken_from(size))
        }
        SizeVerdict::NotMeasured | SizeVerdict::Enough | SizeVerdict::TooSmall => return None,
    };
    Some(told)
}

/// What to look for next.
fn to_look_for(known: &[TaxonSign<'_>], judgement: &Judgement) -> Option<String> {
    let signs = |stage: Stage| {
        let found = judgement.would_change.iter().filter(move |change| change.stage == stage);
        found.filter_map(|change| match change.by {
            By::Sign(at) => known.iter().find(|sign| sign.at == at),
            By::Count(_) | By::Size(_) => None,
        })
    };
    let first = |stage: Stage| signs(stage).next().map(|sign| sign.text);
    match judgement.stage {
        Some(Stage::Button | Stage::Young) => {
            let held_back = judgement.size.verdict == SizeVerdict::TooSmall;
            let open = first(Stage::Prime).filter(|_| !held_back)?;
            Some(format!("In its prime once you see this: {open}."))
        }
        Some(Stage::Prime) => {
            // One look each with the eye, the hand and the knife.
            let mut told: Vec<&TaxonSign<'_>> = Vec::new();
            for sign in signs(Stage::Past) {
                if !told.iter().any(|other| other.handling == sign.handling) {
                    told.push(sign);
                }
            }
            let told: Vec<&str> = told.iter().map(|sign| sign.text).collect();
            (!told.is_empty()).then(|| format!("Past its best with any of these: {}.", told.join("; ")))
        }
        None if !judgement.is_mixed() => {
            let ages = Stage::ALL.iter().filter_map(|stage| Some(format!("{} ({stage})", first(*stage)?)));
            let ages: Vec<String> = ages.collect();
            (!ages.is_empty()).then(|| format!("Look for one of these: {}.", ages.join("; ")))
        }
        Some(Stage::Past) | None => None,
    }
}
