//! Photos: taken in by path, tied to finds, adopted when no find owns them.

use std::fs::File;
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::act::Edit;
use super::finds::Warning;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::change::DELETED;
use crate::error::Error;
use crate::find::Photo;
use crate::id::{FindId, PhotoId};
use crate::moment::Moment;
use crate::photo::{self, PhotoError, PhotoHash, Role};
use crate::place::Position;
use crate::store::Record;

/// A photo to be taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewPhoto {
    /// The file; it is copied and never altered.
    pub path: PathBuf,
    /// What it shows.
    pub role: Role,
}

/// Which file shows what of a find.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct PhotoOfFind {
    /// Its hash.
    pub sha256: PhotoHash,
    /// What it shows.
    pub role: Role,
}

/// A photo of a find as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotoRecord {
    /// Its id.
    pub id: PhotoId,
    /// Its fields.
    #[serde(flatten)]
    pub photo: Kept<Photo>,
}

impl From<&Record> for PhotoRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), photo: Kept::from(record) }
    }
}

/// A photo that stands on the shelf and is about to be tied to a find.
pub(super) struct TakenIn {
    id: PhotoId,
    role: Role,
    file: photo::TakenIn,
}

impl TakenIn {
    pub fn position(&self) -> Option<Position> {
        self.file.facts.position
    }

    pub fn taken(&self) -> Option<Moment> {
        self.file.facts.taken
    }

    pub fn of_find(&self) -> PhotoOfFind {
        PhotoOfFind { sha256: self.file.hash, role: self.role }
    }

    pub fn edit(&self, find: FindId) -> Result<Edit, Error> {
        let facts = &self.file.facts;
        let photo = Photo {
            find: Some(find),
            sha256: Some(self.file.hash),
            role: Some(self.role),
            format: Some(self.file.format),
            bytes: Some(self.file.bytes),
            taken: facts.taken,
            position: self.position(),
            altitude_m: facts.altitude_m,
            direction: facts.direction,
            width: facts.width,
            height: facts.height,
            further: serde_json::Map::new(),
        };
        Ok(Edit::new(kind::PHOTO, self.id, fields(&photo)?))
    }
}

impl Notebook {
    /// Puts photos on the shelf, each durable when this returns, and says what is odd about them.
    pub(super) fn take_in(
        &self,
        photos: &[NewPhoto],
        warnings: &mut Vec<Warning>,
    ) -> Result<Vec<TakenIn>, Error> {
        let zone = self.clock.zone();
        let mut taken_in: Vec<TakenIn> = Vec::with_capacity(photos.len());
        for (number, new) in (1..).zip(photos) {
            let file =
                self.shelf.take_in(&new.path, &zone).map_err(|source| Error::from_photo(number, source))?;
            let said = file.warnings.iter();
            warnings
                .extend(said.map(|w| Warning { code: w.code(), message: format!("photo {number}: {w}") }));
            if file.already_there {
                self.say_whose(number, file.hash, warnings)?;
            }
            if taken_in.iter().any(|earlier| earlier.file.hash == file.hash) {
                let message = format!("photo {number}: given twice for this find");
                warnings.push(Warning { code: "photo-twice", message });
            }
            taken_in.push(TakenIn { id: PhotoId::new(), role: new.role, file });
        }
        Ok(taken_in)
    }

    fn say_whose(&self, number: usize, hash: PhotoHash, warnings: &mut Vec<Warning>) -> Result<(), Error> {
        let owners = self.read(|view| view.photos_of_file(&hash.to_string()))?.len();
        if owners > 0 {
            let finds = if owners == 1 { "another find" } else { "other finds" };
            let message = format!(
                "photo {number}: {finds} already has this photo; it is stored once and belongs to both"
            );
            warnings.push(Warning {
                code: "photo-shared",
                message: message.replace("finds already has", "finds already have"),
            });
        }
        Ok(())
    }

    /// Adds photos to a find that is there already.
    ///
    /// # Errors
    /// [`Error::NotFound`], [`Error::Photo`], [`Error::NoRoom`]; then none of them is tied to the find.
    pub fn add_photos(
        &self,
        find: FindId,
        photos: &[NewPhoto],
    ) -> Result<(Vec<PhotoOfFind>, Vec<Warning>), Error> {
        self.find(find)?;
        let mut warnings = Vec::new();
        let taken_in = self.take_in(photos, &mut warnings)?;
        let edits: Vec<Edit> = taken_in.iter().map(|one| one.edit(find)).collect::<Result<_, _>>()?;
        self.keep(&edits)?;
        Ok((taken_in.iter().map(TakenIn::of_find).collect(), warnings))
    }

    /// The find that has this photo already; none also where the file cannot be read. So a shell whose process died between
    /// handing a photo over and letting go of it does not hand it over twice.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn find_with_photo(&self, path: &Path) -> Result<Option<FindId>, Error> {
        let Ok(hash) = File::open(path).and_then(PhotoHash::of_reader) else { return Ok(None) };
        let owners = self.read(|view| view.photos_of_file(&hash.to_string()))?;
        Ok(owners.first().and_then(|record| Kept::<Photo>::from(record).value.find))
    }

    /// Takes a photo off a find. The file stays on the shelf, and undo brings it back.
    ///
    /// # Errors
    /// [`Error::NotFound`] if the find has no such photo.
    pub fn drop_photo(&self, find: FindId, photo: PhotoId) -> Result<(), Error> {
        self.decide_and_keep(|desk| {
            let record = desk.record(kind::PHOTO, photo.into(), "photo")?;
            if Kept::<Photo>::from(&record).value.find != Some(find) {
                return Err(Error::NotFound { what: "photo" });
            }
            Ok((vec![Edit::field(kind::PHOTO, photo, DELETED, true)], ()))
        })
    }

    /// Ties a photo that no find owns to one, by its hash.
    ///
    /// # Errors
    /// [`Error::NotFound`] if there is no such find, or no such file on the shelf.
    pub fn adopt_photo(&self, find: FindId, hash: PhotoHash, role: Role) -> Result<PhotoOfFind, Error> {
        let path = self.shelf.path(&hash).ok_or(Error::NotFound { what: "photo" })?;
        let (photos, _) = self.add_photos(find, &[NewPhoto { path, role }])?;
        photos.first().copied().ok_or(Error::NotFound { what: "photo" })
    }

    /// The photos on the shelf that no find owns: left by a find that was never finished.
    ///
    /// # Errors
    /// If the shelf or the view cannot be read.
    pub fn unowned_photos(&self) -> Result<Vec<PhotoHash>, Error> {
        let owned = self.read(crate::store::View::owned_files)?;
        let mut stored: Vec<PhotoHash> =
            self.shelf.list().map_err(Error::from_shelf)?.into_iter().map(|one| one.hash).collect();
        stored.retain(|hash| owned.binary_search(&hash.to_string()).is_err());
        Ok(stored)
    }
}

impl Error {
    pub(super) fn from_shelf(error: PhotoError) -> Self {
        if let PhotoError::NoRoom = error { Self::NoRoom } else { Self::Shelf(error) }
    }

    fn from_photo(number: usize, source: PhotoError) -> Self {
        if let PhotoError::NoRoom = source { Self::NoRoom } else { Self::Photo { number, source } }
    }
}
