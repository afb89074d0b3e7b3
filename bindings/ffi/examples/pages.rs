//! What opening each page costs the core, in a notebook of ten years: `tests/measure/pages`.

#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::indexing_slicing, missing_docs)]
#![allow(clippy::format_collect, clippy::similar_names, reason = "a table is printed, once")]

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use jiff::{Timestamp, ToSpan};
use trug::find::{Find, Got, How, Whereabouts};
use trug::id::PatchId;
use trug::moment::Moment;
use trug::notebook::{NewFind, NewName, Notebook};
use trug::outing::Outing;
use trug::pack::Pack;
use trug::patch::{Outcome, Patch, Visit};
use trug::place::Position;
use trug::units::Metres;
use trug_ffi::{Book, Fix, MapPoint, MapWindow, PatchOrder, ShareWhich, YearBy, Zone};

/// A place that is nobody's: it stands for "Harrow Shaw", which is invented.
const HERE: Fix = Fix { latitude: 51.5, longitude: -1.5, accuracy_m: Some(8.0) };
/// Milliseconds that no page may take.
const MOST: f64 = 100.0;
/// So many finds are made on an outing, and on a patch.
const AN_OUTING: u32 = 10;
const A_PATCH: u32 = 20;
const TIMES: u32 = 9;

fn main() {
    let finds: Vec<u32> = std::env::args().skip(1).map(|finds| finds.parse().unwrap()).collect();
    let measured: Vec<Vec<(&str, f64)>> = finds.iter().map(|finds| measure(*finds)).collect();
    println!("ms          {}", finds.iter().map(|finds| format!("{finds:>12}")).collect::<String>());
    let mut slow = false;
    for (at, (page, _)) in measured[0].iter().enumerate() {
        let times = measured.iter().map(|times| times[at].1);
        slow |= times.clone().any(|ms| ms > MOST);
        println!("{page:12}{}", times.map(|ms| format!("{ms:12.2}")).collect::<String>());
    }
    if slow {
        println!("a page takes more than {MOST} ms");
        std::process::exit(1);
    }
}

/// Each page's median, in milliseconds.
fn measure(finds: u32) -> Vec<(&'static str, f64)> {
    let dir = tempfile::tempdir().unwrap();
    let (find, patch) = fill(dir.path(), finds);
    let zone = Zone { name: "Europe/London".into(), offset_seconds: 0 };
    let book = Book::open(dir.path().to_str().unwrap().to_owned(), zone).unwrap();
    let here = Some(HERE);
    let year = book.year_page(YearBy::Fungus, None, None).unwrap();
    let month =
        year.rows.iter().flat_map(|row| &row.months).find(|month| month.finds > 0).map(|it| it.id.clone());
    let map = book.map_page(here, None).unwrap();
    let middle = MapPoint { east: 0.0, north: 0.0 };
    let window =
        MapWindow { about: map.about.unwrap(), middle, across_m: 5000.0, up_m: 9000.0, closest_m: 700.0 };
    vec![
        ("today", timed(|| drop(book.now(here).unwrap()))),
        ("find", timed(|| drop(book.find_page(find.clone()).unwrap()))),
        ("key", timed(|| drop(book.key_begin(Some(find.clone()), None).unwrap()))),
        ("ill", timed(|| drop(book.ill().unwrap()))),
        ("patches", timed(|| drop(book.patches_page(here, PatchOrder::Near).unwrap()))),
        ("by last look", timed(|| drop(book.patches_page(here, PatchOrder::LastLook).unwrap()))),
        ("patch", timed(|| drop(book.patch_page(patch.to_string(), here).unwrap()))),
        ("way back", timed(|| drop(book.way_back(patch.to_string(), here).unwrap()))),
        ("map", timed(|| drop(book.map_page(here, None).unwrap()))),
        ("map sheet", timed(|| drop(book.map_sheet(here, window).unwrap()))),
        ("year", timed(|| drop(book.year_page(YearBy::Fungus, None, None).unwrap()))),
        ("by place", timed(|| drop(book.year_page(YearBy::Place, None, None).unwrap()))),
        ("month", timed(|| drop(month.clone().map(|id| book.month_page(id, 50).unwrap())))),
        ("share", timed(|| drop(book.share_page(None).unwrap()))),
        ("share all", timed(|| drop(book.share_page(Some(ShareWhich::All)).unwrap()))),
        ("received", timed(|| drop(book.received_copies().unwrap()))),
        ("peers", timed(|| drop(book.peers().unwrap()))),
        ("settings", timed(|| drop(book.settings().unwrap()))),
        ("codes", timed(|| drop(book.codes().unwrap()))),
        ("house", timed(|| drop(book.house().unwrap()))),
        ("search", timed(|| drop(book.search("velvit shank".into(), here, 20).unwrap()))),
        ("kind", timed(|| drop(book.kind_page("velvet-shank".into(), here, 20).unwrap()))),
    ]
}

