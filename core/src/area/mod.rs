//! An area that its owner drew: closed ground, or ground with a code of its own.
//!
//! [`Outline::whereto`] says how a place lies to one, its accuracy considered; [`outlines`] reads them from `GeoJSON`.

mod geojson;
mod laid;
mod outline;

pub use geojson::{AreaError, Drawn, outlines};
pub(crate) use geojson::{Corners, drawn, features};
pub use laid::Laid;
pub use outline::{Lies, Outline, Ring, VAGUE_METRES};

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::find::{FieldError, LONGEST_TEXT};

/// One area.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Area {
    /// What its owner calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outline: Option<Outline>,
    /// Nothing is gathered there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub closed: Option<bool>,
    /// Id of the code that holds there besides.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<String>,
    /// Anything else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

impl Area {
    /// The same area for each outline of a file. Several are told apart by the names that they bear there, or by number.
    #[must_use]
    pub fn each(&self, drawn: Vec<Drawn>) -> Vec<Self> {
        let own = self.name.clone().unwrap_or_default();
        let many = drawn.len() > 1;
        let named = (1..).zip(drawn).map(|(number, one)| {
            let within = one.name.filter(|name| *name != own).unwrap_or_else(|| format!("{number}"));
            let name = if many { format!("{own}, {within}") } else { own.clone() };
            Self { name: Some(name), outline: Some(one.outline), ..self.clone() }
        });
        named.collect()
    }

    /// Checks that it says where it is and what holds there.
    ///
    /// # Errors
    /// [`FieldError`] that names the field.
    pub fn validate(&self) -> Result<(), FieldError> {
        let wrong = |field, why: &str| Err(FieldError { field, why: why.to_owned() });
        let is_long = |text: &Option<String>| text.as_ref().is_some_and(|text| text.len() > LONGEST_TEXT);
        if self.name.as_ref().is_none_or(|name| name.trim().is_empty()) {
            return wrong("name", "give it a name, to know it by");
        }
        if is_long(&self.name) || is_long(&self.note) {
            return wrong("note", "too long: keep it under 20000 bytes");
        }
        if self.closed != Some(true) && self.code.is_none() {
            return wrong("closed", "say what holds there: that it is closed, or a code");
        }
        match &self.outline {
            Some(outline) => outline.validate(),
            None => wrong("outline", "say where it is: a circle, or an outline from GeoJSON"),
        }
    }
}

#[cfg(test)]
mod tests;
