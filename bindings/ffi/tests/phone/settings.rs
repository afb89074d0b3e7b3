//! Settings: codes, own rules, areas, the observer, the key, and where everything comes from.

use std::collections::BTreeSet;
use std::process::Command;

use trug_ffi::{AreaAsked, CodesPage, RuleAsked, knowledge, licence_page, licences, outlines_in};

use crate::{HERE, Phone, code, refused, seen};

fn in_force(page: &CodesPage) -> Vec<&str> {
    page.codes.iter().filter(|code| code.in_force).map(|code| code.id.as_str()).collect()
}

/// The four codes that are Britain's, and what holds everywhere: `in_force` of core/packs/codes.
const AT_FIRST: [&str; 5] = ["common-practice", "pickers-1998", "scottish-code", "schedule-8", "theft-act"];

#[test]
fn codes_are_those_of_britain_until_others_are_chosen() {
    let phone = Phone::new();
    let book = &phone.book;
    let page = book.codes().unwrap();
    assert!(!page.chosen);
    assert_eq!(in_force(&page), AT_FIRST);
    let pickers = page.codes.iter().find(|code| code.id == "pickers-1998").unwrap();
    assert_eq!((pickers.holds_in.as_str(), pickers.text_of.as_deref()), ("Britain", Some("1998-09-03")));
    assert!(pickers.check_locally && !pickers.always && !pickers.source.is_empty());
    assert!(pickers.rules.iter().any(|rule| rule.words.contains("half")));
    let page = book.gather_under("castilla-y-leon".into(), true).unwrap();
    assert!(page.chosen && in_force(&page).len() == AT_FIRST.len() + 1);
    for id in &AT_FIRST[1..] {
        book.gather_under((*id).into(), false).unwrap();
    }
    assert_eq!(in_force(&book.codes().unwrap()), ["common-practice", "castilla-y-leon"]);
    let settings = book.settings().unwrap();
    assert_eq!(settings.codes.len(), 1, "common practice holds anyway, and is no choice: {settings:?}");
    assert_eq!(in_force(&book.gather_as_at_first().unwrap()), AT_FIRST);
    assert_eq!(code(book.gather_under("hilltop".into(), true)), "code-unknown");
    // What holds anyway is not to be left out.
    assert!(
        in_force(&book.gather_under("common-practice".into(), false).unwrap()).contains(&"common-practice")
    );
}

fn asked(kind: &str, number: &str, fungus: Option<&str>) -> RuleAsked {
    RuleAsked {
        kind: kind.into(),
        number: number.into(),
        per: "day".into(),
        over: "patch".into(),
        fungus: fungus.map(str::to_owned),
    }
}

#[test]
fn a_rule_of_ones_own_is_judged_at_the_next_find_and_taken_back() {
    let phone = Phone::new();
    let book = &phone.book;
    book.start_outing(None, "own".into()).unwrap();
    let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = book.name_find(page.id, "velvet-shank".into(), "sight".into(), None, None).unwrap();
    let page = phone.amend(&page, &[("seen", "7"), ("signs", "cap-open")]);
    let before = page.advice.first_line.clone();
    for (kind, number) in [("present", "8"), ("keep", "7"), ("count", "1"), ("weight", "200"), ("rest", "14")]
    {
        let rules = book.add_house_rule(asked(kind, number, None)).unwrap().rules;
        assert!(rules.last().unwrap().readable);
    }
    let page = book.find_page(page.id).unwrap();
    assert!(page.advice.first_line.starts_with("Leave these."), "{} after {before}", page.advice.first_line);
    let page_of_rules = book.house().unwrap();
    assert_eq!(page_of_rules.rules[0].words, "None where fewer than 8 are present.");
    assert_eq!(page_of_rules.rules[2].words, "No more than 1 from one patch a day.");
    assert_eq!(book.settings().unwrap().rules, 5);
    for rule in page_of_rules.rules {
        book.remove_house_rule(rule.id).unwrap();
    }
    assert_eq!(book.find_page(page.id.clone()).unwrap().advice.first_line, before);
    let never =
        book.add_house_rule(asked("protected", "", Some("velvet-shank"))).unwrap().rules.pop().unwrap();
    assert_eq!(never.words, "Velvet shank: never taken.");
    assert!(book.find_page(page.id).unwrap().advice.first_line.starts_with("Leave these."));
    assert_eq!(code(book.remove_house_rule("0199f3a0-0000-7000-8000-000000000000".into())), "not-found");
}

