//! Exports by the real program: what must not leave does not, and other programs read what does.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::collections::BTreeSet;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::Command;

use desk::Desk;
use serde_json::Value;
use trug_tests::{run, skipped, tool};

const FORMATS: [&str; 4] = ["darwin-core", "gpx", "geojson", "csv"];

/// Every way in which copies leave: what comes before the file's name, and what comes after it.
const WAYS: [(&[&str], &[&str]); 7] = [
    (&["export", "darwin-core"], &[]),
    (&["export", "darwin-core"], &["--photos"]),
    (&["export", "gpx"], &[]),
    (&["export", "geojson"], &[]),
    (&["export", "csv"], &[]),
    (&["bundle", "write"], &["--for", "someone"]),
    (&["bundle", "write"], &["--for", "someone", "--photos"]),
];

/// A notebook full of secrets. The place is invented: SU 38710 14792 is the Ordnance Survey's test point TP05.
fn secretive(desk: &Desk) -> Vec<String> {
    desk.say(&[
        "outing",
        "start",
        "Quillwood",
        "--at",
        "2026-10-18 13:37",
        "--note",
        "outingnote",
        "--with",
        "Companion",
    ]);
    let patch =
        desk.json(&["patch", "add", "Secret Log", "--place", "SU 38710 14792", "--note", "patchnote"]);
    let mut secrets = vec![patch["id"].as_str().unwrap().to_owned()];
    for (note, at) in [("findnote one", "2026-10-18 14:05:07"), ("findnote two", "2026-10-18 14:06:08")] {
        let find = desk.json(&[
            "find",
            "add",
            "--place",
            "SU 38710 14792",
            "--accuracy",
            "8",
            "--at",
            at,
            "--note",
            note,
            "--habitat",
            "habitatwords",
            "--host",
            "elder",
            "--on",
            "fallen-branch",
            "--seen",
            "7",
            "--patch",
            "Secret Log",
        ]);
        let id = find["id"].as_str().unwrap();
        if let Some(photo) = photographed(desk, note) {
            desk.say(&["photo", "add", id, photo.to_str().unwrap()]);
        }
        desk.say(&["find", "name", id, "jelly-ear", "--who", "Namegiver", "--sure", "sure"]);
        let shown = desk.json(&["find", "show", id]);
        secrets.push(id.to_owned());
        secrets.push(shown["outing"].as_str().unwrap().to_owned());
        secrets.push(shown["determinations"][0]["id"].as_str().unwrap().to_owned());
        for photo in shown["photos"].as_array().unwrap() {
            secrets.extend(["id", "sha256"].map(|name| photo[name].as_str().unwrap().to_owned()));
        }
    }
    let identity: Value =
        serde_json::from_slice(&std::fs::read(desk.path("notebook/notebook.json")).unwrap()).unwrap();
    secrets.push(identity["device"].as_str().unwrap().to_owned());
    secrets.extend(secrets.clone().iter().map(|id| id.replace('-', "")));
    let words = [
        "Quillwood",
        "outingnote",
        "Companion",
        "Secret Log",
        "patchnote",
        "findnote",
        "habitatwords",
        "Namegiver",
        "14:05",
        "14:06",
        "13:05",
        "13:06",
        "13:37",
        "copies.secret",
        "photosecret",
        "identity.secret",
        "AGE-SECRET-KEY",
    ];
    secrets.extend(words.map(str::to_owned));
    secrets.extend(forms_of_the_place());
    secrets
}

/// A photo that tells everything, in a file whose name does too: place, time, camera, owner, words, a small picture, and a film behind it.
fn photographed(desk: &Desk, note: &str) -> Option<PathBuf> {
    let path = desk.path(&format!("photosecret {note}.jpg"));
    desk::picture(&path);
    let small = desk.path("small.jpg");
    desk::picture(&small);
    let tags = [
        "-GPSLatitude=50.931279",
        "-GPSLatitudeRef=N",
        "-GPSLongitude=1.450514",
        "-GPSLongitudeRef=W",
        "-DateTimeOriginal=2026:10:18 14:05:07",
        "-SerialNumber=photosecretserial",
        "-OwnerName=photosecretowner",
        "-ImageDescription=photosecretwords SU 38710 14792",
        "-XMP:GPSLatitude=50.931279",
        "-XMP:GPSLongitude=-1.450514",
        "-XMP:Location=photosecretplace",
        "-IPTC:City=photosecretcity",
        "-Comment=photosecretcomment 50.931279",
    ];
    let small = format!("-ThumbnailImage<={}", small.display());
    run(tool("exiftool")?.args(["-q", "-overwrite_original"]).args(tags).arg(small).arg(&path));
    let mut bytes = std::fs::read(&path).unwrap();
    bytes.extend(b"\0\0\0\x18ftypmp42 photosecretfilm");
    // No two are the same.
    bytes.extend(note.as_bytes());
    std::fs::write(&path, bytes).unwrap();
    Some(path)
}

