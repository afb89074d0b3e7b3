//! The year from within: counted from a notebook through every edit, and held against its finds one by one.

use serde_json::Value;

use super::*;
use crate::find::How;
use crate::id::{FindId, PatchId};
use crate::notebook::{AskedOfYear, By, Year};
use crate::pack::Pack;
use crate::patch::Many;
use crate::units::Grams;
use crate::year::{Came, Key, Pick};

fn pack() -> &'static Pack {
    Pack::britain().unwrap()
}

fn year(notebook: &Notebook, by: By, season: Option<&str>) -> Year {
    notebook.year(pack(), &AskedOfYear { by, season: season.map(str::to_owned), more_of: None }).unwrap()
}

fn found(notebook: &Notebook, name: &str, at: &str, find: Find) -> FindId {
    let find = Find { at: at.parse().ok(), ..find };
    let id = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id;
    if !name.is_empty() {
        named(notebook, id, Some(name));
    }
    id
}

fn named(notebook: &Notebook, find: FindId, name: Option<&str>) -> crate::id::DeterminationId {
    let name = NewName { taxon: name.map(Into::into), how: Some(How::Sight), ..NewName::default() };
    notebook.name_find(find, name).unwrap().id
}

fn of(seen: u32, taken: u32, grams: f64) -> Find {
    let grams = (grams > 0.0).then(|| Grams::new(grams).unwrap());
    Find { seen: Count::exactly(seen).ok(), taken: Some(taken), grams, ..Find::default() }
}

fn key(text: &str) -> Key {
    text.parse().unwrap()
}

/// The lines of a year: its name, its finds and the fruitbodies seen, those not settled, and the months in which it was found.
fn lines(year: &Year) -> Vec<String> {
    let line = |line: &crate::notebook::YearLine| {
        let months = line.months.iter().filter(|month| month.cell.came() == Came::Found);
        let months: Vec<String> = months.map(|month| month.pick.month().to_string()).collect();
        let (sum, open) = (&line.sum.amounts, line.sum.unsettled);
        format!("{} {} {} {open} [{}]", line.title.key, sum.finds, sum.seen.least, months.join(" "))
    };
    year.lines.iter().map(line).collect()
}

#[test]
fn names_are_followed_through_every_edit() {
    let desk = Desk::new();
    let notebook = desk.open();
    let first = found(&notebook, "Velvet shank", "2025-12-31T23:30:00+00:00", of(7, 3, 40.0));
    found(&notebook, "Flammulina velutipes", "2026-01-01T00:10:00+00:00", of(2, 0, 0.0));
    let nameless = found(&notebook, "", "2026-01-01T10:00:00+00:00", of(1, 0, 0.0));
    let told = || lines(&year(&notebook, By::Fungus, Some("2025/26")));
    assert_eq!(told(), ["fungus/velvet-shank 2 9 0 [12 1]", "unnamed 1 1 0 [1]"]);
    // Something dangerous still fits: it counts by the last name, and is told as not settled.
    let bell = named(&notebook, first, Some("funeral-bell"));
    assert_eq!(
        told(),
        ["fungus/funeral-bell 1 7 1 [12]", "fungus/velvet-shank 1 2 0 [1]", "unnamed 1 1 0 [1]"]
    );
    notebook.withdraw_name(bell).unwrap();
    assert_eq!(told(), ["fungus/velvet-shank 2 9 0 [12 1]", "unnamed 1 1 0 [1]"]);
    // The last word was that it is unknown.
    let unknown = named(&notebook, first, None);
    assert_eq!(told(), ["fungus/velvet-shank 2 9 1 [12 1]", "unnamed 1 1 0 [1]"]);
    notebook.withdraw_name(unknown).unwrap();
    // Two names that differ, neither dangerous, are settled by the last.
    let cep = found(&notebook, "cep", "2025-09-01T10:00:00+01:00", of(1, 0, 0.0));
    named(&notebook, cep, Some("bay-bolete"));
    // A name that nobody said how they came by is not.
    let told_by = NewName { taxon: Some("jelly-ear".into()), ..NewName::default() };
    notebook.name_find(nameless, told_by).unwrap();
    let all =
        ["fungus/bay-bolete 1 1 0 [9]", "fungus/velvet-shank 2 9 0 [12 1]", "fungus/jelly-ear 1 1 1 [1]"];
    assert_eq!(told(), all);
    notebook.delete_find(cep).unwrap();
    assert_eq!(told(), all[1..]);
    notebook.rebuild(&Unwatched).unwrap();
    assert_eq!(told(), all[1..], "built afresh");
    assert!(notebook.check(&Unwatched).unwrap().ok);
}

