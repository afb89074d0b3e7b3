//! The key: from what was seen to what it may be, what it must not be taken for, and what to look at next.
//!
//! Pure and deterministic: no clock, no disk, no randomness. Any character in any order; one wrong answer never
//! eliminates the truth for good; food is named only by the whole rule of naming ([`Status`]). It knows no species by
//! name: all knowledge is in the [`Pack`](crate::pack::Pack).
//!
//! # References
//! Bayes over a matrix of taxa and tests, with an answer only above a threshold: Lapage, Bascomb, Willcox and Curtis,
//! 1973, Journal of General Microbiology 77:273–290.

mod candidate;
mod engine;
mod evidence;
mod explain;
mod heard;
mod knowledge;
mod observer;
mod pools;
mod posterior;
mod question;
mod reading;
mod scale;
mod step;
pub mod stream;
mod table;

pub mod trial;
mod verdict;
mod way;
pub mod words;

pub use engine::Key;
pub use evidence::{Answer, Evidence, Observed, StateSet};
pub use observer::{NotAnObserverError, ObserverError};
pub use step::{Check, Explained, Fit, Obstacle, Point, Question, Ranked, SpokenAgainst, Step, Suspected};
pub use verdict::{DANGER_UP_TO, NAMED_FROM, SUSPECTED_FROM, Status, UNKNOWN_UP_TO};

#[cfg(test)]
mod tests;