fn timed(page: impl Fn()) -> f64 {
    page();
    let mut times: Vec<f64> = (0..TIMES)
        .map(|_| {
            let begun = Instant::now();
            page();
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Ten years of outings in invented woods, and a find and a patch among them.
fn fill(dir: &Path, finds: u32) -> (String, PatchId) {
    let pack = Pack::britain().unwrap();
    let notebook = Arc::new(Notebook::open(dir).unwrap());
    let names: Vec<&str> = pack.taxa().iter().map(|taxon| taxon.id.as_str()).collect();
    let began = Timestamp::now() - (24 * 3650).hours();
    let offset = notebook.now().offset();
    let (mut outing, mut patches, mut last) = (None, Vec::new(), String::new());
    for n in 0..finds {
        let hours = i64::from(n) * 24 * 3650 / i64::from(finds);
        let at = Moment::new(began + hours.hours(), offset);
        let spot = |n: u32| {
            Position::new(51.5 + f64::from(n % 100) * 0.002, -1.5 + f64::from(n / 100) * 0.002).unwrap()
        };
        if n % AN_OUTING == 0 {
            let place = format!("Harrow Shaw {}", n / AN_OUTING % 30);
            let begun = Outing { start: Some(at), end: Some(at), place: Some(place), ..Outing::default() };
            outing = Some(notebook.start_outing(begun).unwrap().id);
            drop(notebook.end_outing(Some(at)));
        }
        let taxon = names[(n / A_PATCH) as usize * 7 % names.len()];
        if n % A_PATCH == 0 {
            let patch = Patch {
                name: Some(format!("Lidgate Hanger {}", n / A_PATCH)),
                centre: Some(spot(n / A_PATCH)),
                radius: Some(Metres::new(15.0).unwrap()),
                taxon: Some(taxon.to_owned()),
                ..Patch::default()
            };
            patches.push(notebook.add_patch(&patch).unwrap().id);
        }
        let patch = patches[n as usize % patches.len()];
        let position = Some(Whereabouts { position: spot(n % 4000), got: Got::Fix });
        let find = Find {
            at: Some(at),
            outing,
            patch: Some(patch),
            position,
            seen: "7".parse().ok(),
            taken: Some(n % 4),
            ..Find::default()
        };
        let id = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap().id;
        let name = NewName {
            taxon: Some(taxon.to_owned()),
            pack: None,
            how: Some(How::Sight),
            sure: None,
            evidence: None,
            who: None,
        };
        notebook.name_find(id, name).unwrap();
        if n % AN_OUTING == 0 {
            let visit = Visit {
                patch: Some(patch),
                at: Some(at),
                outcome: Some(Outcome::Nothing),
                ..Visit::default()
            };
            notebook.add_visit(visit).unwrap();
        }
        last = id.to_string();
    }
    (last, patches[0])
}
