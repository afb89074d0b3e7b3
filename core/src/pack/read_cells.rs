//! Reading the cells of a taxon: one line a character.

use std::collections::HashMap;

use super::fields::{Fields, Value};
use super::model::{Cell, Character, CharacterIndex, Condition, Frequency, Kind, Seen, Sources, StatesCell};
use super::range::NotARange;
use super::read::{Known, cited, sources_of};
use super::read_characters::StateNames;

const FREQUENCIES: [(&str, Frequency); 3] =
    [("usual", Frequency::Usual), ("sometimes", Frequency::Sometimes), ("rare", Frequency::Rare)];

/// Remarks on single cells.
type Notes = Vec<(CharacterIndex, String)>;

/// Reads one cell for each character, in their order, and the remarks on them.
pub(super) fn row(
    cells: Vec<(String, Value<'_, '_>)>,
    known: &Known,
    characters: &[Character],
) -> (Vec<Cell>, Notes) {
    let mut given = HashMap::new();
    for (id, value) in cells {
        match known.characters.get(&id) {
            Some(at) => _ = given.insert(at, value),
            None => value
                .problem("unknown-id", format!("there is no character `{id}`{}", known.characters.hint(&id))),
        }
    }
    let (mut row, mut notes) = (Vec::with_capacity(characters.len()), Notes::new());
    for ((at, character), names) in (0..).zip(characters).zip(&known.states) {
        let applies = character.applies_if.iter().all(|condition| holds(condition, &row));
        let cell = match (given.remove(&at), applies) {
            (Some(value), false) => {
                value.problem(
                    "not-applicable",
                    format!("`{}` does not apply here: see its `applies_if`", character.id),
                );
                Cell::NotApplicable
            }
            (None, false) => Cell::NotApplicable,
            (None, true) => Cell::Unknown,
            (Some(value), true) => {
                let (cell, note) =
                    value.fields().map(|fields| cell(fields, character, names, known)).unwrap_or_default();
                notes.extend(note.map(|note| (CharacterIndex(at), note)));
                cell
            }
        };
        row.push(cell);
    }
    (row, notes)
}

/// Whether the row so far shows any of the states that a condition asks for.
fn holds(condition: &Condition, row: &[Cell]) -> bool {
    match row.get(condition.character.get()) {
        Some(Cell::States(cell)) => condition.states.iter().any(|state| cell.shows(*state)),
        _ => false,
    }
}

fn cell(
    mut fields: Fields<'_, '_>,
    character: &Character,
    names: &StateNames,
    known: &Known,
) -> (Cell, Option<String>) {
    let cell =
        match character.kind {
            Kind::States => Cell::States(states(&mut fields, character, names, known)),
            Kind::Millimetres => range(&mut fields, known)
                .map_or(Cell::Unknown, |(range, sources)| Cell::Number(range, sources)),
            Kind::Month => range(&mut fields, known)
                .map_or(Cell::Unknown, |(range, sources)| Cell::Months(range, sources)),
        };
    let note = fields.optional_text("note");
    fields.finish();
    (cell, note)
}

fn range<R: std::str::FromStr<Err = NotARange>>(
    fields: &mut Fields<'_, '_>,
    known: &Known,
) -> Option<(R, Sources)> {
    let value = fields.required("range");
    let sources = sources_of(fields, known);
    let value = value?;
    match value.text()?.parse() {
        Ok(range) => Some((range, sources)),
        Err(error) => {
            value.problem("bad-range", error.to_string());
            None
        }
    }
}

fn states(
    fields: &mut Fields<'_, '_>,
    character: &Character,
    names: &StateNames,
    known: &Known,
) -> StatesCell {
    let levels: Vec<_> = FREQUENCIES
        .into_iter()
        .filter_map(|(key, frequency)| Some((frequency, fields.optional(key)?)))
        .collect();
    if levels.is_empty() {
        fields.problem("missing-field", "a cell needs `usual`, `sometimes` or `rare`");
    }
    let shared = if levels.iter().all(|(_, level)| level.is_table()) {
        Sources::default()
    } else {
        sources_of(fields, known)
    };
    let mut cell = StatesCell { states: vec![None; character.states.len()].into() };
    let mut sets = Vec::new();
    for (frequency, level) in levels {
        for (id, place, sources) in listed(level, &shared, known) {
            let seen = Seen { frequency, sources };
            match (names.states.get(&id), names.sets.get(&id)) {
                (Some(at), _) => match cell.states.get_mut(usize::from(at)) {
                    Some(free @ None) => *free = Some(seen),
                    _ => place.problem("duplicate-id", format!("the state `{id}` stands in this cell twice")),
                },
                (None, Some(set)) => sets.push((set, seen)),
                (None, None) => {
                    let hint = names.states.hint(&id);
                    place.problem("unknown-id", format!("`{}` has no state `{id}`{hint}", character.id));
                }
            }
        }
    }
    // A state named outright wins over the sets that hold it, and a more frequent set over a rarer one.
    for (set, seen) in sets {
        for state in set {
            if let Some(free @ None) = cell.states.get_mut(state.get()) {
                *free = Some(seen.clone());
            }
        }
    }
    cell
}

/// The states of one level, each with its sources: its own, or those of the whole cell.
fn listed<'d, 'i>(
    level: Value<'d, 'i>,
    shared: &Sources,
    known: &Known,
) -> Vec<(String, Value<'d, 'i>, Sources)> {
    if !level.is_table() {
        return level.texts().into_iter().map(|(id, place)| (id, place, shared.clone())).collect();
    }
    let own = level.fields().map(Fields::named).unwrap_or_default();
    own.into_iter().map(|(id, sources)| (id, sources.place(), cited(sources, known))).collect()
}
