//! Folding the log afresh gives the live view's rows, on every device, whatever arrived in which order.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use trug::error::Error;
use trug::find::Find;
use trug::notebook::{FindRecord, NewFind, NewName, Notebook};
use trug::patch::Patch;
use trug::progress::Unwatched;
use trug::store::Criteria;
use trug_tests::acts::{Step, rows, standing, steps, take};
use trug_tests::long;

struct Devices {
    dir: tempfile::TempDir,
}

impl Devices {
    fn folder(&self, n: usize) -> PathBuf {
        self.dir.path().join(format!("device-{n}"))
    }

    fn open(&self, n: usize) -> Notebook {
        Notebook::open(&self.folder(n)).unwrap()
    }

    /// Copies another device's own segments, as a file would bring them.
    fn receive(&self, to: usize, from: usize) {
        drop(self.open(from));
        let changes = self.folder(from).join("changes");
        let Ok(devices) = fs::read_dir(changes) else { return };
        for device in devices {
            let device = device.unwrap();
            if device.file_name().to_str() == Some(&own(&self.folder(to))) {
                continue;
            }
            let target = self.folder(to).join("changes").join(device.file_name());
            fs::create_dir_all(&target).unwrap();
            for segment in fs::read_dir(device.path()).unwrap() {
                let segment = segment.unwrap();
                let there = target.join(segment.file_name());
                // A segment only ever grows: a shorter copy brings nothing new.
                let known = fs::metadata(&there).map_or(0, |m| m.len());
                if segment.metadata().unwrap().len() > known {
                    fs::copy(segment.path(), there).unwrap();
                }
            }
        }
    }
}

fn own(folder: &Path) -> String {
    let identity: serde_json::Value =
        serde_json::from_slice(&fs::read(folder.join("notebook.json")).unwrap()).unwrap();
    identity["device"].as_str().unwrap().to_owned()
}

/// What is shown of patches, and what their finds come to.
fn shown(notebook: &Notebook) -> Vec<String> {
    let patches = notebook.patches(&Criteria::default()).unwrap();
    patches.iter().map(|patch| format!("{:?}", notebook.patch_history(patch.id).unwrap())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: if long() { 500 } else { 40 }, ..ProptestConfig::default() })]

    #[test]
    fn live_and_fresh_are_the_same_on_every_device(steps in steps(3)) {
        let devices = Devices { dir: tempfile::tempdir().unwrap() };
        (0..3).for_each(|n| drop(devices.open(n)));
        for (n, step) in &steps {
            if let Step::Pass(from) = step {
                let from = from % 3;
                if from != *n {
                    devices.receive(*n, from);
                }
            } else {
                take(&devices.open(*n), step);
            }
        }
        for n in 0..3 {
            let notebook = devices.open(n);
            notebook.pause().unwrap();
            let live = rows(&devices.folder(n));
            notebook.resume().unwrap();
            notebook.rebuild(&Unwatched).unwrap();
            notebook.pause().unwrap();
            prop_assert_eq!(&live, &rows(&devices.folder(n)), "device {}", n);
            notebook.resume().unwrap();
            prop_assert!(notebook.check(&Unwatched).unwrap().ok);
        }
        // Everything to everyone, in different orders: all see the same.
        for (to, from) in [(0, 1), (0, 2), (2, 1), (2, 0), (1, 2), (1, 0)] {
            devices.receive(to, from);
        }
        let told: Vec<_> = (0..3).map(|n| shown(&devices.open(n))).collect();
        let seen: Vec<_> = (0..3).map(|n| rows(&devices.folder(n))).collect();
        prop_assert_eq!(&told[0], &told[1]);
        prop_assert_eq!(&told[1], &told[2]);
        // Every find in a patch is counted once, under the patch that stands for it.
        let notebook = devices.open(0);
        let patches = notebook.patches(&Criteria::default()).unwrap();
        let of_patches: u32 = patches.iter().flat_map(|patch| {
            notebook.patch_history(patch.id).unwrap().seasons.into_iter().map(|season| season.amounts.finds)
        }).sum();
        let all = notebook.finds(&Criteria::default()).unwrap();
        let standing = |find: &FindRecord| {
            let patch = find.find.value.patch?;
            Some(notebook.standing_patch(patch).unwrap()).filter(|id| patches.iter().any(|patch| patch.id == *id))
        };
        prop_assert_eq!(of_patches as usize, all.iter().filter_map(standing).count());
        drop(notebook);
        prop_assert_eq!(&seen[0], &seen[1]);
        prop_assert_eq!(&seen[1], &seen[2]);
    }
}

#[test]
fn what_was_done_is_undone_step_by_step_and_then_refused() {
    let dir = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(dir.path()).unwrap();
    let id = notebook.add_find(NewFind::default()).unwrap().id;
    notebook.amend_find(id, &Find { taken: Some(1), ..Find::default() }, &[]).unwrap();
    notebook.name_find(id, NewName::default()).unwrap();
    for left in (0..3).rev() {
        notebook.undo_find(id).unwrap();
        assert_eq!(standing(dir.path(), id), left);
    }
    assert!(matches!(notebook.undo_find(id), Err(Error::NothingToUndo { .. })));
}

#[test]
fn edits_made_without_knowledge_of_each_other_are_both_kept_and_both_shown() {
    let devices = Devices { dir: tempfile::tempdir().unwrap() };
    let id = devices.open(0).add_find(NewFind::default()).unwrap().id;
    drop(devices.open(1));
    devices.receive(1, 0);
    let taken = |n| Find { taken: Some(n), ..Find::default() };
    devices.open(0).amend_find(id, &taken(1), &[]).unwrap();
    devices.open(1).amend_find(id, &taken(2), &[]).unwrap();
    devices.receive(0, 1);
    let found = devices.open(0).find(id).unwrap();
    assert_eq!(found.find.disagreements.get("taken").map(Vec::len), Some(2), "{found:?}");
    // Whoever has seen both and sets it anew settles it, here and there.
    devices.open(0).amend_find(id, &taken(3), &[]).unwrap();
    devices.receive(1, 0);
    let settled = devices.open(1).find(id).unwrap();
    assert_eq!((settled.find.value.taken, settled.find.disagreements.len()), (Some(3), 0));
}

#[test]
fn what_another_device_writes_to_a_merged_patch_is_shown_under_the_one_that_stands_for_it() {
    let devices = Devices { dir: tempfile::tempdir().unwrap() };
    let here = devices.open(0);
    let named = |name: &str| Patch { name: Some(name.into()), ..Patch::default() };
    let [stays, goes] = ["old", "bent"].map(|name| here.add_patch(&named(name)).unwrap().id);
    drop(here);
    drop(devices.open(1));
    devices.receive(1, 0);
    devices.open(0).merge_patches(goes, stays).unwrap();
    let there = devices.open(1);
    there.amend_patch(goes, &named("bent one"), &[]).unwrap();
    let find = Find { patch: Some(goes), taken: Some(2), ..Find::default() };
    there.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    drop(there);
    devices.receive(0, 1);
    let history = devices.open(0).patch_history(goes).unwrap();
    assert_eq!(history.patch.id, stays);
    assert_eq!(history.merged[0].patch.value.name.as_deref(), Some("bent one"));
    assert_eq!(history.seasons[0].amounts.taken.least, 2);
}
