//! A notebook folder: what lies where in it, who it is, and that only one process has it.
//!
//! ```text
//! notebook.json     format and device id
//! changes/          the log: the truth
//! photos/           files by their hash
//! thumbnails/       made again at need
//! view.sqlite       tables for reading, and the second copy of every change
//! copies.secret     makes the ids of copies for others; drawn at the first export for someone named
//! identity.secret   opens what is sealed to this notebook, and signs; drawn at first need
//! exchanged.json    what is known of exchange folders; made again at need
//! seen.json         what paired devices said they hold; learnt again from their next bundles
//! aside/            whatever was found damaged, as it was found
//! lock              held while a process has the notebook open
//! ```

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use tempfile::TempDir;

use crate::disk::{self, DiskError, Doing};
use crate::error::Error;
use crate::id::DeviceId;
use crate::log::Log;

/// The newest folder format that this version reads and writes.
pub const FORMAT: u64 = 1;

/// How the names of folders begin in which something is worked on.
const SCRATCH: &str = ".scratch-";

/// How long a second process waits before it is refused.
const PATIENCE: Duration = Duration::from_secs(2);

#[derive(Debug, Serialize, Deserialize)]
struct Identity {
    format: u64,
    device: DeviceId,
    #[serde(flatten)]
    further: Map<String, Value>,
}

/// A folder held by this process until dropped.
#[derive(Debug)]
pub struct Folder {
    root: PathBuf,
    /// This device, as far as this folder goes.
    pub device: DeviceId,
    _lock: File,
}

impl Folder {
    /// Takes hold of a folder, making it if there is none.
    pub fn hold(root: &Path) -> Result<Self, Error> {
        disk::make_folder(root).doing("make the notebook folder")?;
        let lock = lock(root)?;
        let device = match read_identity(root) {
            Ok(Some(identity)) if identity.format > FORMAT => {
                return Err(Error::NewerFormat { found: identity.format, known: FORMAT });
            }
            Ok(Some(identity)) => identity.device,
            found => {
                if found.is_err() {
                    let log = Log::below(root);
                    log.keep_aside(&root.join("notebook.json"), true).doing("keep a damaged file aside")?;
                }
                new_identity(root)?
            }
        };
        clear_scratch(root);
        Ok(Self { root: root.to_owned(), device, _lock: lock })
    }

    /// A folder for what is needed for a while. One that a kill leaves behind is cleared away by whoever opens the notebook next.
    pub fn scratch(&self) -> Result<TempDir, Error> {
        Ok(tempfile::Builder::new().prefix(SCRATCH).tempdir_in(&self.root).doing("make room to work in")?)
    }

    /// The folder itself.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The view's file.
    pub fn view(&self) -> PathBuf {
        self.root.join("view.sqlite")
    }

    /// The log.
    pub fn log(&self) -> Log {
        Log::below(&self.root)
    }

    /// Keeps a view and its side files aside; those that are not there are no matter.
    pub fn set_view_aside(&self) -> Result<(), Error> {
        for name in ["view.sqlite", "view.sqlite-wal", "view.sqlite-shm"] {
            let path = self.root.join(name);
            if path.exists() {
                self.log().keep_aside(&path, false).doing("keep a damaged file aside")?;
            }
        }
        Ok(())
    }
}

/// What cannot be cleared away takes up room and does no other harm.
fn clear_scratch(root: &Path) {
    let Ok(entries) = fs::read_dir(root) else { return };
    for entry in entries.flatten().filter(|entry| entry.file_name().to_string_lossy().starts_with(SCRATCH)) {
        let _ = fs::remove_dir_all(entry.path());
    }
}

pub(super) fn lock(root: &Path) -> Result<File, Error> {
    let open = || OpenOptions::new().create(true).truncate(false).write(true).open(root.join("lock"));
    let file = open().doing("open the notebook's lock")?;
    let until = Instant::now() + PATIENCE;
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(file),
            Err(TryLockError::WouldBlock) if Instant::now() < until => {
                std::thread::sleep(Duration::from_millis(20));
            }
            Err(TryLockError::WouldBlock) => return Err(Error::Busy),
            Err(TryLockError::Error(source)) => {
                return Err(DiskError { doing: "lock the notebook", source }.into());
            }
        }
    }
}

fn read_identity(root: &Path) -> Result<Option<Identity>, ()> {
    match fs::read(root.join("notebook.json")) {
        Ok(bytes) => serde_json::from_slice(&bytes).map(Some).map_err(|_| ()),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(_) => Err(()),
    }
}

/// A device id is never used by two folders, so a lost one is replaced by a new one: what the old one wrote stays its own.
fn new_identity(root: &Path) -> Result<DeviceId, Error> {
    let identity = Identity { format: FORMAT, device: DeviceId::new(), further: Map::new() };
    let write = |out: &mut dyn Write| {
        serde_json::to_writer_pretty(&mut *out, &identity)?;
        out.write_all(b"\n")
    };
    disk::write_whole(&root.join("notebook.json"), write).doing("write the notebook's identity")?;
    Ok(identity.device)
}
