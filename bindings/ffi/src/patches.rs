//! *Patches*: all of them, in the order that is asked for, and the way back to one.

use trug::moment::Moment;
use trug::notebook::ListedPatch;
use trug::patch::{Inside, Listed, Patch, Way};
use trug::place::Place;
use trug::units::Metres;

use crate::shared::{Fix, NameShown, When};
use crate::{Book, TrugError};

/// Everything that the page of patches shows.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchesPage {
    /// Now.
    pub now: When,
    /// The patches, in order.
    pub patches: Vec<PatchLine>,
}

/// By what patches are ordered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum PatchOrder {
    /// The nearest first; without a fix by name.
    Near,
    /// Those never looked at first, then the longest not looked at.
    LastLook,
    /// By what is looked for there, those without a kind last; of one kind the nearest first.
    Kind,
}

/// A patch in a line.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchLine {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: Option<String>,
    /// What is looked for there.
    pub kind: Option<NameShown>,
    /// The tree.
    pub host: Option<String>,
    /// What is grown on.
    pub on: Option<String>,
    /// Where its middle is; none if nobody knows.
    pub place: Option<PatchPlace>,
    /// How far it reaches from there, in metres.
    pub reach_m: f64,
    /// How far its middle is from here, in metres; none if nobody knows from where, or where to.
    pub metres: Option<f64>,
    /// Which way, in degrees clockwise from true north; none at its very middle.
    pub bearing: Option<f64>,
    /// Whether one stands in it; none where `metres` is none.
    pub inside: Option<InPatch>,
    /// The day of the last look: 2026-10-18.
    pub last_look: Option<String>,
    /// What came of it: nothing, seen, taken.
    pub last_outcome: Option<String>,
    /// The first day on which it may be gathered from again, while it rests.
    pub rests_until: Option<String>,
}

/// The middle of a patch, ready to show.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchPlace {
    /// The grid reference, no finer than the place is known; degrees where no grid holds.
    pub name: String,
    /// How far the true place may be from there, in metres, if known.
    pub accuracy_m: Option<f64>,
    /// Degrees north, WGS84.
    pub latitude: f64,
    /// Degrees east, WGS84.
    pub longitude: f64,
}

/// Whether somebody stands in a patch, as far as their position can tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum InPatch {
    /// In it: no farther from its middle than it reaches and the positions may be out.
    Yes,
    /// It may be so, but the position is known too badly to say it.
    Perhaps,
    /// Not in it.
    No,
}

/// The way back to a patch.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct WayBack {
    /// Now.
    pub now: When,
    /// The patch, seen from here.
    pub patch: PatchLine,
    /// Whether it is marked as deleted.
    pub deleted: bool,
}

#[uniffi::export]
impl Book {
    /// All patches, seen from here if the phone knows where that is.
    ///
    /// # Errors
    /// `paused`; `place-latitude`, `place-longitude`, `place-accuracy` for a fix that is none.
    pub fn patches_page(&self, here: Option<Fix>, order: PatchOrder) -> Result<PatchesPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let order = match order {
            PatchOrder::Near => Listed::Near,
            PatchOrder::LastLook => Listed::LastLook,
            PatchOrder::Kind => Listed::Kind,
        };
        let now = self.notebook.now();
        let listed = self.notebook.patch_list(self.pack, here, order)?;
        let patches = listed.iter().map(|one| self.patch_line(one, now)).collect();
        Ok(PatchesPage { now: now.into(), patches })
    }

    /// The way back to a patch from here; for one that was merged, to that which stands for it.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`; as [`Book::patches_page`].
    pub fn way_back(&self, patch: String, here: Option<Fix>) -> Result<WayBack, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let now = self.notebook.now();
        let listed = self.notebook.listed_patch(patch.parse()?, here)?;
        let deleted = listed.record.patch.deleted;
        Ok(WayBack { now: now.into(), patch: self.patch_line(&listed, now), deleted })
    }
}

impl Book {
    /// A patch in a line.
    pub(crate) fn patch_line(&self, listed: &ListedPatch, now: Moment) -> PatchLine {
        let ListedPatch { record, way, last_look } = listed;
        let patch = &record.patch.value;
        PatchLine {
            id: record.id.to_string(),
            name: patch.name.clone(),
            kind: patch.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
            host: patch.host.as_ref().map(|host| host.tree.clone()),
            on: patch.on.map(|on| on.word().to_owned()),
            place: PatchPlace::of(patch),
            reach_m: patch.reach().get(),
            metres: way.map(|way| way.distance.get()),
            bearing: way.and_then(|way| way.bearing),
            inside: way.map(InPatch::from),
            last_look: last_look.as_ref().map(|look| look.day.to_string()),
            last_outcome: last_look.as_ref().map(|look| look.outcome.word().to_owned()),
            rests_until: patch.rests_until.filter(|_| patch.rests_on(now.day())).map(|day| day.to_string()),
        }
    }
}

impl PatchPlace {
    fn of(patch: &Patch) -> Option<Self> {
        let centre = patch.centre?;
        Some(Self {
            name: Place::told(centre).name(),
            accuracy_m: centre.accuracy().map(Metres::get),
            latitude: centre.latitude(),
            longitude: centre.longitude(),
        })
    }
}

impl From<Way> for InPatch {
    fn from(way: Way) -> Self {
        match way.inside {
            Inside::Yes => Self::Yes,
            Inside::Perhaps => Self::Perhaps,
            Inside::No => Self::No,
        }
    }
}
