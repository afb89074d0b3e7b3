//! How a kept find stands: what it goes by, in what condition it is, what may be taken.

use super::advise::known_taxon;
use super::{FindRecord, Notebook, Question};
use crate::allowance::{Advice, GoesBy, goes_by};
use crate::condition::{Judgement, Observed, judge, strange_signs};
use crate::error::Error;
use crate::id::FindId;
use crate::pack::{Pack, TaxonIndex};

/// A kept find, judged by all that is on record.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The find.
    pub record: FindRecord,
    /// What it goes by.
    pub goes_by: GoesBy,
    /// The taxon that this is, or for a group its first member; `None` if the pack does not know it.
    pub taxon: Option<TaxonIndex>,
    /// What may be taken.
    pub advice: Advice,
    /// Its condition; `None` if nobody knows of what.
    pub condition: Option<Judgement>,
    /// Signs on record that this taxon never shows. While there are any, its age counts as not known.
    pub strange_signs: Vec<String>,
}

impl Judged {
    /// Whether what was taken keeps to the advice; `None` if nothing is noted of taking.
    #[must_use]
    pub fn is_followed(&self) -> Option<bool> {
        let find = &self.record.find.value;
        let (taken, specimens) = (find.taken, find.specimens.unwrap_or(0));
        let taken = taken.or((specimens > 0).then_some(0))?;
        Some(self.advice.is_followed_by(taken, specimens))
    }
}

impl Question {
    /// The question that a kept find puts.
    #[must_use]
    pub fn of_kept(pack: &Pack, kept: &FindRecord) -> Self {
        let named = goes_by(pack, kept.determinations.iter().map(|one| &one.determination.value));
        Self {
            find: kept.find.value.clone(),
            is_kept: true,
            named_on_record: named.name.clone(),
            taxon: named.name,
            how: named.how,
            ..Self::default()
        }
    }
}

impl Notebook {
    /// How a kept find stands.
    ///
    /// # Errors
    /// [`Error::NotFound`]; otherwise as [`Notebook::advise`].
    pub fn judged(&self, pack: &Pack, id: FindId) -> Result<Judged, Error> {
        let record = self.find(id)?;
        let mut question = Question::of_kept(pack, &record);
        let goes_by = GoesBy { name: question.taxon.clone(), how: question.how };
        let taxon = goes_by.name.as_deref().and_then(|name| known_taxon(pack, name));
        let noted = question.find.signs.as_deref().unwrap_or_default();
        let strange = taxon.map(|taxon| strange_signs(pack, taxon, noted)).unwrap_or_default();
        if !strange.is_empty() {
            // What was noted does not go with the name: then neither says how old they are.
            question.find.signs = None;
            question.find.stages = None;
        }
        let observed = Observed::from(&question.find);
        let condition = taxon.map(|taxon| judge(pack, taxon, &observed)).transpose()?;
        let advice = self.advise(pack, &question)?;
        Ok(Judged { record, goes_by, taxon, advice, condition, strange_signs: strange })
    }

    /// Keeps the advice with its find, unless what was last kept says the same.
    ///
    /// # Errors
    /// As [`Notebook::keep_advice`].
    pub fn note_advice(&self, find: FindId, advice: &Advice) -> Result<(), Error> {
        let last = self.advice_given(find)?.pop().and_then(|given| given.advice());
        let same = |last: Advice| (last.answer, last.headline) == (advice.answer, advice.headline.clone());
        if last.is_some_and(same) { Ok(()) } else { self.keep_advice(find, advice, None) }
    }
}
