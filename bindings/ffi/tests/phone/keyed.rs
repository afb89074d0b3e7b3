//! The key, from its first sheet to what is kept.

use trug_ffi::{Danger, Ending, KeyAsked, KeyPage, KeySeen};

use crate::{HERE, Phone, code, seen};

/// Facts of the trade (common practice, no source): what settles a velvet shank, and what leaves it open.
const TUFT: [(&str, &str); 8] = [
    ("form", "gilled"),
    ("stem-surface", "velvety"),
    ("ring", "absent"),
    ("gill-colour-mature", "cream"),
    ("growth", "tuft"),
    ("substrate", "trunk"),
    ("host", "oak"),
    ("cap-colour", "orange"),
];
const MORE: [(&str, &str); 7] = [
    ("stem-colour", "black"),
    ("cap-viscid", "slimy"),
    ("stem-flesh", "tough"),
    ("gill-attachment", "adnate"),
    ("spore-print", "white"),
    ("stem-base", "joined"),
    ("cap-surface", "smooth"),
];
const ELF_CUP: [(&str, &str); 8] = [
    ("form", "cup"),
    ("cap-colour", "red"),
    ("substrate", "branch"),
    ("cup-outside", "felted"),
    ("hymenophore", "inner-face"),
    ("cup-inside", "smooth"),
    ("host", "hazel"),
    ("habitat", "wet"),
];

fn answer(phone: &Phone, mut page: KeyPage, answers: &[(&str, &str)]) -> KeyPage {
    for (character, state) in answers {
        page.asked.evidence.push(seen(character, &[state]));
        page = phone.book.key_step(page.asked).unwrap();
    }
    page
}

#[test]
fn it_begins_with_a_sheet_of_what_a_glance_shows_that_grows_with_the_form() {
    let phone = Phone::new();
    let page = phone.book.key_begin(None, None).unwrap();
    assert_eq!((page.verdict.ending, page.verdict.named.len()), (Ending::Open, 0));
    let sheet: Vec<&str> = page.sheet.iter().map(|one| one.character.as_str()).collect();
    assert!(sheet.contains(&"form") && sheet.contains(&"growth"), "{sheet:?}");
    assert!(!sheet.contains(&"ring") && !sheet.contains(&"ball-surface") && !sheet.contains(&"spore-print"));
    let form = page.sheet.iter().find(|one| one.character == "form").unwrap();
    assert!(form.states.iter().all(|state| state.figure.is_some() && !state.chosen));
    let gilled = answer(&phone, page, &[("form", "gilled")]);
    assert!(gilled.sheet.iter().any(|one| one.character == "cap-shape"));
    assert!(gilled.sheet.iter().all(|one| one.character != "ball-surface"));
    let form = gilled.sheet.iter().find(|one| one.character == "form").unwrap();
    assert_eq!(form.states.iter().filter(|state| state.chosen).count(), 1);
}

#[test]
fn not_settled_it_says_what_still_fits_and_what_to_look_at() {
    let phone = Phone::new();
    let page = answer(&phone, phone.book.key_begin(None, None).unwrap(), &TUFT);
    assert_eq!(page.verdict.ending, Ending::NotSettled);
    assert!(page.verdict.body.starts_with("Not settled."), "{}", page.verdict.body);
    let bell = page.strip.iter().find(|one| one.name.id == "funeral-bell").unwrap();
    assert_eq!(bell.name.danger, Danger::Deadly);
    assert!(bell.words.contains("has killed"), "{}", bell.words);
    assert!(page.warning.as_ref().unwrap().contains("funeral bell"));
    assert_eq!(page.fits[0].name.id, "velvet-shank");
    assert!(page.fits[0].words.iter().any(|words| words.contains("velvety")), "{:?}", page.fits[0].words);
    assert!(page.verdict.checks.is_empty() && !page.verdict.in_the_way.is_empty());
    let question = page.question.unwrap();
    assert!(!question.why.contains("bits") && question.why.ends_with('.'), "{}", question.why);
    assert!(page.others.iter().all(|other| other.character != question.character));
    assert_eq!(page.answers[2].words, "Ring: none");
}

