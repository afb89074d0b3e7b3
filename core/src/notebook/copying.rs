//! Copies for somebody else, as a bundle carries them: each find as the change that makes its copy at the receiver's.

use std::fs::File;
use std::io;

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::Offset;
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};
use tempfile::TempDir;
use uuid::Uuid;

use super::bundles::{Parcel, Sent};
use super::exporting::copy_of;
use super::exporting_photos::Album;
use super::record::fields;
use super::{Notebook, kind};
use crate::change::{Change, Line, Stamp};
use crate::disk::Doing;
use crate::error::Error;
use crate::exchange::{About, Audience, FORMAT, Photograph, Source};
use crate::export::{Ids, Terms, sorted};
use crate::find::Photo;
use crate::id::{DeviceId, FindId, RecordId};
use crate::pack::Pack;
use crate::photo::PhotoHash;
use crate::progress::Progress;
use crate::store::StoreError;

/// What is to be copied.
#[derive(Clone, Copy)]
pub(super) struct Chosen<'a> {
    pub finds: Option<&'a [FindId]>,
    pub terms: &'a Terms,
    pub photos: bool,
}

/// A record at the receiver's: its kind, its new id, what it says.
type Record = (&'static str, Uuid, Map<String, Value>);

impl Notebook {
    /// Copies of finds under their owner's terms, and their pictures if those are to go along.
    pub(super) fn copied(
        &self,
        pack: &Pack,
        chosen: Chosen<'_>,
        ids: &Ids,
        progress: &dyn Progress,
    ) -> Result<(Parcel, Sent), Error> {
        let mut copies = Vec::new();
        for find in self.chosen_ids(chosen.finds)? {
            progress.step("copying")?;
            let record = self.find(find)?;
            if !record.find.deleted {
                copies.push(copy_of(&record, chosen.terms, ids, pack)?);
            }
        }
        let copies = sorted(copies);
        let mut records = Vec::with_capacity(copies.len());
        for copied in &copies {
            let mut set = fields(copied)?;
            set.remove("id");
            records.push((kind::COPY, copied.id, set));
        }
        let album = if chosen.photos { self.album(chosen.finds, ids, progress)? } else { Album::default() };
        let scratch = self.folder.scratch()?;
        let photos = pictures(&album, &scratch, &mut records)?;
        let newest = copies.iter().filter_map(|copied| copied.day).max();
        let lines = lines(records, ids, newest)?;
        let sent = Sent {
            audience: Audience::Someone,
            changes: lines.lines.len() as u64,
            photos: photos.len() as u64,
            photos_left_out: album.left_out.len() as u64,
            place: Some(chosen.terms.place),
            copies,
            album,
            date: newest,
        };
        let about = About {
            format: FORMAT,
            audience: Audience::Someone,
            date: newest.unwrap_or_default(),
            device: None,
            owner: chosen.terms.name.clone(),
            place: Some(chosen.terms.place),
        };
        Ok((Parcel { about, source: Box::new(lines), photos, holds: None, _scratch: Some(scratch) }, sent))
    }
}

/// Writes the pictures aside, so that each has its hash, and adds the records that tie them to their copies.
fn pictures(album: &Album, scratch: &TempDir, records: &mut Vec<Record>) -> Result<Vec<Photograph>, Error> {
    let mut photos = Vec::with_capacity(album.pictures.len());
    for (at, picture) in album.pictures.iter().enumerate() {
        let file = scratch.path().join(at.to_string());
        let write = || {
            album.write(at, &mut File::create(&file)?)?;
            PhotoHash::of_reader(File::open(&file)?)
        };
        let hash = write().doing("copy a photo")?;
        let told = Photo {
            find: Some(RecordId(picture.of).into()),
            sha256: Some(hash),
            role: picture.role,
            format: Some(picture.format),
            ..Photo::default()
        };
        records.push((kind::PHOTO, picture.id, fields(&told)?));
        photos.push(Photograph { hash, format: picture.format, file });
    }
    // One picture of two finds goes along once.
    photos.sort_by_key(|photo| (photo.hash, photo.format));
    photos.dedup_by_key(|photo| (photo.hash, photo.format));
    Ok(photos)
}

/// The changes that make these records, as by a device that wrote nothing else.
fn lines(records: Vec<Record>, ids: &Ids, newest: Option<Date>) -> Result<Lines, Error> {
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
            unasked: false,
            more: 0,
        };
        lines.push(Line::write(change).map_err(StoreError::from)?.text().to_owned());
    }
    Ok(Lines { device, lines })
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
