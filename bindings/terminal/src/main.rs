//! `trug`: the notebook at a desk. It parses, calls the core and prints; nothing is decided here.

mod advise;
mod answer;
mod area;
mod bundle;
mod code;
mod condition;
mod conversation;
mod dates;
mod demo;
mod device;
mod exchange;
mod export;
mod fields;
mod find;
mod house;
mod import;
mod key;
mod knowledge;
mod leaving;
mod notebook;
mod outing;
mod patch;
mod photo;
mod place;
mod search;
mod show;
mod trial;
mod watch;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{Parser, Subcommand};

use answer::{Answer, Refusal};

/// A notebook for people who gather wild fungi: what was found, where, when, and how much was left.
#[derive(Debug, Parser)]
#[command(name = "trug", version, max_term_width = 100)]
struct Arguments {
    /// The notebook's folder; made if there is none [default: that of `TRUG_NOTEBOOK`, or trug in the user's data folder].
    #[arg(long, global = true, value_name = "DIR")]
    notebook: Option<PathBuf>,
    /// Answer in JSON, on one line, as JSON.md describes it.
    #[arg(long, global = true)]
    json: bool,
    #[command(subcommand)]
    noun: Noun,
}

#[derive(Debug, Subcommand)]
enum Noun {
    /// Outings: start, end, show.
    #[command(subcommand)]
    Outing(outing::Verb),
    /// Finds: add, show, list, amend, name, delete, undo.
    #[command(subcommand)]
    Find(find::Verb),
    /// Patches: add, list, show with what came of them, rename, move, merge, rest, look, undo.
    #[command(subcommand)]
    Patch(patch::Verb),
    /// Photos: add to a find, adopt one that no find owns.
    #[command(subcommand)]
    Photo(photo::Verb),
    /// Finds, patches and kinds that go with some words, however they are spelt.
    Search(search::Command),
    /// Shows a place in every form: any grid reference, or degrees.
    Place(place::Command),
    /// The notebook itself: check, rebuild, backup, restore.
    #[command(subcommand)]
    Notebook(notebook::Verb),
    /// What a find may be, what it must not be taken for, and what to look at next.
    Key(key::Command),
    /// How much of what stands there may be taken, and why.
    Advise(Box<advise::Command>),
    /// Codes of gathering: list, show, use, check.
    #[command(subcommand)]
    Code(code::Verb),
    /// Your own rules: add, list, remove.
    #[command(subcommand)]
    House(house::Verb),
    /// Closed ground, and ground with a code of its own: add, list, remove.
    #[command(subcommand)]
    Area(area::Verb),
    /// What is known of fungi: list, show, check, trial, sheets to print.
    #[command(subcommand)]
    Pack(knowledge::Verb),
    /// Signs of age, and the condition they make: signs, judge.
    #[command(subcommand)]
    Condition(condition::Verb),
    /// Writes copies for somebody else: places at 10 km, no notes, no names, no clock time, unless you choose otherwise.
    Export(export::Command),
    /// Bundles: write one for your other devices or for somebody else, read one, check one, list the copies you were given.
    #[command(subcommand)]
    Bundle(bundle::Verb),
    /// Reads what other programs marked, and folders of photos: gpx, photos, geojson.
    #[command(subcommand)]
    Import(import::Verb),
    /// Your other devices: pair, list, unpair.
    #[command(subcommand)]
    Device(device::Verb),
    /// Exchanges everything with your other devices over a folder that some program keeps alike on all of them.
    Exchange(exchange::Command),
    /// Plays an invented outing in invented woods, and leaves its notebook to explore.
    Demo(demo::Command),
}

fn main() -> ExitCode {
    // Taken out before parsing: it holds for a wrong usage too, and stands anywhere, even behind a place that begins with a minus.
    let (flags, arguments): (Vec<_>, Vec<_>) = std::env::args_os().partition(|argument| argument == "--json");
    let json = !flags.is_empty();
    // A full disk or a file-size limit is an answer, not a death.
    let _ = signal_hook::flag::register(SIGXFSZ, std::sync::Arc::default());
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return wrong_usage(&error, json),
    };
    let folder = arguments.notebook.unwrap_or_else(notebook::default_folder);
    let done = match arguments.noun {
        Noun::Outing(verb) => outing::run(verb, &folder),
        Noun::Find(verb) => find::run(verb, &folder),
        Noun::Patch(verb) => patch::run(verb, &folder),
        Noun::Photo(verb) => photo::run(verb, &folder),
        Noun::Search(command) => search::run(&command, &folder),
        Noun::Place(command) => place::run(&command),
        Noun::Notebook(verb) => notebook::run(verb, &folder),
        Noun::Key(command) => key::run(&command, json),
        Noun::Advise(command) => advise::run(*command, &folder),
        Noun::House(verb) => house::run(verb, &folder),
        Noun::Area(verb) => area::run(verb, &folder),
        Noun::Code(verb) => code::run(verb, &folder),
        Noun::Pack(verb) => knowledge::run(verb),
        Noun::Condition(verb) => condition::run(verb),
        Noun::Export(command) => export::run(&command, &folder),
        Noun::Bundle(verb) => bundle::run(&verb, &folder),
        Noun::Import(verb) => import::run(&verb, &folder, json),
        Noun::Device(verb) => device::run(&verb, &folder),
        Noun::Exchange(command) => exchange::run(&command, &folder),
        Noun::Demo(command) => demo::run(&command),
    };
    match done {
        Ok(answer) => answer.print(json),
        Err(refusal) => refusal.print(json),
    }
}

fn wrong_usage(error: &clap::Error, json: bool) -> ExitCode {
    let asked = matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
    if json && !asked {
        Refusal::new("usage", error.render().to_string().trim()).print(true);
    } else {
        let _ = error.print(); // nobody reads it if this fails
    }
    ExitCode::from(if asked { 0 } else { 2 })
}

/// "File too large": not among the names that the signal crate has. The number is the same on Linux and macOS.
const SIGXFSZ: i32 = 25;

/// What every command gives back.
type Done = Result<Answer, Refusal>;
