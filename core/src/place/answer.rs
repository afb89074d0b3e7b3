//! One place in every form: what `place` answers.

use std::fmt;

use serde::Serialize;

use super::grid::{Grid, GridPoint, Transformation, home};
use super::{Error, MgrsSquare, Position, Reference, Side};
use crate::units::Metres;

/// A place in every form that applies to it. Its JSON form has exactly these fields, `by` aside, in this order.
///
/// Names are no finer than what was typed: a typed square is named again by a square of its size (a tetrad or quadrant
/// on another grid by 10 km), and degrees by squares of 1 m, for which `uncertainty_m` says how far to trust them.
#[derive(Clone, PartialEq, Serialize)]
pub struct Place {
    /// Degrees north, WGS84.
    pub latitude: f64,
    /// Degrees east, WGS84.
    pub longitude: f64,
    /// How far the true place may be from here, in metres; `None` if nothing says.
    pub uncertainty_m: Option<f64>,
    /// British National Grid metres; `None` where that grid does not hold.
    pub easting: Option<f64>,
    /// British National Grid metres; `None` where that grid does not hold.
    pub northing: Option<f64>,
    /// The British grid reference, like "TQ 30624 78388"; `None` where that grid does not hold.
    pub british_grid: Option<String>,
    /// The Irish grid reference, like "O 15904 34671"; `None` outside Ireland.
    pub irish_grid: Option<String>,
    /// The MGRS reference, like "30UXC9994108180".
    pub mgrs: Option<String>,
    /// How the national grid and WGS84 were brought together, and so how well; `None` where only MGRS applies.
    #[serde(skip)]
    pub by: Option<Transformation>,
}

impl Place {
    /// Reads a place as typed: see [`Reference`].
    ///
    /// # Errors
    /// [`Error`] says what to type instead.
    pub fn read(typed: &str) -> Result<Self, Error> {
        let reference: Reference = typed.parse()?;
        let position = reference.position()?;
        let side = reference.side().map_or(Side::Metre, Side::plain);
        let Reference::Square(square) = reference else {
            return Ok(Self::named(position, home(position), side));
        };
        // A square typed on a national grid is answered on that grid, even beyond the area that the grid was made for.
        let (easting, northing) = square.centre();
        let by = square.position()?.1;
        let mut place =
            Self::named(position, Some(GridPoint { grid: square.grid(), easting, northing, by }), side);
        *(match square.grid() {
            Grid::British => &mut place.british_grid,
            Grid::Irish => &mut place.irish_grid,
        }) = Some(square.to_string());
        Ok(place)
    }

    /// A known position in every form.
    #[must_use]
    pub fn of(position: Position) -> Self {
        Self::named(position, home(position), Side::Metre)
    }

    /// A known position under names that are no finer than it is known: the square that it lies in, with a side no shorter
    /// than the uncertainty. A typed square so gets its own name back. Where nothing says how well it is known, 10 m, as
    /// a phone would have it (common practice, no source).
    #[must_use]
    pub fn told(position: Position) -> Self {
        let side = Side::no_shorter_than(position.accuracy().map_or(10.0, Metres::get));
        let point = home(position);
        let mut place = Self::named(position, point, side.plain());
        let name = point.and_then(|point| point.square(side)).map(|square| square.to_string());
        match point.map(|point| point.grid) {
            Some(Grid::British) => place.british_grid = name,
            Some(Grid::Irish) => place.irish_grid = name,
            None => {}
        }
        place
    }

    /// The one name to show: a grid reference; degrees only where no grid holds.
    #[must_use]
    pub fn name(&self) -> String {
        let grid = self.british_grid.as_ref().or(self.irish_grid.as_ref()).or(self.mgrs.as_ref());
        grid.cloned().unwrap_or_else(|| format!("{:.5}, {:.5}", self.latitude, self.longitude))
    }

    fn named(position: Position, point: Option<GridPoint>, side: Side) -> Self {
        let on = |grid| point.filter(|point| point.grid == grid);
        let name = |point: GridPoint| point.square(side).map(|square| square.to_string());
        Self {
            latitude: rounded(position.latitude(), 9),
            longitude: rounded(position.longitude(), 9),
            uncertainty_m: position.accuracy().map(|metres| rounded(Metres::get(metres), 3)),
            easting: on(Grid::British).map(|point| rounded(point.easting, 3)),
            northing: on(Grid::British).map(|point| rounded(point.northing, 3)),
            british_grid: on(Grid::British).and_then(name),
            irish_grid: on(Grid::Irish).and_then(name),
            mgrs: MgrsSquare::containing(position, side).ok().map(|square| square.to_string()),
            by: point.map(|point| point.by),
        }
    }
}

/// To so many decimals: nine of a degree are a tenth of a millimetre.
fn rounded(value: f64, decimals: i32) -> f64 {
    let unit = 10_f64.powi(decimals);
    (value * unit).round() / unit
}

impl fmt::Debug for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Place(hidden)")
    }
}
