//! Reading a place as a person types or pastes it.

use std::fmt;
use std::str::FromStr;

use super::{Error, MgrsSquare, Position, Side, Square, degrees};

/// A place as typed: a square of a grid, or degrees.
#[derive(Clone, PartialEq)]
pub enum Reference {
    /// A square of the British or the Irish grid.
    Square(Square),
    /// A square of MGRS.
    Mgrs(MgrsSquare),
    /// Latitude and longitude, known to the digits typed.
    Degrees(Position),
}

impl Reference {
    /// The centre of what was typed, with half its diagonal as accuracy.
    ///
    /// # Errors
    /// None in practice: every square lies on the Earth.
    pub fn position(&self) -> Result<Position, Error> {
        match self {
            Self::Square(square) => Ok(square.position()?.0),
            Self::Mgrs(square) => Ok(square.centre()),
            Self::Degrees(position) => Ok(*position),
        }
    }

    /// The side of the square typed; `None` for degrees.
    #[must_use]
    pub fn side(&self) -> Option<Side> {
        match self {
            Self::Square(square) => Some(square.side()),
            Self::Mgrs(square) => Some(square.side()),
            Self::Degrees(_) => None,
        }
    }
}

impl fmt::Debug for Reference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Square(_) => "Square(hidden)",
            Self::Mgrs(_) => "Mgrs(hidden)",
            Self::Degrees(_) => "Degrees(hidden)",
        })
    }
}

impl FromStr for Reference {
    type Err = Error;

    /// Reads British and Irish grid references of 2 to 10 figures, tetrads, quadrants, MGRS, and latitude and longitude,
    /// in any case and with or without spaces.
    fn from_str(typed: &str) -> Result<Self, Error> {
        let text = plain(typed);
        if text.is_empty() {
            return Err(Error::Empty);
        }
        let Some(parts) = Parts::of(&text) else { return degrees::read(&text).map(Self::Degrees) };
        let (zone, letters, part) = (parts.zone.as_str(), parts.letters.as_str(), parts.part.as_str());
        match (zone.len(), letters.len(), part.len()) {
            (0, 1 | 2, 0..=2) => {
                let (east, north) = parts.figures()?;
                Square::read(letters, (&east, &north), part).map(Self::Square)
            }
            (1 | 2, 3, 0) => Self::mgrs(&parts),
            // Near the poles MGRS has no zones but begins with A, B, Y or Z.
            (0, 3, 0) if letters.starts_with(['A', 'B', 'Y', 'Z']) && !parts.digits.is_empty() => {
                Self::mgrs(&parts)
            }
            _ => degrees::read(&text).map(Self::Degrees),
        }
    }
}

impl Reference {
    fn mgrs(parts: &Parts) -> Result<Self, Error> {
        let (east, north) = parts.figures()?;
        MgrsSquare::read(&format!("{}{}{east}{north}", parts.zone, parts.letters)).map(Self::Mgrs)
    }
}

/// A grid reference taken apart.
struct Parts {
    /// Digits before the letters: the zone of MGRS.
    zone: String,
    letters: String,
    /// The figures, and after how many of them there were gaps.
    digits: String,
    gaps: Vec<usize>,
    /// Letters after the figures: a tetrad or quadrant.
    part: String,
}

impl Parts {
    /// `None` unless the text is digits, letters, digits, letters, with letters first or second, and nothing else
    /// but spaces, and commas between figures.
    fn of(text: &str) -> Option<Self> {
        let (zone, rest) = leading(text, |c| c.is_ascii_digit());
        let (letters, rest) = leading(rest, |c| c.is_ascii_uppercase());
        let (figures, rest) = leading(rest, |c| c.is_ascii_digit() || c == ',');
        let (part, rest) = leading(rest, |c| c.is_ascii_uppercase());
        if !rest.is_empty() || letters.is_empty() {
            return None;
        }
        let solid = |text: &str| text.chars().filter(|c| !c.is_whitespace() && *c != ',').collect::<String>();
        let mut gaps = Vec::new();
        let mut count = 0;
        for run in figures.split(|c: char| !c.is_ascii_digit()).filter(|run| !run.is_empty()) {
            count += run.len();
            gaps.push(count);
        }
        gaps.pop();
        Some(Self {
            zone: solid(zone),
            letters: solid(letters),
            digits: solid(figures),
            gaps,
            part: solid(part),
        })
    }

    /// The figures for the easting and those for the northing. If there are gaps, one must fall between the two: else a
    /// figure was left out somewhere, and guessing where would move the place.
    fn figures(&self) -> Result<(String, String), Error> {
        let half = self.digits.len() / 2;
        if self.digits.len() % 2 == 1 || !(self.gaps.is_empty() || self.gaps.contains(&half)) {
            return Err(Error::UnevenFigures);
        }
        let (east, north) = self.digits.split_at(half);
        Ok((east.to_owned(), north.to_owned()))
    }
}

/// The characters of that kind, and blanks, with which a text begins, and the rest.
fn leading(text: &str, kind: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|c: char| !kind(c) && !c.is_whitespace()).unwrap_or(text.len()))
}

