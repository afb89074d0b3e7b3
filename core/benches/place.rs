//! National Grid conversion both ways, beside `lonlat_bng`, on the 40 OSTN15 test points' area.
//!
//! `cargo bench -p trug --bench place`; compare `to_grid/trug` with `to_grid/lonlat_bng`, and so on.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use trug::place::{GridPoint, Place, Position, british};

/// Two hundred positions strewn over England by the golden ratio.
fn positions() -> Vec<Position> {
    (0..200)
        .filter_map(|n| {
            let n = f64::from(n);
            Position::new(51.0 + (n * 0.618_034).fract() * 4.0, -2.5 + (n * 0.414_214).fract() * 3.0).ok()
        })
        .collect()
}

fn conversions(criterion: &mut Criterion) {
    let positions = positions();
    let points: Vec<_> = positions.iter().filter_map(|position| british::to_grid(*position)).collect();

    let mut group = criterion.benchmark_group("to_grid");
    group.bench_function("trug", |bench| {
        bench.iter(|| positions.iter().filter_map(|position| british::to_grid(black_box(*position))).count());
    });
    group.bench_function("lonlat_bng", |bench| {
        bench.iter(|| {
            let converted = |position: &Position| {
                lonlat_bng::convert_osgb36(black_box(position.longitude()), black_box(position.latitude()))
                    .ok()
            };
            positions.iter().filter_map(converted).count()
        });
    });
    group.finish();

    let mut group = criterion.benchmark_group("to_position");
    group.bench_function("trug", |bench| {
        bench.iter(|| {
            let converted = |point: &GridPoint| {
                british::to_position(black_box(point.easting), black_box(point.northing)).ok()
            };
            points.iter().filter_map(converted).count()
        });
    });
    group.bench_function("lonlat_bng", |bench| {
        bench.iter(|| {
            let converted = |point: &GridPoint| {
                lonlat_bng::convert_osgb36_to_ll(black_box(point.easting), black_box(point.northing)).ok()
            };
            points.iter().filter_map(converted).count()
        });
    });
    group.finish();

    criterion.bench_function("read a typed reference", |bench| {
        bench.iter(|| Place::read(black_box("SU 38710 14792")));
    });
}

criterion_group!(benches, conversions);
criterion_main!(benches);
