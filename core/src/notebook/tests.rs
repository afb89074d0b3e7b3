//! The notebook from within: what it keeps, takes back and shows.

mod map;
mod meals;
mod patch_whole;
mod patches;
mod peers;
mod search;
mod sharing;
mod year;

use std::sync::Mutex;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;

use super::*;
use crate::find::{Count, Find, Ground, Substrate, Whereabouts};
use crate::outing::Outing;
use crate::patch::{Outcome, Patch, Visit};
use crate::place::Position;
use crate::store::{Criteria, Within};
use crate::units::Metres;

/// A clock that the test sets.
struct Hand(Mutex<Timestamp>);

impl WallClock for Hand {
    fn now(&self) -> Timestamp {
        *self.0.lock().unwrap()
    }

    fn zone(&self) -> TimeZone {
        TimeZone::fixed(jiff::tz::offset(1))
    }
}

struct Desk {
    dir: tempfile::TempDir,
    hand: Arc<Hand>,
}

impl Desk {
    fn new() -> Self {
        let noon = "2026-10-18T12:00:00Z".parse().unwrap();
        Self { dir: tempfile::tempdir().unwrap(), hand: Arc::new(Hand(Mutex::new(noon))) }
    }

    fn open(&self) -> Notebook {
        Notebook::open_with(&self.dir.path().join("notebook"), self.hand.clone(), &Unwatched).unwrap()
    }

    fn set(&self, time: &str) {
        *self.hand.0.lock().unwrap() = time.parse().unwrap();
    }
}

fn seen(n: u32) -> NewFind {
    NewFind { find: Find { seen: Count::exactly(n).ok(), ..Find::default() }, photos: Vec::new() }
}

fn at(latitude: f64, longitude: f64) -> NewFind {
    let position =
        Whereabouts { position: Position::new(latitude, longitude).unwrap(), got: crate::find::Got::Fix };
    NewFind { find: Find { position: Some(position), ..Find::default() }, photos: Vec::new() }
}

#[test]
fn a_find_is_there_after_reopening_with_the_time_and_offset_of_the_clock() {
    let desk = Desk::new();
    let id = desk.open().add_find(seen(7)).unwrap().id;
    let found = desk.open().find(id).unwrap();
    assert_eq!(found.find.value.seen, Count::exactly(7).ok());
    assert_eq!(found.find.value.at.unwrap().to_string(), "2026-10-18T13:00:00+01:00");
}

#[test]
fn amending_sets_and_empties_and_says_no_to_contradictions() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(seen(3)).unwrap().id;
    let change = Find { taken: Some(2), ground: Some(Ground::Chalk), ..Find::default() };
    notebook.amend_find(id, &change, &[]).unwrap();
    let emptied = notebook.amend_find(id, &Find::default(), &["ground".into()]).unwrap();
    assert_eq!((emptied.find.value.taken, emptied.find.value.ground), (Some(2), None));
    let too_many = Find { taken: Some(4), ..Find::default() };
    assert!(matches!(notebook.amend_find(id, &too_many, &[]), Err(Error::Field(e)) if e.field == "taken"));
    assert!(matches!(notebook.amend_find(id, &Find::default(), &["colour".into()]), Err(Error::Field(_))));
    assert_eq!(notebook.find(id).unwrap(), emptied);
}

#[test]
fn undo_walks_back_act_by_act_to_nothing() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(seen(3)).unwrap().id;
    let with = |on| Find { on: Some(on), ..Find::default() };
    notebook.amend_find(id, &with(Substrate::Stump), &[]).unwrap();
    notebook.amend_find(id, &with(Substrate::Moss), &[]).unwrap();
    notebook.name_find(id, NewName { taxon: Some("jelly-ear".into()), ..NewName::default() }).unwrap();
    assert!(notebook.undo_find(id).unwrap().determinations.is_empty());
    assert_eq!(notebook.undo_find(id).unwrap().find.value.on, Some(Substrate::Stump));
    assert_eq!(notebook.undo_find(id).unwrap().find.value.on, None);
    assert!(notebook.undo_find(id).unwrap().find.deleted);
    assert!(matches!(notebook.undo_find(id), Err(Error::NothingToUndo { .. })));
    assert!(notebook.finds(&Criteria::default()).unwrap().is_empty());
}

