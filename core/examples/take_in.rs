//! Takes photographs in: `take_in FOLDER PHOTO...`. What `tests/measure/photo` times.

use std::path::Path;
use std::process::ExitCode;

use jiff::tz::TimeZone;
use trug::photo::{PhotoError, Shelf};

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let Some(folder) = arguments.next() else {
        eprintln!("usage: take_in FOLDER PHOTO...");
        return ExitCode::from(2);
    };
    let taken = Shelf::open(Path::new(&folder)).and_then(|shelf| {
        arguments.try_for_each(|photo| {
            let taken = shelf.take_in(Path::new(&photo), &TimeZone::system())?;
            println!("{} {} {} bytes", taken.hash, taken.format, taken.bytes);
            taken.warnings.iter().for_each(|warning| println!("  {warning}"));
            Ok::<_, PhotoError>(())
        })
    });
    match taken {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}
