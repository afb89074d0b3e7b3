//! Photos for somebody else: full of secrets before, and after that a picture and nothing more, as `ExifTool` and
//! libvips see it.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{BufReader, Cursor};
use std::path::{Path, PathBuf};

use image::RgbaImage;
use proptest::prelude::*;
use serde_json::Value;
use trug::photo::{Colours, Format, StripError, Stripped, strip};
use trug_tests::{crate_folder, run, tool};

/// All that must not leave, in the words that `ExifTool` is told; every text holds "Secret".
const SECRETS: [&str; 22] = [
    "-EXIF:GPSLatitude=51.4893656",
    "-EXIF:GPSLatitudeRef=N",
    "-EXIF:GPSLongitude=0.1199256",
    "-EXIF:GPSLongitudeRef=W",
    "-EXIF:GPSDateStamp=2026:10:18",
    "-EXIF:DateTimeOriginal=2026:10:18 14:05:09",
    "-EXIF:SerialNumber=Secretserial",
    "-EXIF:LensSerialNumber=Secretlens",
    "-EXIF:OwnerName=Secretowner",
    "-EXIF:Artist=Secretartist",
    "-EXIF:Copyright=Secretcopyright",
    "-EXIF:Make=Secretmake",
    "-EXIF:Model=Secretmodel",
    "-EXIF:UserComment=Secretcomment",
    "-EXIF:ImageDescription=Secretwords",
    "-EXIF:ImageUniqueID=5ec2e70000000000000000000000beef",
    "-EXIF:Orientation#=6",
    "-XMP:Location=Secretplace",
    "-XMP:Creator=Secretcreator",
    "-XMP:GPSLatitude=51.4893656",
    "-XMP:SerialNumber=Secretnumber",
    "-Comment=Secretremark",
];

/// What `ExifTool` may say of a stripped photo, whatever the format: what it works out, and what draws the picture.
const ALLOWED: [&str; 5] = ["ExifTool:", "System:", "File:", "Composite:ImageSize", "Composite:Megapixels"];
const DRAWS: [&str; 27] = [
    "IFD0:Orientation",
    "JFIF:JFIFVersion",
    "JFIF:ResolutionUnit",
    "JFIF:XResolution",
    "JFIF:YResolution",
    "Adobe:DCTEncodeVersion",
    "Adobe:APP14Flags0",
    "Adobe:APP14Flags1",
    "Adobe:ColorTransform",
    "PNG:ImageWidth",
    "PNG:ImageHeight",
    "PNG:BitDepth",
    "PNG:ColorType",
    "PNG:Compression",
    "PNG:Filter",
    "PNG:Interlace",
    "PNG:Palette",
    "PNG:Transparency",
    "RIFF:ImageWidth",
    "RIFF:ImageHeight",
    "RIFF:VP8Version",
    "RIFF:HorizontalScale",
    "RIFF:VerticalScale",
    "RIFF:WebP_Flags",
    "RIFF:AlphaCompression",
    "RIFF:AlphaFiltering",
    "RIFF:AlphaPreprocessing",
];

fn stripped(from: &Path) -> (PathBuf, Stripped) {
    let to = from.with_file_name(format!("stripped-{}", from.file_name().unwrap().to_str().unwrap()));
    let mut out = File::create(&to).unwrap();
    let done = strip(&mut BufReader::new(File::open(from).unwrap()), &mut out).unwrap();
    (to, done)
}

fn of_bytes(photo: &[u8]) -> Result<(Vec<u8>, Stripped), StripError> {
    let mut out = Vec::new();
    let done = strip(&mut Cursor::new(photo), &mut out)?;
    Ok((out, done))
}

