//! What was taken already, added up once, so that a hundred rules can ask after it.

use std::collections::HashMap;

use jiff::civil::Date;

use super::asked::{Asked, Take};
use super::facts::Facts;
use crate::code::{Names, Over, Per};
use crate::patch::Season;

/// Sums of what was taken, apart by all that a rule can ask after.
pub(super) struct Ledger<'a> {
    lines: Vec<Line<'a>>,
    /// What half the rules ask after, added up once.
    here_on_this_visit: Sum,
}

/// All takings that no rule can tell apart.
struct Line<'a> {
    fungus: Option<&'a Facts>,
    /// Whether it is, or may be, the fungus asked after.
    same: bool,
    kind: Kind,
    sum: Sum,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash)]
#[allow(clippy::struct_excessive_bools, reason = "each is asked after by itself")]
struct Kind {
    visit: bool,
    day: bool,
    season: bool,
    year: bool,
    here: bool,
    mine: bool,
}

/// What some takings come to.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Sum {
    /// Fruitbodies that were counted.
    pub count: u32,
    /// Takings that nobody counted.
    pub uncounted: u32,
    /// Grams that were weighed.
    pub grams: f64,
    /// Takings that nobody weighed.
    pub unweighed: u32,
    /// Fruitbodies among those.
    pub unweighed_count: u32,
    /// Specimens for study.
    pub specimens: u32,
    /// The heaviest taking of a single fruitbody, in grams.
    pub heaviest_single: f64,
    /// The last day on which something was taken.
    pub last: Option<Date>,
}

impl Sum {
    fn add(&mut self, other: &Self) {
        self.count = self.count.saturating_add(other.count);
        self.uncounted += other.uncounted;
        self.grams += other.grams;
        self.unweighed += other.unweighed;
        self.unweighed_count = self.unweighed_count.saturating_add(other.unweighed_count);
        self.specimens = self.specimens.saturating_add(other.specimens);
        self.heaviest_single = self.heaviest_single.max(other.heaviest_single);
        self.last = self.last.max(other.last);
    }

    fn of(take: &Take) -> Self {
        let grams = take.grams.map_or(0.0, crate::units::Grams::get);
        let took = take.took();
        Self {
            count: take.count.unwrap_or(0),
            uncounted: u32::from(took && take.count.is_none()),
            grams,
            unweighed: u32::from(took && take.grams.is_none()),
            unweighed_count: if take.grams.is_none() { take.count.unwrap_or(0) } else { 0 },
            specimens: take.specimens,
            heaviest_single: if take.count == Some(1) { grams } else { 0.0 },
            last: took.then_some(take.day),
        }
    }

    /// Whether anything was taken for food.
    pub fn is_something(&self) -> bool {
        self.count > 0 || self.uncounted > 0 || self.grams > 0.0
    }
}

impl<'a> Ledger<'a> {
    pub fn of(asked: &Asked<'a>) -> Self {
        let today = asked.now.day();
        let season = Season::of(today);
        let mut sums: HashMap<(Option<usize>, Kind), Sum> = HashMap::new();
        for take in asked.past.takes {
            let day = take.day;
            let kind = Kind {
                visit: take.visit,
                day: day == today,
                season: Season::of(day) == season,
                year: day.year() == today.year(),
                here: take.here,
                mine: take.mine,
            };
            sums.entry((take.fungus, kind)).or_default().add(&Sum::of(take));
        }
        let same = |fungus: &&Facts| asked.fungus.is_none_or(|other| fungus.may_be(other));
        let same: Vec<bool> = asked.past.fungi.iter().map(same).collect();
        let lines = sums.into_iter().map(|((fungus, kind), sum)| Line {
            fungus: fungus.and_then(|at| asked.past.fungi.get(at)).copied(),
            same: fungus.and_then(|at| same.get(at)).copied().unwrap_or(true),
            kind,
            sum,
        });
        let mut lines: Vec<Line<'a>> = lines.collect();
        // Grams are added in a fixed order, so that the last bit of a sum never depends on chance.
        lines.sort_by(|one, other| one.sum.grams.total_cmp(&other.sum.grams));
        let mut ledger = Self { lines, here_on_this_visit: Sum::default() };
        ledger.here_on_this_visit = ledger.sum(|line| line.same && line.kind.here && line.kind.visit);
        ledger
    }

    fn sum(&self, wanted: impl Fn(&Line<'a>) -> bool) -> Sum {
        let mut sum = Sum::default();
        self.lines.iter().filter(|line| wanted(line)).for_each(|line| sum.add(&line.sum));
        sum
    }

    /// Of this species, from here, on this visit, by anybody.
    pub fn here_on_this_visit(&self) -> Sum {
        self.here_on_this_visit
    }

    /// What a rule adds up. What had no name may be anything, and counts.
    pub fn over(&self, over: Over, per: Per, names: &Names) -> Sum {
        self.sum(|line| {
            let of = match over {
                Over::Person => line.kind.mine,
                Over::Species => line.kind.mine && line.same,
                Over::Patch => line.kind.here,
            };
            of && line.kind.within(per) && line.fungus.is_none_or(|fungus| names.hold(fungus))
        })
    }

    /// The last day before this visit on which anybody took of these from here.
    pub fn last_here(&self, names: &Names) -> Option<Date> {
        let spoken_of = |line: &Line<'a>| line.fungus.is_none_or(|fungus| names.hold(fungus));
        self.sum(|line| line.kind.here && !line.kind.visit && spoken_of(line)).last
    }
}

impl Kind {
    fn within(self, per: Per) -> bool {
        match per {
            Per::Visit => self.visit,
            Per::Day => self.day,
            Per::Season => self.season,
            Per::Year => self.year,
        }
    }
}
