//! *Someone is ill*, over an open notebook: meals, who ate them, and the sheet for the doctor.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::tz::Offset;
use trug::find::FieldError;
use trug::help::Help;
use trug::id::{MealId, PersonId};
use trug::meal::{Alcohol, Eater, Feels, Meal, Passage, Prepared};
use trug::moment::Moment;
use trug::notebook::{MealRecord, NewEater};

use crate::now::FindLine;
use crate::shared::{NameShown, When};
use crate::{Book, TrugError};

/// How many finds are offered as what may have been eaten.
const FINDS_OFFERED: usize = 60;

/// What the notebook knows of meals, and of what may have been eaten.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct IllPage {
    /// Now.
    pub now: When,
    /// Every meal on record: those without a time, then the latest first. None is ever too old.
    pub meals: Vec<MealShown>,
    /// The latest finds of which something may have been eaten.
    pub finds: Vec<FindLine>,
}

/// A meal on record.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MealShown {
    /// Its id.
    pub id: String,
    /// When it was eaten.
    pub at: Option<When>,
    /// What, in words.
    pub what: Option<String>,
    /// The finds that went into it.
    pub finds: Vec<FindLine>,
    /// What it was taken for besides.
    pub taken_for: Vec<NameShown>,
    /// How much, in words.
    pub amount: Option<String>,
    /// raw, part-cooked, cooked, unknown.
    pub prepared: Option<String>,
    /// with-it, near (within five days), none, unknown.
    pub alcohol: Option<String>,
    /// Who ate, the well included.
    pub eaters: Vec<EaterShown>,
    /// How many more ate who are not named.
    pub others: Option<u32>,
    /// What is kept of it, and where.
    pub left: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// The fields that another device noted differently; the doctor's sheet shows both.
    pub differing: Vec<String>,
}

/// Somebody who ate.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct EaterShown {
    /// A name or initials.
    pub name: String,
    /// A child.
    pub child: bool,
    /// well, ill, unknown.
    pub feels: String,
    /// When the first sign came.
    pub first_sign: Option<When>,
    /// What signs, in the order in which they came.
    pub signs: Option<String>,
}

/// A meal as somebody notes it: all that is known of it. What is left out is not known, and stays so.
#[derive(Debug, Clone, Default, PartialEq, Eq, uniffi::Record)]
pub struct MealNoted {
    /// When it was eaten.
    pub at: Option<At>,
    /// What, in words. This, a find, or what it was taken for must be there.
    pub what: Option<String>,
    /// The ids of the finds that went into it.
    pub finds: Vec<String>,
    /// What it was taken for besides: names, or ids of the pack.
    pub taken_for: Vec<String>,
    /// How much, in words.
    pub amount: Option<String>,
    /// raw, part-cooked, cooked, unknown.
    pub prepared: Option<String>,
    /// with-it, near (within five days), none, unknown.
    pub alcohol: Option<String>,
    /// Who ate, the well included, each once.
    pub eaters: Vec<EaterNoted>,
    /// How many more ate who are not named.
    pub others: Option<u32>,
    /// What is kept of it, and where.
    pub left: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// Somebody who ate, as somebody notes it.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct EaterNoted {
    /// A name or initials.
    pub name: String,
    /// A child.
    pub child: bool,
    /// well, ill, unknown.
    pub feels: String,
    /// When the first sign came.
    pub first_sign: Option<At>,
    /// What signs, in the order in which they came.
    pub signs: Option<String>,
}

/// A time, as it is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Record)]
pub struct At {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub millis: i64,
    /// What the clock is ahead of UTC, in seconds.
    pub offset_seconds: i32,
}

/// The sheet for the doctor, in the core's words.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct DoctorSheet {
    /// When it was made.
    pub made: When,
    /// Meal by meal: what, when, how much, raw or cooked, alcohol; who ate; what it was taken for, with everything dangerous that it
    /// may have been and when the signs of that begin. Then what the sheet is not.
    pub passages: Vec<SheetPassage>,
}

/// Lines under one title.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SheetPassage {
    /// The title.
    pub title: String,
    /// The lines.
    pub lines: Vec<String>,
    /// The files of the photos that belong with them.
    pub photos: Vec<String>,
}

#[uniffi::export]
impl Book {
    /// Meals, and the finds that may have been eaten.
    ///
    /// # Errors
    /// `paused`, `view`.
    pub fn ill(&self) -> Result<IllPage, TrugError> {
        let meals = self.notebook.meals()?;
        let finds = self.notebook.taken_lately(self.pack, FINDS_OFFERED)?;
        Ok(IllPage {
            now: self.notebook.now().into(),
            meals: meals.iter().map(|meal| self.meal(meal)).collect::<Result<_, _>>()?,
            finds: finds.iter().map(|(record, name)| self.line(record, name)).collect(),
        })
    }

    /// Keeps a meal. A person of each name is found, or made.
    ///
    /// # Errors
    /// `field` if it does not say what was eaten, or names somebody twice; `not-found`, `not-an-id`. Then nothing is kept.
    pub fn note_meal(&self, meal: MealNoted) -> Result<MealShown, TrugError> {
        let (meal, eaters) = meal.read()?;
        self.meal(&self.notebook.add_meal(&meal, &eaters)?)
    }

