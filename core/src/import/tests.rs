#![allow(clippy::indexing_slicing)]

use std::io::{BufRead, BufReader, Cursor, Read};

use jiff::Timestamp;
use jiff::tz::Offset;
use proptest::prelude::*;

use super::*;
use crate::moment::Moment;
use crate::units::Metres;

/// Written by hand from the schema of GPX 1.1; the places are invented.
const SAMPLE: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!-- a receiver's file -->
<gpx xmlns="http://www.topografix.com/GPX/1/1" xmlns:own="urn:invented" version="1.1" creator="a receiver">
  <metadata><name>Harrow Shaw</name><bounds minlat="52" minlon="0" maxlat="52.1" maxlon="0.2"/></metadata>
  <wpt lat="52.0123456" lon="-0.0345678">
    <ele>61.5</ele><time>2026-10-18T13:05:09Z</time>
    <name>Elder &amp; ash &#x2013; <![CDATA[north <side>]]></name>
    <cmt>two stumps</cmt><desc>two stumps</desc>
    <link href="urn:invented"><text>elsewhere</text></link>
    <sym>Flag, Blue</sym><extensions><own:name>not this</own:name></extensions>
  </wpt>
  <wpt lat="-33.5" lon="+151.25"/>
  <rte><name>a way</name><rtept lat="1" lon="2"><name>on it</name></rtept></rte>
  <trk><trkseg><trkpt lat="3" lon="4"><ele>5</ele></trkpt></trkseg></trk>
</gpx>
"#;

fn read(text: &str) -> Result<Vec<Mark>, ImportError> {
    gpx(text.as_bytes())
}

