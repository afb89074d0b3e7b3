//! A kill cannot show a missing sync, for the system keeps what was written; a trace of system calls can.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::collections::{BTreeMap, BTreeSet};

use trug_tests::{kept, run, tool};

/// Puts calls together that another thread's call cut in two, at the place where they ended.
fn joined(trace: &str) -> Vec<String> {
    let mut begun: BTreeMap<&str, &str> = BTreeMap::new();
    let mut lines = Vec::new();
    for line in trace.lines() {
        let (thread, call) = line.split_once(' ').unwrap_or(("", line));
        if let Some(start) = call.strip_suffix(" <unfinished ...>") {
            begun.insert(thread, start);
        } else if let Some((_, end)) = call.split_once(" resumed>") {
            lines.push(format!("{thread} {}{end}", begun.remove(thread).unwrap_or_default()));
        } else {
            lines.push(line.to_owned());
        }
    }
    lines
}

/// What had been synced, by path, when the first find was announced.
fn synced_before_the_word(trace: &str) -> Option<BTreeSet<String>> {
    let mut open: BTreeMap<String, String> = BTreeMap::new();
    let mut dirty: BTreeSet<String> = BTreeSet::new();
    let mut synced = BTreeSet::new();
    for line in joined(trace) {
        let Some((call, rest)) = line.split_once('(') else { continue };
        let call = call.rsplit(' ').next().unwrap();
        let number = || rest.split([',', ')']).next().unwrap().trim().to_owned();
        match call {
            "openat" => {
                let path = rest.split('"').nth(1).unwrap_or_default().to_owned();
                if let Some((_, descriptor)) = rest.rsplit_once("= ") {
                    open.insert(descriptor.split(' ').next().unwrap().to_owned(), path);
                }
            }
            "write" | "pwrite64" | "writev" => {
                if number() == "1" && rest.contains("kept ") {
                    return Some(&synced - &dirty);
                }
                dirty.extend(open.get(&number()).cloned());
            }
            "fsync" | "fdatasync" if rest.contains("= 0") => {
                let path = open.get(&number()).cloned().unwrap_or_default();
                dirty.remove(&path);
                synced.insert(path);
            }
            "rename" | "renameat" | "renameat2" | "linkat" | "link" => {
                let paths: Vec<&str> = rest.split('"').skip(1).step_by(2).collect();
                if let [from, to, ..] = paths.as_slice() {
                    // The new name is on the disk once its folder is synced.
                    if synced.contains(*from) {
                        synced.insert((*to).to_owned());
                    }
                    let folder = to.rsplit_once('/').map_or("", |(folder, _)| folder).to_owned();
                    synced.remove(&folder);
                }
            }
            _ => {}
        }
    }
    None
}

fn missing(trace: &str, photo: &str) -> Vec<&'static str> {
    let synced = synced_before_the_word(trace).unwrap();
    let has = |test: &dyn Fn(&str) -> bool| synced.iter().any(|path| test(path));
    let shard = format!("/photos/{}", &photo[..2]);
    let wanted: [(&str, bool); 4] = [
        ("the photo", has(&|p| p.contains("/photos/") && p.contains(photo))),
        ("the photo's folder", has(&|p| p.ends_with(&shard))),
        ("the log segment", has(&|p| p.contains("/changes/") && p.contains(".jsonl"))),
        ("the log's folder", has(&|p| p.contains("/changes/") && !p.contains(".jsonl"))),
    ];
    wanted.iter().filter(|(_, there)| !there).map(|(what, _)| *what).collect()
}

#[test]
fn photo_folder_and_log_are_synced_before_the_find_is_announced() {
    let Some(mut strace) = tool("strace") else { return };
    let dir = tempfile::tempdir().unwrap();
    let trace = dir.path().join("trace");
    let calls = "trace=openat,write,pwrite64,writev,fsync,fdatasync,rename,renameat,renameat2,link,linkat";
    strace.args(["-f", "-s", "400", "-e", calls, "-o"]).arg(&trace).arg(env!("CARGO_BIN_EXE_keeper"));
    let said = run(strace.arg(dir.path().join("notebook")).arg("1"));
    let photo = kept(&said)[0].1.clone();
    let trace = std::fs::read_to_string(trace).unwrap();
    assert_eq!(missing(&trace, &photo), Vec::<&str>::new());

    // The check can fail: a trace without one of the syncs is objected to.
    let without = |what: &str| {
        let lines = trace.lines().filter(|line| !line.contains(what));
        missing(&lines.collect::<Vec<_>>().join("\n"), &photo)
    };
    assert!(!without("fdatasync(").is_empty());
    assert!(!without("fsync(").is_empty());
}
