//! The published facts: one species a line, as `TRUG_SPECIES` holds them.

use std::path::Path;

use serde::Deserialize;

/// One species.
#[derive(Deserialize)]
pub struct Species {
    pub name: String,
    pub synonyms: Vec<String>,
    pub facts: Vec<Fact>,
    pub lookalikes: Vec<Contrast>,
    /// Where authors disagree, in free words that name them.
    pub conflicts: String,
}

/// One fact, in few words, with the id of its source.
#[derive(Deserialize)]
pub struct Fact {
    #[serde(rename = "f")]
    pub field: String,
    #[serde(rename = "v")]
    pub value: String,
    #[serde(rename = "s")]
    pub source: String,
}

/// What parts it from another, whose name may be loose: "Lepiota (parasol group)".
#[derive(Deserialize)]
pub struct Contrast {
    pub name: String,
    pub apart: String,
    #[serde(rename = "s")]
    pub source: String,
}

pub fn read(path: &Path) -> Vec<Species> {
    let text = std::fs::read_to_string(path).unwrap();
    text.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// Several ids joined by `+` are sources set side by side.
pub fn is_from(sources: &str, id: &str) -> bool {
    sources == id || sources.split('+').any(|source| source == id)
}

/// All that is known of one taxon of the pack: its own lines, and the contrasts of others with it.
pub struct Known<'s> {
    pub own: Vec<&'s Species>,
    pub contrasts: Vec<&'s Contrast>,
}

impl<'s> Known<'s> {
    pub fn of(names: &[&str], all: &'s [Species]) -> Self {
        let same = |name: &str| names.iter().any(|own| own.eq_ignore_ascii_case(name));
        let own: Vec<&Species> =
            all.iter().filter(|it| same(&it.name) || it.synonyms.iter().any(|s| same(s))).collect();
        // Others may name it by any of the names that its own line knows.
        let known: Vec<String> = names
            .iter()
            .map(ToString::to_string)
            .chain(own.iter().flat_map(|it| it.synonyms.iter().chain([&it.name]).cloned()))
            .map(|name| name.to_lowercase())
            .collect();
        let about =
            |contrast: &&Contrast| known.iter().any(|name| contrast.name.to_lowercase().contains(name));
        let contrasts = own.iter().flat_map(|it| &it.lookalikes);
        let others = all.iter().flat_map(|it| &it.lookalikes).filter(about);
        Self { contrasts: contrasts.chain(others).collect(), own }
    }

    /// Its facts from one source in some fields.
    pub fn facts(&self, source: &str, fields: &[String]) -> Vec<&'s str> {
        let facts = self.own.iter().flat_map(|it| &it.facts);
        let wanted = facts.filter(|fact| fields.contains(&fact.field) && is_from(&fact.source, source));
        wanted.map(|fact| fact.value.as_str()).collect()
    }

    /// Whether one source says anything of it.
    pub fn is_told_by(&self, source: &str) -> bool {
        !self.contrasts(source).is_empty()
            || self.own.iter().flat_map(|it| &it.facts).any(|fact| is_from(&fact.source, source))
    }

    /// What one source says in parting it from others.
    pub fn contrasts(&self, source: &str) -> Vec<&'s str> {
        let said = self.contrasts.iter().filter(|contrast| is_from(&contrast.source, source));
        said.map(|contrast| contrast.apart.as_str()).collect()
    }
}
