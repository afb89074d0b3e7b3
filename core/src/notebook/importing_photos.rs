//! A folder of photos: looked through, grouped into finds that somebody approves, and kept.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, BufReader, Read, Seek};
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::Notebook;
use super::finds::{Added, new_find};
use super::photos::{NewPhoto, TakenIn};
use crate::disk::Doing;
use crate::error::Error;
use crate::find::{FieldError, Find};
use crate::id::FindId;
use crate::import::{Shot, together};
use crate::photo::{Format, HEAD, MOST_BYTES, PhotoFacts, PhotoHash, Role};
use crate::progress::Progress;

/// The most files that one folder may hold, with the folders in it.
const MOST_FILES: usize = 50_000;

/// The most photos that are kept at once: their records are one act, and an act has a size (`change::Size`).
const MOST_AT_ONCE: usize = 5_000;

/// A photo in a folder that no find has yet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FoundPhoto {
    /// The file.
    pub path: PathBuf,
    /// The hash of its bytes.
    pub sha256: PhotoHash,
    /// When and where it was taken.
    #[serde(flatten)]
    pub shot: Shot,
}

/// What a folder of photos would become.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct FoundPhotos {
    /// Photos of one find each, the earliest first.
    pub finds: Vec<Vec<FoundPhoto>>,
    /// Photos that some find has already, or that stand in the folder twice.
    pub already_there: usize,
    /// Files that are no photos, or cannot be read.
    pub passed_over: usize,
}

impl Notebook {
    /// Looks a folder through, with the folders in it, and groups the photos that no find has yet. Nothing is kept. Links are not
    /// followed.
    ///
    /// # Errors
    /// [`Error::Disk`] if the folder cannot be read, [`Error::Field`] if it holds too much, [`Error::Stopped`].
    pub fn find_photos(&self, folder: &Path, progress: &dyn Progress) -> Result<FoundPhotos, Error> {
        let mut known: BTreeSet<String> = self.read(crate::store::View::owned_files)?.into_iter().collect();
        let mut found = FoundPhotos::default();
        let mut photos = Vec::new();
        for path in files(folder, progress)? {
            progress.step("looking at photos")?;
            match self.look(&path) {
                Ok(Some(photo)) if known.insert(photo.sha256.to_string()) => photos.push(photo),
                Ok(Some(_)) => found.already_there += 1,
                Ok(None) | Err(_) => found.passed_over += 1,
            }
        }
        let shots: Vec<Shot> = photos.iter().map(|photo| photo.shot).collect();
        let mut photos: Vec<Option<FoundPhoto>> = photos.into_iter().map(Some).collect();
        let mut take = |at: usize| photos.get_mut(at).and_then(Option::take);
        found.finds = together(&shots)
            .into_iter()
            .map(|group| group.into_iter().filter_map(&mut take).collect())
            .collect();
        Ok(found)
    }

    /// Keeps groups of photos as finds: all of them, or none. A find whose photos do not say when they were taken has no time.
    ///
    /// # Errors
    /// [`Error::TooMuch`] for more than 5,000 photos; [`Error::Photo`] if one cannot be taken in; those that were before stand on the shelf without a find then. [`Error::NoRoom`],
    /// [`Error::Stopped`].
    pub fn import_photos(
        &self,
        groups: &[Vec<FoundPhoto>],
        progress: &dyn Progress,
    ) -> Result<Vec<Added>, Error> {
        if groups.iter().map(Vec::len).sum::<usize>() > MOST_AT_ONCE {
            return Err(Error::TooMuch); // before any is copied
        }
        let mut finds = Vec::with_capacity(groups.len());
        for group in groups.iter().filter(|group| !group.is_empty()) {
            progress.step("taking in photos")?;
            let mut warnings = Vec::new();
            let new: Vec<NewPhoto> = group
                .iter()
                .map(|photo| NewPhoto { path: photo.path.clone(), role: Role::default() })
                .collect();
            let photos = self.take_in(&new, &mut warnings)?;
            let mut find = Find::default();
            self.complete(&mut find, &photos, &mut warnings);
            if photos.iter().all(|photo| photo.taken().is_none()) {
                find.at = None;
            }
            finds.push((FindId::new(), find, photos, warnings));
        }
        self.decide_and_keep(|desk| {
            let (mut edits, mut all) = (Vec::new(), Vec::new());
            for (id, find, photos, warnings) in &finds {
                let (new, patch) = new_find(desk, *id, find, photos)?;
                edits.extend(new);
                all.push(Added {
                    id: *id,
                    photos: photos.iter().map(TakenIn::of_find).collect(),
                    position: find.position.clone(),
                    at: find.at,
                    patch,
                    warnings: warnings.clone(),
                });
            }
            Ok((edits, all))
        })
    }

    /// What a file says, if it is a photo.
    fn look(&self, path: &Path) -> io::Result<Option<FoundPhoto>> {
        let mut file = BufReader::new(File::open(path)?);
        let mut head = Vec::with_capacity(HEAD);
        file.by_ref().take(HEAD as u64).read_to_end(&mut head)?;
        let length = file.get_ref().metadata()?.len();
        if Format::sniff(&head).is_none() || length > MOST_BYTES {
            return Ok(None);
        }
        file.rewind()?;
        let sha256 = PhotoHash::of_reader(&mut file)?;
        file.rewind()?;
        let facts = PhotoFacts::read_safely(&mut file, &self.clock.zone(), &mut Vec::new());
        let shot = Shot { taken: facts.taken, position: facts.position };
        Ok(Some(FoundPhoto { path: path.to_owned(), sha256, shot }))
    }
}

/// The files in a folder and the folders in it, by name.
fn files(folder: &Path, progress: &dyn Progress) -> Result<Vec<PathBuf>, Error> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).doing("read the folder of photos")? {
            progress.step("looking for photos")?;
            let entry = entry.doing("read the folder of photos")?;
            let kind = entry.file_type().doing("read the folder of photos")?;
            if kind.is_dir() {
                folders.push(entry.path());
            } else if kind.is_file() {
                files.push(entry.path());
            }
            if files.len() + folders.len() > MOST_FILES {
                let why = format!("more than {MOST_FILES} files: give a folder with fewer");
                return Err(FieldError { field: "folder", why }.into());
            }
        }
    }
    files.sort_unstable();
    Ok(files)
}
