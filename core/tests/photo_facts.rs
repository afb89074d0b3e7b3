//! What EXIF says, sense and nonsense. Fields are written by kamadak-exif's writer; the meanings are those of CIPA
//! DC-008 (Exif 2.32), §4.6.5 and §4.6.6. The figures that another tool writes are in the tests that cross crates.

// Helpers of tests may fail like tests.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::io::Cursor;

use exif::experimental::Writer;
use exif::{Field, In, Rational, SRational, Tag, Value};
use jiff::tz::TimeZone;
use trug::photo::{Direction, Fact, North, PhotoFacts, PhotoWarning};
use trug::units::Metres;

fn read(fields: &[(Tag, Value)]) -> (PhotoFacts, Vec<PhotoWarning>) {
    let fields: Vec<_> = fields
        .iter()
        .map(|(tag, value)| Field { tag: *tag, ifd_num: In::PRIMARY, value: value.clone() })
        .collect();
    let mut writer = Writer::new();
    for field in &fields {
        writer.push_field(field);
    }
    let mut file = Cursor::new(Vec::new());
    writer.write(&mut file, false).unwrap();
    file.set_position(0);
    let mut warnings = Vec::new();
    let facts = PhotoFacts::read(&mut file, &TimeZone::get("Europe/London").unwrap(), &mut warnings);
    (facts, warnings)
}

fn text(text: &str) -> Value {
    Value::Ascii(vec![text.as_bytes().to_vec()])
}

fn ratios(ratios: &[(u32, u32)]) -> Value {
    Value::Rational(ratios.iter().map(|&(num, denom)| Rational { num, denom }).collect())
}

/// An invented wood: 51° 30' 0" N, 0° 7' 30" W.
fn position() -> Vec<(Tag, Value)> {
    vec![
        (Tag::GPSLatitudeRef, text("N")),
        (Tag::GPSLatitude, ratios(&[(51, 1), (30, 1), (0, 1)])),
        (Tag::GPSLongitudeRef, text("W")),
        (Tag::GPSLongitude, ratios(&[(0, 1), (750, 100), (0, 1)])),
    ]
}

/// The position with some fields replaced, added, or (an empty text) left out.
fn position_but(changes: &[(Tag, Value)]) -> (PhotoFacts, Vec<PhotoWarning>) {
    let mut fields = position();
    for (tag, value) in changes {
        fields.retain(|(other, _)| other != tag);
        fields.push((*tag, value.clone()));
    }
    fields.retain(|(_, value)| !matches!(value, Value::Ascii(parts) if parts[0].is_empty()));
    read(&fields)
}

#[test]
fn degrees_minutes_and_seconds_are_added_up() {
    let (facts, warnings) = position_but(&[]);
    let found = facts.position.unwrap();
    assert!(
        (found.latitude() - 51.5).abs() < 1e-12 && (found.longitude() + 0.125).abs() < 1e-12,
        "{found:?}"
    );
    assert_eq!((found.accuracy(), warnings), (None, vec![]));

    let south_east = [
        (Tag::GPSLatitudeRef, text("S")),
        (Tag::GPSLongitudeRef, text("E")),
        (Tag::GPSLatitude, ratios(&[(33, 1), (51, 1), (36, 1)])),
    ];
    let found = position_but(&south_east).0.position.unwrap();
    assert!(
        (found.latitude() + 33.86).abs() < 1e-12 && (found.longitude() - 0.125).abs() < 1e-12,
        "{found:?}"
    );
}

#[test]
fn a_position_that_cannot_be_right_is_left_out() {
    let nowhere = ratios(&[(0, 1), (0, 1), (0, 1)]);
    for (what, changes) in [
        ("latitude 91", vec![(Tag::GPSLatitude, ratios(&[(91, 1), (0, 1), (0, 1)]))]),
        ("latitude 90 and a second", vec![(Tag::GPSLatitude, ratios(&[(90, 1), (0, 1), (1, 1)]))]),
        ("longitude 181", vec![(Tag::GPSLongitude, ratios(&[(181, 1), (0, 1), (0, 1)]))]),
        ("61 minutes", vec![(Tag::GPSLatitude, ratios(&[(51, 1), (61, 1), (0, 1)]))]),
        ("nought by nought", vec![(Tag::GPSLatitude, ratios(&[(0, 0), (0, 0), (0, 0)]))]),
        ("seconds by nought", vec![(Tag::GPSLatitude, ratios(&[(51, 1), (30, 1), (0, 0)]))]),
        ("two numbers", vec![(Tag::GPSLatitude, ratios(&[(51, 1), (30, 1)]))]),
        ("words", vec![(Tag::GPSLatitude, text("51 30 0"))]),
        ("no hemisphere", vec![(Tag::GPSLatitudeRef, text(""))]),
        ("wrong hemisphere", vec![(Tag::GPSLatitudeRef, text("E"))]),
        ("half a position", vec![(Tag::GPSLongitude, text("")), (Tag::GPSLongitudeRef, text(""))]),
        ("no fix", vec![(Tag::GPSLatitude, nowhere.clone()), (Tag::GPSLongitude, nowhere)]),
        ("negative", vec![(Tag::GPSLatitude, Value::SRational(vec![SRational { num: -51, denom: 1 }; 3]))]),
    ] {
        let (facts, warnings) = position_but(&changes);
        assert_eq!(facts.position, None, "{what}");
        assert_eq!(warnings, [PhotoWarning::Senseless(Fact::Position)], "{what}");
    }
}

