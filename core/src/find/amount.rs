//! Counts and widths as people give them: "7", "about 18 to 22", "12-35 mm".

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::units::{Millimetres, OutOfRange};

/// An amount that cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AmountError {
    /// Not a number, nor two with a dash.
    #[error("{given:?} is not {what}: write {example}")]
    NotAnAmount {
        /// What was given.
        given: String,
        /// What was wanted.
        what: &'static str,
        /// How to write it.
        example: &'static str,
    },
    /// The least is above the most.
    #[error("the least is above the most: write the smaller one first")]
    Backwards,
    /// Beyond what the unit admits.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Beyond any real count.
    #[error("a count goes up to {most}: give a smaller one")]
    TooMany {
        /// The greatest count admitted.
        most: u32,
    },
}

/// How many: exactly, or between two numbers. The low end rules whatever is decided from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "WrittenCount", into = "WrittenCount")]
pub struct Count {
    least: u32,
    most: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum WrittenCount {
    Exactly(u32),
    Between([u32; 2]),
}

impl Count {
    /// The greatest count admitted.
    pub const MOST: u32 = 100_000;

    /// Between two numbers, both included.
    ///
    /// # Errors
    /// [`AmountError::Backwards`] or [`AmountError::TooMany`].
    pub fn between(least: u32, most: u32) -> Result<Self, AmountError> {
        if least > most {
            return Err(AmountError::Backwards);
        }
        if most > Self::MOST {
            return Err(AmountError::TooMany { most: Self::MOST });
        }
        Ok(Self { least, most })
    }

    /// Exactly this many.
    ///
    /// # Errors
    /// [`AmountError::TooMany`].
    pub fn exactly(n: u32) -> Result<Self, AmountError> {
        Self::between(n, n)
    }

    /// The low end.
    #[must_use]
    pub fn least(self) -> u32 {
        self.least
    }

    /// The high end.
    #[must_use]
    pub fn most(self) -> u32 {
        self.most
    }
}

impl TryFrom<WrittenCount> for Count {
    type Error = AmountError;
    fn try_from(written: WrittenCount) -> Result<Self, AmountError> {
        match written {
            WrittenCount::Exactly(n) => Self::exactly(n),
            WrittenCount::Between([least, most]) => Self::between(least, most),
        }
    }
}

impl From<Count> for WrittenCount {
    fn from(count: Count) -> Self {
        if count.least == count.most {
            Self::Exactly(count.least)
        } else {
            Self::Between([count.least, count.most])
        }
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least == self.most { self.least.fmt(f) } else { write!(f, "{} to {}", self.least, self.most) }
    }
}

impl FromStr for Count {
    type Err = AmountError;

    fn from_str(text: &str) -> Result<Self, AmountError> {
        let (least, most) = two(text, "a count", "7, or 18-22 if unsure")?;
        Self::between(least, most)
    }
}

/// Cap widths: the least and the greatest seen, and the usual one where it was noted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "WrittenWidth")]
pub struct Width {
    least: Millimetres,
    #[serde(skip_serializing_if = "Option::is_none")]
    typical: Option<Millimetres>,
    most: Millimetres,
}

#[derive(Deserialize)]
struct WrittenWidth {
    least: Millimetres,
    typical: Option<Millimetres>,
    most: Millimetres,
}

impl Width {
    /// Widths in ascending order.
    ///
    /// # Errors
    /// [`AmountError::Backwards`] if they are not ordered.
    pub fn new(
        least: Millimetres,
        typical: Option<Millimetres>,
        most: Millimetres,
    ) -> Result<Self, AmountError> {
        let middle = typical.unwrap_or(least);
        if least <= middle && middle <= most {
            Ok(Self { least, typical, most })
        } else {
            Err(AmountError::Backwards)
        }
    }

    /// The least seen.
    #[must_use]
    pub fn least(self) -> Millimetres {
        self.least
    }

    /// The usual one.
    #[must_use]
    pub fn typical(self) -> Option<Millimetres> {
        self.typical
    }

    /// The greatest seen.
    #[must_use]
    pub fn most(self) -> Millimetres {
        self.most
    }
}

impl TryFrom<WrittenWidth> for Width {
    type Error = AmountError;
    fn try_from(written: WrittenWidth) -> Result<Self, AmountError> {
        Self::new(written.least, written.typical, written.most)
    }
}

impl fmt::Display for Width {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.least == self.most, self.typical) {
            (true, _) => write!(f, "{} mm", self.least),
            (false, None) => write!(f, "{} to {} mm", self.least, self.most),
            (false, Some(typical)) => write!(f, "{} to {} mm, mostly {typical}", self.least, self.most),
        }
    }
}

impl FromStr for Width {
    type Err = AmountError;

    fn from_str(text: &str) -> Result<Self, AmountError> {
        let bare = text.trim().trim_end_matches("mm");
        let (least, most): (f64, f64) = two(bare, "a width", "35, or 12-35, in millimetres")?;
        Self::new(Millimetres::new(least)?, None, Millimetres::new(most)?)
    }
}

/// One number, or two with a dash between them.
fn two<N: FromStr + Copy>(
    text: &str,
    what: &'static str,
    example: &'static str,
) -> Result<(N, N), AmountError> {
    let wrong = || AmountError::NotAnAmount { given: text.to_owned(), what, example };
    let number = |part: &str| part.trim().parse::<N>().map_err(|_| wrong());
    match text.trim().split_once(['-', '\u{2013}']) {
        None => number(text).map(|n| (n, n)),
        Some((least, most)) => Ok((number(least)?, number(most)?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_people_type_is_read() {
        let mm = |n: f64| Millimetres::new(n).unwrap();
        assert_eq!("12-35".parse(), Width::new(mm(12.0), None, mm(35.0)));
        assert_eq!(" 12.5 – 35 mm".parse(), Width::new(mm(12.5), None, mm(35.0)));
        assert_eq!("7".parse(), Count::exactly(7));
        assert_eq!("18-22".parse(), Count::between(18, 22));
    }

    #[test]
    fn nonsense_is_refused_and_says_what_to_write() {
        for bad in ["", "-", "many", "5-", "-5", "1-2-3", "4.5"] {
            assert!(bad.parse::<Count>().is_err(), "{bad}");
        }
        assert_eq!("35-12".parse::<Width>(), Err(AmountError::Backwards));
        assert!("nan".parse::<Width>().is_err());
        assert!("5000".parse::<Width>().unwrap_err().to_string().contains("0 to 2000"));
        let error = "many".parse::<Count>().unwrap_err().to_string();
        assert_eq!(error, "\"many\" is not a count: write 7, or 18-22 if unsure");
    }

    #[test]
    fn an_exact_count_is_a_bare_number_in_files() {
        assert_eq!(serde_json::to_string(&Count::exactly(7).unwrap()).unwrap(), "7");
        assert_eq!(serde_json::from_str::<Count>("[18,22]").unwrap(), Count::between(18, 22).unwrap());
        assert!(serde_json::from_str::<Count>("[22,18]").is_err());
        assert!(serde_json::from_str::<Width>(r#"{"least":5,"typical":9,"most":7}"#).is_err());
    }
}
