//! A trial of a pack and the key over it: specimens drawn from the pack, looked at by people who err, and questioned by
//! the key.
//!
//! The same settings give the same report, whatever the number of threads.

mod interval;
mod observer;
mod run;
mod specimen;
mod tally;

pub use interval::clopper_pearson;
pub use observer::{Observer, Suspicion};
pub use run::run;
pub use tally::{Pair, Report, Settled, Worst};

use super::observer::ObserverError;

/// What to try.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// How many specimens; the taxa take turns.
    pub specimens: u64,
    /// The chance that an answer is really wrong, 0 to 1.
    pub error: f64,
    /// The error that the key assumes.
    pub assumed: ObserverError,
    /// How errors are spread.
    pub observer: Observer,
    /// The name that observers start from.
    pub suspicion: Suspicion,
    /// Share of taxa that the key has never heard of, 0 to 1.
    pub unseen: f64,
    /// Share of cells that the key has wrong, 0 to 1.
    pub wrong_cells: f64,
    /// Draws the deadly taxa alone.
    pub only_deadly: bool,
    /// At most so many questions, second looks among them.
    pub questions: u64,
    /// Where the random numbers start.
    pub seed: u64,
    /// How many threads share the work.
    pub threads: usize,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            specimens: 96_000,
            error: 0.08,
            assumed: ObserverError::default(),
            observer: Observer::default(),
            suspicion: Suspicion::default(),
            unseen: 0.0,
            wrong_cells: 0.0,
            only_deadly: false,
            questions: 12,
            seed: 1,
            threads: std::thread::available_parallelism().map_or(1, Into::into),
        }
    }
}
