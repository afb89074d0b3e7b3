//! Bundles whose change files go on and on: read or refused, they take little memory, and time in proportion.
//!
//! `tests/measure/long-bundles` does the same with ten million lines.

#![allow(clippy::unwrap_used, clippy::panic)]
#![cfg(target_os = "linux")]

use std::path::Path;
use std::process::Command;

use trug_tests::{long, run};

/// What any bundle may take, in kB.
const MOST: u64 = 128 * 1024;

struct Read {
    came: String,
    millis: u64,
    peak: u64,
}

fn program(arguments: &[&str]) -> String {
    run(Command::new(env!("CARGO_BIN_EXE_long_bundle")).args(arguments))
}

fn read(dir: &Path, shape: &str, lines: u32) -> Read {
    let path = |name: &str| dir.join(name).to_str().unwrap().to_owned();
    let (file, notebook) = (path("bundle.zip"), path(&format!("{shape}-{lines}")));
    program(&["write", shape, &lines.to_string(), &file]);
    let said = program(&["read", &file, &notebook]);
    let words: Vec<&str> = said.split_whitespace().collect();
    let [came, millis, peak] = words.as_slice() else { panic!("{said}") };
    let read =
        Read { came: (*came).to_owned(), millis: millis.parse().unwrap(), peak: peak.parse().unwrap() };
    assert!(read.peak < MOST, "{shape}: {} kB for {lines} lines", read.peak);
    println!("{shape}: {lines} lines: {}, {} ms, {} kB", read.came, read.millis, read.peak);
    read
}

#[test]
fn however_long_a_bundle_is_it_takes_little_memory() {
    let dir = tempfile::tempdir().unwrap();
    let lines = if long() { 400_000 } else { 20_000 };
    let all_new = format!("{lines}-new");
    for (shape, lines, expected) in [
        ("records", lines, all_new.as_str()),
        ("bad-end", lines, "bundle-line"),
        ("one-record", lines.max(60_000), "bundle-not-allowed"),
        ("one-act", lines.max(60_000), "bundle-not-allowed"),
        ("replacing", lines.max(51_000), "bundle-not-allowed"),
        ("numbers", 2, "bundle-line"),
    ] {
        assert_eq!(read(dir.path(), shape, lines).came, expected, "{shape}");
    }
}

#[test]
fn twice_the_lines_take_no_more_memory_and_about_twice_the_time() {
    let dir = tempfile::tempdir().unwrap();
    let lines = if long() { 200_000 } else { 10_000 };
    let (one, other) = (read(dir.path(), "records", lines), read(dir.path(), "records", 4 * lines));
    assert!(other.peak < one.peak + 24 * 1024, "{} kB, then {}", one.peak, other.peak);
    assert!(other.millis < 10 * one.millis, "{} ms, then {}", one.millis, other.millis);
}
