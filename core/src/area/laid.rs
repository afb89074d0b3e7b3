//! An area laid flat, to be drawn on a map.

use super::outline::{Outline, Ring};
use crate::place::{Flat, FlatPoint, Position};

/// Corners that a circle is drawn with: at most one part in a thousand of its radius off.
const ROUND: u32 = 72;
/// A ring of more corners is drawn with so many: on a wood 40 km round, at most 8 m off. What holds is judged by all of them.
const MOST_CORNERS: usize = 5_000;

/// An outline as it lies on a flat map.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Closed lines; what lies within an odd number of them is inside, and so holes are not.
    pub rings: Vec<Vec<FlatPoint>>,
    /// A point well inside, where its name may stand.
    pub inside: FlatPoint,
}

impl Outline {
    /// Where it comes to lie; `None` for one without a corner.
    #[must_use]
    pub fn laid(&self, flat: Flat) -> Option<Laid> {
        let rings: Vec<Vec<FlatPoint>> = match self {
            Self::Circle { centre, radius } => vec![circle(flat, *centre, radius.get())],
            Self::Polygons(polygons) => {
                let thinned = polygons.iter().flatten().map(thinned);
                thinned.map(|ring| ring.into_iter().map(|corner| flat.lay(corner)).collect()).collect()
            }
        };
        let inside = inside(&rings)?;
        Some(Laid { rings, inside })
    }
}

fn circle(flat: Flat, centre: Position, radius: f64) -> Vec<FlatPoint> {
    let about = Flat::about(centre);
    let corner = |n: u32| {
        let (sin, cos) = (f64::from(n) / f64::from(ROUND) * std::f64::consts::TAU).sin_cos();
        about.lift(FlatPoint { east: radius * sin, north: radius * cos })
    };
    (0..=ROUND).filter_map(corner).map(|corner| flat.lay(corner)).collect()
}

/// A ring without the corners that hardly part from the one before.
fn thinned(ring: &Ring) -> Ring {
    if ring.len() <= MOST_CORNERS {
        return ring.clone();
    }
    let squeeze = ring.first().map_or(1.0, |corner| corner.latitude().to_radians().cos());
    let apart = |a: Position, b: Position| {
        (a.latitude() - b.latitude()).hypot((a.longitude() - b.longitude()) * squeeze)
    };
    let edges = ring.windows(2).filter_map(|pair| if let [a, b] = pair { Some(apart(*a, *b)) } else { None });
    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    let least = edges.sum::<f64>() / MOST_CORNERS as f64;
    let mut kept: Ring = Vec::with_capacity(MOST_CORNERS);
    for corner in ring {
        if kept.last().is_none_or(|last| apart(*last, *corner) >= least) {
            kept.push(*corner);
        }
    }
    kept.extend(ring.last());
    kept
}

/// The middle of the widest stretch inside, half way up the largest ring.
fn inside(rings: &[Vec<FlatPoint>]) -> Option<FlatPoint> {
    let height = |ring: &[FlatPoint]| {
        let norths = || ring.iter().map(|at| at.north);
        (norths().fold(f64::INFINITY, f64::min), norths().fold(f64::NEG_INFINITY, f64::max))
    };
    let heights = rings.iter().filter(|ring| !ring.is_empty()).map(|ring| height(ring));
    let (low, high) = heights.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
    let north = f64::midpoint(low, high);
    let mut crossings: Vec<f64> = rings.iter().flat_map(|ring| crossings(ring, north)).collect();
    crossings.sort_by(f64::total_cmp);
    let stretches =
        crossings.chunks_exact(2).filter_map(|pair| if let [a, b] = pair { Some((*a, *b)) } else { None });
    let widest = stretches.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    let anywhere = || rings.iter().flatten().next().copied();
    widest.map(|(west, east)| FlatPoint { east: f64::midpoint(west, east), north }).or_else(anywhere)
}

