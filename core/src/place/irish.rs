//! The Irish Grid, both ways, through the polynomial of the Irish surveys.

use super::grid::{Grid, GridPoint, Transformation};
use super::transverse_mercator::IRISH;
use super::{Error, Position, british};

/// The extent of the 25 lettered squares of 100 km, in metres.
pub(super) const EXTENT: f64 = 500_000.0;

// Ordnance Survey, "Transformations and OSGM15 user guide" v1.3 (2020), chapter 3: seconds of arc to add to Irish Grid
// latitude and longitude for ETRS89. Rows: powers of U (latitude); columns: powers of V (longitude).
const CENTRE: (f64, f64) = (53.5, -7.7);
const PER_DEGREE: f64 = 0.1;
const LATITUDE: [[f64; 4]; 4] = [
    [0.763, 0.123, 0.183, -0.374],
    [-4.487, -0.515, 0.414, 13.110],
    [0.215, -0.570, 5.703, 113.743],
    [-0.265, 2.852, -61.678, -265.898],
];
const LONGITUDE: [[f64; 4]; 4] = [
    [-2.810, -4.680, 0.170, 2.163],
    [-0.341, -0.119, 3.913, 18.867],
    [1.196, 4.877, -27.795, -284.294],
    [-0.887, -46.666, -95.377, -853.950],
];

/// The point of the Irish Grid at a position, or `None` off its lettered squares.
#[must_use]
pub fn to_grid(position: Position) -> Option<GridPoint> {
    let (latitude, longitude) = (position.latitude(), position.longitude());
    if !(50.5..=56.5).contains(&latitude) || !(-12.0..=-2.0).contains(&longitude) {
        return None;
    }
    // The polynomial runs the other way; what it adds changes so slowly that a few rounds undo it.
    let mut old = (latitude, longitude);
    for _ in 0..6 {
        let (north, east) = correction(old.0, old.1);
        old = (latitude - north, longitude - east);
    }
    let (easting, northing) = IRISH.forward(old.0, old.1);
    let inside = (0.0..EXTENT).contains(&easting) && (0.0..EXTENT).contains(&northing);
    inside.then(|| GridPoint { grid: Grid::Irish, easting, northing, by: by(position) })
}

/// The position of a point of the Irish Grid, and how it was reached.
///
/// # Units
/// Metres.
///
/// # Errors
/// [`Error::UnknownSquare`] off the lettered squares: 0 to 500,000 both ways.
pub fn to_position(easting: f64, northing: f64) -> Result<(Position, Transformation), Error> {
    if !(0.0..EXTENT).contains(&easting) || !(0.0..EXTENT).contains(&northing) {
        return Err(Error::UnknownSquare);
    }
    let (latitude, longitude) = IRISH.inverse(easting, northing);
    let (north, east) = correction(latitude, longitude);
    let position = Position::new(latitude + north, longitude + east)?;
    Ok((position, by(position)))
}

/// Whether a position lies in Ireland: in the box around the island and outside the area that the Ordnance Survey made
/// the British grid for, whose boundary runs down the sea between.
pub(super) fn covers(position: Position) -> bool {
    (51.2..=55.6).contains(&position.latitude())
        && (-11.0..=-5.3).contains(&position.longitude())
        && !british::covers(position)
}

fn by(position: Position) -> Transformation {
    if covers(position) { Transformation::IrishPolynomial } else { Transformation::IrishPolynomialBeyond }
}

/// What to add to Irish Grid latitude and longitude for ETRS89, in degrees.
fn correction(latitude: f64, longitude: f64) -> (f64, f64) {
    let (u, v) = (PER_DEGREE * (latitude - CENTRE.0), PER_DEGREE * (longitude - CENTRE.1));
    let horner = |coefficients: &[f64; 4], x: f64| coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c);
    let seconds = |rows: &[[f64; 4]; 4]| horner(&rows.each_ref().map(|row| horner(row, v)), u);
    (seconds(&LATITUDE) / 3600.0, seconds(&LONGITUDE) / 3600.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::distance;
    use crate::units::Metres;

    /// Easting, northing, longitude, latitude: PROJ (pyproj 3.7.2), EPSG:29903 to EPSG:4326, run once. It goes by TM75's
    /// seven parameters, which EPSG rates at 1 m.
    const PROJ: [(f64, f64, f64, f64); 8] = [
        (315_904.5, 234_671.5, -6.260_240_83, 53.349_800_40),
        (60_000.0, 80_000.0, -10.037_213_20, 51.954_987_16),
        (140_000.0, 440_000.0, -8.943_095_17, 55.203_429_31),
        (330_000.0, 370_000.0, -5.991_099_43, 54.561_602_17),
        (300_000.0, 110_000.0, -6.537_054_64, 52.233_141_18),
        (90_000.0, 330_000.0, -9.686_591_07, 54.207_149_72),
        (200_000.0, 250_000.0, -8.000_738_63, 53.500_211_63),
        (333_000.0, 374_000.0, -5.942_946_75, 54.596_732_85),
    ];

    #[test]
    fn the_polynomial_agrees_with_seven_parameters_to_a_metre() {
        for (easting, northing, longitude, latitude) in PROJ {
            let (ours, by) = to_position(easting, northing).unwrap();
            let apart = distance(ours, Position::new(latitude, longitude).unwrap());
            assert!(apart < Metres::new(1.0).unwrap(), "{apart} m at {easting} {northing}");
            assert_eq!(by, Transformation::IrishPolynomial);
        }
    }

    #[test]
    fn the_way_back_leads_to_the_same_point() {
        for easting in (0..500).step_by(9) {
            for northing in (0..500).step_by(9) {
                let point = (f64::from(easting) * 1000.0 + 0.5, f64::from(northing) * 1000.0 + 0.5);
                let back = to_grid(to_position(point.0, point.1).unwrap().0).unwrap();
                assert!((back.easting - point.0).hypot(back.northing - point.1) < 1e-5, "{point:?}");
            }
        }
    }

    #[test]
    fn off_the_lettered_squares_there_is_no_irish_grid() {
        for (easting, northing) in [(-1.0, 5.0), (500_000.0, 5.0), (5.0, 500_000.0), (f64::NAN, 5.0)] {
            assert_eq!(to_position(easting, northing), Err(Error::UnknownSquare));
        }
        assert_eq!(to_grid(Position::new(50.9, -1.45).unwrap()), None);
    }
}
