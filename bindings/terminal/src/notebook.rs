//! `trug notebook`: check, rebuild, backup, restore.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Subcommand;
use serde_json::json;
use trug::notebook::{CheckReport, Notebook, SystemClock, restore};

use crate::Done;
use crate::answer::Answer;
use crate::watch::Watch;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Verifies every record and photo, and mends what can be mended.
    Check,
    /// Builds the tables afresh from the log.
    Rebuild,
    /// Writes everything to one file.
    Backup {
        /// The file; it must not be there yet.
        file: PathBuf,
    },
    /// Makes the notebook folder from a backup; it must not be there yet, or be empty.
    Restore {
        /// The backup.
        file: PathBuf,
    },
}

/// `$TRUG_NOTEBOOK`, or `trug` in the user's data folder, or `trug` here.
pub fn default_folder() -> PathBuf {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    set("TRUG_NOTEBOOK")
        .or_else(|| set("XDG_DATA_HOME").map(|data| data.join("trug")))
        .or_else(|| set("HOME").map(|home| home.join(".local/share/trug")))
        .unwrap_or_else(|| PathBuf::from("trug"))
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    let watch = Watch::new();
    let open = || Notebook::open_with(folder, Arc::new(SystemClock), &watch);
    match verb {
        Verb::Check => {
            let report = open()?.check(&watch)?;
            let answer = Answer::new(words(&report), &report);
            Ok(if report.ok { answer } else { answer.bad_news() })
        }
        Verb::Rebuild => {
            open()?.rebuild(&watch)?;
            Ok(Answer::new("The tables were built afresh from the log.", &json!({"rebuilt": true})))
        }
        Verb::Backup { file } => {
            let saved = open()?.backup(&file, &watch)?;
            let words = format!(
                "Saved: the whole log and {}. The file holds exact places: keep it to yourself.",
                counted(saved.photos, "photo")
            );
            Ok(Answer::new(words, &saved))
        }
        Verb::Restore { file } => {
            let restored = restore(&file, folder, &watch)?;
            Ok(Answer::new(
                format!("Restored: the whole log and {}.", counted(restored.photos, "photo")),
                &restored,
            ))
        }
    }
}

/// "1 find", "2 finds".
pub fn counted(n: u64, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

fn words(report: &CheckReport) -> String {
    let mut text = String::new();
    let verdict = if report.ok { "Everything is whole" } else { "Something is lost or damaged" };
    let (finds, photos) = (counted(report.finds, "find"), counted(report.photos, "photo"));
    let _ = writeln!(text, "{verdict}: {finds}, {photos}.");
    for problem in &report.problems {
        let _ = writeln!(text, "  {}", problem.message);
    }
    for mended in &report.mended {
        let _ = writeln!(text, "  put right: {}", mended.message);
    }
    if !report.unowned.is_empty() {
        let unowned = counted(report.unowned.len() as u64, "photo");
        let _ = writeln!(text, "  without a find: {unowned}; `trug photo unowned` lists them");
    }
    text
}
