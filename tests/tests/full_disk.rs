//! No room: a clear refusal, nothing acknowledged lost, and work goes on once there is room.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::Path;
use std::process::Command;

use trug_tests::{kept, skipped, tool};

/// Runs a script with a folder of one and a half megabytes mounted for it alone.
fn in_a_small_folder(script: &str) -> Option<String> {
    let mut unshare = tool("unshare")?;
    let dir = tempfile::tempdir().unwrap();
    let setup = "mount -t tmpfs -o size=1500k,nr_inodes=4000 none \"$1\" || exit 77; cd \"$1\"; ";
    let output = unshare
        .args(["-m", "sh", "-c", &format!("{setup}{script}"), "sh"])
        .arg(dir.path())
        .arg(env!("CARGO_BIN_EXE_keeper"))
        .output()
        .unwrap();
    if output.status.code() == Some(77) || String::from_utf8_lossy(&output.stderr).contains("unshare failed")
    {
        skipped("nothing can be mounted here");
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
    let Some(said) = in_a_small_folder(script) else { return };
    assert!(said.contains("refused 3"), "it must run out of room");
    assert!(said.contains("went on 0"), "{}", said.lines().take(3).collect::<Vec<_>>().join("\n"));
    let all = kept(&said);
    assert!(all.len() > 20, "{} finds kept", all.len());
    let dir = tempfile::tempdir().unwrap();
    unpack(said.lines().last().unwrap(), dir.path());
    trug_tests::all_there(&dir.path().join("notebook"), &all);
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
    let Some(said) = in_a_small_folder(script) else { return };
    assert_eq!(said.trim(), "no-room");
}

#[test]
fn a_disk_that_fills_while_the_view_is_built_leaves_the_log_and_builds_it_later() {
    let script = "\"$2\" notebook 60; rm -rf notebook.pictures notebook/view.sqlite*; \
        head -c 2000000 /dev/zero > ballast 2>/dev/null; \"$2\" notebook 0 2>&1; rm ballast; \
        \"$2\" notebook 1; echo \"went on $?\"; tar -cf - notebook | base64 -w0; echo";
    let Some(said) = in_a_small_folder(script) else { return };
    assert!(said.contains("no-room") && said.contains("went on 0"), "{}", said.lines().rev().nth(1).unwrap());
    let dir = tempfile::tempdir().unwrap();
    unpack(said.lines().last().unwrap(), dir.path());
    trug_tests::all_there(&dir.path().join("notebook"), &kept(&said));
}
