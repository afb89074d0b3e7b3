//! Where the knowledge comes from: every source, and what it is used for.

use trug::code;
use trug::pack::Pack;

use crate::TrugError;

/// What Trug knows, and by whom.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct KnowledgePage {
    /// Title of the pack.
    pub title: String,
    /// Its version.
    pub version: String,
    /// Where it holds.
    pub region: String,
    /// What its authors say of it.
    pub notes: Vec<String>,
    /// Published sources, by their citation.
    pub published: Vec<SourceShown>,
    /// What is no publication: common practice, memory, contrasts that follow from other statements.
    pub unpublished: Vec<SourceShown>,
    /// Where the codes of gathering stand, each with its title.
    pub codes: Vec<SourceShown>,
}

/// One source.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SourceShown {
    /// The full citation.
    pub citation: String,
    /// What it is used for: fungi and groups by name, signs of age, or a code's title.
    pub used_for: Vec<String>,
}

/// What Trug knows, and where it comes from. Needs no notebook.
///
/// # Errors
/// `pack-damaged`, `code-broken`.
#[uniffi::export]
pub fn knowledge() -> Result<KnowledgePage, TrugError> {
    let pack = Pack::britain()?;
    let used = pack.cited_for().into_iter().map(|cited| cited.in_words(pack));
    let (published, unpublished): (Vec<_>, Vec<_>) =
        pack.sources().iter().zip(used).partition(|(source, _)| source.published);
    let shown = |sources: Vec<(&trug::pack::Source, Vec<String>)>| {
        let of = |(source, used_for): (&trug::pack::Source, _)| SourceShown {
            citation: source.citation.clone(),
            used_for,
        };
        let mut all: Vec<SourceShown> = sources.into_iter().map(of).collect();
        all.sort_by_cached_key(|one| one.citation.to_lowercase());
        all
    };
    let of_code = |code: &code::Code| SourceShown {
        citation: code.about.source.clone(),
        used_for: vec![code.about.title.clone()],
    };
    let about = pack.about();
    Ok(KnowledgePage {
        title: about.title.clone(),
        version: about.version.clone(),
        region: about.region.clone(),
        notes: about.notes.clone(),
        published: shown(published),
        unpublished: shown(unpublished),
        codes: code::shipped()?.iter().map(of_code).collect(),
    })
}
