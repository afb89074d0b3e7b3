//! *Someone is ill*: help without a notebook, meals, the sheet for the doctor.

use trug_ffi::{At, EaterNoted, MealNoted, help_page};

use crate::{HERE, Phone, code};

/// An invented supper: half past seven in the evening of 6 November 2026, in London.
fn supper() -> MealNoted {
    MealNoted {
        at: Some(At { millis: 1_793_993_400_000, offset_seconds: 0 }),
        what: Some("Fried, on toast".into()),
        amount: Some("two handfuls".into()),
        prepared: Some("cooked".into()),
        alcohol: Some("with-it".into()),
        eaters: vec![eater("Ada", "unknown"), eater("R.", "ill")],
        ..MealNoted::default()
    }
}

fn eater(name: &str, feels: &str) -> EaterNoted {
    EaterNoted { name: name.into(), child: false, feels: feels.into(), first_sign: None, signs: None }
}

#[test]
fn help_needs_no_notebook_and_says_what_it_is_not() {
    let page = help_page(Some("gb-sct".into())).unwrap();
    assert_eq!(page.head, "Get help now");
    assert_eq!(page.lead, "Do not wait for symptoms. Feeling better is not recovery.");
    assert!(page.unreviewed.unwrap().starts_with("No clinician has reviewed this page yet"));
    let here = page.here.unwrap();
    let numbers: Vec<(&str, &str, bool)> = here
        .numbers
        .iter()
        .map(|line| (line.kind.as_str(), line.number.as_str(), line.unchecked.is_some()))
        .collect();
    assert_eq!(numbers, [("emergency", "999", true), ("advice", "111", false)]);
    let sections: Vec<&str> = page.sections.iter().map(|section| section.id.as_str()).collect();
    assert_eq!(sections, ["now", "not", "why", "keep", "asked"]);
    for country in &page.countries {
        for line in &country.numbers {
            let dated = |day: &String| day.len() == 10 && day.starts_with("20");
            let is_dated = line.sources.iter().all(|source| source.seen.as_ref().is_some_and(dated));
            assert!(!line.sources.is_empty() && (is_dated || line.unchecked.is_some()), "{}", line.number);
        }
    }
    assert!(page.sections.iter().flat_map(|section| &section.lines).all(|line| !line.sources.is_empty()));
    for nowhere in [None, Some("XX".to_owned()), Some(String::new())] {
        let page = help_page(nowhere).unwrap();
        assert!(page.here.is_none() && !page.no_country.is_empty());
    }
}

#[test]
fn help_is_there_when_the_notebook_will_not_open() {
    let phone = Phone::new();
    let folder = phone.dir.path().join("notebook").to_str().unwrap().to_owned();
    assert_eq!(code(trug_ffi::Book::open(folder, crate::zone())), "busy");
    assert!(help_page(Some("GB".into())).unwrap().here.is_some());
    phone.book.pause().unwrap();
    assert_eq!(code(phone.book.ill()), "paused");
    assert!(help_page(None).is_ok());
}

#[test]
fn an_empty_notebook_still_makes_a_sheet() {
    let phone = Phone::new();
    let page = phone.book.ill().unwrap();
    assert!(page.meals.is_empty() && page.finds.is_empty());
    let sheet = phone.book.doctor_sheet(None).unwrap();
    assert_eq!(sheet.passages[0].title, "No meal is noted");
}

#[test]
fn what_may_have_been_eaten_is_offered_and_what_was_left_is_not() {
    let phone = Phone::new();
    let begin = |name: &str| {
        let page = phone.book.begin_find(Some(phone.photo(name)), "whole".into(), Some(HERE)).unwrap();
        phone.book.name_find(page.id, "velvet-shank".into(), "sight".into(), None, None).unwrap()
    };
    let taken = begin("a.png");
    phone.amend(&taken, &[("seen", "9"), ("taken", "3")]);
    let left = begin("b.png");
    phone.amend(&left, &[("seen", "9"), ("taken", "0")]);
    let unknown = begin("c.png");
    let finds = phone.book.ill().unwrap().finds;
    let ids: Vec<&str> = finds.iter().map(|find| find.id.as_str()).collect();
    assert_eq!(ids, [unknown.id.as_str(), taken.id.as_str()]);
    assert!(finds.iter().all(|find| find.thumbnail.is_some() && find.at.is_some()));
    assert_eq!(finds[1].name.as_ref().unwrap().id, "velvet-shank");
}

