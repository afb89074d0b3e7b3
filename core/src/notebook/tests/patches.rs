//! Patches from within: joined, merged, looked at, undone, and added up.

use jiff::civil::date;

use super::*;
use crate::find::{Host, Sure};
use crate::id::{FindId, PatchId};
use crate::notebook::PatchHistory;
use crate::pack::Pack;
use crate::patch::{Amounts, Many, Proposal, Tally};
use crate::store::Span;
use crate::units::Grams;

/// Metres north of a middle at 51.5 degrees north, where a degree of latitude is 111,257 m (meridian arc; from memory).
fn place(metres: f64) -> Position {
    let position = Position::new(51.5 + metres / 111_257.0, -1.5).unwrap();
    position.within(Metres::new(5.0).unwrap())
}

fn patch(name: &str, metres: f64) -> Patch {
    Patch { name: Some(name.into()), centre: Some(place(metres)), ..Patch::default() }
}

fn taken(patch: Option<PatchId>, seen: u32, taken: u32, grams: Option<f64>) -> NewFind {
    let find = Find {
        patch,
        seen: Count::exactly(seen).ok(),
        taken: Some(taken),
        grams: grams.map(|grams| Grams::new(grams).unwrap()),
        ..Find::default()
    };
    NewFind { find, photos: Vec::new() }
}

fn here(metres: f64) -> NewFind {
    let position = Some(Whereabouts { position: place(metres), got: crate::find::Got::Fix });
    NewFind { find: Find { position, ..Find::default() }, photos: Vec::new() }
}

fn outcomes(history: &PatchHistory) -> Vec<String> {
    let looks = history.seasons.iter().flat_map(|season| &season.looks);
    looks.map(|look| format!("{} {} {}", look.day, look.outcome, look.amounts.taken.least)).collect()
}

fn look(patch: PatchId, outcome: Outcome) -> Visit {
    Visit { patch: Some(patch), outcome: Some(outcome), ..Visit::default() }
}

#[test]
fn a_find_joins_the_patch_it_lies_in_and_founds_one_where_there_is_none() {
    let desk = Desk::new();
    let notebook = desk.open();
    let first = notebook.add_find(here(0.0)).unwrap();
    assert_eq!(first.patch, Some(Proposal::New));
    let host = Some(Host { tree: "elder".into(), sure: Sure::Likely });
    notebook.amend_find(first.id, &Find { host: host.clone(), ..Find::default() }, &[]).unwrap();
    let named = Patch { name: Some("old elder".into()), ..Patch::default() };
    let founded = notebook.found_patch(Pack::britain().unwrap(), first.id, &named).unwrap();
    assert_eq!((founded.patch.value.host, founded.patch.value.centre), (host, Some(place(0.0))));
    assert_eq!(notebook.find(first.id).unwrap().find.value.patch, Some(founded.id));

    let second = notebook.add_find(here(6.0)).unwrap();
    let Some(Proposal::Joins { patch }) = second.patch else { panic!("{:?}", second.patch) };
    assert_eq!((patch.id, patch.name.as_deref()), (founded.id, Some("old elder")));
    assert_eq!(notebook.find(second.id).unwrap().find.value.patch, Some(founded.id));
    assert_eq!(notebook.add_find(here(60.0)).unwrap().patch, Some(Proposal::New));
    assert_eq!(notebook.add_find(seen(1)).unwrap().patch, Some(Proposal::Unplaced));
    let given = Find { patch: Some(founded.id), ..here(900.0).find };
    assert_eq!(notebook.add_find(NewFind { find: given, photos: Vec::new() }).unwrap().patch, None);
}

#[test]
fn looks_are_told_apart_by_outing_and_otherwise_by_the_day_of_the_clock() {
    let desk = Desk::new(); // its clock is an hour ahead of UTC
    let notebook = desk.open();
    let patch = notebook.add_patch(&patch("old elder", 0.0)).unwrap().id;
    desk.set("2026-12-31T10:00:00Z");
    notebook.add_visit(look(patch, Outcome::Nothing)).unwrap();
    // Past midnight by the clock, not yet by UTC: another day, the same season.
    desk.set("2026-12-31T23:30:00Z");
    notebook.add_find(taken(Some(patch), 7, 3, Some(40.0))).unwrap();
    notebook.add_find(taken(Some(patch), 2, 0, None)).unwrap();
    // One outing past midnight is one look; what was noted as nothing gives way to what was found.
    desk.set("2027-01-02T22:30:00Z");
    notebook.start_outing(Outing::default()).unwrap();
    notebook.add_visit(look(patch, Outcome::Nothing)).unwrap();
    desk.set("2027-01-02T23:30:00Z");
    notebook.add_find(taken(Some(patch), 5, 1, None)).unwrap();
    notebook.end_outing(None).unwrap();
    // The last minute of a season, and the first of the next, by the clock.
    desk.set("2027-06-30T22:59:00Z");
    notebook.add_visit(look(patch, Outcome::Seen)).unwrap();
    desk.set("2027-06-30T23:00:00Z");
    notebook.add_visit(look(patch, Outcome::Nothing)).unwrap();

    let history = notebook.patch_history(patch).unwrap();
    assert_eq!(
        outcomes(&history),
        [
            "2027-07-01 nothing 0",
            "2027-06-30 seen 0",
            "2027-01-02 taken 1",
            "2027-01-01 taken 3",
            "2026-12-31 nothing 0"
        ]
    );
    let seasons: Vec<_> =
        history.seasons.iter().map(|s| (s.season.to_string(), s.looked, s.nothing)).collect();
    assert_eq!(seasons, [("2027/28".into(), 1, 1), ("2026/27".into(), 4, 1)]);
    let winter = history.seasons[1].amounts;
    assert_eq!(
        (winter.finds, winter.seen, winter.left(), winter.grams(), winter.unweighed),
        (3, Many::exactly(14), Many::exactly(10), 40.0, 1)
    );
}

