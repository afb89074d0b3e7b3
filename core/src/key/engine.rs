//! The key over one pack, and one whole assessment of some evidence.

use crate::pack::{Effort, Pack, TaxonIndex};

use super::candidate::{Candidate, candidates};
use super::evidence::Evidence;
use super::heard::{Heard, hear};
use super::knowledge::Knowledge;
use super::observer::ObserverError;
use super::posterior::Posterior;
use super::question::{Enquiry, Standing};
use super::table::Table;
use super::verdict::{Status, chance, judge};

/// From this chance on, something that Trug does not know is the best answer.
const UNKNOWN_FROM: f32 = 0.5;
/// How much of the questioning goes into a suspected name, however little speaks for it.
const BELIEF_IN_SUSPECT: f32 = 0.5;
/// A suspected name with less than this chance after some answers is dropped, and the questions start from the evidence.
const SUSPECT_DROPPED_BELOW: f32 = 1e-3;

/// A key over a pack. Making one takes some milliseconds; a step takes a fraction of one.
pub struct Key<'p> {
    pub(super) pack: &'p Pack,
    observer: ObserverError,
    pub(super) table: Table,
    pub(super) candidates: Vec<Candidate>,
    pub(super) candidate_of: Vec<Option<usize>>,
    pub(super) efforts: Vec<Effort>,
}

/// One assessment, with the buffers to make the next.
#[derive(Default)]
pub(super) struct Assessment {
    pub heard: Vec<Heard>,
    pub posterior: Posterior,
    /// By taxon, with any suspicion weighed in.
    pub chances: Vec<f32>,
    pub enquiry: Enquiry,
    /// The likeliest candidate on the answers alone: what [`Assessment::status`] is about.
    pub leader: Option<usize>,
    /// What the questions test.
    pub tested: Option<usize>,
    pub status: Option<Status>,
}

impl<'p> Key<'p> {
    /// A key that assumes this error of its observer.
    #[must_use]
    pub fn new(pack: &'p Pack, observer: ObserverError) -> Self {
        Self::over(&Knowledge::of(pack), observer)
    }

    pub(super) fn over(known: &Knowledge<'p>, observer: ObserverError) -> Self {
        let (candidates, candidate_of) = candidates(known);
        Self {
            pack: known.pack,
            observer,
            table: Table::new(known, observer),
            candidates,
            candidate_of,
            efforts: known.pack.characters().iter().map(|character| character.effort).collect(),
        }
    }

    /// The pack it goes by.
    #[must_use]
    pub fn pack(&self) -> &'p Pack {
        self.pack
    }

    /// What it assumes of its observer.
    #[must_use]
    pub fn observer(&self) -> ObserverError {
        self.observer
    }

    /// Weighs the evidence, judges it by the rule of naming and looks for the next questions.
    pub(super) fn assess(&self, evidence: &Evidence, into: &mut Assessment) {
        hear(&self.table, evidence, &mut into.heard);
        into.posterior.weigh(&self.table, evidence, &into.heard);
        into.posterior.suspecting(&self.table, evidence.suspect(), &mut into.chances);
        into.leader = self.likeliest(&into.posterior, |_| true);
        into.status = Some(self.status(into));
        let focus = self.focus(evidence.suspect(), into);
        into.tested = focus.map(|(at, _)| at);
        into.enquiry.search(&Standing {
            table: &self.table,
            efforts: &self.efforts,
            chances: &into.chances,
            posterior: &into.posterior,
            heard: &into.heard,
            focus: focus.and_then(|(at, belief)| Some((self.candidates.get(at)?, belief))),
        });
    }

    fn status(&self, now: &Assessment) -> Status {
        let leader = now.leader.and_then(|at| self.candidates.get(at));
        match leader {
            Some(leader) if judge(leader, &now.posterior, &now.heard).hold() => {
                if leader.members.len() > 1 {
                    Status::Group
                } else {
                    Status::Settled
                }
            }
            _ if now.posterior.unknown >= UNKNOWN_FROM => Status::Unknown,
            _ => Status::NotSettled,
        }
    }

    /// What the questions test: the suspected name while it can be upheld, otherwise the likeliest food.
    fn focus(&self, suspect: Option<TaxonIndex>, now: &Assessment) -> Option<(usize, f32)> {
        let suspected = suspect.and_then(|suspect| self.candidate_at(suspect)).and_then(|at| {
            let own = chance(self.candidates.get(at)?, &now.posterior);
            let upheld = own >= SUSPECT_DROPPED_BELOW;
            upheld.then_some((at, f32::max(own, BELIEF_IN_SUSPECT)))
        });
        suspected.or_else(|| {
            let food = self.likeliest(&now.posterior, |candidate| candidate.is_food)?;
            Some((food, chance(self.candidates.get(food)?, &now.posterior)))
        })
    }

    pub(super) fn candidate_at(&self, taxon: TaxonIndex) -> Option<usize> {
        self.candidate_of.get(taxon.get()).copied().flatten()
    }

    fn likeliest(&self, posterior: &Posterior, wanted: impl Fn(&Candidate) -> bool) -> Option<usize> {
        let mut likeliest: Option<(usize, f32)> = None;
        for (own, at) in posterior.chance.iter().zip(&self.candidate_of) {
            let Some(at) = *at else { continue };
            // Most taxa are far too unlikely, whatever stands beside them in their group.
            let least = likeliest.map_or(-1.0, |(_, most)| most);
            let candidate = self.candidates.get(at);
            let Some(candidate) = candidate.filter(|it| it.members.len() > 1 || *own > least) else {
                continue;
            };
            let chance = if candidate.members.len() > 1 { chance(candidate, posterior) } else { *own };
            if chance > least && wanted(candidate) {
                likeliest = Some((at, chance));
            }
        }
        likeliest.map(|(at, _)| at)
    }
}
