//! Days and times as people write them, by this device's clock.

use std::str::FromStr;

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{Span, ZonedDateTime};
use trug::moment::Moment;

const HOW_MOMENT: &str = "write a time like \"18 Oct 14:05\", 14:05 for today, yesterday, \"2026-10-18 14:05\" by this device's clock, or \
                          2026-10-18T14:05:09+01:00";
const HOW_DAY: &str = "write a day like \"18 Oct\", 18/10/2026, 2026-10-18, tomorrow or \"in 2 weeks\"";

/// A time with its offset, or a plain one by this device's clock.
pub fn moment(text: &str) -> Result<Moment, String> {
    if let Ok(moment) = text.parse() {
        return Ok(moment);
    }
    let zone = TimeZone::system();
    let plain = plain(text, ZonedDateTime::now().date()).ok_or(HOW_MOMENT)?;
    let instant = zone.to_ambiguous_timestamp(plain).compatible().map_err(|_| HOW_MOMENT)?;
    Ok(Moment::in_zone(instant, &zone))
}

/// A day.
pub fn day(text: &str) -> Result<Date, String> {
    read_day(text, ZonedDateTime::now().date()).ok_or_else(|| HOW_DAY.to_owned())
}

/// A day and a time, a day alone (its beginning), or a time alone (of today).
fn plain(text: &str, today: Date) -> Option<DateTime> {
    let text = text.trim();
    if let Ok(plain) = DateTime::from_str(&text.replacen(' ', "T", 1)) {
        return Some(plain);
    }
    if let Some(time) = clock(text) {
        return Some(today.to_datetime(time));
    }
    if let Some((day, time)) = text.rsplit_once(' ')
        && let Some(time) = clock(time)
    {
        return Some(read_day(day, today)?.to_datetime(time));
    }
    Some(read_day(text, today)?.to_datetime(Time::midnight()))
}

/// "14:05", "9.30".
fn clock(text: &str) -> Option<Time> {
    let (hour, minute) = text.split_once([':', '.'])?;
    let two = |part: &str| (part.len() <= 2).then(|| part.parse::<i8>().ok()).flatten();
    if minute.len() == 2 { Time::new(two(hour)?, two(minute)?, 0, 0).ok() } else { None }
}

fn read_day(text: &str, today: Date) -> Option<Date> {
    let text = text.trim().to_lowercase();
    match text.as_str() {
        "today" => return Some(today),
        "yesterday" => return today.yesterday().ok(),
        "tomorrow" => return today.tomorrow().ok(),
        _ => {}
    }
    if let Ok(day) = Date::strptime("%Y-%m-%d", &text) {
        return Some(day);
    }
    if let Some(wait) = text.strip_prefix("in ") {
        return today.checked_add(span(wait)?).ok();
    }
    let parts: Vec<&str> = text.split([' ', '/', '.', '-', ',']).filter(|part| !part.is_empty()).collect();
    match *parts.as_slice() {
        [day, month] => nearest(number(day)?, month_of(month)?, today),
        [day, month, year] => {
            let year: i16 = year.parse().ok().filter(|_| year.len() == 4)?;
            Date::new(year, month_of(month)?, number(day)?).ok()
        }
        _ => None,
    }
}

/// "14 days", "2 weeks", "a month".
fn span(text: &str) -> Option<Span> {
    let (many, what) = text.trim().split_once(' ')?;
    let many: i64 = match many {
        "a" | "one" => 1,
        number => number.parse().ok().filter(|n| (0..=1000).contains(n))?,
    };
    match what.trim().trim_end_matches('s') {
        "day" => Some(Span::new().days(many)),
        "week" => Some(Span::new().weeks(many)),
        "month" => Some(Span::new().months(many)),
        _ => None,
    }
}

/// Without a year the nearest is meant: on 5 January, "14 Nov" was last year.
fn nearest(day: i8, month: i8, today: Date) -> Option<Date> {
    let years = [today.year().checked_sub(1)?, today.year(), today.year().checked_add(1)?];
    let days = years.into_iter().filter_map(|year| Date::new(year, month, day).ok());
    days.min_by_key(|day| today.until(*day).map_or(i32::MAX, |span| span.get_days().abs()))
}

/// "18", "18th".
fn number(text: &str) -> Option<i8> {
    text.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse().ok()
}

/// "10", "oct", "october".
fn month_of(text: &str) -> Option<i8> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let named = || MONTHS.iter().position(|month| text.len() >= 3 && month.starts_with(text));
    text.parse().ok().or_else(|| named().and_then(|at| i8::try_from(at + 1).ok()))
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn days_as_people_write_them() {
        let today = date(2026, 11, 25);
        for (text, expected) in [
            ("2026-10-18", date(2026, 10, 18)),
            ("18/10/2026", date(2026, 10, 18)),
            ("18.10.2026", date(2026, 10, 18)),
            ("18 October 2026", date(2026, 10, 18)),
            ("18th oct", date(2026, 10, 18)),
            ("5 Jan", date(2027, 1, 5)),
            ("1/3", date(2027, 3, 1)),
            ("Yesterday", date(2026, 11, 24)),
            ("tomorrow", date(2026, 11, 26)),
            ("in 14 days", date(2026, 12, 9)),
            ("in a month", date(2026, 12, 25)),
        ] {
            assert_eq!(read_day(text, today), Some(expected), "{text}");
        }
        assert_eq!(
            read_day("14 Nov", date(2027, 1, 5)),
            Some(date(2026, 11, 14)),
            "the nearest, without a year"
        );
        for text in ["", "soon", "31/11/2026", "10/18/2026", "18 10 26", "in -3 days", "in 5 lightyears", "é"]
        {
            assert_eq!(read_day(text, today), None, "{text}");
        }
    }

    #[test]
    fn times_as_people_write_them() {
        let today = date(2026, 11, 25);
        for (text, expected) in [
            ("2026-10-18 14:05", date(2026, 10, 18).at(14, 5, 0, 0)),
            ("2026-10-18T14:05:09", date(2026, 10, 18).at(14, 5, 9, 0)),
            ("18 Oct 9:05", date(2026, 10, 18).at(9, 5, 0, 0)),
            ("yesterday 16.30", date(2026, 11, 24).at(16, 30, 0, 0)),
            ("14:05", today.at(14, 5, 0, 0)),
            ("18 Oct", date(2026, 10, 18).at(0, 0, 0, 0)),
        ] {
            assert_eq!(plain(text, today), Some(expected), "{text}");
        }
        for text in ["25:00", "14:5", "yesterday 14:61", "noon", ""] {
            assert_eq!(plain(text, today), None, "{text}");
        }
    }
}
