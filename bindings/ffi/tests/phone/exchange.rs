//! The owner's other devices: keys, pairing, and one folder between them, kept by a disk or by the phone's system.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use trug_ffi::{ExchangeReport, FolderError, FolderFile, JobReport, SharedFolder, TrugError};

use crate::jobs::end;
use crate::{Phone, code};

/// Two phones that are paired.
fn paired() -> (Phone, Phone) {
    let (one, other) = (Phone::new(), Phone::new());
    let key = |phone: &Phone| phone.book.peers().unwrap().own.text;
    one.book.pair(key(&other), "Tablet".into()).unwrap();
    other.book.pair(key(&one), "Phone".into()).unwrap();
    (one, other)
}

/// A folder that is handed out file by file, and fails when told to.
struct Documents {
    root: PathBuf,
    /// How many more files it takes before it has no room; none for as many as you like.
    room: AtomicU32,
}

impl Documents {
    fn new(root: PathBuf) -> Arc<Self> {
        fs::create_dir_all(&root).unwrap();
        Arc::new(Self { root, room: AtomicU32::new(u32::MAX) })
    }

    fn exchange(self: &Arc<Self>, phone: &Phone) -> Result<ExchangeReport, TrugError> {
        let folder: Arc<dyn SharedFolder> = self.clone();
        report(end(&phone.book.start_exchange_by(folder, "the shared folder".into())?)?)
    }

    fn count(&self) -> usize {
        self.files().unwrap().len()
    }
}

#[allow(clippy::unnecessary_wraps, reason = "it ends what may fail")]
fn report(report: JobReport) -> Result<ExchangeReport, TrugError> {
    let JobReport::Exchanged { report } = report else { panic!("{report:?}") };
    Ok(report)
}

impl SharedFolder for Documents {
    fn files(&self) -> Result<Vec<FolderFile>, FolderError> {
        let mut found = Vec::new();
        for folder in fs::read_dir(&self.root).map_err(|_| FolderError::Gone)? {
            let folder = folder.unwrap();
            for file in fs::read_dir(folder.path()).unwrap() {
                let file = file.unwrap();
                let [folder, name] =
                    [folder.file_name(), file.file_name()].map(|name| name.into_string().unwrap());
                let bytes = file.metadata().unwrap().len();
                found.push(FolderFile { name: format!("{folder}/{name}"), bytes, written_millis: 0 });
            }
        }
        Ok(found)
    }

    fn fetch(&self, name: String, to: String) -> Result<(), FolderError> {
        fs::copy(self.root.join(name), to).map(|_| ()).map_err(|_| FolderError::Failed)
    }

    fn put(&self, name: String, from: String) -> Result<(), FolderError> {
        let left = self.room.load(Ordering::Relaxed);
        if left == 0 {
            return Err(FolderError::NoRoom);
        }
        self.room.store(left.saturating_sub(1), Ordering::Relaxed);
        let to = self.root.join(name);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::copy(from, to).map(|_| ()).map_err(|_| FolderError::Failed)
    }

    fn remove(&self, name: String) -> Result<(), FolderError> {
        fs::remove_file(self.root.join(name)).map_err(|_| FolderError::Failed)
    }
}

#[test]
fn devices_are_paired_renamed_and_sent_away() {
    let (one, other) = paired();
    let theirs = other.book.peers().unwrap().own;
    assert!(theirs.text.starts_with("trug1") && theirs.age.starts_with("age1"));
    assert_eq!(theirs.fingerprint.split(' ').map(str::len).collect::<Vec<_>>(), [5; 6]);
    let peers = one.book.peers().unwrap().peers;
    assert_eq!((peers[0].name.as_str(), peers[0].key.as_ref()), ("Tablet", Some(&theirs)));
    let broken = format!("  {}\n{} \n", &theirs.text[..40], &theirs.text[40..]);
    let renamed = one.book.pair(broken, "Desk".into()).unwrap();
    assert_eq!((renamed.name.as_str(), &renamed.id), ("Desk", &peers[0].id));
    one.book.unpair(renamed.id.clone()).unwrap();
    assert!(one.book.peers().unwrap().peers.is_empty());
    assert_eq!(code(one.book.unpair(renamed.id)), "not-found");
}

#[test]
fn what_is_no_key_of_another_device_is_said_to_be_none() {
    let (one, other) = paired();
    let own = one.book.peers().unwrap().own;
    let theirs = other.book.peers().unwrap().own;
    let pair = |key: &str, name: &str| code(one.book.pair(key.to_owned(), name.to_owned()));
    assert_eq!(pair("hello", "Desk"), "not-a-key");
    assert_eq!(pair(&theirs.text.replace('q', "p"), "Desk"), "not-a-key", "a slip shows");
    assert_eq!(pair(&theirs.age, "Desk"), "seals-only");
    assert_eq!(pair(&own.text, "Desk"), "field", "one’s own");
    assert_eq!(pair(&theirs.text, "  "), "field");
}

