//! The check of a pack finds what is wrong, and says where: each fixture is a good pack with a few edits.

#![allow(clippy::unwrap_used)]

use std::path::Path;

use serde::Deserialize;
use trug::pack::{Pack, Texts, check, check_folder, read_folder};

#[derive(Deserialize)]
struct Fixtures {
    broken: Vec<Broken>,
}

/// What makes a broken pack of the good one, and every problem that the check must find.
#[derive(Deserialize)]
struct Broken {
    name: String,
    edits: Vec<Edit>,
    expect: Vec<String>,
}

#[derive(Deserialize)]
struct Edit {
    file: String,
    replace: String,
    with: String,
}

fn packs() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs")
}

fn good() -> Texts {
    read_folder(&packs().join("good")).unwrap()
}

#[test]
fn the_good_pack_keeps_every_rule() {
    assert_eq!(check(&good()), []);
}

#[test]
fn each_broken_pack_is_found_out_at_its_line() {
    let fixtures: Fixtures =
        toml::from_str(&std::fs::read_to_string(packs().join("broken.toml")).unwrap()).unwrap();
    assert!(fixtures.broken.len() >= 40, "only {} broken packs", fixtures.broken.len());
    let mut wrong = Vec::new();
    for Broken { name, edits, expect } in fixtures.broken {
        let mut texts = good();
        for Edit { file, replace, with } in edits {
            let text = texts.get_mut(&file).unwrap_or_else(|| panic!("{name}: the good pack has no {file}"));
            assert_eq!(
                text.matches(&replace).count(),
                1,
                "{name}: {replace} must stand in {file} exactly once"
            );
            *text = text.replace(&replace, &with);
        }
        let problems = check(&texts);
        let found: Vec<_> =
            problems.iter().map(|it| format!("{}:{} {}", it.file, it.line, it.rule)).collect();
        if found != expect {
            let told: Vec<_> = problems.iter().map(|problem| format!("    {problem}")).collect();
            wrong.push(format!("{name}\nexpected {expect:?}\nfound    {found:?}\n{}", told.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n\n"));
}

#[test]
fn files_that_are_missing_or_misnamed_are_found_out() {
    let mut texts = good();
    let sources = texts.remove("sources.toml").unwrap();
    texts.insert("source.toml".into(), sources);
    let elsewhere = |told: &String| !told.starts_with("taxa/") && !told.starts_with("signs.toml");
    let told: Vec<_> = check(&texts).iter().map(ToString::to_string).filter(elsewhere).collect();
    assert_eq!(
        told,
        [
            "groups/snowballs.toml:4: parted_by.source: there is no source `book` [unknown-id]",
            "source.toml: a pack has no such file, did you mean `sources.toml`? [unknown-file]",
            "sources.toml: this file is missing [missing-file]",
        ]
    );
}

#[test]
fn a_folder_that_is_no_pack_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    assert!(!check_folder(folder.path()).unwrap().is_empty());
    assert_eq!(Pack::open(&folder.path().join("nowhere")).unwrap_err().code(), "pack-unreadable");
    std::fs::write(folder.path().join("pack.toml"), b"title = \"\xff\"").unwrap();
    assert_eq!(Pack::open(folder.path()).unwrap_err().code(), "pack-unreadable");
}
