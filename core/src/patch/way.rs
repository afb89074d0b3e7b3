//! The way to a patch from where somebody stands.

use super::propose::doubt;
use super::{Patch, VAGUE_METRES};
use crate::place::{Position, bearing, distance};
use crate::units::Metres;

/// How far and which way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// How far its middle is.
    pub distance: Metres,
    /// Which way, in degrees clockwise from true north; `None` at its very middle.
    pub bearing: Option<f64>,
    /// Whether one stands in it already.
    pub inside: Inside,
}

/// Whether somebody stands in a patch, as far as their position can tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Inside {
    /// In it: no farther from its middle than it reaches and the two positions may be out.
    Yes,
    /// It may be so, but the position is known too badly to say it: worse than [`VAGUE_METRES`].
    Perhaps,
    /// Not in it.
    No,
}

impl Way {
    /// The way to a patch; `None` for one whose place nobody knows.
    #[must_use]
    pub fn to(patch: &Patch, here: Position) -> Option<Self> {
        let centre = patch.centre?;
        let (distance, doubt) = (distance(here, centre), doubt(here, centre));
        let inside = match distance.get() - patch.reach().get() <= doubt {
            true if doubt <= VAGUE_METRES => Inside::Yes,
            true => Inside::Perhaps,
            false => Inside::No,
        };
        Some(Self { distance, bearing: bearing(here, centre), inside })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Metres north of 51.5 degrees north, where a degree of latitude is 111,257 m (meridian arc; from memory).
    fn north(metres: f64, accuracy: Option<f64>) -> Position {
        let position = Position::new(51.5 + metres / 111_257.0, -1.5).unwrap();
        accuracy.map_or(position, |metres| position.within(Metres::new(metres).unwrap()))
    }

    #[test]
    fn one_is_in_a_patch_within_its_reach_and_the_doubt_and_never_by_a_vague_fix() {
        let patch = |radius, accuracy| Patch {
            centre: Some(north(0.0, accuracy)),
            radius: Metres::new(radius).ok(),
            ..Patch::default()
        };
        for (away, fix, radius, centre, expected) in [
            (5.0, Some(8.0), 10.0, None, Inside::Yes),
            (17.0, Some(8.0), 10.0, None, Inside::Yes),
            (19.0, Some(8.0), 10.0, None, Inside::No),
            // Both errors: 6 and 8 make 10.
            (19.0, Some(8.0), 10.0, Some(6.0), Inside::Yes),
            (21.0, Some(8.0), 10.0, Some(6.0), Inside::No),
            (60.0, Some(80.0), 10.0, None, Inside::Perhaps),
            (5.0, Some(80.0), 10.0, None, Inside::Perhaps),
            (95.0, Some(80.0), 10.0, None, Inside::No),
            // A fix that does not say how good it is widens nothing.
            (9.0, None, 10.0, None, Inside::Yes),
            (11.0, None, 10.0, None, Inside::No),
        ] {
            let way = Way::to(&patch(radius, centre), north(away, fix)).unwrap();
            assert_eq!(way.inside, expected, "{away} m off, ± {fix:?}");
            assert!((way.distance.get() - away).abs() < 0.1, "{away}");
            assert!((way.bearing.unwrap() - 180.0).abs() < 1e-6, "it lies to the south");
        }
        assert_eq!(Way::to(&Patch::default(), north(0.0, None)), None);
    }
}
