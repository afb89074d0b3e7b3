//! Reads the built-in pack once, when the library is built, so that opening it later costs next to nothing.

use std::error::Error;
use std::path::Path;
use std::{env, fs};

#[allow(dead_code, unreachable_pub)]
#[path = "src/stage.rs"]
mod stage;
#[allow(dead_code, unreachable_pub)]
#[path = "src/words.rs"]
mod words;

#[allow(dead_code, unreachable_pub)]
#[path = "src/pack"]
mod pack {
    mod fields;
    mod folder;
    mod lookup;
    mod model;
    mod names;
    mod problem;
    mod range;
    mod read;
    mod read_cells;
    mod read_characters;
    mod read_signs;
    mod read_taxon;
    mod signs;

    /// The pack in a folder as bytes, and what is wrong with it.
    pub fn bake(folder: &super::Path) -> Result<(Vec<u8>, Vec<problem::Problem>), Box<dyn super::Error>> {
        let reading = read::read(&folder::read_folder(folder)?);
        Ok((postcard::to_stdvec(&reading.pack)?, reading.problems))
    }

    /// Its line figures as bytes.
    pub fn bake_figures(folder: &super::Path) -> Result<Vec<u8>, Box<dyn super::Error>> {
        Ok(postcard::to_stdvec(&folder::read_figures(folder)?)?)
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=packs/britain");
    println!("cargo::rerun-if-changed=src/pack");
    println!("cargo::rerun-if-changed=src/stage.rs");
    println!("cargo::rerun-if-changed=src/words.rs");
    let (bytes, problems) = pack::bake(Path::new("packs/britain"))?;
    for problem in problems {
        // Whoever is mending the pack can still build; the tests do not pass until it is mended.
        println!("cargo::warning=packs/britain/{problem}");
    }
    let out = env::var("OUT_DIR")?;
    fs::write(Path::new(&out).join("britain.figures"), pack::bake_figures(Path::new("packs/britain"))?)?;
    Ok(fs::write(Path::new(&out).join("britain.pack"), bytes)?)
}
