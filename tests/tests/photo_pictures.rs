//! Thumbnails against those of libvips (Debian's libvips-tools), for every format, colour and orientation.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used)]

use std::fs::File;
use std::path::{Path, PathBuf};

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageEncoder, ImageFormat, RgbImage};
use jiff::tz::TimeZone;
use trug::photo::Shelf;
use trug_tests::{run, tool};

/// Smooth colours with a few hard edges, no two corners alike.
fn scene(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let across = |part: u32, whole: u32| u8::try_from(u64::from(part) * 255 / u64::from(whole)).unwrap();
        let (red, green) = (across(x, width), across(y, height));
        let cap = (x * 2 > width) != (y * 3 > height);
        image::Rgb([red, green, if cap { 220 } else { 40 }])
    })
}

fn save(path: &Path, picture: impl Into<DynamicImage>, orientation: u16) {
    let picture: DynamicImage = picture.into();
    let file = File::create(path).unwrap();
    if ImageFormat::from_path(path).unwrap() != ImageFormat::Jpeg {
        return picture
            .write_to(&mut std::io::BufWriter::new(file), ImageFormat::from_path(path).unwrap())
            .unwrap();
    }
    let mut encoder = JpegEncoder::new_with_quality(file, 92);
    // TIFF 6.0, little-endian: one directory of one SHORT, tag 274.
    let mut tiff = b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    tiff.extend([&orientation.to_le_bytes()[..], &[0; 6]].concat());
    encoder.set_exif_metadata(tiff).unwrap();
    picture.write_with_encoder(encoder).unwrap();
}

/// The mean difference of two pictures, from 0 to 255.
fn difference(one: &RgbImage, other: &RgbImage) -> f64 {
    assert_eq!(one.dimensions(), other.dimensions());
    let sum: u64 = one.as_raw().iter().zip(other.as_raw()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    f64::from(u32::try_from(sum).unwrap()) / f64::from(u32::try_from(one.as_raw().len()).unwrap())
}

fn alike(path: &Path, most: f64) {
    let folder = tempfile::tempdir().unwrap();
    let shelf = Shelf::open(folder.path()).unwrap();
    let taken = shelf.take_in(path, &TimeZone::UTC).unwrap();
    assert_eq!(taken.warnings, [], "{}", path.display());
    let ours = shelf.thumbnail(&taken.hash).unwrap().unwrap();
    let theirs = folder.path().join("vips.png");
    let Some(mut vips) = tool("vipsthumbnail") else { return };
    run(vips.args(["--size", "512"]).arg("--output").arg(&theirs).arg(path));
    let [ours, theirs] = [&ours, &theirs].map(|path| image::open(path).unwrap().into_rgb8());
    let difference = difference(&ours, &theirs);
    assert!(difference < most, "{} differs by {difference}", path.display());
}

#[test]
fn every_orientation_is_as_vips_turns_it() {
    let folder = tempfile::tempdir().unwrap();
    for orientation in 1..=8 {
        let path = folder.path().join(format!("{orientation}.jpg"));
        save(&path, scene(1400, 900), orientation);
        alike(&path, 2.0);
    }
}

#[test]
fn every_format_and_colour_is_as_vips_draws_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| -> PathBuf { folder.path().join(name) };
    let scene = DynamicImage::from(scene(1100, 1500));
    for name in ["plain.png", "plain.webp", "plain.jpg"] {
        save(&at(name), scene.clone(), 1);
        alike(&at(name), 2.0);
    }
    save(&at("grey.jpg"), scene.to_luma8(), 1);
    alike(&at("grey.jpg"), 2.0);
    save(&at("deep.png"), scene.to_rgb16(), 1);
    alike(&at("deep.png"), 2.0);
    save(&at("grey-deep.png"), scene.to_luma16(), 1);
    alike(&at("grey-deep.png"), 2.0);

    // What only vips can write for us.
    let Some(mut vips) = tool("vips") else { return };
    run(vips.args(["jpegsave", "--interlace", "--Q", "90"]).args([at("plain.png"), at("progressive.jpg")]));
    alike(&at("progressive.jpg"), 2.0);
    for (mode, name) in [("off", "full-colour.jpg"), ("on", "halved-colour.jpg")] {
        let mut vips = tool("vips").unwrap();
        run(vips.args(["jpegsave", "--subsample-mode", mode]).args([at("plain.png"), at(name)]));
        alike(&at(name), 2.0);
    }
    run(tool("vips").unwrap().args(["webpsave", "--Q", "90"]).args([at("plain.png"), at("lossy.webp")]));
    alike(&at("lossy.webp"), 2.0);
    run(tool("vips").unwrap().args(["pngsave", "--interlace"]).args([at("plain.png"), at("interlaced.png")]));
    alike(&at("interlaced.png"), 2.0);
    run(tool("vips").unwrap().args(["pngsave", "--palette"]).args([at("plain.png"), at("palette.png")]));
    alike(&at("palette.png"), 2.0);
    // Inks: vips converts by a printing profile, we by arithmetic; the picture must be the same, not its shades.
    run(tool("vips").unwrap().args(["colourspace"]).args([at("plain.png"), at("inks.jpg")]).arg("cmyk"));
    alike(&at("inks.jpg"), 40.0);
}
