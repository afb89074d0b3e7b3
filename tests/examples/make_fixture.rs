//! Makes the fixture of a notebook format: `cargo run -p trug-tests --example make_fixture -- FOLDER`.
//!
//! Only what cannot be made again is kept in it: the log, the photos, the identity.

use std::error::Error;
use std::path::PathBuf;

use trug::change::{Change, Line, Stamp};
use trug::find::{Count, Find, Got, How, Substrate, Whereabouts};
use trug::id::{DeviceId, RecordId};
use trug::notebook::{NewFind, NewName, NewPhoto, Notebook};
use trug::outing::Outing;
use trug::patch::{Outcome, Patch, Visit};
use trug::photo::Role;
use trug::place::Position;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).map(PathBuf::from).ok_or("give a folder")?;
    let notebook = Notebook::open(&folder)?;
    notebook.start_outing(Outing { place: Some("Lidgate Hanger (invented)".into()), ..Outing::default() })?;
    let picture = folder.with_extension("png");
    trug_tests::draw(&picture)?;
    let position = Whereabouts { position: Position::new(52.93, 0.26)?, got: Got::Map };
    let find = Find {
        position: Some(position),
        on: Some(Substrate::FallenBranch),
        seen: Count::between(4, 6).ok(),
        note: Some("invented; \"quoted\", with a line\nend".into()),
        ..Find::default()
    };
    let photos = vec![NewPhoto { path: picture.clone(), role: Role::Underside }];
    let first = notebook.add_find(NewFind { find, photos })?.id;
    let second = notebook.add_find(NewFind::default())?.id;
    notebook.amend_find(first, &Find { taken: Some(2), ..Find::default() }, &[])?;
    notebook.name_find(
        first,
        NewName { taxon: Some("elf-cups".into()), how: Some(How::Sight), ..NewName::default() },
    )?;
    notebook.delete_find(second)?;
    let patch = notebook.add_patch(&Patch { name: Some("hazel by the bend".into()), ..Patch::default() })?;
    notebook.add_visit(Visit {
        patch: Some(patch.id),
        outcome: Some(Outcome::Nothing),
        ..Visit::default()
    })?;
    notebook.end_outing(None)?;
    drop(notebook);
    of_a_later_version(&folder, first.into())?;
    for name in ["view.sqlite", "lock", "thumbnails"] {
        let leftover = folder.join(name);
        if leftover.is_dir() { std::fs::remove_dir_all(leftover)? } else { std::fs::remove_file(leftover)? }
    }
    Ok(std::fs::remove_file(picture)?)
}

/// A device of a later version: a kind and a field that nobody here knows.
fn of_a_later_version(folder: &std::path::Path, find: RecordId) -> Result<(), Box<dyn Error>> {
    let device = DeviceId::new();
    let later = |kind: &str, record, n: i64, field: &str, value: serde_json::Value| {
        Line::write(Change {
            kind: kind.into(),
            record,
            set: [(field.to_owned(), value)].into_iter().collect(),
            stamp: Stamp::at(1_790_000_000_000 + n),
            device,
            replaces: [].into(),
            undoes: None,
            unasked: false,
            more: 0,
        })
    };
    let lines = [
        later("meal", RecordId::new(), 0, "portions", serde_json::json!([{"who": "R.", "cooked": true}]))?,
        later("find", find, 1, "smell_of_rain", "strong".into())?,
    ];
    let text = lines.map(|line| line.text().to_owned() + "\n").concat();
    let to = folder.join("changes").join(device.to_string());
    std::fs::create_dir_all(&to)?;
    Ok(std::fs::write(to.join("000001.jsonl"), text)?)
}
