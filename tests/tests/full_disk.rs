//! No room: a clear refusal, nothing acknowledged lost, and work goes on once there is room.
//!
//! A small disk of its own where one may be mounted; everywhere a limit on how large a file may grow, which the system
//! reports in another way.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::Path;
use std::process::{Command, Output};

use trug::notebook::Notebook;
use trug::store::Criteria;
use trug_tests::{all_there, kept, not_here, tool};

/// Runs a script with a folder of one and a half megabytes mounted for it alone.
fn on_a_small_disk(script: &str) -> Option<String> {
    let mut unshare = tool("unshare")?;
    let dir = tempfile::tempdir().unwrap();
    let setup = "mount -t tmpfs -o size=1500k,nr_inodes=4000 none \"$1\" || exit 77; cd \"$1\"; ";
    let output = unshare
        .args(["-m", "sh", "-c", &format!("{setup}{script}"), "sh"])
        .arg(dir.path())
        .arg(env!("CARGO_BIN_EXE_keeper"))
        .output()
        .unwrap();
    let cannot = String::from_utf8_lossy(&output.stderr).contains("unshare failed");
    if output.status.code() == Some(77) || cannot {
        not_here("nothing can be mounted; the limit on files is tested in its place");
        return None;
    }
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "{said}{}", String::from_utf8_lossy(&output.stderr));
    Some(said)
}

#[test]
fn a_full_disk_refuses_loses_nothing_and_goes_on_once_there_is_room() {
    // Room is taken by a ballast at the start, so that it can be given back at the end.
    let script = "head -c 300000 /dev/zero > ballast; \
        \"$2\" notebook; echo \"refused $?\"; \"$2\" notebook; echo \"refused $?\"; \
        rm -rf ballast notebook.pictures; \"$2\" notebook 3; echo \"went on $?\"; \
        cp -r notebook /proc/self/cwd/copy 2>/dev/null; tar -cf - notebook | base64 -w0; echo";
    let Some(said) = on_a_small_disk(script) else { return };
    assert!(said.contains("refused 3"), "it must run out of room");
    assert!(said.contains("went on 0"), "{}", said.lines().take(3).collect::<Vec<_>>().join("\n"));
    let all = kept(&said);
    assert!(all.len() > 20, "{} finds kept", all.len());
    let dir = tempfile::tempdir().unwrap();
    unpack(said.lines().last().unwrap(), dir.path());
    holds_exactly(&dir.path().join("notebook"), &all);
}

fn unpack(base64: &str, to: &Path) {
    let file = to.join("tar.b64");
    std::fs::write(&file, base64).unwrap();
    let done =
        Command::new("sh").args(["-c", "base64 -d tar.b64 | tar -xf -"]).current_dir(to).status().unwrap();
    assert!(done.success());
}

#[test]
fn the_refusal_says_that_there_is_no_room() {
    let script = "head -c 1200000 /dev/zero > ballast; \"$2\" notebook 2>&1 >/dev/null; true";
    let Some(said) = on_a_small_disk(script) else { return };
    assert_eq!(said.trim(), "no-room");
}

#[test]
fn a_disk_that_fills_while_the_view_is_built_leaves_the_log_and_builds_it_later() {
    let script = "\"$2\" notebook 60; rm -rf notebook.pictures notebook/view.sqlite*; \
        head -c 2000000 /dev/zero > ballast 2>/dev/null; \"$2\" notebook 0 2>&1; rm ballast; \
        \"$2\" notebook 1; echo \"went on $?\"; tar -cf - notebook | base64 -w0; echo";
    let Some(said) = on_a_small_disk(script) else { return };
    assert!(said.contains("no-room") && said.contains("went on 0"), "{}", said.lines().rev().nth(1).unwrap());
    let dir = tempfile::tempdir().unwrap();
    unpack(said.lines().last().unwrap(), dir.path());
    holds_exactly(&dir.path().join("notebook"), &kept(&said));
}

/// Keeps finds where no file may grow beyond so many KiB.
fn keeper_with_small_files(folder: &Path, count: u32, kib: u32) -> Output {
    // The signal would end the process before the error could be answered. POSIX counts files in half kibibytes.
    let script = format!("trap '' XFSZ; ulimit -f {}; exec \"$1\" \"$2\" {count}", kib * 2);
    let mut shell = Command::new("sh");
    shell.args(["-c", &script, "sh", env!("CARGO_BIN_EXE_keeper")]).arg(folder).output().unwrap()
}

fn keeper(folder: &Path, count: u32) -> Vec<(String, String)> {
    let mut keeper = Command::new(env!("CARGO_BIN_EXE_keeper"));
    kept(&trug_tests::run(keeper.arg(folder).arg(count.to_string())))
}

/// Every find that was acknowledged, and none that was refused.
fn holds_exactly(folder: &Path, all: &[(String, String)]) {
    all_there(folder, all);
    let finds = Notebook::open(folder).unwrap().finds(&Criteria::default()).unwrap();
    assert_eq!(finds.len(), all.len(), "a find that was refused must not be kept");
}

/// Small limits are met by the view's write-ahead file, larger ones by the view or by the log.
#[test]
fn where_no_file_may_grow_the_refusal_is_clear_and_everything_acknowledged_is_kept() {
    for kib in [40, 66, 100, 200, 400] {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("notebook");
        let mut all = Vec::new();
        // Closing the notebook empties the write-ahead file, so each run gets a little further, until none does.
        let mut refusals = 0;
        loop {
            let output = keeper_with_small_files(&folder, 1_000, kib);
            let now = kept(&String::from_utf8(output.stdout).unwrap());
            let said = String::from_utf8(output.stderr).unwrap();
            assert_eq!((output.status.code(), said.trim()), (Some(3), "no-room"), "{kib} KiB");
            refusals += 1;
            all.extend(now.iter().cloned());
            if now.is_empty() {
                break;
            }
        }
        if folder.join("notebook.json").exists() {
            holds_exactly(&folder, &all);
        }
        println!("{kib} KiB: {} finds in {refusals} runs", all.len());
        all.extend(keeper(&folder, 3));
        holds_exactly(&folder, &all);
        assert!(kib < 200 || all.len() > 20, "{kib} KiB: {} finds kept", all.len());
    }
}

#[test]
fn where_no_file_may_grow_the_log_refuses_as_clearly() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("notebook");
    let mut all = keeper(&folder, 40);
    let log = std::fs::read_dir(folder.join("changes")).unwrap().next().unwrap().unwrap().path();
    let log = log.join("000001.jsonl");
    let length = std::fs::metadata(&log).unwrap().len();
    // The view is there already and is larger than the log; only the log can need room beyond this.
    let output = keeper_with_small_files(&folder, 5, u32::try_from(length / 1024).unwrap());
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.trim()), (Some(3), "no-room"));
    assert_eq!(
        (kept(&String::from_utf8(output.stdout).unwrap()), std::fs::metadata(&log).unwrap().len()),
        (vec![], length)
    );
    all.extend(keeper(&folder, 1));
    holds_exactly(&folder, &all);
}

#[test]
fn where_no_file_may_grow_the_view_is_built_later() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("notebook");
    let mut all = keeper(&folder, 40);
    std::fs::remove_file(folder.join("view.sqlite")).unwrap();
    let output = keeper_with_small_files(&folder, 0, 60);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.trim()), (Some(3), "no-room"));
    assert!(!folder.join("view.building").exists(), "no scraps");
    all.extend(keeper(&folder, 1));
    holds_exactly(&folder, &all);
}
