//! `trug patch`: add, list, show, rename, move, merge, rest, look, undo.

mod words;

use std::path::Path;

use clap::{Args, Subcommand};
use jiff::civil::Date;
use serde::Serialize;
use trug::find::{Host, Substrate};
use trug::moment::Moment;
use trug::notebook::{Notebook, PatchRecord};
use trug::pack::Pack;
use trug::patch::{Look, Outcome, Patch, Visit};
use trug::place::{Position, Reference, bearing, distance};
use trug::store::Criteria;
use trug::units::Metres;

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::{dates, fields, show};

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Keeps a patch: a log, a stump, the ground round a tree, to go back to.
    Add(Box<New>),
    /// Lists patches, oldest first; from a place, nearest first, with the way there.
    List {
        /// From here.
        #[arg(long, value_name = "REF", allow_hyphen_values = true)]
        from: Option<String>,
    },
    /// Shows a patch and what came of it, season by season.
    Show {
        /// The beginning of its id, or its name.
        patch: String,
    },
    /// Gives a patch another name.
    Rename {
        /// The beginning of its id, or its name.
        patch: String,
        /// The new name.
        name: String,
    },
    /// Puts the middle of a patch elsewhere, or says how far it reaches.
    Move {
        /// The beginning of its id, or its name.
        patch: String,
        #[command(flatten)]
        place: Where,
    },
    /// Makes one patch of two: finds and visits of both then stand under the second.
    Merge {
        /// The patch that is merged, by the beginning of its id or its name.
        patch: String,
        /// The patch that stands for both.
        into: String,
    },
    /// Lets a patch rest until a day, or ends its rest.
    #[command(group = clap::ArgGroup::new("rest").required(true))]
    Rest {
        /// The beginning of its id, or its name.
        patch: String,
        /// The first day on which it may be gathered from again: 2026-12-01, "1 Dec", "in 2 weeks".
        #[arg(long, value_name = "DAY", value_parser = dates::day, group = "rest")]
        until: Option<Date>,
        /// It has rested enough.
        #[arg(long, group = "rest")]
        end: bool,
    },
    /// Notes a look at a patch: nothing there, unless told otherwise. What was found there is a find.
    Look {
        /// The beginning of its id, or its name.
        patch: String,
        /// What came of it: nothing, seen, taken.
        #[arg(long, default_value = "nothing")]
        outcome: Outcome,
        /// When [default: now].
        #[arg(long, value_name = "TIME", value_parser = dates::moment)]
        at: Option<Moment>,
        /// Who looked, if it was not you.
        #[arg(long, value_name = "NAME")]
        by: Option<String>,
        /// Anything else.
        #[arg(long, value_name = "TEXT")]
        note: Option<String>,
    },
    /// Takes back the last thing done to a patch: a change, a merge, a look, or adding it.
    Undo {
        /// The beginning of its id, or its name.
        patch: String,
    },
}

