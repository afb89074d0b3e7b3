//! How often the eyes that answer are thought to be wrong.

use serde::{Deserialize, Serialize};

/// Chance that an answer is a misreading. An owner may raise it above the default and never lower it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct ObserverError(f64);

/// An observer error that the key does not accept.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{given} is no observer error: give at least 0.15, which can only be raised, and at most 0.5")]
pub struct NotAnObserverError {
    /// The number as given.
    pub given: f64,
}

impl NotAnObserverError {
    /// A stable code for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        "observer-error-out-of-range"
    }
}

impl ObserverError {
    /// The least, and the default.
    ///
    /// # References
    /// Between laboratories about 8 % of test results differ and 15 % is common: International Journal of Systematic
    /// Bacteriology 24(4):508, 1974 (abstract).
    pub const LEAST: f64 = 0.15;
    /// The most: beyond it an answer says little.
    pub const MOST: f64 = 0.5;

    /// Checks and wraps a chance.
    ///
    /// # Errors
    /// [`NotAnObserverError`] below [`Self::LEAST`] or above [`Self::MOST`].
    pub fn new(chance: f64) -> Result<Self, NotAnObserverError> {
        if (Self::LEAST..=Self::MOST).contains(&chance) {
            Ok(Self(chance))
        } else {
            Err(NotAnObserverError { given: chance })
        }
    }

    /// The bare chance.
    #[must_use]
    pub fn get(self) -> f64 {
        self.0
    }
}

impl Default for ObserverError {
    fn default() -> Self {
        Self(Self::LEAST)
    }
}

impl TryFrom<f64> for ObserverError {
    type Error = NotAnObserverError;
    fn try_from(chance: f64) -> Result<Self, NotAnObserverError> {
        Self::new(chance)
    }
}

impl From<ObserverError> for f64 {
    fn from(error: ObserverError) -> f64 {
        error.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_assumed_error_can_be_raised_and_never_lowered() {
        assert_eq!(ObserverError::default(), ObserverError::new(0.15).unwrap());
        assert!(ObserverError::new(0.3).is_ok());
        for refused in [0.149, 0.08, 0.0, -1.0, 0.51, f64::NAN, f64::INFINITY] {
            assert!(ObserverError::new(refused).is_err(), "{refused}");
            assert!(serde_json::from_str::<ObserverError>(&refused.to_string()).is_err(), "{refused}");
        }
    }
}
