//! What leaves, against what must stay.

#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use proptest::prelude::*;

use super::*;
use crate::find::{Determination, Find, Got, How, Sure, Whereabouts};
use crate::id::{FindId, OutingId, PatchId};
use crate::pack::Pack;
use crate::place::{Position, Reference, distance};
use crate::units::Metres;

fn ids() -> Ids {
    Ids::new(&[7; SECRET_BYTES], "R.")
}

fn copied(find: &Find, names: &[&Determination], terms: &Terms) -> Copied {
    let id = FindId(uuid::Uuid::from_u128(1));
    copy(Original { id, find, names }, terms, &ids(), Pack::britain().unwrap()).unwrap()
}

fn named(taxon: &str, sure: Option<Sure>) -> Determination {
    Determination {
        taxon: Some(taxon.into()),
        sure,
        how: Some(How::Sight),
        who: Some("Wren".into()),
        ..Determination::default()
    }
}

fn full(position: Position) -> Find {
    Find {
        outing: Some(OutingId::new()),
        patch: Some(PatchId::new()),
        at: Some("2026-10-18T23:55:09+01:00".parse().unwrap()),
        position: Some(Whereabouts { position, got: Got::Fix }),
        by: Some("Wren".into()),
        note: Some("=by the bend\nof Harrow Shaw".into()),
        habitat: Some("below Lidgate Hanger".into()),
        further: [("secret_field".to_owned(), "owl".into())].into_iter().collect(),
        ..Find::default()
    }
}

fn written(format: Format, contents: &Contents) -> Vec<u8> {
    let mut out = Vec::new();
    write(format, contents, &mut out, &mut || Ok(())).unwrap();
    out
}

proptest! {
    #[test]
    fn a_coarse_copy_contains_the_true_place_and_says_nothing_finer(
        latitude in -89.9..89.9, longitude in -180.0..180.0, accuracy in proptest::option::of(0.0..30_000.0),
    ) {
        let mut position = Position::new(latitude, longitude).unwrap();
        if let Some(metres) = accuracy {
            position = position.within(Metres::new(metres).unwrap());
        }
        for (place, least) in [(Exactness::TenKilometres, 7071.0), (Exactness::OneKilometre, 707.0)] {
            let told = copied(&full(position), &[], &Terms { place, ..Terms::default() });
            let shared = told.place.clone().unwrap();
            let uncertainty = shared.uncertainty_m.unwrap();
            prop_assert!(uncertainty >= least && uncertainty >= accuracy.unwrap_or(0.0));
            let centre = Position::new(shared.latitude, shared.longitude).unwrap();
            // Grid metres against metres on the ground: 0.994 near the poles.
            prop_assert!(distance(centre, position).get() <= uncertainty * 1.0065);
            // The square's name gives the same centre: nothing else of the place is in there.
            let square = shared.square.unwrap();
            let named: Reference = square.parse().unwrap();
            prop_assert!(distance(named.position().unwrap(), centre).get() < 0.2);
            let figures = square.chars().rev().take_while(char::is_ascii_digit).count();
            prop_assert!(figures <= if place == Exactness::TenKilometres { 2 } else { 4 }, "{}", square);
        }
    }

    /// Two places of one square leave as the same bytes in every format.
    #[test]
    fn where_in_its_square_a_find_is_changes_no_byte(east in 1.0..9999.0, north in 1.0..9999.0) {
        let at = |e: f64, n: f64| crate::place::british::to_position(430_000.0 + e, 110_000.0 + n).unwrap().0;
        // Both known to 8 m, as a phone does.
        let known = |position: Position| position.within(Metres::new(8.0).unwrap());
        let (one, other) = (known(at(east, north)), known(at(5000.0, 5000.0)));
        let copies = |position| Contents::Finds(vec![copied(&full(position), &[], &Terms::default())]);
        for format in [Format::Csv, Format::GeoJson, Format::DarwinCore] {
            prop_assert_eq!(written(format, &copies(one)), written(format, &copies(other)));
        }
        let patch = |centre| {
            let patch = crate::patch::Patch { centre: Some(centre), ..Default::default() };
            Contents::Patches(waypoint(&patch, &Terms::default()).unwrap().into_iter().collect())
        };
        prop_assert_eq!(written(Format::Gpx, &patch(one)), written(Format::Gpx, &patch(other)));
    }
}