#[test]
fn undo_passes_over_a_fix_that_came_by_itself() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(NewFind::default()).unwrap().id;
    notebook.amend_find(id, &Find { taken: Some(2), ..Find::default() }, &[]).unwrap();
    let fix = Position::new(51.5, -1.5).unwrap().within(Metres::new(9.0).unwrap());
    assert!(notebook.improve_place(id, fix).unwrap());
    let undone = notebook.undo_find(id).unwrap().find.value;
    assert_eq!((undone.taken, undone.position.map(|there| there.position)), (None, Some(fix)));
    assert!(notebook.undo_find(id).unwrap().find.deleted);
    assert!(!notebook.can_undo_find(id).unwrap());
}

#[test]
fn a_deleted_find_is_not_listed_and_comes_back() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(at(51.5, -1.5)).unwrap().id;
    notebook.delete_find(id).unwrap();
    assert!(notebook.finds(&Criteria::default()).unwrap().is_empty());
    assert!(notebook.finds(&near(51.5, -1.5, 500.0)).unwrap().is_empty());
    assert!(!notebook.undo_find(id).unwrap().find.deleted);
    assert_eq!(notebook.finds(&near(51.5, -1.5, 500.0)).unwrap().len(), 1);
}

fn near(latitude: f64, longitude: f64, metres: f64) -> Criteria {
    let of = Position::new(latitude, longitude).unwrap();
    Criteria { within: Some(Within { of, metres: Metres::new(metres).unwrap() }), ..Criteria::default() }
}

#[test]
fn near_is_exact_to_the_metre_nearest_first_and_crosses_the_date_line() {
    let desk = Desk::new();
    let notebook = desk.open();
    // WGS84 at 51.5 north: 0.001 degrees of latitude is 111.26 m (meridian arc; from memory, and by GeographicLib).
    let far = notebook.add_find(at(51.501, -1.5)).unwrap().id;
    let close = notebook.add_find(at(51.5005, -1.5)).unwrap().id;
    let ids =
        |criteria: &Criteria| notebook.finds(criteria).unwrap().iter().map(|f| f.id).collect::<Vec<_>>();
    assert_eq!(ids(&near(51.5, -1.5, 112.0)), [close, far]);
    assert_eq!(ids(&near(51.5, -1.5, 110.0)), [close]);
    let west = notebook.add_find(at(10.0, -179.9999)).unwrap().id;
    assert_eq!(ids(&near(10.0, 179.9999, 100.0)), [west]);
    let pole = notebook.add_find(at(89.9999, 100.0)).unwrap().id;
    assert_eq!(ids(&near(89.9999, -80.0, 100.0)), [pole]);
}

#[test]
fn a_find_joins_the_outing_that_is_on_and_no_other() {
    let desk = Desk::new();
    let notebook = desk.open();
    let before = notebook.add_find(seen(1)).unwrap().id;
    desk.set("2026-10-18T12:30:00Z");
    let outing =
        notebook.start_outing(Outing { place: Some("Harrow Shaw".into()), ..Outing::default() }).unwrap().id;
    let during = notebook.add_find(seen(1)).unwrap().id;
    desk.set("2026-10-18T15:00:00Z");
    notebook.end_outing(None).unwrap();
    let after = notebook.add_find(seen(1)).unwrap().id;
    let of = |id| notebook.find(id).unwrap().find.value.outing;
    assert_eq!((of(before), of(during), of(after)), (None, Some(outing), None));
    desk.set("2026-10-19T08:00:00Z");
    notebook.start_outing(Outing::default()).unwrap();
    desk.set("2026-10-21T08:00:00Z");
    let forgotten = notebook.add_find(seen(1)).unwrap().id;
    assert_eq!(of(forgotten), None, "an outing that was never ended does not swallow later finds");
}

