//! The key over the built-in pack: facts of the trade, and the form in which other programs ask.

use super::super::stream::{Reply, Request};
use super::*;

fn ask(key: &Key<'_>, line: &str) -> Reply {
    let request: Request = serde_json::from_str(line).unwrap();
    Reply::new(key.pack(), &key.step(&request.resolve(key.pack()).unwrap()))
}

/// Facts of the trade (common practice, no source): a velvet-stemmed, ringless, pale-gilled tuft on oak whose spore colour
/// is unseen is not settled, with the funeral bell in the way and spore colour as the way out.
#[test]
fn a_velvet_shank_is_not_settled_until_its_spores_are_seen() {
    let key = britain();
    let seen = r#"{"character": "form", "states": ["gilled"]}, {"character": "stem-surface", "states": ["velvety"]},
        {"character": "ring", "states": ["absent"]}, {"character": "gill-colour-mature", "states": ["cream"]},
        {"character": "growth", "states": ["tuft"]}, {"character": "substrate", "states": ["trunk"]},
        {"character": "host", "states": ["oak"]}, {"character": "cap-colour", "states": ["orange"]}"#;
    let unseen = ask(&key, &format!(r#"{{"evidence": [{seen}]}}"#));
    assert_eq!(unseen.status, Status::NotSettled);
    assert!(unseen.taxa.is_empty());
    assert_eq!(unseen.ranking[0].taxon, "velvet-shank");
    assert!(unseen.suspected.contains(&"funeral-bell".to_owned()));
    let way = unseen.in_the_way.iter().find(|it| it.taxon == "funeral-bell").unwrap();
    assert!(way.checks.iter().any(|check| check.contains("spore")), "{way:?}");
    // A print that is not there yet is still to come.
    let waiting = r#"{"character": "spore-print", "states": []}"#;
    let waiting = ask(&key, &format!(r#"{{"evidence": [{seen}, {waiting}]}}"#));
    let way = waiting.in_the_way.iter().find(|it| it.taxon == "funeral-bell").unwrap();
    assert!(way.checks.iter().any(|check| check == "spore-print"), "{way:?}");

    let more = r#"{"character": "stem-colour", "states": ["black"]}, {"character": "cap-viscid", "states": ["slimy"]},
        {"character": "stem-flesh", "states": ["tough"]}, {"character": "gill-attachment", "states": ["adnate"]},
        {"character": "spore-print", "states": ["white"]}, {"character": "stem-base", "states": ["joined"]},
        {"character": "cap-surface", "states": ["smooth"]}"#;
    for month in [1, 6] {
        let line =
            format!(r#"{{"evidence": [{seen}, {more}, {{"character": "month", "states": ["{month}"]}}]}}"#);
        let settled = ask(&key, &line);
        assert_eq!(
            (settled.status, settled.taxa.as_slice()),
            (Status::Settled, &["velvet-shank".to_owned()][..])
        );
    }
}

/// Scarlet and ruby elf cups are not separable without a microscope (common practice, no source).
#[test]
fn elf_cups_are_a_group() {
    let key = britain();
    let group = ask(
        &key,
        r#"{"evidence": [{"character": "form", "states": ["cup"]}, {"character": "cap-colour", "states": ["red"]},
            {"character": "substrate", "states": ["branch"]}, {"character": "cup-outside", "states": ["felted"]},
            {"character": "hymenophore", "states": ["inner-face"]}, {"character": "cup-inside", "states": ["smooth"]},
            {"character": "host", "states": ["hazel"]}, {"character": "habitat", "states": ["wet"]}]}"#,
    );
    assert_eq!(group.status, Status::Group);
    assert_eq!(group.taxa, ["ruby-elf-cup", "scarlet-elf-cup"]);
}

#[test]
fn with_no_evidence_nothing_is_named_and_the_first_question_is_cheap() {
    let reply = ask(&britain(), r#"{"evidence": []}"#);
    assert_eq!(reply.status, Status::NotSettled);
    assert_eq!(reply.next[0].effort, "glance");
    let sum: f64 = reply.ranking.iter().map(|ranked| ranked.probability).sum();
    assert!((sum - 0.9).abs() < 1e-3, "{sum}");
}

#[test]
fn names_that_are_not_the_packs_are_refused_with_a_code() {
    let key = britain();
    for (line, code) in [
        (r#"{"evidence": [{"character": "rings", "states": []}]}"#, "evidence-unknown-character"),
        (r#"{"evidence": [{"character": "ring", "states": ["none"]}]}"#, "evidence-unknown-state"),
        (r#"{"evidence": [{"character": "ring", "range": [1, 2]}]}"#, "evidence-wrong-kind"),
        (r#"{"evidence": [{"character": "ring"}]}"#, "evidence-wrong-kind"),
        (r#"{"evidence": [{"character": "cap-width", "range": [30, 20]}]}"#, "evidence-wrong-kind"),
        (r#"{"evidence": [{"character": "month", "states": ["13"]}]}"#, "evidence-wrong-kind"),
        (r#"{"evidence": [], "suspect": "nothing of the kind"}"#, "evidence-unknown-taxon"),
    ] {
        let request: Request = serde_json::from_str(line).unwrap();
        assert_eq!(request.resolve(key.pack()).unwrap_err().code(), code, "{line}");
    }
}

#[test]
fn all_that_is_usual_settles_most_foods_that_the_key_may_name() {
    let key = britain();
    let (mut foods, mut named) = (0, 0);
    for (at, taxon) in key.pack().taxon_indices().zip(key.pack().taxa()) {
        let step = key.step(&evidence_of(&usual(&key, at), None));
        if taxon.key_may_name {
            foods += 1;
            named += usize::from(step.named.contains(&at));
        } else {
            assert!(!step.named.contains(&at), "{} may not be named", taxon.id);
        }
    }
    // The rest wait for a sourced statement that parts them from a look-alike.
    assert!(foods >= 30 && named * 3 >= foods * 2, "{named} of {foods}");
}
