//! The words of an answer, all in one place: short, plain, about the patch, and never about eating.

use std::collections::BTreeSet;

use jiff::civil::{Date, Time};

use super::Case;
use super::advice::{Advice, Answer};
use super::asked::{Maturity, Naming};
use super::ruling::{Effect, Finding, Missing, Ruling};
use crate::code::{MonthDay, Names, Over, Per, Round, VolumeLimit};
use crate::find::{Count, How};
pub(super) use crate::pack::capital;
use crate::pack::month_name;
use crate::stage::Stage;

/// The whole in a line or two.
pub(super) fn headline(case: &Case<'_>, advice: &Advice, findings: &[Finding]) -> String {
    match advice.answer {
        Answer::Leave => leave(case, advice, findings),
        Answer::NoMoreThan => figures(case, advice, findings),
        Answer::AskFirst => {
            let asks =
                findings.iter().find(|it| it.ruling.effect == Effect::Ask && !it.ruling.head.1.is_empty());
            let why = asks.map_or("whether you may pick here is not known", |it| it.ruling.head.1.as_str());
            format!("Ask first: {why}. If you may: {}", lower(&figures(case, advice, findings)))
        }
    }
}

/// The answer without its grounds: only what makes it *leave*, and that a name wants checking, are never left out.
pub(super) fn brief(case: &Case<'_>, advice: &Advice, findings: &[Finding]) -> String {
    match advice.answer {
        Answer::Leave => {
            let (why, _) = grounds(findings);
            format!("{} {}.", it_or_these(case), why.trim_end_matches('.'))
        }
        Answer::NoMoreThan => answered(case, advice).join(" "),
        Answer::AskFirst => format!("Ask first. If you may: {}", lower(&answered(case, advice).join(" "))),
    }
}

fn it_or_these(case: &Case<'_>) -> &'static str {
    let one = case.asked.there.seen.is_some_and(|seen| seen.most() == 1);
    if one { "Leave it." } else { "Leave these." }
}

fn grounds(findings: &[Finding]) -> (&str, Option<&Finding>) {
    let deciding = findings.iter().find(|it| matches!(it.ruling.effect, Effect::Leave | Effect::AtMost(0)));
    (deciding.map_or("There are none left.", |it| it.ruling.head.1.as_str()), deciding)
}

fn leave(case: &Case<'_>, advice: &Advice, findings: &[Finding]) -> String {
    let (why, deciding) = grounds(findings);
    let mut told = vec![it_or_these(case).to_owned(), cited(why, deciding)];
    told.extend(advice.look_again.map(|day| format!("Look again on {}.", date(day))));
    if advice.specimen > 0 {
        told.push("One may go home for study, apart from everything else.".into());
    }
    told.join(" ")
}

/// How many, how many stay, and whether that stands on somebody's word.
fn answered(case: &Case<'_>, advice: &Advice) -> Vec<String> {
    let before = case.ledger.here_on_this_visit().count;
    let (up_to, stay) = (advice.up_to, advice.leave.unwrap_or(0));
    let seen = case.asked.there.seen.map_or(String::new(), |seen| format!(" of these {seen}"));
    // Of "6 to 8" nobody knows how many stay.
    let counted = case.asked.there.seen.is_none_or(|seen| seen.least() == seen.most());
    let rest = if counted || stay == 0 { stay.to_string() } else { "the rest".to_owned() };
    let first = if case.asked.there.seen.is_some_and(|seen| seen.most() == 1) {
        "No more than this one; none would stay".to_owned()
    } else if before > 0 {
        format!("No more than {up_to} more{seen}; {before} taken already; leave {rest}")
    } else {
        format!("No more than {up_to}{seen}; leave {rest}")
    };
    let which = match stay {
        0 => "",
        _ if has_old_ones(&case.asked.there.maturity) => ", the old ones among them",
        _ => ", the biggest among them",
    };
    let mut told = vec![format!("{first}{which}.")];
    // Before all that only explains: where there is room for a few lines, this is among them.
    if case.asked.naming != Naming::By(How::Key) {
        told.push("The name is somebody's word: check every look-alike.".into());
    }
    told
}

fn figures(case: &Case<'_>, advice: &Advice, findings: &[Finding]) -> String {
    let mut told = answered(case, advice);
    let up_to = advice.up_to;
    let at_most = |it: &&Finding| it.ruling.effect == Effect::AtMost(up_to) && !it.ruling.head.1.is_empty();
    told.extend(findings.iter().find(at_most).map(|it| cited(&it.ruling.head.1, Some(it))));
    let only: BTreeSet<&String> = findings.iter().filter_map(|it| it.ruling.only.as_ref()).collect();
    told.extend(only.iter().map(|which| format!("{}.", capital(which))));
    told.extend(advice.grams_left.map(|grams| format!("And no more than {}.", weight(grams.get()))));
    told.join(" ")
}

/// A sentence with the code it stands in before its full stop.
fn cited(sentence: &str, finding: Option<&Finding>) -> String {
    let code = finding.map_or(String::new(), Finding::cited);
    format!("{}{code}.", sentence.trim_end_matches('.'))
}

fn has_old_ones(maturity: &Maturity) -> bool {
    matches!(maturity, Maturity::Mixed(stages) if stages.get(&Stage::Past).is_some_and(|count| *count > 0))
}

pub(super) fn volume(limit: &VolumeLimit) -> Ruling {
    let text =
        format!("No more than {} litres{}: judge it by your basket.", decimals(limit.litres), per(limit.per));
    Ruling::unknown(Missing::Litres, text)
}

pub(super) fn rounded(round: Round) -> &'static str {
    match round {
        Round::Down => ", rounded down",
        Round::Nearest => ", rounded to the nearest",
        Round::Up => ", rounded up",
    }
}

