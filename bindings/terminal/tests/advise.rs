//! "Leave it" at a terminal: how much may be taken, under which codes, and what is kept of it.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::Desk;
use serde_json::{Value, json};

/// Seven velvet shanks, opened, on land with the owner's leave. Expected figures: half of seven, rounded down (Pickers' code 1998).
const SEVEN: [&str; 10] = [
    "advise",
    "velvet-shank",
    "--seen",
    "7",
    "--width",
    "25-45",
    "--sign",
    "cap-open",
    "--land",
    "permitted",
];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&SEVEN[..], more].concat()
}

fn reason<'a>(reply: &'a Value, code: &str, clause: &str) -> &'a Value {
    let reasons = reply["reasons"].as_array().unwrap();
    reasons.iter().find(|reason| reason["code"] == code && reason["clause"] == clause).unwrap()
}

#[test]
fn half_of_seven_is_three() {
    let desk = Desk::new();
    let reply = desk.json(&with(&["--named", "key"]));
    assert_eq!(reply["answer"], "no more than");
    assert_eq!((&reply["up_to"], &reply["leave"], &reply["specimen"]), (&json!(3), &json!(4), &json!(0)));
    assert_eq!(reply["grams_left"], 1500.0);
    let half = reason(&reply, "pickers-1998", "half");
    assert_eq!(
        (&half["verdict"], &half["decides"], &half["missing"]),
        (&json!("holds"), &json!(true), &json!([]))
    );
    assert_eq!(reason(&reply, "schedule-8", "royal-bolete")["verdict"], "does not hold");
    let told = desk.say(&with(&["--named", "key"]));
    assert!(told.starts_with("No more than 3 of these 7; leave 4, the biggest among them. Half of those present, rounded down (Pickers' code, 1998)."), "{told}");
    assert!(
        told.contains("funeral bell (has killed)") && told.ends_with("If in any doubt, leave it.\n"),
        "{told}"
    );
}

#[test]
fn every_answer_is_an_answer_and_no_failure() {
    let desk = Desk::new();
    let small = desk.say(&[
        "advise",
        "velvet-shank",
        "--seen",
        "7",
        "--width",
        "14",
        "--sign",
        "cap-open",
        "--land",
        "own",
    ]);
    assert!(
        small.starts_with("Leave these. Still too small: 14 mm across; this species is taken from 20 mm."),
        "{small}"
    );
    for (arguments, answer) in [
        (with(&["--land", "unknown"])[2..].to_vec(), "ask first"),
        (vec!["--seen", "1", "--sign", "cap-open", "--land", "own"], "leave"),
        (vec!["--sign", "cap-open"], "leave"),
        (vec!["--seen", "7"], "leave"),
        (vec!["--seen", "7", "--stages", "past=7", "--land", "own"], "leave"),
        (vec!["--seen", "7", "--stages", "prime=7", "--land", "own", "--hazard", "roadside"], "leave"),
    ] {
        let arguments: Vec<&str> = arguments.into_iter().collect();
        let arguments = [&["advise", "velvet-shank"], &arguments[..]].concat();
        let arguments = dedup_land(&arguments);
        assert_eq!(desk.json(&arguments)["answer"], answer, "{arguments:?}");
    }
    assert_eq!(desk.json(&["advise", "Battarrea phalloides", "--seen", "9"])["answer"], "leave");
    assert_eq!(desk.json(&["advise", "funeral-bell", "--seen", "9", "--land", "own"])["specimen"], 0);
}

/// The last `--land` of several.
fn dedup_land<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    match arguments.iter().position(|it| *it == "--land") {
        Some(at) if arguments.iter().filter(|it| **it == "--land").count() > 1 => {
            [&arguments[..at], &arguments[at + 2..]].concat()
        }
        _ => arguments.to_vec(),
    }
}

#[test]
fn a_name_that_is_not_settled_may_have_one_for_study() {
    let desk = Desk::new();
    let reply = desk.json(&with(&["--named", "not-settled"]));
    assert_eq!(
        (&reply["answer"], &reply["up_to"], &reply["specimen"]),
        (&json!("leave"), &json!(0), &json!(1))
    );
}

#[test]
fn what_is_taken_already_counts() {
    let desk = Desk::new();
    let reply = desk.json(&with(&["--taken", "2", "--grams", "40"]));
    assert_eq!(
        (&reply["up_to"], &reply["leave"], &reply["grams_left"]),
        (&json!(1), &json!(4), &json!(1460.0))
    );
    let reply = desk.json(&with(&["--taken", "3"]));
    assert_eq!((&reply["answer"], &reply["leave"]), (&json!("leave"), &json!(4)));
}

