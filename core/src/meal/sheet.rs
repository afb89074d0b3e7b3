//! The sheet for the doctor: pure, from meals, their finds, the knowledge and the time.

use std::cmp::Reverse;

use serde::Serialize;

use super::{Alcohol, Feels, Prepared};
use crate::help::Help;
use crate::id::FindId;
use crate::moment::Moment;
use crate::pack::{Pack, Standing, TaxonIndex};
use crate::photo::PhotoHash;

/// A meal and all that belongs to it, gathered from the records.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Asked {
    /// When it was eaten.
    pub at: Option<Moment>,
    /// What, in words.
    pub what: Option<String>,
    /// How much.
    pub amount: Option<String>,
    /// Raw or cooked.
    pub prepared: Option<Prepared>,
    /// Alcohol.
    pub alcohol: Option<Alcohol>,
    /// Who ate.
    pub people: Vec<Person>,
    /// How many more ate.
    pub others: Option<u32>,
    /// What is kept of it.
    pub left: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// What another device noted in a field that is shown.
    pub also: Vec<Also>,
    /// What went into it.
    pub eaten: Vec<Eaten>,
}

/// A value that another device holds for a field.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Also {
    /// The field.
    pub field: &'static str,
    /// The value, as files write it.
    pub value: serde_json::Value,
}

/// One find that was eaten, or something that was eaten and is no find.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Eaten {
    /// The find.
    pub find: Option<FindId>,
    /// When it was gathered.
    pub gathered: Option<Moment>,
    /// On and by what it grew, in words.
    pub grew: Option<String>,
    /// Every name that was ever given to it, one taken back included: what it may have been is not what it is called now.
    pub names: Vec<String>,
    /// Its photos.
    pub photos: Vec<PhotoHash>,
}

/// Somebody who ate.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Person {
    /// A name or initials.
    pub name: String,
    /// A child.
    pub child: bool,
    /// How they feel.
    pub feels: Feels,
    /// When the first sign came.
    pub first_sign: Option<Moment>,
    /// Minutes from the meal to it; absent unless both are known.
    pub delay_minutes: Option<i64>,
    /// What signs.
    pub signs: Option<String>,
}

/// Everything that the sheet says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    /// When it was made.
    pub now: Moment,
    /// The meals: those without a time, then the latest first.
    pub meals: Vec<MealSheet>,
    /// What is said while no clinician has reviewed Trug's words.
    pub unreviewed: Option<String>,
}

/// One meal on the sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MealSheet {
    /// When it was eaten.
    pub at: Option<Moment>,
    /// Minutes since then.
    pub minutes_ago: Option<i64>,
    /// What, in words.
    pub what: Option<String>,
    /// How much.
    pub amount: Option<String>,
    /// Raw or cooked; nothing noted is `unknown`.
    pub prepared: Prepared,
    /// Alcohol; nothing noted is `unknown`.
    pub alcohol: Alcohol,
    /// Who ate: the ill first, children first among them.
    pub people: Vec<Person>,
    /// How many more ate.
    pub others: Option<u32>,
    /// What is kept of it.
    pub left: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// What another device noted differently.
    pub also: Vec<Also>,
    /// What went into it.
    pub parts: Vec<Part>,
}

/// Something that was eaten.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    /// The find, if it is one.
    pub find: Option<FindId>,
    /// When it was gathered.
    pub gathered: Option<Moment>,
    /// On and by what it grew.
    pub grew: Option<String>,
    /// Its photos.
    pub photos: Vec<PhotoHash>,
    /// What it was taken for, each with what that can be confused with; none if nobody ever named it.
    pub kinds: Vec<Kind>,
}

/// A name that it was taken by.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Kind {
    /// The English name, or the name as given.
    pub name: String,
    /// The Latin name; empty if none is known.
    pub latin: String,
    /// Whether the pack knows it. Of what it does not know it can say nothing.
    pub known: bool,
    /// Itself, if it is dangerous, and every dangerous look-alike, spoken against or not: the deadly first.
    pub dangers: Vec<Danger>,
}

/// Something dangerous that it may have been.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Danger {
    /// Its id in the pack.
    pub taxon: String,
    /// English name.
    pub name: String,
    /// Latin name.
    pub latin: String,
    /// Has killed.
    pub deadly: bool,
    /// What the pack says of its harm.
    pub harm: String,
    /// When signs begin, if a source says so.
    pub begins: Option<Begins>,
}

