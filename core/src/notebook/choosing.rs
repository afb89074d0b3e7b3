//! Which finds are meant: one, those of an outing, a patch, a span of days, or all.

use jiff::civil::Date;
use jiff::tz::Offset;
use jiff::{Span, Timestamp, ToSpan};

use super::record::Kept;
use super::{Notebook, kind};
use crate::error::Error;
use crate::find::Find;
use crate::id::{FindId, OutingId, PatchId};
use crate::store::{Criteria, Record};

/// How far, in days, the day that a clock showed may be from the day in UTC: offsets go up to 26 hours.
const OFFSET_DAYS: i64 = 2;
/// How many days are meant where nobody says which: a week.
const USUAL_DAYS: i64 = 7;

/// Which finds are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// All there are.
    All,
    /// This one.
    Find(FindId),
    /// Those of an outing.
    Outing(OutingId),
    /// Those of a patch, and of those that were merged into it.
    Patch(PatchId),
    /// Those of the days from one to another, both included, as the clock that was carried showed them.
    Days {
        /// The first.
        from: Date,
        /// The last.
        to: Date,
    },
}

impl Notebook {
    /// The finds that are meant, by time; deleted ones are not among them.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a find, outing or patch that is not there, or is deleted.
    pub fn meant(&self, which: Which) -> Result<Vec<FindId>, Error> {
        match which {
            Which::All => Ok(self.read(|view| view.ids(kind::FIND))?.into_iter().map(FindId::from).collect()),
            Which::Find(id) => self.chosen_ids(Some(&[id])),
            Which::Outing(id) => {
                if self.outing(id)?.outing.deleted {
                    return Err(Error::NotFound { what: "outing" });
                }
                self.ids_of(&Criteria { outing: Some(id), ..Criteria::default() }, |_| true)
            }
            Which::Patch(id) => {
                let id = self.standing_patch(id)?;
                if self.patch(id)?.patch.deleted {
                    return Err(Error::NotFound { what: "patch" });
                }
                self.ids_of(&Criteria { patch: Some(id), ..Criteria::default() }, |_| true)
            }
            Which::Days { from, to } => {
                let moved = |day: Date, by: Span| {
                    let midnight = day.saturating_add(by).at(0, 0, 0, 0);
                    Offset::UTC.to_timestamp(midnight).ok().map(Timestamp::as_millisecond)
                };
                let criteria = Criteria {
                    from: moved(from, -OFFSET_DAYS.days()),
                    until: moved(to, (OFFSET_DAYS + 1).days()),
                    ..Criteria::default()
                };
                let between = |record: &Record| {
                    let at = Kept::<Find>::from(record).value.at;
                    at.is_some_and(|at| (from..=to).contains(&at.day()))
                };
                self.ids_of(&criteria, between)
            }
        }
    }

    fn ids_of(&self, criteria: &Criteria, wanted: impl Fn(&Record) -> bool) -> Result<Vec<FindId>, Error> {
        self.read(|view| {
            let records = view.matching(kind::FIND, criteria)?;
            Ok(records.iter().filter(|record| wanted(record)).map(|record| record.id.into()).collect())
        })
    }

    /// What is meant where nobody has said: the outing that is on, else the latest one, if anything was found on it; else all.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn usually_meant(&self) -> Result<Which, Error> {
        let outing = match self.current_outing()? {
            Some(outing) => Some(outing),
            None => self.outings()?.pop(),
        };
        let Some(outing) = outing else { return Ok(Which::All) };
        let which = Which::Outing(outing.id);
        Ok(if self.meant(which)?.is_empty() { Which::All } else { which })
    }

    /// A span of days, in order; where an end is not given it is today, or what makes a week with the other.
    #[must_use]
    pub fn days_meant(&self, from: Option<Date>, to: Option<Date>) -> Which {
        let to = to.unwrap_or_else(|| self.now().day());
        let from = from.unwrap_or_else(|| to.saturating_sub((USUAL_DAYS - 1).days()));
        Which::Days { from: from.min(to), to: from.max(to) }
    }
}
