//! Patches at a desk: founded, joined, looked at, rested, merged and parted, and what is said of them.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use desk::Desk;
use serde_json::json;

/// Two elders 30 m apart, and what came of them.
fn elders() -> (Desk, String, String) {
    let desk = Desk::new();
    let add = |name: &str, place: &str| {
        let more = ["--host", "elder", "--on", "standing-trunk", "--accuracy", "4"];
        let added = desk.json(&[&["patch", "add", name, "--place", place], &more[..]].concat());
        added["id"].as_str().unwrap().to_owned()
    };
    let old = add("old elder", "SU 38710 14792");
    let bent = add("bent elder", "SU 38740 14792");
    let find = |place: &str, at: &str, seen: &str, more: &[&str]| {
        let find = ["find", "add", "--place", place, "--accuracy", "5", "--at", at, "--seen", seen];
        desk.json(&[&find, more].concat())
    };
    let joined = find("SU 38714 14792", "2026-12-31 15:00", "7", &["--taken", "3", "--grams", "40"]);
    assert_eq!((&joined["patch"]["answer"], &joined["patch"]["patch"]["id"]), (&json!("joins"), &json!(old)));
    find("SU 38741 14794", "2027-01-02 11:00", "18-22", &["--taken", "5", "--specimens", "1", "--by", "R."]);
    desk.say(&["patch", "look", "old elder", "--at", "2027-01-09 10:00"]);
    (desk, old, bent)
}

#[test]
fn a_find_is_told_which_patch_it_joins_or_may_or_how_to_found_one() {
    let (desk, old, _) = elders();
    let add = |place: &str, more: &[&str]| {
        desk.say(&[&["find", "add", "--at", "2027-01-10 12:00", "--place", place], more].concat())
    };
    assert!(
        add("SU 38712 14792", &["--accuracy", "5"])
            .contains("  patch      joins old elder, 2 m from its middle\n")
    );
    let doubtful = add("SU 38724 14792", &["--accuracy", "15"]);
    assert!(
        doubtful.contains("  patch      old elder (14 m) or bent elder (16 m)? `trug find amend "),
        "{doubtful}"
    );
    let other = add("SU 38712 14792", &["--accuracy", "5", "--host", "oak!"]);
    assert!(other.contains("  patch      none here yet: `trug patch add NAME --find "), "{other}");

    let alone = desk.json(&["find", "add", "--place", "SU 39000 15000", "--host", "beech", "--on", "stump"]);
    assert_eq!(alone["patch"], json!({"answer": "new"}));
    let find = alone["id"].as_str().unwrap();
    let founded = desk.json(&["patch", "add", "--find", find]);
    assert_eq!((&founded["host"]["tree"], &founded["on"]), (&json!("beech"), &json!("stump")));
    assert_eq!(desk.json(&["find", "show", find])["patch"], founded["id"]);
    let given = desk.json(&["find", "add", "--patch", "OLD elder"]);
    let given = desk.json(&["find", "show", given["id"].as_str().unwrap()]);
    assert_eq!(given["patch"], json!(old));
    assert_eq!(desk.json(&["find", "list", "--patch", "old elder"]).as_array().unwrap().len(), 3);
}

#[test]
fn the_history_of_a_winter_is_one_season_and_reads_as_a_table() {
    let (desk, old, _) = elders();
    let short = &old[..13];
    assert_eq!(
        desk.say(&["patch", "show", "old elder"]),
        format!(
            "Patch {short}  old elder\n  where      SU 3871 1479 ± 4 m\n  reaches    10 m\n  tree       elder (likely)\n  \
             on         standing-trunk\n\n\
             2026/27: looked twice, nothing there once; 7 seen, 3 taken, 4 left, 40 g\n  \
             day                     seen  taken     left  weight\n  \
             2027-01-09  nothing\n  \
             2026-12-31  taken          7      3        4  40 g\n\n\
             Taken against advice:\n  \
             2026-12-31 15:00  3 taken; Leave these. Nobody has a name for it.\n"
        )
    );
    let shown = desk.json(&["patch", "show", &old]);
    let season = &shown["seasons"][0];
    assert_eq!(
        (&season["season"], &season["looked"], &season["nothing"], &season["seen"], &season["grams"]),
        (&json!("2026/27"), &json!(2), &json!(1), &json!([7, 7]), &json!(40.0))
    );
    assert_eq!((&shown["patch"]["id"], &shown["merged"]), (&json!(old), &json!([])));
    assert_eq!(season["looks"][0]["day"], "2027-01-09");
}

#[test]
fn the_way_from_here_is_said_with_distance_and_bearing() {
    let (desk, old, bent) = elders();
    let from = desk.json(&["patch", "list", "--from", "SU 38780 14792"]);
    assert_eq!((&from[0]["id"], &from[1]["id"]), (&json!(bent), &json!(old)));
    // Grid west is 0.4 degrees off true west here: the grid's convergence at SU 38 14 (from the grid's own formula).
    let bearing = from[1]["bearing"].as_f64().unwrap();
    assert!((bearing - 270.4).abs() < 0.3, "{bearing}");
    assert!((from[1]["distance_m"].as_f64().unwrap() - 70.0).abs() < 1.0);
    let said = desk.say(&["patch", "list", "--from", "SU 38780 14792"]);
    assert_eq!(
        said,
        format!(
            "{}  bent elder  40 m W (270°)     2027-01-02: taken\n{}  old elder   70 m W (270°)     2027-01-09: nothing\n",
            &bent[..13],
            &old[..13]
        )
    );
    let listed = desk.say(&["patch", "list"]);
    assert!(listed.starts_with(&format!("{}  old elder   SU 3871 1479", &old[..13])), "{listed}");
}

