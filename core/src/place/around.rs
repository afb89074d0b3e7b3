//! A square among its neighbours, as a map shows it.

use super::{Error, Reference, Square};

/// How many sides to the east and to the north each square is, row by row from the north-west.
const STEPS: [(i32, i32); 9] = [(-1, 1), (0, 1), (1, 1), (-1, 0), (0, 0), (1, 0), (-1, -1), (0, -1), (1, -1)];

/// The names of a square and of the eight around it, row by row from the north-west, so that its own is the fifth. None
/// where a grid has no square, and for MGRS at the equator.
///
/// # Errors
/// Those of reading the square; [`Error::Unrecognised`] for degrees, which name none.
pub fn around(square: &str) -> Result<[Option<String>; 9], Error> {
    let square: Reference = square.parse()?;
    let beside = |east: i32, north: i32| match &square {
        Reference::Square(square) => national(*square, east, north).map(|square| square.to_string()),
        // A square across the edge of a band goes by two names: it keeps the one it was given.
        Reference::Mgrs(square) if (east, north) == (0, 0) => Some(square.to_string()),
        Reference::Mgrs(square) => square.beside(east, north).map(|square| square.to_string()),
        Reference::Degrees(_) => None,
    };
    if matches!(square, Reference::Degrees(_)) {
        return Err(Error::Unrecognised);
    }
    Ok(STEPS.map(|(east, north)| beside(east, north)))
}

/// The square so many sides to the east and to the north.
fn national(square: Square, east: i32, north: i32) -> Option<Square> {
    let side = f64::from(square.side().metres());
    let (easting, northing) = square.centre();
    let (easting, northing) = (easting + f64::from(east) * side, northing + f64::from(north) * side);
    Square::containing(square.grid(), easting, northing, square.side())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::{Coarseness, Position, coarsen, distance};

    fn names(square: &str) -> Vec<String> {
        around(square).unwrap().into_iter().map(|name| name.unwrap_or_else(|| "-".to_owned())).collect()
    }

    /// As the squares stand on any map of the National Grid (Ordnance Survey, "A guide to coordinate systems in Great Britain",
    /// §4: letters run from the west and from the north, figures from the west and from the south).
    #[test]
    fn neighbours_stand_as_on_the_map() {
        assert_eq!(names("SU31"), ["SU22", "SU32", "SU42", "SU21", "SU31", "SU41", "SU20", "SU30", "SU40"]);
        assert_eq!(names("SU00"), ["ST91", "SU01", "SU11", "ST90", "SU00", "SU10", "SY99", "SZ09", "SZ19"]);
        assert_eq!(
            names("SU3814"),
            ["SU3715", "SU3815", "SU3915", "SU3714", "SU3814", "SU3914", "SU3713", "SU3813", "SU3913"]
        );
        assert_eq!(names("O13"), ["O04", "O14", "O24", "O03", "O13", "O23", "O02", "O12", "O22"]);
        // The south-west corner of the grid.
        assert_eq!(names("SV00"), ["-", "SV01", "SV11", "-", "SV00", "SV10", "-", "-", "-"]);
        assert_eq!(
            names("38SMB48"),
            [
                "38SMB39", "38SMB49", "38SMB59", "38SMB38", "38SMB48", "38SMB58", "38SMB37", "38SMB47",
                "38SMB57"
            ]
        );
        assert_eq!(around("51.5, -1.5"), Err(Error::Unrecognised));
    }

    proptest! {
        /// Each neighbour's centre is one side, or one diagonal, away, and lies where its place in the rows says.
        #[test]
        fn neighbours_are_one_side_away(latitude in -79.0..=83.0, longitude in -180.0..=180.0) {
            for to in [Coarseness::OneKilometre, Coarseness::TenKilometres] {
                let square = coarsen(Position::new(latitude, longitude).unwrap(), to).unwrap().square;
                let centre = |name: &str| name.parse::<Reference>().unwrap().position().unwrap();
                let around = around(&square).unwrap();
                prop_assert_eq!(around[4].as_deref(), Some(square.as_str()));
                for (at, name) in around.iter().enumerate() {
                    let Some(name) = name else { continue };
                    let steps = (f64::from(u8::try_from(at % 3).unwrap()) - 1.0).hypot(f64::from(u8::try_from(at / 3).unwrap()) - 1.0);
                    let expected = steps * f64::from(to.side().metres());
                    // Grid metres against metres on the ground: less than 1 % apart.
                    let apart = distance(centre(&square), centre(name)).get();
                    prop_assert!((apart - expected).abs() <= expected * 0.01 + 0.001, "{apart} m for {expected}");
                }
            }
        }
    }

    #[test]
    fn at_the_equator_and_at_the_poles_there_may_be_none_and_nothing_falls_over() {
        for latitude in [-90.0, -84.0, -80.0, -0.01, -1e-12, 0.0, 1e-12, 0.01, 83.99, 84.0, 90.0] {
            for longitude in (-180..180).map(f64::from) {
                let square = coarsen(Position::new(latitude, longitude).unwrap(), Coarseness::TenKilometres);
                let square = square.unwrap().square;
                assert_eq!(around(&square).unwrap()[4].as_deref(), Some(square.as_str()));
            }
        }
    }
}
