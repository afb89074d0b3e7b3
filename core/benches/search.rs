//! What asking by words costs, against reading every find's text with LIKE.
//!
//! `cargo bench -p trug --bench search` prints the figures; DEVELOPERS.md keeps the ratios.

// A benchmark that cannot set its scene has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

mod scene;

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use rusqlite::Connection;
use scene::{change, find, patches, span, stamp, write_log};
use serde_json::json;
use trug::change::ChangeId;
use trug::id::{DeterminationId, DeviceId, FindId};
use trug::notebook::{Limits, Notebook};
use trug::pack::Pack;

/// Words enough that each stands in one find of five hundred or so, made of syllables.
fn remark(n: u64) -> String {
    const SYLLABLES: [&str; 16] = [
        "ba", "cor", "dun", "fel", "gar", "hol", "kin", "lar", "mos", "nor", "pel", "ras", "sil", "tam",
        "ver", "wen",
    ];
    let part = |at: u64| SYLLABLES.get(usize::try_from(at % 16).expect("small")).copied().unwrap_or_default();
    let word = |salt: u64| {
        let at = n.wrapping_mul(salt) % 4096;
        [part(at), part(at / 16), part(at / 256)].concat()
    };
    format!("{} by the {} stile, {}", word(2_654_435_761), word(40_503), word(2_246_822_519))
}

/// A notebook folder of so many finds, a name for every second.
fn notebook(finds: u64) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let device = Notebook::open(dir.path()).map(|_| DeviceId::new()).expect("a notebook");
    let found = (0..finds).flat_map(|n| {
        let id = FindId::new();
        let mut set = find(n, span(finds));
        set.as_object_mut().expect("an object").insert("note".into(), remark(n).into());
        let made = change("find", id, set, ChangeId { stamp: stamp(2 * n), device }, None);
        let taxon = if n % 40 == 1 { "funeral-bell" } else { "velvet-shank" };
        let name = json!({"find": id, "taxon": taxon, "pack": "britain", "how": "sight"});
        let by = ChangeId { stamp: stamp(2 * n + 1), device };
        let named = (n % 2 == 1).then(|| change("determination", DeterminationId::new(), name, by, None));
        std::iter::once(made).chain(named)
    });
    write_log(dir.path(), device, patches(device).chain(found));
    drop(Notebook::open(dir.path()).expect("folded"));
    dir
}

fn searching(c: &mut Criterion) {
    let mut group = c.benchmark_group("search");
    group.sample_size(20).measurement_time(Duration::from_secs(5));
    let pack = Pack::britain().expect("the pack");
    let limits = Limits { kinds: 8, patches: 8, finds: 20 };
    for finds in [10_000_u64, 100_000] {
        let dir = notebook(finds);
        let db = Connection::open(dir.path().join("view.sqlite")).expect("the view");
        let notebook = Notebook::open(dir.path()).expect("open");
        let rare = remark(77).split(' ').next().expect("a word").to_owned();
        let misspelt = rare.replacen(char::is_alphabetic, "x", 1);
        for (what, words) in [
            ("a rare word", rare.as_str()),
            ("a word that every find has", "hazel"),
            ("two words", "funeral bell stile"),
            ("a beginning", "co"),
            ("a patch", "patch 77"),
            ("a misspelt word", &misspelt),
            ("a word that is nowhere", "zzzzqqqq"),
        ] {
            let found = notebook.search(pack, words, None, &limits).expect("asked").finds;
            let count = found.shown.len() + found.more;
            group.bench_function(format!("{what} in {finds} ({count} found)"), |b| {
                b.iter(|| black_box(notebook.search(pack, words, None, &limits).expect("asked")));
            });
        }
        let like = format!("%{rare}%");
        group.bench_function(format!("LIKE for a rare word in {finds}"), |b| {
            let sql = "SELECT id FROM record WHERE kind = 'find' AND state LIKE ?1 ORDER BY id DESC";
            let mut scan = db.prepare(sql).expect("a statement");
            b.iter(|| {
                let ids = scan.query_map([&like], |row| row.get::<_, Vec<u8>>(0)).expect("asked");
                black_box(ids.collect::<Result<Vec<_>, _>>().expect("rows"))
            });
        });
    }
    group.finish();
}

criterion_group!(benches, searching);
criterion_main!(benches);