#[test]
fn by_default_a_copy_holds_the_day_and_no_words_people_or_ids() {
    let find = full(Position::new(50.931_28, -1.450_51).unwrap());
    let told = copied(&find, &[&named("jelly-ear", Some(Sure::Sure))], &Terms::default());
    let text = serde_json::to_string(&told).unwrap();
    for secret in ["bend", "Lidgate", "Wren", "owl", "23:55", "22:55"] {
        assert!(!text.contains(secret), "{secret}");
    }
    assert_eq!(
        (told.when().unwrap().as_str(), told.place.unwrap().square.unwrap().as_str()),
        ("2026-10-18", "SU31")
    );

    let all = Terms { place: Exactness::Exact, notes: true, time: true, name: Some("Ash".into()) };
    let told = copied(&find, &[], &all);
    let text = serde_json::to_string(&told).unwrap();
    for ticked in ["bend", "Lidgate", "50.93128", "23:55:09+01:00", "Ash"] {
        assert!(text.contains(ticked), "{ticked}");
    }
    assert!(!text.contains("Wren") && !text.contains("owl"));
}

#[test]
fn a_name_is_plain_only_where_sure_and_undisputed() {
    let find = Find::default();
    let name = |names: &[&Determination]| copied(&find, names, &Terms::default()).name;
    let (ear, sure) = (named("jelly-ear", None), named("jelly-ear", Some(Sure::Sure)));
    let latin = name(&[&sure]).scientific;
    assert_eq!((name(&[&sure]).qualifier, name(&[&sure]).english.as_deref()), (None, Some("Jelly ear")));
    assert!(latin.starts_with("Auricularia"), "{latin}");
    assert_eq!(name(&[&ear]).qualifier.as_deref(), Some("cf."));
    let other = named("death-cap", Some(Sure::Sure));
    let disputed = name(&[&sure, &other]);
    assert_eq!(disputed.scientific, "Fungi");
    assert!(disputed.qualifier.unwrap().starts_with("not settled: Amanita phalloides or "));
    let withdrawn = Determination { withdrawn: Some(true), ..other };
    assert_eq!(name(&[&sure, &withdrawn]).qualifier, None);
    assert_eq!(name(&[]).scientific, "Fungi");
    // The key would not name it, whoever was sure of it.
    let unnamed = Determination { taxon: None, how: Some(How::Key), ..Determination::default() };
    assert_eq!(name(&[&sure, &unnamed]).qualifier.as_deref(), Some("cf."));
}

#[test]
fn free_text_never_runs_as_a_formula_and_numbers_stay_numbers() {
    let find = full(Position::new(50.931_28, -1.450_51).unwrap());
    let terms = Terms { place: Exactness::Exact, notes: true, name: Some("@Ash".into()), ..Terms::default() };
    let mut copies = Vec::new();
    for taxon in ["+1", "-1", "=cmd()", "@x"] {
        copies.push(copied(&find, &[&named(taxon, Some(Sure::Sure))], &terms));
    }
    let bytes = written(Format::Csv, &Contents::Finds(copies));
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let headers = reader.headers().unwrap().clone();
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 4);
    for row in &rows {
        for (header, cell) in headers.iter().zip(row) {
            assert!(!cell.starts_with(['=', '+', '@']), "{header}");
            assert!(!cell.starts_with('-') || cell.parse::<f64>().is_ok(), "{header}");
        }
        assert!(row.iter().any(|cell| cell == "-1.45051"));
        assert!(row.iter().any(|cell| cell == "'=by the bend\nof Harrow Shaw"));
    }
    assert!(bytes.windows(2).any(|two| two == b"\r\n"));
}

#[test]
fn the_order_in_a_file_tells_no_time_that_it_does_not_show() {
    let at = |time: &str| Find { at: Some(time.parse().unwrap()), ..Find::default() };
    let copies = |terms: &Terms| {
        let finds =
            ["2026-10-18T09:00:00Z", "2026-10-18T10:00:00Z", "2026-10-18T11:00:00Z", "2026-10-17T12:00:00Z"];
        let copies = finds.iter().enumerate().map(|(n, time)| {
            let id = FindId(uuid::Uuid::from_u128(n as u128));
            copy(Original { id, find: &at(time), names: &[] }, terms, &ids(), Pack::britain().unwrap())
                .unwrap()
        });
        sorted(copies.collect())
    };
    let told = copies(&Terms::default());
    assert_eq!(told[0].when().unwrap(), "2026-10-17");
    assert!(told[1..].is_sorted_by_key(|copy| copy.id));
    assert!(copies(&Terms { time: true, ..Terms::default() }).is_sorted_by_key(|copy| copy.time));
}
