//! What is known: taxa, characters, look-alikes and their sources.

mod lookup;
mod model;
mod range;

pub use model::*;
pub use range::{MonthRange, NotARange, NumberRange};
