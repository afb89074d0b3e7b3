//! What keeping, folding, opening and asking cost, each against something that does the least that could do.
//!
//! `cargo bench -p trug --bench notebook` prints the figures; DEVELOPERS.md keeps the ratios.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::Duration;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use rusqlite::Connection;
use serde_json::{Value, json};
use trug::change::{Change, Line, Stamp};
use trug::find::{Count, Find};
use trug::id::{DeviceId, FindId, PatchId, RecordId};
use trug::notebook::{NewFind, Notebook};
use trug::place::Position;
use trug::progress::Unwatched;
use trug::store::{Criteria, Within};
use trug::units::Metres;

const SOUTH: f64 = 51.0;
const WEST: f64 = -1.5;
const PATCHES: u64 = 500;
const BEGAN: i64 = 1_600_000_000_000;

/// Degrees across which so many finds lie: as densely whether they are few or many, so that a circle holds as many.
fn span(finds: u64) -> f64 {
    0.3 * (f64::from(u32::try_from(finds).expect("small")) / 100_000.0).sqrt()
}

fn middle(finds: u64) -> Position {
    Position::new(SOUTH + span(finds) / 2.0, WEST + span(finds) / 2.0).expect("on Earth")
}

/// The same places every time, evenly scattered: steps of the golden ratio and of the square root of two.
fn scattered(n: u64, salt: u64) -> f64 {
    let step = if salt == 1 { 0.618_033_988_749_895 } else { 0.414_213_562_373_095 };
    (f64::from(u32::try_from(n).expect("small")) * step).fract()
}

fn patch(n: u64) -> PatchId {
    PatchId(uuid::Uuid::from_u128(u128::from(n % PATCHES) + 1))
}

fn change(kind: &str, record: RecordId, set: Value, stamp: Stamp, device: DeviceId) -> Line {
    let Value::Object(set) = set else { unreachable!("an object") };
    let change =
        Change { kind: kind.into(), record, set, stamp, device, replaces: [].into(), undoes: None, more: 0 };
    Line::write(change).expect("JSON")
}

fn find(n: u64, span: f64) -> Value {
    let seconds = BEGAN / 1000 + i64::try_from(n).expect("small") * 60;
    let at = jiff::Timestamp::from_second(seconds).expect("in range");
    json!({
        "at": at.display_with_offset(jiff::tz::Offset::UTC).to_string(),
        "position": {
            "latitude": SOUTH + span * scattered(n, 1),
            "longitude": WEST + span * scattered(n, 2),
            "accuracy_m": 6.0,
            "got": "fix"
        },
        "patch": patch(n), "on": "fallen-branch", "host": {"tree": "hazel", "sure": "likely"}, "ground": "chalk",
        "growth": "scattered", "seen": 7, "width": {"least": 12.0, "most": 35.0}, "taken": 3, "grams": 40.0,
        "note": "under the leaning one, north side"
    })
}

/// A notebook folder of so many finds, written as its log would be.
fn notebook(finds: u64) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let device = Notebook::open(dir.path()).map(|_| DeviceId::new()).expect("a notebook");
    let folder = dir.path().join("changes").join(device.to_string());
    fs::create_dir_all(&folder).expect("a folder");
    let mut text = String::new();
    let mut number = 1;
    let mut flush = |text: &mut String| {
        fs::write(folder.join(format!("{number:06}.jsonl")), &*text).expect("written");
        number += 1;
        text.clear();
    };
    for n in 0..PATCHES {
        let set = json!({"name": format!("patch {n}")});
        let stamp = Stamp::at(BEGAN - 1000 + i64::try_from(n).expect("small"));
        text.push_str(change("patch", patch(n).into(), set, stamp, device).text());
        text.push('\n');
    }
    for n in 0..finds {
        let stamp = Stamp::at(BEGAN + i64::try_from(n).expect("small"));
        text.push_str(change("find", FindId::new().into(), find(n, span(finds)), stamp, device).text());
        text.push('\n');
        if text.len() >= 1 << 20 {
            flush(&mut text);
        }
    }
    flush(&mut text);
    drop(Notebook::open(dir.path()).expect("folded"));
    dir
}

fn keeping(c: &mut Criterion) {
    let mut group = c.benchmark_group("keep");
    group.measurement_time(Duration::from_secs(10));
    let dir = tempfile::tempdir().expect("a folder");
    let db = Connection::open(dir.path().join("bare.sqlite")).expect("a database");
    db.execute_batch(
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t(n INTEGER PRIMARY KEY, text TEXT)",
    )
    .expect("a table");
    let text = find(1, 0.3).to_string();
    group.bench_function("bare row, WAL, synchronous=FULL", |b| {
        b.iter(|| {
            let insert =
                db.prepare_cached("INSERT INTO t(text) VALUES (?1)").and_then(|mut s| s.execute([&text]));
            black_box(insert.expect("inserted"))
        });
    });
    let notebook = Notebook::open(&dir.path().join("notebook")).expect("a notebook");
    let find: Find = serde_json::from_value(find(1, 0.3)).expect("a find");
    let find = Find { patch: None, seen: Count::exactly(7).ok(), ..find };
    group.bench_function("find", |b| {
        b.iter(|| notebook.add_find(NewFind { find: find.clone(), photos: Vec::new() }).expect("kept"));
    });
    group.finish();
}

