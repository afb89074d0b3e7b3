//! The change log on disk: `changes/<device>/<number>.jsonl`, one change a line, its hash at the end.
//!
//! Lines are only ever added, to the last segment of the own device, and synced before anything is acknowledged. A full
//! segment is closed and never changes again. What was torn or damaged is cut out by [`Log::rewrite`], which keeps the
//! damaged file aside.

mod append;
mod arriving;
mod segment;

pub use append::{Appended, Appender};
pub use arriving::{Arriving, Settled};
pub use segment::{Damage, Scan, scan};

use std::fs;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use crate::change::Line;
use crate::disk;
use crate::id::DeviceId;

/// A segment is closed once it holds this many bytes: small enough to send again, large enough to be few.
pub const SEGMENT_BYTES: u64 = 1 << 20;

/// Which segment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SegmentId {
    /// The device that wrote it.
    pub device: DeviceId,
    /// From 1.
    pub number: u32,
}

/// The log of one notebook folder.
#[derive(Debug, Clone)]
pub struct Log {
    changes: PathBuf,
    aside: PathBuf,
}

impl Log {
    /// The log below a notebook folder; nothing is touched yet.
    #[must_use]
    pub fn below(notebook: &Path) -> Self {
        Self { changes: notebook.join("changes"), aside: notebook.join("aside") }
    }

    /// Where a segment lies.
    #[must_use]
    pub fn path(&self, segment: SegmentId) -> PathBuf {
        self.folder(segment.device).join(format!("{:06}.jsonl", segment.number))
    }

    fn folder(&self, device: DeviceId) -> PathBuf {
        self.changes.join(device.to_string())
    }

    /// Every segment and its length in bytes, by device and number. Files of other names are left alone.
    ///
    /// # Errors
    /// If a folder cannot be read; a log that does not exist yet is empty.
    pub fn segments(&self) -> io::Result<Vec<(SegmentId, u64)>> {
        let mut found = Vec::new();
        for device in entries(&self.changes)? {
            let Some(id) = device.file_name().to_str().and_then(|n| DeviceId::from_str(n).ok()) else {
                continue;
            };
            for file in entries(&device.path())? {
                let Some(number) = file.file_name().to_str().and_then(number) else { continue };
                let segment = SegmentId { device: id, number };
                // Only the exact name counts: another spelling of it is another file.
                if self.path(segment) == file.path() {
                    found.push((segment, file.metadata()?.len()));
                }
            }
        }
        found.sort_unstable();
        Ok(found)
    }

    /// Reads a part of a segment; a missing file is an empty one, and a part beyond its end is empty.
    ///
    /// # Errors
    /// If it is there and cannot be read.
    pub fn scan(&self, segment: SegmentId, part: Range<u64>) -> io::Result<Scan> {
        match segment::read_bytes(&self.path(segment), part) {
            Ok(bytes) => Ok(scan(&bytes)),
            Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(Scan::default()),
            Err(e) => Err(e),
        }
    }

    /// Puts a segment right: the file as it was goes aside, these lines take its place, whole or not at all.
    ///
    /// # Errors
    /// If the disk refuses; then the old file still stands.
    pub fn rewrite(&self, segment: SegmentId, lines: &[Line]) -> io::Result<()> {
        let path = self.path(segment);
        disk::make_folder(&self.folder(segment.device))?;
        if path.exists() {
            self.keep_aside(&path, true)?;
        }
        disk::write_whole(&path, |out| {
            lines.iter().try_for_each(|line| {
                out.write_all(line.text().as_bytes())?;
                out.write_all(b"\n")
            })
        })
    }

    /// Cuts a torn tail off.
    ///
    /// # Errors
    /// If the disk refuses.
    pub fn cut(&self, segment: SegmentId, length: u64) -> io::Result<()> {
        let file = fs::OpenOptions::new().write(true).open(self.path(segment))?;
        file.set_len(length)?;
        file.sync_all()
    }

    /// The last bytes of the first `length` bytes of a segment, line end aside: enough to tell whether it is still the file
    /// it was. Empty if it is not that long.
    ///
    /// # Errors
    /// If it cannot be read.
    pub fn ending(&self, segment: SegmentId, length: u64, bytes: usize) -> io::Result<Vec<u8>> {
        let end = length.saturating_sub(1);
        segment::read_bytes(&self.path(segment), end.saturating_sub(bytes as u64)..end)
    }

    /// Copies (or moves) a damaged file into `aside/` under a name that was free.
    ///
    /// # Errors
    /// If the disk refuses.
    pub fn keep_aside(&self, path: &Path, copy: bool) -> io::Result<()> {
        disk::make_folder(&self.aside)?;
        let name = path.file_name().and_then(|n| n.to_str()).unwrap_or("file");
        let to = self.aside.join(format!("{}-{name}", uuid::Uuid::now_v7()));
        if copy {
            fs::copy(path, &to)?;
            fs::File::open(&to)?.sync_all()?;
        } else {
            fs::rename(path, &to)?;
        }
        disk::sync_folder(&self.aside)
    }
}

fn number(name: &str) -> Option<u32> {
    name.strip_suffix(".jsonl")?.parse().ok().filter(|number| *number > 0)
}

fn entries(folder: &Path) -> io::Result<Vec<fs::DirEntry>> {
    match fs::read_dir(folder) {
        Ok(entries) => entries.collect(),
        Err(e) if matches!(e.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => {
            Ok(Vec::new())
        }
        Err(e) => Err(e),
    }
}
