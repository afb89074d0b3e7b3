//! Changes that no device writes.

use serde_json::{Value, json};

use crate::bag::{Bag, Case, DEVICE, OTHER, change, line, lines, one, seal, stamp, with};

pub fn changes() -> Vec<Case> {
    let me = format!("{}@{DEVICE}", stamp(1));
    let later = format!("{}@{DEVICE}", stamp(9));
    let two = |first: Value, second: Value| lines(&[line(&first), line(&second)]);
    let raw = |text: &str| lines(&[seal(text)]);
    let text = change(1).to_string();
    vec![
        (
            "a line altered",
            "bundle-line",
            "does not fit its hash",
            lines(&[line(&change(1)).replace("\"seen\":3", "\"seen\":9")]),
        ),
        ("a line without a hash", "bundle-line", "does not end in a hash", lines(&["{}\n".into()])),
        ("no JSON", "bundle-line", "is not a change", raw("{\"kind\":\"find\",}")),
        ("invalid UTF-8 in a line", "bundle-line", "is not text", {
            let mut bag = Bag::good();
            bag.payload.values_mut().for_each(|content| content[12] = 0xff);
            bag.write()
        }),
        ("NaN", "bundle-line", "is not a change", raw(&text.replace("\"seen\":3", "\"seen\":NaN"))),
        (
            "a huge number",
            "bundle-line",
            "is not a change",
            raw(&text.replace("\"seen\":3", "\"seen\":1e999")),
        ),
        (
            "nesting without end",
            "bundle-line",
            "is not a change",
            raw(&text.replace("\"seen\":3", &format!("\"seen\":{}3{}", "[".repeat(5000), "]".repeat(5000)))),
        ),
        ("a wrong type in the form", "bundle-line", "is not a change", one(&with(1, "set", json!(5)))),
        ("a stamp that is a number", "bundle-line", "is not a change", one(&with(1, "stamp", json!(17)))),
        (
            "a stamp of another writing",
            "bundle-line",
            "is not a change",
            one(&with(1, "stamp", json!("1764061200001.1"))),
        ),
        (
            "a record that is no id",
            "bundle-line",
            "is not a change",
            one(&with(1, "record", json!("../../x"))),
        ),
        (
            "a negative count of what follows",
            "bundle-line",
            "is not a change",
            one(&with(1, "more", json!(-1))),
        ),
        (
            "a wrong type in a field",
            "bundle-not-allowed",
            "not what its field is",
            one(&with(1, "set", json!({"seen": "many"}))),
        ),
        (
            "a place off the earth",
            "bundle-not-allowed",
            "not what its field is",
            one(&with(1, "set", json!({"position": {"latitude": 95.0, "longitude": 0.0}}))),
        ),
        (
            "a mark that is none",
            "bundle-not-allowed",
            "not what its field is",
            one(&with(1, "set", json!({"deleted": "yes"}))),
        ),
        (
            "a kind that is none",
            "bundle-line",
            "of a kind that is none",
            one(&with(1, "kind", json!("Robert'); DROP TABLE find;--"))),
        ),
        ("an empty kind", "bundle-line", "of a kind that is none", one(&with(1, "kind", json!("")))),
        ("another's changes", "bundle-line", "by another device", one(&with(1, "device", json!(OTHER)))),
        ("out of order", "bundle-line", "out of order", two(change(2), change(1))),
        ("twice", "bundle-line", "comes twice", two(change(1), change(1))),
        (
            "one id for two records",
            "bundle-line",
            "comes twice",
            two(change(1), with(1, "record", json!(OTHER))),
        ),
        ("an act that breaks off", "bundle-line", "act is not finished", one(&with(1, "more", json!(1)))),
        (
            "an act that does not go on",
            "bundle-line",
            "does not go on",
            two(with(1, "more", json!(2)), change(2)),
        ),
        ("a line cut off", "bundle-line", "breaks off", {
            let mut bag = Bag::good();
            bag.payload.values_mut().for_each(|content| content.truncate(content.len() - 1));
            bag.write()
        }),
        ("an act without end", "bundle-not-allowed", "an act larger than any", {
            let long = |n: u64| {
                let mut change = with(n, "set", json!({"note": "x".repeat(1 << 20)}));
                change["more"] = json!(10 - n);
                line(&change)
            };
            lines(&(1..=10).map(long).collect::<Vec<_>>())
        }),
        (
            "a line without end",
            "bundle-line",
            "longer than any",
            lines(&[line(&with(1, "set", json!({"note": "x".repeat(9 << 20)})))]),
        ),
        ("replaces itself", "bundle-line", "replaces itself", one(&with(1, "replaces", json!([me.clone()])))),
        ("undoes itself", "bundle-line", "replaces itself", one(&with(1, "undoes", json!(me.clone())))),
        (
            "replaces a later change of its own",
            "bundle-line",
            "a later change",
            one(&with(1, "replaces", json!([later]))),
        ),
        (
            "replaces another field",
            "bundle-not-allowed",
            "another field",
            two(change(1), {
                let mut change = with(2, "set", json!({"taken": 1}));
                change["replaces"] = json!([me.clone()]);
                change
            }),
        ),
        (
            "replaces another record",
            "bundle-not-allowed",
            "another record",
            two(change(1), {
                let mut change = with(2, "record", json!(OTHER));
                change["replaces"] = json!([me.clone()]);
                change
            }),
        ),
        (
            "replaces another kind",
            "bundle-not-allowed",
            "another record",
            two(change(1), {
                let mut change = with(2, "kind", json!("later-kind"));
                change["replaces"] = json!([me]);
                change
            }),
        ),
        ("a circle", "bundle-not-allowed", "by way of others", {
            let mut bag = Bag::of(&[line(&with(1, "replaces", json!([format!("{}@{OTHER}", stamp(5))])))]);
            let mut back = with(5, "replaces", json!([format!("{}@{DEVICE}", stamp(1))]));
            back["device"] = json!(OTHER);
            bag.payload.insert(format!("data/changes/{OTHER}.jsonl"), line(&back).into_bytes());
            bag.write()
        }),
        ("copies that are none", "bundle-not-allowed", "more than copies", {
            Bag { info: "Trug-Bundle-Format: 1.0\nTrug-Bundle-For: someone\n".into(), ..Bag::good() }.write()
        }),
    ]
}
