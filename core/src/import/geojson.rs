//! `GeoJSON`: points are marks, polygons are outlines of areas.
//!
//! # References
//! RFC 7946, The `GeoJSON` Format, 2016.

use geojson::{Feature, GeometryValue};

use super::{ImportError, MOST_MARKS, Mark, mark};
use crate::area::{AreaError, Corners, Drawn, drawn, features};

/// What a file draws.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// Its points.
    pub marks: Vec<Mark>,
    /// Its polygons.
    pub outlines: Vec<Drawn>,
}

/// What a `GeoJSON` text draws: all of it, or nothing.
///
/// # Errors
/// [`ImportError`].
pub fn geojson(text: &str) -> Result<Drawing, ImportError> {
    let mut drawing = Drawing::default();
    let mut corners = Corners::default();
    for (number, feature) in (1..).zip(&features(text)?) {
        match feature.geometry.as_ref().map(|geometry| &geometry.value) {
            Some(GeometryValue::Point { coordinates }) => {
                drawing.marks.push(point(number, feature, coordinates)?);
            }
            Some(GeometryValue::MultiPoint { coordinates }) => {
                for coordinates in coordinates {
                    drawing.marks.push(point(number, feature, coordinates)?);
                }
            }
            _ => drawing.outlines.push(drawn(number, feature, &mut corners)?),
        }
        if drawing.marks.len() > MOST_MARKS {
            return Err(ImportError::TooMany);
        }
    }
    Ok(drawing)
}

fn point(number: usize, feature: &Feature, at: &geojson::Position) -> Result<Mark, AreaError> {
    let wrong = |why: String| AreaError::Feature { number, why };
    let [longitude, latitude, ..] = at.as_slice() else {
        return Err(wrong("its place has fewer than two numbers".to_owned()));
    };
    let text = |names: &[&str]| {
        let properties = feature.properties.as_ref()?;
        names.iter().find_map(|name| properties.get(*name)?.as_str())
    };
    let notes = [text(&["description", "desc"]), text(&["note", "cmt"])];
    mark(text(&["name", "title"]), (*latitude, *longitude), &notes)
        .map_err(|(field, why)| wrong(format!("{field}: {why}")))
}
