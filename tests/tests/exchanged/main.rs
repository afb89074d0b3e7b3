//! One owner's devices over one folder, carried by a program that delivers late, out of order, twice, in part, or under another
//! name: once all of it has been delivered, all say the same, and going on changes nothing.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod carrier;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use carrier::{Carrier, Files, files, put};
use proptest::prelude::*;
use rand::RngExt;
use trug::error::Error;
use trug::find::Find;
use trug::notebook::{Exchanged, NewFind, NewPhoto, Notebook, Sending};
use trug::pack::Pack;
use trug::photo::Role;
use trug::progress::Unwatched;
use trug::seal::{Recipient, To};
use trug_tests::acts::{Step, rows, steps, take};
use trug_tests::{draw, long};

struct Device {
    notebook: Notebook,
    /// Its own copy of the exchange folder.
    shared: PathBuf,
}

impl Device {
    fn new(at: &Path) -> Self {
        let shared = at.join("shared");
        fs::create_dir_all(&shared).unwrap();
        Self { notebook: Notebook::open(&at.join("notebook")).unwrap(), shared }
    }

    fn exchange(&self) -> Exchanged {
        self.notebook.exchange(&self.shared, true, &Unwatched).unwrap()
    }

    fn photos(&self) -> Vec<String> {
        self.notebook.shelf().list().unwrap().iter().map(|stored| stored.hash.to_string()).collect()
    }
}

fn all_exchange(devices: &[Device]) {
    for device in devices {
        device.exchange();
    }
}

fn pair(one: &Device, other: &Device) {
    one.notebook.pair(&other.notebook.own_key().unwrap(), "the other").unwrap();
    other.notebook.pair(&one.notebook.own_key().unwrap(), "the other").unwrap();
}

/// Everything is delivered and exchanged until nothing is left to do.
fn settle(devices: &[Device], carrier: &mut Carrier) {
    for round in 0.. {
        assert!(round < 12, "it never comes to rest");
        let mut quiet = true;
        for (n, device) in devices.iter().enumerate() {
            let done = device.exchange();
            assert_eq!(done.left_out, 0);
            quiet &= done.new + done.new_photos + done.written + done.removed == 0;
            carrier.look(n, device);
        }
        quiet &= carrier.under_way.is_empty();
        while !carrier.under_way.is_empty() {
            carrier.deliver(devices, false);
        }
        if quiet {
            return;
        }
    }
}

fn all_say_the_same(devices: &[Device]) {
    let photos: Vec<_> = devices.iter().map(Device::photos).collect();
    assert!(photos.iter().all(|one| *one == photos[0]), "{photos:?}");
    let told: Vec<Vec<String>> = devices
        .iter()
        .map(|device| {
            assert!(device.notebook.check(&Unwatched).unwrap().ok);
            device.notebook.pause().unwrap();
            let told = rows(device.notebook.root());
            device.notebook.resume().unwrap();
            told
        })
        .collect();
    for (n, one) in told.iter().enumerate() {
        assert_eq!(one, &told[0], "device {n}");
    }
}

fn photographed(device: &Device, name: &str) {
    let path = device.shared.with_file_name(format!("{name}.png"));
    draw(&path).unwrap();
    let photos = vec![NewPhoto { path, role: Role::Whole }];
    device.notebook.add_find(NewFind { find: Find::default(), photos }).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: if long() { 600 } else { 30 }, max_shrink_iters: 50, ..ProptestConfig::default()
    })]

    #[test]
    fn however_it_is_carried_all_say_the_same(
        (count, steps) in (2..=3_usize).prop_flat_map(|count| (Just(count), steps(count))),
        seed in any::<u64>(),
    ) {
        let dir = tempfile::tempdir().unwrap();
        let devices: Vec<Device> = (0..count).map(|n| Device::new(&dir.path().join(n.to_string()))).collect();
        devices.windows(2).for_each(|two| pair(&two[0], &two[1]));
        let mut carrier = Carrier::new(count, seed);
        for (n, step) in &steps {
            match step {
                Step::Pass(_) => {
                    devices[*n].exchange();
                    carrier.look(*n, &devices[*n]);
                    for _ in 0..carrier.lot.random_range(0..8) {
                        carrier.deliver(&devices, true);
                    }
                }
                Step::Add(seen) if seen % 4 == 0 => photographed(&devices[*n], &format!("{n}-{seen}")),
                other => take(&devices[*n].notebook, other),
            }
        }
        settle(&devices, &mut carrier);
        all_say_the_same(&devices);
        let before: Vec<Files> = devices.iter().map(|device| files(&device.shared)).collect();
        all_exchange(&devices);
        for (device, before) in devices.iter().zip(&before) {
            prop_assert!(files(&device.shared) == *before, "going on changes nothing");
        }
    }
}

