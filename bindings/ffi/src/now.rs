//! *Now*: the outing, the basket, the light, the patches near, what waits, today's finds.

use trug::allowance::{GoesBy, Light as Lit, Sun};
use trug::find::Find;
use trug::moment::Moment;
use trug::notebook::{self, FindRecord, NearPatch, OutingRecord, Today, Waiting};
use trug::outing::{Outing, Permission};
use trug::patch::Amounts;

use crate::advice::{ReasonShown, Weight};
use crate::shared::{Fix, NameShown, When};
use crate::{Book, TrugError};

/// Everything that the first page shows.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct NowPage {
    /// Now.
    pub now: When,
    /// The outing that is on.
    pub outing: Option<OutingShown>,
    /// What is carried, against what may be.
    pub basket: Basket,
    /// The light that is left; none if nobody knows where.
    pub light: Option<Light>,
    /// The patches near, nearest first; none without a fix.
    pub patches: Vec<PatchNear>,
    /// What waits to be settled, the longest first.
    pub waiting: Vec<WaitingFind>,
    /// The finds of the outing, or of the day where none is on; the latest first.
    pub finds: Vec<FindLine>,
}

/// An outing.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct OutingShown {
    /// Its id.
    pub id: String,
    /// Where, as its owner wrote it.
    pub place: Option<String>,
    /// May I pick here? own, permitted, open, unknown.
    pub may_pick: String,
    /// When it began.
    pub began: Option<When>,
    /// When it ended; none while it is on.
    pub ended: Option<When>,
}

/// What is carried.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Basket {
    /// Of each fungus.
    pub carried: Vec<Carried>,
    /// How many fruitbodies in all, at least.
    pub count: u32,
    /// What was weighed of all, in grams.
    pub grams: f64,
    /// Finds of which something was taken and not weighed.
    pub unweighed: u32,
    /// What limits all of it together: words, and the numbers `grams`, `used`, `left_grams` or `most`, `taken`.
    pub limits: Vec<ReasonShown>,
}

/// What is carried of one fungus.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Carried {
    /// Which; none for what has no name.
    pub name: Option<NameShown>,
    /// How many, at least.
    pub count: u32,
    /// Whether there may be more, because something was not counted.
    pub or_more: bool,
    /// What was weighed, in grams.
    pub grams: f64,
    /// Finds of which something was taken and not weighed.
    pub unweighed: u32,
    /// How many for study, apart from food.
    pub specimens: u32,
    /// What limits this fungus by itself.
    pub limits: Vec<ReasonShown>,
}

/// The light of today.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Light {
    /// When the sun rises; none where it does not rise and set today.
    pub sunrise: Option<When>,
    /// When it sets.
    pub sunset: Option<When>,
    /// Whole minutes until it sets, below 0 once it has.
    pub minutes_left: Option<i64>,
    /// Where it does not rise and set: whether it stays up.
    pub stays_up: bool,
}

/// A patch, and the way there.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchNear {
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
    /// How far its middle is, in metres.
    pub metres: f64,
    /// Which way, in degrees clockwise from true north; none if it is here.
    pub bearing: Option<f64>,
    /// The day of the last look: 2026-10-18.
    pub last_look: Option<String>,
    /// What came of it: nothing, seen, taken.
    pub last_outcome: Option<String>,
    /// The first day on which it may be gathered from again, while it rests.
    pub rests_until: Option<String>,
}

/// What a find waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum WaitsFor {
    /// A specimen was taken home: a spore print would tell.
    SporePrint,
    /// Something still fits beside its name.
    Settling,
    /// A name.
    Name,
}

/// A find that waits to be settled.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct WaitingFind {
    /// The find.
    pub find: FindLine,
    /// What for.
    pub waits_for: WaitsFor,
    /// Since when.
    pub since: Option<When>,
    /// How many nights have passed since.
    pub nights: u32,
}

/// A find in a line.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct FindLine {
    /// Its id.
    pub id: String,
    /// What it goes by; none while it has no name.
    pub name: Option<NameShown>,
    /// Whether that is settled.
    pub settled: bool,
    /// When it was made.
    pub at: Option<When>,
    /// How many were there, at least.
    pub seen_least: Option<u32>,
    /// How many were there, at most.
    pub seen_most: Option<u32>,
    /// How many were taken.
    pub taken: Option<u32>,
    /// How many were taken for study.
    pub specimens: Option<u32>,
    /// The small picture of its first photo.
    pub thumbnail: Option<String>,
}

#[uniffi::export]
impl Book {
    /// Everything about now, seen from here if the phone knows where that is.
    ///
    /// # Errors
    /// `paused`; `place-latitude`, `place-longitude` for a fix off the Earth.
    pub fn now(&self, here: Option<Fix>) -> Result<NowPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        Ok(self.now_page(&self.notebook.today(self.pack, here)?))
    }

    /// Begins an outing; one that is on is ended. `may_pick` is own, permitted, open or unknown.
    ///
    /// # Errors
    /// `field` for an answer that is none of these.
    pub fn start_outing(&self, place: Option<String>, may_pick: String) -> Result<OutingShown, TrugError> {
        let permission: Permission = may_pick.parse()?;
        let place = place.filter(|place| !place.trim().is_empty());
        let outing = Outing { place, permission: Some(permission), ..Outing::default() };
        Ok((&self.notebook.start_outing(outing)?).into())
    }

    /// Ends the outing that is on.
    ///
    /// # Errors
    /// `not-found` if none is.
    pub fn end_outing(&self) -> Result<OutingShown, TrugError> {
        Ok((&self.notebook.end_outing(None)?).into())
    }
}

