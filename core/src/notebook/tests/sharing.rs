//! Sharing: which finds are meant, and that nothing leaves but what was shown.

use jiff::civil::date;

use super::*;
use crate::export::{Contents, Exactness, Format, Terms};
use crate::id::FindId;
use crate::pack::Pack;
use crate::progress::Unwatched;

/// An invented find in Harrow Shaw, which is invented too.
fn there(time: &str) -> NewFind {
    let mut new = at(51.5, -1.5);
    new.find.at = Some(time.parse().unwrap());
    new
}

fn for_someone(finds: Option<Vec<FindId>>, terms: Terms) -> Leaving {
    Leaving::Bundle(Sending::ForSomeone { finds, terms, recipient: None, photos: false })
}

fn shown(notebook: &Notebook, leaving: &Leaving) -> Leaves {
    notebook.preview(Pack::britain().unwrap(), leaving, &Unwatched).unwrap()
}

#[test]
fn finds_are_meant_by_outing_patch_days_or_one_by_one() {
    let desk = Desk::new();
    let notebook = desk.open();
    let before = notebook.add_find(there("2026-10-10T09:00:00+01:00")).unwrap().id;
    // Late in the evening of the 17th by its clock, which is the 18th in UTC.
    let evening = notebook.add_find(there("2026-10-17T20:30:00-05:00")).unwrap().id;
    let outing = notebook.start_outing(Outing::default()).unwrap().id;
    assert_eq!(notebook.usually_meant().unwrap(), Which::All, "an outing without finds is not meant");
    let patch = notebook.found_patch(Pack::britain().unwrap(), before, &Patch::default()).unwrap().id;
    let today = notebook.add_find(there("2026-10-18T13:00:00+01:00")).unwrap().id;
    let gone = notebook.add_find(there("2026-10-18T14:00:00+01:00")).unwrap().id;
    notebook.delete_find(gone).unwrap();
    let meant = |which| notebook.meant(which).unwrap();
    let days = |from, to| Which::Days { from, to };
    assert_eq!(meant(Which::All), [before, evening, today]);
    assert_eq!(meant(Which::Find(evening)), [evening]);
    assert!(meant(Which::Outing(outing)).contains(&today) && !meant(Which::Outing(outing)).contains(&before));
    assert!(meant(Which::Patch(patch)).contains(&before));
    assert_eq!(meant(days(date(2026, 10, 17), date(2026, 10, 17))), [evening]);
    assert_eq!(meant(days(date(2026, 10, 18), date(2026, 10, 18))), [today]);
    assert_eq!(meant(days(date(2026, 10, 10), date(2026, 10, 18))), [before, evening, today]);
    assert!(matches!(notebook.meant(Which::Find(gone)), Err(Error::NotFound { what: "find" })));
    assert!(matches!(notebook.meant(Which::Outing(crate::id::OutingId::new())), Err(Error::NotFound { .. })));
    assert_eq!(notebook.usually_meant().unwrap(), Which::Outing(outing));
    // The clock stands at 13:00 on the 18th.
    assert_eq!(notebook.days_meant(None, None), days(date(2026, 10, 12), date(2026, 10, 18)));
    assert_eq!(
        notebook.days_meant(Some(date(2026, 10, 9)), Some(date(2026, 10, 3))),
        days(date(2026, 10, 3), date(2026, 10, 9))
    );
}

#[test]
fn nothing_leaves_but_what_was_shown() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = notebook.add_find(there("2026-10-18T13:00:00+01:00")).unwrap().id;
    let pack = Pack::britain().unwrap();
    let order = |format| {
        Leaving::Export(Order {
            format,
            finds: None,
            terms: Terms::default(),
            photos: false,
            recipient: None,
            patch: None,
        })
    };
    for (leaving, name) in [
        (for_someone(None, Terms::default()), "a.zip"),
        (order(Format::Csv), "a.csv"),
        (order(Format::GeoJson), "a.json"),
    ] {
        let first = shown(&notebook, &leaving);
        // Without a recipient ids are new every time, and that is no change.
        assert_eq!(shown(&notebook, &leaving).mark, first.mark);
        let file = desk.dir.path().join(name);
        notebook.amend_find(id, &Find { taken: Some(1), ..Find::default() }, &[]).unwrap();
        let refused = notebook.share(pack, &leaving, None, &first.mark, &file, &Unwatched);
        assert!(matches!(refused, Err(Error::Changed)));
        assert!(!file.exists());
        let second = shown(&notebook, &leaving);
        let written = notebook.share(pack, &leaving, None, &second.mark, &file, &Unwatched).unwrap();
        assert_eq!(written.mark, second.mark);
        assert!(file.is_file());
        let again = notebook.share(pack, &leaving, None, &second.mark, &file, &Unwatched);
        assert!(matches!(again, Err(Error::InTheWay { .. })));
        notebook.amend_find(id, &Find::default(), &["taken".into()]).unwrap();
    }
    // What does not leave may change: a note that is not ticked.
    let leaving = for_someone(None, Terms::default());
    let mark = shown(&notebook, &leaving).mark;
    notebook.amend_find(id, &Find { note: Some("by the gate".into()), ..Find::default() }, &[]).unwrap();
    assert_eq!(shown(&notebook, &leaving).mark, mark);
    let noted = for_someone(None, Terms { notes: true, ..Terms::default() });
    assert_ne!(shown(&notebook, &noted).mark, mark);
}

