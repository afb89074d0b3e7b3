//! How long work tells how far it is, and how it is stopped.

/// The one who watches a job asked it to stop; everything is as it was before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("stopped before the end: nothing was changed")]
pub struct Stopped;

/// Hears of every step of a long job and may stop it.
pub trait Progress: Sync {
    /// One more step of this kind is done. Called often: be quick. `false` stops the job.
    fn go_on(&self, doing: &'static str) -> bool;
}

/// Nobody looks, nothing stops it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Progress for Unwatched {
    fn go_on(&self, _doing: &'static str) -> bool {
        true
    }
}

impl dyn Progress + '_ {
    /// Reports a step.
    ///
    /// # Errors
    /// [`Stopped`] if the job is to stop.
    pub fn step(&self, doing: &'static str) -> Result<(), Stopped> {
        if self.go_on(doing) { Ok(()) } else { Err(Stopped) }
    }
}