#[test]
fn a_stage_counts_as_its_species_and_a_name_of_no_pack_as_itself() {
    let desk = Desk::new();
    let notebook = desk.open();
    found(&notebook, "death-cap-egg", "2025-09-01T10:00:00+01:00", of(1, 0, 0.0));
    found(&notebook, "death cap", "2025-09-02T10:00:00+01:00", of(1, 0, 0.0));
    found(&notebook, "elf-cups", "2026-02-02T10:00:00+00:00", of(5, 0, 0.0));
    found(&notebook, "something of the Congo", "2026-02-02T10:00:00+00:00", of(1, 0, 0.0));
    assert_eq!(
        lines(&year(&notebook, By::Fungus, None)),
        [
            "fungus/death-cap 2 2 0 [9]",
            "fungus/elf-cups 1 5 0 [2]",
            "fungus/something of the Congo 1 1 0 [2]"
        ]
    );
}

/// The day is that of the clock that was carried: the same instant, an hour apart on two clocks, lies in two months.
#[test]
fn zones_leap_days_and_times_unknown() {
    let desk = Desk::new();
    let notebook = desk.open();
    found(&notebook, "cep", "2025-08-31T23:30:00+00:00", of(1, 0, 0.0));
    found(&notebook, "cep", "2025-09-01T00:30:00+01:00", of(2, 0, 0.0));
    found(&notebook, "cep", "2024-02-29T12:00:00+00:00", of(4, 0, 0.0));
    // The clock of this desk is an hour ahead: 1 November there, 31 October by UTC.
    desk.set("2026-10-31T23:30:00Z");
    found(&notebook, "cep", "", of(8, 0, 0.0));
    let told = year(&notebook, By::Fungus, None);
    let seen: Vec<(i8, u32)> = told.lines[0]
        .months
        .iter()
        .filter(|month| month.cell.came() == Came::Found)
        .map(|month| (month.pick.month(), month.cell.amounts.seen.least))
        .collect();
    assert_eq!(seen, [(8, 1), (9, 2), (11, 8), (2, 4)]);
    let named: Vec<String> = told.seasons.iter().map(ToString::to_string).collect();
    assert_eq!(named, ["2026/27", "2025/26", "2023/24"]);
    let more = AskedOfYear { by: By::Fungus, season: None, more_of: Some(key("fungus/cep")) };
    let more = notebook.year(pack(), &more).unwrap().more.unwrap();
    let runs: Vec<String> =
        more.runs.years.iter().map(|run| format!("{}: {} to {}", run.name, run.first, run.last)).collect();
    assert_eq!(
        runs,
        [
            "2026/27: 2026-11-01 to 2026-11-01",
            "2025/26: 2025-08-31 to 2025-09-01",
            "2023/24: 2024-02-29 to 2024-02-29"
        ]
    );
    let leap = notebook.month(pack(), &key("fungus/cep"), "2024-02".parse().unwrap(), 9).unwrap();
    assert_eq!((leap.finds.len(), leap.cell.amounts.seen), (1, Many::exactly(4)));
}

fn patch_of(notebook: &Notebook, kind: &str, name: &str) -> PatchId {
    let patch = Patch { name: Some(name.into()), taxon: Some(kind.into()), ..Patch::default() };
    notebook.add_patch(&patch).unwrap().id
}

#[test]
fn merged_patches_are_one_place_and_undo_parts_them_again() {
    let desk = Desk::new();
    let notebook = desk.open();
    let [keep, gone] = ["old elder", "bent elder"].map(|name| patch_of(&notebook, "jelly-ear", name));
    for patch in [keep, gone] {
        let there = Find { patch: Some(patch), ..of(3, 1, 10.0) };
        found(&notebook, "jelly-ear", "2026-01-10T10:00:00+00:00", there);
        let at = "2026-02-01T10:00:00+00:00".parse().ok();
        notebook.add_visit(Visit { patch: Some(patch), at, ..Visit::default() }).unwrap();
    }
    let places = || {
        let told = year(&notebook, By::Place, Some("2025/26"));
        let looks = |line: &crate::notebook::YearLine| {
            (line.title.name.clone().unwrap(), line.sum.looks, line.sum.nothing)
        };
        told.lines.iter().map(looks).collect::<Vec<_>>()
    };
    assert_eq!(places(), [("bent elder".into(), 2, 1), ("old elder".into(), 2, 1)]);
    notebook.merge_patches(gone, keep).unwrap();
    // Both were looked at on one day: that is one look at one place.
    assert_eq!(places(), [("old elder".into(), 2, 1)]);
    let at_both = notebook.month(pack(), &Key::Patch(keep), "2026-01".parse().unwrap(), 9).unwrap();
    assert_eq!((at_both.finds.len(), at_both.cell.amounts.taken), (2, Many::exactly(2)));
    notebook.undo_patch(keep).unwrap();
    assert_eq!(places().len(), 2);
    // February was looked at in vain.
    let ear = year(&notebook, By::Fungus, Some("2025/26"));
    let came: Vec<Came> = ear.lines[0].months.iter().map(|month| month.cell.came()).collect();
    assert_eq!((came[6], came[7], came[8]), (Came::Found, Came::Nothing, Came::NotLooked));
    let vain = notebook.month(pack(), &key("fungus/jelly-ear"), "2026-02".parse().unwrap(), 9).unwrap();
    assert!(vain.finds.is_empty());
    let names: Vec<Option<&str>> = vain.looked.iter().map(|(_, title, _)| title.name.as_deref()).collect();
    assert_eq!(names, [Some("old elder"), Some("bent elder")]);
}

