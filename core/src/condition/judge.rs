//! The judgement: signs and counts weighed, size laid beside them, and what would change it.

use std::collections::BTreeMap;

use crate::find::{Find, Width};
use crate::pack::{Pack, Span, Standing, TaxonIndex};

use super::error::SignError;
use super::signs::{TaxonSign, seen, signs_of};
use super::size::{Measure, SizeSeen, SizeVerdict};
use super::weigh::{By, Contradiction, Evidence, Weighed, cautious, involved, weigh};
use super::{Stage, words};

/// What was seen of some fruitbodies of one taxon. Nothing has to be given; what is not given is not made up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Observed {
    /// Ids of the signs seen, in any order.
    pub signs: Vec<String>,
    /// How wide they are.
    pub width: Option<Width>,
    /// How high they are.
    pub height: Option<Width>,
    /// How many of each stage, as the forager counted them.
    pub stages: BTreeMap<Stage, u32>,
}

impl From<&Find> for Observed {
    fn from(find: &Find) -> Self {
        Self {
            signs: find.signs.clone().unwrap_or_default(),
            width: find.width,
            height: find.height,
            stages: find.stages.clone().unwrap_or_default(),
        }
    }
}

/// How many are of one stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// The stage.
    pub stage: Stage,
    /// How many.
    pub count: u32,
}

/// What more would change a judgement, and to what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// A sign that would be seen, or a size that would be reached or missed.
    pub by: By,
    /// What they would then be.
    pub stage: Stage,
}

/// In what condition they are, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// Their stage. `None` if it cannot be told, or if they are of several; in a contradiction the one to reckon with meanwhile.
    pub stage: Option<Stage>,
    /// How many of each stage, the youngest first; empty if nobody counted.
    pub parts: Vec<Part>,
    /// What size says. Some that are too small are to be left, whatever the stage of the rest.
    pub size: SizeSeen,
    /// What decided, in a fixed order.
    pub decided_by: Vec<By>,
    /// What speaks against each other.
    pub contradictions: Vec<Contradiction>,
    /// What would change it, the cheapest look first.
    pub would_change: Vec<Change>,
    /// The judgement in one sentence or two.
    pub text: String,
    /// What else to know: what is missing, what to look for.
    pub notes: Vec<String>,
}

impl Judgement {
    /// Whether they are of several stages.
    #[must_use]
    pub fn is_mixed(&self) -> bool {
        self.parts.len() > 1
    }
}

/// Judges what was seen.
///
/// # Units
/// Sizes in millimetres.
///
/// # Errors
/// [`SignError`] for a sign that is none, or that this taxon does not show.
pub fn judge(pack: &Pack, taxon: TaxonIndex, observed: &Observed) -> Result<Judgement, SignError> {
    let known = signs_of(pack, taxon);
    let seen = seen(pack, taxon, &known, &observed.signs)?;
    let size = SizeSeen::of(pack.taxon(taxon).and_then(|taxon| taxon.maturity.as_ref()), observed);
    let case = Case { signs: evidence(&seen), counts: counts(&observed.stages, size.verdict), size };
    let outcome = case.outcome();
    let mut judgement = Judgement {
        stage: outcome.stage,
        would_change: case.changes(&known, &outcome),
        decided_by: outcome.decided_by,
        contradictions: outcome.contradictions,
        parts: case.parts(outcome.stage),
        size,
        text: String::new(),
        notes: Vec::new(),
    };
    let standing = pack.taxon(taxon).map_or(Standing::Deadly, |taxon| taxon.standing);
    judgement.text = words::text(&known, &seen, &judgement, standing);
    judgement.notes = words::notes(&known, &seen, &judgement, standing);
    Ok(judgement)
}

/// What the signs say that say anything.
fn evidence(seen: &[TaxonSign<'_>]) -> Vec<Evidence> {
    let telling = seen.iter().filter(|sign| !sign.span.says_nothing());
    telling.map(|sign| Evidence { by: By::Sign(sign.at), span: sign.span }).collect()
}

/// The stages that were counted; what is too small is not yet in its prime, whoever counted it so.
fn counts(stages: &BTreeMap<Stage, u32>, size: SizeVerdict) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    for (&stage, &count) in stages.iter().filter(|(_, count)| **count > 0) {
        let held_back = size == SizeVerdict::TooSmall && stage == Stage::Prime;
        let stage = if held_back { Stage::Young } else { stage };
        match parts.last_mut() {
            Some(last) if last.stage == stage => last.count = last.count.saturating_add(count),
            _ => parts.push(Part { stage, count }),
        }
    }
    parts
}

struct Case {
    signs: Vec<Evidence>,
    counts: Vec<Part>,
    size: SizeSeen,
}

impl Case {
    fn outcome(&self) -> Weighed {
        self.with(None)
    }