#[test]
fn codes_are_chosen_and_kept() {
    let desk = Desk::new();
    let listed = desk.json(&["code", "list"]);
    assert_eq!(listed["chosen"], Value::Null);
    let in_force = |listed: &Value| -> Vec<String> {
        let codes = listed["codes"].as_array().unwrap().iter().filter(|code| code["in_force"] == true);
        codes.map(|code| code["id"].as_str().unwrap().to_owned()).collect()
    };
    assert!(in_force(&listed).contains(&"pickers-1998".to_owned()));
    let chosen = desk.json(&["code", "use", "castilla-y-leon"]);
    assert_eq!(in_force(&chosen), ["common-practice", "castilla-y-leon"]);
    assert_eq!(in_force(&desk.json(&["code", "list"])), ["common-practice", "castilla-y-leon"]);
    let reply = desk.json(&[
        "advise",
        "cep",
        "--seen",
        "7",
        "--width",
        "30",
        "--stages",
        "prime=7",
        "--land",
        "own",
        "--place",
        "41.7, -2.9",
        "--at",
        "2026-10-18T12:00:00+02:00",
    ]);
    assert_eq!(reason(&reply, "castilla-y-leon", "cap-40")["verdict"], "holds");
    assert_eq!(desk.json(&["code", "use", "--default"])["chosen"], Value::Null);
    let (exit, code, message) = desk.refused(&["code", "use", "castilla-y-lyon"]);
    assert_eq!((exit, code.as_str()), (1, "code-unknown"));
    assert!(message.contains("did you mean `castilla-y-leon`?"), "{message}");
    assert_eq!(desk.refused(&["code", "show", "no-such"]).1, "code-unknown");
    let shown = desk.json(&["code", "show", "pickers-1998"]);
    assert_eq!(shown["rule"][0]["limit"], json!({"share": {"most": "1/2", "round": "down"}}));
}

#[test]
fn a_code_file_is_checked_with_line_and_field() {
    let desk = Desk::new();
    let file = desk.path("wood.toml");
    let text = "[code]\nid = \"wood\"\ntitle = \"An invented byelaw\"\nshort = \"byelaw\"\nholds_in = \"Harrow Shaw (invented)\"\n\
                kind = \"byelaw\"\nin_force = \"if-chosen\"\nsource = \"invented\"\nmark = \"from-memory\"\n\n\
                [[rule]]\nid = \"third\"\nwords = \"A third.\"\nlimit = { share = { most = \"1/3\" } }\n";
    std::fs::write(&file, text).unwrap();
    assert_eq!(desk.json(&["code", "check", file.to_str().unwrap()])["ok"], true);
    std::fs::write(&file, text.replace("most =", "mots =")).unwrap();
    let output = desk.trug(&["code", "check", file.to_str().unwrap()]);
    let told = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(
        told.starts_with("wood.toml:14: rule[0].limit.share.mots:") && told.contains("did you mean `most`?"),
        "{told}"
    );
}

#[test]
fn a_find_is_kept_with_its_advice_and_taking_on_shares_it() {
    let desk = Desk::new();
    desk.say(&["outing", "start", "--may-pick", "permitted"]);
    let add = [
        "find",
        "add",
        "--taxon",
        "velvet-shank",
        "--seen",
        "7",
        "--stages",
        "prime=7",
        "--place",
        "TF 10000 10000",
    ];
    let added = desk.json(&[&add[..], &["--taken", "3", "--grams", "30"]].concat());
    assert_eq!((&added["advice"]["answer"], &added["advice"]["up_to"]), (&json!("no more than"), &json!(3)));
    let id = added["id"].as_str().unwrap();
    let shown = desk.json(&["find", "show", id]);
    assert_eq!(shown["determinations"][0]["taxon"], "velvet-shank");
    // The basket of the outing goes on the scales of the next find.
    let next = desk.json(&[
        "find",
        "add",
        "--taxon",
        "jelly-ear",
        "--seen",
        "10",
        "--stages",
        "prime=10",
        "--host",
        "elder!",
    ]);
    assert_eq!((&next["advice"]["up_to"], &next["advice"]["grams_left"]), (&json!(5), &json!(1470.0)));
    // Asked of the kept find, its own taking is no earlier one.
    let again = desk.json(&["advise", "--find", id]);
    assert_eq!((&again["answer"], &again["up_to"]), (&json!("no more than"), &json!(3)));
    // A sign that is none is refused, and nothing is kept.
    let finds = desk.json(&["find", "list"]).as_array().unwrap().len();
    assert_eq!(
        desk.refused(&["find", "add", "--taxon", "velvet-shank", "--sign", "no-such-sign"]).1,
        "unknown-sign"
    );
    assert_eq!(desk.json(&["find", "list"]).as_array().unwrap().len(), finds);
}

