//! Devices that pass bundles about, in whatever order, late, twice or never: once all have been read everywhere, all say the same.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use proptest::prelude::*;
use serde_json::Value;
use trug::find::Find;
use trug::notebook::{NewFind, NewName, Notebook, Received, Sending, WallClock};
use trug::pack::Pack;
use trug::progress::Unwatched;
use trug_tests::acts::{Step, rows, steps, take};
use trug_tests::long;

/// A clock that is so many seconds wrong.
struct Wrong(i64);

impl WallClock for Wrong {
    fn now(&self) -> Timestamp {
        Timestamp::now() + jiff::SignedDuration::from_secs(self.0)
    }

    fn zone(&self) -> TimeZone {
        TimeZone::UTC
    }
}

struct Device {
    folder: PathBuf,
    notebook: Notebook,
}

fn device(folder: PathBuf, seconds: i64) -> Device {
    let notebook = Notebook::open_with(&folder, Arc::new(Wrong(seconds)), &Unwatched).unwrap();
    Device { folder, notebook }
}

fn pair(one: &Device, other: &Device) {
    one.notebook.pair(&other.notebook.own_key().unwrap(), "the other").unwrap();
    other.notebook.pair(&one.notebook.own_key().unwrap(), "the other").unwrap();
}

fn write(from: &Device, to: &Path) {
    let pack = Pack::britain().unwrap();
    from.notebook.write_bundle(pack, &Sending::ForMe, None, to, true, &Unwatched).unwrap();
}

fn read(to: &Device, from: &Path) -> Received {
    to.notebook.read_bundle(from, None, true, &Unwatched).unwrap()
}

/// How far a clock is out: mostly not at all, sometimes years.
fn wrong() -> impl Strategy<Value = i64> {
    prop_oneof![4 => Just(0), 2 => -7200..7200_i64, 1 => -400_000_000..400_000_000_i64]
}

/// What each device does, and what becomes of the bundles.
#[derive(Debug, Clone)]
struct Life {
    clocks: Vec<i64>,
    steps: Vec<(usize, Step)>,
}

fn life() -> impl Strategy<Value = Life> {
    (2..=5_usize).prop_flat_map(|devices| {
        (prop::collection::vec(wrong(), devices), steps(devices))
            .prop_map(|(clocks, steps)| Life { clocks, steps })
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: if long() { 10_000 } else { 500 }, max_shrink_iters: 200, ..ProptestConfig::default()
    })]

    #[test]
    fn all_say_the_same_in_the_end(Life { clocks, steps } in life()) {
        let dir = tempfile::tempdir().unwrap();
        let folder = |n: usize| dir.path().join(format!("device-{n}"));
        let devices: Vec<_> = (0..clocks.len()).map(|n| device(folder(n), clocks[n])).collect();
        for (n, one) in devices.iter().enumerate() {
            devices[n + 1..].iter().for_each(|other| pair(one, other));
        }
        // Bundles lie about: some are never read, some by several, some again and again.
        let mut written: Vec<PathBuf> = Vec::new();
        for (n, step) in &steps {
            match step {
                Step::Pass(lot) if lot % 2 == 0 || written.is_empty() => {
                    let file = dir.path().join(format!("bundle-{}", written.len()));
                    write(&devices[*n], &file);
                    written.push(file);
                }
                Step::Pass(lot) => drop(read(&devices[*n], &written[lot % written.len()])),
                other => take(&devices[*n].notebook, other),
            }
        }
        let last: Vec<_> = (0..devices.len()).map(|n| dir.path().join(format!("last-{n}"))).collect();
        devices.iter().zip(&last).for_each(|(device, file)| write(device, file));
        for (n, device) in devices.iter().enumerate() {
            for turn in 0..last.len() {
                let file = &last[(n * 3 + turn * (last.len() - 1)) % last.len()];
                drop(read(device, file));
            }
            for file in &last {
                drop(read(device, file));
            }
            prop_assert!(device.notebook.check(&Unwatched).unwrap().ok);
        }
        let told: Vec<Vec<String>> = devices.iter().map(|device| {
            device.notebook.pause().unwrap();
            rows(&device.folder)
        }).collect();
        for (n, one) in told.iter().enumerate() {
            prop_assert_eq!(one, &told[0], "device {}", n);
        }
    }
}

fn two() -> (tempfile::TempDir, Device, Device) {
    let dir = tempfile::tempdir().unwrap();
    let (one, other) = (device(dir.path().join("one"), 0), device(dir.path().join("other"), 0));
    (dir, one, other)
}

