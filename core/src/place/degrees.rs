//! Reading latitude and longitude as people write them: decimal degrees, degrees and minutes, degrees, minutes and
//! seconds, with signs or letters, in either order where letters tell which is which.

use super::distance::distance;
use super::{Error, Position};
use crate::units::Metres;

/// The least uncertainty that typed degrees are given, in metres, however many decimals they have.
const LEAST: f64 = 0.01;
/// Numbers from here up are no degrees but eastings and northings, whose grid the letters would have told.
const NO_DEGREES: f64 = 1000.0;

#[derive(Clone, Copy, PartialEq)]
enum Token {
    /// A number without its sign, and its decimals (`None` without a point).
    Number(f64, Option<i32>),
    /// A sign before a number: true for minus.
    Sign(bool),
    /// A mark after a number: 0 for degrees, 1 for minutes, 2 for seconds.
    Mark(usize),
    Hemisphere(Hemisphere),
    Comma,
}

#[derive(Clone, Copy, PartialEq)]
struct Hemisphere {
    axis: Axis,
    negative: bool,
}

#[derive(Clone, Copy, PartialEq)]
enum Axis {
    Latitude,
    Longitude,
}

struct Angle {
    degrees: f64,
    /// One unit of the last digit typed, in degrees.
    unit: f64,
    axis: Option<Axis>,
}

/// Reads two angles; text in capitals, with ASCII signs.
///
/// A typed number is taken as rounded: it is the centre of a cell as wide as one unit of its last digit, and the
/// uncertainty is half the cell's diagonal.
pub(super) fn read(text: &str) -> Result<Position, Error> {
    let tokens = tokens(text)?;
    let (first, second) = parted(&tokens)?;
    let (first, second) = (angle(first)?, angle(second)?);
    if first.degrees.abs() >= NO_DEGREES && second.degrees.abs() >= NO_DEGREES {
        return Err(Error::NoLetters);
    }
    let (latitude, longitude) = match (first.axis, second.axis) {
        (Some(Axis::Latitude), Some(Axis::Latitude)) | (Some(Axis::Longitude), Some(Axis::Longitude)) => {
            return Err(Error::Hemisphere);
        }
        (Some(Axis::Longitude), _) | (_, Some(Axis::Latitude)) => (second, first),
        _ => (first, second),
    };
    let centre = Position::new(latitude.degrees, longitude.degrees)?;
    Ok(centre.within(Metres::nearest(half_diagonal(centre, latitude.unit, longitude.unit))))
}

/// From the middle of a cell to its furthest corner, in metres.
fn half_diagonal(centre: Position, north: f64, east: f64) -> f64 {
    let corner = |up: f64| {
        let latitude = (centre.latitude() + up * north / 2.0).clamp(-90.0, 90.0);
        let longitude = (centre.longitude() + east / 2.0 + 180.0).rem_euclid(360.0) - 180.0;
        Position::new(latitude, longitude).map_or(0.0, |corner| distance(centre, corner).get())
    };
    corner(1.0).max(corner(-1.0)).max(LEAST)
}

fn tokens(text: &str) -> Result<Vec<Token>, Error> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let (head, tail) = if first.is_ascii_digit() || first == '.' {
            rest.split_at(rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len()))
        } else {
            rest.split_at(first.len_utf8())
        };
        rest = tail;
        let token = match first {
            _ if first.is_whitespace() => continue,
            '0'..='9' | '.' => number(head)?,
            '-' | '+' => Token::Sign(first == '-'),
            ',' | ';' => Token::Comma,
            '°' | 'º' | '˚' | '∘' => Token::Mark(0),
            // Two minute marks are how some type a second's.
            '\'' | '′' | '’' | '‘' | 'ʹ' | '´' | '`' if tokens.last() == Some(&Token::Mark(1)) => {
                tokens.pop();
                Token::Mark(2)
            }
            '\'' | '′' | '’' | '‘' | 'ʹ' | '´' | '`' => Token::Mark(1),
            '"' | '″' | '”' | '“' | 'ʺ' => Token::Mark(2),
            'N' | 'S' => Token::Hemisphere(Hemisphere { axis: Axis::Latitude, negative: first == 'S' }),
            'E' | 'W' => Token::Hemisphere(Hemisphere { axis: Axis::Longitude, negative: first == 'W' }),
            _ => return Err(Error::Unrecognised),
        };
        tokens.push(token);
    }
    Ok(tokens)
}

