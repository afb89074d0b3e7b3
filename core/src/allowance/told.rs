//! The reasons of an advice in the order in which somebody wants to hear them.

use super::advice::{Advice, Answer};
use super::ruling::{Missing, Reason, Verdict};

/// The reasons of an advice, sorted; each says something that those before it do not.
#[derive(Debug, Clone, PartialEq)]
pub struct Told<'a> {
    /// What decided.
    pub why: Vec<&'a Reason>,
    /// What decided because it is not known, where that tells more than that a name or number is missing.
    pub not_known: Vec<&'a Reason>,
    /// What holds as well, with its figures. Empty for what is left anyway.
    pub further: Vec<&'a Reason>,
    /// What to mind: conduct, without figures.
    pub conduct: Vec<&'a Reason>,
    /// What was judged and leaves the answer as it is.
    pub idle: Vec<&'a Reason>,
    /// How old they are decides, and nobody has seen it: signs would tell.
    pub lacks_stage: bool,
}

/// Sorts the reasons of an advice.
#[must_use]
pub fn told(advice: &Advice) -> Told<'_> {
    let holds = |reason: &Reason| reason.verdict == Verdict::Holds;
    let leave = advice.answer == Answer::Leave;
    Told {
        why: of(advice, |reason| reason.decides && holds(reason)),
        not_known: of(advice, |reason| reason.verdict == Verdict::CannotBeJudged && is_telling(reason)),
        further: of(advice, |reason| {
            !leave && !reason.decides && holds(reason) && !reason.numbers.is_empty()
        }),
        conduct: of(advice, |reason| !reason.decides && holds(reason) && reason.numbers.is_empty()),
        idle: of(advice, |reason| reason.verdict == Verdict::DoesNotHold),
        lacks_stage: advice
            .reasons
            .iter()
            .any(|reason| reason.decides && reason.missing.contains(&Missing::Stage)),
    }
}

/// Whether it tells more than that something has no name or number, which the first line does.
fn is_telling(reason: &Reason) -> bool {
    reason.decides
        || !reason.missing.iter().all(|it| [Missing::Name, Missing::Count, Missing::Stage].contains(it))
}

/// Codes say the same in the same words: once is enough.
fn of(advice: &Advice, wanted: impl Fn(&Reason) -> bool) -> Vec<&Reason> {
    let mut told: Vec<&Reason> = Vec::new();
    for reason in advice.reasons.iter().filter(|reason| wanted(reason)) {
        let same = |other: &&Reason| other.text == reason.text && other.title == reason.title;
        if !told.iter().any(same) {
            told.push(reason);
        }
    }
    told
}
