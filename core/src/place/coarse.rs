//! Making a place coarser, so that it can be shared.

use super::{Error, MgrsSquare, Position, Side, home};
use crate::units::Metres;

/// How coarse a shared place is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Coarseness {
    /// The square of 1 km.
    OneKilometre,
    /// The square of 10 km.
    TenKilometres,
}

/// A place made coarse. It holds nothing of the exact place: what is here follows from the square's name alone (and, for
/// a place known less well than its square, from how well it was known).
#[derive(Debug, Clone, PartialEq)]
pub struct Coarse {
    /// The square's name: British where that grid holds, Irish in Ireland, MGRS elsewhere.
    pub square: String,
    /// The square's centre; its accuracy is [`Self::uncertainty`].
    pub centre: Position,
    /// How far the exact place may be from the centre: half the square's diagonal, or more if it was known less well.
    pub uncertainty: Metres,
}

impl Coarseness {
    /// The square that it asks for.
    #[must_use]
    pub fn side(self) -> Side {
        match self {
            Self::OneKilometre => Side::Kilometre,
            Self::TenKilometres => Side::Hectad,
        }
    }
}

/// The square of 1 or 10 km in which a position lies.
///
/// A position not known to within a kilometre gets the 10 km square even if 1 km is asked for: naming a smaller one
/// would claim what nobody knows.
///
/// # Errors
/// None in practice: every position lies in a square.
pub fn coarsen(position: Position, to: Coarseness) -> Result<Coarse, Error> {
    let known = position.accuracy().map_or(0.0, Metres::get);
    let side = if known > f64::from(to.side().metres()) { Side::Hectad } else { to.side() };
    let national = home(position).and_then(|point| point.square(side));
    let (square, centre) = if let Some(square) = national {
        (square.to_string(), square.position()?.0)
    } else {
        let square = MgrsSquare::containing(position, side)?;
        (square.to_string(), square.centre())
    };
    let half_diagonal = centre.accuracy().map_or(0.0, Metres::get);
    let uncertainty = Metres::nearest(half_diagonal.max(known));
    Ok(Coarse { square, centre: centre.within(uncertainty), uncertainty })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::{Reference, distance};

    fn at(latitude: f64, longitude: f64) -> Position {
        Position::new(latitude, longitude).unwrap()
    }

    /// Anywhere, and as often in and around the British Isles, where three ways of naming meet.
    fn anywhere() -> impl Strategy<Value = Position> {
        prop_oneof![
            (-90.0..=90.0, -180.0..=180.0).prop_map(|(latitude, longitude)| at(latitude, longitude)),
            (49.0..=62.0, -13.0..=4.0).prop_map(|(latitude, longitude)| at(latitude, longitude)),
        ]
    }

    proptest! {
        #[test]
        fn a_coarse_place_contains_the_exact_one_and_follows_from_its_square(position in anywhere()) {
            for to in [Coarseness::OneKilometre, Coarseness::TenKilometres] {
                let coarse = coarsen(position, to).unwrap();
                prop_assert!(coarse.uncertainty.get() >= to.side().half_diagonal() - 1e-9);
                // Grid metres against metres on the ground: 0.994 near the poles, 0.9996 to 1.001 elsewhere.
                let apart = distance(position, coarse.centre).get();
                prop_assert!(apart <= coarse.uncertainty.get() * 1.0065, "{apart} m from the centre of {}", coarse.square);

                // The name read back gives the same centre and the same uncertainty: nothing else is in there.
                let read: Reference = coarse.square.parse().unwrap();
                prop_assert_eq!(read.side(), Some(to.side()));
                prop_assert_eq!(read.position().unwrap().within(coarse.uncertainty), coarse.centre);
                prop_assert_eq!(read.position().unwrap().accuracy(), Some(coarse.uncertainty));
                // A second coarsening changes nothing, unless the centre lies across the edge of a grid or a zone.
                let grid = |position| home(position).map(|point| point.grid);
                if grid(position).is_some() && grid(position) == grid(coarse.centre) {
                    prop_assert_eq!(coarsen(coarse.centre, to).unwrap().centre, coarse.centre);
                }
            }
        }

        #[test]
        fn nothing_comes_out_finer_than_it_was_known(position in anywhere(), accuracy in 0.0..20_000.0) {
            let known = Metres::new(accuracy).unwrap();
            let coarse = coarsen(position.within(known), Coarseness::OneKilometre).unwrap();
            prop_assert!(coarse.uncertainty >= known);
            prop_assert_eq!(coarse.centre.accuracy(), Some(coarse.uncertainty));
            if accuracy > 1000.0 {
                prop_assert!(coarse.uncertainty.get() > 7071.0);
            }
        }
    }

    #[test]
    fn squares_are_named_on_the_grid_that_is_at_home() {
        for (latitude, longitude, one, ten) in [
            // Test point TP05 of OSTN15: SU 38710 14792.
            (50.931_279_379_1, -1.450_514_337_0, "SU3814", "SU31"),
            // A well-known spire in Dublin: O 15904 34671.
            (53.349_796, -6.260_249, "O1534", "O13"),
            // GeoConvert (GeographicLib 2.1.2): 38SMB4414084706.
            (33.3, 44.4, "38SMB4484", "38SMB48"),
        ] {
            let name = |to| coarsen(at(latitude, longitude), to).unwrap().square;
            assert_eq!(
                (name(Coarseness::OneKilometre), name(Coarseness::TenKilometres)),
                (one.into(), ten.into())
            );
        }
    }

    #[test]
    fn two_places_in_one_square_come_out_the_same() {
        let (a, b) = (at(50.931_28, -1.450_51), at(50.930_2, -1.452_9));
        assert_eq!(coarsen(a, Coarseness::OneKilometre), coarsen(b, Coarseness::OneKilometre));
    }
}
