//! The part of a pack that a key goes by: all of it, unless a trial holds some back or spoils some.

use std::collections::BTreeMap;

use crate::pack::{Abundance, Cell, CharacterIndex, Pack, TaxonIndex};

/// A pack as one key knows it.
pub(super) struct Knowledge<'p> {
    pub pack: &'p Pack,
    /// Taxa that this key has never heard of.
    pub hidden: Vec<bool>,
    /// Cells that this key has wrong: it believes what is true of another taxon.
    pub swapped: BTreeMap<(TaxonIndex, CharacterIndex), TaxonIndex>,
}

impl<'p> Knowledge<'p> {
    /// All that the pack says.
    pub fn of(pack: &'p Pack) -> Self {
        Self { pack, hidden: vec![false; pack.taxa().len()], swapped: BTreeMap::new() }
    }

    /// What it holds a taxon to show in a character.
    pub fn cell(&self, taxon: TaxonIndex, character: CharacterIndex) -> &'p Cell {
        let believed = self.swapped.get(&(taxon, character)).copied().unwrap_or(taxon);
        self.pack.cell(believed, character)
    }

    /// Whether it has never heard of a taxon.
    pub fn is_hidden(&self, taxon: TaxonIndex) -> bool {
        self.hidden.get(taxon.get()).copied().unwrap_or(true)
    }

    /// The weight of a taxon before anything is seen: mild, and for dangerous ones never below the middle, since a rare
    /// poison is not a smaller one.
    pub fn weight(&self, taxon: TaxonIndex) -> f32 {
        let Some(known) = self.pack.taxon(taxon).filter(|_| !self.is_hidden(taxon)) else { return 0.0 };
        let weight = match known.abundance {
            Abundance::Rare => 0.6,
            Abundance::Uncommon => 0.8,
            Abundance::Occasional => 1.0,
            Abundance::Common => 1.25,
            Abundance::VeryCommon => 1.5,
        };
        if known.standing.is_dangerous() { f32::max(weight, 1.0) } else { weight }
    }
}