#[test]
fn another_datum_is_left_out_and_wgs84_is_known_by_any_spelling() {
    for name in ["WGS-84", "WGS84", "wgs 84   ", "   "] {
        assert!(position_but(&[(Tag::GPSMapDatum, text(name))]).0.position.is_some(), "{name}");
    }
    let (facts, warnings) = position_but(&[(Tag::GPSMapDatum, text("TOKYO"))]);
    assert_eq!((facts.position, warnings), (None, vec![PhotoWarning::OtherDatum]));
}

#[test]
fn a_lost_fix_is_told_and_its_time_not_believed() {
    let (facts, warnings) = position_but(&[
        (Tag::GPSStatus, text("V")),
        (Tag::GPSDateStamp, text("2026:10:18")),
        (Tag::GPSTimeStamp, ratios(&[(9, 1), (0, 1), (0, 1)])),
        (Tag::DateTimeOriginal, text("2026:10:18 14:05:09")),
        (Tag::OffsetTimeOriginal, text("+01:00")),
    ]);
    assert!(facts.position.is_some());
    assert_eq!(facts.taken.unwrap().to_string(), "2026-10-18T14:05:09+01:00");
    assert_eq!(warnings, [PhotoWarning::StaleFix]);
}

#[test]
fn accuracy_altitude_and_direction() {
    let (facts, warnings) = position_but(&[
        (Tag::GPSHPositioningError, ratios(&[(9, 2)])),
        (Tag::GPSAltitudeRef, Value::Byte(vec![1])),
        (Tag::GPSAltitude, ratios(&[(27, 10)])),
        (Tag::GPSImgDirectionRef, text("M")),
        (Tag::GPSImgDirection, ratios(&[(360, 1)])),
    ]);
    assert_eq!(facts.position.unwrap().accuracy(), Metres::new(4.5).ok());
    assert_eq!(facts.altitude_m, Some(-2.7));
    assert_eq!(facts.direction, Some(Direction { degrees: 0.0, north: North::Magnetic }));
    assert_eq!(warnings, []);
}

#[test]
fn a_number_that_cannot_be_right_costs_itself_alone() {
    for (fact, tag, value) in [
        (Fact::Accuracy, Tag::GPSHPositioningError, ratios(&[(0, 1)])),
        (Fact::Accuracy, Tag::GPSHPositioningError, ratios(&[(u32::MAX, 1)])),
        (Fact::Altitude, Tag::GPSAltitude, ratios(&[(1, 0)])),
        (Fact::Altitude, Tag::GPSAltitude, ratios(&[(99_999, 1)])),
        (Fact::Altitude, Tag::GPSAltitude, text("66 m")),
        (Fact::Direction, Tag::GPSImgDirection, ratios(&[(361, 1)])),
        (Fact::Direction, Tag::GPSImgDirection, ratios(&[(90, 1)])), // without its north
        (Fact::Orientation, Tag::Orientation, Value::Short(vec![0])),
        (Fact::Orientation, Tag::Orientation, Value::Short(vec![9])),
        (Fact::Orientation, Tag::Orientation, Value::Short(vec![262])),
        (Fact::Orientation, Tag::Orientation, text("6")),
    ] {
        let (facts, warnings) = position_but(&[(tag, value.clone())]);
        let found = facts.position.unwrap();
        assert_eq!(warnings, [PhotoWarning::Senseless(fact)], "{tag} {value:?}");
        assert_eq!(
            (found.accuracy(), facts.altitude_m, facts.direction),
            (None, None, None),
            "{tag} {value:?}"
        );
        assert_eq!(facts.orientation.number(), 1);
    }
}

