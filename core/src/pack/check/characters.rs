//! Rules for the characters: what may part, what never does, and what no one is asked to do.

use std::collections::HashMap;

use super::Findings;
use super::words::asks_to_taste;
use crate::pack::model::{Character, Kind};

pub(super) const FILE: &str = "characters.toml";

/// Trees are misnamed, ground is guessed, and size and season overlap: these guide and never part.
const NEVER_PART: [&str; 3] = ["host", "ground", "month"];

/// Veils are lost, so that their absence clears nothing.
pub(super) const VEILS: [&str; 4] = ["ring", "young-veil", "cap-warts", "volva"];

pub(super) fn check(found: &mut Findings<'_>) {
    let mut figures: HashMap<&str, String> = HashMap::new();
    for (at, character) in found.pack.characters.iter().enumerate() {
        let path = format!("character[{at}]");
        separators(found, character, &path);
        spores(found, character, &path);
        let texts = [&character.id, &character.label, &character.question].into_iter().chain(&character.help);
        if let Some(text) =
            texts.chain(character.states.iter().map(|state| &state.label)).find(|text| asks_to_taste(text))
        {
            found.note(FILE, &path, "asks-to-taste", format!("no one is asked to taste anything: `{text}`"));
        }
        for (state_at, state) in character.states.iter().enumerate() {
            let path = format!("{path}.states[{state_at}].figure");
            let Some(figure) = &state.figure else { continue };
            let here = format!("{}={}", character.id, state.id);
            if let Some(other) = figures.insert(figure, here) {
                found.note(
                    FILE,
                    &path,
                    "figure-not-unique",
                    format!("the figure `{figure}` stands for {other} already"),
                );
            }
        }
    }
    families(found);
}

fn separators(found: &mut Findings<'_>, character: &Character, path: &str) {
    let never = character.kind != Kind::States || NEVER_PART.contains(&character.id.as_str());
    if never && character.separator {
        let message =
            format!("`{}` never parts a find from anything: write `separator = false`", character.id);
        found.note(FILE, path, "never-parts", message);
    }
    if !VEILS.contains(&character.id.as_str()) {
        return;
    }
    for (at, state) in character.states.iter().enumerate() {
        if matches!(state.id.as_str(), "absent" | "none") && state.separator {
            let message = format!("a {} may have been lost: write `separator = false`", character.id);
            found.note(FILE, &format!("{path}.states[{at}]"), "absence-parts", message);
        }
    }
}

fn spores(found: &mut Findings<'_>, character: &Character, path: &str) {
    let named = character.id.contains("spore");
    if named != character.spore_colour {
        let message = if named {
            format!(
                "`{}` is named for spores: write `spore_colour = true`, or name it otherwise",
                character.id
            )
        } else {
            format!("the ids of spore-colour characters contain `spore`: `{}` does not", character.id)
        };
        found.note(FILE, path, "spore-id", message);
    }
    let first = found.pack.characters.iter().find(|other| other.spore_colour);
    if character.spore_colour && first.is_some_and(|first| first.family != character.family) {
        found.note(
            FILE,
            &format!("{path}.family"),
            "spore-family",
            "all spore-colour characters are of one family".into(),
        );
    }
}

fn families(found: &mut Findings<'_>) {
    let used: Vec<_> = found.pack.characters.iter().map(|character| character.family.get()).collect();
    for (at, family) in found.pack.families.iter().enumerate() {
        if !used.contains(&at) {
            let message = format!("no character is of the family `{}`", family.id);
            found.note(FILE, &format!("families.{}", family.id), "unused-family", message);
        }
    }
}
