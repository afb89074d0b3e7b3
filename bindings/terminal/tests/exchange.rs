//! Devices of one owner at a desk: keys shown, devices paired, bundles sealed, a folder exchanged over.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::{Desk, picture};
use serde_json::Value;

fn key(desk: &Desk) -> String {
    desk.json(&["bundle", "key"])["key"].as_str().unwrap().to_owned()
}

/// Two desks that are paired, and a folder that both see.
fn paired() -> (Desk, Desk, String) {
    let (one, other) = (Desk::new(), Desk::new());
    one.say(&["device", "pair", &key(&other), "Tablet"]);
    other.say(&["device", "pair", &key(&one), "Phone"]);
    let shared = one.path("shared");
    std::fs::create_dir(&shared).unwrap();
    (one, other, shared.to_str().unwrap().to_owned())
}

#[test]
fn keys_are_shown_and_devices_paired_listed_and_unpaired() {
    let (one, other, _) = paired();
    let own = other.json(&["bundle", "key"]);
    assert!(own["age"].as_str().unwrap().starts_with("age1"));
    let list = one.json(&["device", "list"]);
    assert_eq!(
        (&list[0]["name"], &list[0]["key"], &list[0]["fingerprint"]),
        (&"Tablet".into(), &own["key"], &own["fingerprint"])
    );
    let said = other.say(&["bundle", "key"]);
    assert!(said.contains(own["fingerprint"].as_str().unwrap()), "{said}");
    assert_eq!(one.json(&["device", "unpair", "tablet"])["name"], "Tablet");
    assert_eq!(one.json(&["device", "list"]), Value::Array(Vec::new()));
    let age = own["age"].as_str().unwrap();
    assert_eq!(one.refused(&["device", "pair", age, "x"]).0, 2, "it can be sealed to, and signs nothing");
    assert_eq!(one.refused(&["device", "pair", &key(&one), "x"]).1, "field");
}

#[test]
fn a_folder_carries_finds_and_photos_both_ways_and_again_nothing() {
    let (one, other, shared) = paired();
    picture(&one.path("elder.jpg"));
    one.say(&["find", "add", "--photo", one.path("elder.jpg").to_str().unwrap()]);
    let dry = one.json(&["exchange", &shared, "--dry-run"]);
    assert_eq!(dry["written"], 2);
    assert_eq!(std::fs::read_dir(&shared).unwrap().count(), 0);
    assert_eq!(one.json(&["exchange", &shared])["written"], 2);
    let came = other.json(&["exchange", &shared]);
    assert_eq!(
        (&came["read"], &came["new_photos"], &came["unread"]),
        (&2.into(), &1.into(), &Value::Array(Vec::new()))
    );
    assert_eq!(other.json(&["find", "list"]).as_array().unwrap().len(), 1);
    one.say(&["exchange", &shared]);
    for desk in [&one, &other] {
        let again = desk.json(&["exchange", &shared]);
        for count in ["read", "new", "new_photos", "written", "removed", "left_out"] {
            assert_eq!(again[count], 0, "{count}");
        }
    }
    std::fs::write(one.path("shared/half.age"), "age-encryption.org/v1\n").unwrap();
    let said = other.say(&["exchange", &shared]);
    assert!(said.contains("Not read: half.age: "), "{said}");
    assert_eq!(Desk::new().refused(&["exchange", &shared]).1, "field", "nobody to exchange with");
}

#[test]
fn a_sealed_bundle_opens_for_whom_it_was_sealed() {
    let (one, other, _) = paired();
    one.say(&["find", "add"]);
    let file = one.path("sealed.age");
    let file = file.to_str().unwrap();
    one.say(&["bundle", "write", file, "--for", "me", "--to", "tablet"]);
    assert_eq!(other.json(&["bundle", "check", file])["signed"], true);
    let read = other.json(&["bundle", "read", file]);
    assert_eq!((&read["paired"], other.json(&["find", "list"]).as_array().unwrap().len()), (&true.into(), 1));
    assert_eq!(Desk::new().refused(&["bundle", "read", file]).1, "not-for-us");
    assert_eq!(one.refused(&["bundle", "write", "x", "--for", "me", "--to", "nobody"]).1, "not-a-key");
}

#[test]
fn a_bundle_sealed_with_a_passphrase_opens_with_it() {
    let (one, other) = (Desk::new(), Desk::new());
    one.say(&["find", "add"]);
    let (file, words, wrong) = (one.path("sealed.age"), one.path("words"), one.path("wrong"));
    std::fs::write(&words, "three dry words\nnot this\n").unwrap();
    std::fs::write(&wrong, "three wet words\n").unwrap();
    let [file, words, wrong] = [&file, &words, &wrong].map(|path| path.to_str().unwrap());
    one.say(&["bundle", "write", file, "--for", "me", "--passphrase-file", words]);
    assert_eq!(other.refused(&["bundle", "read", file]).1, "needs-passphrase");
    assert_eq!(other.refused(&["bundle", "read", file, "--passphrase-file", wrong]).1, "wrong-passphrase");
    let read = other.json(&["bundle", "read", file, "--passphrase-file", words]);
    assert_eq!((&read["paired"], &read["audience"]), (&false.into(), &"me".into()));
    assert_eq!(other.json(&["find", "list"]).as_array().unwrap().len(), 1);
    assert_eq!(other.json(&["bundle", "check", file, "--passphrase-file", words])["audience"], "me");
}
