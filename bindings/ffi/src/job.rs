//! Long work: a handle that tells how far it is, and can be asked to stop.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::tz::TimeZone;
use trug::notebook;

use crate::book::OpeningReport;
use crate::leaving::{CopiesLeaving, LeavingShown, Outgoing};
use crate::restore::HoldsShown;
use crate::shared::Said;
use crate::{Book, BundleRead, ExchangeReport, TrugError};

/// Work that goes on by itself. Letting go of it asks it to stop.
#[derive(uniffi::Object)]
pub struct Job {
    state: Mutex<State>,
}

pub(crate) enum State {
    Previewing(Outgoing),
    Sharing(Outgoing),
    Checking(notebook::Job<notebook::CheckReport>),
    BackingUp(notebook::Job<notebook::Restored>),
    Rebuilding(notebook::Job<notebook::Opening>),
    Reading(notebook::Job<notebook::Received>),
    Exchanging(notebook::Job<notebook::Exchanged>),
    Restoring(notebook::Job<notebook::Holds>, TimeZone),
    Over(Result<JobReport, TrugError>),
}

/// How far a job is.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Progress {
    /// How many steps it has made; how many there are in all, nobody knows before the end.
    pub steps: u64,
    /// What it is doing, in a few words; empty before its first step and after its last.
    pub doing: String,
    /// Whether it has come to its end, good or bad.
    pub over: bool,
}

/// What came of a job.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Enum)]
pub enum JobReport {
    /// What would leave was gathered.
    Previewed {
        /// What it is.
        leaving: LeavingShown,
        /// Each copy of it.
        copies: Arc<CopiesLeaving>,
    },
    /// What leaves was written.
    Shared {
        /// What it is.
        leaving: LeavingShown,
    },
    /// Everything was verified.
    Checked {
        /// Nothing is lost or damaged.
        ok: bool,
        /// How many finds there are.
        finds: u64,
        /// How many photos belong to them.
        photos: u64,
        /// What is lost or damaged.
        problems: Vec<Said>,
        /// What was put right.
        mended: Vec<Said>,
        /// How many photos no find owns.
        unowned: u64,
    },
    /// A backup was written.
    BackedUp {
        /// How many photos are in it.
        photos: u64,
    },
    /// A backup was unpacked and proved: it is ready to be used.
    Ready {
        /// What it holds.
        holds: HoldsShown,
    },
    /// The view was built afresh.
    Rebuilt {
        /// What that found.
        report: OpeningReport,
    },
    /// A bundle was read: looked into, or taken.
    Read {
        /// What it brings.
        bundle: BundleRead,
    },
    /// A folder was exchanged over.
    Exchanged {
        /// What came of it.
        report: ExchangeReport,
    },
}

impl std::fmt::Debug for Job {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Job").finish_non_exhaustive()
    }
}

impl From<notebook::CheckReport> for JobReport {
    fn from(report: notebook::CheckReport) -> Self {
        Self::Checked {
            ok: report.ok,
            finds: report.finds,
            photos: report.photos,
            problems: report.problems.iter().map(Said::from).collect(),
            mended: report.mended.iter().map(Said::from).collect(),
            unowned: report.unowned.len() as u64,
        }
    }
}

impl State {
    fn is_over(&self) -> bool {
        match self {
            Self::Previewing(going) | Self::Sharing(going) => going.job.is_over(),
            Self::Checking(job) => job.is_over(),
            Self::BackingUp(job) => job.is_over(),
            Self::Rebuilding(job) => job.is_over(),
            Self::Reading(job) => job.is_over(),
            Self::Exchanging(job) => job.is_over(),
            Self::Restoring(job, _) => job.is_over(),
            Self::Over(_) => true,
        }
    }

