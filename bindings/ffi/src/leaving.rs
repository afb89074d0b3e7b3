//! *What leaves*: everything of it, as its owner sees it beforehand.

use std::sync::{Arc, Weak};

use trug::export::{Contents, Copied, SharedPlace, Told, Waypoint, told};
use trug::notebook::{self, Grave, Leaves, Leaving, Notebook};
use trug::photo::PhotoHash;
use trug::place::{Reference, Side, around};

use crate::TrugError;

/// What leaves, or has been written.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LeavingShown {
    /// What it is made of: copies, patches, or changes where it is everything for one's own devices.
    pub made_of: String,
    /// How many of those.
    pub count: u64,
    /// How many photos go along: as pictures alone, unless it is for one's own devices.
    pub photos: u64,
    /// Photos that cannot go along.
    pub left_out: Vec<LeftOut>,
    /// The squares that places are told as, by name.
    pub squares: Vec<SquareShown>,
    /// How many places are told exactly.
    pub exact: u64,
    /// How many copies have no place.
    pub nowhere: u64,
    /// What its owner is to agree to before it leaves: everything, exact-places, patch-names, own-name.
    pub agree_to: Vec<String>,
    /// What to call the file.
    pub file_name: String,
    /// Its media type.
    pub media_type: String,
    /// Stands for what is shown: [`Book::start_share`](crate::Book::start_share) writes that or nothing.
    pub mark: String,
}

/// Why photos stay.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LeftOut {
    /// The code of the reason: it has a sentence among the errors.
    pub code: String,
    /// How many.
    pub count: u64,
}

/// A square of the map.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SquareShown {
    /// Its name.
    pub name: String,
    /// How long its side is, in kilometres.
    pub side_km: u32,
    /// Its name and those of the eight around it, row by row from the north-west; none where the grid has none.
    pub around: Vec<Option<String>>,
    /// How many copies lie in it.
    pub count: u64,
}

/// A copy of a find, or a patch, as it leaves.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CopyLeaving {
    /// What it is called; none for a patch whose name stays.
    pub name: Option<String>,
    /// The day, like 2026-10-18; none for a patch.
    pub day: Option<String>,
    /// The square that its place is told as; none for one without a place, or an exact one.
    pub square: Option<SquareShown>,
    /// Whether its place is told exactly.
    pub is_exact: bool,
    /// Every field that is written, in its order.
    pub fields: Vec<FieldLeaving>,
    /// The photos that go along.
    pub photos: Vec<PhotoLeaving>,
}

/// A field that is written.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct FieldLeaving {
    /// Its name: `place.square` is the square within the place.
    pub field: String,
    /// What it says, as it is written.
    pub value: String,
}

/// A photo that goes along, as a picture alone.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct PhotoLeaving {
    /// What it shows.
    pub role: Option<String>,
    /// The small picture of the owner's photo.
    pub thumbnail: Option<String>,
}

/// The copies that leave, to be looked at one page after the other: there may be thousands.
#[derive(uniffi::Object)]
pub struct CopiesLeaving {
    leaves: Leaves,
    /// Whoever looks at copies keeps no notebook open.
    notebook: Weak<Notebook>,
}

impl std::fmt::Debug for CopiesLeaving {
    /// Says nothing of what it holds.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CopiesLeaving").finish_non_exhaustive()
    }
}

impl PartialEq for CopiesLeaving {
    fn eq(&self, other: &Self) -> bool {
        self.leaves == other.leaves
    }
}

impl Eq for CopiesLeaving {}

#[uniffi::export]
impl CopiesLeaving {
    /// So many of them from one on, counted from 0, in the order in which they are written.
    ///
    /// # Errors
    /// None in practice.
    pub fn page(&self, from: u32, count: u32) -> Result<Vec<CopyLeaving>, TrugError> {
        let (from, count) = (from as usize, count as usize);
        match &self.leaves.contents {
            Contents::Finds(copies) => {
                copies.iter().skip(from).take(count).map(|copy| self.find(copy)).collect()
            }
            Contents::Patches(points) => points.iter().skip(from).take(count).map(patch).collect(),
        }
    }
}

