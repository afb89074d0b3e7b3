//! Taking photographs in: stored byte for byte, once, upright in small, and refused with a reason.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::process::Command;

use exif::experimental::Writer;
use exif::{Field, In, Tag, Value};
use image::{GrayImage, ImageFormat, Luma, Rgb, RgbImage, Rgba, RgbaImage};
use jiff::tz::TimeZone;
use trug::photo::{
    Condition, Format, MOST_BYTES, NoThumbnail, PhotoError, PhotoHash, PhotoWarning, Shelf, Stored, TakenIn,
};

const RED: Rgb<u8> = Rgb([230, 20, 20]);
const GREEN: Rgb<u8> = Rgb([20, 200, 20]);
const BLUE: Rgb<u8> = Rgb([20, 20, 230]);
const WHITE: Rgb<u8> = Rgb([250, 250, 250]);

/// A shelf in a folder of its own, and a place beside it for files to take in.
struct Desk {
    folder: tempfile::TempDir,
    shelf: Shelf,
}

impl Desk {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let shelf = Shelf::open(&folder.path().join("notebook")).unwrap();
        Self { folder, shelf }
    }

    fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, bytes).unwrap();
        path
    }

    fn take(&self, path: &Path) -> Result<TakenIn, PhotoError> {
        self.shelf.take_in(path, &TimeZone::UTC)
    }

    fn take_bytes(&self, name: &str, bytes: &[u8]) -> TakenIn {
        self.take(&self.file(name, bytes)).unwrap()
    }

    fn thumbnail(&self, hash: &PhotoHash) -> RgbImage {
        image::open(self.shelf.thumbnail(hash).unwrap().unwrap()).unwrap().into_rgb8()
    }

    /// Every file in the notebook's folder, without its path.
    fn files(&self) -> Vec<String> {
        fn walk(folder: &Path, found: &mut Vec<String>) {
            for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
                if entry.file_type().unwrap().is_dir() {
                    walk(&entry.path(), found);
                } else {
                    found.push(entry.file_name().into_string().unwrap());
                }
            }
        }
        let mut found = Vec::new();
        walk(&self.folder.path().join("notebook"), &mut found);
        found.sort();
        found
    }
}

/// A picture with a colour in each corner: red and green above, blue and white below.
fn corners(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| match (x < width / 2, y < height / 2) {
        (true, true) => RED,
        (false, true) => GREEN,
        (true, false) => BLUE,
        (false, false) => WHITE,
    })
}

fn encoded(picture: impl Into<image::DynamicImage>, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.into().write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

fn jpeg(width: u32, height: u32) -> Vec<u8> {
    encoded(corners(width, height), ImageFormat::Jpeg)
}

/// A JPEG with an EXIF segment that gives an orientation, written right after its first marker.
fn turned(jpeg: &[u8], orientation: u16) -> Vec<u8> {
    let field = Field { tag: Tag::Orientation, ifd_num: In::PRIMARY, value: Value::Short(vec![orientation]) };
    let mut writer = Writer::new();
    writer.push_field(&field);
    let mut tiff = Cursor::new(Vec::new());
    writer.write(&mut tiff, true).unwrap();
    let body = [b"Exif\0\0", tiff.get_ref().as_slice()].concat();
    let length = u16::try_from(body.len() + 2).unwrap().to_be_bytes();
    [&jpeg[..2], b"\xff\xe1", &length, &body, &jpeg[2..]].concat()
}

fn near(found: Rgb<u8>, wanted: Rgb<u8>) -> bool {
    found.0.iter().zip(wanted.0).all(|(a, b)| a.abs_diff(b) < 24)
}

#[test]
fn a_photo_is_kept_byte_for_byte_under_its_hash() {
    let desk = Desk::new();
    let bytes = jpeg(1600, 1200);
    let path = desk.file("IMG_0001.jpg", &bytes);
    let before = fs::metadata(&path).unwrap().modified().unwrap();
    let taken = desk.take(&path).unwrap();

    assert_eq!(taken.hash, PhotoHash::of(&bytes));
    assert_eq!((taken.bytes, taken.format), (bytes.len() as u64, Format::Jpeg));
    assert_eq!((taken.facts.width, taken.facts.height), (Some(1600), Some(1200)));
    assert!(!taken.already_there);
    assert_eq!(taken.warnings, []);

    let hash = taken.hash.to_string();
    let stored = desk.folder.path().join(format!("notebook/photos/{}/{hash}.jpg", &hash[..2]));
    assert_eq!(desk.shelf.path(&taken.hash), Some(stored.clone()));
    assert_eq!(fs::read(stored).unwrap(), bytes);
    assert_eq!(fs::read(&path).unwrap(), bytes);
    assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), before);
    assert_eq!(desk.files(), [format!("{hash}.jpg"), format!("{hash}.jpg")], "the photo and its thumbnail");
    assert_eq!(
        desk.shelf.list().unwrap(),
        [Stored { hash: taken.hash, format: Format::Jpeg, bytes: taken.bytes }]
    );
    assert_eq!(desk.thumbnail(&taken.hash).dimensions(), (512, 384));
}

