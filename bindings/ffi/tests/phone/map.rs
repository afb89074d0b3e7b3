//! The map: what stands on it, the grid, and the words about a place.

use trug::area::{Area, Outline};
use trug::notebook::Notebook;
use trug::place::Position;
use trug::units::Metres;
use trug_ffi::{Book, Fix, MapPoint, MapSheet, MapWindow};

use crate::{HERE, Phone, code, zone};

/// Test point TP05 of OSTN15, SU 38710 14792 as the Ordnance Survey publishes it.
const TP05: Fix = Fix { latitude: 50.931_279_379_1, longitude: -1.450_514_337, accuracy_m: None };

fn window(about: Fix) -> MapWindow {
    let middle = MapPoint { east: 0.0, north: 0.0 };
    MapWindow { about, middle, across_m: 3_000.0, up_m: 4_000.0, closest_m: 300.0 }
}

fn figures(sheet: &MapSheet, is_easting: bool) -> Vec<&str> {
    let lines = sheet.lines.iter().filter(|line| line.is_easting == is_easting);
    lines.map(|line| line.name.as_str()).collect()
}

#[test]
fn an_empty_notebook_has_no_map_until_the_phone_knows_where_it_is() {
    let phone = Phone::new();
    let page = phone.book.map_page(None, None).unwrap();
    assert!(page.about.is_none() && page.patches.is_empty());
    let page = phone.book.map_page(Some(HERE), None).unwrap();
    assert_eq!(page.about, Some(HERE));
    assert!(page.reach_m > 0.0 && page.holds_m < page.finds_within_m);
    assert!(page.round_m.windows(2).all(|pair| pair[0] < pair[1]));
}

#[test]
fn patches_areas_and_finds_stand_where_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let notebook = folder.path().join("notebook");
    let hanger = Outline::Circle {
        centre: Position::new(HERE.latitude, HERE.longitude).unwrap(),
        radius: Metres::new(40.0).unwrap(),
    };
    // "Lidgate Hanger" is invented.
    let closed = Area {
        name: Some("Lidgate Hanger".into()),
        outline: Some(hanger),
        closed: Some(true),
        ..Area::default()
    };
    Notebook::open(&notebook).unwrap().add_areas(&[closed]).unwrap();
    let book = Book::open(notebook.to_str().unwrap().to_owned(), zone()).unwrap();
    let north = Fix { latitude: HERE.latitude + 0.001, ..HERE };
    let find = book.begin_find(None, "whole".into(), Some(north)).unwrap();
    book.name_find(find.id.clone(), "jelly-ear".into(), "sight".into(), None, None).unwrap();
    let patch = book.found_patch(find.id, Some("Elders".into())).unwrap().patch.unwrap();
    book.look_at_patch(patch.id.clone(), "nothing".into()).unwrap();
    book.rest_patch(patch.id.clone(), Some(14)).unwrap();
    let loose = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = book.map_page(Some(HERE), None).unwrap();
    let shown = &page.patches[0];
    assert_eq!((shown.id.as_str(), shown.name.as_deref()), (patch.id.as_str(), Some("Elders")));
    assert_eq!(shown.kind.as_ref().map(|kind| kind.id.as_str()), Some("jelly-ear"));
    // A thousandth of a degree of latitude at 51.5 degrees: 111.26 m (meridian arc, from memory).
    assert!((shown.at.north - 111.26).abs() < 0.05 && shown.at.east.abs() < 0.01, "{}", shown.at.north);
    assert!((shown.metres.unwrap() - 111.26).abs() < 0.05 && shown.radius_m > 0.0);
    assert_eq!(shown.bearing, Some(0.0));
    assert!(shown.last_look.is_some() && shown.rests_until.is_some());
    let area = &page.areas[0];
    assert_eq!(
        (area.name.as_str(), area.closed, area.ruled, area.around_here),
        ("Lidgate Hanger", true, false, true)
    );
    for corner in &area.rings[0] {
        assert!((corner.east.hypot(corner.north) - 40.0).abs() < 0.01);
    }
    assert_eq!(page.finds.iter().map(|find| find.id.as_str()).collect::<Vec<_>>(), [loose.id.as_str()]);
    assert!(page.finds[0].name.is_none() && page.finds[0].day.is_some());
}

#[test]
fn a_sheet_has_the_grid_its_north_and_the_words() {
    let phone = Phone::new();
    let fix = Fix { accuracy_m: Some(8.0), ..TP05 };
    let sheet = phone.book.map_sheet(Some(fix), window(TP05)).unwrap();
    assert_eq!((sheet.step_m, figures(&sheet, true)), (1_000, vec!["37", "38", "39", "40"]));
    assert!(figures(&sheet, false).contains(&"14"));
    assert_eq!(sheet.middle_name, "SU 387 147");
    // PROJ (pyproj 3.7.2, `get_factors` of EPSG:27700), run once.
    assert!((sheet.grid_north.unwrap() - 0.4266).abs() < 0.003 && sheet.true_north.abs() < 1e-6);
    let here = sheet.here.unwrap();
    assert_eq!((here.name.as_str(), here.accuracy_m), ("SU 3871 1479", Some(8.0)));
    assert!(here.at.east.hypot(here.at.north) < 1e-6 && here.metres < 1e-6 && here.bearing.is_none());
    // Two kilometres to the west, seen on the same map.
    let moved = MapWindow { middle: MapPoint { east: -2_000.0, north: 0.0 }, ..window(TP05) };
    let sheet = phone.book.map_sheet(Some(fix), moved).unwrap();
    assert_eq!(sheet.middle_name, "SU 367 147");
    let here = sheet.here.unwrap();
    assert!((here.metres - 2_000.0).abs() < 1e-6 && (here.bearing.unwrap() - 270.0).abs() < 0.1);
    assert!(
        sheet.middle.longitude < TP05.longitude && phone.book.map_sheet(None, moved).unwrap().here.is_none()
    );
}

#[test]
fn a_map_may_be_of_anything_on_earth_and_of_nothing_else() {
    let book = Phone::new().book;
    for (latitude, longitude) in [(90.0, 0.0), (-17.0, 180.0), (0.0, 0.0), (84.0, 12.0)] {
        let about = Fix { latitude, longitude, accuracy_m: None };
        let sheet = book.map_sheet(None, window(about)).unwrap();
        assert!(!sheet.lines.is_empty() && !sheet.middle_name.is_empty());
        assert!(book.map_page(None, Some(about)).unwrap().about.is_some());
    }
    let off = Fix { latitude: 91.0, ..TP05 };
    assert_eq!(code(book.map_page(None, Some(off))), "place-latitude");
    assert_eq!(code(book.map_sheet(Some(off), window(TP05))), "place-latitude");
    let nowhere = MapWindow { middle: MapPoint { east: f64::NAN, north: 0.0 }, ..window(TP05) };
    assert_eq!(code(book.map_sheet(None, nowhere)), "place-latitude");
    // What is too large, or nothing at all, has no grid and is a place all the same.
    let earth = MapWindow { across_m: 2e7, up_m: 2e7, closest_m: 1e6, ..window(TP05) };
    let sheet = book.map_sheet(None, earth).unwrap();
    assert!(sheet.lines.is_empty() && sheet.step_m == 0 && !sheet.middle_name.is_empty());
}
