//! Writing bundles: everything for the owner's other devices, or copies of what may leave for somebody else.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, BufWriter};
use std::path::Path;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;
use serde::Serialize;
use tempfile::TempDir;

use super::Notebook;
use super::copying::Chosen;
use super::exporting::vet_names;
use super::exporting_photos::Album;
use super::unseen::spanned;
use crate::change::Stamp;
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::exchange::{self, About, Audience, Contents, FORMAT, Held, Holdings, Photograph, Sign, Source};
use crate::export::{Copied, Exactness, Terms};
use crate::id::{DeviceId, FindId, PeerId};
use crate::pack::Pack;
use crate::photo::Condition;
use crate::progress::{Progress, Stopped};
use crate::seal::To;
use crate::store::{StoreError, View};

/// What is to be sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sending {
    /// Everything, for the owner's other devices.
    ForMe,
    /// What a paired device has not told that it holds; everything, if it has told nothing yet.
    Unseen(PeerId),
    /// Copies of finds.
    ForSomeone {
        /// Which; `None` for all.
        finds: Option<Vec<FindId>>,
        /// What may leave.
        terms: Terms,
        /// For whom: their copies keep their ids from one bundle to the next. Without, all ids are new every time.
        recipient: Option<String>,
        /// Whether the photos go along, stripped of everything but the picture.
        photos: bool,
    },
}

/// What was sent, or would be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sent {
    /// Whom for.
    pub audience: Audience,
    /// How many changes it holds.
    pub changes: u64,
    /// How many photos.
    pub photos: u64,
    /// Photos that could not go along: damaged, or of a kind that cannot be stripped safely.
    pub photos_left_out: u64,
    /// How exactly places are told, in copies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Exactness>,
    /// The copies, as they leave.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub copies: Vec<Copied>,
    /// The photos of copies, by the copy that they belong to.
    #[serde(skip)]
    pub album: Album,
    /// The newest day that it tells of.
    #[serde(skip)]
    pub date: Option<Date>,
}

/// A bundle's content, gathered and waiting to be written.
pub(super) struct Parcel {
    pub about: About,
    pub source: Box<dyn Source>,
    pub photos: Vec<Photograph>,
    pub holds: Option<Holdings>,
    /// Where pictures lie until they are packed.
    pub _scratch: Option<TempDir>,
}

impl Notebook {
    /// Exactly what a bundle would hold; nothing is written.
    ///
    /// # Errors
    /// As [`Notebook::write_bundle`].
    pub fn preview_bundle(
        &self,
        pack: &Pack,
        sending: &Sending,
        progress: &dyn Progress,
    ) -> Result<Sent, Error> {
        Ok(self.parcel(pack, sending, progress)?.1)
    }

    /// Writes a bundle, whole or not at all; a file that is there is replaced only if `replace` says so. With `seal`, only those
    /// whom it names can open it. What is for the owner's devices is signed; copies are not, for a signature would link them.
    ///
    /// # Errors
    /// [`Error::InTheWay`] if the file is there, [`Error::NotFound`] for a find that is not, [`Error::NoRoom`],
    /// [`Error::Stopped`].
    pub fn write_bundle(
        &self,
        pack: &Pack,
        sending: &Sending,
        seal: Option<To<'_>>,
        to: &Path,
        replace: bool,
        progress: &dyn Progress,
    ) -> Result<Sent, Error> {
        if !replace && to.symlink_metadata().is_ok() {
            return Err(Error::InTheWay { what: "a file of that name" });
        }
        let (parcel, sent) = self.parcel(pack, sending, progress)?;
        self.write_parcel(&parcel, seal, to, replace, progress)?;
        Ok(sent)
    }

