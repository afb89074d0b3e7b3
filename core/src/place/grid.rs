//! The two national grids, points on them, and how good the way to them is.

use std::fmt;

use super::{Position, Side, Square, british, helmert, irish};

/// A national grid whose 100 km squares have letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Grid {
    /// The British National Grid (OSGB36), with two letters.
    British,
    /// The Irish Grid, with one.
    Irish,
}

/// How a point on a national grid was reached from WGS84, or WGS84 from it.
///
/// WGS84 is taken for ETRS89 throughout, as phones and the Ordnance Survey's guide do: Europe has drifted some 2.5 cm a
/// year since 1989, so the two are now within a metre of each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Transformation {
    /// OSTN15, in the area it was made for: it defines the National Grid.
    Ostn15,
    /// OSTN15's smooth continuation over the rest of its table, where no survey mark holds it.
    Ostn15Beyond,
    /// Seven parameters for the whole of Britain, off OSTN15's table.
    Helmert,
    /// The surveys' polynomial, in Ireland: the standard for the Irish Grid.
    IrishPolynomial,
    /// The same polynomial in the sea and the land around Ireland.
    IrishPolynomialBeyond,
}

impl Transformation {
    /// How far it may be out.
    ///
    /// # Units
    /// Metres.
    ///
    /// # References
    /// OSTN15: 0.1 m root mean square; Irish polynomial: 0.4 m for 95 % (Ordnance Survey, "Transformations and OSGM15
    /// user guide" v1.3, 2020, chapter 4). Fallbacks: how far they and their alternatives part, measured: Helmert and
    /// OSTN15 7.3 m over the table of OSTN15, the Irish polynomial and TM75's Helmert 31 m in the corners of the grid.
    #[must_use]
    pub fn accuracy(self) -> f64 {
        match self {
            Self::Ostn15 => 0.1,
            Self::IrishPolynomial => 0.4,
            Self::Ostn15Beyond | Self::Helmert => helmert::ACCURACY,
            Self::IrishPolynomialBeyond => 31.0,
        }
    }

    /// Whether it is the official one for the place, rather than a fallback.
    #[must_use]
    pub fn is_official(self) -> bool {
        matches!(self, Self::Ostn15 | Self::IrishPolynomial)
    }

    /// What it adds to the uncertainty of a square, in metres: nothing where it is official, for there the grid is what
    /// the transformation says it is.
    pub(super) fn widening(self) -> f64 {
        if self.is_official() { 0.0 } else { self.accuracy() }
    }
}

/// A point on a national grid.
#[derive(Clone, Copy, PartialEq)]
pub struct GridPoint {
    /// The grid.
    pub grid: Grid,
    /// Metres east of the grid's false origin.
    pub easting: f64,
    /// Metres north of it.
    pub northing: f64,
    /// How it was reached.
    pub by: Transformation,
}

impl GridPoint {
    /// The square of that size in which it lies: truncated, never rounded.
    #[must_use]
    pub fn square(self, side: Side) -> Option<Square> {
        Square::containing(self.grid, self.easting, self.northing, side)
    }
}

impl fmt::Debug for GridPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "GridPoint({:?}, hidden)", self.grid)
    }
}

/// The point of the national grid that is at home at a position: the British where the Ordnance Survey made it for the
/// place, the Irish in Ireland, `None` abroad.
#[must_use]
pub fn home(position: Position) -> Option<GridPoint> {
    let official = |point: &GridPoint| point.by.is_official();
    british::to_grid(position).filter(official).or_else(|| irish::to_grid(position).filter(official))
}