/// In capitals, with one kind of minus and without the invisible marks that come along with pasted text.
fn plain(typed: &str) -> String {
    let seen = typed.chars().filter(|c| !matches!(c, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}'));
    let plain = seen.map(|c| match c {
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{FE63}' | '\u{FF0D}' => '-',
        _ => c.to_ascii_uppercase(),
    });
    plain.collect::<String>().trim().to_owned()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::place::{Grid, Place};

    fn square(text: &str) -> Result<String, Error> {
        match text.parse()? {
            Reference::Square(square) => Ok(square.to_string()),
            Reference::Mgrs(square) => Ok(square.to_string()),
            Reference::Degrees(_) => Ok("degrees".to_owned()),
        }
    }

    #[test]
    fn squares_are_read_however_they_are_spaced_and_cased() {
        for (typed, name) in [
            ("SU31", "SU31"),
            ("s u 3 1", "SU31"),
            ("su31x", "SU31X"),
            ("SU 31 X", "SU31X"),
            ("tf70nw", "TF70NW"),
            ("TF70 NW", "TF70NW"),
            ("SU3814", "SU3814"),
            ("SU387147", "SU 387 147"),
            (" su 387 147 ", "SU 387 147"),
            ("SU\u{a0}387\u{2009}147", "SU 387 147"),
            ("SU 387,147", "SU 387 147"),
            ("\u{200e}SU38711479\u{feff}", "SU 3871 1479"),
            ("SU 38 710 14 792", "SU 38710 14792"),
            ("SU3871014792", "SU 38710 14792"),
            ("O 15904 34671", "O 15904 34671"),
            ("o1534", "O1534"),
            ("O13M", "O13M"),
            ("N 51 48", "N5148"),
            ("30UXC9994108180", "30UXC9994108180"),
            ("30u xc 99941 08180", "30UXC9994108180"),
            ("4Q FJ 12 34", "4QFJ1234"),
            ("zah0000", "ZAH0000"),
            ("N 51.8, W 1.2", "degrees"),
            ("N51 W1", "degrees"),
            ("51N 1W", "degrees"),
        ] {
            assert_eq!(square(typed).as_deref(), Ok(name), "{typed}");
        }
    }

    #[test]
    fn what_is_no_place_is_refused_with_what_to_type() {
        for (typed, error) in [
            ("", Error::Empty),
            (" \u{200b} ", Error::Empty),
            ("the beech by the gate", Error::Unrecognised),
            ("SU", Error::NoFigures),
            ("30UXC", Error::NoFigures),
            ("SU 38 7147", Error::UnevenFigures),
            ("SU 387 14", Error::UnevenFigures),
            ("SU 3 8714 7", Error::UnevenFigures),
            ("SU3", Error::UnevenFigures),
            ("SU 387101 147921", Error::TooManyFigures),
            ("XX 387 147", Error::UnknownSquare),
            ("AA 387 147", Error::UnknownSquare),
            ("I 387 147", Error::UnknownSquare),
            ("SU31O", Error::UnknownPart),
            ("SU31NN", Error::UnknownPart),
            ("SU3814X", Error::UnknownPart),
            ("30UXZ 12 34", Error::UnknownMgrs),
            ("387 147", Error::Latitude),
            ("38710 14792", Error::NoLetters),
        ] {
            assert_eq!(square(typed), Err(error), "{typed}");
        }
    }

    fn sides() -> impl Strategy<Value = Side> {
        proptest::sample::select(Side::ALL.as_slice())
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = Place::read(&text);
        }

        /// Texts close to real ones, with what people mistype.
        #[test]
        fn any_near_miss_is_read_or_refused_and_never_repeated(text in r#"[0-9A-Za-z]{0,3}[ ,]?[-−]?[0-9.]{0,12}[°'′"″ ,NSEW]{0,3}[-0-9. ,]{0,14}[°'′"″NSEWX]{0,2}"#) {
            if let Err(error) = Place::read(&text) {
                // Words of the message may stand in the text by chance, figures of four digits and more may not.
                let message = error.to_string().replace("50.9313", "").replace("1.4505", "").replace("38710 14792", "");
                for run in text.split(|c: char| !c.is_ascii_digit()).filter(|run| run.len() > 3) {
                    prop_assert!(!message.contains(run), "{} repeats {}", message, run);
                }
            }
        }

        #[test]
        fn every_square_reads_back(
            (east, north) in (0.0..700_000.0, 0.0..1_300_000.0),
            side in sides(),
            lower in any::<bool>(),
            spaced in any::<bool>(),
        ) {
            for grid in [Grid::British, Grid::Irish] {
                let Some(square) = Square::containing(grid, east, north, side) else { continue };
                let mut text = square.to_string();
                if lower { text = text.to_lowercase(); }
                if !spaced { text = text.replace(' ', ""); }
                prop_assert_eq!(text.parse::<Reference>(), Ok(Reference::Square(square)));
            }
        }

        /// Through degrees and back the centre stays in its square, and the square keeps its name.
        #[test]
        fn a_round_trip_through_degrees_keeps_the_square(
            (east, north) in (0.0..700_000.0, 0.0..1_300_000.0),
            side in sides(),
        ) {
            let square = Square::containing(Grid::British, east, north, side).unwrap();
            let (position, by) = square.position().unwrap();
            if let Some(point) = crate::place::british::to_grid(position).filter(|point| point.by == by) {
                prop_assert_eq!(point.square(side), Some(square));
            }
        }
    }
}
