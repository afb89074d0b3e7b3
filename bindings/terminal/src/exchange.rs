//! `trug exchange`: one folder between the owner's devices, carried by whatever program keeps folders alike.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use trug::notebook::{Exchanged, Notebook, SystemClock};

use crate::Done;
use crate::answer::Answer;
use crate::notebook::counted;
use crate::watch::Watch;

#[derive(Debug, Args)]
pub struct Command {
    /// The folder. Each device has a subfolder of its own in it; everything there is sealed to your paired devices.
    dir: PathBuf,
    /// Say what would be read and written, and change nothing.
    #[arg(long)]
    dry_run: bool,
}

pub fn run(command: &Command, folder: &Path) -> Done {
    let watch = Watch::new();
    let notebook = Notebook::open_with(folder, Arc::new(SystemClock), &watch)?;
    let done = notebook.exchange(&command.dir, !command.dry_run, &watch)?;
    Ok(Answer::new(words(&done, command.dry_run), &done))
}

fn words(done: &Exchanged, dry_run: bool) -> String {
    let (read, written) = if dry_run { ("Would be read", "would be written") } else { ("Read", "written") };
    let mut words = format!(
        "{read}: {}, with {} and {} new here; {written}: {}.",
        counted(done.read, "piece"),
        counted(done.new, "change"),
        counted(done.new_photos, "photo"),
        counted(done.written, "piece"),
    );
    if done.left_out > 0 {
        let _ = write!(
            words,
            "\nLeft out: {}, damaged here: `trug notebook check` tells more.",
            counted(done.left_out, "piece")
        );
    }
    for unread in &done.unread {
        let _ = write!(words, "\nNot read: {}: {}", unread.file, unread.message);
    }
    words
}
