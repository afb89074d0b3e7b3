//! One advice under 50 codes, with more and more earlier finds in the patch's season.
//!
//! `cargo bench -p trug --bench allowance`; the goal is 3 ms at 10,000 earlier finds.

#![allow(clippy::unwrap_used, missing_docs)]

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use jiff::civil::date;
use trug::allowance::{Asked, Facts, Maturity, Naming, Past, Site, Take, There, advise};
use trug::code::{Code, shipped};
use trug::find::{Count, How};
use trug::outing::Permission;
use trug::pack::Pack;
use trug::place::Position;
use trug::stage::Stage;
use trug::units::Grams;

/// Takings of one season: by two people, of every fungus of the pack in turn, half of them from this patch.
fn takes(count: usize, fungi: usize) -> Vec<Take> {
    let first = date(2026, 7, 1);
    let take = |at: usize| Take {
        day: first
            .checked_add(jiff::SignedDuration::from_hours(24 * i64::try_from(at % 110).unwrap()))
            .unwrap(),
        fungus: Some(at % fungi),
        visit: at.is_multiple_of(1000),
        here: at.is_multiple_of(2),
        mine: !at.is_multiple_of(5),
        count: Some(u32::try_from(at % 7).unwrap()),
        grams: Some(Grams::nearest(f64::from(u32::try_from(at % 90).unwrap()) / 100.0)),
        specimens: 0,
    };
    (0..count).map(take).collect()
}

fn one_advice(criterion: &mut Criterion) {
    let pack = Pack::britain().unwrap();
    let known: Vec<Facts> = pack.taxon_indices().map(|at| Facts::of_taxon(pack, at)).collect();
    let fungi: Vec<&Facts> = known.iter().collect();
    let asked_after = Facts::named(pack, "velvet-shank").unwrap();
    let codes: Vec<Code> = (0..50)
        .map(|at| {
            let shipped = shipped().unwrap();
            let mut code = shipped.get(at % shipped.len()).unwrap().clone();
            code.about.id = format!("{}-{at}", code.about.id);
            code
        })
        .collect();
    let codes: Vec<&Code> = codes.iter().collect();
    let mut group = criterion.benchmark_group("advice, 50 codes");
    for count in [100, 1_000, 10_000, 100_000] {
        let takes = takes(count, fungi.len());
        let asked = Asked {
            fungus: Some(&asked_after),
            naming: Naming::By(How::Key),
            or: &[],
            there: There {
                seen: Count::between(18, 22).ok(),
                maturity: Maturity::All(Stage::Prime),
                width: "25-45".parse().ok(),
                ..There::default()
            },
            site: Site {
                land: Permission::Permitted,
                areas: &[],
                hazards: &[],
                host: None,
                position: Position::new(52.93, 0.26).ok(),
            },
            now: "2026-10-18T14:00:00+01:00".parse().unwrap(),
            past: Past { takes: &takes, fungi: &fungi, rest_until: None },
            codes: &codes,
            unread: &[],
        };
        group.bench_function(BenchmarkId::from_parameter(count), |bencher| bencher.iter(|| advise(&asked)));
    }
    group.finish();
}

criterion_group!(benches, one_advice);
criterion_main!(benches);
