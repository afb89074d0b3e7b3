//! The pack as numbers: for every step of every character, how likely each taxon is to be read so.
//!
//! Built once; a whole step of the key then runs over plain slices.

use crate::pack::{CharacterIndex, FamilyIndex, Kind, TaxonIndex};

use super::knowledge::Knowledge;
use super::observer::ObserverError;
use super::reading::Reading;
use super::scale::{Scale, Shown};

/// Share of its characters in which something unknown is thought to differ from the known taxon most like it.
pub(super) const STRANGENESS: f32 = 0.7;

/// Likelihoods by character and taxon, each relative to the mean over the pack, so that "not known" is 0 in logarithms.
pub(super) struct Table {
    pub scales: Vec<Scale>,
    /// Log prior of each taxon; minus infinity where it is not known to this key.
    pub prior: Vec<f32>,
    pub dangerous: Vec<bool>,
    taxa: usize,
    columns: usize,
    /// Column by column: the log likelihood of one sure look.
    log: Vec<f32>,
    /// The same for something unknown that is like the taxon.
    kin: Vec<f32>,
    /// Column by column: the chance that the state is there; the pack's mean where not known.
    truth: Vec<f32>,
    /// Row by row: the chance of reading each step; 0 where the character does not apply.
    report: Vec<f32>,
    /// Row by row: its logarithm, to base 2.
    bits: Vec<f32>,
    /// Row by row: the entropy of each character's reading, in bits.
    entropy: Vec<f32>,
    /// Character by character: whether it applies to each taxon.
    applies: Vec<bool>,
    /// The mean over the pack of `truth`, by column.
    mean: Vec<f32>,
}

impl Table {
    pub fn new(known: &Knowledge<'_>, observer: ObserverError) -> Self {
        let pack = known.pack;
        let mut columns = 0;
        let scales: Vec<Scale> = pack
            .characters()
            .iter()
            .map(|character| {
                let scale = Scale::new(character, columns, observer);
                columns += usize::from(scale.steps);
                scale
            })
            .collect();
        let weights: Vec<f32> = pack.taxon_indices().map(|at| known.weight(at)).collect();
        let dangerous = pack.taxa().iter().map(|taxon| taxon.standing.is_dangerous()).collect();
        Self::build(scales, &weights, dangerous, |at, scale| {
            pack.taxon_indices().map(|taxon| scale.shown(known.cell(taxon, at))).collect()
        })
    }

    /// Builds a table of taxa with these weights, from what each of them shows in a character.
    pub fn build(
        scales: Vec<Scale>,
        weights: &[f32],
        dangerous: Vec<bool>,
        shown: impl Fn(CharacterIndex, &Scale) -> Vec<Shown>,
    ) -> Self {
        let columns = scales.iter().map(|scale| usize::from(scale.steps)).sum();
        let total: f32 = weights.iter().sum();
        let mut table = Self {
            prior: weights.iter().map(|weight| (weight / total).ln()).collect(),
            dangerous,
            taxa: weights.len(),
            columns,
            log: Vec::new(),
            kin: Vec::new(),
            truth: Vec::new(),
            report: vec![0.0; columns * weights.len()],
            bits: vec![0.0; columns * weights.len()],
            entropy: vec![0.0; scales.len() * weights.len()],
            applies: Vec::new(),
            mean: Vec::new(),
            scales: Vec::new(),
        };
        let characters = scales.len();
        for (at, scale) in (0_u16..).map(CharacterIndex).zip(&scales) {
            let shown = shown(at, scale);
            let mean = mean_of(&shown, weights, usize::from(scale.steps));
            table.add_columns(scale, &shown, &mean);
            table.add_rows(at, characters, scale, &shown, &mean);
        }
        table.scales = scales;
        table
    }

    /// Adds the likelihoods of one character, column by column.
    fn add_columns(&mut self, scale: &Scale, shown: &[Shown], mean: &[f32]) {
        // A month is no reading: its weight is taken as it is.
        let is_season = scale.kind == Kind::Month;
        let reading = Reading::of(scale);
        let likelihood = |truth: f32| if is_season { truth } else { reading.chance(truth) };
        for (step, mean) in mean.iter().copied().enumerate() {
            for shown in shown {
                let (truth, ratio) = match shown {
                    Shown::NotApplicable => (0.0, 1.0),
                    Shown::Unknown => (mean, 1.0),
                    Shown::Known(chances) => {
                        let truth = chances.get(step).copied().unwrap_or(0.0);
                        (truth, likelihood(truth) / likelihood(mean))
                    }
                };
                self.truth.push(truth);
                self.log.push(ratio.ln());
                self.kin.push(if is_season { ratio.ln() } else { kin(ratio) });
            }
            self.mean.push(mean);
        }
        self.applies.extend(shown.iter().map(|shown| !matches!(shown, Shown::NotApplicable)));
    }