    /// What it comes to if one sign more were seen.
    fn with(&self, further: Option<Evidence>) -> Weighed {
        let mut evidence: Vec<Evidence> = self.signs.iter().copied().chain(further).collect();
        match self.counts.as_slice() {
            [] => {}
            [one] => evidence.push(counted(*one)),
            parts => return mixed(&evidence, parts),
        }
        let mut weighed = weigh(&evidence);
        if self.size.verdict == SizeVerdict::TooSmall && weighed.contradictions.is_empty() {
            self.hold_back(&mut weighed, evidence.is_empty());
        }
        weighed
    }

    /// What is too small is at most young; with nothing seen of its age, perhaps a button.
    fn hold_back(&self, weighed: &mut Weighed, nothing_seen: bool) {
        let stage = match weighed.stage {
            Some(Stage::Prime) => Stage::Young,
            Some(Stage::Young) if self.signs.is_empty() => Stage::Young,
            None if nothing_seen && self.size.as_buttons => Stage::Button,
            None if weighed.from <= Stage::Young => weighed.to.min(Stage::Young),
            _ => return,
        };
        weighed.stage = Some(stage);
        weighed.decided_by = vec![By::Size(self.size.measure)];
    }

    fn parts(&self, stage: Option<Stage>) -> Vec<Part> {
        match (self.counts.as_slice(), stage) {
            ([one], Some(stage)) => vec![Part { stage, ..*one }],
            (parts, _) => parts.to_vec(),
        }
    }

    /// One sign more, or another size, and the stage would be another.
    fn changes(&self, known: &[TaxonSign<'_>], now: &Weighed) -> Vec<Change> {
        if !now.contradictions.is_empty() || self.counts.len() > 1 || now.stage == Some(Stage::Past) {
            return Vec::new();
        }
        let mut signs: Vec<_> = known.iter().filter(|sign| !sign.span.says_nothing()).collect();
        signs.sort_by_key(|sign| (sign.handling, !sign.own, sign.at));
        let mut changes: Vec<Change> = signs.iter().filter_map(|sign| self.change(sign, now)).collect();
        changes.extend(self.change_of_size(now));
        changes
    }

    fn change(&self, sign: &TaxonSign<'_>, now: &Weighed) -> Option<Change> {
        let by = By::Sign(sign.at);
        if self.signs.iter().any(|seen| seen.by == by) {
            return None;
        }
        let then = self.with(Some(Evidence { by, span: sign.span }));
        // A sign that speaks against those seen today is what growing older will show.
        let stage = if then.contradictions.is_empty() { then.stage } else { sign.span.says };
        stage.filter(|stage| now.stage.is_none_or(|now| *stage > now)).map(|stage| Change { by, stage })
    }

    fn change_of_size(&self, now: &Weighed) -> Option<Change> {
        let by = By::Size(self.size.measure);
        match (self.size.verdict, now.stage) {
            (SizeVerdict::NotMeasured, Some(Stage::Prime)) => Some(Change { by, stage: Stage::Young }),
            (SizeVerdict::TooSmall, Some(_)) if now.decided_by == [by] && !self.signs.is_empty() => {
                Some(Change { by, stage: Stage::Prime })
            }
            _ => None,
        }
    }
}

fn counted(part: Part) -> Evidence {
    Evidence { by: By::Count(part.stage), span: Span::only(part.stage) }
}

/// A mixed tuft is of no one stage; a sign must fit at least one of its parts.
fn mixed(signs: &[Evidence], parts: &[Part]) -> Weighed {
    let unfit = signs.iter().filter(|sign| !parts.iter().any(|part| sign.span.holds(part.stage)));
    let contradictions: Vec<Contradiction> = unfit.clone().flat_map(|sign| against(*sign, parts)).collect();
    let ends = || parts.iter().map(|part| part.stage);
    let oldest = unfit.clone().map(|sign| sign.span.from).chain(ends()).max();
    let youngest = unfit.map(|sign| sign.span.to).chain(ends()).min();
    let stage = oldest.zip(youngest).filter(|_| !contradictions.is_empty());
    let stage = stage.map(|(oldest, youngest)| cautious(oldest, youngest));
    let decided_by = if contradictions.is_empty() {
        parts.iter().map(|part| By::Count(part.stage)).collect()
    } else {
        involved(&contradictions)
    };
    Weighed { stage, from: Stage::Button, to: Stage::Past, decided_by, contradictions }
}

fn against(sign: Evidence, parts: &[Part]) -> Vec<Contradiction> {
    let all = parts.iter().map(|part| {
        let count = By::Count(part.stage);
        if part.stage < sign.span.from {
            Contradiction { younger: count, up_to: part.stage, older: sign.by, from: sign.span.from }
        } else {
            Contradiction { younger: sign.by, up_to: sign.span.to, older: count, from: part.stage }
        }
    });
    all.collect()
}

impl Measure {
    /// As it stands behind a number of millimetres.
    pub(super) fn adverb(self) -> &'static str {
        match self {
            Self::Width => "across",
            Self::Height => "high",
        }
    }
}
