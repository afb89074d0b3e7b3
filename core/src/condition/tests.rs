//! Situations with their sources, and what must hold of all.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use serde::Deserialize;

use super::*;
use crate::pack::{Pack, TaxonIndex};

#[derive(Debug, Deserialize)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    #[serde(default)]
    name: String,
    taxon: String,
    #[serde(default)]
    signs: Vec<String>,
    width: Option<String>,
    height: Option<String>,
    #[serde(default)]
    stages: BTreeMap<Stage, u32>,
    stage: String,
    size: Option<String>,
    #[serde(default)]
    contradiction: bool,
    text: Option<String>,
    parts: Option<BTreeMap<Stage, u32>>,
    source: String,
}

impl Case {
    fn observed(&self) -> Observed {
        Observed {
            signs: self.signs.clone(),
            width: self.width.as_ref().map(|it| it.parse().unwrap()),
            height: self.height.as_ref().map(|it| it.parse().unwrap()),
            stages: self.stages.clone(),
        }
    }
}

fn cases() -> Vec<Case> {
    toml::from_str::<Cases>(include_str!("../../tests/condition/cases.toml")).unwrap().case
}

fn britain() -> &'static Pack {
    Pack::britain().unwrap()
}

fn taxon(id: &str) -> TaxonIndex {
    britain().taxon_by_id(id).unwrap_or_else(|| panic!("no taxon {id}"))
}

fn judged(id: &str, signs: &[&str]) -> Judgement {
    let signs = signs.iter().map(ToString::to_string).collect();
    judge(britain(), taxon(id), &Observed { signs, ..Observed::default() }).unwrap()
}

fn size_word(verdict: SizeVerdict) -> &'static str {
    match verdict {
        SizeVerdict::NotKnown => "not known",
        SizeVerdict::NotMeasured => "not measured",
        SizeVerdict::Enough => "enough",
        SizeVerdict::Some => "some too small",
        SizeVerdict::TooSmall => "too small",
    }
}

