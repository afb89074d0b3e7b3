//! Every statement of the Britain pack that names a published source, against the facts taken down from that source.
//!
//! The facts lie in a file outside this repository, which `TRUG_SPECIES` names: a species a line, each fact in a few words with the
//! id of its source. What fields bear on which character, and by what words each state is named, is plain data in
//! `reading.toml`. A statement agrees if its source names the state; it disagrees if its source says nothing that bears on the
//! character, or names other states only; it is not decided if the words tell neither.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod facts;
mod ranges;
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

#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    Agrees,
    NotDecided,
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
        match own.iter().all(|text| speaks_of_others(&text)) {
            true => Verdict::Disagrees(format!("it says {own:?}")),
            false => Verdict::NotDecided,
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

#[test]
fn every_statement_from_a_published_source_agrees_with_it() {
    let Some(file) = species_file() else { return };
    let species = facts::read(&file);
    let sources: BTreeMap<String, String> = {
        let beside = file.with_file_name("SPECIES.sources.json");
        serde_json::from_str(&std::fs::read_to_string(beside).unwrap()).unwrap()
    };
    let pack = Pack::britain().unwrap();
    let readings = readings();
    let (mut agreed, mut elsewhere, mut undecided, mut disagreed) = (0, 0, Vec::new(), Vec::new());
    let mut suggest = String::new();
    let mut of_taxon = None;
    for claim in claims(pack) {
        let known = match of_taxon.take() {
            Some((taxon, known)) if taxon == claim.taxon => known,
            _ => known(pack, claim.taxon, &readings, &species),
        };
        let character = &pack.character(claim.character).unwrap().id;
        let reading = readings.read.get(character);
        if let (What::Numbers(range), Some(reading)) = (&claim.what, reading) {
            let ids: Vec<&str> =
                claim.sources.iter().map(|at| pack.sources()[usize::from(at.0)].id.as_str()).collect();
            if let Some(why) = ranges::beyond_all(reading, &known, &ids, *range) {
                disagreed.push(format!("{}: {character} = {range:?}: {why}", line(pack, &claim)));
            }
        }
        for source in claim.sources.iter().map(|at| &pack.sources()[usize::from(at.0)]) {
            if !source.published {
                continue;
            }
            // Some species and some sources were read without being taken down in the file.
            if !sources.contains_key(&source.id) || known.own.is_empty() {
                elsewhere += 1;
                continue;
            }
            let reading = reading.unwrap_or_else(|| panic!("reading.toml does not say how {character} is read"));
            let (what, verdict) = match &claim.what {
                What::State(state) => (state.clone(), reading.judge(&known, &source.id, state)),
                What::Numbers(range) => ranges::judge_numbers(reading, &known, &source.id, *range),
                What::Months(range) => ranges::judge_months(reading, &known, &source.id, *range),
            };
            let told = |why: &str| {
                format!("{}: {character} = {what} ({}): {why}", line(pack, &claim), source.id)
            };
            match verdict {
                Verdict::Agrees => agreed += 1,
                Verdict::NotDecided => undecided.push(told(&format!("{:?}", known.facts(&source.id, &reading.own)))),
                Verdict::Disagrees(why) => {
                    disagreed.push(told(&why));
                    if let What::State(state) = &claim.what {
                        let others: std::collections::BTreeSet<&str> = known.own.iter().flat_map(|s| &s.facts).flat_map(|f| f.source.split('+')).filter(|o| reading.judge(&known, o, state) == Verdict::Agrees).collect();
                        suggest += &format!("{} {character} {state} {} {}\n", pack.taxon(claim.taxon).unwrap().id, source.id, others.into_iter().collect::<Vec<_>>().join(","));
                    }
                }
            }
        }
        of_taxon = Some((claim.taxon, known));
    }
    let all = agreed + undecided.len() + disagreed.len();
    std::fs::write("/tmp/suggest.txt", suggest).unwrap();
    println!("not decided:\n{}\n\ndisagreed:\n{}\n", undecided.join("\n"), disagreed.join("\n"));
    println!(
        "{all} statements: {agreed} agree, {} are not decided, {} disagree; {elsewhere} from sources that the file does not hold",
        undecided.len(),
        disagreed.len()
    );
    assert!(disagreed.is_empty(), "{} statements disagree with their source", disagreed.len());
    assert!(undecided.len() * 100 < all * 15, "too many are not decided: {} of {all}", undecided.len());
    assert!(agreed > 5_000, "only {agreed} agree");
}
