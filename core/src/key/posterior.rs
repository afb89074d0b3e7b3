//! Bayes over the pack: the chance of each taxon, of danger, and of something that Trug does not know.

use crate::pack::{Kind, TaxonIndex};

use super::evidence::Evidence;
use super::heard::{Heard, look};
use super::reading::{Look, likelihoods};
use super::table::{STRANGENESS, Table, kin};

/// The chance, before anything is seen, that a find is nothing the pack holds.
const UNKNOWN: f32 = 0.1;
/// Within a family of dependent characters the strongest counts in full, the others by this share.
pub(super) const DEPENDENT: f32 = 0.6;
/// How far a suspicion moves odds.
pub(super) const SUSPICION: f32 = 3.0;

/// The chances after some evidence, with the buffers to work them out anew.
#[derive(Default)]
pub(super) struct Posterior {
    /// By taxon. With `unknown` they sum to 1.
    pub chance: Vec<f32>,
    /// Of something that the pack does not hold.
    pub unknown: f32,
    /// Of all dangerous taxa together.
    pub danger: f32,
    sum: Pool,
    strongest: Pool,
    rest: Pool,
    absent: Vec<f32>,
    absent_rest: Vec<f32>,
    work: Work,
}

/// Log likelihoods by taxon: of the taxon, and of something unknown like it.
#[derive(Default)]
struct Pool {
    log: Vec<f32>,
    kin: Vec<f32>,
}

/// Buffers to work out one character.
#[derive(Default)]
struct Work {
    pool: Pool,
    looks: Vec<Look>,
    likelihoods: Vec<f32>,
}

impl Posterior {
    /// Works out the chances after `heard`, which is `evidence` put in order.
    pub fn weigh(&mut self, table: &Table, evidence: &Evidence, heard: &[Heard]) {
        self.sum.reset(table.taxa());
        reset(&mut self.absent, table.taxa());
        reset(&mut self.absent_rest, table.taxa());
        for family in heard.chunk_by(|one, other| one.family == other.family) {
            self.add_family(table, evidence, family);
        }
        // Answers about what a taxon does not have at all are a family of their own: one misreading leads to the next.
        let absent = self.absent.iter().zip(&self.absent_rest).map(|(most, rest)| most + DEPENDENT * rest);
        for ((log, kin), absent) in self.sum.log.iter_mut().zip(&mut self.sum.kin).zip(absent) {
            *log += absent;
            *kin += f32::max(absent, STRANGENESS.ln());
        }
        self.normalise(table);
    }

    /// Adds what one family of dependent characters says.
    fn add_family(&mut self, table: &Table, evidence: &Evidence, family: &[Heard]) {
        let mut told = 0;
        for heard in family.iter().filter(|heard| heard.looks > 0) {
            let (log, kin, absent) = self.work.column(table, evidence, heard);
            let absent = f32::min(absent, 0.0);
            let applies = table.applies(heard.character);
            for ((most, rest), applies) in self.absent.iter_mut().zip(&mut self.absent_rest).zip(applies) {
                if !applies {
                    *rest += f32::max(*most, absent);
                    *most = f32::min(*most, absent);
                }
            }
            if told == 0 {
                self.strongest.copy(log, kin);
            } else {
                if told == 1 {
                    self.rest.reset(table.taxa());
                }
                keep_strongest(&mut self.strongest.log, &mut self.rest.log, log);
                keep_strongest(&mut self.strongest.kin, &mut self.rest.kin, kin);
            }
            told += 1;
        }
        if told > 1 {
            add(&mut self.strongest.log, &self.rest.log, DEPENDENT);
            add(&mut self.strongest.kin, &self.rest.kin, DEPENDENT);
        }
        if told > 0 {
            add(&mut self.sum.log, &self.strongest.log, 1.0);
            add(&mut self.sum.kin, &self.strongest.kin, 1.0);
        }
    }

    fn normalise(&mut self, table: &Table) {
        let most =
            table.prior.iter().zip(&self.sum.log).map(|(prior, log)| prior + log).fold(f32::MIN, f32::max);
        self.chance.clear();
        self.chance.extend(
            table
                .prior
                .iter()
                .zip(&self.sum.log)
                .map(|(prior, log)| (1.0 - UNKNOWN) * (prior + log - most).exp()),
        );
        let kin = table.prior.iter().zip(&self.sum.kin).map(|(prior, kin)| (prior + kin - most).exp());
        let unknown = UNKNOWN * kin.sum::<f32>();
        let total = self.chance.iter().sum::<f32>() + unknown;
        self.unknown = unknown / total;
        for chance in &mut self.chance {
            *chance /= total;
        }
        self.danger = self.chance.iter().zip(&table.dangerous).filter(|(_, is)| **is).map(|(it, _)| it).sum();
    }

