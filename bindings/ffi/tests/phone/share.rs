//! Sharing: what leaves is shown first, and is what the file then holds.

use std::path::Path;
use std::sync::Arc;

use trug_ffi::{
    CopiesLeaving, CopyLeaving, JobReport, LeavingShown, ShareSeal, ShareTerms, ShareWhat, ShareWhich,
    TrugError,
};

use crate::jobs::end;
use crate::{HERE, Phone, code};

/// The least that may leave.
fn least() -> ShareTerms {
    ShareTerms { place: "10km".into(), notes: false, time: false, photos: false, name: None, recipient: None }
}

fn copies(which: ShareWhich, form: &str, terms: ShareTerms) -> ShareWhat {
    ShareWhat::Copies { which, form: form.into(), terms }
}

fn preview(phone: &Phone, what: &ShareWhat) -> Result<(LeavingShown, Arc<CopiesLeaving>), TrugError> {
    match end(&phone.book.start_preview(what.clone(), false)?)? {
        JobReport::Previewed { leaving, copies } => Ok((leaving, copies)),
        other => panic!("{other:?}"),
    }
}

fn write(
    phone: &Phone,
    what: &ShareWhat,
    seal: ShareSeal,
    mark: &str,
    path: &Path,
) -> Result<LeavingShown, TrugError> {
    let path = path.to_str().unwrap().to_owned();
    match end(&phone.book.start_share(what.clone(), seal, mark.to_owned(), path)?)? {
        JobReport::Shared { leaving } => Ok(leaving),
        other => panic!("{other:?}"),
    }
}

/// A find with all that could be told of it, in Harrow Shaw, which is invented.
fn full(phone: &Phone) -> String {
    phone.book.start_outing(Some("Harrow Shaw".into()), "permitted".into()).unwrap();
    let page = phone.book.begin_find(Some(phone.photo("a.png")), "underside".into(), Some(HERE)).unwrap();
    let page = phone
        .book
        .name_find(page.id, "velvet-shank".into(), "sight".into(), Some("sure".into()), None)
        .unwrap();
    let values = [
        ("seen", "5-7"),
        ("width", "25-45"),
        ("on", "fallen-branch"),
        ("host", "elder"),
        ("ground", "chalk"),
        ("growth", "tuft"),
        ("stages", "prime=5"),
        ("taken", "2"),
        ("grams", "45.5"),
        ("note", "under the old elder"),
        ("habitat", "by the gate"),
    ];
    phone.amend(&page, &values).id
}

fn field<'a>(copy: &'a CopyLeaving, name: &str) -> Option<&'a str> {
    copy.fields.iter().find(|one| one.field == name).map(|one| one.value.as_str())
}

#[test]
fn the_latest_outing_is_meant_until_something_else_is_said() {
    let phone = Phone::new();
    let page = phone.book.share_page(None).unwrap();
    assert_eq!((page.which, page.finds), (ShareWhich::All, 0));
    assert!(page.outings.is_empty() && page.patches.is_empty() && page.devices.is_empty());
    let id = full(&phone);
    let page = phone.book.share_page(None).unwrap();
    let outing = ShareWhich::Outing { id: page.outings[0].id.clone() };
    assert_eq!((&page.which, page.finds), (&outing, 1));
    let page = phone.book.share_page(Some(ShareWhich::Find { id: id.clone() })).unwrap();
    assert_eq!(page.find.unwrap().name.unwrap().english, "Velvet shank");
    let patch = phone.book.found_patch(id.clone(), Some("the old elder".into())).unwrap().patch.unwrap().id;
    let page = phone.book.share_page(Some(ShareWhich::Patch { id: patch.clone() })).unwrap();
    assert_eq!((page.finds, page.patches[0].id.as_str()), (1, patch.as_str()));
    let day = |day: &str| Some(day.to_owned());
    let page = phone.book.share_page(Some(ShareWhich::Days { from: None, to: None })).unwrap();
    let ShareWhich::Days { from: Some(from), to: Some(to) } = page.which else { panic!("{:?}", page.which) };
    assert!(from < to && to == page.now.day && page.finds == 1);
    let long_ago = ShareWhich::Days { from: day("1999-01-02"), to: day("1999-01-01") };
    let page = phone.book.share_page(Some(long_ago)).unwrap();
    assert_eq!(page.which, ShareWhich::Days { from: day("1999-01-01"), to: day("1999-01-02") });
    assert_eq!(page.finds, 0);
    let no_day = ShareWhich::Days { from: day("yesterday"), to: None };
    assert_eq!(code(phone.book.share_page(Some(no_day))), "field");
    phone.book.delete_find(id.clone()).unwrap();
    assert_eq!(code(phone.book.share_page(Some(ShareWhich::Find { id }))), "not-found");
}