#[test]
fn the_sheet_tells_what_it_may_have_been_and_when_signs_begin_with_photos_by_path() {
    let phone = Phone::new();
    let book = &phone.book;
    let find = book.begin_find(Some(phone.photo("a.png")), "whole".into(), Some(HERE)).unwrap();
    book.name_find(find.id.clone(), "velvet-shank".into(), "sight".into(), None, None).unwrap();
    let meal = book.note_meal(MealNoted { finds: vec![find.id], ..supper() }).unwrap();
    assert_eq!(meal.at.as_ref().unwrap().day, "2026-11-06");
    assert_eq!(meal.finds.len(), 1);
    let sheet = book.doctor_sheet(Some(meal.id)).unwrap();
    let titles: Vec<&str> = sheet.passages.iter().map(|passage| passage.title.as_str()).collect();
    assert!(titles[0].starts_with("Eaten Friday 6 November 2026, 19:30"), "{titles:?}");
    assert_eq!(
        titles[1..],
        ["Who ate", "Taken for: Velvet shank (Flammulina velutipes)", "About this sheet"]
    );
    assert_eq!(sheet.passages[1].lines, ["R.: ill", "Ada: not asked"]);
    let taken_for = &sheet.passages[2];
    let bell = taken_for.lines.iter().find(|line| line.contains("Galerina marginata")).unwrap();
    // ACT Health; Atlas of Emergency Medicine, 5th edition, 2021: signs of amatoxins begin 6 to 24 hours after the meal or later.
    assert!(bell.contains("6 to 24 hours"), "{bell}");
    assert_eq!(taken_for.photos.len(), 1);
    assert!(std::path::Path::new(&taken_for.photos[0]).is_file());
    let last = &sheet.passages[3].lines;
    assert!(last.iter().any(|line| line.starts_with("No clinician has reviewed")), "{last:?}");
    assert!(!sheet.passages.iter().flat_map(|passage| &passage.lines).any(|line| line.contains("51.5")));
}

#[test]
fn a_meal_is_amended_as_a_whole_and_taken_back_step_by_step() {
    let phone = Phone::new();
    let book = &phone.book;
    let first = book.note_meal(supper()).unwrap();
    let next = MealNoted {
        amount: None,
        alcohol: Some("none".into()),
        eaters: vec![eater("R.", "ill"), eater("J. M.", "well")],
        ..supper()
    };
    let meal = book.amend_meal(first.id.clone(), next.clone()).unwrap();
    assert_eq!((meal.amount.as_ref(), meal.alcohol.as_deref()), (None, Some("none")));
    let names: Vec<&str> = meal.eaters.iter().map(|eater| eater.name.as_str()).collect();
    assert_eq!(names, ["R.", "J. M."]);
    assert_eq!(book.amend_meal(first.id.clone(), next).unwrap(), meal, "the same again is no change");
    assert_eq!(book.undo_meal(first.id.clone()).unwrap(), Some(first.clone()));
    assert_eq!(book.undo_meal(first.id.clone()).unwrap(), None);
    assert!(book.ill().unwrap().meals.is_empty());
    assert_eq!(code(book.undo_meal(first.id)), "nothing-to-undo");
}

#[test]
fn what_cannot_be_a_meal_is_refused() {
    let phone = Phone::new();
    let book = &phone.book;
    let wrong = [
        MealNoted::default(),
        MealNoted { prepared: Some("flambéed".into()), ..supper() },
        MealNoted { eaters: vec![eater("Ada", "fine")], ..supper() },
        MealNoted { eaters: vec![eater("Ada", "well"), eater(" ada ", "ill")], ..supper() },
        MealNoted { at: Some(At { millis: i64::MAX, offset_seconds: 0 }), ..supper() },
    ];
    for meal in wrong {
        assert_eq!(code(book.note_meal(meal)), "field");
    }
    let lost = MealNoted { finds: vec!["0199f3a0-0000-7000-8000-000000000000".into()], ..supper() };
    assert_eq!(code(book.note_meal(lost)), "not-found");
    assert_eq!(code(book.note_meal(MealNoted { finds: vec!["no id".into()], ..supper() })), "not-an-id");
    assert!(book.ill().unwrap().meals.is_empty());
}
