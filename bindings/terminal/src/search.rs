//! `trug search`: the finds, patches and kinds that go with some words, however they are spelt.

use std::fmt::Write;
use std::path::Path;

use clap::Args;
use serde_json::{Value, json};
use trug::find::Whereabouts;
use trug::notebook::{Found, FoundFind, FoundPatch, Limits, Notebook};
use trug::pack::{Named, Pack};
use trug::place::{Position, Reference};
use trug::spelling::Fit;

use crate::Done;
use crate::answer::Answer;
use crate::{knowledge, patch, show};

#[derive(Debug, Args)]
pub struct Command {
    /// Words, in any order and any case: of names, places, trees, notes, days.
    #[arg(required = true)]
    words: Vec<String>,
    /// How many finds are shown at most.
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    most: usize,
    /// Where to look from: patches then come nearest first.
    #[arg(long, value_name = "REF")]
    from: Option<String>,
}

pub fn run(command: &Command, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    let pack = Pack::britain()?;
    let from = command.from.as_deref().map(str::parse::<Reference>).transpose()?;
    let here: Option<Position> = from.map(|from| from.position()).transpose()?;
    let limits = Limits { kinds: 8, patches: 8, finds: command.most };
    let found = notebook.search(pack, &command.words.join(" "), here, &limits)?;
    Ok(Answer::new(words(&found), &whole(&found)))
}

fn words(found: &Found) -> String {
    let mut text = String::new();
    let mut part = |title: &str, lines: Vec<String>, more: usize| {
        if lines.is_empty() {
            return;
        }
        let _ = writeln!(text, "{title}"); // a String takes everything
        for line in lines {
            let _ = writeln!(text, "  {line}");
        }
        if more > 0 {
            let _ = writeln!(text, "  and {more} more");
        }
    };
    part("Finds", found.finds.shown.iter().map(find).collect(), found.finds.more);
    part("Patches", found.patches.shown.iter().map(of_patch).collect(), found.patches.more);
    part("Kinds", found.kinds.shown.iter().map(kind).collect(), found.kinds.more);
    match &found.instead {
        _ if !text.is_empty() => text,
        Some(instead) => format!("Nothing found. Did you mean \"{instead}\"?"),
        None => "Nothing found.".to_owned(),
    }
}

/// A slip is told, so that nobody takes what is only nearly so for what was asked.
fn nearly(fit: Fit) -> &'static str {
    if fit == Fit::Near { "  (nearly so)" } else { "" }
}

fn find(found: &FoundFind) -> String {
    let find = &found.record.find.value;
    let at = find.at.map_or_else(|| "no time".to_owned(), show::moment);
    let name = found.goes_by.name.as_deref().unwrap_or("not named");
    let place = find.position.as_ref().map(|at: &Whereabouts| show::grid(at.position));
    let said = [found.outing.clone(), found.patch.clone(), place, found.passage.clone()];
    let said: Vec<String> = said.into_iter().flatten().collect();
    format!("{}  {at}  {name}{}  {}", show::short(&found.record.id), nearly(found.fit), said.join("; "))
        .trim_end()
        .to_owned()
}

fn of_patch(found: &FoundPatch) -> String {
    let name = patch::called(found.record.patch.value.name.as_ref(), found.record.id);
    let away = found.distance.map_or(String::new(), |metres| format!("  {:.0} m away", metres.get()));
    format!("{}  {name}{}{away}", show::short(&found.record.id), nearly(found.fit))
}

fn kind(named: &Named) -> String {
    format!("{:<26} {:<30} {}", named.english, named.latin, knowledge::standing(named.standing))
}

fn whole(found: &Found) -> Value {
    let finds = found.finds.shown.iter().map(|one| {
        json!({
            "find": one.record, "name": one.goes_by.name, "outing": one.outing, "patch": one.patch,
            "passage": one.passage, "nearly": one.fit == Fit::Near,
        })
    });
    let patches = found.patches.shown.iter().map(|one| {
        json!({
            "patch": one.record, "distance_m": one.distance, "bearing": one.bearing, "nearly": one.fit == Fit::Near,
        })
    });
    let kinds = found.kinds.shown.iter().map(|one| {
        json!({
            "id": one.id, "name": one.latin, "english": one.english,
            "danger": knowledge::danger(one.standing), "group": one.is_group,
        })
    });
    json!({
        "finds": finds.collect::<Vec<_>>(), "more_finds": found.finds.more,
        "patches": patches.collect::<Vec<_>>(), "more_patches": found.patches.more,
        "kinds": kinds.collect::<Vec<_>>(), "more_kinds": found.kinds.more,
        "instead": found.instead,
    })
}
