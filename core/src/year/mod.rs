//! The year: what was found, when and where, and where somebody looked and found nothing.
//!
//! [`Counting`] takes what finds come to, visits and outings, in any order, and gives [`Counted`]: for all finds together, for each
//! fungus and for each place, a [`Course`] of what every calendar month came to. [`twelve`] lays a course over the twelve months of
//! a season, or all its seasons over each other; [`runs`] tells first and last days year by year. All of it is pure.
//!
//! The year turns where [`crate::patch::Season`] does, on 1 July, so that New Year parts no winter's gathering and a season means the same
//! here, at a patch and in a code of gathering.

mod cell;
mod counting;
mod key;
mod look;
mod month;
mod runs;
#[cfg(test)]
mod tests;
mod told;
mod twelve;

pub use cell::{Came, Cell, Course};
pub use counting::{Counted, Counting, Row};
pub use key::Key;
pub use month::{Month, Pick};
pub use runs::{Run, Runs, runs};
pub use told::{Called, Ground, Sum, Visited, Watched, Went};
pub use twelve::{LEVELS, Laid, level, order, seasons, twelve};
