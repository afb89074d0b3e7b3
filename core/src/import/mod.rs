//! Reading what other programs marked, and putting photos together that were taken of one find.
//!
//! [`gpx`] and [`geojson`] read files whole or refuse them, with a bound on what a hostile one can cost; [`together`] groups photos. Pure:
//! bytes come in, plain data goes out, and the notebook decides what of it is new.

mod error;
mod geojson;
mod gpx;
mod group;
mod id;
mod lines;
#[cfg(test)]
mod tests;

pub use error::ImportError;
pub use geojson::{Drawing, geojson};
pub use gpx::gpx;
pub use group::{ONE_FIND_METRES, ONE_FIND_MINUTES, Shot, together};
pub use id::id_of;

use serde::Serialize;

use crate::patch::Patch;
use crate::place::Position;

/// The longest file that is read, in bytes.
pub const LONGEST: u64 = 32 << 20;
/// The most marks that one file may hold: nobody goes back to so many.
pub const MOST_MARKS: usize = 10_000;
/// The longest name of a mark, in bytes, and the longest text about it: what a patch holds.
const LONGEST_NAME: usize = 200;
const LONGEST_NOTE: usize = crate::find::LONGEST_TEXT;

/// A place that somebody marked and may have named.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mark {
    /// Its name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where it is.
    pub centre: Position,
    /// What is said of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl From<&Mark> for Patch {
    fn from(mark: &Mark) -> Self {
        Self {
            name: mark.name.clone(),
            centre: Some(mark.centre),
            note: mark.note.clone(),
            ..Self::default()
        }
    }
}

/// A mark of checked parts; the error says which part is wrong and what to do.
fn mark(
    name: Option<&str>,
    (latitude, longitude): (f64, f64),
    notes: &[Option<&str>],
) -> Result<Mark, (&'static str, &'static str)> {
    let said = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let centre = Position::new(latitude, longitude)
        .map_err(|_| ("place", "it is off the earth: give degrees of latitude and longitude"))?;
    let name = name.and_then(said);
    if name.as_ref().is_some_and(|name| name.len() > LONGEST_NAME) {
        return Err(("name", "longer than 200 bytes: shorten it"));
    }
    let mut told: Vec<String> = Vec::new();
    for note in notes.iter().copied().flatten().filter_map(said) {
        // Many programs write the same twice.
        if !told.contains(&note) {
            told.push(note);
        }
    }
    let note = Some(told.join("\n")).filter(|note| !note.is_empty());
    if note.as_ref().is_some_and(|note| note.len() > LONGEST_NOTE) {
        return Err(("description", "longer than 20000 bytes: shorten it"));
    }
    Ok(Mark { name, centre, note })
}