#[test]
fn two_become_one_and_are_parted_again() {
    let (desk, old, bent) = elders();
    let said = desk.say(&["patch", "merge", "bent elder", "old elder"]);
    assert!(said.starts_with("Merged bent elder into old elder: "), "{said}");
    assert_eq!(desk.json(&["patch", "list"]).as_array().unwrap().len(), 1);
    let both = desk.json(&["patch", "show", &bent]);
    assert_eq!((&both["patch"]["id"], &both["merged"][0]["name"]), (&json!(old), &json!("bent elder")));
    let season = &both["seasons"][0];
    assert_eq!(
        (&season["seen"], &season["taken"], &season["left"]),
        (&json!([25, 29]), &json!([8, 8]), &json!([16, 20]))
    );
    let said = desk.say(&["patch", "show", "old elder"]);
    assert!(
        said.contains(&format!("  also       bent elder ({}), merged into this one\n", &bent[..13])),
        "{said}"
    );
    assert!(said.contains("; 25-29 seen, 8 taken, 16-20 left, 40 g and more\n"), "{said}");
    assert!(
        said.contains("2027-01-02  taken      18-22      5    12-16  not weighed   1 for study; by R.\n"),
        "{said}"
    );
    assert_eq!(desk.refused(&["patch", "merge", &bent, "old elder"]).1, "field");
    desk.say(&["patch", "undo", "old elder"]);
    assert_eq!(desk.json(&["patch", "list"]).as_array().unwrap().len(), 2);
}

#[test]
fn a_patch_is_renamed_moved_and_rested() {
    let (desk, old, _) = elders();
    assert_eq!(desk.json(&["patch", "rename", "old elder", "the elder"])["name"], "the elder");
    let moved = desk.json(&["patch", "move", "the elder", "--place", "SU 38720 14800", "--radius", "15"]);
    assert_eq!((&moved["id"], &moved["radius"]), (&json!(old), &json!(15.0)));
    assert_eq!(
        desk.json(&["patch", "rest", &old, "--until", "1 December 2099"])["rests_until"],
        "2099-12-01"
    );
    assert!(desk.say(&["patch", "list"]).contains("2027-01-09: nothing, rests until 2099-12-01\n"));
    assert!(desk.say(&["patch", "show", &old]).contains("  rests      until 2099-12-01\n"));
    assert_eq!(desk.json(&["patch", "rest", &old, "--end"])["rests_until"], json!(null));
    let looked = desk.say(&["patch", "look", "the elder", "--at", "2027-02-01 09:30", "--note", "frost"]);
    assert_eq!(looked, "Noted for the elder: looked at 2027-02-01 09:30, nothing there.\n");
    let look = desk.json(&["patch", "look", "the elder", "--outcome", "seen", "--by", "R."]);
    assert_eq!((&look["patch"], &look["outcome"], &look["by"]), (&json!(old), &json!("seen"), &json!("R.")));
    assert!(desk.json(&["notebook", "check"])["ok"].as_bool().unwrap());
}

#[test]
fn what_cannot_be_is_refused_and_says_what_to_do() {
    let (desk, _, _) = elders();
    desk.say(&["patch", "add", "Old Elder", "--place", "SU 41000 15000"]);
    for (arguments, exit, code, words) in [
        (&["patch", "show", "old elder"][..], 1, "ambiguous", "give the id"),
        (&["patch", "show", "the oak"], 1, "not-found", "there is no patch"),
        (&["patch", "add"], 2, "usage", "required"),
        (&["patch", "add", "x", "--place", "nowhere"], 1, "place-unrecognised", "SU 387 147"),
        (&["patch", "add", "x", "--radius", "900"], 1, "field", "500 m"),
        (&["patch", "rest", "bent elder"], 2, "usage", "--until"),
        (&["patch", "rest", "bent elder", "--until", "soon"], 2, "usage", "in 2 weeks"),
        (&["patch", "move", "bent elder"], 2, "usage", "--place"),
        (&["patch", "look", "bent elder", "--outcome", "lots"], 2, "usage", "nothing"),
    ] {
        let refused = desk.refused(arguments);
        assert_eq!((refused.0, refused.1.as_str()), (exit, code), "{arguments:?}");
        assert!(refused.2.contains(words), "{arguments:?}: {}", refused.2);
    }
    let empty = Desk::new();
    assert!(
        empty
            .say(&["patch", "list"])
            .starts_with("No patches yet. `trug patch add NAME --place REF` keeps one")
    );
    let new = empty.json(&["patch", "add", "alone"]);
    let said = empty.say(&["patch", "show", new["id"].as_str().unwrap()]);
    assert!(said.contains("Not looked at yet. `trug patch look "), "{said}");
}
