//! What a photograph shows: which of a find's faces a key, or a person asked later, will want to see.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A word that names no role.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no photo role is called {given:?}: say {}", Role::ALL.map(Role::name).join(", "))]
pub struct NotARole {
    /// The word as given.
    pub given: String,
}

/// What a photograph of a find shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// The whole fruitbody, or all of them, where they stand.
    #[default]
    Whole,
    /// Gills, pores or spines from beneath.
    Underside,
    /// The dug-out base of the stem.
    StemBase,
    /// The flesh, cut.
    Cut,
    /// Where it grows.
    Habitat,
    /// The spores' colour, printed.
    SporePrint,
    /// With something of known size beside it.
    Scale,
}

impl Role {
    /// All of them, in the order in which they are best taken.
    pub const ALL: [Self; 7] = [
        Self::Whole,
        Self::Underside,
        Self::StemBase,
        Self::Cut,
        Self::Habitat,
        Self::SporePrint,
        Self::Scale,
    ];

    /// Without these nobody can name a find from its photos: the whole, the underside, the dug-out base (common practice, no
    /// source).
    pub const WANTED: [Self; 3] = [Self::Whole, Self::Underside, Self::StemBase];

    /// Those of [`Role::WANTED`] that none of these photos shows.
    #[must_use]
    pub fn missing(shown: &[Self]) -> Vec<Self> {
        Self::WANTED.into_iter().filter(|role| !shown.contains(role)).collect()
    }

    /// Its name in files and on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Whole => "whole",
            Self::Underside => "underside",
            Self::StemBase => "stem-base",
            Self::Cut => "cut",
            Self::Habitat => "habitat",
            Self::SporePrint => "spore-print",
            Self::Scale => "scale",
        }
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Role {
    type Err = NotARole;

    /// Reads a role's name in any case, its words joined by a hyphen, a space or an underscore.
    fn from_str(text: &str) -> Result<Self, NotARole> {
        let name = text.trim().to_lowercase().replace([' ', '_'], "-");
        Self::ALL
            .into_iter()
            .find(|role| role.name() == name)
            .ok_or_else(|| NotARole { given: text.to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_json_agree() {
        for role in Role::ALL {
            assert_eq!(role.to_string().parse(), Ok(role));
            assert_eq!(serde_json::to_string(&role).unwrap(), format!("\"{role}\""));
        }
        assert_eq!("Spore print".parse(), Ok(Role::SporePrint));
        assert_eq!("STEM_BASE".parse(), Ok(Role::StemBase));
    }

    #[test]
    fn what_is_missing_is_told_until_it_is_there() {
        assert_eq!(Role::missing(&[]), Role::WANTED);
        assert_eq!(Role::missing(&[Role::Underside, Role::Cut]), [Role::Whole, Role::StemBase]);
        assert_eq!(Role::missing(&Role::ALL), []);
    }

    #[test]
    fn a_wrong_word_is_answered_with_the_right_ones() {
        let error = "gills".parse::<Role>().unwrap_err().to_string();
        assert_eq!(
            error,
            "no photo role is called \"gills\": say whole, underside, stem-base, cut, habitat, spore-print, scale"
        );
    }
}
