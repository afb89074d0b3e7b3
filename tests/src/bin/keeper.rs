//! Keeps finds with photos, one after the other, and prints each only when it has been acknowledged: `keeper FOLDER COUNT`.
//!
//! Run to be killed, traced and starved of room; it stops with exit code 3 at the first refusal, saying its code on stderr.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use trug::error::Error;
use trug::find::{Count, Find, How};
use trug::notebook::{NewFind, NewName, NewPhoto, Notebook};
use trug::photo::Role;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let folder = arguments.next().map(PathBuf::from).unwrap_or_default();
    let count = arguments.next().and_then(|n| n.to_str()?.parse().ok()).unwrap_or(u32::MAX);
    match keep(&folder, count) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{}", error.code());
            ExitCode::from(3)
        }
    }
}

fn keep(folder: &Path, count: u32) -> Result<(), Error> {
    let notebook = Notebook::open(folder)?;
    let pictures = folder.with_extension("pictures");
    for n in 0..count {
        let path = pictures.join(format!("{}.png", uuid::Uuid::now_v7()));
        if trug_tests::draw(&path).is_err() {
            return Err(Error::NoRoom);
        }
        let find = Find { seen: Count::exactly(n % 50).ok(), note: Some("n".repeat(200)), ..Find::default() };
        let photos = vec![NewPhoto { path: path.clone(), role: Role::Whole }];
        let added = notebook.add_find(NewFind { find, photos })?;
        for photo in added.photos {
            println!("kept {} {}", added.id, photo.sha256);
        }
        let _ = std::io::stdout().flush();
        let _ = std::fs::remove_file(&path);
        if n % 3 == 0 {
            notebook.amend_find(added.id, &Find { taken: Some(0), ..Find::default() }, &[])?;
            let name =
                NewName { taxon: Some("jelly-ear".into()), how: Some(How::Sight), ..NewName::default() };
            notebook.name_find(added.id, name)?;
        }
    }
    Ok(())
}
