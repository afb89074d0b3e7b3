//! Odd input: what a person mistypes, and what a script does.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::process::Stdio;

use desk::{Desk, picture};

#[test]
fn json_may_stand_anywhere() {
    let desk = Desk::new();
    let mut answers = Vec::new();
    for arguments in [
        &["--json", "place", "SU31"][..],
        &["place", "--json", "SU31"],
        &["place", "SU31", "--json"],
        &["place", "SU", "--json", "31"],
    ] {
        answers.push(desk.say(arguments));
    }
    assert!(answers[0].starts_with('{') && answers.iter().all(|answer| *answer == answers[0]), "{answers:?}");
    assert_eq!(desk.say(&["find", "--json", "list"]), "[]\n");
}

#[test]
fn a_find_may_have_nothing_at_all_or_a_hundred_photos() {
    let desk = Desk::new();
    let bare = desk.json(&["find", "add"]);
    assert!(bare["at"].is_string() && bare["position"].is_null() && bare["photos"] == serde_json::json!([]));
    let mut arguments = vec!["find".to_owned(), "add".to_owned()];
    for n in 0..100_u8 {
        let name = format!("{n}.png");
        image::RgbImage::from_pixel(4, 4, image::Rgb([n, 0, 0])).save(desk.path(&name)).unwrap();
        arguments.extend(["--photo".to_owned(), name]);
    }
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    assert_eq!(desk.json(&arguments)["photos"].as_array().unwrap().len(), 100);
    assert_eq!(desk.json(&["notebook", "check"])["photos"], 100);
}

#[test]
fn a_word_that_is_no_role_is_answered_with_the_roles_unless_it_is_a_file() {
    let desk = Desk::new();
    picture(&desk.path("a.jpg"));
    let (exit, code, message) = desk.refused(&["find", "add", "--photo", "gills:a.jpg"]);
    assert_eq!((exit, code.as_str()), (1, "photo-role"));
    assert!(message.contains("underside, stem-base"), "{message}");
    std::fs::copy(desk.path("a.jpg"), desk.path("gills:a.jpg")).unwrap();
    assert_eq!(desk.json(&["find", "add", "--photo", "gills:a.jpg"])["photos"][0]["role"], "whole");
}

#[test]
fn stages_and_how_sure_the_tree_is_are_kept() {
    let desk = Desk::new();
    let added = desk.json(&["find", "add", "--seen", "8", "--stages", "button=2,prime=5", "--host", "oak!"]);
    let shown = desk.json(&["find", "show", added["id"].as_str().unwrap()]);
    assert_eq!(shown["stages"], serde_json::json!({"button": 2, "prime": 5}));
    assert_eq!(shown["host"], serde_json::json!({"tree": "oak", "sure": "sure"}));
    for wrong in ["button", "ripe=3", "button=x", "button=-1"] {
        assert_eq!(desk.refused(&["find", "add", "--stages", wrong]).0, 2, "{wrong}");
    }
    assert_eq!(desk.refused(&["find", "add", "--seen", "3", "--stages", "past=4"]).1, "field");
}

#[test]
fn every_id_in_a_list_finds_its_find() {
    let desk = Desk::new();
    for _ in 0..3 {
        desk.say(&["find", "add"]);
    }
    let list = desk.say(&["find", "list"]);
    assert_eq!(list.lines().count(), 3);
    for line in list.lines() {
        let id = line.split_whitespace().next().unwrap();
        assert!(id.len() < 36);
        desk.say(&["find", "show", id]);
    }
    // The first figures are those of the minute: all three begin alike.
    let first = &list[..4];
    assert_eq!(desk.refused(&["find", "show", first]).1, "ambiguous");
}

#[test]
fn times_narrow_a_list() {
    let desk = Desk::new();
    for at in ["2026-10-18 14:05", "2026-10-19 09:00", "2026-11-02T08:00:00+00:00"] {
        desk.say(&["find", "add", "--at", at]);
    }
    let count =
        |arguments: &[&str]| desk.json(&[&["find", "list"], arguments].concat()).as_array().unwrap().len();
    assert_eq!(count(&["--since", "2026-10-19"]), 2);
    assert_eq!(count(&["--until", "2026-10-19"]), 1);
    assert_eq!(count(&["--since", "2026-10-18 14:06", "--until", "2026-11-02"]), 1);
}

#[test]
fn a_reader_that_goes_away_has_read_enough() {
    let desk = Desk::new();
    let mut child = desk
        .command()
        .args(["pack", "list", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
}