#[test]
fn the_hour_that_comes_twice_parts_no_day() {
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = notebook.add_patch(&patch("old elder", 0.0)).unwrap().id;
    // Clocks go back at 02:00 summer time on 25 October 2026: half past one comes twice, on one day.
    for at in ["2026-10-25T00:10:00+01:00", "2026-10-25T01:30:00+01:00", "2026-10-25T01:30:00+00:00"] {
        let find = Find { at: at.parse().ok(), ..taken(Some(patch), 1, 0, None).find };
        notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    }
    let history = notebook.patch_history(patch).unwrap();
    assert_eq!(outcomes(&history), ["2026-10-25 seen 0"]);
    assert_eq!(history.seasons[0].looks[0].amounts.finds, 3);
}

#[test]
fn merged_patches_are_one_and_undo_parts_them_again() {
    let desk = Desk::new();
    let notebook = desk.open();
    let keep = notebook.add_patch(&Patch { taxon: None, ..patch("old elder", 0.0) }).unwrap();
    let host = Some(Host { tree: "elder".into(), sure: Sure::Likely });
    let gone = notebook.add_patch(&Patch { host: host.clone(), ..patch("bent elder", 14.0) }).unwrap();
    notebook.add_find(taken(Some(keep.id), 7, 3, None)).unwrap();
    notebook.add_find(taken(Some(gone.id), 4, 2, None)).unwrap();
    notebook.add_visit(look(gone.id, Outcome::Seen)).unwrap();

    let merged = notebook.merge_patches(gone.id, keep.id).unwrap();
    assert_eq!((merged.id, merged.patch.value.host), (keep.id, host));
    assert_eq!(merged.patch.value.radius.map(Metres::get), Some(25.0), "14 m, 10 m round it, rounded up");
    let ids = |patches: Vec<PatchRecord>| patches.iter().map(|patch| patch.id).collect::<Vec<_>>();
    assert_eq!(ids(notebook.patches(&Criteria::default()).unwrap()), [keep.id]);
    for id in [keep.id, gone.id] {
        let history = notebook.patch_history(id).unwrap();
        assert_eq!((history.patch.id, ids(history.merged)), (keep.id, vec![gone.id]));
        assert_eq!(history.seasons[0].amounts.taken, Many::exactly(5));
    }
    let of_both = Criteria { patch: Some(keep.id), ..Criteria::default() };
    assert_eq!((notebook.finds(&of_both).unwrap().len(), notebook.visits(&of_both).unwrap().len()), (2, 1));
    let Some(Proposal::Joins { patch }) = notebook.add_find(here(16.0)).unwrap().patch else { panic!() };
    assert_eq!(patch.id, keep.id);
    assert!(matches!(notebook.merge_patches(gone.id, keep.id), Err(Error::Field(_))));
    assert!(matches!(notebook.merge_patches(keep.id, keep.id), Err(Error::Field(_))));

    let apart = notebook.undo_patch(gone.id).unwrap();
    assert_eq!((apart.id, &apart.patch.value), (keep.id, &keep.patch.value));
    assert_eq!(ids(notebook.patches(&Criteria::default()).unwrap()), [keep.id, gone.id]);
    assert_eq!(notebook.patch_history(gone.id).unwrap().seasons[0].amounts.taken, Many::exactly(2));
}

#[test]
fn patches_too_far_apart_are_not_one() {
    let desk = Desk::new();
    let notebook = desk.open();
    let ids = [0.0, 495.0].map(|metres| notebook.add_patch(&patch("elder", metres)).unwrap().id);
    assert!(matches!(notebook.merge_patches(ids[0], ids[1]), Err(Error::Field(e)) if e.field == "radius"));
}

