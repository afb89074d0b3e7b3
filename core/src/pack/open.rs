//! Having a pack: from a folder, from texts, or the one built into the library.

use std::path::Path;
use std::sync::LazyLock;

use super::folder::read_folder;
use super::model::Pack;
use super::problem::PackError;
use super::read::{Figures, Texts, read};

/// The Britain pack as the build script left it.
static BRITAIN: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/britain.pack"));

/// Its line figures.
static FIGURES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/britain.figures"));

/// The line figures of the pack of Britain, built into the library. Decoded once, at first use.
///
/// # Errors
/// [`PackError::Damaged`] if the bytes do not decode, which no sound build does.
pub fn britain_figures() -> Result<&'static Figures, PackError> {
    static DECODED: LazyLock<Option<Figures>> = LazyLock::new(|| postcard::from_bytes(FIGURES).ok());
    DECODED.as_ref().ok_or(PackError::Damaged)
}

impl Pack {
    /// Opens the pack in a folder.
    ///
    /// # Errors
    /// [`PackError::Unreadable`] if its files cannot be read, [`PackError::Broken`] with all that is wrong in them.
    pub fn open(folder: &Path) -> Result<Self, PackError> {
        Self::from_texts(&read_folder(folder)?)
    }

    /// Makes a pack of the texts of its files.
    ///
    /// # Errors
    /// [`PackError::Broken`] with all that is wrong in them.
    pub fn from_texts(texts: &Texts) -> Result<Self, PackError> {
        let reading = read(texts);
        if reading.problems.is_empty() { Ok(reading.pack) } else { Err(PackError::Broken(reading.problems)) }
    }

    /// The pack of Britain, built into the library. Decoded once, at first use.
    ///
    /// # Errors
    /// [`PackError::Damaged`] if the bytes do not decode, which no sound build does.
    pub fn britain() -> Result<&'static Self, PackError> {
        static PACK: LazyLock<Option<Pack>> = LazyLock::new(|| postcard::from_bytes(BRITAIN).ok());
        PACK.as_ref().ok_or(PackError::Damaged)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_built_in_pack_is_the_one_in_the_folder() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("packs/britain");
        assert_eq!(Pack::britain().unwrap(), &read(&read_folder(&folder).unwrap()).pack);
    }
}