impl CopiesLeaving {
    fn find(&self, copy: &Copied) -> Result<CopyLeaving, TrugError> {
        let english = copy.name.english.clone().unwrap_or_else(|| copy.name.scientific.clone());
        let name = match &copy.name.qualifier {
            Some(qualifier) if copy.name.english.is_none() => format!("{english} ({qualifier})"),
            Some(qualifier) => format!("{qualifier} {english}"),
            None => english,
        };
        let of_it = self.leaves.album.made_of().filter(|(picture, _)| picture.of == copy.id);
        let photos = of_it.map(|(picture, hash)| PhotoLeaving {
            role: picture.role.map(|role| role.name().to_owned()),
            thumbnail: self.thumbnail(hash),
        });
        let photos = photos.collect();
        copied(
            Some(name),
            copy.day.map(|day| day.to_string()),
            copy.place.as_ref(),
            fields(told(copy)),
            photos,
        )
    }

    fn thumbnail(&self, photo: &PhotoHash) -> Option<String> {
        let notebook = self.notebook.upgrade()?;
        let small = notebook.shelf().thumbnail(photo).ok().flatten()?;
        Some(small.to_string_lossy().into_owned())
    }
}

fn patch(point: &Waypoint) -> Result<CopyLeaving, TrugError> {
    copied(point.name.clone(), None, Some(&point.place), fields(told(point)), Vec::new())
}

fn copied(
    name: Option<String>,
    day: Option<String>,
    place: Option<&SharedPlace>,
    fields: Vec<FieldLeaving>,
    photos: Vec<PhotoLeaving>,
) -> Result<CopyLeaving, TrugError> {
    let square = place.and_then(|place| place.square.as_deref()).map(|name| square(name, 1)).transpose()?;
    let is_exact = place.is_some() && square.is_none();
    Ok(CopyLeaving { name, day, square, is_exact, fields, photos })
}

fn fields(told: Vec<Told>) -> Vec<FieldLeaving> {
    told.into_iter().map(|one| FieldLeaving { field: one.field, value: one.value }).collect()
}

fn square(name: &str, count: u64) -> Result<SquareShown, TrugError> {
    let side = name.parse::<Reference>()?.side().map_or(0, Side::metres) / 1000;
    Ok(SquareShown { name: name.to_owned(), side_km: side, around: around(name)?.to_vec(), count })
}

impl LeavingShown {
    fn of(leaves: &Leaves, leaving: &Leaving, sealed: bool) -> Result<Self, TrugError> {
        let spread = leaves.spread();
        let (made_of, count) = match &leaves.contents {
            _ if leaves.for_me => ("changes", leaves.changes),
            Contents::Finds(copies) => ("copies", copies.len() as u64),
            Contents::Patches(points) => ("patches", points.len() as u64),
        };
        let left_out = leaves.left_out.iter();
        let squares = spread.squares.iter().map(|(name, count)| square(name, *count));
        Ok(Self {
            made_of: made_of.to_owned(),
            count,
            photos: leaves.photos,
            left_out: left_out
                .map(|(code, count)| LeftOut { code: (*code).to_owned(), count: *count })
                .collect(),
            squares: squares.collect::<Result<_, _>>()?,
            exact: spread.exact,
            nowhere: spread.nowhere,
            agree_to: leaves.grave().into_iter().map(|grave| word(grave).to_owned()).collect(),
            file_name: leaving.file_name(leaves.date, sealed),
            media_type: leaving.media_type(sealed).to_owned(),
            mark: leaves.mark.clone(),
        })
    }
}

fn word(grave: Grave) -> &'static str {
    match grave {
        Grave::Everything => "everything",
        Grave::ExactPlaces => "exact-places",
        Grave::PatchNames => "patch-names",
        Grave::OwnName => "own-name",
    }
}

/// A job over what leaves, and what is needed to tell of its end.
pub(crate) struct Outgoing {
    pub job: notebook::Job<Leaves>,
    pub leaving: Leaving,
    pub sealed: bool,
    pub notebook: Weak<Notebook>,
}

impl Outgoing {
    /// Waits for the end.
    pub fn end(self) -> Result<(LeavingShown, Arc<CopiesLeaving>), TrugError> {
        let leaves = self.job.wait()?;
        let shown = LeavingShown::of(&leaves, &self.leaving, self.sealed)?;
        Ok((shown, Arc::new(CopiesLeaving { leaves, notebook: self.notebook })))
    }
}
