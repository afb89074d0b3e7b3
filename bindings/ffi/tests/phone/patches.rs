//! Patches: listed, gone back to, looked at, amended, merged, undone.

use std::sync::{Arc, Mutex};

use trug::find::{Count, Find, Got, Whereabouts};
use trug::notebook::{NewFind, NewName, Notebook, WallClock};
use trug::pack::Pack;
use trug::patch::{Outcome, Patch, Visit};
use trug::place::Position;
use trug::progress::Unwatched;
use trug_ffi::{At, Book, FieldValue, Fix, InPatch, LookNoted, PatchLast, PatchNoted, PatchOrder, PatchPage};

use crate::{HERE, Phone, code, zone};

/// A clock that the test sets.
struct Hand(Mutex<jiff::Timestamp>);

impl WallClock for Hand {
    fn now(&self) -> jiff::Timestamp {
        *self.0.lock().unwrap()
    }

    fn zone(&self) -> jiff::tz::TimeZone {
        jiff::tz::TimeZone::UTC
    }
}

/// A day, and what was done on it.
type Day<'a> = (&'a str, &'a dyn Fn(&Notebook));

/// A phone whose notebook was kept for years.
fn kept(days: &[Day<'_>]) -> Phone {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("notebook");
    let hand = Arc::new(Hand(Mutex::new(jiff::Timestamp::UNIX_EPOCH)));
    let notebook = Notebook::open_with(&folder, hand.clone(), &Unwatched).unwrap();
    for (day, done) in days {
        *hand.0.lock().unwrap() = format!("{day}T11:00:00Z").parse().unwrap();
        done(&notebook);
    }
    drop(notebook);
    let book = Book::open(folder.to_str().unwrap().to_owned(), zone()).unwrap();
    Phone { dir, book }
}

fn middle() -> Position {
    Position::new(HERE.latitude, HERE.longitude).unwrap()
}

fn elder(notebook: &Notebook) {
    let patch = Patch { name: Some("old elder".into()), centre: Some(middle()), ..Patch::default() };
    notebook.add_patch(&Patch { taxon: Some("velvet-shank".into()), ..patch }).unwrap();
}

fn found(notebook: &Notebook) {
    let position = Some(Whereabouts { position: middle(), got: Got::Fix });
    let find = Find { position, seen: Count::exactly(9).ok(), taken: Some(4), ..Find::default() };
    let find = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    let said = NewName::said(Pack::britain().unwrap(), "velvet-shank", trug::find::How::Sight);
    notebook.name_find(find.id, said).unwrap();
}

fn nothing(notebook: &Notebook) {
    let patch = notebook.patches(&trug::store::Criteria::default()).unwrap()[0].id;
    let (patch, outcome) = (Some(patch), Some(Outcome::Nothing));
    notebook.add_visit(Visit { patch, outcome, ..Visit::default() }).unwrap();
}

/// A winter across New Year, a winter in which nobody looked, and a winter before.
fn three_winters() -> (Phone, String) {
    let phone = kept(&[
        ("2021-11-20", &elder),
        ("2021-12-31", &found),
        ("2022-01-01", &found),
        ("2022-02-10", &nothing),
        ("2023-12-05", &nothing),
    ]);
    let id = phone.book.patches_page(None, PatchOrder::Near).unwrap().patches[0].id.clone();
    (phone, id)
}

fn page(phone: &Phone, id: &str) -> PatchPage {
    phone.book.patch_page(id.to_owned(), Some(HERE)).unwrap()
}

fn noted(name: &str, north: f64) -> PatchNoted {
    let here = Some(Fix { latitude: HERE.latitude + north, ..HERE });
    PatchNoted { name: Some(name.into()), here, ..PatchNoted::default() }
}

#[test]
fn a_history_is_a_picture_of_winters_that_new_year_does_not_part() {
    let (phone, id) = three_winters();
    let page = page(&phone, &id);
    let told: Vec<(&str, &str, u32, u32, u32, u32)> = page
        .seasons
        .iter()
        .map(|one| (one.season.as_str(), one.earliest.as_str(), one.looked, one.nothing, one.seen, one.taken))
        .collect();
    // The first row is whatever was not looked in from the season of this test on.
    assert_eq!((told[0].1, told[0].2), ("2024/25", 0));
    assert_eq!(
        told[1..],
        [
            ("2023/24", "2023/24", 1, 1, 0, 0),
            ("2022/23", "2022/23", 0, 0, 0, 0),
            ("2021/22", "2021/22", 3, 1, 18, 8)
        ]
    );
    let winter = page.seasons.last().unwrap();
    let looks: Vec<(&str, &str, usize)> = winter
        .looks
        .iter()
        .map(|look| (look.day.as_str(), look.outcome.as_str(), look.finds.len()))
        .collect();
    assert_eq!(looks, [("2022-02-10", "nothing", 0), ("2022-01-01", "taken", 1), ("2021-12-31", "taken", 1)]);
    let (eve, day) = (winter.looks[2].across, winter.looks[1].across);
    // A day of December is 1/31 of a twelfth.
    assert!((day - 0.5).abs() < 1e-9 && (day - eve - 1.0 / 31.0 / 12.0).abs() < 1e-9, "{eve} {day}");
    assert_eq!(winter.looks[1].finds[0].name.as_ref().unwrap().id, "velvet-shank");
    assert!((0.0..1.0).contains(&page.today_across));
    assert_eq!(page.line.last_look.as_deref(), Some("2023-12-05"));
}

#[test]
fn patches_are_listed_in_the_order_that_is_asked_for() {
    let (phone, old) = three_winters();
    let book = &phone.book;
    let near = book.add_patch(noted("bank", 0.001)).unwrap();
    let kind = Some("chanterelle".into());
    let far = book.add_patch(PatchNoted { kind, ..noted("beech", 0.01) }).unwrap();
    book.look_at_patch(far.clone(), "seen".into()).unwrap();
    let south = Fix { latitude: HERE.latitude - 0.001, ..HERE };
    let ids = |order| -> Vec<String> {
        let page = book.patches_page(Some(south), order).unwrap();
        page.patches.into_iter().map(|one| one.id).collect()
    };
    assert_eq!(ids(PatchOrder::Near), [&old, &near, &far].map(String::clone));
    assert_eq!(ids(PatchOrder::LastLook), [&near, &old, &far].map(String::clone));
    assert_eq!(ids(PatchOrder::Kind), [&far, &old, &near].map(String::clone));
    let line = book.patches_page(Some(south), PatchOrder::Near).unwrap().patches.remove(0);
    // 0.001 degrees of latitude at 51.5 north are 111.26 m of WGS84's meridian (from memory, and by GeographicLib).
    assert!((line.metres.unwrap() - 111.26).abs() < 0.1 && line.bearing.unwrap().abs() < 1e-6);
    assert_eq!((line.inside, line.reach_m), (Some(InPatch::No), 10.0));
    let nowhere = book.patches_page(None, PatchOrder::Near).unwrap().patches;
    assert!(nowhere.iter().all(|one| one.metres.is_none() && one.inside.is_none() && one.place.is_some()));
    let lost = Fix { latitude: 91.0, ..HERE };
    assert_eq!(code(book.patches_page(Some(lost), PatchOrder::Near)), "place-latitude");
}

#[test]
fn the_way_back_says_when_one_is_there() {
    let (phone, id) = three_winters();
    let way = |north: f64, accuracy: f64| {
        let fix =
            Fix { latitude: HERE.latitude + north, longitude: HERE.longitude, accuracy_m: Some(accuracy) };
        phone.book.way_back(id.clone(), Some(fix)).unwrap().patch
    };
    // 0.0001 degrees are 11.1 m: 44.5 m, 16.7 m and 16.7 m by a fix that says nothing.
    assert_eq!((way(0.0004, 8.0).inside, way(0.000_15, 8.0).inside), (Some(InPatch::No), Some(InPatch::Yes)));
    assert_eq!(way(0.000_15, 70.0).inside, Some(InPatch::Perhaps));
    assert!((way(0.0004, 8.0).bearing.unwrap() - 180.0).abs() < 1e-6);
    assert_eq!(way(0.0, 8.0).bearing, None);
    assert_eq!(phone.book.way_back(id.clone(), None).unwrap().patch.metres, None);
    assert_eq!(code(phone.book.way_back("x".into(), None)), "not-an-id");
}

#[test]
fn a_look_is_noted_in_one_touch_and_taken_back_in_another() {
    let (phone, id) = three_winters();
    let book = &phone.book;
    assert!(book.look_at_patch(id.clone(), "nothing".into()).unwrap());
    assert!(!book.look_at_patch(id.clone(), "nothing".into()).unwrap(), "touched twice in gloves");
    let looked = page(&phone, &id);
    assert_eq!(
        (looked.line.last_look.as_ref(), looked.last),
        (Some(&looked.now.day), Some(PatchLast::Looked))
    );
    assert_eq!(looked.seasons[0].nothing, 1);
    book.undo_patch(id.clone()).unwrap();
    assert_eq!(page(&phone, &id).line.last_look.as_deref(), Some("2023-12-05"));
    // A Sunday's look, noted at home.
    let at = Some(At { millis: 1_700_000_000_000, offset_seconds: 0 });
    let look =
        LookNoted { outcome: "seen".into(), at, by: Some("R.".into()), note: Some("two small ones".into()) };
    book.note_look(id.clone(), look.clone()).unwrap();
    let noted = &page(&phone, &id).seasons[1].looks[1];
    assert_eq!((noted.day.as_str(), noted.outcome.as_str()), ("2023-11-14", "seen"));
    assert_eq!(
        (noted.by.as_slice(), noted.notes.as_slice()),
        (&["R.".to_owned()][..], &["two small ones".to_owned()][..])
    );
    let plenty = LookNoted { outcome: "plenty".into(), ..look };
    assert_eq!(code(book.note_look(id.clone(), plenty)), "field");
    assert_eq!(code(book.look_at_patch(id, "plenty".into())), "field");
}

#[test]
fn a_patch_is_founded_amended_and_let_rest_and_each_is_undone() {
    let phone = Phone::new();
    let book = &phone.book;
    let (kind, reach_m) = (Some("velvet-shank".into()), Some(25.0));
    let id = book.add_patch(PatchNoted { kind, reach_m, ..noted(" old elder ", 0.0) }).unwrap();
    let founded = page(&phone, &id);
    assert_eq!(
        (founded.line.name.as_deref(), founded.reach_said_m, founded.line.reach_m),
        (Some("old elder"), Some(25.0), 25.0)
    );
    assert_eq!(
        (founded.line.kind.as_ref().unwrap().english.as_str(), founded.last),
        ("Velvet shank", Some(PatchLast::Founded))
    );
    assert_eq!(founded.line.place.as_ref().unwrap().accuracy_m, Some(8.0));
    let set = |field: &str, value: Option<&str>| {
        let value = FieldValue { field: field.into(), value: value.map(str::to_owned) };
        book.amend_patch(id.clone(), vec![value])
    };
    set("name", Some("the elder")).unwrap();
    set("host", Some("elder?")).unwrap();
    set("note", Some("by the gate")).unwrap();
    set("radius", None).unwrap();
    let amended = page(&phone, &id);
    assert_eq!(
        (amended.line.name.as_deref(), amended.line.host.as_deref()),
        (Some("the elder"), Some("elder"))
    );
    assert_eq!((amended.host_sure.as_deref(), amended.note.as_deref()), (Some("guess"), Some("by the gate")));
    assert_eq!((amended.reach_said_m, amended.line.reach_m), (None, 10.0));
    for (field, value) in [("radius", "900"), ("radius", "0"), ("on", "cheese"), ("centre", "x")] {
        assert_eq!(code(set(field, Some(value))), "field", "{field}");
    }
    assert_eq!(code(set("width", None)), "field");
    book.place_patch_at(id.clone(), "SU 387 147".into()).unwrap();
    assert_eq!(page(&phone, &id).line.place.unwrap().name, "SU 387 147");
    assert_eq!(code(book.place_patch_at(id.clone(), "nowhere".into())), "place-unrecognised");
    book.place_patch(id.clone(), HERE).unwrap();
    assert_eq!(page(&phone, &id).line.inside, Some(InPatch::Yes));
    assert!(book.rest_patch(id.clone(), Some(14)).unwrap().is_some());
    assert_eq!(
        (page(&phone, &id).line.rests_until.is_some(), page(&phone, &id).last),
        (true, Some(PatchLast::Rested))
    );
    book.undo_patch(id.clone()).unwrap();
    assert_eq!(page(&phone, &id).line.rests_until, None);
    book.delete_patch(id.clone()).unwrap();
    assert!(
        page(&phone, &id).deleted && book.patches_page(None, PatchOrder::Near).unwrap().patches.is_empty()
    );
    book.undo_patch(id.clone()).unwrap();
    assert!(!page(&phone, &id).deleted);
    let typed = PatchNoted { typed: Some("SU 38 14".into()), ..noted("bank", 0.0) };
    let typed = book.add_patch(typed).unwrap();
    assert_eq!(page(&phone, &typed).line.place.unwrap().name, "SU3814", "what was typed goes before the fix");
    let wide = PatchNoted { reach_m: Some(501.0), ..noted("wood", 0.0) };
    assert_eq!(code(book.add_patch(wide)), "field");
}

#[test]
fn two_patches_become_one_and_two_again() {
    let (phone, id) = three_winters();
    let book = &phone.book;
    let other = book.add_patch(noted("bent elder", 0.0002)).unwrap();
    book.look_at_patch(other.clone(), "seen".into()).unwrap();
    let offered: Vec<String> =
        book.merge_choices(id.clone()).unwrap().into_iter().map(|one| one.id).collect();
    assert_eq!(offered, std::slice::from_ref(&other));
    assert_eq!(book.merge_patches(other.clone(), id.clone()).unwrap(), id);
    let merged = page(&phone, &other);
    assert_eq!(
        (merged.line.id.as_str(), merged.merged.as_slice()),
        (id.as_str(), &[Some("bent elder".to_owned())][..])
    );
    assert_eq!((merged.last, merged.line.last_outcome.as_deref()), (Some(PatchLast::Merged), Some("seen")));
    // 0.0002 degrees are 22.3 m, and 10 m round it.
    assert!((merged.line.reach_m - 33.0).abs() < 1e-9);
    book.undo_patch(id.clone()).unwrap();
    assert_eq!((page(&phone, &other).line.id, page(&phone, &id).merged.len()), (other.clone(), 0));
    let far = book.add_patch(noted("far", 0.1)).unwrap();
    assert_eq!(code(book.merge_patches(far, id.clone())), "field");
    assert_eq!(code(book.merge_patches(id.clone(), id)), "field");
}
