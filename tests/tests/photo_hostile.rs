//! Files that mean harm, or came to it: none may crash the intake, leave half a photo, or hold it up.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::fs;
use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use image::{DynamicImage, ImageFormat, RgbImage};
use jiff::tz::TimeZone;
use trug::photo::{NoThumbnail, PhotoError, PhotoFacts, PhotoWarning, Shelf, TakenIn};
use trug_tests::{crate_folder, run, skipped, tool};

fn drawn(format: ImageFormat) -> Vec<u8> {
    let picture = RgbImage::from_fn(160, 120, |x, y| {
        image::Rgb([x, y, x * y % 251].map(|value| u8::try_from(value % 256).unwrap()))
    });
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::from(picture).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// One picture of each kind, most with EXIF in them.
fn samples() -> Vec<Vec<u8>> {
    let folder = crate_folder("kamadak-exif").join("tests");
    let mut samples: Vec<_> = ["exif.jpg", "exif.png", "exif.webp", "exif.heic"]
        .map(|name| fs::read(folder.join(name)).unwrap())
        .into();
    samples.extend([ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP].map(drawn));
    if let Some(mut vips) = tool("vips") {
        let folder = tempfile::tempdir().unwrap();
        let [png, jpeg] = ["plain.png", "progressive.jpg"].map(|name| folder.path().join(name));
        fs::write(&png, drawn(ImageFormat::Png)).unwrap();
        run(vips.args(["jpegsave", "--interlace"]).args([&png, &jpeg]));
        samples.push(fs::read(jpeg).unwrap());
    }
    samples
}

/// A generator of the simplest kind (Knuth's MMIX constants), so that a failure can be repeated.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % most
    }
}

/// Cut at many lengths, with bytes changed, pieces swapped and pieces missing.
fn harmed(sample: &[u8], dice: &mut Dice) -> Vec<Vec<u8>> {
    let mut all: Vec<_> = (0..40).map(|n| sample[..sample.len() * n / 40].to_vec()).collect();
    all.extend((0..40).map(|_| {
        let mut bytes = sample.to_vec();
        for _ in 0..=dice.below(8) {
            // Most of what can go wrong is in the head.
            let reach = if dice.below(2) == 0 { bytes.len().min(300) } else { bytes.len() };
            bytes[dice.below(reach)] =
                [0, 0xff, 0x7f, 0x80, u8::try_from(dice.below(256)).unwrap()][dice.below(5)];
        }
        bytes
    }));
    all.extend((0..20).map(|_| {
        let mut bytes = sample.to_vec();
        let from = dice.below(bytes.len());
        let to = from + dice.below(bytes.len() - from);
        if dice.below(2) == 0 {
            bytes[from..to].reverse();
        } else {
            bytes.drain(from..to);
        }
        bytes
    }));
    all
}

#[test]
fn harmed_pictures_are_stored_or_refused_but_never_crash() {
    static CAUGHT: AtomicUsize = AtomicUsize::new(0);
    static OURS: AtomicUsize = AtomicUsize::new(0);
    // A decoder's panic is caught and becomes a warning; one of ours is a fault.
    std::panic::set_hook(Box::new(|panic| {
        let ours = panic.location().is_none_or(|place| !place.file().contains("registry"));
        if ours { &OURS } else { &CAUGHT }.fetch_add(1, Ordering::Relaxed);
        let _ = writeln!(std::io::stderr(), "{panic}");
    }));
    let folder = tempfile::tempdir().unwrap();
    let shelf = Shelf::open(folder.path()).unwrap();
    let path = folder.path().join("harmed");
    let mut dice = Dice(20_261_018);
    let mut stored = 0;
    for sample in samples() {
        for bytes in harmed(&sample, &mut dice) {
            PhotoFacts::read(&mut Cursor::new(&bytes), &TimeZone::UTC, &mut Vec::new());
            fs::write(&path, &bytes).unwrap();
            match shelf.take_in(&path, &TimeZone::UTC) {
                Ok(taken) => {
                    assert!(fs::read(shelf.path(&taken.hash).unwrap()).unwrap() == bytes);
                    stored += 1;
                }
                Err(PhotoError::Empty) => assert!(bytes.is_empty()),
                Err(error) => assert_eq!(error, PhotoError::NotAPhoto),
            }
        }
    }
    let _ = std::panic::take_hook();
    assert_eq!(OURS.load(Ordering::Relaxed), 0, "panics of our own");
    assert!(stored > 300, "only {stored} stored");
    let _ = writeln!(
        std::io::stderr(),
        "{stored} harmed pictures stored, {} panics caught",
        CAUGHT.load(Ordering::Relaxed)
    );
    assert!(!unfinished(folder.path()));
}

