//! Rules for the matrix as a whole: nothing idle in it, and enough of it filled.

use super::Findings;
use super::characters::FILE;
use crate::pack::model::{Cell, Taxon, TaxonIndex};

/// The share of cells that a taxon must fill, of those that apply to it.
const FILLED: (usize, usize) = (3, 4);

pub(super) fn check(found: &mut Findings<'_>) {
    for (at, taxon) in found.sound_taxa() {
        filled(found, at, taxon);
    }
    // What is idle can only be told of a pack that was read in full.
    if found.broken.is_empty() {
        states(found);
        sources(found);
    }
}

fn filled(found: &mut Findings<'_>, at: TaxonIndex, taxon: &Taxon) {
    let pack = found.pack;
    let (mut filled, mut apply) = (0, 0);
    for (character_at, character) in pack.character_indices().zip(&pack.characters) {
        match pack.cell(at, character_at) {
            Cell::NotApplicable => {}
            Cell::Unknown => {
                apply += 1;
                let decides = pack
                    .characters
                    .iter()
                    .flat_map(|other| &other.applies_if)
                    .any(|it| it.character == character_at);
                if decides {
                    let message = format!(
                        "`{}` must be filled: whether other characters apply depends on it",
                        character.id
                    );
                    found.note_taxon(taxon, "cells", "unfilled-hinge", message);
                }
            }
            _ => {
                apply += 1;
                filled += 1;
            }
        }
    }
    if filled * FILLED.1 < apply * FILLED.0 {
        let message =
            format!("{filled} of {apply} cells that apply are filled; at least three quarters must be");
        found.note_taxon(taxon, "cells", "thin", message);
    }
}

fn states(found: &mut Findings<'_>) {
    let pack = found.pack;
    for (at, character) in pack.character_indices().zip(&pack.characters) {
        for (state_at, state) in character.states.iter().enumerate() {
            let shows = |taxon| matches!(pack.cell(taxon, at), Cell::States(cell) if cell.states.get(state_at).is_some_and(Option::is_some));
            if !pack.taxon_indices().any(shows) {
                let path = format!("character[{}].states[{state_at}]", at.get());
                let message = format!("no taxon shows the state `{}` of `{}`", state.id, character.id);
                found.note(FILE, &path, "unused-state", message);
            }
        }
        if !character.has_states()
            && !pack
                .taxon_indices()
                .any(|taxon| matches!(pack.cell(taxon, at), Cell::Number(..) | Cell::Months(..)))
        {
            found.note(
                FILE,
                &format!("character[{}]", at.get()),
                "unused-state",
                format!("no taxon fills `{}`", character.id),
            );
        }
    }
}

fn sources(found: &mut Findings<'_>) {
    let pack = found.pack;
    let cited = pack.cited_for();
    for (source, _) in pack.sources.iter().zip(cited).filter(|(_, cited)| cited.is_nothing()) {
        let path = format!("{}.{}", if source.published { "published" } else { "unpublished" }, source.id);
        found.note("sources.toml", &path, "unused-source", format!("nothing cites `{}`", source.id));
    }
}
