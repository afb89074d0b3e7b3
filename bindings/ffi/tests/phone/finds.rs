//! A find, from its first photo to advice and back.

use trug_ffi::{Danger, FieldValue, Kind};

use crate::{HERE, Phone, code};

/// Half of seven, rounded down, is three (Pickers' code, 1998); the widths are above the 20 mm from which it is taken.
#[test]
fn a_whole_find_from_photo_to_advice() {
    let phone = Phone::new();
    phone.book.start_outing(Some("Harrow Shaw".into()), "permitted".into()).unwrap();
    let page = phone.book.begin_find(Some(phone.photo("a.png")), "whole".into(), Some(HERE)).unwrap();
    assert_eq!(page.missing_roles, ["underside", "stem-base"]);
    assert!(std::path::Path::new(page.photos[0].path.as_ref().unwrap()).is_file());
    assert!(std::path::Path::new(page.photos[0].thumbnail.as_ref().unwrap()).is_file());
    assert_eq!(page.place.as_ref().unwrap().accuracy_m, Some(8.0));
    assert_eq!((page.advice.kind, page.name.settled), (Kind::Leave, false));
    assert!(page.signs.iter().all(|sign| !sign.chosen) && !page.signs.is_empty());

    let page = phone.book.add_photo(page.id.clone(), phone.photo("b.png"), "underside".into()).unwrap();
    assert_eq!(page.missing_roles, ["stem-base"]);

    let page = phone
        .book
        .name_find(page.id.clone(), "Velvet shank".into(), "sight".into(), Some("sure".into()), None)
        .unwrap();
    let name = page.name.name.as_ref().unwrap();
    assert_eq!((name.id.as_str(), name.danger, page.name.settled), ("velvet-shank", Danger::Gathered, true));
    assert!(page.signs.iter().any(|sign| sign.id == "cap-open"));

    let page = phone.amend(&page, &[("seen", "7"), ("width", "25-45"), ("signs", "cap-open")]);
    assert_eq!((page.advice.kind, page.advice.up_to, page.advice.leave), (Kind::NoMoreThan, 3, Some(4)));
    assert!(
        page.advice.first_line.starts_with("No more than 3 of these 7; leave 4"),
        "{}",
        page.advice.first_line
    );
    assert!(page.advice.first_line.contains("The name is somebody's word"), "{}", page.advice.first_line);
    assert!(page.advice.checks.iter().any(|check| check.name == "funeral bell" && check.deadly));
    assert_eq!(page.condition.as_ref().unwrap().stage.as_deref(), Some("prime"));
    assert_eq!((page.fields.seen_least, page.fields.width_most_mm), (Some(7), Some(45.0)));
    assert_eq!(page.signs.iter().filter(|sign| sign.chosen).count(), 1);

    let page = phone.amend(&page, &[("taken", "3"), ("grams", "45")]);
    assert_eq!((page.fields.taken, page.fields.grams, page.followed), (Some(3), Some(45.0), Some(true)));
    assert_eq!(phone.book.find_page(page.id.clone()).unwrap(), page);

    // More than advised is kept on record, with the reason, and said to be so.
    let page = phone.amend(&page, &[("taken", "5")]);
    assert_eq!((page.followed, page.advice.up_to), (Some(false), 3));
    let why = phone.book.say_why(page.id.clone(), "the trunk is felled tomorrow".into()).unwrap();
    assert_eq!(why, page);
    assert_eq!(code(phone.book.say_why(page.id, "x".repeat(20_001))), "field");
}

#[test]
fn what_is_too_small_or_past_is_left_and_says_why() {
    let phone = Phone::new();
    phone.book.start_outing(None, "own".into()).unwrap();
    let page = phone.book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = phone.book.name_find(page.id, "velvet-shank".into(), "sight".into(), None, None).unwrap();
    let page = phone.amend(&page, &[("seen", "7"), ("width", "14"), ("signs", "cap-open")]);
    assert_eq!(
        page.advice.first_line.split(" Look again").next().unwrap(),
        "Leave these. Still too small: 14 mm across; this species is taken from 20 mm."
    );
    assert!(page.advice.look_again.is_some() && page.advice.checks.is_empty());
    let page = phone.amend(&page, &[("width", "30"), ("signs", "browned")]);
    assert!(page.advice.first_line.starts_with("Leave these. Past their best"), "{}", page.advice.first_line);
}