#[test]
fn the_same_photo_is_stored_once() {
    let desk = Desk::new();
    let bytes = jpeg(640, 480);
    let first = desk.take_bytes("one.jpg", &bytes);
    let second = desk.take_bytes("two.jpg", &bytes);
    assert!(!first.already_there && second.already_there);
    assert_eq!((first.hash, &first.facts, &first.warnings), (second.hash, &second.facts, &second.warnings));
    assert_eq!(desk.shelf.list().unwrap().len(), 1);
    assert_eq!(desk.files().len(), 2);
    // Even from the shelf itself.
    let stored = desk.shelf.path(&first.hash).unwrap();
    assert!(desk.take(&stored).unwrap().already_there);
    assert_eq!(fs::read(stored).unwrap(), bytes);
}

#[test]
fn many_at_once_are_all_stored() {
    let desk = Desk::new();
    let files: Vec<_> = (0..12).map(|n| desk.file(&format!("{n}.jpg"), &jpeg(300 + n % 4, 200))).collect();
    let taken: Vec<_> = std::thread::scope(|scope| {
        let threads: Vec<_> = files.iter().map(|file| scope.spawn(|| desk.take(file).unwrap())).collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    });
    assert_eq!(desk.shelf.list().unwrap().len(), 4);
    assert!(taken.iter().all(|taken| desk.shelf.verify(&taken.hash) == Ok(Condition::Whole)));
    assert_eq!(desk.files().len(), 8);
}

#[test]
fn a_damaged_copy_is_found_replaced_and_kept_aside() {
    let desk = Desk::new();
    let bytes = jpeg(640, 480);
    let taken = desk.take_bytes("one.jpg", &bytes);
    let stored = desk.shelf.path(&taken.hash).unwrap();
    assert_eq!(desk.shelf.verify(&taken.hash), Ok(Condition::Whole));
    assert_eq!(desk.shelf.verify(&PhotoHash::of(b"another")), Ok(Condition::Missing));

    let mut flipped = bytes.clone();
    flipped[bytes.len() / 2] ^= 1;
    for bad in [flipped.as_slice(), &bytes[..100], b""] {
        fs::write(&stored, bad).unwrap();
        assert_eq!(desk.shelf.verify(&taken.hash), Ok(Condition::Damaged));
        let again = desk.take_bytes("one.jpg", &bytes);
        assert_eq!((again.already_there, again.warnings), (false, vec![PhotoWarning::Mended]));
        assert_eq!(fs::read(&stored).unwrap(), bytes);
    }
    let aside: Vec<_> = (1..=3)
        .map(|n| fs::read(desk.folder.path().join(format!("notebook/aside/{}.{n}.jpg", taken.hash))).unwrap())
        .collect();
    assert_eq!(aside, [flipped.as_slice(), &bytes[..100], b""]);
}

/// The table of the Exif standard (CIPA DC-008, tag 274): where the stored picture's row 0 and column 0 are seen.
#[test]
fn a_thumbnail_is_upright_whatever_the_camera_was_held() {
    let desk = Desk::new();
    // Corners in stored order: row 0 col 0, row 0 last col, last row col 0, last row last col.
    let stored = [RED, GREEN, BLUE, WHITE];
    for (orientation, row, column) in [
        (1, "top", "left"),
        (2, "top", "right"),
        (3, "bottom", "right"),
        (4, "bottom", "left"),
        (5, "left", "top"),
        (6, "right", "top"),
        (7, "right", "bottom"),
        (8, "left", "bottom"),
    ] {
        let taken = desk.take_bytes("turned.jpg", &turned(&jpeg(1600, 1000), orientation));
        let seen = desk.thumbnail(&taken.hash);
        assert_eq!(taken.facts.orientation.number(), u8::try_from(orientation).unwrap());
        let upright = if orientation < 5 { (512, 320) } else { (320, 512) };
        assert_eq!(seen.dimensions(), upright, "orientation {orientation}");
        let opposite = |side| match side {
            "top" => "bottom",
            "bottom" => "top",
            "left" => "right",
            _ => "left",
        };
        let corner = |sides: [&str; 2]| {
            let x = if sides.contains(&"left") { 5 } else { seen.width() - 6 };
            let y = if sides.contains(&"top") { 5 } else { seen.height() - 6 };
            *seen.get_pixel(x, y)
        };
        let places = [
            [row, column],
            [row, opposite(column)],
            [opposite(row), column],
            [opposite(row), opposite(column)],
        ];
        for (colour, place) in stored.into_iter().zip(places) {
            assert!(
                near(corner(place), colour),
                "orientation {orientation}: {place:?} is {:?}",
                corner(place)
            );
        }
        // Made again after it was lost, it is the same.
        fs::remove_file(desk.shelf.thumbnail(&taken.hash).unwrap().unwrap()).unwrap();
        assert_eq!(desk.thumbnail(&taken.hash), seen);
    }
}

