//! *A find*: everything that is done on its page. Each call answers with the page as it then is.

use std::path::PathBuf;

use trug::find::{Find, Got, How, Sure, Whereabouts};
use trug::id::{DeterminationId, FindId, PhotoId};
use trug::notebook::{NewFind, NewName, NewPhoto};
use trug::patch::Patch;
use trug::photo::Role;
use trug::place::Reference;

use crate::find_page::FindPage;
use crate::shared::{Fix, NameShown};
use crate::{Book, TrugError};

/// A field to set. No value empties it.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct FieldValue {
    /// on, host, ground, habitat, hazards, growth, seen, stages, width, height, measured, signs, taken, grams, specimens, by, note.
    pub field: String,
    /// As text: lists with commas, ranges with a dash, decimals with a point, stages as `button=2, prime=5`.
    pub value: Option<String>,
}

#[uniffi::export]
impl Book {
    /// Begins a find, with its first photo if there is one: the photo stands under the notebook's care when this returns.
    ///
    /// # Errors
    /// A code that begins with `photo-`: then no find is kept, and the file is untouched. `no-room`, `paused`.
    pub fn begin_find(
        &self,
        photo: Option<String>,
        role: String,
        fix: Option<Fix>,
    ) -> Result<FindPage, TrugError> {
        let position = fix.map(Fix::whereabouts).transpose()?;
        let role: Role = role.parse()?;
        let photos = photo.map(|path| NewPhoto { path: PathBuf::from(path), role }).into_iter().collect();
        let find = Find { position, ..Find::default() };
        let added = self.notebook.add_find(NewFind { find, photos })?;
        self.page(added.id, &added.warnings)
    }

    /// The page of a find.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`, `paused`.
    pub fn find_page(&self, id: String) -> Result<FindPage, TrugError> {
        self.page(id.parse()?, &[])
    }