/// Where a ring crosses a line from west to east.
fn crossings(ring: &[FlatPoint], north: f64) -> Vec<f64> {
    let crossing = |pair: &[FlatPoint]| {
        let [a, b] = pair else { return None };
        ((a.north <= north) != (b.north <= north))
            .then(|| a.east + (north - a.north) / (b.north - a.north) * (b.east - a.east))
    };
    ring.windows(2).filter_map(crossing).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::area::Lies;
    use crate::place::distance;
    use crate::units::Metres;

    fn at(latitude: f64, longitude: f64) -> Position {
        Position::new(latitude, longitude).unwrap()
    }

    fn exactly(place: Position) -> Position {
        place.within(Metres::new(0.0).unwrap())
    }

    fn ring(corners: &[(f64, f64)]) -> Ring {
        corners.iter().chain(corners.first()).map(|(latitude, longitude)| at(*latitude, *longitude)).collect()
    }

    #[test]
    fn a_circle_is_as_wide_as_it_is() {
        let centre = at(51.5, -1.5);
        let outline = Outline::Circle { centre, radius: Metres::new(250.0).unwrap() };
        let flat = Flat::about(at(51.51, -1.52));
        let laid = outline.laid(flat).unwrap();
        assert_eq!(laid.rings[0].first(), laid.rings[0].last());
        for corner in &laid.rings[0] {
            assert!((distance(centre, flat.lift(*corner).unwrap()).get() - 250.0).abs() < 0.001);
        }
        assert_eq!(outline.whereto(exactly(flat.lift(laid.inside).unwrap())), Lies::Inside);
    }

    #[test]
    fn the_name_of_a_ring_with_a_hole_stands_in_neither_the_hole_nor_outside() {
        let outer = ring(&[(51.0, -1.0), (51.0, -0.9), (51.1, -0.9), (51.1, -1.0)]);
        let hole = ring(&[(51.02, -0.99), (51.02, -0.92), (51.08, -0.92), (51.08, -0.99)]);
        let outline = Outline::Polygons(vec![vec![outer, hole]]);
        let flat = Flat::about(at(51.0, -1.0));
        let laid = outline.laid(flat).unwrap();
        assert_eq!(laid.rings.len(), 2);
        assert_eq!(outline.whereto(exactly(flat.lift(laid.inside).unwrap())), Lies::Inside);
    }

    #[test]
    fn what_has_no_corner_is_nowhere() {
        for polygons in [vec![], vec![vec![]], vec![vec![vec![]]]] {
            assert_eq!(Outline::Polygons(polygons).laid(Flat::about(at(51.0, -1.0))), None);
        }
    }

    proptest! {
        /// A star of any shape: its name stands inside, and a thousand times the corners are thinned to what can be drawn.
        #[test]
        fn names_stand_inside_and_thinned_rings_stay_near(
            reaches in prop::collection::vec(0.002..0.02f64, 5..40), fine in prop::bool::ANY,
        ) {
            let middle = (51.5, -1.5);
            let more = if fine { 400 } else { 1 };
            let count = reaches.len() * more;
            let share = |n: usize, of: usize| f64::from(u32::try_from(n).unwrap()) / f64::from(u32::try_from(of).unwrap());
            let corner = |n: usize| {
                let (sin, cos) = (share(n, count) * std::f64::consts::TAU).sin_cos();
                let (a, b, part) = (reaches[n / more], reaches[(n / more + 1) % reaches.len()], share(n % more, more));
                let reach = a + (b - a) * part;
                (middle.0 + reach * sin, middle.1 + reach * cos)
            };
            let outline = Outline::Polygons(vec![vec![ring(&(0..count).map(corner).collect::<Vec<_>>())]]);
            let flat = Flat::about(at(middle.0, middle.1));
            let laid = outline.laid(flat).unwrap();
            prop_assert!(laid.rings[0].len() <= MOST_CORNERS + 2);
            prop_assert_eq!(laid.rings[0].first(), laid.rings[0].last());
            prop_assert_eq!(outline.whereto(exactly(flat.lift(laid.inside).unwrap())), Lies::Inside);
            // Every corner that was drawn is one of the ring's: on its edge.
            for at in laid.rings[0].iter().step_by(97) {
                let near = flat.lift(*at).unwrap().within(Metres::new(0.5).unwrap());
                prop_assert!(outline.whereto(near) != Lies::Outside);
            }
        }
    }
}
