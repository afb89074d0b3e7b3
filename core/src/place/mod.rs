//! Where: positions, national grids, coarser places, and the way from one to another.
//!
//! A place comes in as a [`Position`] from a phone or a photograph, or as text, which [`Reference`] reads. It goes out in
//! every form at once as a [`Place`], or made coarse for sharing by [`coarsen`]. [`distance`] and [`bearing`] lead back.
//! A map of it is laid out by [`Flat`], with the lines of its grid ([`grid_lines`]).
//!
//! Everything here is pure. Places are secrets: no error repeats what was typed, and `Debug` forms hide coordinates.

mod answer;
mod around;
pub mod british;
mod coarse;
mod degrees;
mod distance;
mod error;
mod flat;
mod frame;
mod grid;
mod helmert;
pub mod irish;
mod lines;
mod mgrs;
mod ostn15;
mod position;
mod reference;
mod square;
mod transverse_mercator;

pub use answer::Place;
pub use around::around;
pub use coarse::{Coarse, Coarseness, coarsen};
pub use distance::{bearing, distance};
pub use error::Error;
pub use flat::{Flat, FlatPoint, ROUND_LENGTHS};
pub use frame::{grid_north, reference};
pub use grid::{Grid, GridPoint, Transformation, home};
pub use lines::{Axis, GridLine, GridLines, SquareName, Window, grid_lines};
pub use mgrs::MgrsSquare;
pub use position::Position;
pub use reference::Reference;
pub use square::{Side, Square};