/// A morel is taken from 40 mm of height; its width says nothing of that.
#[test]
fn what_is_measured_by_its_height_is_judged_by_it() {
    let phone = Phone::new();
    phone.book.start_outing(None, "own".into()).unwrap();
    let page = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let page = phone.book.name_find(page.id, "morel".into(), "sight".into(), None, None).unwrap();
    let page = phone.amend(&page, &[("seen", "4"), ("height", "30"), ("signs", "pits-open")]);
    let condition = page.condition.as_ref().unwrap();
    assert_eq!((condition.measure.as_str(), condition.taken_from_mm), ("height", Some(40.0)));
    assert!(
        page.advice.first_line.starts_with("Leave these. Still too small: 30 mm high"),
        "{}",
        page.advice.first_line
    );
    let page = phone.amend(&page, &[("height", "60-80")]);
    assert_eq!((page.advice.kind, page.advice.up_to), (Kind::NoMoreThan, 2));
    assert_eq!(page.fields.height_most_mm, Some(80.0));
}

#[test]
fn a_sign_that_the_name_never_shows_leaves_its_age_unknown_and_is_said() {
    let phone = Phone::new();
    phone.book.start_outing(None, "own".into()).unwrap();
    let page = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let page = phone.amend(&page, &[("seen", "7"), ("width", "30"), ("signs", "cap-open, pits-open")]);
    let page = phone.book.name_find(page.id, "velvet-shank".into(), "sight".into(), None, None).unwrap();
    assert_eq!(page.advice.kind, Kind::Leave);
    assert!(page.advice.lacks_stage);
    let said: Vec<&str> = page.warnings.iter().map(|said| said.code.as_str()).collect();
    assert_eq!(said, ["sign-not-shown"]);
    // It is still there to be taken back; without it the other counts.
    assert!(page.signs.iter().any(|sign| sign.id == "pits-open" && sign.chosen));
    let page = phone.amend(&page, &[("signs", "cap-open")]);
    assert_eq!((page.advice.kind, page.warnings.len()), (Kind::NoMoreThan, 0));
}

#[test]
fn everything_done_to_a_find_can_be_undone_down_to_nothing() {
    let phone = Phone::new();
    let book = &phone.book;
    let first = book.begin_find(Some(phone.photo("a.png")), "whole".into(), None).unwrap();
    assert!(first.can_undo);
    let two = book.add_photo(first.id.clone(), phone.photo("b.png"), "cut".into()).unwrap();
    let dropped = book.drop_photo(first.id.clone(), two.photos[1].id.clone()).unwrap();
    assert_eq!(dropped.photos.len(), 1);
    let back = book.undo(first.id.clone()).unwrap();
    assert_eq!(back.photos, two.photos);
    let named = book.name_find(first.id.clone(), "something".into(), "told".into(), None, Some("R.".into()));
    let named = named.unwrap();
    assert_eq!(named.name.name.as_ref().unwrap().danger, Danger::NotKnown);
    let withdrawn = book.withdraw_name(first.id.clone(), named.names[0].id.clone()).unwrap();
    assert!(withdrawn.names[0].withdrawn && withdrawn.name.name.is_none());
    let emptied = phone.amend(&withdrawn, &[("note", "under the old elder"), ("on", "stump")]);
    assert_eq!(emptied.fields.on.as_deref(), Some("stump"));
    let values = vec![FieldValue { field: "on".into(), value: None }];
    let emptied = book.amend_find(first.id.clone(), values).unwrap();
    assert_eq!((emptied.fields.on, emptied.fields.note.is_some()), (None, true));
    // Emptying, amending, withdrawing, naming, adding a photo, adding the find.
    let mut page = book.find_page(first.id.clone()).unwrap();
    let mut steps = 0;
    while page.can_undo {
        page = book.undo(first.id.clone()).unwrap();
        steps += 1;
    }
    assert_eq!((steps, page.deleted), (6, true));
    assert_eq!(code(book.undo(first.id)), "nothing-to-undo");
}

