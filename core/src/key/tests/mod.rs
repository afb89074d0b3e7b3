//! The key over the built-in pack, over made-up ones, and against figures from outside.

mod britain;
mod outside;
mod properties;
mod theory;

use super::heard::hear;
use super::posterior::Posterior;
use super::question::{Enquiry, Standing};
use super::scale::{Scale, Shown};
use super::table::Table;
use super::*;
use crate::pack::{CharacterIndex, Effort, FamilyIndex, Kind, Pack, StateIndex, TaxonIndex};

fn britain() -> Key<'static> {
    Key::new(Pack::britain().unwrap(), ObserverError::default())
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

/// Taxa with these weights, of each of which is known how often it shows each state of each character, and which nobody
/// misreads but once in ten million. Every character is its own family.
fn exact(weights: &[f32], shown: &[Vec<Vec<f32>>]) -> Table {
    let mut first = 0;
    let scales = (0_u16..).zip(shown).map(|(at, of_character)| {
        let steps = u8::try_from(of_character[0].len()).unwrap();
        let scale = Scale {
            first,
            steps,
            misread: 1e-7,
            family: FamilyIndex(at),
            kind: Kind::States,
            gates: Vec::new(),
        };
        first += usize::from(steps);
        scale
    });
    Table::build(scales.collect(), weights, vec![false; weights.len()], |at, _| {
        shown[at.get()].iter().map(|chances| Shown::Known(chances.clone())).collect()
    })
}

/// One state for certain.
fn certain(state: usize, states: usize) -> Vec<f32> {
    (0..states).map(|at| f32::from(u8::from(at == state))).collect()
}

fn see(evidence: &mut Evidence, character: CharacterIndex, state: usize) {
    let seen = Observed::States(StateSet::of(StateIndex(u16::try_from(state).unwrap())));
    evidence.answer(Answer { character, seen, sure: true });
}

/// The chances of the taxa among themselves, something unknown left aside.
fn chances(table: &Table, evidence: &Evidence) -> Vec<f32> {
    let (mut heard, mut posterior) = (Vec::new(), Posterior::default());
    hear(table, evidence, &mut heard);
    posterior.weigh(table, evidence, &heard);
    let known: f32 = posterior.chance.iter().sum();
    posterior.chance.iter().map(|chance| chance / known).collect()
}

/// The questions that the key asks, the best each time, until no other taxon fits.
fn questions(table: &Table, taxon: usize) -> usize {
    let efforts = vec![Effort::Glance; table.scales.len()];
    let (mut evidence, mut heard) = (Evidence::new(), Vec::new());
    let (mut posterior, mut enquiry) = (Posterior::default(), Enquiry::default());
    for asked in 0..=table.scales.len() {
        hear(table, &evidence, &mut heard);
        posterior.weigh(table, &evidence, &heard);
        let known: f32 = posterior.chance.iter().sum();
        if posterior.chance[taxon] / known > 0.99 {
            return asked;
        }
        enquiry.search(&Standing {
            table,
            efforts: &efforts,
            chances: &posterior.chance,
            posterior: &posterior,
            heard: &heard,
            focus: None,
        });
        let best = enquiry.scored[0].character;
        let columns = table.scale(best).unwrap().columns();
        let state = columns.map(|column| table.truth(column)[taxon]).position(|truth| truth > 0.5).unwrap();
        see(&mut evidence, best, state);
    }
    panic!("taxon {taxon} is never told from the others");
}