#[test]
fn png_and_webp_are_drawn_too_and_nothing_is_enlarged() {
    let desk = Desk::new();
    for (format, image_format) in [(Format::Png, ImageFormat::Png), (Format::WebP, ImageFormat::WebP)] {
        let taken = desk.take_bytes("x", &encoded(corners(2500, 100), image_format));
        assert_eq!((taken.format, taken.warnings), (format, vec![]));
        let seen = desk.thumbnail(&taken.hash);
        assert_eq!(seen.dimensions(), (512, 20));
        assert!(near(*seen.get_pixel(3, 3), RED) && near(*seen.get_pixel(508, 16), WHITE));
    }
    let small = desk.take_bytes("small.jpg", &jpeg(40, 30));
    assert_eq!(desk.thumbnail(&small.hash).dimensions(), (40, 30));
    let dot = desk.take_bytes("dot.png", &encoded(corners(1, 1), ImageFormat::Png));
    assert_eq!(desk.thumbnail(&dot.hash).dimensions(), (1, 1));
    let thin = desk.take_bytes("thin.jpg", &jpeg(20_000, 2));
    assert_eq!(desk.thumbnail(&thin.hash).dimensions(), (512, 1));
}

#[test]
fn greys_stay_grey_and_what_is_clear_is_shown_on_white() {
    let desk = Desk::new();
    let grey = encoded(GrayImage::from_pixel(900, 900, Luma([90])), ImageFormat::Jpeg);
    let grey = desk.take_bytes("grey.jpg", &grey);
    assert!(near(*desk.thumbnail(&grey.hash).get_pixel(100, 100), Rgb([90; 3])));
    let clear = RgbaImage::from_fn(900, 900, |x, _| Rgba([200, 0, 0, if x < 450 { 0 } else { 255 }]));
    let clear = desk.take_bytes("clear.png", &encoded(clear, ImageFormat::Png));
    let seen = desk.thumbnail(&clear.hash);
    assert!(near(*seen.get_pixel(20, 20), Rgb([255; 3])) && near(*seen.get_pixel(490, 20), Rgb([200, 0, 0])));
}

#[test]
fn a_thumbnail_tells_nothing_of_the_photo() {
    let desk = Desk::new();
    let taken = desk.take_bytes("turned.jpg", &turned(&jpeg(800, 600), 3));
    let thumbnail = fs::read(desk.shelf.thumbnail(&taken.hash).unwrap().unwrap()).unwrap();
    assert!(!thumbnail.windows(4).any(|window| window == b"Exif"));
}

#[test]
fn a_torn_thumbnail_is_made_again() {
    let desk = Desk::new();
    let taken = desk.take_bytes("one.jpg", &jpeg(800, 600));
    let path = desk.shelf.thumbnail(&taken.hash).unwrap().unwrap();
    let whole = fs::read(&path).unwrap();
    for torn in [&whole[..0], &whole[..3], &whole[..whole.len() / 2], &vec![0; whole.len()]] {
        fs::write(&path, torn).unwrap();
        assert_eq!(fs::read(desk.shelf.thumbnail(&taken.hash).unwrap().unwrap()).unwrap(), whole);
    }
    assert_eq!(desk.shelf.thumbnail(&PhotoHash::of(b"another")), Ok(None));
}

#[test]
fn a_photo_is_stored_as_what_it_is() {
    let desk = Desk::new();
    let png = encoded(corners(30, 20), ImageFormat::Png);
    let taken = desk.take_bytes("really.jpg", &png);
    assert_eq!(taken.warnings, [PhotoWarning::Mislabelled { named: Format::Jpeg, is: Format::Png }]);
    assert!(desk.shelf.path(&taken.hash).unwrap().extension().unwrap() == "png");
    assert_eq!(desk.take_bytes("no-name", &png).warnings, []);
}

