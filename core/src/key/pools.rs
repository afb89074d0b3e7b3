//! The readings that the taxa still standing would give, pooled: the numbers behind the choice of questions.

use std::ops::Range;

use crate::pack::TaxonIndex;

use super::scale::Scale;
use super::table::{STRANGENESS, Table};

/// Taxa with less than this share of the likeliest of their pool do not sway what is asked.
const NEGLIGIBLE: f32 = 1e-2;
/// In a large pack so many of the likeliest of a pool speak for all of it.
const ENOUGH: usize = 512;
/// So many rows are added in one pass over the sums.
const ROWS: usize = 4;

/// Expected readings by column, weighted by chance: of what is to be tested, of what is dangerous, and of the others.
#[derive(Default)]
pub(super) struct Pools {
    own: Vec<f32>,
    danger: Vec<f32>,
    others: Vec<f32>,
    /// By character: the mean entropy of the reading once the taxon is known, in bits.
    spread: Vec<f32>,
    /// The chance of all taxa in the pools.
    chance: f32,
}

/// The pool that a taxon belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pool {
    Own,
    Danger,
    Others,
}

/// The pools at one character.
#[derive(Clone, Copy)]
pub(super) struct View<'a> {
    own: &'a [f32],
    danger: &'a [f32],
    others: &'a [f32],
    mean: &'a [f32],
    spread: f32,
    chance: f32,
}

/// How far it is, in bits, until what is tested may be named, and how much of the questioning goes into that.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct ToGo {
    pub belief: f32,
    pub danger: f32,
    pub others: f32,
    pub unknown: f32,
}

/// The taxa that sway what is asked, by pool, each with its chance.
#[derive(Default)]
pub(super) struct Swaying {
    own: Vec<(TaxonIndex, f32)>,
    danger: Vec<(TaxonIndex, f32)>,
    others: Vec<(TaxonIndex, f32)>,
}

impl Swaying {
    /// Sorts the taxa into pools. `members` are what is to be tested; they stay out of the other pools.
    pub fn fill(&mut self, table: &Table, chances: &[f32], members: &[TaxonIndex]) {
        let (mut most_dangerous, mut most_other) = (0.0, 0.0);
        for (chance, dangerous) in chances.iter().zip(&table.dangerous) {
            let most = if *dangerous { &mut most_dangerous } else { &mut most_other };
            *most = f32::max(*most, *chance);
        }
        let (least_dangerous, least_other) = (NEGLIGIBLE * most_dangerous, NEGLIGIBLE * most_other);
        for pool in [&mut self.own, &mut self.danger, &mut self.others] {
            pool.clear();
        }
        for ((at, chance), dangerous) in (0_u16..).map(TaxonIndex).zip(chances).zip(&table.dangerous) {
            let least = if *dangerous { least_dangerous } else { least_other };
            if *chance > least && !members.contains(&at) {
                let pool = if *dangerous { &mut self.danger } else { &mut self.others };
                pool.push((at, *chance));
            }
        }
        self.own.extend(members.iter().filter_map(|at| Some((*at, *chances.get(at.get())?))));
        keep_likeliest(&mut self.danger, ENOUGH);
        keep_likeliest(&mut self.others, ENOUGH);
    }

    /// Takes the likeliest few of each pool of another.
    pub fn take_likeliest(&mut self, from: &Self, few: usize) {
        for (pool, all) in
            [(&mut self.own, &from.own), (&mut self.danger, &from.danger), (&mut self.others, &from.others)]
        {
            pool.clear();
            pool.extend_from_slice(all);
            keep_likeliest(pool, few);
        }
    }

    /// The chance of all of them together.
    fn chance(&self) -> f32 {
        self.pools().iter().flat_map(|(_, taxa)| taxa.iter()).map(|(_, chance)| chance).sum()
    }

    pub fn pools(&self) -> [(Pool, &[(TaxonIndex, f32)]); 3] {
        [(Pool::Own, &self.own), (Pool::Danger, &self.danger), (Pool::Others, &self.others)]
    }
}

impl Pools {
    /// Pools the readings of all taxa that sway what is asked.
    pub fn fill(&mut self, table: &Table, swaying: &Swaying) {
        self.reset(table.columns());
        self.spread.resize(table.scales.len(), 0.0);
        self.chance = swaying.chance();
        for (pool, taxa) in swaying.pools() {
            let sums = match pool {
                Pool::Own => &mut self.own,
                Pool::Danger => &mut self.danger,
                Pool::Others => &mut self.others,
            };
            let mut chunks = taxa.chunks_exact(ROWS);
            for rows in &mut chunks {
                if let [a, b, c, d] = rows {
                    let chances = [a, b, c, d].map(|(_, chance)| *chance);
                    add_four(sums, [a, b, c, d].map(|(at, _)| table.report(*at)), chances);
                    add_four(&mut self.spread, [a, b, c, d].map(|(at, _)| table.entropy(*at)), chances);
                }
            }
            for (at, chance) in chunks.remainder() {
                add(sums, table.report(*at), *chance);
                add(&mut self.spread, table.entropy(*at), *chance);
            }
        }
    }

