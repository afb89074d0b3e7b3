//! Imports by the real program: what other programs wrote is read, once; photos become finds when somebody approves.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use desk::Desk;
use serde_json::{Value, json};
use trug_tests::{run, skipped, tool};

/// Written by hand from the schema; the places are invented.
const GPX: &str = r#"<?xml version="1.0"?><gpx version="1.1" creator="a receiver" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="52.7512345" lon="0.4012345"><name>Lidgate log</name><desc>elder, by the gate</desc></wpt>
<wpt lat="52.7600000" lon="0.4100000"><name>Harrow stump</name></wpt>
<trk><trkseg><trkpt lat="52.1" lon="0.1"/></trkseg></trk></gpx>"#;

fn count(said: &Value, what: &str) -> usize {
    said[what].as_array().unwrap().len()
}

#[test]
fn waypoints_become_patches_once_whatever_became_of_them() {
    let desk = Desk::new();
    fs::write(desk.path("a.gpx"), GPX).unwrap();
    let preview = desk.json(&["import", "gpx", "a.gpx", "--dry-run"]);
    assert_eq!((count(&preview, "patches"), &preview["already_there"]), (2, &json!(0)));
    assert_eq!(count(&json!({"all": desk.json(&["patch", "list"])}), "all"), 0, "nothing is kept");
    assert!(desk.say(&["import", "gpx", "a.gpx", "--dry-run"]).starts_with("Would be added: 2 patches."));

    let added = desk.json(&["import", "gpx", "a.gpx"]);
    assert_eq!(added, preview, "what was shown is what is kept");
    assert_eq!(added["patches"][0]["note"], "elder, by the gate");
    let patches = desk.json(&["patch", "list"]);
    assert_eq!((patches[0]["name"].is_string(), patches.as_array().unwrap().len()), (true, 2));

    // One is renamed, the other taken back: read again, both stay so.
    let (log, stump) =
        (added["patches"][0]["id"].as_str().unwrap(), added["patches"][1]["id"].as_str().unwrap());
    desk.say(&["patch", "rename", log, "The old log"]);
    desk.say(&["patch", "undo", stump]);
    let before = desk.json(&["patch", "list"]);
    assert_eq!(before.as_array().unwrap().len(), 1);
    let again = desk.json(&["import", "gpx", "a.gpx"]);
    assert_eq!((count(&again, "patches"), &again["already_there"]), (0, &json!(2)));
    assert_eq!(desk.json(&["patch", "list"]), before);
    assert!(desk.say(&["import", "gpx", "a.gpx"]).contains("2 read before: left as they are."));
    // Another notebook of the same owner gives them the same ids.
    let other = Desk::new();
    fs::write(other.path("b.gpx"), GPX.replace("52.7600000", "52.76")).unwrap();
    assert_eq!(other.json(&["import", "gpx", "b.gpx"])["patches"][1]["id"], stump);
    assert_eq!(desk.json(&["notebook", "check"])["ok"], true);
}

#[test]
fn a_bad_file_changes_nothing_and_makes_no_notebook() {
    let desk = Desk::new();
    fs::write(desk.path("bad.gpx"), GPX.replace("lat=\"52.7600000\"", "lat=\"far\"")).unwrap();
    let (code, word, message) = desk.refused(&["import", "gpx", "bad.gpx"]);
    assert_eq!((code, word.as_str()), (1, "gpx-waypoint"));
    assert_eq!(message, "waypoint 2, line 3: lat: not a number: give degrees as 51.5");
    assert_eq!(desk.refused(&["import", "gpx", "none.gpx"]).1, "disk");
    assert_eq!(desk.refused(&["import", "gpx", "."]).0, 1);
    assert_eq!(desk.refused(&["import", "photos", "nowhere", "--yes"]).1, "field");
    fs::write(desk.path("bad.json"), "{").unwrap();
    assert_eq!(desk.refused(&["import", "geojson", "bad.json"]).1, "geojson-not-json");
    assert!(!desk.path("notebook").exists());
}

