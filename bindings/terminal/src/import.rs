//! `trug import`: waypoints as patches, photos as finds, drawings as patches and areas.

use std::fs::File;
use std::io::{self, BufRead, BufReader, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, Subcommand};
use serde_json::json;
use trug::area::{Area, Drawn};
use trug::import::{LONGEST, Mark, geojson, gpx};
use trug::notebook::{FoundPhoto, FoundPhotos, Imported, Notebook, SystemClock};

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::notebook::counted;
use crate::watch::Watch;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Keeps the waypoints of a GPX file (1.0 or 1.1) as patches. What was read before is left as it is.
    Gpx {
        /// The file.
        file: PathBuf,
        /// Show what would be added, and keep nothing.
        #[arg(long)]
        dry_run: bool,
    },
    /// Keeps the points of a `GeoJSON` file as patches, and its polygons as areas.
    Geojson(Drawings),
    /// Keeps the photos in a folder as finds: those taken together at one place are of one find, once you have approved it.
    Photos(Photos),
}

#[derive(Debug, Args)]
pub struct Drawings {
    /// The file (RFC 7946).
    file: PathBuf,
    /// Nothing is gathered in its polygons.
    #[arg(long)]
    closed: bool,
    /// The code that holds in its polygons besides, by its id: see `trug code list`.
    #[arg(long, value_name = "ID")]
    code: Option<String>,
    /// Show what would be added, and keep nothing.
    #[arg(long)]
    dry_run: bool,
}

#[derive(Debug, Args)]
pub struct Photos {
    /// The folder; the folders in it are looked through as well.
    folder: PathBuf,
    /// Keep every find as grouped, without asking.
    #[arg(long, conflicts_with = "dry_run")]
    yes: bool,
    /// Keep only these, by their number in what `--dry-run` lists, without asking.
    #[arg(long, value_name = "NUMBER", num_args = 1.., value_delimiter = ',', conflicts_with_all = ["dry_run", "yes"])]
    find: Option<Vec<usize>>,
    /// List the finds that the photos would become, and keep nothing.
    #[arg(long)]
    dry_run: bool,
}

pub fn run(verb: &Verb, folder: &Path, json: bool) -> Done {
    // A file that cannot be read is refused before a notebook is made for it.
    let (marks, areas, dry_run) = match verb {
        Verb::Gpx { file, dry_run } => (gpx(BufReader::new(File::open(file)?))?, Vec::new(), *dry_run),
        Verb::Geojson(drawings) => {
            let mut text = String::new();
            File::open(&drawings.file)?.take(LONGEST + 1).read_to_string(&mut text)?;
            let drawing = geojson(&text)?;
            (drawing.marks, drawings.areas(drawing.outlines)?, drawings.dry_run)
        }
        Verb::Photos(command) => return photos(command, folder, json),
    };
    let notebook = Notebook::open_with(folder, Arc::new(SystemClock), &Watch::new())?;
    let imported =
        if dry_run { notebook.preview_import(&marks, &areas)? } else { notebook.import(&marks, &areas)? };
    Ok(Answer::new(told(&imported, dry_run), &imported))
}

impl Drawings {
    fn areas(&self, drawn: Vec<Drawn>) -> Result<Vec<Area>, Refusal> {
        if !drawn.is_empty() && !self.closed && self.code.is_none() {
            let why = "closed: the file draws areas: say what holds there, with --closed or --code";
            return Err(Refusal::new("field", why));
        }
        let area = |(number, one): (usize, Drawn)| Area {
            name: Some(one.name.unwrap_or_else(|| format!("area {number}"))),
            outline: Some(one.outline),
            closed: self.closed.then_some(true),
            code: self.code.clone(),
            ..Area::default()
        };
        Ok((1..).zip(drawn).map(area).collect())
    }
}

fn told(imported: &Imported, dry_run: bool) -> String {
    let patches = match imported.patches.len() {
        1 => "1 patch".to_owned(),
        n => format!("{n} patches"),
    };
    let areas = (!imported.areas.is_empty()).then(|| counted(imported.areas.len() as u64, "area"));
    let all = [Some(patches), areas].into_iter().flatten().collect::<Vec<_>>().join(" and ");
    let begins = if dry_run { "Would be added" } else { "Added" };
    let there = match imported.already_there {
        0 => String::new(),
        n => format!(" {n} read before: left as they are."),
    };
    let patches = imported.patches.iter().map(|patch| mark(&patch.mark));
    let areas =
        imported.areas.iter().map(|new| format!("  {} (area)", new.area.name.as_deref().unwrap_or_default()));
    [format!("{begins}: {all}.{there}")]
        .into_iter()
        .chain(patches)
        .chain(areas)
        .collect::<Vec<_>>()
        .join("\n")
}