#[test]
fn a_rule_that_makes_no_sense_or_is_there_already_is_refused() {
    let book = Phone::new().book;
    for (wrong, field) in [
        (asked("keep", "lots", None), "number"),
        (asked("keep", "", None), "number"),
        (asked("size", "-3", None), "number"),
        (asked("protected", "", None), "fungus"),
        (asked("aura", "1", None), "kind of limit"),
    ] {
        let trug_ffi::TrugError::Said { code, arguments, .. } = refused(book.add_house_rule(wrong));
        assert_eq!((code.as_str(), arguments[0].value.as_str()), ("field", field));
    }
    book.add_house_rule(asked("keep", "3", None)).unwrap();
    assert_eq!(code(book.add_house_rule(asked("keep", " 3 ", None))), "field");
    assert_eq!(book.house().unwrap().rules.len(), 1);
}

/// A square about [`HERE`], as RFC 7946 writes one: "Lidgate Hanger", which is invented.
const SQUARE: &str = r#"{"type": "Feature", "properties": {"name": "Lidgate Hanger"}, "geometry": {"type": "Polygon",
    "coordinates": [[[-1.51, 51.49], [-1.49, 51.49], [-1.49, 51.51], [-1.51, 51.51], [-1.51, 51.49]]]}}"#;

#[test]
fn an_area_from_a_file_closes_the_ground_until_it_is_removed() {
    let phone = Phone::new();
    let book = &phone.book;
    let file = |name: &str, text: &str| {
        let path = phone.dir.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let path = file("area.geojson", SQUARE);
    let seen = outlines_in(path.clone()).unwrap();
    assert_eq!((seen.count, seen.name.as_deref()), (1, Some("Lidgate Hanger")));
    assert_eq!(seen.shapes, ["an outline of 4 corners"]);
    let named =
        |name: &str, closed| AreaAsked { name: name.into(), closed, code: None, note: Some(" ".into()) };
    assert_eq!(code(book.add_areas(path.clone(), named("Hanger", false))), "field");
    assert_eq!(code(book.add_areas(path.clone(), named(" ", true))), "field");
    let kept = book.add_areas(path, named("Hanger", true)).unwrap().pop().unwrap();
    assert_eq!((kept.name.as_str(), kept.closed, kept.note), ("Hanger", true, None));
    let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = book.name_find(page.id, "velvet-shank".into(), "sight".into(), None, None).unwrap();
    let closed = |page: &trug_ffi::FindPage| page.advice.reasons.iter().any(|it| it.words.contains("Hanger"));
    assert!(closed(&page), "{:?}", page.advice);
    assert!(book.remove_area(kept.id).unwrap().is_empty());
    assert!(!closed(&book.find_page(page.id).unwrap()));
    assert_eq!(code(outlines_in(file("torn.geojson", &SQUARE[..80]))), "geojson-not-json");
    assert_eq!(code(outlines_in(file("other.geojson", "[]"))), "geojson-not-geojson");
    assert_eq!(code(outlines_in("nowhere".into())), "geojson-not-json");
    let dots = r#"{"type": "Point", "coordinates": [-1.5, 51.5]}"#;
    let error = refused(outlines_in(file("point.geojson", dots)));
    assert!(error.code() == "geojson-feature" && !format!("{error:?}").contains("51"), "{error:?}");
}

#[test]
fn the_key_assumes_what_its_owner_raised_and_never_less_than_fifteen_per_cent() {
    let phone = Phone::new();
    let book = &phone.book;
    let settings = book.settings().unwrap();
    assert_eq!((settings.observer_percent, settings.observer_least, settings.observer_most), (15, 15, 50));
    for refused in [0, 8, 14, 51, 100, u32::MAX] {
        assert_eq!(code(book.assume_observer(refused)), "observer-error-out-of-range");
    }
    let answers = [("form", "gilled"), ("stem-surface", "velvety"), ("ring", "absent"), ("growth", "tuft")];
    let evidence: Vec<_> = answers.iter().map(|(character, state)| seen(character, &[state])).collect();
    let step =
        || book.key_step(trug_ffi::KeyAsked { evidence: evidence.clone(), ..Default::default() }).unwrap();
    let careful = step();
    assert_eq!(book.assume_observer(40).unwrap().observer_percent, 40);
    let doubtful = step();
    assert_ne!(doubtful.fits, careful.fits, "the same answers weigh less");
    let page = book.begin_find(None, "whole".into(), None).unwrap();
    let of_find = book.key_begin(Some(page.id), None).unwrap();
    assert_ne!(of_find, careful);
    // It is the notebook's, not the process's.
    let Phone { dir, book } = phone;
    drop(book);
    let folder = dir.path().join("notebook").to_str().unwrap().to_owned();
    let again = trug_ffi::Book::open(folder, crate::zone()).unwrap();
    assert_eq!(again.settings().unwrap().observer_percent, 40);
    assert_eq!(again.assume_observer(15).unwrap().observer_percent, 15);
    let back = again.key_step(trug_ffi::KeyAsked { evidence, ..Default::default() }).unwrap();
    assert_eq!(back, careful);
}

#[test]
fn the_own_key_stays_the_same_and_says_nothing_secret() {
    let phone = Phone::new();
    let key = phone.book.own_key().unwrap();
    assert_eq!(phone.book.own_key().unwrap(), key);
    assert!(key.line.starts_with("trug1") && key.age.starts_with("age1"));
    assert_eq!(key.fingerprint.split(' ').map(str::len).collect::<Vec<_>>(), [5; 6]);
    assert!(!format!("{key:?}").to_uppercase().contains("SECRET"));
}

#[test]
fn every_source_says_what_it_is_used_for() {
    let page = knowledge().unwrap();
    let all = page.published.iter().chain(&page.unpublished).chain(&page.codes);
    for source in all {
        assert!(!source.citation.is_empty() && !source.used_for.is_empty(), "{source:?}");
    }
    assert!(page.published.len() > 100 && !page.unpublished.is_empty() && page.codes.len() == 6);
    // By its file, packs/britain/taxa/velvet-shank.toml, whose standing this book stands for.
    let text = concat!(env!("CARGO_MANIFEST_DIR"), "/../../core/packs/britain/sources.toml");
    let sources = std::fs::read_to_string(text).unwrap();
    let phillips = sources.lines().find(|line| line.starts_with("phillips2006 ")).unwrap();
    let citation = phillips.split('"').nth(1).unwrap();
    let shown = page.published.iter().find(|source| source.citation == citation).unwrap();
    assert!(shown.used_for.contains(&"Velvet shank".to_owned()));
}

/// What cargo says that the library is made of, on the phones that it is built for.
fn carried() -> BTreeSet<(String, String)> {
    let targets =
        ["aarch64-linux-android", "armv7-linux-androideabi", "x86_64-linux-android", "aarch64-apple-ios"];
    let mut cargo = Command::new(env!("CARGO"));
    cargo.current_dir(env!("CARGO_MANIFEST_DIR"));
    cargo.args(["tree", "--offline", "--locked", "--edges", "normal,no-proc-macro", "--prefix", "none"]);
    cargo.args(["--no-dedupe", "--format", "{p}"]);
    cargo.args(targets.iter().flat_map(|target| ["--target", target]));
    let told = cargo.output().unwrap();
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    let told = String::from_utf8(told.stdout).unwrap();
    let mut found = BTreeSet::new();
    for line in told.lines() {
        let mut words = line.split_whitespace();
        if let (Some(name), Some(version)) = (words.next(), words.next()) {
            found.insert((name.to_owned(), version.trim_start_matches('v').to_owned()));
        }
    }
    found.retain(|(name, _)| name != "trug" && name != "trug-ffi");
    assert!(found.len() > 100);
    found
}

#[test]
fn every_crate_in_the_library_is_listed_under_its_licence() {
    let listed: BTreeSet<(String, String)> = licences("apple".into())
        .unwrap()
        .iter()
        .flat_map(|one| licence_page("apple".into(), one.id.clone()).unwrap().libraries)
        .map(|library| (library.name, library.version))
        .collect();
    let missing: Vec<_> = carried().into_iter().filter(|one| !listed.contains(one)).collect();
    assert!(missing.is_empty(), "run bindings/ffi/licences/collect: {missing:?}");
    let named = |name: &str| listed.iter().any(|(listed, _)| listed.contains(name));
    assert!(named("SQLite") && named("standard library") && named("OSTN15") && !named("kotlin"));
}

/// Under whichever licence a library is listed, its text is there to be read: SPDX's own first words of each.
#[test]
fn every_licence_has_its_text() {
    for app in ["android", "apple"] {
        let all = licences(app.into()).unwrap();
        let mut lines = 0;
        for (id, begins) in [
            ("MIT", "Permission is hereby granted, free of charge"),
            ("Apache-2.0", "Apache License Version 2.0"),
            ("BSD-2-Clause", "Redistribution and use in source and binary forms"),
            ("BSD-3-Clause", "Redistribution and use in source and binary forms"),
            ("MPL-2.0", "Mozilla Public License Version 2.0"),
            ("Unicode-3.0", "UNICODE LICENSE V3"),
            ("Zlib", "This software is provided 'as-is'"),
            ("blessing", "The author disclaims copyright"),
        ] {
            let page = licence_page(app.into(), id.into()).unwrap();
            assert!(page.text.starts_with(begins), "{id}");
            assert!(page.libraries.iter().all(|library| !library.whose.is_empty()), "{id}");
            lines += page.libraries.len();
            assert!(all.iter().any(|one| one.id == id && one.libraries as usize == page.libraries.len()));
        }
        // Nothing stands under a licence whose text is not here.
        let files = concat!(env!("CARGO_MANIFEST_DIR"), "/licences");
        let rows = |file: &str| std::fs::read_to_string(format!("{files}/{file}")).unwrap();
        let further =
            rows("further.tsv").lines().filter(|l| l.ends_with("\tall") || l.ends_with(app)).count();
        assert_eq!(lines, rows("libraries.tsv").lines().count() + further);
    }
    assert_eq!(code(licence_page("android".into(), "EULA".into())), "not-found");
}

/// What the Android app holds besides, by its pom: every dependency that is neither a test's nor the system's.
#[test]
fn everything_in_the_android_app_is_listed() {
    let pom = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../android/pom.xml")).unwrap();
    let tag = |text: &str, name: &str| {
        text.split(&format!("<{name}>")).nth(1).and_then(|rest| rest.split('<').next()).map(str::to_owned)
    };
    let kotlin = tag(&pom, "kotlin.version").unwrap();
    let listed: Vec<_> = licence_page("android".into(), "Apache-2.0".into()).unwrap().libraries;
    let mut checked = 0;
    for dependency in pom.split("<dependency>").skip(1) {
        let dependency = dependency.split("</dependency>").next().unwrap();
        if tag(dependency, "scope").is_some() || tag(dependency, "artifactId").is_none() {
            continue;
        }
        let name = tag(dependency, "artifactId").unwrap();
        let version = tag(dependency, "version").unwrap().replace("${kotlin.version}", &kotlin);
        let found = listed.iter().any(|library| library.name == name && library.version == version);
        assert!(found, "{name} {version}: licences/further.tsv");
        checked += 1;
    }
    assert!(checked >= 3, "{checked}");
}
