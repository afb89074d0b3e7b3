//! Every statement of the Britain pack that names a published source, against the facts taken down from that source.
//!
//! The facts lie in a file outside this repository, which `TRUG_SPECIES` names: a species a line, each fact in a few words with the
//! id of its source. What fields bear on which character, and by what words each state is named, is plain data in
//! `reading.toml`. A statement agrees if its source names the state; it disagrees if its source says nothing that bears on the
//! character, or names other states only; it is not decided if the words tell neither.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod facts;
mod ranges;
mod statements;
mod text;

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use trug::pack::{Cell, CharacterIndex, Pack, Sources, TaxonIndex};

use facts::{Known, Species};
use text::{Words, contrasted, named};

/// How the facts on one character are read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Fields that are about it.
    pub own: Vec<String>,
    /// Fields that may mention it.
    #[serde(default)]
    pub passing: Vec<String>,
    /// A list of words that several characters share.
    list: Option<String>,
    #[serde(default)]
    words: Words,
    /// Where a fact tells young from old with a semicolon: which of the two.
    part: Option<Part>,
}

#[derive(Deserialize, Clone, Copy, PartialEq)]
#[serde(rename_all = "lowercase")]
enum Part {
    Young,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Readings {
    /// Taxa of the pack that other names in the facts speak of, too.
    also: BTreeMap<String, Vec<String>>,
    lists: BTreeMap<String, Words>,
    read: BTreeMap<String, Reading>,
}

/// What reading a source makes of a claim.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It says so.
    Agrees,
    /// Its words tell neither.
    NotDecided,
    /// It says nothing of it, or something else.
    Disagrees(String),
}

fn here() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn readings() -> Readings {
    let text = std::fs::read_to_string(here().join("tests/agreement/reading.toml")).unwrap();
    let mut readings: Readings = toml::from_str(&text).unwrap();
    for reading in readings.read.values_mut() {
        if let Some(list) = &reading.list {
            for (state, words) in &readings.lists[list] {
                reading.words.entry(state.clone()).or_default().extend(words.iter().cloned());
            }
        }
    }
    readings
}

fn species_file() -> Option<PathBuf> {
    let file = std::env::var_os("TRUG_SPECIES").map(PathBuf::from);
    if file.is_none() {
        let _ = writeln!(std::io::stderr(), "SKIPPED: TRUG_SPECIES names no file of published facts");
    }
    file
}

impl Reading {
    fn part_of(&self, text: &str) -> String {
        match (self.part, text.split_once(';')) {
            (Some(Part::Young), Some((young, _))) => young.to_owned(),
            _ => text.to_owned(),
        }
    }

    /// Whether a source names a state of a taxon.
    fn judge(&self, known: &Known<'_>, source: &str, state: &str) -> Verdict {
        let names = |text: &str, of: &str| {
            named(text, &self.words).iter().any(|states| states.split(' ').any(|one| one == of))
        };
        let own = known.facts(source, &self.own);
        let passing = known.facts(source, &self.passing);
        let contrasts = known.contrasts(source);
        let told = own.iter().map(|text| self.part_of(text)).any(|text| names(&text, state));
        let in_contrast = |text: &&str| {
            contrasted(text, &self.words).iter().any(|states| states.split(' ').any(|one| one == state))
        };
        if told || passing.iter().any(|text| names(text, state)) || contrasts.iter().any(in_contrast) {
            return Verdict::Agrees;
        }
        let speaks_of_others = |text: &&&str| !named(text, &self.words).is_empty();
        if own.is_empty() {
            let near: Vec<&&str> = passing.iter().chain(&contrasts).collect();
            return Verdict::Disagrees(format!("it says nothing of it; near it: {near:?}"));
        }
        if own.iter().all(|text| speaks_of_others(&text)) {
            Verdict::Disagrees(format!("it says {own:?}"))
        } else {
            Verdict::NotDecided
        }
    }
}

/// One statement: a state or range of a taxon, and one of its sources.
struct Claim<'p> {
    taxon: TaxonIndex,
    character: CharacterIndex,
    what: What,
    sources: &'p Sources,
}

