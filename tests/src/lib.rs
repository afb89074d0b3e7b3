//! Shared helpers of the tests that cross crates.

// Helpers of tests may fail like tests.
#![allow(clippy::indexing_slicing, clippy::missing_panics_doc, clippy::panic, clippy::unwrap_used)]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A program of the system that a test checks us against, or `None` where it is not installed.
///
/// A test that finds none says so and is skipped; with `TRUG_TOOLS=required`, as `tests/all` has it, it fails.
#[must_use]
pub fn tool(name: &str) -> Option<Command> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found =
        std::env::split_paths(&path).map(|folder| folder.join(name)).find(|program| program.is_file());
    if found.is_none() {
        skipped(&format!("{name} is not installed"));
    }
    found.map(Command::new)
}

/// Says that a check was skipped, past the capture of the test's output; fails where checks are required.
pub fn skipped(why: &str) {
    let required = std::env::var_os("TRUG_TOOLS").is_some_and(|tools| tools == "required");
    assert!(!required, "TRUG_TOOLS=required, but {why}");
    let _ = writeln!(std::io::stderr(), "SKIPPED: {why}");
}

/// Runs a command that must succeed and gives what it printed.
pub fn run(command: &mut Command) -> String {
    let output = command.output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?}: {said}");
    String::from_utf8(output.stdout).unwrap()
}

/// The folder of a crate that we depend on, with the samples that it ships.
#[must_use]
pub fn crate_folder(name: &str) -> PathBuf {
    // Only what this machine builds with was downloaded.
    let rustc = run(Command::new("rustc").arg("-vV"));
    let host = rustc.lines().find_map(|line| line.strip_prefix("host: ")).unwrap();
    let arguments = ["metadata", "--format-version=1", "--locked", "--offline", "--filter-platform", host];
    let metadata = run(Command::new(env!("CARGO")).args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")));
    let metadata: serde_json::Value = serde_json::from_str(&metadata).unwrap();
    let package = metadata["packages"].as_array().unwrap().iter().find(|package| package["name"] == name);
    let manifest = package.unwrap_or_else(|| panic!("no crate {name}"))["manifest_path"].as_str().unwrap();
    Path::new(manifest).parent().unwrap().to_owned()
}
