//! Patches in words: where they are, whether they rest, and a table of what came of them.

use std::fmt::Write;

use jiff::civil::Date;
use trug::notebook::{PatchHistory, PatchRecord, VisitRecord};
use trug::patch::{Amounts, Look, Many, Outcome, Patch, SeasonAtPatch};
use trug::place::Position;

use super::{Listed, called};
use crate::show::{self, Lines};

pub fn patch(record: &PatchRecord, today: Date) -> String {
    let patch = &record.patch.value;
    let mut lines = Lines::default();
    lines.line("where", Some(patch.centre.map_or_else(unplaced, show::position)));
    lines.line("reaches", patch.centre.map(|_| format!("{:.0} m", patch.reach().get())));
    lines.line("tree", patch.host.as_ref().map(|host| format!("{} ({})", host.tree, host.sure)));
    lines.line("on", patch.on);
    lines.line("for", patch.taxon.as_ref());
    lines.line("rests", rest(patch, today));
    lines.line("note", patch.note.as_ref());
    lines.disagreements(&record.patch.disagreements);
    let gone = if record.patch.deleted { " (deleted)" } else { "" };
    let name = patch.name.as_ref().map_or_else(String::new, |name| format!("  {name}"));
    format!("Patch {}{name}{gone}\n{}", show::short(&record.id), lines.0)
}

fn unplaced() -> String {
    "not known: `trug patch move … --place REF` adds it".to_owned()
}

fn rest(patch: &Patch, today: Date) -> Option<String> {
    let until = patch.rests_until?;
    let over = if patch.rests_on(today) { "" } else { ", which is over" };
    Some(format!("until {until}{over}"))
}

pub fn list(patches: &[Listed], today: Date) -> String {
    if patches.is_empty() {
        return "No patches yet. `trug patch add NAME --place REF` keeps one, `trug patch add NAME --find ID` founds it on a find."
            .to_owned();
    }
    let name = |one: &Listed| called(one.record.patch.value.name.as_ref(), one.record.id);
    let widest = patches.iter().map(|one| name(one).chars().count()).max().unwrap_or(0).min(30);
    patches.iter().fold(String::new(), |mut text, one| {
        let patch = &one.record.patch.value;
        let way = one.distance_m.map(|metres| way(metres.get(), one.bearing));
        let place = way.or_else(|| patch.centre.map(place_name)).unwrap_or_else(|| "no place".to_owned());
        let looked = one
            .last_look
            .as_ref()
            .map_or_else(|| "not looked at yet".to_owned(), |look| format!("{}: {}", look.day, look.outcome));
        let rest = patch.rests_until.filter(|_| patch.rests_on(today));
        let rest = rest.map_or(String::new(), |until| format!(", rests until {until}"));
        let id = show::short(&one.record.id);
        let _ = writeln!(text, "{id}  {:<widest$}  {place:<16}  {looked}{rest}", name(one));
        text
    })
}

fn place_name(at: Position) -> String {
    show::grid(at)
}

/// "120 m NE (047°)", "here".
pub fn way(metres: f64, bearing: Option<f64>) -> String {
    const POINTS: [&str; 8] = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"];
    let Some(degrees) = bearing.filter(|_| metres >= 0.5) else { return "here".to_owned() };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 8")]
    let point = POINTS.get((degrees / 45.0).round() as usize % 8).copied().unwrap_or("N");
    let far = if metres < 9_950.0 { format!("{metres:.0} m") } else { format!("{:.0} km", metres / 1000.0) };
    format!("{far} {point} ({:03.0}°)", degrees.round() % 360.0)
}

pub fn merged(before: &PatchRecord, record: &PatchRecord) -> String {
    let name = |record: &PatchRecord| called(record.patch.value.name.as_ref(), record.id);
    let (gone, stays, id) = (name(before), name(record), show::short(&record.id));
    format!(
        "Merged {gone} into {stays}: what was found and looked for at either stands there now.\n\
         `trug patch undo {id}` parts them again."
    )
}

