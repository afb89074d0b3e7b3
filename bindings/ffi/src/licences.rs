//! What Trug is built from besides its own: every library in it, and the licence that it is used under. Offline, and without a notebook.
//!
//! `licences/collect` writes the list of crates; a test holds it against what cargo says that the library is made of.

use trug::error::Error;

use crate::TrugError;

/// Name, version, licence, whose it is.
const CRATES: &str = include_str!("../licences/libraries.tsv");
/// The same of what is no crate, and in which app it is: `all`, or `android`.
const FURTHER: &str = include_str!("../licences/further.tsv");

macro_rules! texts {
    ($($id:literal),+ $(,)?) => {
        [$(($id, include_str!(concat!("../licences/texts/", $id, ".txt")))),+]
    };
}

/// The text of each licence by its SPDX name.
const TEXTS: [(&str, &str); 8] = texts![
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "MPL-2.0",
    "Unicode-3.0",
    "Zlib",
    "blessing",
];

/// A licence, and how much is used under it.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LicenceShown {
    /// Its SPDX name.
    pub id: String,
    /// How many libraries.
    pub libraries: u32,
}

/// A licence with its text.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LicencePage {
    /// Its SPDX name.
    pub id: String,
    /// Its text, paragraphs parted by an empty line.
    pub text: String,
    /// What is used under it, by name.
    pub libraries: Vec<LibraryUsed>,
}

/// A library.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct LibraryUsed {
    /// Its name.
    pub name: String,
    /// Its version; empty where it comes with something else.
    pub version: String,
    /// Whose it is, as its licence says.
    pub whose: String,
}

/// What is used under a licence in an app.
fn used(app: &str, licence: &str) -> Vec<LibraryUsed> {
    let mut found: Vec<LibraryUsed> = CRATES
        .lines()
        .chain(FURTHER.lines())
        .filter_map(|line| {
            let mut columns = line.split('\t');
            let (name, version) = (columns.next()?, columns.next()?);
            let (under, whose) = (columns.next()?, columns.next()?);
            let within = columns.next().is_none_or(|within| within == "all" || within == app);
            let library = || LibraryUsed { name: name.into(), version: version.into(), whose: whose.into() };
            (under == licence && within).then(library)
        })
        .collect();
    found.sort_by_cached_key(|library| library.name.to_lowercase());
    found
}

/// The licences of everything in an app, `android` or `apple`; the one that most is under comes first.
///
/// # Errors
/// None in practice.
#[uniffi::export]
pub fn licences(app: String) -> Result<Vec<LicenceShown>, TrugError> {
    let count = |id: &str| u32::try_from(used(&app, id).len()).unwrap_or(u32::MAX);
    let shown = TEXTS.iter().map(|(id, _)| LicenceShown { id: (*id).to_owned(), libraries: count(id) });
    let mut all: Vec<LicenceShown> = shown.filter(|one| one.libraries > 0).collect();
    all.sort_by_key(|one| std::cmp::Reverse(one.libraries));
    Ok(all)
}

/// One licence, with its text and what is used under it.
///
/// # Errors
/// `not-found` for a name that is none of them.
#[uniffi::export]
pub fn licence_page(app: String, id: String) -> Result<LicencePage, TrugError> {
    let text = TEXTS.iter().find(|(known, _)| *known == id);
    let (_, text) = text.ok_or(Error::NotFound { what: "licence" })?;
    Ok(LicencePage { libraries: used(&app, &id), text: (*text).trim_end().to_owned(), id })
}
