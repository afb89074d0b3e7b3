//! The notebook itself: opened, paused, resumed.

use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::Timestamp;
use jiff::tz::{Offset, TimeZone};
use trug::key::Key;
use trug::notebook::{Notebook, WallClock};
use trug::pack::Pack;
use trug::progress::Unwatched;

use crate::TrugError;
use crate::shared::Said;

/// An open notebook. Every call may take a while: never on the thread that draws.
#[derive(uniffi::Object)]
pub struct Book {
    pub(crate) notebook: Arc<Notebook>,
    pub(crate) pack: &'static Pack,
    /// As it was last asked for: see [`Book::key`].
    key: Mutex<Arc<Key<'static>>>,
    clock: Arc<PhoneClock>,
}

/// The zone that the phone stands in, as its system names it.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Zone {
    /// Its IANA name: Europe/London.
    pub name: String,
    /// What its clock is ahead of UTC now, in seconds: used where the name is not known here.
    pub offset_seconds: i32,
}

impl Zone {
    pub(crate) fn time_zone(&self) -> TimeZone {
        TimeZone::get(&self.name).unwrap_or_else(|_| {
            TimeZone::fixed(Offset::from_seconds(self.offset_seconds).unwrap_or(Offset::UTC))
        })
    }
}

/// The phone's clock, or one that stands still, and the zone it was last told.
pub(crate) struct PhoneClock {
    stands_at: Option<Timestamp>,
    zone: Mutex<TimeZone>,
}

impl PhoneClock {
    pub(crate) fn new(zone: &Zone) -> Self {
        Self { stands_at: None, zone: Mutex::new(zone.time_zone()) }
    }
}

impl WallClock for PhoneClock {
    fn now(&self) -> Timestamp {
        self.stands_at.unwrap_or_else(Timestamp::now)
    }

    fn zone(&self) -> TimeZone {
        self.zone.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// What opening put right or found lost, and photos that no find owns.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct OpeningReport {
    /// What was put right.
    pub mended: Vec<Said>,
    /// What is lost in both copies.
    pub lost: Vec<Said>,
}

impl From<&trug::notebook::Opening> for OpeningReport {
    fn from(opening: &trug::notebook::Opening) -> Self {
        let told = |problems: &[trug::notebook::Problem]| problems.iter().map(Said::from).collect();
        Self { mended: told(&opening.mended), lost: told(&opening.lost) }
    }
}

impl std::fmt::Debug for Book {
    /// Says nothing of what it holds.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Book").finish_non_exhaustive()
    }
}

impl Book {
    fn open_by(folder: &str, clock: PhoneClock) -> Result<Arc<Self>, TrugError> {
        let clock = Arc::new(clock);
        let pack = Pack::britain()?;
        let shared: Arc<dyn WallClock> = clock.clone();
        let notebook = Arc::new(Notebook::open_with(Path::new(folder), shared, &Unwatched)?);
        let key = Mutex::new(Arc::new(Key::new(pack, notebook.observer()?)));
        Ok(Arc::new(Self { notebook, pack, key, clock }))
    }

    /// The zone that the phone stands in.
    pub(crate) fn zone(&self) -> TimeZone {
        self.clock.zone()
    }

    /// The key, which assumes what the notebook says of its observer. It is made anew only where that has changed.
    pub(crate) fn key(&self) -> Result<Arc<Key<'static>>, TrugError> {
        let observer = self.notebook.observer()?;
        let mut key = self.key.lock().unwrap_or_else(PoisonError::into_inner);
        if key.observer() != observer {
            *key = Arc::new(Key::new(self.pack, observer));
        }
        Ok(Arc::clone(&key))
    }
}

#[uniffi::export]
impl Book {
    /// Opens the notebook in a folder, making it if there is none, and carries out what was begun there before. The knowledge is
    /// decoded once for the process.
    ///
    /// # Errors
    /// `busy`, `newer-format`, `no-room`, `disk`, `pack-damaged`.
    #[uniffi::constructor]
    pub fn open(folder: String, zone: Zone) -> Result<Arc<Self>, TrugError> {
        Self::open_by(&folder, PhoneClock::new(&zone))
    }

    /// Opens it at a moment that does not pass, in milliseconds since 1970-01-01T00:00:00Z: for pictures and tests that must be the
    /// same on every day.
    ///
    /// # Errors
    /// As [`Book::open`]; `field` for a moment before the year -9999 or after 9999.
    #[uniffi::constructor]
    pub fn open_at(folder: String, zone: Zone, millis: i64) -> Result<Arc<Self>, TrugError> {
        let at = Timestamp::from_millisecond(millis)
            .map_err(|error| trug::find::FieldError { field: "at", why: error.to_string() })?;
        Self::open_by(&folder, PhoneClock { stands_at: Some(at), ..PhoneClock::new(&zone) })
    }

    /// What opening put right, or found lost.
    ///
    /// # Errors
    /// None in practice.
    pub fn opening(&self) -> Result<OpeningReport, TrugError> {
        Ok(self.notebook.opening().into())
    }

    /// Puts everything in order so that the system may end the process. Until [`Book::resume`], calls answer `paused`.
    ///
    /// # Errors
    /// `view`, `disk`; nothing is lost by that.
    pub fn pause(&self) -> Result<(), TrugError> {
        Ok(self.notebook.pause()?)
    }

    /// Goes on after [`Book::pause`], in the zone that the phone stands in now.
    ///
    /// # Errors
    /// As [`Book::open`].
    pub fn resume(&self, zone: Zone) -> Result<(), TrugError> {
        *self.clock.zone.lock().unwrap_or_else(PoisonError::into_inner) = zone.time_zone();
        Ok(self.notebook.resume()?)
    }
}
