//! `trug device`: the owner's other devices. Paired once, by handing each the other's key.

use std::fmt::Write;
use std::path::Path;

use clap::Subcommand;
use serde_json::{Value, json};
use trug::notebook::{Notebook, PeerRecord};
use trug::seal::{NotAKey, PublicKey};

use crate::Done;
use crate::answer::Answer;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Pairs with another of your devices: what it writes may change records here. Do the same there with this one's key.
    Pair {
        /// Its key: the line that begins with trug1, as `trug bundle key` shows it there.
        #[arg(value_parser = key)]
        key: PublicKey,
        /// What to call it.
        name: String,
    },
    /// Lists the devices that are paired with this one.
    List,
    /// Trusts a device no longer. What it wrote before stays.
    Unpair {
        /// Its name, or the beginning of its id.
        name: String,
    },
}

fn key(text: &str) -> Result<PublicKey, NotAKey> {
    text.parse()
}

pub fn run(verb: &Verb, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    match verb {
        Verb::Pair { key, name } => {
            let peer = notebook.pair(key, name)?;
            let words = format!(
                "{} is paired. Compare with what `trug bundle key` shows there:\n{}",
                peer.name(),
                key.fingerprint()
            );
            Ok(Answer::new(words, &shown(&peer)))
        }
        Verb::List => Ok(list(&notebook.peers()?)),
        Verb::Unpair { name } => {
            let peer = notebook.unpair(name)?;
            Ok(Answer::new(
                format!("{} is no longer believed. What it wrote before stays.", peer.name()),
                &json!({"id": peer.id, "name": peer.name()}),
            ))
        }
    }
}

/// What to hand over, and what to compare by eye.
pub fn own_key(folder: &Path) -> Done {
    let key = Notebook::open(folder)?.own_key()?;
    let words = format!(
        "{key}\n\nHand this line to your other device, and to whoever is to seal something to you.\nCompare by eye: {}\nFor any age program: {}",
        key.fingerprint(),
        key.age()
    );
    let json = json!({"key": key, "age": key.age(), "fingerprint": key.fingerprint()});
    Ok(Answer::new(words, &json))
}

fn shown(peer: &PeerRecord) -> Value {
    let key = peer.peer.value.key;
    json!({
        "id": peer.id, "name": peer.name(), "key": key, "fingerprint": key.map(|key| key.fingerprint()),
    })
}

fn list(peers: &[PeerRecord]) -> Answer {
    let mut words = String::new();
    for peer in peers {
        let fingerprint = peer.peer.value.key.map(|key| key.fingerprint()).unwrap_or_default();
        let _ = writeln!(words, "{:<24} {fingerprint}", peer.name()); // a String takes everything
    }
    if peers.is_empty() {
        words.push_str(
            "No devices yet: `trug device pair KEY NAME` pairs one; `trug bundle key` there shows its key.",
        );
    }
    Answer::new(words, &peers.iter().map(shown).collect::<Vec<_>>())
}
