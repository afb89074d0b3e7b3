//! Reads what comes with Trug once, when the library is built, so that opening it later costs next to nothing: the pack as bytes; codes
//! and help as JSON, so that phones carry no reader of TOML.

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
    let out = env::var("OUT_DIR")?;
    for room in ["codes", "help"] {
        println!("cargo::rerun-if-changed=packs/{room}");
        as_json(&Path::new("packs").join(room), &Path::new(&out).join(room))?;
    }
    let (bytes, problems) = pack::bake(Path::new("packs/britain"))?;
    for problem in problems {
        // Whoever is mending the pack can still build; the tests do not pass until it is mended.
        println!("cargo::warning=packs/britain/{problem}");
    }
    fs::write(Path::new(&out).join("britain.figures"), pack::bake_figures(Path::new("packs/britain"))?)?;
    Ok(fs::write(Path::new(&out).join("britain.pack"), bytes)?)
}

/// Writes every TOML file of a folder as JSON.
fn as_json(folder: &Path, out: &Path) -> Result<(), Box<dyn Error>> {
    fs::create_dir_all(out)?;
    for file in fs::read_dir(folder)? {
        let path = file?.path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let table: toml::Table =
            toml::from_str(&fs::read_to_string(&path)?).map_err(|error| format!("{name}.toml: {error}"))?;
        fs::write(out.join(format!("{name}.json")), json(toml::Value::Table(table)).to_string())?;
    }
    Ok(())
}

/// The same value; a day becomes text.
fn json(value: toml::Value) -> serde_json::Value {
    match value {
        toml::Value::String(text) => text.into(),
        toml::Value::Integer(number) => number.into(),
        toml::Value::Float(number) => number.into(),
        toml::Value::Boolean(truth) => truth.into(),
        toml::Value::Datetime(day) => day.to_string().into(),
        toml::Value::Array(list) => list.into_iter().map(json).collect(),
        toml::Value::Table(table) => table.into_iter().map(|(key, value)| (key, json(value))).collect(),
    }
}
