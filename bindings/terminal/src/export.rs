//! `trug export`: files for recorders, maps and tables.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use serde_json::json;
use trug::export::{Contents, Copied, Exactness, Format, SharedPlace, Terms, Waypoint};
use trug::notebook::{Notebook, Order, SystemClock};
use trug::pack::Pack;

use crate::Done;
use crate::answer::Answer;
use crate::notebook::counted;
use crate::watch::Watch;

#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools)] // each a box to tick
pub struct Command {
    /// darwin-core, geojson or csv, of finds; gpx, of patches.
    format: Format,
    /// The file to write.
    out: PathBuf,
    /// Only these finds, by the beginning of their ids; for gpx their patches.
    #[arg(long, value_name = "ID", num_args = 1.., value_delimiter = ',')]
    finds: Option<Vec<String>>,
    /// How exactly to tell places: 10km, 1km, exact.
    #[arg(long, value_name = "HOW", default_value_t = Exactness::TenKilometres)]
    place: Exactness,
    /// Let notes out, with the surroundings in your words and names of patches.
    #[arg(long)]
    notes: bool,
    /// Let the time of day out.
    #[arg(long)]
    time: bool,
    /// Let this name out as the recorder's.
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// For whom it is; does not leave. Later exports for the same name give the same finds the same ids.
    #[arg(long, value_name = "NAME")]
    recipient: Option<String>,
    /// List exactly what would leave, and write nothing.
    #[arg(long)]
    dry_run: bool,
    /// Replace a file that is there.
    #[arg(long)]
    force: bool,
}

pub fn run(command: &Command, folder: &Path) -> Done {
    let watch = Watch::new();
    let notebook = Notebook::open_with(folder, Arc::new(SystemClock), &watch)?;
    let finds = command
        .finds
        .as_ref()
        .map(|ids| ids.iter().map(|id| notebook.find_beginning(id)).collect::<Result<Vec<_>, _>>())
        .transpose()?;
    let terms =
        Terms { place: command.place, notes: command.notes, time: command.time, name: command.name.clone() };
    let order = Order { format: command.format, finds, terms, recipient: command.recipient.clone() };
    let pack = Pack::britain()?;
    if command.dry_run {
        let contents = notebook.copies(pack, &order, &watch)?;
        let json = json!({"format": order.format, "place": order.terms.place, "leaves": contents});
        return Ok(Answer::new(preview(&contents, &order.terms), &json));
    }
    let exported = notebook.export(pack, &order, &command.out, command.force, &watch)?;
    let what = if order.format == Format::Gpx { "patch" } else { "find" };
    let words = format!("Written: {}. {}", many(exported.records, what), kept_back(&order.terms));
    Ok(Answer::new(words, &exported))
}

fn many(n: usize, what: &str) -> String {
    match (what, n) {
        ("patch", 0 | 2..) => format!("{n} patches"),
        _ => counted(n as u64, what),
    }
}

/// What stays, in one sentence.
fn kept_back(terms: &Terms) -> String {
    let place = match terms.place {
        Exactness::TenKilometres => "Places as 10 km squares",
        Exactness::OneKilometre => "Places as 1 km squares",
        Exactness::Exact => "EXACT PLACES are in it",
    };
    let stays = [
        (terms.place != Exactness::Exact).then_some("exact places"),
        (!terms.notes).then_some("notes"),
        (!terms.time).then_some("times of day"),
        Some("photos"),
    ];
    let stays: Vec<_> = stays.into_iter().flatten().collect();
    format!("{place}; {} stay with you.", stays.join(", "))
}

fn preview(contents: &Contents, terms: &Terms) -> String {
    let mut text = match contents {
        Contents::Finds(finds) => format!("Would leave: {}.", many(finds.len(), "find")),
        Contents::Patches(patches) => format!("Would leave: {}.", many(patches.len(), "patch")),
    };
    let _ = writeln!(text, " {}", kept_back(terms));
    let lines: Vec<String> = match contents {
        Contents::Finds(finds) => finds.iter().map(find).collect(),
        Contents::Patches(patches) => patches.iter().map(patch).collect(),
    };
    text + &lines.join("\n")
}

fn find(copy: &Copied) -> String {
    let name = &copy.name;
    let named = [name.qualifier.as_deref(), Some(name.scientific.as_str())];
    let host = copy.host.as_ref().map(|host| format!("{} ({})", host.tree, host.sure));
    let stages = copy
        .stages
        .as_ref()
        .map(|stages| stages.iter().map(|(stage, n)| format!("{stage} {n}")).collect::<Vec<_>>().join(", "));
    line([
        ("", copy.when()),
        ("", Some(named.into_iter().flatten().collect::<Vec<_>>().join(" "))),
        ("", name.english.clone()),
        ("named by ", name.how.map(|how| how.to_string())),
        ("", copy.place.as_ref().map(place)),
        ("on ", copy.on.map(|on| on.to_string())),
        ("host ", host),
        ("ground ", copy.ground.map(|ground| ground.to_string())),
        ("", copy.growth.map(|growth| growth.to_string())),
        ("seen ", copy.seen.map(|seen| seen.to_string())),
        ("", stages),
        ("width ", copy.width.map(|width| width.to_string())),
        ("taken ", copy.taken.map(|taken| taken.to_string())),
        ("grams ", copy.grams.map(|grams| grams.to_string())),
        ("for study ", copy.specimens.map(|n| n.to_string())),
        ("recorder ", copy.recorder.clone()),
        ("habitat ", copy.habitat.clone()),
        ("note ", copy.note.clone()),
    ])
}

fn patch(point: &Waypoint) -> String {
    line([
        ("", point.name.clone()),
        ("", Some(place(&point.place))),
        ("on ", point.on.map(|on| on.to_string())),
        ("host ", point.host.as_ref().map(|host| host.tree.clone())),
        ("recorder ", point.recorder.clone()),
        ("note ", point.note.clone()),
    ])
}

fn place(place: &SharedPlace) -> String {
    let around = place.uncertainty_m.map(|metres| format!(" ±{metres} m")).unwrap_or_default();
    let square = place.square.as_ref().map(|square| format!("{square}, centre ")).unwrap_or_default();
    format!("{square}{} {}{around}", place.latitude, place.longitude)
}

fn line<const N: usize>(parts: [(&str, Option<String>); N]) -> String {
    let said = parts.into_iter().filter_map(|(label, value)| Some(format!("{label}{}", value?)));
    format!("  {}", said.collect::<Vec<_>>().join(" · "))
}
