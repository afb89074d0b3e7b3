//! Weighing what was seen: each piece of evidence names the stages that it can be seen in.

use crate::pack::{SignIndex, Span};

use super::Stage;
use super::size::Measure;

/// What a judgement rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// A sign that was seen.
    Sign(SignIndex),
    /// The forager's own count of a stage.
    Count(Stage),
    /// A size.
    Size(Measure),
}

/// One piece of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Evidence {
    pub by: By,
    pub span: Span,
}

/// Two things seen that no one fruitbody shows at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Contradiction {
    /// What is seen on the younger.
    pub younger: By,
    /// Up to which stage that is seen.
    pub up_to: Stage,
    /// What is seen on the older.
    pub older: By,
    /// From which stage on that is seen.
    pub from: Stage,
}

/// What evidence comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Weighed {
    /// The stage; in a contradiction the one to reckon with meanwhile.
    pub stage: Option<Stage>,
    /// The first stage in which all of it is seen.
    pub from: Stage,
    /// The last one.
    pub to: Stage,
    pub decided_by: Vec<By>,
    pub contradictions: Vec<Contradiction>,
}

/// The stage that all evidence fits; its order does not matter.
pub(super) fn weigh(evidence: &[Evidence]) -> Weighed {
    let spans = || evidence.iter().map(|it| it.span);
    let from = spans().map(|span| span.from).max().unwrap_or(Stage::Button);
    let to = spans().map(|span| span.to).min().unwrap_or(Stage::Past);
    if from > to {
        let contradictions = contradictions(evidence);
        return Weighed {
            stage: Some(cautious(from, to)),
            from,
            to,
            decided_by: involved(&contradictions),
            contradictions,
        };
    }
    let stage = match spans().filter_map(|span| span.says).max() {
        Some(says) => Some(says.clamp(from, to)),
        None => (from == to).then_some(from),
    };
    let decided_by = stage.map(|stage| deciding(evidence, stage)).unwrap_or_default();
    Weighed { stage, from, to, decided_by, contradictions: Vec::new() }
}

/// What to reckon with while things seen speak against each other: past if anything says so, else the younger.
pub(super) fn cautious(oldest: Stage, youngest: Stage) -> Stage {
    if oldest == Stage::Past { Stage::Past } else { youngest }
}

/// What says this stage; where nothing does, what leaves no other.
fn deciding(evidence: &[Evidence], stage: Stage) -> Vec<By> {
    let mut says: Vec<By> =
        evidence.iter().filter(|it| it.span.says == Some(stage)).map(|it| it.by).collect();
    if says.is_empty() {
        let bounds = |it: &&Evidence| it.span.from == stage || it.span.to == stage;
        says = evidence.iter().filter(bounds).map(|it| it.by).collect();
    }
    says.sort();
    says
}

fn contradictions(evidence: &[Evidence]) -> Vec<Contradiction> {
    let mut all = Vec::new();
    for younger in evidence {
        for older in evidence.iter().filter(|older| older.span.from > younger.span.to) {
            all.push(Contradiction {
                younger: younger.by,
                up_to: younger.span.to,
                older: older.by,
                from: older.span.from,
            });
        }
    }
    all.sort();
    all
}

pub(super) fn involved(contradictions: &[Contradiction]) -> Vec<By> {
    let mut all: Vec<By> = contradictions.iter().flat_map(|it| [it.younger, it.older]).collect();
    all.sort();
    all.dedup();
    all
}
