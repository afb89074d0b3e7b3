//! OSTN15, the definitive transformation between ETRS89 and the National Grid: shifts at every kilometre, interpolated.
//!
//! The table is carried predicted and deflated (under half a megabyte, see `examples/pack_ostn15.rs`) and unpacked into
//! 3.5 MB when first asked for.
//!
//! # References
//! Ordnance Survey, "Transformations and OSGM15 user guide" v1.3 (2020), chapter 3. The data are Crown copyright,
//! under the BSD licence that lies beside them.

use std::io::Read;
use std::sync::OnceLock;

use flate2::read::DeflateDecoder;

static PACKED: &[u8] = include_bytes!("ostn15/shifts.deflate");

/// Nodes from west to east and from south to north, a kilometre apart.
const COLUMNS: usize = 701;
const ROWS: usize = 1251;
/// What the unpacked shifts are counted from, east and north, in millimetres: it makes them fit 16 bits.
const BASE: [i32; 2] = [80_000, -85_000];

struct Table {
    /// East and north shift in millimetres above [`BASE`], row by row from the south-west.
    nodes: Vec<[u16; 2]>,
    /// Where, counting nodes row by row, one enters and leaves the transformation area by turns.
    crossings: Vec<u32>,
}

/// A position on the table: the node at the south-west of a cell, and how far across and up it, from 0 to 1.
struct Cell {
    column: usize,
    row: usize,
    across: f64,
    up: f64,
}

/// The shifts, east and north, that turn ETRS89 metres on the National Grid's projection into National Grid metres.
///
/// They reach over the whole table, 700 km by 1,250 km, and are smooth beyond [`covers`]; `None` off the table.
pub(super) fn shift(easting: f64, northing: f64) -> Option<(f64, f64)> {
    let (table, cell) = (table()?, cell(easting, northing)?);
    let [mut east, mut north] = BASE.map(f64::from);
    for (column, row, weight) in [
        (0, 0, (1.0 - cell.across) * (1.0 - cell.up)),
        (1, 0, cell.across * (1.0 - cell.up)),
        (0, 1, (1.0 - cell.across) * cell.up),
        (1, 1, cell.across * cell.up),
    ] {
        let node = table.nodes.get((cell.row + row) * COLUMNS + cell.column + column)?;
        let [e, n] = node.map(f64::from);
        east += weight * e;
        north += weight * n;
    }
    Some((east / 1000.0, north / 1000.0))
}

/// Whether the nearest node lies in the area that the Ordnance Survey made the transformation for: Great Britain, the
/// Isle of Man and the sea around them. Ireland and the continent are outside.
pub(super) fn covers(easting: f64, northing: f64) -> bool {
    let nearest = || {
        let cell = cell(easting, northing)?;
        let (east, north) = (usize::from(cell.across > 0.5), usize::from(cell.up > 0.5));
        u32::try_from((cell.row + north) * COLUMNS + cell.column + east).ok()
    };
    let Some((table, node)) = table().zip(nearest()) else { return false };
    table.crossings.partition_point(|crossing| *crossing <= node) % 2 == 1
}

fn cell(easting: f64, northing: f64) -> Option<Cell> {
    let (column, across) = split(easting, COLUMNS)?;
    let (row, up) = split(northing, ROWS)?;
    Some(Cell { column, row, across, up })
}

/// Metres into the node below and the fraction of a kilometre beyond it; the last node ends the last cell.
fn split(metres: f64, nodes: usize) -> Option<(usize, f64)> {
    let kilometres = metres / 1000.0;
    if !(0.0..1e4).contains(&kilometres) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 10,000")]
    let node = kilometres as usize;
    (node + 1 < nodes).then(|| (node, kilometres.fract()))
}

/// The table, unpacked once. `None` only if the packed bytes were damaged, which a test excludes.
fn table() -> Option<&'static Table> {
    static TABLE: OnceLock<Option<Table>> = OnceLock::new();
    TABLE.get_or_init(|| unpack(PACKED)).as_ref()
}

fn unpack(packed: &[u8]) -> Option<Table> {
    let mut bytes = Vec::with_capacity(2 * COLUMNS * ROWS + 10_000);
    DeflateDecoder::new(packed).read_to_end(&mut bytes).ok()?;
    let mut numbers = Numbers(bytes.iter());
    let [east, north] = [plane(&mut numbers, BASE[0])?, plane(&mut numbers, BASE[1])?];
    let nodes = east.into_iter().zip(north).map(|(east, north)| [east, north]).collect();
    let crossings = numbers.scan(0_u32, |node, run| {
        *node = run.checked_add(*node)?;
        Some(*node)
    });
    Some(Table { nodes, crossings: crossings.collect() })
}

