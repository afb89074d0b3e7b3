//! What comes in: bundles of somebody else's and of the owner's other devices, looked into and taken.

use std::path::PathBuf;

use trug::export::{Exactness, Terms};
use trug::find::{Find, Substrate};
use trug::id::FindId;
use trug::moment::Moment;
use trug::notebook::{NewFind, Notebook, Sending};
use trug::pack::Pack;
use trug::progress::Unwatched;
use trug::seal::{Passphrase, To};
use trug_ffi::{BundleRead, JobReport, TrugError};

use crate::jobs::end;
use crate::{Phone, code};

/// Somebody who has a notebook and writes bundles: to a file of the phone's folder.
struct Writer<'a> {
    phone: &'a Phone,
    notebook: Notebook,
}

impl<'a> Writer<'a> {
    fn new(phone: &'a Phone, name: &str) -> Self {
        Self { phone, notebook: Notebook::open(&phone.dir.path().join(name)).unwrap() }
    }

    fn find(&self, note: &str) -> FindId {
        let find = Find { on: Some(Substrate::Stump), note: Some(note.to_owned()), ..Find::default() };
        self.notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id
    }

    fn write(&self, name: &str, sending: &Sending, seal: Option<To<'_>>) -> String {
        let path = self.phone.dir.path().join(name);
        let pack = Pack::britain().unwrap();
        self.notebook.write_bundle(pack, sending, seal, &path, true, &Unwatched).unwrap();
        text(path)
    }
}

#[allow(clippy::needless_pass_by_value, reason = "shorter at every use")]
fn text(path: PathBuf) -> String {
    path.to_str().unwrap().to_owned()
}

fn copies(terms: Terms) -> Sending {
    Sending::ForSomeone { finds: None, terms, recipient: Some("a club".to_owned()), photos: false }
}

fn look(phone: &Phone, path: &str, passphrase: Option<&str>) -> Result<BundleRead, TrugError> {
    read(end(&phone.book.start_look(path.to_owned(), passphrase.map(str::to_owned))?)?)
}

fn take(phone: &Phone, path: &str, passphrase: Option<&str>) -> Result<BundleRead, TrugError> {
    read(end(&phone.book.start_take(path.to_owned(), passphrase.map(str::to_owned))?)?)
}

#[allow(clippy::unnecessary_wraps, reason = "it ends what may fail")]
fn read(report: JobReport) -> Result<BundleRead, TrugError> {
    let JobReport::Read { bundle } = report else { panic!("{report:?}") };
    Ok(bundle)
}

fn finds(phone: &Phone) -> usize {
    phone.book.now(None).unwrap().finds.len()
}

#[test]
fn a_bundle_is_looked_into_without_a_trace_and_taken_once() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    writer.find("by the gate");
    writer.find("by the stile");
    let path = writer.write("mine.zip", &Sending::ForMe, None);
    let looked = look(&phone, &path, None).unwrap();
    assert_eq!((looked.for_own, looked.paired, &looked.from, looked.later), (true, false, &None, false));
    assert_eq!((looked.new_finds, looked.new_copies, looked.left_out), (2, 0, 0));
    assert!(looked.new > 0 && looked.new == looked.changes);
    assert_eq!(finds(&phone), 0, "looking keeps nothing");
    assert_eq!(take(&phone, &path, None).unwrap(), looked);
    assert_eq!(finds(&phone), 2);
    let again = take(&phone, &path, None).unwrap();
    assert_eq!((again.changes, again.new, again.new_finds), (looked.changes, 0, 0));
}

#[test]
fn a_find_that_its_owner_deleted_is_not_counted_among_the_new() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    writer.find("stays");
    writer.notebook.delete_find(writer.find("goes")).unwrap();
    let path = writer.write("mine.zip", &Sending::ForMe, None);
    assert_eq!(take(&phone, &path, None).unwrap().new_finds, 1);
    assert_eq!(finds(&phone), 1);
}

#[test]
fn a_paired_device_is_named_and_may_change_what_is_here() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    let find = writer.find("by the gate");
    take(&phone, &writer.write("one.zip", &Sending::ForMe, None), None).unwrap();
    writer.notebook.delete_find(find).unwrap();
    let path = writer.write("two.zip", &Sending::ForMe, None);
    let stranger = look(&phone, &path, None).unwrap();
    assert_eq!((stranger.paired, stranger.new, stranger.left_out), (false, 0, 1));
    phone.book.pair(writer.notebook.own_key().unwrap().to_string(), "Tablet".into()).unwrap();
    let paired = take(&phone, &path, None).unwrap();
    assert_eq!((paired.from.as_deref(), paired.new, paired.left_out), (Some("Tablet"), 1, 0));
    assert_eq!(finds(&phone), 0);
}