fn mark(mark: &Mark) -> String {
    let name = mark.name.as_deref().unwrap_or("no name");
    let note = mark.note.as_ref().map(|note| format!(" · {}", note.replace('\n', " "))).unwrap_or_default();
    format!("  {name} · {:.6} {:.6}{note}", mark.centre.latitude(), mark.centre.longitude())
}

fn photos(command: &Photos, folder: &Path, json: bool) -> Done {
    let watch = Watch::new();
    if !command.folder.is_dir() {
        return Err(Refusal::new("field", "folder: there is no such folder: give one that holds photos"));
    }
    let notebook = Notebook::open_with(folder, Arc::new(SystemClock), &watch)?;
    let found = notebook.find_photos(&command.folder, &watch)?;
    if command.dry_run {
        return Ok(Answer::new(listed(&found), &found));
    }
    let chosen = if let Some(numbers) = &command.find {
        by_number(&found.finds, numbers)?
    } else if command.yes {
        found.finds.clone()
    } else if !json && io::stdin().is_terminal() {
        approved(&found)?
    } else {
        let why = "nobody is here to approve the finds: see them with --dry-run, then keep them with --yes or --find";
        return Err(Refusal::new("not-approved", why));
    };
    let added = notebook.import_photos(&chosen, &watch)?;
    let words = format!("Added: {}.{}", counted(added.len() as u64, "find"), aside(&found));
    let answer = json!({
        "finds": added,
        "already_there": found.already_there,
        "passed_over": found.passed_over,
    });
    Ok(Answer::new(words, &answer))
}

fn by_number(groups: &[Vec<FoundPhoto>], numbers: &[usize]) -> Result<Vec<Vec<FoundPhoto>>, Refusal> {
    let group = |number: &usize| {
        let group = number.checked_sub(1).and_then(|at| groups.get(at)).cloned();
        group
            .ok_or_else(|| Refusal::new("field", format!("find: there is no number {number}: see --dry-run")))
    };
    let once: std::collections::BTreeSet<_> = numbers.iter().collect();
    once.into_iter().map(group).collect()
}

/// Shows one find after the other and asks.
fn approved(found: &FoundPhotos) -> io::Result<Vec<Vec<FoundPhoto>>> {
    let mut out = io::stdout().lock();
    let mut lines = io::stdin().lock().lines();
    let mut chosen = Vec::new();
    for (number, group) in (1..).zip(&found.finds) {
        writeln!(out, "{}", one(number, group))?;
        loop {
            write!(out, "One find? y keeps it, n does not, q keeps no more: ")?;
            out.flush()?;
            let answer = lines.next().transpose()?;
            match answer.as_deref().map(str::trim) {
                Some("y") => chosen.push(group.clone()),
                Some("n") => {}
                Some("q") => return Ok(chosen),
                // Nobody is there any more: nothing was agreed to.
                None => return Ok(Vec::new()),
                Some(_) => continue,
            }
            break;
        }
    }
    Ok(chosen)
}

fn listed(found: &FoundPhotos) -> String {
    let begins = format!("Would be added: {}.{}", counted(found.finds.len() as u64, "find"), aside(found));
    let finds = (1..).zip(&found.finds).map(|(number, group)| one(number, group));
    [begins].into_iter().chain(finds).collect::<Vec<_>>().join("\n")
}

fn aside(found: &FoundPhotos) -> String {
    let said = [(found.already_there, "here already"), (found.passed_over, "passed over: not a photo")];
    let said = said.into_iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!(" {n} {what}."));
    said.collect::<Vec<_>>().concat()
}

/// A find and its photos, a line each.
fn one(number: usize, group: &[FoundPhoto]) -> String {
    let first = group.first().map(|photo| photo.shot).unwrap_or_default();
    let at = first.taken.map_or_else(|| "time unknown".to_owned(), |taken| taken.to_string());
    let position = group.iter().find_map(|photo| photo.shot.position);
    let place = position.map_or_else(
        || "place unknown".to_owned(),
        |place| format!("{:.6} {:.6}", place.latitude(), place.longitude()),
    );
    let photos = group.iter().map(|photo| format!("\n      {}", photo.path.display()));
    format!(
        "{number:>4}  {at} · {place} · {}{}",
        counted(group.len() as u64, "photo"),
        photos.collect::<String>()
    )
}
