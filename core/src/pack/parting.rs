//! What the matrix itself can part: the floor under every claim that a food is told from something dangerous.

use super::model::{
    Cell, Character, CharacterIndex, Effort, FamilyIndex, Frequency, Pack, Standing, StatesCell, TaxonIndex,
};

impl Pack {
    /// Whether an ordinary specimen of `food` speaks against `danger` by this character, looked at in the field.
    ///
    /// That is so if the character may part at all, every usual state of the food may, and none of them is
    /// ever shown by the other, however rarely. From a deadly taxon it counts only if both sides have a published source.
    #[must_use]
    pub fn parts(&self, character: CharacterIndex, food: TaxonIndex, danger: TaxonIndex) -> bool {
        let (Some(looked_at), Some(other)) = (self.character(character), self.taxon(danger)) else {
            return false;
        };
        let (Cell::States(ours), Cell::States(theirs)) =
            (self.cell(food, character), self.cell(danger, character))
        else {
            return false;
        };
        let published = || self.is_published_cell(ours) && self.is_published_cell(theirs);
        looked_at.separator
            && looked_at.is_for_the_field()
            && clears(looked_at, ours, theirs)
            && (other.standing != Standing::Deadly || published())
    }

    /// All characters by which `food` is parted from `danger`, in the pack's order.
    #[must_use]
    pub fn partings(&self, food: TaxonIndex, danger: TaxonIndex) -> Vec<CharacterIndex> {
        self.character_indices().filter(|character| self.parts(*character, food, danger)).collect()
    }

    /// The independent families that these characters belong to.
    #[must_use]
    pub fn families_of(&self, characters: &[CharacterIndex]) -> Vec<FamilyIndex> {
        let mut families: Vec<_> =
            characters.iter().filter_map(|at| self.character(*at)).map(|at| at.family).collect();
        families.sort_unstable();
        families.dedup();
        families
    }

    /// Whether any usual state of a cell has a published source.
    #[must_use]
    pub fn is_published_cell(&self, cell: &StatesCell) -> bool {
        cell.states
            .iter()
            .flatten()
            .any(|seen| seen.frequency == Frequency::Usual && self.is_published(&seen.sources))
    }
}

impl Character {
    /// Whether it needs neither lens nor microscope.
    #[must_use]
    pub fn is_for_the_field(&self) -> bool {
        !matches!(self.effort, Effort::Lens | Effort::Microscope)
    }
}

/// Whether every usual state of `ours` may part, and is never shown by `theirs`.
fn clears(character: &Character, ours: &StatesCell, theirs: &StatesCell) -> bool {
    let mut usual = 0;
    for ((state, seen), other) in character.states.iter().zip(&ours.states).zip(&theirs.states) {
        if seen.as_ref().is_some_and(|seen| seen.frequency == Frequency::Usual) {
            if !state.separator || other.is_some() {
                return false;
            }
            usual += 1;
        }
    }
    usual > 0
}
