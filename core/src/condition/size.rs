//! Whether fruitbodies are large enough. Size alone never makes one prime: it only holds back what is still small.

use crate::find::Width;
use crate::pack::{Maturity, Size};

use super::judge::Observed;

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// Across the cap, or across the whole where there is none.
    Width,
    /// From the ground, or from the wood, to the top.
    Height,
}

impl Measure {
    /// The field of a find that holds it.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Height => "height",
        }
    }
}

/// What size says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SizeVerdict {
    /// No size is known for this taxon: signs alone decide.
    NotKnown,
    /// A size is known, and nobody measured.
    NotMeasured,
    /// All are large enough.
    Enough,
    /// The smallest are too small, the largest are not.
    Some,
    /// All are too small.
    TooSmall,
}

/// Sizes seen against the size that a taxon is taken from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeSeen {
    /// What size says.
    pub verdict: SizeVerdict,
    /// What counts in this taxon, where a size is known.
    pub measure: Measure,
    /// The size that it is taken from, in millimetres.
    pub taken_from: Option<f64>,
    /// What was measured.
    pub seen: Option<Width>,
    /// Whether all are so small that, nothing else seen, they are buttons.
    pub(super) as_buttons: bool,
}

impl SizeSeen {
    /// Whether at least some are too small to be taken.
    #[must_use]
    pub fn holds_back(&self) -> bool {
        self.verdict >= SizeVerdict::Some
    }

    pub(super) fn of(maturity: Option<&Maturity>, observed: &Observed) -> Self {
        let one = |measure, size: Option<&Size>, seen| size.map(|size| Self::against(measure, size, seen));
        let width = one(Measure::Width, maturity.and_then(|it| it.width.as_ref()), observed.width);
        let height = one(Measure::Height, maturity.and_then(|it| it.height.as_ref()), observed.height);
        // Of two that were measured the stricter counts; one that was not measured holds nothing back.
        let not_known = Self {
            verdict: SizeVerdict::NotKnown,
            measure: Measure::Width,
            taken_from: None,
            seen: observed.width,
            as_buttons: false,
        };
        match (width, height) {
            (Some(width), Some(height)) if height.verdict > width.verdict => height,
            (Some(one), _) | (None, Some(one)) => one,
            (None, None) => not_known,
        }
    }

    fn against(measure: Measure, size: &Size, seen: Option<Width>) -> Self {
        let verdict = seen.map_or(SizeVerdict::NotMeasured, |seen| {
            if seen.most().get() < size.taken_from {
                SizeVerdict::TooSmall
            } else if seen.least().get() < size.taken_from {
                SizeVerdict::Some
            } else {
                SizeVerdict::Enough
            }
        });
        let below = |seen: Width| size.button_below.is_some_and(|button| seen.most().get() < button);
        Self {
            verdict,
            measure,
            taken_from: Some(size.taken_from),
            seen,
            as_buttons: seen.is_some_and(below),
        }
    }
}
