//! A meal of gathered fungi, and who ate it. Kept for the day on which a doctor asks; it never expires.
//!
//! [`sheet`] makes of meals, and of what their finds were taken for, the one page that is shown to a clinician.

mod sheet;
mod words;

pub use sheet::{
    Also, Asked, Begins, Danger, Eaten, Kind, MealSheet, Part, Person as PersonShown, Sheet, sheet,
};
pub use words::Passage;

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::find::{FieldError, LONGEST_TEXT};
use crate::id::{FindId, PersonId};
use crate::moment::Moment;
use crate::words::words;

words!(
    /// How it was prepared.
    Prepared, "preparation", {
        /// Not heated.
        Raw = "raw",
        /// Heated in part, or briefly.
        PartCooked = "part-cooked",
        /// Cooked through.
        Cooked = "cooked",
        /// Nobody knows.
        Unknown = "unknown",
    }
);

words!(
    /// Whether alcohol was drunk: with the meal, or in the days about it.
    Alcohol, "answer about alcohol", {
        /// With the meal.
        WithIt = "with-it",
        /// In the five days before or after.
        Near = "near",
        /// None.
        None = "none",
        /// Nobody knows.
        Unknown = "unknown",
    }
);

words!(
    /// How somebody who ate feels.
    Feels, "answer about how somebody feels", {
        /// Well so far.
        Well = "well",
        /// Ill.
        Ill = "ill",
        /// Not asked yet.
        Unknown = "unknown",
    }
);

/// Somebody who ate, known by a name or initials and nothing more.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// A name or initials.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// One person's part in a meal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Eater {
    /// Who.
    pub person: PersonId,
    /// A child.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub child: bool,
    /// How they feel, as last noted.
    pub feels: Feels,
    /// When the first sign came.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_sign: Option<Moment>,
    /// What signs, in the order in which they came.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signs: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// One meal. Every field may be missing: what was not noted is not made up.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Meal {
    /// When it was eaten.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// What was eaten, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// The finds that went into it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finds: Option<Vec<FindId>>,
    /// What it was taken for besides, where no find says so: names, or ids of a pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken_for: Option<Vec<String>>,
    /// How much, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub amount: Option<String>,
    /// Raw or cooked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prepared: Option<Prepared>,
    /// Alcohol.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alcohol: Option<Alcohol>,
    /// Who ate, the well included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eaters: Option<Vec<Eater>>,
    /// How many more ate who are not named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub others: Option<u32>,
    /// What is kept of it: raw, peelings, leftovers, and where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<String>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// The names of a meal's fields, as files and the terminal write them.
pub const FIELDS: [&str; 11] =
    ["at", "what", "finds", "taken_for", "amount", "prepared", "alcohol", "eaters", "others", "left", "note"];

impl Person {
    /// Checks that the name is one.
    ///
    /// # Errors
    /// [`FieldError`].
    pub fn validate(&self) -> Result<(), FieldError> {
        let is_name = |name: &String| !name.trim().is_empty() && name.len() <= 200;
        if self.name.as_ref().is_some_and(is_name) {
            return Ok(());
        }
        Err(FieldError { field: "person", why: "give a name or initials of at most 200 bytes".into() })
    }
}

impl Meal {
    /// Checks that it says something, and nobody ate twice.
    ///
    /// # Errors
    /// [`FieldError`] that names the field.
    pub fn validate(&self) -> Result<(), FieldError> {
        let wrong = |field, why: &str| Err(FieldError { field, why: why.to_owned() });
        let says = |text: &Option<String>| text.as_ref().is_some_and(|text| !text.trim().is_empty());
        let has_names =
            self.taken_for.as_ref().is_some_and(|names| names.iter().any(|name| !name.trim().is_empty()));
        if !says(&self.what) && self.finds.as_ref().is_none_or(Vec::is_empty) && !has_names {
            return wrong("what", "say what was eaten: in words, by its finds, or by what it was taken for");
        }
        let texts =
            [("what", &self.what), ("amount", &self.amount), ("left", &self.left), ("note", &self.note)];
        for (field, text) in texts {
            if text.as_ref().is_some_and(|text| text.len() > LONGEST_TEXT) {
                return wrong(field, "too long: keep it under 20000 bytes");
            }
        }
        let eaters = self.eaters.as_deref().unwrap_or_default();
        for (at, eater) in eaters.iter().enumerate() {
            if eaters.iter().take(at).any(|before| before.person == eater.person) {
                return wrong("eaters", "somebody is named twice: name each once, with all that is known");
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
