//! The notebook: the one entry point that shells talk to.
//!
//! A [`Notebook`] is a folder held by one process and safe to call from several threads. Everything that is kept goes one
//! way: an act of one or more edits becomes changes, which are appended to the log and synced, then folded into the view,
//! and only then is the call answered.

mod act;
mod advise;
mod areas;
mod backup;
mod bundles;
mod check;
mod choosing;
mod copying;
mod doctor;
mod exchanging;
mod exporting;
mod exporting_photos;
mod finds;
mod folder;
mod house;
mod importing;
mod importing_photos;
mod job;
mod judged;
mod keyed;
mod map;
mod marking;
mod meals;
mod mend;
mod merging;
mod noted;
mod observer;
mod opening;
mod outings;
mod passage;
mod patch_list;
mod patch_whole;
mod patches;
mod peers;
mod photos;
mod readable;
mod receiving;
mod record;
mod replace;
mod search;
mod session;
mod sharing;
#[cfg(test)]
mod tests;
mod today;
mod undo;
mod unseen;
mod year;
mod year_told;

pub use advise::{Choice, Given, Question};
pub use areas::AreaRecord;
pub use backup::{Restored, restore};
pub use bundles::{Sending, Sent};
pub use check::CheckReport;
pub use choosing::Which;
pub use exchanging::{Exchanged, LeftUnread};
pub use exporting::{Exported, Order};
pub use exporting_photos::{Album, LeftOut};
pub use finds::{Added, FindRecord, Named, NewFind, NewName, Warning};
pub use folder::FORMAT;
pub use house::{HouseRule, HouseRuleRecord};
pub use importing::{Imported, NewArea, NewPatch};
pub use importing_photos::{FoundPhoto, FoundPhotos};
pub use job::{Far, Job};
pub use judged::Judged;
pub use keyed::Keyed;
pub use map::{Map, MapArea, MapFind, MapPatch, Spot};
pub use meals::{MealRecord, NewEater};
pub use mend::Problem;
pub use merging::Merged;
pub use noted::noted;
pub use outings::OutingRecord;
pub use patch_list::ListedPatch;
pub use patch_whole::{PatchAct, PatchWhole};
pub use patches::{Heedless, PatchHistory, PatchRecord, VisitRecord};
pub use peers::{Author, Peer, PeerRecord};
pub use photos::{NewPhoto, PhotoOfFind, PhotoRecord};
pub use receiving::{CopyRecord, Received};
pub use record::Kept;
pub use replace::{
    Holds, SetAside, delete_set_aside, forget_ready, make_ready, ready, set_aside, use_ready, use_set_aside,
};
pub use search::{Found, FoundFind, FoundPatch, Limits, Listed, OfKind};
pub use sharing::{Grave, Leaves, Leaving, Seal, Spread};
pub use today::{Carried, NearPatch, Today, Waiting, WaitsFor};
pub use year_told::{AskedOfYear, By, LeftWeight, MonthOf, Title, Year, YearLine, YearMore};

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::change::Clock;
use crate::error::Error;
use crate::log::Appender;
use crate::moment::Moment;
use crate::photo::Shelf;
use crate::progress::{Progress, Unwatched};
use crate::store::{StoreError, View};
use folder::Folder;

/// The kinds of record that this version writes; the log carries any other as well.
mod kind {
    pub const FIND: &str = "find";
    pub const OUTING: &str = "outing";
    pub const DETERMINATION: &str = "determination";
    pub const PHOTO: &str = "photo";
    pub const PATCH: &str = "patch";
    pub const VISIT: &str = "visit";
    pub const ADVICE: &str = "advice";
    pub const CHOICE: &str = "choice-of-codes";
    pub const HOUSE_RULE: &str = "house-rule";
    pub const AREA: &str = "area";
    pub const COPY: &str = "copy";
    pub const PEER: &str = "peer";
    pub const SESSION: &str = "key-session";
    pub const MEAL: &str = "meal";
    pub const PERSON: &str = "person";
    pub const OBSERVER: &str = "observer";
}

/// What the time is and where the clock stands: given by the shell, so that nothing inside reads a clock.
pub trait WallClock: Send + Sync {
    /// Now.
    fn now(&self) -> Timestamp;
    /// The zone of this device.
    fn zone(&self) -> TimeZone;
}

/// The device's own clock and zone.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemClock;

impl WallClock for SystemClock {
    fn now(&self) -> Timestamp {
        Timestamp::now()
    }

    fn zone(&self) -> TimeZone {
        TimeZone::system()
    }
}

/// A notebook folder, open.
pub struct Notebook {
    folder: Folder,
    shelf: Shelf,
    clock: Arc<dyn WallClock>,
    /// What opening it put right, or found lost.
    opening: Opening,
    desk: Mutex<Option<Desk>>,
}

