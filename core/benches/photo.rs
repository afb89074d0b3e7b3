//! Taking a 12-megapixel JPEG in. `tests/measure/photo` sets the whole against `vipsthumbnail` and `sha256sum`.

#![allow(missing_docs, clippy::unwrap_used)]

use std::hint::black_box;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use jiff::tz::TimeZone;
use trug::photo::{PhotoHash, Shelf};

/// Noise at every scale, from that of a tree to that of a pixel, as bark and litter have it.
fn litter(width: u32, height: u32) -> RgbImage {
    let hash = |x: u32, y: u32, octave: u32| {
        let mixed =
            x.wrapping_mul(0x9e37_79b1) ^ y.wrapping_mul(0x85eb_ca77) ^ octave.wrapping_mul(0xc2b2_ae3d);
        let mixed = (mixed ^ (mixed >> 15)).wrapping_mul(0x2c1b_3c6d);
        (mixed ^ (mixed >> 13)) & 0xff
    };
    RgbImage::from_fn(width, height, |x, y| {
        let light =
            (0..9).map(|octave| hash(x >> octave, y >> octave, octave) * (octave + 2)).sum::<u32>() / 54;
        let tint = hash(x >> 6, y >> 6, 77) / 4;
        Rgb([light, light * 3 / 4 + tint / 2, light / 2 + tint]
            .map(|value| u8::try_from(value.min(255)).unwrap()))
    })
}

fn intake(bench: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("litter.jpg");
    let mut jpeg = Vec::new();
    litter(4032, 3024).write_with_encoder(JpegEncoder::new_with_quality(&mut jpeg, 85)).unwrap();
    std::fs::write(&path, &jpeg).unwrap();

    let mut group = bench.benchmark_group("photo");
    group.sample_size(20);
    group.bench_function("take in, new", |bench| {
        bench.iter_batched(
            || tempfile::tempdir_in(&folder).unwrap(),
            |notebook| {
                let shelf = Shelf::open(notebook.path()).unwrap();
                black_box(shelf.take_in(&path, &TimeZone::UTC).unwrap());
                notebook
            },
            BatchSize::PerIteration,
        );
    });
    let shelf = Shelf::open(&folder.path().join("notebook")).unwrap();
    group.bench_function("take in, already there", |bench| {
        bench.iter(|| black_box(shelf.take_in(&path, &TimeZone::UTC).unwrap()));
    });
    group.bench_function("hash", |bench| bench.iter(|| black_box(PhotoHash::of(&jpeg))));
    group.finish();
}

criterion_group!(benches, intake);
criterion_main!(benches);