    /// Adds the readings that one character is expected to give, row by row.
    fn add_rows(
        &mut self,
        at: CharacterIndex,
        characters: usize,
        scale: &Scale,
        shown: &[Shown],
        mean: &[f32],
    ) {
        let reading = Reading::of(scale);
        for (row, shown) in shown.iter().enumerate() {
            let truth = match shown {
                Shown::NotApplicable => continue,
                Shown::Unknown => mean,
                Shown::Known(chances) => chances,
            };
            let sum: f32 = truth.iter().map(|truth| reading.chance(*truth)).sum();
            let start = row * self.columns + scale.first;
            let reports = self.report.iter_mut().zip(&mut self.bits).skip(start);
            let mut spread = 0.0;
            for ((report, bits), truth) in reports.zip(truth) {
                *report = reading.chance(*truth) / sum;
                *bits = report.log2();
                spread -= *report * *bits;
            }
            if let Some(entropy) = self.entropy.get_mut(row * characters + at.get()) {
                *entropy = spread;
            }
        }
    }

    pub fn taxa(&self) -> usize {
        self.taxa
    }

    pub fn columns(&self) -> usize {
        self.columns
    }

    pub fn scale(&self, at: CharacterIndex) -> Option<&Scale> {
        self.scales.get(at.get())
    }

    pub fn family(&self, at: CharacterIndex) -> FamilyIndex {
        self.scale(at).map_or(FamilyIndex(u16::MAX), |scale| scale.family)
    }

    /// The log likelihood of one sure look, by taxon: of the taxon, and of something unknown like it.
    pub fn column(&self, column: usize) -> (&[f32], &[f32]) {
        let range = column * self.taxa..(column + 1) * self.taxa;
        (self.log.get(range.clone()).unwrap_or(&[]), self.kin.get(range).unwrap_or(&[]))
    }

    /// The chance that a state is there, by taxon.
    pub fn truth(&self, column: usize) -> &[f32] {
        self.truth.get(column * self.taxa..(column + 1) * self.taxa).unwrap_or(&[])
    }

    /// The pack's mean chance that a state is there, by step of a character.
    pub fn mean(&self, scale: &Scale) -> &[f32] {
        self.mean.get(scale.columns()).unwrap_or(&[])
    }

    /// Whether a character applies, by taxon.
    pub fn applies(&self, at: CharacterIndex) -> &[bool] {
        self.applies.get(at.get() * self.taxa..(at.get() + 1) * self.taxa).unwrap_or(&[])
    }

    /// The chance of reading each step of every character, for one taxon.
    pub fn report(&self, taxon: TaxonIndex) -> &[f32] {
        self.report.get(taxon.get() * self.columns..(taxon.get() + 1) * self.columns).unwrap_or(&[])
    }

    /// How much one reading of a character is expected to tell a taxon from another, in bits; 0 where it applies to one only.
    pub fn telling(&self, scale: &Scale, taxon: TaxonIndex, other: TaxonIndex) -> f32 {
        let at = |taxon: TaxonIndex| {
            let start = taxon.get() * self.columns + scale.first;
            start..start + usize::from(scale.steps)
        };
        let report = self.report.get(at(taxon)).unwrap_or(&[]);
        let own = self.bits.get(at(taxon)).unwrap_or(&[]);
        let theirs = self.bits.get(at(other)).unwrap_or(&[]);
        let pairs = report.iter().zip(own).zip(theirs).filter(|(_, theirs)| **theirs < 0.0);
        pairs.map(|((report, own), theirs)| report * (own - theirs)).sum()
    }

    /// The entropy of the reading of every character, for one taxon, in bits.
    pub fn entropy(&self, taxon: TaxonIndex) -> &[f32] {
        let characters = self.scales.len();
        self.entropy.get(taxon.get() * characters..(taxon.get() + 1) * characters).unwrap_or(&[])
    }
}

/// The log likelihood ratio of something unknown like a taxon with this ratio.
pub(super) fn kin(ratio: f32) -> f32 {
    ((1.0 - STRANGENESS) * ratio + STRANGENESS).ln()
}

/// In bits.
pub(super) fn entropy(chances: &[f32]) -> f32 {
    chances.iter().filter(|chance| **chance > 0.0).map(|chance| -chance * chance.log2()).sum()
}

/// The mean over the taxa of which it is known, weighted by their priors.
fn mean_of(shown: &[Shown], weights: &[f32], steps: usize) -> Vec<f32> {
    let mut sums = vec![0.0; steps];
    let mut total = 0.0;
    for (shown, weight) in shown.iter().zip(weights) {
        if let Shown::Known(chances) = shown {
            total += weight;
            for (sum, chance) in sums.iter_mut().zip(chances) {
                *sum += weight * chance;
            }
        }
    }
    #[allow(clippy::cast_precision_loss)] // at most 64 steps
    let even = 1.0 / steps.max(1) as f32;
    sums.iter().map(|sum| if total > 0.0 { sum / total } else { even }).collect()
}
