//! The first page: outing, basket, light, patches, what waits.

use trug_ffi::{Book, Fix, WaitsFor};

use crate::{HERE, Phone, code, zone};

#[test]
fn the_first_page_of_an_empty_notebook_is_empty() {
    let now = Phone::new().book.now(None).unwrap();
    assert!(now.outing.is_none() && now.finds.is_empty() && now.waiting.is_empty() && now.patches.is_empty());
    assert!(now.light.is_none() && now.basket.carried.is_empty());
    // 1.5 kg a visit (Pickers' code, 1998), of which nothing is used.
    let left: Vec<f64> = now
        .basket
        .limits
        .iter()
        .flat_map(|limit| &limit.numbers)
        .filter(|n| n.name == "left_grams")
        .map(|n| n.value)
        .collect();
    assert_eq!(left, [1500.0]);
}

#[test]
fn a_basket_adds_up_what_the_owner_took_on_this_outing() {
    let phone = Phone::new();
    let book = &phone.book;
    let take = |name: &str, values: &[(&str, &str)]| {
        let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
        let page = book.name_find(page.id, name.into(), "sight".into(), None, None).unwrap();
        phone.amend(&page, values);
    };
    take("velvet-shank", &[("seen", "9"), ("taken", "3"), ("grams", "45")]); // before the outing
    book.start_outing(None, "own".into()).unwrap();
    take("velvet-shank", &[("seen", "9"), ("taken", "3"), ("grams", "400")]);
    take("velvet-shank", &[("seen", "4"), ("taken", "2"), ("grams", "100")]);
    take("jelly-ear", &[("seen", "8"), ("taken", "4"), ("grams", "50"), ("by", "R.")]);
    take("jelly-ear", &[("seen", "8"), ("taken", "4")]);
    let basket = book.now(Some(HERE)).unwrap().basket;
    let lines: Vec<(&str, u32, f64, u32)> = basket
        .carried
        .iter()
        .map(|one| (one.name.as_ref().unwrap().id.as_str(), one.count, one.grams, one.unweighed))
        .collect();
    assert_eq!(lines, [("jelly-ear", 4, 0.0, 1), ("velvet-shank", 5, 500.0, 0)]);
    assert_eq!((basket.count, basket.unweighed), (9, 1));
    let weight = basket.limits.iter().find(|limit| limit.code == "pickers-1998").unwrap();
    assert!(weight.words.contains("not all weighed") && weight.missing == ["grams"], "{}", weight.words);
}

#[test]
fn a_patch_is_of_the_kind_that_it_was_founded_on_if_that_is_settled() {
    let phone = Phone::new();
    let book = &phone.book;
    let found = |settled: bool| {
        let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
        if settled {
            book.name_find(page.id.clone(), "jelly-ear".into(), "sight".into(), None, None).unwrap();
        }
        book.found_patch(page.id, None).unwrap().patch.unwrap().id
    };
    let (settled, open) = (found(true), found(false));
    let near = book.now(Some(HERE)).unwrap().patches;
    let kind = |id: &str| {
        near.iter().find(|patch| patch.id == id).unwrap().kind.as_ref().map(|kind| kind.id.clone())
    };
    assert_eq!((kind(&settled).as_deref(), kind(&open)), (Some("jelly-ear"), None));
}

#[test]
fn patches_are_near_with_the_way_there() {
    let phone = Phone::new();
    let book = &phone.book;
    let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = book.found_patch(page.id, Some("old elder".into())).unwrap();
    let patch = page.patch.unwrap();
    // 0.001 degrees of latitude at 51.5 north are 111.26 m of WGS84's meridian (from memory, and by GeographicLib).
    let south = Fix { latitude: HERE.latitude - 0.001, ..HERE };
    let near = &book.now(Some(south)).unwrap().patches[0];
    assert_eq!((near.id.as_str(), near.name.as_deref()), (patch.id.as_str(), Some("old elder")));
    assert!((near.metres - 111.26).abs() < 0.1 && near.bearing.unwrap().abs() < 1e-6);
    assert_eq!(near.rests_until, None);
    book.look_at_patch(patch.id.clone(), "nothing".into()).unwrap();
    assert!(book.now(Some(south)).unwrap().patches[0].last_look.is_some());
    assert_eq!(code(book.look_at_patch(patch.id.clone(), "plenty".into())), "field");
    let far = Fix { latitude: HERE.latitude + 0.1, ..HERE };
    assert!(book.now(Some(far)).unwrap().patches.is_empty());
    assert!(book.rest_patch(patch.id.clone(), Some(7)).unwrap().is_some());
    assert!(book.now(Some(south)).unwrap().patches[0].rests_until.is_some());
    let page = book.find_page(page.id).unwrap();
    assert!(page.advice.reasons.iter().any(|reason| reason.words.contains("let this patch rest until")));
    assert_eq!(book.rest_patch(patch.id, None).unwrap(), None);
}

#[test]
fn what_is_not_settled_waits_and_a_settled_one_does_not() {
    let phone = Phone::new();
    let book = &phone.book;
    let nameless = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let print = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    phone.amend(&print, &[("seen", "5"), ("specimens", "1")]);
    let settled = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    book.name_find(settled.id, "jelly-ear".into(), "sight".into(), None, None).unwrap();
    let disputed = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    for name in ["velvet-shank", "funeral-bell"] {
        book.name_find(disputed.id.clone(), name.into(), "told".into(), None, None).unwrap();
    }
    let now = book.now(None).unwrap();
    let waiting: Vec<(&str, WaitsFor, u32)> =
        now.waiting.iter().map(|one| (one.find.id.as_str(), one.waits_for, one.nights)).collect();
    assert_eq!(
        waiting,
        [
            (nameless.id.as_str(), WaitsFor::Name, 0),
            (print.id.as_str(), WaitsFor::SporePrint, 0),
            (disputed.id.as_str(), WaitsFor::Settling, 0)
        ]
    );
    assert_eq!(now.finds.len(), 4);
    // Without a fix the light is that of the last find.
    assert!(now.light.is_some());
}

#[test]
fn an_outing_begins_and_ends() {
    let phone = Phone::new();
    let began = phone.book.start_outing(Some("  ".into()), "open".into()).unwrap();
    assert_eq!((began.place.as_ref(), began.may_pick.as_str()), (None, "open"));
    assert_eq!(phone.book.now(None).unwrap().outing, Some(began.clone()));
    let ended = phone.book.end_outing().unwrap();
    assert!(ended.id == began.id && ended.ended.is_some());
    assert_eq!(code(phone.book.end_outing()), "not-found");
    assert_eq!(code(phone.book.start_outing(None, "perhaps".into())), "field");
}

#[test]
fn a_clock_that_stands_still_is_what_the_pages_go_by() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().to_str().unwrap().to_owned();
    // 2026-10-18T09:30:00Z, by `date -d 2026-10-18T09:30:00Z +%s`; in British summer time.
    let book = Book::open_at(folder, zone(), 1_792_315_800_000).unwrap();
    let outing = book.start_outing(None, "own".into()).unwrap();
    assert_eq!(outing.began, Some(book.now(None).unwrap().now));
    let now = book.now(None).unwrap().now;
    assert_eq!((now.millis, now.offset_seconds, now.day.as_str()), (1_792_315_800_000, 3600, "2026-10-18"));
    let folder = dir.path().join("other").to_str().unwrap().to_owned();
    assert_eq!(code(Book::open_at(folder, zone(), i64::MAX)), "field");
}
