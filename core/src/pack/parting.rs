//! What the matrix itself can part: the floor under every claim that a food is told from something dangerous.

use super::model::{
    Cell, Character, CharacterIndex, Effort, FamilyIndex, Frequency, Pack, Standing, State, StatesCell,
    TaxonIndex,
};

impl Pack {
    /// Whether an ordinary specimen of `food` can speak against `danger` by this character, looked at in the field.
    ///
    /// That is so if some usual state of the food may part, and the other never shows it, however rarely.
    /// From a deadly taxon it counts only if both statements have a published source.
    #[must_use]
    pub fn can_part(&self, character: CharacterIndex, food: TaxonIndex, danger: TaxonIndex) -> bool {
        let Some((looked_at, ours, theirs)) = self.both(character, food, danger) else { return false };
        let deadly = self.taxon(danger).is_some_and(|danger| danger.standing == Standing::Deadly);
        let is_sourced = |seen| !deadly || self.is_published(seen);
        let speaks = usual(looked_at, ours, theirs).any(|usual| usual.parts && is_sourced(usual.sources));
        speaks && (!deadly || self.is_published_cell(theirs))
    }

    /// Whether every ordinary specimen of `one` differs from all of `other` by this character, sources aside.
    #[must_use]
    pub fn always_parts(&self, character: CharacterIndex, one: TaxonIndex, other: TaxonIndex) -> bool {
        self.both(character, one, other).is_some_and(|(looked_at, ours, theirs)| {
            let mut usual = usual(looked_at, ours, theirs).peekable();
            usual.peek().is_some() && usual.all(|usual| usual.parts)
        })
    }

    /// All characters by which `food` can be parted from `danger`, in the pack's order.
    #[must_use]
    pub fn partings(&self, food: TaxonIndex, danger: TaxonIndex) -> Vec<CharacterIndex> {
        self.character_indices().filter(|character| self.can_part(*character, food, danger)).collect()
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

    /// A character that may part two taxa in the field, and what each of them shows.
    fn both(
        &self,
        character: CharacterIndex,
        one: TaxonIndex,
        other: TaxonIndex,
    ) -> Option<(&Character, &StatesCell, &StatesCell)> {
        let looked_at = self.character(character).filter(|it| it.separator && it.is_for_the_field())?;
        match (self.cell(one, character), self.cell(other, character)) {
            (Cell::States(ours), Cell::States(theirs)) => Some((looked_at, ours, theirs)),
            _ => None,
        }
    }
}

impl Character {
    /// Whether it needs neither lens nor microscope.
    #[must_use]
    pub fn is_for_the_field(&self) -> bool {
        !matches!(self.effort, Effort::Lens | Effort::Microscope)
    }
}

/// A usual state of one taxon.
struct Usual<'a> {
    /// Whether the state may part, and the other never shows it.
    parts: bool,
    sources: &'a super::model::Sources,
}

fn usual<'a>(
    character: &'a Character,
    ours: &'a StatesCell,
    theirs: &'a StatesCell,
) -> impl Iterator<Item = Usual<'a>> {
    let states = character.states.iter().zip(&ours.states).zip(&theirs.states);
    states.filter_map(|((state, seen), other): ((&State, _), _)| {
        let seen = Option::as_ref(seen).filter(|seen| seen.frequency == Frequency::Usual)?;
        Some(Usual { parts: state.separator && other.is_none(), sources: &seen.sources })
    })
}