/// One of the two shifts at every node. Each was predicted from its left, lower and diagonal neighbours, as the fourth
/// corner of a plane through them; what the table carries is the difference.
fn plane(numbers: &mut Numbers, base: i32) -> Option<Vec<u16>> {
    let mut plane = Vec::with_capacity(COLUMNS * ROWS);
    let mut below = vec![0; COLUMNS];
    for _ in 0..ROWS {
        let (mut left, mut diagonal) = (0, 0);
        for lower in &mut below {
            let shift = left + *lower - diagonal + unfolded(numbers.next()?);
            plane.push(u16::try_from(shift - base).ok()?);
            (left, diagonal, *lower) = (shift, *lower, shift);
        }
    }
    Some(plane)
}

/// 0, 1, 2, 3, 4 … back into 0, -1, 1, -2, 2 …
fn unfolded(number: u32) -> i32 {
    let half = (number >> 1).cast_signed();
    if number & 1 == 0 { half } else { -half - 1 }
}

/// Whole numbers written seven bits to a byte, the least first, the top bit set on all but the last.
struct Numbers<'a>(std::slice::Iter<'a, u8>);

impl Iterator for Numbers<'_> {
    type Item = u32;

    fn next(&mut self) -> Option<u32> {
        let mut number = 0;
        for place in (0..28).step_by(7) {
            let byte = *self.0.next()?;
            number |= u32::from(byte & 0x7f) << place;
            if byte & 0x80 == 0 {
                return Some(number);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every node against the table that the crate `ostn15_phf` carries, made from the Ordnance Survey's own file.
    #[test]
    fn every_node_equals_the_published_table() {
        let table = table().unwrap();
        assert_eq!(table.nodes.len(), COLUMNS * ROWS);
        for (record, node) in (1..).zip(&table.nodes) {
            let (east, north, _) = ostn15_phf::ostn15_lookup(&record).unwrap();
            #[expect(clippy::cast_possible_truncation)]
            let published = [east, north].map(|metres| (metres * 1000.0).round() as i32);
            let ours = [i32::from(node[0]) + BASE[0], i32::from(node[1]) + BASE[1]];
            assert_eq!(ours, published, "record {record}");
        }
        assert_eq!(ostn15_phf::ostn15_lookup(&876_952), None);
    }

    /// The published file flags 167,139 of its 876,951 nodes as 16, outside the transformation area.
    #[test]
    fn the_area_is_the_published_one() {
        let table = table().unwrap();
        let mut ends = table.crossings.clone();
        ends.push(u32::try_from(COLUMNS * ROWS).unwrap());
        let inside: u32 = ends.chunks_exact(2).map(|run| run[1] - run[0]).sum();
        assert_eq!(u32::try_from(COLUMNS * ROWS).unwrap() - inside, 167_139);
    }

    /// User guide v1.3, annexe A: the four corners of cell (651, 313) and the shifts within it at Caister.
    #[test]
    fn the_ordnance_survey_worked_example() {
        for (east, north, shifts) in [
            (651.0, 313.0, (102.787, -78.242)),
            (652.0, 313.0, (102.825, -78.244)),
            (652.0, 314.0, (102.834, -78.225)),
            (651.0, 314.0, (102.795, -78.213)),
            (651.307_003_0, 313.255_685_9, (102.801, -78.236)),
        ] {
            let found = shift(east * 1000.0, north * 1000.0).unwrap();
            assert!(
                (found.0 - shifts.0).abs() < 0.000_5 && (found.1 - shifts.1).abs() < 0.000_5,
                "{found:?}"
            );
        }
    }

    /// What the table may cost a phone is 0.7 MB; the code that unpacks it takes some 25 kB of that.
    #[test]
    fn the_table_stays_small() {
        assert!(PACKED.len() < 500_000, "{}", PACKED.len());
    }

    #[test]
    fn damaged_bytes_give_no_table_and_no_panic() {
        for keep in [0, 1, 1000, PACKED.len() / 2] {
            assert!(unpack(&PACKED[..keep]).is_none());
        }
        let mut flipped = PACKED.to_vec();
        for at in (0..flipped.len()).step_by(40_009) {
            flipped[at] ^= 0x55;
            let _ = unpack(&flipped);
        }
    }

    #[test]
    fn off_the_table_there_is_no_shift() {
        for (easting, northing) in
            [(-0.1, 5.0), (5.0, -0.1), (700_000.0, 5.0), (5.0, 1_250_000.0), (f64::NAN, 5.0)]
        {
            assert_eq!(shift(easting, northing), None);
            assert!(!covers(easting, northing));
        }
    }
}