/// When signs begin.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Begins {
    /// The poison.
    pub poison: String,
    /// When.
    pub text: String,
    /// Who says so.
    pub sources: Vec<String>,
}

/// Makes the sheet of meals as they are on record, seen at `now`.
#[must_use]
pub fn sheet(pack: &Pack, help: &Help, meals: &[Asked], now: Moment) -> Sheet {
    let mut meals: Vec<MealSheet> = meals.iter().map(|meal| of_meal(pack, help, meal, now)).collect();
    meals.sort_by_key(|meal| (meal.at.is_some(), Reverse(meal.at)));
    let page = &help.page;
    Sheet { now, meals, unreviewed: (!page.reviewed).then(|| page.sheet_unreviewed.clone()) }
}

fn of_meal(pack: &Pack, help: &Help, meal: &Asked, now: Moment) -> MealSheet {
    let mut people = meal.people.clone();
    for person in &mut people {
        let first = person.first_sign.zip(meal.at).map(|(sign, at)| minutes(at, sign));
        person.delay_minutes = first.filter(|minutes| *minutes >= 0);
    }
    people.sort_by_key(|person| (person.feels != Feels::Ill, !person.child));
    MealSheet {
        at: meal.at,
        minutes_ago: meal.at.map(|at| minutes(at, now)).filter(|minutes| *minutes >= 0),
        what: meal.what.clone(),
        amount: meal.amount.clone(),
        prepared: meal.prepared.unwrap_or(Prepared::Unknown),
        alcohol: meal.alcohol.unwrap_or(Alcohol::Unknown),
        people,
        others: meal.others,
        left: meal.left.clone(),
        note: meal.note.clone(),
        also: meal.also.clone(),
        parts: meal.eaten.iter().map(|eaten| of_part(pack, help, eaten)).collect(),
    }
}

/// Whole minutes from one moment to another.
fn minutes(from: Moment, to: Moment) -> i64 {
    (to.millis() - from.millis()).div_euclid(60_000)
}

fn of_part(pack: &Pack, help: &Help, eaten: &Eaten) -> Part {
    let mut kinds: Vec<Kind> = Vec::new();
    for kind in eaten.names.iter().map(|name| of_name(pack, help, name)) {
        if !kinds.iter().any(|known| known.name == kind.name && known.latin == kind.latin) {
            kinds.push(kind);
        }
    }
    Part {
        find: eaten.find,
        gathered: eaten.gathered,
        grew: eaten.grew.clone(),
        photos: eaten.photos.clone(),
        kinds,
    }
}

fn of_name(pack: &Pack, help: &Help, name: &str) -> Kind {
    let Some(named) = pack.named(name) else {
        return Kind { name: name.to_owned(), latin: String::new(), known: false, dangers: Vec::new() };
    };
    let taxa: Vec<TaxonIndex> = if named.is_group {
        let group = (0_u16..).zip(pack.groups()).find(|(_, group)| group.id == named.id);
        group.map(|(at, _)| pack.members(crate::pack::GroupIndex(at)).collect()).unwrap_or_default()
    } else {
        pack.taxon_by_id(&named.id).into_iter().collect()
    };
    let others = taxa.iter().flat_map(|taxon| pack.lookalikes_of(*taxon)).map(|(other, _)| other);
    let mut all: Vec<TaxonIndex> = taxa.iter().copied().chain(others).collect();
    all.sort_unstable();
    all.dedup();
    let mut dangers: Vec<Danger> = all.into_iter().filter_map(|at| danger(pack, help, at)).collect();
    dangers.sort_by(|one, other| other.deadly.cmp(&one.deadly).then_with(|| one.name.cmp(&other.name)));
    Kind { name: named.english, latin: named.latin, known: true, dangers }
}

fn danger(pack: &Pack, help: &Help, at: TaxonIndex) -> Option<Danger> {
    let taxon = pack.taxon(at).filter(|taxon| taxon.standing.is_dangerous())?;
    let begins = help.course(&taxon.id).map(|course| Begins {
        poison: course.poison.clone(),
        text: course.begins.clone(),
        sources: help.sources_of(&course.source).map(|source| source.citation.clone()).collect(),
    });
    Some(Danger {
        taxon: taxon.id.clone(),
        name: pack.named_at(at).map(|named| named.english).unwrap_or_default(),
        latin: taxon.latin.clone(),
        deadly: taxon.standing == Standing::Deadly,
        harm: taxon.standing_statement.text.clone(),
        begins,
    })
}