/// A patch to be kept.
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("what").required(true).multiple(true))]
pub struct New {
    /// What you call it.
    #[arg(group = "what")]
    name: Option<String>,
    /// Found it on a find, by the beginning of its id: place, tree and substrate are taken from there, and the find joins it.
    #[arg(long, value_name = "ID", group = "what")]
    find: Option<String>,
    /// Its middle: a British, Irish or MGRS reference, or degrees.
    #[arg(long, value_name = "REF", allow_hyphen_values = true, group = "what")]
    place: Option<String>,
    /// How exact the place is, in metres.
    #[arg(long, value_name = "METRES", value_parser = fields::metres, requires = "place")]
    accuracy: Option<Metres>,
    /// How far it reaches from there, in metres, up to 500 [default: 10].
    #[arg(long, value_name = "METRES", value_parser = fields::metres)]
    radius: Option<Metres>,
    /// The tree; "hazel?" for a guess, "hazel!" if sure of it.
    #[arg(long, value_name = "TREE")]
    host: Option<Host>,
    /// What is grown on: fallen-branch, stump, buried-wood, soil, moss …
    #[arg(long, value_name = "SUBSTRATE")]
    on: Option<Substrate>,
    /// What you look for there, if it is one thing.
    #[arg(long)]
    taxon: Option<String>,
    /// Anything else.
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

/// Where a patch is to lie.
#[derive(Debug, Args)]
#[group(required = true, multiple = true)]
pub struct Where {
    /// Its middle: a British, Irish or MGRS reference, or degrees.
    #[arg(long, value_name = "REF", allow_hyphen_values = true)]
    place: Option<String>,
    /// How exact the place is, in metres.
    #[arg(long, value_name = "METRES", value_parser = fields::metres, requires = "place")]
    accuracy: Option<Metres>,
    /// How far it reaches from there, in metres, up to 500.
    #[arg(long, value_name = "METRES", value_parser = fields::metres)]
    radius: Option<Metres>,
}

/// A patch in a list.
#[derive(Debug, Serialize)]
pub struct Listed {
    #[serde(flatten)]
    pub record: PatchRecord,
    /// The latest look at it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last_look: Option<Look>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance_m: Option<Metres>,
    /// Degrees from true north; none where one stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bearing: Option<f64>,
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    let notebook = &notebook;
    match verb {
        Verb::Add(new) => add(notebook, *new),
        Verb::List { from } => {
            let from = from.map(|typed| position(&typed, None)).transpose()?;
            let listed = list(notebook, from)?;
            Ok(Answer::new(words::list(&listed, notebook.now().day()), &listed))
        }
        Verb::Show { patch } => {
            let history = notebook.patch_history(named(notebook, &patch)?)?;
            Ok(Answer::new(words::history(&history, notebook.now().day()), &history))
        }
        Verb::Rename { patch, name } => {
            amend(notebook, &patch, &Patch { name: Some(name), ..Patch::default() }, &[])
        }
        Verb::Move { patch, place: Where { place, accuracy, radius } } => {
            let centre = place.map(|typed| position(&typed, accuracy)).transpose()?;
            amend(notebook, &patch, &Patch { centre, radius, ..Patch::default() }, &[])
        }
        Verb::Rest { patch, until, end } => {
            let empty = if end { vec!["rests_until".to_owned()] } else { Vec::new() };
            amend(notebook, &patch, &Patch { rests_until: until, ..Patch::default() }, &empty)
        }
        Verb::Merge { patch, into } => {
            let merged = named(notebook, &patch)?;
            let before = notebook.patch(merged)?;
            let record = notebook.merge_patches(merged, named(notebook, &into)?)?;
            Ok(Answer::new(words::merged(&before, &record), &record))
        }
        Verb::Look { patch, outcome, at, by, note } => {
            let id = named(notebook, &patch)?;
            let visit = Visit { patch: Some(id), outcome: Some(outcome), at, by, note, ..Visit::default() };
            let visit = notebook.add_visit(visit)?;
            Ok(Answer::new(words::looked(&notebook.patch(id)?, &visit), &visit))
        }
        Verb::Undo { patch } => {
            let record = notebook.undo_patch(named(notebook, &patch)?)?;
            Ok(Answer::new(words::patch(&record, notebook.now().day()), &record))
        }
    }
}

fn add(notebook: &Notebook, new: New) -> Done {
    let New { name, find, place, accuracy, radius, host, on, taxon, note } = new;
    let centre = place.map(|typed| position(&typed, accuracy)).transpose()?;
    let patch = Patch { name, centre, radius, host, on, taxon, note, ..Patch::default() };
    let record = match find {
        Some(find) => notebook.found_patch(Pack::britain()?, notebook.find_beginning(&find)?, &patch)?,
        None => notebook.add_patch(&patch)?,
    };
    Ok(Answer::new(words::patch(&record, notebook.now().day()), &record))
}

fn amend(notebook: &Notebook, patch: &str, changes: &Patch, empty: &[String]) -> Done {
    let record = notebook.amend_patch(named(notebook, patch)?, changes, empty)?;
    Ok(Answer::new(words::patch(&record, notebook.now().day()), &record))
}

fn position(typed: &str, accuracy: Option<Metres>) -> Result<Position, Refusal> {
    let position = typed.parse::<Reference>()?.position()?;
    Ok(accuracy.map_or(position, |accuracy| position.within(accuracy)))
}

/// The patch of this name, in any case, or whose id begins like this; one that was merged is answered by what stands for it.
pub fn named(notebook: &Notebook, typed: &str) -> Result<trug::id::PatchId, Refusal> {
    let wanted = typed.trim().to_lowercase();
    let patches = notebook.patches(&Criteria::default())?;
    let has_name = |patch: &&PatchRecord| {
        patch.patch.value.name.as_ref().is_some_and(|name| name.trim().to_lowercase() == wanted)
    };
    let mut same = patches.iter().filter(has_name);
    match (same.next(), same.next()) {
        (Some(patch), None) => Ok(patch.id),
        (Some(_), Some(_)) => Err(Refusal::new(
            "ambiguous",
            "more than one patch has that name: give the id that `trug patch list` shows",
        )),
        _ => Ok(notebook.standing_patch(notebook.patch_beginning(typed)?)?),
    }
}

fn list(notebook: &Notebook, from: Option<Position>) -> Result<Vec<Listed>, Refusal> {
    let mut listed = Vec::new();
    for record in notebook.patches(&Criteria::default())? {
        let last_look = notebook.last_look(record.id)?;
        let way = from.zip(record.patch.value.centre);
        let distance_m = way.map(|(here, there)| distance(here, there));
        let bearing = way.and_then(|(here, there)| bearing(here, there));
        listed.push(Listed { record, last_look, distance_m, bearing });
    }
    if from.is_some() {
        listed.sort_by(|a, b| {
            let far = |one: &Listed| one.distance_m.map_or(f64::INFINITY, Metres::get);
            far(a).total_cmp(&far(b))
        });
    }
    Ok(listed)
}

/// What a patch is called: its name, or the beginning of its id.
pub fn called(name: Option<&String>, id: trug::id::PatchId) -> String {
    name.cloned().unwrap_or_else(|| show::short(&id))
}
