//! Backups, and the way back from one: over an empty notebook, over a full one, and where the notebook will not open.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use trug_ffi::{
    Book, Job, JobReport, TrugError, delete_set_aside, forget_restored, restore_page, start_restore,
    use_restored, use_set_aside,
};

use crate::jobs::end;
use crate::{Phone, code, zone};

impl Phone {
    fn path(&self, name: &str) -> String {
        self.dir.path().join(name).to_str().unwrap().to_owned()
    }

    fn folder(&self) -> String {
        self.path("notebook")
    }

    /// So many finds, each with a photo.
    fn finds(&self, count: u32) {
        for n in 0..count {
            self.book.begin_find(Some(self.photo(&format!("{n}.png"))), "whole".into(), None).unwrap();
        }
    }

    fn backup(&self, name: &str) -> String {
        let path = self.path(name);
        end(&self.book.start_backup(path.clone()).unwrap()).unwrap();
        path
    }

    /// The folder of the phone, with no book open.
    fn closed(self) -> (tempfile::TempDir, String) {
        let folder = self.folder();
        let Self { dir, book } = self;
        drop(book);
        (dir, folder)
    }
}

fn ready(path: &str, folder: &str) -> Result<JobReport, TrugError> {
    let job: Arc<Job> = start_restore(path.to_owned(), folder.to_owned(), zone())?;
    end(&job)
}

fn finds(folder: &str) -> usize {
    Book::open(folder.to_owned(), zone()).unwrap().now(None).unwrap().finds.len()
}

#[test]
fn a_backup_comes_back_on_a_new_phone_with_everything_in_it() {
    let old = Phone::new();
    old.finds(2);
    let backup = old.backup("backup.zip");
    let before = old.book.now(None).unwrap().finds;
    let new = Phone::new();
    let report = ready(&backup, &new.folder()).unwrap();
    let JobReport::Ready { holds } = report else { panic!("{report:?}") };
    assert_eq!((holds.finds, holds.photos), (2, 2));
    assert!(holds.last.is_some());
    // Ready, and nothing is touched: the notebook that is there is open and empty still.
    assert!(new.book.now(None).unwrap().finds.is_empty());
    assert_eq!(restore_page(new.folder(), zone()).unwrap().ready, Some(holds));
    assert_eq!(code(use_restored(new.folder())), "busy");
    let (_dir, folder) = new.closed();
    use_restored(folder.clone()).unwrap();
    let book = Book::open(folder.clone(), zone()).unwrap();
    let after = book.now(None).unwrap().finds;
    assert_eq!(
        after.iter().map(|find| &find.id).collect::<Vec<_>>(),
        before.iter().map(|f| &f.id).collect::<Vec<_>>()
    );
    assert!(after.iter().all(|find| Path::new(find.thumbnail.as_ref().unwrap()).exists()));
    assert!(matches!(
        end(&book.start_check().unwrap()).unwrap(),
        JobReport::Checked { ok: true, photos: 2, .. }
    ));
    assert_eq!(restore_page(folder, zone()).unwrap().ready, None);
}

#[test]
fn what_is_restored_is_a_new_device_with_the_same_key() {
    let phone = Phone::new();
    phone.finds(1);
    let key = phone.book.own_key().unwrap();
    let backup = phone.backup("backup.zip");
    let (_dir, folder) = phone.closed();
    let device = |folder: &str| fs::read_to_string(Path::new(folder).join("notebook.json")).unwrap();
    let before = device(&folder);
    ready(&backup, &folder).unwrap();
    use_restored(folder.clone()).unwrap();
    assert_eq!(Book::open(folder.clone(), zone()).unwrap().own_key().unwrap(), key);
    assert_ne!(device(&folder), before);
}

#[test]
fn over_a_notebook_with_content_that_one_is_set_aside_and_comes_back() {
    let phone = Phone::new();
    phone.finds(1);
    let backup = phone.backup("backup.zip");
    phone.finds(3);
    let (_dir, folder) = phone.closed();
    ready(&backup, &folder).unwrap();
    use_restored(folder.clone()).unwrap();
    assert_eq!(finds(&folder), 1);
    let aside = restore_page(folder.clone(), zone()).unwrap().set_aside.pop().unwrap();
    assert_eq!(aside.holds.as_ref().unwrap().finds, 4);
    assert!(aside.at.is_some());
    use_set_aside(folder.clone(), aside.name).unwrap();
    assert_eq!(finds(&folder), 4);
    // The other one made room in its turn.
    let aside = restore_page(folder.clone(), zone()).unwrap().set_aside;
    assert_eq!(aside.iter().map(|one| one.holds.as_ref().unwrap().finds).collect::<Vec<_>>(), [1]);
    for wrong in ["", "..", "../../x", "2026-01-01T00-00-00Z"] {
        assert_eq!(code(use_set_aside(folder.clone(), wrong.into())), "not-found", "{wrong}");
        assert_eq!(code(delete_set_aside(folder.clone(), wrong.into())), "not-found", "{wrong}");
    }
    delete_set_aside(folder.clone(), aside[0].name.clone()).unwrap();
    assert!(restore_page(folder.clone(), zone()).unwrap().set_aside.is_empty());
    assert_eq!(finds(&folder), 4);
}

