//! `trug area`: add, list, remove. Closed ground, and ground with a code of its own.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use serde_json::json;
use trug::area::{Area, Outline, outlines};
use trug::notebook::{AreaRecord, Notebook};
use trug::place::Reference;
use trug::units::Metres;

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::fields;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Keeps an area. Advice for finds in it, or too near to be sure, goes by it from then on.
    Add(New),
    /// Lists the areas.
    List,
    /// Takes an area away.
    Remove {
        /// Its name, or the beginning of its id.
        name: String,
    },
}

#[derive(Debug, Args)]
pub struct New {
    /// What to call it. Several outlines in one file are told apart by their own names.
    name: String,
    #[command(flatten)]
    shape: Shape,
    /// How far a circle reaches, in metres.
    #[arg(long, value_name = "METRES", value_parser = fields::metres, requires = "circle")]
    radius: Option<Metres>,
    /// Nothing is gathered there.
    #[arg(long, required_unless_present = "code")]
    closed: bool,
    /// The code that holds there besides, by its id: see `trug code list`.
    #[arg(long, value_name = "ID")]
    code: Option<String>,
    /// Anything else: who says so, until when.
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
struct Shape {
    /// A circle about this place, in any form of reference.
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true, requires = "radius")]
    circle: Option<String>,
    /// The outlines in this file (RFC 7946): polygons, with or without holes.
    #[arg(long, value_name = "FILE")]
    geojson: Option<PathBuf>,
}

impl New {
    fn areas(&self) -> Result<Vec<Area>, Refusal> {
        let area = Area {
            name: Some(self.name.clone()),
            closed: self.closed.then_some(true),
            code: self.code.clone(),
            note: self.note.clone(),
            ..Area::default()
        };
        if let (Some(typed), Some(radius)) = (&self.shape.circle, self.radius) {
            let centre = typed.parse::<Reference>()?.position()?;
            return Ok(vec![Area { outline: Some(Outline::Circle { centre, radius }), ..area }]);
        }
        let Some(file) = &self.shape.geojson else {
            return Err(Refusal::new("field", "outline: give --circle and --radius, or --geojson"));
        };
        Ok(area.each(outlines(&fs::read_to_string(file)?)?))
    }
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    // An area that cannot be is refused before a notebook is made for it.
    let areas = if let Verb::Add(new) = &verb { new.areas()? } else { Vec::new() };
    let notebook = Notebook::open(folder)?;
    match verb {
        Verb::Add(_) => Ok(list(&notebook.add_areas(&areas)?)),
        Verb::List => Ok(list(&notebook.areas()?)),
        Verb::Remove { name } => {
            notebook.remove_area(&name)?;
            Ok(Answer::new(format!("{name} no longer holds."), &json!({"removed": name})))
        }
    }
}

fn list(areas: &[AreaRecord]) -> Answer {
    let mut words = String::new();
    for record in areas {
        let area = &record.area.value;
        let closed = (area.closed == Some(true)).then(|| "closed".to_owned());
        let code = area.code.as_ref().map(|code| format!("code {code}"));
        let holds: Vec<String> = closed.into_iter().chain(code).collect();
        let unread = || "an outline that only a newer version can read".to_owned();
        let shape = area.outline.as_ref().map_or_else(unread, Outline::in_words);
        let _ = writeln!(words, "{:<24} {:<12} {shape}", record.name(), holds.join(", ")); // a String takes everything
        if let Some(note) = &area.note {
            let _ = writeln!(words, "  {note}");
        }
    }
    if areas.is_empty() {
        words.push_str(
            "No areas yet: `trug area add NAME --circle PLACE --radius METRES --closed` keeps one.",
        );
    }
    Answer::new(words, &areas)
}
