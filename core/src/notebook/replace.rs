//! Another notebook in this one's place: a backup, or one that had to make room before. What was there is set aside, never deleted.
//!
//! Beside the folder `notebook`:
//!
//! ```text
//! notebook.ready    a backup, unpacked and proved whole, until its owner says that it is to be used
//! notebook.aside/   notebooks that made room, each by the time at which it did
//! notebook.next     which of them is to take the notebook's place, written before anything moves
//! ```
//!
//! Two folders cannot change places at once. So the intention is written first, and whoever opens the notebook next carries it out
//! to its end.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::folder::lock;
use super::{Notebook, WallClock, kind, restore};
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::progress::Progress;
use crate::store::{StoreError, View};

const READY: &str = "ready";
const ASIDE: &str = "aside";
const NEXT: &str = "next";
/// How the folders begin in which [`restore`] unpacks.
const UNPACKING: &str = ".restoring-";
/// How a time is written in the name of a folder: to the second, UTC, without colons, which not every disk takes.
const STAMP: &str = "%Y-%m-%dT%H-%M-%SZ";

/// What a notebook holds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Holds {
    /// How many finds.
    pub finds: u64,
    /// How many photos.
    pub photos: u64,
    /// When something was last written into it; none if never.
    pub last: Option<Timestamp>,
}

/// A notebook that was set aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SetAside {
    /// What it goes by: the name of its folder.
    pub name: String,
    /// When it was set aside, if its name still says so.
    pub at: Option<Timestamp>,
    /// What it holds, if its view can be read.
    pub holds: Option<Holds>,
}

/// What is to take the notebook's place, and what the one that is there is then called.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Next {
    /// A name within `notebook.aside`; the one that is ready if there is none.
    from: Option<String>,
    aside: String,
}

impl Notebook {
    /// What it holds.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn holds(&self) -> Result<Holds, Error> {
        self.read(holds)
    }
}

fn holds(view: &View) -> Result<Holds, StoreError> {
    let last = view.last_stamps()?.into_iter().map(|(_, stamp)| stamp.millis()).max();
    Ok(Holds {
        finds: view.count(kind::FIND)?,
        photos: view.count(kind::PHOTO)?,
        last: last.and_then(|millis| Timestamp::from_millisecond(millis).ok()),
    })
}

/// What a notebook that nobody has open holds.
fn holds_of(folder: &Path) -> Option<Holds> {
    holds(&View::snapshot(&folder.join("view.sqlite")).ok()?).ok()
}

/// Unpacks a backup beside a notebook and proves it, without touching that notebook, which may be in use. One that was ready
/// before makes room. Answers what the backup holds; [`use_ready`] puts it in place.
///
/// # Errors
/// [`Error::Backup`] says what is wrong with the file; [`Error::NoRoom`], [`Error::NewerFormat`], [`Error::Stopped`]. Then nothing is ready.
pub fn make_ready(
    from: &Path,
    root: &Path,
    clock: Arc<dyn WallClock>,
    progress: &dyn Progress,
) -> Result<Holds, Error> {
    forget_ready(root)?;
    let ready = beside(root, READY);
    restore(from, &ready, progress)?;
    // Opened once here, so that what it holds is known, and opening it in its place takes no time.
    let opened = Notebook::open_with(&ready, clock, progress).and_then(|notebook| {
        let holds = notebook.holds()?;
        notebook.pause()?;
        Ok(holds)
    });
    if opened.is_err() {
        forget_ready(root)?;
    }
    opened
}

/// What the backup holds that was made ready; none if none is.
#[must_use]
pub fn ready(root: &Path) -> Option<Holds> {
    holds_of(&beside(root, READY))
}

/// Clears away what was made ready, and whatever unpacking left behind.
///
/// # Errors
/// Whatever the disk says.
pub fn forget_ready(root: &Path) -> Result<(), Error> {
    let clear = |folder: &Path| match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    };
    clear(&beside(root, READY)).doing("clear away a backup that was unpacked")?;
    for entry in fs::read_dir(parent(root)).into_iter().flatten().flatten() {
        if entry.file_name().to_string_lossy().starts_with(UNPACKING) {
            clear(&entry.path()).doing("clear away a backup that was unpacked")?;
        }
    }
    Ok(())
}

/// Puts the backup that is ready in the notebook's place, and sets the notebook aside.
///
/// # Errors
/// [`Error::Busy`] while the notebook is open; [`Error::NotFound`] if nothing is ready. Then everything is as it was.
pub fn use_ready(root: &Path, now: Timestamp) -> Result<(), Error> {
    put_in_place(root, None, now)
}

/// Puts a notebook that was set aside back in its place, and sets the present one aside.
///
/// # Errors
/// As [`use_ready`].
pub fn use_set_aside(root: &Path, name: &str, now: Timestamp) -> Result<(), Error> {
    put_in_place(root, Some(name.to_owned()), now)
}

