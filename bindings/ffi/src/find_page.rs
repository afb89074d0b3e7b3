//! *A find*: everything that its page shows.

use std::path::PathBuf;

use trug::condition::{TaxonSign, common_signs, signs_of};
use trug::find::{Count, Find};
use trug::id::FindId;
use trug::notebook::{Judged, Named, PhotoRecord, Warning};
use trug::pack::Pack;
use trug::patch::{Near, Proposal};
use trug::photo::Role;
use trug::units::Grams;

use crate::advice::{AdviceShown, ConditionShown};
use crate::shared::{NameShown, PlaceShown, Said, When};
use crate::{Book, TrugError};

/// Everything that the page of a find shows.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct FindPage {
    /// Its id.
    pub id: String,
    /// Its photos, oldest first.
    pub photos: Vec<PhotoShown>,
    /// Roles of which there should be a photo and is none: whole, underside, stem-base.
    pub missing_roles: Vec<String>,
    /// When it was made.
    pub at: Option<When>,
    /// Where.
    pub place: Option<PlaceShown>,
    /// The other fields, as they are written.
    pub fields: FindFields,
    /// The signs of age that it can show, and which of them were seen.
    pub signs: Vec<SignOffered>,
    /// What it goes by.
    pub name: NameSoFar,
    /// Every name that was given to it, oldest first.
    pub names: Vec<NameGiven>,
    /// What may be taken.
    pub advice: AdviceShown,
    /// Whether what was taken keeps to that; none while nothing is noted of taking.
    pub followed: Option<bool>,
    /// Its condition; none while nobody knows of what.
    pub condition: Option<ConditionShown>,
    /// The patch it belongs to.
    pub patch: Option<PatchChoice>,
    /// Patches that it may belong to, the likeliest first, while it belongs to none.
    pub patch_choices: Vec<PatchChoice>,
    /// What is odd about it.
    pub warnings: Vec<Said>,
    /// Whether anything is left to undo.
    pub can_undo: bool,
    /// Whether it is marked as deleted.
    pub deleted: bool,
}

/// Fields as [`Book::amend_find`] takes them, and the numbers in them.
#[derive(Debug, Clone, Default, PartialEq, uniffi::Record)]
pub struct FindFields {
    /// What it grows on.
    pub on: Option<String>,
    /// The tree.
    pub host: Option<String>,
    /// How sure of the tree: guess, likely, sure.
    pub host_sure: Option<String>,
    /// The ground.
    pub ground: Option<String>,
    /// The surroundings.
    pub habitat: Option<String>,
    /// What makes the ground unfit.
    pub hazards: Vec<String>,
    /// How they stand.
    pub growth: Option<String>,
    /// How many there were, at least.
    pub seen_least: Option<u32>,
    /// How many there were, at most.
    pub seen_most: Option<u32>,
    /// How many of each stage.
    pub stages: Vec<StageCount>,
    /// The least width, in millimetres.
    pub width_least_mm: Option<f64>,
    /// The greatest width, in millimetres.
    pub width_most_mm: Option<f64>,
    /// The least height, in millimetres, where that is what people measure.
    pub height_least_mm: Option<f64>,
    /// The greatest height, in millimetres.
    pub height_most_mm: Option<f64>,
    /// How the sizes were come by: eye, rule, photo.
    pub measured: Option<String>,
    /// How many were taken.
    pub taken: Option<u32>,
    /// What those weigh, in grams.
    pub grams: Option<f64>,
    /// How many were taken for study.
    pub specimens: Option<u32>,
    /// Who gathered, if not the owner.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// How many are of a stage.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct StageCount {
    /// button, young, prime or past.
    pub stage: String,
    /// How many.
    pub count: u32,
}

/// A photo of the find.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct PhotoShown {
    /// Its id within the find.
    pub id: String,
    /// What it shows.
    pub role: String,
    /// The file; none if it is missing.
    pub path: Option<String>,
    /// Its small picture; none if there can be none.
    pub thumbnail: Option<String>,
}