#[test]
fn a_notebook_that_will_not_open_makes_room_too() {
    let old = Phone::new();
    old.finds(2);
    let backup = old.backup("backup.zip");
    let phone = Phone::new();
    phone.finds(1);
    let (dir, folder) = phone.closed();
    let identity = Path::new(&folder).join("notebook.json");
    fs::write(&identity, r#"{"format": 99, "device": "0199f3a0-0000-7000-8000-000000000000"}"#).unwrap();
    assert_eq!(code(Book::open(folder.clone(), zone())), "newer-format");
    ready(&backup, &folder).unwrap();
    use_restored(folder.clone()).unwrap();
    assert_eq!(finds(&folder), 2);
    let aside = restore_page(folder.clone(), zone()).unwrap().set_aside.pop().unwrap();
    let kept = dir.path().join("notebook.aside").join(aside.name).join("notebook.json");
    assert!(fs::read_to_string(kept).unwrap().contains("99"), "to the letter as it was");
    // Not even a folder.
    fs::rename(&folder, dir.path().join("gone")).unwrap();
    fs::write(&folder, "in the way").unwrap();
    ready(&backup, &folder).unwrap();
    use_restored(folder.clone()).unwrap();
    assert_eq!(finds(&folder), 2);
}

#[test]
fn a_wrong_or_damaged_file_is_refused_and_nothing_changes() {
    let phone = Phone::new();
    phone.finds(3);
    let backup = phone.backup("backup.zip");
    let bytes = fs::read(&backup).unwrap();
    let mut flipped = bytes.clone();
    let middle = flipped.len() / 2;
    flipped[middle] ^= 0x40;
    let wrong = |name: &str, bytes: &[u8]| {
        let path = phone.path(name);
        fs::write(&path, bytes).unwrap();
        path
    };
    let photo = phone.photo("photo.png");
    for path in [
        wrong("empty.zip", b""),
        wrong("cut.zip", &bytes[..bytes.len() - 40]),
        wrong("flipped.zip", &flipped),
        photo,
        phone.path("nowhere.zip"),
    ] {
        assert_eq!(code(ready(&path, &phone.folder())), "backup", "{path}");
        assert_eq!(restore_page(phone.folder(), zone()).unwrap().ready, None);
        assert_eq!(code(use_restored(phone.folder())), "not-found");
    }
    assert_eq!(phone.book.now(None).unwrap().finds.len(), 3);
    let left: Vec<_> =
        fs::read_dir(phone.dir.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().starts_with(".restoring")), "{left:?}");
}

#[test]
fn one_that_is_ready_can_be_forgotten_and_makes_room_for_the_next() {
    let phone = Phone::new();
    phone.finds(1);
    let one = phone.backup("one.zip");
    phone.finds(1);
    let two = phone.backup("two.zip");
    ready(&one, &phone.folder()).unwrap();
    // What a process that was killed over its work left behind.
    fs::create_dir(phone.path(".restoring-abc")).unwrap();
    fs::write(phone.path(".restoring-abc/x"), "half").unwrap();
    ready(&two, &phone.folder()).unwrap();
    assert!(!Path::new(&phone.path(".restoring-abc")).exists());
    assert_eq!(restore_page(phone.folder(), zone()).unwrap().ready.unwrap().finds, 2);
    forget_restored(phone.folder()).unwrap();
    forget_restored(phone.folder()).unwrap();
    assert_eq!(restore_page(phone.folder(), zone()).unwrap().ready, None);
    let job = start_restore(two, phone.folder(), zone()).unwrap();
    job.cancel().unwrap();
    assert_eq!(code(end(&job)), "stopped");
    assert_eq!(restore_page(phone.folder(), zone()).unwrap().ready, None);
}

/// Killed between any two of its steps, whoever opens the notebook next ends what was begun.
#[test]
fn a_kill_between_two_steps_loses_neither_notebook() {
    for step in 0..4 {
        let phone = Phone::new();
        phone.finds(1);
        let backup = phone.backup("backup.zip");
        phone.finds(2);
        let (dir, folder) = phone.closed();
        ready(&backup, &folder).unwrap();
        let (root, beside) = (Path::new(&folder), |what: &str| dir.path().join(format!("notebook.{what}")));
        let aside = beside("aside").join("2026-12-01T12-00-00Z");
        // As replace.rs says: the intention, one makes room, the other takes it, and the intention is withdrawn.
        fs::write(beside("next"), r#"{"from":null,"aside":"2026-12-01T12-00-00Z"}"#).unwrap();
        if step > 0 {
            fs::create_dir(beside("aside")).unwrap();
        }
        if step > 1 {
            fs::rename(root, &aside).unwrap();
        }
        if step > 2 {
            fs::rename(beside("ready"), root).unwrap();
        }
        assert_eq!(finds(&folder), 1, "step {step}");
        assert!(!beside("next").exists());
        let page = restore_page(folder.clone(), zone()).unwrap();
        assert_eq!(page.set_aside.len(), 1);
        assert_eq!(page.set_aside[0].holds.as_ref().unwrap().finds, 3);
        assert_eq!(page.ready, None);
    }
}
