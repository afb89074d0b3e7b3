//! Writes long bundles and reads them, each in a process of its own: `long_bundle write SHAPE LINES FILE`, and
//! `long_bundle read FILE NOTEBOOK`, which prints what came of it, in how many milliseconds, and how many kB it held at most.

// It runs as part of tests, and may fail like them.
#![allow(clippy::panic, clippy::unwrap_used)]

use std::fs;
use std::path::Path;
use std::time::Instant;

use trug::notebook::Notebook;
use trug::progress::Unwatched;
use trug_tests::long_bundle::{Shape, write};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["write", shape, lines, file] => {
            write(Shape::named(shape).unwrap(), lines.parse().unwrap(), Path::new(file));
        }
        ["read", file, notebook] => read(Path::new(file), Path::new(notebook)),
        _ => panic!("long_bundle write SHAPE LINES FILE | read FILE NOTEBOOK"),
    }
}

fn read(file: &Path, notebook: &Path) {
    let notebook = Notebook::open(notebook).unwrap();
    let begun = Instant::now();
    let came = match notebook.read_bundle(file, None, true, &Unwatched) {
        Ok(received) => format!("{}-new", received.merged.new),
        Err(error) => error.code().to_owned(),
    };
    println!("{came} {} {}", begun.elapsed().as_millis(), peak());
}

/// The most that this process ever held in memory, in kB, as Linux has it.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
    line.trim().trim_end_matches(" kB").parse().unwrap()
}
