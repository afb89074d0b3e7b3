//! What can be wrong with a typed place.

use crate::units::Metres;

/// Why a place was refused. Every message says what to type instead; none repeats what was typed, because a place is
/// a secret and messages end up in logs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// A latitude that is no number from -90 to 90.
    #[error("latitude: give degrees from -90 to 90")]
    Latitude,
    /// A longitude that is no number from -180 to 180.
    #[error("longitude: give degrees from -180 to 180")]
    Longitude,
    /// An accuracy that is no number of metres from 0 to half round the Earth.
    #[error("accuracy_m: give metres from 0 to {}", Metres::MOST)]
    Accuracy,
    /// Nothing but blanks.
    #[error("no place given: type a grid reference like SU 387 147, or degrees like 50.9313, -1.4505")]
    Empty,
    /// Neither a grid reference nor degrees.
    #[error("not a place: type a grid reference like SU 387 147, or degrees like 50.9313, -1.4505")]
    Unrecognised,
    /// A square's letters without figures.
    #[error("letters alone name a square of 100 km: add 2 to 10 figures, like SU 387 147")]
    NoFigures,
    /// An odd number of figures, or a gap that does not part them into two equal halves.
    #[error("give as many figures for the easting as for the northing, like SU 387 147")]
    UnevenFigures,
    /// More than ten figures.
    #[error("too many figures: 10 name a square of 1 m, like SU 38710 14792")]
    TooManyFigures,
    /// Letters that name no square of either national grid.
    #[error("no such grid square: begin with two letters in Britain (like SU), one in Ireland (like O)")]
    UnknownSquare,
    /// Letters after the figures that name no tetrad or quadrant of a 10 km square.
    #[error("after two figures type a tetrad's letter (A to Z without O), or NW, NE, SW or SE")]
    UnknownPart,
    /// A zone, band, column or row that MGRS does not have there.
    #[error("no such MGRS square: check the zone, the band and the two letters, like 30U XC 999 081")]
    UnknownMgrs,
    /// Bare eastings and northings, which fit more than one grid.
    #[error("figures alone fit several grids: put the square's letters first, like SU 38710 14792")]
    NoLetters,
    /// One angle where two are needed, or numbers that cannot be shared out between two.
    #[error("give a latitude and a longitude, like 50.9313, -1.4505 or 50 55 52.6 N, 1 27 1.9 W")]
    TwoAngles,
    /// Commas within numbers as well as between them.
    #[error("write fractions with a point, like 50.9313, -1.4505")]
    DecimalComma,
    /// Degrees, minutes and seconds out of order, or a fraction that is not on the last of them.
    #[error("write degrees, then minutes, then seconds, with a fraction on the last only, like 50 55 52.6 N")]
    Order,
    /// Sixty minutes or seconds, or more.
    #[error("minutes and seconds go from 0 up to, not including, 60")]
    Sixtieths,
    /// A minus sign and a letter at the same angle, or two letters of one kind.
    #[error("give each angle either a minus sign or one letter: N or S for latitude, E or W for longitude")]
    Hemisphere,
}

impl Error {
    /// A stable name for the error, for programs and for wording in other languages.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Latitude => "place-latitude",
            Self::Longitude => "place-longitude",
            Self::Accuracy => "place-accuracy",
            Self::Empty => "place-empty",
            Self::Unrecognised => "place-unrecognised",
            Self::NoFigures => "place-no-figures",
            Self::UnevenFigures => "place-uneven-figures",
            Self::TooManyFigures => "place-too-many-figures",
            Self::UnknownSquare => "place-unknown-square",
            Self::UnknownPart => "place-unknown-part",
            Self::UnknownMgrs => "place-unknown-mgrs",
            Self::NoLetters => "place-no-letters",
            Self::TwoAngles => "place-two-angles",
            Self::DecimalComma => "place-decimal-comma",
            Self::Order => "place-order",
            Self::Sixtieths => "place-sixtieths",
            Self::Hemisphere => "place-hemisphere",
        }
    }
}
