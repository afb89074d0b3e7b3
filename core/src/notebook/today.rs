//! Today: the outing, the basket, the light, the patches near, and what waits to be settled.

use std::collections::BTreeMap;

use jiff::SignedDuration;

use super::{FindRecord, Notebook, OutingRecord, PatchRecord, Question};
use crate::allowance::{Facts, GoesBy, Light, Reason, goes_by, light};
use crate::error::Error;
use crate::find::{Find, Got, Whereabouts};
use crate::moment::Moment;
use crate::pack::Pack;
use crate::patch::{Amounts, Look};
use crate::place::{Position, bearing, distance};
use crate::store::{Criteria, Span, Within};
use crate::units::Metres;

/// Patches farther off than this are not near: some twenty minutes on foot (common practice, no source).
const NEAR_METRES: f64 = 1500.0;
/// How many patches are shown.
const PATCHES: usize = 8;
/// A find not settled after so many days waits for nothing any more: it has rotted (common practice, no source).
const WAITS_DAYS: i64 = 14;

/// Everything about today.
#[derive(Debug, Clone)]
pub struct Today {
    /// Now.
    pub now: Moment,
    /// The outing that is on.
    pub outing: Option<OutingRecord>,
    /// What is carried, of each fungus.
    pub basket: Vec<Carried>,
    /// What limits all of it together.
    pub limits: Vec<Reason>,
    /// The light that is left; `None` if nobody knows where.
    pub light: Option<Light>,
    /// The patches near, nearest first.
    pub patches: Vec<NearPatch>,
    /// What waits to be settled, the longest first.
    pub waiting: Vec<Waiting>,
    /// The finds of the outing, or of the day where none is on; the latest first.
    pub finds: Vec<(FindRecord, GoesBy)>,
}

/// What is carried of one fungus.
#[derive(Debug, Clone, PartialEq)]
pub struct Carried {
    /// The name on record; `None` for what has none.
    pub name: Option<String>,
    /// How much.
    pub amounts: Amounts,
    /// What limits this fungus by itself.
    pub limits: Vec<Reason>,
}

/// A patch, and the way there.
#[derive(Debug, Clone, PartialEq)]
pub struct NearPatch {
    /// The patch.
    pub record: PatchRecord,
    /// How far its middle is.
    pub distance: Metres,
    /// Which way, in degrees clockwise from true north; `None` if it is here.
    pub bearing: Option<f64>,
    /// The latest look at it.
    pub last_look: Option<Look>,
}

/// A find that waits to be settled.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiting {
    /// The find.
    pub record: FindRecord,
    /// What it goes by meanwhile.
    pub goes_by: GoesBy,
    /// What for.
    pub waits_for: WaitsFor,
    /// Since when.
    pub since: Option<Moment>,
}

/// What a find waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WaitsFor {
    /// A specimen was taken, and something still fits beside its name: a spore print.
    SporePrint,
    /// Something still fits beside its name.
    Settling,
    /// A name.
    Name,
}

impl Waiting {
    /// How many nights have passed since.
    #[must_use]
    pub fn nights(&self, now: Moment) -> u32 {
        let days =
            self.since.map_or(0, |since| since.day().until(now.day()).map_or(0, |span| span.get_days()));
        u32::try_from(days).unwrap_or(0)
    }
}

