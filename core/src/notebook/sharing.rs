//! What leaves, whatever its form: shown beforehand, and written only if it still is what was shown.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;

use super::bundles::Parcel;
use super::exporting::write_copies;
use super::marking::mark;
use super::{Album, Job, Notebook, Order, Sending, Sent};
use crate::error::Error;
use crate::export::{Contents, SharedPlace};
use crate::pack::Pack;
use crate::progress::Progress;
use crate::seal::{Passphrase, Recipient, To};

/// What is to leave, and in which form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Leaving {
    /// A bundle, for another Trug.
    Bundle(Sending),
    /// A file for other programs.
    Export(Order),
}

/// Who alone may open a bundle.
#[derive(Debug, Clone)]
pub enum Seal {
    /// Whoever knows the passphrase.
    Passphrase(Passphrase),
    /// The owners of these keys; each alone.
    Keys(Vec<Recipient>),
}

/// What leaves, exactly as it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaves {
    /// The copies, or the patches; none in what is for the owner's own devices.
    pub contents: Contents,
    /// The photos that go along with copies, and those that stay, with the reason.
    pub album: Album,
    /// Changes: in what is for the owner's own devices.
    pub changes: u64,
    /// How many photos go along.
    pub photos: u64,
    /// How many photos cannot, by the code of the reason.
    pub left_out: BTreeMap<&'static str, u64>,
    /// The newest day that it tells of.
    pub date: Option<Date>,
    /// Whether it is everything, for the owner's own devices.
    pub for_me: bool,
    /// Stands for all of it, its ids aside, which may be new every time.
    pub mark: String,
}

/// What is said plainly, and agreed to, before it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grave {
    /// Everything, the owner's notes and exact places among it.
    Everything,
    /// Exact places.
    ExactPlaces,
    /// Names of patches, which tell places.
    PatchNames,
    /// The owner's name.
    OwnName,
}

/// Where copies lie.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Spread {
    /// How many lie in each square, by its name.
    pub squares: BTreeMap<String, u64>,
    /// How many are told exactly.
    pub exact: u64,
    /// How many have no place.
    pub nowhere: u64,
}

impl Leaves {
    fn of_bundle(sent: Sent) -> Result<Self, Error> {
        let mut left_out = counted(&sent.album);
        let told: u64 = left_out.values().sum();
        if sent.photos_left_out > told {
            // The owner's own devices are told no reasons: only damage keeps a photo back.
            *left_out.entry(crate::photo::StripError::Damaged.code()).or_default() +=
                sent.photos_left_out - told;
        }
        let for_me = sent.audience == crate::exchange::Audience::Me;
        let contents = Contents::Finds(sent.copies);
        let mark = if for_me { String::new() } else { mark("bundle", &contents, &sent.album)? };
        Ok(Self {
            contents,
            album: sent.album,
            changes: sent.changes,
            photos: sent.photos,
            left_out,
            date: sent.date,
            for_me,
            mark,
        })
    }

    fn of_export(order: &Order, contents: Contents, album: Album) -> Result<Self, Error> {
        let date = match &contents {
            Contents::Finds(copies) => copies.iter().filter_map(|copy| copy.day).max(),
            Contents::Patches(_) => None,
        };
        Ok(Self {
            mark: mark(order.format.word(), &contents, &album)?,
            changes: 0,
            photos: album.pictures.len() as u64,
            left_out: counted(&album),
            contents,
            album,
            date,
            for_me: false,
        })
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.contents.is_empty() && self.changes == 0
    }

    /// Where what leaves lies.
    #[must_use]
    pub fn spread(&self) -> Spread {
        let mut spread = Spread::default();
        let mut count = |place: Option<&SharedPlace>| match place.map(|place| &place.square) {
            Some(Some(square)) => *spread.squares.entry(square.clone()).or_default() += 1,
            Some(None) => spread.exact += 1,
            None => spread.nowhere += 1,
        };
        match &self.contents {
            Contents::Finds(copies) => copies.iter().for_each(|copy| count(copy.place.as_ref())),
            Contents::Patches(points) => points.iter().for_each(|point| count(Some(&point.place))),
        }
        spread
    }

    /// What is to be agreed to before it leaves.
    #[must_use]
    pub fn grave(&self) -> Vec<Grave> {
        let (own_name, patch_names) = match &self.contents {
            Contents::Finds(copies) => (copies.iter().any(|copy| copy.recorder.is_some()), false),
            Contents::Patches(points) => (
                points.iter().any(|point| point.recorder.is_some()),
                points.iter().any(|point| point.name.is_some()),
            ),
        };
        let all = [
            (self.for_me, Grave::Everything),
            (self.spread().exact > 0, Grave::ExactPlaces),
            (patch_names, Grave::PatchNames),
            (own_name, Grave::OwnName),
        ];
        all.into_iter().filter_map(|(is, grave)| is.then_some(grave)).collect()
    }
}