/// Whether anything unfinished lies about.
fn unfinished(folder: &Path) -> bool {
    ["photos", "thumbnails"].iter().any(|part| {
        fs::read_dir(folder.join(part))
            .unwrap()
            .any(|entry| entry.unwrap().file_name().to_string_lossy().starts_with('.'))
    })
}

fn chunk(kind: &[u8], body: &[u8]) -> Vec<u8> {
    let mut crc = u32::MAX;
    for byte in kind.iter().chain(body) {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 };
        }
    }
    let length = u32::try_from(body.len()).unwrap().to_be_bytes();
    [&length[..], kind, body, &(!crc).to_be_bytes()].concat()
}

fn png_of(width: u32, height: u32) -> Vec<u8> {
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    [
        &b"\x89PNG\r\n\x1a\n"[..],
        &chunk(b"IHDR", &head),
        &chunk(b"IDAT", b"\x78\x9c\x03\0\0\0\0\x01"),
        &chunk(b"IEND", b""),
    ]
    .concat()
}

/// A JPEG whose frame header says this size and this process (`0xc0` baseline, `0xc2` progressive).
fn jpeg_of(width: u16, height: u16, process: u8) -> Vec<u8> {
    let mut bytes = drawn(ImageFormat::Jpeg);
    let frame = bytes.windows(2).position(|two| two == [0xff, 0xc0]).unwrap();
    bytes[frame + 1] = process;
    bytes[frame + 5..frame + 7].copy_from_slice(&height.to_be_bytes());
    bytes[frame + 7..frame + 9].copy_from_slice(&width.to_be_bytes());
    bytes
}

#[test]
fn pictures_that_unpack_to_gigabytes_are_stored_undrawn() {
    let folder = tempfile::tempdir().unwrap();
    let shelf = Shelf::open(folder.path()).unwrap();
    let path = folder.path().join("bomb");
    let take = |bytes: &[u8]| -> (TakenIn, Duration) {
        fs::write(&path, bytes).unwrap();
        let start = Instant::now();
        (shelf.take_in(&path, &TimeZone::UTC).unwrap(), start.elapsed())
    };
    for (what, bytes) in [
        ("PNG of 3.6 gigapixels", png_of(60_000, 60_000)),
        ("PNG of 100 megapixels", png_of(10_000, 10_000)),
        ("JPEG of 4.3 gigapixels", jpeg_of(65_500, 65_500, 0xc0)),
        ("progressive JPEG of 400 megapixels", jpeg_of(20_000, 20_000, 0xc2)),
        ("progressive JPEG of 100 megapixels", jpeg_of(10_000, 10_000, 0xc2)),
    ] {
        let (taken, time) = take(&bytes);
        assert_eq!(taken.warnings, [PhotoWarning::NoThumbnail(NoThumbnail::TooManyPixels)], "{what}");
        assert_eq!(taken.bytes, bytes.len() as u64);
        assert!(time < Duration::from_secs(5), "{what} took {time:?}");
    }
    // A size within bounds, of which the file holds a corner: drawn as far as it goes.
    let (taken, _) = take(&jpeg_of(8_000, 8_000, 0xc0));
    assert!(shelf.thumbnail(&taken.hash).unwrap().is_some());
}

/// A progressive JPEG may repeat its scans without end: the time that drawing takes is bounded, too.
#[test]
fn endless_scans_do_not_hold_the_intake_up() {
    let folder = tempfile::tempdir().unwrap();
    let Some(mut vips) = tool("vips") else { return };
    let [png, jpeg] = ["plain.png", "progressive.jpg"].map(|name| folder.path().join(name));
    RgbImage::new(4800, 4800).save(&png).unwrap();
    run(vips.args(["jpegsave", "--interlace"]).args([&png, &jpeg]));
    let whole = fs::read(&jpeg).unwrap();
    // From the last scan to the end, again and again.
    let scan = whole.windows(2).rposition(|two| two == [0xff, 0xda]).unwrap();
    let (before, last) = (&whole[..scan], &whole[scan..whole.len() - 2]);
    let mut bytes = before.to_vec();
    while bytes.len() < 30_000_000 {
        bytes.extend_from_slice(last);
    }
    fs::write(&jpeg, &bytes).unwrap();
    let shelf = Shelf::open(&folder.path().join("notebook")).unwrap();
    let start = Instant::now();
    let taken = shelf.take_in(&jpeg, &TimeZone::UTC).unwrap();
    assert!(start.elapsed() < Duration::from_mins(1), "{:?}", start.elapsed());
    assert!(
        matches!(
            taken.warnings[..],
            [PhotoWarning::NoThumbnail(NoThumbnail::TooSlow | NoThumbnail::Unreadable)]
        ),
        "{:?}",
        taken.warnings
    );
}

