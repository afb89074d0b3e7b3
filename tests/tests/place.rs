//! Places against figures published or computed outside Trug. The source stands beside each figure.

#![allow(clippy::indexing_slicing, clippy::unwrap_used)]

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use trug::place::{
    Coarseness, Grid, Place, Position, Reference, Side, Square, Transformation, bearing, british, coarsen,
    distance, home, irish,
};
use trug::units::Metres;
use trug_tests::{run, tool};

/// Name, latitude, longitude, easting, northing: see the file.
fn test_points() -> Vec<(&'static str, f64, f64, f64, f64)> {
    let lines = include_str!("data/ostn15-points.txt").lines().filter(|line| !line.starts_with('#'));
    let points: Vec<_> = lines
        .map(|line| {
            let fields: Vec<&str> = line.split(' ').collect();
            let number = |at: usize| fields[at].parse::<f64>().unwrap();
            (fields[0], number(1), number(2), number(3), number(4))
        })
        .collect();
    assert_eq!(points.len(), 40);
    points
}

fn at(latitude: f64, longitude: f64) -> Position {
    Position::new(latitude, longitude).unwrap()
}

/// The Ordnance Survey asks implementations to meet its 40 points; 2 mm leave room for its own rounding, a millimetre
/// an axis.
#[test]
fn the_forty_ostn15_points_within_two_millimetres_both_ways() {
    for (name, latitude, longitude, easting, northing) in test_points() {
        let found = british::to_grid(at(latitude, longitude)).unwrap();
        let apart = (found.easting - easting).hypot(found.northing - northing);
        assert!(apart <= 0.002, "{name}: {apart} m");
        assert_eq!(found.by, Transformation::Ostn15, "{name}");

        let (back, by) = british::to_position(easting, northing).unwrap();
        let apart = distance(back, at(latitude, longitude)).get();
        assert!(apart <= 0.002, "{name}: {apart} m back");
        assert_eq!(by, Transformation::Ostn15, "{name}");
    }
}

/// Ordnance Survey, "Transformations and OSGM15 user guide" v1.3 (2020), annexe A: Caister water tower, through the whole
/// transformation and back. (OSTN02, its predecessor, would give 651409.792, 313177.448.)
#[test]
fn the_ordnance_survey_worked_example() {
    let (latitude, longitude) = (52.0 + 39.0 / 60.0 + 28.8282 / 3600.0, 1.0 + 42.0 / 60.0 + 57.8663 / 3600.0);
    let found = british::to_grid(at(latitude, longitude)).unwrap();
    assert!((found.easting - 651_409.804).hypot(found.northing - 313_177.450) < 0.002, "{}", found.easting);
    let (back, _) = british::to_position(651_409.804, 313_177.450).unwrap();
    assert!(
        (back.latitude() - 52.658_007_833).abs() < 1e-8 && (back.longitude() - 1.716_073_972).abs() < 1e-8
    );
}

/// The test points' grid references and tetrads. Computed once with `osbng` 0.5.1 for Python and Debian's `Geo::Coordinates::OSGB`
/// 2.20, which agree.
#[test]
fn references_and_tetrads_of_the_test_points() {
    for (easting, northing, reference, tetrad) in [
        (91_492.146, 11_318.804, "SV 91492 11318", "SV91A"),
        (438_710.920, 114_792.250, "SU 38710 14792", "SU31X"),
        (292_184.870, 168_003.465, "SS 92184 68003", "SS96J"),
        (530_624.974, 178_388.464, "TQ 30624 78388", "TQ37E"),
        (454_002.834, 340_834.943, "SK 54002 40834", "SK54K"),
        (525_745.670, 470_703.214, "TA 25745 70703", "TA27K"),
        (424_639.355, 565_012.703, "NZ 24639 65012", "NZ26M"),
        (167_634.202, 797_067.144, "NM 67634 97067", "NM69T"),
        (267_056.768, 846_176.972, "NH 67056 46176", "NH64T"),
        (9_587.909, 899_448.996, "NF 09587 99448", "NF09Z"),
        (330_398.323, 1_017_347.016, "HY 30398 17347", "HY31D"),
        (395_999.668, 1_138_728.951, "HT 95999 38728", "HT93P"),
        (651_409.804, 313_177.450, "TG 51409 13177", "TG51B"),
    ] {
        let name = |side| Square::containing(Grid::British, easting, northing, side).unwrap().to_string();
        assert_eq!((name(Side::Metre).as_str(), name(Side::Tetrad).as_str()), (reference, tetrad));
        // The same from the degrees of a test point, which a rounding reference would miss.
        if let Some(point) = test_points().iter().find(|point| (point.3 - easting).abs() < 0.001) {
            assert_eq!(Place::of(at(point.1, point.2)).british_grid.as_deref(), Some(reference));
        }
    }
}