#[test]
fn every_field_that_leaves_is_shown_and_nothing_that_stays() {
    let phone = Phone::new();
    full(&phone);
    let (leaving, all) = preview(&phone, &copies(ShareWhich::All, "bundle", least())).unwrap();
    assert_eq!((leaving.made_of.as_str(), leaving.count, leaving.photos, leaving.exact), ("copies", 1, 0, 0));
    assert!(leaving.agree_to.is_empty() && leaving.left_out.is_empty());
    let copy = &all.page(0, 10).unwrap()[0];
    assert!(all.page(1, 10).unwrap().is_empty());
    assert_eq!(copy.name.as_deref(), Some("Velvet shank"));
    for (name, value) in [
        ("name.scientific", "Flammulina velutipes"),
        ("name.how", "sight"),
        ("on", "fallen-branch"),
        ("host.tree", "elder"),
        ("ground", "chalk"),
        ("growth", "tuft"),
        ("seen", "5–7"),
        ("stages.prime", "5"),
        ("taken", "2"),
        ("grams", "45.5"),
    ] {
        assert_eq!(field(copy, name), Some(value), "{name}");
    }
    for stays in ["time", "recorder", "note", "habitat"] {
        assert_eq!(field(copy, stays), None);
    }
    assert_ne!(field(copy, "place.latitude"), Some("51.5"));
    let square = copy.square.as_ref().unwrap();
    assert_eq!((square.side_km, square.around.len()), (10, 9));
    assert_eq!(
        (field(copy, "place.square"), square.around[4].as_ref()),
        (Some(square.name.as_str()), Some(&square.name))
    );
    assert_eq!(leaving.squares.len(), 1);

    let more = ShareTerms {
        place: "exact".into(),
        notes: true,
        time: true,
        photos: true,
        name: Some("R.".into()),
        ..least()
    };
    let (leaving, all) = preview(&phone, &copies(ShareWhich::All, "bundle", more)).unwrap();
    assert_eq!(leaving.agree_to, ["exact-places", "own-name"]);
    assert_eq!((leaving.photos, leaving.exact, leaving.squares.len()), (1, 1, 0));
    let copy = &all.page(0, 10).unwrap()[0];
    assert!(copy.is_exact && copy.square.is_none());
    assert_eq!((field(copy, "place.latitude"), field(copy, "recorder")), (Some("51.5"), Some("R.")));
    assert_eq!(
        (field(copy, "note"), field(copy, "habitat")),
        (Some("under the old elder"), Some("by the gate"))
    );
    assert!(field(copy, "time").is_some());
    assert_eq!(copy.photos[0].role.as_deref(), Some("underside"));
    assert!(Path::new(copy.photos[0].thumbnail.as_ref().unwrap()).is_file());
}

#[test]
fn the_file_is_what_was_shown_or_there_is_none() {
    let phone = Phone::new();
    let id = full(&phone);
    for form in phone.book.share_page(None).unwrap().forms {
        let what = copies(ShareWhich::Find { id: id.clone() }, &form.form, least());
        if form.holds_patches {
            let (nothing, _) = preview(&phone, &what).unwrap();
            assert_eq!((nothing.made_of.as_str(), nothing.count), ("patches", 0));
            phone.book.found_patch(id.clone(), Some("secret log".into())).unwrap();
        }
        let (leaving, _) = preview(&phone, &what).unwrap();
        assert_eq!(leaving.count, 1, "{}", form.form);
        let file = phone.dir.path().join(&leaving.file_name);
        let other = write(&phone, &what, ShareSeal::Open, "another mark", &file);
        assert_eq!(code(other), "changed");
        assert!(!file.exists());
        let written = write(&phone, &what, ShareSeal::Open, &leaving.mark, &file).unwrap();
        assert_eq!(written, leaving);
        let bytes = std::fs::read(&file).unwrap();
        assert_eq!(bytes.starts_with(b"PK"), leaving.media_type == "application/zip", "{}", form.form);
        assert_eq!(code(write(&phone, &what, ShareSeal::Open, &leaving.mark, &file)), "in-the-way");
        assert!(!String::from_utf8_lossy(&bytes).contains("secret log"));
    }
}

