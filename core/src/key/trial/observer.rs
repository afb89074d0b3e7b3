//! People who look at specimens, and how they go wrong.

use rand::RngExt;
use rand_distr::{Beta, Distribution};
use rand_pcg::Pcg64;
use serde::{Deserialize, Serialize};

use crate::key::evidence::{Observed, StateSet};
use crate::key::scale::middle_of;
use crate::pack::{CharacterIndex, Kind, StateIndex, TaxonIndex};

use super::specimen::{Nature, Specimen};

/// Share of questions that cannot be told.
const CANNOT_TELL: f64 = 0.1;
/// Share of errors that a second look repeats.
const REPEATED: f64 = 0.5;

/// How errors are spread.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Observer {
    /// Every answer is wrong with the same chance, and lands on any other state alike.
    #[default]
    Uniform,
    /// Each specimen has its own chance, drawn from Beta(0.5, 0.5(1−E)/E): some are seen well, some badly.
    Uneven,
    /// Every error lands on what the most similar food shows, where that differs.
    Wishful,
}

/// A name that an observer starts from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Suspicion {
    /// None.
    #[default]
    None,
    /// The right one.
    Right,
    /// The most similar food that the key may name.
    Wishful,
}

/// One person before one specimen.
pub(super) struct Eye<'n> {
    nature: &'n Nature<'n>,
    error: f64,
    /// What errors lean to.
    hoped_for: Option<TaxonIndex>,
    /// What was seen so far, for second looks.
    seen: Vec<(CharacterIndex, StateIndex)>,
}

impl<'n> Eye<'n> {
    pub fn new(nature: &'n Nature<'n>) -> Self {
        Self { nature, error: 0.0, hoped_for: None, seen: Vec::new() }
    }

    /// Turns to a new specimen.
    pub fn meet(
        &mut self,
        observer: Observer,
        error: f64,
        hoped_for: Option<TaxonIndex>,
        random: &mut Pcg64,
    ) {
        self.seen.clear();
        self.hoped_for = hoped_for.filter(|_| observer == Observer::Wishful);
        self.error = match observer {
            Observer::Uneven if error > 0.0 => {
                Beta::new(0.5, 0.5 * (1.0 - error) / error).map_or(error, |spread| spread.sample(random))
            }
            _ => error,
        };
    }

    /// Looks at a character.
    pub fn look(&mut self, specimen: &Specimen, at: CharacterIndex, random: &mut Pcg64) -> Observed {
        if random.random_bool(CANNOT_TELL) {
            return Observed::CannotTell;
        }
        let Some(truth) = self.nature.shows(specimen, at) else { return Observed::CannotTell };
        let before = self.seen.iter().find(|(seen, _)| *seen == at).map(|(_, state)| *state);
        let repeats = before.filter(|before| *before != truth && random.random_bool(REPEATED));
        let seen = match repeats {
            Some(error) => error,
            None if random.random_bool(self.error) => self.misread(at, truth, random),
            None => truth,
        };
        if before.is_none() {
            self.seen.push((at, seen));
        }
        match self.nature.kind(at) {
            Kind::States => Observed::States(StateSet::of(seen)),
            Kind::Month => Observed::Month(u8::try_from(seen.0 + 1).unwrap_or(1)),
            Kind::Millimetres => {
                let middle = middle_of(u8::try_from(seen.0).unwrap_or(0));
                Observed::Millimetres { from: middle, to: middle }
            }
        }
    }

    fn misread(&self, at: CharacterIndex, truth: StateIndex, random: &mut Pcg64) -> StateIndex {
        let hoped = self.hoped_for.and_then(|food| self.nature.draw_other(food, at, truth, random));
        hoped.unwrap_or_else(|| {
            let others = self.nature.steps(at).saturating_sub(1).max(1);
            let other = random.random_range(0..others);
            StateIndex(if other >= truth.0 { other + 1 } else { other })
        })
    }
}
