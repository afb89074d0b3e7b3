//! `trug key`: what a find may be, what it must not be taken for, and what to look at next.

use std::io::{self, BufRead, IsTerminal, Write};
use std::path::PathBuf;

use clap::Args;
use trug::key::stream::{Reply, Request, Seen};
use trug::key::{Evidence, Key, ObserverError, Question, Step, words};
use trug::pack::{Character, Kind, Pack};

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::knowledge;

#[derive(Debug, Args)]
pub struct Command {
    #[command(flatten)]
    answers: Answers,
    /// Reads evidence as lines of JSON, and answers each with a line of JSON.
    #[arg(long, conflicts_with_all = ["answer", "suspect"])]
    stream: bool,
    /// A pack's folder [default: the one that is built in].
    #[arg(long, value_name = "DIR")]
    pack: Option<PathBuf>,
}

/// Evidence as it is typed.
#[derive(Debug, Default, Args)]
pub struct Answers {
    /// What was seen: CHARACTER=STATE, several states with commas, sizes as 18-25, "=" alone for "can't tell", a last "?" for
    /// "not sure". May be given more than once; the same character again is a second look.
    #[arg(long, value_name = "CHARACTER=STATE")]
    answer: Vec<String>,
    /// What its finder thinks it is.
    #[arg(long, value_name = "TAXON")]
    suspect: Option<String>,
}

impl Answers {
    /// What was seen, as it would be typed.
    pub fn of(answers: &[&str]) -> Self {
        Self { answer: answers.iter().map(ToString::to_string).collect(), suspect: None }
    }

    pub fn is_empty(&self) -> bool {
        self.answer.is_empty() && self.suspect.is_none()
    }

    /// The evidence in the form that is also kept with a determination.
    pub fn request(&self, pack: &Pack) -> Result<Request, Refusal> {
        let evidence = self.answer.iter().map(|typed| seen(pack, typed)).collect::<Result<_, _>>()?;
        Ok(Request { evidence, suspect: self.suspect.clone() })
    }
}

/// One typed answer.
fn seen(pack: &Pack, typed: &str) -> Result<Seen, Refusal> {
    let (character, value) = typed
        .split_once('=')
        .ok_or_else(|| Refusal::new("evidence", "write an answer as CHARACTER=STATE, like ring=absent"))?;
    let value = value.trim();
    let sure = !value.ends_with('?');
    let value = value.trim_end_matches('?');
    let kind = pack.character_by_id(character).and_then(|at| pack.character(at)).map(|known| known.kind);
    let (states, range) = match kind {
        Some(Kind::Millimetres) if !value.is_empty() => (None, Some(numbers(value)?)),
        _ => (
            Some(value.split(',').map(str::trim).filter(|s| !s.is_empty()).map(str::to_owned).collect()),
            None,
        ),
    };
    Ok(Seen { character: character.to_owned(), states, range, sure })
}

fn numbers(text: &str) -> Result<Vec<f32>, Refusal> {
    let number = |part: &str| part.trim().parse::<f32>();
    let all: Result<Vec<f32>, _> = text.split(['-', '–']).map(number).collect();
    all.map_err(|_| Refusal::new("evidence", "write a size in millimetres, like 35 or 18-25"))
}

/// The key at its usual settings.
pub fn key(pack: &Pack) -> Key<'_> {
    Key::new(pack, ObserverError::default())
}

pub fn run(command: &Command) -> Done {
    knowledge::with(command.pack.as_ref(), |pack| {
        let key = key(pack);
        if command.stream {
            return stream(pack, &key);
        }
        if command.answers.is_empty() && io::stdin().is_terminal() {
            return converse(pack, &key);
        }
        let evidence = command.answers.request(pack)?.resolve(pack)?;
        let step = key.step(&evidence);
        Ok(Answer::new(told(pack, &evidence, &step), &Reply::new(pack, &step)))
    })
}

/// A step in two sentences: the verdict, and what is dangerous.
pub fn brief(pack: &Pack, step: &Step) -> String {
    let warning = words::warning(pack, step).map_or(String::new(), |warning| format!("\n{warning}"));
    format!("{}{warning}", words::verdict(pack, step))
}

