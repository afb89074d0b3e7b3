use proptest::prelude::*;

use super::*;
use crate::place::Position;
use crate::units::Metres;

fn at(latitude: f64, longitude: f64, accuracy: f64) -> Position {
    Position::new(latitude, longitude).unwrap().within(Metres::new(accuracy).unwrap())
}

fn read(text: &str) -> Result<Vec<Drawn>, AreaError> {
    outlines(text)
}

/// A square of a hundredth of a degree with a hole in its middle; invented.
const SQUARE: &str = r#"{"type": "FeatureCollection", "features": [{"type": "Feature",
    "properties": {"name": "Harrow Shaw reserve"}, "geometry": {"type": "Polygon", "coordinates": [
        [[0.0, 52.0], [0.01, 52.0], [0.01, 52.01], [0.0, 52.01], [0.0, 52.0]],
        [[0.004, 52.004], [0.006, 52.004], [0.006, 52.006], [0.004, 52.006], [0.004, 52.004]]]}}]}"#;

/// The length of a degree on WGS84 at 52° N: 111,267 m north and 68,678 m east (worked by hand from the axes).
#[test]
fn a_place_is_inside_near_or_outside_by_its_own_accuracy() {
    let square = read(SQUARE).unwrap().remove(0);
    assert_eq!(square.name.as_deref(), Some("Harrow Shaw reserve"));
    let lies = |latitude, longitude, accuracy| square.outline.whereto(at(latitude, longitude, accuracy));
    assert_eq!(lies(52.002, 0.002, 5.0), Lies::Inside);
    assert_eq!(lies(52.02, 0.002, 40.0), Lies::Outside);
    // 0.0003° north of the edge: 33.38 m.
    assert!(matches!(lies(52.0103, 0.005, 40.0), Lies::Near(metres) if (metres - 33.38).abs() < 0.05));
    assert_eq!(lies(52.0103, 0.005, 30.0), Lies::Outside);
    // 0.0003° east of it: 20.60 m.
    assert!(matches!(lies(52.005, 0.0103, 25.0), Lies::Near(metres) if (metres - 20.60).abs() < 0.05));
    // In the hole, 0.001° or 68.7 m from its sides.
    assert_eq!(lies(52.005, 0.005, 60.0), Lies::Outside);
    assert!(matches!(lies(52.005, 0.005, 70.0), Lies::Near(metres) if (metres - 68.68).abs() < 0.1));
    // Of unknown accuracy: 30 m are allowed for.
    let vague = Position::new(52.0102, 0.005).unwrap();
    assert!(matches!(square.outline.whereto(vague), Lies::Near(_)));
}

/// A polygon across the meridian opposite the place is on the far side of the earth, and no band round it.
#[test]
fn what_lies_on_the_far_side_of_the_earth_is_far_away() {
    let text = r#"{"type": "Polygon", "coordinates": [[[178, 51], [179.9, 51], [179.9, 53], [178, 53], [178, 51]]]}"#;
    let far = read(text).unwrap().remove(0).outline;
    for longitude in [-2.5, -1.0, 0.0, 1.0] {
        assert_eq!(far.whereto(at(52.0, longitude, 5.0)), Lies::Outside, "{longitude}");
    }
}