pub fn looked(patch: &PatchRecord, visit: &VisitRecord) -> String {
    let visit = &visit.visit.value;
    let name = called(patch.patch.value.name.as_ref(), patch.id);
    let came = match visit.outcome {
        Some(Outcome::Seen) => "something there, left alone",
        Some(Outcome::Taken) => "something there, and some taken",
        Some(Outcome::Nothing) | None => "nothing there",
    };
    let at = visit.at.map_or(String::new(), |at| format!(" at {}", show::moment(at)));
    format!("Noted for {name}: looked{at}, {came}.")
}

pub fn history(history: &PatchHistory, today: Date) -> String {
    let mut text = patch(&history.patch, today);
    for merged in &history.merged {
        let name = called(merged.patch.value.name.as_ref(), merged.id);
        let _ = writeln!(text, "  {:<11}{name} ({}), merged into this one", "also", show::short(&merged.id));
    }
    if history.seasons.is_empty() {
        let id = show::short(&history.patch.id);
        let _ = write!(
            text,
            "Not looked at yet. `trug patch look {id}` notes a look at which nothing was there."
        );
    }
    for season in &history.seasons {
        text.push('\n');
        text.push_str(&table(season));
    }
    if !history.against_advice.is_empty() {
        text.push_str("\nTaken against advice:\n");
    }
    for one in &history.against_advice {
        let at = one.at.map_or_else(|| "at some time".to_owned(), show::moment);
        let taken = one.taken.map_or_else(String::new, |taken| format!("{taken} taken; "));
        let because = one.because.as_ref().map_or_else(String::new, |why| format!(" Because: {why}"));
        let _ = writeln!(text, "  {at}  {taken}{}{because}", one.advice);
    }
    text
}

fn table(season: &SeasonAtPatch) -> String {
    let nothing = match season.nothing {
        0 => String::new(),
        n if n == season.looked => ", nothing there".to_owned(),
        n => format!(", nothing there {}", times(n)),
    };
    let mut text = format!("{}: looked {}{nothing}", season.season, times(season.looked));
    let sum = &season.amounts;
    if sum.finds > 0 {
        let weight = Some(weight(sum)).filter(|weight| !weight.is_empty());
        let weight = weight.map_or(String::new(), |weight| format!(", {weight}"));
        let _ = write!(
            text,
            "; {} seen, {} taken, {} left{weight}",
            many(sum.seen),
            many(sum.taken),
            many(sum.left())
        );
    }
    text.push('\n');
    let _ =
        writeln!(text, "  {:<10}  {:<7}  {:>7}  {:>5}  {:>7}  weight", "day", "", "seen", "taken", "left");
    for look in &season.looks {
        let _ = writeln!(text, "{}", row(look).trim_end());
    }
    text
}

fn row(look: &Look) -> String {
    let found = look.amounts.finds > 0;
    let cell = |number: Many| if found { many(number) } else { String::new() };
    let sum = &look.amounts;
    let mut more: Vec<String> = look.taxa.iter().cloned().collect();
    if sum.specimens > 0 {
        more.push(format!("{} for study", sum.specimens));
    }
    if !look.by.is_empty() {
        more.push(format!("by {}", look.by.iter().cloned().collect::<Vec<_>>().join(", ")));
    }
    more.extend(look.notes.iter().cloned());
    format!(
        "  {:<10}  {:<7}  {:>7}  {:>5}  {:>7}  {:<12}  {}",
        look.day.to_string(),
        look.outcome,
        cell(sum.seen),
        cell(sum.taken),
        cell(sum.left()),
        weight(sum),
        more.join("; ")
    )
}

/// "7", "5-8", "5 or more".
fn many(number: Many) -> String {
    match number.most {
        Some(most) if most == number.least => most.to_string(),
        Some(most) => format!("{}-{most}", number.least),
        None => format!("{}+", number.least),
    }
}

fn weight(sum: &Amounts) -> String {
    match (sum.milligrams, sum.unweighed) {
        (0, 0) => String::new(),
        (0, _) => "not weighed".to_owned(),
        (_, 0) => format!("{} g", sum.grams()),
        (_, _) => format!("{} g and more", sum.grams()),
    }
}

fn times(n: u32) -> String {
    match n {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        n => format!("{n} times"),
    }
}
