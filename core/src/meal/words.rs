//! The sheet in plain words: for a screen held up to a doctor, and for a terminal.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::sheet::{Also, Danger, MealSheet, Part, Person, Sheet};
use super::{Alcohol, Feels, Prepared};
use crate::moment::Moment;
use crate::photo::PhotoHash;

/// Lines under one title.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Passage {
    /// Its title.
    pub title: String,
    /// Its lines.
    pub lines: Vec<String>,
    /// The photos that belong with them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PhotoHash>,
}

impl Passage {
    fn new(title: impl Into<String>, lines: Vec<String>) -> Self {
        Self { title: title.into(), lines, photos: Vec::new() }
    }
}

/// What is said where something was not noted: silence would read as "none".
const NOT_NOTED: &str = "not noted";

impl Sheet {
    /// The sheet in plain words, from the top.
    #[must_use]
    pub fn passages(&self) -> Vec<Passage> {
        let mut passages = Vec::new();
        if self.meals.is_empty() {
            let tell = "Tell the doctor what was eaten, when, how much, and by whom.";
            passages.push(Passage::new("No meal is noted", vec![tell.to_owned()]));
        }
        passages.extend(self.meals.iter().flat_map(meal));
        let mut about = vec![
            "Kinds that were eaten together blur the clock: early signs do not rule out late ones."
                .to_owned(),
            "Names are those of whoever gathered. Nobody has confirmed them.".to_owned(),
            format!("Made {}.", when(self.now)),
        ];
        about.extend(self.sources());
        about.extend(self.unreviewed.clone());
        passages.push(Passage::new("About this sheet", about));
        passages
    }
}

impl Sheet {
    /// Who says when the signs of each poison begin that the sheet speaks of.
    fn sources(&self) -> Vec<String> {
        let parts = self.meals.iter().flat_map(|meal| &meal.parts);
        let dangers = parts.flat_map(|part| &part.kinds).flat_map(|kind| &kind.dangers);
        let told: BTreeMap<&str, &[String]> = dangers
            .filter_map(|danger| danger.begins.as_ref())
            .map(|begins| (begins.poison.as_str(), begins.sources.as_slice()))
            .collect();
        told.iter().map(|(poison, sources)| format!("Times for {poison}: {}.", sources.join("; "))).collect()
    }
}

fn meal(meal: &MealSheet) -> Vec<Passage> {
    let title = match (meal.at, meal.minutes_ago) {
        (Some(at), Some(ago)) => format!("Eaten {}: {} ago", when(at), span(ago)),
        (Some(at), None) => format!("Eaten {}", when(at)),
        (None, _) => format!("Eaten: time {NOT_NOTED}"),
    };
    let noted = |text: &Option<String>| text.clone().unwrap_or_else(|| NOT_NOTED.to_owned());
    let mut lines = vec![
        format!("What: {}", noted(&meal.what)),
        format!("How much: {}", noted(&meal.amount)),
        format!("Raw or cooked: {}", prepared(meal.prepared)),
        format!("Alcohol: {}", alcohol(meal.alcohol)),
        format!("Kept of it: {}", noted(&meal.left)),
    ];
    lines.extend(meal.note.as_ref().map(|note| format!("Note: {note}")));
    lines.extend(meal.also.iter().map(also));
    let mut passages = vec![Passage::new(title, lines), people(meal)];
    passages.extend(meal.parts.iter().map(part));
    if meal.parts.is_empty() {
        passages.push(Passage::new("Taken for", vec![NOTHING_KNOWN.to_owned()]));
    }
    passages
}

/// What another device noted: neither is known to be the right one.
fn also(Also { field, value }: &Also) -> String {
    let title = match *field {
        "at" => "Eaten",
        "what" => "What",
        "amount" => "How much",
        "prepared" => "Raw or cooked",
        "alcohol" => "Alcohol",
        "others" => "More who ate",
        "left" => "Kept of it",
        _ => "Note",
    };
    let read = |word: &str| -> String {
        match *field {
            "at" => word.parse().map_or_else(|_| word.to_owned(), when),
            "prepared" => word.parse().map_or_else(|_| word.to_owned(), |it| prepared(it).to_owned()),
            "alcohol" => word.parse().map_or_else(|_| word.to_owned(), |it| alcohol(it).to_owned()),
            _ => word.to_owned(),
        }
    };
    let told = match value {
        Value::Null => NOT_NOTED.to_owned(),
        Value::String(word) => read(word),
        other => other.to_string(),
    };
    format!("{title}, as another device has it: {told}")
}

/// Without a name that the pack knows, nothing is excluded.
const NOTHING_KNOWN: &str = "Nobody gave it a name that Trug knows. Any poisonous kind is possible.";