#[test]
fn patches_and_visits_are_kept_and_asked_by_time() {
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = notebook.add_patch(&Patch { name: Some("old elder".into()), ..Patch::default() }).unwrap().id;
    let visit = Visit { patch: Some(patch), outcome: Some(Outcome::Nothing), ..Visit::default() };
    notebook.add_visit(visit).unwrap();
    let find = Find { patch: Some(patch), ..Find::default() };
    notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    let of_patch = Criteria { patch: Some(patch), ..Criteria::default() };
    assert_eq!((notebook.visits(&of_patch).unwrap().len(), notebook.finds(&of_patch).unwrap().len()), (1, 1));
    let later = Criteria { from: Some(desk.hand.now().as_millisecond() + 1), ..of_patch };
    assert!(notebook.finds(&later).unwrap().is_empty());
    let nowhere = Find { patch: Some(crate::id::PatchId::new()), ..Find::default() };
    let refused = notebook.add_find(NewFind { find: nowhere, photos: Vec::new() });
    assert!(matches!(refused, Err(Error::NotFound { what: "patch" })));
}

#[test]
fn a_second_holder_is_refused_politely() {
    let desk = Desk::new();
    let _first = desk.open();
    let second = Notebook::open(&desk.dir.path().join("notebook"));
    assert!(matches!(second, Err(Error::Busy)));
}

#[test]
fn paused_it_answers_nothing_and_resumed_everything() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(seen(2)).unwrap().id;
    notebook.pause().unwrap();
    assert!(!desk.dir.path().join("notebook/view.sqlite-wal").exists());
    assert!(matches!(notebook.find(id), Err(Error::Paused)));
    assert!(matches!(notebook.add_find(seen(1)), Err(Error::Paused)));
    notebook.resume().unwrap();
    assert!(notebook.find(id).is_ok());
    notebook.add_find(seen(1)).unwrap();
}

#[test]
fn threads_may_write_and_read_at_once() {
    let desk = Desk::new();
    let notebook = Arc::new(desk.open());
    let job = notebook.check_in_background();
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for n in 0..10 {
                    let id = notebook.add_find(seen(n)).unwrap().id;
                    notebook.find(id).unwrap();
                }
            });
        }
    });
    assert!(job.wait().unwrap().ok);
    assert_eq!(notebook.finds(&Criteria::default()).unwrap().len(), 40);
    assert!(notebook.check(&Unwatched).unwrap().ok);
}

#[test]
fn what_a_later_version_wrote_survives_a_rebuild() {
    let desk = Desk::new();
    let notebook = desk.open();
    let unknown = crate::id::RecordId::new();
    let set = |value: serde_json::Value| value.as_object().unwrap().clone();
    let edits = vec![
        act::Edit::new("meal", unknown, set(json!({"raw": false, "who": ["A", "B"]}))),
        act::Edit::new(
            "find",
            crate::id::FindId::new(),
            set(json!({"seen": 3, "ground": "loess", "aura": "blue"})),
        ),
    ];
    notebook.keep(&edits).unwrap();
    let rows = |n: &Notebook| n.lock().as_ref().unwrap().view.logical_rows().unwrap();
    let before = rows(&notebook);
    notebook.rebuild(&Unwatched).unwrap();
    assert_eq!(rows(&notebook), before);
    let meal = notebook.read(|view| view.record("meal", unknown)).unwrap().unwrap();
    assert_eq!(meal.state.shown("who"), Some(&json!(["A", "B"])));
    let found = &notebook.finds(&Criteria::default()).unwrap()[0].find;
    assert_eq!(found.value.further.get("aura"), Some(&json!("blue")));
    assert_eq!(found.unreadable.get("ground"), Some(&json!("loess")));
}

