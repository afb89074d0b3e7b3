//! Who keeps the files of an exchange folder: a disk, which has paths, or somebody who hands files in and out, as a phone's system
//! does.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use super::folder::Found;
use crate::disk;

/// How deep files are looked for: a device's subfolder, and one more should a program make one for what it could not place.
pub const DEPTH: u32 = 3;

/// Keeps the files of an exchange folder. Names go from the folder on, with `/` between them.
pub trait Keeper {
    /// By what this folder is known again among others. It stays on this device.
    fn known_by(&self) -> String;

    /// Every file, down to [`DEPTH`], in any order. Hidden ones belong to other programs and are left out.
    ///
    /// # Errors
    /// If the folder itself cannot be read; what vanishes or cannot be read meanwhile is not there.
    fn files(&self) -> io::Result<Vec<Found>>;

    /// Where a file can be read: in its place, or as a copy of it at `room`, which may be written over.
    ///
    /// # Errors
    /// If it cannot be had now.
    fn fetch(&self, found: &Found, room: &Path) -> io::Result<PathBuf>;

    /// Where a file is to be written: in its place, or at `room`.
    ///
    /// # Errors
    /// Whatever the disk says.
    fn draft(&self, name: &str, room: &Path) -> io::Result<PathBuf>;

    /// Puts what was written where [`Keeper::draft`] said in its place, over what is there: whole or not at all, where that can
    /// be. One that is cut short is written once more by the next exchange.
    ///
    /// # Errors
    /// Whatever the keeper says.
    fn put(&self, name: &str, draft: &Path) -> io::Result<()>;

    /// Takes a file of this device's away.
    ///
    /// # Errors
    /// Whatever the keeper says.
    fn remove(&self, found: &Found) -> io::Result<()>;
}

/// A folder of a disk.
#[derive(Debug, Clone)]
pub struct OnDisk {
    root: PathBuf,
}

impl OnDisk {
    /// The folder must be there: making it here could put it where no program carries it.
    ///
    /// # Errors
    /// If it is not there or cannot be looked into.
    pub fn open(root: &Path) -> io::Result<Self> {
        let root = fs::canonicalize(root)?;
        fs::read_dir(&root)?;
        Ok(Self { root })
    }

    /// Where it is, links resolved.
    #[must_use]
    pub fn root(&self) -> &Path {
        &self.root
    }
}

impl Keeper for OnDisk {
    fn known_by(&self) -> String {
        self.root.display().to_string()
    }

    /// Links lead who knows where: they are not looked at.
    fn files(&self) -> io::Result<Vec<Found>> {
        let mut found = Vec::new();
        walk(&self.root, "", DEPTH, &mut found)?;
        Ok(found)
    }

    fn fetch(&self, found: &Found, _room: &Path) -> io::Result<PathBuf> {
        Ok(self.root.join(&found.name))
    }

    /// Files are written whole or not at all where they belong.
    fn draft(&self, name: &str, _room: &Path) -> io::Result<PathBuf> {
        let path = self.root.join(name);
        path.parent().map_or(Ok(()), disk::make_folder)?;
        Ok(path)
    }

    fn put(&self, _name: &str, _draft: &Path) -> io::Result<()> {
        Ok(())
    }

    fn remove(&self, found: &Found) -> io::Result<()> {
        fs::remove_file(self.root.join(&found.name))
    }
}

fn walk(folder: &Path, below: &str, depth: u32, found: &mut Vec<Found>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let Ok(name) = entry.file_name().into_string() else { continue };
        let (Ok(kind), false) = (entry.file_type(), name.starts_with('.')) else { continue };
        let name = if below.is_empty() { name } else { format!("{below}/{name}") };
        if kind.is_dir() && depth > 1 {
            // A folder that vanishes meanwhile is not there.
            let _ = walk(&entry.path(), &name, depth - 1, found);
        } else if kind.is_file()
            && let Ok(metadata) = entry.metadata()
        {
            let written = metadata.modified().ok().and_then(|time| time.duration_since(UNIX_EPOCH).ok());
            let written = written.map_or(0, |time| u64::try_from(time.as_nanos()).unwrap_or(u64::MAX));
            found.push(Found { name, looks: (metadata.len(), written) });
        }
    }
    Ok(())
}