/// A step in words: the verdict, what is dangerous, what the answers say, what to look at next.
pub fn told(pack: &Pack, evidence: &Evidence, step: &Step) -> String {
    let mut lines = vec![words::verdict(pack, step)];
    lines.extend(words::warning(pack, step));
    lines.extend(step.in_the_way.iter().take(3).map(|obstacle| words::obstacle(pack, obstacle)));
    for explained in step.explained.iter().take(3) {
        let name =
            pack.taxon(explained.taxon).and_then(|taxon| taxon.english.first()).map_or("", String::as_str);
        let said = words::explanation(pack, evidence, explained);
        lines.extend(said.iter().map(|sentence| format!("  {name}. {sentence}")));
    }
    if let Some(question) = step.next.first() {
        lines.push(format!("Next: {}", asked(pack, question)));
    }
    lines.join("\n")
}

fn asked(pack: &Pack, question: &Question) -> String {
    let text = pack.character(question.character).map_or("", |character| character.question.as_str());
    let again = if question.afresh { "Look again. " } else { "" };
    format!("{again}{text} {}", words::reason(pack, question))
}

fn stream(pack: &Pack, key: &Key<'_>) -> Done {
    let mut out = io::stdout().lock();
    for line in io::stdin().lock().lines() {
        let line = line?;
        if line.trim().is_empty() {
            continue;
        }
        let request: Result<Request, _> = serde_json::from_str(&line);
        let evidence = match request {
            Ok(request) => request.resolve(pack).map_err(|error| (error.code(), error.to_string())),
            Err(error) => Err(("evidence", error.to_string())),
        };
        let reply = match evidence {
            Ok(evidence) => serde_json::to_value(Reply::new(pack, &key.step(&evidence))),
            Err((code, message)) => Ok(serde_json::json!({"error": {"code": code, "message": message}})),
        };
        let written = reply.map_err(io::Error::from).and_then(|reply| {
            writeln!(out, "{reply}")?;
            out.flush()
        });
        if written.is_err() {
            break; // the reader has gone away
        }
    }
    Ok(Answer::silent())
}

/// One question after the other, until its owner has had enough.
fn converse(pack: &Pack, key: &Key<'_>) -> Done {
    let mut out = io::stdout().lock();
    let mut evidence = Evidence::new();
    let mut skipped = 0;
    writeln!(
        out,
        "A number for what you see (several with commas), ? if you can't tell, a last ? if unsure,"
    )?;
    writeln!(out, "n another question, b take the last answer back, e explain, q stop.")?;
    loop {
        let step = key.step(&evidence);
        writeln!(out, "\n{}", words::verdict(pack, &step))?;
        if let Some(warning) = words::warning(pack, &step) {
            writeln!(out, "{warning}")?;
        }
        let Some(question) = step.next.get(skipped).or(step.next.first()) else { break };
        let Some(character) = pack.character(question.character) else { break };
        writeln!(out, "\n{}", asked(pack, question))?;
        for (n, state) in (1..).zip(&character.states) {
            writeln!(out, "  {n:>2}  {}", state.label)?;
        }
        write!(out, "> ")?;
        out.flush()?;
        let mut line = String::new();
        if io::stdin().lock().read_line(&mut line)? == 0 {
            break;
        }
        match line.trim() {
            "q" => break,
            "n" => skipped = (skipped + 1) % step.next.len().max(1),
            "b" => {
                let last = evidence.answers().len().saturating_sub(1);
                evidence.retract(last);
            }
            "e" => writeln!(out, "\n{}", told(pack, &evidence, &step))?,
            typed => match reply(character, typed).resolve(pack) {
                Ok(answer) => {
                    evidence.answer(answer);
                    skipped = 0;
                }
                Err(error) => writeln!(out, "{error}")?,
            },
        }
    }
    let step = key.step(&evidence);
    Ok(Answer::new(words::verdict(pack, &step), &Reply::new(pack, &step)))
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
