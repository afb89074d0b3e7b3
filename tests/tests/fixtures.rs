//! A notebook of every format so far opens whole, and views of other versions give way.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::json;
use trug::notebook::Notebook;
use trug::progress::Unwatched;
use trug::store::Criteria;
use trug_tests::{copy_folder, run};

fn fixture(format: u32) -> (tempfile::TempDir, PathBuf) {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("fixtures/notebook-format-{format}"));
    let dir = tempfile::tempdir().unwrap();
    let to = dir.path().join("notebook");
    copy_folder(&from, &to);
    (dir, to)
}

/// Every line of the log, in one text.
fn log(folder: &Path) -> String {
    let mut files = Vec::new();
    for device in fs::read_dir(folder.join("changes")).unwrap() {
        files.extend(fs::read_dir(device.unwrap().path()).unwrap().map(|file| file.unwrap().path()));
    }
    files.sort();
    files.iter().map(|file| fs::read_to_string(file).unwrap()).collect()
}

#[test]
fn format_1_opens_whole_and_its_log_is_not_touched() {
    let (_dir, folder) = fixture(1);
    let before = log(&folder);
    let notebook = Notebook::open(&folder).unwrap();
    let report = notebook.check(&Unwatched).unwrap();
    assert!(report.ok && report.unowned.is_empty(), "{report:?}");
    assert_eq!((report.finds, report.photos), (1, 1));
    let find = &notebook.finds(&Criteria::default()).unwrap()[0];
    let value = &find.find.value;
    assert_eq!((value.taken, value.seen.map(|n| (n.least(), n.most()))), (Some(2), Some((4, 6))));
    assert_eq!(value.note.as_deref(), Some("invented; \"quoted\", with a line\nend"));
    assert_eq!(value.further.get("smell_of_rain"), Some(&json!("strong")));
    assert_eq!(find.determinations[0].determination.value.taxon.as_deref(), Some("elf-cups"));
    assert_eq!(notebook.outings().unwrap().len(), 1);
    assert_eq!(notebook.patches(&Criteria::default()).unwrap().len(), 1);
    assert_eq!(notebook.visits(&Criteria::default()).unwrap().len(), 1);
    notebook.rebuild(&Unwatched).unwrap();
    drop(notebook);
    assert_eq!(log(&folder), before);
    assert!(before.contains("\"kind\":\"meal\""), "changes of an unknown kind are still there");
}

/// A view that another version of the app left, which alone still holds a change.
fn view_of_version(version: u32) {
    let (_dir, folder) = fixture(1);
    drop(Notebook::open(&folder).unwrap());
    let whole = log(&folder);
    let python = "import sqlite3,sys; db=sqlite3.connect(sys.argv[1]); \
        db.execute('PRAGMA user_version='+sys.argv[2]); db.execute('ALTER TABLE record RENAME TO other'); db.commit()";
    run(std::process::Command::new("python3")
        .args(["-c", python])
        .arg(folder.join("view.sqlite"))
        .arg(version.to_string()));
    let lost =
        fs::read_dir(folder.join("changes")).unwrap().next().unwrap().unwrap().path().join("000001.jsonl");
    fs::remove_file(lost).unwrap();
    let notebook = Notebook::open(&folder).unwrap();
    assert!(!notebook.opening().mended.is_empty(), "{:?}", notebook.opening());
    assert!(notebook.check(&Unwatched).unwrap().ok);
    drop(notebook);
    assert_eq!(log(&folder), whole, "the view gave the log back what it had lost");
}

#[test]
fn an_older_view_is_rebuilt_after_giving_back_what_only_it_held() {
    view_of_version(0);
}

#[test]
fn a_newer_view_is_rebuilt_after_giving_back_what_only_it_held() {
    view_of_version(99);
}
