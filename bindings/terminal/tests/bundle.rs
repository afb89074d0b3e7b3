//! Bundles by the real program: the reference library for bags agrees, a kill leaves before or after, copies stay copies.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use desk::Desk;
use trug::find::{Count, Find};
use trug::notebook::{NewFind, Notebook};
use trug_tests::{long, run, skipped};

fn finds(desk: &Desk, count: u32) {
    let notebook = Notebook::open(&desk.path("notebook")).unwrap();
    for n in 0..count {
        let find = Find { seen: Count::exactly(n % 50).ok(), ..Find::default() };
        notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    }
}

/// The reference library, bagit 1.9 from `PyPI`, validates what is written, and what it writes (as version 0.97) is read.
#[test]
fn the_reference_library_for_bags_agrees_both_ways() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().parent().unwrap().to_owned();
    let python = root.join("target/outside/exports/bin/python3");
    if !python.is_file() {
        return skipped("tests/exports-venv has not been run");
    }
    let bag = |arguments: &[&str], desk: &Desk| {
        let script = root.join("bindings/terminal/tests/data/bag.py");
        run(Command::new(&python)
            .arg(script)
            .args(arguments)
            .current_dir(desk.path(""))
            .stderr(Stdio::null()))
    };
    let desk = Desk::new();
    finds(&desk, 20);
    desk::picture(&desk.path("one.jpg"));
    desk.say(&["find", "add", "--photo", "one.jpg"]);
    for (name, whom) in [("me", &["--for", "me"][..]), ("someone", &["--for", "someone", "--photos"])] {
        desk.say(&[&["bundle", "write", name], whom].concat());
        let said = bag(&["validate", name], &desk);
        assert!(said.starts_with("1.0 2 "), "{name}: {said}");
    }
    for (name, algorithms) in [("plain", &["sha256"][..]), ("both", &["sha256", "sha512"])] {
        let said = bag(&[&["remake", "me", name], algorithms].concat(), &desk);
        assert_eq!(said.trim(), "0.97");
        let other = desk.path(&format!("other-{name}"));
        let read = ["--notebook", other.to_str().unwrap(), "bundle", "read", name];
        let looked = desk.json(&[&read[..], &["--dry-run"]].concat());
        let read = desk.json(&read);
        assert_eq!(looked, read, "what was foretold came");
        assert_eq!((&read["new"], &read["new_photos"]), (&22.into(), &1.into()), "{name}: {read}");
    }
    let only_md5 = bag(&["remake", "me", "md5", "md5"], &desk);
    assert_eq!(only_md5.trim(), "0.97");
    assert_eq!(desk.refused(&["bundle", "read", "md5"]).1, "bundle-name");
}

/// A reader that is killed leaves the notebook as before or as after; a writer leaves a whole bundle or none.
#[test]
fn killed_at_any_instant_it_is_before_or_after() {
    let desk = Desk::new();
    finds(&desk, 400);
    let times: u32 = if long() { 200 } else { 24 };
    let begun = Instant::now();
    desk.say(&["bundle", "write", "whole", "--for", "me"]);
    let writing = begun.elapsed();
    let whole = fs::read(desk.path("whole")).unwrap();
    let (mut before, mut after) = (0, 0);
    for round in 0..times {
        let mut child = desk
            .command()
            .args(["bundle", "write", "out", "--for", "me"])
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(writing * (round + 1) / times);
        let _ = child.kill();
        child.wait().unwrap();
        match fs::read(desk.path("out")) {
            Ok(found) => {
                assert!(found == whole, "round {round}");
                fs::remove_file(desk.path("out")).unwrap();
            }
            Err(_) => before += 1,
        }
    }
    assert!(before > 0, "no writer was killed in time");
    before = 0;
    let other = |round: u32| desk.path(&format!("other-{round}")).to_str().unwrap().to_owned();
    let begun = Instant::now();
    desk.say(&["--notebook", &other(times), "bundle", "read", "whole"]);
    let reading = begun.elapsed();
    for round in 0..times {
        let folder = other(round);
        let mut child = desk
            .command()
            .args(["--notebook", &folder, "bundle", "read", "whole"])
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(reading * (round + 1) / times);
        let _ = child.kill();
        child.wait().unwrap();
        let there = Notebook::open(Path::new(&folder)).unwrap();
        let report = there.check(&trug::progress::Unwatched).unwrap();
        assert!(report.ok, "round {round}: {report:?}");
        match report.finds {
            0 => before += 1,
            400 => after += 1,
            between => panic!("round {round}: {between} of 400"),
        }
        drop(there);
        fs::remove_dir_all(&folder).unwrap();
    }
    assert!(before + after == times && before > 0, "no reader was killed in time");
}

#[test]
fn copies_come_as_copies_and_never_touch_the_original() {
    let desk = Desk::new();
    desk::picture(&desk.path("one.jpg"));
    let id = desk.json(&[
        "find",
        "add",
        "--photo",
        "whole:one.jpg",
        "--place",
        "SU 38710 14792",
        "--at",
        "2026-10-18 14:05",
        "--note",
        "between us",
    ]);
    let id = id["id"].as_str().unwrap();
    let write =
        |to: &str, more: &[&str]| desk.json(&[&["bundle", "write", to, "--for", "someone"], more].concat());
    let sent = write("for-wren", &["--recipient", "Wren", "--name", "A. Invented", "--photos"]);
    assert_eq!((&sent["changes"], &sent["photos"], &sent["place"]), (&2.into(), &1.into(), &"10km".into()));
    // Nothing links it to the notebook, which has not even drawn a key for it.
    assert!(!desk.path("notebook/identity.secret").exists());
    assert_eq!(desk.json(&["bundle", "check", "for-wren"])["signed"], false);
    // Home again: beside the original, which stays as it is.
    let before = desk.say(&["find", "show", id]);
    assert_eq!(desk.json(&["bundle", "read", "for-wren"])["new"], 2);
    assert_eq!(desk.json(&["bundle", "read", "for-wren"])["new"], 0);
    assert_eq!(desk.say(&["find", "show", id]), before);
    assert_eq!(desk.json(&["find", "list"]).as_array().unwrap().len(), 1);
    let copies = desk.json(&["bundle", "copies"]);
    let copy = &copies["copies"][0];
    assert_eq!(
        (&copy["recorder"], &copy["place"]["square"], &copy["note"]),
        (&"A. Invented".into(), &"SU31".into(), &serde_json::Value::Null)
    );
    assert_eq!(copy["photos"].as_array().unwrap().len(), 1);
    assert!(desk.json(&["notebook", "check"])["ok"].as_bool().unwrap());
    // For the same person the same bytes, for another no id in common.
    write("again", &["--recipient", "Wren", "--name", "A. Invented", "--photos"]);
    assert!(fs::read(desk.path("again")).unwrap() == fs::read(desk.path("for-wren")).unwrap());
    let words = desk.say(&["bundle", "read", "for-wren", "--dry-run"]);
    assert_eq!(
        words,
        "Copies from A. Invented, places as 10 km squares. 2 changes, 0 would be new; 1 photo, 0 would be new.\n"
    );
}