/// Everything that `ExifTool` finds, unknown tags, doubled ones and embedded files included, by group and name.
fn found(path: &Path) -> Option<BTreeSet<String>> {
    let said = run(tool("exiftool")?.args(["-json", "-G1", "-a", "-u", "-U", "-ee3"]).arg(path));
    let said: Value = serde_json::from_str(&said).unwrap();
    Some(said[0].as_object().unwrap().keys().filter(|tag| *tag != "SourceFile").cloned().collect())
}

fn forbidden(found: &BTreeSet<String>) -> Vec<&String> {
    // A profile is our own, with nothing of the photo's: another test holds that.
    let allowed = |tag: &String| {
        ALLOWED.iter().any(|start| tag.starts_with(start)) && !tag.contains("Comment")
            || DRAWS.contains(&tag.as_str())
            || tag.starts_with("ICC")
    };
    found.iter().filter(|tag| !allowed(tag)).collect()
}

fn pixels(path: &Path) -> RgbaImage {
    image::ImageReader::open(path).unwrap().with_guessed_format().unwrap().decode().unwrap().to_rgba8()
}

fn holds(bytes: &[u8], secret: &str) -> bool {
    bytes.windows(secret.len()).any(|part| part.eq_ignore_ascii_case(secret.as_bytes()))
}

/// A picture with all its colours and some transparency, drawn by libvips into a file of this name with these options.
fn drawn(folder: &Path, name: &str, options: &str) -> Option<PathBuf> {
    let plain = folder.join("plain.png");
    if !plain.exists() {
        let shade = |x: u32, y: u32| u8::try_from((x * 7 + y * y) % 256).unwrap();
        RgbaImage::from_fn(81, 63, |x, y| {
            image::Rgba([shade(x, y), shade(y, x), shade(x + y, 9), 255 - shade(x, 3)])
        })
        .save(&plain)
        .unwrap();
    }
    let path = folder.join(name);
    run(tool("vips")?.arg("copy").arg(&plain).arg(format!("{}{options}", path.display())));
    Some(path)
}

#[test]
fn nothing_but_the_picture_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let thumbnail = folder.path().join("thumbnail.jpg");
    image::RgbImage::from_pixel(16, 12, image::Rgb([9, 9, 9])).save(&thumbnail).unwrap();
    for (name, options) in [
        ("baseline.jpg", "[Q=80]"),
        ("progressive.jpg", "[interlace,Q=80]"),
        ("restarts.jpg", "[restart-interval=2]"),
        ("full.jpg", "[subsample-mode=off]"),
        ("alpha.png", ""),
        ("interlaced.png", "[interlace]"),
        ("palette.png", "[palette]"),
        ("lossy.webp", "[Q=70]"),
        ("lossless.webp", "[lossless]"),
    ] {
        let Some(photo) = drawn(folder.path(), name, options) else { return };
        let before = pixels(&photo);
        let Some(mut exiftool) = tool("exiftool") else { return };
        run(exiftool.args(["-q", "-overwrite_original"]).args(SECRETS).arg(&photo));
        if name.ends_with("jpg") {
            let thumbnail = format!("-ThumbnailImage<={}", thumbnail.display());
            let more = [
                thumbnail.as_str(),
                "-IPTC:City=Secretcity",
                "-IPTC:By-line=Secretline",
                "-Photoshop:URL=Secreturl",
            ];
            run(tool("exiftool").unwrap().args(["-q", "-overwrite_original"]).args(more).arg(&photo));
        }
        if name.ends_with("png") {
            let more =
                ["-PNG:Author=Secretauthor", "-PNG:Title-fr=Sécret Secrettitle", "-PNG:Location=Secrettext"];
            run(tool("exiftool").unwrap().args(["-q", "-overwrite_original"]).args(more).arg(&photo));
        }
        // A film behind the picture, as phones put it there.
        let mut bytes = fs::read(&photo).unwrap();
        bytes.extend(b"\0\0\0\x18ftypmp42 Secretfilm 51.4893656");
        fs::write(&photo, &bytes).unwrap();
        // The checks see what is there before.
        let seen = found(&photo).unwrap();
        for tag in ["GPS:GPSLatitude", "ExifIFD:SerialNumber", "ExifIFD:OwnerName", "XMP-iptcCore:Location"] {
            assert!(seen.contains(tag), "{name}: {tag} was not written: {seen:?}");
        }
        assert!(forbidden(&seen).len() > 15, "{name}");
        assert!(holds(&bytes, "secretserial") && holds(&bytes, "secretfilm"), "{name}");

        let (copy, done) = stripped(&photo);
        let left = found(&copy).unwrap();
        assert_eq!(forbidden(&left), Vec::<&String>::new(), "{name}");
        assert!(left.contains("IFD0:Orientation"), "{name}: which way up is kept");
        let said = run(tool("exiftool").unwrap().args(["-s3", "-n", "-Orientation"]).arg(&copy));
        assert_eq!(said.trim(), "6", "{name}");
        let bytes = fs::read(&copy).unwrap();
        for secret in ["secret", "51.48", "sécret", "ftyp", "http", "2026"] {
            assert!(!holds(&bytes, secret), "{name}: {secret}");
        }
        assert_eq!(pixels(&copy), before, "{name}");
        let extension = name.rsplit('.').next().unwrap();
        assert_eq!(Some(done.format), Format::from_extension(extension), "{name}");
        assert_eq!(done.colours, Colours::Srgb, "{name}");
        // And again: nothing more comes off.
        assert_eq!(fs::read(stripped(&copy).0).unwrap(), bytes, "{name}");
        // Other readers find nothing odd.
        let warned = run(tool("exiftool").unwrap().args(["-s3", "-Warning", "-Error"]).arg(&copy));
        assert_eq!(warned.trim(), "", "{name}");
    }
}

