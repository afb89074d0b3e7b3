//! The key over the built-in pack, and properties that hold over any evidence.

use proptest::prelude::*;

use super::engine::Assessment;
use super::stream::{Reply, Request};
use super::verdict::judge;
use super::*;
use crate::pack::{CharacterIndex, Kind, Pack, StateIndex, TaxonIndex};

fn britain() -> Key<'static> {
    Key::new(Pack::britain().unwrap(), ObserverError::default())
}

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

/// Any evidence about the built-in pack.
fn evidence() -> impl Strategy<Value = Vec<Answer>> {
    let pack = Pack::britain().unwrap();
    let characters = u16::try_from(pack.characters().len()).unwrap();
    let answer = (0..characters, any::<u16>(), any::<u16>(), any::<bool>(), 0_u8..8);
    let answer = answer.prop_map(move |(character, one, other, sure, kind)| {
        let character = CharacterIndex(character);
        let described = pack.character(character).unwrap();
        let state = |number: u16| StateIndex(number % u16::try_from(described.states.len().max(1)).unwrap());
        let seen = match described.kind {
            _ if kind == 0 => Observed::CannotTell,
            Kind::States if kind == 1 => Observed::States([state(one), state(other)].into_iter().collect()),
            Kind::States => Observed::States(StateSet::of(state(one))),
            Kind::Millimetres => {
                let from = f32::from(one % 300);
                Observed::Millimetres { from, to: from + f32::from(other % 40) }
            }
            Kind::Month => Observed::Month(u8::try_from(one % 12 + 1).unwrap()),
        };
        Answer { character, seen, sure }
    });
    prop::collection::vec(answer, 0..16)
}

/// Evidence with one answer a character, so that no look is a second one.
fn single_looks(mut answers: Vec<Answer>) -> Vec<Answer> {
    answers.sort_by_key(|answer| answer.character);
    answers.dedup_by_key(|answer| answer.character);
    answers
}

/// What a taxon usually shows: a way to evidence under which something is named.
fn usual(key: &Key<'_>, taxon: TaxonIndex) -> Vec<Answer> {
    let pack = key.pack();
    let usual = |character: CharacterIndex| match pack.cell(taxon, character) {
        crate::pack::Cell::States(cell) => {
            let at = cell.states.iter().position(|seen| {
                seen.as_ref().is_some_and(|seen| seen.frequency == crate::pack::Frequency::Usual)
            })?;
            let seen = Observed::States(StateSet::of(StateIndex(u16::try_from(at).ok()?)));
            Some(Answer { character, seen, sure: true })
        }
        _ => None,
    };
    pack.character_indices().filter_map(usual).collect()
}

