//! Hostile bundles, built byte by byte: each is refused whole, for the stated reason, and the notebook stays as it was.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing, clippy::format_collect)]
#![allow(clippy::too_many_lines, clippy::cast_possible_truncation)]

mod archives;
mod bag;
mod bags;
mod changes;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use bag::{Bag, Case, RECORD};
use trug::find::Find;
use trug::notebook::{NewFind, Notebook};
use trug::progress::Unwatched;

/// Every file of the notebook and its bytes, the lock and SQLite's shared memory aside.
fn everything(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.to_string_lossy().into_owned();
            if path.is_dir() {
                found.insert(name, Vec::new());
                folders.push(path);
            } else if !name.ends_with("-shm") && !name.ends_with("/lock") {
                found.insert(name, fs::read(path).unwrap());
            }
        }
    }
    found
}

#[test]
fn each_hostile_bundle_is_refused_for_its_reason_and_nothing_changes() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("notebook");
    let notebook = Notebook::open(&folder).unwrap();
    notebook.add_find(NewFind { find: Find::default(), photos: Vec::new() }).unwrap();
    let file = dir.path().join("bundle.zip");
    let before = everything(&folder);
    let cases: Vec<Case> =
        [archives::names(), archives::entries(), archives::archives(), bags::bags(), changes::changes()]
            .into_iter()
            .flatten()
            .collect();
    assert!(cases.len() >= 60, "{}", cases.len());
    let mut wrong = Vec::new();
    for (what, code, words, bytes) in &cases {
        fs::write(&file, bytes).unwrap();
        match notebook.read_bundle(&file, None, true, &Unwatched) {
            Ok(received) => wrong.push(format!("{what}: taken: {received:?}")),
            Err(error) if error.code() != *code || !error.to_string().contains(words) => {
                wrong.push(format!("{what}: {} {error}, not {code} {words}", error.code()));
            }
            Err(_) => {}
        }
        assert!(everything(&folder) == before, "{what}: something changed on disk");
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

/// The bag that all of the above are spoilt from is good: what is refused is refused for what was spoilt.
#[test]
fn the_unspoilt_bundle_is_read() {
    let dir = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(&dir.path().join("notebook")).unwrap();
    let file = dir.path().join("bundle.zip");
    fs::write(&file, Bag::good().write()).unwrap();
    let received = notebook.read_bundle(&file, None, true, &Unwatched).unwrap();
    assert_eq!((received.merged.changes, received.merged.new), (2, 2));
    let find = notebook.find(RECORD.parse().unwrap()).unwrap();
    assert_eq!(find.find.value.taken, Some(1));
    assert!(notebook.check(&Unwatched).unwrap().ok);
}

/// Any byte of a good bundle may be flipped, or the rest cut off: it is refused, or means the same.
#[test]
fn no_damage_goes_unseen() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("bundle.zip");
    let good = Bag::good().write();
    let notebook = Notebook::open(&dir.path().join("notebook")).unwrap();
    let looked_at = |bytes: &[u8]| {
        fs::write(&file, bytes).unwrap();
        notebook.read_bundle(&file, None, false, &Unwatched)
    };
    let whole = looked_at(&good).unwrap();
    for at in 0..good.len() {
        let mut flipped = good.clone();
        flipped[at] ^= 1 << (at % 8);
        if let Ok(received) = looked_at(&flipped) {
            assert_eq!(received, whole, "byte {at}");
        }
        assert!(looked_at(&good[..at]).is_err(), "cut at {at}");
    }
}
