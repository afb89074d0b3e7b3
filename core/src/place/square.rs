//! Squares of the national grids and how they are written: letters, figures, tetrads, quadrants.

use std::fmt;

use super::{Error, Grid, Position, Transformation, british, irish};
use crate::units::Metres;

/// The letters of a 5 by 5 block, row by row from the north-west; I is left out.
const LETTERS: &[u8; 25] = b"ABCDEFGHJKLMNOPQRSTUVWXYZ";
/// The letters of the 25 tetrads of a hectad, column by column from the south-west, each upward; O is left out. The
/// second row from the north reads D I N T Y, which names the scheme.
const DINTY: &[u8; 25] = b"ABCDEFGHIJKLMNPQRSTUVWXYZ";
/// The quadrants of a hectad, row by row from the south-west.
const QUADRANTS: [&str; 4] = ["SW", "SE", "NW", "NE"];

const LETTERED: u32 = 100_000;

/// How long the side of a square is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// 1 m: ten figures.
    Metre,
    /// 10 m: eight figures.
    TenMetres,
    /// 100 m: six figures.
    HundredMetres,
    /// 1 km: four figures; recorders say monad.
    Kilometre,
    /// 2 km: two figures and a letter.
    Tetrad,
    /// 5 km: two figures and NW, NE, SW or SE.
    Quadrant,
    /// 10 km: two figures.
    Hectad,
}

impl Side {
    /// Every side, the shortest first.
    pub const ALL: [Self; 7] = [
        Self::Metre,
        Self::TenMetres,
        Self::HundredMetres,
        Self::Kilometre,
        Self::Tetrad,
        Self::Quadrant,
        Self::Hectad,
    ];

    /// Its length in metres.
    #[must_use]
    pub fn metres(self) -> u32 {
        match self {
            Self::Metre => 1,
            Self::TenMetres => 10,
            Self::HundredMetres => 100,
            Self::Kilometre => 1_000,
            Self::Tetrad => 2_000,
            Self::Quadrant => 5_000,
            Self::Hectad => 10_000,
        }
    }

    /// How far, in metres, a point of the square can be from its centre: half its diagonal.
    #[must_use]
    pub fn half_diagonal(self) -> f64 {
        f64::from(self.metres()) * std::f64::consts::FRAC_1_SQRT_2
    }

    /// The shortest side of at least so many metres, or the longest there is.
    pub(super) fn no_shorter_than(metres: f64) -> Self {
        Self::ALL.into_iter().find(|side| f64::from(side.metres()) >= metres).unwrap_or(Self::Hectad)
    }

    /// Figures for the easting, as many again for the northing.
    pub(super) fn figures(self) -> usize {
        match self {
            Self::Metre => 5,
            Self::TenMetres => 4,
            Self::HundredMetres => 3,
            Self::Kilometre => 2,
            Self::Tetrad | Self::Quadrant | Self::Hectad => 1,
        }
    }

    /// The side that so many figures for the easting, and as many for the northing, leave.
    pub(super) fn of_figures(figures: usize) -> Result<Self, Error> {
        match figures {
            0 => Err(Error::NoFigures),
            1 => Ok(Self::Hectad),
            2 => Ok(Self::Kilometre),
            3 => Ok(Self::HundredMetres),
            4 => Ok(Self::TenMetres),
            5 => Ok(Self::Metre),
            _ => Err(Error::TooManyFigures),
        }
    }

    /// The least square named by figures alone that is no finer.
    pub(super) fn plain(self) -> Self {
        if self > Self::Kilometre { Self::Hectad } else { self }
    }
}

/// A square of a national grid.
///
/// Written closed up from a kilometre up, as recorders name squares ("SU31", "SU31X", "SU3814"), and spaced below, to be
/// read aloud ("SU 387 147").
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Square {
    grid: Grid,
    /// The south-west corner, in metres: a multiple of the side, within the grid.
    corner: (u32, u32),
    side: Side,
}

