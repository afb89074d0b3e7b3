//! Writing bundles: everything for the owner's other devices, or copies of what may leave for somebody else.

use std::fs::File;
use std::io::{self, BufWriter};
use std::path::Path;

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::Offset;
use serde::Serialize;
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::exporting::{copy_of, vet_names};
use super::record::fields;
use super::{FindRecord, Notebook, kind};
use crate::change::{Change, Line, Stamp};
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::exchange::{self, About, Audience, Contents, FORMAT, Photograph, Sign, Source};
use crate::export::{Copied, Exactness, Ids, Terms};
use crate::id::{DeviceId, FindId, RecordId};
use crate::pack::Pack;
use crate::photo::Condition;
use crate::progress::{Progress, Stopped};
use crate::seal::{self, To};
use crate::store::{StoreError, View};

/// What is to be sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sending {
    /// Everything, for the owner's other devices.
    ForMe,
    /// Copies of finds.
    ForSomeone {
        /// Which; `None` for all.
        finds: Option<Vec<FindId>>,
        /// What may leave.
        terms: Terms,
        /// For whom: their copies keep their ids from one bundle to the next. Without, all ids are new every time.
        recipient: Option<String>,
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
    /// Photos that could not go along, because they are damaged.
    pub photos_left_out: u64,
    /// How exactly places are told, in copies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Exactness>,
    /// The copies, as they leave.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub copies: Vec<Copied>,
}

/// A bundle's content, gathered and waiting to be written.
pub(super) struct Parcel {
    pub about: About,
    pub source: Box<dyn Source>,
    pub photos: Vec<Photograph>,
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
        let Parcel { about, source, photos } = parcel;
        let mut stopped = false;
        let mut step = || {
            stopped = stopped || !progress.go_on("writing the bundle");
            if stopped { Err(io::Error::from(io::ErrorKind::Interrupted)) } else { Ok(()) }
        };
        let identity = self.identity()?;
        let sign = |text: &str| {
            let signature = identity.sign(text).map_err(io::Error::other)?;
            serde_json::to_string(&signature).map_err(io::Error::from)
        };
        let sign: Option<&Sign<'_>> = if about.audience == Audience::Me { Some(&sign) } else { None };
        let contents = Contents { about, source: source.as_ref(), photos, sign };
        let fill = |file: &mut BufWriter<&mut File>| match seal {
            None => exchange::write(file, &contents, &mut step),
            Some(to) => {
                let sealer = seal::seal(file, to).map_err(io::Error::other)?;
                exchange::stream(sealer, &contents, &mut step)?.finish().map(drop)
            }
        };
        let written = if replace { disk::write_anew(to, fill) } else { disk::write_new(to, fill) };
        if stopped {
            return Err(Stopped.into());
        }
        Ok(written.doing("write the bundle")?)
    }

    fn parcel(
        &self,
        pack: &Pack,
        sending: &Sending,
        progress: &dyn Progress,
    ) -> Result<(Parcel, Sent), Error> {
        match sending {
            Sending::ForMe => self.everything(progress),
            Sending::ForSomeone { finds, terms, recipient } => {
                vet_names(recipient.as_deref(), terms.name.as_deref())?;
                let chosen = self.chosen(finds.as_deref())?;
                let ids = self.new_ids(recipient.as_deref())?;
                copied(pack, &chosen, terms, &ids, progress)
            }
        }
    }

    fn everything(&self, progress: &dyn Progress) -> Result<(Parcel, Sent), Error> {
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
        let sent = Sent {
            audience: Audience::Me,
            changes: view.changes()?,
            photos: photos.len() as u64,
            photos_left_out: left_out,
            place: None,
            copies: Vec::new(),
        };
        let about = About {
            format: FORMAT,
            audience: Audience::Me,
            date: day_of(view.newest()?),
            device: Some(self.device()),
            owner: None,
            place: None,
        };
        Ok((Parcel { about, source: Box::new(Everything(view)), photos }, sent))
    }
}