/// The pack's own list says that the funeral bell is taken for velvet shank.
#[test]
fn a_name_in_mind_brings_its_dangerous_lookalikes_before_anything_is_seen() {
    let phone = Phone::new();
    let bare = phone.book.key_begin(None, None).unwrap();
    assert!(bare.strip.is_empty());
    assert!(!bare.question.unwrap().why.contains("Parts"));
    let page = phone.book.key_begin(None, Some("Velvet shank".into())).unwrap();
    assert!(page.strip.iter().any(|one| one.name.id == "funeral-bell"));
    assert!(page.strip.iter().all(|one| matches!(one.name.danger, Danger::Deadly | Danger::Harmful)));
    assert!(page.question.as_ref().unwrap().why.contains("Parts velvet shank from"));
    let page = answer(&phone, answer(&phone, page, &TUFT), &MORE);
    assert!(page.strip.iter().all(|one| one.name.id != "funeral-bell"));
}

#[test]
fn settled_it_names_with_checks_and_keeps_it() {
    let phone = Phone::new();
    let find = phone.book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    let page = phone.book.key_begin(Some(find.id.clone()), Some("velvet-shank".into())).unwrap();
    // The find's month is answered by itself.
    assert!(page.asked.evidence.iter().any(|one| one.character == "month"));
    assert_eq!(page.verdict.ending, Ending::Open);
    let page = answer(&phone, page, &TUFT);
    let page = answer(&phone, page, &MORE);
    assert_eq!(page.verdict.ending, Ending::Settled);
    assert_eq!(page.verdict.title, "Fits velvet shank");
    assert!(
        page.verdict.checks.iter().any(|check| check.starts_with("Funeral bell: ")),
        "{:?}",
        page.verdict.checks
    );
    assert!(page.verdict.body.ends_with("If in any doubt, leave it."), "{}", page.verdict.body);
    let kept = phone.book.key_keep(find.id.clone(), page.asked.clone()).unwrap();
    assert_eq!((kept.name.how.as_deref(), kept.name.settled), (Some("key"), true));
    assert_eq!(kept.name.name.unwrap().id, "velvet-shank");
    // Begun again, it goes on from there.
    let again = phone.book.key_begin(Some(find.id), None).unwrap();
    assert_eq!(again.asked.evidence, page.asked.evidence);
    assert_eq!(again.verdict.ending, Ending::Settled);
}

#[test]
fn a_group_is_named_as_a_group() {
    let phone = Phone::new();
    let page = answer(&phone, phone.book.key_begin(None, None).unwrap(), &ELF_CUP);
    assert_eq!((page.verdict.ending, page.verdict.named.len()), (Ending::Group, 2));
    let find = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let kept = phone.book.key_keep(find.id, page.asked).unwrap();
    assert!(kept.name.settled && kept.name.name.unwrap().english.contains("lf cups"));
}

#[test]
fn what_the_key_will_not_name_unsettles_a_name_given_on_sight() {
    let phone = Phone::new();
    let find = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let named = phone.book.name_find(find.id.clone(), "velvet-shank".into(), "sight".into(), None, None);
    assert!(named.unwrap().name.settled);
    let page = answer(&phone, phone.book.key_begin(Some(find.id.clone()), None).unwrap(), &TUFT);
    let kept = phone.book.key_keep(find.id, page.asked).unwrap();
    assert_eq!((kept.name.settled, kept.names.len()), (false, 2));
}

#[test]
fn an_answer_is_taken_back_a_question_chosen_and_what_cannot_be_told_says_nothing() {
    let phone = Phone::new();
    let before = answer(&phone, phone.book.key_begin(None, None).unwrap(), &TUFT[..3]);
    let after = answer(&phone, before.clone(), &[("spore-print", "rust")]);
    assert_ne!(after.fits, before.fits);
    let mut back = after.asked;
    back.evidence.pop();
    assert_eq!(phone.book.key_step(back).unwrap(), before);
    let asked = KeyAsked { ask: Some("smell".into()), ..before.asked.clone() };
    assert_eq!(phone.book.key_step(asked).unwrap().question.unwrap().character, "smell");
    let mut untold = before.asked.clone();
    untold.evidence.push(seen("smell", &[]));
    let untold = phone.book.key_step(untold).unwrap();
    assert_eq!(untold.fits, before.fits);
    assert_eq!(untold.answers.last().unwrap().words, "Smell: cannot be told");
    let mut sized = before.asked;
    let size = KeySeen { states: vec![], from_mm: Some(18.0), to_mm: Some(25.0), ..seen("cap-width", &[]) };
    sized.evidence.push(KeySeen { sure: false, ..size });
    let words = phone.book.key_step(sized).unwrap().answers.pop().unwrap().words;
    assert!(words.ends_with("18–25 mm (not sure)"), "{words}");
}

