//! EXIF as another tool writes and reads it: `ExifTool` (Debian's libimage-exiftool-perl), and the sample pictures
//! of kamadak-exif and piexif.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::fs::{self, File};
use std::io::BufReader;
use std::path::{Path, PathBuf};

use image::RgbImage;
use jiff::tz::TimeZone;
use serde_json::Value;
use trug::photo::{North, PhotoFacts, PhotoWarning, Shelf};
use trug_tests::{crate_folder, run, skipped, tool};

/// Facts and warnings of a file; British time where it names none.
fn read(path: &Path) -> (PhotoFacts, Vec<PhotoWarning>) {
    let mut warnings = Vec::new();
    let zone = TimeZone::get("Europe/London").unwrap();
    let facts = PhotoFacts::read(&mut BufReader::new(File::open(path).unwrap()), &zone, &mut warnings);
    (facts, warnings)
}

/// A copy of a file with these tags written into it, or `None` without `exiftool`.
fn written(folder: &Path, source: &Path, tags: &[&str]) -> Option<PathBuf> {
    let path = folder.join(source.file_name().unwrap());
    fs::copy(source, &path).unwrap();
    run(tool("exiftool")?.args(["-q", "-overwrite_original"]).args(tags).arg(&path));
    Some(path)
}

fn drawn(folder: &Path) -> PathBuf {
    let path = folder.join("drawn-source.jpg");
    RgbImage::from_pixel(64, 48, image::Rgb([120, 90, 40])).save(&path).unwrap();
    path
}

const RECIPE: [&str; 13] = [
    "-EXIF:DateTimeOriginal=2026:10:18 14:05:09",
    "-EXIF:OffsetTimeOriginal=+01:00",
    "-EXIF:SubSecTimeOriginal=250",
    "-EXIF:Orientation#=6",
    "-EXIF:GPSLatitude=51.4893656",
    "-EXIF:GPSLatitudeRef=N",
    "-EXIF:GPSLongitude=0.1199256",
    "-EXIF:GPSLongitudeRef=W",
    "-EXIF:GPSAltitude=66.057",
    "-EXIF:GPSAltitudeRef#=0",
    "-EXIF:GPSHPositioningError=4.5",
    "-EXIF:GPSDateStamp=2026:10:18",
    "-EXIF:GPSTimeStamp=13:05:09",
];

#[test]
fn what_exiftool_writes_is_read_in_every_format() {
    let folder = tempfile::tempdir().unwrap();
    let samples = crate_folder("kamadak-exif").join("tests");
    let mut sources = vec![drawn(folder.path())];
    sources.extend(["exif.jpg", "exif.png", "exif.webp", "exif.heic"].map(|name| samples.join(name)));
    for source in sources {
        let out = tempfile::tempdir_in(&folder).unwrap();
        let Some(path) = written(out.path(), &source, &RECIPE) else { return };
        let (facts, warnings) = read(&path);
        let name = source.display();
        assert_eq!(facts.taken.unwrap().to_string(), "2026-10-18T14:05:09.25+01:00", "{name}");
        let position = facts.position.unwrap();
        // The rationals that ExifTool chooses, 36418/1677 and 36663/3125 seconds, are good to a billionth of a degree.
        assert!((position.latitude() - 51.489_365_6).abs() < 1e-9, "{name}: {}", position.latitude());
        assert!((position.longitude() + 0.119_925_6).abs() < 1e-9, "{name}: {}", position.longitude());
        assert!((position.accuracy().unwrap().get() - 4.5).abs() < 1e-9, "{name}");
        assert!((facts.altitude_m.unwrap() - 66.057).abs() < 1e-4, "{name}");
        assert_eq!(facts.orientation.number(), 6, "{name}");
        assert_eq!(warnings, [], "{name}");
    }
}

