//! Search: the kinds, patches and finds that go with some words, however those are spelt.

use std::collections::{BTreeMap, BTreeSet};

use super::finds::whole;
use super::passage::passage;
use super::patches::standing;
use super::record::Kept;
use super::today::named;
use super::{FindRecord, Notebook, PatchRecord, kind};
use crate::allowance::GoesBy;
use crate::error::Error;
use crate::id::{FindId, PatchId};
use crate::outing::Outing;
use crate::pack::{self, Pack};
use crate::place::{Position, bearing, distance};
use crate::spelling::{self, Fit};
use crate::store::{StoreError, Term, View, Wanted};
use crate::units::Metres;

/// How many words that are nearly as typed are looked for: beyond these, it was not misspelt but is too short to tell.
const NEAR_WORDS: usize = 48;

/// How many of each are shown at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Kinds.
    pub kinds: usize,
    /// Patches.
    pub patches: usize,
    /// Finds.
    pub finds: usize,
}

/// The first of something.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed<T> {
    /// Those that are shown.
    pub shown: Vec<T>,
    /// How many more there are. Those that are only nearly as asked for are not counted where there is no room for them.
    pub more: usize,
}

/// What goes with some words.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// What the pack knows, the likeliest first.
    pub kinds: Listed<pack::Named>,
    /// Patches, those that fit best first; then the nearest, or by name where nobody knows from where.
    pub patches: Listed<FoundPatch>,
    /// Finds, those that fit best first; then the newest.
    pub finds: Listed<FoundFind>,
    /// If nothing was found: what may have been meant, which finds something.
    pub instead: Option<String>,
}

/// What is on record of a kind.
#[derive(Debug, Clone, PartialEq)]
pub struct OfKind {
    /// Patches where it is looked for.
    pub patches: Listed<FoundPatch>,
    /// Finds that somebody has given its name, the newest first.
    pub finds: Listed<FoundFind>,
}

/// A patch that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundPatch {
    /// The patch.
    pub record: PatchRecord,
    /// How well it fits.
    pub fit: Fit,
    /// How far its middle is from here, if both are known.
    pub distance: Option<Metres>,
    /// Which way, in degrees clockwise from true north; `None` also if it is here.
    pub bearing: Option<f64>,
}

/// A find that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundFind {
    /// The find.
    pub record: FindRecord,
    /// What it goes by.
    pub goes_by: GoesBy,
    /// How well it fits.
    pub fit: Fit,
    /// Where its outing went, in its owner's words.
    pub outing: Option<String>,
    /// The name of the patch that it belongs to.
    pub patch: Option<String>,
    /// The passage of its note that is asked for, if one is.
    pub passage: Option<String>,
}

impl Found {
    fn is_empty(&self) -> bool {
        self.kinds.shown.is_empty() && self.patches.shown.is_empty() && self.finds.shown.is_empty()
    }
}

impl Notebook {
    /// What goes with all of some words: kinds by their names; patches by their name, kind, tree and notes; finds by the names given to
    /// them, where their outing went, their patch, what they grow on, the day, and whatever was noted. Whole words go before beginnings
    /// of words, and those before what is nearly so.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn search(
        &self,
        pack: &Pack,
        words: &str,
        here: Option<Position>,
        limits: &Limits,
    ) -> Result<Found, Error> {
        self.read(|view| {
            let mut found = search(view, pack, words, here, limits)?;
            if found.is_empty() {
                found.instead = instead(view, pack, words)?;
            }
            Ok(found)
        })
    }

    /// What is on record of a taxon or group, by its id or any of its names.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn of_kind(
        &self,
        pack: &Pack,
        name: &str,
        here: Option<Position>,
        limits: &Limits,
    ) -> Result<OfKind, Error> {
        let wanted = Wanted { words: Vec::new(), or: names(pack.called(name)).collect() };
        self.read(|view| {
            let finds = view.finds_saying(&wanted)?.into_iter().map(|hit| (hit.find, Fit::Whole)).collect();
            let patches = view.patches_saying(&wanted)?.into_iter().map(|id| (id, Fit::Whole)).collect();
            Ok(OfKind {
                finds: list_finds(view, pack, finds, &[], limits.finds)?,
                patches: list_patches(view, patches, here, limits.patches)?,
            })
        })
    }
}

