//! Which grid holds where: the national one where it is at home, else UTM, and UPS about the poles.

use super::mgrs::Zone;
use super::{Grid, MgrsSquare, Position, Side, Square, bearing, british, home, irish};

/// A grid that eastings and northings are counted on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Frame {
    /// British or Irish.
    National(Grid),
    /// Everywhere else.
    Military(Zone),
}

/// Easting and northing, in metres.
pub(super) type Metres2 = (f64, f64);

impl Frame {
    /// The grid that holds at a position, and where it lies on it.
    pub(super) fn at(position: Position) -> Option<(Self, Metres2)> {
        match home(position) {
            Some(point) => Some((Self::National(point.grid), (point.easting, point.northing))),
            None => Zone::of(position).map(|(zone, point)| (Self::Military(zone), point)),
        }
    }

    /// The position of a point of this grid; `None` where the grid does not reach. Whether the grid *holds* there is for
    /// [`Self::at`] to say.
    pub(super) fn position(self, (easting, northing): Metres2) -> Option<Position> {
        match self {
            Self::National(Grid::British) => Some(british::to_position(easting, northing).ok()?.0),
            Self::National(Grid::Irish) => Some(irish::to_position(easting, northing).ok()?.0),
            Self::Military(zone) => zone.position(easting, northing),
        }
    }
}

/// The reference of a position on the grid that holds there, by a square with a side no shorter than so many metres: by its
/// letters alone beyond 10 km. Tetrads and quadrants, which not everybody knows, are left out.
#[must_use]
pub fn reference(position: Position, metres: f64) -> String {
    let side = Side::no_shorter_than(metres).plain();
    let letters = metres > f64::from(Side::Hectad.metres());
    let square = home(position).and_then(|point| point.square(side));
    match square {
        Some(square) if letters => Square::letters(square),
        Some(square) => square.to_string(),
        None => match MgrsSquare::containing(position, side) {
            Ok(square) if letters => square.letters().to_owned(),
            Ok(square) => square.to_string(),
            Err(_) => String::new(),
        },
    }
}

/// Where the north of the grid that holds at a position lies, in degrees clockwise from true north: the convergence of the
/// grid. `None` only where the grid ends within a metre.
///
/// # Units
/// Degrees, from -180 to 180; within 3 degrees except about the poles and in the far corners of a zone.
#[must_use]
pub fn grid_north(position: Position) -> Option<f64> {
    const EITHER_WAY: f64 = 1.0;
    let (frame, (easting, northing)) = Frame::at(position)?;
    let below = frame.position((easting, northing - EITHER_WAY))?;
    let above = frame.position((easting, northing + EITHER_WAY))?;
    let degrees = bearing(below, above)?;
    Some(if degrees > 180.0 { degrees - 360.0 } else { degrees })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::distance;

    fn at(latitude: f64, longitude: f64) -> Position {
        Position::new(latitude, longitude).unwrap()
    }

    /// Convergence: latitude, longitude, degrees. On the national grids by PROJ (pyproj 3.7.2, `Proj.get_factors` of
    /// EPSG:27700 and EPSG:29903), else by `GeoConvert` (`GeographicLib` 2.1.2, `-c`); each run once. OSTN15 bends the British
    /// grid by a few seconds of arc, and degrees of the two datums differ by as much.
    #[test]
    fn grid_north_lies_where_others_have_it() {
        for (latitude, longitude, degrees) in [
            (50.931_279_379_1, -1.450_514_337, 0.426_621),
            (52.658_007_833, 1.716_073_972, 2.955_923),
            (56.7, -5.2, -2.675_427),
            (53.349_796, -6.260_249, 1.395_947),
            (52.1, -9.7, -1.341_593),
            (-33.9, 151.2, 1.004_172),
            (64.5, 11.3, 2.076_154),
            (0.5, -60.2, 0.024_454),
            (85.0, 40.0, 40.0),
            (-82.0, 100.0, -100.0),
        ] {
            let found = grid_north(at(latitude, longitude)).unwrap();
            assert!((found - degrees).abs() < 0.003, "{found} for {degrees}");
        }
    }

    #[test]
    fn references_follow_the_grid_that_holds_and_the_length_asked_for() {
        for (latitude, longitude, metres, name) in [
            // Test point TP05 of OSTN15: SU 38710 14792.
            (50.931_279_379_1, -1.450_514_337, 1.0, "SU 38710 14792"),
            (50.931_279_379_1, -1.450_514_337, 4.0, "SU 3871 1479"),
            (50.931_279_379_1, -1.450_514_337, 60.0, "SU 387 147"),
            (50.931_279_379_1, -1.450_514_337, 800.0, "SU3814"),
            (50.931_279_379_1, -1.450_514_337, 1_500.0, "SU31"),
            (50.931_279_379_1, -1.450_514_337, 20_000.0, "SU"),
            // A well-known spire in Dublin: O 15904 34671.
            (53.349_796, -6.260_249, 100.0, "O 159 346"),
            (53.349_796, -6.260_249, 1e9, "O"),
            // GeoConvert (GeographicLib 2.1.2): 38SMB4414084706.
            (33.3, 44.4, 100.0, "38SMB441847"),
            (33.3, 44.4, 100_000.0, "38SMB"),
        ] {
            assert_eq!(reference(at(latitude, longitude), metres), name);
        }
    }

    proptest! {
        #[test]
        fn every_position_has_a_grid_and_comes_back_from_it(latitude in -90.0..=90.0, longitude in -180.0..180.0) {
            let place = at(latitude, longitude);
            let (frame, point) = Frame::at(place).unwrap();
            prop_assert!(distance(frame.position(point).unwrap(), place).get() < 0.001);
            prop_assert!(!reference(place, 10.0).is_empty());
            let _ = grid_north(place);
        }
    }

    #[test]
    fn poles_and_edges_have_a_north_or_none_and_no_panic() {
        for latitude in [-90.0, -80.0, -79.999_999, 0.0, 84.0, 83.999_999, 90.0] {
            for longitude in [-180.0, -6.0, 0.0, 5.999_999, 6.0, 179.999_999] {
                assert!(grid_north(at(latitude, longitude)).is_none_or(f64::is_finite));
            }
        }
    }
}