    /// Waits for the end.
    fn end(self) -> Result<JobReport, TrugError> {
        match self {
            Self::Previewing(going) => {
                let (leaving, copies) = going.end()?;
                Ok(JobReport::Previewed { leaving, copies })
            }
            Self::Sharing(going) => Ok(JobReport::Shared { leaving: going.end()?.0 }),
            Self::Checking(job) => Ok(job.wait()?.into()),
            Self::BackingUp(job) => Ok(JobReport::BackedUp { photos: job.wait()?.photos }),
            Self::Rebuilding(job) => Ok(JobReport::Rebuilt { report: (&job.wait()?).into() }),
            Self::Reading(job) => Ok(JobReport::Read { bundle: job.wait()?.into() }),
            Self::Exchanging(job) => Ok(JobReport::Exchanged { report: job.wait()?.into() }),
            Self::Restoring(job, zone) => Ok(JobReport::Ready { holds: HoldsShown::new(job.wait()?, &zone) }),
            Self::Over(result) => result,
        }
    }
}

impl Job {
    pub(crate) fn start(state: State) -> Arc<Self> {
        Arc::new(Self { state: Mutex::new(state) })
    }

    /// A backup that is being made ready, for a phone in this zone.
    pub(crate) fn restoring(job: notebook::Job<notebook::Holds>, zone: TimeZone) -> Arc<Self> {
        Self::start(State::Restoring(job, zone))
    }
}

#[uniffi::export]
impl Job {
    /// How far it is.
    ///
    /// # Errors
    /// None in practice.
    pub fn progress(&self) -> Result<Progress, TrugError> {
        let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        let far = match &*state {
            State::Previewing(going) | State::Sharing(going) => going.job.far(),
            State::Checking(job) => job.far(),
            State::BackingUp(job) => job.far(),
            State::Rebuilding(job) => job.far(),
            State::Reading(job) => job.far(),
            State::Exchanging(job) => job.far(),
            State::Restoring(job, _) => job.far(),
            State::Over(_) => notebook::Far { steps: 0, doing: "" },
        };
        Ok(Progress { steps: far.steps, doing: far.doing.to_owned(), over: state.is_over() })
    }

    /// Asks it to stop; what was there before still stands. It ends with `stopped` soon after.
    ///
    /// # Errors
    /// None in practice.
    pub fn cancel(&self) -> Result<(), TrugError> {
        match &*self.state.lock().unwrap_or_else(PoisonError::into_inner) {
            State::Previewing(going) | State::Sharing(going) => going.job.stop(),
            State::Checking(job) => job.stop(),
            State::BackingUp(job) => job.stop(),
            State::Rebuilding(job) => job.stop(),
            State::Reading(job) => job.stop(),
            State::Exchanging(job) => job.stop(),
            State::Restoring(job, _) => job.stop(),
            State::Over(_) => {}
        }
        Ok(())
    }

    /// What came of it; nothing while it goes on.
    ///
    /// # Errors
    /// `stopped` if it was cancelled; whatever kept it from its end.
    pub fn result(&self) -> Result<Option<JobReport>, TrugError> {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        if !state.is_over() {
            return Ok(None);
        }
        let unknown = State::Over(Err(trug::progress::Stopped.into()));
        let result = std::mem::replace(&mut *state, unknown).end();
        *state = State::Over(result.clone());
        result.map(Some)
    }
}

#[uniffi::export]
impl Book {
    /// Starts to verify everything, and to mend what can be mended. The book may be used meanwhile.
    ///
    /// # Errors
    /// None in practice.
    pub fn start_check(&self) -> Result<Arc<Job>, TrugError> {
        Ok(Job::start(State::Checking(self.notebook.check_in_background())))
    }

    /// Starts to write everything to one new file.
    ///
    /// # Errors
    /// None here; the job ends with `in-the-way` if the file is there already.
    pub fn start_backup(&self, path: String) -> Result<Arc<Job>, TrugError> {
        Ok(Job::start(State::BackingUp(self.notebook.backup_in_background(PathBuf::from(path)))))
    }

    /// Starts to build the view afresh from the log. Other calls wait until it is done.
    ///
    /// # Errors
    /// None in practice.
    pub fn start_rebuild(&self) -> Result<Arc<Job>, TrugError> {
        Ok(Job::start(State::Rebuilding(self.notebook.rebuild_in_background())))
    }
}
