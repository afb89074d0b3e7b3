//! The way back from a backup, and from a notebook that was set aside. None of it needs an open notebook, so that it can be gone
//! when the one that is there will not open.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use trug::moment::Moment;
use trug::notebook::{self, Holds, SetAside, WallClock};

use crate::book::{PhoneClock, Zone};
use crate::shared::When;
use crate::{Job, TrugError};

/// What a notebook holds.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HoldsShown {
    /// How many finds.
    pub finds: u64,
    /// How many photos.
    pub photos: u64,
    /// When something was last written into it; none if never.
    pub last: Option<When>,
}

/// What can be put in the notebook's place.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct RestorePage {
    /// What the backup holds that is unpacked and proved, if one is.
    pub ready: Option<HoldsShown>,
    /// The notebooks that were set aside, the latest first.
    pub set_aside: Vec<SetAsideShown>,
}

/// A notebook that was set aside.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SetAsideShown {
    /// What it goes by.
    pub name: String,
    /// When it was set aside.
    pub at: Option<When>,
    /// What it holds, if that can be told.
    pub holds: Option<HoldsShown>,
}

impl HoldsShown {
    pub(crate) fn new(holds: Holds, zone: &TimeZone) -> Self {
        let Holds { finds, photos, last } = holds;
        Self { finds, photos, last: last.map(|at| when(at, zone)) }
    }
}

impl SetAsideShown {
    fn new(aside: SetAside, zone: &TimeZone) -> Self {
        let SetAside { name, at, holds } = aside;
        Self { name, at: at.map(|at| when(at, zone)), holds: holds.map(|holds| HoldsShown::new(holds, zone)) }
    }
}

fn when(at: Timestamp, zone: &TimeZone) -> When {
    Moment::in_zone(at, zone).into()
}

/// What can be put in the place of the notebook in a folder.
///
/// # Errors
/// `disk`.
#[uniffi::export]
pub fn restore_page(folder: String, zone: Zone) -> Result<RestorePage, TrugError> {
    let (root, zone) = (Path::new(&folder), zone.time_zone());
    Ok(RestorePage {
        ready: notebook::ready(root).map(|holds| HoldsShown::new(holds, &zone)),
        set_aside: notebook::set_aside(root)?.into_iter().map(|one| SetAsideShown::new(one, &zone)).collect(),
    })
}

/// Starts to unpack a backup beside the notebook in a folder, and to prove it. The notebook may be used meanwhile; nothing of it
/// is touched. A backup that was ready before makes room.
///
/// # Errors
/// None here; the job ends with `backup` if the file is no backup or damaged, `no-room`, `newer-format`, `stopped`, and then nothing
/// is ready.
#[uniffi::export]
pub fn start_restore(path: String, folder: String, zone: Zone) -> Result<Arc<Job>, TrugError> {
    let (from, root) = (PathBuf::from(path), PathBuf::from(folder));
    let clock: Arc<dyn WallClock> = Arc::new(PhoneClock::new(&zone));
    let work =
        move |progress: &dyn trug::progress::Progress| notebook::make_ready(&from, &root, clock, progress);
    Ok(Job::restoring(notebook::Job::start(work), zone.time_zone()))
}

/// Puts the backup that is ready in the place of the notebook in a folder, which has to be closed before. What was there is set
/// aside, not deleted. What is restored is a new device.
///
/// # Errors
/// `busy` while it is open; `not-found` if nothing is ready. Then everything is as it was.
#[uniffi::export]
pub fn use_restored(folder: String) -> Result<(), TrugError> {
    Ok(notebook::use_ready(Path::new(&folder), Timestamp::now())?)
}

/// Clears away the backup that is ready.
///
/// # Errors
/// `disk`.
#[uniffi::export]
pub fn forget_restored(folder: String) -> Result<(), TrugError> {
    Ok(notebook::forget_ready(Path::new(&folder))?)
}

/// Puts a notebook that was set aside back in its place. The present one is set aside in its turn.
///
/// # Errors
/// As [`use_restored`].
#[uniffi::export]
pub fn use_set_aside(folder: String, name: String) -> Result<(), TrugError> {
    Ok(notebook::use_set_aside(Path::new(&folder), &name, Timestamp::now())?)
}

/// Deletes a notebook that was set aside, for good.
///
/// # Errors
/// `not-found`, `disk`.
#[uniffi::export]
pub fn delete_set_aside(folder: String, name: String) -> Result<(), TrugError> {
    Ok(notebook::delete_set_aside(Path::new(&folder), &name)?)
}
