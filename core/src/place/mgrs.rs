//! The Military Grid Reference System, for everywhere else.

use std::fmt;

use geoconvert::{LatLon, Mgrs};

use super::{Error, Position, Side};
use crate::units::Metres;

/// A tenth of a millimetre north of the equator, in degrees.
const EQUATOR: f64 = 1e-9;

/// The northing of the equator as the southern hemisphere counts it, in metres (NGA.STND.0036).
const SOUTH_ENDS: f64 = 10_000_000.0;

/// A square of MGRS: its name in capitals and closed up ("30UXC9908"), and its centre.
#[derive(Clone, PartialEq)]
pub struct MgrsSquare {
    name: String,
    centre: Position,
    side: Side,
}

impl MgrsSquare {
    /// The square in which a position lies: truncated, never rounded. Tetrads and quadrants, which MGRS lacks, become 10 km.
    ///
    /// # Errors
    /// None in practice: MGRS covers the Earth.
    pub fn containing(position: Position, side: Side) -> Result<Self, Error> {
        let figures = i32::try_from(side.figures()).map_err(|_| Error::TooManyFigures)?;
        // geoconvert 1.0.2 panics on the equator itself, which belongs to the band north of it.
        let latitude = if position.latitude().abs() < EQUATOR { EQUATOR } else { position.latitude() };
        let point = LatLon::create(latitude, position.longitude()).map_err(|_| Error::UnknownMgrs)?;
        Self::read(&point.to_mgrs(figures).to_string())
    }

    /// The square of that name, which is a zone of up to two digits (none near the poles), three letters, and figures.
    pub(super) fn read(name: &str) -> Result<Self, Error> {
        let figures =
            name.trim_start_matches(|c: char| c.is_ascii_digit()).trim_start_matches(char::is_alphabetic);
        if figures.len() % 2 == 1 {
            return Err(Error::UnevenFigures);
        }
        let side = Side::of_figures(figures.len() / 2)?;
        // The crate reads a square as its centre.
        let centre = Mgrs::parse_str(name).map_err(|_| Error::UnknownMgrs)?.to_latlon();
        // At the edge of a zone the centre can lie across the antimeridian.
        let longitude = (centre.longitude() + 180.0).rem_euclid(360.0) - 180.0;
        let centre = Position::new(centre.latitude(), longitude).map_err(|_| Error::UnknownMgrs)?;
        let centre = centre.within(Metres::nearest(side.half_diagonal()));
        Ok(Self { name: name.to_owned(), centre, side })
    }

    /// Its centre, known to within half its diagonal.
    #[must_use]
    pub fn centre(&self) -> Position {
        self.centre
    }

    /// The square so many sides to the east and to the north, in the same zone; `None` off it, and across the equator, where
    /// northings begin anew.
    pub(super) fn beside(&self, east: i32, north: i32) -> Option<Self> {
        let here = Mgrs::parse_str(&self.name).ok()?;
        let side = f64::from(self.side.metres());
        let (easting, northing) =
            (here.easting() + f64::from(east) * side, here.northing() + f64::from(north) * side);
        let on_this_side = if here.is_north() { northing >= 0.0 } else { northing < SOUTH_ENDS };
        if here.is_utm() && !on_this_side {
            return None;
        }
        let figures = i32::try_from(self.side.figures()).ok()?;
        let there = Mgrs::create(here.zone(), here.is_north(), easting, northing, figures).ok()?;
        Self::read(&there.to_string()).ok()
    }

    /// Its size.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }
}

impl fmt::Display for MgrsSquare {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}

impl fmt::Debug for MgrsSquare {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "MgrsSquare({:?}, hidden)", self.side)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::distance;

    proptest! {
        #[test]
        fn every_position_lies_in_its_square(latitude in -90.0..=90.0, longitude in -180.0..=180.0) {
            let position = Position::new(latitude, longitude).unwrap();
            for side in [Side::Metre, Side::HundredMetres, Side::Hectad] {
                let square = MgrsSquare::containing(position, side).unwrap();
                // Grid metres are up to 0.6 % longer on the ground near the poles, where the grid's scale is 0.994.
                let apart = distance(position, square.centre()).get();
                prop_assert!(apart <= side.half_diagonal() * 1.0065 + 0.001, "{} m", apart);
                prop_assert_eq!(MgrsSquare::read(&square.to_string()), Ok(square));
            }
        }
    }

    /// Where the crate's own arithmetic is closest to falling over: the equator, edges of zones and bands, the poles.
    #[test]
    fn edges_have_squares_too() {
        for latitude in (-180..=180).map(|half| f64::from(half) / 2.0).chain([-1e-12, 1e-12]) {
            for longitude in (-360..360).map(|half| f64::from(half) / 2.0) {
                for nudge in [-1e-9, 0.0, 1e-9] {
                    let latitude = (latitude + nudge).clamp(-90.0, 90.0);
                    let position = Position::new(latitude, (longitude + nudge).max(-180.0)).unwrap();
                    assert!(MgrsSquare::containing(position, Side::Metre).is_ok(), "{latitude} {longitude}");
                }
            }
        }
    }

    #[test]
    fn squares_that_are_not_there_are_refused() {
        for (name, error) in [
            ("30UXC", Error::NoFigures),
            ("30UXC123", Error::UnevenFigures),
            ("30UXC123456123456", Error::TooManyFigures),
            ("61UXC12", Error::UnknownMgrs),
            ("0UXC12", Error::UnknownMgrs),
            ("30IXC12", Error::UnknownMgrs),
            ("30UAC12", Error::UnknownMgrs),
            ("30UXZ12", Error::UnknownMgrs),
            ("30UXM12", Error::UnknownMgrs),
        ] {
            assert_eq!(MgrsSquare::read(name), Err(error), "{name}");
        }
    }
}
