//! What keeping, folding, opening and asking cost, each against something that does the least that could do.
//!
//! `cargo bench -p trug --bench notebook` prints the figures; DEVELOPERS.md keeps the ratios.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

mod scene;

use std::fs;
use std::hint::black_box;
use std::time::Duration;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use rusqlite::Connection;
use scene::{BEGAN, Bulk, change, find, middle, patch, patches, span, stamp, write_log};
use trug::change::ChangeId;
use trug::find::{Count, Find};
use trug::id::{DeviceId, FindId};
use trug::notebook::{NewFind, Notebook};
use trug::progress::Unwatched;
use trug::store::{Criteria, Within};
use trug::units::Metres;

/// A notebook folder of so many finds, written as its log would be.
fn notebook(finds: u64) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let device = Notebook::open(dir.path()).map(|_| DeviceId::new()).expect("a notebook");
    let found = (0..finds).map(|n| {
        let by = ChangeId { stamp: stamp(n), device };
        change("find", FindId::new(), find(n, span(finds)), by, None)
    });
    write_log(dir.path(), device, patches(device).chain(found));
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

/// As a view is built: a file that is not yet in place may be lost.
const UNSAFE: &str = "PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF; PRAGMA cache_size=-32000;";

fn folding(c: &mut Criterion) {
    let mut group = c.benchmark_group("fold");
    group.sample_size(10).measurement_time(Duration::from_secs(20));
    for finds in [10_000, 100_000] {
        let dir = notebook(finds);
        let view = dir.path().join("view.sqlite");
        let rows = Bulk::of(&view);
        group.bench_function(format!("bulk insert of {finds} finds' rows"), |b| {
            let to = dir.path().join("bulk.sqlite");
            let fresh = || drop(fs::remove_file(&to));
            b.iter_batched(fresh, |()| rows.insert(&to, UNSAFE), BatchSize::PerIteration);
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