/// A county recording scheme's help page: tetrad TQ75G is the four 1 km squares TQ7252, TQ7253, TQ7352 and TQ7353.
#[test]
fn the_published_tetrad_example() {
    for square in ["TQ7252", "TQ7253", "TQ7352", "TQ7353"] {
        let Ok(Reference::Square(square)) = square.parse::<Reference>() else { panic!("{square}") };
        let (easting, northing) = square.centre();
        let tetrad = Square::containing(Grid::British, easting, northing, Side::Tetrad).unwrap();
        assert_eq!(tetrad.to_string(), "TQ75G");
    }
    let Ok(Reference::Square(tetrad)) = "TQ75G".parse::<Reference>() else { panic!() };
    assert_eq!(tetrad.centre(), (573_000.0, 153_000.0));
}

/// The uncertainty of a square is half its diagonal: Darwin Core's coordinateUncertaintyInMeters.
#[test]
fn the_uncertainty_of_squares() {
    for (typed, metres) in [
        ("TQ 30624 78388", 0.707),
        ("SU 3871 1479", 7.071),
        ("SU 387 147", 70.711),
        ("SU3814", 707.107),
        ("SU31X", 1414.214),
        ("TF70NW", 3535.534),
        ("SU31", 7071.068),
        ("O 159 346", 70.711),
        ("30UXC 999 081", 70.711),
    ] {
        assert_eq!(Place::read(typed).unwrap().uncertainty_m, Some(metres), "{typed}");
    }
}

/// The spire of Dublin: Irish Grid 315904, 234671, published as O 15904 34671; PROJ (pyproj 3.7.2, EPSG:29903) puts it at
/// 53.349796, -6.260249, to within EPSG's 1 m.
#[test]
fn the_published_irish_example() {
    let spire = at(53.349_796, -6.260_249);
    let (found, by) = irish::to_position(315_904.0, 234_671.0).unwrap();
    assert!(distance(found, spire).get() < 1.0);
    assert_eq!(by, Transformation::IrishPolynomial);

    let place = Place::of(spire);
    assert_eq!(
        (place.irish_grid.as_deref(), place.british_grid, place.easting),
        (Some("O 15904 34671"), None, None)
    );
    assert_eq!(home(spire).map(|point| point.grid), Some(Grid::Irish));
    assert_eq!(Place::read("o1590434671").unwrap().irish_grid.as_deref(), Some("O 15904 34671"));
}

