//! The land about a place laid flat, as a map of it is drawn.

use std::fmt;

use geographiclib_rs::{DirectGeodesic, InverseGeodesic};

use super::Position;
use super::distance::WGS84;

/// Lengths that read well on a scale bar or a ring of distance, the shortest first, in metres.
pub const ROUND_LENGTHS: [u32; 19] = [
    1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000, 200_000,
    500_000, 1_000_000,
];

/// A point of a flat map, in metres from the place that the map is laid about.
#[derive(Clone, Copy, PartialEq)]
pub struct FlatPoint {
    /// To the right: east.
    pub east: f64,
    /// Up: true north, as it is at that place.
    pub north: f64,
}

impl FlatPoint {
    /// The place itself that a map is laid about.
    pub const MIDDLE: Self = Self { east: 0.0, north: 0.0 };
}

impl fmt::Debug for FlatPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("FlatPoint(hidden)")
    }
}

/// The whole Earth about one place, laid flat by the azimuthal equidistant projection: every point lies as far from the
/// middle, and in the same direction, as it truly does. There is no seam at the antimeridian or at a pole.
///
/// Away from the middle, lengths across the line of sight come out too long, by one part in 2.4 million at 10 km and one in
/// 1,000 at 500 km.
///
/// # References
/// J. P. Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987), chapter 25; on the ellipsoid by
/// C. F. F. Karney, "Algorithms for geodesics", Journal of Geodesy 87 (2013), 43-55, section 8.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flat {
    middle: Position,
}

impl Flat {
    /// The map laid about a place.
    #[must_use]
    pub fn about(middle: Position) -> Self {
        Self { middle }
    }

    /// The place that it is laid about.
    #[must_use]
    pub fn middle(self) -> Position {
        self.middle
    }

    /// Where a position comes to lie.
    #[must_use]
    pub fn lay(self, position: Position) -> FlatPoint {
        let (metres, azimuth, _, _): (f64, f64, f64, f64) = WGS84.inverse(
            self.middle.latitude(),
            self.middle.longitude(),
            position.latitude(),
            position.longitude(),
        );
        let (sin, cos) = azimuth.to_radians().sin_cos();
        FlatPoint { east: metres * sin, north: metres * cos }
    }

    /// The position that lies at a point; `None` for what is no number. Beyond half round the Earth it goes on round.
    #[must_use]
    pub fn lift(self, point: FlatPoint) -> Option<Position> {
        let metres = point.east.hypot(point.north);
        let azimuth = point.east.atan2(point.north).to_degrees();
        if !metres.is_finite() {
            return None;
        }
        let (latitude, longitude): (f64, f64) =
            WGS84.direct(self.middle.latitude(), self.middle.longitude(), azimuth, metres);
        Position::new(latitude, longitude).ok()
    }