#[test]
fn points_become_patches_and_polygons_areas() {
    let desk = Desk::new();
    let drawing = json!({"type": "FeatureCollection", "features": [
        {"type": "Feature", "properties": {"name": "Stump"}, "geometry": {"type": "Point", "coordinates": [0.4, 52.75]}},
        {"type": "Feature", "properties": {}, "geometry": {"type": "Polygon",
            "coordinates": [[[0.3, 52.7], [0.5, 52.7], [0.5, 52.8], [0.3, 52.7]]]}}]});
    fs::write(desk.path("a.json"), drawing.to_string()).unwrap();
    let (_, word, message) = desk.refused(&["import", "geojson", "a.json"]);
    assert_eq!(word, "field");
    assert!(message.contains("--closed or --code"), "{message}");
    assert_eq!(desk.refused(&["import", "geojson", "a.json", "--code", "nobody's"]).1, "code-unknown");
    let added = desk.json(&["import", "geojson", "a.json", "--closed"]);
    assert_eq!((count(&added, "patches"), count(&added, "areas")), (1, 1));
    assert_eq!((&added["areas"][0]["name"], &added["areas"][0]["closed"]), (&json!("area 1"), &json!(true)));
    assert_eq!(desk.json(&["area", "list"])[0]["id"], added["areas"][0]["id"]);
    let again = desk.json(&["import", "geojson", "a.json", "--closed"]);
    assert_eq!(
        (count(&again, "patches"), count(&again, "areas"), &again["already_there"]),
        (0, 0, &json!(2))
    );
}

/// Files by gpxpy and geojson of the Python package index: what they write is read.
#[test]
fn what_other_programs_write_is_read() {
    let python = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target/outside/exports/bin/python3");
    if !python.exists() {
        return skipped("the writers of imports are not there: run tests/exports-venv");
    }
    let desk = Desk::new();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/write_imports.py");
    let files = ["a10.gpx", "a11.gpx", "a.json"].map(|name| desk.path(name));
    let wrote: Value = serde_json::from_str(&run(Command::new(python).arg(script).args(&files))).unwrap();
    for file in ["a10.gpx", "a11.gpx", "a.json"] {
        let read = desk.json(
            &["import", if file.ends_with("gpx") { "gpx" } else { "geojson" }, file, "--closed"]
                [..if file.ends_with("gpx") { 3 } else { 4 }],
        );
        let theirs = wrote[file].as_array().unwrap();
        assert_eq!(count(&read, "patches"), theirs.len(), "{file}");
        for (ours, theirs) in read["patches"].as_array().unwrap().iter().zip(theirs) {
            assert_eq!((&ours["name"], &ours["note"]), (&theirs[2], &theirs[3]), "{file}");
            for (part, theirs) in [("latitude", &theirs[0]), ("longitude", &theirs[1])] {
                let apart = ours["centre"][part].as_f64().unwrap() - theirs.as_f64().unwrap();
                assert!(apart.abs() < 1e-9, "{file}: {apart}");
            }
        }
    }
}

/// A photo of its own at this path, taken then and there.
fn photo(path: &Path, shade: u8, taken: &str, north: &str) -> Option<()> {
    image::RgbImage::from_pixel(24, 18, image::Rgb([shade, 90, 40])).save(path).unwrap();
    let tags = [
        format!("-EXIF:DateTimeOriginal={taken}"),
        "-EXIF:OffsetTimeOriginal=+01:00".to_owned(),
        format!("-EXIF:GPSLatitude={north}"),
        "-EXIF:GPSLatitudeRef=N".to_owned(),
        "-EXIF:GPSLongitude=0.4".to_owned(),
        "-EXIF:GPSLongitudeRef=E".to_owned(),
    ];
    run(tool("exiftool")?.args(["-q", "-overwrite_original"]).args(tags).arg(path));
    Some(())
}