/// The second picture of a multi-picture file (CIPA DC-007), as exiftool's own sample has it in principle: an index
/// in the first picture, and a whole picture behind it.
#[test]
fn a_second_picture_stays_behind() {
    let folder = tempfile::tempdir().unwrap();
    let Some(first) = drawn(folder.path(), "first.jpg", "[strip]") else { return };
    let (first, second) =
        (fs::read(&first).unwrap(), fs::read(drawn(folder.path(), "b.jpg", "[Q=20]").unwrap()).unwrap());
    let index = b"MPF\0II*\0\x08\0\0\0\0\0\0\0\0\0";
    let mut both = first[..2].to_vec();
    both.extend([0xff, 0xe2, 0, u8::try_from(index.len() + 2).unwrap()]);
    both.extend(index);
    both.extend(&first[2..]);
    both.extend(&second);
    let (copy, _) = of_bytes(&both).unwrap();
    assert!(!holds(&copy, "MPF") && copy.len() <= first.len(), "{} of {}", copy.len(), first.len());
    assert_eq!(copy, of_bytes(&first).unwrap().0);
}

#[test]
fn colours_look_the_same_and_say_nothing_of_the_screen() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["wide.jpg", "wide.png", "wide.webp"] {
        let Some(plain) = drawn(folder.path(), "of.png", "[strip]") else { return };
        let wide = folder.path().join(name);
        run(tool("vips").unwrap().args(["icc_transform"]).args([&plain, &wide]).args([
            "p3",
            "--input-profile",
            "srgb",
        ]));
        let (copy, done) = stripped(&wide);
        assert_eq!(done.colours, Colours::DisplayP3, "{name}");
        let (theirs, ours) = (fs::read(&wide).unwrap(), fs::read(&copy).unwrap());
        assert_eq!(pixels(&copy), pixels(&wide), "{name}");
        let shown = |path: &Path| {
            let out = path.with_extension("shown.png");
            run(tool("vips").unwrap().arg("icc_transform").args([path, &out]).args(["srgb", "--embedded"]));
            pixels(&out)
        };
        let (before, after) = (shown(&wide), shown(&copy));
        let apart =
            |a: &RgbaImage, b: &RgbaImage| a.iter().zip(b.iter()).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
        assert!(apart(&before, &after) <= 4, "{name}: {}", apart(&before, &after));
        // Without any profile they would be far off.
        assert!(apart(&before, &pixels(&wide)) > 20, "{name}: {}", apart(&before, &pixels(&wide)));
        assert!(theirs.len() > ours.len(), "{name}");
        let seen = run(tool("exiftool")
            .unwrap()
            .args(["-s3", "-ProfileDescription", "-ProfileDateTime"])
            .arg(&copy));
        assert_eq!(seen.lines().collect::<Vec<_>>(), ["Display P3", "2000:01:01 00:00:00"], "{name}");
    }
    // A profile of no standard space goes, and this is said.
    let Some(inks) = drawn(folder.path(), "of.png", "[strip]") else { return };
    let printed = folder.path().join("inks.jpg");
    run(tool("vips").unwrap().arg("icc_transform").args([&inks, &printed]).args([
        "cmyk",
        "--input-profile",
        "srgb",
    ]));
    let (copy, done) = stripped(&printed);
    assert_eq!(done.colours, Colours::LeftBehind);
    assert!(!holds(&fs::read(&copy).unwrap(), "ICC_PROFILE"));
    assert_eq!(pixels(&copy), pixels(&printed));
}