#[test]
fn waypoints_are_read_and_all_else_is_passed_over() {
    let marks = read(SAMPLE).unwrap();
    assert_eq!(marks.len(), 2);
    assert_eq!(marks[0].name.as_deref(), Some("Elder & ash \u{2013} north <side>"));
    assert_eq!(marks[0].note.as_deref(), Some("two stumps"));
    assert_eq!((marks[0].centre.latitude(), marks[0].centre.longitude()), (52.012_345_6, -0.034_567_8));
    assert_eq!((&marks[1].name, &marks[1].note, marks[1].centre.longitude()), (&None, &None, 151.25));
    // GPX 1.0 had elements of others' directly in a waypoint, and `url` where 1.1 has `link`.
    let old = r#"<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0" xmlns:x="urn:x"><wpt lat="52" lon="0">
        <name>a</name><cmt>one</cmt><desc>two</desc><url>urn:x</url><x:name>no</x:name></wpt></gpx>"#;
    let old = read(old).unwrap();
    assert_eq!((old[0].note.as_deref(), old.len()), (Some("two\none"), 1));
    assert_eq!(read(r#"<gpx version="1.1"/>"#).unwrap(), []);
    assert_eq!(read(&format!("\u{feff}{SAMPLE}")).unwrap(), marks);
}

#[test]
fn what_is_no_gpx_is_refused_with_the_line_and_the_field() {
    let with = |wpt: &str| format!("<gpx version=\"1.1\">\n<wpt lat=\"52\" lon=\"0\"/>\n\n{wpt}\n</gpx>");
    let long = "n".repeat(201);
    for (text, code, says) in [
        (String::new(), "gpx-not-gpx", "first element"),
        ("a note".into(), "gpx-not-gpx", ""),
        ("<kml/>".into(), "gpx-not-gpx", ""),
        ("<gpx version=\"2.0\"/>".into(), "gpx-other-version", ""),
        ("<gpx/>".into(), "gpx-other-version", ""),
        ("<gpx version=\"1.1\">\n<wpt".into(), "gpx-not-xml", "line"),
        ("<gpx version=\"1.1\">\n\n<wpt lat=\"52\" lon=\"0\">".into(), "gpx-not-xml", "line 3"),
        (with("<wpt></trk>"), "gpx-waypoint", "waypoint 2, line 4: lat: missing"),
        (with("<wpt lat=\"52\"/>"), "gpx-waypoint", "waypoint 2, line 4: lon: missing"),
        (with("<wpt lat=\"north\" lon=\"0\"/>"), "gpx-waypoint", "line 4: lat: not a number"),
        (with("<wpt lat=\"NaN\" lon=\"0\"/>"), "gpx-waypoint", "off the earth"),
        (with("<wpt lat=\"52\" lon=\"1e999\"/>"), "gpx-waypoint", "off the earth"),
        (with("<wpt lat=\"520\" lon=\"0\"/>"), "gpx-waypoint", "place: it is off the earth"),
        (
            with(&format!("<wpt lat=\"52\" lon=\"0\"><name>{long}</name></wpt>")),
            "gpx-waypoint",
            "name: longer",
        ),
        (
            with("<wpt lat=\"52\" lon=\"0\"><name>a<b/></name></wpt>"),
            "gpx-waypoint",
            "name: it holds elements",
        ),
        (with("<wpt lat=\"52\" lon=\"0\"><name>&own;</name></wpt>"), "gpx-entity", "line 4"),
        (with("<wpt lat=\"52\" lon=\"0\"></trk>"), "gpx-not-xml", "line 4"),
        ("<!DOCTYPE gpx [<!ENTITY a \"b\">]><gpx version=\"1.1\"/>".into(), "gpx-entity", "line 1"),
        ("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><gpx version=\"1.1\"/>".into(), "gpx-not-utf8", ""),
    ] {
        let error = read(&text).unwrap_err();
        assert_eq!(error.code(), code, "{text}: {error}");
        assert!(error.to_string().contains(says), "{text}: {error}");
        assert!(!error.to_string().contains("52"), "no places: {error}");
    }
    let latin = [
        b"<gpx version=\"1.1\"><wpt lat=\"52\" lon=\"0\"><name>Caf".as_slice(),
        &[0xe9],
        b"</name></wpt></gpx>",
    ];
    assert_eq!(gpx(latin.concat().as_slice()).unwrap_err().code(), "gpx-not-utf8");
}

/// Reads what a function fills in.
struct Filled<F>(F);

impl<F: FnMut(&mut [u8]) -> usize> Read for Filled<F> {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        Ok(self.0(into))
    }
}

/// A file whose middle comes over and over, without standing in memory.
fn endless(start: &str, again: &'static str, times: usize, end: &'static str) -> impl BufRead {
    let middle = std::iter::repeat_n(again, times);
    let mut parts = [start.to_owned()].into_iter().chain(middle.chain([end]).map(str::to_owned));
    let mut held = Cursor::new(Vec::new());
    BufReader::new(Filled(move |into: &mut [u8]| {
        loop {
            let read = held.read(into).unwrap();
            let Some(part) = (read == 0).then(|| parts.next()).flatten() else { return read };
            held = Cursor::new(part.into_bytes());
        }
    }))
}

#[test]
fn endless_files_cost_no_more_than_their_bounds() {
    let begun = "<gpx version=\"1.1\">";
    let wpt = "<wpt lat=\"52\" lon=\"0\"/>";
    assert_eq!(gpx(endless(begun, wpt, MOST_MARKS, "</gpx>")).unwrap().len(), MOST_MARKS);
    assert_eq!(gpx(endless(begun, wpt, 20_000_000, "</gpx>")), Err(ImportError::TooMany));
    let trk = "<trk><trkseg><trkpt lat=\"52\" lon=\"0\"/></trkseg></trk>";
    assert_eq!(gpx(endless(begun, trk, 30_000_000, "</gpx>")), Err(ImportError::TooLong));
    let name = "<gpx version=\"1.1\"><wpt lat=\"52\" lon=\"0\"><name>";
    assert_eq!(
        gpx(endless(name, "nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn", 40_000_000, "")),
        Err(ImportError::TooLong)
    );
}

#[test]
fn points_are_marks_and_polygons_are_outlines() {
    let text = r#"{"type": "FeatureCollection", "features": [
        {"type": "Feature", "properties": {"name": " Stump ", "description": "elder"}, "geometry": {"type": "Point", "coordinates": [0.5, 52.25, 61]}},
        {"type": "Feature", "properties": null, "geometry": {"type": "MultiPoint", "coordinates": [[0, 52], [1, 53]]}},
        {"type": "Feature", "properties": {"name": "closed"}, "geometry": {"type": "Polygon", "coordinates": [[[0, 52], [1, 52], [1, 53], [0, 52]]]}}]}"#;
    let drawing = geojson(text).unwrap();
    assert_eq!((drawing.marks.len(), drawing.outlines.len()), (3, 1));
    let first = &drawing.marks[0];
    assert_eq!((first.name.as_deref(), first.note.as_deref()), (Some("Stump"), Some("elder")));
    assert_eq!((first.centre.latitude(), first.centre.longitude()), (52.25, 0.5));
    let error = geojson(r#"{"type": "Point", "coordinates": [0, 91]}"#).unwrap_err().to_string();
    assert!(error.contains("feature 1: place: it is off the earth"), "{error}");
    // Within the length, and still too much to hold.
    let many = format!("[{}0]", "0,".repeat(2_000_000));
    assert_eq!(geojson(&many).unwrap_err().code(), "geojson-too-long");
}

