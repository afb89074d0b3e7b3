//! A point on the Earth, and how well it is known.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, de};

use super::Error;
use crate::units::Metres;

/// A point in WGS84 with, where known, its accuracy.
///
/// Checked whenever one is made or read from a file. Its `Debug` form shows no coordinates, so that logging a record
/// by mistake gives no place away.
///
/// # Units
/// Degrees, north and east positive; metres.
#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Unchecked")]
pub struct Position {
    latitude: f64,
    longitude: f64,
    #[serde(rename = "accuracy_m", skip_serializing_if = "Option::is_none")]
    accuracy: Option<Metres>,
}

impl Position {
    /// A point of unknown accuracy. A longitude of 180 is kept as -180, the same meridian.
    ///
    /// # Errors
    /// [`Error::Latitude`] unless from -90 to 90; [`Error::Longitude`] unless from -180 to 180.
    pub fn new(latitude: f64, longitude: f64) -> Result<Self, Error> {
        if !(-90.0..=90.0).contains(&latitude) {
            return Err(Error::Latitude);
        }
        if !(-180.0..=180.0).contains(&longitude) {
            return Err(Error::Longitude);
        }
        let longitude = if longitude >= 180.0 { -180.0 } else { longitude };
        // Adding nought makes -0 into 0, which would otherwise print with its sign.
        Ok(Self { latitude: latitude + 0.0, longitude: longitude + 0.0, accuracy: None })
    }

    /// The same point, known to within a radius.
    #[must_use]
    pub fn within(self, accuracy: Metres) -> Self {
        Self { accuracy: Some(accuracy), ..self }
    }

    /// Degrees north of the equator.
    #[must_use]
    pub fn latitude(self) -> f64 {
        self.latitude
    }

    /// Degrees east of Greenwich, from -180 up to, not including, 180.
    #[must_use]
    pub fn longitude(self) -> f64 {
        self.longitude
    }

    /// The radius within which the true place is held to lie.
    #[must_use]
    pub fn accuracy(self) -> Option<Metres> {
        self.accuracy
    }
}

impl fmt::Debug for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Position(hidden)")
    }
}

/// A position as a file gives it.
#[derive(Deserialize)]
struct Unchecked {
    #[serde(deserialize_with = "latitude")]
    latitude: f64,
    #[serde(deserialize_with = "longitude")]
    longitude: f64,
    #[serde(default, rename = "accuracy_m", deserialize_with = "accuracy")]
    accuracy: Option<Metres>,
}

impl TryFrom<Unchecked> for Position {
    type Error = Error;

    fn try_from(unchecked: Unchecked) -> Result<Self, Error> {
        let point = Self::new(unchecked.latitude, unchecked.longitude)?;
        Ok(Self { accuracy: unchecked.accuracy, ..point })
    }
}

// Serde's own messages repeat the value they refuse; these name the field and keep the place to themselves.

fn latitude<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    f64::deserialize(deserializer).map_err(|_| de::Error::custom(Error::Latitude))
}

fn longitude<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    f64::deserialize(deserializer).map_err(|_| de::Error::custom(Error::Longitude))
}

fn accuracy<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Metres>, D::Error> {
    Option::<Metres>::deserialize(deserializer).map_err(|_| de::Error::custom(Error::Accuracy))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(json: &str) -> Result<Position, String> {
        serde_json::from_str(json).map_err(|error| error.to_string())
    }

    #[test]
    fn what_is_off_the_earth_is_refused_by_name() {
        for bad in [f64::NAN, f64::INFINITY, -90.001, 91.0] {
            assert_eq!(Position::new(bad, 0.0), Err(Error::Latitude));
        }
        for bad in [f64::NAN, f64::NEG_INFINITY, 180.001, -181.0] {
            assert_eq!(Position::new(0.0, bad), Err(Error::Longitude));
        }
    }

    #[test]
    fn the_meridian_opposite_greenwich_has_one_name() {
        assert_eq!(Position::new(0.0, 180.0), Position::new(0.0, -180.0));
    }

    #[test]
    fn files_are_checked_and_errors_name_the_field_without_the_value() {
        for (json, field) in [
            (r#"{"latitude": 91.25, "longitude": 0}"#, "latitude: "),
            (r#"{"latitude": "51.25 N", "longitude": 0}"#, "latitude: "),
            (r#"{"latitude": 1, "longitude": -199.25}"#, "longitude: "),
            (r#"{"latitude": 1, "longitude": null}"#, "longitude: "),
            (r#"{"latitude": 1, "longitude": 2, "accuracy_m": -5.25}"#, "accuracy_m: "),
        ] {
            let error = read(json).unwrap_err();
            assert!(error.starts_with(field) && !error.contains("25"), "{error}");
        }
        assert!(read(r#"{"longitude": 2}"#).unwrap_err().contains("latitude"));
    }

    #[test]
    fn a_file_gives_back_what_was_written() {
        let known = Position::new(12.5, -7.25).unwrap().within(Metres::new(8.0).unwrap());
        let json = serde_json::to_string(&known).unwrap();
        assert_eq!(json, r#"{"latitude":12.5,"longitude":-7.25,"accuracy_m":8.0}"#);
        assert_eq!(read(&json), Ok(known));
        assert_eq!(read(r#"{"latitude":1,"longitude":2}"#), Ok(Position::new(1.0, 2.0).unwrap()));
    }

    #[test]
    fn logging_a_position_gives_no_place_away() {
        assert!(!format!("{:?}", Position::new(12.5, -7.25)).contains("12.5"));
    }
}