/// libvips carries EXIF over into what it writes, and marks it in a WebP as if it were a JPEG's.
#[test]
fn what_vips_carries_over_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let out = tempfile::tempdir_in(&folder).unwrap();
    let Some(path) = written(out.path(), &drawn(folder.path()), &RECIPE) else { return };
    // It adds the size that the drawn picture has.
    let wanted = PhotoFacts { width: Some(64), height: Some(48), ..read(&path).0 };
    for (save, name) in
        [("webpsave", "carried.webp"), ("pngsave", "carried.png"), ("jpegsave", "carried.jpg")]
    {
        let carried = folder.path().join(name);
        let Some(mut vips) = tool("vips") else { return };
        run(vips.arg(save).args([&path, &carried]));
        let (facts, warnings) = read(&carried);
        assert_eq!((facts, warnings), (wanted.clone(), vec![]), "{name}");
    }
}

#[test]
fn all_quarters_of_the_globe() {
    let folder = tempfile::tempdir().unwrap();
    let source = drawn(folder.path());
    for (latitude, longitude, altitude, direction, north) in [
        (57.2_f64, -3.7_f64, 812.25_f64, 0.0_f64, North::True),
        (-33.856_789, 151.215_297, 3.5, 359.99, North::Magnetic),
        (-54.801_912_3, -68.302_951_1, 27.0, 181.25, North::True),
        (31.559_1, 35.473_2, -430.5, 90.5, North::Magnetic),
        (0.0, 179.999_999, 0.0, 12.0, North::True),
        (89.999_999_9, 0.0, 0.25, 270.0, North::True),
    ] {
        let reference = |positive, negative, value: f64| if value < 0.0 { negative } else { positive };
        let tags = [
            format!("-EXIF:GPSLatitude={}", latitude.abs()),
            format!("-EXIF:GPSLatitudeRef={}", reference('N', 'S', latitude)),
            format!("-EXIF:GPSLongitude={}", longitude.abs()),
            format!("-EXIF:GPSLongitudeRef={}", reference('E', 'W', longitude)),
            format!("-EXIF:GPSAltitude={}", altitude.abs()),
            format!("-EXIF:GPSAltitudeRef#={}", reference('0', '1', altitude)),
            format!("-EXIF:GPSImgDirection={direction}"),
            format!("-EXIF:GPSImgDirectionRef={}", if north == North::True { 'T' } else { 'M' }),
        ];
        let out = tempfile::tempdir_in(&folder).unwrap();
        let tags: Vec<_> = tags.iter().map(String::as_str).collect();
        let Some(path) = written(out.path(), &source, &tags) else { return };
        let (facts, warnings) = read(&path);
        let position = facts.position.unwrap();
        assert!((position.latitude() - latitude).abs() < 1e-8, "{position:?}");
        assert!((position.longitude() - longitude).abs() < 1e-8, "{position:?}");
        assert!((facts.altitude_m.unwrap() - altitude).abs() < 1e-3, "{:?}", facts.altitude_m);
        let looked = facts.direction.unwrap();
        assert!((looked.degrees - direction).abs() < 1e-3 && looked.north == north, "{looked:?}");
        assert_eq!(warnings, []);
    }
}

#[test]
fn gps_beats_a_camera_clock_that_disagrees() {
    let folder = tempfile::tempdir().unwrap();
    let source = drawn(folder.path());
    for (clock, offset, taken, warned) in [
        ("2026:10:18 14:05:09", "+01:00", "2026-10-18T14:05:09+01:00", ""),
        (
            "2026:10:18 15:05:09",
            "+01:00",
            "2026-10-18T14:05:09+01:00",
            "the camera's clock is 1 h 0 min ahead of GPS: GPS time is taken",
        ),
        (
            "2020:01:01 00:00:00",
            "+00:00",
            "2026-10-18T13:05:09+00:00",
            "the camera's clock is 2482 d 13 h behind GPS: GPS time is taken",
        ),
        (
            "2026:10:18 15:05:09",
            "",
            "2026-10-18T15:05:09+02:00",
            "by GPS, the camera's clock showed the time of UTC+02:00",
        ),
    ] {
        let clock = format!("-EXIF:DateTimeOriginal={clock}");
        let offset = format!("-EXIF:OffsetTimeOriginal={offset}");
        let gps = ["-EXIF:GPSDateStamp=2026:10:18", "-EXIF:GPSTimeStamp=13:05:09"];
        let out = tempfile::tempdir_in(&folder).unwrap();
        let Some(path) = written(out.path(), &source, &[&clock, &offset, gps[0], gps[1]]) else { return };
        let (facts, warnings) = read(&path);
        assert_eq!(facts.taken.unwrap().to_string(), taken, "{clock}");
        let said: Vec<_> = warnings.iter().map(ToString::to_string).collect();
        assert_eq!(said.join("; "), warned, "{clock}");
    }
}

