//! All rulings weighed: the strictest wins, and every one comes back.

use std::cmp::Ordering;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::Case;
use super::asked::{Maturity, Naming};
use super::facts::Check;
use super::ruling::{Effect, Finding, Missing, Reason};
use super::words;
use crate::code::Limit;
use crate::outing::Permission;
use crate::units::Grams;

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Answer {
    /// Leave them.
    #[serde(rename = "leave")]
    Leave,
    /// Ask somebody first; the figures are as if they said yes.
    #[serde(rename = "ask first")]
    AskFirst,
    /// No more than so many. About the patch, never about eating.
    #[serde(rename = "no more than")]
    NoMoreThan,
}

impl Answer {
    /// The word as programs read it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Leave => "leave",
            Self::AskFirst => "ask first",
            Self::NoMoreThan => "no more than",
        }
    }
}

/// What may be taken, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Advice {
    /// The answer.
    pub answer: Answer,
    /// How many more may be taken; 0 if they are to be left.
    pub up_to: u32,
    /// How many then stay; `None` if nobody counted.
    pub leave: Option<u32>,
    /// How many may be taken for study, apart from food: 0 or 1.
    pub specimen: u32,
    /// Grams that may still be taken; `None` if no weight is limited, or if it cannot be told.
    pub grams_left: Option<Grams>,
    /// How old they are: a stage, `mixed`, or `unknown`.
    pub stage: String,
    /// The day from which the answer may be another.
    pub look_again: Option<Date>,
    /// The answer alone, short enough to stay in view while counts are typed.
    #[serde(default)]
    pub brief: String,
    /// The whole in a line or two.
    pub headline: String,
    /// Every rule's verdict, those that decided first.
    pub reasons: Vec<Reason>,
    /// What to look for on every fruitbody that is cut.
    pub checks: Vec<Check>,
}

impl Advice {
    /// Whether a taking keeps to it. Taking against it is kept on record, and never makes it allowed.
    #[must_use]
    pub fn is_followed_by(&self, taken: u32, specimens: u32) -> bool {
        let asked_first = taken == 0 || self.answer != Answer::AskFirst;
        taken <= self.up_to && specimens <= self.specimen.max(self.up_to.saturating_sub(taken)) && asked_first
    }
}

pub(super) fn weigh(case: &Case<'_>, mut findings: Vec<Finding>) -> Advice {
    let before = case.ledger.here_on_this_visit();
    let gone = before.count.saturating_add(before.specimens);
    let remaining = case.asked.there.least().map(|present| present.saturating_sub(gone));
    let up_to = findings.iter().fold(remaining.unwrap_or(0), |up_to, finding| match finding.ruling.effect {
        Effect::Leave => 0,
        Effect::AtMost(most) => up_to.min(most),
        _ => up_to,
    });
    let ask = findings.iter().any(|finding| finding.ruling.effect == Effect::Ask);
    let answer = match (up_to, ask) {
        (0, _) => Answer::Leave,
        (_, true) => Answer::AskFirst,
        (_, false) => Answer::NoMoreThan,
    };
    let decides = |finding: &Finding| match finding.ruling.effect {
        Effect::Leave => true,
        Effect::AtMost(most) => most == up_to,
        Effect::Ask => answer == Answer::AskFirst,
        Effect::Grams(_) | Effect::Nothing => false,
    };
    // By what they say, never by the order in which codes were given.
    findings.sort_by(|one, other| {
        let heads = if decides(one) { one.ruling.head.0.cmp(&other.ruling.head.0) } else { Ordering::Equal };
        (decides(other).cmp(&decides(one)))
            .then(heads)
            .then_with(|| one.ruling.verdict.cmp(&other.ruling.verdict))
            .then_with(|| (&one.code, &one.clause).cmp(&(&other.code, &other.clause)))
            .then_with(|| one.ruling.text.cmp(&other.ruling.text))
    });
    let specimen = u32::from(specimen(case, &findings, remaining));
    let look_again = if answer == Answer::Leave { look_again(&findings) } else { None };
    let mut advice = Advice {
        answer,
        up_to,
        leave: remaining.map(|remaining| remaining - up_to),
        specimen,
        grams_left: grams_left(&findings),
        stage: stage(&case.asked.there.maturity),
        look_again,
        brief: String::new(),
        headline: String::new(),
        reasons: Vec::new(),
        checks: case.asked.fungus.map(|fungus| fungus.checks.clone()).unwrap_or_default(),
    };
    advice.brief = words::brief(case, &advice, &findings);
    advice.headline = words::headline(case, &advice, &findings);
    advice.reasons = findings
        .into_iter()
        .map(|finding| {
            let decides = decides(&finding);
            finding.into_reason(decides)
        })
        .collect();
    advice
}

/// A print needs one: of what is not settled, where nothing forbids it and another one stays.
fn specimen(case: &Case<'_>, findings: &[Finding], remaining: Option<u32>) -> bool {
    let asked = case.asked;
    let may_be_protected = asked.or.iter().any(|other| {
        let mut rules = asked.codes.iter().flat_map(|code| &code.rules);
        rules.any(|rule| rule.limit == Limit::Protected && rule.names.hold(*other))
    });
    asked.naming == Naming::NotSettled
        && asked.fungus.is_some()
        && asked.site.land != Permission::Unknown
        && remaining.is_some_and(|remaining| remaining >= 2)
        // Of what was taken and not counted, more may be gone.
        && case.ledger.here_on_this_visit().uncounted == 0
        && !may_be_protected
        && !case.has_a_specimen()
        && !findings.iter().any(|finding| finding.ruling.bars_specimen)
}

/// The least that any weight leaves. Where something was not weighed, nothing is promised.
fn grams_left(findings: &[Finding]) -> Option<Grams> {
    if findings.iter().any(|finding| finding.ruling.missing.contains(&Missing::Grams)) {
        return None;
    }
    let left = findings.iter().flat_map(|finding| &finding.ruling.numbers);
    let left = left.filter(|(name, _)| *name == "left_grams").map(|(_, grams)| *grams);
    left.min_by(f64::total_cmp).map(Grams::nearest)
}

/// A day only if everything that speaks against it now may have passed by then.
fn look_again(findings: &[Finding]) -> Option<Date> {
    let against = findings.iter().filter(|it| matches!(it.ruling.effect, Effect::Leave | Effect::AtMost(0)));
    let days: Option<Vec<Date>> = against.map(|finding| finding.ruling.again).collect();
    days?.into_iter().max()
}

fn stage(maturity: &Maturity) -> String {
    match maturity {
        Maturity::Unknown => "unknown".into(),
        Maturity::All(stage) => stage.word().into(),
        Maturity::Mixed(_) | Maturity::Uncounted => "mixed".into(),
    }
}