fn number(digits: &str) -> Result<Token, Error> {
    let value = digits.parse().map_err(|_| Error::Unrecognised)?;
    let decimals = match digits.split_once('.') {
        Some((_, decimals)) => Some(i32::try_from(decimals.len()).map_err(|_| Error::Unrecognised)?),
        None => None,
    };
    Ok(Token::Number(value, decimals))
}

/// The tokens of the first angle and those of the second: parted at the comma, else by the letters, else before the
/// second degree mark's number, else in the middle.
fn parted(tokens: &[Token]) -> Result<(&[Token], &[Token]), Error> {
    let places =
        |wanted: fn(&Token) -> bool| tokens.iter().enumerate().filter(move |(_, token)| wanted(token));
    let nth = |wanted: fn(&Token) -> bool, n: usize| places(wanted).nth(n).map(|(at, _)| at);
    let comma = |token: &Token| *token == Token::Comma;
    let hemisphere = |token: &Token| matches!(token, Token::Hemisphere(_));
    let number = |token: &Token| matches!(token, Token::Number(..));

    if let Some(at) = nth(comma, 0) {
        if nth(comma, 1).is_some() {
            return Err(Error::DecimalComma);
        }
        let (first, second) = tokens.split_at(at);
        return Ok((first, second.get(1..).unwrap_or_default()));
    }
    let at = if let Some(letter) = nth(hemisphere, 0) {
        if letter == 0 { nth(hemisphere, 1) } else { Some(letter + 1) }
    } else if let Some(mark) = nth(|token| *token == Token::Mark(0), 1) {
        places(number).map(|(at, _)| at).take_while(|at| *at < mark).last()
    } else {
        let count = places(number).count();
        if count % 2 == 0 { nth(number, count / 2) } else { None }
    };
    let at = at.ok_or(Error::TwoAngles)?;
    // A sign belongs to the number after it.
    let signed = at.checked_sub(1).filter(|before| matches!(tokens.get(*before), Some(Token::Sign(_))));
    tokens.split_at_checked(signed.unwrap_or(at)).ok_or(Error::TwoAngles)
}

fn angle(tokens: &[Token]) -> Result<Angle, Error> {
    let (mut tokens, mut hemisphere) = (tokens, None);
    if let [Token::Hemisphere(letter), rest @ ..] = tokens {
        (tokens, hemisphere) = (rest, Some(*letter));
    }
    if let [rest @ .., Token::Hemisphere(letter)] = tokens {
        if hemisphere.replace(*letter).is_some() {
            return Err(Error::Hemisphere);
        }
        tokens = rest;
    }
    let mut sign = None;
    if let [Token::Sign(minus), rest @ ..] = tokens {
        (tokens, sign) = (rest, Some(*minus));
    }
    if sign.is_some() && hemisphere.is_some() {
        return Err(Error::Hemisphere);
    }
    let (magnitude, unit) = magnitude(tokens)?;
    let negative = sign.unwrap_or(false) || hemisphere.is_some_and(|letter| letter.negative);
    let degrees = if negative { -magnitude } else { magnitude };
    Ok(Angle { degrees, unit, axis: hemisphere.map(|letter| letter.axis) })
}

