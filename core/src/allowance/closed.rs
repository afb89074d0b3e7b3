//! Rules about the time: closed days, hours and nights, and patches that rest.

use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ToSpan};

use super::Case;
use super::ruling::{Head, Missing, Ruling};
use super::sun::{Sun, sun};
use super::words;
use crate::code::{
    ClosedDays, ClosedHours, ClosedNight, ClosedSeason, ClosedWeekdays, MonthDay, Names, RestLimit, Weekday,
};
use crate::moment::Moment;

/// No closure by days lasts longer than a year.
const LONGEST_CLOSURE_DAYS: usize = 366;

impl Case<'_> {
    fn today(&self) -> Date {
        self.asked.now.day()
    }

    pub(super) fn closed_days(&self, limit: &ClosedDays) -> Ruling {
        let closed = |day: Date| limit.of_month.iter().any(|range| range.holds(day));
        let days: Vec<String> =
            limit.of_month.iter().map(|days| days.to_string().replace('-', " to ")).collect();
        self.by_day(&format!("the {} of each month", days.join(", ")), closed)
    }

    pub(super) fn closed_weekdays(&self, limit: &ClosedWeekdays) -> Ruling {
        let closed = |day: Date| limit.on.contains(&Weekday::of(day));
        let days: Vec<String> = limit.on.iter().map(|day| words::capital(day.word())).collect();
        self.by_day(&days.join(", "), closed)
    }

    pub(super) fn closed_season(&self, limit: &ClosedSeason) -> Ruling {
        let (from, to) = (limit.from, limit.to);
        let closed = |day: Date| {
            let day = MonthDay::of(day);
            if from <= to { from <= day && day <= to } else { from <= day || day <= to }
        };
        self.by_day(&format!("{} to {}", words::day_of_year(from), words::day_of_year(to)), closed)
    }

    fn by_day(&self, days: &str, closed: impl Fn(Date) -> bool) -> Ruling {
        let today = self.today();
        if !closed(today) {
            return Ruling::not(format!("Closed: {days}. Today is {}.", words::date(today)));
        }
        let open = today.series(1.day()).take(LONGEST_CLOSURE_DAYS).find(|day| !closed(*day));
        let until = open.map_or(String::new(), |day| format!(" Open again on {}.", words::date(day)));
        shut(format!("Closed: {days}. Today is {}.{until}", words::date(today)), "Closed today.").again(open)
    }

    /// Hours of the clock that hangs there: on the day it is put back, an hour of them comes twice.
    pub(super) fn closed_hours(&self, limit: &ClosedHours) -> Ruling {
        let (from, to, now) = (limit.from, limit.to, self.asked.now.time());
        let over_midnight = from > to;
        let closed = if over_midnight { now >= from || now < to } else { from <= now && now < to };
        let text =
            format!("Closed from {} to {}; it is {}.", words::time(from), words::time(to), words::time(now));
        if !closed {
            return Ruling::not(text);
        }
        let opens =
            if over_midnight && now >= from { self.today().tomorrow().ok() } else { Some(self.today()) };
        shut(text, format!("Closed now, until {}.", words::time(to))).again(opens)
    }

    pub(super) fn closed_night(&self, limit: &ClosedNight) -> Ruling {
        let Some(here) = self.asked.site.position else {
            return Ruling::unknown(Missing::Place, "It closes by the sun, and where this is is not known.")
                .leave(Head::Closed, "Still to find out: whether it is night by the sun.")
                .and_no_specimen();
        };
        let now = self.asked.now;
        let minutes = |count: i16| SignedDuration::from_mins(count.into());
        let span = |day: Date| match sun(here, day)? {
            Sun::Rises { rise, set } => {
                let from = rise.checked_sub(minutes(limit.before_sunrise)).ok()?;
                Some((from, set.checked_add(minutes(limit.after_sunset)).ok()?))
            }
            Sun::NeverSets => Some((Timestamp::MIN, Timestamp::MAX)),
            Sun::NeverRises => None,
        };
        let today = self.today();
        // Far north, the light of one day reaches into the next.
        let near = [today.yesterday().ok(), Some(today), today.tomorrow().ok()].into_iter().flatten();
        let light: Vec<(Timestamp, Timestamp)> = near.filter_map(span).collect();
        let open = light.iter().any(|(from, to)| *from <= now.instant() && now.instant() < *to);
        let clock = |instant: Timestamp| words::time(Moment::new(instant, now.offset()).time());
        let text = match span(today).filter(|(from, _)| *from > Timestamp::MIN) {
            Some((from, to)) => {
                format!(
                    "Open from {} to {} today, by the sun; it is {}.",
                    clock(from),
                    clock(to),
                    words::time(now.time())
                )
            }
            None if open => "The sun does not set today.".to_owned(),
            None => "The sun does not rise today.".to_owned(),
        };
        if open {
            return Ruling::not(text);
        }
        let next = light.iter().map(|(from, _)| *from).filter(|from| *from > now.instant()).min();
        shut(text, "Closed by night.").again(next.map(|from| Moment::new(from, now.offset()).day()))
    }

    /// A patch from which something was taken on an earlier visit.
    pub(super) fn rest(&self, limit: &RestLimit, names: &Names) -> Ruling {
        let Some(last) = self.ledger.last_here(names) else {
            return Ruling::not("Nothing was taken here before this visit, as far as is on record.");
        };
        let open = last.checked_add(i64::from(limit.days).days()).unwrap_or(Date::MAX);
        let taken = format!("Something was taken here on {}", words::date(last));
        if self.today() >= open {
            return Ruling::not(format!("{taken}, {} days or more ago.", limit.days));
        }
        resting(format!("{taken}: the patch rests for {} days.", limit.days), open)
    }
}

/// The patch rests until a day.
pub(super) fn resting(text: String, until: Date) -> Ruling {
    let first = format!("The patch rests until {}.", words::date(until));
    Ruling::holds(text).leave(Head::Resting, first).and_no_specimen().again(Some(until))
}

fn shut(text: String, first: impl Into<String>) -> Ruling {
    Ruling::holds(text).leave(Head::Closed, first).and_no_specimen()
}