#[test]
fn times_are_read_as_the_standard_writes_them() {
    let time = |time: &str, offset: &str, fraction: &str| {
        let mut fields = vec![(Tag::DateTimeOriginal, text(time)), (Tag::OffsetTimeOriginal, text(offset))];
        fields.push((Tag::SubSecTimeOriginal, text(fraction)));
        fields.retain(|(_, value)| !matches!(value, Value::Ascii(parts) if parts[0].is_empty()));
        let (facts, warnings) = read(&fields);
        let taken = facts.taken.map(|taken| taken.to_string());
        (taken.unwrap_or_default(), warnings.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
    };
    let assumed = "the photo's time names no time zone: taken as UTC+01:00";
    let senseless = "the photo's time makes no sense and is left out";
    let zoneless = format!("the photo's time zone makes no sense and is left out; {assumed}");
    for (shown, offset, fraction, taken, warned) in [
        ("2026:10:18 14:05:09", "+01:00", "250", "2026-10-18T14:05:09.25+01:00", ""),
        ("2026:10:18 14:05:09", "-09:30", "", "2026-10-18T14:05:09-09:30", ""),
        ("2026:10:18 14:05:09", "Z", "5   ", "2026-10-18T14:05:09.5+00:00", ""),
        ("2026:10:18 14:05:09", "+01:00", "?!", "2026-10-18T14:05:09+01:00", ""),
        ("2026:10:18 14:05:60", "+01:00", "", "2026-10-18T14:05:59+01:00", ""),
        ("2026:10:18 14:05:09", "", "", "2026-10-18T14:05:09+01:00", assumed),
        ("2026:10:18 14:05:09", "   :  ", "", "2026-10-18T14:05:09+01:00", assumed),
        ("2026:10:18 14:05:09", "+25:00", "", "2026-10-18T14:05:09+01:00", &zoneless),
        ("2026:10:18 14:05:09", "+01:75", "", "2026-10-18T14:05:09+01:00", &zoneless),
        ("2026:10:18 14:05:09", "BST", "", "2026-10-18T14:05:09+01:00", &zoneless),
        ("    :  :     :  :  ", "+01:00", "", "", ""),
        ("                   ", "+01:00", "", "", ""),
        ("0000:00:00 00:00:00", "+01:00", "", "", senseless),
        ("2026:13:18 14:05:09", "+01:00", "", "", senseless),
        ("2026:02:30 14:05:09", "+01:00", "", "", senseless),
        ("2026:10:18 24:05:09", "+01:00", "", "", senseless),
        ("2026:10:18 14:05:61", "+01:00", "", "", senseless),
        ("2026:10:18", "+01:00", "", "", senseless),
        ("last Sunday, after rain", "+01:00", "", "", senseless),
    ] {
        assert_eq!(time(shown, offset, fraction), (taken.to_owned(), warned.to_owned()), "{shown} {offset}");
    }
}

#[test]
fn the_first_clock_that_knows_is_read() {
    let (facts, warnings) = read(&[
        (Tag::DateTimeOriginal, text("    :  :     :  :  ")),
        (Tag::DateTimeDigitized, text("2026:10:18 14:05:09")),
        (Tag::OffsetTimeDigitized, text("+01:00")),
        (Tag::DateTime, text("2026:11:01 10:00:00")),
        (Tag::OffsetTime, text("+00:00")),
    ]);
    assert_eq!(facts.taken.unwrap().to_string(), "2026-10-18T14:05:09+01:00");
    assert_eq!(warnings, []);
}

#[test]
fn gps_time_needs_a_date_and_must_make_sense() {
    let gps = |date: &str, time: [(u32, u32); 3]| {
        let mut fields = vec![(Tag::GPSDateStamp, text(date)), (Tag::GPSTimeStamp, ratios(&time))];
        fields.retain(|(_, value)| !matches!(value, Value::Ascii(parts) if parts[0].is_empty()));
        let (facts, warnings) = read(&fields);
        (facts.taken.map(|taken| taken.to_string()).unwrap_or_default(), warnings)
    };
    let noon = [(12, 1), (0, 1), (0, 1)];
    let summer_noon = "2026-07-01T13:00:00+01:00".to_owned();
    assert_eq!(gps("2026:07:01", noon), (summer_noon.clone(), vec![]));
    assert_eq!(gps("2026-07-01", noon), (summer_noon, vec![]));
    let fine = [(23, 1), (59, 1), (5950, 100)];
    assert_eq!(gps("2026:12:01", fine), ("2026-12-01T23:59:59.5+00:00".to_owned(), vec![]));
    assert_eq!(gps("", noon), (String::new(), vec![]));
    let senseless = (String::new(), vec![PhotoWarning::Senseless(Fact::GpsTime)]);
    for (date, time) in [
        ("0000:00:00", noon),
        ("1979:12:31", noon),
        ("2026:02:29", noon),
        ("2026:07:01", [(24, 1), (0, 1), (0, 1)]),
        ("2026:07:01", [(12, 1), (60, 1), (0, 1)]),
        ("2026:07:01", [(12, 1), (0, 0), (0, 1)]),
    ] {
        assert_eq!(gps(date, time), senseless, "{date} {time:?}");
    }
}

#[test]
fn facts_survive_json() {
    let (facts, _) = position_but(&[
        (Tag::DateTimeOriginal, text("2026:10:18 14:05:09")),
        (Tag::OffsetTimeOriginal, text("+01:00")),
        (Tag::Orientation, Value::Short(vec![6])),
    ]);
    let json = serde_json::to_string(&facts).unwrap();
    assert_eq!(serde_json::from_str::<PhotoFacts>(&json).unwrap(), facts);
    assert!(json.contains("\"orientation\":6"), "{json}");
    assert!(
        serde_json::from_str::<PhotoFacts>(&json.replace("\"orientation\":6", "\"orientation\":9")).is_err()
    );
}
