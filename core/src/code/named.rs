//! Which fungi a rule speaks of: Latin names as the text of a law has them, or ids of a pack. Never English names, which
//! laws use loosely: the "hedgehog fungus" of one Act is no hedgehog of the kitchen.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::pack::is_id;

/// The fungi that a rule speaks of. Everything, unless names or forms are given.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Names {
    /// What the text calls them together: `the cep group`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub called: Option<String>,
    /// Any of these.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub any: Vec<TaxonName>,
    /// None of these.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub except: Vec<TaxonName>,
    /// Only those of these forms, as the pack's character `form` has them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub forms: Vec<String>,
}

impl Names {
    /// Whether it leaves nothing out.
    #[must_use]
    pub fn is_everything(&self) -> bool {
        self.any.is_empty() && self.except.is_empty() && self.forms.is_empty()
    }

    /// Whether some fungus is among them.
    #[must_use]
    pub fn hold(&self, fungus: &impl Fungus) -> bool {
        let named = |names: &[TaxonName]| names.iter().any(|name| name.fits(fungus));
        let formed = |forms: &[String]| fungus.forms().iter().any(|own| forms.iter().any(|form| form == own));
        (self.any.is_empty() || named(&self.any))
            && (self.forms.is_empty() || formed(&self.forms))
            && !named(&self.except)
    }
}

/// What a rule can be held against.
pub trait Fungus {
    /// Ids: its own, and those of the groups it belongs to.
    fn ids(&self) -> &[String];
    /// The Latin names in use; several for a group that no look parts.
    fn latin(&self) -> &[String];
    /// Other Latin names.
    fn synonyms(&self) -> &[String];
    /// Its forms, as the pack's character `form` has them.
    fn forms(&self) -> &[String];
}

/// A name that rules may use.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum TaxonName {
    /// All species of a genus, as it is understood today: `Morchella`. Synonyms do not count: a century ago every gilled
    /// fungus was an *Agaricus*.
    Genus(String),
    /// A species, under whichever of its Latin names: `Boletus regius`.
    Species(String),
    /// A taxon or group of the pack: `velvet-shank`.
    Id(String),
}

/// A text that rules may not use as a name.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "{given:?} is no name a rule can use: write a Latin name like \"Boletus edulis\", a genus like \"Morchella\", or an id of the pack like \"velvet-shank\""
)]
pub struct NotAName {
    /// What was given.
    pub given: String,
}

impl TaxonName {
    /// Whether a fungus goes by this name.
    #[must_use]
    pub fn fits(&self, fungus: &impl Fungus) -> bool {
        match self {
            Self::Genus(genus) => fungus.latin().iter().any(|latin| {
                latin.split_whitespace().next().is_some_and(|first| first.eq_ignore_ascii_case(genus))
            }),
            Self::Species(name) => {
                fungus.latin().iter().chain(fungus.synonyms()).any(|other| other.eq_ignore_ascii_case(name))
            }
            Self::Id(id) => fungus.ids().iter().any(|other| other == id),
        }
    }
}

impl FromStr for TaxonName {
    type Err = NotAName;

    fn from_str(text: &str) -> Result<Self, NotAName> {
        let text = text.trim();
        let wrong = || NotAName { given: text.to_owned() };
        if is_id(text) {
            return Ok(Self::Id(text.to_owned()));
        }
        let mut words = text.split(' ');
        let genus = words.next().filter(|word| is_genus(word)).ok_or_else(wrong)?;
        let epithets: Vec<&str> = words.collect();
        let lower =
            |word: &&str| !word.is_empty() && word.chars().all(|c| c.is_lowercase() || "-.".contains(c));
        match epithets.as_slice() {
            [] => Ok(Self::Genus(genus.to_owned())),
            _ if epithets.len() <= 3 && epithets.iter().all(lower) => Ok(Self::Species(text.to_owned())),
            _ => Err(wrong()),
        }
    }
}

fn is_genus(word: &str) -> bool {
    let mut letters = word.chars();
    letters.next().is_some_and(char::is_uppercase)
        && word.len() > 2
        && letters.all(|c| c.is_lowercase() || c == '-')
}

impl fmt::Display for TaxonName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Genus(name) | Self::Species(name) | Self::Id(name) => f.write_str(name),
        }
    }
}

impl TryFrom<String> for TaxonName {
    type Error = NotAName;
    fn try_from(text: String) -> Result<Self, NotAName> {
        text.parse()
    }
}

impl From<TaxonName> for String {
    fn from(name: TaxonName) -> Self {
        name.to_string()
    }
}
