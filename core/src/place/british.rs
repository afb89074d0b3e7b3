//! The British National Grid, both ways.

use super::grid::{Grid, GridPoint, Transformation};
use super::transverse_mercator::BRITISH_ON_GRS80;
use super::{Error, Position, helmert, ostn15};

/// The extent of the 91 lettered squares of 100 km, SV to JM, in metres.
pub(super) const EXTENT: (f64, f64) = (700_000.0, 1_300_000.0);

/// When two shifts in a row differ by no more, in metres, the inverse has settled. The guide stops at 0.1 mm.
const SETTLED: f64 = 1e-6;

/// The point of the National Grid at a position, or `None` off its lettered squares.
///
/// Through OSTN15 wherever it has a shift, else by Helmert; the point says which.
///
/// # References
/// Ordnance Survey, "Transformations and OSGM15 user guide" v1.3 (2020), chapter 3 and annexe A.
#[must_use]
pub fn to_grid(position: Position) -> Option<GridPoint> {
    let (latitude, longitude) = (position.latitude(), position.longitude());
    // The grid lies well within; beyond, the projection's series have nothing to say.
    if !(49.0..=62.5).contains(&latitude) || !(-13.0..=6.0).contains(&longitude) {
        return None;
    }
    let (east, north) = BRITISH_ON_GRS80.forward(latitude, longitude);
    let (easting, northing, by) = if let Some(shift) = ostn15::shift(east, north) {
        (east + shift.0, north + shift.1, on_table(east, north))
    } else {
        let (easting, northing) = helmert::to_grid(latitude, longitude);
        (easting, northing, Transformation::Helmert)
    };
    let inside = (0.0..EXTENT.0).contains(&easting) && (0.0..EXTENT.1).contains(&northing);
    inside.then_some(GridPoint { grid: Grid::British, easting, northing, by })
}

/// The position of a point of the National Grid, and how it was reached.
///
/// # Units
/// Metres.
///
/// # Errors
/// [`Error::UnknownSquare`] off the lettered squares: 0 to 700,000 east, 0 to 1,300,000 north.
pub fn to_position(easting: f64, northing: f64) -> Result<(Position, Transformation), Error> {
    if !(0.0..EXTENT.0).contains(&easting) || !(0.0..EXTENT.1).contains(&northing) {
        return Err(Error::UnknownSquare);
    }
    let ((latitude, longitude), by) = match unshifted(easting, northing) {
        Some((east, north)) => (BRITISH_ON_GRS80.inverse(east, north), on_table(east, north)),
        None => (helmert::to_degrees(easting, northing), Transformation::Helmert),
    };
    Ok((Position::new(latitude, longitude)?, by))
}

/// Whether the Ordnance Survey made the National Grid for this place: Great Britain, the Isle of Man and the sea around.
pub(super) fn covers(position: Position) -> bool {
    to_grid(position).is_some_and(|point| point.by == Transformation::Ostn15)
}

/// National Grid back to ETRS89, both projected: the shift is looked up where the point would be without it, again and
/// again until it settles (three times, as a rule: it changes by a few centimetres a kilometre at most).
fn unshifted(easting: f64, northing: f64) -> Option<(f64, f64)> {
    let mut shift = ostn15::shift(easting, northing)?;
    for _ in 0..10 {
        let better = ostn15::shift(easting - shift.0, northing - shift.1)?;
        let change = (better.0 - shift.0).abs().max((better.1 - shift.1).abs());
        shift = better;
        if change <= SETTLED {
            break;
        }
    }
    Some((easting - shift.0, northing - shift.1))
}

