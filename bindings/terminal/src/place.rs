//! `trug place`: one place in every form.

use clap::Args;
use trug::place::Place;

use crate::Done;
use crate::answer::Answer;

#[derive(Debug, Args)]
pub struct Command {
    /// A British, Irish or MGRS reference, or degrees; parts may stand apart.
    #[arg(required = true, value_name = "REF", allow_hyphen_values = true)]
    reference: Vec<String>,
}

pub fn run(command: &Command) -> Done {
    let place = Place::read(&command.reference.join(" "))?;
    let mut words = Vec::new();
    let mut line = |label: &str, value: Option<String>| {
        words.extend(value.map(|value| format!("{label:<14}{value}")));
    };
    line("British grid", place.british_grid.clone());
    line("Irish grid", place.irish_grid.clone());
    line("MGRS", place.mgrs.clone());
    line("degrees", Some(format!("{:.6}, {:.6}", place.latitude, place.longitude)));
    line("within", place.uncertainty_m.map(|metres| format!("{metres:.1} m")));
    if let Some(by) = place.by.filter(|by| !by.is_official()) {
        line("note", Some(format!("outside the surveyed grid: good to about {:.0} m", by.accuracy())));
    }
    Ok(Answer::new(words.join("\n"), &place))
}