/// GeographicLib's `GeoConvert` 2.1.2 (the first three, 1 m) and `mgrs` 1.6.0 for Python (all, 1 m and 10 km), run once.
#[test]
fn mgrs_squares() {
    for (latitude, longitude, one_metre, ten_kilometres) in [
        (33.3, 44.4, "38SMB4414084706", "38SMB48"),
        (57.0, -5.0, "30VUJ7851419164", "30VUJ71"),
        (51.489_365_6, -0.119_925_6, "30UXC9994108180", "30UXC90"),
        (-33.856, 151.215, "56HLH3487152376", "56HLH35"),
        (60.5, 5.5, "32VLN0779312209", "32VLN01"),
        (78.2, 15.6, "33XWG1369680760", "33XWG18"),
        (0.5, 36.0, "37NAA6603455341", "37NAA65"),
        (-0.5, 36.0, "37MAV6603444658", "37MAV64"),
        (84.5, 12.0, "ZBB2705002272", "ZBB20"),
        (-85.0, -40.0, "AUS4295825505", "AUS42"),
        (65.0, -179.99, "01WCN5904211788", "01WCN51"),
    ] {
        let place = Place::of(at(latitude, longitude));
        assert_eq!(place.mgrs.as_deref(), Some(one_metre));
        if place.by.is_none() {
            assert_eq!(
                coarsen(at(latitude, longitude), Coarseness::TenKilometres).unwrap().square,
                ten_kilometres
            );
        }
        let square: Reference = one_metre.parse().unwrap();
        assert!(distance(square.position().unwrap(), at(latitude, longitude)).get() < 0.72);
    }
}

/// Distances in metres and bearings in degrees.
#[test]
fn geodesics() {
    for (from, to, metres, degrees) in [
        // GeographicLib's manual page of GeodSolve: New York's airport to Paris's, 53.47022° and 5853226 m.
        ((40.6, -73.8), (49.0 + 1.0 / 60.0, 2.0 + 33.0 / 60.0), 5_853_226.256, 53.470_218_243),
        // GeographicLib's manual for Python: Wellington to Salamanca, 19959679.267 m.
        ((-41.32, 174.81), (40.96, -5.50), 19_959_679.267, 161.067_669_986),
        // The first of GeographicLib's published test cases.
        ((35.607_77, -139.448_15), (-11.174_91, -69.959_21), 8_935_244.560, 111.098_748_430),
        // The manual of the crate geographiclib-rs.
        ((34.095_925, -118.288_423_7), (59.432_343_9, 24.734_164_9), 9_094_718.728, 18.019_898_898),
        // Across a wood, and across the antimeridian: GeographicLib 2.1 for Python, run once.
        ((50.931_279_379_1, -1.450_514_337_0), (50.933_0, -1.448_0), 260.543, 42.719_438_385),
        ((0.0, 179.5), (0.0, -179.5), 111_319.491, 90.0),
    ] {
        let (from, to) = (at(from.0, from.1), at(to.0, to.1));
        let found = (distance(from, to).get(), bearing(from, to).unwrap());
        assert!((found.0 - metres).abs() < 0.001 && (found.1 - degrees).abs() < 1e-8, "{found:?}");
    }
}

/// The same against GeographicLib's own program, over the whole Earth and across woods; drawn anew the same way each time.
#[test]
fn geodesics_as_geodsolve_has_them() {
    let Some(mut geodsolve) = tool("GeodSolve") else { return };
    let mut chance = Pcg64::seed_from_u64(2013);
    let pairs: Vec<(Position, Position)> = (0..2_000)
        .map(|n| {
            let (latitude, longitude): (f64, f64) =
                (chance.random_range(-89.9..89.9), chance.random_range(-180.0..180.0));
            // Every second pair lies within a wood in Britain: there the difference of two numbers is small.
            let wood = (50.0 + latitude.abs() / 10.0, longitude / 60.0 - 2.0);
            let mut step = || chance.random_range(-0.01..0.01);
            match n % 2 {
                0 => (at(latitude, longitude), at(step() * 8_900.0, step() * 17_900.0)),
                _ => (at(wood.0, wood.1), at(wood.0 + step(), wood.1 + step())),
            }
        })
        .collect();
    let line = |(from, to): &(Position, Position)| {
        format!("{} {} {} {}\n", from.latitude(), from.longitude(), to.latitude(), to.longitude())
    };
    let dir = tempfile::tempdir().unwrap();
    let input = dir.path().join("pairs");
    std::fs::write(&input, pairs.iter().map(line).collect::<String>()).unwrap();
    let said = run(geodsolve.args(["-i", "-p", "9", "--input-file"]).arg(&input));
    assert_eq!(said.lines().count(), pairs.len());
    for (solved, (from, to)) in said.lines().zip(pairs) {
        let solved: Vec<f64> = solved.split(' ').map(|number| number.parse().unwrap()).collect();
        let (metres, degrees) = (distance(from, to).get(), bearing(from, to).unwrap());
        assert!((metres - solved[2]).abs() < 1e-6, "{metres} {solved:?}");
        // So much of a turn as is a tenth of a micrometre at the far end of a wood, and never less than is printed.
        let turned = (degrees - solved[0] + 180.0).rem_euclid(360.0) - 180.0;
        assert!(turned.abs() < 1e-9 + 1e-5 / metres, "{degrees} {solved:?}");
    }
}

