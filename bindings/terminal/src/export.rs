//! `trug export`: files for recorders, maps and tables.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use serde_json::json;
use trug::export::{Contents, Format, Terms, Waypoint};
use trug::notebook::{LeftOut, Notebook, Order, SystemClock};
use trug::pack::Pack;

use crate::Done;
use crate::answer::Answer;
use crate::leaving::{Leaving, find, kept_back, line, place};
use crate::notebook::counted;
use crate::watch::Watch;

#[derive(Debug, Args)]
pub struct Command {
    /// darwin-core, geojson or csv, of finds; gpx, of patches.
    format: Format,
    /// The file to write.
    out: PathBuf,
    #[command(flatten)]
    leaving: Leaving,
    /// Let photos out, as pictures and nothing more: only darwin-core holds them.
    #[arg(long)]
    photos: bool,
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
    let terms = command.leaving.terms();
    let order = Order {
        format: command.format,
        finds: command.leaving.finds(&notebook)?,
        terms,
        photos: command.photos,
        recipient: command.leaving.recipient.clone(),
        patch: None,
    };
    let pack = Pack::britain()?;
    if command.dry_run {
        let (contents, album) = notebook.copies(pack, &order, &watch)?;
        let mut json = json!({"format": order.format, "place": order.terms.place, "leaves": contents});
        if let Some(json) = json.as_object_mut().filter(|_| order.photos) {
            json.insert("photos".to_owned(), json!(album.pictures));
            json.insert("photos_left_out".to_owned(), json!(album.left_out));
        }
        let photos = order.photos.then_some((album.pictures.len(), album.left_out.as_slice()));
        let text = preview(&contents, &order.terms, photos);
        return Ok(Answer::new(text, &json));
    }
    let exported = notebook.export(pack, &order, &command.out, command.force, &watch)?;
    let what = if order.format == Format::Gpx { "patch" } else { "find" };
    let photos = exported.photos.map(|n| (n, exported.photos_left_out.as_slice()));
    let words = format!(
        "Written: {}. {}{}",
        many(exported.records, what),
        kept_back(&order.terms, order.photos),
        with_photos(photos)
    );
    Ok(Answer::new(words, &exported))
}

/// How many photos go along, and why others do not.
fn with_photos(photos: Option<(usize, &[LeftOut])>) -> String {
    let Some((along, left_out)) = photos else { return String::new() };
    let stay = left_out.iter().map(|one| format!("\n  a photo stays: {}", one.message));
    format!(
        " {} along, as pictures alone.{}",
        counted(along as u64, "photo"),
        stay.collect::<Vec<_>>().concat()
    )
}

fn many(n: usize, what: &str) -> String {
    match (what, n) {
        ("patch", 0 | 2..) => format!("{n} patches"),
        _ => counted(n as u64, what),
    }
}

fn preview(contents: &Contents, terms: &Terms, photos: Option<(usize, &[LeftOut])>) -> String {
    let mut text = match contents {
        Contents::Finds(finds) => format!("Would leave: {}.", many(finds.len(), "find")),
        Contents::Patches(patches) => format!("Would leave: {}.", many(patches.len(), "patch")),
    };
    let _ = writeln!(text, " {}{}", kept_back(terms, photos.is_some()), with_photos(photos));
    let lines: Vec<String> = match contents {
        Contents::Finds(finds) => finds.iter().map(find).collect(),
        Contents::Patches(patches) => patches.iter().map(patch).collect(),
    };
    text + &lines.join("\n")
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
