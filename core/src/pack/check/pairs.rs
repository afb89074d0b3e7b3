//! Rules for each pair of a food that the key may name and something dangerous that it is taken for.

use super::{Findings, taxon_file};
use crate::pack::model::{Cell, CharacterIndex, LookAlike, Pack, Standing, Taxon, TaxonIndex};

pub(super) fn check(found: &mut Findings<'_>) {
    let sound: Vec<TaxonIndex> = found.sound_taxa().map(|(at, _)| at).collect();
    let pack = found.pack;
    for (at, taxon) in found.sound_taxa() {
        for (entry_at, entry) in
            taxon.lookalikes.iter().enumerate().filter(|(_, entry)| sound.contains(&entry.taxon))
        {
            let Some(other) = pack.taxon(entry.taxon) else { continue };
            let place = Place { file: taxon_file(taxon), path: format!("lookalikes[{entry_at}]") };
            if entry.taxon == at {
                place.note(found, "taxon", "own-lookalike", "a taxon is not its own look-alike".into());
                continue;
            }
            looks_that_tell(found, &place, (at, entry.taxon), entry);
            for (food, danger) in [((at, taxon), (entry.taxon, other)), ((entry.taxon, other), (at, taxon))] {
                if food.1.key_may_name && danger.1.standing.is_dangerous() {
                    pair(found, &place, food, danger, entry);
                }
            }
        }
    }
}

struct Place {
    file: String,
    path: String,
}

impl Place {
    fn note(&self, found: &mut Findings<'_>, field: &str, rule: &'static str, message: String) {
        let path = if field.is_empty() { self.path.clone() } else { format!("{}.{field}", self.path) };
        found.note(&self.file, &path, rule, message);
    }
}

/// Each character that an entry sends people to must show some difference.
fn looks_that_tell(
    found: &mut Findings<'_>,
    place: &Place,
    (one, other): (TaxonIndex, TaxonIndex),
    entry: &LookAlike,
) {
    let pack = found.pack;
    for character in entry.by.iter().chain(&entry.decisive) {
        let Some(looked_at) = pack.character(*character) else { continue };
        if looked_at.separator
            && (differs(pack, *character, one, other) || differs(pack, *character, other, one))
        {
            continue;
        }
        let message = format!("`{}` shows no difference between the two that may part them", looked_at.id);
        place.note(found, "by", "nothing-to-see", message);
    }
}

/// Whether one taxon shows a state that the other never does, or the character applies to one alone.
fn differs(pack: &Pack, character: CharacterIndex, one: TaxonIndex, other: TaxonIndex) -> bool {
    match (pack.cell(one, character), pack.cell(other, character)) {
        (Cell::States(one), Cell::States(other)) => {
            one.states.iter().zip(&other.states).any(|(one, other)| one.is_some() && other.is_none())
        }
        (Cell::States(_), Cell::NotApplicable) => true,
        _ => false,
    }
}

fn pair(
    found: &mut Findings<'_>,
    place: &Place,
    (food_at, food): (TaxonIndex, &Taxon),
    (danger_at, danger): (TaxonIndex, &Taxon),
    entry: &LookAlike,
) {
    let pack = found.pack;
    let partings = pack.partings(food_at, danger_at);
    let decisive = entry.decisive.iter().any(|character| partings.contains(character));
    if !entry.decisive.is_empty() && !decisive {
        let message = format!("no decisive character parts {} from {} in the cells", food.id, danger.id);
        place.note(found, "decisive", "decisive-parts-nothing", message);
    }
    let families = pack.families_of(&partings);
    if families.len() < 2 && !decisive {
        let found_families: Vec<_> =
            families.iter().filter_map(|at| pack.family(*at)).map(|family| family.id.as_str()).collect();
        let message = format!(
            "{} is parted from {} by {} of the two independent families needed ({}){}",
            food.id,
            danger.id,
            families.len(),
            if found_families.is_empty() { "none".to_owned() } else { found_families.join(", ") },
            if danger.standing == Standing::Deadly {
                "; from a deadly taxon only published statements count"
            } else {
                ""
            },
        );
        place.note(found, "", "inseparable-pair", message);
    }
    if !danger.demands.is_empty() && !danger.demands.iter().any(|demand| partings.contains(demand)) {
        let message =
            format!("{} is never ruled out: nothing that it demands parts it from {}", danger.id, food.id);
        place.note(found, "", "demand-unmet", message);
    }
    if danger.standing == Standing::Deadly {
        spore_colour(found, place, (food_at, food), (danger_at, danger));
    }
}

/// The print of a deadly taxon and of a food taken for it are known, from published sources.
fn spore_colour(
    found: &mut Findings<'_>,
    place: &Place,
    food: (TaxonIndex, &Taxon),
    danger: (TaxonIndex, &Taxon),
) {
    let pack = found.pack;
    let applies = |character: CharacterIndex| {
        let both =
            [food.0, danger.0].map(|taxon| !matches!(pack.cell(taxon, character), Cell::NotApplicable));
        both == [true, true]
    };
    let print = pack
        .character_indices()
        .find(|at| pack.character(*at).is_some_and(|character| character.spore_colour) && applies(*at));
    let Some(print) = print else { return };
    for (at, taxon) in [food, danger] {
        let known = matches!(pack.cell(at, print), Cell::States(cell) if pack.is_published_cell(cell));
        if !known {
            let message = format!(
                "the spore colour of {} needs a published source, for {} is deadly",
                taxon.id, danger.1.id
            );
            place.note(found, "", "spore-colour-unsourced", message);
        }
    }
}
