//! Areas at a terminal: closed ground and ground with a code of its own, and what advice makes of them.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::fs;

use desk::Desk;
use serde_json::{Value, json};

/// Ten field mushrooms, opened, on land with the owner's leave, at a place in invented woods on the water of the Wash.
fn advise(desk: &Desk, place: &str, accuracy: &str) -> Value {
    desk.json(&[
        "advise",
        "field-mushroom",
        "--seen",
        "10",
        "--width",
        "50-80",
        "--sign",
        "cap-open",
        "--land",
        "permitted",
        "--named",
        "key",
        "--place",
        place,
        "--accuracy",
        accuracy,
    ])
}

fn area(reply: &Value) -> Vec<&Value> {
    reply["reasons"].as_array().unwrap().iter().filter(|reason| reason["clause"] == "area").collect()
}

#[test]
fn closed_ground_is_left_and_near_it_is_checked() {
    let desk = Desk::new();
    assert!(desk.say(&["area", "list"]).starts_with("No areas yet"));
    let added = desk.json(&[
        "area",
        "add",
        "Lidgate Hanger reserve",
        "--circle",
        "TF 5200 3900",
        "--radius",
        "200",
        "--closed",
        "--note",
        "its warden says so",
    ]);
    assert_eq!(
        (&added[0]["name"], &added[0]["closed"], &added[0]["outline"]["circle"]["radius"]),
        (&json!("Lidgate Hanger reserve"), &json!(true), &json!(200.0))
    );

    let inside = advise(&desk, "TF 52005 39005", "5");
    assert_eq!((&inside["answer"], area(&inside).len()), (&json!("leave"), 1));
    assert_eq!(area(&inside)[0]["verdict"], "holds");

    // 240.5 m east of its middle by the grid, 240.6 m on the ground, and so 41 m beyond its edge: near for a fix of 50 m, and not for one of 5 m.
    let near = advise(&desk, "TF 52245 39005", "50");
    assert_eq!(area(&near)[0]["verdict"], "cannot be judged", "{near}");
    assert_ne!(near["answer"], "no more than");
    assert!(area(&near)[0]["text"].as_str().unwrap().starts_with("Within 41 m of closed ground"), "{near}");
    let clear = advise(&desk, "TF 52245 39005", "5");
    assert_eq!(
        (&clear["answer"], &clear["up_to"], area(&clear).len()),
        (&json!("no more than"), &json!(5), 0)
    );

    desk.json(&["area", "remove", "lidgate hanger reserve"]);
    assert_eq!(advise(&desk, "TF 52005 39005", "5")["answer"], "no more than");
}

#[test]
fn outlines_come_from_geojson_whole_or_not_at_all() {
    let desk = Desk::new();
    let file = desk.path("wood.geojson");
    let square = |from: f64| {
        let to = from + 0.01;
        json!({"type": "Feature", "properties": {"name": format!("part {from}")}, "geometry": {"type": "Polygon",
            "coordinates": [[[from, 52.93], [to, 52.93], [to, 52.94], [from, 52.94], [from, 52.93]]]}})
    };
    let broken =
        json!({"type": "Feature", "properties": {}, "geometry": {"type": "Point", "coordinates": [0, 52]}});
    let path = file.to_str().unwrap();
    let add = ["area", "add", "Harrow Shaw", "--geojson", path, "--code", "castilla-y-leon"];
    fs::write(&file, json!({"type": "FeatureCollection", "features": [square(0.26), broken]}).to_string())
        .unwrap();
    let (exit, code, message) = desk.refused(&add);
    assert_eq!((exit, code.as_str()), (1, "geojson-feature"));
    assert!(message.starts_with("feature 2:"), "{message}");
    assert_eq!(desk.json(&["area", "list"]), json!([]));

    fs::write(
        &file,
        json!({"type": "FeatureCollection", "features": [square(0.26), square(0.28)]}).to_string(),
    )
    .unwrap();
    let added = desk.json(&add);
    assert_eq!(added[1]["name"], "Harrow Shaw, part 0.28");
    // In the second one the decree's 40 mm holds besides; between the two it does not.
    let codes = |place: &str| {
        let reply = advise(&desk, place, "5");
        let all = reply["reasons"].as_array().unwrap();
        all.iter().any(|reason| reason["code"] == "castilla-y-leon")
    };
    assert!(codes("52.935, 0.285"));
    assert!(!codes("52.935, 0.275"));

    let circle = ["area", "add", "X", "--circle", "TF 52 39", "--radius", "50", "--code", "castilla"];
    assert_eq!(desk.refused(&circle).1, "code-unknown");
}
