//! Long work: a line that tells how far it is, and Ctrl-C that stops it cleanly.

use std::io::{IsTerminal, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use trug::progress::Progress;

/// Steps between two looks at the line: often enough to be alive, rarely enough to cost nothing.
const EVERY: u64 = 200;

/// Someone at a terminal.
#[derive(Debug)]
pub struct Watch {
    stop: Arc<AtomicBool>,
    steps: AtomicU64,
    shown: bool,
}

impl Watch {
    /// Listens for Ctrl-C from now on: the work that is watched stops at its next step and leaves everything as it was.
    pub fn new() -> Self {
        let stop = Arc::new(AtomicBool::new(false));
        // Where the signal cannot be heard, Ctrl-C ends the process, which loses nothing either.
        let _ = signal_hook::flag::register(signal_hook::consts::SIGINT, Arc::clone(&stop));
        Self { stop, steps: AtomicU64::new(0), shown: std::io::stderr().is_terminal() }
    }
}

impl Progress for Watch {
    fn go_on(&self, doing: &'static str) -> bool {
        let steps = self.steps.fetch_add(1, Ordering::Relaxed);
        if self.shown && steps.is_multiple_of(EVERY) {
            let _ = write!(std::io::stderr(), "\r\x1b[K{doing} … {steps}");
        }
        !self.stop.load(Ordering::Relaxed)
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        if self.shown {
            let _ = write!(std::io::stderr(), "\r\x1b[K");
        }
    }
}