#[test]
fn the_same_content_has_the_same_id() {
    let id = id_of("patch", &["a", "b"]);
    assert_eq!(id, id_of("patch", &["a", "b"]));
    for other in [id_of("patch", &["ab", ""]), id_of("area", &["a", "b"]), id_of("patch", &["a", "c"])] {
        assert_ne!(id, other);
    }
    assert_eq!(id.0.get_version_num(), 8);
    // What a list shows of an id tells one from another.
    let shown = |n: i32| id_of("patch", &[&n.to_string()]).to_string()[..13].to_owned();
    assert_eq!((0..10_000).map(shown).collect::<std::collections::BTreeSet<_>>().len(), 10_000);
}

fn shot(minute: i64, north_m: Option<f64>, accuracy: f64) -> Shot {
    let instant = Timestamp::from_second(1_792_000_000 + minute * 60).unwrap();
    // A metre north is a 111,267th of a degree at 52° N (worked by hand from the axes of WGS84).
    let position = north_m.map(|metres| {
        Position::new(52.0 + metres / 111_267.0, 0.0).unwrap().within(Metres::new(accuracy).unwrap())
    });
    Shot { taken: Some(Moment::new(instant, Offset::UTC)), position }
}

#[test]
fn photos_of_one_find_are_put_together() {
    let none = Shot::default();
    for (shots, groups) in [
        (vec![], vec![]),
        (vec![shot(0, None, 0.0), shot(9, None, 0.0), shot(19, None, 0.0)], vec![vec![0, 1, 2]]),
        (vec![shot(11, None, 0.0), shot(0, None, 0.0)], vec![vec![1], vec![0]]),
        (
            vec![shot(0, Some(0.0), 0.0), shot(1, Some(24.0), 0.0), shot(2, Some(60.0), 0.0)],
            vec![vec![0, 1], vec![2]],
        ),
        // What the receivers were out by is allowed for.
        (vec![shot(0, Some(0.0), 20.0), shot(1, Some(60.0), 20.0)], vec![vec![0, 1]]),
        // Back at the first find after the second.
        (
            vec![shot(0, Some(0.0), 5.0), shot(1, Some(80.0), 5.0), shot(2, Some(3.0), 5.0)],
            vec![vec![0, 2], vec![1]],
        ),
        // A photo without a place is of what was photographed last.
        (
            vec![shot(0, Some(0.0), 5.0), shot(1, Some(80.0), 5.0), shot(2, None, 0.0)],
            vec![vec![0], vec![1, 2]],
        ),
        (vec![none, shot(0, None, 0.0), none], vec![vec![1], vec![0], vec![2]]),
    ] {
        assert_eq!(together(&shots), groups, "{shots:?}");
    }
}

proptest! {
    #[test]
    fn every_photo_is_in_one_group(minutes in proptest::collection::vec((0_i64..60, proptest::option::of(0.0..200.0_f64)), 0..30)) {
        let shots: Vec<Shot> = minutes.iter().map(|(minute, north)| shot(*minute, *north, 5.0)).collect();
        let mut all: Vec<usize> = together(&shots).into_iter().flatten().collect();
        all.sort_unstable();
        prop_assert_eq!(all, (0..shots.len()).collect::<Vec<_>>());
    }

    #[test]
    fn no_file_makes_the_readers_panic(text in "(<gpx version=\"1.1\">|<wpt lat=\"5\" lon=\"1\">|</?name>|&a;|<!\\[CDATA\\[|\\]\\]>|</wpt>|.){0,20}") {
        let _ = read(&text);
        let _ = geojson(&text);
    }
}
