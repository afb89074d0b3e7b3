//! Searching at a desk: what was noted is found by its words, however they are spelt.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::Desk;
use serde_json::{Value, json};

/// Invented woods, two finds and a patch.
fn winter() -> (Desk, String) {
    let desk = Desk::new();
    desk.say(&["outing", "start", "Harrow Shaw", "--at", "2026-12-31 09:00"]);
    let place = ["--place", "SU 38710 14792", "--at", "2026-12-31 11:00"];
    let note = ["--note", "behind the second gate, under ivy", "--host", "elder", "--on", "standing-trunk"];
    let find = desk.json(&[&["find", "add"], &place[..], &note[..]].concat());
    let id = find["id"].as_str().unwrap().to_owned();
    desk.say(&["find", "name", &id, "velvet-shank", "--how", "sight"]);
    desk.say(&["patch", "add", "crooked elder", "--find", &id]);
    desk.say(&["outing", "end", "--at", "2026-12-31 13:00"]);
    desk.say(&["find", "add", "--at", "2026-11-02 10:00", "--note", "chantrelle, a handful"]);
    (desk, id)
}

fn finds(found: &Value) -> Vec<&str> {
    found["finds"].as_array().unwrap().iter().map(|one| one["find"]["id"].as_str().unwrap()).collect()
}

#[test]
fn a_find_is_found_by_whatever_is_remembered_of_it() {
    let (desk, id) = winter();
    for words in [
        &["velvet", "shank"][..],
        &["FLAMMULINA velutipes"],
        &["velvit", "shnak"],
        &["harrow"],
        &["shaw", "gate"],
        &["31 december 2026"],
        &["2026-12-31"],
        &["crooked"],
        &["standing trunk", "eldr"],
    ] {
        let found = desk.json(&[&["search"], words].concat());
        assert_eq!(finds(&found), [id.as_str()], "{words:?}");
        assert_eq!(found["finds"][0]["outing"], json!("Harrow Shaw"));
    }
    let found = desk.json(&["search", "gate"]);
    assert_eq!(found["finds"][0]["passage"], json!("behind the second gate, under ivy"));
    assert_eq!(
        (&found["finds"][0]["name"], &found["finds"][0]["nearly"]),
        (&json!("velvet-shank"), &json!(false))
    );
}

#[test]
fn words_of_the_note_are_found_as_they_are_meant() {
    let (desk, _) = winter();
    let found = desk.json(&["search", "chanterelle"]);
    assert_eq!((found["finds"].as_array().unwrap().len(), &found["finds"][0]["nearly"]), (1, &json!(true)));
    assert_eq!(found["kinds"][0]["id"], json!("chanterelle"));
    let said = desk.say(&["search", "chanterelle"]);
    assert!(
        said.starts_with("Finds\n") && said.contains("(nearly so)") && said.contains("\nKinds\n"),
        "{said}"
    );
}

#[test]
fn patches_come_nearest_first_and_more_is_said() {
    let (desk, _) = winter();
    desk.say(&["patch", "add", "far elder", "--place", "SU 40000 15000"]);
    let found = desk.json(&["search", "elder", "--from", "SU 39990 15000"]);
    let names: Vec<&str> = found["patches"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["patch"]["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["far elder", "crooked elder"]);
    assert!(found["patches"][0]["distance_m"].as_f64().unwrap() < 11.0);
    let few = desk.json(&["search", "2026", "--most", "1"]);
    assert_eq!((few["finds"].as_array().unwrap().len(), &few["more_finds"]), (1, &json!(1)));
    assert!(desk.say(&["search", "2026", "--most", "1"]).contains("  and 1 more\n"));
}

#[test]
fn nothing_is_found_calmly_and_what_may_be_meant_is_offered() {
    let (desk, _) = winter();
    assert_eq!(desk.say(&["search", "zzzzqqqq"]), "Nothing found.\n");
    assert_eq!(desk.json(&["search", "hrw", "shww"])["instead"], Value::Null);
    assert_eq!(desk.json(&["search", "shankk", "harow"])["instead"], Value::Null, "found as it is");
    assert_eq!(desk.json(&["search", "hharroww"])["instead"], json!("harrow"));
    for hostile in ["\"", "'; DROP TABLE wording; --", "* OR NEAR(a b)", "{find} : x", "🍄", "אלון"] {
        assert_eq!(finds(&desk.json(&["search", "--", hostile])), Vec::<&str>::new(), "{hostile}");
    }
    assert!(desk.json(&["notebook", "check"])["ok"].as_bool().unwrap());
}
