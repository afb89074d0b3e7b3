//! Segments that the notebook itself filled and closed, and a process killed in the midst of its work: whichever file is
//! then missing or harmed, nothing is.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use trug::find::Find;
use trug::log::SEGMENT_BYTES;
use trug::notebook::{FindRecord, NewFind, Notebook};
use trug::progress::Unwatched;
use trug::store::Criteria;
use trug_tests::{all_there, copy_folder, kept, long};

struct Filled {
    dir: tempfile::TempDir,
    finds: Vec<FindRecord>,
}

impl Filled {
    /// Keeps finds with long notes until two segments are closed and a third is begun.
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("whole");
        let notebook = Notebook::open(&folder).unwrap();
        let mut n = 0;
        while segments(&folder).len() < 3 {
            let note = format!("{n} {}", "under the leaning one ".repeat(300));
            let find = Find { note: Some(note), ..Find::default() };
            notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
            n += 1;
        }
        let finds = notebook.finds(&Criteria::default()).unwrap();
        Self { dir, finds }
    }

    fn whole(&self) -> PathBuf {
        self.dir.path().join("whole")
    }

    /// The closed segments, by their names.
    fn closed(&self) -> Vec<String> {
        let mut all = segments(&self.whole());
        all.pop();
        all.iter().map(|path| path.file_name().unwrap().to_str().unwrap().to_owned()).collect()
    }

    /// Harms a copy, which must then be whole again and hold its segments as they were.
    fn harmed(&self, what: &str, harm: impl Fn(&Path)) {
        let copy = self.dir.path().join("copy");
        let _ = fs::remove_dir_all(&copy);
        copy_folder(&self.whole(), &copy);
        harm(&copy);
        let notebook = Notebook::open(&copy).unwrap();
        let report = notebook.check(&Unwatched).unwrap();
        assert!(report.ok, "{what}: {:?}", report.problems);
        assert!(notebook.finds(&Criteria::default()).unwrap() == self.finds, "{what}");
        drop(notebook);
        for (was, is) in segments(&self.whole()).iter().zip(segments(&copy)) {
            assert!(fs::read(was).unwrap() == fs::read(&is).unwrap(), "{what}: {}", is.display());
        }
    }
}

/// The segments of the only device, in order.
fn segments(folder: &Path) -> Vec<PathBuf> {
    let Ok(mut devices) = fs::read_dir(folder.join("changes")) else { return Vec::new() };
    let files = fs::read_dir(devices.next().unwrap().unwrap().path()).unwrap();
    let mut files: Vec<PathBuf> = files.map(|file| file.unwrap().path()).collect();
    files.sort();
    files
}

fn named(folder: &Path, name: &str) -> PathBuf {
    segments(folder).into_iter().find(|path| path.ends_with(name)).unwrap()
}

#[test]
fn a_segment_filled_and_closed_may_be_gone_cut_or_flipped_and_comes_back_as_it_was() {
    let filled = Filled::new();
    let closed = filled.closed();
    assert_eq!(closed.len(), 2);
    for name in &closed {
        let bytes = fs::read(named(&filled.whole(), name)).unwrap();
        let act = bytes.split(|byte| *byte == b'\n').map(<[u8]>::len).max().unwrap();
        let full = usize::try_from(SEGMENT_BYTES).unwrap();
        assert!(
            (full..full + act + 1).contains(&bytes.len()),
            "{name} closes once it is full: {}",
            bytes.len()
        );
        assert!(bytes.ends_with(b"\n") && !bytes.contains(&0), "nothing of the room made ahead stays behind");

        filled.harmed(&format!("without {name}"), |copy| fs::remove_file(named(copy, name)).unwrap());
        let step = if long() { 4096 } else { 19 * 4096 };
        for at in (0..bytes.len()).step_by(step) {
            filled.harmed(&format!("{name} cut at {at}"), |copy| {
                fs::OpenOptions::new()
                    .write(true)
                    .open(named(copy, name))
                    .unwrap()
                    .set_len(at as u64)
                    .unwrap();
            });
            filled.harmed(&format!("{name} flipped at {at}"), |copy| {
                let mut flipped = bytes.clone();
                flipped[at] ^= 0x15;
                fs::write(named(copy, name), flipped).unwrap();
            });
        }
    }
    filled.harmed("without any closed segment", |copy| {
        for name in &closed {
            fs::remove_file(named(copy, name)).unwrap();
        }
    });
    filled.harmed("without the view", |copy| fs::remove_file(copy.join("view.sqlite")).unwrap());
}

/// A notebook whose keeper was killed after so many finds, and what it had acknowledged.
fn killed(folder: &Path, finds: usize) -> Vec<(String, String)> {
    let mut keeper = Command::new(env!("CARGO_BIN_EXE_keeper"));
    let mut child = keeper.arg(folder).stdout(Stdio::piped()).spawn().unwrap();
    let mut said = BufReader::new(child.stdout.take().unwrap());
    let mut words = String::new();
    while kept(&words).len() < finds {
        assert!(said.read_line(&mut words).unwrap() > 0, "it stopped by itself");
    }
    child.kill().unwrap();
    child.wait().unwrap();
    // What it said before it died and was not yet read.
    std::io::Read::read_to_string(&mut said, &mut words).unwrap();
    kept(&words)
}

#[test]
fn killed_for_real_and_then_without_its_side_files_nothing_acknowledged_is_lost() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("killed");
    let all = killed(&folder, 15);
    let (view, wal, shm) = ("view.sqlite", "view.sqlite-wal", "view.sqlite-shm");
    assert!(
        fs::metadata(folder.join(wal)).unwrap().len() > 100_000,
        "the view lives in its write-ahead file"
    );
    assert!(folder.join(shm).exists());
    for gone in [&[][..], &[wal], &[shm], &[wal, shm], &[view], &[view, wal], &[view, shm], &[view, wal, shm]]
    {
        let copy = dir.path().join("copy");
        let _ = fs::remove_dir_all(&copy);
        copy_folder(&folder, &copy);
        for name in gone {
            fs::remove_file(copy.join(name)).unwrap();
        }
        println!("without {gone:?}");
        all_there(&copy, &all);
    }
    // The log's last segment gone as well: then the view with its write-ahead file holds it all.
    let copy = dir.path().join("copy");
    let _ = fs::remove_dir_all(&copy);
    copy_folder(&folder, &copy);
    for path in segments(&copy) {
        fs::remove_file(path).unwrap();
    }
    all_there(&copy, &all);
}
