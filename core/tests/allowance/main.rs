//! How much may be taken, against situations worked by hand, against published figures, and against what must always hold.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod codes;
mod properties;
mod situation;
mod situations;
mod sun;