enum What {
    State(String),
    Numbers([f32; 4]),
    Months([u8; 4]),
}

fn claims(pack: &Pack) -> Vec<Claim<'_>> {
    let mut claims = Vec::new();
    for (taxon, character) in
        pack.taxon_indices().flat_map(|taxon| pack.character_indices().map(move |at| (taxon, at)))
    {
        let mut claim = |what, sources| claims.push(Claim { taxon, character, what, sources });
        match pack.cell(taxon, character) {
            Cell::NotApplicable | Cell::Unknown => {}
            Cell::Number(r, sources) => claim(What::Numbers([r.least, r.low, r.high, r.most]), sources),
            Cell::Months(r, sources) => claim(What::Months([r.least, r.low, r.high, r.most]), sources),
            Cell::States(cell) => {
                let states = pack.character(character).unwrap().states.iter().zip(&cell.states);
                states
                    .filter_map(|(state, seen)| Some((state, seen.as_ref()?)))
                    .for_each(|(state, seen)| claim(What::State(state.id.clone()), &seen.sources));
            }
        }
    }
    claims
}

/// What came of reading one taxon's names.
fn known<'s>(pack: &Pack, at: TaxonIndex, readings: &Readings, species: &'s [Species]) -> Known<'s> {
    let taxon = pack.taxon(at).unwrap();
    let also = readings.also.get(&taxon.id).into_iter().flatten();
    let names = [&taxon.latin].into_iter().chain(&taxon.synonyms).chain(also);
    Known::of(&names.map(String::as_str).collect::<Vec<_>>(), species)
}

/// Where a cell stands in the pack's files.
fn line(pack: &Pack, claim: &Claim<'_>) -> String {
    let file = format!("taxa/{}.toml", pack.taxon(claim.taxon).unwrap().id);
    let start = format!("{} = ", pack.character(claim.character).unwrap().id);
    let text = std::fs::read_to_string(here().join("packs/britain").join(&file)).unwrap();
    let at = text.lines().position(|line| line.starts_with(&start)).map_or(0, |at| at + 1);
    format!("{file}:{at}")
}

/// The pack, the facts, and how to read them.
struct Check<'s> {
    pack: &'static Pack,
    species: &'s [Species],
    /// Ids of all sources that facts were taken down from.
    sources: &'s BTreeMap<String, String>,
    readings: Readings,
}

/// What came of all claims.
#[derive(Default)]
struct Outcome {
    agreed: usize,
    /// From sources, or on species, that were read without being taken down in the file.
    elsewhere: usize,
    not_decided: Vec<String>,
    disagreed: Vec<String>,
}

impl Check<'_> {
    fn judge(&self, claim: &Claim<'_>, known: &Known<'_>, outcome: &mut Outcome) {
        let character = &self.pack.character(claim.character).unwrap().id;
        let Some(reading) = self.readings.read.get(character) else {
            panic!("reading.toml does not say how {character} is read");
        };
        let at = |what: &str| format!("{}: {character} = {what}", line(self.pack, claim));
        let sources = claim.sources.iter().map(|at| &self.pack.sources()[usize::from(at.0)]);
        let ids: Vec<&str> = sources.clone().map(|source| source.id.as_str()).collect();
        if let What::Numbers(range) = &claim.what
            && let Some(why) = ranges::beyond_all(reading, known, &ids, *range)
        {
            outcome.disagreed.push(at(&format!("{range:?}: {why}")));
        }
        for source in sources.filter(|source| source.published) {
            if !self.sources.contains_key(&source.id) || known.own.is_empty() {
                outcome.elsewhere += 1;
                continue;
            }
            let (what, verdict) = match &claim.what {
                What::State(state) => (state.clone(), reading.judge(known, &source.id, state)),
                What::Numbers(range) => ranges::judge_numbers(reading, known, &source.id, *range),
                What::Months(range) => ranges::judge_months(reading, known, &source.id, *range),
            };
            let told = |why: &str| format!("{} ({}): {why}", at(&what), source.id);
            match verdict {
                Verdict::Agrees => outcome.agreed += 1,
                Verdict::NotDecided => {
                    let facts = known.facts(&source.id, &reading.own);
                    outcome.not_decided.push(told(&format!("{facts:?}")));
                }
                Verdict::Disagrees(why) => outcome.disagreed.push(told(&why)),
            }
        }
    }

    /// Judges claims, each after it was changed or left as it is; one that is dropped is not judged.
    fn outcome<'p>(&self, change: impl Fn(Claim<'p>) -> Option<Claim<'p>>) -> Outcome {
        let mut outcome = Outcome::default();
        let mut last = None;
        for claim in claims(self.pack).into_iter().filter_map(change) {
            let known = match last.take() {
                Some((taxon, known)) if taxon == claim.taxon => known,
                _ => known(self.pack, claim.taxon, &self.readings, self.species),
            };
            self.judge(&claim, &known, &mut outcome);
            last = Some((claim.taxon, known));
        }
        outcome
    }
}

