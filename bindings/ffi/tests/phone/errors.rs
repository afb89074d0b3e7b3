//! Every error of the core comes across with its code, its words and what went into them.

use std::io;

use trug::error::Error;
use trug::key::stream::NotEvidence;
use trug::photo::PhotoError;
use trug::store::StoreError;
use trug_ffi::TrugError;

use crate::{Fix, Phone, code, refused};

/// One error of every kind. A new kind does not compile until it is among them.
fn every_kind() -> Vec<Error> {
    let kinds = |error: &Error| match error {
        Error::Busy
        | Error::Paused
        | Error::NoRoom
        | Error::Disk(_)
        | Error::View(_)
        | Error::NewerFormat { .. }
        | Error::NotFound { .. }
        | Error::Ambiguous { .. }
        | Error::NothingToUndo { .. }
        | Error::Field(_)
        | Error::Sign(_)
        | Error::Place(_)
        | Error::Code(_)
        | Error::Area(_)
        | Error::Observer(_)
        | Error::Evidence(_)
        | Error::Pack(_)
        | Error::Help(_)
        | Error::Id(_)
        | Error::Photo { .. }
        | Error::Shelf(_)
        | Error::Stopped(_)
        | Error::Backup { .. }
        | Error::Bundle(_)
        | Error::Seal(_)
        | Error::TooMuch
        | Error::Changed
        | Error::InTheWay { .. } => {}
    };
    let disk = || trug::disk::DiskError { doing: "write to the log", source: io::ErrorKind::Other.into() };
    let of = |id: &str| id.to_owned();
    let all = vec![
        Error::Busy,
        Error::Paused,
        Error::NoRoom,
        Error::Disk(disk()),
        Error::View(StoreError::Damaged),
        Error::NewerFormat { found: 9, known: 1 },
        Error::NotFound { what: "find" },
        Error::Ambiguous { what: "find" },
        Error::NothingToUndo { what: "find" },
        trug::find::FieldError { field: "taken", why: "too many".into() }.into(),
        trug::condition::SignError::Unknown { id: of("cap-opne"), hint: String::new() }.into(),
        trug::condition::SignError::NotShown { id: of("veil-whole"), taxon: of("morel") }.into(),
        trug::condition::SignError::OtherForm {
            id: of("cap-open"),
            of: of("the form gilled"),
            taxon: of("jelly ear"),
            form: of("ear"),
        }
        .into(),
        trug::place::Error::Latitude.into(),
        trug::place::Error::UnevenFigures.into(),
        trug::code::CodeError::Unknown { id: of("hilltop"), hint: String::new() }.into(),
        trug::code::CodeError::Broken(Vec::new()).into(),
        trug::area::AreaError::Empty.into(),
        trug::area::AreaError::Feature { number: 3, why: of("it has no geometry: draw a polygon") }.into(),
        trug::key::NotAnObserverError { given: 0.08 }.into(),
        NotEvidence::UnknownCharacter(of("hat")).into(),
        NotEvidence::UnknownState { character: of("ring"), state: of("gold"), known: of("absent") }.into(),
        NotEvidence::UnknownTaxon(of("hat")).into(),
        NotEvidence::WrongKind { character: of("ring"), wanted: "states" }.into(),
        trug::pack::PackError::Damaged.into(),
        trug::help::HelpError { file: "page.toml" }.into(),
        trug::id::NotAnId.into(),
        Error::Photo { number: 2, source: PhotoError::Empty },
        Error::Shelf(PhotoError::NoRoom),
        trug::progress::Stopped.into(),
        Error::Backup { why: of("not a backup") },
        trug::exchange::Refused::NotABundle.into(),
        trug::exchange::Refused::Newer { found: 9, known: 1 }.into(),
        trug::seal::SealError::WrongPassphrase.into(),
        Error::TooMuch,
        Error::Changed,
        Error::InTheWay { what: "a file of that name" },
    ];
    for error in &all {
        kinds(error);
    }
    all
}

