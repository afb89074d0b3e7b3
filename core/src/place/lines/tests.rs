use proptest::prelude::*;

use super::*;
use crate::place::{british, distance};

fn at(latitude: f64, longitude: f64) -> Position {
    Position::new(latitude, longitude).unwrap()
}

/// The lines about a place, on a window so many metres wide and high.
fn about(place: Position, size: f64, closest: f64) -> (Flat, GridLines) {
    let flat = Flat::about(place);
    let window = Window { middle: FlatPoint::MIDDLE, across: size, up: size };
    (flat, grid_lines(flat, &window, closest))
}

fn names(grid: &GridLines, axis: Axis) -> Vec<&str> {
    grid.lines.iter().filter(|line| line.axis == axis).map(|line| line.name.as_str()).collect()
}

/// How far the middle of the map lies from a straight line, in metres.
fn off_middle(line: &GridLine) -> f64 {
    let (a, b) = (line.points[0], *line.points.last().unwrap());
    let (east, north) = (b.east - a.east, b.north - a.north);
    ((a.east * north - a.north * east) / east.hypot(north)).abs()
}

/// Test point TP05 of OSTN15: E 438710.920, N 114792.250 as the Ordnance Survey publishes it. The scale of the National
/// Grid there is 0.99962 (PROJ, pyproj 3.7.2, `get_factors` of EPSG:27700), so its metres are that much longer on the ground.
#[test]
fn lines_lie_as_far_from_a_published_point_as_its_figures_say() {
    let place = at(50.931_279_379_1, -1.450_514_337_0);
    for (closest, easting, northing, east_off, north_off) in [
        (400.0, "38", "14", 710.920, 792.250),
        (50.0, "387", "147", 10.920, 92.250),
        (5.0, "3871", "1479", 0.920, 2.250),
    ] {
        let (_, grid) = about(place, closest * 10.0, closest);
        let line =
            |axis, name: &str| grid.lines.iter().find(|line| line.axis == axis && line.name == name).unwrap();
        for (found, expected) in [
            (off_middle(line(Axis::Easting, easting)), east_off),
            (off_middle(line(Axis::Northing, northing)), north_off),
        ] {
            // OSTN15 stretches the grid by a few centimetres a kilometre besides, and differently everywhere.
            let within = 0.002 + expected * 6e-5;
            assert!((found - expected / 0.999_62).abs() < within, "{found} for {expected}");
        }
    }
}

/// From the map of the National Grid's squares: SU lies between SP, TQ, SZ and ST (Ordnance Survey).
#[test]
fn figures_and_letters_follow_the_step() {
    let place = at(50.931_279_379_1, -1.450_514_337_0);
    let (_, grid) = about(place, 3_000.0, 300.0);
    assert_eq!((grid.step, names(&grid, Axis::Easting)), (1_000, vec!["37", "38", "39", "40"]));
    assert_eq!(names(&grid, Axis::Northing), ["13", "14", "15", "16"]);
    assert!(grid.squares.is_empty());
    assert!(grid.lines.iter().all(|line| line.is_tenth == line.name.ends_with('0')));
    let (_, grid) = about(place, 25_000.0, 3_000.0);
    assert_eq!((grid.step, names(&grid, Axis::Easting)), (10_000, vec!["3", "4", "5"]));
    let squares: Vec<&str> = grid.squares.iter().map(|square| square.name.as_str()).collect();
    assert!(
        squares.contains(&"SU31") && squares.contains(&"SU30") && squares.contains(&"SU42"),
        "{squares:?}"
    );
    let (_, grid) = about(place, 300_000.0, 30_000.0);
    assert!(grid.step == 100_000 && grid.lines.iter().all(|line| line.name.is_empty()));
    let squares: Vec<&str> = grid.squares.iter().map(|square| square.name.as_str()).collect();
    for name in ["SU", "SP", "TQ", "SZ", "ST"] {
        assert!(squares.contains(&name), "{name} among {squares:?}");
    }
    let line_at = |metres| about(place, 30_000.0, metres).1.step;
    assert_eq!([0.0, 1_000.0, 1_001.0, 1e4, 100_000.0].map(line_at), [1_000, 1_000, 10_000, 10_000, 100_000]);
    assert_eq!(about(place, 30_000.0, 100_001.0).1, GridLines::default());
}

/// The 100 km line between SU and TQ, easting 500,000, where figures begin again at 00.
#[test]
fn figures_begin_again_at_the_edge_of_a_square() {
    let edge = british::to_position(500_000.0, 150_500.0).unwrap().0;
    let (_, grid) = about(edge, 3_000.0, 500.0);
    assert_eq!(names(&grid, Axis::Easting), ["99", "00", "01"]);
    assert!(grid.lines.iter().any(|line| line.name == "00" && line.is_tenth));
}

/// Letters of squares as their surveys have them: O holds Dublin; 30UXC from `GeoConvert`, see `frame`.
#[test]
fn on_a_map_of_many_grids_each_has_its_own() {
    let (flat, grid) = about(at(53.5, -4.5), 900_000.0, 60_000.0);
    let squares: Vec<&str> = grid.squares.iter().map(|square| square.name.as_str()).collect();
    for name in ["SU", "NT", "SH", "O", "N", "J"] {
        assert!(squares.contains(&name), "{name} among {squares:?}");
    }
    assert!(squares.iter().any(|name| name.starts_with("30U")), "{squares:?}");
    // A grid's lines end where another's begin.
    for line in &grid.lines {
        for point in &line.points {
            let (east, north) = Frame::at(flat.lift(*point).unwrap()).unwrap().1;
            let metres = if line.axis == Axis::Easting { east } else { north };
            assert!((metres / 100_000.0 - (metres / 100_000.0).round()).abs() < 1e-6, "{metres}");
        }
    }
}