#[test]
fn a_stranger_adds_what_is_not_here_and_touches_nothing_that_is() {
    let (dir, one, other) = two();
    let file = dir.path().join("bundle");
    let id = one.notebook.add_find(NewFind::default()).unwrap().id;
    write(&one, &file);
    let received = read(&other, &file);
    assert!(!received.paired && received.merged.new == 1, "{received:?}");
    // From here on it is the other's as well; what the stranger writes to it later does not count.
    one.notebook.amend_find(id, &Find { taken: Some(9), ..Find::default() }, &[]).unwrap();
    one.notebook.name_find(id, NewName { taxon: Some("cep".into()), ..NewName::default() }).unwrap();
    write(&one, &file);
    let received = read(&other, &file);
    assert_eq!((received.merged.new, received.merged.left_out), (0, 2), "{received:?}");
    let find = other.notebook.find(id).unwrap();
    assert_eq!((find.find.value.taken, find.determinations.len()), (None, 0));
    // Once they are paired, it does.
    pair(&one, &other);
    let received = read(&other, &file);
    assert!(received.paired && received.merged.left_out == 0, "{received:?}");
    let find = other.notebook.find(id).unwrap();
    assert_eq!((find.find.value.taken, find.determinations.len()), (Some(9), 1));
}

#[test]
fn a_stranger_brings_no_pairing_and_no_rules() {
    let (dir, one, other) = two();
    let third = device(dir.path().join("third"), 0);
    one.notebook.pair(&third.notebook.own_key().unwrap(), "the third").unwrap();
    let file = dir.path().join("bundle");
    write(&one, &file);
    let received = read(&other, &file);
    assert_eq!((received.merged.new, received.merged.left_out), (0, 1), "{received:?}");
    assert!(other.notebook.peers().unwrap().is_empty());
}

#[test]
fn a_deletion_survives_an_old_copy_and_its_owner_can_undo_it() {
    let (dir, one, other) = two();
    pair(&one, &other);
    let (old, new) = (dir.path().join("old"), dir.path().join("new"));
    let id = one.notebook.add_find(NewFind::default()).unwrap().id;
    write(&one, &old);
    drop(read(&other, &old));
    other.notebook.delete_find(id).unwrap();
    write(&other, &new);
    drop(read(&one, &new));
    drop(read(&one, &old));
    drop(read(&other, &old));
    for device in [&one, &other] {
        assert!(device.notebook.find(id).unwrap().find.deleted);
    }
    one.notebook.undo_find(id).unwrap();
    write(&one, &new);
    drop(read(&other, &new));
    assert!(!other.notebook.find(id).unwrap().find.deleted);
}

#[test]
fn a_clock_ten_years_ahead_does_not_win_for_ever() {
    let dir = tempfile::tempdir().unwrap();
    let years = 10 * 365 * 24 * 3600;
    let (ahead, right) = (device(dir.path().join("ahead"), years), device(dir.path().join("right"), 0));
    pair(&ahead, &right);
    let file = dir.path().join("bundle");
    let id = ahead
        .notebook
        .add_find(NewFind { find: Find { taken: Some(1), ..Find::default() }, photos: Vec::new() })
        .unwrap()
        .id;
    write(&ahead, &file);
    drop(read(&right, &file));
    right.notebook.amend_find(id, &Find { taken: Some(2), ..Find::default() }, &[]).unwrap();
    write(&right, &file);
    drop(read(&ahead, &file));
    for device in [&ahead, &right] {
        let find = device.notebook.find(id).unwrap().find;
        assert_eq!((find.value.taken, find.disagreements.len()), (Some(2), 0));
    }
    // Nor has it drawn the right clock after it.
    let stamps = |device: &Device| {
        let text = std::fs::read_dir(device.folder.join("changes")).unwrap().map(|folder| {
            let folder = folder.unwrap().path();
            std::fs::read_to_string(folder.join("000001.jsonl")).unwrap()
        });
        text.collect::<String>()
    };
    let own: Value =
        serde_json::from_slice(&std::fs::read(right.folder.join("notebook.json")).unwrap()).unwrap();
    let own = own["device"].as_str().unwrap().to_owned();
    let now = Timestamp::now().as_millisecond() + 60_000;
    for line in stamps(&right).lines().filter(|line| line.contains(&format!("\"device\":\"{own}\""))) {
        let change: trug::change::Change = serde_json::from_str(line).unwrap();
        assert!(change.stamp.millis() < now);
    }
}

#[test]
fn changes_to_what_is_not_here_yet_wait_for_it() {
    // Two bundles of one device, the later one first: the later one holds all, so the earlier one brings nothing.
    let (dir, one, other) = two();
    pair(&one, &other);
    let (first, second) = (dir.path().join("first"), dir.path().join("second"));
    let id = one.notebook.add_find(NewFind::default()).unwrap().id;
    write(&one, &first);
    one.notebook.amend_find(id, &Find { taken: Some(4), ..Find::default() }, &[]).unwrap();
    write(&one, &second);
    assert!(read(&other, &second).merged.new >= 2);
    assert_eq!(read(&other, &first).merged.new, 0);
    assert_eq!(other.notebook.find(id).unwrap().find.value.taken, Some(4));
}