    /// Which way true north is at a point, in degrees clockwise from the top of the map: nought in the middle, and a little
    /// more or less beside it. At a pole, where every way is south or north, nought.
    #[must_use]
    pub fn true_north(self, at: FlatPoint) -> f64 {
        const A_LITTLE: f64 = 1e-4;
        let north = || {
            let here = self.lift(at)?;
            let further = Position::new((here.latitude() + A_LITTLE).min(90.0), here.longitude()).ok()?;
            let further = self.lay(further);
            let (east, north) = (further.east - at.east, further.north - at.north);
            (east != 0.0 || north != 0.0).then(|| east.atan2(north).to_degrees())
        };
        north().unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::{bearing, distance};

    fn at(latitude: f64, longitude: f64) -> Position {
        Position::new(latitude, longitude).unwrap()
    }

    /// PROJ's azimuthal equidistant projection on WGS84 (pyproj 3.7.2, `+proj=aeqd`), run once: middle, place, east, north.
    #[test]
    fn proj_lays_places_on_the_same_points() {
        let (wood, antimeridian, pole) = (at(51.5, -1.5), at(-41.3, 179.95), at(90.0, 0.0));
        for (middle, place, east, north) in [
            (wood, at(51.55, -1.4), 6_936.449_3, 5_567.653_9),
            (wood, at(53.35, -6.26), -316_808.658_0, 216_252.660_5),
            (wood, at(48.85, 2.35), 282_531.330_5, -287_425.403_0),
            (wood, at(58.6, -3.2), -99_081.861_0, 791_588.465_2),
            (wood, at(-40.0, 179.9), -1_713_555.276_8, 18_642_706.064_8),
            (antimeridian, at(-41.0, -179.9), 12_620.329_0, 33_306.161_1),
            (antimeridian, at(-42.0, 179.0), -78_708.581_3, -78_179.215_6),
            (pole, at(89.0, 30.0), 55_846.932_5, -96_729.724_5),
        ] {
            let found = Flat::about(middle).lay(place);
            let apart = (found.east - east).abs().max((found.north - north).abs());
            assert!(apart < 0.001, "{apart} m: {} {}", found.east, found.north);
        }
    }

    proptest! {
        #[test]
        fn what_is_laid_is_lifted_again(
            latitude in -90.0..=90.0, longitude in -180.0..180.0, away in 0.0..5e6f64, towards in 0.0..360.0f64,
        ) {
            let flat = Flat::about(at(latitude, longitude));
            let (sin, cos) = towards.to_radians().sin_cos();
            let point = FlatPoint { east: away * sin, north: away * cos };
            let place = flat.lift(point).unwrap();
            prop_assert!((distance(flat.middle(), place).get() - away).abs() < 1e-3);
            let back = flat.lay(place);
            prop_assert!((back.east - point.east).hypot(back.north - point.north) < 1e-3);
        }

        #[test]
        fn lengths_in_a_wood_are_true_wherever_they_lie(
            latitude in -89.0..=89.0, longitude in -180.0..180.0, e1 in -5e3..5e3, n1 in -5e3..5e3, e2 in -5e3..5e3, n2 in -5e3..5e3,
        ) {
            let flat = Flat::about(at(latitude, longitude));
            let (a, b) = (FlatPoint { east: e1, north: n1 }, FlatPoint { east: e2, north: n2 });
            let on_paper = (e1 - e2).hypot(n1 - n2);
            let truly = distance(flat.lift(a).unwrap(), flat.lift(b).unwrap()).get();
            prop_assert!((on_paper - truly).abs() < 0.01, "{} m", on_paper - truly);
        }

        #[test]
        fn north_is_up_in_the_middle_and_nearly_so_beside_it(
            latitude in -80.0..=80.0, longitude in -180.0..180.0, east in -1e4..1e4, north in -1e4..1e4,
        ) {
            let flat = Flat::about(at(latitude, longitude));
            prop_assert!(flat.true_north(FlatPoint::MIDDLE).abs() < 1e-6);
            let turned = flat.true_north(FlatPoint { east, north });
            prop_assert!(turned.abs() < 0.6, "{}", turned);
        }
    }

    /// 10 km east of 60° N true north has turned by the convergence of the meridians, d tan(latitude) / R (Snyder, as above):
    /// to the west, for they meet at the pole.
    #[test]
    fn north_turns_with_the_meridians() {
        let found = Flat::about(at(60.0, 10.0)).true_north(FlatPoint { east: 1e4, north: 0.0 });
        let expected = -(1e4 * 60_f64.to_radians().tan() / 6_394_209.0).to_degrees();
        assert!((found - expected).abs() < 1e-3, "{found} for {expected}");
    }

    #[test]
    fn there_are_no_seams_and_no_panics() {
        for middle in [at(90.0, 0.0), at(-90.0, 0.0), at(0.0, -180.0), at(0.0, 179.999), at(0.0, 0.0)] {
            let flat = Flat::about(middle);
            assert_eq!(flat.lay(middle), FlatPoint::MIDDLE);
            for east in [-3e7, -1.0, 0.0, 1.0, 3e7] {
                let point = FlatPoint { east, north: 1.0 };
                let place = flat.lift(point).unwrap();
                assert!(flat.true_north(point).is_finite());
                if east.abs() < 2.0 {
                    assert!(
                        (bearing(middle, place).unwrap().to_radians().sin() - east / east.hypot(1.0)).abs()
                            < 1e-6
                    );
                }
            }
            assert_eq!(flat.lift(FlatPoint { east: f64::NAN, north: 0.0 }), None);
            assert_eq!(flat.lift(FlatPoint { east: f64::INFINITY, north: 0.0 }), None);
        }
    }

    #[test]
    fn a_map_that_is_logged_gives_no_place_away() {
        let point = FlatPoint { east: 12.5, north: 7.25 };
        assert!(!format!("{point:?} {:?}", Flat::about(at(12.5, -7.25))).contains("12.5"));
    }
}