fn evidence_of(answers: &[Answer], suspect: Option<TaxonIndex>) -> Evidence {
    let mut evidence = Evidence::new();
    for answer in answers {
        evidence.answer(*answer);
    }
    evidence.set_suspect(suspect);
    evidence
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

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_answers_does_not_matter(answers in evidence(), turn in any::<usize>()) {
        let key = britain();
        let answers = single_looks(answers);
        let mut other = answers.clone();
        other.reverse();
        other.rotate_left(turn % answers.len().max(1));
        prop_assert_eq!(key.step(&evidence_of(&answers, None)), key.step(&evidence_of(&other, None)));
    }

    #[test]
    fn taking_an_answer_back_undoes_it(answers in evidence(), more in evidence()) {
        let key = britain();
        let mut evidence = evidence_of(&answers, None);
        let before = key.step(&evidence);
        for answer in &more {
            evidence.answer(*answer);
        }
        for _ in &more {
            evidence.retract(answers.len());
        }
        prop_assert_eq!(before, key.step(&evidence));
    }

    #[test]
    fn what_cannot_be_told_changes_no_chance(answers in evidence(), silent in 0_u16..40) {
        let key = britain();
        let before = key.step(&evidence_of(&answers, None));
        let mut more = answers;
        more.push(Answer { character: CharacterIndex(silent), seen: Observed::CannotTell, sure: true });
        let after = key.step(&evidence_of(&more, None));
        prop_assert_eq!(before.ranking, after.ranking);
        prop_assert_eq!(before.status, after.status);
    }

    #[test]
    fn chances_are_chances(answers in evidence(), suspect in any::<u16>()) {
        let key = britain();
        let suspect = TaxonIndex(suspect % u16::try_from(key.pack().taxa().len()).unwrap());
        let mut now = Assessment::default();
        key.assess(&evidence_of(&answers, Some(suspect)), &mut now);
        for chances in [&now.posterior.chance, &now.chances] {
            let sum: f32 = chances.iter().sum::<f32>() + now.posterior.unknown;
            prop_assert!((sum - 1.0).abs() < 1e-4, "{}", sum);
            prop_assert!(chances.iter().all(|chance| (0.0..=1.0).contains(chance)));
        }
    }

    #[test]
    fn a_suspicion_never_lowers_danger_nor_moves_odds_more_than_threefold(
        answers in evidence(),
        suspect in any::<u16>(),
    ) {
        let key = britain();
        let suspect = TaxonIndex(suspect % u16::try_from(key.pack().taxa().len()).unwrap());
        let (mut plain, mut suspecting) = (Assessment::default(), Assessment::default());
        key.assess(&evidence_of(&answers, None), &mut plain);
        key.assess(&evidence_of(&answers, Some(suspect)), &mut suspecting);
        prop_assert_eq!(plain.status, suspecting.status);
        prop_assert!((plain.posterior.unknown - suspecting.posterior.unknown).abs() < 1e-9);
        let mut moved: Vec<f32> = Vec::new();
        for ((at, before), after) in key.pack().taxon_indices().zip(&plain.chances).zip(&suspecting.chances) {
            if key.table.dangerous[at.get()] {
                prop_assert!(*after >= before * 0.9999);
            }
            if *before > 1e-30 {
                moved.push(after / before);
            }
        }
        let most = moved.iter().copied().fold(0.0, f32::max);
        let least = moved.iter().copied().fold(f32::INFINITY, f32::min);
        prop_assert!(most / least <= 3.001, "{} {}", most, least);
        let before = key.step(&evidence_of(&answers, None));
        let after = key.step(&evidence_of(&answers, Some(suspect)));
        for suspected in &before.suspected {
            prop_assert!(after.suspected.iter().any(|other| other.taxon == suspected.taxon));
        }
    }

    #[test]
    fn what_is_named_passes_every_clause(taxon in any::<u16>(), drop in any::<u64>(), noise in evidence()) {
        let key = britain();
        let taxon = TaxonIndex(taxon % u16::try_from(key.pack().taxa().len()).unwrap());
        let mut answers = usual(&key, taxon);
        let mut bits = drop;
        answers.retain(|_| {
            bits = bits.rotate_left(1);
            bits & 1 == 1
        });
        answers.extend(noise.into_iter().take(1));
        let evidence = evidence_of(&answers, None);
        let step = key.step(&evidence);
        let mut now = Assessment::default();
        key.assess(&evidence, &mut now);
        let leader = &key.candidates[now.leader.unwrap()];
        let clauses = judge(leader, &now.posterior, &now.heard);
        prop_assert_eq!(step.status.is_named(), clauses.hold());
        prop_assert_eq!(step.status.is_named(), !step.named.is_empty());
        if step.status.is_named() {
            prop_assert!(step.danger <= 1e-4 && step.in_the_way.is_empty());
            let own: f64 = step.ranking.iter().filter(|it| step.named.contains(&it.taxon)).map(|it| it.chance).sum();
            prop_assert!(own >= 0.95);
            for member in &step.named {
                let named = key.pack().taxon(*member).unwrap();
                prop_assert!(named.key_may_name && named.lookalikes_complete && !named.standing.is_dangerous());
                for (other, _) in key.pack().lookalikes_of(*member) {
                    let dangerous = key.pack().taxon(other).unwrap().standing.is_dangerous();
                    prop_assert!(!dangerous || step.spoken_against.iter().any(|it| it.taxon == other));
                }
            }
            let words = words::verdict(key.pack(), &step);
            prop_assert!(words.ends_with("If in any doubt, leave it."), "{}", words);
        }
    }

    #[test]
    fn a_month_moves_odds_at_most_threefold(month in 1_u8..=12) {
        let key = britain();
        let at = key.pack().character_by_id("month").unwrap();
        let (mut before, mut after) = (Assessment::default(), Assessment::default());
        key.assess(&Evidence::new(), &mut before);
        let answer = Answer { character: at, seen: Observed::Month(month), sure: true };
        key.assess(&evidence_of(&[answer], None), &mut after);
        let moved: Vec<f32> =
            after.posterior.chance.iter().zip(&before.posterior.chance).map(|(after, before)| after / before).collect();
        let most = moved.iter().copied().fold(0.0, f32::max);
        let least = moved.iter().copied().fold(f32::INFINITY, f32::min);
        prop_assert!(most / least <= 3.001, "{}", most / least);
    }
}
