//! `trug photo`: add, adopt, unowned.

use std::ffi::OsString;
use std::path::Path;

use clap::Subcommand;
use serde_json::json;
use trug::notebook::{NewPhoto, Notebook};
use trug::photo::{PhotoHash, Role};

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::{fields, show};

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Adds photos to a find.
    Add {
        /// The beginning of the find's id.
        find: String,
        /// Photos: FILE, or ROLE:FILE.
        #[arg(required = true, value_name = "FILE")]
        photos: Vec<OsString>,
    },
    /// Ties a photo that no find owns to a find.
    Adopt {
        /// The beginning of the find's id.
        find: String,
        /// The photo's hash, as `trug photo unowned` shows it.
        hash: String,
        /// What it shows.
        #[arg(long, default_value = "whole")]
        role: Role,
    },
    /// Lists the photos that no find owns.
    Unowned,
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    match verb {
        Verb::Add { find, photos } => {
            let id = notebook.find_beginning(&find)?;
            let photos: Vec<NewPhoto> = photos.iter().map(fields::photo).collect::<Result<_, _>>()?;
            let (added, warnings) = notebook.add_photos(id, &photos)?;
            let words = show::photos_added(&id.to_string(), added.len(), &warnings);
            Ok(Answer::new(words, &json!({"id": id, "photos": added, "warnings": warnings})))
        }
        Verb::Adopt { find, hash, role } => {
            let id = notebook.find_beginning(&find)?;
            let hash: PhotoHash = hash.parse().map_err(|e| Refusal::new("not-a-hash", format!("{e}")))?;
            let photo = notebook.adopt_photo(id, hash, role)?;
            let words = show::photos_added(&id.to_string(), 1, &[]);
            Ok(Answer::new(words, &json!({"id": id, "photos": [photo], "warnings": []})))
        }
        Verb::Unowned => {
            let hashes = notebook.unowned_photos()?;
            let words: Vec<String> = hashes.iter().map(ToString::to_string).collect();
            let words =
                if words.is_empty() { "Every photo has its find.".to_owned() } else { words.join("\n") };
            Ok(Answer::new(words, &json!({"unowned": hashes})))
        }
    }
}
