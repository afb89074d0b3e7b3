//! A patch as its page and lists show it: the way, the looks with their finds, what undo takes back, what is deleted.

use super::*;
use crate::find::Got;
use crate::id::PatchId;
use crate::notebook::PatchAct;
use crate::pack::Pack;
use crate::patch::{Inside, Listed, Row};

/// Metres north of a middle at 51.5 degrees north, where a degree of latitude is 111,257 m (meridian arc; from memory).
fn place(metres: f64) -> Position {
    let position = Position::new(51.5 + metres / 111_257.0, -1.5).unwrap();
    position.within(Metres::new(5.0).unwrap())
}

fn founded(notebook: &Notebook, name: &str, taxon: Option<&str>, metres: f64) -> PatchId {
    let (name, taxon) = (Some(name.into()), taxon.map(str::to_owned));
    notebook.add_patch(&Patch { name, taxon, centre: Some(place(metres)), ..Patch::default() }).unwrap().id
}

fn names(notebook: &Notebook, here: Option<Position>, order: Listed) -> Vec<String> {
    let all = notebook.patch_list(Pack::britain().unwrap(), here, order).unwrap();
    all.into_iter().map(|one| one.record.patch.value.name.unwrap()).collect()
}

#[test]
fn patches_are_listed_by_nearness_by_the_last_look_and_by_kind() {
    let desk = Desk::new();
    let notebook = desk.open();
    let elder = founded(&notebook, "old elder", Some("velvet-shank"), 900.0);
    founded(&notebook, "bank", None, 20.0);
    let beech = founded(&notebook, "beech", Some("chanterelle"), -50.0);
    desk.set("2025-12-01T10:00:00Z");
    notebook.look_once(elder, Outcome::Seen).unwrap().unwrap();
    desk.set("2026-07-01T10:00:00Z");
    notebook.look_once(beech, Outcome::Nothing).unwrap().unwrap();
    let here = Some(place(0.0));
    assert_eq!(names(&notebook, here, Listed::Near), ["bank", "beech", "old elder"]);
    assert_eq!(names(&notebook, None, Listed::Near), ["bank", "beech", "old elder"], "by name without a way");
    assert_eq!(names(&notebook, here, Listed::LastLook), ["bank", "old elder", "beech"]);
    assert_eq!(names(&notebook, here, Listed::Kind), ["beech", "old elder", "bank"]);
    let way = notebook.listed_patch(beech, here).unwrap().way.unwrap();
    assert_eq!((way.distance.get().round(), way.bearing.map(f64::round)), (50.0, Some(180.0)));
    assert_eq!(way.inside, Inside::No);
    assert_eq!(notebook.listed_patch(beech, None).unwrap().way, None);
}

#[test]
fn each_look_has_its_finds_and_a_second_touch_says_nothing_new() {
    let desk = Desk::new();
    let notebook = desk.open();
    let pack = Pack::britain().unwrap();
    let patch = founded(&notebook, "old elder", None, 0.0);
    let find = |outing: bool, at: &str| {
        desk.set(at);
        if outing {
            notebook.start_outing(Outing::default()).unwrap();
        }
        let position = Some(Whereabouts { position: place(1.0), got: Got::Fix });
        let new = Find { position, seen: Count::exactly(2).ok(), ..Find::default() };
        let id = notebook.add_find(NewFind { find: new, photos: Vec::new() }).unwrap().id;
        if outing {
            assert!(notebook.look_once(patch, Outcome::Nothing).unwrap().is_none(), "the find says more");
            notebook.end_outing(None).unwrap();
        }
        id
    };
    let (walk, day, later) = (
        find(true, "2024-12-30T10:00:00Z"),
        find(false, "2024-12-30T14:00:00Z"),
        find(false, "2024-12-30T15:00:00Z"),
    );
    desk.set("2026-10-01T10:00:00Z");
    assert!(notebook.look_once(patch, Outcome::Nothing).unwrap().is_some());
    assert!(notebook.look_once(patch, Outcome::Nothing).unwrap().is_none(), "touched twice");
    assert!(notebook.look_once(patch, Outcome::Seen).unwrap().is_some(), "that is news");
    assert!(notebook.look_once(patch, Outcome::Nothing).unwrap().is_none());
    desk.set("2026-10-02T10:00:00Z");
    assert!(notebook.look_once(patch, Outcome::Nothing).unwrap().is_some(), "another day");

    let whole = notebook.patch_whole(pack, patch, None).unwrap();
    let looked: Vec<_> = whole.rows.iter().map(|row| matches!(row, Row::Looked(_))).collect();
    assert_eq!(looked, [true, false, true], "2026/27, not in 2025/26, 2024/25");
    let Some(Row::Looked(season)) = whole.rows.last() else { panic!("{:?}", whole.rows) };
    let finds =
        |at: usize| -> Vec<_> { whole.finds_of(&season.looks[at]).map(|(find, _)| find.id).collect() };
    let on_the_walk = usize::from(season.looks[1].outing.is_some());
    assert_eq!((finds(on_the_walk), finds(1 - on_the_walk)), (vec![walk], vec![later, day]));
}