#[test]
fn a_better_fix_takes_the_place_of_a_worse_one_and_of_nothing_else() {
    let phone = Phone::new();
    let book = &phone.book;
    let at = |accuracy_m| trug_ffi::Fix { accuracy_m, ..HERE };
    let accuracy = |page: trug_ffi::FindPage| page.place.unwrap().accuracy_m;
    let id = book.begin_find(None, "whole".into(), Some(at(Some(40.0)))).unwrap().id;
    assert_eq!(accuracy(book.improve_place(id.clone(), at(Some(60.0))).unwrap()), Some(40.0));
    assert_eq!(accuracy(book.improve_place(id.clone(), at(None)).unwrap()), Some(40.0));
    assert_eq!(accuracy(book.improve_place(id.clone(), at(Some(6.0))).unwrap()), Some(6.0));
    // 0.001 degrees of latitude are 111 m: whoever has a fix of 3 m there has walked on from where one of 6 m was got.
    let walked_on = trug_ffi::Fix { latitude: HERE.latitude + 0.001, ..at(Some(3.0)) };
    assert_eq!(accuracy(book.improve_place(id.clone(), walked_on).unwrap()), Some(6.0));
    let typed = book.place_find_at(id.clone(), "SU 387 147".into()).unwrap().place.unwrap();
    assert_eq!((typed.name.as_str(), typed.got.as_str()), ("SU 387 147", "typed"));
    let still = book.improve_place(id, at(Some(3.0))).unwrap().place.unwrap();
    assert_eq!(still, typed);
}

#[test]
fn a_photo_that_cannot_be_taken_in_leaves_no_find_and_loses_no_file() {
    let phone = Phone::new();
    let text = phone.dir.path().join("text.jpg");
    std::fs::write(&text, "no picture").unwrap();
    let path = text.to_str().unwrap().to_owned();
    assert_eq!(code(phone.book.begin_find(Some(path), "whole".into(), None)), "photo-not-a-photo");
    assert_eq!(
        code(phone.book.begin_find(Some("/nowhere.jpg".into()), "whole".into(), None)),
        "photo-missing"
    );
    assert_eq!(code(phone.book.begin_find(None, "hat".into(), None)), "field");
    assert!(phone.book.now(None).unwrap().finds.is_empty());
    assert!(text.is_file());
}

#[test]
fn names_are_offered_as_they_are_typed() {
    let phone = Phone::new();
    let names = phone.book.names("death".into(), 3).unwrap();
    assert_eq!((names[0].id.as_str(), names[0].danger), ("death-cap", Danger::Deadly));
    assert_eq!(phone.book.names(String::new(), 4).unwrap().len(), 4);
}

/// A find that was killed between its photo and its record leaves a photo on the shelf.
#[test]
fn a_photo_that_no_find_owns_is_shown_and_adopted() {
    let phone = Phone::new();
    let path = phone.photo("a.png");
    let bytes = std::fs::read(&path).unwrap();
    let page = phone.book.begin_find(Some(path), "whole".into(), None).unwrap();
    assert!(phone.book.unowned_photos().unwrap().is_empty());
    phone.book.drop_photo(page.id, page.photos[0].id.clone()).unwrap();
    let unowned = phone.book.unowned_photos().unwrap();
    assert_eq!(std::fs::read(unowned[0].path.as_ref().unwrap()).unwrap(), bytes);
    assert!(unowned[0].thumbnail.is_some());
    let adopted = phone.book.adopt_photo(None, unowned[0].hash.clone(), "cut".into()).unwrap();
    assert_eq!(adopted.photos[0].role, "cut");
    assert!(phone.book.unowned_photos().unwrap().is_empty());
    assert_eq!(code(phone.book.adopt_photo(None, "no hash".into(), "cut".into())), "field");
}

#[test]
fn every_closed_list_is_given_in_the_words_that_fields_take() {
    let phone = Phone::new();
    let page = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let all = trug_ffi::choices().unwrap();
    for field in ["on", "ground", "growth", "hazards", "measured"] {
        let list = all.iter().find(|list| list.field == field).unwrap();
        assert!(list.words.len() > 1);
        for word in &list.words {
            phone.amend(&page, &[(field, word)]);
        }
    }
}
