//! Areas: closed ground, and ground with a code of its own. They come from files that other programs draw.

use std::fs::File;
use std::io::Read;

use trug::area::{Area, AreaError, outlines};
use trug::code;
use trug::notebook::AreaRecord;

use crate::{Book, TrugError};

/// The longest file that is looked at, in bytes; one more is read to know that it is longer.
const LONGEST: u64 = 32 << 20;

/// An area as its owner knows it. It says nothing of where it is.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct AreaShown {
    /// Its id.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// Whether nothing is gathered there.
    pub closed: bool,
    /// The short title of the code that holds there besides; its id where this version does not have it.
    pub code: Option<String>,
    /// Its shape, in words; none where only a newer version can read it.
    pub shape: Option<String>,
    /// A remark.
    pub note: Option<String>,
}

/// What a file holds that may become areas.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct OutlinesSeen {
    /// How many outlines there are.
    pub count: u32,
    /// The shape of each, in words.
    pub shapes: Vec<String>,
    /// A name for the area: the first that the file gives.
    pub name: Option<String>,
}

/// What is to be kept of a file's outlines.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct AreaAsked {
    /// What to call the area; several outlines are told apart by their own names.
    pub name: String,
    /// Whether nothing is gathered there.
    pub closed: bool,
    /// Id of the code that holds there besides.
    pub code: Option<String>,
    /// A remark.
    pub note: Option<String>,
}

impl From<AreaRecord> for AreaShown {
    fn from(record: AreaRecord) -> Self {
        let name = record.name();
        let area = record.area.value;
        let title = |id: &String| {
            let known = code::shipped().ok().and_then(|codes| code::by_id(codes, id).ok());
            known.map_or_else(|| id.clone(), |code| code.about.short.clone())
        };
        Self {
            id: record.id.to_string(),
            name,
            closed: area.closed == Some(true),
            code: area.code.as_ref().map(title),
            shape: area.outline.as_ref().map(trug::area::Outline::in_words),
            note: area.note,
        }
    }
}

/// The text of a file; what is too long is refused before it fills the memory.
fn text(path: &str) -> Result<String, TrugError> {
    let refused = || TrugError::from(AreaError::NotJson { line: 0, column: 0 });
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|_| refused())?;
    file.take(LONGEST + 1).read_to_end(&mut bytes).map_err(|_| refused())?;
    String::from_utf8(bytes).map_err(|_| refused())
}

fn drawn(path: &str) -> Result<Vec<trug::area::Drawn>, TrugError> {
    Ok(outlines(&text(path)?)?)
}

/// What a `GeoJSON` file holds (RFC 7946). Nothing is kept.
///
/// # Errors
/// A code that begins with `geojson-`.
#[uniffi::export]
pub fn outlines_in(path: String) -> Result<OutlinesSeen, TrugError> {
    let drawn = drawn(&path)?;
    Ok(OutlinesSeen {
        count: u32::try_from(drawn.len()).unwrap_or(u32::MAX),
        shapes: drawn.iter().map(|one| one.outline.in_words()).collect(),
        name: drawn.into_iter().find_map(|one| one.name),
    })
}

#[uniffi::export]
impl Book {
    /// The areas, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn areas(&self) -> Result<Vec<AreaShown>, TrugError> {
        Ok(self.notebook.areas()?.into_iter().map(AreaShown::from).collect())
    }

    /// Keeps every outline of a file as an area, or none. Advice for finds in it, or too near to be sure, goes by it from then on.
    ///
    /// # Errors
    /// A code that begins with `geojson-`; `field` where it has no name, or neither is closed nor has a code.
    pub fn add_areas(&self, path: String, asked: AreaAsked) -> Result<Vec<AreaShown>, TrugError> {
        let area = Area {
            name: Some(asked.name.trim().to_owned()),
            closed: asked.closed.then_some(true),
            code: asked.code,
            note: asked.note.map(|note| note.trim().to_owned()).filter(|note| !note.is_empty()),
            ..Area::default()
        };
        self.notebook.add_areas(&area.each(drawn(&path)?))?;
        self.areas()
    }

    /// Takes an area away.
    ///
    /// # Errors
    /// `not-found`.
    pub fn remove_area(&self, id: String) -> Result<Vec<AreaShown>, TrugError> {
        self.notebook.remove_area(&id)?;
        self.areas()
    }
}
