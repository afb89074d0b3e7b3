//! A Darwin Core archive: `meta.xml`, the occurrences, and the extension for pictures and sound, which holds its header
//! alone unless photos were chosen; those stand in the archive as files of their own, named in `identifier`.
//!
//! # References
//! TDWG, "Darwin Core text guide" and "Darwin Core quick reference guide"; "Audiovisual Core" (TDWG standard 638).

use std::fmt::Write as _;
use std::io::{self, Write};

use serde_json::{Map, Value, json};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::table::text;
use super::{Copied, Fill, Picture};

const DWC: &str = "http://rs.tdwg.org/dwc/terms/";
const DC: &str = "http://purl.org/dc/terms/";
const AC: &str = "http://rs.tdwg.org/ac/terms/";

/// The terms of an occurrence, in the order of its columns.
pub const OCCURRENCE: [&str; 24] = [
    "occurrenceID",
    "basisOfRecord",
    "occurrenceStatus",
    "eventDate",
    "kingdom",
    "scientificName",
    "vernacularName",
    "identificationQualifier",
    "identificationRemarks",
    "decimalLatitude",
    "decimalLongitude",
    "geodeticDatum",
    "coordinateUncertaintyInMeters",
    "coordinatePrecision",
    "dataGeneralizations",
    "informationWithheld",
    "habitat",
    "associatedTaxa",
    "individualCount",
    "organismQuantity",
    "organismQuantityType",
    "dynamicProperties",
    "recordedBy",
    "occurrenceRemarks",
];

/// The terms of the extension: the column that points at the occurrence first, which has none of its own there.
pub const EXTENSION: [(&str, &str); 4] =
    [(DC, "identifier"), (DC, "type"), (DC, "format"), (AC, "subjectPart")];

/// Writes finds and photos, in the order given.
pub(super) fn write(
    finds: &[Copied],
    photos: &[Picture],
    out: &mut dyn Write,
    fill: &mut Fill<'_>,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let mut zip = ZipWriter::new_stream(&mut *out);
    zip.start_file("meta.xml", options)?;
    zip.write_all(meta().as_bytes())?;
    zip.start_file("multimedia.csv", options)?;
    let mut media = csv::Writer::from_writer(&mut zip);
    media.write_record(["coreid"].into_iter().chain(EXTENSION.map(|(_, term)| term)))?;
    for photo in photos {
        media.write_record(row(photo))?;
    }
    media.flush()?;
    drop(media);
    zip.start_file("occurrence.csv", options)?;
    let mut table = csv::Writer::from_writer(&mut zip);
    table.write_record(OCCURRENCE)?;
    for find in finds {
        step()?;
        table.write_record(OCCURRENCE.map(|term| one_line(&cell(find, term).unwrap_or_default())))?;
    }
    table.flush()?;
    drop(table);
    // A picture is packed already.
    let stored = options.compression_method(CompressionMethod::Stored);
    for (at, photo) in photos.iter().enumerate() {
        step()?;
        zip.start_file(photo.file(), stored)?;
        fill(at, &mut zip)?;
    }
    zip.finish()?;
    out.flush()
}

/// What the extension says of a photo.
fn row(photo: &Picture) -> [String; 5] {
    let part = photo.role.map(|role| role.name().replace('-', " "));
    [
        format!("urn:uuid:{}", photo.of),
        photo.file(),
        "StillImage".to_owned(),
        photo.media_type().to_owned(),
        part.unwrap_or_default(),
    ]
}

