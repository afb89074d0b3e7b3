//! The Military Grid Reference System, for everywhere else.

use std::fmt;

use geoconvert::{LatLon, Mgrs, UtmUps};

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
        Self::read(&point(position)?.to_mgrs(figures).to_string())
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
        let centre = position(&centre)?.within(Metres::nearest(side.half_diagonal()));
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

    /// The zone, band and letters of the 100 km square that it lies in, without any figures: "30UXC".
    pub(super) fn letters(&self) -> &str {
        self.name.get(..self.name.len().saturating_sub(2 * self.side.figures())).unwrap_or(&self.name)
    }
}

/// A zone of UTM, or the grid about a pole (UPS), on which MGRS counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Zone {
    /// From 1 to 60; 0 about a pole.
    number: i32,
    is_north: bool,
}

impl Zone {
    /// The zone of a position, and its easting and northing in it, in metres.
    pub(super) fn of(position: Position) -> Option<(Self, (f64, f64))> {
        let point = point(position).ok()?.to_utmups();
        Some((Self { number: point.zone(), is_north: point.is_north() }, (point.easting(), point.northing())))
    }

    /// The position of an easting and northing in metres, as far as the zone's grid reaches.
    pub(super) fn position(self, easting: f64, northing: f64) -> Option<Position> {
        let point = UtmUps::create(self.number, self.is_north, easting, northing).ok()?;
        position(&point.to_latlon()).ok()
    }
}

/// A position as the crate takes it. geoconvert 1.0.2 panics on the equator itself, which belongs to the band north of it.
fn point(position: Position) -> Result<LatLon, Error> {
    let latitude = if position.latitude().abs() < EQUATOR { EQUATOR } else { position.latitude() };
    LatLon::create(latitude, position.longitude()).map_err(|_| Error::UnknownMgrs)
}

/// A point of the crate's as a position. At the edge of a zone it can lie across the antimeridian.
fn position(point: &LatLon) -> Result<Position, Error> {
    let longitude = (point.longitude() + 180.0).rem_euclid(360.0) - 180.0;
    Position::new(point.latitude(), longitude).map_err(|_| Error::UnknownMgrs)
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

    /// `GeoConvert` (`GeographicLib` 2.1.2, `-u -p 3`), run once: latitude, longitude, zone (0 about a pole), easting, northing.
    #[test]
    fn zones_count_as_in_another_implementation() {
        for (latitude, longitude, number, easting, northing) in [
            (52.0, 1.5, 31, 397_027.018, 5_762_100.490),
            (-33.9, 151.2, 56, 333_568.941, 6_247_473.337),
            (64.5, 11.3, 32, 610_464.754, 7_154_734.018),
            (85.0, 40.0, 0, 2_357_041.129, 1_574_494.952),
        ] {
            let place = Position::new(latitude, longitude).unwrap();
            let (zone, point) = Zone::of(place).unwrap();
            assert_eq!(zone, Zone { number, is_north: latitude > 0.0 });
            assert!((point.0 - easting).abs().max((point.1 - northing).abs()) < 0.001, "{point:?}");
            assert!(distance(zone.position(easting, northing).unwrap(), place).get() < 0.001);
        }
        assert_eq!(Zone { number: 30, is_north: true }.position(f64::NAN, 0.0), None);
        assert_eq!(Zone { number: 30, is_north: true }.position(-5e6, 0.0), None);
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
