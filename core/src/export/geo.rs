//! `GeoJSON` (RFC 7946): finds as features, one a copy.

use std::io::{self, Write};

use geojson::feature::Id;
use geojson::{Feature, FeatureWriter, Geometry, GeometryValue};
use serde_json::Value;

use super::Copied;

/// Writes finds, in the order given.
pub(super) fn write(
    finds: &[Copied],
    out: &mut dyn Write,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut writer = FeatureWriter::from_writer(&mut *out);
    for find in finds {
        step()?;
        writer.write_feature(&feature(find)?).map_err(io::Error::other)?;
    }
    writer.finish().map_err(io::Error::other)?;
    drop(writer);
    out.write_all(b"\n")
}

/// A find without a place is a feature without geometry (§3.2).
fn feature(find: &Copied) -> io::Result<Feature> {
    let Value::Object(mut properties) = serde_json::to_value(find)? else {
        return Err(io::Error::from(io::ErrorKind::InvalidData));
    };
    properties.remove("id");
    let geometry = find
        .place
        .as_ref()
        .map(|place| Geometry::new(GeometryValue::new_point([place.longitude, place.latitude])));
    // The coordinates stand once, in the geometry.
    if let Some(Value::Object(place)) = properties.get_mut("place") {
        place.remove("latitude");
        place.remove("longitude");
    }
    Ok(Feature {
        bbox: None,
        geometry,
        id: Some(Id::String(find.id.to_string())),
        properties: Some(properties),
        foreign_members: None,
    })
}
