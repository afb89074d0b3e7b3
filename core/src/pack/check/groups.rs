//! Rules for groups: their members agree, and nothing in the field parts them.

use super::Findings;
use crate::pack::model::{GroupIndex, TaxonIndex};

pub(super) fn check(found: &mut Findings<'_>) {
    for (at, group) in (0..).map(GroupIndex).zip(&found.pack.groups) {
        let file = format!("groups/{}.toml", group.id);
        let members: Vec<_> = found.sound_taxa().filter(|(_, taxon)| taxon.group == Some(at)).collect();
        // A member whose file cannot be read is a member all the same.
        if members.len() < 2 && found.broken.is_empty() {
            let message = format!("a group has two members or more; this has {}", members.len());
            found.note(&file, "", "group-too-small", message);
        }
        let Some(((first_at, first), others)) = members.split_first() else { continue };
        for (other_at, other) in others {
            if other.standing != first.standing || other.key_may_name != first.key_may_name {
                let message = format!(
                    "`standing` and `key_may_name` must be those of `{}`, of the same group",
                    first.id
                );
                found.note_taxon(other, "group", "group-disagrees", message);
            }
            parted(found, (*first_at, &first.id), *other_at);
        }
    }
}

/// Members that a look in the field parts do not belong together.
fn parted(found: &mut Findings<'_>, (first, first_id): (TaxonIndex, &str), other: TaxonIndex) {
    let pack = found.pack;
    let mutual =
        |character| pack.always_parts(character, first, other) && pack.always_parts(character, other, first);
    let parting =
        pack.character_indices().find(|character| mutual(*character)).and_then(|at| pack.character(at));
    if let (Some(character), Some(taxon)) = (parting, pack.taxon(other)) {
        let message = format!("`{}` parts this from `{first_id}`, of the same group", character.id);
        found.note_taxon(taxon, &format!("cells.{}", character.id), "group-parted", message);
    }
}