/// Degrees, minutes, seconds, each with its mark or without: their sum in degrees, and one unit of the last digit.
fn magnitude(mut tokens: &[Token]) -> Result<(f64, f64), Error> {
    let (mut sum, mut unit, mut ended) = (0.0, None, false);
    for (level, part) in [1.0, 60.0, 3600.0].into_iter().enumerate() {
        let [Token::Number(value, decimals), rest @ ..] = tokens else { break };
        if ended {
            return Err(Error::Order);
        }
        if level > 0 && *value >= 60.0 {
            return Err(Error::Sixtieths);
        }
        sum += value / part;
        unit = Some(10_f64.powi(-decimals.unwrap_or(0)) / part);
        ended = decimals.is_some();
        tokens = rest;
        if let [Token::Mark(mark), rest @ ..] = tokens {
            if *mark != level {
                return Err(Error::Order);
            }
            tokens = rest;
        }
    }
    match (unit, tokens) {
        (None, _) => Err(Error::TwoAngles),
        (Some(unit), []) => Ok((sum, unit)),
        (_, [Token::Hemisphere(_), ..]) => Err(Error::Hemisphere),
        _ => Err(Error::Order),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The same place, 51°29′21.7″N 0°7′11.7″W, in the forms that people type and paste.
    #[test]
    fn one_place_in_every_form() {
        let expected = (51.0 + 29.0 / 60.0 + 21.7 / 3600.0, -(7.0 / 60.0 + 11.7 / 3600.0));
        for text in [
            "51°29′21.7″N 0°7′11.7″W",
            "51°29'21.7\"N 0°7'11.7\"W",
            "51°29'21.7\"N, 0°7'11.7\"W",
            "51° 29’ 21.7” N, 0° 7’ 11.7” W",
            "51 29 21.7 N 0 7 11.7 W",
            "51 29 21.7, -0 7 11.7",
            "51 29 21.7 -0 7 11.7",
            "+51 29 21.7 -0 7 11.7",
            "N51 29 21.7 W0 7 11.7",
            "N 51° 29′ 21.7″ W 0° 7′ 11.7″",
            "0°7′11.7″W 51°29′21.7″N",
            "W 0 7 11.7; N 51 29 21.7",
            "51°29′21.7″ -0°7′11.7″",
            "51°29'21.7''N 0°7'11.7''W",
            "51 29.361666666667 N 0 7.195 W",
            "51°29.361666666667′ -0°7.195′",
            "51.489361111111N 0.119916666667W",
            "51.489361111111,-0.119916666667",
            "51.489361111111°, -0.119916666667°",
        ] {
            let found = read(text).unwrap();
            let apart = (found.latitude() - expected.0).abs().max((found.longitude() - expected.1).abs());
            assert!(apart < 1e-9, "{text}: {} {}", found.latitude(), found.longitude());
        }
    }

    /// A minute of latitude is a nautical mile, 1,852 m, give or take 10 m; of longitude at the equator 1,855 m.
    #[test]
    fn uncertainty_is_half_the_diagonal_of_the_last_digits_cell() {
        let uncertainty = |text| read(text).unwrap().accuracy().unwrap().get();
        let diagonal = |metres: f64| metres * std::f64::consts::FRAC_1_SQRT_2;
        for (text, expected) in [
            ("0 30, 0 30", diagonal(1849.0)),
            ("0.5, 0.5", diagonal(11_095.0)),
            ("0.50, 0.50", diagonal(1109.5)),
            ("0 30 0, 0 30 0", diagonal(1849.0 / 60.0)),
            ("0 30.0 N, 0 30.0 W", diagonal(184.9)),
        ] {
            let found = uncertainty(text);
            assert!((found / expected - 1.0).abs() < 0.003, "{text}: {found} for {expected}");
        }
        assert_eq!(uncertainty("51.4893656123, -0.1199256123").to_bits(), LEAST.to_bits());
    }

    #[test]
    fn what_cannot_be_meant_is_refused_with_what_to_type() {
        for (text, error) in [
            ("51.5", Error::TwoAngles),
            ("51.5 N", Error::TwoAngles),
            ("51 29 21.7", Error::TwoAngles),
            ("51.5,", Error::TwoAngles),
            ("N W", Error::TwoAngles),
            ("51,4893 -0,1199", Error::DecimalComma),
            ("51,4893, -0,1199", Error::DecimalComma),
            ("51.5 N 0.1 S", Error::Hemisphere),
            ("51.5 N -0.1 W", Error::Hemisphere),
            ("N 51.5 N 0.1 W", Error::Hemisphere),
            ("51 60 0 N 0 7 0 W", Error::Sixtieths),
            ("51 0 60 N 0 7 0 W", Error::Sixtieths),
            ("51.5 29 N 0.1 7 W", Error::Order),
            ("51 29 21 7 N 0 7 11 7 W", Error::Order),
            ("51″29′ N 0°7′ W", Error::Order),
            ("51 -29 N 0 7 W", Error::Order),
            ("90.1, 0", Error::Latitude),
            ("0, 180.1", Error::Longitude),
            ("315904, 234671", Error::NoLetters),
            ("51.4.8, -0.1", Error::Unrecognised),
            ("., .", Error::Unrecognised),
            ("51.5 north, 0.1 west", Error::Unrecognised),
        ] {
            assert_eq!(read(text), Err(error), "{text}");
        }
    }
}
