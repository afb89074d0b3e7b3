//! Checks the pack in a folder: `cargo run --example check_pack -- core/packs/britain`.

use std::error::Error;
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).map(PathBuf::from).ok_or("give the folder of a pack")?;
    let problems = trug::pack::check_folder(&folder)?;
    for problem in &problems {
        println!("{problem}");
    }
    Ok(if problems.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}