/// The facts, and the sources that they were taken down from, by id.
type File = (Vec<Species>, BTreeMap<String, String>);

fn file() -> Option<File> {
    let file = species_file()?;
    let beside = std::fs::read_to_string(file.with_file_name("SPECIES.sources.json")).unwrap();
    Some((facts::read(&file), serde_json::from_str(&beside).unwrap()))
}

fn check(file: &File) -> Check<'_> {
    Check { pack: Pack::britain().unwrap(), species: &file.0, sources: &file.1, readings: readings() }
}

#[test]
fn every_sentence_comes_from_sources_that_speak_of_it() {
    let Some(file) = file() else { return };
    let (all, unsupported) = statements::unsupported(&check(&file));
    println!("{all} sources of sentences looked at");
    assert!(unsupported.is_empty(), "{}", unsupported.join("\n"));
    assert!(all > 1_000, "only {all} were looked at");
}

#[test]
fn every_statement_from_a_published_source_agrees_with_it() {
    let Some(file) = file() else { return };
    let check = check(&file);
    let pack = check.pack;

    let Outcome { agreed, elsewhere, not_decided, disagreed } = check.outcome(Some);
    let all = agreed + not_decided.len() + disagreed.len();
    println!("not decided:\n{}\n\ndisagreed:\n{}\n", not_decided.join("\n"), disagreed.join("\n"));
    println!(
        "{all} statements: {agreed} agree, {} are not decided, {} disagree; {elsewhere} from what the file does not hold",
        not_decided.len(),
        disagreed.len()
    );
    assert!(disagreed.is_empty(), "{} statements disagree with their source", disagreed.len());
    assert!(not_decided.len() * 100 < all * 15, "too many are not decided: {} of {all}", not_decided.len());
    assert!(agreed > 5_000, "only {agreed} agree");

    // The check can fail: states that the taxon does not show, laid into the mouths of the same sources, are objected to.
    let planted = check.outcome(|claim| planted(pack, claim));
    let objected = planted.disagreed.len();
    let all = planted.agreed + planted.not_decided.len() + objected;
    println!("planted: {objected} of {all} are objected to");
    assert!(all > 1_000 && objected * 4 > all * 3, "{objected} of {all}");
}

/// The same claim for a state that the taxon does not show: every fifth claim, the farthest such state.
fn planted<'p>(pack: &Pack, mut claim: Claim<'p>) -> Option<Claim<'p>> {
    let What::State(state) = &claim.what else { return None };
    let character = pack.character(claim.character)?;
    let Cell::States(cell) = pack.cell(claim.taxon, claim.character) else { return None };
    let at = character.states.iter().position(|known| known.id == *state)?;
    let count = character.states.len();
    let unseen =
        (1..count).map(|step| (at + count / 2 + step) % count).find(|at| cell.states[*at].is_none())?;
    let id = character.states[unseen].id.clone();
    claim.what = What::State(id);
    (claim.taxon.0 + claim.character.0).is_multiple_of(5).then_some(claim)
}
