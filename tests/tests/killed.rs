//! A process that keeps finds is killed at random instants: whatever it had acknowledged is there, whole.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::io::Read;
use std::process::{Command, Stdio};
use std::time::Duration;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use trug_tests::{all_there, kept, long};

#[test]
fn killed_at_any_instant_nothing_acknowledged_is_lost() {
    let (times, a_notebook) = if long() { (1000, 20) } else { (60, 12) };
    let seed: u64 = std::env::var("TRUG_SEED").ok().and_then(|s| s.parse().ok()).unwrap_or(0x7472_7567);
    println!("TRUG_SEED={seed}");
    let mut chance = Pcg64::seed_from_u64(seed);
    let mut acknowledged = 0;
    for round in 0..times / a_notebook {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("notebook");
        let mut all = Vec::new();
        for _ in 0..a_notebook {
            let mut keeper = Command::new(env!("CARGO_BIN_EXE_keeper"));
            let mut child = keeper.arg(&folder).stdout(Stdio::piped()).spawn().unwrap();
            let mut stdout = child.stdout.take().unwrap();
            let reader = std::thread::spawn(move || {
                let mut said = String::new();
                stdout.read_to_string(&mut said).unwrap();
                said
            });
            std::thread::sleep(Duration::from_micros(chance.random_range(500..250_000)));
            child.kill().unwrap();
            child.wait().unwrap();
            all.extend(kept(&reader.join().unwrap()));
            all_there(&folder, &all);
        }
        acknowledged += all.len();
        println!("round {round}: {acknowledged} finds acknowledged so far, all there");
    }
    assert!(acknowledged > times, "too few finds were kept for the kills to mean anything: {acknowledged}");
}

#[test]
fn a_second_process_waits_briefly_and_is_refused_politely() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("notebook");
    let held = trug::notebook::Notebook::open(&folder).unwrap();
    let begun = std::time::Instant::now();
    let output = Command::new(env!("CARGO_BIN_EXE_keeper")).arg(&folder).arg("1").output().unwrap();
    assert_eq!((output.status.code(), String::from_utf8(output.stderr).unwrap().trim()), (Some(3), "busy"));
    assert!(begun.elapsed() >= Duration::from_secs(1), "it should have waited");
    drop(held);
    let output = Command::new(env!("CARGO_BIN_EXE_keeper")).arg(&folder).arg("1").output().unwrap();
    assert!(output.status.success());
}