fn search(
    view: &View,
    pack: &Pack,
    typed: &str,
    here: Option<Position>,
    limits: &Limits,
) -> Result<Found, StoreError> {
    let mut spelt = Spelt::of(pack, typed);
    if spelt.words.is_empty() {
        let (kinds, patches, finds) = (cut(Vec::new(), 0), cut(Vec::new(), 0), cut(Vec::new(), 0));
        return Ok(Found { kinds, patches, finds, instead: None });
    }
    let mut finds: Vec<(FindId, Fit)> = Vec::new();
    let mut known = BTreeSet::new();
    let mut patches: BTreeMap<PatchId, Fit> = BTreeMap::new();
    for fit in [Fit::Whole, Fit::Beginning, Fit::Near] {
        let is_near = fit == Fit::Near;
        if is_near && finds.len() >= limits.finds && patches.len() >= limits.patches {
            break;
        }
        if is_near {
            spelt.near = near_words(view, &spelt.words)?;
        }
        let wanted = spelt.wanted(fit);
        if !is_near || finds.len() < limits.finds {
            let hits = view.finds_saying(&wanted)?.into_iter().filter(|hit| known.insert(hit.find));
            finds.extend(hits.map(|hit| (hit.find, fit)));
        }
        if !is_near || patches.len() < limits.patches {
            for id in view.patches_saying(&wanted)? {
                patches.entry(standing(view, id)?).or_insert(fit);
            }
        }
    }
    Ok(Found {
        kinds: cut(pack.search(typed, usize::MAX), limits.kinds),
        patches: list_patches(view, patches, here, limits.patches)?,
        finds: list_finds(view, pack, finds, &spelt.words, limits.finds)?,
        instead: None,
    })
}

/// What was typed, and everything that it may stand for.
struct Spelt {
    words: Vec<String>,
    /// For each word, everything called that has it in its name.
    having: Vec<Vec<(Fit, Vec<String>)>>,
    /// Everything called so as a whole.
    fitting: Vec<(Fit, Vec<String>)>,
    /// For each word, those on record that are nearly the same.
    near: Vec<Vec<String>>,
}

impl Spelt {
    fn of(pack: &Pack, typed: &str) -> Self {
        let words = spelling::asked(typed);
        Self {
            having: words.iter().map(|word| pack.having_word(word)).collect(),
            fitting: if words.is_empty() { Vec::new() } else { pack.fitting(typed) },
            near: Vec::new(),
            words,
        }
    }

    /// What to ask for, if it is to fit this well or better.
    fn wanted(&self, at_least: Fit) -> Wanted {
        let called = |all: &[(Fit, Vec<String>)]| -> Vec<Term> {
            let fitting = all.iter().filter(|(fit, _)| *fit <= at_least);
            fitting.flat_map(|(_, called)| names(called.clone())).collect()
        };
        let words = self.words.iter().zip(&self.having).enumerate().map(|(at, (word, having))| {
            let mut terms = called(having);
            if at_least == Fit::Whole {
                terms.push(Term::Word(word.clone()));
            } else {
                terms.push(Term::Beginning(word.clone()));
                terms.extend(spelling::singular(word).map(|one| Term::Word(one.to_owned())));
            }
            terms.extend(self.near.get(at).into_iter().flatten().cloned().map(Term::Word));
            terms
        });
        Wanted { words: words.collect(), or: called(&self.fitting) }
    }
}

fn names(called: Vec<String>) -> impl Iterator<Item = Term> {
    called.into_iter().map(Term::Name)
}

/// For each word those on record that are nearly the same, the nearest first.
fn near_words(view: &View, words: &[String]) -> Result<Vec<Vec<String>>, StoreError> {
    let mut near: Vec<Vec<(usize, String)>> = vec![Vec::new(); words.len()];
    view.each_word(|known| {
        for (word, near) in words.iter().zip(&mut near) {
            if spelling::fit(word, known) == Some(Fit::Near) {
                near.push((spelling::slips(word, known), known.to_owned()));
            }
        }
    })?;
    let nearest = near.into_iter().map(|mut all| {
        all.sort_unstable();
        all.into_iter().take(NEAR_WORDS).map(|(_, word)| word).collect()
    });
    Ok(nearest.collect())
}