#[test]
fn a_folder_carries_finds_and_photos_both_ways_and_again_nothing() {
    let (one, other) = paired();
    let folder = Documents::new(one.dir.path().join("shared"));
    one.book.begin_find(Some(one.photo("a.png")), "whole".into(), None).unwrap();
    other.book.begin_find(Some(other.photo("b.png")), "whole".into(), None).unwrap();
    assert!(folder.exchange(&one).unwrap().written > 0);
    let came = folder.exchange(&other).unwrap();
    assert_eq!((came.new_finds, came.new_photos, came.unread.len()), (1, 1, 0));
    let back = folder.exchange(&one).unwrap();
    assert_eq!((back.new_finds, back.new_photos), (1, 1));
    let finds = |phone: &Phone| {
        phone.book.now(None).unwrap().finds.iter().map(|find| find.id.clone()).collect::<Vec<_>>()
    };
    assert_eq!(finds(&one), finds(&other));
    assert_eq!(finds(&one).len(), 2);
    folder.exchange(&other).unwrap();
    let there = folder.count();
    for phone in [&one, &other] {
        let again = folder.exchange(phone).unwrap();
        assert_eq!((again.read, again.new, again.written), (0, 0, 0), "{again:?}");
    }
    assert_eq!(folder.count(), there);
}

#[test]
fn by_a_path_it_is_the_same() {
    let (one, other) = paired();
    let shared = one.dir.path().join("shared");
    fs::create_dir(&shared).unwrap();
    let exchange = |phone: &Phone| {
        report(end(&phone.book.start_exchange(shared.to_str().unwrap().to_owned()).unwrap()).unwrap())
            .unwrap()
    };
    one.book.begin_find(None, "whole".into(), None).unwrap();
    exchange(&one);
    assert_eq!(exchange(&other).new_finds, 1);
    // What a disk holds can be handed out as well.
    let third = Documents::new(shared);
    assert_eq!(third.exchange(&other).unwrap().unread.len(), 0);
}

#[test]
fn one_that_breaks_off_goes_on_where_it_was() {
    let (one, other) = paired();
    let folder = Documents::new(one.dir.path().join("shared"));
    for n in 0..4 {
        one.book.begin_find(Some(one.photo(&format!("{n}.png"))), "whole".into(), None).unwrap();
    }
    folder.room.store(2, Ordering::Relaxed);
    assert_eq!(code(folder.exchange(&one)), "no-room");
    assert_eq!(folder.count(), 2);
    folder.room.store(u32::MAX, Ordering::Relaxed);
    assert_eq!(folder.exchange(&one).unwrap().written, 3, "a segment and four photos, less two");
    // One came over torn: it is read another time.
    let torn = folder.files().unwrap().into_iter().max_by_key(|file| file.bytes).unwrap().name;
    let whole = fs::read(folder.root.join(&torn)).unwrap();
    fs::write(folder.root.join(&torn), &whole[..whole.len() / 2]).unwrap();
    let came = folder.exchange(&other).unwrap();
    assert_eq!((came.read, came.unread.len()), (4, 1));
    assert_eq!(came.unread[0].name, torn);
    fs::write(folder.root.join(&torn), &whole).unwrap();
    assert_eq!(folder.exchange(&other).unwrap().unread, []);
    assert_eq!(
        other.book.now(None).unwrap().finds,
        one.book
            .now(None)
            .unwrap()
            .finds
            .into_iter()
            .map(|mut find| {
                find.thumbnail = find.thumbnail.map(|path| {
                    path.replace(one.dir.path().to_str().unwrap(), other.dir.path().to_str().unwrap())
                });
                find
            })
            .collect::<Vec<_>>()
    );
}

#[test]
fn an_exchange_that_cannot_be_says_why() {
    let alone = Phone::new();
    let folder = Documents::new(alone.dir.path().join("shared"));
    assert_eq!(code(folder.exchange(&alone)), "field", "nobody to exchange with");
    let (one, other) = paired();
    let gone = Documents::new(one.dir.path().join("gone"));
    fs::remove_dir(&gone.root).unwrap();
    assert_eq!(code(gone.exchange(&one)), "disk");
    let stranger = Phone::new();
    stranger.book.pair(one.book.peers().unwrap().own.text, "One".into()).unwrap();
    folder.exchange(&stranger).unwrap();
    let unread = folder.exchange(&one).unwrap().unread;
    assert!(!unread.is_empty() && unread.iter().all(|file| file.why.code == "not-paired"), "{unread:?}");
    let unread = folder.exchange(&other).unwrap().unread;
    assert!(unread.iter().any(|file| file.why.code == "not-for-us"), "{unread:?}");
}