#[test]
fn two_devices_that_merged_each_into_the_other_see_one_patch() {
    let desk = Desk::new();
    let notebook = desk.open();
    let ids = [0.0, 5.0, 9.0].map(|metres| notebook.add_patch(&patch("elder", metres)).unwrap().id);
    let into = |id: PatchId, other: PatchId| {
        let edit = act::Edit::field(kind::PATCH, id, "merged_into", other.to_string());
        notebook.keep(&[edit]).unwrap();
    };
    into(ids[1], ids[0]);
    into(ids[0], ids[1]);
    into(ids[2], ids[1]);
    notebook.add_find(taken(Some(ids[2]), 4, 2, None)).unwrap();
    for id in ids {
        let history = notebook.patch_history(id).unwrap();
        assert_eq!((history.patch.id, history.merged.len()), (ids[0], 2));
        assert_eq!(history.seasons[0].amounts.taken, Many::exactly(2));
    }
    notebook.undo_patch(ids[0]).unwrap();
    assert!(notebook.check(&Unwatched).unwrap().ok);
}

#[test]
fn a_patch_is_renamed_moved_rested_and_each_is_taken_back() {
    let desk = Desk::new();
    let notebook = desk.open();
    let made = notebook.add_patch(&patch("elder", 0.0)).unwrap();
    let id = made.id;
    let amend = |change: Patch| notebook.amend_patch(id, &change, &[]).unwrap().patch.value;
    amend(Patch { name: Some("old elder".into()), ..Patch::default() });
    amend(Patch { centre: Some(place(30.0)), ..Patch::default() });
    let rested = amend(Patch { rests_until: Some(date(2026, 12, 1)), ..Patch::default() });
    assert!(rested.rests_on(date(2026, 11, 30)) && !rested.rests_on(date(2026, 12, 1)));
    notebook.add_visit(look(id, Outcome::Nothing)).unwrap();
    let wide = Patch { radius: Metres::new(501.0).ok(), ..Patch::default() };
    assert!(matches!(notebook.amend_patch(id, &wide, &[]), Err(Error::Field(e)) if e.field == "radius"));
    let woken = notebook.amend_patch(id, &Patch::default(), &["rests_until".into()]).unwrap();
    assert_eq!(woken.patch.value.rests_until, None);

    assert!(notebook.undo_patch(id).unwrap().patch.value.rests_until.is_some());
    notebook.undo_patch(id).unwrap();
    assert!(notebook.visits(&Criteria::default()).unwrap().is_empty(), "the visit was undone");
    for _ in 0..3 {
        notebook.undo_patch(id).unwrap();
    }
    assert_eq!(notebook.patch(id).unwrap().patch.value, made.patch.value);
    assert!(notebook.undo_patch(id).unwrap().patch.deleted);
    assert!(matches!(notebook.undo_patch(id), Err(Error::NothingToUndo { what: "patch" })));
}

/// What is taken of a name is added up under the latest that stands, through naming, withdrawing, amending and deleting.
#[test]
fn sums_follow_every_edit() {
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = notebook.add_patch(&patch("elder", 0.0)).unwrap().id;
    let find = notebook.add_find(taken(Some(patch), 7, 3, Some(40.0))).unwrap().id;
    let names = || {
        let whole = |tally: &Tally| (tally.taxon.clone().unwrap_or_default(), tally.amounts.taken.least);
        notebook.tallies(&Span::default()).unwrap().iter().map(whole).collect::<Vec<_>>()
    };
    let name = |find: FindId, taxon: Option<&str>| {
        let name = NewName { taxon: taxon.map(Into::into), ..NewName::default() };
        notebook.name_find(find, name).unwrap().id
    };
    assert_eq!(names(), [(String::new(), 3)]);
    name(find, Some("jelly-ear"));
    let second = name(find, Some("velvet-shank"));
    name(find, None);
    assert_eq!(names(), [("velvet-shank".into(), 3)]);
    notebook.withdraw_name(second).unwrap();
    assert_eq!(names(), [("jelly-ear".into(), 3)]);
    let other = notebook.add_find(taken(Some(patch), 9, 4, None)).unwrap().id;
    name(other, Some("jelly-ear"));
    assert_eq!(names(), [("jelly-ear".into(), 7)]);
    notebook
        .amend_find(other, &Find { taken: Some(1), by: Some("R.".into()), ..Find::default() }, &[])
        .unwrap();
    assert_eq!(names(), [("jelly-ear".into(), 3), ("jelly-ear".into(), 1)]);
    notebook.delete_find(find).unwrap();
    assert_eq!(names(), [("jelly-ear".into(), 1)]);
    notebook.undo_find(find).unwrap();
    let all: Amounts = notebook.tallies(&Span::default()).unwrap().iter().map(|tally| tally.amounts).sum();
    assert_eq!((all.taken, all.grams(), all.unweighed), (Many::exactly(4), 40.0, 1));
    let tomorrow = date(2026, 10, 19);
    assert!(notebook.tallies(&Span { from: tomorrow, ..Span::default() }).unwrap().is_empty());
    let today = date(2026, 10, 18);
    assert_eq!(notebook.tallies(&Span { from: today, to: today, patch: Some(patch) }).unwrap().len(), 2);
    assert!(notebook.check(&Unwatched).unwrap().ok);
}
