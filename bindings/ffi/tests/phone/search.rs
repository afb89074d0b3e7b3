//! Search, and the page of a kind.

use trug_ffi::{Danger, FieldValue, Fix};

use crate::{HERE, Phone, code};

/// A named find at a patch, on an outing to a wood that is invented.
fn winter() -> (Phone, String) {
    let phone = Phone::new();
    phone.book.start_outing(Some("Harrow Shaw".into()), "own".into()).unwrap();
    let page = phone.book.begin_find(Some(phone.photo("whole.jpg")), "whole".into(), Some(HERE)).unwrap();
    let page = phone.amend(&page, &[("host", "elder"), ("seen", "7"), ("note", "behind the second gate")]);
    phone.book.name_find(page.id.clone(), "velvet-shank".into(), "sight".into(), None, None).unwrap();
    phone.book.found_patch(page.id.clone(), Some("crooked elder".into())).unwrap();
    (phone, page.id)
}

#[test]
fn a_page_of_search_has_all_that_its_lines_show() {
    let (phone, id) = winter();
    let south = Fix { latitude: HERE.latitude - 0.001, ..HERE };
    let page = phone.book.search("GATE velvit".into(), Some(south), 20).unwrap();
    assert_eq!((page.asked.as_str(), page.more_finds, &page.instead), ("GATE velvit", 0, &None));
    let [found] = page.finds.as_slice() else { panic!("one find") };
    assert_eq!((found.find.id.as_str(), found.nearly), (id.as_str(), true));
    assert_eq!(found.outing.as_deref(), Some("Harrow Shaw"));
    assert_eq!(found.patch.as_deref(), Some("crooked elder"));
    assert_eq!(found.host.as_deref(), Some("elder"));
    assert_eq!(found.passage.as_deref(), Some("behind the second gate"));
    assert!(found.find.thumbnail.is_some() && found.find.seen_least == Some(7));
    let page = phone.book.search("crooked".into(), Some(south), 20).unwrap();
    let [patch] = page.patches.as_slice() else { panic!("one patch") };
    assert_eq!(patch.name.as_deref(), Some("crooked elder"));
    assert_eq!(patch.kind.as_ref().unwrap().id, "velvet-shank");
    assert_eq!((patch.host.as_deref(), patch.nearly), (Some("elder"), false));
    // 0.001 degrees of latitude at 51.5 north are 111.26 m of WGS84's meridian (from memory, and by GeographicLib).
    assert!((patch.metres.unwrap() - 111.26).abs() < 0.1 && patch.bearing.unwrap().abs() < 1e-6);
    assert_eq!(phone.book.search("crooked".into(), None, 20).unwrap().patches[0].metres, None);
    let page = phone.book.search("amanita".into(), None, 20).unwrap();
    assert!(page.kinds.len() == 8 && page.more_kinds > 0);
    assert!(page.kinds.iter().all(|kind| kind.danger != Danger::NotKnown));
}

#[test]
fn as_many_finds_as_the_page_has_room_for() {
    let (phone, _) = winter();
    for _ in 0..3 {
        let page = phone.book.begin_find(None, "whole".into(), None).unwrap();
        let note = FieldValue { field: "note".into(), value: Some("a gate".into()) };
        phone.book.amend_find(page.id, vec![note]).unwrap();
    }
    let page = phone.book.search("gate".into(), None, 3).unwrap();
    assert_eq!((page.finds.len(), page.more_finds), (3, 1));
}

#[test]
fn nothing_found_offers_what_may_be_meant() {
    let (phone, _) = winter();
    let page = phone.book.search("hharroww".into(), None, 20).unwrap();
    assert!(page.finds.is_empty() && page.patches.is_empty() && page.kinds.is_empty());
    assert_eq!(page.instead.as_deref(), Some("harrow"));
    assert_eq!(phone.book.search("🍄 \" *".into(), None, 20).unwrap().instead, None);
    phone.book.pause().unwrap();
    assert_eq!(code(phone.book.search("gate".into(), None, 20)), "paused");
}

#[test]
fn a_kind_shows_its_danger_its_look_alikes_and_what_is_on_record() {
    let (phone, id) = winter();
    let page = phone.book.kind_page("Flammulina velutipes".into(), Some(HERE), 20).unwrap();
    assert_eq!((page.name.id.as_str(), page.name.danger), ("velvet-shank", Danger::Gathered));
    assert!(
        page.also.contains(&"Winter mushroom".into()) && page.once.contains(&"Collybia velutipes".into())
    );
    assert!(!page.cautions.is_empty() && !page.shows.is_empty());
    let first = &page.lookalikes[0];
    assert_eq!((first.name.id.as_str(), first.name.danger), ("funeral-bell", Danger::Deadly));
    assert_eq!((first.first.as_str(), first.against.as_str()), ("Velvet shank", "funeral bell"));
    assert_eq!((page.finds[0].find.id.as_str(), page.finds[0].nearly), (id.as_str(), false));
    assert_eq!(page.patches[0].name.as_deref(), Some("crooked elder"));
    // Where only the other's file tells them apart, what it says still speaks of the other first.
    let page = phone.book.kind_page("destroying-angel".into(), None, 20).unwrap();
    let other = page.lookalikes.iter().find(|other| other.name.id == "stubble-rosegill").unwrap();
    assert_eq!((other.first.as_str(), other.against.as_str()), ("Stubble rosegill", "destroying angel"));
    assert!(other.apart.starts_with("A pink print"), "{}", other.apart);
    assert!(page.finds.is_empty() && page.patches.is_empty());
}

#[test]
fn a_group_has_its_members_and_their_look_alikes_and_a_strange_name_its_finds() {
    let (phone, id) = winter();
    let page = phone.book.kind_page("winter-chanterelles".into(), None, 20).unwrap();
    assert!(page.kin.len() == 2 && !page.lookalikes.is_empty() && page.shows.is_empty());
    let own: Vec<&str> = page.kin.iter().map(|kin| kin.id.as_str()).collect();
    assert!(page.lookalikes.iter().all(|other| !own.contains(&other.name.id.as_str())));
    phone.book.name_find(id.clone(), "Something brown".into(), "told".into(), None, None).unwrap();
    let page = phone.book.kind_page("Something brown".into(), None, 20).unwrap();
    assert_eq!((page.name.danger, page.finds[0].find.id.as_str()), (Danger::NotKnown, id.as_str()));
    assert!(page.lookalikes.is_empty() && page.cautions.is_empty());
}
