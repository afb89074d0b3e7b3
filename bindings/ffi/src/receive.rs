//! Reading a bundle that somebody made: looked into first, then taken whole or not at all; and the copies that came that way.

use std::path::PathBuf;
use std::sync::Arc;

use trug::exchange::Audience;
use trug::export::{Copied, SharedPlace};
use trug::find::Count;
use trug::notebook::{self, CopyRecord, Received};
use trug::place::{Place, Position};
use trug::seal::Passphrase;
use trug::units::Grams;

use crate::find_page::{FindFields, PhotoShown, StageCount};
use crate::job::State;
use crate::shared::{NameShown, When};
use crate::{Book, Job, TrugError};

/// What a bundle brings, or would bring.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct BundleRead {
    /// For the owner's own devices: everything, exact. Otherwise copies that somebody made for somebody else.
    pub for_own: bool,
    /// A paired device wrote it, and may change what is here.
    pub paired: bool,
    /// What its owner calls that device; none for this notebook itself.
    pub from: Option<String>,
    /// Whose records they are, in copies, if they said so.
    pub owner: Option<String>,
    /// How exactly places are told, in copies: 10km, 1km, exact.
    pub place: Option<String>,
    /// A later Trug wrote it: what this one cannot read is kept for one that can.
    pub later: bool,
    /// Changes that it holds.
    pub changes: u64,
    /// Those that are new here.
    pub new: u64,
    /// Those that are left out: only a paired device may change what is here.
    pub left_out: u64,
    /// Finds that are new here.
    pub new_finds: u64,
    /// Copies of other people's finds that are new here.
    pub new_copies: u64,
    /// Photos that it holds.
    pub photos: u64,
    /// Those that are new here.
    pub new_photos: u64,
    /// Devices and photos of which it leaves out what should be here and is not: only a whole bundle brings that.
    pub missing: u64,
}

impl From<Received> for BundleRead {
    fn from(received: Received) -> Self {
        let Received { audience, paired, from, later, owner, place, merged, photos, new_photos, missing } =
            received;
        Self {
            for_own: audience == Audience::Me,
            paired,
            from,
            owner,
            place: place.map(|place| place.word().to_owned()),
            later,
            changes: merged.changes,
            new: merged.new,
            left_out: merged.left_out,
            new_finds: merged.new_finds,
            new_copies: merged.new_copies,
            photos,
            new_photos,
            missing,
        }
    }
}

/// A copy of somebody else's find.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct CopyShown {
    /// Its id.
    pub id: String,
    /// The day: 2026-10-18.
    pub day: Option<String>,
    /// The time, if its owner let it out.
    pub at: Option<When>,
    /// What it is called there.
    pub name: NameShown,
    /// What is said before the name: `cf.`, or that names disagree.
    pub qualifier: Option<String>,
    /// How the name was reached.
    pub how: Option<String>,
    /// Where, as exactly as its owner told.
    pub place: Option<CopiedPlace>,
    /// The other fields; those that never leave a notebook are empty.
    pub fields: FindFields,
    /// Whose record it is, if they said so.
    pub recorder: Option<String>,
    /// Its photos.
    pub photos: Vec<PhotoShown>,
}

/// Where a copy says that a find was.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct CopiedPlace {
    /// The square, or the grid reference of an exact place.
    pub name: String,
    /// Whether the place is told exactly: not as the middle of a square.
    pub exact: bool,
    /// How far the true place may be from the one given, in metres, if that is known.
    pub uncertainty_m: Option<f64>,
}

impl From<&SharedPlace> for CopiedPlace {
    fn from(place: &SharedPlace) -> Self {
        let degrees = || format!("{}, {}", place.latitude, place.longitude);
        let told = || {
            Position::new(place.latitude, place.longitude)
                .map_or_else(|_| degrees(), |at| Place::told(at).name())
        };
        Self {
            name: place.square.clone().unwrap_or_else(told),
            exact: place.square.is_none(),
            uncertainty_m: place.uncertainty_m,
        }
    }
}