/// The answer that other programs read: these fields, in this order, and no others.
#[test]
fn the_answer_as_json() {
    let json = |typed: &str| serde_json::to_string(&Place::read(typed).unwrap()).unwrap();
    assert_eq!(
        json("51.4893656, -0.1199256"),
        r#"{"latitude":51.4893656,"longitude":-0.1199256,"uncertainty_m":0.01,"easting":530624.972,"northing":178388.458,"british_grid":"TQ 30624 78388","irish_grid":null,"mgrs":"30UXC9994108180"}"#
    );
    assert_eq!(
        json("33.30000, 44.40000"),
        r#"{"latitude":33.3,"longitude":44.4,"uncertainty_m":0.724,"easting":null,"northing":null,"british_grid":null,"irish_grid":null,"mgrs":"38SMB4414084706"}"#
    );
}

/// A typed square is answered by squares of its own size.
#[test]
fn names_are_no_finer_than_what_was_typed() {
    for (typed, british, mgrs) in [
        ("SU 387 147", "SU 387 147", "30UXB088105"),
        ("SU31X", "SU31X", "30UXB01"),
        ("SU31", "SU31", "30UXB04"),
    ] {
        let place = Place::read(typed).unwrap();
        assert_eq!(place.british_grid.as_deref(), Some(british));
        assert_eq!(place.mgrs.map(|name| name.len()), Some(mgrs.len()), "{typed}");
    }
}

/// What was kept of a typed square is a centre and an uncertainty; told again it has the name that was typed, and a fix has
/// none that is finer than itself.
#[test]
fn a_place_is_told_no_finer_than_it_is_known() {
    for typed in ["SU 38712 14794", "SU 3871 1479", "SU 387 147", "SU3814", "SU31X", "SU31SE", "SU31"] {
        let Ok(reference) = typed.parse::<Reference>() else { panic!("{typed}") };
        let kept = reference.position().unwrap();
        assert_eq!(Place::told(kept).british_grid.as_deref(), Some(typed));
    }
    assert_eq!(Place::told(at(53.349_796, -6.260_249)).irish_grid.as_deref(), Some("O 1590 3467"));
    for (metres, name) in
        [(0.5, "SU 38711 14794"), (5.0, "SU 3871 1479"), (12.0, "SU 387 147"), (40_000.0, "SU31")]
    {
        let fix = at(50.931_3, -1.450_5).within(Metres::nearest(metres));
        let place = Place::told(fix);
        assert_eq!(place.british_grid.as_deref(), Some(name));
        assert!(place.mgrs.is_some_and(|mgrs| mgrs.len() <= 15));
    }
}

/// Beyond the table of OSTN15 the answer says how it was reached and claims no better than that allows.
#[test]
fn beyond_ostn15_the_answer_says_so() {
    let place = Place::read("JM 55500 55500").unwrap();
    assert_eq!(place.by, Some(Transformation::Helmert));
    assert!(place.uncertainty_m.is_some_and(|metres| metres > 5.0));
    let inside = Place::read("HP 62000 20000").unwrap();
    assert_eq!((inside.by, inside.uncertainty_m), (Some(Transformation::Ostn15), Some(0.707)));
}