#[test]
fn a_find_without_a_name_is_kept_and_left() {
    let desk = Desk::new();
    let told = desk.say(&["find", "add", "--seen", "3"]);
    assert!(told.starts_with("Leave these. Nobody has a name for it.") && told.contains("Kept "), "{told}");
}

#[test]
fn taking_against_advice_is_kept_with_its_reason_and_never_allowed() {
    let desk = Desk::new();
    let told = desk.say(&[
        "find",
        "add",
        "--taxon",
        "velvet-shank",
        "--seen",
        "7",
        "--stages",
        "prime=7",
        "--land",
        "own",
        "--taken",
        "5",
        "--because",
        "the tree is felled tomorrow",
    ]);
    assert!(
        told.starts_with("No more than 3 of these 7")
            && told.contains("Taken against this advice, and kept so."),
        "{told}"
    );
    let id = desk.json(&["find", "list"])[0]["id"].as_str().unwrap().to_owned();
    let shown = desk.json(&["find", "show", &id]);
    let given = &shown["advice"][0];
    assert_eq!(
        (&given["followed"], &given["because"]),
        (&json!(false), &json!("the tree is felled tomorrow"))
    );
    assert_eq!(given["advice"]["up_to"], 3);
    assert!(desk.say(&["find", "show", &id]).contains("taken against it: the tree is felled tomorrow"));

    // The patch remembers it.
    let patch = desk.json(&["patch", "add", "The felled oak", "--find", &id]);
    let history = desk.json(&["patch", "show", patch["id"].as_str().unwrap()]);
    let against = &history["against_advice"][0];
    assert_eq!(
        (&against["find"], &against["taken"], &against["because"]),
        (&json!(id), &json!(5), &json!("the tree is felled tomorrow"))
    );
    let told = desk.say(&["patch", "show", "The felled oak"]);
    assert!(
        told.contains("5 taken; No more than 3 of these 7") && told.contains("Because: the tree is felled"),
        "{told}"
    );
}

#[test]
fn a_rule_of_ones_own_is_judged_with_every_code() {
    let desk = Desk::new();
    let added = desk.json(&["house", "add", "at-most-a-third", "--share", "1/3"]);
    assert_eq!(added["rule"]["limit"]["share"]["most"], "1/3");
    // A third of seven, rounded down.
    let reply = desk.json(&SEVEN);
    assert_eq!((&reply["up_to"], &reply["leave"]), (&json!(2), &json!(5)));
    assert_eq!(reason(&reply, "house", "at-most-a-third")["decides"], true);
    assert_eq!(desk.refused(&["house", "add", "at-most-a-third", "--keep", "3"]).1, "field");
    desk.say(&["house", "add", "puffballs-30", "--width", "30", "--for", "stump-puffball"]);
    assert_eq!(desk.json(&["house", "list"]).as_array().unwrap().len(), 2);
    assert_eq!(reason(&desk.json(&SEVEN), "house", "puffballs-30")["verdict"], "does not hold");
    desk.say(&["house", "add", "eight-there", "--present", "8"]);
    assert_eq!(reason(&desk.json(&SEVEN), "house", "eight-there")["decides"], true);
    assert!(desk.say(&["house", "list"]).contains("None where fewer than 8 are present."));
    desk.say(&["house", "remove", "eight-there"]);
    desk.say(&["house", "remove", "at-most-a-third"]);
    assert_eq!(desk.json(&SEVEN)["up_to"], 3);
    assert_eq!(desk.refused(&["house", "remove", "at-most-a-third"]).1, "not-found");
    for wrong in [
        &["--share", "3/2"][..],
        &["--other", "{\"shear\": 1}"],
        &["--width", "30", "--for", "Stump puffball!"],
    ] {
        let (_, code, _) = desk.refused(&[&["house", "add", "wrong"], wrong].concat());
        assert_eq!(code, "rule-unreadable", "{wrong:?}");
    }
}