#[test]
fn copies_say_what_their_owner_let_out_and_are_deleted_for_good() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    writer.find("by the gate");
    let terms = Terms { name: Some("R. Invented".to_owned()), notes: true, ..Terms::default() };
    let path = writer.write("copies.zip", &copies(terms), None);
    let looked = look(&phone, &path, None).unwrap();
    assert_eq!(
        (
            looked.for_own,
            looked.owner.as_deref(),
            looked.place.as_deref(),
            looked.new_copies,
            looked.new_finds
        ),
        (false, Some("R. Invented"), Some("10km"), 1, 0)
    );
    assert!(phone.book.received_copies().unwrap().is_empty());
    take(&phone, &path, None).unwrap();
    let copies = phone.book.received_copies().unwrap();
    let copy = &copies[0];
    assert_eq!(copy.recorder.as_deref(), Some("R. Invented"));
    assert_eq!(copy.fields.on.as_deref(), Some("stump"));
    assert_eq!(copy.fields.note.as_deref(), Some("by the gate"));
    assert_eq!((&copy.at, copy.day.is_some(), &copy.place), (&None, true, &None));
    assert_eq!(finds(&phone), 0, "they are nobody's finds here");
    phone.book.delete_copy(copy.id.clone()).unwrap();
    assert!(phone.book.received_copies().unwrap().is_empty());
    assert_eq!(take(&phone, &path, None).unwrap().new_copies, 0);
    assert!(phone.book.received_copies().unwrap().is_empty());
    assert_eq!(code(phone.book.delete_copy("0199f3a0-0000-7000-8000-000000000000".into())), "not-found");
}

#[test]
fn a_place_is_shown_as_exactly_as_it_was_told() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    // Nobody's place: it stands for "Harrow Shaw", which is invented.
    let at = trug::place::Position::new(51.5, -1.5).unwrap();
    let position = trug::find::Whereabouts { position: at, got: trug::find::Got::Map };
    let find = Find { position: Some(position), ..Find::default() };
    writer.notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
    for (place, name, exact) in [
        (Exactness::TenKilometres, "SU37", false),
        (Exactness::OneKilometre, "SU3478", false),
        (Exactness::Exact, "SU", true),
    ] {
        let other = Phone::new();
        let path = writer.write("copies.zip", &copies(Terms { place, ..Terms::default() }), None);
        take(&other, &path, None).unwrap();
        let told = other.book.received_copies().unwrap()[0].place.clone().unwrap();
        let letters = told.name.replace(' ', "");
        assert!(letters.starts_with(name) && (letters == name) != exact, "{told:?}");
        assert_eq!(told.exact, exact);
    }
}

#[test]
fn a_sealed_bundle_wants_its_passphrase() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    writer.find("by the gate");
    let passphrase = Passphrase::new("three dry words").unwrap();
    let path = writer.write("sealed.age", &Sending::ForMe, Some(To::Passphrase(&passphrase)));
    assert_eq!(code(look(&phone, &path, None)), "needs-passphrase");
    assert_eq!(code(look(&phone, &path, Some("three wet words"))), "wrong-passphrase");
    assert_eq!(code(look(&phone, &path, Some(""))), "no-passphrase");
    assert_eq!(look(&phone, &path, Some("three dry words")).unwrap().new_finds, 1);
    assert_eq!(take(&phone, &path, Some("three dry words")).unwrap().new_finds, 1);
    let stranger = Phone::new();
    let key = [trug::seal::Recipient::try_from(&writer.notebook.own_key().unwrap()).unwrap()];
    let path = writer.write("sealed.age", &Sending::ForMe, Some(To::Keys(&key)));
    assert_eq!(code(look(&stranger, &path, None)), "not-for-us");
}

/// Whatever is wrong with a file, it is said which, and nothing is kept.
#[test]
fn files_that_are_no_bundles_are_refused_each_for_its_reason() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    writer.find("by the gate");
    let path = writer.write("mine.zip", &Sending::ForMe, None);
    let whole = std::fs::read(&path).unwrap();
    let file = |name: &str, bytes: &[u8]| {
        let path = phone.dir.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        text(path)
    };
    assert_eq!(code(take(&phone, &file("letter.txt", b"Dear all,"), None)), "not-a-bundle");
    assert_eq!(code(take(&phone, &file("empty.zip", b""), None)), "not-a-bundle");
    assert_eq!(code(take(&phone, &file("short.zip", &whole[..whole.len() / 2]), None)), "not-a-bundle");
    assert_eq!(code(take(&phone, &text(phone.dir.path().join("nowhere")), None)), "bundle-unreadable");
    // Within the changes, which are packed.
    let at = whole.windows(6).position(|window| window == b".jsonl").unwrap() + 60;
    let mut bent = whole.clone();
    bent[at] ^= 1;
    assert_eq!(code(take(&phone, &file("bent.zip", &bent), None)), "bundle-damaged");
    assert_eq!(finds(&phone), 0);
}

#[test]
fn a_bundle_that_is_called_off_leaves_nothing() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    for n in 0..200 {
        writer.find(&n.to_string());
    }
    let path = writer.write("mine.zip", &Sending::ForMe, None);
    let job = phone.book.start_take(path.clone(), None).unwrap();
    job.cancel().unwrap();
    assert_eq!(code(end(&job)), "stopped");
    assert_eq!(finds(&phone), 0);
    assert_eq!(take(&phone, &path, None).unwrap().new_finds, 200);
}

#[test]
fn a_copy_with_its_time_shows_it_as_the_clock_showed_it() {
    let phone = Phone::new();
    let writer = Writer::new(&phone, "theirs");
    let at: Moment = "2026-10-18T09:30:00+01:00".parse().unwrap();
    writer
        .notebook
        .add_find(NewFind { find: Find { at: Some(at), ..Find::default() }, photos: Vec::new() })
        .unwrap();
    let path = writer.write("copies.zip", &copies(Terms { time: true, ..Terms::default() }), None);
    take(&phone, &path, None).unwrap();
    let copy = &phone.book.received_copies().unwrap()[0];
    let shown = copy.at.clone().unwrap();
    assert_eq!((shown.millis, shown.offset_seconds, shown.day.as_str()), (at.millis(), 3600, "2026-10-18"));
}
