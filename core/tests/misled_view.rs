//! A view whose rows say wrong things about the log: nothing is lost, nothing is called lost, and the log stays as it was.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use trug::find::{Count, Find};
use trug::notebook::{FindRecord, NewFind, Notebook};
use trug::progress::Unwatched;
use trug::store::Criteria;

/// A notebook with three closed segments and one that goes on.
fn notebook(folder: &Path) -> Vec<FindRecord> {
    let notebook = Notebook::open(folder).unwrap();
    for n in 0..40 {
        let find = Find { seen: Count::exactly(n).ok(), ..Find::default() };
        notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    }
    let finds = notebook.finds(&Criteria::default()).unwrap();
    drop(notebook);
    let device = fs::read_dir(folder.join("changes")).unwrap().next().unwrap().unwrap().path();
    let text = fs::read_to_string(device.join("000001.jsonl")).unwrap();
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    for (n, lines) in (1..).zip(lines.chunks(10)) {
        fs::write(device.join(format!("{n:06}.jsonl")), lines.concat()).unwrap();
    }
    fs::remove_file(folder.join("view.sqlite")).unwrap();
    drop(Notebook::open(folder).unwrap());
    finds
}

fn log(folder: &Path) -> BTreeMap<PathBuf, String> {
    let devices = fs::read_dir(folder.join("changes")).unwrap().map(|entry| entry.unwrap().path());
    let files = devices.flat_map(|device| fs::read_dir(device).unwrap().map(|entry| entry.unwrap().path()));
    files.map(|file| (file.clone(), fs::read_to_string(file).unwrap())).collect()
}

#[test]
fn a_view_that_misleads_costs_nothing_and_raises_no_alarm() {
    for lie in [
        "UPDATE segment SET lines = lines + 64 WHERE number = 2",
        "UPDATE segment SET bytes = bytes + 64 WHERE number = 2",
        "UPDATE segment SET bytes = bytes - 64 WHERE number = 2",
        "UPDATE segment SET number = 9 WHERE number = 2",
        "UPDATE segment SET number = 9 WHERE number = 4",
        "UPDATE segment SET device = zeroblob(16) WHERE number = 2",
        "UPDATE segment SET stamp = stamp + (1 << 50) WHERE number = 2",
        "UPDATE segment SET seal = seal + 1 WHERE number = 2",
        "DELETE FROM segment WHERE number = 2",
        "UPDATE change SET segment = 9 WHERE n = 13",
        "UPDATE change SET segment = 4 WHERE n = 13",
        "UPDATE change SET device = zeroblob(16) WHERE n = 13",
        "UPDATE change SET record = zeroblob(16) WHERE n = 13",
        "UPDATE change SET text = replace(text, 'find', 'fine') WHERE n = 13",
        "DELETE FROM change WHERE n = 13",
    ] {
        let dir = tempfile::tempdir().unwrap();
        let finds = notebook(dir.path());
        let before = log(dir.path());
        Connection::open(dir.path().join("view.sqlite")).unwrap().execute_batch(lie).unwrap();
        let opened = Notebook::open(dir.path()).unwrap();
        let report = opened.check(&Unwatched).unwrap();
        assert!(report.ok, "{lie}: {:?}", report.problems);
        // A segment that the view forgot is folded in again as if it were new.
        let caught_up = lie.starts_with("DELETE FROM segment");
        assert!(caught_up || !report.mended.is_empty(), "{lie}: it must be noticed");
        assert_eq!(opened.finds(&Criteria::default()).unwrap(), finds, "{lie}");
        assert_eq!(log(dir.path()), before, "{lie}");
        drop(opened);
        let again = Notebook::open(dir.path()).unwrap().check(&Unwatched).unwrap();
        assert_eq!((again.ok, again.mended), (true, Vec::new()), "{lie}: mended for good");
    }
}