/// TP05 (50.931279, -1.450514; E 438710.920, N 114792.250) in every form finer than 10 km: decimal degrees from three
/// places on, degrees and minutes, EXIF rationals, grid references of 5 km and finer, eastings and northings.
fn forms_of_the_place() -> Vec<String> {
    let forms = [
        "50.931",
        "50.9312",
        "1.450",
        "1.4505",
        "50,931",
        "1,450",
        "50°55",
        "1°27",
        "50 55",
        "50/1",
        "55/1",
        "55.87",
        "27.03",
        "SU3814",
        "SU 38 14",
        "SU 3814",
        "SU387147",
        "SU 387 147",
        "SU38711479",
        "SU 3871014792",
        "SU 38710 14792",
        "SU31X",
        "SU31S",
        "SU31NE",
        "SU31SE",
        "SU31NW",
        "SU31SW",
        "438710",
        "114792",
        "43871",
        "11479",
        "4387",
        "1147",
    ];
    let mut forms: Vec<String> = forms.map(str::to_owned).into();
    // The same square on the military grid, from the program's own answer: an extra form, not a reference.
    let mgrs = String::from_utf8(
        Command::new(env!("CARGO_BIN_EXE_trug"))
            .args(["place", "SU 38710 14792", "--json"])
            .output()
            .unwrap()
            .stdout,
    );
    let mgrs: Value = serde_json::from_str(&mgrs.unwrap()).unwrap();
    forms.push(mgrs["mgrs"].as_str().unwrap().to_owned());
    forms
}

/// Everything in a file, archives unpacked.
fn bytes(path: &Path) -> Vec<u8> {
    let mut all = std::fs::read(path).unwrap();
    if all.starts_with(b"PK") {
        let mut archive = zip::ZipArchive::new(std::fs::File::open(path).unwrap()).unwrap();
        for at in 0..archive.len() {
            let mut entry = archive.by_index(at).unwrap();
            all.extend(entry.name().unwrap().as_bytes());
            let mut inside = Vec::new();
            entry.read_to_end(&mut inside).unwrap();
            all.extend(told_by_picture(&inside));
            all.extend(inside);
        }
    }
    all
}

/// What `ExifTool` reads out of a picture, rationals as numbers; nothing of what is no picture.
fn told_by_picture(inside: &[u8]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("picture");
    if !inside.starts_with(b"\xff\xd8\xff") && !inside.starts_with(b"\x89PNG") {
        return Vec::new();
    }
    std::fs::write(&path, inside).unwrap();
    let Some(mut exiftool) = tool("exiftool") else { return Vec::new() };
    // Not the file's own times.
    run(exiftool.args(["-n", "-a", "-u", "-ee3", "--System:all"]).arg(&path)).into_bytes()
}

fn holds(all: &[u8], secret: &str) -> bool {
    let lower = all.to_ascii_lowercase();
    lower.windows(secret.len()).any(|part| part == secret.to_lowercase().as_bytes())
}

fn leaks<'a>(all: &[u8], secrets: &'a [String]) -> Vec<&'a str> {
    // The digits of a new id, which is drawn, may happen to be those of an easting.
    let mut without_ids = String::from_utf8_lossy(all).into_owned();
    for id in ids(all) {
        without_ids = without_ids.replace(&id, "");
    }
    let digits = |secret: &str| secret.bytes().all(|byte| byte.is_ascii_digit());
    let found = |secret: &&str| holds(if digits(secret) { without_ids.as_bytes() } else { all }, secret);
    secrets.iter().map(String::as_str).filter(found).collect()
}

/// All texts of the form of an id.
fn ids(all: &[u8]) -> BTreeSet<String> {
    let is_id = |part: &&[u8]| {
        part.iter().enumerate().all(|(at, byte)| match at {
            8 | 13 | 18 | 23 => *byte == b'-',
            _ => byte.is_ascii_hexdigit(),
        })
    };
    all.windows(36).filter(is_id).map(|id| String::from_utf8_lossy(id).into_owned()).collect()
}

