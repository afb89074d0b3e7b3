//! Exports that are killed, find no room, or are large: the file is whole or absent, the notebook as before, memory bounded.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::fs;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use desk::Desk;
use serde_json::Value;
use trug::find::{Count, Find, Got, Whereabouts};
use trug::notebook::{NewFind, NewName, Notebook};
use trug::place::Position;
use trug_tests::{long, not_here, tool};

const FORMATS: [&str; 3] = ["darwin-core", "geojson", "csv"];

/// A notebook of finds in an invented wood on the water of the Wash.
fn notebook(desk: &Desk, finds: u32) {
    let notebook = Notebook::open(&desk.path("notebook")).unwrap();
    for n in 0..finds {
        let position = Position::new(52.9 + f64::from(n % 1_000) / 10_000.0, 0.3).unwrap();
        let find = Find {
            position: Some(Whereabouts { position, got: Got::Map }),
            seen: Count::exactly(n % 50).ok(),
            note: Some(format!("find {n} of the wood")),
            ..Find::default()
        };
        let added = notebook.add_find(NewFind { find, photos: Vec::new() }).unwrap();
        if n % 10 == 0 {
            let name = NewName { taxon: Some("jelly-ear".into()), ..NewName::default() };
            notebook.name_find(added.id, name).unwrap();
        }
    }
}

fn export<'a>(format: &'a str, out: &'a str) -> [&'a str; 5] {
    ["export", format, out, "--recipient", "Wren"]
}

#[test]
fn killed_at_any_instant_the_file_is_whole_or_absent() {
    let desk = Desk::new();
    notebook(&desk, 1_000);
    let times: u32 = if long() { 200 } else { 24 };
    for format in FORMATS {
        let begun = Instant::now();
        desk.say(&export(format, "whole"));
        let usual = begun.elapsed();
        let whole = fs::read(desk.path("whole")).unwrap();
        let (mut absent, mut there) = (0, 0);
        for round in 0..times {
            let mut child = desk.command().args(export(format, "out")).stdout(Stdio::null()).spawn().unwrap();
            // The last instants are those in which the file appears.
            std::thread::sleep(usual * (round + 1) / times);
            child.kill().unwrap();
            child.wait().unwrap();
            match fs::read(desk.path("out")) {
                Ok(bytes) => {
                    assert!(bytes == whole, "{format}: {} bytes of {}", bytes.len(), whole.len());
                    fs::remove_file(desk.path("out")).unwrap();
                    there += 1;
                }
                Err(_) => absent += 1,
            }
        }
        println!("{format}: absent {absent} times, whole {there} times");
        assert!(absent > 0, "{format}: no kill came in time");
        fs::remove_file(desk.path("whole")).unwrap();
    }
    let report = desk.json(&["notebook", "check"]);
    assert_eq!((&report["ok"], &report["finds"]), (&true.into(), &1_000.into()), "{report}");
}

#[test]
fn without_room_nothing_is_there_and_the_notebook_is_as_before() {
    let desk = Desk::new();
    notebook(&desk, 1_000);
    desk.say(&export("csv", "before"));
    let refused = |output: std::process::Output, format: &str| {
        let said = String::from_utf8_lossy(&output.stderr);
        let error: Value =
            serde_json::from_str(&said).unwrap_or_else(|_| panic!("{format}: {said} {:?}", output.status));
        assert_eq!((output.status.code(), &error["error"]["code"]), (Some(1), &"no-room".into()), "{format}");
    };
    for format in FORMATS {
        fs::create_dir(desk.path("small")).unwrap();
        // No file may grow beyond 8 KiB; POSIX counts in half kibibytes.
        let script = "trap '' XFSZ; ulimit -f 16; exec \"$@\"";
        let mut shell = desk.command();
        let program = shell.get_program().to_owned();
        let environment: Vec<_> =
            shell.get_envs().filter_map(|(k, v)| Some((k.to_owned(), v?.to_owned()))).collect();
        shell = Command::new("sh");
        shell.current_dir(desk.path("")).envs(environment).args(["-c", script, "sh"]).arg(program);
        refused(shell.args(export(format, "small/out")).arg("--json").output().unwrap(), format);
        assert_eq!(fs::read_dir(desk.path("small")).unwrap().count(), 0, "{format}: nothing, no scraps");
        // A disk of 16 KiB, where one may be mounted.
        let Some(mut unshare) = tool("unshare") else { return };
        let script =
            "mount -t tmpfs -o size=16k none small || exit 77; \"$@\"; code=$?; ls -A small; exit $code";
        let command = desk.command();
        unshare.current_dir(desk.path("")).envs(command.get_envs().filter_map(|(k, v)| Some((k, v?))));
        let unshare = unshare.args(["-m", "sh", "-c", script, "sh"]).arg(command.get_program());
        let output = unshare.args(export(format, "small/out")).arg("--json").output().unwrap();
        if output.status.code() == Some(77)
            || String::from_utf8_lossy(&output.stderr).contains("unshare failed")
        {
            not_here("nothing can be mounted; the limit on files was tested");
        } else {
            assert_eq!(String::from_utf8_lossy(&output.stdout), "", "{format}: nothing, no scraps");
            refused(output, format);
        }
        fs::remove_dir(desk.path("small")).unwrap();
    }
    desk.say(&export("csv", "after"));
    assert!(fs::read(desk.path("before")).unwrap() == fs::read(desk.path("after")).unwrap());
    assert_eq!(desk.json(&["notebook", "check"])["ok"], true);
}

/// The most memory that a process had, in KiB, as Linux tells it.
fn peak(id: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.parse().ok())
}

#[test]
fn memory_is_bounded_however_many_finds_there_are() {
    let desk = Desk::new();
    let finds = if long() { 100_000 } else { 2_000 };
    notebook(&desk, finds);
    for format in FORMATS {
        let mut child = desk.command().args(export(format, format)).stdout(Stdio::null()).spawn().unwrap();
        let mut most = 0;
        while child.try_wait().unwrap().is_none() {
            most = most.max(peak(child.id()).unwrap_or(0));
            std::thread::sleep(Duration::from_millis(2));
        }
        println!("{format}: {finds} finds, {} MiB", most / 1024);
        assert!(most < 128 * 1024, "{format}: {finds} finds took {} MiB", most / 1024);
        assert!(desk.path(format).is_file());
    }
}
