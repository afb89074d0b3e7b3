//! The seven-parameter shift from WGS84 to OSGB36: the fallback where OSTN15 has no say.

use super::transverse_mercator::{AIRY, BRITISH_ON_AIRY, Ellipsoid, GRS80};

/// How far it may be out, in metres.
///
/// Against OSTN15 it is out by 1.9 m on average and 4.94 m at most (St Kilda) at the 40 published test points, and by
/// 7.3 m at most over the whole table; what goes through it has left the table.
pub(super) const ACCURACY: f64 = 10.0;

// Ordnance Survey, "A guide to coordinate systems in Great Britain" (D00659), section 6.6: metres, parts per million
// and seconds of arc.
const SHIFT: [f64; 3] = [-446.448, 125.157, -542.060];
const SCALE: f64 = 1.0 + 20.4894e-6;
const TURN_SECONDS: [f64; 3] = [-0.1502, -0.2470, -0.8421];

/// WGS84 degrees to National Grid metres.
pub(super) fn to_grid(latitude: f64, longitude: f64) -> (f64, f64) {
    let [x, y, z] = cartesian(GRS80, latitude, longitude);
    let [rx, ry, rz] = turned([x, y, z]);
    let [dx, dy, dz] = SHIFT;
    // The scale multiplies the vector, not its small turn: the form that the Ordnance Survey prints.
    let there = [dx + SCALE * x + rx, dy + SCALE * y + ry, dz + SCALE * z + rz];
    let (latitude, longitude) = geographic(AIRY, there);
    BRITISH_ON_AIRY.forward(latitude, longitude)
}

/// National Grid metres to WGS84 degrees.
pub(super) fn to_degrees(easting: f64, northing: f64) -> (f64, f64) {
    let (latitude, longitude) = BRITISH_ON_AIRY.inverse(easting, northing);
    let there = cartesian(AIRY, latitude, longitude);
    // Inverted by iteration rather than with all signs changed, which does not quite close.
    let mut here = there;
    for _ in 0..4 {
        let [rx, ry, rz] = turned(here);
        let ([x, y, z], [dx, dy, dz]) = (there, SHIFT);
        here = [(x - dx - rx) / SCALE, (y - dy - ry) / SCALE, (z - dz - rz) / SCALE];
    }
    geographic(GRS80, here)
}

/// What the small rotation adds to a vector: the cross product of the two.
fn turned([x, y, z]: [f64; 3]) -> [f64; 3] {
    let [rx, ry, rz] = TURN_SECONDS.map(|seconds| (seconds / 3600.0).to_radians());
    [ry * z - rz * y, rz * x - rx * z, rx * y - ry * x]
}

/// Degrees on the ellipsoid's surface to metres from the Earth's centre.
fn cartesian(ellipsoid: Ellipsoid, latitude: f64, longitude: f64) -> [f64; 3] {
    let (sin, cos) = latitude.to_radians().sin_cos();
    let (sin_longitude, cos_longitude) = longitude.to_radians().sin_cos();
    let radius = ellipsoid.equatorial / (1.0 - ellipsoid.e2() * sin * sin).sqrt();
    [radius * cos * cos_longitude, radius * cos * sin_longitude, radius * (1.0 - ellipsoid.e2()) * sin]
}

/// Metres from the Earth's centre to degrees, the height let go.
fn geographic(ellipsoid: Ellipsoid, [x, y, z]: [f64; 3]) -> (f64, f64) {
    let (e2, across) = (ellipsoid.e2(), x.hypot(y));
    let mut latitude = z.atan2(across * (1.0 - e2));
    for _ in 0..6 {
        let sin = latitude.sin();
        latitude = (z + e2 * ellipsoid.equatorial / (1.0 - e2 * sin * sin).sqrt() * sin).atan2(across);
    }
    (latitude.to_degrees(), y.atan2(x).to_degrees())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::ostn15;
    use crate::place::transverse_mercator::BRITISH_ON_GRS80;

    /// Latitude, longitude, easting, northing: PROJ's own Helmert and projection (pyproj 3.7.2), run once with the same
    /// seven parameters.
    const PROJ: [(f64, f64, f64, f64); 5] = [
        (50.0, -5.5, 149_280.979_1, 16_965.081_9),
        (52.658_007_833, 1.716_073_973, 651_411.221_0, 313_180.597_3),
        (57.0, -5.0, 217_883.713_5, 793_873.627_6),
        (58.2, -8.9, -5_052.233_9, 944_240.378_9),
        (61.2, -1.0, 453_846.260_4, 1_257_974.003_0),
    ];

    #[test]
    fn proj_gives_the_same_metres() {
        for (latitude, longitude, easting, northing) in PROJ {
            let found = to_grid(latitude, longitude);
            assert!((found.0 - easting).abs() < 0.002 && (found.1 - northing).abs() < 0.002, "{found:?}");
            let back = to_degrees(easting, northing);
            assert!((back.0 - latitude).abs() < 2e-8 && (back.1 - longitude).abs() < 2e-8, "{back:?}");
        }
    }

    /// What [`ACCURACY`] rests on: over the whole table Helmert is never further from OSTN15 than it says.
    #[test]
    fn it_is_as_good_as_it_says() {
        let mut worst = 0.0_f64;
        for north in (0..1250).step_by(5) {
            for east in (0..700).step_by(5) {
                let (east, north) = (f64::from(east) * 1000.0, f64::from(north) * 1000.0);
                let (latitude, longitude) = BRITISH_ON_GRS80.inverse(east, north);
                let (easting, northing) = to_grid(latitude, longitude);
                let shift = ostn15::shift(east, north).unwrap();
                worst = worst.max((easting - east - shift.0).hypot(northing - north - shift.1));
            }
        }
        assert!((7.0..7.5).contains(&worst), "{worst}");
        assert!(worst < ACCURACY);
    }
}