impl Book {
    fn now_page(&self, today: &Today) -> NowPage {
        let all: Amounts = today.basket.iter().map(|carried| carried.amounts).sum();
        NowPage {
            now: today.now.into(),
            outing: today.outing.as_ref().map(OutingShown::from),
            basket: Basket {
                carried: today.basket.iter().map(|carried| self.carried(carried)).collect(),
                count: all.taken.least,
                grams: all.grams(),
                unweighed: all.unweighed,
                limits: limits(&today.limits),
            },
            light: today.light.map(|light| shone(light, today.now)),
            patches: today.patches.iter().map(|patch| self.near(patch, today.now)).collect(),
            waiting: today.waiting.iter().map(|waiting| self.waits(waiting, today.now)).collect(),
            finds: today.finds.iter().map(|(record, name)| self.line(record, name)).collect(),
        }
    }

    fn carried(&self, carried: &notebook::Carried) -> Carried {
        let amounts = &carried.amounts;
        Carried {
            name: carried.name.as_deref().map(|name| NameShown::of(self.pack, name)),
            count: amounts.taken.least,
            or_more: amounts.taken.most != Some(amounts.taken.least),
            grams: amounts.grams(),
            unweighed: amounts.unweighed,
            specimens: amounts.specimens,
            limits: limits(&carried.limits),
        }
    }

    fn near(&self, near: &NearPatch, now: Moment) -> PatchNear {
        let patch = &near.record.patch.value;
        PatchNear {
            id: near.record.id.to_string(),
            name: patch.name.clone(),
            kind: patch.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
            host: patch.host.as_ref().map(|host| host.tree.clone()),
            on: patch.on.map(|on| on.word().to_owned()),
            metres: near.distance.get(),
            bearing: near.bearing,
            last_look: near.last_look.as_ref().map(|look| look.day.to_string()),
            last_outcome: near.last_look.as_ref().map(|look| look.outcome.word().to_owned()),
            rests_until: patch.rests_until.filter(|_| patch.rests_on(now.day())).map(|day| day.to_string()),
        }
    }

    fn waits(&self, waiting: &Waiting, now: Moment) -> WaitingFind {
        WaitingFind {
            find: self.line(&waiting.record, &waiting.goes_by),
            waits_for: match waiting.waits_for {
                notebook::WaitsFor::SporePrint => WaitsFor::SporePrint,
                notebook::WaitsFor::Settling => WaitsFor::Settling,
                notebook::WaitsFor::Name => WaitsFor::Name,
            },
            since: waiting.since.map(When::from),
            nights: waiting.nights(now),
        }
    }

    /// A find in a line.
    pub(crate) fn line(&self, record: &FindRecord, goes_by: &GoesBy) -> FindLine {
        let Find { at, seen, taken, specimens, .. } = record.find.value;
        let first = record.photos.iter().find_map(|photo| photo.photo.value.sha256);
        let small = first.and_then(|hash| self.notebook.shelf().thumbnail(&hash).ok().flatten());
        FindLine {
            id: record.id.to_string(),
            name: goes_by.name.as_deref().map(|name| NameShown::of(self.pack, name)),
            settled: goes_by.how.is_some(),
            at: at.map(When::from),
            seen_least: seen.map(trug::find::Count::least),
            seen_most: seen.map(trug::find::Count::most),
            taken,
            specimens,
            thumbnail: small.map(|path| path.to_string_lossy().into_owned()),
        }
    }
}

fn limits(reasons: &[trug::allowance::Reason]) -> Vec<ReasonShown> {
    reasons.iter().map(|reason| ReasonShown::of(Weight::Further, reason)).collect()
}

fn shone(light: Lit, now: Moment) -> Light {
    let at = |instant| Some(When::from(Moment::new(instant, now.offset())));
    let (sunrise, sunset, stays_up) = match light.sun {
        Sun::Rises { rise, set } => (at(rise), at(set), false),
        Sun::NeverSets => (None, None, true),
        Sun::NeverRises => (None, None, false),
    };
    Light { sunrise, sunset, minutes_left: light.minutes_left, stays_up }
}

impl From<&OutingRecord> for OutingShown {
    fn from(record: &OutingRecord) -> Self {
        let outing = &record.outing.value;
        Self {
            id: record.id.to_string(),
            place: outing.place.clone(),
            may_pick: outing.permission.unwrap_or(Permission::Unknown).word().to_owned(),
            began: outing.start.map(When::from),
            ended: outing.end.map(When::from),
        }
    }
}