/// Lines of the British grid bend on a map of Britain: the one through 400 km east is the meridian of 2 degrees west, near
/// enough (the grid's central meridian, on another datum).
#[test]
fn the_central_meridian_is_a_line() {
    let (flat, grid) = about(at(54.0, -2.0), 600_000.0, 50_000.0);
    let middle = grid.lines.iter().filter(|line| line.axis == Axis::Easting && off_middle(line) < 500.0);
    let points: Vec<Position> =
        middle.flat_map(|line| &line.points).map(|at| flat.lift(*at).unwrap()).collect();
    assert!(points.len() >= 2 && points.iter().all(|place| (place.longitude() + 2.0).abs() < 0.003));
}

#[test]
fn there_are_lines_across_the_antimeridian_and_about_the_poles() {
    for (place, size, closest) in [
        (at(-17.0, -179.999), 50_000.0, 5_000.0),
        (at(0.0, 0.0), 2_000.0, 100.0),
        (at(90.0, 0.0), 300_000.0, 40_000.0),
        (at(-90.0, 0.0), 2_000.0, 100.0),
        (at(84.0, 12.0), 40_000.0, 5_000.0),
    ] {
        let (_, grid) = about(place, size, closest);
        for axis in [Axis::Easting, Axis::Northing] {
            let of_axis: Vec<&GridLine> = grid.lines.iter().filter(|line| line.axis == axis).collect();
            // On both sides of the middle.
            let sides = |pick: fn(&FlatPoint) -> f64| {
                let points = || of_axis.iter().flat_map(|line| &line.points).map(pick);
                points().any(|metres| metres < 0.0) && points().any(|metres| metres > 0.0)
            };
            assert!(sides(|at| at.east) && sides(|at| at.north), "{size}");
        }
    }
}

#[test]
fn what_cannot_be_looked_at_has_no_grid() {
    let flat = Flat::about(at(51.0, -1.0));
    let window = Window { middle: FlatPoint::MIDDLE, across: 1_000.0, up: 1_000.0 };
    for (window, closest) in [
        (Window { across: 0.0, ..window }, 100.0),
        (Window { up: -5.0, ..window }, 100.0),
        (Window { across: f64::NAN, ..window }, 100.0),
        (Window { up: 6e6, ..window }, 100.0),
        (Window { middle: FlatPoint { east: f64::INFINITY, north: 0.0 }, ..window }, 100.0),
        (window, f64::NAN),
        (window, f64::INFINITY),
    ] {
        assert_eq!(grid_lines(flat, &window, closest), GridLines::default());
    }
}

fn anywhere() -> impl Strategy<Value = Position> {
    prop_oneof![
        (-90.0..=90.0, -180.0..180.0).prop_map(|(latitude, longitude)| at(latitude, longitude)),
        (49.0..=62.0, -12.0..=4.0).prop_map(|(latitude, longitude)| at(latitude, longitude)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Wherever it is and however far in: lines stand no closer than asked, run where their grid says, and end where it does.
    #[test]
    fn lines_run_where_their_figures_say(
        place in anywhere(), closeness in 0.5..5.6f64, fill in 3.0..30.0f64, east in -2e4..2e4, north in -2e4..2e4,
    ) {
        let closest = 10_f64.powf(closeness);
        let flat = Flat::about(place);
        let window = Window { middle: FlatPoint { east, north }, across: closest * fill, up: closest * fill * 1.5 };
        let grid = grid_lines(flat, &window, closest);
        prop_assert_eq!(grid.step == 0, closest > 100_000.0 || window.up > WIDEST || window.up / MOST > 100_000.0);
        prop_assert!(grid.step == 0 || f64::from(grid.step) >= closest);
        for line in &grid.lines {
            prop_assert!(line.points.len() > 1);
            for point in &line.points {
                let (_, metres) = Frame::at(flat.lift(*point).unwrap()).unwrap();
                let metres = if line.axis == Axis::Easting { metres.0 } else { metres.1 };
                let off = (metres / f64::from(grid.step) - (metres / f64::from(grid.step)).round()).abs();
                // A point on the very edge of a grid may lie across it.
                let is_end = *point == line.points[0] || Some(point) == line.points.last();
                prop_assert!(is_end || off * f64::from(grid.step) < 0.01, "{} m off", off * f64::from(grid.step));
            }
        }
        for square in &grid.squares {
            prop_assert!(!square.name.is_empty() && window.holds(square.at));
        }
    }

    /// A local map has a line either way wherever there is room for one, and figures that count up.
    #[test]
    fn no_line_is_missing(place in anywhere(), east in 0.0..1.0f64) {
        let size = 2_500.0 + east * 1_000.0;
        let (_, grid) = about(place, size, 250.0);
        prop_assert_eq!(grid.step, 1_000);
        for axis in [Axis::Easting, Axis::Northing] {
            prop_assert!(grid.lines.iter().filter(|line| line.axis == axis).count() >= 2);
        }
    }
}

#[test]
fn straight_lines_have_two_points() {
    let (_, grid) = about(at(51.5, -1.5), 3_000.0, 300.0);
    assert!(grid.lines.iter().all(|line| line.points.len() == 2));
    let line = &grid.lines[0];
    let flat = Flat::about(at(51.5, -1.5));
    let (a, b) = (flat.lift(line.points[0]).unwrap(), flat.lift(line.points[1]).unwrap());
    // From edge to edge of the window, and no more than the mesh beyond.
    assert!((3_000.0..4_500.0).contains(&distance(a, b).get()));
}
