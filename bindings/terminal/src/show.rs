//! Records in words for a tired person: one thing a line, labels in a column, places as grid references.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use serde_json::Value;
use trug::find::{Find, Whereabouts};
use trug::moment::Moment;
use trug::notebook::{Added, FindRecord, Named, OutingRecord, Warning};
use trug::patch::{Near, Proposal};
use trug::place::{Place, Position};

/// A column of labels and what stands behind them; what is not known takes no line.
#[derive(Default)]
pub struct Lines(pub String);

impl Lines {
    pub fn line(&mut self, label: &str, value: Option<impl ToString>) {
        if let Some(value) = value {
            let _ = writeln!(self.0, "  {label:<11}{}", value.to_string()); // a String takes everything
        }
    }

    /// Fields on which devices disagree, the shown value first.
    pub fn disagreements(&mut self, fields: &BTreeMap<String, Vec<Value>>) {
        for (field, values) in fields {
            let values: Vec<String> = values.iter().map(ToString::to_string).collect();
            self.line("disagree", Some(format!("{field}: {}", values.join(" or "))));
        }
    }
}

/// The beginning of an id by which it is found again: the millisecond in which it was made.
pub fn short(id: &(impl ToString + ?Sized)) -> String {
    beginning(&id.to_string(), MILLISECOND).to_owned()
}

/// Figures of an id that give its millisecond, dash included; five more tell those of one millisecond apart.
const MILLISECOND: usize = 13;

fn beginning(id: &str, figures: usize) -> &str {
    id.get(..figures).unwrap_or(id)
}

/// How many figures of each id tell all of these finds apart.
fn figures(records: &[FindRecord]) -> usize {
    let ids: Vec<String> = records.iter().map(|record| record.id.to_string()).collect();
    let apart = |figures: &usize| {
        let different: BTreeSet<&str> = ids.iter().map(|id| beginning(id, *figures)).collect();
        different.len() == ids.len()
    };
    [MILLISECOND, MILLISECOND + 5].into_iter().find(apart).unwrap_or(usize::MAX)
}

/// The moment as a wood's clock shows it.
pub fn moment(at: Moment) -> String {
    let text = at.to_string();
    match text.split_once('T') {
        Some((day, time)) => format!("{day} {}", time.get(..5).unwrap_or(time)),
        None => text,
    }
}

/// A grid reference and how far to trust it, and how it was got.
pub fn place(at: &Whereabouts) -> String {
    format!("{} ({})", position(at.position), at.got)
}

/// A grid reference and how far to trust it.
pub fn position(at: Position) -> String {
    match Place::told(at).uncertainty_m {
        Some(metres) => format!("{} ± {metres:.0} m", grid(at)),
        None => grid(at),
    }
}

/// A grid reference; degrees only where no grid holds.
pub fn grid(at: Position) -> String {
    Place::told(at).name()
}

fn warnings(list: &[Warning]) -> String {
    list.iter().fold(String::new(), |mut text, warning| {
        let _ = writeln!(text, "  note: {}", warning.message);
        text
    })
}

pub fn added(added: &Added) -> String {
    let mut lines = Lines::default();
    lines.line("when", added.at.map(moment));
    lines.line("where", added.position.as_ref().map(place));
    for photo in &added.photos {
        let hash = photo.sha256.to_string();
        lines.line("photo", Some(format!("{} ({})", hash.get(..12).unwrap_or(&hash), photo.role)));
    }
    if added.position.is_none() {
        lines.line("where", Some("not known: `trug find amend … --place REF` adds it"));
    }
    lines.line("patch", added.patch.as_ref().and_then(|proposal| proposed(proposal, &short(&added.id))));
    format!("Kept {}\n{}{}", short(&added.id), lines.0, warnings(&added.warnings))
}

/// Which patch a find joined, or may.
fn proposed(proposal: &Proposal, find: &str) -> Option<String> {
    let name = |near: &Near| crate::patch::called(near.name.as_ref(), near.id);
    let off = |near: &Near| format!("{} ({:.0} m)", name(near), near.distance.get());
    match proposal {
        Proposal::Joins { patch } => {
            Some(format!("joins {}, {:.0} m from its middle", name(patch), patch.distance.get()))
        }
        Proposal::Choose { patches } => {
            let few: Vec<String> = patches.iter().take(4).map(off).collect();
            Some(format!("{}? `trug find amend {find} --patch …` says which", few.join(" or ")))
        }
        Proposal::New => Some(format!("none here yet: `trug patch add NAME --find {find}` founds one")),
        Proposal::Unplaced => None,
    }
}

pub fn photos_added(find: &str, count: usize, said: &[Warning]) -> String {
    format!(
        "{} added to {}\n{}",
        crate::notebook::counted(count as u64, "photo"),
        short(find),
        warnings(said)
    )
}

