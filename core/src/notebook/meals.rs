//! Meals and who ate them: noted, amended, taken back, listed.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use serde::Serialize;

use super::act::Edit;
use super::record::{Kept, amended, emptied, fields};
use super::{Desk, Notebook, kind};
use crate::error::Error;
use crate::find::FieldError;
use crate::id::{MealId, PersonId};
use crate::meal::{self, Eater, Feels, Meal, Person};
use crate::moment::Moment;
use crate::store::Record;

/// A meal as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MealRecord {
    /// Its id.
    pub id: MealId,
    /// Its fields.
    #[serde(flatten)]
    pub meal: Kept<Meal>,
    /// The names of those who ate, by id.
    pub people: BTreeMap<PersonId, String>,
}

/// Somebody who ate, by name: a person of that name is found, or made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEater {
    /// A name or initials.
    pub name: String,
    /// A child.
    pub child: bool,
    /// How they feel.
    pub feels: Feels,
    /// When the first sign came.
    pub first_sign: Option<Moment>,
    /// What signs.
    pub signs: Option<String>,
}

impl NewEater {
    /// Somebody of whom nothing else is known.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self { name: name.to_owned(), child: false, feels: Feels::Unknown, first_sign: None, signs: None }
    }
}

impl Notebook {
    /// Keeps a meal. `eaters` are added to those that it holds. A time that is not given is not made up: a wrong one would mislead
    /// whoever reckons from it.
    ///
    /// # Errors
    /// [`Error::Field`] if it does not say what was eaten, or somebody ate twice; [`Error::NotFound`] for a find or person that
    /// is not there. Then nothing is kept.
    pub fn add_meal(&self, meal: &Meal, eaters: &[NewEater]) -> Result<MealRecord, Error> {
        let id = MealId::new();
        self.decide_and_keep(|desk| {
            let mut meal = meal.clone();
            let mut edits = desk.seat(&mut meal.eaters, eaters)?;
            meal.validate()?;
            desk.require_all(&meal, &edits)?;
            edits.push(Edit::new(kind::MEAL, id, fields(&meal)?));
            Ok((edits, ()))
        })?;
        self.meal(id)
    }

    /// Sets fields of a meal and empties others. `eaters`, where there are any, take the place of what was noted of people of those
    /// names; everybody else stays.
    ///
    /// # Errors
    /// As [`Notebook::add_meal`]; then nothing is changed.
    pub fn amend_meal(
        &self,
        id: MealId,
        changes: &Meal,
        eaters: &[NewEater],
        empty: &[String],
    ) -> Result<MealRecord, Error> {
        let set = emptied(fields(changes)?, empty, "meal", &meal::FIELDS)?;
        self.decide_and_keep(|desk| {
            let record = desk.record(kind::MEAL, id.into(), "meal")?;
            let mut set = set.clone();
            let mut edits = Vec::new();
            if !eaters.is_empty() {
                let before = Kept::<Meal>::from(&record).value.eaters;
                let mut seated = changes.eaters.clone().or(before);
                edits = desk.seat(&mut seated, eaters)?;
                let eaters = Meal { eaters: seated, ..Meal::default() };
                set.extend(fields(&eaters)?);
            }
            let Some((set, whole)) = amended::<Meal>(&record, &set) else { return Ok((Vec::new(), ())) };
            whole.validate()?;
            desk.require_all(&whole, &edits)?;
            edits.push(Edit::new(kind::MEAL, id, set));
            Ok((edits, ()))
        })?;
        self.meal(id)
    }

    /// Takes back the last thing done to a meal that has not been taken back yet; in the end its noting, which marks it as deleted.
    /// People who were first named with it stay.
    ///
    /// # Errors
    /// [`Error::NothingToUndo`], [`Error::NotFound`].
    pub fn undo_meal(&self, id: MealId) -> Result<MealRecord, Error> {
        self.undo(kind::MEAL, "meal", |_| Ok(id.into()))?;
        self.meal(id)
    }

