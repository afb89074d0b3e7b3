//! Photos under the notebook's care that no find owns: left by a find that was never finished.

use std::path::PathBuf;

use trug::find::Find;
use trug::id::FindId;
use trug::notebook::NewFind;
use trug::photo::{PhotoHash, Role};

use crate::find_page::FindPage;
use crate::{Book, TrugError};

/// A photo that no find owns.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct UnownedPhoto {
    /// Its hash, by which it is adopted.
    pub hash: String,
    /// The file.
    pub path: Option<String>,
    /// Its small picture; none if there can be none.
    pub thumbnail: Option<String>,
}

#[uniffi::export]
impl Book {
    /// The photos that no find owns.
    ///
    /// # Errors
    /// `paused`, `view`, `photo-shelf-failed`.
    pub fn unowned_photos(&self) -> Result<Vec<UnownedPhoto>, TrugError> {
        let stored = self.notebook.shelf();
        let text = |path: PathBuf| path.to_string_lossy().into_owned();
        let unowned = self.notebook.unowned_photos()?.into_iter().map(|hash| UnownedPhoto {
            hash: hash.to_string(),
            path: stored.path(&hash).map(text),
            thumbnail: stored.thumbnail(&hash).ok().flatten().map(text),
        });
        Ok(unowned.collect())
    }

    /// Ties a photo that no find owns to a find, or to a new one.
    ///
    /// # Errors
    /// `not-found`, `field`.
    pub fn adopt_photo(
        &self,
        find: Option<String>,
        hash: String,
        role: String,
    ) -> Result<FindPage, TrugError> {
        let (hash, role): (PhotoHash, Role) = (hash.parse()?, role.parse()?);
        let id: FindId = match find {
            Some(find) => find.parse()?,
            None => self.notebook.add_find(NewFind { find: Find::default(), photos: Vec::new() })?.id,
        };
        self.notebook.adopt_photo(id, hash, role)?;
        self.page(id, &[])
    }
}
