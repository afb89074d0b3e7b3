//! Rules for each taxon by itself.

use super::Findings;
use super::characters::VEILS;
use crate::pack::model::{Cell, Effort, Frequency, Standing, Taxon, TaxonIndex};

pub(super) fn check(found: &mut Findings<'_>) {
    for (at, taxon) in found.sound_taxa() {
        naming(found, taxon);
        stage(found, taxon);
        if taxon.standing == Standing::Food && taxon.lookalikes.is_empty() {
            let message = "a food names what it is taken for: add [[lookalikes]]".into();
            found.note_taxon(taxon, "", "food-without-lookalikes", message);
        }
        if taxon.standing == Standing::Deadly && !found.pack.is_published(&taxon.standing_statement.sources) {
            found.note_taxon(
                taxon,
                "standing",
                "deadly-unsourced",
                "that it is deadly needs a published source".into(),
            );
        }
        if taxon.standing.is_dangerous() {
            base(found, at, taxon);
        }
        if taxon.english.is_empty() {
            found.note_taxon(
                taxon,
                "",
                "no-english-name",
                "`english` needs at least one name, if only the Latin one".into(),
            );
        }
    }
}

fn naming(found: &mut Findings<'_>, taxon: &Taxon) {
    let food = taxon.standing == Standing::Food;
    if taxon.key_may_name && !food {
        let message = "the key names nothing but food: write `key_may_name = false`".into();
        found.note_taxon(taxon, "key_may_name", "dangerous-nameable", message);
    }
    if food && !taxon.key_may_name && taxon.key_may_not_because.is_none() {
        let message = "say in `key_may_not_because` why the key may not name this food".into();
        found.note_taxon(taxon, "key_may_name", "unexplained-refusal", message);
    }
    if taxon.key_may_name && taxon.key_may_not_because.is_some() {
        let message = "the key may name it, and here is why it may not: keep one".into();
        found.note_taxon(taxon, "key_may_not_because", "unexplained-refusal", message);
    }
    if taxon.key_may_name && !taxon.lookalikes_complete {
        let message =
            "a food that the key may name has a complete list of look-alikes: `lookalikes_complete = true`"
                .into();
        found.note_taxon(taxon, "key_may_name", "list-incomplete", message);
    }
}

fn stage(found: &mut Findings<'_>, taxon: &Taxon) {
    let Some(stage) = &taxon.stage else { return };
    let Some(whole) = found.pack.taxon(stage.of) else { return };
    if whole.stage.is_some() {
        found.note_taxon(taxon, "stage_of", "stage-of-a-stage", format!("`{}` is a stage itself", whole.id));
    }
    if whole.latin != taxon.latin || whole.standing != taxon.standing {
        let message = format!(
            "a stage has the Latin name and the standing of its taxon: {}, {:?}",
            whole.latin, whole.standing
        );
        found.note_taxon(taxon, "stage_of", "stage-differs", message);
    }
}

/// What stays in the ground is asked for: a bag left behind when the stem is pulled clears nothing.
fn base(found: &mut Findings<'_>, at: TaxonIndex, taxon: &Taxon) {
    let pack = found.pack;
    let veils = pack
        .character_indices()
        .zip(&pack.characters)
        .filter(|(_, character)| VEILS.contains(&character.id.as_str()));
    let hidden = veils.filter(|(_, character)| character.effort == Effort::DigOut).find(
        |(character_at, character)| {
            let Cell::States(cell) = pack.cell(at, *character_at) else { return false };
            character.states.iter().zip(&cell.states).any(|(state, seen)| {
                state.separator && seen.as_ref().is_some_and(|seen| seen.frequency == Frequency::Usual)
            })
        },
    );
    let asked = taxon
        .demands
        .iter()
        .any(|demand| pack.character(*demand).is_some_and(|demand| demand.effort >= Effort::Cut));
    if let Some((_, character)) = hidden
        && !asked
    {
        let message = format!(
            "`{}` can stay in the ground: `demands` must name what has to be dug out or cut",
            character.id
        );
        found.note_taxon(taxon, &format!("cells.{}", character.id), "base-not-demanded", message);
    }
}
