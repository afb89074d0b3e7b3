//! Ranges in the trade's bracket notation: `(10–)20–70(–100)`.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A text that is not a range in bracket notation.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotARange {
    /// The notation is not followed.
    #[error("not a range: write it like 20–70 or (10–)20–70(–100)")]
    Notation,
    /// A bound is below the one before it.
    #[error("the bounds are not in order: each must be at least the one before it")]
    Order,
    /// A millimetre figure beyond what a fruitbody reaches.
    #[error("out of range: give millimetres from 0 to 2000")]
    Millimetres,
    /// Not a month.
    #[error("out of range: give months from 1 to 12")]
    Month,
}

/// A range of millimetres: usual bounds, and rarely reached ones.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct NumberRange {
    /// The least ever given.
    pub least: f32,
    /// The lower usual bound.
    pub low: f32,
    /// The upper usual bound.
    pub high: f32,
    /// The most ever given.
    pub most: f32,
}

impl NumberRange {
    /// Whether the two, rare bounds included, share a value.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.least <= other.most && other.least <= self.most
    }
}

impl FromStr for NumberRange {
    type Err = NotARange;

    fn from_str(text: &str) -> Result<Self, NotARange> {
        let [least, low, high, most] = bounds(text)?.map(|bound| bound.parse::<f32>().unwrap_or(f32::NAN));
        if [least, low, high, most].iter().any(|bound| bound.is_nan()) {
            return Err(NotARange::Notation);
        }
        if most > 2000.0 {
            return Err(NotARange::Millimetres);
        }
        if least > low || low > high || high > most {
            return Err(NotARange::Order);
        }
        Ok(Self { least, low, high, most })
    }
}

impl fmt::Display for NumberRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least < self.low {
            write!(f, "({}–)", self.least)?;
        }
        write!(f, "{}–{}", self.low, self.high)?;
        if self.most > self.high {
            write!(f, "(–{})", self.most)?;
        }
        Ok(())
    }
}

/// Months from one to another, over the turn of the year if need be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct MonthRange {
    /// The earliest month seldom seen.
    pub least: u8,
    /// The first usual month.
    pub low: u8,
    /// The last usual month.
    pub high: u8,
    /// The latest month seldom seen.
    pub most: u8,
}

impl MonthRange {
    /// Whether this month is usual.
    #[must_use]
    pub fn is_usual(self, month: u8) -> bool {
        within(self.low, self.high, month)
    }

    /// Whether it is seen at all in this month.
    #[must_use]
    pub fn is_seen(self, month: u8) -> bool {
        self.is_usual(month) || within(self.least, self.low, month) || within(self.high, self.most, month)
    }
}

/// Whether a month lies from one to another, counting forward.
fn within(from: u8, to: u8, month: u8) -> bool {
    if from <= to { (from..=to).contains(&month) } else { month >= from || month <= to }
}

impl FromStr for MonthRange {
    type Err = NotARange;

    fn from_str(text: &str) -> Result<Self, NotARange> {
        let [least, low, high, most] = bounds(text)?.map(|bound| bound.parse::<u8>().unwrap_or(0));
        if [least, low, high, most].iter().any(|month| !(1..=12).contains(month)) {
            return Err(NotARange::Month);
        }
        // Counted forward from the earliest, the four follow each other within one year.
        let after = |month: u8| (month + 12 - least) % 12;
        if after(low) > after(high) || after(high) > after(most) {
            return Err(NotARange::Order);
        }
        Ok(Self { least, low, high, most })
    }
}

impl fmt::Display for MonthRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least != self.low {
            write!(f, "({}–)", self.least)?;
        }
        write!(f, "{}–{}", self.low, self.high)?;
        if self.most != self.high {
            write!(f, "(–{})", self.most)?;
        }
        Ok(())
    }
}

/// The four bounds of a range as texts; bounds not given repeat their neighbour.
fn bounds(text: &str) -> Result<[&str; 4], NotARange> {
    let text = text.trim();
    let (least, rest) = match text.strip_prefix('(').and_then(|rest| rest.split_once(')')) {
        Some((least, rest)) => (Some(without_dash(least, str::strip_suffix)?), rest),
        None => (None, text),
    };
    let (rest, most) = match rest.strip_suffix(')').and_then(|rest| rest.rsplit_once('(')) {
        Some((rest, most)) => (rest, Some(without_dash(most, str::strip_prefix)?)),
        None => (rest, None),
    };
    let (low, high) = rest.split_once(['–', '-']).unwrap_or((rest, rest));
    let all = [least.unwrap_or(low), low, high, most.unwrap_or(high)].map(str::trim);
    let is_number = |bound: &&str| bound.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    if all.iter().all(|bound| !bound.is_empty() && is_number(bound)) {
        Ok(all)
    } else {
        Err(NotARange::Notation)
    }
}

/// The bound inside a bracket, its dash taken off.
fn without_dash<'a>(
    bound: &'a str,
    strip: fn(&'a str, char) -> Option<&'a str>,
) -> Result<&'a str, NotARange> {
    strip(bound, '–').or_else(|| strip(bound, '-')).ok_or(NotARange::Notation)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bracket_notation_reads_and_prints_back() {
        for (text, bounds) in [
            ("(10–)20–70(–100)", [10.0, 20.0, 70.0, 100.0]),
            ("20–70", [20.0, 20.0, 70.0, 70.0]),
            ("(2.5–)3–4", [2.5, 3.0, 4.0, 4.0]),
            ("20–70(–100)", [20.0, 20.0, 70.0, 100.0]),
        ] {
            let range: NumberRange = text.parse().unwrap();
            let [least, low, high, most] = bounds;
            assert_eq!(range, NumberRange { least, low, high, most }, "{text}");
            assert_eq!(range.to_string(), text);
        }
        assert_eq!("(10-)20-70(-100)".parse::<NumberRange>(), "(10–)20–70(–100)".parse());
    }

    #[test]
    fn slips_of_the_pen_are_named() {
        for (text, error) in [
            ("", NotARange::Notation),
            ("twenty", NotARange::Notation),
            ("(10)20–70", NotARange::Notation),
            ("20–70–90", NotARange::Notation),
            ("-5–3", NotARange::Notation),
            ("inf–inf", NotARange::Notation),
            ("70–20", NotARange::Order),
            ("(30–)20–70", NotARange::Order),
            ("20–9000", NotARange::Millimetres),
        ] {
            assert_eq!(text.parse::<NumberRange>(), Err(error), "{text}");
        }
    }

    #[test]
    fn months_run_over_the_turn_of_the_year() {
        let winter: MonthRange = "(9–)10–3(–4)".parse().unwrap();
        let usual: Vec<u8> = (1..=12).filter(|month| winter.is_usual(*month)).collect();
        let seen: Vec<u8> = (1..=12).filter(|month| winter.is_seen(*month)).collect();
        assert_eq!((usual, seen), (vec![1, 2, 3, 10, 11, 12], vec![1, 2, 3, 4, 9, 10, 11, 12]));
        assert_eq!(winter.to_string(), "(9–)10–3(–4)");
        assert!((1..=12).all(|month| "1–12".parse::<MonthRange>().unwrap().is_usual(month)));
        assert_eq!("(11–)10–3".parse::<MonthRange>(), Err(NotARange::Order));
        assert_eq!("0–3".parse::<MonthRange>(), Err(NotARange::Month));
    }
}