/// The words as they may have been meant, if there are such that find something.
fn instead(view: &View, pack: &Pack, typed: &str) -> Result<Option<String>, StoreError> {
    let mut known = pack.words_of_names();
    view.each_word(|word| {
        known.insert(word.to_owned());
    })?;
    let words = spelling::asked(typed);
    let meant = words.iter().map(|word| {
        let fits = known.iter().any(|other| spelling::fit(word, other).is_some());
        let nearest = || spelling::nearest(word, known.iter().map(String::as_str)).map(str::to_owned);
        if fits { word.clone() } else { nearest().unwrap_or_else(|| word.clone()) }
    });
    let meant: Vec<String> = meant.collect();
    if meant == words {
        return Ok(None);
    }
    let meant = meant.join(" ");
    let one = Limits { kinds: 1, patches: 1, finds: 1 };
    Ok((!search(view, pack, &meant, None, &one)?.is_empty()).then_some(meant))
}

fn list_finds(
    view: &View,
    pack: &Pack,
    found: Vec<(FindId, Fit)>,
    asked: &[String],
    most: usize,
) -> Result<Listed<FoundFind>, StoreError> {
    let Listed { shown, more } = cut(found, most);
    let mut finds = Vec::with_capacity(shown.len());
    for (id, fit) in shown {
        let record = view.record(kind::FIND, id.into())?.ok_or(StoreError::Damaged)?;
        let photos = view.children(kind::PHOTO, record.id)?;
        let record = whole(&record, &photos, &view.children(kind::DETERMINATION, record.id)?);
        let find = &record.find.value;
        let note = find.note.as_deref().unwrap_or_default();
        finds.push(FoundFind {
            fit,
            outing: find.outing.map(|id| outing_place(view, id.into())).transpose()?.flatten(),
            patch: find.patch.map(|id| patch_name(view, id)).transpose()?.flatten(),
            passage: passage(note, asked),
            goes_by: named(pack, &record),
            record,
        });
    }
    Ok(Listed { shown: finds, more })
}

fn list_patches(
    view: &View,
    found: BTreeMap<PatchId, Fit>,
    here: Option<Position>,
    most: usize,
) -> Result<Listed<FoundPatch>, StoreError> {
    let mut patches = Vec::with_capacity(found.len());
    for (id, fit) in found {
        let record = view.record(kind::PATCH, id.into())?.as_ref().map(PatchRecord::from);
        let Some(record) = record.filter(|record| !record.patch.deleted) else { continue };
        let way = here.zip(record.patch.value.centre);
        let bearing = way.and_then(|(here, there)| bearing(here, there));
        patches.push(FoundPatch {
            record,
            fit,
            distance: way.map(|(here, there)| distance(here, there)),
            bearing,
        });
    }
    let name = |found: &FoundPatch| found.record.patch.value.name.as_deref().map(spelling::words);
    patches.sort_by(|one, other| {
        let metres = |found: &FoundPatch| found.distance.map_or(f64::INFINITY, Metres::get);
        one.fit
            .cmp(&other.fit)
            .then_with(|| metres(one).total_cmp(&metres(other)))
            .then_with(|| name(one).cmp(&name(other)))
            .then_with(|| one.record.id.cmp(&other.record.id))
    });
    Ok(cut(patches, most))
}

fn cut<T>(mut all: Vec<T>, most: usize) -> Listed<T> {
    let more = all.len().saturating_sub(most);
    all.truncate(most);
    Listed { shown: all, more }
}

fn outing_place(view: &View, id: crate::id::RecordId) -> Result<Option<String>, StoreError> {
    let outing = view.record(kind::OUTING, id)?.as_ref().map(Kept::<Outing>::from);
    Ok(outing.filter(|outing| !outing.deleted).and_then(|outing| outing.value.place))
}

fn patch_name(view: &View, id: PatchId) -> Result<Option<String>, StoreError> {
    let patch = view.record(kind::PATCH, standing(view, id)?.into())?.as_ref().map(PatchRecord::from);
    Ok(patch.filter(|record| !record.patch.deleted).and_then(|record| record.patch.value.name))
}
