//! Long work in the background: how far it is, and how it is stopped.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;

use super::backup::Restored;
use super::{Notebook, Opening};
use crate::error::Error;
use crate::progress::{Progress, Stopped};

/// Work that goes on in a thread of its own; dropping it asks the work to stop.
#[derive(Debug)]
pub struct Job<T> {
    watch: Arc<Watch>,
    thread: Option<JoinHandle<Result<T, Error>>>,
}

/// How far a job is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Far {
    /// How many steps it has made. How many there are in all, nobody knows before the end.
    pub steps: u64,
    /// What it is doing, in a few words; empty before its first step.
    pub doing: &'static str,
}

#[derive(Debug, Default)]
struct Watch {
    steps: AtomicU64,
    doing: Mutex<&'static str>,
    stop: AtomicBool,
}

impl Progress for Watch {
    fn go_on(&self, doing: &'static str) -> bool {
        self.steps.fetch_add(1, Ordering::Relaxed);
        *self.doing.lock().unwrap_or_else(PoisonError::into_inner) = doing;
        !self.stop.load(Ordering::Relaxed)
    }
}

impl<T: Send + 'static> Job<T> {
    /// Sets work going.
    #[must_use]
    pub fn start(work: impl FnOnce(&dyn Progress) -> Result<T, Error> + Send + 'static) -> Self {
        let watch = Arc::new(Watch::default());
        let watching = Arc::clone(&watch);
        let thread = std::thread::spawn(move || work(watching.as_ref()));
        Self { watch, thread: Some(thread) }
    }
}

impl<T> Job<T> {
    /// How far it is.
    #[must_use]
    pub fn far(&self) -> Far {
        Far {
            steps: self.watch.steps.load(Ordering::Relaxed),
            doing: *self.watch.doing.lock().unwrap_or_else(PoisonError::into_inner),
        }
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.watch.stop.store(true, Ordering::Relaxed);
    }

    /// Whether it has come to its end, good or bad: then [`Job::wait`] does not wait.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.thread.as_ref().is_none_or(JoinHandle::is_finished)
    }

    /// Waits for what came of it.
    ///
    /// # Errors
    /// Whatever the work says; [`Error::Stopped`] if it was stopped.
    pub fn wait(mut self) -> Result<T, Error> {
        match self.thread.take().map(JoinHandle::join) {
            Some(Ok(result)) => result,
            _ => Err(Stopped.into()),
        }
    }
}

impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.stop();
    }
}

impl Notebook {
    /// Writes a backup in the background; see [`Notebook::backup`].
    #[must_use]
    pub fn backup_in_background(self: &Arc<Self>, to: PathBuf) -> Job<Restored> {
        let notebook = Arc::clone(self);
        Job::start(move |progress| notebook.backup(&to, progress))
    }

    /// Builds the view afresh in the background; see [`Notebook::rebuild`].
    #[must_use]
    pub fn rebuild_in_background(self: &Arc<Self>) -> Job<Opening> {
        let notebook = Arc::clone(self);
        Job::start(move |progress| notebook.rebuild(progress))
    }
}