#[test]
fn every_situation_is_judged_as_its_source_says() {
    let mut wrong = Vec::new();
    for case in cases() {
        assert!(!case.source.is_empty());
        let judgement = judge(britain(), taxon(&case.taxon), &case.observed()).unwrap();
        let stage = judgement.stage.map_or("unknown", Stage::word);
        let size = size_word(judgement.size.verdict);
        let parts: BTreeMap<Stage, u32> =
            judgement.parts.iter().map(|part| (part.stage, part.count)).collect();
        let right = stage == case.stage
            && case.size.as_ref().is_none_or(|wanted| wanted == size)
            && case.contradiction != judgement.contradictions.is_empty()
            && case.text.as_ref().is_none_or(|wanted| judgement.text.contains(wanted))
            && case.parts.as_ref().is_none_or(|wanted| *wanted == parts);
        if !right {
            wrong.push(format!("{}: {case:?}\n  judged {stage}, {size}, {judgement:?}", case.name));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_form_is_tried_at_every_age_that_it_goes_through() {
    let pack = britain();
    let mut tried = BTreeSet::new();
    for case in cases().iter().filter(|case| !case.signs.is_empty() && case.stages.is_empty()) {
        for form in pack.forms_of(taxon(&case.taxon)) {
            tried.insert((pack.form_id(form).to_owned(), case.stage.clone()));
        }
    }
    let wanted = pack.lives().iter().flat_map(|life| {
        life.stages.iter().map(|stage| (pack.form_id(life.form).to_owned(), stage.to_string()))
    });
    let untried: Vec<_> = wanted.filter(|pair| !tried.contains(pair)).collect();
    assert!(untried.is_empty(), "{untried:?}");
    assert_eq!(pack.lives().len(), pack.character(pack.form_character().unwrap()).unwrap().states.len());
}

#[test]
fn signs_that_are_none_or_of_other_fungi_are_refused() {
    let refused = |id: &str, sign: &str| {
        let observed = Observed { signs: vec![sign.to_owned()], ..Observed::default() };
        let error = judge(britain(), taxon(id), &observed).unwrap_err();
        (error.code(), error.to_string())
    };
    let unknown = ("unknown-sign", "there is no sign `cap-opn`, did you mean `cap-open`?".to_owned());
    assert_eq!(refused("velvet-shank", "cap-opn"), unknown);
    let (code, told) = refused("velvet-shank", "pores-green");
    assert_eq!(code, "sign-of-another-form");
    assert!(told.contains("the form pored;") && told.contains("velvet shank is gilled"), "{told}");
    let (_, told) = refused("velvet-shank", "gills-pink");
    assert!(told.contains("a sign of shaggy inkcap;"), "{told}");
    let no_veil =
        ("sign-not-shown", "velvet shank never shows `veil-whole`: look among its own signs".to_owned());
    assert_eq!(refused("velvet-shank", "veil-whole"), no_veil);
    assert!(refused("velvet-shank", "rust").1.ends_with("look among the signs of this taxon"));
}

#[test]
fn what_decided_and_what_would_change_it_are_told() {
    let open = judged("velvet-shank", &["cap-open", "firm", "frosted"]);
    let sign = |id: &str| By::Sign(britain().sign_by_id(id).unwrap());
    assert_eq!(open.decided_by, [sign("cap-open")]);
    assert_eq!(open.would_change.first(), Some(&Change { by: sign("browned"), stage: Stage::Past }));
    assert!(!open.would_change.iter().any(|change| change.by == sign("frosted")));
    assert!(open.would_change.contains(&Change { by: By::Size(Measure::Width), stage: Stage::Young }));
    let closed = judged("velvet-shank", &["cap-closed"]);
    assert!(closed.would_change.contains(&Change { by: sign("cap-open"), stage: Stage::Prime }));
    assert_eq!(judged("velvet-shank", &["browned"]).would_change, []);
    let odd = judged("velvet-shank", &["cap-closed", "edge-split"]);
    assert_eq!(odd.contradictions.len(), 1);
    assert_eq!(
        (odd.contradictions[0].younger, odd.contradictions[0].older),
        (sign("cap-closed"), sign("edge-split"))
    );
}

#[test]
fn what_the_forager_must_know_is_said() {
    let unknown_size = judged("jelly-ear", &["rubbery"]);
    assert!(unknown_size.notes.iter().any(|note| note.contains("signs alone decide")), "{unknown_size:?}");
    let frosted = judged("velvet-shank", &["cap-open", "frosted"]);
    assert!(frosted.notes.iter().any(|note| note.contains("stands frost")), "{frosted:?}");
    let odd = judged("velvet-shank", &["cap-closed", "edge-split"]);
    assert!(odd.text.contains("reckon with the worse: past its best"), "{}", odd.text);
}

#[test]
fn every_sign_of_every_taxon_can_be_given_and_nothing_promises() {
    let pack = britain();
    for at in pack.taxon_indices() {
        for sign in signs_of(pack, at) {
            let observed = Observed { signs: vec![sign.id.to_owned()], ..Observed::default() };
            let judgement = judge(pack, at, &observed).unwrap();
            if sign.span.says == Some(Stage::Past) {
                assert_eq!(judgement.stage, Some(Stage::Past), "{}", sign.id);
            }
            let told = format!("{} {}", judgement.text, judgement.notes.join(" ")).to_lowercase();
            assert!(!told.contains("safe") && !told.contains(" eat"), "{told}");
        }
    }
}

#[test]
fn what_nobody_takes_is_left_at_every_age() {
    let cap = judged("death-cap", &["cap-open"]);
    assert_eq!(cap.text, "Dangerous at every age: leave it. Full grown.");
    assert_eq!(cap.notes, [""; 0]);
    assert_eq!(judged("yellow-brain", &["rubbery"]).text, "Not gathered as food: leave it. Full grown.");
}

#[test]
fn a_find_is_judged_by_what_was_noted_of_it() {
    let find: crate::find::Find =
        serde_json::from_str(r#"{"signs":["cap-open"],"width":{"least":12,"most":14}}"#).unwrap();
    let judgement = judge(britain(), taxon("velvet-shank"), &Observed::from(&find)).unwrap();
    assert_eq!((judgement.stage, judgement.size.verdict), (Some(Stage::Young), SizeVerdict::TooSmall));
}

/// A taxon, some of its signs, and the rest of what could be seen.
fn situations() -> impl Strategy<Value = (TaxonIndex, Observed)> {
    let taxa =
        britain().taxon_indices().filter(|at| !signs_of(britain(), *at).is_empty()).collect::<Vec<_>>();
    let width = prop::option::of((1u32..150, 0u32..60));
    let counts = prop::collection::btree_map(prop::sample::select(Stage::ALL), 0u32..9, 0..4);
    (prop::sample::select(taxa), prop::collection::vec(any::<prop::sample::Index>(), 0..5), width, counts)
        .prop_map(|(taxon, picks, width, stages)| {
            let all = signs_of(britain(), taxon);
            let signs = picks.iter().map(|pick| pick.get(&all).id.to_owned()).collect();
            let width = width.map(|(least, more)| format!("{least}-{}", least + more).parse().unwrap());
            (taxon, Observed { signs, width, height: width, stages })
        })
}

proptest! {
    #[test]
    fn the_order_of_signs_never_matters((taxon, observed) in situations(), turns in 0usize..5) {
        let mut other = observed.clone();
        other.signs.reverse();
        let turns = turns.min(other.signs.len());
        other.signs.rotate_left(turns);
        other.signs.extend(observed.signs.first().cloned());
        prop_assert_eq!(judge(britain(), taxon, &observed).unwrap(), judge(britain(), taxon, &other).unwrap());
    }

    #[test]
    fn a_sign_of_being_past_never_makes_younger((taxon, observed) in situations(), pick in any::<prop::sample::Index>()) {
        let past: Vec<_> = signs_of(britain(), taxon).into_iter().filter(|it| it.span.says == Some(Stage::Past)).collect();
        let mut more = observed.clone();
        more.signs.push(pick.get(&past).id.to_owned());
        let judgement = judge(britain(), taxon, &more).unwrap();
        let counted_past = judgement.is_mixed() && judgement.parts.iter().any(|part| part.stage == Stage::Past);
        prop_assert!(judgement.stage == Some(Stage::Past) || (judgement.stage.is_none() && counted_past), "{judgement:?}");
    }

    #[test]
    fn a_smaller_size_never_makes_it_prime((taxon, observed) in situations()) {
        let before = judge(britain(), taxon, &observed).unwrap();
        let small = Observed { width: "0.5".parse().ok(), height: "0.5".parse().ok(), ..observed };
        let after = judge(britain(), taxon, &small).unwrap();
        if after.size.verdict == SizeVerdict::TooSmall {
            prop_assert_ne!(after.stage, Some(Stage::Prime));
            prop_assert!(!after.parts.iter().any(|part| part.stage == Stage::Prime));
        }
        // Counted as prime and in truth too small, a young one may well agree with what was seen beside it.
        if before.contradictions.is_empty() {
            prop_assert_eq!(before.stage == Some(Stage::Past), after.stage == Some(Stage::Past));
        }
    }

    #[test]
    fn counts_are_never_lost((taxon, observed) in situations()) {
        let judgement = judge(britain(), taxon, &observed).unwrap();
        let counted: u32 = observed.stages.values().sum();
        prop_assert_eq!(judgement.parts.iter().map(|part| part.count).sum::<u32>(), counted);
        prop_assert_eq!(judgement.contradictions.is_empty() || judgement.stage.is_some(), true);
    }
}
