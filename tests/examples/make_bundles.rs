//! Makes the bundles that the phones' tests open: `cargo run -p trug-tests --example make_bundles -- FOLDER`.
//!
//! All of it is invented. Tests go on reading what an earlier version wrote, so they are made anew only where they have to hold more.

use std::error::Error;
use std::path::{Path, PathBuf};

use trug::export::Terms;
use trug::find::{Count, Find, Got, Growth, How, Substrate, Sure, Whereabouts};
use trug::id::FindId;
use trug::notebook::{NewFind, NewName, NewPhoto, Notebook, Sending};
use trug::pack::Pack;
use trug::photo::Role;
use trug::place::Position;
use trug::progress::Unwatched;
use trug::seal::{Passphrase, To};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1).map(PathBuf::from).ok_or("give a folder")?;
    let scratch = tempfile::tempdir()?;
    let notebook = Notebook::open(&scratch.path().join("notebook"))?;
    let elder = find(&notebook, "by the bent elder, Harrow Shaw (invented)", "jelly-ear", scratch.path())?;
    find(&notebook, "along the lower ride, Lidgate Hanger (invented)", "velvet-shank", scratch.path())?;
    let pack = Pack::britain()?;
    let write = |name: &str, sending: &Sending, seal: Option<To<'_>>| {
        notebook.write_bundle(pack, sending, seal, &folder.join(name), true, &Unwatched)
    };
    let copies = |name: Option<&str>, notes| Sending::ForSomeone {
        finds: None,
        terms: Terms { name: name.map(str::to_owned), notes, ..Terms::default() },
        recipient: None,
        photos: true,
    };
    write("copies.zip", &copies(Some("R. Invented"), true), None)?;
    write("nameless.zip", &copies(None, false), None)?;
    write("notebook.zip", &Sending::ForMe, None)?;
    let passphrase = Passphrase::new("three dry words")?;
    write("notebook.zip.age", &Sending::ForMe, Some(To::Passphrase(&passphrase)))?;
    notebook.delete_find(elder)?;
    write("later.zip", &Sending::ForMe, None)?;
    Ok(())
}

/// A find with a name, a place and a photo.
fn find(notebook: &Notebook, note: &str, taxon: &str, scratch: &Path) -> Result<FindId, Box<dyn Error>> {
    let picture = scratch.join(format!("{taxon}.png"));
    trug_tests::draw(&picture)?;
    let find = Find {
        position: Some(Whereabouts { position: Position::new(51.5, -1.5)?, got: Got::Map }),
        on: Some(Substrate::FallenTrunk),
        growth: Some(Growth::Scattered),
        seen: Count::between(4, 6).ok(),
        taken: Some(2),
        note: Some(note.to_owned()),
        ..Find::default()
    };
    let photos = vec![NewPhoto { path: picture, role: Role::Whole }];
    let id = notebook.add_find(NewFind { find, photos })?.id;
    let sure = Some(Sure::Sure);
    notebook.name_find(
        id,
        NewName { taxon: Some(taxon.to_owned()), how: Some(How::Sight), sure, ..NewName::default() },
    )?;
    Ok(id)
}
