//! Signs of age and condition at a terminal, and the JSON that JSON.md promises.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::Desk;
use serde_json::{Value, json};

fn ids(signs: &Value) -> Vec<&str> {
    signs.as_array().unwrap().iter().map(|sign| sign["id"].as_str().unwrap()).collect()
}

#[test]
fn signs_are_listed_for_all_for_a_form_and_for_a_taxon() {
    let desk = Desk::new();
    let all = desk.json(&["condition", "signs"]);
    let gilled = desk.json(&["condition", "signs", "gilled"]);
    let inkcap = desk.json(&["condition", "signs", "Shaggy inkcap"]);
    assert!(ids(&gilled).contains(&"cap-open") && !ids(&gilled).contains(&"inky"));
    assert!(ids(&inkcap).contains(&"inky") && ids(&all).contains(&"inky"));
    assert!(ids(&all).len() > ids(&inkcap).len() && ids(&inkcap).len() > ids(&gilled).len());
    let open = gilled.as_array().unwrap().iter().find(|sign| sign["id"] == "cap-open").unwrap();
    let wanted = json!({"id": "cap-open", "text": "cap opened out", "stage": "prime", "from": "prime", "to": "past",
        "effort": "glance", "note": null, "source": ["practice"]});
    assert_eq!(open, &wanted);
    let told = desk.say(&["condition", "signs", "velvet-shank"]);
    assert!(told.starts_with("Velvet shank (Flammulina velutipes).\nTaken from 20 mm across."), "{told}");
}

#[test]
fn a_judgement_says_why_and_what_would_change_it() {
    let desk = Desk::new();
    let judge =
        |arguments: &[&str]| desk.json(&[&["condition", "judge", "velvet-shank"], arguments].concat());
    let small = judge(&["--width", "14", "--sign", "cap-open"]);
    assert_eq!(small["text"], "Still too small: 14 mm across; this species is taken from 20 mm.");
    assert_eq!((&small["stage"], &small["decided_by"]), (&json!("young"), &json!(["width"])));
    assert_eq!(small["size"], json!({"verdict": "too small", "measure": "width", "taken_from": 20.0}));
    let open = judge(&["--width", "35", "--sign", "cap-open"]);
    assert_eq!((&open["stage"], &open["decided_by"]), (&json!("prime"), &json!(["cap-open"])));
    assert!(open["would_change"].as_array().unwrap().contains(&json!({"by": "browned", "stage": "past"})));
    let odd = judge(&["--sign", "cap-closed", "--sign", "edge-split"]);
    assert_eq!(odd["contradictions"], json!([["cap-closed", "edge-split"]]));
    assert_eq!(odd["stage"], "past");
    let mixed = judge(&["--stages", "button=2,prime=4,past=1"]);
    assert_eq!((&mixed["stage"], &mixed["mixed"]), (&Value::Null, &json!(true)));
    assert_eq!(mixed["parts"], json!({"button": 2, "prime": 4, "past": 1}));
    let height = desk.json(&["condition", "judge", "morel", "--height", "30", "--sign", "pits-open"]);
    assert_eq!(height["size"], json!({"verdict": "too small", "measure": "height", "taken_from": 40.0}));
}

#[test]
fn what_cannot_be_judged_is_refused_with_a_way_out() {
    let desk = Desk::new();
    let refused = |arguments: &[&str]| desk.refused(&[&["condition"], arguments].concat());
    let (exit, code, message) = refused(&["judge", "velvet-shank", "--sign", "cap-opn"]);
    assert_eq!((exit, code.as_str()), (1, "unknown-sign"));
    assert!(message.ends_with("did you mean `cap-open`?"), "{message}");
    let (_, code, message) = refused(&["judge", "velvet-shank", "--sign", "pores-green"]);
    assert_eq!(code, "sign-of-another-form");
    assert!(message.contains("the form pored"), "{message}");
    assert_eq!(refused(&["judge", "no-such-fungus"]).1, "not-found");
    let (_, code, message) = refused(&["signs", "no-such-form"]);
    assert_eq!(code, "not-found");
    assert!(message.contains("gilled, pored"), "{message}");
    assert_eq!(refused(&["judge", "velvet-shank", "--width", "35-12"]).0, 2);
}

#[test]
fn a_checked_pack_counts_what_it_knows_of_condition() {
    let desk = Desk::new();
    let checked = desk.json(&["pack", "check"]);
    let numbers = &checked["statistics"];
    assert_eq!(numbers["foods"], numbers["foods_with_condition"]);
    assert!(numbers["sizes"]["published"].as_u64().unwrap() > 0, "{numbers}");
}
