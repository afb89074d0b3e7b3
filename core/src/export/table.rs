//! CSV (RFC 4180) with a header, and the cells that all tables share.

use std::io::{self, Write};

use super::Copied;

/// The name of a column, and what a find says in it.
type Column = (&'static str, fn(&Copied) -> Option<String>);

/// The columns.
const COLUMNS: [Column; 22] = [
    ("id", |find| Some(find.id.to_string())),
    ("date", Copied::when),
    ("scientific_name", |find| text(Some(&find.name.scientific))),
    ("english_name", |find| text(find.name.english.as_ref())),
    ("qualifier", |find| text(find.name.qualifier.as_ref())),
    ("named_by", |find| find.name.how.map(|how| how.word().to_owned())),
    ("square", |find| find.place.as_ref()?.square.clone()),
    ("latitude", |find| Some(find.place.as_ref()?.latitude.to_string())),
    ("longitude", |find| Some(find.place.as_ref()?.longitude.to_string())),
    ("uncertainty_m", |find| Some(find.place.as_ref()?.uncertainty_m?.to_string())),
    ("on", |find| find.on.map(|on| on.word().to_owned())),
    ("host", |find| text(find.host.as_ref().map(|host| &host.tree))),
    ("host_sure", |find| find.host.as_ref().map(|host| host.sure.word().to_owned())),
    ("ground", |find| find.ground.map(|ground| ground.word().to_owned())),
    ("growth", |find| find.growth.map(|growth| growth.word().to_owned())),
    ("seen", |find| find.seen.map(|seen| seen.to_string())),
    ("stages", stages),
    ("width", |find| find.width.map(|width| width.to_string())),
    ("taken", |find| find.taken.map(|taken| taken.to_string())),
    ("grams", |find| find.grams.map(|grams| grams.to_string())),
    ("specimens", |find| find.specimens.map(|specimens| specimens.to_string())),
    ("recorder", |find| text(find.recorder.as_ref())),
];

/// Empty unless notes were ticked.
const NOTES: [Column; 2] =
    [("habitat", |find| text(find.habitat.as_ref())), ("note", |find| text(find.note.as_ref()))];

/// Writes finds, in the order given.
pub(super) fn write(
    finds: &[Copied],
    out: &mut dyn Write,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(&mut *out);
    writer.write_record(columns().map(|(name, _)| name))?;
    for find in finds {
        step()?;
        writer.write_record(columns().map(|(_, cell)| cell(find).unwrap_or_default()))?;
    }
    writer.flush()
}

fn columns() -> impl Iterator<Item = Column> {
    COLUMNS.into_iter().chain(NOTES)
}

fn stages(find: &Copied) -> Option<String> {
    let each = find.stages.as_ref()?.iter().map(|(stage, n)| format!("{stage}: {n}"));
    Some(each.collect::<Vec<_>>().join(", "))
}

/// A cell of free text. One that a spreadsheet would run as a formula gets an apostrophe before it; numbers of ours, which
/// may begin with a minus, are no free text.
pub(super) fn text(given: Option<&String>) -> Option<String> {
    let given = given?;
    let runs = given.trim_start_matches(' ').starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    Some(if runs { format!("'{given}") } else { given.clone() })
}
