//! Outlines from `GeoJSON`, as other programs draw them.
//!
//! # References
//! RFC 7946, The `GeoJSON` Format, 2016.

use geojson::{Feature, GeoJson, Geometry, GeometryValue};

use super::outline::{Outline, Ring};
use crate::place::Position;

/// The longest file that is read, in bytes.
const LONGEST: usize = 32 << 20;
/// The most corners that one file's outlines may have.
const MOST_CORNERS: usize = 500_000;
/// The most values that one file may hold: so many corners with their heights, and as much again about them. Values cost far more
/// memory than their text.
const MOST_COMMAS: usize = 3 * MOST_CORNERS;

/// How many corners were read so far.
pub(crate) type Corners = usize;

/// Why a file gives no outlines. It names no place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AreaError {
    /// Longer than any outline need be.
    #[error("the file is too long: up to 32 MB and 500,000 corners are read; simplify it first")]
    TooLong,
    /// Not JSON.
    #[error("line {line}, column {column}: not JSON: save it as GeoJSON again")]
    NotJson {
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
    },
    /// JSON, and no `GeoJSON`.
    #[error("not GeoJSON (RFC 7946): a `type` or its `coordinates` are missing or of another shape")]
    NotGeoJson,
    /// In degrees of another datum, or no degrees.
    #[error("its `crs` is not WGS84: save it in longitude and latitude of WGS84, as RFC 7946 asks")]
    OtherSystem,
    /// A feature that is no area.
    #[error("feature {number}: {why}")]
    Feature {
        /// Which, from 1.
        number: usize,
        /// What is wrong with it, and what to do.
        why: String,
    },
    /// Nothing in it.
    #[error("the file holds no feature: draw at least one polygon")]
    Empty,
}

impl AreaError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::TooLong => "geojson-too-long",
            Self::NotJson { .. } => "geojson-not-json",
            Self::NotGeoJson => "geojson-not-geojson",
            Self::OtherSystem => "geojson-other-system",
            Self::Feature { .. } => "geojson-feature",
            Self::Empty => "geojson-empty",
        }
    }
}

/// An outline as drawn, with the name that it bears in the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// The feature's `name`, if it has one.
    pub name: Option<String>,
    /// Its outline.
    pub outline: Outline,
}

/// The outlines that a `GeoJSON` text draws: all of them, or none.
///
/// # Errors
/// [`AreaError`].
pub fn outlines(text: &str) -> Result<Vec<Drawn>, AreaError> {
    let mut corners = Corners::default();
    (1..).zip(&features(text)?).map(|(number, feature)| drawn(number, feature, &mut corners)).collect()
}

/// The features of a `GeoJSON` text, one at least.
pub(crate) fn features(text: &str) -> Result<Vec<Feature>, AreaError> {
    if text.len() > LONGEST || text.bytes().filter(|byte| *byte == b',').count() > MOST_COMMAS {
        return Err(AreaError::TooLong);
    }
    let json: serde_json::Value = serde_json::from_str(text.trim_start_matches('\u{feff}'))
        .map_err(|error| AreaError::NotJson { line: error.line(), column: error.column() })?;
    if json.get("crs").is_some_and(|crs| !is_wgs84(crs)) {
        return Err(AreaError::OtherSystem);
    }
    let whole: GeoJson = serde_json::from_value(json).map_err(|_| AreaError::NotGeoJson)?;
    let features = match whole {
        GeoJson::FeatureCollection(all) => all.features,
        GeoJson::Feature(one) => vec![one],
        GeoJson::Geometry(geometry) => vec![Feature::from(geometry)],
    };
    if features.is_empty() { Err(AreaError::Empty) } else { Ok(features) }
}

/// Whether a `crs`, which older files have, names what newer ones take for granted.
fn is_wgs84(crs: &serde_json::Value) -> bool {
    let name = crs.pointer("/properties/name").and_then(serde_json::Value::as_str);
    crs.is_null() || name.is_some_and(|name| name.ends_with("CRS84") || name.ends_with(":4326"))
}

/// The outline that a feature draws.
pub(crate) fn drawn(number: usize, feature: &Feature, corners: &mut Corners) -> Result<Drawn, AreaError> {
    let wrong = |why: String| AreaError::Feature { number, why };
    let geometry =
        feature.geometry.as_ref().ok_or_else(|| wrong("it has no geometry: draw a polygon".into()))?;
    let mut polygons = Vec::new();
    polygons_of(geometry, &mut polygons).map_err(wrong)?;
    *corners += polygons.iter().flatten().map(Vec::len).sum::<usize>();
    if *corners > MOST_CORNERS {
        return Err(AreaError::TooLong);
    }
    let name = feature.properties.as_ref().and_then(|all| all.get("name")).and_then(|name| name.as_str());
    Ok(Drawn {
        name: name.map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned),
        outline: Outline::Polygons(polygons),
    })
}

fn polygons_of(geometry: &Geometry, into: &mut Vec<Vec<Ring>>) -> Result<(), String> {
    match &geometry.value {
        GeometryValue::Polygon { coordinates } => into.push(rings(coordinates)?),
        GeometryValue::MultiPolygon { coordinates } => {
            for polygon in coordinates {
                into.push(rings(polygon)?);
            }
        }
        GeometryValue::GeometryCollection { geometries } => {
            for geometry in geometries {
                polygons_of(geometry, into)?;
            }
        }
        _ => return Err("points and lines have no inside: draw a polygon".to_owned()),
    }
    if into.is_empty() { Err("it holds no polygon: draw one".to_owned()) } else { Ok(()) }
}

fn rings(polygon: &[Vec<geojson::Position>]) -> Result<Vec<Ring>, String> {
    if polygon.is_empty() {
        return Err("a polygon without a ring: draw its outline".to_owned());
    }
    (1..).zip(polygon).map(|(number, ring)| self::ring(number, ring)).collect()
}

fn ring(number: usize, ring: &[geojson::Position]) -> Result<Ring, String> {
    let wrong = |why: &str| format!("ring {number}: {why}");
    let position = |at: &geojson::Position| match at.as_slice() {
        [longitude, latitude, ..] => Position::new(*latitude, *longitude).map_err(|_| {
            wrong("a corner is off the earth: coordinates are longitude, then latitude, in degrees")
        }),
        _ => Err(wrong("a corner has fewer than two numbers")),
    };
    let ring = ring.iter().map(position).collect::<Result<Ring, String>>()?;
    if ring.len() < 4 {
        return Err(wrong("it needs at least three corners, and the first again at its end"));
    }
    if ring.first() != ring.last() {
        return Err(wrong("it is not closed: its last corner must be its first again"));
    }
    let longitudes = || ring.iter().map(|at| at.longitude());
    let spans = longitudes().fold(f64::MIN, f64::max) - longitudes().fold(f64::MAX, f64::min);
    if spans > 180.0 {
        return Err(wrong("it crosses the 180th meridian: cut it there in two (RFC 7946, 3.1.9)"));
    }
    Ok(ring)
}
