//! The map: what it is about, what stands on it, and how far it reaches at first.

use super::*;
use crate::area::{Area, Lies, Outline};
use crate::pack::Pack;
use crate::place::distance;

fn place(latitude: f64, longitude: f64) -> Position {
    Position::new(latitude, longitude).unwrap().within(Metres::new(5.0).unwrap())
}

fn patch(name: &str, latitude: f64, longitude: f64) -> Patch {
    Patch { name: Some(name.into()), centre: Some(place(latitude, longitude)), ..Patch::default() }
}

fn circle(name: &str, latitude: f64, longitude: f64, radius: f64) -> Area {
    let outline =
        Outline::Circle { centre: place(latitude, longitude), radius: Metres::new(radius).unwrap() };
    Area { name: Some(name.into()), outline: Some(outline), closed: Some(true), ..Area::default() }
}

fn map(notebook: &Notebook, here: Option<Position>, about: Option<Position>) -> Map {
    notebook.map(Pack::britain().unwrap(), here, about).unwrap().unwrap()
}

#[test]
fn an_empty_notebook_has_a_map_only_where_somebody_is() {
    let desk = Desk::new();
    let notebook = desk.open();
    let pack = Pack::britain().unwrap();
    assert!(notebook.map(pack, None, None).unwrap().is_none());
    let here = place(51.5, -1.5);
    let map = map(&notebook, Some(here), None);
    assert!(
        map.flat.middle() == here && map.patches.is_empty() && map.areas.is_empty() && map.finds.is_empty()
    );
    assert!((100.0..1_000.0).contains(&map.reach), "{}", map.reach);
}

#[test]
fn without_a_position_it_is_about_all_patches_and_reaches_them() {
    let desk = Desk::new();
    let notebook = desk.open();
    // The westernmost is beyond the antimeridian.
    for (name, latitude, longitude) in [("a", -17.0, 179.99), ("b", -17.02, -179.99), ("c", -17.01, 179.98)] {
        notebook.add_patch(&patch(name, latitude, longitude)).unwrap();
    }
    notebook.add_patch(&Patch { name: Some("no place yet".into()), ..Patch::default() }).unwrap();
    let map = map(&notebook, None, None);
    assert_eq!(map.patches.len(), 3);
    assert!(map.patches.iter().all(|patch| patch.spot.distance.is_none() && patch.spot.bearing.is_none()));
    let middle = map.flat.middle();
    assert!(
        (middle.latitude() + 17.01).abs() < 1e-4 && middle.longitude() > 179.99,
        "{}",
        middle.longitude()
    );
    let farthest =
        map.patches.iter().map(|patch| patch.spot.at.east.hypot(patch.spot.at.north)).fold(0.0, f64::max);
    assert!(map.reach > farthest && map.reach < farthest * 1.5);
}

#[test]
fn with_a_position_the_nearest_comes_first_and_is_in_view() {
    let desk = Desk::new();
    let notebook = desk.open();
    let far = notebook.add_patch(&patch("far", 51.6, -1.5)).unwrap().id;
    let near = notebook.add_patch(&patch("near", 51.503, -1.5)).unwrap().id;
    let gone = notebook.add_patch(&patch("gone", 51.5, -1.5)).unwrap().id;
    notebook.undo_patch(gone).unwrap();
    notebook
        .add_visit(Visit { patch: Some(near), outcome: Some(Outcome::Nothing), ..Visit::default() })
        .unwrap();
    let here = place(51.5, -1.5);
    let map = map(&notebook, Some(here), None);
    assert_eq!(map.patches.iter().map(|patch| patch.record.id).collect::<Vec<_>>(), [near, far]);
    let spot = map.patches[0].spot;
    let metres = distance(here, place(51.503, -1.5)).get();
    assert!((spot.distance.unwrap().get() - metres).abs() < 1e-6 && spot.bearing.unwrap().abs() < 1e-6);
    assert!((spot.at.north - metres).abs() < 1e-6 && spot.at.east.abs() < 1e-6);
    assert!(map.reach > metres && map.reach < metres * 2.0);
    assert_eq!(map.patches[0].last_look.as_ref().unwrap().outcome, Outcome::Nothing);
    // Asked for about another place, distances are still from here.
    let other = self::map(&notebook, Some(here), Some(place(51.6, -1.5)));
    assert_eq!(other.flat.middle(), place(51.6, -1.5));
    assert_eq!(other.patches[0].record.id, near);
    assert!((other.patches[0].spot.distance.unwrap().get() - metres).abs() < 1e-6);
}

#[test]
fn finds_that_belong_to_a_patch_are_not_shown_beside_it() {
    let desk = Desk::new();
    let notebook = desk.open();
    let loose = notebook.add_find(at(51.501, -1.5)).unwrap().id;
    let patched = notebook.add_find(at(51.502, -1.5)).unwrap().id;
    notebook.found_patch(Pack::britain().unwrap(), patched, &Patch::default()).unwrap();
    notebook.add_find(at(52.5, -1.5)).unwrap();
    let map = map(&notebook, None, Some(place(51.5, -1.5)));
    assert_eq!(map.finds.iter().map(|find| find.record.id).collect::<Vec<_>>(), [loose]);
    assert_eq!(map.patches.len(), 1);
}

#[test]
fn areas_are_laid_with_what_holds_there_and_how_one_lies_to_them() {
    let desk = Desk::new();
    let notebook = desk.open();
    let code = crate::code::shipped().unwrap()[0].about.id.clone();
    let ruled = Area { closed: None, code: Some(code.clone()), ..circle("ruled", 51.52, -1.5, 300.0) };
    notebook.add_areas(&[ruled, circle("closed", 51.5, -1.5, 200.0)]).unwrap();
    let map = map(&notebook, Some(place(51.5005, -1.5)), None);
    assert_eq!(map.areas.iter().map(|area| area.record.name()).collect::<Vec<_>>(), ["closed", "ruled"]);
    let [closed, ruled] = map.areas.as_slice() else { panic!("two areas") };
    assert_eq!((closed.lies, ruled.lies), (Some(Lies::Inside), Some(Lies::Outside)));
    assert_eq!((closed.code, ruled.code.map(|code| code.about.id.as_str())), (None, Some(code.as_str())));
    assert!(closed.laid.rings[0].len() > 30);
    // Without patches or a position it is about the areas.
    let map = self::map(&notebook, None, None);
    assert!((map.flat.middle().latitude() - 51.51).abs() < 0.001 && map.reach > 1_000.0);
}

#[test]
fn with_nothing_else_it_is_about_the_last_find() {
    let desk = Desk::new();
    let notebook = desk.open();
    notebook.add_find(at(51.0, -1.0)).unwrap();
    desk.set("2026-10-19T12:00:00Z");
    notebook.add_find(at(52.0, -2.0)).unwrap();
    notebook.add_find(NewFind::default()).unwrap();
    let map = map(&notebook, None, None);
    assert_eq!((map.flat.middle().latitude(), map.finds.len()), (52.0, 1));
}
