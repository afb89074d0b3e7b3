//! What to do when someone is ill: whom to ring, what to do and not to do, when the signs of which poison begin.
//!
//! All of it is data in `packs/help`, each line with its source and the day on which that was read. It is read without any
//! notebook, and shells make their first, static page from the same files.

mod model;

pub use model::{Country, Course, Help, HelpError, LineKind, Number, Section, Source, Statement};

#[cfg(test)]
mod tests;
