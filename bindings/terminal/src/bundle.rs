//! `trug bundle`: files by which records pass from one notebook to another.

use std::fmt::Write;
use std::fs::{self, File};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, Subcommand};
use serde_json::json;
use trug::disk::Doing;
use trug::error::Error;
use trug::exchange::{Audience, Bundle, Refused};
use trug::export::Exactness;
use trug::find::FieldError;
use trug::notebook::{CopyRecord, Notebook, Received, Sending, Sent, SystemClock};
use trug::pack::Pack;
use trug::seal::{NotAKey, Passphrase, Recipient, To, plain};

use crate::Done;
use crate::answer::{Answer, Refusal};
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
        #[command(flatten)]
        opening: Opening,
    },
    /// Proves a bundle, and says what is in it. Nothing is kept; a notebook is needed only for one that is sealed to its key.
    Check {
        /// The bundle.
        file: PathBuf,
        #[command(flatten)]
        opening: Opening,
    },
    /// Lists the copies of other people's finds.
    Copies,
    /// Shows this notebook's key: to hand to your other devices, and to whoever is to seal something to you.
    Key,
}

#[derive(Debug, Args)]
pub struct Opening {
    /// The passphrase that it is sealed with is the first line of this file. Without, this notebook's own key is tried.
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
}

impl Opening {
    fn passphrase(&self) -> Result<Option<Passphrase>, Error> {
        self.passphrase_file.as_deref().map(passphrase).transpose()
    }
}

/// The first line of a file; a terminal's history is no place for one.
fn passphrase(file: &Path) -> Result<Passphrase, Error> {
    let text = fs::read_to_string(file).doing("read the passphrase")?;
    Ok(Passphrase::new(text.lines().next().unwrap_or_default())?)
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
    /// Leave out what the paired device of this name has told, by its last bundle, that it holds.
    #[arg(long, value_name = "NAME")]
    unseen: Option<String>,
    /// Let the photos go along, stripped of everything but the picture.
    #[arg(long)]
    photos: bool,
    /// Seal it to this key, trug1… or age1…, or to the paired device of this name. May be given several times.
    #[arg(long = "to", value_name = "KEY", conflicts_with = "passphrase_file")]
    keys: Vec<String>,
    /// Seal it with the passphrase that is the first line of this file.
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
    /// List exactly what would leave, and write nothing.
    #[arg(long)]
    dry_run: bool,
    /// Replace a file that is there.
    #[arg(long)]
    force: bool,
}

pub fn run(verb: &Verb, folder: &Path) -> Done {
    let watch = Watch::new();
    let open = || Notebook::open_with(folder, Arc::new(SystemClock), &watch);
    match verb {
        Verb::Check { file, opening } => check(file, opening, folder, &watch),
        Verb::Key => device::own_key(folder),
        Verb::Write(writing) => write(&open()?, writing, &watch),
        Verb::Read { file, dry_run, opening } => {
            let passphrase = opening.passphrase()?;
            let received = open()?.read_bundle(file, passphrase.as_ref(), !dry_run, &watch)?;
            Ok(Answer::new(what_came(&received, *dry_run), &received))
        }
        Verb::Copies => {
            let copies = open()?.received_copies()?;
            Ok(Answer::new(list(&copies), &json!({ "copies": copies })))
        }
    }
}

fn write(notebook: &Notebook, writing: &Writing, watch: &Watch) -> Done {
    let terms = writing.leaving.terms();
    let sending = match writing.audience {
        Audience::Me => match &writing.unseen {
            Some(name) => Sending::Unseen(notebook.peer_named(name)?.id),
            None => Sending::ForMe,
        },
        Audience::Someone if writing.unseen.is_some() => {
            let why = "copies are always whole: it goes with --for me".to_owned();
            return Err(Error::from(FieldError { field: "unseen", why }).into());
        }
        Audience::Someone => Sending::ForSomeone {
            finds: writing.leaving.finds(notebook)?,
            terms: terms.clone(),
            recipient: writing.leaving.recipient.clone(),
            photos: writing.photos,
        },
    };
    let pack = Pack::britain()?;
    let sent = if writing.dry_run {
        notebook.preview_bundle(pack, &sending, watch)?
    } else {
        let keys = recipients(notebook, &writing.keys)?;
        let passphrase = writing.passphrase_file.as_deref().map(passphrase).transpose()?;
        let seal = match &passphrase {
            Some(passphrase) => Some(To::Passphrase(passphrase)),
            None => (!keys.is_empty()).then_some(To::Keys(&keys)),
        };
        notebook.write_bundle(pack, &sending, seal, &writing.out, writing.force, watch)?
    };
    let done = if writing.dry_run { "Would leave" } else { "Written" };
    let mut words = format!("{done}: {}.", contents(&sent));
    match sent.audience {
        Audience::Me => {
            let all = if writing.unseen.is_some() { "what that device lacks" } else { "everything" };
            let _ =
                write!(words, " It holds {all}, exact places and notes among it: for your own devices only.");
        }
        Audience::Someone => {
            let _ = write!(words, " {}", kept_back(&terms, sent.photos > 0));
        }
    }
    if sent.photos_left_out > 0 {
        let left = counted(sent.photos_left_out, "photo");
        let why = match sent.audience {
            Audience::Me => "damaged here: check the notebook",
            Audience::Someone => "of which the picture alone cannot be had: HEIC, or damaged",
        };
        let _ = write!(words, "\nLeft out: {left}, {why}.");
    }
    if writing.dry_run {
        for copied in &sent.copies {
            let _ = write!(words, "\n{}", leaving::find(copied));
        }
    }
    Ok(Answer::new(words, &sent))
}

/// Keys as given, or those of paired devices of these names.
fn recipients(notebook: &Notebook, given: &[String]) -> Result<Vec<Recipient>, Refusal> {
    if given.is_empty() {
        return Ok(Vec::new());
    }
    let peers = notebook.peers()?;
    let of_name = |name: &str| {
        let peer = peers.iter().find(|peer| peer.name().eq_ignore_ascii_case(name.trim()))?;
        Recipient::try_from(peer.peer.value.key.as_ref()?).ok()
    };
    let read = |text: &String| {
        let named = of_name(text);
        named.map_or_else(
            || text.parse().map_err(|error: NotAKey| Refusal::new(error.code(), error.to_string())),
            Ok,
        )
    };
    given.iter().map(read).collect()
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
    if received.missing > 0 {
        words.push_str(
            "\nIt leaves out things that were thought to be here and are not: have a whole bundle written as well.",
        );
    }
    if merged.left_out > 0 {
        let _ = write!(
            words,
            "\nLeft out: {}. Only a device that you paired may change what is here, or bring rules and advice.",
            counted(merged.left_out, "change")
        );
    }
    words
}

fn check(file: &Path, opening: &Opening, folder: &Path, watch: &Watch) -> Done {
    let file = File::open(file).map_err(|error| Error::from(Refused::Reading(error)))?;
    let passphrase = opening.passphrase()?;
    let plain = plain(file, passphrase.as_ref(), || Notebook::open(folder)?.identity())?;
    let mut bundle = Bundle::open(BufReader::with_capacity(1 << 16, plain), watch).map_err(Error::from)?;
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