#[test]
fn what_cannot_be_stripped_is_refused_with_its_reason() {
    let heic = crate_folder("kamadak-exif").join("tests/exif.heic");
    assert_eq!(of_bytes(&fs::read(heic).unwrap()), Err(StripError::Heic));
    assert_eq!(of_bytes(b"a note"), Err(StripError::NotAPhoto));
    assert_eq!(of_bytes(b""), Err(StripError::NotAPhoto));
    let folder = tempfile::tempdir().unwrap();
    let Some(photo) = drawn(folder.path(), "a.jpg", "[strip,Q=40]") else { return };
    let jpeg = fs::read(photo).unwrap();
    // Arithmetic coding; a table with more behind it.
    let frame = jpeg.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    let mut rare = jpeg.clone();
    rare[frame + 1] = 0xc9;
    assert!(matches!(of_bytes(&rare), Err(StripError::Rare(_))));
    let mut padded = jpeg[..2].to_vec();
    padded.extend([0xff, 0xdb, 0, 67 + 6]);
    padded.extend([0; 65]);
    padded.extend(b"Secret");
    padded.extend(&jpeg[2..]);
    assert_eq!(of_bytes(&padded), Err(StripError::Damaged));
    for name in ["a.jpg", "a.png", "a.webp"] {
        let whole = fs::read(drawn(folder.path(), name, "").unwrap()).unwrap();
        let (full, _) = of_bytes(&whole).unwrap();
        for end in 0..full.len() {
            assert!(
                of_bytes(&full[..end]).is_err() || name.ends_with("webp") && end + 1 == full.len(),
                "{name} up to {end}"
            );
        }
    }
}

fn samples() -> Vec<Vec<u8>> {
    let tests = crate_folder("kamadak-exif").join("tests");
    ["exif.jpg", "exif.png", "exif.webp"].map(|name| fs::read(tests.join(name)).unwrap()).into()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// Damage is refused or copied, never a panic; and what is copied is stable.
    #[test]
    fn damaged_photos_do_no_harm(
        which in 0_usize..3,
        edits in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        static SAMPLES: std::sync::LazyLock<Vec<Vec<u8>>> = std::sync::LazyLock::new(samples);
        let mut photo = SAMPLES[which].clone();
        for (at, byte) in edits {
            let at = at.index(photo.len());
            photo[at] = byte;
        }
        if let Ok((copy, _)) = of_bytes(&photo) {
            prop_assert_eq!(&of_bytes(&copy).unwrap().0, &copy);
        }
    }
}
