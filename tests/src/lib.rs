//! Shared helpers of the tests that cross crates.

// Helpers of tests may fail like tests.
#![allow(clippy::indexing_slicing, clippy::missing_panics_doc, clippy::panic, clippy::unwrap_used)]

pub mod acts;
pub mod long_bundle;
pub mod raw_zip;

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
    not_here(why);
}

/// Says that a check was skipped which this machine cannot run, whatever is installed.
pub fn not_here(why: &str) {
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

/// Draws a small picture like no other, at a path whose folder is made at need.
///
/// # Errors
/// If the disk refuses.
pub fn draw(path: &Path) -> std::io::Result<()> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder)?;
    }
    let name = path.file_name().unwrap_or_default().as_encoded_bytes().to_vec();
    let pixel = |x: u32, y: u32| {
        let byte = |salt: u32| name[((x * 5 + y * 3 + salt) as usize) % name.len()];
        image::Rgb([byte(0), byte(1), byte(2)])
    };
    let picture = image::RgbImage::from_fn(12, 9, pixel);
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).map_err(std::io::Error::other)?;
    std::fs::write(path, bytes.into_inner())
}

/// What `keeper` said it had kept: find and photo.
#[must_use]
pub fn kept(output: &str) -> Vec<(String, String)> {
    let whole = output.split_inclusive('\n').filter(|line| line.ends_with('\n'));
    let words = whole.filter_map(|line| line.trim().strip_prefix("kept ")?.split_once(' '));
    words.map(|(find, photo)| (find.to_owned(), photo.to_owned())).collect()
}

/// Opens a notebook, which must be whole, and asks for every find in a list.
pub fn all_there(folder: &Path, kept: &[(String, String)]) {
    let notebook = trug::notebook::Notebook::open(folder).unwrap();
    let report = notebook.check(&trug::progress::Unwatched).unwrap();
    assert!(report.ok, "{report:?}");
    for (find, photo) in kept {
        let found = notebook.find(find.parse().unwrap()).unwrap();
        assert!(!found.find.deleted);
        let photos: Vec<String> =
            found.photos.iter().map(|p| p.photo.value.sha256.unwrap().to_string()).collect();
        assert_eq!(photos, std::slice::from_ref(photo), "find {find}");
    }
}

/// Copies a folder with all that is in it.
pub fn copy_folder(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let to = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy_folder(&entry.path(), &to);
        } else {
            std::fs::copy(entry.path(), &to).unwrap();
        }
    }
}

/// The long runs are wanted.
#[must_use]
pub fn long() -> bool {
    std::env::var_os("TRUG_LONG").is_some_and(|long| long == "1")
}
