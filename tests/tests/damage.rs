//! Bytes flipped, files cut short, files gone: what one copy of a change has lost, the other gives back.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::{Path, PathBuf};

use trug::find::{Count, Find};
use trug::notebook::{CheckReport, FindRecord, NewFind, Notebook};
use trug::progress::Unwatched;
use trug::store::Criteria;
use trug_tests::{copy_folder, long};

const PAGE: usize = 4096;
const FINDS: u32 = 120;

/// A notebook whose log has several closed segments, and the finds in it.
struct Whole {
    dir: tempfile::TempDir,
    finds: Vec<FindRecord>,
}

impl Whole {
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("whole");
        let notebook = Notebook::open(&folder).unwrap();
        for n in 0..FINDS {
            let note = format!("{n} {}", "under the leaning one ".repeat(12));
            let find = Find { seen: Count::exactly(n).ok(), note: Some(note), ..Find::default() };
            let id = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id;
            if n % 4 == 0 {
                notebook.amend_find(id, &Find { taken: Some(0), ..Find::default() }, &[]).unwrap();
            }
        }
        let finds = notebook.finds(&Criteria::default()).unwrap();
        drop(notebook);
        cut_into_segments(&folder);
        let whole = Self { dir, finds };
        whole.is_whole(&folder, "untouched");
        whole
    }

    /// A copy to be damaged.
    fn copy(&self) -> PathBuf {
        let copy = self.dir.path().join("copy");
        let _ = fs::remove_dir_all(&copy);
        copy_folder(&self.dir.path().join("whole"), &copy);
        copy
    }

    fn is_whole(&self, folder: &Path, what: &str) {
        let (report, finds) = opened(folder);
        assert!(report.ok, "{what}: {:?}", report.problems);
        assert_eq!(finds.len(), self.finds.len(), "{what}: {report:?}");
        assert_eq!(finds, self.finds, "{what}");
    }

    fn files(&self, ending: &str) -> Vec<PathBuf> {
        let mut found = Vec::new();
        let mut folders = vec![self.dir.path().join("whole")];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else if path.to_string_lossy().ends_with(ending) {
                    found.push(path.strip_prefix(self.dir.path().join("whole")).unwrap().to_owned());
                }
            }
        }
        found.sort();
        found
    }
}

/// Cuts the log into segments far smaller than the notebook itself makes, so that several are closed.
fn cut_into_segments(folder: &Path) {
    let device = fs::read_dir(folder.join("changes")).unwrap().next().unwrap().unwrap().path();
    let text = fs::read_to_string(device.join("000001.jsonl")).unwrap();
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    for (n, lines) in (1..).zip(lines.chunks(30)) {
        fs::write(device.join(format!("{n:06}.jsonl")), lines.concat()).unwrap();
    }
    fs::remove_file(folder.join("view.sqlite")).unwrap();
}

fn opened(folder: &Path) -> (CheckReport, Vec<FindRecord>) {
    let notebook = Notebook::open(folder).unwrap();
    let report = notebook.check(&Unwatched).unwrap();
    (report, notebook.finds(&Criteria::default()).unwrap())
}

fn flip(path: &Path, at: usize) {
    let mut bytes = fs::read(path).unwrap();
    let at = at.min(bytes.len() - 1);
    bytes[at] ^= 0x15;
    fs::write(path, bytes).unwrap();
}

/// Where in every page a byte is flipped: in its head, its cell pointers, and its cells.
fn offsets() -> Vec<usize> {
    if long() { (0..PAGE).step_by(97).collect() } else { vec![3, 40, 2100, 4000] }
}

#[test]
fn a_flipped_byte_in_any_page_of_the_view_costs_nothing() {
    let whole = Whole::new();
    let length = fs::metadata(whole.dir.path().join("whole/view.sqlite")).unwrap().len();
    for page in 0..usize::try_from(length).unwrap() / PAGE {
        for offset in offsets() {
            let copy = whole.copy();
            flip(&copy.join("view.sqlite"), page * PAGE + offset);
            whole.is_whole(&copy, &format!("view, page {page}, byte {offset}"));
        }
    }
}

#[test]
fn a_flipped_byte_anywhere_in_the_log_costs_nothing() {
    let whole = Whole::new();
    for file in whole.files(".jsonl") {
        let length =
            usize::try_from(fs::metadata(whole.dir.path().join("whole").join(&file)).unwrap().len()).unwrap();
        for block in 0..length.div_ceil(PAGE) {
            for offset in offsets() {
                let copy = whole.copy();
                flip(&copy.join(&file), block * PAGE + offset);
                whole.is_whole(&copy, &format!("log, block {block}, byte {offset}"));
            }
        }
        // A line end is what holds two lines apart.
        let copy = whole.copy();
        let end = fs::read(copy.join(&file)).unwrap().iter().position(|b| *b == b'\n').unwrap();
        flip(&copy.join(&file), end);
        fs::remove_file(copy.join("view.sqlite")).unwrap();
        whole.is_whole(&copy, "a line end, and no view");
    }
}