/// As Python's zipfile and csv read them.
#[test]
fn another_program_finds_in_the_file_what_was_shown() {
    let phone = Phone::new();
    full(&phone);
    let Some(mut python) = trug_tests::tool("python3") else { return };
    let what = copies(ShareWhich::All, "csv", least());
    let (leaving, all) = preview(&phone, &what).unwrap();
    let file = phone.dir.path().join(&leaving.file_name);
    write(&phone, &what, ShareSeal::Open, &leaving.mark, &file).unwrap();
    let script = "import csv, sys; print(*['%s=%s' % i for i in next(csv.DictReader(open(sys.argv[1]))).items() if i[1]], sep='\\n')";
    let read = trug_tests::run(python.args(["-c", script]).arg(&file));
    let copy = &all.page(0, 1).unwrap()[0];
    for (column, shown) in [
        ("scientific_name", "name.scientific"),
        ("square", "place.square"),
        ("latitude", "place.latitude"),
        ("host", "host.tree"),
        ("grams", "grams"),
    ] {
        assert!(read.contains(&format!("{column}={}\n", field(copy, shown).unwrap())), "{column} in {read}");
    }
}

/// Opened by the age crate, as any age program would; the file is sealed to a key that only the other notebook has.
#[test]
fn a_bundle_is_sealed_with_a_passphrase_or_to_a_key() {
    let (ours, theirs) = (Phone::new(), Phone::new());
    full(&ours);
    let what = copies(ShareWhich::All, "bundle", least());
    let (leaving, _) = preview(&ours, &what).unwrap();
    let seal = |seal: ShareSeal, name: &str| {
        let file = ours.dir.path().join(name);
        write(&ours, &what, seal, &leaving.mark, &file).map(|told| (std::fs::read(&file).unwrap(), told))
    };
    let passphrase = ShareSeal::Passphrase { passphrase: "three wet boots".into() };
    assert!(!format!("{passphrase:?}").contains("boots"));
    let (sealed, told) = seal(passphrase, "a.age").unwrap();
    assert!(sealed.starts_with(b"age-encryption.org/v1\n-> scrypt"));
    assert!(told.file_name.ends_with(".zip.age") && told.media_type == "application/octet-stream");
    let notebook = trug::notebook::Notebook::open(&theirs.dir.path().join("another")).unwrap();
    let key = notebook.own_key().unwrap();
    for text in [key.to_string(), key.age()] {
        let (sealed, _) = seal(ShareSeal::Key { key: text.clone() }, &text).unwrap();
        assert!(sealed.starts_with(b"age-encryption.org/v1\n-> X25519"));
    }
    assert_eq!(code(seal(ShareSeal::Key { key: "age1nothing".into() }, "b")), "not-a-key");
    assert_eq!(code(seal(ShareSeal::Passphrase { passphrase: String::new() }, "c")), "no-passphrase");
    let nobody = ShareSeal::Device { id: "0199f3a0-0000-7000-8000-000000000000".into() };
    assert_eq!(code(seal(nobody, "d")), "not-found");
}

#[test]
fn everything_for_the_owners_own_devices_is_to_be_agreed_to() {
    let phone = Phone::new();
    full(&phone);
    let what = ShareWhat::Everything { device: None };
    let (leaving, all) = preview(&phone, &what).unwrap();
    assert_eq!((leaving.made_of.as_str(), leaving.photos), ("changes", 1));
    assert_eq!(leaving.agree_to, ["everything"]);
    assert!(leaving.count > 1 && all.page(0, 10).unwrap().is_empty());
    let file = phone.dir.path().join(&leaving.file_name);
    write(&phone, &what, ShareSeal::Open, &leaving.mark, &file).unwrap();
    assert!(file.is_file());
    let unknown = ShareWhat::Everything { device: Some("0199f3a0-0000-7000-8000-000000000000".into()) };
    assert_eq!(code(preview(&phone, &unknown)), "not-found");
}

#[test]
fn a_cancelled_share_leaves_no_file_and_a_name_of_nothing_is_refused() {
    let phone = Phone::new();
    for n in 0..40 {
        phone.book.begin_find(Some(phone.photo(&format!("{n}.png"))), "whole".into(), Some(HERE)).unwrap();
    }
    let what = copies(ShareWhich::All, "bundle", ShareTerms { photos: true, ..least() });
    let (leaving, _) = preview(&phone, &what).unwrap();
    assert_eq!((leaving.count, leaving.photos), (40, 40));
    let file = phone.dir.path().join(&leaving.file_name);
    let path = file.to_str().unwrap().to_owned();
    let job = phone.book.start_share(what, ShareSeal::Open, leaving.mark, path).unwrap();
    job.cancel().unwrap();
    assert_eq!(code(end(&job)), "stopped");
    assert!(!file.exists());
    let beside: Vec<_> =
        std::fs::read_dir(phone.dir.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert!(beside.iter().all(|name| !name.to_string_lossy().contains("trug-copies")), "{beside:?}");
    let nameless = copies(ShareWhich::All, "bundle", ShareTerms { name: Some(" ".into()), ..least() });
    assert_eq!(code(preview(&phone, &nameless)), "field");
    let odd = copies(ShareWhich::All, "scroll", least());
    assert_eq!(code(preview(&phone, &odd)), "field");
}