    /// Writes what has been gathered, whole or not at all.
    pub(super) fn write_parcel(
        &self,
        parcel: &Parcel,
        seal: Option<To<'_>>,
        to: &Path,
        replace: bool,
        progress: &dyn Progress,
    ) -> Result<(), Error> {
        let Parcel { about, source, photos, holds, .. } = parcel;
        let mut stopped = false;
        let mut step = || {
            stopped = stopped || !progress.go_on("writing the bundle");
            if stopped { Err(io::Error::from(io::ErrorKind::Interrupted)) } else { Ok(()) }
        };
        let identity = (about.audience == Audience::Me).then(|| self.identity()).transpose()?;
        let sign = identity.as_ref().map(|identity| {
            |text: &str| -> io::Result<String> { Ok(serde_json::to_string(&identity.sign(text)?)?) }
        });
        let sign = sign.as_ref().map(|sign| sign as &Sign<'_>);
        let contents = Contents { about, source: source.as_ref(), photos, holds: holds.as_ref(), sign };
        let fill = |file: &mut BufWriter<&mut File>| match seal {
            None => exchange::write(file, &contents, &mut step),
            Some(to) => exchange::write_sealed(file, to, &contents, &mut step),
        };
        let written = if replace { disk::write_anew(to, fill) } else { disk::write_new(to, fill) };
        if stopped {
            return Err(Stopped.into());
        }
        Ok(written.doing("write the bundle")?)
    }

    pub(super) fn parcel(
        &self,
        pack: &Pack,
        sending: &Sending,
        progress: &dyn Progress,
    ) -> Result<(Parcel, Sent), Error> {
        match sending {
            Sending::ForMe => self.mine(&Held::default(), progress),
            Sending::Unseen(by) => self.mine(&self.seen_by(*by)?, progress),
            Sending::ForSomeone { finds, terms, recipient, photos } => {
                vet_names(recipient.as_deref(), terms.name.as_deref())?;
                let ids = self.new_ids(recipient.as_deref())?;
                let chosen = Chosen { finds: finds.as_deref(), terms, photos: *photos };
                self.copied(pack, chosen, &ids, progress)
            }
        }
    }

    /// Everything but what is held elsewhere already.
    fn mine(&self, seen: &Held, progress: &dyn Progress) -> Result<(Parcel, Sent), Error> {
        if self.lock().is_none() {
            return Err(Error::Paused);
        }
        let view = View::snapshot(&self.folder.view())?;
        let (mut photos, mut left_out) = (Vec::new(), 0);
        for stored in self.shelf.list().map_err(Error::from_shelf)? {
            progress.step("looking at photos")?;
            match (self.shelf.verify(&stored.hash).map_err(Error::from_shelf)?, self.shelf.path(&stored.hash))
            {
                (Condition::Whole, Some(file)) => {
                    photos.push(Photograph { hash: stored.hash, format: stored.format, file });
                }
                _ => left_out += 1,
            }
        }
        let mut holdings = Holdings::default();
        holdings.holds.photos = photos.iter().map(|photo| photo.hash).collect();
        holdings.left_out.photos = holdings.holds.photos.intersection(&seen.photos).copied().collect();
        photos.retain(|photo| !seen.photos.contains(&photo.hash));
        let (mut changes, mut devices) = (0, BTreeMap::new());
        for device in view.devices()? {
            let (spanned, more) = spanned(&view, device, seen.changes.get(&device), progress)?;
            let after = spanned.told.as_ref().map(|span| span.to);
            holdings.holds.changes.extend(spanned.all.map(|span| (device, span)));
            holdings.left_out.changes.extend(spanned.told.map(|span| (device, span)));
            if more > 0 {
                changes += more;
                devices.insert(device, after);
            }
        }
        let date = day_of(view.newest()?);
        let sent = Sent {
            audience: Audience::Me,
            changes,
            photos: photos.len() as u64,
            photos_left_out: left_out,
            place: None,
            copies: Vec::new(),
            album: Album::default(),
            date: Some(date),
        };
        let about = About {
            format: FORMAT,
            audience: Audience::Me,
            date,
            device: Some(self.device()),
            owner: None,
            place: None,
        };
        let source = Box::new(Mine { view, devices });
        Ok((Parcel { about, source, photos, holds: Some(holdings), _scratch: None }, sent))
    }
}

pub(super) fn day_of(stamp: Stamp) -> Date {
    let at = Timestamp::from_millisecond(stamp.millis()).unwrap_or_default();
    Offset::UTC.to_datetime(at).date()
}

/// Changes of a notebook, as they stood at one moment: of each device all, or those after a stamp.
struct Mine {
    view: View,
    devices: BTreeMap<DeviceId, Option<Stamp>>,
}

impl Source for Mine {
    fn devices(&self) -> Vec<DeviceId> {
        self.devices.keys().copied().collect()
    }

    fn lines(&self, device: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()> {
        let after = self.devices.get(&device).copied().flatten();
        let given = self.view.lines_of(device, after, &mut |_, line| each(line).map_err(Broken::Writing));
        given.map_err(|error| match error {
            Broken::Writing(error) => error,
            Broken::Reading(error) => io::Error::other(error),
        })
    }
}

enum Broken {
    Writing(io::Error),
    Reading(StoreError),
}

impl From<StoreError> for Broken {
    fn from(error: StoreError) -> Self {
        Self::Reading(error)
    }
}