/// The notebooks that were set aside, the latest first.
///
/// # Errors
/// Whatever the disk says.
pub fn set_aside(root: &Path) -> Result<Vec<SetAside>, Error> {
    let entries = match fs::read_dir(beside(root, ASIDE)) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries.doing("look for notebooks that were set aside")?,
    };
    let mut found: Vec<SetAside> = entries
        .flatten()
        .map(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            SetAside { at: time(&name), holds: holds_of(&entry.path()), name }
        })
        .collect();
    found.sort_by(|one, other| other.name.cmp(&one.name));
    Ok(found)
}

/// Deletes a notebook that was set aside, for good: nothing but its owner's word does that.
///
/// # Errors
/// [`Error::NotFound`]; whatever the disk says.
pub fn delete_set_aside(root: &Path, name: &str) -> Result<(), Error> {
    let from = aside_named(root, name).filter(|folder| folder.is_dir());
    let from = from.ok_or(Error::NotFound { what: "notebook" })?;
    // Out of the list in one step: half of one is no notebook. What a kill leaves of it is cleared away before the next restoring.
    let gone = parent(root).join(format!("{UNPACKING}{name}"));
    fs::rename(from, &gone).and_then(|()| fs::remove_dir_all(gone)).doing("delete a notebook")?;
    Ok(())
}

fn put_in_place(root: &Path, from: Option<String>, now: Timestamp) -> Result<(), Error> {
    finish(root)?;
    let next = Next { aside: free_name(root, now), from };
    if !next.source(root).is_some_and(|source| source.is_dir()) {
        return Err(Error::NotFound { what: "notebook" });
    }
    let _held = root.is_dir().then(|| lock(root)).transpose()?;
    let text = serde_json::to_vec(&next).map_err(io::Error::from).doing("note which notebook is next")?;
    disk::write_whole(&beside(root, NEXT), |out| out.write_all(&text))
        .doing("note which notebook is next")?;
    carry_out(root, &next)
}

/// Ends what was begun by a process that died over it.
pub(super) fn finish(root: &Path) -> Result<(), Error> {
    let Ok(text) = fs::read(beside(root, NEXT)) else { return Ok(()) };
    // Written whole or not at all: what cannot be read was not written by this.
    let Ok(next) = serde_json::from_slice::<Next>(&text) else { return Ok(()) };
    let _held = root.is_dir().then(|| lock(root)).transpose()?;
    carry_out(root, &next)
}

/// Each step is there or not, and all may be taken again.
fn carry_out(root: &Path, next: &Next) -> Result<(), Error> {
    const DOING: &str = "put the notebook in its place";
    if let Some(source) = next.source(root).filter(|source| source.is_dir()) {
        if root.exists() {
            let aside = beside(root, ASIDE);
            disk::make_folder(&aside).doing(DOING)?;
            fs::rename(root, aside.join(&next.aside)).doing(DOING)?;
            disk::sync_folder(&aside).doing(DOING)?;
        }
        fs::rename(source, root).doing(DOING)?;
        disk::sync_folder(parent(root)).doing(DOING)?;
    }
    match fs::remove_file(beside(root, NEXT)) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error).doing(DOING)?,
        _ => disk::sync_folder(parent(root)).doing(DOING)?,
    }
    Ok(())
}

impl Next {
    /// Where it is.
    fn source(&self, root: &Path) -> Option<PathBuf> {
        match &self.from {
            None => Some(beside(root, READY)),
            Some(name) => aside_named(root, name),
        }
    }
}

/// A name is one folder's and leads nowhere else.
fn aside_named(root: &Path, name: &str) -> Option<PathBuf> {
    let is_plain = !name.is_empty() && !name.starts_with('.') && !name.contains(['/', '\\']);
    is_plain.then(|| beside(root, ASIDE).join(name))
}

/// `notebook.ready` beside `notebook`.
fn beside(root: &Path, what: &str) -> PathBuf {
    let mut name = root.file_name().unwrap_or_default().to_owned();
    name.push(".");
    name.push(what);
    root.with_file_name(name)
}

fn parent(root: &Path) -> &Path {
    root.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The time, and a number where another was set aside in the same second.
fn free_name(root: &Path, now: Timestamp) -> String {
    let at = now.strftime(STAMP).to_string();
    let taken = |name: &str| beside(root, ASIDE).join(name).exists();
    let mut name = at.clone();
    for number in 2.. {
        if !taken(&name) {
            break;
        }
        name = format!("{at}-{number}");
    }
    name
}

fn time(name: &str) -> Option<Timestamp> {
    let end = name.find('Z')? + 1;
    let at = jiff::fmt::strtime::parse(STAMP, name.get(..end)?).ok()?.to_datetime().ok()?;
    jiff::tz::TimeZone::UTC.to_timestamp(at).ok()
}
