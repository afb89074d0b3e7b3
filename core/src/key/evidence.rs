//! What someone saw, as they gave it: plain data, any character in any order.

use serde::{Deserialize, Serialize};

use crate::pack::{CharacterIndex, StateIndex, TaxonIndex};

/// A set of a character's states, held as bits so that an answer is a plain value.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct StateSet(u64);

impl StateSet {
    /// How many states one character may have.
    pub const MOST: usize = 64;

    /// The set with one state; empty if its position is 64 or more.
    #[must_use]
    pub fn of(state: StateIndex) -> Self {
        Self(1_u64.checked_shl(u32::from(state.0)).unwrap_or(0))
    }

    /// Whether it holds nothing.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// How many states it holds.
    #[must_use]
    pub fn len(self) -> u8 {
        u8::try_from(self.0.count_ones()).unwrap_or(u8::MAX)
    }

    /// Whether it holds a state.
    #[must_use]
    pub fn contains(self, state: StateIndex) -> bool {
        !self.and(Self::of(state)).is_empty()
    }

    /// What both hold.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// What either holds.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether all of it lies in the other.
    #[must_use]
    pub fn is_within(self, other: Self) -> bool {
        self.and(other) == self
    }

    /// Its states, in order.
    pub fn iter(self) -> impl Iterator<Item = StateIndex> {
        (0..64).filter(move |bit| self.0 >> bit & 1 == 1).map(StateIndex)
    }
}

impl FromIterator<StateIndex> for StateSet {
    fn from_iter<I: IntoIterator<Item = StateIndex>>(states: I) -> Self {
        states.into_iter().fold(Self::default(), |set, state| set.or(Self::of(state)))
    }
}

/// What was seen in one look at one character.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Observed {
    /// It cannot be told. Says nothing for or against anything.
    CannotTell,
    /// One state, or several between which the eye cannot choose.
    States(StateSet),
    /// From one measure to another.
    ///
    /// # Units
    /// Millimetres.
    Millimetres {
        /// The least.
        from: f32,
        /// The most; the same for a single measure.
        to: f32,
    },
    /// A month, 1 to 12.
    Month(u8),
}

/// One look at one character.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// What was looked at.
    pub character: CharacterIndex,
    /// What was seen.
    pub seen: Observed,
    /// False doubles the chance that it was misread, and keeps it from speaking against anything dangerous.
    pub sure: bool,
}

/// All answers about one find, in the order in which they were given, and what its finder thinks it is.
///
/// The order matters only between looks at the same character: the later one is a second look.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    answers: Vec<Answer>,
    suspect: Option<TaxonIndex>,
}

impl Evidence {
    /// Nothing seen, nothing suspected.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds an answer. A character that has one already has been looked at afresh.
    pub fn answer(&mut self, answer: Answer) {
        self.answers.push(answer);
    }

    /// Takes back the answer at a position, as if it had never been given.
    pub fn retract(&mut self, position: usize) -> Option<Answer> {
        (position < self.answers.len()).then(|| self.answers.remove(position))
    }

    /// Takes back all looks at a character.
    pub fn retract_character(&mut self, character: CharacterIndex) {
        self.answers.retain(|answer| answer.character != character);
    }

    /// Forgets everything, so that the memory can be used again.
    pub fn clear(&mut self) {
        self.answers.clear();
        self.suspect = None;
    }

    /// Says what its finder thinks it is.
    pub fn set_suspect(&mut self, suspect: Option<TaxonIndex>) {
        self.suspect = suspect;
    }

    /// What its finder thinks it is.
    #[must_use]
    pub fn suspect(&self) -> Option<TaxonIndex> {
        self.suspect
    }

    /// The answers, in the order in which they were given.
    #[must_use]
    pub fn answers(&self) -> &[Answer] {
        &self.answers
    }

    /// Whether nothing was seen of the fungus itself yet: at most the month is known, and what cannot be told.
    #[must_use]
    pub fn is_bare(&self) -> bool {
        self.answers.iter().all(|answer| matches!(answer.seen, Observed::CannotTell | Observed::Month(_)))
    }

    /// The looks at one character, the first one first.
    #[must_use]
    pub fn looks_at(&self, character: CharacterIndex) -> impl DoubleEndedIterator<Item = &Answer> {
        self.answers.iter().filter(move |answer| answer.character == character)
    }
}
