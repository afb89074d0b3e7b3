//! Measures with their unit in the type, so that millimetres and metres are never confused.
//!
//! All are finite, never negative and bounded: a width of three kilometres is a slip of the thumb.

use serde::{Deserialize, Serialize};

/// A number that its unit does not admit.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{given} is out of range: give {unit} from 0 to {most}")]
pub struct OutOfRange {
    /// The number as given.
    pub given: f64,
    /// The unit, in the plural.
    pub unit: &'static str,
    /// The greatest value admitted.
    pub most: f64,
}

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $most:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(try_from = "f64", into = "f64")]
        pub struct $name(f64);

        impl $name {
            /// The greatest value admitted.
            pub const MOST: f64 = $most;

            /// Checks and wraps a number.
            ///
            /// # Errors
            /// [`OutOfRange`] unless it is finite and from 0 to [`Self::MOST`].
            pub fn new(value: f64) -> Result<Self, OutOfRange> {
                if value.is_finite() && (0.0..=Self::MOST).contains(&value) {
                    Ok(Self(value))
                } else {
                    Err(OutOfRange { given: value, unit: $unit, most: Self::MOST })
                }
            }

            /// The nearest value admitted to a computed one, and 0 for what is no number.
            #[must_use]
            pub fn nearest(value: f64) -> Self {
                Self(if value > 0.0 { value.min(Self::MOST) } else { 0.0 })
            }

            /// The bare number.
            #[must_use]
            pub fn get(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<f64> for $name {
            type Error = OutOfRange;
            fn try_from(value: f64) -> Result<Self, OutOfRange> {
                Self::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> f64 {
                value.0
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

measure!(
    /// A length on a fruitbody, in millimetres (0 to 2,000).
    Millimetres, "millimetres", 2000.0
);
measure!(
    /// A weight, in grams (0 to 100,000).
    Grams, "grams", 100_000.0
);
measure!(
    /// A distance or an accuracy on the ground, in metres (0 to 20,100,000: half round the Earth).
    Metres, "metres", 20_100_000.0
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_ruler_shows_is_refused() {
        for bad in [f64::NAN, f64::INFINITY, -0.1, 2000.5] {
            assert!(Millimetres::new(bad).is_err(), "{bad}");
        }
        assert_eq!(Millimetres::new(35.5).map(Millimetres::get), Ok(35.5));
    }

    #[test]
    fn a_computed_number_is_brought_into_range() {
        for (computed, kept) in [(12.5, 12.5), (-1e-9, 0.0), (f64::NAN, 0.0), (f64::INFINITY, 2000.0)] {
            assert_eq!(Millimetres::nearest(computed).get().to_bits(), f64::to_bits(kept));
        }
    }

    #[test]
    fn a_bad_number_in_a_file_is_refused_with_its_range() {
        let error = serde_json::from_str::<Grams>("-3").unwrap_err().to_string();
        assert!(error.contains("give grams from 0 to 100000"), "{error}");
    }
}
