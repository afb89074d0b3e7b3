//! Packs the Ordnance Survey's OSTN15 file into the form that Trug carries.
//!
//! Reads `OSTN15_OSGM15_DataFile.txt` (the Ordnance Survey's developer pack; the crate `ostn15_phf` ships it as .txt.xz)
//! on standard input and writes the packed table to the file named:
//!
//! ```text
//! xzcat OSTN15_OSGM15_DataFile.txt.xz | cargo run --release --example pack_ostn15 core/src/place/ostn15/shifts.deflate
//! ```
//!
//! The form: three lists of whole numbers, seven bits to a byte, deflated together. East shifts, then north shifts, in
//! millimetres, row by row from the south-west, each less its prediction (left + lower - diagonal neighbour) and
//! folded (0, -1, 1, -2 … into 0, 1, 2, 3 …). Then, from node to node, the lengths of the runs outside and inside the
//! transformation area (a height datum flag of 16 is outside), the first run outside and the last left out. Losslessly,
//! 876,951 nodes come to 0.4 MB.

use std::error::Error;
use std::io::{self, BufRead, Write};

use flate2::Compression;
use flate2::write::DeflateEncoder;

const COLUMNS: usize = 701;
const ROWS: usize = 1251;
const OUTSIDE: &str = "16";

fn main() -> Result<(), Box<dyn Error>> {
    let target = std::env::args_os().nth(1).ok_or("name the file to write")?;
    let (mut east, mut north, mut inside) = (Vec::new(), Vec::new(), Vec::new());
    for line in io::stdin().lock().lines().skip(1) {
        let line = line?;
        let fields: Vec<&str> = line.trim_end().split(',').collect();
        let [_, _, _, east_shift, north_shift, _, flag] = fields.as_slice() else {
            return Err("a line without seven fields".into());
        };
        east.push(millimetres(east_shift)?);
        north.push(millimetres(north_shift)?);
        inside.push(*flag != OUTSIDE);
    }
    if east.len() != COLUMNS * ROWS {
        return Err(format!("{} nodes where {} belong", east.len(), COLUMNS * ROWS).into());
    }
    let mut bytes = Vec::new();
    for plane in [&east, &north] {
        residuals(plane).for_each(|residual| write_number(&mut bytes, folded(residual)));
    }
    for run in runs(&inside) {
        write_number(&mut bytes, run);
    }
    let mut deflated = DeflateEncoder::new(Vec::new(), Compression::best());
    deflated.write_all(&bytes)?;
    std::fs::write(target, deflated.finish()?)?;
    Ok(())
}

/// Metres to three places, as the file writes them.
fn millimetres(metres: &str) -> Result<i32, Box<dyn Error>> {
    let whole = metres.replace('.', "");
    if metres.split_once('.').is_none_or(|(_, fraction)| fraction.len() != 3) {
        return Err("a shift without three decimals".into());
    }
    Ok(whole.parse()?)
}

fn residuals(plane: &[i32]) -> impl Iterator<Item = i32> {
    let at = |column: Option<usize>, row: Option<usize>| -> i32 {
        let node = column.zip(row).and_then(|(column, row)| plane.get(row * COLUMNS + column));
        node.copied().unwrap_or(0)
    };
    (0..ROWS).flat_map(move |row| {
        (0..COLUMNS).map(move |column| {
            let (left, lower) = (column.checked_sub(1), row.checked_sub(1));
            at(Some(column), Some(row)) - at(left, Some(row)) - at(Some(column), lower) + at(left, lower)
        })
    })
}

fn folded(number: i32) -> u32 {
    ((number << 1) ^ (number >> 31)).cast_unsigned()
}

fn write_number(bytes: &mut Vec<u8>, mut number: u32) {
    loop {
        let [low, ..] = number.to_le_bytes();
        number >>= 7;
        if number == 0 {
            return bytes.push(low & 0x7f);
        }
        bytes.push(low | 0x80);
    }
}

/// The lengths of the runs of equal neighbours, the first one outside, the last one left out.
fn runs(inside: &[bool]) -> Vec<u32> {
    let (mut previous, mut start, mut runs) = (false, 0, Vec::new());
    for (node, now) in (0..).zip(inside) {
        if *now != previous {
            runs.push(node - start);
            (previous, start) = (*now, node);
        }
    }
    runs
}