impl Square {
    /// The square of that size in which a point lies, or `None` off the grid's lettered squares.
    ///
    /// # Units
    /// Metres.
    #[must_use]
    pub fn containing(grid: Grid, easting: f64, northing: f64, side: Side) -> Option<Self> {
        let (east, north) = match grid {
            Grid::British => british::EXTENT,
            Grid::Irish => (irish::EXTENT, irish::EXTENT),
        };
        if !(0.0..east).contains(&easting) || !(0.0..north).contains(&northing) {
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "within the grid's extent"
        )]
        let truncated = |metres: f64| metres as u32 / side.metres() * side.metres();
        Some(Self { grid, corner: (truncated(easting), truncated(northing)), side })
    }

    /// The square of those letters, figures and, for a tetrad or quadrant, that part of the 10 km square, all in capitals.
    pub(super) fn read(letters: &str, figures: (&str, &str), part: &str) -> Result<Self, Error> {
        let (grid, (east, north)) = lettered(letters).ok_or(Error::UnknownSquare)?;
        let whole = Side::of_figures(figures.0.len())?;
        let (side, offset) = match part {
            "" => (whole, (0, 0)),
            _ if whole != Side::Hectad => return Err(Error::UnknownPart),
            _ => part_of_hectad(part).ok_or(Error::UnknownPart)?,
        };
        let metres = |figures: &str| figures.parse::<u32>().map_err(|_| Error::Unrecognised);
        let corner = |lettered, figures, offset| Ok(lettered + metres(figures)? * whole.metres() + offset);
        let corner = (corner(east, figures.0, offset.0)?, corner(north, figures.1, offset.1)?);
        Ok(Self { grid, corner, side })
    }

    /// The grid it is a square of.
    #[must_use]
    pub fn grid(self) -> Grid {
        self.grid
    }

    /// Its size.
    #[must_use]
    pub fn side(self) -> Side {
        self.side
    }

    /// Easting and northing of its centre, in metres.
    #[must_use]
    pub fn centre(self) -> (f64, f64) {
        let half = f64::from(self.side.metres()) / 2.0;
        (f64::from(self.corner.0) + half, f64::from(self.corner.1) + half)
    }

    /// The letters of the 100 km square that it lies in: two on the British grid, one on the Irish.
    #[must_use]
    pub fn letters(self) -> String {
        let column_row = |block: u32| (self.corner.0 / block, self.corner.1 / block);
        let (column, row) = column_row(LETTERED);
        let last = letter(column % 5, row % 5);
        // Blocks of 500 km begin 1,000 km west and 500 km south of the origin.
        let (column, row) = column_row(5 * LETTERED);
        match self.grid {
            Grid::British => letter(column + 2, row + 1).to_owned() + last,
            Grid::Irish => last.to_owned(),
        }
    }

    /// Its centre, known to within half its diagonal (and more where the grid is reached by a fallback), and how it
    /// was reached.
    ///
    /// # Errors
    /// None in practice: every square lies on the Earth.
    pub fn position(self) -> Result<(Position, Transformation), Error> {
        let (easting, northing) = self.centre();
        let (position, by) = match self.grid {
            Grid::British => british::to_position(easting, northing)?,
            Grid::Irish => irish::to_position(easting, northing)?,
        };
        Ok((position.within(Metres::nearest(self.side.half_diagonal() + by.widening())), by))
    }
}

impl fmt::Display for Square {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (east, north) = self.corner;
        f.write_str(&self.letters())?;
        let figures = self.side.figures();
        let unit = 10_u32.pow(5 - u32::try_from(figures).unwrap_or(5));
        let (east, north) = (east % LETTERED / unit, north % LETTERED / unit);
        let gap = if self.side < Side::Kilometre { " " } else { "" };
        write!(f, "{gap}{east:0figures$}{gap}{north:0figures$}")?;
        let within = |side: u32| (self.corner.0 % 10_000 / side, self.corner.1 % 10_000 / side);
        match self.side {
            Side::Tetrad => {
                let (column, row) = within(2_000);
                f.write_str(nth(DINTY, column * 5 + row))
            }
            Side::Quadrant => {
                let (column, row) = within(5_000);
                f.write_str(QUADRANTS.get((row * 2 + column) as usize).unwrap_or(&"?"))
            }
            _ => Ok(()),
        }
    }
}

impl fmt::Debug for Square {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Square({:?}, {:?}, hidden)", self.grid, self.side)
    }
}

/// The letter of a column and row of a 5 by 5 block, counted from the south-west.
fn letter(column: u32, row: u32) -> &'static str {
    nth(LETTERS, (4 - row.min(4)) * 5 + column)
}

