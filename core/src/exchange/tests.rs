//! A disk that fails at any one write: no half bundle is left, an old one stays, and the reason is told.

use std::fs;
use std::io::{self, Seek, SeekFrom, Write};

use super::{About, Audience, Contents, FORMAT, Photograph, Source, write, write_sealed};
use crate::disk::{DiskError, write_anew, write_new};
use crate::id::DeviceId;
use crate::photo::Format;
use crate::seal::{Identity, Recipient, To};

/// A disk that takes so many writes and is full then: for good, or for that one write.
struct FailsAt<W> {
    to: W,
    left: usize,
    for_good: bool,
}

impl<W> FailsAt<W> {
    fn unless_full<T>(&mut self, act: impl FnOnce(&mut W) -> io::Result<T>) -> io::Result<T> {
        if self.left == 0 {
            self.left = if self.for_good { 0 } else { usize::MAX };
            return Err(io::ErrorKind::StorageFull.into());
        }
        self.left -= 1;
        act(&mut self.to)
    }
}

impl<W: Write> Write for FailsAt<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.unless_full(|to| to.write(bytes))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.unless_full(Write::flush)
    }
}

impl<W: Seek> Seek for FailsAt<W> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.unless_full(|within| within.seek(to))
    }
}

/// Two devices' changes, which the writer takes as they are.
struct Some2;

impl Source for Some2 {
    fn devices(&self) -> Vec<DeviceId> {
        [1, 2].map(|n| DeviceId(uuid::Uuid::from_u128(n))).to_vec()
    }

    fn lines(&self, device: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()> {
        (0..200).try_for_each(|n| each(&format!("{{\"device\":\"{device}\",\"n\":{n}}}")))
    }
}

/// Tries the disk's every write. `fill` writes through the disk that it is given.
fn at_any_write(fill: impl Fn(&mut dyn Disk, &Contents<'_>) -> io::Result<()>) {
    let dir = tempfile::tempdir().unwrap();
    let picture = dir.path().join("picture");
    fs::write(&picture, [7; 9_000]).unwrap();
    let hash = crate::change::hex(&<sha2::Sha256 as sha2::Digest>::digest([7; 9_000])).parse().unwrap();
    let photos = [Photograph { hash, format: Format::Png, file: picture }];
    let about = About {
        format: FORMAT,
        audience: Audience::Me,
        date: jiff::civil::date(2026, 10, 18),
        device: None,
        owner: None,
        place: None,
    };
    let sign = |_: &str| Ok("{}".to_owned());
    let contents =
        Contents { about: &about, source: &Some2, photos: &photos, holds: None, sign: Some(&sign) };
    let folder = dir.path().join("to");
    fs::create_dir(&folder).unwrap();
    let (new, old) = (folder.join("new"), folder.join("old"));
    for for_good in [true, false] {
        for left in 0.. {
            fs::write(&old, "old").unwrap();
            let to = |file: &mut dyn Disk| fill(&mut FailsAt { to: file, left, for_good }, &contents);
            // Sealing draws by lot, so that one may need a write more than the other.
            let done = [write_new(&new, |file| to(file)), write_anew(&old, |file| to(file))];
            assert_eq!(new.exists(), done[0].is_ok(), "write {left}");
            assert_eq!(fs::read(&old).unwrap() == b"old", done[1].is_err(), "write {left}");
            if done.iter().all(Result::is_ok) {
                assert!(left > 20, "it was hardly tried: {left} writes");
                break;
            }
            for error in done.into_iter().filter_map(Result::err) {
                let error = DiskError { doing: "write", source: error };
                assert!(error.is_full(), "write {left}: {error}");
            }
            let _ = fs::remove_file(&new);
            assert_eq!(fs::read_dir(&folder).unwrap().count(), 1, "write {left}: scraps");
        }
        fs::remove_file(&new).unwrap();
    }
}

trait Disk: Write + Seek {}
impl<T: Write + Seek> Disk for T {}

#[test]
fn a_bundle_on_a_disk_that_fails_is_not_there() {
    at_any_write(|disk, contents| write(disk, contents, &mut || Ok(())));
}

#[test]
fn a_sealed_bundle_on_a_disk_that_fails_is_not_there() {
    let key = Identity::draw().unwrap().public().unwrap();
    let to = [Recipient::try_from(&key).unwrap()];
    at_any_write(|disk, contents| write_sealed(disk, To::Keys(&to), contents, &mut || Ok(())));
}
