//! Backup to one file, and the way back: a ZIP of the log, the photos and the secrets, which are all that cannot be made again.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Read, Seek, Write};
use std::path::{Component, Path, PathBuf};

use serde::{Deserialize, Serialize};
use serde_json::json;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

use super::{FORMAT, Notebook, exporting, peers};
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::export::SECRET_BYTES;
use crate::log::Log;
use crate::photo::{PhotoHash, Shelf};
use crate::progress::{Progress, Stopped};
use crate::seal::Identity;

const ABOUT: &str = "backup.json";
/// Without them a restored notebook could not open what is sealed to it, nor would its copies keep their ids.
const SECRETS: [&str; 2] = [exporting::SECRET, peers::IDENTITY];
/// What a photo or a segment may at most unpack to.
const LARGEST_ENTRY: u64 = 1 << 30;

/// What a restore brought back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Restored {
    /// Segments of the log.
    pub segments: u64,
    /// Photos.
    pub photos: u64,
}

#[derive(Deserialize)]
struct About {
    format: u64,
    segments: u64,
    photos: u64,
    /// Backups of earlier versions hold none and do not say so.
    #[serde(default)]
    secrets: u64,
}

impl Notebook {
    /// Writes everything to one file, whole or not at all. What is recorded meanwhile may or may not be in it.
    ///
    /// # Errors
    /// [`Error::InTheWay`] if the file is there, [`Error::NoRoom`], [`Error::Stopped`].
    pub fn backup(&self, to: &Path, progress: &dyn Progress) -> Result<Restored, Error> {
        if to.exists() {
            return Err(Error::InTheWay { what: "a file of that name" });
        }
        let log = self.folder.log();
        // The lengths at this moment: later lines are not torn apart.
        let (segments, secrets) = {
            let _still = self.lock();
            (log.segments().doing("list the log")?, secrets(self.root())?)
        };
        let photos = self.shelf.list().map_err(Error::from_shelf)?;
        let counts = Restored { segments: segments.len() as u64, photos: photos.len() as u64 };
        let mut stopped = false;
        let written = disk::write_new(to, |file| {
            let mut zip = ZipWriter::new(disk::FailsOnce::new(file));
            let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
            let packed = stored.compression_method(CompressionMethod::Deflated);
            zip.start_file(ABOUT, stored)?;
            let about = json!({
                "format": FORMAT,
                "segments": counts.segments,
                "photos": counts.photos,
                "secrets": secrets.len(),
            });
            zip.write_all(about.to_string().as_bytes())?;
            for (name, secret) in &secrets {
                zip.start_file(*name, stored)?;
                zip.write_all(secret)?;
            }
            let mut go_on = |doing| {
                stopped = !progress.go_on(doing);
                if stopped { Err(io::Error::from(io::ErrorKind::Interrupted)) } else { Ok(()) }
            };
            for (segment, length) in &segments {
                zip.start_file(format!("changes/{}/{:06}.jsonl", segment.device, segment.number), packed)?;
                io::copy(&mut File::open(log.path(*segment))?.take(*length), &mut zip)?;
                go_on("saving the log")?;
            }
            for photo in &photos {
                let Some(path) = self.shelf.path(&photo.hash) else { continue };
                zip.start_file(format!("photos/{}", file_name(&path)), stored.large_file(true))?;
                io::copy(&mut File::open(path)?, &mut zip)?;
                go_on("saving photos")?;
            }
            zip.finish()?;
            Ok(())
        });
        match written {
            Err(_) if stopped => Err(Stopped.into()),
            other => Ok(other.doing("write the backup").map(|()| counts)?),
        }
    }
}

/// The secrets that there are. A damaged one is of no use to anybody.
fn secrets(root: &Path) -> Result<Vec<(&'static str, Vec<u8>)>, Error> {
    let mut found = Vec::new();
    for name in SECRETS {
        let path = root.join(name);
        match fs::read(&path) {
            Ok(bytes) if is_whole(&path, &bytes) => found.push((name, bytes)),
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                Err(error).doing("read a secret of the notebook")?;
            }
            _ => {}
        }
    }
    Ok(found)
}