#[test]
fn what_is_grave_is_to_be_agreed_to_and_nothing_else_is() {
    let desk = Desk::new();
    let notebook = desk.open();
    let grave = |leaving: &Leaving| shown(&notebook, leaving).grave();
    let exact = Terms { place: Exactness::Exact, ..Terms::default() };
    // There is nothing yet that it could be said of.
    assert_eq!(grave(&for_someone(None, exact.clone())), []);
    let id = notebook.add_find(there("2026-10-18T13:00:00+01:00")).unwrap().id;
    assert_eq!(grave(&for_someone(None, Terms::default())), []);
    assert_eq!(grave(&for_someone(None, exact.clone())), [Grave::ExactPlaces]);
    let named = Terms { name: Some("R.".into()), ..Terms::default() };
    assert_eq!(grave(&for_someone(None, named)), [Grave::OwnName]);
    assert_eq!(grave(&Leaving::Bundle(Sending::ForMe)), [Grave::Everything]);
    let elder = Patch { name: Some("the old elder".into()), ..Patch::default() };
    notebook.found_patch(Pack::britain().unwrap(), id, &elder).unwrap();
    let patches = |notes| {
        let terms = Terms { notes, ..Terms::default() };
        Leaving::Export(Order {
            format: Format::Gpx,
            finds: None,
            terms,
            photos: false,
            recipient: None,
            patch: None,
        })
    };
    assert_eq!(grave(&patches(false)), []);
    assert_eq!(grave(&patches(true)), [Grave::PatchNames]);
}

/// SU 44 74 by the Ordnance Survey's letters; the centre is the notebook's own answer, compared elsewhere against OSTN15.
#[test]
fn places_are_counted_by_square() {
    let desk = Desk::new();
    let notebook = desk.open();
    notebook.add_find(there("2026-10-18T13:00:00+01:00")).unwrap();
    notebook.add_find(there("2026-10-18T13:05:00+01:00")).unwrap();
    notebook.add_find(seen(1)).unwrap();
    let spread = shown(&notebook, &for_someone(None, Terms::default())).spread();
    assert_eq!(spread.squares.values().sum::<u64>(), 2);
    assert_eq!((spread.squares.len(), spread.exact, spread.nowhere), (1, 0, 1));
    let exact = Terms { place: Exactness::Exact, ..Terms::default() };
    let spread = shown(&notebook, &for_someone(None, exact)).spread();
    assert_eq!((spread.squares.len(), spread.exact, spread.nowhere), (0, 2, 1));
}

#[test]
fn a_patch_leaves_as_a_waypoint_whether_anything_was_found_there_or_not() {
    let desk = Desk::new();
    let notebook = desk.open();
    let centre = Position::new(51.5, -1.5).unwrap();
    let patch = notebook.add_patch(&Patch { centre: Some(centre), ..Patch::default() }).unwrap().id;
    let other = Position::new(51.9, -1.5).unwrap();
    notebook.add_patch(&Patch { centre: Some(other), ..Patch::default() }).unwrap();
    let order = Order {
        format: Format::Gpx,
        finds: Some(Vec::new()),
        terms: Terms::default(),
        photos: false,
        recipient: None,
        patch: Some(patch),
    };
    let leaving = Leaving::Export(order);
    let Contents::Patches(points) = shown(&notebook, &leaving).contents else { panic!("finds") };
    assert_eq!(points.len(), 1);
    assert_eq!(leaving.file_name(None, false), "patches.gpx");
}

#[test]
fn a_file_is_called_by_what_it_is_and_by_the_day_that_it_tells() {
    let day = Some(date(2026, 10, 18));
    let copies = for_someone(None, Terms::default());
    assert_eq!(copies.file_name(day, true), "trug-copies-2026-10-18.zip.age");
    assert_eq!(
        (copies.media_type(false), copies.media_type(true)),
        ("application/zip", "application/octet-stream")
    );
    assert_eq!(Leaving::Bundle(Sending::ForMe).file_name(day, false), "trug-all-2026-10-18.zip");
}
