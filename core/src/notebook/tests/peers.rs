//! The notebook's own key, paired devices, and what a restored backup still has of both.

use std::os::unix::fs::PermissionsExt;

use super::*;
use crate::export::{Contents, Format, Terms};
use crate::notebook::{Order, restore};
use crate::pack::Pack;
use crate::seal::{Identity, SealError, Signature};

fn other(name: &str) -> (Desk, Notebook, String) {
    let desk = Desk::new();
    let notebook = desk.open();
    (desk, notebook, name.to_owned())
}

#[test]
fn the_key_is_drawn_once_and_kept_for_its_owner_alone() {
    let desk = Desk::new();
    let notebook = desk.open();
    let file = notebook.root().join("identity.secret");
    assert!(!file.exists(), "not before it is needed");
    let key = notebook.own_key().unwrap();
    assert_eq!(std::fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
    assert_eq!(notebook.own_key().unwrap(), key);
    drop(notebook);
    assert_eq!(desk.open().own_key().unwrap(), key);
}

#[test]
fn a_damaged_key_is_never_replaced_unasked() {
    let desk = Desk::new();
    let notebook = desk.open();
    let file = notebook.root().join("identity.secret");
    for text in
        ["", "# nothing\n", "AGE-SECRET-KEY-1QQQQ\n", "\u{feff}x", "AGE-SECRET-KEY-1\nAGE-SECRET-KEY-1\n"]
    {
        std::fs::write(&file, text).unwrap();
        let error = notebook.own_key().unwrap_err();
        assert!(matches!(error, Error::Seal(SealError::IdentityDamaged)), "{text:?}: {error}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    }
}

#[test]
fn only_paired_devices_are_believed_and_only_as_long_as_they_are() {
    let (_a, ours, _) = other("phone");
    let (_b, tablet, name) = other("Tablet");
    let (_c, stranger, _) = other("stranger");
    let text = "0123  data/changes\n";
    let believed = |signature: &Signature| ours.author_of(text, signature).unwrap();
    let theirs = tablet.sign(text).unwrap();
    assert_eq!(believed(&theirs), None, "not before it is paired");
    let paired = ours.pair(&tablet.own_key().unwrap(), &name).unwrap();
    assert_eq!(believed(&theirs), Some(Author::Paired { id: paired.id, name: name.clone() }));
    assert_eq!(believed(&ours.sign(text).unwrap()), Some(Author::Ourselves));
    assert_eq!(believed(&stranger.sign(text).unwrap()), None);
    // A stranger's signature under a trusted key's name, or over another text, is nobody's.
    let forged = Signature { key: theirs.key, ..stranger.sign(text).unwrap() };
    assert_eq!(believed(&forged), None);
    assert_eq!(ours.author_of("0123  data/changed\n", &theirs).unwrap(), None);
    ours.unpair("tablet").unwrap();
    assert_eq!(believed(&theirs), None);
    assert_eq!(ours.peers().unwrap(), []);
    assert_eq!(ours.pair(&tablet.own_key().unwrap(), &name).unwrap(), paired, "paired anew, the same record");
}

#[test]
fn pairing_renames_refuses_itself_and_is_the_same_record_everywhere() {
    let (_a, one, _) = other("one");
    let (_b, two, _) = other("two");
    let (_c, tablet, _) = other("tablet");
    let key = tablet.own_key().unwrap();
    let first = one.pair(&key, "tablet").unwrap();
    assert_eq!(one.pair(&key, " Tablet, the old one ").unwrap().name(), "Tablet, the old one");
    assert_eq!(two.pair(&key, "tablet").unwrap().id, first.id);
    assert_eq!(one.peers().unwrap().len(), 1);
    let own = one.own_key().unwrap();
    for (key, name) in [(&own, "myself"), (&key, " "), (&key, &*"x".repeat(201))] {
        assert!(matches!(one.pair(key, name), Err(Error::Field(_))), "{name}");
    }
    assert!(matches!(one.unpair("nobody"), Err(Error::NotFound { .. })));
    assert_eq!(one.unpair(&first.id.to_string()[..13]).unwrap().id, first.id);
}

#[test]
fn a_record_filed_under_another_id_than_its_keys_is_not_believed() {
    let (_a, ours, _) = other("ours");
    let key = Identity::draw().unwrap().public().unwrap();
    let set = [("key".to_owned(), json!(key)), ("name".to_owned(), json!("x"))].into_iter().collect();
    ours.keep(&[super::super::act::Edit::new(kind::PEER, crate::id::PeerId::new(), set)]).unwrap();
    assert_eq!(ours.peers().unwrap(), []);
}

#[test]
fn a_restored_backup_has_the_same_key_and_gives_copies_the_same_ids() {
    let desk = Desk::new();
    let notebook = desk.open();
    notebook.add_find(seen(3)).unwrap();
    let order = Order {
        format: Format::Csv,
        finds: None,
        terms: Terms::default(),
        photos: false,
        recipient: Some("R.".to_owned()),
        patch: None,
    };
    let ids = |notebook: &Notebook| {
        let (Contents::Finds(copies), _) =
            notebook.copies(Pack::britain().unwrap(), &order, &Unwatched).unwrap()
        else {
            panic!("finds were asked for")
        };
        copies.iter().map(|copy| copy.id).collect::<Vec<_>>()
    };
    let (before, key) = (ids(&notebook), notebook.own_key().unwrap());
    let (file, elsewhere) = (desk.dir.path().join("backup.zip"), desk.dir.path().join("elsewhere"));
    notebook.backup(&file, &Unwatched).unwrap();
    restore(&file, &elsewhere, &Unwatched).unwrap();
    let restored = Notebook::open(&elsewhere).unwrap();
    assert_eq!(ids(&restored), before);
    assert_eq!(restored.own_key().unwrap(), key);
    for secret in ["identity.secret", "copies.secret"] {
        let mode = std::fs::metadata(elsewhere.join(secret)).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600, "{secret}");
    }
}

#[test]
fn a_notebook_without_secrets_is_restored_without() {
    let desk = Desk::new();
    let (file, elsewhere) = (desk.dir.path().join("backup.zip"), desk.dir.path().join("elsewhere"));
    desk.open().backup(&file, &Unwatched).unwrap();
    restore(&file, &elsewhere, &Unwatched).unwrap();
    assert!(!elsewhere.join("identity.secret").exists());
}
