//! `trug bundle`: files by which records pass from one notebook to another.

use std::fmt::Write;
use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, Subcommand};
use serde_json::json;
use trug::error::Error;
use trug::exchange::{Audience, Bundle, Refused};
use trug::export::Exactness;
use trug::notebook::{CopyRecord, Notebook, Received, Sending, Sent, SystemClock};
use trug::pack::Pack;

use crate::Done;
use crate::answer::Answer;
use crate::device;
use crate::leaving::{self, Leaving, kept_back};
use crate::notebook::counted;
use crate::watch::Watch;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Writes a bundle: everything for your other devices, or copies for somebody else.
    Write(Box<Writing>),
    /// Reads a bundle into the notebook: all of it or nothing, as often as you like.
    Read {
        /// The bundle.
        file: PathBuf,
        /// Say what it would bring, and keep nothing.
        #[arg(long)]
        dry_run: bool,
    },
    /// Proves a bundle without a notebook, and says what is in it.
    Check {
        /// The bundle.
        file: PathBuf,
    },
    /// Lists the copies of other people's finds.
    Copies,
    /// Shows this notebook's key: to hand to your other devices, and to whoever is to seal something to you.
    Key,
}

#[derive(Debug, Args)]
pub struct Writing {
    /// The file to write.
    out: PathBuf,
    /// me: your other devices, everything exact; someone: copies of what may leave.
    #[arg(long = "for", value_name = "WHOM")]
    audience: Audience,
    #[command(flatten)]
    leaving: Leaving,
    /// List exactly what would leave, and write nothing.
    #[arg(long)]
    dry_run: bool,
    /// Replace a file that is there.
    #[arg(long)]
    force: bool,
}

pub fn run(verb: &Verb, folder: &Path) -> Done {
    let watch = Watch::new();
    if let Verb::Check { file } = verb {
        return check(file, &watch);
    }
    if let Verb::Key = verb {
        return device::own_key(folder);
    }
    let notebook = Notebook::open_with(folder, Arc::new(SystemClock), &watch)?;
    match verb {
        Verb::Write(writing) => write(&notebook, writing, &watch),
        Verb::Read { file, dry_run } => {
            let received = notebook.read_bundle(file, !dry_run, &watch)?;
            Ok(Answer::new(what_came(&received, *dry_run), &received))
        }
        Verb::Check { file } => check(file, &watch),
        Verb::Key => device::own_key(folder),
        Verb::Copies => {
            let copies = notebook.received_copies()?;
            Ok(Answer::new(list(&copies), &json!({ "copies": copies })))
        }
    }
}

fn write(notebook: &Notebook, writing: &Writing, watch: &Watch) -> Done {
    let terms = writing.leaving.terms();
    let sending = match writing.audience {
        Audience::Me => Sending::ForMe,
        Audience::Someone => Sending::ForSomeone {
            finds: writing.leaving.finds(notebook)?,
            terms: terms.clone(),
            recipient: writing.leaving.recipient.clone(),
        },
    };
    let pack = Pack::britain()?;
    let sent = if writing.dry_run {
        notebook.preview_bundle(pack, &sending, watch)?
    } else {
        notebook.write_bundle(pack, &sending, &writing.out, writing.force, watch)?
    };
    let done = if writing.dry_run { "Would leave" } else { "Written" };
    let mut words = format!("{done}: {}.", contents(&sent));
    match sent.audience {
        Audience::Me => words
            .push_str(" It holds everything, exact places and notes among it: for your own devices only."),
        Audience::Someone => {
            let _ = write!(words, " {}", kept_back(&terms, sent.photos > 0));
        }
    }
    if sent.photos_left_out > 0 {
        let left = counted(sent.photos_left_out, "photo");
        let _ = write!(words, "\nLeft out: {left}, damaged here: check the notebook.");
    }
    if writing.dry_run {
        for copied in &sent.copies {
            let _ = write!(words, "\n{}", leaving::find(copied));
        }
    }
    Ok(Answer::new(words, &sent))
}

fn contents(sent: &Sent) -> String {
    let what = match sent.audience {
        Audience::Me => counted(sent.changes, "change"),
        Audience::Someone => {
            let copies = sent.copies.len();
            if copies == 1 { "1 copy".to_owned() } else { format!("{copies} copies") }
        }
    };
    format!("{what}, {}", counted(sent.photos, "photo"))
}

fn what_came(received: &Received, dry_run: bool) -> String {
    let merged = received.merged;
    let mut words = match received.audience {
        Audience::Me => "A bundle for one's own devices".to_owned(),
        Audience::Someone => match &received.owner {
            Some(owner) => format!("Copies from {owner}"),
            None => "Copies from somebody who gave no name".to_owned(),
        },
    };
    if let Some(place) = received.place {
        words.push_str(match place {
            Exactness::TenKilometres => ", places as 10 km squares",
            Exactness::OneKilometre => ", places as 1 km squares",
            Exactness::Exact => ", exact places",
        });
    }
    let would = if dry_run { "would be new" } else { "new" };
    let _ = write!(
        words,
        ". {}, {} {would}; {}, {} {would}.",
        counted(merged.changes, "change"),
        merged.new,
        counted(received.photos, "photo"),
        received.new_photos,
    );
    if merged.left_out > 0 {
        let _ = write!(
            words,
            "\nLeft out: {}. Only a device that you paired may change what is here, or bring rules and advice.",
            counted(merged.left_out, "change")
        );
    }
    words
}

fn check(file: &Path, watch: &Watch) -> Done {
    let file = File::open(file).map_err(|error| Error::from(Refused::Reading(error)))?;
    let mut bundle = Bundle::open(BufReader::new(file), watch).map_err(Error::from)?;
    let changes = bundle.lines::<Refused>(|_| Ok(())).map_err(Error::from)?;
    let about = bundle.about();
    let photos = bundle.photos().len() as u64;
    let whom = match about.audience {
        Audience::Me => "its owner's other devices",
        Audience::Someone => "somebody else",
    };
    let words = format!(
        "A whole bundle for {whom}: {}, {}; newest {}.",
        counted(changes, "change"),
        counted(photos, "photo"),
        about.date
    );
    let json = json!({
        "audience": about.audience, "owner": about.owner, "place": about.place, "date": about.date.to_string(),
        "format": format!("{}.{}", about.format.0, about.format.1), "signed": bundle.signature().is_some(),
        "devices": bundle.devices().len(), "changes": changes, "photos": photos,
    });
    Ok(Answer::new(words, &json))
}

fn list(copies: &[CopyRecord]) -> String {
    if copies.is_empty() {
        return "No copies yet: read a bundle that somebody made for you.".to_owned();
    }
    let line = |one: &CopyRecord| {
        let photos = if one.photos.is_empty() {
            String::new()
        } else {
            format!(" · {}", counted(one.photos.len() as u64, "photo"))
        };
        format!("{}{photos}", leaving::find(&one.copied.value))
    };
    copies.iter().map(line).collect::<Vec<_>>().join("\n")
}
