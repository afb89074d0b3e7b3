//! Segments that come from elsewhere: written aside, and moved into the log together or not at all.
//!
//! They are written and synced in `arriving.part/`. Renaming that folder to `arriving/` is the one moment at which they come to
//! be in the log: whatever happens then, they are moved into `changes/`, at the next opening if need be. What is still in
//! `arriving.part/` has never been.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{Appended, Log, SegmentId, entries, number};
use crate::change::Line;
use crate::disk;
use crate::id::DeviceId;

const PART: &str = "arriving.part";
const WHOLE: &str = "arriving";

/// Segments on their way into the log; dropped before [`Arriving::settle`], they are gone.
#[derive(Debug)]
pub struct Arriving {
    log: Log,
    part: PathBuf,
}

/// Segments that are in the log for good, unless they are taken back.
#[derive(Debug)]
#[must_use]
pub struct Settled {
    log: Log,
    whole: PathBuf,
}

impl Log {
    /// Begins an arrival.
    ///
    /// # Errors
    /// If the disk refuses.
    pub fn arriving(&self) -> io::Result<Arriving> {
        let part = self.beside(PART);
        clear(&part)?;
        disk::make_folder(&part)?;
        Ok(Arriving { log: self.clone(), part })
    }

    /// Ends what was under way when the process ended: settled segments are moved in, others cleared away.
    ///
    /// # Errors
    /// If the disk refuses; then the log is not whole yet.
    pub fn end_arrivals(&self) -> io::Result<()> {
        clear(&self.beside(PART))?;
        let whole = self.beside(WHOLE);
        if whole.is_dir() { Settled { log: self.clone(), whole }.move_in() } else { Ok(()) }
    }

    fn beside(&self, name: &str) -> PathBuf {
        self.changes.with_file_name(name)
    }
}

impl Arriving {
    /// Writes a segment whole, and says where it will be.
    ///
    /// # Errors
    /// If the disk refuses.
    pub fn write(&self, segment: SegmentId, lines: &[Line]) -> io::Result<Appended> {
        let folder = self.part.join(segment.device.to_string());
        disk::make_folder(&folder)?;
        let mut after = 0;
        disk::write_whole(&folder.join(file_name(segment.number)), |out| {
            lines.iter().try_for_each(|line| {
                after += line.text().len() as u64 + 1;
                out.write_all(line.text().as_bytes())?;
                out.write_all(b"\n")
            })
        })?;
        Ok(Appended { segment, before: 0, after })
    }

    /// From here on they are in the log.
    ///
    /// # Errors
    /// If the disk refuses; then they are not.
    pub fn settle(self) -> io::Result<Settled> {
        let whole = self.log.beside(WHOLE);
        fs::rename(&self.part, &whole)?;
        let settled = Settled { log: self.log.clone(), whole };
        match sync_parent(&settled.whole) {
            Ok(()) => Ok(settled),
            Err(error) => settled.take_back().and(Err(error)),
        }
    }
}

impl Drop for Arriving {
    fn drop(&mut self) {
        // What cannot be cleared away now is cleared away at the next opening.
        let _ = clear(&self.part);
    }
}

impl Settled {
    /// Moves them to where they belong.
    ///
    /// # Errors
    /// If the disk refuses; then the next opening goes on.
    pub fn move_in(self) -> io::Result<()> {
        for device in entries(&self.whole)? {
            let Some(id) = device.file_name().to_str().and_then(|name| name.parse::<DeviceId>().ok()) else {
                continue;
            };
            let folder = self.log.folder(id);
            disk::make_folder(&folder)?;
            for file in entries(&device.path())? {
                if let Some(number) = file.file_name().to_str().and_then(number) {
                    fs::rename(file.path(), self.log.path(SegmentId { device: id, number }))?;
                }
            }
            disk::sync_folder(&folder)?;
        }
        clear(&self.whole)
    }

    /// Undoes the settling, when what had to follow it failed.
    ///
    /// # Errors
    /// If the disk refuses; then they are in the log at the next opening.
    pub fn take_back(self) -> io::Result<()> {
        let part = self.log.beside(PART);
        fs::rename(&self.whole, &part)?;
        sync_parent(&part)?;
        clear(&part)
    }
}

fn file_name(number: u32) -> String {
    format!("{number:06}.jsonl")
}

fn sync_parent(path: &Path) -> io::Result<()> {
    path.parent().map_or(Ok(()), disk::sync_folder)
}

fn clear(folder: &Path) -> io::Result<()> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
        Ok(()) => sync_parent(folder),
    }
}
