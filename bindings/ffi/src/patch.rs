//! *A patch*: everything that is done on its page.

use trug::id::PatchId;
use trug::patch::{Outcome, Patch, Visit};
use trug::place::Reference;

use crate::find::FieldValue;
use crate::ill::At;
use crate::patches::PatchLine;
use crate::shared::Fix;
use crate::{Book, TrugError};

/// A patch as somebody founds it by hand.
#[derive(Debug, Clone, Default, PartialEq, uniffi::Record)]
pub struct PatchNoted {
    /// What to call it.
    pub name: Option<String>,
    /// What is looked for there: an id of the pack, or a name that no pack knows.
    pub kind: Option<String>,
    /// How far it reaches from its middle, in metres, up to 500; none for the usual.
    pub reach_m: Option<f64>,
    /// Its middle, as the phone's fix says.
    pub here: Option<Fix>,
    /// Its middle, as a typed reference says: British, Irish or MGRS grid, or degrees. Goes before the fix.
    pub typed: Option<String>,
}

/// A look at a patch, as somebody notes it afterwards.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LookNoted {
    /// What came of it: nothing, seen, taken.
    pub outcome: String,
    /// When; none for now.
    pub at: Option<At>,
    /// Who looked, if not the owner.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

#[uniffi::export]
impl Book {
    /// Founds a patch by hand; answers its id.
    ///
    /// # Errors
    /// `field`; `place-latitude`, `place-longitude`, `place-accuracy`; for what was typed the codes of places.
    pub fn add_patch(&self, patch: PatchNoted) -> Result<String, TrugError> {
        let PatchNoted { name, kind, reach_m, here, typed } = patch;
        let centre = match said(typed) {
            Some(typed) => Some(typed.parse::<Reference>()?.position()?),
            None => here.map(Fix::position).transpose()?,
        };
        let mut patch = Patch { name: said(name), taxon: said(kind), centre, ..Patch::default() };
        if let Some(metres) = reach_m {
            patch.set("radius", &metres.to_string())?;
        }
        Ok(self.notebook.add_patch(&patch)?.id.to_string())
    }

    /// Sets and empties fields of a patch, all of them or none: name, radius (metres), host, on, taxon, note.
    ///
    /// # Errors
    /// `field`, with the field and why; `not-found`. Then nothing is changed.
    pub fn amend_patch(&self, id: String, values: Vec<FieldValue>) -> Result<(), TrugError> {
        let (mut set, mut empty) = (Patch::default(), Vec::new());
        for FieldValue { field, value } in values {
            match said(value) {
                Some(value) => set.set(&field, &value)?,
                None => empty.push(field),
            }
        }
        self.notebook.amend_patch(id.parse()?, &set, &empty)?;
        Ok(())
    }

    /// Puts the middle of a patch where a fix says.
    ///
    /// # Errors
    /// `place-latitude`, `place-longitude`, `place-accuracy`, `not-found`.
    pub fn place_patch(&self, id: String, fix: Fix) -> Result<(), TrugError> {
        let change = Patch { centre: Some(fix.position()?), ..Patch::default() };
        self.notebook.amend_patch(id.parse()?, &change, &[])?;
        Ok(())
    }

    /// Puts the middle of a patch where a typed reference says: British, Irish or MGRS grid, or degrees.
    ///
    /// # Errors
    /// The codes of places, which say what to type instead; `not-found`.
    pub fn place_patch_at(&self, id: String, typed: String) -> Result<(), TrugError> {
        let centre = Some(typed.parse::<Reference>()?.position()?);
        self.notebook.amend_patch(id.parse()?, &Patch { centre, ..Patch::default() }, &[])?;
        Ok(())
    }

    /// Notes a look at a patch, made here and now: nothing, seen, or taken. Answers whether that is news: what was noted already
    /// on this outing, or without one on this day, is not noted again.
    ///
    /// # Errors
    /// `not-found`, `field`.
    pub fn look_at_patch(&self, patch: String, outcome: String) -> Result<bool, TrugError> {
        Ok(self.notebook.look_once(patch.parse()?, outcome.parse()?)?.is_some())
    }

    /// Notes a look at a patch afterwards, or with words to it.
    ///
    /// # Errors
    /// `not-found`, `field`.
    pub fn note_look(&self, patch: String, look: LookNoted) -> Result<(), TrugError> {
        let LookNoted { outcome, at, by, note } = look;
        let visit = Visit {
            patch: Some(patch.parse()?),
            outcome: Some(outcome.parse::<Outcome>()?),
            at: at.map(At::moment).transpose()?,
            by: said(by),
            note: said(note),
            ..Visit::default()
        };
        self.notebook.add_visit(visit)?;
        Ok(())
    }

    /// Lets a patch rest for so many days from today, or ends its rest. Answers the first day on which it may be gathered from
    /// again.
    ///
    /// # Errors
    /// `not-found`, `field`.
    pub fn rest_patch(&self, patch: String, days: Option<u32>) -> Result<Option<String>, TrugError> {
        let record = self.notebook.rest_patch(patch.parse()?, days)?;
        Ok(record.patch.value.rests_until.map(|day| day.to_string()))
    }

    /// The patches that this one may turn out to be one with, the nearest first, seen from its middle.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`.
    pub fn merge_choices(&self, id: String) -> Result<Vec<PatchLine>, TrugError> {
        let now = self.notebook.now();
        let choices = self.notebook.merge_choices(id.parse()?)?;
        Ok(choices.iter().map(|one| self.patch_line(one, now)).collect())
    }

    /// Makes one patch of two; answers the id of the one that stands for both.
    ///
    /// # Errors
    /// `field` if they are one already or too far apart; `not-found`, `not-an-id`.
    pub fn merge_patches(&self, merged: String, into: String) -> Result<String, TrugError> {
        Ok(self.notebook.merge_patches(merged.parse::<PatchId>()?, into.parse()?)?.id.to_string())
    }

    /// Takes back the last thing done to a patch that still stands.
    ///
    /// # Errors
    /// `nothing-to-undo`, `not-found`.
    pub fn undo_patch(&self, id: String) -> Result<(), TrugError> {
        self.notebook.undo_patch(id.parse()?)?;
        Ok(())
    }

    /// Marks a patch as deleted, and with it those that were merged into it. Its finds stay, and undo brings it back.
    ///
    /// # Errors
    /// `not-found`.
    pub fn delete_patch(&self, id: String) -> Result<(), TrugError> {
        self.notebook.delete_patch(id.parse()?)?;
        Ok(())
    }
}

/// Words, unless they are none.
fn said(words: Option<String>) -> Option<String> {
    words.map(|words| words.trim().to_owned()).filter(|words| !words.is_empty())
}
