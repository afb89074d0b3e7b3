//! What leaves the notebook for somebody else: copies that hold an allow-list and nothing more, and the files they go in.
//!
//! [`copy`] makes a [`Copied`] find of a kept one, [`waypoint`] a [`Waypoint`] of a patch, under [`Terms`] that its owner
//! chose. Only these two types reach the writers, so that a writer cannot let out what a copy does not hold.
//! Everything here is pure: secrets come in from the notebook, bytes go out to whoever opened the file.

mod copy;
mod darwin_core;
mod geo;
mod gpx;
mod ids;
mod name;
mod picture;
mod place;
mod table;
#[cfg(test)]
mod tests;
mod told;
mod waypoint;

pub use copy::{Copied, Original, copy, sorted};
pub use darwin_core::{EXTENSION as DARWIN_CORE_MEDIA, OCCURRENCE as DARWIN_CORE_TERMS};
pub use ids::{Ids, SECRET_BYTES};
pub use name::Naming;
pub use picture::Picture;
pub use place::SharedPlace;
pub use told::{Told, told};
pub use waypoint::{Waypoint, waypoint};

use std::io::{self, Write};

use crate::disk::FailsOnce;
use crate::words::words;

words!(
    /// What kind of file to write.
    Format, "format", {
        /// A Darwin Core archive of finds, for recorders.
        DarwinCore = "darwin-core",
        /// Patches as waypoints, for satellite receivers and maps.
        Gpx = "gpx",
        /// Finds as features on a map.
        GeoJson = "geojson",
        /// Finds as a table.
        Csv = "csv",
    }
);

words!(
    /// How exactly a place is shared.
    Exactness, "exactness", {
        /// The 10 km square.
        TenKilometres = "10km",
        /// The 1 km square.
        OneKilometre = "1km",
        /// As exactly as it is known.
        Exact = "exact",
    }
);

impl Format {
    /// Whether it can hold photos.
    #[must_use]
    pub fn holds_photos(self) -> bool {
        self == Self::DarwinCore
    }

    /// The ending of a file's name.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            Self::DarwinCore => "zip",
            Self::Gpx => "gpx",
            Self::GeoJson => "geojson",
            Self::Csv => "csv",
        }
    }

    /// Its media type, as registered with IANA; GPX has none that is, but one that is in use.
    #[must_use]
    pub fn media_type(self) -> &'static str {
        match self {
            Self::DarwinCore => "application/zip",
            Self::Gpx => "application/gpx+xml",
            Self::GeoJson => "application/geo+json",
            Self::Csv => "text/csv",
        }
    }
}

/// What the owner chose to let out. The default is the least.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Terms {
    /// How exactly places are told.
    pub place: Exactness,
    /// Notes, the surroundings in the owner's words, and names of patches.
    pub notes: bool,
    /// The time of day.
    pub time: bool,
    /// The owner's name.
    pub name: Option<String>,
}

impl Default for Terms {
    fn default() -> Self {
        Self { place: Exactness::TenKilometres, notes: false, time: false, name: None }
    }
}

/// What goes into a file.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum Contents {
    /// Copies of finds.
    Finds(Vec<Copied>),
    /// Patches.
    Patches(Vec<Waypoint>),
}

impl Contents {
    /// How many records.
    #[must_use]
    pub fn len(&self) -> usize {
        match self {
            Self::Finds(finds) => finds.len(),
            Self::Patches(patches) => patches.len(),
        }
    }

    /// Nothing to say.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

/// Writes a file of a format; the same contents give the same bytes. `step` is called before each record.
///
/// # Errors
/// Whatever `out` or `step` says.
pub fn write(
    format: Format,
    contents: &Contents,
    out: &mut dyn Write,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut out = FailsOnce::new(out);
    let done = match (format, contents) {
        (Format::Gpx, Contents::Patches(patches)) => gpx::write(patches, &mut out, step),
        (Format::Gpx, Contents::Finds(_)) => gpx::write(&[], &mut out, step),
        (_, Contents::Patches(_)) => Err(io::Error::from(io::ErrorKind::InvalidInput)),
        (Format::DarwinCore, Contents::Finds(finds)) => {
            darwin_core::write(finds, &[], &mut out, &mut |_, _| Ok(()), step)
        }
        (Format::GeoJson, Contents::Finds(finds)) => geo::write(finds, &mut out, step),
        (Format::Csv, Contents::Finds(finds)) => table::write(finds, &mut out, step),
    };
    out.settle(done)
}

/// Writes a Darwin Core archive with photos; `fill` writes the picture of one of them, by its place in the list.
///
/// # Errors
/// Whatever `out`, `fill` or `step` says.
pub fn write_with_photos(
    finds: &[Copied],
    photos: &[Picture],
    out: &mut dyn Write,
    fill: &mut Fill<'_>,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut out = FailsOnce::new(out);
    let done = darwin_core::write(finds, photos, &mut out, fill, step);
    out.settle(done)
}

/// Writes the picture of a photo, by its place in a list.
pub type Fill<'a> = dyn FnMut(usize, &mut dyn Write) -> io::Result<()> + 'a;
