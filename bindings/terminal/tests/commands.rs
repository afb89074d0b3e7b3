//! The real program, as a person or another program calls it.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::{Desk, picture};
use serde_json::Value;

#[test]
fn a_find_is_added_shown_listed_amended_named_deleted_and_brought_back() {
    let desk = Desk::new();
    picture(&desk.path("a.jpg"));
    picture(&desk.path("b.png"));
    let added = desk.json(&[
        "find",
        "add",
        "--photo",
        "a.jpg",
        "--photo",
        "underside:b.png",
        "--at",
        "2026-10-18 14:05",
        "--place",
        "TQ 30624 78388",
        "--accuracy",
        "8",
        "--on",
        "fallen-branch",
        "--host",
        "hazel?",
        "--ground",
        "chalk",
        "--growth",
        "tuft",
        "--seen",
        "18-22",
        "--width",
        "12-35",
        "--taken",
        "3",
        "--grams",
        "40.5",
        "--note",
        "by the bend",
    ]);
    assert_eq!(added["at"], "2026-10-18T14:05:00+01:00");
    assert_eq!(
        (&added["photos"][0]["role"], &added["photos"][1]["role"]),
        (&"whole".into(), &"underside".into())
    );
    assert_eq!(added["photos"][0]["sha256"].as_str().unwrap().len(), 64);
    assert_eq!(added["position"]["accuracy_m"], 8.0);
    assert!(added["warnings"].is_array());
    let id = added["id"].as_str().unwrap();

    let mut shown = desk.json(&["find", "show", id]);
    assert_eq!(
        (&shown["seen"], &shown["width"]["most"], &shown["grams"]),
        (&serde_json::json!([18, 22]), &35.0.into(), &40.5.into())
    );
    assert_eq!((&shown["host"]["tree"], &shown["host"]["sure"]), (&"hazel".into(), &"guess".into()));
    let advice = shown.as_object_mut().unwrap().remove("advice").unwrap();
    assert_eq!(
        (advice.as_array().unwrap().len(), &advice[0]["followed"]),
        (1, &false.into()),
        "it has no name yet"
    );
    assert_eq!(desk.json(&["find", "list"])[0], shown);

    let amended = desk.json(&["find", "amend", id, "--ground", "acid", "--empty", "note"]);
    assert_eq!((&amended["ground"], &amended["note"]), (&"acid".into(), &Value::Null));
    let named = desk.json(&["find", "name", id, "jelly-ear", "--who", "R.", "--sure", "likely"]);
    assert_eq!(
        (&named["taxon"], &named["how"], &named["who"]),
        (&"jelly-ear".into(), &"sight".into(), &"R.".into())
    );
    desk.say(&["find", "delete", id]);
    assert_eq!(desk.json(&["find", "list"]).as_array().unwrap().len(), 0);
    assert_eq!(desk.say(&["find", "list"]).trim(), "No finds.");
    desk.say(&["find", "undo", id]);
    let check = desk.json(&["notebook", "check"]);
    assert_eq!(
        (&check["ok"], &check["finds"], &check["photos"], &check["problems"]),
        (&true.into(), &1.into(), &2.into(), &serde_json::json!([]))
    );
}

#[test]
fn what_is_said_to_people_reads_as_it_should() {
    let desk = Desk::new();
    let added = desk.json(&[
        "find",
        "add",
        "--at",
        "2026-10-18T14:05:00+01:00",
        "--place",
        "SU3814",
        "--seen",
        "7",
        "--taken",
        "2",
    ]);
    let id = added["id"].as_str().unwrap();
    let short = &id[..13];
    assert_eq!(
        desk.say(&["find", "show", short]),
        format!(
            "Find {short}\n  when       2026-10-18 14:05\n  where      SU3814 ± 707 m (typed)\n  seen       7\n  taken      2\n  advice     Leave these. Nobody has a name for it.\n             taken against it\n"
        )
    );
    assert_eq!(
        desk.say(&["find", "name", id, "velvet-shank"]),
        "Named: velvet-shank by sight\n  This is somebody's word. Check every look-alike on every one that you cut. If in any doubt, leave it.\n"
    );
    assert_eq!(
        desk.say(&["find", "list"]),
        format!("{short}  2026-10-18 14:05  SU3814 ± 707 m (typed)          velvet-shank, 7 seen, 2 taken\n")
    );
}

