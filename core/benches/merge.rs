//! What it costs to merge a bundle from a paired device, against a bulk insert of the very rows that the notebook holds then.
//!
//! `cargo bench -p trug --bench merge` prints the ratio for 100,000 changes, with `TRUG_LONG=1` also for 1,000,000, where the cost
//! of a change must be the same.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

mod scene;

use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use rusqlite::Connection;
use scene::{Bulk, change, find, patches, span, stamp, write_log};
use serde_json::json;
use trug::change::{ChangeId, Line};
use trug::id::{DeterminationId, DeviceId, FindId};
use trug::notebook::{Notebook, Sending};
use trug::pack::Pack;
use trug::progress::Unwatched;

/// As an open view has them: what arrives is kept as carefully as everything else.
const SAFE: &str =
    "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA temp_store=MEMORY; PRAGMA cell_size_check=ON;
    PRAGMA cache_size=-8000; PRAGMA wal_autocheckpoint=4000;";
/// Of ten changes five are new finds, three name one, and two correct one.
const TEN: [Act; 10] = {
    use Act::{Add, Correct, Name};
    [Add, Name, Add, Correct, Add, Name, Add, Correct, Add, Name]
};

#[derive(Clone, Copy)]
enum Act {
    Add,
    Name,
    Correct,
}

/// So many changes of one device, as a season leaves them.
fn changes(count: u64, device: DeviceId) -> impl Iterator<Item = Line> {
    let mut last: Option<(FindId, ChangeId)> = None;
    let finds = count / 2;
    let acts = TEN.iter().cycle().zip(0..count).map(move |(act, n)| {
        let by = ChangeId { stamp: stamp(n), device };
        match (act, last) {
            (Act::Name, Some((id, _))) => {
                let set = json!({
                    "find": id, "taxon": "oyster-mushroom", "pack": "britain", "pack_version": "2026.1",
                    "sure": "likely", "how": "sight", "at": "2026-10-18T12:00:00+01:00"
                });
                change("determination", DeterminationId::new(), set, by, None)
            }
            (Act::Correct, Some((id, made))) => {
                change("find", id, json!({"taken": 2, "grams": 55.0}), by, Some(made))
            }
            _ => {
                let id = FindId::new();
                last = Some((id, by));
                change("find", id, find(n, span(finds)), by, None)
            }
        }
    });
    patches(device).chain(acts)
}

/// Two paired notebooks, of which the one to be merged into holds nothing yet, and a bundle for it.
struct Scene {
    dir: tempfile::TempDir,
}

impl Scene {
    fn new(count: u64) -> Self {
        let scene = Self { dir: tempfile::tempdir().expect("a folder") };
        let (from, to) = (scene.path("from"), scene.path("empty"));
        drop(Notebook::open(&from).expect("a notebook"));
        let device = DeviceId::new();
        write_log(&from, device, changes(count, device));
        let (from, to) = (Notebook::open(&from).expect("folded"), Notebook::open(&to).expect("a notebook"));
        to.pair(&from.own_key().expect("a key"), "the other").expect("paired");
        let pack = Pack::britain().expect("a pack");
        from.write_bundle(pack, &Sending::ForMe, None, &scene.path("bundle"), false, &Unwatched)
            .expect("written");
        scene
    }

    fn path(&self, name: &str) -> std::path::PathBuf {
        self.dir.path().join(name)
    }

    /// Merges the bundle into a notebook that has nothing of it, and says how long that took.
    fn merge(&self) -> Duration {
        let to = self.path("to");
        let _ = fs::remove_dir_all(&to);
        copy(&self.path("empty"), &to);
        let notebook = Notebook::open(&to).expect("a notebook");
        let begun = Instant::now();
        let received = notebook.read_bundle(&self.path("bundle"), None, true, &Unwatched).expect("read");
        let took = begun.elapsed();
        assert!(received.paired && received.merged.left_out == 0, "{received:?}");
        black_box(received);
        took
    }

    fn insert(&self, rows: &Bulk) -> Duration {
        let to = self.path("bulk.sqlite");
        for ending in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(self.path(&format!("bulk.sqlite{ending}")));
        }
        let begun = Instant::now();
        rows.insert(&to, SAFE);
        begun.elapsed()
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry").path();
        let to = to.join(entry.file_name().expect("a name"));
        if entry.is_dir() {
            copy(&entry, &to);
        } else {
            fs::copy(&entry, &to).expect("copied");
        }
    }
}

fn merging(c: &mut Criterion) {
    let mut group = c.benchmark_group("merge");
    group.sample_size(10).measurement_time(Duration::from_secs(20));
    let long = std::env::var("TRUG_LONG").is_ok_and(|long| long == "1");
    for count in if long { vec![100_000, 1_000_000] } else { vec![100_000] } {
        let scene = Scene::new(count);
        scene.merge();
        let view = scene.path("to/view.sqlite");
        let checkpointed =
            Connection::open(&view).and_then(|db| db.pragma_query(None, "wal_checkpoint", |_| Ok(())));
        checkpointed.expect("one file");
        let rows = Bulk::of(&view);
        let (mut merged, mut inserted) = (Vec::new(), Vec::new());
        group.throughput(Throughput::Elements(count));
        group.bench_function(format!("bulk insert of the rows of {count} changes"), |b| {
            b.iter_custom(|times| (0..times).map(|_| noted(&mut inserted, scene.insert(&rows))).sum());
        });
        group.bench_function(format!("merge {count} changes"), |b| {
            b.iter_custom(|times| (0..times).map(|_| noted(&mut merged, scene.merge())).sum());
        });
        if let (Some(merged), Some(inserted)) = (median(merged), median(inserted)) {
            let each = merged.as_secs_f64() * 1e6 / f64::from(u32::try_from(count).expect("small"));
            let ratio = merged.as_secs_f64() / inserted.as_secs_f64();
            println!("merge {count}: {each:.1} µs a change, {ratio:.2} times the bulk insert");
        }
    }
    group.finish();
}

fn noted(all: &mut Vec<Duration>, one: Duration) -> Duration {
    all.push(one);
    one
}

fn median(mut all: Vec<Duration>) -> Option<Duration> {
    all.sort_unstable();
    all.get(all.len() / 2).copied()
}

criterion_group!(benches, merging);
criterion_main!(benches);
