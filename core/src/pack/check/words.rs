//! Rules for the words of a pack: no two taxa of one name, no promise, and no tasting.

use std::collections::HashMap;

use super::Findings;
use crate::pack::model::Taxon;
use crate::pack::read::SIGNS;

/// What would read as a licence to eat.
const PROMISES: [&str; 7] =
    ["safe to", "is safe", "are safe", "be safe", "safely", "safe for", "can be eaten"];

const TASTING: [&str; 10] =
    ["taste", "tastes", "tasted", "tasting", "chew", "chewed", "lick", "nibble", "acrid", "spit"];

pub(super) fn check(found: &mut Findings<'_>) {
    names(found);
    for (at, sign) in found.pack.signs.iter().enumerate() {
        let path = format!("sign[{at}].text");
        if let Some(message) = promised(&sign.text) {
            found.note(SIGNS, &path, "says-safe", message);
        }
        if asks_to_taste(&sign.text) {
            found.note(SIGNS, &path, "asks-to-taste", "no one is asked to taste anything".into());
        }
    }
    for (_, taxon) in found.sound_taxa() {
        for (field, text) in texts(taxon) {
            if let Some(message) = promised(text) {
                found.note_taxon(taxon, &field, "says-safe", message);
            }
            if field.starts_with("lookalikes") && asks_to_taste(text) {
                let message = "no one is sent to taste anything, least of all to part two taxa".into();
                found.note_taxon(taxon, &field, "asks-to-taste", message);
            }
        }
    }
}

/// What to say of a text that promises.
fn promised(text: &str) -> Option<String> {
    let text = text.to_lowercase();
    let promise = PROMISES.iter().find(|promise| text.contains(*promise))?;
    Some(format!("nothing is ever said to be fit to eat: `{promise}`"))
}

/// Whether a text speaks of tasting.
pub(super) fn asks_to_taste(text: &str) -> bool {
    let text = text.to_lowercase();
    text.split(|letter: char| !letter.is_alphabetic()).any(|word| TASTING.contains(&word))
}

fn texts(taxon: &Taxon) -> impl Iterator<Item = (String, &str)> {
    let cautions =
        taxon.cautions.iter().enumerate().map(|(at, it)| (format!("cautions[{at}].text"), it.text.as_str()));
    let disputed =
        taxon.disputed.iter().enumerate().map(|(at, it)| (format!("disputed[{at}].text"), it.text.as_str()));
    let apart = taxon
        .lookalikes
        .iter()
        .enumerate()
        .map(|(at, it)| (format!("lookalikes[{at}].apart"), it.apart.as_str()));
    let standing = std::iter::once(("standing.note".to_owned(), taxon.standing_statement.text.as_str()));
    let refusal =
        taxon.key_may_not_because.iter().map(|text| ("key_may_not_because".to_owned(), text.as_str()));
    let own = taxon.maturity.iter().flat_map(|it| &it.signs);
    let own =
        own.flat_map(|own| own.text.iter().chain(&own.note)).map(|it| ("condition".to_owned(), it.as_str()));
    cautions.chain(disputed).chain(apart).chain(standing).chain(refusal).chain(own)
}

/// An exact name finds one taxon.
fn names(found: &mut Findings<'_>) {
    let mut owners: HashMap<String, &str> = HashMap::new();
    for (_, taxon) in found.sound_taxa() {
        let latin = [&taxon.latin].into_iter().filter(|_| taxon.stage.is_none()).chain(&taxon.synonyms);
        for (field, name) in
            latin.map(|name| ("latin", name)).chain(taxon.english.iter().map(|name| ("english", name)))
        {
            match owners.insert(name.to_lowercase(), &taxon.id) {
                Some(other) if other != taxon.id => {
                    found.note_taxon(
                        taxon,
                        field,
                        "name-not-unique",
                        format!("`{name}` is a name of `{other}` too"),
                    );
                }
                _ => {}
            }
        }
    }
}
