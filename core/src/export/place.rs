//! The place that goes out: a square's centre, or the exact one where its owner chose that.

use serde::{Deserialize, Serialize};

use super::Exactness;
use crate::place::{Coarseness, Error, Position, coarsen};

/// A place as told to somebody else.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SharedPlace {
    /// Degrees north: of the square's centre, unless exact.
    pub latitude: f64,
    /// Degrees east.
    pub longitude: f64,
    /// How far the true place may be from there, in metres, rounded up; not known for some exact ones.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty_m: Option<f64>,
    /// The square's name; none if exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub square: Option<String>,
}

/// Degrees to six decimals: 0.1 m, finer than any phone knows (RFC 7946 §11.2).
const DECIMALS: f64 = 1e6;

impl SharedPlace {
    /// A place no finer than asked, and no finer than known.
    ///
    /// # Errors
    /// None in practice: every position lies in a square.
    pub fn of(position: Position, exactness: Exactness) -> Result<Self, Error> {
        let to = match exactness {
            Exactness::TenKilometres => Coarseness::TenKilometres,
            Exactness::OneKilometre => Coarseness::OneKilometre,
            Exactness::Exact => return Ok(Self::at(position, None)),
        };
        let coarse = coarsen(position, to)?;
        Ok(Self::at(coarse.centre, Some(coarse.square)))
    }

    fn at(position: Position, square: Option<String>) -> Self {
        let rounded = |degrees: f64| (degrees * DECIMALS).round() / DECIMALS;
        Self {
            latitude: rounded(position.latitude()),
            longitude: rounded(position.longitude()),
            uncertainty_m: position.accuracy().map(|metres| metres.get().ceil().max(1.0)),
            square,
        }
    }

    /// What was done to it, in words for recorders; none if exact.
    #[must_use]
    pub fn generalised(&self) -> Option<String> {
        self.square.as_ref().map(|square| {
            format!("place given as the grid square {square}; the coordinates are those of its centre")
        })
    }
}
