//! Photos that go along with an export: which can, and what is written of them.

use std::fs::File;
use std::io::{self, BufReader, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;
use uuid::Uuid;

use super::record::Kept;
use super::{Notebook, Order, kind};
use crate::error::Error;
use crate::export::{Ids, Picture};
use crate::find::{FieldError, Photo};
use crate::id::{FindId, RecordId};
use crate::photo::{Condition, PhotoHash, StripError, strip};
use crate::progress::Progress;

/// The photos of an export.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Album {
    /// Those that go along, by the find that they show.
    #[serde(rename = "photos")]
    pub pictures: Vec<Picture>,
    /// Those that stay, with the reason.
    #[serde(rename = "photos_left_out")]
    pub left_out: Vec<LeftOut>,
    /// The originals, in the order of the pictures.
    #[serde(skip)]
    originals: Vec<Original>,
}

/// A photo of the owner's of which only the picture leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Original {
    hash: PhotoHash,
    file: PathBuf,
}

/// A photo that cannot be shared.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    /// The new id of the find that it shows.
    pub of: Uuid,
    /// A stable word for programs.
    pub code: &'static str,
    /// Why, in plain words.
    pub message: String,
}

impl Notebook {
    /// The photos that would go along with an export, each tried. None unless the order asks for them.
    pub(super) fn album_under(
        &self,
        order: &Order,
        ids: &Ids,
        progress: &dyn Progress,
    ) -> Result<Album, Error> {
        if !order.photos {
            return Ok(Album::default());
        }
        if !order.format.holds_photos() {
            let why = "only a Darwin Core archive holds photos: write darwin-core".to_owned();
            return Err(FieldError { field: "photos", why }.into());
        }
        self.album(order.finds.as_deref(), ids, progress)
    }

    /// The photos of these finds, or of all, as they would leave.
    pub(super) fn album(
        &self,
        finds: Option<&[FindId]>,
        ids: &Ids,
        progress: &dyn Progress,
    ) -> Result<Album, Error> {
        let mut found = Vec::new();
        let mut left_out = Vec::new();
        for find in self.chosen_ids(finds)? {
            let photos = self.read(|view| view.children(kind::PHOTO, find.into()))?;
            for record in &photos {
                progress.step("looking at photos")?;
                let of = ids.of(find);
                match self.shareable(record.id, &Kept::from(record).value, of, ids)? {
                    Ok(shared) => found.push(shared),
                    Err(why) => left_out.push(LeftOut { of, code: why.code(), message: why.to_string() }),
                }
            }
        }
        // By their new ids, which say nothing.
        found.sort_unstable_by_key(|(picture, _)| *picture);
        left_out.sort_unstable_by_key(|one| one.of);
        let (pictures, originals) = found.into_iter().unzip();
        Ok(Album { pictures, left_out, originals })
    }

    /// A photo as it would leave, if it can.
    fn shareable(
        &self,
        id: RecordId,
        photo: &Photo,
        of: Uuid,
        ids: &Ids,
    ) -> Result<Result<(Picture, Original), StripError>, Error> {
        let Some((hash, file)) = photo.sha256.and_then(|hash| Some((hash, self.shelf().path(&hash)?))) else {
            return Ok(Err(StripError::Damaged));
        };
        if !self.is_whole(&hash)? {
            return Ok(Err(StripError::Damaged));
        }
        let tried = open(&file).and_then(|mut source| strip(&mut source, &mut io::sink()));
        let original = Original { hash, file };
        let shared = |format| (Picture { of, id: ids.of(id), format, role: photo.role }, original);
        Ok(tried.map(|done| shared(done.format)))
    }

    fn is_whole(&self, hash: &PhotoHash) -> Result<bool, Error> {
        Ok(self.shelf().verify(hash).map_err(Error::from_shelf)? == Condition::Whole)
    }
}

impl Album {
    /// Its pictures, each with the photo that it is made of.
    pub fn made_of(&self) -> impl Iterator<Item = (&Picture, &PhotoHash)> {
        self.pictures.iter().zip(self.originals.iter().map(|original| &original.hash))
    }

    /// Writes the picture of a photo, and nothing else.
    pub(super) fn write(&self, at: usize, mut out: &mut dyn Write) -> io::Result<()> {
        let original = self.originals.get(at).ok_or(io::ErrorKind::NotFound)?;
        let done = open(&original.file).and_then(|mut source| strip(&mut source, &mut out));
        match done {
            Ok(_) => Ok(()),
            Err(StripError::WriteFailed(kind)) => Err(kind.into()),
            Err(other) => Err(io::Error::other(other)),
        }
    }
}

fn open(file: &Path) -> Result<BufReader<File>, StripError> {
    File::open(file).map(BufReader::new).map_err(|error| StripError::ReadFailed(error.kind()))
}
