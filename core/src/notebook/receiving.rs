//! Reading bundles, and the copies that other people made for us.

use std::cell::RefCell;
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use serde::Serialize;

use super::merging::{Bearer, Bringing, Merged};
use super::record::Kept;
use super::{Notebook, PhotoRecord, kind};
use crate::change::DELETED;
use crate::error::Error;
use crate::exchange::{Audience, Bundle, FORMAT, Refused, Unread};
use crate::export::{Copied, Exactness};
use crate::id::RecordId;
use crate::photo::PhotoError;
use crate::progress::Progress;
use crate::store::Record;

/// What came of reading a bundle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Received {
    /// Whom it was for.
    pub audience: Audience,
    /// A paired device wrote it.
    pub paired: bool,
    /// Whose records they are, if they said so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub owner: Option<String>,
    /// How exactly places are told, in copies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Exactness>,
    /// What it held.
    #[serde(flatten)]
    pub merged: Merged,
    /// Photos in it.
    pub photos: u64,
    /// Those that were new here.
    pub new_photos: u64,
}

/// A copy of somebody else's find.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CopyRecord {
    /// What it says.
    #[serde(flatten)]
    pub copied: Kept<Copied>,
    /// Its photos.
    pub photos: Vec<PhotoRecord>,
}

impl Notebook {
    /// Reads a bundle: all of it, or nothing. Reading it again changes nothing. With `keep` false it is only looked at.
    ///
    /// # Errors
    /// [`Error::Bundle`] says why it is refused; [`Error::NoRoom`], [`Error::Stopped`]. Then everything is as it was.
    pub fn read_bundle(&self, from: &Path, keep: bool, progress: &dyn Progress) -> Result<Received, Error> {
        let file = File::open(from).map_err(Refused::Reading)?;
        let bundle = Bundle::open(BufReader::with_capacity(1 << 16, file), progress)?;
        let about = bundle.about().clone();
        let bearer = match about.audience {
            Audience::Someone => Bearer::Copier,
            Audience::Me => Bearer::Anyone,
        };
        let photos = bundle.photos();
        let mut new_photos = 0;
        let bundle = RefCell::new(bundle);
        let merged = self.merge(
            Bringing { bearer, is_ours: about.format <= FORMAT, keep },
            |take| bundle.borrow_mut().lines(take).map(|_| ()),
            || {
                for (hash, format) in &photos {
                    progress.step("keeping photos")?;
                    let mut bundle = bundle.borrow_mut();
                    let there = self
                        .shelf
                        .receive::<Error>(hash, *format, |take| bundle.photo((*hash, *format), take))?;
                    new_photos += u64::from(!there);
                }
                Ok(())
            },
            progress,
        )?;
        Ok(Received {
            audience: about.audience,
            paired: bearer == Bearer::Paired,
            owner: about.owner,
            place: about.place,
            merged,
            photos: photos.len() as u64,
            new_photos,
        })
    }

    /// The copies of other people's finds, by day.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn received_copies(&self) -> Result<Vec<CopyRecord>, Error> {
        let mut all: Vec<CopyRecord> = self.read(|view| {
            let records = view.all(kind::COPY)?;
            let whole =
                records.iter().map(|record| Ok(whole(record, &view.children(kind::PHOTO, record.id)?)));
            whole.collect()
        })?;
        all.sort_by_key(|one| (one.copied.value.day, one.copied.value.id));
        Ok(all)
    }

    /// Marks a copy as deleted.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn delete_copy(&self, id: RecordId) -> Result<(), Error> {
        self.decide_and_keep(|desk| {
            desk.record(kind::COPY, id, "copy")?;
            Ok((vec![super::act::Edit::field(kind::COPY, id, DELETED, true)], ()))
        })
    }
}

fn whole(record: &Record, photos: &[Record]) -> CopyRecord {
    let mut copied: Kept<Copied> = Kept::from(record);
    copied.value.id = record.id.0;
    CopyRecord { copied, photos: photos.iter().map(PhotoRecord::from).collect() }
}

impl From<Unread> for Error {
    fn from(unread: Unread) -> Self {
        match unread {
            Unread::Refused(refused) => refused.into(),
            Unread::Stopped(stopped) => stopped.into(),
        }
    }
}

impl From<PhotoError> for Error {
    fn from(error: PhotoError) -> Self {
        Self::from_shelf(error)
    }
}