impl From<&Copied> for FindFields {
    fn from(copied: &Copied) -> Self {
        let stages = copied.stages.iter().flatten();
        Self {
            on: copied.on.map(|on| on.word().to_owned()),
            host: copied.host.as_ref().map(|host| host.tree.clone()),
            host_sure: copied.host.as_ref().map(|host| host.sure.word().to_owned()),
            ground: copied.ground.map(|ground| ground.word().to_owned()),
            habitat: copied.habitat.clone(),
            growth: copied.growth.map(|growth| growth.word().to_owned()),
            seen_least: copied.seen.map(Count::least),
            seen_most: copied.seen.map(Count::most),
            stages: stages
                .map(|(stage, count)| StageCount { stage: stage.word().to_owned(), count: *count })
                .collect(),
            width_least_mm: copied.width.map(|width| width.least().get()),
            width_most_mm: copied.width.map(|width| width.most().get()),
            taken: copied.taken,
            grams: copied.grams.map(Grams::get),
            specimens: copied.specimens,
            note: copied.note.clone(),
            ..Self::default()
        }
    }
}

#[uniffi::export]
impl Book {
    /// Starts to look into a bundle: who made it, what it would bring. Nothing is kept.
    ///
    /// A sealed one is opened with the passphrase, or without one with this notebook's own key.
    ///
    /// # Errors
    /// `no-passphrase` for one of nothing. The job ends with why it is refused (`not-a-bundle`, `bundle-…`), or why it cannot be
    /// opened (`needs-passphrase`, `wrong-passphrase`, `not-for-us`, …).
    pub fn start_look(&self, path: String, passphrase: Option<String>) -> Result<Arc<Job>, TrugError> {
        self.read(path, passphrase, false)
    }

    /// Starts to take what a bundle brings: all of it or nothing. Again changes nothing.
    ///
    /// # Errors
    /// As [`Book::start_look`], and `no-room`.
    pub fn start_take(&self, path: String, passphrase: Option<String>) -> Result<Arc<Job>, TrugError> {
        self.read(path, passphrase, true)
    }

    /// The copies of other people's finds, by day.
    ///
    /// # Errors
    /// `paused`, `view`.
    pub fn received_copies(&self) -> Result<Vec<CopyShown>, TrugError> {
        Ok(self.notebook.received_copies()?.iter().map(|copy| self.copy(copy)).collect())
    }

    /// Marks a copy as deleted. Reading its bundle again does not bring it back.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`.
    pub fn delete_copy(&self, id: String) -> Result<(), TrugError> {
        Ok(self.notebook.delete_copy(id.parse()?)?)
    }
}

impl Book {
    fn read(&self, path: String, passphrase: Option<String>, keep: bool) -> Result<Arc<Job>, TrugError> {
        let passphrase = passphrase.map(|text| Passphrase::new(&text)).transpose()?;
        let (notebook, path) = (Arc::clone(&self.notebook), PathBuf::from(path));
        let job = notebook::Job::start(move |progress| {
            notebook.read_bundle(&path, passphrase.as_ref(), keep, progress)
        });
        Ok(Job::start(State::Reading(job)))
    }

    fn copy(&self, copy: &CopyRecord) -> CopyShown {
        let copied = &copy.copied.value;
        CopyShown {
            id: copied.id.to_string(),
            day: copied.day.map(|day| day.to_string()),
            at: copied.time.map(When::from),
            name: NameShown::of(self.pack, &copied.name.scientific),
            qualifier: copied.name.qualifier.clone(),
            how: copied.name.how.map(|how| how.word().to_owned()),
            place: copied.place.as_ref().map(CopiedPlace::from),
            fields: FindFields::from(copied),
            recorder: copied.recorder.clone(),
            photos: self.photos(&copy.photos),
        }
    }
}
