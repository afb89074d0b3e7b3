//! The files of a pack on disk.

use std::fs;
use std::io;
use std::path::Path;

use super::problem::PackError;
use super::read::Texts;

/// Reads the TOML files of a pack's folder, and of its subfolders `groups` and `taxa`.
///
/// # Errors
/// [`PackError::Unreadable`] if the folder or one of its files cannot be read, or is not UTF-8.
pub fn read_folder(folder: &Path) -> Result<Texts, PackError> {
    let mut texts = Texts::new();
    add(&mut texts, folder, "")?;
    for subfolder in ["groups/", "taxa/"] {
        match add(&mut texts, &folder.join(subfolder), subfolder) {
            Err(PackError::Unreadable { kind: io::ErrorKind::NotFound, .. }) | Ok(()) => {}
            Err(error) => return Err(error),
        }
    }
    Ok(texts)
}

fn add(texts: &mut Texts, folder: &Path, prefix: &str) -> Result<(), PackError> {
    let unreadable = |name: &str| {
        let file = format!("{prefix}{name}");
        move |error: io::Error| PackError::Unreadable { file, kind: error.kind() }
    };
    for entry in fs::read_dir(folder).map_err(unreadable(""))? {
        let path = entry.map_err(unreadable(""))?.path();
        let Some(name) = path.file_name().and_then(|name| name.to_str()).filter(|name| is_toml(name)) else {
            continue;
        };
        texts.insert(format!("{prefix}{name}"), fs::read_to_string(&path).map_err(unreadable(name))?);
    }
    Ok(())
}

/// A TOML file, and no hidden one such as editors leave.
fn is_toml(name: &str) -> bool {
    !name.starts_with('.') && Path::new(name).extension().is_some_and(|extension| extension == "toml")
}
