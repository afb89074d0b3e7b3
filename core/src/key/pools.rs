//! The readings that the taxa still standing would give, pooled: the numbers behind the choice of questions.

use std::ops::Range;

use crate::pack::TaxonIndex;

use super::scale::Scale;
use super::table::{STRANGENESS, Table};

/// Taxa with less than this share of their pool's chance do not sway what is asked.
const NEGLIGIBLE: f32 = 1e-3;

/// Expected readings by column, weighted by chance: of all taxa, of the dangerous ones, and of what is to be tested.
#[derive(Default)]
pub(super) struct Pools {
    pub all: Vec<f32>,
    pub danger: Vec<f32>,
    pub own: Vec<f32>,
    /// By character: the mean entropy of the reading once the taxon is known, in bits.
    pub spread: Vec<f32>,
}

/// The pools at one character.
#[derive(Clone, Copy)]
pub(super) struct View<'a> {
    pub all: &'a [f32],
    pub danger: &'a [f32],
    pub own: &'a [f32],
    pub mean: &'a [f32],
    pub spread: f32,
}

/// How far it is, in bits, until what is tested may be named, and how much of the questioning goes into that.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct ToGo {
    pub belief: f32,
    pub danger: f32,
    pub others: f32,
    pub unknown: f32,
}

impl Pools {
    /// Pools the readings of all taxa. `members` are what is to be tested; they stay out of the danger.
    pub fn fill(&mut self, table: &Table, chances: &[f32], danger: f32, members: &[TaxonIndex]) {
        for pool in [&mut self.all, &mut self.danger, &mut self.own] {
            pool.clear();
            pool.resize(table.columns(), 0.0);
        }
        self.spread.clear();
        self.spread.resize(table.scales.len(), 0.0);
        for ((at, chance), dangerous) in (0_u16..).map(TaxonIndex).zip(chances).zip(&table.dangerous) {
            let is_member = members.contains(&at);
            let standing = if *dangerous { f32::min(danger, 1.0) } else { 1.0 };
            if *chance <= NEGLIGIBLE * standing && !is_member {
                continue;
            }
            let report = table.report(at);
            add(&mut self.all, report, *chance);
            add(&mut self.spread, table.entropy(at), *chance);
            if is_member {
                add(&mut self.own, report, *chance);
            } else if *dangerous {
                add(&mut self.danger, report, *chance);
            }
        }
    }

    /// Empties the pools for the steps of a single character.
    pub fn reset(&mut self, steps: usize) {
        for pool in [&mut self.all, &mut self.danger, &mut self.own] {
            pool.clear();
            pool.resize(steps, 0.0);
        }
        self.spread.clear();
        self.spread.push(0.0);
    }

    /// Adds one taxon's readings of a single character.
    pub fn add(&mut self, report: &[f32], entropy: f32, chance: f32, is_member: bool, dangerous: bool) {
        add(&mut self.all, report, chance);
        add(&mut self.spread, &[entropy], chance);
        if is_member {
            add(&mut self.own, report, chance);
        } else if dangerous {
            add(&mut self.danger, report, chance);
        }
    }

    /// The pools of a single character.
    pub fn whole<'a>(&'a self, mean: &'a [f32]) -> Option<View<'a>> {
        let spread = self.spread.first().copied()?;
        Some(View { all: &self.all, danger: &self.danger, own: &self.own, mean, spread })
    }

    /// What is tested, at the columns of one character.
    pub fn own(&self, scale: &Scale) -> Option<&[f32]> {
        self.own.get(scale.columns())
    }

    /// The pools at the columns of one character.
    pub fn view<'a>(&'a self, table: &'a Table, character: usize) -> Option<View<'a>> {
        let scale = table.scales.get(character)?;
        let at: Range<usize> = scale.columns();
        Some(View {
            all: self.all.get(at.clone())?,
            danger: self.danger.get(at.clone())?,
            own: self.own.get(at)?,
            mean: table.mean(scale),
            spread: self.spread.get(character).copied()?,
        })
    }
}

impl View<'_> {
    /// Expected information about which taxon it is, in bits.
    pub fn gain(self) -> f32 {
        let total: f32 = self.all.iter().sum();
        let bits: f32 = self.all.iter().map(|chance| plogq(*chance, *chance / total)).sum();
        f32::max(0.0, -bits - self.spread)
    }

    /// Expected progress towards naming what is tested, in bits, no more than there is to go.
    pub fn progress(self, to_go: ToGo, danger: f32) -> f32 {
        let own: f32 = self.own.iter().sum();
        if own <= 0.0 {
            return 0.0;
        }
        let rest = |all: f32, danger: f32, own: f32| f32::max(all - danger - own, 0.0);
        let dangerous: f32 = self.danger.iter().sum();
        let others: f32 = self
            .all
            .iter()
            .zip(self.danger)
            .zip(self.own)
            .map(|((all, danger), own)| rest(*all, *danger, *own))
            .sum();
        let (mut from_danger, mut from_others, mut from_unknown) = (0.0, 0.0, 0.0);
        let pools = self.all.iter().zip(self.danger).zip(self.own).zip(self.mean);
        for (((all, in_danger), in_own), mean) in pools {
            let share = in_own / own;
            if share <= 0.0 {
                continue;
            }
            if dangerous > 0.0 {
                from_danger += plogq(share, share * dangerous / in_danger);
            }
            if others > 0.0 {
                from_others +=
                    plogq(share, share * others / rest(*all, *in_danger, *in_own).max(1e-9 * others));
            }
            let ratio = share / mean.max(1e-6);
            from_unknown += plogq(share, ratio / ((1.0 - STRANGENESS) * ratio + STRANGENESS));
        }
        // What a question does not apply to, it does not clear away.
        let reach = if danger > 0.0 { f32::min(dangerous / danger, 1.0) } else { 0.0 };
        f32::min(from_danger * reach, to_go.danger)
            + f32::min(from_others, to_go.others)
            + f32::min(f32::max(from_unknown, 0.0), to_go.unknown)
    }
}

/// `p log₂ q`, and 0 where p is.
fn plogq(p: f32, q: f32) -> f32 {
    if p > 0.0 { p * q.log2() } else { 0.0 }
}

fn add(sums: &mut [f32], values: &[f32], factor: f32) {
    for (sum, value) in sums.iter_mut().zip(values) {
        *sum += factor * value;
    }
}