fn on_table(east: f64, north: f64) -> Transformation {
    if ostn15::covers(east, north) { Transformation::Ostn15 } else { Transformation::Ostn15Beyond }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::Side;

    /// How far two points are apart, axis by axis, in metres.
    fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
        (a.0 - b.0).abs().max((a.1 - b.1).abs())
    }

    /// A point in each of the 875,000 cells of the table, the shift put on and taken off again, against `lonlat_bng`
    /// 0.9, which carries the Ordnance Survey's table as it is and rounds what it puts on to a millimetre.
    #[test]
    fn every_cell_shifts_as_another_implementation_shifts_it() {
        for row in 0..1250 {
            for column in 0..700 {
                let (east, north) = (f64::from(column) * 1000.0 + 310.0, f64::from(row) * 1000.0 + 770.0);
                let shift = ostn15::shift(east, north).unwrap();
                let theirs = lonlat_bng::convert_etrs89_to_osgb36(east, north).unwrap();
                assert!(apart((east + shift.0, north + shift.1), theirs) < 0.000_501, "{east} {north}");
                match (unshifted(east, north), lonlat_bng::convert_osgb36_to_etrs89(east, north)) {
                    (Some(ours), Ok(theirs)) => assert!(apart(ours, theirs) < 1e-6, "{east} {north}"),
                    (ours, theirs) => assert!(ours.is_none() && theirs.is_err(), "{east} {north}"),
                }
            }
        }
    }

    /// Both ways from degrees over the area that `lonlat_bng` 0.9 admits, every 0.05 degrees. It gives millimetres and
    /// eight decimals (1.1 mm), and projects by the Ordnance Survey's shorter series, which stray from the true
    /// projection far from the central meridian: tolerances are for the east of 7 degrees west and for all.
    #[test]
    fn degrees_convert_as_in_another_implementation() {
        let (mut worst, mut count) = ([[0.0_f64; 2]; 2], 0);
        for north in 0..218 {
            for east in 0..207 {
                let (latitude, longitude) =
                    (49.925 + f64::from(north) * 0.05, -8.575 + f64::from(east) * 0.05);
                let Ok(theirs) = lonlat_bng::convert_osgb36(longitude, latitude) else { continue };
                let ours = to_grid(Position::new(latitude, longitude).unwrap());
                let Some(ours) = ours.filter(|ours| ours.by != Transformation::Helmert) else {
                    // West of the table it reads another row's shifts.
                    assert!(BRITISH_ON_GRS80.forward(latitude, longitude).0 < 0.0);
                    continue;
                };
                let metres = apart((ours.easting, ours.northing), theirs);
                let Ok(theirs) = lonlat_bng::convert_osgb36_to_ll(ours.easting, ours.northing) else {
                    continue;
                };
                let back = to_position(ours.easting, ours.northing).unwrap().0;
                let degrees = apart((back.longitude(), back.latitude()), theirs);
                for worst in &mut worst[usize::from(longitude < -7.0)..] {
                    *worst = [worst[0].max(metres), worst[1].max(degrees)];
                }
                count += 1;
            }
        }
        let [[metres_east, degrees_east], [metres, degrees]] = worst;
        assert!(count > 30_000, "{count}");
        assert!(metres_east < 0.001 && degrees_east < 2.1e-8, "{worst:?}");
        assert!(metres < 0.002 && degrees < 6e-8, "{worst:?}");
    }

    #[test]
    fn the_way_back_leads_to_the_same_point_whatever_the_transformation() {
        for northing in (0..1300).step_by(13) {
            for easting in (0..700).step_by(7) {
                let (easting, northing) =
                    (f64::from(easting) * 1000.0 + 0.25, f64::from(northing) * 1000.0 + 0.75);
                let (position, by) = to_position(easting, northing).unwrap();
                // A point within a shift's length of the table's edge goes one way by OSTN15 and the other by Helmert.
                let Some(back) = to_grid(position).filter(|back| back.by == by) else {
                    assert!(easting < 200.0 || northing > 1_249_000.0, "{easting} {northing}");
                    continue;
                };
                // Helmert's lets heights go, which costs a millimetre or two.
                let tolerance = if by == Transformation::Helmert { 0.005 } else { 1e-5 };
                assert!(
                    apart((back.easting, back.northing), (easting, northing)) < tolerance,
                    "{easting} {northing}"
                );
            }
        }
    }

    #[test]
    fn off_the_lettered_squares_there_is_no_national_grid() {
        for (easting, northing) in [(-1.0, 5.0), (700_000.0, 5.0), (5.0, 1_300_000.0), (5.0, f64::NAN)] {
            assert_eq!(to_position(easting, northing), Err(Error::UnknownSquare));
        }
        for (latitude, longitude) in [(48.5, -2.0), (57.0, -14.0), (53.0, 7.0), (-52.0, 2.0), (90.0, 0.0)] {
            assert_eq!(to_grid(Position::new(latitude, longitude).unwrap()), None);
        }
    }

    /// Places on both sides of the sea between, from the map (from memory, to about a kilometre): the boundary of the
    /// Ordnance Survey's transformation area runs between them.
    #[test]
    fn the_area_ends_in_the_sea() {
        for (name, latitude, longitude) in [
            ("Mull of Kintyre", 55.31, -5.80),
            ("Mull of Oa", 55.585, -6.30),
            ("Bardsey", 52.76, -4.79),
            ("the Smalls", 51.72, -5.67),
            ("Scilly", 49.93, -6.30),
            ("St Kilda", 57.81, -8.58),
            ("Muckle Flugga", 60.86, -0.89),
            ("Isle of Man", 54.2, -4.5),
        ] {
            let position = Position::new(latitude, longitude).unwrap();
            assert!(covers(position) && !super::super::irish::covers(position), "{name}");
        }
        for (name, latitude, longitude) in [
            ("Torr Head", 55.196, -6.06),
            ("Rathlin", 55.29, -6.17),
            ("Mew Island", 54.70, -5.52),
            ("Burr Point", 54.47, -5.43),
            ("Carnsore Point", 52.17, -6.36),
            ("Lambay", 53.49, -6.0),
            ("Inishtrahull", 55.43, -7.24),
            ("Mizen Head", 51.45, -9.82),
            ("Great Blasket", 52.1, -10.6),
        ] {
            let position = Position::new(latitude, longitude).unwrap();
            assert!(!covers(position) && super::super::irish::covers(position), "{name}");
        }
        for (name, latitude, longitude) in
            [("Calais", 50.95, 1.85), ("Jersey", 49.2, -2.1), ("Bergen", 60.4, 5.3)]
        {
            let position = Position::new(latitude, longitude).unwrap();
            assert!(!covers(position) && !super::super::irish::covers(position), "{name}");
        }
    }

    #[test]
    fn squares_come_from_truncated_metres() {
        let square = |easting: f64| {
            let by = Transformation::Ostn15;
            GridPoint { grid: Grid::British, easting, northing: 178_388.999, by }
                .square(Side::Metre)
                .unwrap()
                .to_string()
        };
        assert_eq!(
            (square(530_624.999), square(530_625.0)),
            ("TQ 30624 78388".into(), "TQ 30625 78388".into())
        );
    }
}