    /// One meal, deleted or not.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn meal(&self, id: MealId) -> Result<MealRecord, Error> {
        let record = self.read(|view| view.record(kind::MEAL, id.into()))?;
        let record = record.ok_or(Error::NotFound { what: "meal" })?;
        Ok(with_people(&record, &self.people()?))
    }

    /// Every meal, the latest first and before it those without a time: none is ever too old.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn meals(&self) -> Result<Vec<MealRecord>, Error> {
        let records = self.read(|view| view.all(kind::MEAL))?;
        let people = self.people()?;
        let mut meals: Vec<MealRecord> = records.iter().map(|record| with_people(record, &people)).collect();
        meals.sort_by_key(|meal| (meal.meal.value.at.is_some(), Reverse((meal.meal.value.at, meal.id))));
        Ok(meals)
    }

    /// The meal whose id begins like this.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn meal_beginning(&self, beginning: &str) -> Result<MealId, Error> {
        self.beginning(kind::MEAL, "meal", beginning).map(MealId::from)
    }

    /// Everybody who ever ate, by id.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn people(&self) -> Result<BTreeMap<PersonId, String>, Error> {
        let records = self.read(|view| view.all(kind::PERSON))?;
        let name = |record: &Record| Some((record.id.into(), Kept::<Person>::from(record).value.name?));
        Ok(records.iter().filter_map(name).collect())
    }
}

fn with_people(record: &Record, people: &BTreeMap<PersonId, String>) -> MealRecord {
    let meal = Kept::<Meal>::from(record);
    let eaters = meal.value.eaters.iter().flatten();
    let people = eaters.filter_map(|eater| people.get_key_value(&eater.person));
    let people = people.map(|(id, name)| (*id, name.clone())).collect();
    MealRecord { id: record.id.into(), meal, people }
}

impl Desk {
    /// Puts people by name among those who ate; answers with the edits that make those who are new.
    fn seat(&self, seated: &mut Option<Vec<Eater>>, eaters: &[NewEater]) -> Result<Vec<Edit>, Error> {
        let mut edits = Vec::new();
        let mut known: Vec<(String, PersonId)> = Vec::new();
        for record in self.view.all(kind::PERSON)? {
            let name = Kept::<Person>::from(&record).value.name;
            known.extend(name.map(|name| (name.to_lowercase(), record.id.into())));
        }
        let mut given: Vec<PersonId> = Vec::new();
        for new in eaters {
            let name = new.name.trim();
            let here = known.iter().find(|(known, _)| *known == name.to_lowercase()).map(|(_, id)| *id);
            let person = if let Some(id) = here {
                id
            } else {
                let person = Person { name: Some(name.to_owned()), ..Person::default() };
                person.validate()?;
                let id = PersonId::new();
                known.push((name.to_lowercase(), id));
                edits.push(Edit::new(kind::PERSON, id, fields(&person)?));
                id
            };
            if given.contains(&person) {
                let why = "somebody is named twice: name each once, with all that is known".to_owned();
                return Err(FieldError { field: "eaters", why }.into());
            }
            given.push(person);
            let NewEater { child, feels, first_sign, signs, .. } = new.clone();
            let eaters = seated.get_or_insert_default();
            let before = eaters.iter_mut().find(|eater| eater.person == person);
            if let Some(eater) = before {
                (eater.child, eater.feels, eater.first_sign, eater.signs) = (child, feels, first_sign, signs);
            } else {
                eaters.push(Eater {
                    person,
                    child,
                    feels,
                    first_sign,
                    signs,
                    further: serde_json::Map::new(),
                });
            }
        }
        Ok(edits)
    }

    /// What a meal points at must be there, or be made with it.
    fn require_all(&self, meal: &Meal, made: &[Edit]) -> Result<(), Error> {
        for find in meal.finds.iter().flatten() {
            self.find(*find)?;
        }
        for eater in meal.eaters.iter().flatten() {
            let id = eater.person.into();
            if !made.iter().any(|edit| edit.record == id) {
                self.record(kind::PERSON, id, "person")?;
            }
        }
        Ok(())
    }
}
