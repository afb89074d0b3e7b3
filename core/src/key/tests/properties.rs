//! Properties that hold over any evidence.

use proptest::prelude::*;

use super::super::engine::Assessment;
use super::super::verdict::judge;
use super::*;

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