#[test]
fn an_outing_gathers_its_finds() {
    let desk = Desk::new();
    desk.say(&["outing", "start", "Harrow Shaw", "--may-pick", "permitted", "--with", "R."]);
    desk.say(&["find", "add", "--seen", "1"]);
    let shown = desk.json(&["outing", "show"]);
    assert_eq!(
        (&shown["outing"]["where"], shown["finds"].as_array().unwrap().len()),
        (&"Harrow Shaw".into(), 1)
    );
    desk.say(&["outing", "end"]);
    assert_eq!(desk.refused(&["outing", "show"]).0, 1);
    let id = shown["outing"]["id"].as_str().unwrap();
    assert_eq!(desk.json(&["find", "list", "--outing", id]).as_array().unwrap().len(), 1);
    assert!(desk.say(&["outing", "show", id]).contains("may I pick permitted"));
}

/// Figures of the OS worked example and test point TP09: see the tests of `place` for their sources.
#[test]
fn place_answers_in_every_form() {
    let desk = Desk::new();
    let place = desk.json(&["place", "TQ", "30624", "78388"]);
    let fields: Vec<&str> = place.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(
        fields,
        [
            "latitude",
            "longitude",
            "uncertainty_m",
            "easting",
            "northing",
            "british_grid",
            "irish_grid",
            "mgrs"
        ]
    );
    assert_eq!(
        (&place["british_grid"], &place["mgrs"]),
        (&"TQ 30624 78388".into(), &"30UXC9994108180".into())
    );
    assert_eq!(desk.json(&["place", "33.3", "44.4"])["british_grid"], Value::Null);
    assert_eq!(desk.json(&["place", "-33.3, -44.4"])["latitude"], -33.3);
    assert!(desk.say(&["place", "SU31"]).contains("7071.1 m"));
}

#[test]
fn refusals_say_why_and_keep_places_and_notes_to_themselves() {
    let desk = Desk::new();
    std::fs::create_dir(desk.path("folder")).unwrap();
    std::fs::write(desk.path("text.jpg"), "not a picture").unwrap();
    std::fs::write(desk.path("empty.jpg"), "").unwrap();
    for (photo, code) in [("gone.jpg", 1), ("folder", 1), ("text.jpg", 1), ("empty.jpg", 1)] {
        let (exit, _, message) = desk.refused(&["find", "add", "--photo", photo, "--note", "secret"]);
        assert_eq!(exit, code);
        assert!(message.starts_with("photo 1: ") && !message.contains("secret"), "{message}");
    }
    let (exit, code, message) = desk.refused(&["find", "add", "--place", "91.5, 200.25"]);
    assert!(exit == 1 && code.starts_with("place-") && !message.contains("200.25"), "{code} {message}");
    let (exit, code, _) = desk.refused(&["find", "add", "--seen", "2", "--taken", "3"]);
    assert_eq!((exit, code.as_str()), (1, "field"));
    assert_eq!(desk.refused(&["find", "show", "nonsense"]).1, "not-found");
    let long = "x".repeat(30_000);
    assert_eq!(desk.refused(&["find", "add", "--note", &long]).1, "field");
    assert_eq!(desk.json(&["find", "list"]).as_array().unwrap().len(), 0, "nothing half-written");
}

#[test]
fn wrong_usage_is_exit_2_in_both_forms() {
    let desk = Desk::new();
    for arguments in [
        &["find", "ad"][..],
        &["find", "add", "--on", "asphalt"],
        &["find"],
        &["place"],
        &["find", "add", "--seen", "many"],
    ] {
        let (exit, code, message) = desk.refused(arguments);
        assert_eq!((exit, code.as_str()), (2, "usage"), "{arguments:?}");
        assert!(!message.is_empty());
        assert_eq!(desk.trug(arguments).status.code(), Some(2));
    }
    assert_eq!(desk.trug(&["--help"]).status.code(), Some(0));
}

#[test]
fn a_photo_is_stored_once_and_an_unowned_one_is_adopted() {
    let desk = Desk::new();
    picture(&desk.path("a.jpg"));
    let first = desk.json(&["find", "add", "--photo", "a.jpg"]);
    let again = desk.json(&["find", "add", "--photo", "spore-print:a.jpg"]);
    assert!(again["warnings"].as_array().unwrap().iter().any(|w| w["code"] == "photo-shared"), "{again}");
    let hash = first["photos"][0]["sha256"].as_str().unwrap();
    picture(&desk.path("c.png"));
    assert_eq!(desk.refused(&["find", "add", "--photo", "c.png", "--photo", "gone.jpg"]).0, 1);
    let unowned = desk.json(&["photo", "unowned"])["unowned"][0].as_str().unwrap().to_owned();
    assert_ne!(unowned, hash);
    desk.say(&["photo", "adopt", first["id"].as_str().unwrap(), &unowned, "--role", "cut"]);
    assert_eq!(desk.json(&["photo", "unowned"])["unowned"].as_array().unwrap().len(), 0);
    let check = desk.json(&["notebook", "check"]);
    assert_eq!((&check["finds"], &check["photos"], &check["ok"]), (&2.into(), &3.into(), &true.into()));
}

