//! The small values that rules are made of, each read from a text and refused where it is written.

use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A text that does not say what was wanted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is not {what}: write it like {example}")]
pub struct NotAValue {
    /// What was given.
    pub given: String,
    /// What was wanted.
    pub what: &'static str,
    /// How to write it.
    pub example: &'static str,
}

macro_rules! written {
    ($name:ident, $what:literal, $example:literal) => {
        impl FromStr for $name {
            type Err = NotAValue;

            fn from_str(text: &str) -> Result<Self, NotAValue> {
                Self::parse(text.trim()).ok_or_else(|| NotAValue {
                    given: text.to_owned(),
                    what: $what,
                    example: $example,
                })
            }
        }

        impl TryFrom<String> for $name {
            type Error = NotAValue;
            fn try_from(text: String) -> Result<Self, NotAValue> {
                text.parse()
            }
        }

        impl From<$name> for String {
            fn from(value: $name) -> Self {
                value.to_string()
            }
        }
    };
}

/// A share of what is there: `1/2`. More than nothing and at most all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Share {
    part: u32,
    of: u32,
}
written!(Share, "a share", "1/2");

impl Share {
    /// So many parts of so many; `None` unless more than nothing and at most all.
    #[must_use]
    pub fn new(part: u32, of: u32) -> Option<Self> {
        (part > 0 && part <= of && of <= 1000).then_some(Self { part, of })
    }

    fn parse(text: &str) -> Option<Self> {
        let (part, of) = text.split_once('/')?;
        Self::new(part.trim().parse().ok()?, of.trim().parse().ok()?)
    }

    /// This share of a number, in whole parts and the rest: 7 by 1/2 is 3 and 1 of 2.
    #[must_use]
    pub fn of(self, number: u32) -> (u32, u32) {
        let parts = u64::from(number) * u64::from(self.part);
        let of = u64::from(self.of);
        let whole = u32::try_from(parts / of).unwrap_or(u32::MAX);
        (whole, u32::try_from(parts % of).unwrap_or(0))
    }

    /// What it is a part of: 2 of `1/2`.
    #[must_use]
    pub fn denominator(self) -> u32 {
        self.of
    }

    /// How people say it: `half`, `a third`, `2/5`.
    #[must_use]
    pub fn in_words(self) -> String {
        match (self.part, self.of) {
            (part, of) if part == of => "all".into(),
            (1, 2) => "half".into(),
            (1, 3) => "a third".into(),
            (2, 3) => "two thirds".into(),
            (1, 4) => "a quarter".into(),
            (3, 4) => "three quarters".into(),
            (1, 10) => "a tenth".into(),
            _ => self.to_string(),
        }
    }
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.part, self.of)
    }
}

/// Days of every month, both included: `1-10`, or a single one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct DayRange {
    /// The first.
    pub from: i8,
    /// The last.
    pub to: i8,
}
written!(DayRange, "a range of days of the month", "1-10");

impl DayRange {
    fn parse(text: &str) -> Option<Self> {
        let (from, to) = text.split_once('-').unwrap_or((text, text));
        let (from, to) = (from.trim().parse().ok()?, to.trim().parse().ok()?);
        (1 <= from && from <= to && to <= 31).then_some(Self { from, to })
    }

    /// Whether a day is among them.
    #[must_use]
    pub fn holds(self, day: Date) -> bool {
        (self.from..=self.to).contains(&day.day())
    }
}

impl fmt::Display for DayRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.from == self.to { self.from.fmt(f) } else { write!(f, "{}-{}", self.from, self.to) }
    }
}

/// A day of every year: `12-15` for 15 December.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct MonthDay {
    /// 1 to 12.
    pub month: i8,
    /// 1 to 31.
    pub day: i8,
}
written!(MonthDay, "a day of the year", "12-15, the month first");

impl MonthDay {
    /// Of a date.
    #[must_use]
    pub fn of(date: Date) -> Self {
        Self { month: date.month(), day: date.day() }
    }

    fn parse(text: &str) -> Option<Self> {
        let (month, day) = text.split_once('-')?;
        // A leap year, so that 29 February can be written.
        Date::new(2024, month.parse().ok()?, day.parse().ok()?).ok().map(Self::of)
    }
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

/// A date as far as it is known: `1998-09-03`, `1998-09` or `1998`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct PartialDate {
    year: i16,
    month: Option<i8>,
    day: Option<i8>,
}
written!(PartialDate, "a date", "1998-09-03, 1998-09 or 1998");

impl PartialDate {
    /// The year.
    #[must_use]
    pub fn year(self) -> i16 {
        self.year
    }

    fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let year: i16 = parts.next().filter(|year| year.len() == 4)?.parse().ok()?;
        let month = parts.next().map(str::parse).transpose().ok()?;
        let day = parts.next().map(str::parse).transpose().ok()?;
        let real = Date::new(year, month.unwrap_or(1), day.unwrap_or(1)).is_ok();
        (real && parts.next().is_none()).then_some(Self { year, month, day })
    }
}

impl fmt::Display for PartialDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}", self.year)?;
        for part in [self.month, self.day].into_iter().flatten() {
            write!(f, "-{part:02}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_reckoned_in_whole_parts() {
        let half: Share = "1/2".parse().unwrap();
        assert_eq!([1, 2, 3, 7, 10].map(|n| half.of(n)), [(0, 1), (1, 0), (1, 1), (3, 1), (5, 0)]);
        for bad in ["0/2", "3/2", "1", "half", "1/0", "-1/2", "1/2000", ""] {
            assert!(bad.parse::<Share>().is_err(), "{bad}");
        }
        assert_eq!(serde_json::to_string(&half).unwrap(), "\"1/2\"");
    }

    #[test]
    fn days_that_no_calendar_has_are_refused() {
        for bad in ["0", "10-1", "1-32", "first"] {
            assert!(bad.parse::<DayRange>().is_err(), "{bad}");
        }
        for bad in ["13-01", "02-30", "5", "00-10"] {
            assert!(bad.parse::<MonthDay>().is_err(), "{bad}");
        }
        for bad in ["98", "1998-13", "1998-02-30", "1998-01-01-01"] {
            assert!(bad.parse::<PartialDate>().is_err(), "{bad}");
        }
        for good in ["1998-09-03", "1998-09", "1998"] {
            assert_eq!(good.parse::<PartialDate>().unwrap().to_string(), good);
        }
        assert!("02-29".parse::<MonthDay>().is_ok());
    }
}
