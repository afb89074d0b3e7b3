//! Adding to the log: written and synced before anything is acknowledged, or not there at all.
//!
//! The file is lengthened ahead of need with NUL bytes, [`AHEAD`] at a time, so that syncing an act writes the act and not
//! the file's new length as well: on a journalling file system that halves what an act costs. Trailing NULs are nobody's
//! data; they are cut off when the segment is closed or the notebook let go.

use std::fs::{File, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};

use super::{Log, SEGMENT_BYTES, SegmentId};
use crate::change::Line;
use crate::disk;
use crate::id::DeviceId;

/// How far the file runs ahead of what it holds.
const AHEAD: u64 = 64 * 1024;

/// Where an act ended up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Appended {
    /// The segment.
    pub segment: SegmentId,
    /// Its length before.
    pub before: u64,
    /// Its length now.
    pub after: u64,
}

/// The one that writes the own device's last segment.
#[derive(Debug)]
pub struct Appender {
    log: Log,
    segment: SegmentId,
    /// Bytes of whole acts.
    length: u64,
    /// Opened on the first act: a notebook that is only read makes no segment.
    file: Option<Ahead>,
}

/// A segment that is being written, and how long the file is, NULs and all.
#[derive(Debug)]
struct Ahead {
    file: File,
    reach: u64,
}

impl Appender {
    /// Goes on after this device's last segment, which has been found whole up to `length`.
    #[must_use]
    pub fn new(log: Log, device: DeviceId, last: Option<(u32, u64)>) -> Self {
        let (number, length) = last.unwrap_or((1, 0));
        Self { log, segment: SegmentId { device, number }, length, file: None }
    }

    /// Appends one act and syncs it.
    ///
    /// # Errors
    /// If the disk refuses; then the segment is cut back to what it was, and a later act may succeed.
    pub fn append(&mut self, act: &[Line]) -> io::Result<Appended> {
        if self.length >= SEGMENT_BYTES {
            self.let_go();
            self.segment.number += 1;
            self.length = 0;
        }
        let text: Vec<u8> = act.iter().flat_map(|line| line.text().bytes().chain([b'\n'])).collect();
        let before = self.length;
        if let Err(error) = self.write(&text) {
            self.cut_back(before);
            return Err(error);
        }
        self.length += text.len() as u64;
        Ok(Appended { segment: self.segment, before, after: self.length })
    }

    fn write(&mut self, text: &[u8]) -> io::Result<()> {
        let length = self.length;
        let ahead = self.open()?;
        if length + text.len() as u64 > ahead.reach {
            ahead.reach(length + text.len() as u64 + AHEAD)?;
        }
        ahead.file.seek(SeekFrom::Start(length))?;
        ahead.file.write_all(text)?;
        ahead.file.sync_data()
    }

    /// Takes the last act back, when what had to follow it failed and it has not been acknowledged.
    pub fn take_back(&mut self, last: Appended) {
        self.cut_back(last.before);
    }

    /// If the disk refuses even this, opening the file for the next act tries again; should there be no next act, the
    /// next start finds an act too many, never one too few.
    fn cut_back(&mut self, length: u64) {
        self.length = length;
        self.file = None;
        let _ = self.open();
    }

    /// Opens the segment at the length that it is known to have.
    fn open(&mut self) -> io::Result<&mut Ahead> {
        let file = match self.file.take() {
            Some(file) => file,
            None => self.log.open_for_appending(self.segment, self.length)?,
        };
        Ok(self.file.insert(file))
    }

    /// Cuts the NULs off. Where that fails they stay, and are nobody's data.
    fn let_go(&mut self) {
        if let Some(ahead) = self.file.take() {
            let _ = ahead.file.set_len(self.length).and_then(|()| ahead.file.sync_all());
        }
    }
}

impl Drop for Appender {
    fn drop(&mut self) {
        self.let_go();
    }
}

impl Ahead {
    /// Lengthens the file with real NULs: room that is merely promised would cost at every act what this is to save.
    fn reach(&mut self, to: u64) -> io::Result<()> {
        self.file.seek(SeekFrom::Start(self.reach))?;
        io::copy(&mut io::Read::take(io::repeat(0), to - self.reach), &mut self.file)?;
        self.file.sync_all()?;
        self.reach = to;
        Ok(())
    }
}

impl Log {
    fn open_for_appending(&self, segment: SegmentId, length: u64) -> io::Result<Ahead> {
        let folder = self.folder(segment.device);
        disk::make_folder(&folder)?;
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(self.path(segment))?;
        let found = file.metadata()?.len();
        if found < length {
            return Err(io::Error::other("the log was cut short by something else: check the notebook"));
        }
        if found > length {
            file.set_len(length)?;
            file.sync_data()?;
        }
        if length == 0 {
            disk::sync_folder(&folder)?;
        }
        Ok(Ahead { file, reach: length })
    }
}
