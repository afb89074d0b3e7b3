//! Adding to the log: written and synced before anything is acknowledged, or not there at all.

use std::cmp::Ordering;
use std::fs::{File, OpenOptions};
use std::io::{self, Write};

use super::{Log, SEGMENT_BYTES, SegmentId};
use crate::change::Line;
use crate::disk;
use crate::id::DeviceId;

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
    length: u64,
    /// Opened on the first act: a notebook that is only read makes no segment.
    file: Option<File>,
}

impl Appender {
    /// Goes on after this device's last segment, which has been found whole.
    ///
    /// # Errors
    /// If the log cannot be listed.
    pub fn new(log: Log, device: DeviceId) -> io::Result<Self> {
        let own = log.segments()?.into_iter().rfind(|(segment, _)| segment.device == device);
        let (segment, length) = own.unwrap_or((SegmentId { device, number: 1 }, 0));
        Ok(Self { log, segment, length, file: None })
    }

    /// Appends one act and syncs it.
    ///
    /// # Errors
    /// If the disk refuses; then the segment is cut back to what it was, and a later act may succeed.
    pub fn append(&mut self, act: &[Line]) -> io::Result<Appended> {
        if self.length >= SEGMENT_BYTES {
            self.segment.number += 1;
            self.length = 0;
            self.file = None;
        }
        let text: Vec<u8> = act.iter().flat_map(|line| line.text().bytes().chain([b'\n'])).collect();
        let before = self.length;
        let written = self.file().and_then(|mut file| {
            file.write_all(&text)?;
            file.sync_data()
        });
        if let Err(error) = written {
            self.cut_back(before);
            return Err(error);
        }
        self.length += text.len() as u64;
        Ok(Appended { segment: self.segment, before, after: self.length })
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
        self.file = self.open().ok();
    }

    fn file(&mut self) -> io::Result<&File> {
        let file = match self.file.take() {
            Some(file) => file,
            None => self.open()?,
        };
        Ok(self.file.insert(file))
    }

    /// Opens the segment at the length that it is known to have.
    fn open(&self) -> io::Result<File> {
        let path = self.log.path(self.segment);
        let folder = self.log.folder(self.segment.device);
        disk::make_folder(&folder)?;
        let file = OpenOptions::new().create(true).append(true).open(&path)?;
        match file.metadata()?.len().cmp(&self.length) {
            Ordering::Greater => {
                file.set_len(self.length)?;
                file.sync_data()?;
            }
            Ordering::Less => {
                return Err(io::Error::other("the log was cut short by something else: check the notebook"));
            }
            Ordering::Equal => {}
        }
        if self.length == 0 {
            disk::sync_folder(&folder)?;
        }
        Ok(file)
    }
}
