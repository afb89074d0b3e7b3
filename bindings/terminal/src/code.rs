//! `trug code`: list, show, use, check.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use clap::Subcommand;
use serde_json::{Value, json};
use trug::code::{self, Code, Mark};
use trug::notebook::Notebook;
use trug::pack::Pack;

use crate::Done;
use crate::answer::Answer;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Lists the codes there are, those in force first.
    List,
    /// Shows a code with its rules.
    Show {
        /// Its id.
        id: String,
    },
    /// Chooses the codes to gather under: "I gather in …". Common practice holds besides, whatever is chosen.
    Use {
        /// Their ids; none, to have no code but common practice.
        ids: Vec<String>,
        /// Back to those that hold until others are chosen.
        #[arg(long, conflicts_with = "ids")]
        default: bool,
    },
    /// Checks the file of a code, and names file, line and field of whatever is wrong.
    Check {
        /// The file.
        file: PathBuf,
        /// A pack's folder [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    match verb {
        Verb::List => list(chosen(folder)?.as_deref()),
        Verb::Show { id } => show(&id),
        Verb::Use { ids, default } => {
            Notebook::open(folder)?.choose_codes((!default).then_some(ids))?;
            list(chosen(folder)?.as_deref())
        }
        Verb::Check { file, pack } => match pack {
            Some(pack) => check(&file, &Pack::open(&pack)?),
            None => check(&file, Pack::britain()?),
        },
    }
}

fn chosen(folder: &Path) -> Result<Option<Vec<String>>, crate::answer::Refusal> {
    Ok(Notebook::open(folder)?.chosen_codes()?)
}

fn list(chosen: Option<&[String]>) -> Done {
    let codes = code::shipped()?;
    let holding = code::choose(codes, chosen)?;
    let holds = |code: &Code| holding.iter().any(|other| other.about.id == code.about.id);
    let mut words = String::new();
    for (head, wanted) in [("In force:", true), ("To be chosen:", false)] {
        let _ = writeln!(words, "{head}"); // a String takes everything
        for about in codes.iter().filter(|code| holds(code) == wanted).map(|code| &code.about) {
            let _ =
                writeln!(words, "  {:<18}{:<18}{} ({})", about.id, about.kind, about.title, about.holds_in);
        }
    }
    words.push_str("Codes change, and places have their own: ask on the spot.");
    let rows: Vec<Value> = codes.iter().map(|code| row(code, holds(code))).collect();
    Ok(Answer::new(words, &json!({"chosen": chosen, "codes": rows})))
}

fn row(code: &Code, in_force: bool) -> Value {
    let about = &code.about;
    json!({
        "id": about.id, "title": about.title, "holds_in": about.holds_in, "kind": about.kind, "in_force": in_force,
        "mark": about.mark, "seen": about.seen, "check_locally": about.check_locally, "rules": code.rules.len(),
    })
}

fn show(id: &str) -> Done {
    let code = code::by_id(code::shipped()?, id)?;
    let about = &code.about;
    let mut words =
        format!("{}\n  holds in   {}\n  kind       {}\n", about.title, about.holds_in, about.kind);
    if let Some(date) = about.text_of {
        let _ = writeln!(words, "  text of    {date}");
    }
    let seen = about.seen.map_or_else(|| "never".to_owned(), |date| date.to_string());
    let _ = writeln!(words, "  seen       {seen}\n  source     {}", about.source);
    if about.check_locally {
        words.push_str("  It may have changed, or be ruled otherwise on the spot: check.\n");
    }
    for rule in &code.rules {
        let from_memory = if code.mark_of(rule) == Mark::Memory { " [from memory]" } else { "" };
        let _ = writeln!(words, "  - {}: {}{from_memory}", rule.id, rule.words);
        if let Some(note) = &rule.note {
            let _ = writeln!(words, "    {note}");
        }
    }
    Ok(Answer::new(words, code))
}

fn check(file: &Path, pack: &Pack) -> Done {
    let text = fs::read_to_string(file)?;
    let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let problems: Vec<String> = code::check(&name, &text, pack).iter().map(ToString::to_string).collect();
    let words =
        if problems.is_empty() { "The code keeps every rule.".to_owned() } else { problems.join("\n") };
    let answer = Answer::new(words, &json!({"ok": problems.is_empty(), "problems": problems}));
    Ok(if problems.is_empty() { answer } else { answer.bad_news() })
}
