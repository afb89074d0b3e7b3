//! Finding things in a pack: by position, by id, by name, and the look-alikes of a taxon in both directions.

use super::model::{
    About, Cell, Character, CharacterIndex, Family, FamilyIndex, Group, GroupIndex, Kind, LookAlike, Pack,
    Source, Sources, StateIndex, StatesCell, Taxon, TaxonIndex,
};

impl Pack {
    /// What the pack says of itself.
    #[must_use]
    pub fn about(&self) -> &About {
        &self.about
    }

    /// All sources.
    #[must_use]
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// All families of characters.
    #[must_use]
    pub fn families(&self) -> &[Family] {
        &self.families
    }

    /// All characters, in the order a field guide would give them.
    #[must_use]
    pub fn characters(&self) -> &[Character] {
        &self.characters
    }

    /// All inseparable groups.
    #[must_use]
    pub fn groups(&self) -> &[Group] {
        &self.groups
    }

    /// All taxa, sorted by id.
    #[must_use]
    pub fn taxa(&self) -> &[Taxon] {
        &self.taxa
    }

    /// Positions of all taxa.
    pub fn taxon_indices(&self) -> impl ExactSizeIterator<Item = TaxonIndex> + Clone + use<> {
        (0..u16::try_from(self.taxa.len()).unwrap_or(u16::MAX)).map(TaxonIndex)
    }

    /// Positions of all characters.
    pub fn character_indices(&self) -> impl ExactSizeIterator<Item = CharacterIndex> + Clone + use<> {
        (0..u16::try_from(self.characters.len()).unwrap_or(u16::MAX)).map(CharacterIndex)
    }

    /// The taxon at a position.
    #[must_use]
    pub fn taxon(&self, at: TaxonIndex) -> Option<&Taxon> {
        self.taxa.get(at.get())
    }

    /// The character at a position.
    #[must_use]
    pub fn character(&self, at: CharacterIndex) -> Option<&Character> {
        self.characters.get(at.get())
    }

    /// The family at a position.
    #[must_use]
    pub fn family(&self, at: FamilyIndex) -> Option<&Family> {
        self.families.get(at.get())
    }

    /// The group at a position.
    #[must_use]
    pub fn group(&self, at: GroupIndex) -> Option<&Group> {
        self.groups.get(at.get())
    }

    /// What a taxon shows in a character.
    #[must_use]
    pub fn cell(&self, taxon: TaxonIndex, character: CharacterIndex) -> &Cell {
        let row = taxon.get() * self.characters.len();
        if character.get() < self.characters.len() {
            self.cells.get(row + character.get()).unwrap_or(&Cell::NotApplicable)
        } else {
            &Cell::NotApplicable
        }
    }

    /// A taxon by its id.
    #[must_use]
    pub fn taxon_by_id(&self, id: &str) -> Option<TaxonIndex> {
        self.taxon_indices().find(|at| self.taxon(*at).is_some_and(|taxon| taxon.id == id))
    }

    /// A character by its id.
    #[must_use]
    pub fn character_by_id(&self, id: &str) -> Option<CharacterIndex> {
        self.character_indices().find(|at| self.character(*at).is_some_and(|character| character.id == id))
    }

    /// A taxon by its id, or by an exact Latin or English name in any case. Stages are found by id and English name only.
    #[must_use]
    pub fn taxon_by_name(&self, name: &str) -> Option<TaxonIndex> {
        let name = name.trim().to_lowercase();
        let same = |other: &String| other.to_lowercase() == name;
        let names =
            |taxon: &Taxon| taxon.stage.is_none() && (same(&taxon.latin) || taxon.synonyms.iter().any(same));
        let pick = |wanted: &dyn Fn(&Taxon) -> bool| {
            self.taxon_indices().find(|at| self.taxon(*at).is_some_and(wanted))
        };
        pick(&|taxon| taxon.id == name)
            .or_else(|| pick(&|taxon| taxon.english.iter().any(same)))
            .or_else(|| pick(&|taxon| same(&taxon.latin) && taxon.stage.is_none()))
            .or_else(|| pick(&names))
    }

    /// What a taxon is taken for: the entries of its own file, and those of others that name it.
    ///
    /// Each comes with the other taxon, so that one entry serves both directions.
    pub fn lookalikes_of(&self, taxon: TaxonIndex) -> impl Iterator<Item = (TaxonIndex, &LookAlike)> {
        let own =
            self.taxon(taxon).into_iter().flat_map(|own| &own.lookalikes).map(|entry| (entry.taxon, entry));
        let others = self.taxon_indices().zip(&self.taxa).filter(move |(at, _)| *at != taxon);
        own.chain(others.flat_map(move |(at, other)| {
            other.lookalikes.iter().filter(move |entry| entry.taxon == taxon).map(move |entry| (at, entry))
        }))
    }

    /// The taxa of a group.
    pub fn members(&self, group: GroupIndex) -> impl Iterator<Item = TaxonIndex> {
        self.taxon_indices().filter(move |at| self.taxon(*at).is_some_and(|taxon| taxon.group == Some(group)))
    }

    /// Whether any of these sources is published.
    #[must_use]
    pub fn is_published(&self, sources: &Sources) -> bool {
        sources.iter().any(|at| self.sources.get(at.get()).is_some_and(|source| source.published))
    }
}

impl Character {
    /// A state by its id.
    #[must_use]
    pub fn state_by_id(&self, id: &str) -> Option<StateIndex> {
        let at = self.states.iter().position(|state| state.id == id)?;
        u16::try_from(at).ok().map(StateIndex)
    }

    /// Whether answers are states.
    #[must_use]
    pub fn has_states(&self) -> bool {
        self.kind == Kind::States
    }
}

impl StatesCell {
    /// Whether a state is seen at all.
    #[must_use]
    pub fn shows(&self, state: StateIndex) -> bool {
        self.states.get(state.get()).is_some_and(Option::is_some)
    }
}
