//! Reading bundles, and the copies that other people made for us.

use std::cell::RefCell;
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use serde::Serialize;

use super::merging::{Bearer, Bringing, Merged};
use super::peers::Author;
use super::record::Kept;
use super::{Notebook, PhotoRecord, kind};
use crate::change::DELETED;
use crate::error::Error;
use crate::exchange::{Audience, Bundle, FORMAT, Refused, Unread};
use crate::export::{Copied, Exactness};
use crate::id::RecordId;
use crate::log::SegmentId;
use crate::photo::PhotoError;
use crate::progress::Progress;
use crate::seal::{self, Passphrase, Plain};
use crate::store::Record;

/// What came of reading a bundle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Received {
    /// Whom it was for.
    pub audience: Audience,
    /// A paired device wrote it.
    pub paired: bool,
    /// What its owner calls that device.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// A later version wrote it: what this one cannot read is kept for one that can.
    pub later: bool,
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
    /// Devices and photos of which it leaves out what should be here and is not: only a whole bundle brings that.
    pub missing: u64,
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
    /// A sealed one is opened with the passphrase, if there is one, or else with this notebook's own key.
    ///
    /// # Errors
    /// [`Error::Bundle`] says why it is refused, [`Error::Seal`] why it cannot be opened; [`Error::NoRoom`], [`Error::Stopped`].
    /// Then everything is as it was.
    pub fn read_bundle(
        &self,
        from: &Path,
        passphrase: Option<&Passphrase>,
        keep: bool,
        progress: &dyn Progress,
    ) -> Result<Received, Error> {
        let opened = self.open_bundle(from, passphrase, progress)?;
        Ok(self.take_bundle(opened, keep, progress)?.0)
    }

    /// Opens a bundle, proves all of it, and looks who signed it.
    pub(super) fn open_bundle(
        &self,
        from: &Path,
        passphrase: Option<&Passphrase>,
        progress: &dyn Progress,
    ) -> Result<Opened, Error> {
        let file = File::open(from).map_err(Refused::Reading)?;
        let plain = seal::plain(file, passphrase, || self.identity())?;
        let bundle = Bundle::open(BufReader::with_capacity(1 << 16, plain), progress)?;
        // Anybody's signature but that of those whom we trust is as none.
        let signature = bundle.signature();
        let author = signature.map(|one| self.author_of(bundle.signed(), one)).transpose()?.flatten();
        Ok(Opened { bundle, author })
    }

    /// Takes what a bundle brings. Answers also which segments the log has more.
    pub(super) fn take_bundle(
        &self,
        opened: Opened,
        keep: bool,
        progress: &dyn Progress,
    ) -> Result<(Received, Vec<SegmentId>), Error> {
        let Opened { bundle, author } = opened;
        let about = bundle.about().clone();
        let bearer = match (about.audience, &author) {
            (Audience::Someone, _) => Bearer::Copier,
            (Audience::Me, Some(_)) => Bearer::Paired,
            (Audience::Me, None) => Bearer::Anyone,
        };
        let photos = bundle.photos();
        let mut new_photos = 0;
        let holdings = bundle.holdings().cloned().unwrap_or_default();
        let missing = self.missing(&holdings.left_out, progress)?;
        let bundle = RefCell::new(bundle);
        let (merged, segments) = self.merge(
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
        if !keep {
            new_photos = photos.iter().filter(|(hash, _)| self.shelf.path(hash).is_none()).count() as u64;
        }
        let received = Received {
            audience: about.audience,
            paired: bearer == Bearer::Paired,
            from: author.as_ref().filter(|_| bearer == Bearer::Paired).and_then(Author::name),
            later: about.format > FORMAT,
            owner: about.owner,
            place: about.place,
            merged,
            photos: photos.len() as u64,
            new_photos,
            missing,
        };
        if let (true, Some(Author::Paired { id, .. }), false) = (keep, &author, holdings.holds.is_empty()) {
            self.remember_seen(*id, holdings.holds)?;
        }
        Ok((received, segments))
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

/// A bundle that has been proved, and who signed it.
pub(super) struct Opened {
    pub bundle: Bundle<BufReader<Box<dyn Plain>>>,
    pub author: Option<Author>,
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
