//! Which signs a taxon or a form shows, and what each of them says there.

use crate::pack::{Handling, OwnSign, Pack, Sign, SignIndex, Sources, Span, StateIndex, Taxon, TaxonIndex};

use super::error::SignError;

/// A sign as it holds for one taxon or one form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaxonSign<'a> {
    /// Its position in the pack.
    pub at: SignIndex,
    /// Its id.
    pub id: &'a str,
    /// What is seen.
    pub text: &'a str,
    /// What it says.
    pub span: Span,
    /// What it costs to look.
    pub handling: Handling,
    /// Why it says something else here than elsewhere.
    pub note: Option<&'a str>,
    /// Whether the taxon has words of its own for it.
    pub own: bool,
    /// Who says so.
    pub sources: &'a Sources,
}

impl<'a> TaxonSign<'a> {
    fn usual(at: SignIndex, sign: &'a Sign) -> Self {
        Self {
            at,
            id: &sign.id,
            text: &sign.text,
            span: sign.span,
            handling: sign.handling,
            note: None,
            own: false,
            sources: &sign.sources,
        }
    }

    fn own(at: SignIndex, sign: &'a Sign, own: &'a OwnSign) -> Self {
        Self {
            text: own.text.as_deref().unwrap_or(&sign.text),
            span: own.span,
            note: own.note.as_deref(),
            own: true,
            sources: &own.sources,
            ..Self::usual(at, sign)
        }
    }
}

/// The signs that a taxon can show: those of its forms, and those that only it shows.
#[must_use]
pub fn signs_of(pack: &Pack, taxon: TaxonIndex) -> Vec<TaxonSign<'_>> {
    let own = pack.taxon(taxon).and_then(|taxon| taxon.maturity.as_ref()).map_or(&[][..], |it| &it.signs);
    let all = pack.sign_indices().zip(pack.signs()).filter_map(|(at, sign)| {
        match own.iter().find(|own| own.sign == at) {
            Some(own) => Some(TaxonSign::own(at, sign, own)),
            None => pack.shows(taxon, sign).then(|| TaxonSign::usual(at, sign)),
        }
    });
    all.collect()
}

/// All signs of a pack, as they hold in general.
#[must_use]
pub fn all_signs(pack: &Pack) -> Vec<TaxonSign<'_>> {
    pack.sign_indices().zip(pack.signs()).map(|(at, sign)| TaxonSign::usual(at, sign)).collect()
}

/// The signs that fungi of one form show.
#[must_use]
pub fn signs_of_form(pack: &Pack, form: StateIndex) -> Vec<TaxonSign<'_>> {
    let all = pack.sign_indices().zip(pack.signs()).filter(|(_, sign)| sign.forms.contains(&form));
    all.map(|(at, sign)| TaxonSign::usual(at, sign)).collect()
}

/// The signs to offer where nobody knows yet what it is: those that at least half of all forms show.
#[must_use]
pub fn common_signs(pack: &Pack) -> Vec<TaxonSign<'_>> {
    let half = pack.lives().len().div_ceil(2);
    let all = pack.sign_indices().zip(pack.signs()).filter(|(_, sign)| sign.forms.len() >= half);
    all.map(|(at, sign)| TaxonSign::usual(at, sign)).collect()
}

/// Those of the signs noted that this taxon never shows: they were noted of something else, or the name is wrong.
#[must_use]
pub fn strange_signs(pack: &Pack, taxon: TaxonIndex, ids: &[String]) -> Vec<String> {
    let known = signs_of(pack, taxon);
    ids.iter().filter(|id| known.iter().all(|sign| sign.id != **id)).cloned().collect()
}

/// A form by its id: `gilled`.
#[must_use]
pub fn form_named(pack: &Pack, id: &str) -> Option<StateIndex> {
    pack.character(pack.form_character()?)?.state_by_id(id.trim())
}

/// The signs seen, each once and in the order of the pack.
///
/// # Errors
/// [`SignError`] for the first that this taxon does not show.
pub(super) fn seen<'a>(
    pack: &Pack,
    taxon: TaxonIndex,
    known: &[TaxonSign<'a>],
    ids: &[String],
) -> Result<Vec<TaxonSign<'a>>, SignError> {
    let mut all = Vec::with_capacity(ids.len());
    for id in ids {
        match known.iter().find(|sign| sign.id == id) {
            Some(sign) => all.push(*sign),
            None => return Err(refusal(pack, taxon, known, id)),
        }
    }
    all.sort_by_key(|sign| sign.at);
    all.dedup_by_key(|sign| sign.at);
    Ok(all)
}

fn refusal(pack: &Pack, taxon: TaxonIndex, known: &[TaxonSign<'_>], id: &str) -> SignError {
    let Some(at) = pack.sign_by_id(id) else {
        // What this taxon shows is likelier meant than what another does.
        let own = pack.sign_meant(id, known.iter().map(|sign| sign.at));
        let any = pack.sign_meant(id, pack.sign_indices());
        let hint = [own, any].into_iter().find(|hint| !hint.is_empty());
        let hint = hint.unwrap_or_else(|| ": look among the signs of this taxon".to_owned());
        return SignError::Unknown { id: id.to_owned(), hint };
    };
    let english = |taxon: &Taxon| taxon.english.first().unwrap_or(&taxon.latin).to_lowercase();
    let forms = pack.sign(at).map_or(&[][..], |sign| &sign.forms);
    let own_forms = pack.forms_of(taxon);
    let name = pack.taxon(taxon).map(english).unwrap_or_default();
    if forms.iter().any(|form| own_forms.contains(form)) {
        return SignError::NotShown { id: id.to_owned(), taxon: name };
    }
    let of = if forms.is_empty() {
        owners(pack, at).map(english).collect::<Vec<_>>().join(", ")
    } else {
        format!("the form {}", ids(pack, forms))
    };
    SignError::OtherForm { id: id.to_owned(), of, taxon: name, form: ids(pack, &own_forms) }
}

/// `gilled, pored or folded`.
fn ids(pack: &Pack, forms: &[StateIndex]) -> String {
    let ids: Vec<&str> = forms.iter().map(|form| pack.form_id(*form)).collect();
    match ids.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => "of no form".to_owned(),
    }
}

/// The taxa that have words of their own for a sign.
fn owners(pack: &Pack, sign: SignIndex) -> impl Iterator<Item = &Taxon> {
    pack.taxa().iter().filter(move |taxon| {
        taxon.maturity.as_ref().is_some_and(|maturity| maturity.signs.iter().any(|own| own.sign == sign))
    })
}