fn details(find: &Find) -> String {
    let mut lines = Lines::default();
    lines.line("when", find.at.map(moment));
    lines.line("where", find.position.as_ref().map(place));
    lines.line("on", find.on);
    lines.line("tree", find.host.as_ref().map(|host| format!("{} ({})", host.tree, host.sure)));
    lines.line("ground", find.ground);
    lines.line("habitat", find.habitat.as_ref());
    let joined = |list: Vec<String>| list.join(", ");
    lines.line(
        "unfit",
        find.hazards.as_ref().map(|all| joined(all.iter().map(ToString::to_string).collect())),
    );
    lines.line("growth", find.growth);
    lines.line("seen", find.seen);
    lines.line(
        "stages",
        find.stages.as_ref().map(|all| joined(all.iter().map(|(s, n)| format!("{n} {s}")).collect())),
    );
    lines.line("width", find.width);
    lines.line("height", find.height);
    lines.line("measured", find.measured.map(|how| format!("by {how}")));
    lines.line("signs", find.signs.as_ref().map(|all| joined(all.clone())));
    let weight = find.grams.map_or(String::new(), |grams| format!(", {grams} g"));
    lines.line("taken", find.taken.map(|n| format!("{n}{weight}")));
    lines.line("for study", find.specimens);
    lines.line("by", find.by.as_ref());
    lines.line("note", find.note.as_ref());
    lines.line("outing", find.outing.as_ref().map(short));
    lines.line("patch", find.patch.as_ref().map(short));
    lines.0
}

pub fn find(record: &FindRecord) -> String {
    let gone = if record.find.deleted { " (deleted)" } else { "" };
    let mut lines = Lines(details(&record.find.value));
    for photo in &record.photos {
        let photo = &photo.photo.value;
        let hash = photo.sha256.map(|hash| hash.to_string()).unwrap_or_default();
        let role = photo.role.map(|role| role.to_string()).unwrap_or_default();
        lines.line("photo", Some(format!("{} ({role})", hash.get(..12).unwrap_or(&hash))));
    }
    for name in &record.determinations {
        lines.line("name", Some(words(name)));
    }
    lines.disagreements(&record.find.disagreements);
    format!("Find {}{gone}\n{}", short(&record.id), lines.0)
}

/// A name with its bearer: a word on sight is that person's, and no more.
fn words(name: &Named) -> String {
    let what = &name.determination.value;
    let taxon = what.taxon.as_deref().unwrap_or("unknown");
    let sure = what.sure.map_or(String::new(), |sure| format!(", {sure}"));
    let how = what.how.map_or(String::new(), |how| format!(" by {how}"));
    let who = what.who.as_ref().map_or(String::new(), |who| format!(", says {who}"));
    let withdrawn = if what.withdrawn == Some(true) { " (withdrawn)" } else { "" };
    format!("{taxon}{how}{sure}{who}{withdrawn}")
}

pub fn named(name: &Named) -> String {
    format!(
        "Named: {}\n  This is somebody's word. Check every look-alike on every one that you cut. If in any doubt, leave it.",
        words(name)
    )
}

pub fn finds(records: &[FindRecord]) -> String {
    if records.is_empty() {
        return "No finds.".to_owned();
    }
    let figures = figures(records);
    records.iter().fold(String::new(), |mut text, record| {
        let id = record.id.to_string();
        let id = beginning(&id, figures);
        let find = &record.find.value;
        let at = find.at.map_or_else(|| "no time".to_owned(), moment);
        let place = find.position.as_ref().map_or_else(|| "no place".to_owned(), place);
        let standing =
            record.determinations.iter().rev().find(|n| n.determination.value.withdrawn != Some(true));
        let name = standing.and_then(|name| name.determination.value.taxon.clone());
        let name = name.unwrap_or_else(|| "not named".to_owned());
        let seen = find.seen.map_or(String::new(), |seen| format!(", {seen} seen"));
        let taken = find.taken.map_or(String::new(), |taken| format!(", {taken} taken"));
        let _ = writeln!(text, "{id}  {at}  {place:<30}  {name}{seen}{taken}");
        text
    })
}

pub fn outing(record: &OutingRecord) -> String {
    let outing = &record.outing.value;
    let mut lines = Lines::default();
    lines.line("from", outing.start.map(moment));
    lines.line("to", outing.end.map_or_else(|| Some("still on".to_owned()), |end| Some(moment(end))));
    lines.line("where", outing.place.as_ref());
    lines.line("may I pick", outing.permission);
    lines.line("with", outing.people.as_ref().map(|people| people.join(", ")));
    lines.line("note", outing.note.as_ref());
    format!("Outing {}\n{}", short(&record.id), lines.0)
}
