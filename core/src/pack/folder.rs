//! The files of a pack on disk.

use std::fs;
use std::io;
use std::path::Path;

use super::problem::PackError;
use super::read::{Figures, Texts};

/// Reads the TOML files of a pack's folder, and of its subfolders `groups` and `taxa`.
///
/// # Errors
/// [`PackError::Unreadable`] if the folder or one of its files cannot be read, or is not UTF-8.
pub fn read_folder(folder: &Path) -> Result<Texts, PackError> {
    let mut texts = Texts::new();
    add(&mut texts, folder, "", "toml")?;
    for subfolder in ["groups/", "taxa/"] {
        match add(&mut texts, &folder.join(subfolder), subfolder, "toml") {
            Err(PackError::Unreadable { kind: io::ErrorKind::NotFound, .. }) | Ok(()) => {}
            Err(error) => return Err(error),
        }
    }
    Ok(texts)
}

/// Reads the line figures of a pack: `figures/<id>.svg`. A pack needs none.
///
/// # Errors
/// [`PackError::Unreadable`] if the folder `figures` or one of its files cannot be read, is not UTF-8, or holds more than a drawing.
pub fn read_figures(folder: &Path) -> Result<Figures, PackError> {
    let mut texts = Texts::new();
    match add(&mut texts, &folder.join("figures"), "figures/", "svg") {
        Err(PackError::Unreadable { kind: io::ErrorKind::NotFound, .. }) => return Ok(Figures::new()),
        read => read?,
    }
    let figures = texts.into_iter().map(|(file, svg)| {
        match file.strip_prefix("figures/").and_then(|it| it.strip_suffix(".svg")) {
            Some(id) if is_drawing(&svg) => Ok((id.to_owned(), svg)),
            _ => Err(PackError::Unreadable { file, kind: io::ErrorKind::InvalidData }),
        }
    });
    figures.collect()
}

/// Lines and shapes only: a sheet is opened in a browser, and a pack may come from anyone.
fn is_drawing(svg: &str) -> bool {
    let svg = svg.trim().to_lowercase();
    svg.starts_with("<svg")
        && svg.ends_with("</svg>")
        && !["<script", "href", "<style", "<foreign", " on", "<!", "<?"].iter().any(|it| svg.contains(it))
}

fn add(texts: &mut Texts, folder: &Path, prefix: &str, extension: &str) -> Result<(), PackError> {
    let unreadable = |name: &str| {
        let file = format!("{prefix}{name}");
        move |error: io::Error| PackError::Unreadable { file, kind: error.kind() }
    };
    for entry in fs::read_dir(folder).map_err(unreadable(""))? {
        let path = entry.map_err(unreadable(""))?.path();
        let Some(name) =
            path.file_name().and_then(|name| name.to_str()).filter(|name| is_of(name, extension))
        else {
            continue;
        };
        texts.insert(format!("{prefix}{name}"), fs::read_to_string(&path).map_err(unreadable(name))?);
    }
    Ok(())
}

/// A file of this kind, and no hidden one such as editors leave.
fn is_of(name: &str, extension: &str) -> bool {
    !name.starts_with('.') && Path::new(name).extension().is_some_and(|other| other == extension)
}
