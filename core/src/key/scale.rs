//! The steps on which a character is read: its states, bins of millimetres, or months; and what each taxon shows on them.

use crate::pack::{
    Cell, Character, CharacterIndex, FamilyIndex, Frequency, Kind, MonthRange, NumberRange, StateIndex,
    StatesCell,
};

use super::evidence::{Observed, StateSet};
use super::observer::ObserverError;

/// Millimetres are read in bins, each wider than the one before by the same factor, from 1 mm to 2 m.
const BINS: u8 = 20;
const LEAST_MM: f32 = 1.0;
const MOST_MM: f32 = 2000.0;
/// Share of specimens within the usual bounds; each bracket that is given shares the rest.
const WITHIN_USUAL: f32 = 0.84;
/// A size spills over into the next bin on either side: fruitbodies are younger, older, wetter than the book's.
const SPILL: f32 = 0.12;

/// How much more a usual state is seen than one that is seen sometimes (one in ten) or rarely (one in fifty).
const USUAL: f32 = 1.0;
const SOMETIMES: f32 = 0.2;
const RARE: f32 = 0.04;

/// Out of season, and at the season's edge, against in season. Together at most threefold: season is low on the list
/// (common practice, no source).
const OUT_OF_SEASON: f32 = 1.0 / 3.0;
const EDGE_OF_SEASON: f32 = 2.0 / 3.0;

/// How one character is read.
pub(super) struct Scale {
    /// Its first column in the tables.
    pub first: usize,
    /// How many steps it has, and so columns.
    pub steps: u8,
    /// Chance that one look misreads it.
    pub misread: f32,
    pub family: FamilyIndex,
    pub kind: Kind,
    /// The characters on which it depends, and the states of theirs with which it applies.
    pub gates: Vec<(CharacterIndex, StateSet)>,
}

/// What a taxon shows in a character.
pub(super) enum Shown {
    NotApplicable,
    Unknown,
    /// The chance of each step; for months a weight against the height of the season.
    Known(Vec<f32>),
}

impl Scale {
    pub fn new(character: &Character, first: usize, observer: ObserverError) -> Self {
        let steps = match character.kind {
            Kind::States => u8::try_from(character.states.len().min(StateSet::MOST)).unwrap_or(0),
            Kind::Millimetres => BINS,
            Kind::Month => 12,
        };
        // An error cannot make the right answer less likely than each wrong one.
        let most = 1.0 - 1.0 / f64::from(steps.max(2));
        let misread = character.misread.max(observer.get()).min(most);
        #[allow(clippy::cast_possible_truncation)] // a chance
        let misread = misread as f32;
        let gates = character.applies_if.iter();
        Self {
            first,
            steps,
            misread,
            family: character.family,
            kind: character.kind,
            gates: gates.map(|gate| (gate.character, gate.states.iter().copied().collect())).collect(),
        }
    }

    /// The columns of this character.
    pub fn columns(&self) -> std::ops::Range<usize> {
        self.first..self.first + usize::from(self.steps)
    }

    /// The steps that an answer names; none if it cannot be told or does not suit the kind.
    pub fn steps_of(&self, seen: Observed) -> StateSet {
        match (self.kind, seen) {
            (Kind::States, Observed::States(states)) => {
                states.iter().filter(|state| state.0 < u16::from(self.steps)).collect()
            }
            (Kind::Millimetres, Observed::Millimetres { from, to }) => {
                (bin(from)..=bin(to.max(from))).map(|at| StateIndex(u16::from(at))).collect()
            }
            (Kind::Month, Observed::Month(month)) if (1..=12).contains(&month) => {
                StateSet::of(StateIndex(u16::from(month) - 1))
            }
            _ => StateSet::default(),
        }
    }

    /// What a cell says on this scale.
    pub fn shown(&self, cell: &Cell) -> Shown {
        match cell {
            Cell::NotApplicable => Shown::NotApplicable,
            Cell::Unknown => Shown::Unknown,
            Cell::States(states) => self.frequencies(states),
            Cell::Number(range, _) => Shown::Known(sizes(range)),
            Cell::Months(range, _) => Shown::Known(season(*range)),
        }
    }

    fn frequencies(&self, cell: &StatesCell) -> Shown {
        let weight = |frequency| match frequency {
            Frequency::Usual => USUAL,
            Frequency::Sometimes => SOMETIMES,
            Frequency::Rare => RARE,
        };
        let all = cell.states.iter().take(usize::from(self.steps));
        let weights: Vec<f32> =
            all.map(|seen| seen.as_ref().map_or(0.0, |seen| weight(seen.frequency))).collect();
        normalised(weights)
    }
}

/// The bin of a measure.
///
/// # Units
/// Millimetres.
pub(super) fn bin(millimetres: f32) -> u8 {
    let along = (millimetres.clamp(LEAST_MM, MOST_MM) / LEAST_MM).ln() / bin_width();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped to 0 and the last bin
    let bin = along as u8;
    bin.min(BINS - 1)
}

/// The middle of a bin, in millimetres.
pub(super) fn middle_of(bin: u8) -> f32 {
    LEAST_MM * ((f32::from(bin) + 0.5) * bin_width()).exp()
}

fn bin_width() -> f32 {
    (MOST_MM / LEAST_MM).ln() / f32::from(BINS)
}

/// The chance of each bin, spread evenly over the logarithm within the usual bounds and within each bracket.
fn sizes(range: &NumberRange) -> Vec<f32> {
    let below = if range.least < range.low { (1.0 - WITHIN_USUAL) / 2.0 } else { 0.0 };
    let above = if range.most > range.high { (1.0 - WITHIN_USUAL) / 2.0 } else { 0.0 };
    let parts = [
        (range.least, range.low, below),
        (range.low * 0.95, range.high * 1.05, 1.0 - below - above),
        (range.high, range.most, above),
    ];
    let mut sharp = vec![0.0_f32; usize::from(BINS)];
    for (from, to, share) in parts.into_iter().filter(|(_, _, share)| *share > 0.0) {
        let (from, to) = (from.max(LEAST_MM).ln(), to.max(LEAST_MM * 1.01).ln());
        for (at, chance) in (0_u8..).zip(&mut sharp) {
            let start = LEAST_MM.ln() + f32::from(at) * bin_width();
            let overlap = (to.min(start + bin_width()) - from.max(start)).max(0.0);
            *chance += share * overlap / (to - from);
        }
    }
    let at = |bin: usize| sharp.get(bin).copied().unwrap_or(0.0);
    (0..sharp.len())
        .map(|bin| (1.0 - 2.0 * SPILL) * at(bin) + SPILL * (at(bin + 1) + bin.checked_sub(1).map_or(0.0, at)))
        .collect()
}

fn season(range: MonthRange) -> Vec<f32> {
    (1..=12)
        .map(|month| {
            if range.is_usual(month) {
                1.0
            } else if range.is_seen(month) {
                EDGE_OF_SEASON
            } else {
                OUT_OF_SEASON
            }
        })
        .collect()
}

fn normalised(mut weights: Vec<f32>) -> Shown {
    let sum: f32 = weights.iter().sum();
    if sum <= 0.0 {
        return Shown::Unknown;
    }
    for weight in &mut weights {
        *weight /= sum;
    }
    Shown::Known(weights)
}
