//! The key at a terminal: answers typed, answers streamed, and what is kept of them.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::io::Write;
use std::process::Stdio;

use desk::Desk;
use serde_json::{Value, json};

/// Common practice, no source: a velvety, ringless, pale-gilled tuft on oak may still be a funeral bell until its spores are seen.
const TUFT: [&str; 8] = [
    "form=gilled",
    "growth=tuft",
    "host=oak",
    "cap-colour=orange",
    "gill-colour-mature=cream",
    "stem-surface=velvety",
    "ring=absent",
    "month=1",
];

fn answers<'a>(command: &[&'a str], answers: &[&'a str]) -> Vec<&'a str> {
    let typed = answers.iter().flat_map(|answer| ["--answer", *answer]);
    command.iter().copied().chain(typed).collect()
}

#[test]
fn a_tuft_whose_spores_are_unseen_is_not_settled() {
    let desk = Desk::new();
    let reply = desk.json(&answers(&["key"], &TUFT));
    assert_eq!((&reply["status"], &reply["taxa"]), (&"not settled".into(), &json!([])));
    assert!(reply["suspected"].as_array().unwrap().contains(&"funeral-bell".into()), "{reply}");
    let bell = reply["in_the_way"].as_array().unwrap().iter().find(|one| one["taxon"] == "funeral-bell");
    let checks = bell.unwrap()["checks"].to_string();
    assert!(checks.contains("spore"), "{checks}");
    let told = desk.say(&answers(&["key"], &TUFT));
    assert!(told.starts_with("Not settled.") && told.contains("funeral bell (has killed)"), "{told}");
}

#[test]
fn what_the_key_may_not_name_stays_unknown_and_keeps_its_evidence() {
    let desk = Desk::new();
    let added = desk.json(&["find", "add"]);
    let id = added["id"].as_str().unwrap();
    let named = desk.json(&answers(&["find", "name", id], &TUFT));
    assert_eq!((&named["taxon"], &named["how"]), (&Value::Null, &"key".into()));
    assert_eq!(named["evidence"]["evidence"].as_array().unwrap().len(), TUFT.len());
    assert!(named["pack"].is_string() && named["pack_version"].is_string());
    // Somebody's word is theirs, and what the answers say of it comes first.
    let told = desk.say(&answers(&["find", "name", id, "velvet-shank", "--who", "R."], &TUFT));
    let (key, word) =
        (told.find("Not settled.").unwrap(), told.find("Named: velvet-shank by sight").unwrap());
    assert!(key < word, "{told}");
    assert_eq!(desk.json(&["find", "show", id])["determinations"].as_array().unwrap().len(), 2);
}

#[test]
fn the_stream_answers_line_by_line_and_survives_nonsense() {
    let desk = Desk::new();
    let mut child = desk
        .command()
        .args(["key", "--stream"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    let lines = [
        r#"{"evidence": []}"#,
        r#"{"evidence": [{"character": "ring", "states": ["absent"], "sure": true}], "suspect": "velvet-shank"}"#,
        "nonsense",
        r#"{"evidence": [{"character": "no-such", "states": ["absent"]}]}"#,
        r#"{"evidence": [{"character": "cap-width", "range": [18, 25]}, {"character": "ring", "states": []}]}"#,
    ];
    input.write_all(lines.join("\n").as_bytes()).unwrap();
    drop(input);
    let output = child.wait_with_output().unwrap();
    let replies: Vec<Value> =
        String::from_utf8(output.stdout).unwrap().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    assert_eq!(replies.len(), lines.len());
    for good in [0, 1, 4] {
        let fields: Vec<&String> = replies[good].as_object().unwrap().keys().collect();
        assert_eq!(fields, ["status", "taxa", "ranking", "suspected", "next", "in_the_way"]);
    }
    assert!(replies[2]["error"]["code"].is_string() && replies[3]["error"]["code"].is_string());
}

#[test]
fn a_wrong_answer_is_refused_with_what_there_is() {
    let desk = Desk::new();
    for wrong in ["ring", "no-such=absent", "ring=purple", "cap-width=wide"] {
        assert_eq!(desk.refused(&["key", "--answer", wrong]).0, 1, "{wrong}");
    }
    assert_eq!(desk.refused(&["key", "--suspect", "no such thing"]).0, 1);
}

#[test]
fn a_small_trial_is_the_same_for_the_same_seed() {
    let desk = Desk::new();
    let trial = || desk.json(&["pack", "trial", "--specimens", "300", "--seed", "7"]);
    let report = trial();
    assert_eq!(report, trial());
    assert_eq!(report["specimens"], 300);
    for field in ["questions_mean", "right", "wrong", "unsettled", "food_settled", "danger_as_food_per_100k"]
    {
        assert!(report[field].is_number(), "{field}");
    }
    assert!(report["interval"].as_array().unwrap().len() == 2 && report["worst_pairs"].is_array());
}