/// What opening found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Opening {
    /// What was put right.
    pub mended: Vec<Problem>,
    /// What is lost in both copies.
    pub lost: Vec<Problem>,
}

/// What is open while the notebook is not paused.
struct Desk {
    view: View,
    appender: Appender,
    stamps: Clock,
}

impl std::fmt::Debug for Notebook {
    /// Says nothing of what it holds.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Notebook").finish_non_exhaustive()
    }
}

impl Notebook {
    /// Opens a notebook, making the folder if there is none.
    ///
    /// Cheap when the view is as it was left; otherwise it is caught up or built afresh.
    ///
    /// # Errors
    /// [`Error::Busy`] if another process has it, [`Error::NewerFormat`], or whatever the disk says.
    pub fn open(root: &Path) -> Result<Self, Error> {
        Self::open_with(root, Arc::new(SystemClock), &Unwatched)
    }

    /// Opens a notebook with a clock of the shell's, and someone who watches a long opening.
    ///
    /// # Errors
    /// As [`Notebook::open`], and [`Error::Stopped`].
    pub fn open_with(root: &Path, clock: Arc<dyn WallClock>, progress: &dyn Progress) -> Result<Self, Error> {
        replace::finish(root)?;
        let folder = Folder::hold(root)?;
        let shelf = Shelf::open(root).map_err(Error::from_shelf)?;
        let (desk, opening) = opening::open(&folder, clock.as_ref(), progress)?;
        Ok(Self { folder, shelf, clock, opening, desk: Mutex::new(Some(desk)) })
    }

    /// What opening it put right, or found lost.
    #[must_use]
    pub fn opening(&self) -> &Opening {
        &self.opening
    }

    /// The folder that it is.
    #[must_use]
    pub fn root(&self) -> &Path {
        self.folder.root()
    }

    /// Where the photos stand.
    #[must_use]
    pub fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// Now, as this device's clock shows it.
    #[must_use]
    pub fn now(&self) -> Moment {
        Moment::in_zone(self.clock.now(), &self.clock.zone())
    }

    /// Writes everything into its main file and closes the view, so that the system may end the process; the folder stays held.
    ///
    /// # Errors
    /// [`Error::View`] if the view could not be tidied; nothing is lost by that.
    pub fn pause(&self) -> Result<(), Error> {
        match self.lock().take() {
            Some(desk) => Ok(desk.view.close()?),
            None => Ok(()),
        }
    }

    /// Opens the view again after [`Notebook::pause`]; does nothing if it is open.
    ///
    /// # Errors
    /// As [`Notebook::open`].
    pub fn resume(&self) -> Result<(), Error> {
        let mut desk = self.lock();
        if desk.is_none() {
            *desk = Some(opening::open(&self.folder, self.clock.as_ref(), &Unwatched)?.0);
        }
        Ok(())
    }

    /// Builds the view afresh from the log.
    ///
    /// # Errors
    /// Whatever the disk says, or [`Error::Stopped`]; then the old view still serves.
    pub fn rebuild(&self, progress: &dyn Progress) -> Result<Opening, Error> {
        self.mend(&mut self.lock(), progress, Some("a fresh view was asked for"))
    }

    fn mend(
        &self,
        desk: &mut Option<Desk>,
        progress: &dyn Progress,
        why: Option<&'static str>,
    ) -> Result<Opening, Error> {
        drop(desk.take());
        let mended = mend::mend(&self.folder, progress, why);
        // Stopped or failed: what stood before still stands.
        *desk = Some(opening::open(&self.folder, self.clock.as_ref(), &Unwatched)?.0);
        mended.map(|(_, opening)| opening)
    }

    fn lock(&self) -> MutexGuard<'_, Option<Desk>> {
        // A thread that panicked left no half-done act behind: acts are whole in the log or not there.
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Reads; a view that turns out damaged is built afresh and asked once more.
    fn read<T>(&self, ask: impl Fn(&View) -> Result<T, StoreError>) -> Result<T, Error> {
        let mut desk = self.lock();
        match ask(&desk.as_ref().ok_or(Error::Paused)?.view) {
            Err(error) if error.calls_for_rebuild() => {
                self.mend(&mut desk, &Unwatched, Some(mend::DAMAGED))?;
                Ok(ask(&desk.as_ref().ok_or(Error::Paused)?.view)?)
            }
            answer => Ok(answer?),
        }
    }

    /// Where a file of the notebook lies, for shells that show it.
    #[must_use]
    pub fn view_file(&self) -> PathBuf {
        self.folder.view()
    }
}