/// Copies for somebody else, under the owner's terms.
fn copied(
    pack: &Pack,
    chosen: &[FindRecord],
    terms: &Terms,
    ids: &Ids,
    progress: &dyn Progress,
) -> Result<(Parcel, Sent), Error> {
    let mut copies = Vec::with_capacity(chosen.len());
    for record in chosen {
        progress.step("copying")?;
        copies.push(copy_of(record, terms, ids, pack)?);
    }
    let copies = crate::export::sorted(copies);
    let newest = copies.iter().filter_map(|copied| copied.day).max();
    let lines = copy_lines(&copies, ids, newest)?;
    let sent = Sent {
        audience: Audience::Someone,
        changes: lines.lines.len() as u64,
        photos: 0,
        photos_left_out: 0,
        place: Some(terms.place),
        copies,
    };
    let about = About {
        format: FORMAT,
        audience: Audience::Someone,
        date: newest.unwrap_or_default(),
        device: None,
        owner: terms.name.clone(),
        place: Some(terms.place),
    };
    Ok((Parcel { about, source: Box::new(lines), photos: Vec::new() }, sent))
}

pub(super) fn day_of(stamp: Stamp) -> Date {
    let at = Timestamp::from_millisecond(stamp.millis()).unwrap_or_default();
    Offset::UTC.to_datetime(at).date()
}

/// The changes that make the copies at their receiver's, as by a device that wrote nothing else.
fn copy_lines(copies: &[Copied], ids: &Ids, newest: Option<Date>) -> Result<Lines, Error> {
    let mut records = Vec::with_capacity(copies.len());
    for copied in copies {
        let mut set = fields(copied)?;
        set.remove("id");
        records.push((kind::COPY, copied.id, set));
    }
    // The device follows from the content: the same copies for the same person are the same changes, others are others.
    let mut content = Sha256::new();
    for record in &records {
        content.update(serde_json::to_vec(record).map_err(StoreError::from)?);
    }
    let content = content.finalize();
    let content = content.as_slice().first_chunk().map_or(Uuid::nil(), |first| Uuid::from_bytes(*first));
    let device = DeviceId(ids.of(RecordId(content)));
    // The day and no more: a clock time would tell what was not ticked.
    let midnight = newest.and_then(|day| Offset::UTC.to_timestamp(day.to_datetime(Time::midnight())).ok());
    let mut stamp = Stamp::at(midnight.map_or(0, Timestamp::as_millisecond));
    let mut lines = Vec::with_capacity(records.len());
    for (kind, id, set) in records {
        stamp = stamp.next();
        let change = Change {
            kind: kind.to_owned(),
            record: RecordId(id),
            set,
            stamp,
            device,
            replaces: [].into(),
            undoes: None,
            more: 0,
        };
        lines.push(Line::write(change).map_err(StoreError::from)?.text().to_owned());
    }
    Ok(Lines { device, lines })
}

/// All changes of a notebook, as they stood at one moment.
struct Everything(View);

impl Source for Everything {
    fn devices(&self) -> Vec<DeviceId> {
        self.0.devices().unwrap_or_default()
    }

    fn lines(&self, device: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()> {
        self.0.lines_of(device, &mut |line| each(line).map_err(Broken::Writing)).map_err(
            |error| match error {
                Broken::Writing(error) => error,
                Broken::Reading(error) => io::Error::other(error),
            },
        )
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

/// The changes of one device, in memory.
pub(super) struct Lines {
    pub device: DeviceId,
    pub lines: Vec<String>,
}

impl Source for Lines {
    fn devices(&self) -> Vec<DeviceId> {
        if self.lines.is_empty() { Vec::new() } else { vec![self.device] }
    }

    fn lines(&self, _device: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()> {
        self.lines.iter().try_for_each(|line| each(line))
    }
}