/// Devices that all see the very same folder, as on one machine.
fn together(dir: &Path, count: usize) -> Vec<Device> {
    let mut devices: Vec<Device> = (0..count).map(|n| Device::new(&dir.join(n.to_string()))).collect();
    let shared = devices[0].shared.clone();
    for device in &mut devices {
        device.shared.clone_from(&shared);
    }
    devices
}

#[test]
fn what_one_has_the_other_gets_and_nobody_else_can_read() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    photographed(&devices[0], "a");
    let first = devices[0].exchange();
    assert_eq!((first.read, first.written), (0, 2), "a segment and a photo");
    let looked = devices[1].notebook.exchange(&devices[1].shared, false, &Unwatched).unwrap();
    assert_eq!(files(&devices[1].shared).len(), 2, "only looked at: {looked:?}");
    assert!(devices[1].photos().is_empty());
    let second = devices[1].exchange();
    let foretold = (looked.read, looked.new_photos, looked.new);
    assert_eq!((2, 1, second.new), foretold, "{looked:?}");
    assert_eq!((second.read, second.new_photos), (2, 1), "{second:?}");
    assert_eq!(second.written, 1, "its own segment, nothing that came from the other");
    devices[0].exchange();
    all_say_the_same(&devices);
    for (name, bytes) in files(&devices[0].shared) {
        assert!(bytes.starts_with(b"age-encryption.org/v1\n"), "{name}");
    }
}

#[test]
fn an_overtaken_piece_is_taken_away_and_the_log_is_not_cut_into_small_segments() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    for n in 0..5 {
        devices[0].notebook.add_find(NewFind::default()).unwrap();
        let done = devices[0].exchange();
        assert_eq!((done.written, done.removed), (1, u64::from(n > 0)));
        devices[1].exchange();
    }
    let own = files(&devices[0].notebook.root().join("changes"));
    let segments = |prefix: &str| own.keys().filter(|name| name.starts_with(prefix)).count();
    let identity: serde_json::Value =
        serde_json::from_slice(&fs::read(devices[0].notebook.root().join("notebook.json")).unwrap()).unwrap();
    assert_eq!(segments(identity["device"].as_str().unwrap()), 1);
    all_say_the_same(&devices);
}

#[test]
fn devices_come_to_know_each_other_through_one_that_knows_both() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 3);
    pair(&devices[0], &devices[1]);
    pair(&devices[1], &devices[2]);
    for device in &devices {
        device.notebook.add_find(NewFind::default()).unwrap();
    }
    for _ in 0..3 {
        all_exchange(&devices);
    }
    assert_eq!(devices[0].notebook.peers().unwrap().len(), 2);
    all_say_the_same(&devices);
}

#[test]
fn what_does_not_belong_there_is_left_and_said() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    let stranger = Device::new(&dir.path().join("stranger"));
    stranger.notebook.add_find(NewFind::default()).unwrap();
    devices[0].notebook.add_find(NewFind::default()).unwrap();
    devices[0].exchange();
    let ours = Recipient::try_from(&devices[1].notebook.own_key().unwrap()).unwrap();
    let pack = Pack::britain().unwrap();
    let shared = &devices[0].shared;
    let write = |from: &Device, sending: &Sending, to: &str| {
        from.notebook
            .write_bundle(
                pack,
                sending,
                Some(To::Keys(std::slice::from_ref(&ours))),
                &shared.join(to),
                false,
                &Unwatched,
            )
            .unwrap();
    };
    write(&stranger, &Sending::ForMe, "from a stranger.age");
    let someone = Sending::ForSomeone {
        finds: None,
        terms: trug::export::Terms::default(),
        recipient: None,
        photos: false,
    };
    write(&devices[0], &someone, "copies.age");
    write(&stranger, &someone, "their copies");
    put(shared, "notes/readme.txt", b"not a piece");
    put(shared, "empty.age", b"");
    let (name, bytes) =
        files(shared).into_iter().find(|(name, _)| name.contains('/') && !name.starts_with("notes")).unwrap();
    put(shared, "half.age", &bytes[..bytes.len() / 2]);
    put(shared, ".hidden.age", &bytes[..9]);
    let other = together(&dir.path().join("others"), 2);
    pair(&other[0], &other[1]);
    other[0].exchange();
    let foreign = files(&other[0].shared).into_values().next().unwrap();
    put(shared, "somebody else's.age", &foreign);
    let done = devices[1].exchange();
    let told: BTreeSet<(&str, &str)> =
        done.unread.iter().map(|unread| (unread.file.as_str(), unread.code)).collect();
    let expected = [
        ("copies.age", "for-someone"),
        ("empty.age", "not-a-bundle"),
        ("from a stranger.age", "not-paired"),
        ("half.age", "not-a-bundle"),
        ("notes/readme.txt", "not-a-bundle"),
        ("somebody else's.age", "not-for-us"),
        ("their copies", "for-someone"),
    ];
    assert_eq!(told, BTreeSet::from(expected), "{done:?}");
    assert_eq!(done.read, 1, "{name} was read all the same");
    assert!(devices[1].notebook.received_copies().unwrap().is_empty());
    let again = devices[1].exchange();
    assert_eq!((again.read, again.new, again.unread.len()), (0, 0, 7));
}

