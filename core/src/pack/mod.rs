//! What is known: taxa, characters, look-alikes and their sources.
//!
//! The format of a pack's files is described in `packs/FORMAT.md`.

// The build script reads the built-in pack with the very modules that read one from a folder: build.rs names them.
mod check;
mod cited;
mod fields;
mod folder;
mod lookup;
mod model;
mod names;
mod open;
mod parting;
mod problem;
mod range;
mod read;
mod read_cells;
mod read_characters;
mod read_signs;
mod read_taxon;
mod search;
pub mod sheets;
mod signs;
mod statistics;
mod words;

pub use check::{check, check_folder, check_pack};
pub use cited::CitedFor;
pub use folder::{read_figures, read_folder};
pub use model::*;
pub(crate) use names::{did_you_mean, is_id};
pub use open::britain_figures;
pub use problem::{PackError, Problem};
pub use range::{MonthRange, NotARange, NumberRange};
pub use read::{Figures, Texts};
pub use search::Named;
pub use signs::{Handling, Life, Maturity, OwnSign, Sign, SignIndex, Size, Span};
pub use statistics::{Backed, Statistics};
pub use words::in_a_sentence;
pub(crate) use words::{capital, month_name};