pub(super) fn low_end(seen: Count) -> String {
    if seen.least() == seen.most() { String::new() } else { format!(" (the low end of {seen})") }
}

pub(super) fn low_end_rules(seen: Count) -> &'static str {
    if seen.least() == seen.most() { "" } else { "; the low end rules" }
}

/// What was taken already, and what that leaves.
pub(super) fn less(taken: u32, left: u32) -> String {
    match taken {
        0 => String::new(),
        1 => format!("; 1 is taken already, so {left} left"),
        _ => format!("; {taken} are taken already, so {left} left"),
    }
}

pub(super) fn too_few(present: u32, share: &str) -> String {
    match present {
        0 => "There may be none.".into(),
        1 => "There is only one.".into(),
        _ => format!("There are too few: {share} of {present} is less than one."),
    }
}

pub(super) fn too_few_to_keep(present: u32, keep: u32) -> String {
    match present {
        0 => "There may be none.".into(),
        1 => "There is only one.".into(),
        _ => format!("There are too few: {keep} must stay."),
    }
}

pub(super) fn none_in_condition() -> String {
    "None of them is of an age to be taken.".into()
}

pub(super) fn per(per: Per) -> &'static str {
    match per {
        Per::Visit => " on one visit",
        Per::Day => " in one day",
        Per::Season => " in one season",
        Per::Year => " in one year",
    }
}

pub(super) fn over(over: Over) -> &'static str {
    match over {
        Over::Person => "fruitbodies",
        Over::Species => "of this species",
        Over::Patch => "from this patch",
    }
}

/// ` of the cep group`, if a rule speaks of some fungi only.
pub(super) fn spoken_of(names: &Names) -> String {
    match (&names.called, names.any.as_slice()) {
        (Some(called), _) => format!(" of {called}"),
        (None, []) => String::new(),
        (None, any) => {
            format!(" of {}", any.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and "))
        }
    }
}

pub(super) fn are(stage: Stage) -> &'static str {
    match stage {
        Stage::Button => "have not opened",
        Stage::Young => "are young",
        Stage::Prime => "are in their prime",
        Stage::Past => "are past their best",
    }
}

pub(super) fn why_left(stage: Stage) -> &'static str {
    match stage {
        Stage::Button => "Not opened yet.",
        Stage::Young => "Not full grown yet.",
        Stage::Prime => "In their prime, and those stay.",
        Stage::Past => "Past their best.",
    }
}

pub(super) fn named(how: How) -> &'static str {
    match how {
        How::Key => "by the key",
        How::Sight => "on sight",
        How::Told => "by hearsay",
        How::SporePrint => "from a spore print",
        How::Microscope => "under a microscope",
    }
}

/// Grams, and kilograms from one on.
///
/// # Units
/// Grams; rounded down, so that nothing is allowed by rounding.
pub(super) fn weight(grams: f64) -> String {
    if grams < 1000.0 {
        format!("{} g", grams.max(0.0).floor())
    } else {
        format!("{} kg", decimals((grams / 10.0).floor() / 100.0))
    }
}

fn decimals(number: f64) -> String {
    format!("{number:.2}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The whole part of a number of fruitbodies.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within bounds just before")]
pub(super) fn whole(number: f64) -> u32 {
    number.clamp(0.0, f64::from(u32::MAX)).floor() as u32
}

pub(super) fn date(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}

pub(super) fn day_of_year(day: MonthDay) -> String {
    format!("{} {}", day.day, u8::try_from(day.month).map_or("", month_name))
}

pub(super) fn time(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