type Row = Vec<rusqlite::types::Value>;

/// Every row of every table of a view, with the statement that inserts it.
fn rows(view: &Path) -> Vec<(String, Vec<Row>)> {
    let db = Connection::open(view).expect("the view");
    let tables = ["change", "segment", "record", "timed", "place", "photo", "amount", "tally"];
    let read = |table: &&str| {
        let mut all = db.prepare(&format!("SELECT * FROM {table}")).expect("a table");
        let columns = all.column_count();
        let rows = all.query_map([], |row| (0..columns).map(|c| row.get(c)).collect::<Result<Row, _>>());
        let rows = rows.and_then(Iterator::collect).expect("rows");
        (format!("INSERT INTO {table} VALUES ({})", vec!["?"; columns].join(",")), rows)
    };
    tables.iter().map(read).collect()
}

fn bulk_insert(schema: &str, rows: &[(String, Vec<Row>)], to: &PathBuf) {
    let db = Connection::open(to).expect("a database");
    db.execute_batch("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF; PRAGMA cache_size=-32000;")
        .expect("set");
    db.execute_batch(schema).expect("tables");
    db.execute_batch("BEGIN").expect("begun");
    for (sql, rows) in rows {
        let mut insert = db.prepare(sql).expect("a statement");
        for row in rows {
            insert.execute(rusqlite::params_from_iter(row)).expect("inserted");
        }
    }
    db.execute_batch("COMMIT").expect("committed");
}

fn schema(view: &Path) -> String {
    let db = Connection::open(view).expect("the view");
    let sql = "SELECT group_concat(sql, ';') FROM sqlite_schema WHERE type <> 'trigger' AND sql IS NOT NULL AND name NOT LIKE 'place\\_%' ESCAPE '\\'";
    db.query_row(sql, [], |row| row.get(0)).expect("a schema")
}

fn folding(c: &mut Criterion) {
    let mut group = c.benchmark_group("fold");
    group.sample_size(10).measurement_time(Duration::from_secs(20));
    for finds in [10_000, 100_000] {
        let dir = notebook(finds);
        let view = dir.path().join("view.sqlite");
        let (schema, rows) = (schema(&view), rows(&view));
        group.bench_function(format!("bulk insert of {finds} finds' rows"), |b| {
            let to = dir.path().join("bulk.sqlite");
            let fresh = || drop(fs::remove_file(&to));
            b.iter_batched(fresh, |()| bulk_insert(&schema, &rows, &to), BatchSize::PerIteration);
        });
        let notebook = Notebook::open(dir.path()).expect("open");
        group.bench_function(format!("fold {finds} finds afresh"), |b| {
            b.iter(|| notebook.rebuild(&Unwatched).expect("rebuilt"));
        });
    }
    group.finish();
}

fn opening(c: &mut Criterion) {
    let mut group = c.benchmark_group("open");
    for finds in [0, 10_000, 100_000] {
        let dir = notebook(finds);
        group.bench_function(format!("{finds} finds"), |b| {
            b.iter(|| Notebook::open(dir.path()).expect("open"));
        });
    }
    group.finish();
}

fn asking(c: &mut Criterion) {
    let mut group = c.benchmark_group("ask");
    for finds in [10_000_u64, 100_000] {
        let dir = notebook(finds);
        let notebook = Notebook::open(dir.path()).expect("open");
        let within = Within { of: middle(finds), metres: Metres::new(200.0).expect("metres") };
        let near = trug::store::Criteria { within: Some(within), ..Criteria::default() };
        let found = notebook.finds(&near).expect("asked").len();
        group.bench_function(format!("within 200 m of {finds} ({found} found)"), |b| {
            b.iter(|| black_box(notebook.finds(&near).expect("asked")));
        });
        // A season of two months: as many finds at one patch whether the notebook holds one year or ten.
        let until = BEGAN + 60_000 * i64::try_from(finds).expect("small");
        let season =
            Criteria { patch: Some(patch(7)), from: Some(until - 5_000 * 60_000), ..Criteria::default() };
        let found = notebook.finds(&season).expect("asked").len();
        group.bench_function(format!("one patch, one season, of {finds} ({found} found)"), |b| {
            b.iter(|| black_box(notebook.finds(&season).expect("asked")));
        });
    }
    group.finish();
}

criterion_group!(benches, keeping, folding, opening, asking);
criterion_main!(benches);
