//! In what condition fruitbodies are: button, young, prime or past, from signs that people see and from sizes.
//!
//! What signs mean is knowledge and stands in the pack; here they are only weighed against each other. Two rules hold throughout: a
//! contradiction is told and never averaged, and whatever is past stays past, however much else speaks for it.

mod error;
mod judge;
mod signs;
mod size;
mod weigh;
mod words;

#[cfg(test)]
mod tests;

pub use crate::stage::Stage;
pub use error::SignError;
pub use judge::{Change, Judgement, Observed, Part, judge};
pub use signs::{TaxonSign, all_signs, common_signs, form_named, signs_of, signs_of_form, strange_signs};
pub use size::{Measure, SizeSeen, SizeVerdict};
pub use weigh::{By, Contradiction};
pub use words::leave_it;
