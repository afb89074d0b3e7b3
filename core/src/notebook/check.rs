//! The check: every hash of both copies, every table, every photo. What one copy lost, the other gives back.

use std::sync::Arc;

use serde::Serialize;

use super::job::Job;
use super::mend::{DAMAGED, Union, segments};
use super::{Notebook, Opening, Problem, kind};
use crate::error::Error;
use crate::photo::{Condition, PhotoHash};
use crate::progress::Progress;
use crate::store::{self, SecondCopy, StoreError, View};

/// What a check found. `problems` is what could not be put right; what could, is in `mended`.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct CheckReport {
    /// Nothing is lost or damaged.
    pub ok: bool,
    /// How many finds there are.
    pub finds: u64,
    /// How many photos belong to them.
    pub photos: u64,
    /// What is lost or damaged.
    pub problems: Vec<Problem>,
    /// What was put right, on opening or now.
    pub mended: Vec<Problem>,
    /// Photos on the shelf that no find owns; each can be adopted.
    pub unowned: Vec<PhotoHash>,
}

/// What the copies called for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    Whole,
    /// One copy lacks something that the other has.
    Mend,
    /// The view is no good.
    Rebuild,
}

impl Notebook {
    /// Verifies everything, and mends what can be mended. Reading and writing go on meanwhile.
    ///
    /// # Errors
    /// [`Error::Stopped`]; whatever keeps the disk from being read.
    pub fn check(&self, progress: &dyn Progress) -> Result<CheckReport, Error> {
        let mut opening = self.opening().clone();
        let verdict = match self.verify(progress) {
            Err(Error::View(error)) if error.calls_for_rebuild() => Verdict::Rebuild,
            verdict => verdict?,
        };
        if verdict != Verdict::Whole {
            let why = (verdict == Verdict::Rebuild).then_some(DAMAGED);
            let found = self.mend(&mut self.lock(), progress, why)?;
            opening.mended.extend(found.mended);
            opening.lost.extend(found.lost);
        }
        let Opening { mended, lost: mut problems } = opening;
        problems.extend(self.check_photos(progress)?);
        Ok(CheckReport {
            ok: problems.is_empty(),
            finds: self.read(|view| view.count(kind::FIND))?,
            photos: self.read(|view| view.count(kind::PHOTO))?,
            problems,
            mended,
            unowned: self.unowned_photos()?,
        })
    }

    /// Looks at both copies and the tables through a snapshot, without hindering the writer.
    fn verify(&self, progress: &dyn Progress) -> Result<Verdict, Error> {
        if self.lock().is_none() {
            return Err(Error::Paused);
        }
        let view = View::snapshot(&self.folder.view())?;
        let scratch = self.folder.scratch()?;
        if store::differs_from_its_changes(&view, &scratch.path().join("fresh.sqlite"), progress)? {
            return Err(StoreError::Damaged.into());
        }
        let log = self.folder.log();
        let copy = SecondCopy::in_view(view);
        if copy.is_damaged() {
            return Err(StoreError::Damaged.into());
        }
        for segment in segments(&log, &copy)? {
            // One that the snapshot does not know yet was begun after it.
            if copy.segments().contains_key(&segment) && !Union::of(&log, &copy, segment, true)?.is_clean() {
                return Ok(Verdict::Mend);
            }
            progress.step("comparing both copies")?;
        }
        Ok(Verdict::Whole)
    }

    fn check_photos(&self, progress: &dyn Progress) -> Result<Vec<Problem>, Error> {
        let mut problems = Vec::new();
        for hash in self.read(View::owned_files)? {
            let condition = match hash.parse::<PhotoHash>() {
                Ok(hash) => self.shelf.verify(&hash).map_err(Error::from_shelf)?,
                Err(_) => Condition::Missing,
            };
            match condition {
                Condition::Whole => {}
                Condition::Damaged => problems.push(Problem::new(
                    "photo-damaged",
                    format!("photo {hash} is damaged: add the same file again if you have it elsewhere"),
                )),
                Condition::Missing => problems.push(Problem::new(
                    "photo-missing",
                    format!("photo {hash} is missing: add the same file again if you have it elsewhere"),
                )),
            }
            progress.step("checking photos")?;
        }
        Ok(problems)
    }

    /// Checks in the background, as after opening; dropping the job stops it.
    #[must_use]
    pub fn check_in_background(self: &Arc<Self>) -> Job<CheckReport> {
        let notebook = Arc::clone(self);
        Job::start(move |progress| notebook.check(progress))
    }
}