#[test]
fn every_code_and_every_argument_comes_across() {
    for error in every_kind() {
        let (code, words, arguments) = (error.code(), error.to_string(), error.arguments());
        let TrugError::Said { code: told, arguments: carried, fallback } = error.into();
        assert_eq!((told.as_str(), &fallback), (code, &words));
        assert!(
            !code.is_empty() && code.bytes().all(|b| b.is_ascii_lowercase() || b"-0123456789".contains(&b))
        );
        let carried: Vec<(&str, String)> =
            carried.iter().map(|one| (one.name.as_str(), one.value.clone())).collect();
        assert_eq!(carried, arguments, "{code}");
    }
}

/// Whatever varies in the words is among the arguments, so that another language can say as much.
#[test]
fn what_varies_in_the_words_is_an_argument() {
    for (error, parts) in [
        (Error::NewerFormat { found: 9, known: 1 }, &["9", "1"][..]),
        (Error::NotFound { what: "patch" }, &["patch"]),
        (Error::InTheWay { what: "a file of that name" }, &["a file of that name"]),
        (Error::Photo { number: 2, source: PhotoError::Empty }, &["2"]),
        (Error::Backup { why: "torn".into() }, &["torn"]),
    ] {
        let values: Vec<String> = error.arguments().into_iter().map(|(_, value)| value).collect();
        assert_eq!(values, parts);
    }
}

#[test]
fn calls_are_refused_with_the_code_of_what_is_wrong_and_no_place() {
    let phone = Phone::new();
    let book = &phone.book;
    let nowhere = Fix { latitude: 123.25, longitude: 0.0, accuracy_m: None };
    let error = refused(book.now(Some(nowhere)));
    assert_eq!(error.code(), "place-latitude");
    assert!(!format!("{error:?}").contains("123"));
    assert_eq!(
        code(book.now(Some(Fix { latitude: 1.0, longitude: 1.0, accuracy_m: Some(-1.0) }))),
        "place-accuracy"
    );
    assert_eq!(code(book.find_page("no id".into())), "not-an-id");
    assert_eq!(code(book.find_page("0199f3a0-0000-7000-8000-000000000000".into())), "not-found");
    let page = book.begin_find(None, "whole".into(), None).unwrap();
    let values = |field: &str, value: &str| {
        vec![trug_ffi::FieldValue { field: field.into(), value: Some(value.into()) }]
    };
    let TrugError::Said { code: told, arguments, .. } =
        refused(book.amend_find(page.id.clone(), values("seen", "lots")));
    assert_eq!((told.as_str(), arguments[0].value.as_str()), ("field", "seen"));
    assert_eq!(code(book.amend_find(page.id.clone(), values("aura", "blue"))), "field");
    assert_eq!(code(book.name_find(page.id.clone(), "cep".into(), "magic".into(), None, None)), "field");
    assert_eq!(
        code(book.place_find_at(page.id.clone(), "the beech by the gate".into())),
        "place-unrecognised"
    );
    assert_eq!(book.find_page(page.id.clone()).unwrap(), page);
}

/// A panic in a call that returns no `Result` ends a phone's app.
#[test]
fn every_exported_call_returns_a_result() {
    let mut calls = 0;
    for file in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/src")).unwrap() {
        let text = std::fs::read_to_string(file.unwrap().path()).unwrap();
        for exported in text.split("#[uniffi::export]\n").skip(1) {
            let block = exported.split("\n}\n").next().unwrap();
            for call in block.split("pub fn ").skip(1) {
                let signature = call.split(" {\n").next().unwrap();
                let returns = signature.rsplit("-> ").next().unwrap().replace(['\n', ' '], "");
                assert!(returns.starts_with("Result<") && returns.ends_with(",TrugError>"), "{signature}");
                calls += 1;
            }
        }
    }
    assert!(calls > 30, "{calls}");
}