#[test]
fn a_newer_format_is_refused_and_left_alone() {
    let desk = Desk::new();
    drop(desk.open());
    let path = desk.dir.path().join("notebook/notebook.json");
    let newer = std::fs::read_to_string(&path).unwrap().replace("\"format\": 1", "\"format\": 2");
    std::fs::write(&path, &newer).unwrap();
    assert!(matches!(
        Notebook::open(&desk.dir.path().join("notebook")),
        Err(Error::NewerFormat { found: 2, known: 1 })
    ));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), newer);
}

#[test]
fn the_beginning_of_an_id_is_enough_unless_it_fits_two() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(seen(1)).unwrap().id;
    assert_eq!(notebook.find_beginning(&id.to_string()).unwrap(), id);
    assert_eq!(notebook.find_beginning(&id.to_string()[..8]).unwrap(), id);
    notebook.add_find(seen(1)).unwrap();
    assert!(matches!(notebook.find_beginning("0"), Err(Error::Ambiguous { .. })));
    for wrong in ["", "ffffffff", "under the elder", "é"] {
        assert!(matches!(notebook.find_beginning(wrong), Err(Error::NotFound { .. })), "{wrong}");
    }
}

#[test]
fn a_backup_brings_everything_back_under_a_new_device() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(seen(5)).unwrap().id;
    let (file, to) = (desk.dir.path().join("backup.zip"), desk.dir.path().join("again"));
    notebook.backup(&file, &Unwatched).unwrap();
    assert!(matches!(notebook.backup(&file, &Unwatched), Err(Error::InTheWay { .. })));
    restore(&file, &to, &Unwatched).unwrap();
    assert!(matches!(restore(&file, &to, &Unwatched), Err(Error::InTheWay { .. })));
    let again = Notebook::open(&to).unwrap();
    assert_eq!(again.find(id).unwrap(), notebook.find(id).unwrap());
    assert_ne!(again.device(), notebook.device());
    assert!(again.check(&Unwatched).unwrap().ok);
}

#[test]
fn a_damaged_backup_is_refused_and_leaves_nothing() {
    let desk = Desk::new();
    let notebook = desk.open();
    notebook.add_find(seen(5)).unwrap();
    let (file, to) = (desk.dir.path().join("backup.zip"), desk.dir.path().join("again"));
    notebook.backup(&file, &Unwatched).unwrap();
    let whole = std::fs::read(&file).unwrap();
    for at in (0..whole.len()).step_by(7) {
        let mut bytes = whole.clone();
        bytes[at] ^= 0x20;
        std::fs::write(&file, &bytes).unwrap();
        if restore(&file, &to, &Unwatched).is_ok() {
            // A flip in a date or a comment changes nothing that matters.
            assert_eq!(
                Notebook::open(&to).unwrap().finds(&Criteria::default()).unwrap().len(),
                1,
                "byte {at}"
            );
            std::fs::remove_dir_all(&to).unwrap();
        }
        assert!(!to.exists(), "byte {at}");
    }
    for cut in (0..whole.len()).step_by(11) {
        std::fs::write(&file, &whole[..cut]).unwrap();
        assert!(restore(&file, &to, &Unwatched).is_err(), "cut at {cut}");
    }
}

#[test]
fn what_is_too_much_to_be_passed_on_is_not_kept_at_all() {
    let desk = Desk::new();
    let notebook = desk.open();
    let mark = |n: i32| crate::import::Mark {
        name: Some(format!("mark {n}")),
        centre: Position::new(51.0, f64::from(n) / 1000.0).unwrap(),
        note: Some("x".repeat(2_000)),
    };
    let marks: Vec<_> = (0..5_000).map(mark).collect();
    assert!(matches!(notebook.import(&marks, &[]), Err(Error::TooMuch)));
    assert!(notebook.patches(&Criteria::default()).unwrap().is_empty());
    assert_eq!(notebook.import(&marks[..100], &[]).unwrap().patches.len(), 100);
}

#[test]
fn what_was_being_worked_on_when_the_process_ended_is_cleared_away() {
    let desk = Desk::new();
    let left = desk.open().folder.scratch().unwrap().keep();
    std::fs::write(left.join("half a picture"), b"x").unwrap();
    drop(desk.open());
    assert!(!left.exists());
}