impl Leaving {
    /// What to call its file: by what it is and by the newest day in it, which it tells anyway.
    #[must_use]
    pub fn file_name(&self, date: Option<Date>, sealed: bool) -> String {
        let (what, ending) = match self {
            Self::Bundle(Sending::ForSomeone { .. }) => ("trug-copies", "zip"),
            Self::Bundle(_) => ("trug-all", "zip"),
            Self::Export(order) if order.format == crate::export::Format::Gpx => {
                ("patches", order.format.extension())
            }
            Self::Export(order) => ("finds", order.format.extension()),
        };
        let date = date.map(|date| format!("-{date}")).unwrap_or_default();
        let sealed = if sealed { ".age" } else { "" };
        format!("{what}{date}.{ending}{sealed}")
    }

    /// The media type of its file.
    #[must_use]
    pub fn media_type(&self, sealed: bool) -> &'static str {
        match self {
            _ if sealed => "application/octet-stream",
            Self::Bundle(_) => "application/zip",
            Self::Export(order) => order.format.media_type(),
        }
    }
}

impl Notebook {
    /// Exactly what would leave; nothing is written.
    ///
    /// # Errors
    /// As [`Notebook::preview_bundle`] and [`Notebook::copies`].
    pub fn preview(&self, pack: &Pack, leaving: &Leaving, progress: &dyn Progress) -> Result<Leaves, Error> {
        match leaving {
            Leaving::Bundle(sending) => Leaves::of_bundle(self.preview_bundle(pack, sending, progress)?),
            Leaving::Export(order) => {
                let (contents, album) = self.copies(pack, order, progress)?;
                Leaves::of_export(order, contents, album)
            }
        }
    }

    /// Writes what leaves to a new file, whole or not at all, and only if it still is what was shown: `shown` is the mark of
    /// that. An export is never sealed: other programs are to read it.
    ///
    /// # Errors
    /// [`Error::Changed`]; else as [`Notebook::write_bundle`] and [`Notebook::export`].
    pub fn share(
        &self,
        pack: &Pack,
        leaving: &Leaving,
        seal: Option<&Seal>,
        shown: &str,
        to: &Path,
        progress: &dyn Progress,
    ) -> Result<Leaves, Error> {
        if to.symlink_metadata().is_ok() {
            return Err(Error::InTheWay { what: "a file of that name" });
        }
        let still = |leaves: Leaves| if leaves.mark == shown { Ok(leaves) } else { Err(Error::Changed) };
        match leaving {
            Leaving::Bundle(sending) => {
                let (parcel, sent): (Parcel, Sent) = self.parcel(pack, sending, progress)?;
                let leaves = still(Leaves::of_bundle(sent)?)?;
                self.write_parcel(&parcel, seal.map(Seal::to), to, false, progress)?;
                Ok(leaves)
            }
            Leaving::Export(order) => {
                let (contents, album) = self.copies(pack, order, progress)?;
                let leaves = still(Leaves::of_export(order, contents, album)?)?;
                write_copies(order, &leaves.contents, &leaves.album, to, false, progress)?;
                Ok(leaves)
            }
        }
    }

    /// As [`Notebook::preview`], in the background.
    #[must_use]
    pub fn preview_in_background(self: &Arc<Self>, pack: &'static Pack, leaving: Leaving) -> Job<Leaves> {
        let notebook = Arc::clone(self);
        Job::start(move |progress| notebook.preview(pack, &leaving, progress))
    }

    /// As [`Notebook::share`], in the background.
    #[must_use]
    pub fn share_in_background(
        self: &Arc<Self>,
        pack: &'static Pack,
        leaving: Leaving,
        seal: Option<Seal>,
        shown: String,
        to: PathBuf,
    ) -> Job<Leaves> {
        let notebook = Arc::clone(self);
        Job::start(move |progress| notebook.share(pack, &leaving, seal.as_ref(), &shown, &to, progress))
    }
}

impl Seal {
    fn to(&self) -> To<'_> {
        match self {
            Self::Passphrase(passphrase) => To::Passphrase(passphrase),
            Self::Keys(keys) => To::Keys(keys),
        }
    }
}

fn counted(album: &Album) -> BTreeMap<&'static str, u64> {
    let mut counts = BTreeMap::new();
    for one in &album.left_out {
        *counts.entry(one.code).or_default() += 1;
    }
    counts
}