    /// Empties the pools for so many columns, and the spread for a single character.
    pub fn reset(&mut self, columns: usize) {
        for pool in [&mut self.own, &mut self.danger, &mut self.others] {
            pool.clear();
            pool.resize(columns, 0.0);
        }
        self.spread.clear();
        self.spread.push(0.0);
        self.chance = 0.0;
    }

    /// Adds one taxon's readings of a single character.
    pub fn add(&mut self, pool: Pool, report: &[f32], entropy: f32, chance: f32) {
        let sums = match pool {
            Pool::Own => &mut self.own,
            Pool::Danger => &mut self.danger,
            Pool::Others => &mut self.others,
        };
        add(sums, report, chance);
        add(&mut self.spread, &[entropy], chance);
        self.chance += chance;
    }

    /// The pools of a single character.
    pub fn whole<'a>(&'a self, mean: &'a [f32]) -> Option<View<'a>> {
        let spread = self.spread.first().copied()?;
        Some(View {
            own: &self.own,
            danger: &self.danger,
            others: &self.others,
            mean,
            spread,
            chance: self.chance,
        })
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
            own: self.own.get(at.clone())?,
            danger: self.danger.get(at.clone())?,
            others: self.others.get(at)?,
            mean: table.mean(scale),
            spread: self.spread.get(character).copied()?,
            chance: self.chance,
        })
    }
}

impl View<'_> {
    fn rows(self) -> impl Iterator<Item = [f32; 4]> {
        let pools = self.own.iter().zip(self.danger).zip(self.others).zip(self.mean);
        pools.map(|(((own, danger), others), mean)| [*own, *danger, *others, *mean])
    }

    /// Expected information about which taxon it is, in bits.
    pub fn gain(self) -> f32 {
        let total: f32 = self.rows().map(|[own, danger, others, _]| own + danger + others).sum();
        let bits: f32 = self
            .rows()
            .map(|[own, danger, others, _]| own + danger + others)
            .map(|chance| plogq(chance, chance / total))
            .sum();
        if self.chance > 0.0 { f32::max(0.0, -bits - self.spread) / self.chance } else { 0.0 }
    }

    /// Expected progress towards naming what is tested, in bits, no more than there is to go. `danger` is the chance of all
    /// that is dangerous, whether the character applies to it or not.
    pub fn progress(self, to_go: ToGo, danger: f32) -> f32 {
        let own: f32 = self.own.iter().sum();
        if own <= 0.0 {
            return 0.0;
        }
        let dangerous: f32 = self.danger.iter().sum();
        let others: f32 = self.others.iter().sum();
        let (mut from_danger, mut from_others, mut from_unknown) = (0.0, 0.0, 0.0);
        for [in_own, in_danger, in_others, mean] in self.rows() {
            let share = in_own / own;
            if share <= 0.0 {
                continue;
            }
            if dangerous > 0.0 && to_go.danger > 0.0 {
                from_danger += plogq(share, share * dangerous / in_danger);
            }
            if others > 0.0 && to_go.others > 0.0 {
                from_others += plogq(share, share * others / in_others);
            }
            if to_go.unknown > 0.0 {
                let ratio = share / mean;
                from_unknown += plogq(share, ratio / ((1.0 - STRANGENESS) * ratio + STRANGENESS));
            }
        }
        // What a question does not apply to, it does not clear away.
        let reach = if danger > 0.0 { f32::min(dangerous / danger, 1.0) } else { 0.0 };
        f32::min(from_danger * reach, to_go.danger)
            + f32::min(from_others, to_go.others)
            + f32::min(f32::max(from_unknown, 0.0), to_go.unknown)
    }
}

fn keep_likeliest(pool: &mut Vec<(TaxonIndex, f32)>, few: usize) {
    if pool.len() > few {
        let likelier = |(first, one): &(TaxonIndex, f32), (second, other): &(TaxonIndex, f32)| {
            other.total_cmp(one).then(first.cmp(second))
        };
        pool.select_nth_unstable_by(few, likelier);
        pool.truncate(few);
        // In the pack's order again, so that sums do not depend on how they were picked.
        pool.sort_unstable_by_key(|(at, _)| *at);
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

fn add_four(sums: &mut [f32], rows: [&[f32]; ROWS], factors: [f32; ROWS]) {
    let [a, b, c, d] = rows;
    let [fa, fb, fc, fd] = factors;
    for ((((sum, a), b), c), d) in sums.iter_mut().zip(a).zip(b).zip(c).zip(d) {
        *sum += fa * a + fb * b + fc * c + fd * d;
    }
}
