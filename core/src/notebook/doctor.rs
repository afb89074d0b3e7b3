//! What a doctor is shown of the notebook: meals, what went into them, and what that may have been.
//!
//! Where devices noted a meal differently, the doctor is told everything: lists are joined, other fields shown side by side.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use serde_json::Value;

use super::finds::FindRecord;
use super::record::Kept;
use super::today::named;
use super::{Notebook, kind};
use crate::allowance::GoesBy;
use crate::error::Error;
use crate::find::Find;
use crate::help::Help;
use crate::id::{FindId, MealId, PersonId};
use crate::meal::{self, Also, Asked, Eaten, Eater, Feels, Meal, PersonShown, Sheet};
use crate::pack::Pack;
use crate::store::Criteria;

/// The fields of which each device's value is shown, with what the sheet calls them.
const SHOWN_APART: [&str; 8] = ["at", "what", "amount", "prepared", "alcohol", "others", "left", "note"];

impl Notebook {
    /// The sheet for the doctor: of one meal, or of every meal on record.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a meal that is not there. A find that cannot be had is shown as one that nobody named.
    pub fn doctors_sheet(&self, pack: &Pack, help: &Help, meal: Option<MealId>) -> Result<Sheet, Error> {
        let meals = match meal {
            Some(id) => vec![self.meal(id)?],
            None => self.meals()?,
        };
        let people = self.people()?;
        let meals: Result<Vec<Asked>, Error> =
            meals.into_iter().map(|meal| self.asked(meal.meal, &people)).collect();
        Ok(meal::sheet(pack, help, &meals?, self.now()))
    }

    /// The latest finds, at most so many, of which something may have been eaten: all but those of which it was noted that none
    /// was taken.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn taken_lately(&self, pack: &Pack, most: usize) -> Result<Vec<(FindRecord, GoesBy)>, Error> {
        let latest: Vec<FindId> = self.read(|view| {
            let records = view.matching(kind::FIND, &Criteria::default())?;
            let taken = |record: &&crate::store::Record| {
                record.state.shown("taken").and_then(Value::as_u64) != Some(0)
            };
            Ok(records.iter().rev().filter(taken).take(most).map(|record| record.id.into()).collect())
        })?;
        self.finds_named(pack, &latest)
    }

    /// Finds with what they go by, in this order; those that are not there are left out.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn finds_named(&self, pack: &Pack, ids: &[FindId]) -> Result<Vec<(FindRecord, GoesBy)>, Error> {
        let mut finds = Vec::with_capacity(ids.len());
        for id in ids {
            match self.find(*id) {
                Ok(record) => finds.push((named(pack, &record), record)),
                Err(Error::NotFound { .. }) => {}
                Err(error) => return Err(error),
            }
        }
        Ok(finds.into_iter().map(|(goes_by, record)| (record, goes_by)).collect())
    }

    fn asked(&self, kept: Kept<Meal>, people: &BTreeMap<PersonId, String>) -> Result<Asked, Error> {
        let mut eaten = Vec::new();
        for id in every::<FindId>(&kept, "finds") {
            eaten.push(self.eaten(id)?);
        }
        for name in every::<String>(&kept, "taken_for") {
            eaten.push(Eaten { names: vec![name], ..Eaten::default() });
        }
        let eaters = each_once(every::<Eater>(&kept, "eaters"));
        let also = SHOWN_APART.iter().flat_map(|field| {
            let values = kept.disagreements.get(*field).into_iter().flatten().skip(1);
            values.map(|value| Also { field, value: value.clone() })
        });
        let also = also.collect();
        let meal = kept.value;
        Ok(Asked {
            at: meal.at,
            what: meal.what,
            amount: meal.amount,
            prepared: meal.prepared,
            alcohol: meal.alcohol,
            people: eaters.into_iter().map(|eater| shown(eater, people)).collect(),
            others: meal.others,
            left: meal.left,
            note: meal.note,
            also,
            eaten,
        })
    }

    fn eaten(&self, id: FindId) -> Result<Eaten, Error> {
        let record = match self.find(id) {
            Ok(record) => record,
            Err(Error::NotFound { .. }) => return Ok(Eaten { find: Some(id), ..Eaten::default() }),
            Err(error) => return Err(error),
        };
        let names = record.determinations.into_iter().filter_map(|named| named.determination.value.taxon);
        let photos = record.photos.iter().filter_map(|photo| photo.photo.value.sha256);
        Ok(Eaten {
            find: Some(id),
            gathered: record.find.value.at,
            grew: grew(&record.find.value),
            names: names.collect(),
            photos: photos.collect(),
        })
    }
}

/// Everything that any device put into a list of a meal, each once.
fn every<T: DeserializeOwned + PartialEq>(kept: &Kept<Meal>, field: &str) -> Vec<T> {
    let shown = || serde_json::to_value(&kept.value).ok()?.get(field).cloned();
    let values = kept.disagreements.get(field).cloned().unwrap_or_else(|| shown().into_iter().collect());
    let lists = values.into_iter().filter_map(|value| serde_json::from_value::<Vec<T>>(value).ok());
    let mut all: Vec<T> = Vec::new();
    for one in lists.flatten() {
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}

/// Everybody once: as ill, if any device says so.
fn each_once(eaters: Vec<Eater>) -> Vec<Eater> {
    let mut once: Vec<Eater> = Vec::new();
    for eater in eaters {
        match once.iter_mut().find(|before| before.person == eater.person) {
            None => once.push(eater),
            Some(before) if before.feels != Feels::Ill && eater.feels == Feels::Ill => *before = eater,
            Some(_) => {}
        }
    }
    once
}

fn shown(eater: Eater, people: &BTreeMap<PersonId, String>) -> PersonShown {
    PersonShown {
        name: people.get(&eater.person).cloned().unwrap_or_else(|| "somebody".to_owned()),
        child: eater.child,
        feels: eater.feels,
        first_sign: eater.first_sign,
        delay_minutes: None,
        signs: eater.signs,
    }
}

/// On and by what it grew; never where.
fn grew(find: &Find) -> Option<String> {
    let on = find.on.map(|on| format!("on: {}", on.word().replace('-', " ")));
    let host = find.host.as_ref().map(|host| format!("tree: {} ({})", host.tree, host.sure));
    let habitat = find.habitat.clone();
    let all: Vec<String> = on.into_iter().chain(host).chain(habitat).collect();
    (!all.is_empty()).then(|| all.join(", "))
}
