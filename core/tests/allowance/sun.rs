//! The sun against two published methods.

use jiff::civil::Date;
use trug::allowance::{Sun, sun};
use trug::place::Position;

/// Seconds of the day of a clock time.
fn seconds(clock: &str) -> i64 {
    let parts: Vec<i64> = clock.split(':').map(|part| part.parse().unwrap()).collect();
    parts[0] * 3600 + parts[1] * 60 + parts.get(2).copied().unwrap_or(0)
}

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn times(latitude: f64, longitude: f64, date: &str) -> (i64, i64) {
    match sun(Position::new(latitude, longitude).unwrap(), day(date)).unwrap() {
        Sun::Rises { rise, set } => {
            let midnight = jiff::tz::Offset::UTC.to_timestamp(day(date).at(0, 0, 0, 0)).unwrap().as_second();
            (rise.as_second() - midnight, set.as_second() - midnight)
        }
        other => panic!("{other:?}"),
    }
}

/// Latitude, longitude, day, rises and sets.
type Row = (f64, f64, &'static str, [&'static str; 2], [&'static str; 2]);

/// Rise and set in UTC by NOAA's method and by NREL's SPA, height 0. Source: computed with the open implementations astral 3.2
/// and pvlib 0.16.1.
const TABLE: [Row; 8] = [
    (50.875, -1.57, "2026-03-20", ["06:09:28", "06:09:12"], ["18:18:56", "18:19:12"]),
    (50.875, -1.57, "2026-06-21", ["03:52:42", "03:52:19"], ["20:23:30", "20:23:51"]),
    (50.875, -1.57, "2026-10-18", ["06:34:29", "06:34:14"], ["17:07:29", "17:07:49"]),
    (50.875, -1.57, "2026-12-21", ["08:06:42", "08:06:20"], ["16:02:00", "16:02:20"]),
    (57.2, -3.7, "2026-06-21", ["03:18:42", "03:18:12"], ["21:14:32", "21:15:01"]),
    (57.2, -3.7, "2026-10-18", ["06:55:01", "06:54:43"], ["17:03:48", "17:04:11"]),
    (57.2, -3.7, "2026-12-21", ["08:53:27", "08:52:58"], ["15:32:17", "15:32:44"]),
    (51.5, -0.13333, "2026-10-25", ["06:41:53", "06:41:37"], ["16:46:27", "16:46:48"]),
];

#[test]
fn it_rises_and_sets_within_a_minute_of_both_methods() {
    for (latitude, longitude, date, rises, sets) in TABLE {
        let (rise, set) = times(latitude, longitude, date);
        for (got, published) in [(rise, rises), (set, sets)] {
            for clock in published {
                let off = (got - seconds(clock)).abs();
                assert!(off <= 60, "{latitude} {date} {clock}: {off} s off");
            }
        }
    }
}

/// Whole minutes at London, UTC. Source: the tests of the open library astral 3.2.
#[test]
fn it_agrees_with_older_printed_minutes() {
    let table = [
        ("2015-01-01", "08:06", "16:01"),
        ("2015-12-01", "07:43", "15:55"),
        ("2015-12-12", "07:56", "15:51"),
        ("2015-12-25", "08:05", "15:55"),
    ];
    for (date, rise, set) in table {
        let got = times(51.5, -0.13333, date);
        // A minute of rounding besides.
        assert!((got.0 - seconds(rise)).abs() <= 90 && (got.1 - seconds(set)).abs() <= 90, "{date} {got:?}");
    }
}

/// Source: the tests of an open library of zmanim: no sunrise at 70.15 N on midsummer's day. The other three follow from the
/// tilt of the axis.
#[test]
fn beyond_the_circle_it_stays_up_or_down() {
    let at = |latitude: f64, date: &str| sun(Position::new(latitude, 9.15).unwrap(), day(date)).unwrap();
    assert_eq!(at(70.15, "2017-06-21"), Sun::NeverSets);
    assert_eq!(at(70.15, "2017-12-21"), Sun::NeverRises);
    assert_eq!(at(-70.15, "2017-06-21"), Sun::NeverRises);
    assert_eq!(at(-70.15, "2017-12-21"), Sun::NeverSets);
}
