//! What is counted by itself.

use std::fmt;
use std::str::FromStr;

use crate::id::{NotAnId, PatchId};

/// A fungus, a place, or all of them.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Key {
    /// All finds together.
    All,
    /// What goes by one name: its id in the pack, or the name itself where no pack knows it.
    Fungus(String),
    /// What has no name.
    Unnamed,
    /// A patch.
    Patch(PatchId),
    /// Where outings were, in their owner's words: what belongs to no patch.
    Outing(String),
    /// What belongs to no patch, and to no outing that says where it was.
    Elsewhere,
}

impl fmt::Debug for Key {
    /// Says no place.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outing(_) => f.write_str("Outing(…)"),
            other => fmt::Display::fmt(other, f),
        }
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::All => f.write_str("all"),
            Self::Fungus(id) => write!(f, "fungus/{id}"),
            Self::Unnamed => f.write_str("unnamed"),
            Self::Patch(id) => write!(f, "patch/{id}"),
            Self::Outing(place) => write!(f, "outing/{place}"),
            Self::Elsewhere => f.write_str("elsewhere"),
        }
    }
}

impl FromStr for Key {
    type Err = NotAnId;

    fn from_str(text: &str) -> Result<Self, NotAnId> {
        Ok(match text.split_once('/') {
            None if text == "all" => Self::All,
            None if text == "unnamed" => Self::Unnamed,
            None if text == "elsewhere" => Self::Elsewhere,
            Some(("fungus", id)) => Self::Fungus(id.to_owned()),
            Some(("patch", id)) => Self::Patch(id.parse()?),
            Some(("outing", place)) => Self::Outing(place.to_owned()),
            _ => return Err(NotAnId),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_reads_back_as_written_and_shows_no_place_where_it_might_be_logged() {
        let patch = Key::Patch(PatchId::new());
        let odd = "A wood / by the \u{5e8}\u{5d7}\u{5d5}\u{5d1}, -1";
        for key in [
            Key::All,
            Key::Unnamed,
            Key::Elsewhere,
            Key::Fungus("velvet-shank".into()),
            Key::Outing(odd.into()),
            patch,
        ] {
            assert_eq!(key.to_string().parse::<Key>(), Ok(key));
        }
        for bad in ["", "fungi/x", "patch/x", "All"] {
            assert_eq!(bad.parse::<Key>(), Err(NotAnId), "{bad}");
        }
        assert_eq!(format!("{:?}", Key::Outing("Harrow Shaw".into())), "Outing(…)");
    }
}