#[test]
fn any_file_cut_short_anywhere_costs_nothing() {
    let whole = Whole::new();
    for file in whole.files(".jsonl").into_iter().chain(whole.files(".sqlite")) {
        let length = fs::metadata(whole.dir.path().join("whole").join(&file)).unwrap().len();
        for cut in (0..length).step_by(PAGE) {
            let copy = whole.copy();
            fs::OpenOptions::new().write(true).open(copy.join(&file)).unwrap().set_len(cut).unwrap();
            whole.is_whole(&copy, &format!("{} cut at {cut}", file.display()));
        }
    }
}

#[test]
fn any_file_gone_costs_nothing() {
    let whole = Whole::new();
    let all =
        [".jsonl", ".sqlite", "lock", "notebook.json"].into_iter().flat_map(|ending| whole.files(ending));
    for file in all {
        let copy = whole.copy();
        fs::remove_file(copy.join(&file)).unwrap();
        whole.is_whole(&copy, &format!("without {}", file.display()));
        // And what is written next survives, too.
        let notebook = Notebook::open(&copy).unwrap();
        let id = notebook.add_find(NewFind::default()).unwrap().id;
        drop(notebook);
        assert!(Notebook::open(&copy).unwrap().find(id).is_ok());
    }
}

#[test]
fn side_files_that_are_stale_or_nonsense_cost_nothing() {
    let whole = Whole::new();
    let nonsense = [0x5a_u8; 9000];
    for name in
        ["view.sqlite-wal", "view.sqlite-shm", "view.building", "notebook.json", "lock", "view.sqlite"]
    {
        let copy = whole.copy();
        fs::write(copy.join(name), nonsense).unwrap();
        whole.is_whole(&copy, &format!("{name} is nonsense"));
        assert!(name != "view.sqlite" || fs::read_dir(copy.join("aside")).unwrap().count() > 0, "kept aside");
    }
    // A view from before the last finds, as after a restored phone.
    let copy = whole.copy();
    let stale = fs::read(copy.join("view.sqlite")).unwrap();
    let id = Notebook::open(&copy).unwrap().add_find(NewFind::default()).unwrap().id;
    let _ = fs::remove_file(copy.join("view.sqlite-wal"));
    let _ = fs::remove_file(copy.join("view.sqlite-shm"));
    fs::write(copy.join("view.sqlite"), stale).unwrap();
    assert!(Notebook::open(&copy).unwrap().find(id).is_ok());
}

#[test]
fn damaged_in_both_copies_exactly_that_change_is_lost() {
    let whole = Whole::new();
    for (n, victim) in whole.finds.iter().enumerate().step_by(17) {
        let note = victim.find.value.note.clone().unwrap();
        let needle = format!("\"note\":\"{note}\"");
        let copy = whole.copy();
        let mut harmed = 0;
        for file in whole.files(".jsonl").into_iter().chain(whole.files(".sqlite")) {
            let path = copy.join(file);
            let mut bytes = fs::read(&path).unwrap();
            let found: Vec<usize> = bytes
                .windows(needle.len())
                .enumerate()
                .filter(|(_, w)| *w == needle.as_bytes())
                .map(|(at, _)| at)
                .collect();
            for at in &found {
                bytes[at + 12] ^= 1;
            }
            harmed += found.len();
            fs::write(path, bytes).unwrap();
        }
        assert!(harmed >= 2, "one line in the log, one row in the view, perhaps an old page of it");
        let (report, finds) = opened(&copy);
        let lost: Vec<_> = report.problems.iter().filter(|problem| problem.code == "change-lost").collect();
        assert_eq!((report.ok, report.problems.len(), lost.len()), (false, 1, 1), "{report:?}");
        assert!(lost[0].message.starts_with("one change is damaged in both copies"), "{}", lost[0].message);
        let kept: Vec<_> = finds.iter().map(|find| find.id).collect();
        for (m, find) in whole.finds.iter().enumerate() {
            // Amended finds keep what the later change said of them.
            let there = finds.iter().any(|kept| kept == find);
            assert_eq!(there, m != n, "find {m} when {n} was harmed; kept {}", kept.len());
        }
    }
}
