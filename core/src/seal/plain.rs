//! Files that may be sealed or not, opened either way.

use std::fs::File;
use std::io::{Read, Seek};

use super::{Identity, Passphrase, SealError, With, is_sealed, unseal};

/// How much of a file tells whether it is sealed.
const BEGINNING: u64 = 1024;

/// Something that can be read and gone back in.
pub trait Plain: Read + Seek {}

impl<T: Read + Seek> Plain for T {}

/// The plain bytes of a file, the seal aside if it has one. It is opened with the passphrase, if there is one, or else with the
/// notebook's own key, which is asked for only then.
///
/// # Errors
/// [`SealError`], or whatever `identity` says.
pub fn plain<E: From<SealError>>(
    mut file: File,
    passphrase: Option<&Passphrase>,
    identity: impl FnOnce() -> Result<Identity, E>,
) -> Result<Box<dyn Plain>, E> {
    let mut beginning = Vec::new();
    let read = (&mut file).take(BEGINNING).read_to_end(&mut beginning).and_then(|_| file.rewind());
    read.map_err(SealError::Disk)?;
    Ok(match (is_sealed(&beginning), passphrase) {
        (false, _) => Box::new(file),
        (true, Some(passphrase)) => Box::new(unseal(file, With::Passphrase(passphrase))?),
        (true, None) => Box::new(unseal(file, With::Identity(&identity()?))?),
    })
}