fn nth(letters: &'static [u8; 25], at: u32) -> &'static str {
    let at = at as usize;
    letters.get(at..=at).and_then(|letter| std::str::from_utf8(letter).ok()).unwrap_or("?")
}

/// The grid and the south-west corner of a 100 km square, by its letters.
fn lettered(letters: &str) -> Option<(Grid, (u32, u32))> {
    let place = |letter: u8| {
        let at = u32::try_from(LETTERS.iter().position(|known| *known == letter)?).ok()?;
        Some((at % 5, 4 - at / 5))
    };
    match *letters.as_bytes() {
        [block, letter] => {
            let (block, square) = (place(block)?, place(letter)?);
            let column = (block.0 * 5 + square.0).checked_sub(10)?;
            let row = (block.1 * 5 + square.1).checked_sub(5)?;
            (column < 7 && row < 13).then_some((Grid::British, (column * LETTERED, row * LETTERED)))
        }
        [letter] => {
            let (column, row) = place(letter)?;
            Some((Grid::Irish, (column * LETTERED, row * LETTERED)))
        }
        _ => None,
    }
}

/// A tetrad's or quadrant's side and its corner within the hectad.
fn part_of_hectad(part: &str) -> Option<(Side, (u32, u32))> {
    let (side, column, row) = if let [letter] = *part.as_bytes() {
        let at = DINTY.iter().position(|known| *known == letter)?;
        (Side::Tetrad, at / 5, at % 5)
    } else {
        let at = QUADRANTS.iter().position(|known| *known == part)?;
        (Side::Quadrant, at % 2, at / 2)
    };
    let metres = |steps: usize| u32::try_from(steps).ok().map(|steps| steps * side.metres());
    Some((side, (metres(column)?, metres(row)?)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn british(easting: f64, northing: f64, side: Side) -> String {
        Square::containing(Grid::British, easting, northing, side).unwrap().to_string()
    }

    /// The DINTY grid as county recorders print it: rows from the north.
    #[test]
    fn tetrads_follow_the_dinty_grid() {
        for (row, letters) in (0..).zip(["EJPUZ", "DINTY", "CHMSX", "BGLRW", "AFKQV"]) {
            for (column, letter) in (0..).zip(letters.chars()) {
                let (easting, northing) =
                    (570_000.0 + 2000.0 * f64::from(column), 158_000.0 - 2000.0 * f64::from(row));
                assert_eq!(british(easting, northing, Side::Tetrad), format!("TQ75{letter}"));
                assert_eq!(
                    british(easting + 1999.9, northing + 1999.9, Side::Tetrad),
                    format!("TQ75{letter}")
                );
            }
        }
    }

    #[test]
    fn the_lettered_squares_end_where_the_grid_ends() {
        for (easting, northing, name) in [
            (0.0, 0.0, "SV00"),
            (699_999.0, 0.0, "TW90"),
            (0.0, 1_299_999.0, "HL09"),
            (699_999.0, 1_299_999.0, "JM99"),
        ] {
            assert_eq!(british(easting, northing, Side::Hectad), name);
        }
        for letters in ["SU", "HP", "JM", "OV", "TW"] {
            assert!(Square::read(letters, ("1", "1"), "").is_ok(), "{letters}");
        }
        for letters in ["AA", "ZZ", "SI", "IS", "RU", "XA", "HF", "JN", "I", ""] {
            assert_eq!(Square::read(letters, ("1", "1"), ""), Err(Error::UnknownSquare), "{letters}");
        }
    }

    fn grids() -> impl Strategy<Value = (Grid, f64, f64)> {
        prop_oneof![
            (0.0..700_000.0, 0.0..1_300_000.0).prop_map(|(east, north)| (Grid::British, east, north)),
            (0.0..500_000.0, 0.0..500_000.0).prop_map(|(east, north)| (Grid::Irish, east, north)),
        ]
    }

    proptest! {
        #[test]
        fn squares_are_truncated_and_nest((grid, easting, northing) in grids()) {
            let squares = Side::ALL.map(|side| Square::containing(grid, easting, northing, side).unwrap());
            for square in squares {
                let half = f64::from(square.side().metres()) / 2.0;
                let centre = square.centre();
                for (metres, middle) in [(easting, centre.0), (northing, centre.1)] {
                    prop_assert!(middle - half <= metres && metres < middle + half);
                    prop_assert!((middle - half) % f64::from(square.side().metres()) < 1e-9);
                }
                // Figures are a prefix of finer ones: cut off, never rounded.
                let figures = square.side().figures();
                let text = |square: Square| square.to_string().replace(' ', "");
                let (coarse, fine) = (text(square), text(squares[0]));
                let letters = fine.len() - 10;
                prop_assert_eq!(&coarse[..letters + figures], &fine[..letters + figures]);
                prop_assert_eq!(
                    &coarse[letters + figures..letters + 2 * figures],
                    &fine[letters + 5..letters + 5 + figures]
                );
            }
        }
    }
}
