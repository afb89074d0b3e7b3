//! How far and which way, on the ellipsoid.

use std::sync::LazyLock;

use geographiclib_rs::{Geodesic, InverseGeodesic};

use super::Position;
use crate::units::Metres;

pub(super) static WGS84: LazyLock<Geodesic> = LazyLock::new(Geodesic::wgs84);

/// The length of the shortest line between two positions over the ellipsoid.
///
/// # References
/// C. F. F. Karney, "Algorithms for geodesics", Journal of Geodesy 87 (2013), 43-55: right to 15 nanometres.
#[must_use]
pub fn distance(from: Position, to: Position) -> Metres {
    let metres: f64 = WGS84.inverse(from.latitude(), from.longitude(), to.latitude(), to.longitude());
    Metres::nearest(metres)
}

/// The direction in which that line sets out, clockwise from true north; `None` between a position and itself.
///
/// # Units
/// Degrees, from 0 up to, not including, 360.
#[must_use]
pub fn bearing(from: Position, to: Position) -> Option<f64> {
    let (metres, azimuth, _, _): (f64, f64, f64, f64) =
        WGS84.inverse(from.latitude(), from.longitude(), to.latitude(), to.longitude());
    // A bearing just west of north would otherwise round up to 360.
    (metres > 0.0)
        .then(|| azimuth.rem_euclid(360.0))
        .map(|degrees| if degrees < 360.0 { degrees } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn at(latitude: f64, longitude: f64) -> Position {
        Position::new(latitude, longitude).unwrap()
    }

    proptest! {
        #[test]
        fn there_and_back_are_equally_far(
            a in (-90.0..=90.0, -180.0..=180.0),
            b in (-90.0..=90.0, -180.0..=180.0),
        ) {
            let (a, b) = (at(a.0, a.1), at(b.0, b.1));
            prop_assert!((distance(a, b).get() - distance(b, a).get()).abs() < 1e-6);
            prop_assert!(bearing(a, b).is_none_or(|degrees| (0.0..360.0).contains(&degrees)));
        }
    }

    #[test]
    fn no_way_leads_from_a_place_to_itself() {
        let here = at(52.5, -1.5);
        assert_eq!((distance(here, here).get().to_bits(), bearing(here, here)), (0, None));
    }

    #[test]
    fn bearings_go_round_by_the_east() {
        let here = at(0.0, 0.0);
        for (latitude, longitude, expected) in
            [(1.0, 0.0, 0.0), (0.0, 1.0, 90.0), (-1.0, 0.0, 180.0), (0.0, -1.0, 270.0)]
        {
            assert!((bearing(here, at(latitude, longitude)).unwrap() - expected).abs() < 1e-9);
        }
    }
}