fn people(meal: &MealSheet) -> Passage {
    let mut lines: Vec<String> = meal.people.iter().map(person).collect();
    match meal.others {
        Some(0) => {}
        Some(1) => lines.push("One more person, not named".into()),
        Some(others) => lines.push(format!("{others} more, not named")),
        None if lines.is_empty() => lines.push(NOT_NOTED.into()),
        None => {}
    }
    Passage::new("Who ate", lines)
}

fn person(person: &Person) -> String {
    let child = if person.child { ", a child" } else { "" };
    let feels = match person.feels {
        Feels::Well => "no signs when noted",
        Feels::Ill => "ill",
        Feels::Unknown => "not asked",
    };
    let first = person.first_sign.map(|at| format!(", first sign {}", when(at))).unwrap_or_default();
    let after =
        person.delay_minutes.map(|delay| format!(", {} after the meal", span(delay))).unwrap_or_default();
    let signs = person.signs.as_ref().map(|signs| format!(". {signs}")).unwrap_or_default();
    format!("{}{child}: {feels}{first}{after}{signs}", person.name)
}

fn part(part: &Part) -> Passage {
    let names: Vec<String> = part
        .kinds
        .iter()
        .map(|kind| match kind.latin.as_str() {
            "" => kind.name.clone(),
            latin => format!("{} ({latin})", kind.name),
        })
        .collect();
    let title = match names.as_slice() {
        [] => "Taken for: no name given".to_owned(),
        names => format!("Taken for: {}", names.join("; or ")),
    };
    let mut lines = Vec::new();
    lines.extend(part.gathered.map(|at| format!("Gathered {}", when(at))));
    lines.extend(part.grew.as_ref().map(|grew| format!("Grew {grew}")));
    lines.extend((!part.photos.is_empty()).then(|| match part.photos.len() {
        1 => "1 photo".to_owned(),
        photos => format!("{photos} photos"),
    }));
    for kind in part.kinds.iter().filter(|kind| !kind.known) {
        lines.push(format!("{}: a name that Trug does not know. Any poisonous kind is possible.", kind.name));
    }
    let mut told: Vec<&str> = Vec::new();
    for danger in part.kinds.iter().flat_map(|kind| &kind.dangers) {
        if !told.contains(&danger.taxon.as_str()) {
            told.push(&danger.taxon);
            lines.push(possible(danger));
        }
    }
    if part.kinds.is_empty() {
        lines.push(NOTHING_KNOWN.to_owned());
    } else if told.is_empty() && part.kinds.iter().all(|kind| kind.known) {
        lines.push("Trug lists no dangerous look-alike of it. That excludes none.".to_owned());
    }
    Passage { title, lines, photos: part.photos.clone() }
}

fn possible(danger: &Danger) -> String {
    let how = if danger.deadly { "deadly" } else { "poisonous" };
    let harm = if danger.harm.is_empty() { String::new() } else { format!(" {}", danger.harm) };
    let begins = match &danger.begins {
        Some(begins) => format!("Signs of {}: {}.", begins.poison, begins.text),
        None => "Trug holds no source on when signs begin.".to_owned(),
    };
    format!("May have been {} ({}), {how}.{harm} {begins}", danger.name, danger.latin)
}

fn prepared(prepared: Prepared) -> &'static str {
    match prepared {
        Prepared::Raw => "raw",
        Prepared::PartCooked => "cooked in part, or briefly",
        Prepared::Cooked => "cooked",
        Prepared::Unknown => NOT_NOTED,
    }
}

fn alcohol(alcohol: Alcohol) -> &'static str {
    match alcohol {
        Alcohol::WithIt => "with the meal",
        Alcohol::Near => "within five days before or after",
        Alcohol::None => "none, as noted",
        Alcohol::Unknown => NOT_NOTED,
    }
}

/// A day and hour as the clock that was carried showed them.
fn when(at: Moment) -> String {
    at.offset().to_datetime(at.instant()).strftime("%A %-d %B %Y, %H:%M").to_string()
}

/// Minutes as people say them; from two days on in days and hours.
fn span(minutes: i64) -> String {
    let plural = |n: i64, one: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") };
    let two = |first: (i64, &str), second: (i64, &str)| match second.0 {
        0 => plural(first.0, first.1),
        _ => format!("{} {}", plural(first.0, first.1), plural(second.0, second.1)),
    };
    match minutes {
        ..60 => plural(minutes, "minute"),
        60..2880 => two((minutes / 60, "hour"), (minutes % 60, "minute")),
        _ => two((minutes / 1440, "day"), (minutes % 1440 / 60, "hour")),
    }
}
