//! What only happens at a real terminal: a conversation, a line of progress, Ctrl-C.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod desk;

use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use desk::Desk;
use trug::find::Find;
use trug::notebook::{NewFind, Notebook};
use trug_tests::tool;

/// Finds whose tables take a moment to build.
const MANY: usize = 1_500;

/// The program at a terminal of its own, whose keyboard is this child's standard input.
fn at_a_terminal(desk: &Desk, arguments: &str) -> Option<Child> {
    let mut script = tool("script")?;
    let trug = format!("{} {arguments}", env!("CARGO_BIN_EXE_trug"));
    script.args(["-qec", &trug, "/dev/null"]).env("TRUG_NOTEBOOK", desk.path("notebook"));
    Some(script.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap())
}

/// Types all this, and gives what the screen showed at the end and whether all was well.
fn typed(desk: &Desk, arguments: &str, keys: &str) -> Option<(String, bool)> {
    let mut child = at_a_terminal(desk, arguments)?;
    child.stdin.take().unwrap().write_all(keys.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let screen = String::from_utf8(output.stdout).unwrap().replace('\r', "");
    Some((screen, output.status.success()))
}

#[test]
fn the_key_asks_explains_takes_back_and_ends() {
    let desk = Desk::new();
    let Some((screen, well)) = typed(&desk, "key", "1\ne\n99\n2\nb\nn\n?\nq\n") else { return };
    assert!(well, "{screen}");
    assert_eq!(screen.matches("What kind of shape is it?").count(), 1, "{screen}");
    assert!(screen.contains(". For: kind of fungus: cap with gills"), "{screen}");
    assert!(!screen.contains("Next: "), "the next question is asked, not told: {screen}");
    // Explaining and a wrong number repeat nothing: the second question is asked anew only when the third is taken back.
    let questions: Vec<&str> =
        screen.lines().filter(|line| line.contains('?') && line.contains("; ")).collect();
    assert_eq!(questions.len(), 6, "{questions:#?}");
    assert_eq!(questions[1], questions[3], "taken back, the same is asked again");
    assert_ne!(questions[3], questions[4], "and another, if wished");
    assert!(
        screen.contains("99"),
        "a number that is not in the list is answered with what there is: {screen}"
    );
    assert!(screen.trim_end().ends_with('>'), "it ends without saying the verdict once more: {screen}");
}

#[test]
fn no_question_is_worth_nothing() {
    let desk = Desk::new();
    // Passing over every question shows them all.
    let Some((screen, well)) = typed(&desk, "key", &format!("1\n{}q\n", "n\n".repeat(45))) else { return };
    assert!(well && screen.matches("bits").count() > 20, "{screen}");
    assert!(!screen.contains("0.0 bits"), "{screen}");
}

#[test]
fn a_program_that_asks_for_json_is_never_asked_back() {
    let desk = Desk::new();
    let Some((screen, well)) = typed(&desk, "key --json", "") else { return };
    let reply: serde_json::Value =
        serde_json::from_str(screen.trim().trim_start_matches("^D").trim()).unwrap();
    assert_eq!((well, &reply["status"]), (true, &"not settled".into()));
}

fn many_finds(folder: &Path) {
    let notebook = Notebook::open(folder).unwrap();
    for _ in 0..MANY {
        notebook.add_find(NewFind { find: Find::default(), photos: Vec::new() }).unwrap();
    }
}

/// Waits until the tables are being built.
fn wait_for_the_building(notebook: &Path) {
    let begun = Instant::now();
    while !notebook.join("view.building").exists() {
        assert!(begun.elapsed() < Duration::from_secs(20), "nothing is being built");
        std::thread::sleep(Duration::from_millis(1));
    }
}

fn is_whole(desk: &Desk) {
    assert!(!desk.path("notebook").join("view.building").exists(), "no scraps");
    let report = desk.json(&["notebook", "check"]);
    assert_eq!((&report["ok"], &report["finds"]), (&true.into(), &MANY.into()), "{report}");
}

#[test]
fn ctrl_c_stops_long_work_and_leaves_everything_as_it_was() {
    let desk = Desk::new();
    let notebook = desk.path("notebook");
    many_finds(&notebook);
    let mut rebuild = desk.command();
    let child = rebuild.args(["--json", "notebook", "rebuild"]).stderr(Stdio::piped()).spawn().unwrap();
    wait_for_the_building(&notebook);
    assert!(Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap().success());
    let output = child.wait_with_output().unwrap();
    let error: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    assert_eq!((output.status.code(), &error["error"]["code"]), (Some(1), &"stopped".into()));
    is_whole(&desk);

    // The same by the key, with a line that tells how far the work is.
    let Some(mut child) = at_a_terminal(&desk, "notebook rebuild") else { return };
    wait_for_the_building(&notebook);
    child.stdin.as_mut().unwrap().write_all(b"\x03").unwrap();
    let mut screen = String::new();
    child.stdout.as_mut().unwrap().read_to_string(&mut screen).unwrap();
    assert!(!child.wait().unwrap().success());
    assert!(screen.contains("reading the log … ") || screen.contains("folding records … "), "{screen}");
    assert!(screen.contains("stopped"), "{screen}");
    is_whole(&desk);
}

#[test]
fn long_work_tells_how_far_it_is_and_wipes_the_line() {
    let desk = Desk::new();
    many_finds(&desk.path("notebook"));
    let Some((screen, well)) = typed(&desk, "notebook rebuild", "") else { return };
    assert!(well && screen.contains("folding records … "), "{screen}");
    let last = screen.trim_end().rsplit('\u{1b}').next().unwrap();
    assert_eq!(last, "[KThe tables were built afresh from the log.", "{screen}");
    // Nobody watches a pipe.
    assert_eq!(desk.say(&["notebook", "rebuild"]), "The tables were built afresh from the log.\n");
}
