//! `trug key`: what a find may be, what it must not be taken for, and what to look at next.

use std::io::{self, BufRead, IsTerminal, Write};
use std::path::PathBuf;

use clap::Args;
use trug::key::stream::{Reply, Request, Seen};
use trug::key::{Evidence, Key, ObserverError, Question, Step, words};
use trug::pack::{Kind, Pack};

use crate::answer::{Answer, Refusal};
use crate::{Done, conversation, knowledge};

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

/// A size as it is typed.
pub fn numbers(text: &str) -> Result<Vec<f32>, Refusal> {
    let number = |part: &str| part.trim().parse::<f32>();
    let all: Result<Vec<f32>, _> = text.split(['-', '–']).map(number).collect();
    all.map_err(|_| Refusal::new("evidence", "write a size in millimetres, like 35 or 18-25"))
}

/// The key at its usual settings.
pub fn key(pack: &Pack) -> Key<'_> {
    Key::new(pack, ObserverError::default())
}

/// Programs that ask for JSON are never asked back.
pub fn run(command: &Command, json: bool) -> Done {
    knowledge::with(command.pack.as_ref(), |pack| {
        let key = key(pack);
        if command.stream {
            return stream(pack, &key);
        }
        if command.answers.is_empty() && !json && io::stdin().is_terminal() {
            return conversation::hold(pack, &key);
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
    let mut lines = vec![brief(pack, step)];
    lines.extend(explained(pack, evidence, step));
    if let Some(question) = step.next.first() {
        lines.push(format!("Next: {}", asked(pack, question)));
    }
    lines.join("\n")
}

/// What else stands in the way beside what the verdict tells, and what the answers say of the likeliest; taxa of which they
/// say the same are named together.
pub fn explained(pack: &Pack, evidence: &Evidence, step: &Step) -> Vec<String> {
    let further = step.in_the_way.iter().skip(1).take(2);
    let mut lines: Vec<String> = further.map(|obstacle| words::obstacle(pack, obstacle)).collect();
    let mut said: Vec<(Vec<&str>, String)> = Vec::new();
    for explained in step.explained.iter().take(3) {
        let taxon = pack.taxon(explained.taxon);
        let name = taxon.and_then(|taxon| taxon.english.first()).map_or("", String::as_str);
        let sentences = words::explanation(pack, evidence, explained).join(" ");
        match said.iter_mut().find(|(_, same)| *same == sentences) {
            _ if sentences.is_empty() => {}
            Some((names, _)) => names.push(name),
            None => said.push((vec![name], sentences)),
        }
    }
    lines.extend(said.into_iter().map(|(names, sentences)| format!("  {}. {sentences}", names.join("; "))));
    lines
}

pub fn asked(pack: &Pack, question: &Question) -> String {
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