#[test]
fn what_is_no_area_is_refused_with_the_feature_and_the_ring() {
    let polygon = |rings: &str| format!(r#"{{"type": "Polygon", "coordinates": {rings}}}"#);
    for (text, says) in [
        ("{".to_owned(), "line 1, column 1: not JSON"),
        ("{}".to_owned(), "not GeoJSON"),
        (r#"{"type": "FeatureCollection", "features": []}"#.to_owned(), "no feature"),
        (r#"{"type": "Point", "coordinates": [0, 52]}"#.to_owned(), "feature 1: points and lines"),
        (
            r#"{"type": "Feature", "properties": null, "geometry": null}"#.to_owned(),
            "feature 1: it has no geometry",
        ),
        (polygon("[]"), "feature 1: a polygon without a ring"),
        (polygon("[[[0,52],[1,52],[0,52]]]"), "ring 1: it needs at least three"),
        (polygon("[[[0,52],[1,52],[1,53],[0,53]]]"), "ring 1: it is not closed"),
        (polygon("[[[0,152],[1,52],[1,53],[0,152]]]"), "ring 1: a corner is off the earth"),
        (polygon("[[[-179,52],[179,52],[179,53],[-179,52]]]"), "ring 1: it crosses the 180th"),
        (polygon("[[[0,52],[1,52],[1,53],[0,52]],[[0,52]]]"), "ring 2"),
        (
            r#"{"type": "FeatureCollection", "crs": {"properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}, "features": []}"#
                .to_owned(),
            "its `crs` is not WGS84",
        ),
        (
            r#"{"type": "FeatureCollection", "crs": {"properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}, "features": []}"#
                .to_owned(),
            "no feature",
        ),
        (r#"{"type": "MultiPolygon", "coordinates": []}"#.to_owned(), "it holds no polygon"),
        (polygon("[[[\"a\",52],[1,52],[1,53],[0,52]]]"), "not GeoJSON"),
    ] {
        let error = read(&text).unwrap_err().to_string();
        assert!(error.contains(says), "{text}: {error}");
        assert!(!error.contains("52"), "no places: {error}");
    }
    assert_eq!(read(&" ".repeat((32 << 20) + 1)).unwrap_err(), AreaError::TooLong);
}

#[test]
fn an_area_says_where_it_is_and_what_holds_there() {
    let circle = Outline::Circle { centre: at(52.0, 0.0, 5.0), radius: Metres::new(100.0).unwrap() };
    let whole = Area {
        name: Some("The Warren".into()),
        outline: Some(circle),
        closed: Some(true),
        ..Area::default()
    };
    assert_eq!(whole.validate(), Ok(()));
    for (field, area) in [
        ("name", Area { name: Some(" ".into()), ..whole.clone() }),
        ("closed", Area { closed: None, ..whole.clone() }),
        ("outline", Area { outline: None, ..whole.clone() }),
        ("outline", Area { outline: Some(Outline::Polygons(vec![])), ..whole.clone() }),
    ] {
        assert_eq!(area.validate().unwrap_err().field, field);
    }
    assert!(!format!("{whole:?}").contains("52"), "degrees stay hidden");
    let text = serde_json::to_string(&whole).unwrap();
    assert_eq!(serde_json::from_str::<Area>(&text).unwrap(), whole);
}

proptest! {
    /// A corner 1 km away anywhere in Britain is as far as the ellipsoid has it, to a metre.
    #[test]
    fn a_near_edge_is_as_far_as_it_is(
        latitude in 49.8..60.9_f64, longitude in -8.7..1.8_f64, bearing in 0.0..360.0_f64, metres in 1.0..1_000.0_f64,
    ) {
        let (lat, lon): (f64, f64) = geographiclib_rs::DirectGeodesic::direct(
            &geographiclib_rs::Geodesic::wgs84(), latitude, longitude, bearing, metres,
        );
        let corner = |east: f64, north: f64| Position::new(lat + north * 1e-8, lon + east * 1e-8).unwrap();
        let ring = vec![corner(0.0, 0.0), corner(1.0, 0.0), corner(0.0, 1.0), corner(0.0, 0.0)];
        let far = Outline::Polygons(vec![vec![ring]]).whereto(at(latitude, longitude, 2_000.0));
        prop_assert!(matches!(far, Lies::Near(found) if (found - metres).abs() < 1.0), "{:?} {}", far, metres);
    }

    /// Circle and polygon agree where the circle is drawn as a polygon of many corners.
    #[test]
    fn a_circle_and_its_polygon_lie_alike(
        latitude in -80.0..80.0_f64, longitude in -180.0..180.0_f64, radius in 20.0..5_000.0_f64,
        bearing in 0.0..360.0_f64, share in 0.0..2.0_f64,
    ) {
        prop_assume!((share - 1.0).abs() > 0.01);
        let sphere = geographiclib_rs::Geodesic::wgs84();
        let to = |bearing: f64, metres: f64| -> Position {
            let (lat, lon): (f64, f64) =
                geographiclib_rs::DirectGeodesic::direct(&sphere, latitude, longitude, bearing, metres);
            at(lat, lon, 0.5)
        };
        let centre = at(latitude, longitude, 0.5);
        let circle = Outline::Circle { centre, radius: Metres::new(radius).unwrap() };
        let mut ring: Ring = (0..360_u16).map(|degree| to(f64::from(degree), radius)).collect();
        ring.push(ring[0]);
        let polygon = Outline::Polygons(vec![vec![ring]]);
        let place = to(bearing, radius * share);
        let inside = share < 1.0;
        prop_assert_eq!(circle.whereto(place) == Lies::Inside, inside);
        prop_assert_eq!(polygon.whereto(place) == Lies::Inside, inside);
    }

    /// The less is known of a position, the less is said to be outside; and where a ring begins does not matter.
    #[test]
    fn a_worse_fix_is_never_surer_of_being_outside(
        latitude in 51.98..52.03_f64, longitude in -0.02..0.03_f64, accuracy in 1.0..200.0_f64, worse in 1.0..200.0_f64,
        turn in 0_usize..4,
    ) {
        let Outline::Polygons(mut polygons) = read(SQUARE).unwrap().remove(0).outline else { unreachable!() };
        let square = Outline::Polygons(polygons.clone());
        let near = square.whereto(at(latitude, longitude, accuracy));
        let far = square.whereto(at(latitude, longitude, accuracy + worse));
        prop_assert!(near == far || near == Lies::Outside, "{:?} {:?}", near, far);
        let ring = &mut polygons[0][0];
        ring.pop();
        ring.rotate_left(turn);
        ring.push(ring[0]);
        let turned = Outline::Polygons(polygons).whereto(at(latitude, longitude, accuracy));
        match (near, turned) {
            (Lies::Near(one), Lies::Near(other)) => prop_assert!((one - other).abs() < 1e-6),
            (one, other) => prop_assert_eq!(one, other),
        }
    }
}
