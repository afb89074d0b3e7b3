//! Readers of foreign files against spoilt ones, by lot: good files are altered, cut, spliced and filled with awkward values, and
//! whatever comes of it must be an answer or a refusal, soon. A mutational loop without coverage: it runs wherever tests run.
//!
//! Each reader gets 3 seconds, 60 with `TRUG_LONG=1`, or as many as `TRUG_MUTATED_SECONDS` says. What was run is said at the end.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing, clippy::format_collect, dead_code)]

#[path = "../hostile_bundles/bag.rs"]
mod bag;
mod mutate;

use std::fs;
use std::io::{Cursor, Read, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::{Duration, Instant};

use bag::Bag;
use mutate::Mutator;
use serde_json::json;
use trug::find::Find;
use trug::notebook::{NewFind, Notebook};
use trug::pack::{Pack, Texts, read_folder};
use trug::photo::Shelf;
use trug::progress::Unwatched;
use trug::seal::{Identity, Recipient, To, With, seal, unseal};
use trug_tests::{crate_folder, draw, long};

/// No single file may hold a reader up for longer, even on a busy machine and unoptimised.
const SLOWEST: Duration = Duration::from_secs(10);

fn seconds() -> u64 {
    let told = std::env::var("TRUG_MUTATED_SECONDS").ok().and_then(|told| told.parse().ok());
    told.unwrap_or(if long() { 60 } else { 3 })
}

/// Runs a reader on one spoilt file after another. The number in a failure is that of the lot: the same number draws the same.
fn run(what: &str, mut read: impl FnMut(&mut Mutator) -> bool) {
    let until = Instant::now() + Duration::from_secs(seconds());
    // `TRUG_MUTATED_LOT` begins with the lot that failed.
    let first = std::env::var("TRUG_MUTATED_LOT").ok().and_then(|lot| lot.parse().ok()).unwrap_or(0_u64);
    let (mut runs, mut taken) = (first, 0_u64);
    while Instant::now() < until {
        let begun = Instant::now();
        let well = catch_unwind(AssertUnwindSafe(|| read(&mut Mutator::new(runs))));
        taken += u64::from(well.unwrap_or_else(|_| panic!("{what}: lot {runs} made it fall over")));
        assert!(begun.elapsed() < SLOWEST, "{what}: lot {runs} took {:?}", begun.elapsed());
        runs += 1;
    }
    let runs = runs - first;
    assert!(runs > 10, "{what}: too slow to tell");
    let _ = writeln!(std::io::stderr(), "MUTATED: {what}: {runs} files, {taken} of them taken");
}

#[test]
fn bundles() {
    let dir = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(&dir.path().join("notebook")).unwrap();
    notebook.add_find(NewFind { find: Find::default(), photos: Vec::new() }).unwrap();
    let picture = dir.path().join("a.png");
    draw(&picture).unwrap();
    let picture = fs::read(picture).unwrap();
    let changes = [
        json!({"seen": [3, 5], "at": "2026-10-18T12:00:00+01:00", "stages": {"young": 2}, "note": "elder"}),
        json!({"position": {"latitude": 51.5, "longitude": -1.2, "accuracy_m": 8.0, "got": "fix"}, "width": {"least": 3.0, "most": 41.5}}),
        json!({"deleted": true, "hazards": ["roadside"], "host": {"tree": "elder", "sure": "likely"}}),
    ];
    let file = dir.path().join("bundle");
    let good: Vec<String> =
        (1..).zip(&changes).map(|(n, set)| bag::with(n, "set", set.clone()).to_string()).collect();
    fs::write(&file, bag::lines(&good.iter().map(|line| bag::seal(line)).collect::<Vec<_>>())).unwrap();
    notebook.read_bundle(&file, None, false, &Unwatched).unwrap();
    run("bundles", |lot| {
        let mut lines = good.clone();
        if lot.chance(3) {
            let at = lot.below(lines.len());
            // The hash is made anew: what is behind it is to be tried, too.
            let spoilt = String::from_utf8_lossy(&lot.spoil(lines[at].as_bytes())).replace('\n', " ");
            lines[at] = format!("{}}}", spoilt.trim_end_matches('}'));
        }
        let mut bag = Bag::of(&lines.iter().map(|line| bag::seal(line)).collect::<Vec<_>>());
        if lot.chance(2) {
            let content = if lot.chance(2) { lot.spoil(&picture) } else { picture.clone() };
            bag.payload.insert(format!("data/photos/{}.png", bag::sha256(&content)), content);
        }
        if lot.chance(4) {
            bag.info = String::from_utf8_lossy(&lot.spoil(bag.info.as_bytes())).into_owned();
        }
        if lot.chance(8) {
            let names: Vec<String> = bag.payload.keys().cloned().collect();
            let content = bag.payload.remove(&names[0]).unwrap();
            bag.payload
                .insert(String::from_utf8_lossy(&lot.spoil(names[0].as_bytes())).into_owned(), content);
        }
        let mut bytes = bag.write();
        if lot.chance(3) {
            bytes = lot.spoil(&bytes);
        }
        fs::write(&file, bytes).unwrap();
        notebook.read_bundle(&file, None, false, &Unwatched).is_ok()
    });
    assert_eq!(notebook.finds(&trug::store::Criteria::default()).unwrap().len(), 1);
}

#[test]
fn sealed_files() {
    let identity = Identity::draw().unwrap();
    let to = [Recipient::try_from(&identity.public().unwrap()).unwrap()];
    let mut sealer = seal(Vec::new(), To::Keys(&to)).unwrap();
    sealer.write_all(&vec![7; 70_000]).unwrap();
    let good = sealer.finish().unwrap();
    run("sealed files", |lot| {
        let head = if lot.chance(2) { 300 } else { good.len() };
        let spoilt = [lot.spoil(&good[..head]), good[head..].to_vec()].concat();
        let mut all = Vec::new();
        let read = unseal(Cursor::new(&spoilt), With::Identity(&identity))
            .map(|mut plain| plain.read_to_end(&mut all));
        assert!(all.iter().all(|byte| *byte == 7), "nothing false is given out");
        matches!(read, Ok(Ok(_)))
    });
}

#[test]
fn photos() {
    let dir = tempfile::tempdir().unwrap();
    let shelf = Shelf::open(dir.path()).unwrap();
    let picture = dir.path().join("a.png");
    draw(&picture).unwrap();
    let mut corpus = vec![fs::read(&picture).unwrap()];
    for format in [image::ImageFormat::Jpeg, image::ImageFormat::WebP] {
        let mut bytes = Cursor::new(Vec::new());
        image::open(&picture).unwrap().to_rgb8().write_to(&mut bytes, format).unwrap();
        corpus.push(bytes.into_inner());
    }
    let samples = crate_folder("kamadak-exif").join("tests");
    for sample in fs::read_dir(samples).into_iter().flatten().flatten() {
        corpus.extend(fs::read(sample.path()).ok().filter(|bytes| bytes.len() < 200_000));
    }
    let file = dir.path().join("spoilt");
    run("photos", |lot| {
        let good = &corpus[lot.below(corpus.len())];
        // What a picture says of itself stands at its beginning.
        let head = if lot.chance(2) { good.len().min(600) } else { good.len() };
        fs::write(&file, [lot.spoil(&good[..head]), good[head..].to_vec()].concat()).unwrap();
        let taken = shelf.take_in(&file, &jiff::tz::TimeZone::UTC);
        if let Ok(taken) = &taken {
            let _ = shelf.path(&taken.hash).map(fs::remove_file);
        }
        taken.is_ok()
    });
}

#[test]
fn packs() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/packs/britain");
    let all = read_folder(&folder).unwrap();
    let (taxa, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(|(name, _)| name.starts_with("taxa/"));
    run("packs", |lot| {
        // Whole now and then; mostly one taxon alone, which is read sooner.
        let mut texts: Texts = rest.iter().cloned().collect();
        if lot.chance(4) {
            texts.extend(taxa.iter().cloned());
        }
        let (name, text) = &taxa[lot.below(taxa.len())];
        texts.insert(name.clone(), text.clone());
        let names: Vec<String> =
            if lot.chance(3) { texts.keys().cloned().collect() } else { vec![name.clone()] };
        let name = &names[lot.below(names.len())];
        let spoilt = String::from_utf8_lossy(&lot.spoil(texts[name].as_bytes())).into_owned();
        texts.insert(name.clone(), spoilt);
        Pack::from_texts(&texts).is_ok()
    });
}