#[test]
fn nothing_that_must_stay_leaves_in_any_way() {
    let desk = Desk::new();
    let secrets = secretive(&desk);
    for (before, after) in WAYS {
        let way = [before, after].concat().join(" ");
        let leave = |name: &str, more: &[&str]| desk.say(&[before, &[name], after, more].concat());
        leave("default", &[]);
        assert_eq!(leaks(&bytes(&desk.path("default")), &secrets), Vec::<&str>::new(), "{way}");
        assert!(holds(&bytes(&desk.path("default")), "SU31"), "{way} tells the 10 km square");
        for form in [&["--dry-run"][..], &["--dry-run", "--json"]] {
            let preview = leave("none", form);
            assert_eq!(leaks(preview.as_bytes(), &secrets), Vec::<&str>::new(), "{way} {form:?}");
        }
        assert!(!desk.path("none").exists());
        // The check sees what is let through: the place alone, then words alone.
        leave("default", &["--force", "--place", "exact"]);
        let let_through = bytes(&desk.path("default"));
        let found = leaks(&let_through, &secrets);
        assert!(found.contains(&"50.931") && found.contains(&"1.450"), "{way}: {found:?}");
        leave("default", &["--force", "--notes"]);
        let let_through = bytes(&desk.path("default"));
        let found = leaks(&let_through, &secrets);
        assert!(
            found.contains(&if way == "export gpx" { "Secret Log" } else { "findnote" }),
            "{way}: {found:?}"
        );
        std::fs::remove_file(desk.path("default")).unwrap();
    }
}

/// Photos leave as pictures alone, and the check would see one that was let through as it is.
#[test]
fn photos_leave_as_pictures_and_nothing_more() {
    let desk = Desk::new();
    let secrets = secretive(&desk);
    let Some(photo) = photographed(&desk, "another") else { return };
    let out = ["export", "darwin-core", "out", "--photos", "--recipient", "Wren"];
    let done = desk.json(&out);
    assert_eq!((&done["photos"], &done["photos_left_out"]), (&2.into(), &Value::Null));
    let mut archive = zip::ZipArchive::new(std::fs::File::open(desk.path("out")).unwrap()).unwrap();
    let names: Vec<String> = archive
        .file_names()
        .map(|name| name.unwrap().into_owned())
        .filter(|name| name.starts_with("media/"))
        .collect();
    assert_eq!(names.len(), 2);
    let mut picture = Vec::new();
    archive.by_name(&names[0]).unwrap().read_to_end(&mut picture).unwrap();
    let original = std::fs::read(&photo).unwrap();
    assert!(image::load_from_memory(&picture).unwrap() == image::load_from_memory(&original).unwrap());

    // Let through on purpose: the same archive with a photo as it is.
    let mut leaky = zip::ZipWriter::new(std::fs::File::create(desk.path("leaky")).unwrap());
    leaky.start_file(&*names[0], zip::write::SimpleFileOptions::default()).unwrap();
    std::io::Write::write_all(&mut leaky, &original).unwrap();
    leaky.finish().unwrap();
    let leaky = bytes(&desk.path("leaky"));
    let found = leaks(&leaky, &secrets);
    for secret in ["50.931", "1.450", "14:05", "photosecret", "SU 38710 14792"] {
        assert!(found.contains(&secret), "{secret} must be seen: {found:?}");
    }

    // HEIC stays, and why is said; so does one whose file is damaged.
    let heic = trug_tests::crate_folder("kamadak-exif").join("tests/exif.heic");
    let id =
        desk.json(&["find", "add", "--photo", heic.to_str().unwrap()])["id"].as_str().unwrap().to_owned();
    let done = desk.json(&["export", "darwin-core", "some", "--photos", "--finds", &id]);
    assert_eq!(
        (&done["photos"], &done["photos_left_out"][0]["code"]),
        (&0.into(), &"photo-heic-not-shared".into())
    );
    let said = desk.say(&["export", "darwin-core", "some", "--photos", "--finds", &id, "--dry-run"]);
    assert!(said.contains("a photo stays: where a HEIC photo was taken cannot be safely removed"), "{said}");
    for format in ["gpx", "geojson", "csv"] {
        assert_eq!(desk.refused(&["export", format, "none", "--photos"]).1, "field", "{format}");
    }
    assert!(!desk.path("none").exists());
}

#[test]
fn ids_are_stable_for_one_recipient_and_shared_by_no_two() {
    let desk = Desk::new();
    secretive(&desk);
    for format in ["darwin-core", "geojson", "csv"] {
        let export = |name: &str, recipient: &[&str]| {
            desk.say(&[&["export", format, name, "--force"], recipient].concat());
            (ids(&bytes(&desk.path(name))), std::fs::read(desk.path(name)).unwrap())
        };
        let (wren, owl) = (["--recipient", "Wren"], ["--recipient", "Owl"]);
        let one = export("a", &wren);
        assert_eq!(one.0.len(), 2);
        assert_eq!(one, export("b", &wren), "the same bytes");
        for other in [export("c", &owl), export("d", &[]), export("e", &[])] {
            assert!(one.0.is_disjoint(&other.0));
        }
        assert!(export("d", &[]).0.is_disjoint(&export("e", &[]).0));
        assert!(!holds(&bytes(&desk.path("a")), "Wren"));
    }
}