#[test]
fn what_undo_would_take_back_is_told_before_it_does() {
    use PatchAct::{Amended, Deleted, Founded, Looked, Merged, Rested};
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = founded(&notebook, "old elder", None, 0.0);
    let other = founded(&notebook, "bent elder", None, 14.0);
    let last = || notebook.last_act_at_patch(patch).unwrap().map(|(act, _)| act);
    let mut acts = vec![last()];
    let named = Patch { name: Some("the elder".into()), ..Patch::default() };
    notebook.amend_patch(patch, &named, &[]).unwrap();
    acts.push(last());
    notebook.look_once(patch, Outcome::Nothing).unwrap();
    acts.push(last());
    notebook.rest_patch(patch, Some(14)).unwrap();
    acts.push(last());
    notebook.merge_patches(other, patch).unwrap();
    acts.push(last());
    notebook.delete_patch(patch).unwrap();
    acts.push(last());
    assert_eq!(acts, [Founded, Amended, Looked, Rested, Merged, Deleted].map(Some));
    assert_eq!(names(&notebook, None, Listed::Near), Vec::<String>::new(), "the merged one went with it");
    notebook.undo_patch(patch).unwrap();
    assert_eq!((last(), names(&notebook, None, Listed::Near)), (Some(Merged), vec!["the elder".to_owned()]));
    notebook.undo_patch(patch).unwrap();
    assert_eq!(names(&notebook, None, Listed::Near), ["bent elder", "the elder"]);
    // What was done long ago is not offered to a touch in passing, and is undone all the same where that is asked for.
    let offered = || notebook.patch_whole(Pack::britain().unwrap(), patch, None).unwrap().last_act;
    assert_eq!(offered(), Some(Rested));
    desk.set("2026-10-19T12:00:00Z");
    assert_eq!(offered(), None, "a day later");
    for expected in [Rested, Looked, Amended, Founded] {
        assert_eq!(last(), Some(expected));
        notebook.undo_patch(patch).unwrap();
    }
    assert_eq!((last(), notebook.patch(patch).unwrap().patch.deleted), (None, true));
}

#[test]
fn only_patches_near_enough_are_offered_to_be_merged() {
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = founded(&notebook, "old elder", None, 0.0);
    for (name, metres) in [("far", 495.0), ("near", 40.0), ("nearest", 12.0), ("beyond", 3000.0)] {
        founded(&notebook, name, None, metres);
    }
    let nowhere = Patch { name: Some("nowhere".into()), ..Patch::default() };
    let nowhere = notebook.add_patch(&nowhere).unwrap().id;
    let offered = |id| -> Vec<String> {
        let all = notebook.merge_choices(id).unwrap();
        all.into_iter().map(|one| one.record.patch.value.name.unwrap()).collect()
    };
    assert_eq!(offered(patch), ["nearest", "near", "nowhere"], "495 m and 10 m round it are more than 500 m");
    assert_eq!(offered(nowhere).len(), 5);
}
