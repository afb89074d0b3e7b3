//! What was noted is found by every word of it, spelt rightly or nearly, until it is taken back.

use proptest::prelude::*;

use super::*;
use crate::find::{Host, How, Sure};
use crate::id::FindId;
use crate::notebook::search::{Found, Limits};
use crate::pack::Pack;
use crate::spelling::{self, Fit};

const ENOUGH: Limits = Limits { kinds: 100, patches: 100, finds: 100 };

fn search(notebook: &Notebook, words: &str) -> Found {
    notebook.search(Pack::britain().unwrap(), words, None, &ENOUGH).unwrap()
}

fn finds(notebook: &Notebook, words: &str) -> Vec<FindId> {
    search(notebook, words).finds.shown.iter().map(|found| found.record.id).collect()
}

fn patches(notebook: &Notebook, words: &str) -> Vec<crate::id::PatchId> {
    search(notebook, words).patches.shown.iter().map(|found| found.record.id).collect()
}

fn noted(notebook: &Notebook, note: &str) -> FindId {
    let find = Find { note: Some(note.into()), ..Find::default() };
    notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id
}

fn named(notebook: &Notebook, find: FindId, name: &str) -> crate::id::DeterminationId {
    let name = NewName::said(Pack::britain().unwrap(), name, How::Sight);
    notebook.name_find(find, name).unwrap().id
}

/// A find that says all it can, on an outing and at a patch.
fn rich(notebook: &Notebook) -> FindId {
    let outing = Outing {
        place: Some("Lidgate Hanger".into()),
        people: Some(vec!["Rosalind".into()]),
        ..Outing::default()
    };
    notebook.start_outing(outing).unwrap();
    let find = Find {
        on: Some(Substrate::FallenBranch),
        host: Some(Host { tree: "wych elm".into(), sure: Sure::Likely }),
        ground: Some(Ground::Chalk),
        habitat: Some("hollow lane".into()),
        by: Some("Q. Tew".into()),
        note: Some("Beside the Gwŷdd stile; O'Hara's corner".into()),
        ..Find::default()
    };
    let id = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id;
    named(notebook, id, "Pleurotus ostreatus");
    let patch = Patch { name: Some("Crooked ash".into()), ..Patch::default() };
    notebook.found_patch(Pack::britain().unwrap(), id, &patch).unwrap();
    id
}

#[test]
fn a_find_is_found_by_whatever_is_remembered_of_it() {
    let desk = Desk::new();
    let notebook = desk.open();
    noted(&notebook, "nothing of the kind");
    let id = rich(&notebook);
    for words in [
        "oyster mushroom",
        "mushroom OYSTER",
        "Pleurotus",
        "ostreatus pleurotus",
        "pleurotus ostr",
        "oster mushrom",
        "lidgate",
        "hanger lidgate",
        "Rosalind",
        "rosalin",
        "fallen branch",
        "branch",
        "wych",
        "elm oyster",
        "chalk",
        "hollow lane",
        "tew",
        "gwydd",
        "GWŶDD STILE",
        "oharas",
        "O’Hara",
        "18 October 2026",
        "october 18",
        "2026-10-18",
        "18/10/2026",
        "sunday oyster",
        "crooked",
        "crooked ash oyster lidgate",
    ] {
        assert_eq!(finds(&notebook, words).first(), Some(&id), "{words}");
    }
    for words in ["november", "2025-10-18", "oyster beech", "crooked oak", "ohair lidgate"] {
        assert_eq!(finds(&notebook, words), [], "{words}");
    }
    let found = search(&notebook, "stile").finds.shown.remove(0);
    assert_eq!(found.outing.as_deref(), Some("Lidgate Hanger"));
    assert_eq!(found.patch.as_deref(), Some("Crooked ash"));
    assert_eq!(found.passage.as_deref(), Some("Beside the Gwŷdd stile; O'Hara's corner"));
}

#[test]
fn what_is_taken_back_is_found_no_more_and_what_comes_back_is() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = noted(&notebook, "by the weir");
    let name = named(&notebook, id, "velvet shank");
    assert_eq!(finds(&notebook, "velvet"), [id]);
    notebook.withdraw_name(name).unwrap();
    assert_eq!(finds(&notebook, "velvet"), []);
    notebook.undo_find(id).unwrap();
    assert_eq!(finds(&notebook, "velvet weir"), [id]);
    let change = Find { note: Some("by the sluice".into()), ..Find::default() };
    notebook.amend_find(id, &change, &[]).unwrap();
    assert_eq!((finds(&notebook, "weir"), finds(&notebook, "velvet sluice")), (vec![], vec![id]));
    notebook.delete_find(id).unwrap();
    assert_eq!((finds(&notebook, "sluice"), finds(&notebook, "velvet")), (vec![], vec![]));
    notebook.undo_find(id).unwrap();
    assert_eq!(finds(&notebook, "sluice velvet"), [id]);
}