#[test]
fn an_answer_that_does_not_suit_its_character_is_refused_by_code() {
    let phone = Phone::new();
    for (evidence, suspect, expected) in [
        (seen("colour-of-hat", &["red"]), None, "evidence-unknown-character"),
        (seen("ring", &["golden"]), None, "evidence-unknown-state"),
        (KeySeen { from_mm: Some(3.0), ..seen("ring", &["absent"]) }, None, "evidence-wrong-kind"),
        (KeySeen { from_mm: Some(f64::NAN), ..seen("cap-width", &[]) }, None, "evidence-wrong-kind"),
        (seen("ring", &["absent"]), Some("the emperor's hat".to_owned()), "evidence-unknown-taxon"),
    ] {
        let asked = KeyAsked { suspect, evidence: vec![evidence], ask: None };
        assert_eq!(code(phone.book.key_step(asked)), expected);
    }
}

#[test]
fn answers_are_kept_as_they_are_given_and_undo_passes_them_by() {
    let phone = Phone::new();
    let find = phone.book.begin_find(None, "whole".into(), None).unwrap().id;
    let mut asked = phone.book.key_begin(Some(find.clone()), Some("velvet-shank".into())).unwrap().asked;
    asked.evidence.push(seen("form", &["gilled"]));
    asked.evidence.push(seen("ring", &["absent"]));
    let page = phone.book.key_go_on(find.clone(), asked.clone()).unwrap();
    assert_eq!(page, phone.book.key_step(asked.clone()).unwrap());
    assert_eq!(phone.book.key_begin(Some(find.clone()), None).unwrap().asked, asked);
    // Taken back.
    asked.evidence.pop();
    phone.book.key_go_on(find.clone(), asked.clone()).unwrap();
    assert_eq!(phone.book.key_begin(Some(find.clone()), None).unwrap().asked, asked);
    // An answer that is none changes nothing.
    let mut wrong = asked.clone();
    wrong.evidence.push(seen("ring", &["gold"]));
    assert_eq!(code(phone.book.key_go_on(find.clone(), wrong)), "evidence-unknown-state");
    assert_eq!(phone.book.key_begin(Some(find.clone()), None).unwrap().asked, asked);
    // What undo takes back is what was done to the find itself.
    let field = trug_ffi::FieldValue { field: "seen".into(), value: Some("4".into()) };
    phone.book.amend_find(find.clone(), vec![field]).unwrap();
    phone.book.key_go_on(find.clone(), KeyAsked { suspect: None, ..asked.clone() }).unwrap();
    assert_eq!(phone.book.undo(find.clone()).unwrap().fields.seen_least, None);
    assert_eq!(phone.book.key_begin(Some(find), None).unwrap().asked.evidence, asked.evidence);
    let gone = phone.book.key_go_on("01999999-9999-7999-8999-999999999999".into(), asked);
    assert_eq!(code(gone), "not-found");
}

#[test]
fn a_spore_print_that_was_not_there_yet_is_asked_after_when_it_is_taken_up_again() {
    let phone = Phone::new();
    let book = &phone.book;
    let find = book.begin_find(None, "whole".into(), None).unwrap().id;
    let page = book.key_begin(Some(find.clone()), None).unwrap();
    let page = answer(&phone, page, &[("form", "gilled"), ("growth", "tuft"), ("cap-colour", "orange")]);
    let mut asked = page.asked;
    for untold in ["spore-print", "smell"] {
        asked.evidence.push(seen(untold, &[]));
    }
    let page = book.key_go_on(find.clone(), asked).unwrap();
    let again: Vec<&str> =
        page.others.iter().filter(|it| it.afresh).map(|it| it.character.as_str()).collect();
    assert_eq!((page.others[0].character.as_str(), again.last()), ("spore-print", Some(&"smell")));
    let mut morning = book.key_begin(Some(find.clone()), None).unwrap();
    assert_eq!(morning.question.as_ref().unwrap().character, "spore-print");
    morning.asked.ask = None;
    let told = answer(&phone, morning, &[("spore-print", "white")]);
    assert_ne!(told.question.unwrap().character, "spore-print");
    assert!(told.others.iter().all(|other| other.character != "spore-print" || other.afresh));
}