/// What a find says under a term.
fn cell(find: &Copied, term: &str) -> Option<String> {
    let place = find.place.as_ref();
    let square = place.and_then(|place| place.square.as_ref());
    let counted = find.seen.map(|seen| (seen.least(), seen.most()));
    match term {
        "occurrenceID" => Some(format!("urn:uuid:{}", find.id)),
        "basisOfRecord" => Some("HumanObservation".to_owned()),
        "occurrenceStatus" => Some(if counted == Some((0, 0)) { "absent" } else { "present" }.to_owned()),
        "eventDate" => find.when(),
        "kingdom" => Some("Fungi".to_owned()),
        "scientificName" => text(Some(&find.name.scientific)),
        "vernacularName" => text(find.name.english.as_ref()),
        "identificationQualifier" => text(find.name.qualifier.as_ref()),
        "identificationRemarks" => {
            find.name.how.map(|how| format!("named by: {}", how.word().replace('-', " ")))
        }
        "decimalLatitude" => place.map(|place| place.latitude.to_string()),
        "decimalLongitude" => place.map(|place| place.longitude.to_string()),
        "geodeticDatum" => place.map(|_| "EPSG:4326".to_owned()),
        "coordinateUncertaintyInMeters" => Some(place?.uncertainty_m?.to_string()),
        // Of a square the coordinates are its centre, whose digits say nothing of how well the place is known.
        "coordinatePrecision" => place.filter(|_| square.is_none()).map(|_| "0.000001".to_owned()),
        "dataGeneralizations" => place?.generalised(),
        "informationWithheld" => square.map(|_| "exact place".to_owned()),
        "habitat" => habitat(find),
        "associatedTaxa" => find.host.as_ref().map(|host| {
            let relation = if host.sure == crate::find::Sure::Sure { "host" } else { "probable host" };
            format!("\"{relation}\":\"{}\"", host.tree.replace('"', "'"))
        }),
        "individualCount" => {
            counted.filter(|(least, most)| least == most).map(|(least, _)| least.to_string())
        }
        "organismQuantity" => find.seen.map(|seen| seen.to_string()),
        "organismQuantityType" => find.seen.map(|_| "fruitbodies".to_owned()),
        "dynamicProperties" => more(find),
        "recordedBy" => text(find.recorder.as_ref()),
        "occurrenceRemarks" => text(find.note.as_ref()),
        _ => None,
    }
}

/// What it grows on, the ground, and the owner's own words where those were ticked.
fn habitat(find: &Copied) -> Option<String> {
    let on = find.on.map(|on| format!("on {}", on.word().replace('-', " ")));
    let ground = find.ground.map(|ground| format!("ground: {ground}"));
    let parts: Vec<_> = [on, ground, find.habitat.clone()].into_iter().flatten().collect();
    text(Some(&parts.join("; "))).filter(|all| !all.is_empty())
}

/// What no term of its own is for.
fn more(find: &Copied) -> Option<String> {
    let all = [
        ("growth", find.growth.map(|growth| json!(growth))),
        ("stages", find.stages.as_ref().map(|stages| json!(stages))),
        ("capWidthInMillimetres", find.width.map(|width| json!(width))),
        ("taken", find.taken.map(|taken| json!(taken))),
        ("weightTakenInGrams", find.grams.map(|grams| json!(grams))),
        ("takenForStudy", find.specimens.map(|specimens| json!(specimens))),
    ];
    let said: Map<String, Value> =
        all.into_iter().filter_map(|(name, value)| Some((name.to_owned(), value?))).collect();
    (!said.is_empty()).then(|| Value::Object(said).to_string())
}

/// Readers of such archives take a line for a record, quoted or not.
fn one_line(cell: &str) -> String {
    cell.replace(['\r', '\n', '\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}'], " ")
}

/// Which file is which, and which column holds which term.
fn meta() -> String {
    let mut xml = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<archive xmlns=\"http://rs.tdwg.org/dwc/text/\">\n",
    );
    let format = "encoding=\"UTF-8\" fieldsTerminatedBy=\",\" linesTerminatedBy=\"\\n\" fieldsEnclosedBy=\"&quot;\" \
                  ignoreHeaderLines=\"1\"";
    let _ = write!(
        xml,
        "  <core {format} rowType=\"{DWC}Occurrence\">\n    <files><location>occurrence.csv</location></files>\n    \
         <id index=\"0\"/>\n"
    );
    for (at, term) in OCCURRENCE.iter().enumerate() {
        let _ = writeln!(xml, "    <field index=\"{at}\" term=\"{DWC}{term}\"/>");
    }
    let _ = write!(
        xml,
        "  </core>\n  <extension {format} rowType=\"{AC}Multimedia\">\n    \
         <files><location>multimedia.csv</location></files>\n    <coreid index=\"0\"/>\n"
    );
    for (at, (vocabulary, term)) in (1..).zip(EXTENSION) {
        let _ = writeln!(xml, "    <field index=\"{at}\" term=\"{vocabulary}{term}\"/>");
    }
    xml.push_str("  </extension>\n</archive>\n");
    xml
}
