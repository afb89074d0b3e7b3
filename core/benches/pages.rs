//! What whole pages cost that count everything: the year and one of its months, against bare reading of the same rows.
//!
//! `cargo bench -p trug --bench pages`; the goal is 100 ms a page at 10,000 finds, better 20.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

mod scene;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use rusqlite::Connection;
use scene::{change, patch, patches, stamp, write_log};
use serde_json::{Value, json};
use trug::change::{ChangeId, Line};
use trug::id::{DeterminationId, DeviceId, FindId, OutingId, RecordId};
use trug::notebook::{AskedOfYear, By, Notebook};
use trug::pack::Pack;

/// Ten years of finds, however many they are: so that a tenfold is ten times as many a day.
const YEARS: i64 = 10;
const BEGAN: i64 = 1_450_000_000;
/// So many fungi are found; of each so many finds have a second name beside the first.
const FUNGI: u64 = 60;
const DISPUTED: u64 = 50;

fn at(n: u64, of: u64) -> String {
    let share = f64::from(u32::try_from(n).expect("small")) / f64::from(u32::try_from(of).expect("small"));
    #[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "ten years of seconds")]
    let seconds = BEGAN + ((YEARS * 31_557_600) as f64 * share) as i64;
    let at = jiff::Timestamp::from_second(seconds).expect("in range");
    at.display_with_offset(jiff::tz::Offset::UTC).to_string()
}

/// So many finds: ten on an outing, five of them at a patch, each with a name, one in fifty with two; and a visit to a patch on every
/// outing.
fn lines(finds: u64, device: DeviceId) -> Vec<Line> {
    let pack = Pack::britain().expect("a pack");
    let names: Vec<&str> = pack.taxa().iter().map(|taxon| taxon.id.as_str()).collect();
    let name = |n: u64| names.get(usize::try_from(n % FUNGI).expect("small")).copied().unwrap_or("cep");
    let mut number = 0;
    let mut next = |kind: &str, record: RecordId, set: Value| {
        number += 1;
        change(kind, record, set, ChangeId { stamp: stamp(number), device }, None)
    };
    let mut lines: Vec<Line> = Vec::new();
    let mut outing = OutingId::new();
    for n in 0..finds {
        let when = at(n, finds);
        if n % 10 == 0 {
            outing = OutingId::new();
            let place = format!("wood {}", n / 10 % 20);
            lines.push(next("outing", outing.into(), json!({"start": when, "end": when, "where": place})));
            let visit = json!({"patch": patch(n / 10), "outing": outing, "at": when, "outcome": "nothing"});
            lines.push(next("visit", RecordId::new(), visit));
        }
        let find = FindId::new();
        let here = if n % 2 == 0 { json!(patch(n / 2)) } else { Value::Null };
        let told = json!({
            "at": when, "outing": outing, "patch": here, "on": "fallen-branch", "ground": "chalk", "seen": n % 17 + 3,
            "taken": n % 4, "grams": n % 4 * 12, "note": "under the leaning one, north side"
        });
        lines.push(next("find", find.into(), told));
        let given = |name: &str| json!({"find": find, "taxon": name, "how": "sight", "at": when});
        lines.push(next("determination", DeterminationId::new().into(), given(name(n * 7))));
        if n % DISPUTED == 0 {
            lines.push(next("determination", DeterminationId::new().into(), given(name(n * 7 + 1))));
        }
    }
    lines
}

fn notebook(finds: u64) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let device = Notebook::open(dir.path()).map(|_| DeviceId::new()).expect("a notebook");
    write_log(dir.path(), device, patches(device).chain(lines(finds, device)));
    drop(Notebook::open(dir.path()).expect("folded"));
    dir
}

/// Every row that the year is counted from, with every column, one after the other.
fn read_bare(db: &Connection) -> usize {
    let mut read = 0;
    for sql in [
        "SELECT * FROM tally",
        "SELECT t.patch, t.outing, t.at FROM timed AS t WHERE kind IN ('visit', 'outing')",
    ] {
        let mut statement = db.prepare_cached(sql).expect("a statement");
        let columns = statement.column_count();
        let mut rows = statement.query([]).expect("rows");
        while let Some(row) = rows.next().expect("a row") {
            for column in 0..columns {
                black_box(row.get_ref(column).expect("a value"));
            }
            read += 1;
        }
    }
    read
}

fn the_year(c: &mut Criterion) {
    let pack = Pack::britain().expect("a pack");
    let mut group = c.benchmark_group("year");
    group.sample_size(20);
    for finds in [1_000_u64, 10_000, 100_000] {
        let dir = notebook(finds);
        let notebook = Notebook::open(dir.path()).expect("open");
        let db = Connection::open(dir.path().join("view.sqlite")).expect("the view");
        let rows = read_bare(&db);
        group.bench_function(format!("bare rows of {finds} finds ({rows})"), |b| b.iter(|| read_bare(&db)));
        for (by, what) in [(By::Fungus, "by fungus"), (By::Place, "by place")] {
            let more_of = Some("all".parse().expect("a key"));
            let asked = AskedOfYear { by, season: None, more_of };
            group.bench_function(format!("the page of {finds} finds, {what}"), |b| {
                b.iter(|| black_box(notebook.year(pack, &asked).expect("asked")));
            });
        }
        let key = "all".parse().expect("a key");
        let month_key = "2018-10".parse().expect("a month");
        group.bench_function(format!("the page of a month of {finds} finds"), |b| {
            b.iter(|| black_box(notebook.month(pack, &key, month_key, 100).expect("asked")));
        });
    }
    group.finish();
}

criterion_group!(benches, the_year);
criterion_main!(benches);
