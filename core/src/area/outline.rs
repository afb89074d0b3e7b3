//! The shape of an area, and how a place lies to it.

use geo::{Coord, Distance, Euclidean, LineString, Point, Polygon};
use serde::{Deserialize, Serialize};

use crate::find::FieldError;
use crate::place::{Position, distance};
use crate::units::Metres;

/// A position whose accuracy is not known is taken to be out by up to this much (common practice, no source).
pub const VAGUE_METRES: f64 = 30.0;
/// Metres in a degree of latitude at the equator, and the ellipsoid's eccentricity squared: WGS84.
const EQUATOR: f64 = 6_378_137.0;
const ECCENTRICITY_SQUARED: f64 = 0.006_694_379_990_14;
/// The greatest radius of a circle, in metres.
const WIDEST: f64 = 100_000.0;

/// A closed line of positions, the last one equal to the first.
pub type Ring = Vec<Position>;

/// Where an area is. Positions hide their degrees from `Debug`, and so does this.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Outline {
    /// All within so many metres of a place.
    Circle {
        /// Its middle.
        centre: Position,
        /// How far it reaches, in metres.
        radius: Metres,
    },
    /// Polygons, each an outer ring followed by its holes.
    Polygons(Vec<Vec<Ring>>),
}

/// How a place lies to an area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lies {
    /// In it, or as likely in it as the position can tell.
    Inside,
    /// Out of it by so many metres, and too near for the position's accuracy to be sure.
    Near(f64),
    /// Out of it.
    Outside,
}

impl Outline {
    /// How a place lies to it. The farther off a position may be, the less is said to be outside; nothing inside is ever
    /// said to be outside.
    ///
    /// # Units
    /// Metres. Circles are measured on the ellipsoid. Polygons are scaled to metres as they are at the place, which keeps
    /// straight what is straight in degrees, as the edges of RFC 7946 are: what is inside is so exactly. How far off an edge
    /// is, is good near the place, where it is asked; 1 km away in Britain it is out by less than 1 m.
    #[must_use]
    pub fn whereto(&self, place: Position) -> Lies {
        let accuracy = place.accuracy().map_or(VAGUE_METRES, Metres::get);
        let beyond = match self {
            Self::Circle { centre, radius } => distance(place, *centre).get() - radius.get(),
            Self::Polygons(polygons) => {
                let flat = Flat::about(place);
                let here = Point::new(0.0, 0.0);
                let each = polygons.iter().filter_map(|rings| flat.polygon(rings));
                each.map(|polygon| Euclidean.distance(&here, &polygon)).fold(f64::INFINITY, f64::min)
            }
        };
        if beyond <= 0.0 {
            Lies::Inside
        } else if beyond <= accuracy {
            Lies::Near(beyond)
        } else {
            Lies::Outside
        }
    }

    /// Its shape in words, without saying where it is.
    #[must_use]
    pub fn in_words(&self) -> String {
        match self {
            Self::Circle { radius, .. } => format!("within {radius} m of its middle"),
            Self::Polygons(polygons) => {
                let corners: usize = polygons.iter().flatten().map(|ring| ring.len().saturating_sub(1)).sum();
                format!("an outline of {corners} corners")
            }
        }
    }

    /// Checks that it has an inside.
    ///
    /// # Errors
    /// [`FieldError`].
    pub fn validate(&self) -> Result<(), FieldError> {
        let wrong = |why: &str| Err(FieldError { field: "outline", why: why.to_owned() });
        match self {
            Self::Circle { radius, .. } if radius.get() <= 0.0 || radius.get() > WIDEST => {
                wrong("a circle reaches from 1 m to 100 km: give its radius in metres")
            }
            Self::Polygons(polygons) if polygons.is_empty() || polygons.iter().any(Vec::is_empty) => {
                wrong("it has no ring: give at least one outline")
            }
            Self::Circle { .. } | Self::Polygons(_) => Ok(()),
        }
    }
}

/// The land about a place, laid flat: metres east and north of it.
struct Flat {
    place: Position,
    /// Metres in a degree, east and north.
    east: f64,
    north: f64,
}

impl Flat {
    fn about(place: Position) -> Self {
        let latitude = place.latitude().to_radians();
        let squeezed = 1.0 - ECCENTRICITY_SQUARED * latitude.sin().powi(2);
        let across = EQUATOR / squeezed.sqrt();
        let along = across * (1.0 - ECCENTRICITY_SQUARED) / squeezed;
        Self { place, east: (across * latitude.cos()).to_radians(), north: along.to_radians() }
    }

    /// A ring is turned towards the place as a whole, so that one on the far side of the earth is not torn apart.
    fn line(&self, ring: &[Position]) -> LineString {
        let first = ring.first().map_or(0.0, |at| at.longitude());
        let turn = (first - self.place.longitude() + 180.0).rem_euclid(360.0) - 180.0;
        let coord = |at: &Position| Coord {
            x: (turn + at.longitude() - first) * self.east,
            y: (at.latitude() - self.place.latitude()) * self.north,
        };
        ring.iter().map(coord).collect()
    }

    fn polygon(&self, rings: &[Ring]) -> Option<Polygon> {
        let (outer, holes) = rings.split_first()?;
        Some(Polygon::new(self.line(outer), holes.iter().map(|hole| self.line(hole)).collect()))
    }
}