/// A sign of age that may be seen.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SignOffered {
    /// Its id, as the field `signs` takes it.
    pub id: String,
    /// What is seen, as words that fit into a sentence.
    pub words: String,
    /// What it costs to look: glance, turn over, touch, smell, cut.
    pub effort: String,
    /// Whether it was seen.
    pub chosen: bool,
}

/// What a find goes by.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct NameSoFar {
    /// The name; none while nobody has one.
    pub name: Option<NameShown>,
    /// How it was reached: key, sight, told, spore-print, microscope; none while it is not settled.
    pub how: Option<String>,
    /// Whether it is settled. Somebody's word settles a name too, and leaves its look-alikes to be checked.
    pub settled: bool,
}

/// A name that was given to the find.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct NameGiven {
    /// The id of the naming.
    pub id: String,
    /// The name; none for "unknown".
    pub name: Option<NameShown>,
    /// How it was reached.
    pub how: Option<String>,
    /// How sure.
    pub sure: Option<String>,
    /// Who says so.
    pub who: Option<String>,
    /// When.
    pub at: Option<When>,
    /// Whether it was taken back.
    pub withdrawn: bool,
}

/// A patch that a find belongs to, or may.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchChoice {
    /// Its id.
    pub id: String,
    /// Its name, if it has one.
    pub name: Option<String>,
    /// How far its middle is from the find, in metres, where that is what is asked.
    pub metres: Option<f64>,
}

impl Book {
    /// The page of a find, with what was said while something was done to it.
    pub(crate) fn page(&self, id: FindId, said: &[Warning]) -> Result<FindPage, TrugError> {
        self.shown(&self.notebook.judged(self.pack, id)?, said)
    }

    pub(crate) fn shown(&self, judged: &Judged, said: &[Warning]) -> Result<FindPage, TrugError> {
        let Judged { record, goes_by, taxon, advice, condition, strange_signs } = judged;
        let find = &record.find.value;
        let roles: Vec<Role> = record.photos.iter().filter_map(|photo| photo.photo.value.role).collect();
        let mut warnings: Vec<Said> = said.iter().map(Said::from).collect();
        warnings.extend(strange_signs.iter().map(|sign| self.strange(sign)));
        let offered = taxon.map_or_else(|| common_signs(self.pack), |taxon| signs_of(self.pack, taxon));
        let patch = find.patch.map(|patch| self.notebook.patch(self.notebook.standing_patch(patch)?));
        let patch = patch.transpose()?.map(|patch| PatchChoice {
            id: patch.id.to_string(),
            name: patch.patch.value.name,
            metres: None,
        });
        Ok(FindPage {
            id: record.id.to_string(),
            photos: self.photos(&record.photos),
            missing_roles: Role::missing(&roles).iter().map(|role| role.name().to_owned()).collect(),
            at: find.at.map(When::from),
            place: find.position.as_ref().map(PlaceShown::from),
            fields: FindFields::from(find),
            signs: signs(&offered, find.signs.as_deref().unwrap_or_default(), self.pack),
            name: NameSoFar {
                name: goes_by.name.as_deref().map(|name| NameShown::of(self.pack, name)),
                how: goes_by.how.map(|how| how.word().to_owned()),
                settled: goes_by.how.is_some(),
            },
            names: record.determinations.iter().map(|named| self.given(named)).collect(),
            advice: AdviceShown::from(advice),
            followed: judged.is_followed(),
            condition: condition.as_ref().map(ConditionShown::from),
            patch_choices: match patch {
                Some(_) => Vec::new(),
                None => self.patch_choices(find, goes_by.name.as_deref())?,
            },
            patch,
            warnings,
            can_undo: self.notebook.can_undo_find(record.id)?,
            deleted: record.find.deleted,
        })
    }