fn is_whole(path: &Path, bytes: &[u8]) -> bool {
    if path.ends_with(exporting::SECRET) {
        bytes.len() == SECRET_BYTES
    } else {
        matches!(Identity::read(path), Ok(Some(_)))
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Makes a notebook folder from a backup. Every line and photo is proved before the folder takes its place.
///
/// # Errors
/// [`Error::InTheWay`] if the folder is there and not empty; [`Error::Backup`] says what is wrong with the file.
pub fn restore(from: &Path, to: &Path, progress: &dyn Progress) -> Result<Restored, Error> {
    if to.exists() && fs::read_dir(to).doing("look into the folder")?.next().is_some() {
        return Err(Error::InTheWay { what: "something in that folder" });
    }
    let parent = to.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    disk::make_folder(parent).doing("make the notebook folder")?;
    let half = tempfile::Builder::new()
        .prefix(".restoring-")
        .tempdir_in(parent)
        .doing("make the notebook folder")?;
    let restored = unpack(from, half.path(), progress)?;
    if to.exists() {
        fs::remove_dir(to).doing("make the notebook folder")?;
    }
    fs::rename(half.path(), to).doing("put the notebook in its place")?;
    disk::sync_folder(parent).doing("put the notebook in its place")?;
    let _ = half.keep(); // renamed away: nothing is left to remove
    Ok(restored)
}

fn unpack(from: &Path, to: &Path, progress: &dyn Progress) -> Result<Restored, Error> {
    let not_a_backup = |why: &str| Error::Backup { why: why.to_owned() };
    let file = File::open(from).map_err(|_| not_a_backup("the file cannot be opened: check its name"))?;
    let mut zip = ZipArchive::new(io::BufReader::new(file))
        .map_err(|_| not_a_backup("the file is no backup, or was cut short: use another copy of it"))?;
    let about = about(&mut zip).ok_or_else(|| not_a_backup("the file is no backup of a notebook"))?;
    if about.format > FORMAT {
        return Err(Error::NewerFormat { found: about.format, known: FORMAT });
    }
    let mut restored = Restored { segments: 0, photos: 0 };
    let mut seen = BTreeSet::new();
    for index in 0..zip.len() {
        let mut entry =
            zip.by_index(index).map_err(|_| not_a_backup("an entry is damaged: use another copy"))?;
        let Some(name) = entry.enclosed_name().filter(|name| is_plain(name)) else {
            return Err(not_a_backup("it holds a name that does not belong in a backup"));
        };
        if name == Path::new(ABOUT) {
            continue;
        }
        if !seen.insert(name.clone()) || entry.size() > LARGEST_ENTRY {
            return Err(not_a_backup("it holds an entry twice, or one that is too large"));
        }
        place(&mut entry, &name, to, &mut restored)?;
        progress.step("restoring")?;
    }
    let proved = prove(to)?;
    if secrets(to)?.len() as u64 != about.secrets {
        return Err(not_a_backup("a secret of the notebook is missing from it or damaged: use another copy"));
    }
    if proved != restored || proved != (Restored { segments: about.segments, photos: about.photos }) {
        return Err(not_a_backup("something is missing from it or misnamed: use another copy"));
    }
    Ok(restored)
}

fn about(zip: &mut ZipArchive<impl Read + Seek>) -> Option<About> {
    serde_json::from_reader(zip.by_name(ABOUT).ok()?.take(10_000)).ok()
}

/// `changes/<device>/<number>.jsonl`, `photos/<hash>.<ext>` or a secret, and nothing else.
fn is_plain(name: &Path) -> bool {
    let parts: Vec<_> = name.components().collect();
    let all_normal = parts.iter().all(|part| matches!(part, Component::Normal(_)));
    let first = parts.first().map(|part| part.as_os_str());
    all_normal
        && ((parts.len() == 3 && first == Some("changes".as_ref()))
            || (parts.len() == 2 && first == Some("photos".as_ref()))
            || is_secret(name)
            || name == Path::new(ABOUT))
}

fn is_secret(name: &Path) -> bool {
    SECRETS.iter().any(|secret| name == Path::new(secret))
}

fn place(entry: &mut impl Read, name: &Path, to: &Path, restored: &mut Restored) -> Result<(), Error> {
    let is_photo = name.starts_with("photos");
    let path: PathBuf = if is_photo {
        let file = file_name(name);
        to.join("photos").join(file.get(..2).unwrap_or("00")).join(&file)
    } else {
        to.join(name)
    };
    if let Some(folder) = path.parent() {
        disk::make_folder(folder).doing("make the notebook folder")?;
    }
    let written = disk::write_whole(&path, |out| io::copy(&mut entry.take(LARGEST_ENTRY), out).map(|_| ()));
    if let Err(error) = written {
        let damaged = matches!(error.kind(), io::ErrorKind::InvalidData | io::ErrorKind::UnexpectedEof)
            || error.kind() == io::ErrorKind::Other;
        let why = "an entry is damaged: use another copy of the file";
        return if damaged {
            Err(Error::Backup { why: why.into() })
        } else {
            Ok(Err(error).doing("restore")?)
        };
    }
    if !is_secret(name) {
        *(if is_photo { &mut restored.photos } else { &mut restored.segments }) += 1;
    }
    Ok(())
}

/// Every line fits its hash and every photo its name; counts those that stand where a notebook looks for them.
fn prove(root: &Path) -> Result<Restored, Error> {
    let wrong = || Error::Backup { why: "what it holds does not fit its hashes: use another copy".into() };
    let log = Log::below(root);
    let segments = log.segments().doing("read the log")?;
    for (segment, _) in &segments {
        // A backup may have been taken of a segment with a torn tail; damage further up is no backup to trust.
        if !log.scan(*segment, 0..u64::MAX).doing("read the log")?.damage.is_empty() {
            return Err(wrong());
        }
    }
    let shelf = Shelf::open(root).map_err(Error::from_shelf)?;
    let photos = shelf.list().map_err(Error::from_shelf)?;
    for photo in &photos {
        let path = shelf.path(&photo.hash).ok_or_else(wrong)?;
        let read = File::open(path).and_then(PhotoHash::of_reader).doing("read a photo")?;
        if read != photo.hash {
            return Err(wrong());
        }
    }
    Ok(Restored { segments: segments.len() as u64, photos: photos.len() as u64 })
}
