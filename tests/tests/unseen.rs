//! Bundles that leave out what a paired device has told that it holds: whatever went before, it lacks nothing afterwards.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use trug::error::Error;
use trug::id::PeerId;
use trug::notebook::{NewFind, NewPhoto, Notebook, Received, Sending, Sent};
use trug::pack::Pack;
use trug::photo::Role;
use trug::progress::Unwatched;
use trug_tests::acts::{Step, steps, take};
use trug_tests::{copy_folder, draw, long};

fn together(dir: &Path, count: usize) -> Vec<Notebook> {
    let all: Vec<_> = (0..count).map(|n| Notebook::open(&dir.join(format!("device-{n}"))).unwrap()).collect();
    for (n, one) in all.iter().enumerate() {
        for other in all.iter().skip(n + 1) {
            one.pair(&other.own_key().unwrap(), "the other").unwrap();
            other.pair(&one.own_key().unwrap(), "the other").unwrap();
        }
    }
    all
}

fn peer(here: &Notebook, there: &Notebook) -> PeerId {
    let key = there.own_key().unwrap();
    here.peers().unwrap().iter().find(|peer| peer.peer.value.key == Some(key)).unwrap().id
}

fn write(from: &Notebook, sending: &Sending, to: &Path) -> Sent {
    from.write_bundle(Pack::britain().unwrap(), sending, None, to, true, &Unwatched).unwrap()
}

fn read(to: &Notebook, from: &Path, keep: bool) -> Received {
    to.read_bundle(from, None, keep, &Unwatched).unwrap()
}

/// Sends what the other has not seen, and proves by a whole bundle that it lacks nothing then.
fn send(from: &Notebook, to: &Notebook, dir: &Path) -> (Sent, Received) {
    let (part, whole) = (dir.join("part"), dir.join("whole"));
    let sent = write(from, &Sending::Unseen(peer(from, to)), &part);
    let received = read(to, &part, true);
    assert_eq!((received.merged.left_out, received.missing), (0, 0));
    write(from, &Sending::ForMe, &whole);
    let rest = read(to, &whole, false);
    assert_eq!((rest.merged.new, rest.new_photos), (0, 0), "something was left out that is not there");
    (sent, received)
}

fn photographed(notebook: &Notebook, dir: &Path, name: &str) {
    let path = dir.join(name).with_extension("png");
    draw(&path).unwrap();
    let photos = vec![NewPhoto { path, role: Role::Whole }];
    notebook.add_find(NewFind { photos, ..NewFind::default() }).unwrap();
}

#[test]
fn only_what_is_new_is_sent_once_the_other_has_told_what_it_holds() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    let [one, other] = devices.as_slice() else { panic!("two") };
    for name in ["a", "b", "c"] {
        photographed(one, dir.path(), name);
    }
    // Nothing has been told yet: all of it goes.
    let (first, _) = send(one, other, dir.path());
    assert_eq!((first.changes, first.photos), (7, 3), "a find and a photo each, and the pairing");
    let (second, _) = send(one, other, dir.path());
    assert_eq!(second.changes, 7, "that it was sent is no sign that it came");
    let (back, came) = send(other, one, dir.path());
    assert_eq!((back.changes, back.photos, came.merged.new), (1, 0, 1), "{back:?}");
    photographed(one, dir.path(), "d");
    let (third, came) = send(one, other, dir.path());
    assert_eq!((third.changes, third.photos), (2, 1), "{third:?}");
    assert_eq!((came.merged.new, came.new_photos), (2, 1));
    send(other, one, dir.path());
    let (last, _) = send(one, other, dir.path());
    assert_eq!((last.changes, last.photos), (0, 0), "{last:?}");
}

#[test]
fn who_lost_what_they_had_is_told_that_something_is_missing() {
    let dir = tempfile::tempdir().unwrap();
    let mut devices = together(dir.path(), 2);
    let (other, one) = (devices.pop().unwrap(), devices.pop().unwrap());
    let root = other.root().to_owned();
    other.pause().unwrap();
    copy_folder(&root, &dir.path().join("early"));
    other.resume().unwrap();
    photographed(&one, dir.path(), "a");
    send(&one, &other, dir.path());
    send(&other, &one, dir.path());
    drop(other);
    let early = Notebook::open(&dir.path().join("early")).unwrap();
    photographed(&one, dir.path(), "b");
    let part = dir.path().join("part");
    write(&one, &Sending::Unseen(peer(&one, &early)), &part);
    for keep in [false, true] {
        // The changes of one device, and the photo.
        assert_eq!(read(&early, &part, keep).missing, 2);
    }
    write(&one, &Sending::ForMe, &part);
    let whole = read(&early, &part, true);
    assert!(whole.merged.new > 0 && whole.new_photos == 1 && whole.missing == 0, "{whole:?}");
}

#[test]
fn who_is_not_paired_is_not_written_for_and_not_believed() {
    let dir = tempfile::tempdir().unwrap();
    let one = Notebook::open(&dir.path().join("one")).unwrap();
    let stranger = Notebook::open(&dir.path().join("stranger")).unwrap();
    let unknown = Sending::Unseen(PeerId(uuid::Uuid::from_u128(7)));
    let file = dir.path().join("bundle");
    let refused = one.write_bundle(Pack::britain().unwrap(), &unknown, None, &file, false, &Unwatched);
    assert!(matches!(refused, Err(Error::NotFound { .. })));
    write(&stranger, &Sending::ForMe, &file);
    read(&one, &file, true);
    assert!(fs::read(one.root().join("seen.json")).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: if long() { 2_000 } else { 40 }, max_shrink_iters: 200, ..ProptestConfig::default()
    })]

    #[test]
    fn whatever_went_before_nothing_is_left_out_that_is_not_there(steps in steps(3)) {
        let dir = tempfile::tempdir().unwrap();
        let devices = together(dir.path(), 3);
        let mut old: Vec<PathBuf> = Vec::new();
        for (n, step) in &steps {
            match step {
                // Whole bundles lie about, and come late, or never.
                Step::Pass(lot) if lot % 3 == 0 => {
                    let file = dir.path().join(format!("bundle-{}", old.len()));
                    write(&devices[*n], &Sending::ForMe, &file);
                    old.push(file);
                }
                Step::Pass(lot) if lot % 3 == 1 && !old.is_empty() => {
                    read(&devices[*n], &old[lot % old.len()], true);
                }
                Step::Pass(lot) => drop(send(&devices[*n], &devices[(n + 1 + lot % 2) % 3], dir.path())),
                other => take(&devices[*n], other),
            }
        }
        for (from, to) in [(0, 1), (1, 0), (2, 1), (0, 2), (1, 2), (2, 0)] {
            send(&devices[from], &devices[to], dir.path());
        }
    }
}