/// Every sample says to us what it says to `ExifTool`.
#[test]
fn samples_are_read_as_exiftool_reads_them() {
    let mut samples: Vec<_> = ["exif.jpg", "exif.png", "exif.webp", "exif.heic"]
        .map(|name| crate_folder("kamadak-exif").join("tests").join(name))
        .into();
    let piexif = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/samples/piexif-1.1.3/tests/images");
    match fs::read_dir(piexif) {
        Ok(images) => samples.extend(images.map(|image| image.unwrap().path())),
        Err(_) => skipped("the samples of piexif are not here: run tests/samples"),
    }
    let folder = tempfile::tempdir().unwrap();
    let shelf = Shelf::open(folder.path()).unwrap();
    // A TIFF and an empty file are among them; neither is a photo.
    samples.retain(|sample| {
        let refused = shelf.take_in(sample, &TimeZone::UTC).is_err();
        assert_eq!(refused, sample.ends_with("01.tif") || sample.ends_with("notjpeg.jpg"), "{sample:?}");
        !refused
    });
    let Some(mut exiftool) = tool("exiftool") else { return };
    // -n: numbers as numbers; -G1: the group that a tag was found in, so that makers' notes are not taken for EXIF.
    let said: Value =
        serde_json::from_str(&run(exiftool.args(["-json", "-n", "-G1"]).args(&samples))).unwrap();
    let mut compared = 0;
    for (sample, said) in samples.iter().zip(said.as_array().unwrap()) {
        let name = sample.file_name().unwrap().to_string_lossy();
        let facts = shelf.take_in(sample, &TimeZone::UTC).unwrap().facts;
        let number = |tag: &str| said[tag].as_f64();
        // Of HEIC we know only what its EXIF says, and this one's says nothing of its size.
        if let (Some(width), Some(height)) = (number("File:ImageWidth"), number("File:ImageHeight"))
            && name != "exif.heic"
        {
            assert_eq!(
                (facts.width.map(f64::from), facts.height.map(f64::from)),
                (Some(width), Some(height)),
                "{name}"
            );
        }
        let turned = said["IFD0:Orientation"].as_u64().unwrap_or(1);
        assert_eq!(u64::from(facts.orientation.number()), turned, "{name}");
        let shown = ["ExifIFD:DateTimeOriginal", "ExifIFD:CreateDate", "IFD0:ModifyDate"]
            .into_iter()
            .find_map(|tag| said[tag].as_str());
        let ours = facts.taken.map(|taken| taken.offset().to_datetime(taken.instant()));
        let ours = ours.map(|local| local.strftime("%Y:%m:%d %H:%M:%S").to_string());
        assert_eq!(ours.as_deref(), shown, "{name}");
        let latitude = number("GPS:GPSLatitude").zip(said["GPS:GPSLatitudeRef"].as_str());
        let latitude = latitude.map(|(size, letter)| if letter == "S" { -size } else { size });
        match (latitude, facts.position) {
            (Some(theirs), Some(ours)) => assert!((theirs - ours.latitude()).abs() < 1e-6, "{name}"),
            (None, None) => {}
            (theirs, ours) => {
                assert!(theirs.unwrap_or(0.0) == 0.0 && ours.is_none(), "{name}: {theirs:?} and {ours:?}");
            }
        }
        compared += 1;
    }
    assert!(compared >= 4, "{compared} samples compared");
}