    /// Photos as pages show them.
    pub(crate) fn photos(&self, photos: &[PhotoRecord]) -> Vec<PhotoShown> {
        let stored = self.notebook.shelf();
        let text = |path: PathBuf| path.to_string_lossy().into_owned();
        let shown = photos.iter().map(|record| {
            let photo = &record.photo.value;
            // A small picture that cannot be drawn now is no reason to show no find.
            let small = photo.sha256.and_then(|hash| stored.thumbnail(&hash).ok().flatten());
            PhotoShown {
                id: record.id.to_string(),
                role: photo.role.unwrap_or_default().name().to_owned(),
                path: photo.sha256.and_then(|hash| stored.path(&hash)).map(text),
                thumbnail: small.map(text),
            }
        });
        shown.collect()
    }

    fn given(&self, named: &Named) -> NameGiven {
        let what = &named.determination.value;
        NameGiven {
            id: named.id.to_string(),
            name: what.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
            how: what.how.map(|how| how.word().to_owned()),
            sure: what.sure.map(|sure| sure.word().to_owned()),
            who: what.who.clone(),
            at: what.at.map(When::from),
            withdrawn: what.withdrawn == Some(true),
        }
    }

    fn strange(&self, sign: &str) -> Said {
        let text =
            self.pack.sign_by_id(sign).and_then(|at| self.pack.sign(at)).map(|sign| sign.text.as_str());
        Said { code: "sign-not-shown".to_owned(), words: text.unwrap_or(sign).to_owned() }
    }

    fn patch_choices(&self, find: &Find, name: Option<&str>) -> Result<Vec<PatchChoice>, TrugError> {
        let near = match self.notebook.patch_for(find, name)? {
            Proposal::Joins { patch } => vec![patch],
            Proposal::Choose { patches } => patches,
            Proposal::New | Proposal::Unplaced => Vec::new(),
        };
        let choice = |near: Near| PatchChoice {
            id: near.id.to_string(),
            name: near.name,
            metres: Some(near.distance.get()),
        };
        Ok(near.into_iter().map(choice).collect())
    }
}

impl From<&Find> for FindFields {
    fn from(find: &Find) -> Self {
        let word = |word: &str| Some(word.to_owned());
        Self {
            on: find.on.and_then(|on| word(on.word())),
            host: find.host.as_ref().map(|host| host.tree.clone()),
            host_sure: find.host.as_ref().and_then(|host| word(host.sure.word())),
            ground: find.ground.and_then(|ground| word(ground.word())),
            habitat: find.habitat.clone(),
            hazards: find.hazards.iter().flatten().map(|hazard| hazard.word().to_owned()).collect(),
            growth: find.growth.and_then(|growth| word(growth.word())),
            seen_least: find.seen.map(Count::least),
            seen_most: find.seen.map(Count::most),
            stages: find
                .stages
                .iter()
                .flatten()
                .map(|(stage, count)| StageCount { stage: stage.word().to_owned(), count: *count })
                .collect(),
            width_least_mm: find.width.map(|width| width.least().get()),
            width_most_mm: find.width.map(|width| width.most().get()),
            height_least_mm: find.height.map(|height| height.least().get()),
            height_most_mm: find.height.map(|height| height.most().get()),
            measured: find.measured.and_then(|how| word(how.word())),
            taken: find.taken,
            grams: find.grams.map(Grams::get),
            specimens: find.specimens,
            by: find.by.clone(),
            note: find.note.clone(),
        }
    }
}

/// The signs to offer, and those noted that are not among them, so that they can be taken back.
fn signs(offered: &[TaxonSign<'_>], noted: &[String], pack: &Pack) -> Vec<SignOffered> {
    let mut signs: Vec<SignOffered> = offered
        .iter()
        .map(|sign| SignOffered {
            id: sign.id.to_owned(),
            words: sign.text.to_owned(),
            effort: sign.handling.word().to_owned(),
            chosen: noted.iter().any(|id| id == sign.id),
        })
        .collect();
    for id in noted.iter().filter(|id| offered.iter().all(|sign| sign.id != **id)) {
        let known = pack.sign_by_id(id).and_then(|at| pack.sign(at));
        signs.push(SignOffered {
            id: id.clone(),
            words: known.map_or_else(|| id.clone(), |sign| sign.text.clone()),
            effort: known.map_or("glance", |sign| sign.handling.word()).to_owned(),
            chosen: true,
        });
    }
    signs
}