/// Three photos of two finds, one without a time, one twice, and a note.
fn camera(desk: &Desk) -> Option<()> {
    fs::create_dir_all(desk.path("camera/later")).unwrap();
    photo(&desk.path("camera/b.jpg"), 1, "2026:10:18 14:05:09", "52.75")?;
    photo(&desk.path("camera/a.jpg"), 2, "2026:10:18 14:06:09", "52.75001")?;
    photo(&desk.path("camera/later/c.jpg"), 3, "2026:10:18 14:07:09", "52.76")?;
    desk::picture(&desk.path("camera/untimed.png"));
    fs::copy(desk.path("camera/a.jpg"), desk.path("camera/twice.jpg")).unwrap();
    fs::write(desk.path("camera/note.txt"), "not a photo").unwrap();
    Some(())
}

#[test]
fn photos_become_finds_when_somebody_approves() {
    let desk = Desk::new();
    if camera(&desk).is_none() {
        return;
    }
    let seen = desk.json(&["import", "photos", "camera", "--dry-run"]);
    assert_eq!((&seen["already_there"], &seen["passed_over"]), (&json!(1), &json!(1)));
    let names: Vec<Vec<&str>> = seen["finds"]
        .as_array()
        .unwrap()
        .iter()
        .map(|find| find.as_array().unwrap().iter().map(|photo| photo["path"].as_str().unwrap()).collect())
        .collect();
    assert_eq!(
        names,
        [vec!["camera/b.jpg", "camera/a.jpg"], vec!["camera/later/c.jpg"], vec!["camera/untimed.png"]]
    );
    assert!(desk.json(&["find", "list"]).as_array().unwrap().is_empty(), "nothing is kept");
    assert_eq!(
        desk.refused(&["import", "photos", "camera"]).1,
        "not-approved",
        "a program is never asked back"
    );
    assert_eq!(desk.refused(&["import", "photos", "camera", "--find", "4"]).1, "field");

    let kept = desk.json(&["import", "photos", "camera", "--find", "2"]);
    assert_eq!((count(&kept, "finds"), &kept["finds"][0]["at"]), (1, &json!("2026-10-18T14:07:09+01:00")));
    let kept = desk.json(&["import", "photos", "camera", "--yes"]);
    assert_eq!((count(&kept, "finds"), &kept["already_there"]), (2, &json!(2)));
    assert_eq!((count(&kept["finds"][0], "photos"), &kept["finds"][1]["at"]), (2, &Value::Null));
    assert_eq!(kept["finds"][0]["position"]["got"], "photo");
    let again = desk.json(&["import", "photos", "camera", "--yes"]);
    assert_eq!((count(&again, "finds"), &again["already_there"]), (0, &json!(5)));
    assert_eq!(desk.json(&["find", "list"]).as_array().unwrap().len(), 3);
    assert_eq!(desk.json(&["notebook", "check"])["ok"], true);
}

#[test]
fn at_a_terminal_each_find_is_asked_for() {
    let desk = Desk::new();
    let Some(mut script) = tool("script") else { return };
    if camera(&desk).is_none() {
        return;
    }
    let trug = format!("{} import photos camera", env!("CARGO_BIN_EXE_trug"));
    script
        .args(["-qec", &trug, "/dev/null"])
        .current_dir(desk.path(""))
        .env("TRUG_NOTEBOOK", desk.path("notebook"));
    let mut child = script.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(b"y\nperhaps\nn\nq\n").unwrap();
    let output = child.wait_with_output().unwrap();
    let screen = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success() && screen.contains("Added: 1 find."), "{screen}");
    assert_eq!(screen.matches("One find?").count(), 4, "{screen}");
    let finds = desk.json(&["find", "list"]);
    assert_eq!((finds.as_array().unwrap().len(), count(&finds[0], "photos")), (1, 2));
}
