//! GPX 1.1: patches as waypoints.

use std::io::{self, Write};

use geo_types::Point;
use gpx::{Gpx, GpxVersion};

use super::Waypoint;

/// Writes patches, in the order given.
pub(super) fn write(
    patches: &[Waypoint],
    out: &mut dyn Write,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut file = Gpx { version: GpxVersion::Gpx11, creator: Some("Trug".to_owned()), ..Gpx::default() };
    for patch in patches {
        step()?;
        file.waypoints.push(point(patch));
    }
    gpx::write(&file, &mut *out).map_err(io::Error::other)?;
    out.write_all(b"\n")
}

fn point(patch: &Waypoint) -> gpx::Waypoint {
    let mut point = gpx::Waypoint::new(Point::new(patch.place.longitude, patch.place.latitude));
    let name = patch.name.as_ref().or(patch.place.square.as_ref());
    point.name = Some(fit_for_xml(name.map_or("patch", String::as_str)));
    point.comment = patch.note.as_deref().map(fit_for_xml);
    let around = patch.place.uncertainty_m.map(|metres| format!("within {metres} m"));
    let host = patch.host.as_ref().map(|host| host.tree.clone());
    let on = patch.on.map(|on| on.word().replace('-', " "));
    let by = patch.recorder.as_ref().map(|name| format!("recorded by {name}"));
    let parts: Vec<_> = [on, host, patch.place.generalised(), around, by].into_iter().flatten().collect();
    point.description = (!parts.is_empty()).then(|| fit_for_xml(&parts.join("; ")));
    point
}

/// XML 1.0 §2.2 admits no control characters, escaped or not.
fn fit_for_xml(text: &str) -> String {
    text.chars()
        .map(|c| {
            if c.is_control() && !matches!(c, '\n' | '\t') || matches!(c, '\u{fffe}' | '\u{ffff}') {
                ' '
            } else {
                c
            }
        })
        .collect()
}