/// Takes photos in until there is no room, then makes room and goes on. Run by the two tests below, in a process
/// whose room is short.
#[test]
#[ignore = "run by the tests of a full disk"]
fn in_a_small_room() {
    let room = PathBuf::from(std::env::var_os("TRUG_SMALL_ROOM").unwrap());
    let photos = PathBuf::from(std::env::var_os("TRUG_PHOTOS").unwrap());
    let mut photos: Vec<_> = fs::read_dir(photos).unwrap().map(|photo| photo.unwrap().path()).collect();
    photos.sort();
    let shelf = Shelf::open(&room).unwrap();
    let mut kept = Vec::new();
    let mut refused = Vec::new();
    for photo in &photos {
        match shelf.take_in(photo, &TimeZone::UTC) {
            Ok(taken) => kept.push(taken.hash),
            Err(error) => {
                assert_eq!(error, PhotoError::NoRoom);
                refused.push(photo);
            }
        }
        assert!(!unfinished(&room));
    }
    assert!(!refused.is_empty() && kept.len() > 1, "{} kept, {} refused", kept.len(), refused.len());
    let whole = |hash| shelf.verify(hash) == Ok(trug::photo::Condition::Whole);
    assert!(kept.iter().all(whole) && shelf.list().unwrap().len() == kept.len());
    for hash in &kept {
        fs::remove_file(shelf.path(hash).unwrap()).unwrap();
    }
    assert!(shelf.take_in(&photos[0], &TimeZone::UTC).is_ok(), "there is room again");
}

/// Runs the test above under a shell's command, on photos of these sizes.
fn small_room(shell: &str, room: &Path, sizes: &[usize]) {
    let photos = tempfile::tempdir().unwrap();
    for (n, size) in sizes.iter().enumerate() {
        let mut photo = drawn(ImageFormat::Jpeg);
        assert!(photo.len() < *size);
        photo.resize(*size, u8::try_from(n).unwrap());
        fs::write(photos.path().join(n.to_string()), photo).unwrap();
    }
    let mut command = Command::new("bash");
    command.args(["-euc", shell]).arg(std::env::current_exe().unwrap());
    command.args(["--exact", "in_a_small_room", "--ignored", "--nocapture"]);
    let said = run(command.env("TRUG_SMALL_ROOM", room).env("TRUG_PHOTOS", photos.path()));
    assert!(said.contains("1 passed"), "{said}");
}

#[test]
fn a_limit_on_the_size_of_files_is_told_as_no_room() {
    let outside = tempfile::tempdir().unwrap();
    let folder = outside.path().join("notebook");
    fs::create_dir(&folder).unwrap();
    // In KiB a file; the signal that comes with it would end the process.
    let shell = "trap '' XFSZ; ulimit -S -f 100; exec \"$0\" \"$@\"";
    small_room(shell, &folder, &[40_000, 90_000, 150_000, 60_000]);
}

#[test]
fn a_full_disk_is_told_as_no_room() {
    let root = run(Command::new("id").arg("-u")).trim() == "0";
    let outside = tempfile::tempdir().unwrap();
    let disk = outside.path().join("disk");
    fs::create_dir(&disk).unwrap();
    let mounts = root
        && Command::new("unshare")
            .args(["-m", "mount", "-t", "tmpfs", "none"])
            .arg(&disk)
            .status()
            .is_ok_and(|status| status.success());
    if !mounts {
        return skipped("a small disk cannot be mounted here");
    }
    let shell = format!(
        "unshare -m bash -euc 'mount -t tmpfs -o size=400k none {0}; mkdir {0}/notebook; exec \"$0\" \"$@\"' \"$0\" \"$@\"",
        disk.display()
    );
    small_room(&shell, &disk.join("notebook"), &[40_000, 90_000, 600_000, 90_000, 90_000, 90_000, 90_000]);
}