    /// Sets and empties fields, all of them or none.
    ///
    /// # Errors
    /// `field`, with the field and why; then nothing is changed.
    pub fn amend_find(&self, id: String, values: Vec<FieldValue>) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let (mut set, mut empty) = (Find::default(), Vec::new());
        for FieldValue { field, value } in values {
            match value.filter(|value| !value.trim().is_empty()) {
                Some(value) => set.set(&field, &value)?,
                None => empty.push(field),
            }
        }
        self.notebook.amend_find(id, &set, &empty)?;
        let judged = self.notebook.judged(self.pack, id)?;
        // What was said when something was taken is part of the record.
        if set.taken.is_some() || set.specimens.is_some() {
            self.notebook.note_advice(id, &judged.advice)?;
        }
        self.shown(&judged, &[])
    }

    /// Keeps with the advice why it was not heeded, in its owner's words.
    ///
    /// # Errors
    /// `field` for more than a page, `not-found`.
    pub fn say_why(&self, id: String, because: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let judged = self.notebook.judged(self.pack, id)?;
        self.notebook.keep_advice(id, &judged.advice, Some(because))?;
        self.shown(&judged, &[])
    }

    /// Puts a find where a fix says.
    ///
    /// # Errors
    /// `place-latitude`, `place-longitude`, `place-accuracy`, `not-found`.
    pub fn place_find(&self, id: String, fix: Fix) -> Result<FindPage, TrugError> {
        let change = Find { position: Some(fix.whereabouts()?), ..Find::default() };
        let id: FindId = id.parse()?;
        self.notebook.amend_find(id, &change, &[])?;
        self.page(id, &[])
    }

    /// Takes a fix in place of a worse one. A place that somebody typed, or that a photo gave, stays.
    ///
    /// # Errors
    /// As [`Book::place_find`].
    pub fn improve_place(&self, id: String, fix: Fix) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        self.notebook.improve_place(id, fix.position()?)?;
        self.page(id, &[])
    }

    /// Puts a find where a typed reference says: British, Irish or MGRS grid, or degrees.
    ///
    /// # Errors
    /// The codes of places, which say what to type instead.
    pub fn place_find_at(&self, id: String, typed: String) -> Result<FindPage, TrugError> {
        let position = typed.parse::<Reference>()?.position()?;
        let position = Some(Whereabouts { position, got: Got::Typed });
        let change = Find { position, ..Find::default() };
        let id: FindId = id.parse()?;
        self.notebook.amend_find(id, &change, &[])?;
        self.page(id, &[])
    }

    /// Adds a photo to a find; it stands under the notebook's care when this returns.
    ///
    /// # Errors
    /// As [`Book::begin_find`].
    pub fn add_photo(&self, id: String, path: String, role: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let photo = NewPhoto { path: PathBuf::from(path), role: role.parse()? };
        let (_, warnings) = self.notebook.add_photos(id, &[photo])?;
        self.page(id, &warnings)
    }

    /// The find that has this photo already, if one has; asked of a photo that was on its way when the process died.
    ///
    /// # Errors
    /// `paused`, `view`.
    pub fn find_with_photo(&self, path: String) -> Result<Option<String>, TrugError> {
        Ok(self.notebook.find_with_photo(&PathBuf::from(path))?.map(|id| id.to_string()))
    }

    /// Takes a photo off a find. The file stays with the notebook, and undo brings it back.
    ///
    /// # Errors
    /// `not-found`.
    pub fn drop_photo(&self, id: String, photo: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        self.notebook.drop_photo(id, photo.parse::<PhotoId>()?)?;
        self.page(id, &[])
    }

    /// Gives a find a name on somebody's word: on sight, told, from a spore print, under a microscope. Its look-alikes stay
    /// to be checked.
    ///
    /// # Errors
    /// `not-found`, `field`.
    pub fn name_find(
        &self,
        id: String,
        name: String,
        how: String,
        sure: Option<String>,
        who: Option<String>,
    ) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let sure: Option<Sure> = sure.map(|sure| sure.parse()).transpose()?;
        let said = NewName::said(self.pack, &name, how.parse::<How>()?);
        self.notebook.name_find(id, NewName { sure, who, ..said })?;
        self.page(id, &[])
    }

    /// Takes a name back; it stays on record, marked so.
    ///
    /// # Errors
    /// `not-found`.
    pub fn withdraw_name(&self, id: String, naming: String) -> Result<FindPage, TrugError> {
        self.notebook.withdraw_name(naming.parse::<DeterminationId>()?)?;
        self.page(id.parse()?, &[])
    }

    /// Puts a find to a patch.
    ///
    /// # Errors
    /// `not-found`.
    pub fn join_patch(&self, id: String, patch: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let change = Find { patch: Some(patch.parse()?), ..Find::default() };
        self.notebook.amend_find(id, &change, &[])?;
        self.page(id, &[])
    }

    /// Founds a patch on a find, which then belongs to it; of its kind, if its name is settled.
    ///
    /// # Errors
    /// `field` for a name too long, `not-found`.
    pub fn found_patch(&self, id: String, name: Option<String>) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        let patch = Patch { name, ..Patch::default() };
        self.notebook.found_patch(self.pack, id, &patch)?;
        self.page(id, &[])
    }

    /// Takes back the last thing done to a find that still stands.
    ///
    /// # Errors
    /// `nothing-to-undo`.
    pub fn undo(&self, id: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        self.notebook.undo_find(id)?;
        self.page(id, &[])
    }

    /// Marks a find as deleted; undo brings it back.
    ///
    /// # Errors
    /// `not-found`.
    pub fn delete_find(&self, id: String) -> Result<FindPage, TrugError> {
        let id: FindId = id.parse()?;
        self.notebook.delete_find(id)?;
        self.page(id, &[])
    }

    /// The taxa and groups whose names fit what was typed, the likeliest first, at most so many.
    ///
    /// # Errors
    /// None in practice.
    pub fn names(&self, typed: String, most: u32) -> Result<Vec<NameShown>, TrugError> {
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        Ok(self.pack.search(&typed, most).into_iter().map(NameShown::from).collect())
    }
}