    /// The chance of one taxon.
    pub fn of(&self, taxon: TaxonIndex) -> f32 {
        self.chance.get(taxon.get()).copied().unwrap_or(0.0)
    }

    /// The chances with a suspicion weighed in: it takes from what is harmless and from nothing else, so that neither
    /// anything dangerous nor the unknown grows less likely, and no odds move more than threefold.
    pub fn suspecting(&self, table: &Table, suspect: Option<TaxonIndex>, out: &mut Vec<f32>) {
        out.clear();
        out.extend_from_slice(&self.chance);
        let Some(suspect) = suspect.filter(|suspect| suspect.get() < out.len()) else { return };
        let own = self.of(suspect);
        let harmless = |at: usize, dangerous: bool| !dangerous && at != suspect.get();
        let others: f32 = out
            .iter()
            .zip(&table.dangerous)
            .enumerate()
            .filter(|(at, (_, dangerous))| harmless(*at, **dangerous))
            .map(|(_, (chance, _))| chance)
            .sum();
        if own <= 0.0 || others <= 0.0 {
            return;
        }
        let share = (own + others) / (SUSPICION * own + others);
        for (at, (chance, dangerous)) in out.iter_mut().zip(&table.dangerous).enumerate() {
            if at == suspect.get() {
                *chance *= SUSPICION * share;
            } else if harmless(at, *dangerous) {
                *chance *= share;
            }
        }
    }
}

impl Work {
    /// The log likelihoods of all looks at one character by taxon, and the one of taxa to which it does not apply.
    fn column<'a>(
        &'a mut self,
        table: &'a Table,
        evidence: &Evidence,
        heard: &Heard,
    ) -> (&'a [f32], &'a [f32], f32) {
        let Some(scale) = table.scale(heard.character) else { return (&[], &[], 0.0) };
        self.looks.clear();
        self.looks.extend(evidence.looks_at(heard.character).filter_map(|answer| look(table, answer)));
        likelihoods(&self.looks, scale.steps, &mut self.likelihoods);
        let sum = |weights: &[f32]| {
            self.likelihoods.iter().zip(weights).map(|(one, other)| one * other).sum::<f32>()
        };
        let mean = sum(table.mean(scale));
        let absent = scale.misread * self.likelihoods.iter().sum::<f32>() / f32::from(scale.steps);
        let absent = (absent / mean).ln();

        let is_plain = match self.looks.as_slice() {
            [look] => look.seen.len() == 1 && look.misread <= scale.misread,
            _ => false,
        };
        if is_plain || scale.kind == Kind::Month {
            let step = heard.seen.iter().next().map_or(0, crate::pack::StateIndex::get);
            let (log, kin) = table.column(scale.first + step);
            return (log, kin, absent);
        }
        self.pool.reset(table.taxa());
        for (column, likelihood) in scale.columns().zip(&self.likelihoods) {
            add(&mut self.pool.log, table.truth(column), *likelihood);
        }
        let applies = table.applies(heard.character);
        for ((log, own), applies) in self.pool.log.iter_mut().zip(&mut self.pool.kin).zip(applies) {
            let ratio = if *applies { *log / mean } else { 1.0 };
            *log = ratio.ln();
            *own = kin(ratio);
        }
        (&self.pool.log, &self.pool.kin, absent)
    }
}

impl Pool {
    fn reset(&mut self, taxa: usize) {
        reset(&mut self.log, taxa);
        reset(&mut self.kin, taxa);
    }

    fn copy(&mut self, log: &[f32], kin: &[f32]) {
        self.log.clear();
        self.log.extend_from_slice(log);
        self.kin.clear();
        self.kin.extend_from_slice(kin);
    }
}

fn reset(values: &mut Vec<f32>, len: usize) {
    values.clear();
    values.resize(len, 0.0);
}

fn add(sums: &mut [f32], values: &[f32], factor: f32) {
    for (sum, value) in sums.iter_mut().zip(values) {
        *sum += factor * value;
    }
}

/// Keeps the greater of two magnitudes, and adds the lesser to the rest.
fn keep_strongest(strongest: &mut [f32], rest: &mut [f32], values: &[f32]) {
    for ((strongest, rest), value) in strongest.iter_mut().zip(rest).zip(values) {
        let (more, less) =
            if value.abs() > strongest.abs() { (*value, *strongest) } else { (*strongest, *value) };
        *strongest = more;
        *rest += less;
    }
}