/// 7 left of a fungus of which 3 weighed 45 g: about 105 g; and 5 of which none was ever weighed.
#[test]
fn what_was_left_is_weighed_by_what_was_taken() {
    let desk = Desk::new();
    let notebook = desk.open();
    found(&notebook, "velvet-shank", "2026-01-01T10:00:00+00:00", of(10, 3, 45.0));
    found(&notebook, "jelly-ear", "2026-01-02T10:00:00+00:00", of(6, 1, 0.0));
    let told = year(&notebook, By::Fungus, None);
    let left: Vec<(f64, Option<f64>, bool)> = told
        .lines
        .iter()
        .chain([&told.all])
        .map(|line| (line.left.least, line.left.most, line.left.lacks_some))
        .collect();
    assert_eq!(
        left,
        [(0.0, Some(0.0), true), (105.0, Some(105.0), false), (105.0, Some(105.0), true)],
        "jelly ear, velvet shank, all"
    );
    assert_eq!((told.all.sum.amounts.grams(), told.all.sum.amounts.unweighed), (45.0, 1));
}

#[test]
fn copies_of_others_are_no_finds_and_an_empty_notebook_is_empty() {
    let desk = Desk::new();
    let notebook = desk.open();
    let copied = json!({"day": "2025-10-01", "seen": 9, "taxon": "cep"});
    let Value::Object(copied) = copied else { unreachable!() };
    notebook.keep(&[act::Edit::new(kind::COPY, crate::id::RecordId::new(), copied)]).unwrap();
    let told = year(&notebook, By::Fungus, None);
    assert!(told.lines.is_empty() && told.all.sum.amounts.finds == 0);
    assert_eq!(told.seasons.iter().map(ToString::to_string).collect::<Vec<_>>(), ["2026/27"]);
    assert!(year(&notebook, By::Place, Some("1066/67")).season.is_none());
    let none = notebook.month(pack(), &Key::All, Pick::Every(1), 9).unwrap();
    assert!(none.finds.is_empty() && none.looked.is_empty() && none.more == 0);
}

/// Every month's page against every find asked for by itself; the latest first, and no more than are wanted.
#[test]
fn the_pages_of_months_hold_every_find_once() {
    let desk = Desk::new();
    let notebook = desk.open();
    let names = ["cep", "velvet-shank", ""];
    for n in 0..40_u8 {
        let at = format!("202{}-{:02}-{:02}T1{}:00:00+00:00", n % 4, n % 12 + 1, n % 28 + 1, n % 10);
        found(&notebook, names[usize::from(n) % 3], &at, of(u32::from(n), 0, 0.0));
    }
    let mut all: Vec<FindId> =
        notebook.finds(&Criteria::default()).unwrap().iter().map(|find| find.id).collect();
    all.sort_unstable();
    for lines in [By::Fungus, By::Place].map(|by| year(&notebook, by, None).lines) {
        let mut held: Vec<FindId> = Vec::new();
        for line in &lines {
            for laid in &line.months {
                let page = notebook.month(pack(), &line.title.key, laid.pick, 1000).unwrap();
                assert_eq!(page.cell, laid.cell);
                assert_eq!(page.finds.len(), usize::try_from(laid.cell.amounts.finds).unwrap());
                held.extend(page.finds.iter().map(|(record, _)| record.id));
            }
        }
        held.sort_unstable();
        assert_eq!(held, all);
    }
    let page = notebook.month(pack(), &Key::All, Pick::Every(1), 2).unwrap();
    assert_eq!((page.finds.len(), page.more), (2, 2));
    let times: Vec<_> = page.finds.iter().map(|(record, _)| record.find.value.at).collect();
    assert!(times[0] > times[1]);
}
