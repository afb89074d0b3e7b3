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

/// Which question is asked next.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Order {
    /// The one that the key puts first.
    #[default]
    Best,
    /// Any that is left, to have something to compare the key's order with.
    Random,
}

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
    /// Which question is asked next.
    pub order: Order,
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
            order: Order::default(),
            questions: 12,
            seed: 1,
            threads: std::thread::available_parallelism().map_or(1, Into::into),
        }
    }
}

#[cfg(test)]
mod tests;