impl Notebook {
    /// Everything about today, seen from here if somebody knows where that is.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn today(&self, pack: &Pack, here: Option<Position>) -> Result<Today, Error> {
        let now = self.now();
        let outing = self.current_outing()?;
        let finds = self.finds_of_today(pack, outing.as_ref(), now)?;
        let last_seen = || finds.iter().find_map(|(record, _)| record.find.value.position.as_ref());
        let lit = here.or_else(|| last_seen().map(|at| at.position));
        let (basket, limits) = self.basket(pack, outing.as_ref(), here, now)?;
        Ok(Today {
            now,
            basket,
            limits,
            light: lit.and_then(|at| light(at, now)),
            patches: here.map_or(Ok(Vec::new()), |here| self.patches_near(here))?,
            waiting: self.waiting(pack, now)?,
            finds,
            outing,
        })
    }

    fn finds_of_today(
        &self,
        pack: &Pack,
        outing: Option<&OutingRecord>,
        now: Moment,
    ) -> Result<Vec<(FindRecord, GoesBy)>, Error> {
        let criteria = match outing {
            Some(outing) => Criteria { outing: Some(outing.id), ..Criteria::default() },
            None => Criteria { from: Some(now.millis() - 86_400_000), ..Criteria::default() },
        };
        let of_today = |record: &FindRecord| {
            outing.is_some() || record.find.value.at.is_some_and(|at| at.day() == now.day())
        };
        let finds = self.finds(&criteria)?.into_iter().rev().filter(of_today);
        Ok(finds.map(|record| (named(pack, &record), record)).map(|(name, record)| (record, name)).collect())
    }

    /// What the owner has taken on this outing, or on this day where none is on, and what limits it.
    fn basket(
        &self,
        pack: &Pack,
        outing: Option<&OutingRecord>,
        here: Option<Position>,
        now: Moment,
    ) -> Result<(Vec<Carried>, Vec<Reason>), Error> {
        let began = outing.and_then(|outing| outing.outing.value.start).map_or(now, |start| start.min(now));
        let tallies = self.tallies(&Span { from: began.day(), to: now.day(), patch: None })?;
        let on = outing.map(|outing| outing.id);
        let mut carried: BTreeMap<Option<String>, Amounts> = BTreeMap::new();
        for tally in tallies.into_iter().filter(|tally| tally.by.is_none() && tally.outing == on) {
            if tally.amounts.any_taken() {
                *carried.entry(tally.taxon).or_default() += tally.amounts;
            }
        }
        let asked = |name: Option<&String>| Question {
            find: Find {
                outing: on,
                position: here.map(|position| Whereabouts { position, got: Got::Fix }),
                ..Find::default()
            },
            taxon: name.cloned(),
            ..Question::default()
        };
        let limits = self.basket_limits(pack, &asked(None))?;
        let mut basket = Vec::with_capacity(carried.len());
        for (name, amounts) in carried {
            let known = name.as_ref().filter(|name| Facts::named(pack, name).is_some());
            let limits = match known {
                Some(_) => self.basket_limits(pack, &asked(known))?,
                None => Vec::new(),
            };
            basket.push(Carried { name, amounts, limits });
        }
        Ok((basket, limits))
    }

    fn patches_near(&self, here: Position) -> Result<Vec<NearPatch>, Error> {
        let within = Within { of: here, metres: Metres::nearest(NEAR_METRES) };
        let near = self.patches(&Criteria { within: Some(within), ..Criteria::default() })?;
        let mut patches = Vec::new();
        for record in near.into_iter().filter(|record| !record.patch.deleted).take(PATCHES) {
            let Some(centre) = record.patch.value.centre else { continue };
            let last_look = self.last_look(record.id)?;
            let (distance, bearing) = (distance(here, centre), bearing(here, centre));
            patches.push(NearPatch { record, distance, bearing, last_look });
        }
        Ok(patches)
    }

    fn waiting(&self, pack: &Pack, now: Moment) -> Result<Vec<Waiting>, Error> {
        let since = now.instant().checked_sub(SignedDuration::from_hours(24 * WAITS_DAYS));
        let from = since.map_or(i64::MIN, jiff::Timestamp::as_millisecond);
        let finds = self.finds(&Criteria { from: Some(from), ..Criteria::default() })?;
        let waiting = finds.into_iter().filter(|record| !record.find.deleted).filter_map(|record| {
            let goes_by = named(pack, &record);
            let find = &record.find.value;
            let waits_for = match (&goes_by.name, goes_by.how) {
                (_, Some(_)) => return None,
                _ if find.specimens.unwrap_or(0) > 0 => WaitsFor::SporePrint,
                (Some(_), None) => WaitsFor::Settling,
                (None, None) => WaitsFor::Name,
            };
            let since = find.at;
            Some(Waiting { record, goes_by, waits_for, since })
        });
        Ok(waiting.collect())
    }
}

/// What a find goes by.
pub(super) fn named(pack: &Pack, record: &FindRecord) -> GoesBy {
    goes_by(pack, record.determinations.iter().map(|one| &one.determination.value))
}
