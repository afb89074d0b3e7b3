//! The house's own rules, held by reading its files: which room may lean on which, and what may stand where.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The rooms of the core from the ground up: each may lean only on those above it in this list.
const ROOMS: [&str; 31] = [
    "units",
    "moment",
    "id",
    "words",
    "spelling",
    "stage",
    "progress",
    "disk",
    "change",
    "log",
    "place",
    "photo",
    "pack",
    "key",
    "find",
    "condition",
    "outing",
    "patch",
    "year",
    "area",
    "code",
    "allowance",
    "help",
    "meal",
    "export",
    "import",
    "seal",
    "exchange",
    "store",
    "error",
    "notebook",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// The source files below a folder, with their text up to their tests.
fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") && path.file_stem().unwrap() != "tests" {
                let text = fs::read_to_string(&path).unwrap();
                found.push((path, text.split("#[cfg(test)]\nmod tests {").next().unwrap().to_owned()));
            }
        }
    }
    assert!(!found.is_empty());
    found
}

fn room(path: &Path) -> String {
    let inside = path.strip_prefix(root().join("core/src")).unwrap();
    inside.components().next().unwrap().as_os_str().to_str().unwrap().trim_end_matches(".rs").to_owned()
}

/// The rooms that a text leans on: `crate::room::…`, also within braces.
fn leans_on(text: &str) -> BTreeSet<String> {
    let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    let code = code.collect::<Vec<_>>().join("\n");
    let mut rooms = BTreeSet::new();
    for (at, _) in code.match_indices("crate::") {
        if code[..at].ends_with('$') {
            continue; // a macro names what its users see
        }
        let rest = &code[at + "crate::".len()..];
        let names: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        rooms.insert(names);
    }
    rooms
}

#[test]
fn dependencies_between_rooms_point_one_way() {
    let place = |room: &str| ROOMS.iter().position(|known| *known == room);
    for (path, text) in sources("core/src") {
        let own = room(&path);
        if own == "lib" {
            continue;
        }
        let at = place(&own).unwrap_or_else(|| panic!("{own} is a new room: give it a place in the order"));
        for other in leans_on(&text) {
            let Some(other_at) = place(&other) else { continue };
            assert!(other_at <= at, "{} leans on {other}, which is above it", path.display());
        }
    }
}

#[test]
fn the_rule_can_be_broken() {
    let leaning = "use crate::notebook::Notebook;\n// use crate::store::View;\n";
    assert_eq!(leans_on(leaning), ["notebook".to_owned()].into());
}

#[test]
fn sql_pictures_and_archives_have_one_room_each() {
    // A backup is the notebook's own, an archive of records an export's.
    let only = [
        ("rusqlite", &["store"][..]),
        ("image::", &["photo"]),
        ("jpeg_decoder", &["photo"]),
        ("zip::", &["notebook", "export", "exchange"]),
    ];
    for (path, text) in sources("core/src") {
        for (what, homes) in only {
            let uses = text.lines().any(|line| line.starts_with("use ") && line.contains(what));
            assert!(!uses || homes.contains(&room(&path).as_str()), "{} uses {what}", path.display());
        }
    }
}

#[test]
fn pure_rooms_touch_no_disk_clock_or_chance() {
    for (path, text) in sources("core/src") {
        if ![
            "units",
            "moment",
            "words",
            "spelling",
            "stage",
            "change",
            "place",
            "find",
            "condition",
            "outing",
            "patch",
            "year",
            "area",
            "key",
            "code",
            "allowance",
            "help",
            "meal",
            "export",
            "import",
        ]
        .contains(&room(&path).as_str())
        {
            continue;
        }
        for impure in ["std::fs", "std::time", "SystemTime", "Timestamp::now", "rand::", "std::thread::sleep"]
        {
            // A trial draws its specimens from a seed that it is given, and is no part of an answer; tests read files.
            let apart =
                path.components().any(|part| part.as_os_str() == "trial" || part.as_os_str() == "tests");
            assert!(apart || !text.contains(impure), "{} uses {impure}", path.display());
        }
    }
}

#[test]
fn there_is_no_network_code() {
    for folder in ["core/src", "bindings/ffi/src", "bindings/terminal/src"] {
        for (path, text) in sources(folder) {
            for network in ["std::net", "TcpStream", "UdpSocket", "reqwest", "hyper::", "ureq"] {
                assert!(!text.contains(network), "{} uses {network}", path.display());
            }
        }
    }
}

#[test]
fn no_file_holds_more_than_one_idea_can_fill() {
    for folder in
        ["core/src", "core/benches", "core/tests", "core/examples", "bindings", "tests/src", "tests/tests"]
    {
        for (path, _) in sources(folder) {
            let lines = fs::read_to_string(&path).unwrap().lines().count();
            assert!(lines <= 450, "{} has {lines} lines", path.display());
        }
    }
}
