//! The key as a conversation at a terminal: one question after the other, until its owner has had enough.

use std::io::{self, BufRead, Write};

use trug::key::stream::Seen;
use trug::key::{Evidence, Key};
use trug::pack::{Character, Kind, Pack};

use crate::Done;
use crate::answer::Answer;
use crate::key::{asked, brief, explained, numbers};

const HELP: &str = "\
A number for what you see (several with commas), a size in millimetres, ? if you can't tell, a last ? if unsure,
n another question, b take the last answer back, e explain, q stop.";

/// Asks and listens. Everything is said once: the verdict again only when an answer has changed it.
pub fn hold(pack: &Pack, key: &Key<'_>) -> Done {
    let mut out = io::stdout().lock();
    let mut lines = io::stdin().lock().lines();
    let mut evidence = Evidence::new();
    let mut skipped = 0;
    let mut said = String::new();
    writeln!(out, "{HELP}")?;
    loop {
        let step = key.step(&evidence);
        let now = brief(pack, &step);
        if now != said {
            writeln!(out, "\n{now}")?;
            said = now;
        }
        let Some(question) = step.next.get(skipped).or(step.next.first()) else { break };
        let Some(character) = pack.character(question.character) else { break };
        writeln!(out, "\n{}", asked(pack, question))?;
        for (n, state) in (1..).zip(&character.states) {
            writeln!(out, "  {n:>2}  {}", state.label)?;
        }
        // The same question stands until it is answered or passed over.
        let answered = loop {
            write!(out, "> ")?;
            out.flush()?;
            let Some(line) = lines.next() else { break false };
            match line?.trim() {
                "" => {}
                "q" => break false,
                "n" => {
                    skipped = (skipped + 1) % step.next.len().max(1);
                    break true;
                }
                "b" => {
                    let last = evidence.answers().len().saturating_sub(1);
                    evidence.retract(last);
                    break true;
                }
                "e" => match explained(pack, &evidence, &step).as_slice() {
                    [] => writeln!(out, "Your answers do not say anything yet.")?,
                    sentences => writeln!(out, "{}", sentences.join("\n"))?,
                },
                typed => match reply(character, typed).resolve(pack) {
                    Ok(answer) => {
                        evidence.answer(answer);
                        skipped = 0;
                        break true;
                    }
                    Err(error) => writeln!(out, "{error}")?,
                },
            }
        };
        if !answered {
            writeln!(out)?;
            break;
        }
    }
    Ok(Answer::silent())
}

/// What was typed at a question: numbers of its states, or a size.
fn reply(character: &Character, typed: &str) -> Seen {
    let sure = typed == "?" || !typed.ends_with('?');
    let bare = typed.trim_end_matches('?');
    let state = |part: &str| {
        let chosen = part.trim().parse::<usize>().ok().and_then(|n| character.states.get(n.checked_sub(1)?));
        chosen.map_or_else(|| part.trim().to_owned(), |state| state.id.clone())
    };
    let range =
        (character.kind == Kind::Millimetres && !bare.is_empty()).then(|| numbers(bare).unwrap_or_default());
    let states =
        range.is_none().then(|| bare.split(',').filter(|part| !part.trim().is_empty()).map(state).collect());
    Seen { character: character.id.clone(), states, range, sure }
}