#[test]
fn a_backup_goes_and_comes_back_and_a_folder_in_use_is_not_overwritten() {
    let desk = Desk::new();
    picture(&desk.path("a.jpg"));
    desk.say(&["find", "add", "--photo", "a.jpg"]);
    desk.say(&["notebook", "backup", "saved.zip"]);
    assert_eq!(desk.refused(&["notebook", "backup", "saved.zip"]).1, "in-the-way");
    assert_eq!(desk.refused(&["notebook", "restore", "saved.zip"]).1, "in-the-way");
    let restored = desk.json(&["--notebook", "again", "notebook", "restore", "saved.zip"]);
    assert_eq!(restored["photos"], 1);
    assert_eq!(desk.json(&["--notebook", "again", "find", "list"]), desk.json(&["find", "list"]));
    assert_eq!(desk.json(&["notebook", "rebuild"])["rebuilt"], true);
    assert_eq!(desk.refused(&["--notebook", "third", "notebook", "restore", "a.jpg"]).1, "backup");
    assert!(!desk.path("third").exists());
}

#[test]
fn near_a_place_the_nearest_comes_first() {
    let desk = Desk::new();
    for place in ["SU 38710 14900", "SU 38710 14792", "SU 50000 20000"] {
        desk.say(&["find", "add", "--place", place]);
    }
    let near = desk.json(&["find", "list", "--near", "SU 38710 14792", "--within", "150"]);
    assert_eq!(near.as_array().unwrap().len(), 2);
    let words = desk.say(&["find", "list", "--near", "SU 38710 14792"]);
    assert!(words.find("14792").unwrap() < words.find("14900").unwrap(), "{words}");
}

#[cfg(unix)]
#[test]
fn a_name_that_is_no_text_is_a_file_like_any_other() {
    use std::os::unix::ffi::OsStrExt;
    let desk = Desk::new();
    let name = std::ffi::OsStr::from_bytes(b"caf\xe9.jpg");
    picture(&desk.path("a.jpg"));
    std::fs::copy(desk.path("a.jpg"), desk.path("").join(name)).unwrap();
    let with_role = std::ffi::OsStr::from_bytes(b"cut:caf\xe9.jpg");
    let mut command = desk.command();
    command.args(["--json", "find", "add", "--photo"]).arg(name).arg("--photo").arg(with_role);
    let output = command.output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let added: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!((&added["photos"][0]["role"], &added["photos"][1]["role"]), (&"whole".into(), &"cut".into()));
}

#[test]
fn the_demo_leaves_a_whole_notebook_and_overwrites_nothing() {
    let desk = Desk::new();
    let told = desk.say(&["demo", "--into", "outing"]);
    assert!(told.starts_with("An invented outing in invented woods."), "{told}");
    for said in ["Not settled. Funeral bell still fits.", "Fits velvet shank.", "Fits elf cups, a group"] {
        assert!(told.contains(said), "{said}: {told}");
    }
    assert!(told.contains("If in any doubt, leave it."));
    let list = desk.json(&["--notebook", "outing/notebook", "find", "list"]);
    assert_eq!(list.as_array().unwrap().len(), 3);
    let name =
        |find: usize| list[find]["determinations"].as_array().unwrap().last().unwrap()["taxon"].clone();
    assert_eq!([name(0), name(1), name(2)], ["velvet-shank".into(), "elf-cups".into(), Value::Null]);
    assert_eq!(desk.json(&["--notebook", "outing/notebook", "notebook", "check"])["ok"], true);
    assert_eq!(desk.refused(&["demo", "--into", "outing"]).1, "in-the-way");
}

#[test]
fn what_is_known_is_listed_shown_and_printed() {
    let desk = Desk::new();
    let list = desk.json(&["pack", "list"]);
    assert!(list["taxa"].as_array().unwrap().len() >= 110);
    let shown = desk.json(&["pack", "show", "velvet SHANK"]);
    assert_eq!((&shown["id"], &shown["danger"]), (&"velvet-shank".into(), &"food".into()));
    assert_eq!(shown["characters"]["ring"]["usual"], serde_json::json!(["absent"]));
    assert!(desk.say(&["pack", "show", "Galerina marginata"]).contains("deadly"));
    assert_eq!(desk.refused(&["pack", "show", "no such thing"]).1, "not-found");
    desk.say(&["pack", "sheets", "sheets"]);
    assert!(std::fs::read_dir(desk.path("sheets")).unwrap().count() > 30);
    assert_eq!(desk.refused(&["pack", "list", "--pack", "nowhere"]).0, 1);
}