#[test]
fn what_came_by_another_way_is_passed_on() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    let friend = Device::new(&dir.path().join("friend"));
    photographed(&friend, "b");
    let bundle = dir.path().join("bundle.zip");
    let pack = Pack::britain().unwrap();
    friend.notebook.write_bundle(pack, &Sending::ForMe, None, &bundle, false, &Unwatched).unwrap();
    devices[0].notebook.read_bundle(&bundle, None, true, &Unwatched).unwrap();
    for _ in 0..2 {
        all_exchange(&devices);
    }
    assert_eq!(devices[1].photos(), friend.photos());
    all_say_the_same(&devices);
}

#[test]
fn a_notebook_that_lost_everything_gets_back_what_it_once_put_there() {
    let dir = tempfile::tempdir().unwrap();
    let mut devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    photographed(&devices[0], "c");
    devices[0].exchange();
    let lost = devices.remove(0);
    let (root, shared) = (lost.notebook.root().to_owned(), lost.shared.clone());
    drop(lost);
    for folder in ["changes", "photos"] {
        fs::remove_dir_all(root.join(folder)).unwrap();
    }
    fs::remove_file(root.join("view.sqlite")).unwrap();
    let again = Device { notebook: Notebook::open(&root).unwrap(), shared };
    again.notebook.pair(&devices[0].notebook.own_key().unwrap(), "the other").unwrap();
    let done = again.exchange();
    assert!(done.new > 0 && done.new_photos == 1 && done.removed == 0, "{done:?}");
    again.exchange();
    devices[0].exchange();
    again.exchange();
    devices.insert(0, again);
    all_say_the_same(&devices);
}

#[test]
fn who_is_no_longer_paired_is_sealed_out_and_not_believed() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 3);
    pair(&devices[0], &devices[1]);
    pair(&devices[0], &devices[2]);
    devices[0].notebook.add_find(NewFind::default()).unwrap();
    devices[0].exchange();
    assert!(devices[2].exchange().new > 0);
    devices[0].notebook.unpair(&devices[0].notebook.peers().unwrap()[1].id.to_string()).unwrap();
    let out = devices[0].notebook.peers().unwrap();
    let out = devices[1..]
        .iter()
        .find(|device| Some(device.notebook.own_key().unwrap()) != out[0].peer.value.key)
        .unwrap();
    devices[0].notebook.add_find(NewFind::default()).unwrap();
    devices[0].exchange();
    out.notebook.add_find(NewFind::default()).unwrap();
    let theirs = out.exchange();
    assert!(theirs.unread.iter().any(|unread| unread.code == "not-for-us") && theirs.new == 0, "{theirs:?}");
    let ours = devices[0].exchange();
    assert!(ours.unread.iter().all(|unread| unread.code == "not-paired") && ours.new == 0, "{ours:?}");
    assert!(!ours.unread.is_empty());
}

#[test]
fn where_devices_disagree_on_whom_to_trust_they_do_not() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    pair(&devices[0], &devices[1]);
    let third = Device::new(&dir.path().join("third"));
    let key = third.notebook.own_key().unwrap();
    devices[0].notebook.pair(&key, "third").unwrap();
    let trusts = |device: &Device| {
        device.notebook.peers().unwrap().iter().any(|peer| peer.peer.value.key == Some(key))
    };
    all_exchange(&devices);
    all_exchange(&devices);
    assert!(trusts(&devices[1]));
    devices[0].notebook.unpair("third").unwrap();
    // Later by the clock, and without knowing of it.
    devices[1].notebook.unpair("third").unwrap();
    devices[1].notebook.pair(&key, "third").unwrap();
    for _ in 0..2 {
        all_exchange(&devices);
    }
    assert!(!trusts(&devices[0]) && !trusts(&devices[1]));
    devices[0].notebook.pair(&key, "third").unwrap();
    all_exchange(&devices);
    assert!(trusts(&devices[0]) && trusts(&devices[1]), "said once more, knowing of both");
}

#[test]
fn an_exchange_that_cannot_be_is_refused() {
    let dir = tempfile::tempdir().unwrap();
    let devices = together(dir.path(), 2);
    let alone = devices[0].notebook.exchange(&devices[0].shared, true, &Unwatched).unwrap_err();
    assert!(matches!(alone, Error::Field(ref error) if error.field == "device"), "{alone}");
    pair(&devices[0], &devices[1]);
    let inside = devices[0].notebook.exchange(devices[0].notebook.root(), true, &Unwatched).unwrap_err();
    assert!(matches!(inside, Error::Field(ref error) if error.field == "folder"), "{inside}");
    let nowhere = devices[0].notebook.exchange(&dir.path().join("nowhere"), true, &Unwatched).unwrap_err();
    assert!(matches!(nowhere, Error::Disk(_)), "{nowhere}");
}
