//! In what condition fruitbodies are: button, young, prime or past.

pub use crate::stage::Stage;