#[test]
fn a_file_that_is_there_stays_unless_forced() {
    let desk = Desk::new();
    let id = secretive(&desk)[1].clone();
    std::fs::write(desk.path("out.csv"), "mine").unwrap();
    let (code, word, _) = desk.refused(&["export", "csv", "out.csv"]);
    assert_eq!((code, word.as_str()), (1, "in-the-way"));
    assert_eq!(std::fs::read(desk.path("out.csv")).unwrap(), b"mine");
    let done = desk.json(&["export", "csv", "out.csv", "--force", "--finds", &id]);
    assert_eq!(done, serde_json::json!({"format": "csv", "records": 1, "place": "10km"}));
    let (code, word, _) = desk.refused(&["export", "csv", "nowhere/out.csv"]);
    assert_eq!((code, word.as_str()), (1, "disk"));
    assert_eq!(desk.refused(&["export", "csv", "x", "--recipient", " "]).1, "field");
    assert_eq!(desk.refused(&["export", "csv", "x", "--finds", "ffffffff"]).1, "not-found");
    assert!(!desk.path("x").exists());
}

#[test]
fn other_programs_read_what_is_written() {
    let python = trug_tests_root().join("target/outside/exports/bin/python3");
    if !python.exists() {
        return skipped("the readers of exports are not there: run tests/exports-venv");
    }
    let desk = Desk::new();
    let read = || {
        for format in FORMATS {
            let photos: &[&str] = if format == "darwin-core" { &["--photos"] } else { &[] };
            desk.say(&[&["export", format, format, "--force", "--recipient", "Wren"], photos].concat());
        }
        let files = FORMATS.map(|format| desk.path(format));
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/read_exports.py");
        let said = run(Command::new(&python).arg(script).args(files));
        serde_json::from_str::<Value>(&said).unwrap()
    };
    let count = |said: &Value, what: &str| said[what].as_array().unwrap().len();
    let empty = read();
    for what in ["dwc_rows", "waypoints", "geojson_ids", "csv_rows"] {
        assert_eq!(count(&empty, what), 0, "{what}: a valid file with nothing in it");
    }

    secretive(&desk);
    let said = read();
    let terms: BTreeSet<_> = include_str!("data/darwin-core-terms.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|term| format!("http://rs.tdwg.org/dwc/terms/{term}"))
        .collect();
    for term in said["terms"].as_array().unwrap() {
        assert!(terms.contains(term.as_str().unwrap()), "{term} is none of Darwin Core's");
    }
    assert_eq!(said["core_type"], "http://rs.tdwg.org/dwc/terms/Occurrence");
    assert_eq!(said["extensions"], serde_json::json!([["http://rs.tdwg.org/ac/terms/Multimedia", 0]]));
    assert_eq!((&said["id_index"], count(&said, "dwc_rows")), (&0.into(), 2));
    if tool("exiftool").is_some() {
        assert_eq!(said["media_rows"], 2);
        assert_eq!(said["media"][0].as_array().unwrap()[1..], ["StillImage", "image/jpeg", "whole"]);
        assert_eq!(said["media_bytes"][0].as_str(), Some("ffd8"), "the file that it names is in the archive");
    }
    let row = &said["dwc_rows"][0];
    for (term, value) in [
        ("eventDate", "2026-10-18"),
        ("basisOfRecord", "HumanObservation"),
        ("coordinateUncertaintyInMeters", "7072"),
        ("individualCount", "7"),
        ("geodeticDatum", "EPSG:4326"),
        ("informationWithheld", "exact place"),
        ("recordedBy", ""),
        ("occurrenceRemarks", ""),
        ("identificationQualifier", ""),
    ] {
        assert_eq!(row[&format!("http://rs.tdwg.org/dwc/terms/{term}")], value, "{term}");
    }
    assert!(said["dwc_ids"][0].as_str().unwrap().starts_with("urn:uuid:"));
    assert_eq!((count(&said, "waypoints"), &said["gpx_version"]), (1, &"1.1".into()));
    assert_eq!(said["waypoints"][0][2], "SU31");
    assert_eq!(
        (count(&said, "geojson_errors"), count(&said, "geojson_ids"), count(&said, "points")),
        (0, 2, 2)
    );
    assert_eq!((count(&said, "csv_rows"), &said["csv_rows"][0]["square"]), (2, &"SU31".into()));
    // Longitude first (RFC 7946 §3.1.1), and the same place in all.
    let point = &said["points"][0];
    assert_eq!((&point[1], &point[0]), (&said["waypoints"][0][0], &said["waypoints"][0][1]));
    assert!((point[1].as_f64().unwrap() - 50.93).abs() < 0.1, "north");
}

fn trug_tests_root() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}
