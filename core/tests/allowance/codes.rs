//! The shipped codes, and those of other countries that stand here as fixtures.

use std::fs;
use std::path::Path;

use trug::code::{Code, CodeError, Force, Mark, check, choose, read, shipped};
use trug::pack::Pack;

/// Every code there is: the shipped ones, and those of `tests/codes`.
pub fn all() -> Vec<Code> {
    let mut all = shipped().unwrap().to_vec();
    all.extend(abroad().iter().map(|(file, text)| read(file, text).unwrap()));
    all
}

fn abroad() -> Vec<(String, String)> {
    texts("tests/codes")
}

fn texts(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = files.filter(|file| file.extension().is_some_and(|it| it == "toml"));
    let mut texts: Vec<(String, String)> = files
        .map(|file| {
            (file.file_name().unwrap().to_str().unwrap().to_owned(), fs::read_to_string(&file).unwrap())
        })
        .collect();
    texts.sort();
    texts
}

#[test]
fn every_code_keeps_every_rule_of_the_form() {
    let pack = Pack::britain().unwrap();
    let files = [abroad(), texts("packs/codes")].concat();
    assert!(files.len() >= 25, "{}", files.len());
    for (file, text) in files {
        assert_eq!(check(&file, &text, pack), [], "{file}");
    }
}

#[test]
fn all_files_of_the_folder_are_shipped_and_no_id_comes_twice() {
    let mut read: Vec<Code> =
        texts("packs/codes").iter().map(|(file, text)| read(file, text).unwrap()).collect();
    let mut built_in = shipped().unwrap().to_vec();
    for codes in [&mut read, &mut built_in] {
        codes.sort_by(|one, other| one.about.id.cmp(&other.about.id));
    }
    assert_eq!(built_in, read, "what the build has written is what the files say");
    let mut ids: Vec<String> = all().iter().map(|code| code.about.id.clone()).collect();
    ids.sort();
    let before = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), before);
}

#[test]
fn what_was_read_and_what_is_from_memory_are_told_apart() {
    for code in all() {
        for rule in &code.rules {
            let mark = code.mark_of(rule);
            assert_ne!(mark, Mark::Own, "{} {}", code.about.id, rule.id);
            assert!(mark != Mark::Read || code.about.seen.is_some());
        }
    }
}

#[test]
fn the_codes_of_britain_hold_until_others_are_chosen() {
    let codes = shipped().unwrap();
    let in_force = |chosen: Option<&[String]>| -> Vec<&str> {
        choose(codes, chosen).unwrap().iter().map(|code| code.about.id.as_str()).collect()
    };
    let britain = ["common-practice", "pickers-1998", "scottish-code", "schedule-8", "theft-act"];
    assert_eq!(in_force(None), britain);
    assert_eq!(in_force(Some(&[])), ["common-practice"]);
    assert_eq!(in_force(Some(&["castilla-y-leon".into()])), ["common-practice", "castilla-y-leon"]);
    let error = choose(codes, Some(&["castilla-y-lyon".into()])).unwrap_err();
    assert!(
        matches!(&error, CodeError::Unknown { hint, .. } if hint.contains("`castilla-y-leon`")),
        "{error}"
    );
    assert!(codes.iter().any(|code| code.about.in_force == Force::IfChosen));
}
