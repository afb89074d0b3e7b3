//! What one whole step of the key costs: a new answer in; ranking, next questions and explanations out.
//!
//! `cargo bench -p trug --bench key` prints criterion's figures; `tests/measure/key` prints them against numpy's bare product
//! of a posterior and a matrix of likelihoods of the same size.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

use std::fmt::Write as _;
use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use trug::key::{Answer, Evidence, Key, Observed, ObserverError, StateSet};
use trug::pack::{Cell, CharacterIndex, Effort, Frequency, Pack, StateIndex, TaxonIndex, Texts};

/// The large pack: so many taxa, characters and states a character, 5,000 × 300 in all.
const TAXA: u32 = 5_000;
const CHARACTERS: u32 = 100;
const STATES: u32 = 3;
/// Answers given one after another.
const ANSWERS: usize = 12;

/// A made-up pack. Each taxon's states follow from the bits of a mixed number, so that all differ.
fn large() -> Pack {
    let mut texts = Texts::new();
    let about = "format = 1\nid = \"made-up\"\nversion = \"1\"\ntitle = \"Made up\"\nlanguage = \"en\"\nregion = \"Nowhere\"\nnotes = []\n";
    texts.insert("pack.toml".into(), about.into());
    texts.insert(
        "sources.toml".into(),
        "[published]\nbook = \"A book\"\n\n[unpublished]\npractice = \"Practice\"\n".into(),
    );
    let mut characters = String::from("[families]\n");
    for at in 0..CHARACTERS {
        writeln!(characters, "f{at} = \"family {at}\"").expect("text");
    }
    for at in 0..CHARACTERS {
        write!(
            characters,
            "[[character]]\nid = \"c{at}\"\nlabel = \"C{at}\"\nquestion = \"C{at}?\"\neffort = \"glance\"\nmisread = 0.1\nfamily = \"f{at}\"\nstates = ["
        )
        .expect("text");
        for state in 0..STATES {
            write!(characters, "{{ id = \"s{state}\", label = \"s{state}\" }}, ").expect("text");
        }
        characters.push_str("]\n");
    }
    texts.insert("characters.toml".into(), characters);
    for taxon in 0..TAXA {
        let standing = if taxon % 3 == 0 { "harmful" } else { "food" };
        let may = taxon % 3 == 1;
        let because = if taxon % 3 == 2 { "key_may_not_because = \"Made up.\"\n" } else { "" };
        let mut text = format!(
            "id = \"t{taxon}\"\nlatin = \"Fungus t{taxon}\"\nenglish = [\"T{taxon}\"]\nstanding = {{ is = \"{standing}\", source = \"book\" }}\nfrequency = {{ is = \"common\", source = \"book\" }}\nkey_may_name = {may}\n{because}lookalikes_complete = true\n"
        );
        if taxon % 3 == 1 {
            writeln!(
                text,
                "[[lookalikes]]\ntaxon = \"t{}\"\napart = \"Made up.\"\nby = [\"c0\"]\nsource = \"book\"",
                taxon - 1
            )
            .expect("text");
        }
        text.push_str("[cells]\n");
        let mut mixed = u64::from(taxon).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
        for at in 0..CHARACTERS {
            mixed ^= mixed << 13;
            mixed ^= mixed >> 7;
            mixed ^= mixed << 17;
            writeln!(text, "c{at} = {{ usual = \"s{}\", source = \"book\" }}", mixed % u64::from(STATES))
                .expect("text");
        }
        texts.insert(format!("taxa/t{taxon}.toml"), text);
    }
    Pack::from_texts(&texts).expect("a sound pack")
}

/// The evidence after each answer, if the key's own best questions are answered as a taxon usually shows.
fn course(key: &Key<'_>, taxon: TaxonIndex) -> Vec<Evidence> {
    let mut evidence = Evidence::new();
    let mut course = Vec::new();
    while course.len() < ANSWERS {
        let step = key.step(&evidence);
        let field = |at: CharacterIndex| {
            key.pack().character(at).is_some_and(|it| !matches!(it.effort, Effort::Lens | Effort::Microscope))
        };
        let Some(question) = step.next.iter().find(|question| field(question.character)) else { break };
        let seen = usual(key.pack(), taxon, question.character)
            .map_or(Observed::CannotTell, |state| Observed::States(StateSet::of(state)));
        evidence.answer(Answer { character: question.character, seen, sure: true });
        course.push(evidence.clone());
    }
    course
}

fn usual(pack: &Pack, taxon: TaxonIndex, character: CharacterIndex) -> Option<StateIndex> {
    let Cell::States(cell) = pack.cell(taxon, character) else { return None };
    let is_usual = |at: &StateIndex| {
        cell.states
            .get(at.get())
            .and_then(Option::as_ref)
            .is_some_and(|seen| seen.frequency == Frequency::Usual)
    };
    (0..64).map(StateIndex).find(is_usual)
}

fn steps(bench: &mut Criterion, name: &str, pack: &Pack, taxon: TaxonIndex) {
    let key = Key::new(pack, ObserverError::default());
    let mut group = bench.benchmark_group("key");
    group.sample_size(30).measurement_time(Duration::from_secs(3));
    group.bench_function(format!("{name}/first"), |bench| {
        let evidence = Evidence::new();
        bench.iter(|| black_box(key.step(black_box(&evidence))));
    });
    let course = course(&key, taxon);
    // The mean over a whole course: each iteration is one step, at one length of evidence after another.
    group.bench_function(format!("{name}/step"), |bench| {
        let mut turn = course.iter().cycle();
        bench.iter(|| black_box(key.step(black_box(turn.next().expect("a course")))));
    });
    group.finish();
}

fn key(bench: &mut Criterion) {
    let britain = Pack::britain().expect("the built-in pack");
    steps(bench, "britain", britain, britain.taxon_by_id("velvet-shank").expect("velvet shank"));
    steps(bench, "5000x300", &large(), TaxonIndex(1));
}

criterion_group!(benches, key);
criterion_main!(benches);
