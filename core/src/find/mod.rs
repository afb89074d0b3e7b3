//! A find: what stood there, where and when, how much was taken. Plain data; it exists from its first photo or tap.

mod amount;
mod determination;
mod photo;
mod typed;
mod words;

pub use amount::{AmountError, Count, Width};
pub use determination::Determination;
pub use photo::Photo;
pub use words::{Got, Ground, Growth, Hazard, How, Measured, Substrate, Sure};

pub use crate::stage::Stage;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::id::{OutingId, PatchId};
use crate::moment::Moment;
use crate::place::Position;
use crate::units::Grams;

/// A position and how it was got.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Whereabouts {
    /// Where, with its accuracy if known.
    #[serde(flatten)]
    pub position: Position,
    /// How it was got.
    pub got: Got,
}

/// The tree it grows on or by, and how sure that is: trees are misnamed more often than fungi.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Host {
    /// The tree, as named.
    pub tree: String,
    /// How sure.
    #[serde(default = "likely")]
    pub sure: Sure,
}

fn likely() -> Sure {
    Sure::Likely
}

/// One find. Every field may be missing: what was not noted is not made up.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub struct Find {
    /// The outing it was made on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outing: Option<OutingId>,
    /// The patch it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub patch: Option<PatchId>,
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// Where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub position: Option<Whereabouts>,
    /// What it grows on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<Substrate>,
    /// The tree.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub host: Option<Host>,
    /// The ground.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ground: Option<Ground>,
    /// The surroundings, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub habitat: Option<String>,
    /// What makes the ground unfit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hazards: Option<Vec<Hazard>>,
    /// How the fruitbodies stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth: Option<Growth>,
    /// How many were there on arrival.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seen: Option<Count>,
    /// How many of each stage, where they were mixed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stages: Option<BTreeMap<Stage, u32>>,
    /// Cap widths, in millimetres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<Width>,
    /// How high they are, in millimetres, where that is what people measure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Width>,
    /// How the widths were come by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<Measured>,
    /// Signs of condition, by id.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub signs: Option<Vec<String>>,
    /// How many were taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken: Option<u32>,
    /// What those weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grams: Option<Grams>,
    /// How many were taken for study, apart from food.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub specimens: Option<u32>,
    /// Who gathered; absent for the notebook's owner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// The names of a find's fields, as files and the terminal write them.
pub const FIELDS: [&str; 21] = [
    "outing",
    "patch",
    "at",
    "position",
    "on",
    "host",
    "ground",
    "habitat",
    "hazards",
    "growth",
    "seen",
    "stages",
    "width",
    "height",
    "measured",
    "signs",
    "taken",
    "grams",
    "specimens",
    "by",
    "note",
];

/// The longest free text a field admits, in bytes: a page, not a book.
pub const LONGEST_TEXT: usize = 20_000;

/// Why a find cannot be kept as given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {why}")]
pub struct FieldError {
    /// The field.
    pub field: &'static str,
    /// What is wrong and what to do.
    pub why: String,
}

impl Find {
    /// Checks what no single field can: that the numbers agree with each other.
    ///
    /// # Errors
    /// [`FieldError`] names the field.
    pub fn validate(&self) -> Result<(), FieldError> {
        let wrong = |field, why: &str| Err(FieldError { field, why: why.to_owned() });
        if let Some(seen) = self.seen {
            let away = u64::from(self.taken.unwrap_or(0)) + u64::from(self.specimens.unwrap_or(0));
            if away > u64::from(seen.most()) {
                return wrong("taken", "more were taken than seen on arrival: correct one of the two");
            }
            let by_stage: u64 = self.stages.iter().flat_map(BTreeMap::values).map(|n| u64::from(*n)).sum();
            if by_stage > u64::from(seen.most()) {
                return wrong("stages", "the stages add up to more than were seen: correct one of the two");
            }
        }
        let texts = [("note", &self.note), ("habitat", &self.habitat)];
        for (field, text) in texts {
            if text.as_ref().is_some_and(|text| text.len() > LONGEST_TEXT) {
                return wrong(field, "too long: keep it under 20000 bytes");
            }
        }
        if self.by.as_ref().is_some_and(|who| who.trim().is_empty() || who.len() > 200) {
            return wrong("by", "give a name or initials of at most 200 bytes");
        }
        if self.host.as_ref().is_some_and(|host| host.tree.trim().is_empty() || host.tree.len() > 200) {
            return wrong("host", "give the tree's name in at most 200 bytes");
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_that_cannot_be_are_refused_by_field() {
        let find =
            Find { seen: Count::exactly(3).ok(), taken: Some(3), specimens: Some(1), ..Find::default() };
        assert_eq!(find.validate().unwrap_err().field, "taken");
        let find = Find {
            seen: Count::exactly(3).ok(),
            stages: Some([(Stage::Button, 2), (Stage::Prime, 2)].into()),
            ..Find::default()
        };
        assert_eq!(find.validate().unwrap_err().field, "stages");
    }

    #[test]
    fn fields_of_a_later_version_are_kept() {
        let text = r#"{"seen":3,"smell_of_rain":"yes"}"#;
        let find: Find = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::to_string(&find).unwrap(), text);
    }
}