    /// Makes a meal say this and nothing else; what it said before stays in the log.
    ///
    /// # Errors
    /// As [`Book::note_meal`]; then nothing is changed.
    pub fn amend_meal(&self, id: String, meal: MealNoted) -> Result<MealShown, TrugError> {
        let id: MealId = id.parse()?;
        let (mut changes, eaters) = meal.read()?;
        let before = self.notebook.meal(id)?;
        changes.eaters = staying(&before, &eaters);
        // What a later version wrote and this one cannot show, nobody has emptied.
        let shown = trug::meal::FIELDS.iter().filter(|field| !before.meal.unreadable.contains_key(**field));
        let empty: Vec<String> = shown.map(ToString::to_string).collect();
        self.meal(&self.notebook.amend_meal(id, &changes, &eaters, &empty)?)
    }

    /// Takes back the last thing done to a meal; answers none once its noting is taken back.
    ///
    /// # Errors
    /// `nothing-to-undo`, `not-found`.
    pub fn undo_meal(&self, id: String) -> Result<Option<MealShown>, TrugError> {
        let record = self.notebook.undo_meal(id.parse()?)?;
        if record.meal.deleted { Ok(None) } else { self.meal(&record).map(Some) }
    }

    /// The sheet for the doctor: of one meal, or of every meal on record.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`, `help-damaged`.
    pub fn doctor_sheet(&self, meal: Option<String>) -> Result<DoctorSheet, TrugError> {
        let meal = meal.map(|id| id.parse::<MealId>()).transpose()?;
        let sheet = self.notebook.doctors_sheet(self.pack, Help::shipped()?, meal)?;
        let passages = sheet.passages().into_iter().map(|passage| self.passage(passage)).collect();
        Ok(DoctorSheet { made: sheet.now.into(), passages })
    }
}

impl Book {
    fn meal(&self, record: &MealRecord) -> Result<MealShown, TrugError> {
        let meal = &record.meal.value;
        let finds = self.notebook.finds_named(self.pack, meal.finds.as_deref().unwrap_or_default())?;
        let names = meal.taken_for.iter().flatten();
        let eaters = meal.eaters.iter().flatten();
        Ok(MealShown {
            id: record.id.to_string(),
            at: meal.at.map(When::from),
            what: meal.what.clone(),
            finds: finds.iter().map(|(record, name)| self.line(record, name)).collect(),
            taken_for: names.map(|name| NameShown::of(self.pack, name)).collect(),
            amount: meal.amount.clone(),
            prepared: meal.prepared.map(|prepared| prepared.word().to_owned()),
            alcohol: meal.alcohol.map(|alcohol| alcohol.word().to_owned()),
            eaters: eaters.map(|eater| shown(eater, &record.people)).collect(),
            others: meal.others,
            left: meal.left.clone(),
            note: meal.note.clone(),
            differing: record.meal.disagreements.keys().cloned().collect(),
        })
    }

    fn passage(&self, passage: Passage) -> SheetPassage {
        let paths = passage.photos.iter().filter_map(|hash| self.notebook.shelf().path(hash));
        let photos = paths.map(|path| path.to_string_lossy().into_owned()).collect();
        SheetPassage { title: passage.title, lines: passage.lines, photos }
    }
}

fn shown(eater: &Eater, people: &BTreeMap<PersonId, String>) -> EaterShown {
    EaterShown {
        name: people.get(&eater.person).cloned().unwrap_or_default(),
        child: eater.child,
        feels: eater.feels.word().to_owned(),
        first_sign: eater.first_sign.map(When::from),
        signs: eater.signs.clone(),
    }
}

/// Those of a meal whom the new list names too: what a later version noted of them stays.
fn staying(before: &MealRecord, eaters: &[NewEater]) -> Option<Vec<Eater>> {
    let is_named = |eater: &&Eater| {
        let name = before.people.get(&eater.person).map(|name| name.to_lowercase());
        name.is_some_and(|name| eaters.iter().any(|one| one.name.trim().to_lowercase() == name))
    };
    let before = before.meal.value.eaters.as_ref()?;
    Some(before.iter().filter(is_named).cloned().collect())
}

impl MealNoted {
    fn read(self) -> Result<(Meal, Vec<NewEater>), TrugError> {
        let finds: Vec<_> = self.finds.iter().map(|id| id.parse()).collect::<Result<_, _>>()?;
        let taken_for: Vec<String> = self.taken_for.into_iter().filter_map(|name| said(Some(name))).collect();
        let eaters = self.eaters.into_iter().map(EaterNoted::read).collect::<Result<_, _>>()?;
        let meal = Meal {
            at: self.at.map(At::moment).transpose()?,
            what: said(self.what),
            finds: (!finds.is_empty()).then_some(finds),
            taken_for: (!taken_for.is_empty()).then_some(taken_for),
            amount: said(self.amount),
            prepared: self.prepared.map(|word| word.parse::<Prepared>()).transpose()?,
            alcohol: self.alcohol.map(|word| word.parse::<Alcohol>()).transpose()?,
            others: self.others,
            left: said(self.left),
            note: said(self.note),
            ..Meal::default()
        };
        Ok((meal, eaters))
    }
}

impl EaterNoted {
    fn read(self) -> Result<NewEater, TrugError> {
        Ok(NewEater {
            name: self.name,
            child: self.child,
            feels: self.feels.parse::<Feels>()?,
            first_sign: self.first_sign.map(At::moment).transpose()?,
            signs: said(self.signs),
        })
    }
}

impl At {
    /// The moment that it gives.
    pub(crate) fn moment(self) -> Result<Moment, TrugError> {
        let wrong = |_| FieldError { field: "at", why: "give a time of these centuries".into() };
        let instant = Timestamp::from_millisecond(self.millis).map_err(wrong)?;
        Ok(Moment::new(instant, Offset::from_seconds(self.offset_seconds).map_err(wrong)?))
    }
}

/// Words, unless they are none.
fn said(words: Option<String>) -> Option<String> {
    words.filter(|words| !words.trim().is_empty())
}