#[test]
fn a_renamed_outing_or_patch_is_found_by_its_new_name() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = rich(&notebook);
    let patch = notebook.find(id).unwrap().find.value.patch.unwrap();
    let change = Patch { name: Some("Leaning maple".into()), ..Patch::default() };
    notebook.amend_patch(patch, &change, &[]).unwrap();
    assert_eq!((finds(&notebook, "crooked"), finds(&notebook, "maple")), (vec![], vec![id]));
    assert_eq!(patches(&notebook, "maple"), [patch]);
    notebook.undo_patch(patch).unwrap();
    assert_eq!((finds(&notebook, "crooked"), finds(&notebook, "maple")), (vec![id], vec![]));
}

#[test]
fn patches_are_found_by_name_kind_tree_and_what_was_seen_there() {
    let desk = Desk::new();
    let notebook = desk.open();
    let patch = Patch {
        name: Some("Stile".into()),
        host: Some(Host { tree: "elder".into(), sure: Sure::Sure }),
        on: Some(Substrate::Stump),
        taxon: Some("jelly-ear".into()),
        note: Some("quartz boulder".into()),
        ..Patch::default()
    };
    let one = notebook.add_patch(&patch).unwrap().id;
    let other = notebook.add_patch(&Patch { name: Some("Gate".into()), ..Patch::default() }).unwrap().id;
    for words in ["stile", "jelly ear", "auricularia", "elder stump", "quartz", "boulderr", "stile jelly"] {
        assert_eq!(patches(&notebook, words), [one], "{words}");
    }
    let visit = Visit { patch: Some(one), note: Some("flooded".into()), ..Visit::default() };
    notebook.add_visit(visit).unwrap();
    assert_eq!(patches(&notebook, "flooded stile"), [one]);
    let find = noted(&notebook, "beneath");
    notebook.amend_find(find, &Find { patch: Some(one), ..Find::default() }, &[]).unwrap();
    notebook.merge_patches(one, other).unwrap();
    // The one that stands for both is shown, by the name of either; so are the finds of both.
    assert_eq!((patches(&notebook, "stile"), patches(&notebook, "gate")), (vec![other], vec![other]));
    assert_eq!((finds(&notebook, "stile"), finds(&notebook, "gate")), (vec![find], vec![find]));
    assert_eq!(search(&notebook, "stile").finds.shown[0].patch.as_deref(), Some("Gate"));
}

#[test]
fn whole_words_go_before_beginnings_and_those_before_slips_and_the_newest_first() {
    let desk = Desk::new();
    let notebook = desk.open();
    let mut ids = Vec::new();
    for (time, note) in [
        ("2026-10-01T08:00:00Z", "elder"),
        ("2026-10-02T08:00:00Z", "alder"),
        ("2026-10-03T08:00:00Z", "elderflower"),
        ("2026-10-04T08:00:00Z", "elder again"),
    ] {
        desk.set(time);
        ids.push(noted(&notebook, note));
    }
    assert_eq!(finds(&notebook, "elder"), [ids[3], ids[0], ids[2], ids[1]]);
    let fits: Vec<Fit> = search(&notebook, "elder").finds.shown.iter().map(|found| found.fit).collect();
    assert_eq!(fits, [Fit::Whole, Fit::Whole, Fit::Beginning, Fit::Near]);
    let pack = Pack::britain().unwrap();
    let few = notebook.search(pack, "elder", None, &Limits { kinds: 1, patches: 0, finds: 2 }).unwrap();
    assert_eq!((few.finds.shown.len(), few.finds.more), (2, 1));
}

#[test]
fn a_kind_has_its_finds_by_any_of_its_names() {
    let desk = Desk::new();
    let notebook = desk.open();
    let pack = Pack::britain().unwrap();
    let (one, other, latin) = (noted(&notebook, "a"), noted(&notebook, "b"), noted(&notebook, "c"));
    named(&notebook, one, "velvet-shank");
    named(&notebook, other, "Something brown");
    // As a file from elsewhere may name it: not by the pack's id.
    notebook
        .name_find(latin, NewName { taxon: Some("Flammulina velutipes".into()), ..NewName::default() })
        .unwrap();
    let of = |name: &str| -> Vec<FindId> {
        let found = notebook.of_kind(pack, name, None, &ENOUGH).unwrap();
        found.finds.shown.iter().map(|found| found.record.id).collect()
    };
    assert_eq!(of("velvet-shank"), [latin, one]);
    assert_eq!(of("Winter mushroom"), [latin, one]);
    assert_eq!(of("something brown"), [other]);
    assert_eq!(of("cep"), []);
    assert_eq!(finds(&notebook, "velvet shank"), [latin, one]);
}