#[test]
fn a_broken_picture_is_stored_with_a_warning() {
    let desk = Desk::new();
    let whole = jpeg(1600, 1200);
    let unreadable = PhotoWarning::NoThumbnail(NoThumbnail::Unreadable);
    let cut = desk.take_bytes("cut.jpg", &whole[..whole.len() / 2]);
    assert!(cut.warnings.contains(&unreadable), "{:?}", cut.warnings);
    assert_eq!((cut.facts.width, cut.facts.height), (Some(1600), Some(1200)));
    assert_eq!(fs::read(desk.shelf.path(&cut.hash).unwrap()).unwrap(), whole[..whole.len() / 2]);
    assert_eq!(desk.shelf.thumbnail(&cut.hash), Ok(None));
    let head = desk.take_bytes("head.png", b"\x89PNG\r\n\x1a\n");
    assert!(head.warnings.contains(&unreadable), "{:?}", head.warnings);
}

#[test]
fn what_cannot_be_a_photo_is_refused_and_leaves_nothing() {
    let desk = Desk::new();
    let at = |name: &str| desk.folder.path().join(name);
    assert_eq!(desk.take(&at("none.jpg")), Err(PhotoError::Missing));
    assert_eq!(desk.take(desk.folder.path()), Err(PhotoError::NotAFile));
    assert_eq!(desk.take(Path::new("/dev/null")), Err(PhotoError::NotAFile));
    assert_eq!(desk.take(&desk.file("empty.jpg", b"")), Err(PhotoError::Empty));
    assert_eq!(desk.take(&desk.file("note.jpg", b"by the second oak")), Err(PhotoError::NotAPhoto));
    assert_eq!(desk.take(&desk.file("old.gif", b"GIF89a\x01\0\x01\0\0\0\0;")), Err(PhotoError::NotAPhoto));

    assert!(Command::new("mkfifo").arg(at("pipe.jpg")).status().unwrap().success());
    assert_eq!(desk.take(&at("pipe.jpg")), Err(PhotoError::NotAFile));
    std::os::unix::fs::symlink(at("loop.jpg"), at("loop.jpg")).unwrap();
    assert!(matches!(desk.take(&at("loop.jpg")), Err(PhotoError::ReadFailed(_))));

    let huge = desk.file("huge.jpg", &jpeg(8, 8));
    fs::File::options().write(true).open(&huge).unwrap().set_len(MOST_BYTES + 1).unwrap();
    assert_eq!(desk.take(&huge), Err(PhotoError::TooLarge));

    assert_eq!(desk.files(), [""; 0]);
    assert_eq!(desk.shelf.list().unwrap(), []);
}

#[test]
fn a_link_to_a_photo_is_followed() {
    let desk = Desk::new();
    let file = desk.file("one.jpg", &jpeg(30, 20));
    let link = desk.folder.path().join("link.jpg");
    std::os::unix::fs::symlink(&file, &link).unwrap();
    let taken = desk.take(&link).unwrap();
    assert!(!desk.shelf.path(&taken.hash).unwrap().is_symlink());
}

#[test]
fn opening_clears_away_what_was_left_unfinished_and_nothing_else() {
    let desk = Desk::new();
    let taken = desk.take_bytes("one.jpg", &jpeg(300, 200));
    let notebook = desk.folder.path().join("notebook");
    fs::write(notebook.join("photos/.unfinished-Ab12cd"), b"\xff\xd8").unwrap();
    fs::write(notebook.join("thumbnails/.unfinished-Zz9"), b"\xff\xd8").unwrap();
    fs::write(notebook.join("photos/owner's note.txt"), b"mine").unwrap();
    fs::create_dir(notebook.join("photos/zz")).unwrap();
    fs::write(notebook.join("photos/zz").join(format!("{}.jpg", taken.hash)), b"in the wrong shard").unwrap();

    let shelf = Shelf::open(&notebook).unwrap();
    assert!(!notebook.join("photos/.unfinished-Ab12cd").exists());
    assert!(!notebook.join("thumbnails/.unfinished-Zz9").exists());
    assert!(notebook.join("photos/owner's note.txt").exists());
    assert_eq!(shelf.list().unwrap().len(), 1);
    assert_eq!(shelf.verify(&taken.hash), Ok(Condition::Whole));
}

#[test]
fn a_shelf_that_cannot_be_opened_says_so() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notebook"), b"a file where the folder should be").unwrap();
    let error = Shelf::open(&folder.path().join("notebook")).unwrap_err();
    assert_eq!(error.code(), "photo-shelf-failed");
}
