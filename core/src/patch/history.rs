//! A patch's history: every look at it, season by season, the looks that found nothing included.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use serde::Serialize;

use super::{Amounts, Outcome, Season, Tally, Visit};
use crate::id::OutingId;

/// One look at a patch and what came of it: all that was found there on one outing, or, without one, on one day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Look {
    /// The day; the first, if the outing went past midnight.
    pub day: Date,
    /// The outing, if it was part of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outing: Option<OutingId>,
    /// What came of it: as the finds tell, or, without any, as the visit was noted.
    pub outcome: Outcome,
    /// The names that stand for what was found.
    pub taxa: BTreeSet<String>,
    /// Who gathered or looked, the owner aside.
    pub by: BTreeSet<String>,
    /// What was written down about the look itself.
    pub notes: Vec<String>,
    /// How much.
    #[serde(flatten)]
    pub amounts: Amounts,
}

impl Look {
    /// Whether a find is part of it: made on its outing, or, without one, on its day.
    #[must_use]
    pub fn holds(&self, outing: Option<OutingId>, day: Date) -> bool {
        match self.outing {
            Some(own) => outing == Some(own),
            None => outing.is_none() && day == self.day,
        }
    }
}

/// One season at a patch.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeasonAtPatch {
    /// Which.
    pub season: Season,
    /// How often it was looked at.
    pub looked: u32,
    /// How often nothing was there.
    pub nothing: u32,
    /// What the season came to. The same fruitbodies seen at two looks count twice: nobody can tell.
    #[serde(flatten)]
    pub amounts: Amounts,
    /// The looks, the latest first.
    pub looks: Vec<Look>,
}

/// What makes finds and visits one look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Occasion {
    Outing(OutingId),
    Day(Date),
}

impl Occasion {
    fn of(outing: Option<OutingId>, day: Date) -> Self {
        outing.map_or(Self::Day(day), Self::Outing)
    }
}

/// The looks at one patch, the latest first, from what its finds come to and the visits that were noted.
///
/// A visit says no more than the finds of the same look: "nothing" noted in the morning gives way to a find made later on
/// the same walk. Visits without a time are left out.
#[must_use]
pub fn looks(tallies: &[Tally], visits: &[Visit]) -> Vec<Look> {
    let mut looks: BTreeMap<Occasion, Look> = BTreeMap::new();
    let mut at =
        |outing: Option<OutingId>, day: Date, by: Option<&String>, change: &mut dyn FnMut(&mut Look)| {
            let look = looks.entry(Occasion::of(outing, day)).or_insert_with(|| Look {
                day,
                outing,
                outcome: Outcome::Nothing,
                taxa: BTreeSet::new(),
                by: BTreeSet::new(),
                notes: Vec::new(),
                amounts: Amounts::default(),
            });
            look.day = look.day.min(day);
            look.by.extend(by.cloned());
            change(look);
        };
    for tally in tallies {
        at(tally.outing, tally.day, tally.by.as_ref(), &mut |look| {
            look.taxa.extend(tally.taxon.clone());
            look.amounts += tally.amounts;
        });
    }
    for visit in visits {
        let Some(day) = visit.at.map(crate::moment::Moment::day) else { continue };
        at(visit.outing, day, visit.by.as_ref(), &mut |look| {
            look.outcome = look.outcome.max(visit.outcome.unwrap_or(Outcome::Nothing));
            look.notes.extend(visit.note.clone());
        });
    }
    let mut looks: Vec<Look> = looks.into_values().collect();
    for look in &mut looks {
        if look.amounts.finds > 0 {
            look.outcome = match look.amounts {
                found if found.any_taken() => Outcome::Taken,
                found if found.seen.is_none() => Outcome::Nothing,
                _ => Outcome::Seen,
            };
        }
    }
    looks.sort_by_key(|look| std::cmp::Reverse((look.day, look.outing)));
    looks
}

/// The same, season by season, the latest first.
#[must_use]
pub fn history(tallies: &[Tally], visits: &[Visit]) -> Vec<SeasonAtPatch> {
    let mut seasons: Vec<SeasonAtPatch> = Vec::new();
    for look in looks(tallies, visits) {
        let season = Season::of(look.day);
        if seasons.last().is_none_or(|last| last.season != season) {
            let amounts = Amounts::default();
            seasons.push(SeasonAtPatch { season, looked: 0, nothing: 0, amounts, looks: Vec::new() });
        }
        if let Some(last) = seasons.last_mut() {
            last.looked += 1;
            last.nothing += u32::from(look.outcome == Outcome::Nothing);
            last.amounts += look.amounts;
            last.looks.push(look);
        }
    }
    seasons
}