#[test]
fn whatever_is_asked_is_answered_and_nothing_is_harmed() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = noted(&notebook, "by the weir");
    let long = "weir ".repeat(200_000);
    assert_eq!(finds(&notebook, &long), [id]);
    for hostile in [
        "",
        " ",
        "\"",
        "\"\"",
        "'",
        "\0",
        "weir\0\" OR \"x",
        "*",
        "^weir OR x",
        "find : nothing",
        "{patch} : by",
        "NEAR(by weir, 5) nothing",
        "=",
        "==",
        "= weir x",
        "-weir",
        "by AND NOT weir",
        "🍄",
        "אלון\u{202e}",
        "\u{fffd}",
        "%",
        "_",
        &"\"".repeat(1_000_000),
        &"x".repeat(1_000_000),
        &"🍄".repeat(250_000),
    ] {
        let found = search(&notebook, hostile);
        let fits = hostile.contains("weir") && spelling::words(hostile) == ["weir"];
        assert_eq!(found.finds.shown.len(), usize::from(fits), "{:?}", hostile.get(..20));
    }
    assert!(notebook.check(&Unwatched).unwrap().ok);
    assert_eq!(finds(&notebook, "weir"), [id]);
}

#[test]
fn what_may_have_been_meant_is_offered_only_if_it_finds_something() {
    let desk = Desk::new();
    let notebook = desk.open();
    noted(&notebook, "by the sluice");
    let instead = |words: &str| search(&notebook, words).instead;
    assert_eq!(instead("sllluice"), Some("sluice".into()));
    assert_eq!(instead("by sllluice"), Some("by sluice".into()));
    assert_eq!(instead("weir sllluice"), None);
    assert_eq!(instead("shantrell"), Some("chanterelle".into()));
    assert_eq!(instead("qqqqqqqqq"), None);
    assert_eq!(instead(""), None);
}

#[test]
fn a_damaged_index_is_noticed_and_built_afresh() {
    let desk = Desk::new();
    let notebook = desk.open();
    let id = noted(&notebook, "by the weir");
    notebook.pause().unwrap();
    let db = rusqlite::Connection::open(notebook.view_file()).unwrap();
    db.execute("DELETE FROM wording WHERE rowid IN (SELECT n FROM record)", []).unwrap();
    drop(db);
    notebook.resume().unwrap();
    assert_eq!(finds(&notebook, "weir"), []);
    assert!(!notebook.check(&Unwatched).unwrap().mended.is_empty(), "rows that lack are seen");
    assert_eq!(finds(&notebook, "weir"), [id]);
    notebook.pause().unwrap();
    let db = rusqlite::Connection::open(notebook.view_file()).unwrap();
    db.execute_batch("UPDATE wording_data SET block = zeroblob(60) WHERE id > 1").unwrap();
    drop(db);
    notebook.resume().unwrap();
    assert!(!notebook.check(&Unwatched).unwrap().mended.is_empty(), "and damaged pages");
    assert_eq!(finds(&notebook, "weir"), [id]);
}

/// A word of a note, and how it is misspelt.
fn slip() -> impl Strategy<Value = (usize, char, u8)> {
    (0..12usize, prop::char::range('a', 'z'), 0..4u8)
}

fn misspelt(word: &str, (at, letter, how): (usize, char, u8)) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let at = at % letters.len();
    match how {
        0 => letters[at] = letter,
        1 => {
            letters.remove(at);
        }
        2 => letters.insert(at, letter),
        _ if at + 1 < letters.len() => letters.swap(at, at + 1),
        _ => {}
    }
    letters.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, ..ProptestConfig::default() })]

    /// Everything that is recorded is found by each of its words, and by each of five letters or more with one of them wrong; and
    /// folding afresh finds the same.
    #[test]
    fn every_word_finds_its_record(
        notes in prop::collection::vec(prop::collection::vec("[a-zà-öø-ÿ]{1,11}", 1..6), 1..8),
        slips in prop::collection::vec(slip(), 8),
        upper in any::<bool>(),
    ) {
        let desk = Desk::new();
        let notebook = desk.open();
        let ids: Vec<FindId> = notes.iter().map(|words| noted(&notebook, &words.join(", "))).collect();
        let asked: Vec<(FindId, String)> = ids.iter().zip(&notes).flat_map(|(id, words)| {
            words.iter().map(|word| (*id, if upper { word.to_uppercase() } else { word.clone() }))
        }).collect();
        for (id, word) in &asked {
            prop_assert!(finds(&notebook, word).contains(id), "{word}");
        }
        for ((id, word), slip) in asked.iter().zip(slips.iter().cycle()) {
            for word in spelling::words(word).into_iter().filter(|word| word.chars().count() >= 5) {
                let wrong = misspelt(&word, *slip);
                prop_assert!(finds(&notebook, &wrong).contains(id), "{wrong} for {word}");
            }
        }
        let before: Vec<_> = asked.iter().map(|(_, word)| finds(&notebook, word)).collect();
        notebook.rebuild(&Unwatched).unwrap();
        let after: Vec<_> = asked.iter().map(|(_, word)| finds(&notebook, word)).collect();
        prop_assert_eq!(before, after);
    }
}
