//! Reading `characters.toml`.

use std::collections::HashMap;

use super::fields::{Fields, Value};
use super::model::{
    Character, CharacterIndex, Condition, Effort, Family, FamilyIndex, Kind, State, StateIndex,
};
use super::names::{Names, is_id};
use super::read::{Known, named, resolve};

const EFFORTS: [(&str, Effort); 8] = [
    ("glance", Effort::Glance),
    ("turn over", Effort::TurnOver),
    ("smell", Effort::Smell),
    ("cut", Effort::Cut),
    ("dig out", Effort::DigOut),
    ("lens", Effort::Lens),
    ("spore print", Effort::SporePrint),
    ("microscope", Effort::Microscope),
];

const KINDS: [(&str, Kind); 3] =
    [("states", Kind::States), ("number", Kind::Millimetres), ("month", Kind::Month)];

/// The names that a cell of one character may use: its states, and sets of them.
#[derive(Default)]
pub(super) struct StateNames {
    pub states: Names,
    pub sets: HashMap<String, Vec<StateIndex>>,
}

/// Reads families and characters.
pub(super) fn read(fields: &mut Fields<'_, '_>, known: &mut Known) -> (Vec<Family>, Vec<Character>) {
    let mut families = Vec::new();
    for (id, label) in
        fields.required("families").and_then(Value::fields).map(Fields::named).unwrap_or_default()
    {
        known.families.add(&id);
        families.push(Family { id, label: label.text().unwrap_or_default() });
    }
    let tables = fields.tables("character");
    if tables.is_empty() {
        fields.problem("missing-field", "a pack needs at least one [[character]]");
    }
    let characters = tables.into_iter().filter_map(|table| character(table, known)).collect();
    (families, characters)
}

/// `None` if it has no id of its own, by which cells could speak of it.
fn character(mut fields: Fields<'_, '_>, known: &mut Known) -> Option<Character> {
    let id = new_id(&mut fields, &mut known.characters)?;
    let kind = fields.optional("kind").and_then(|kind| kind.word(&KINDS)).unwrap_or(Kind::States);
    let (mut states, mut names) = (Vec::new(), StateNames::default());
    match kind {
        Kind::States => (states, names) = read_states(&mut fields),
        Kind::Millimetres => _ = fields.required("unit").and_then(|unit| unit.word(&[("mm", ())])),
        Kind::Month => {}
    }
    let character = Character {
        id,
        label: fields.text("label"),
        question: fields.text("question"),
        help: fields.optional_text("help"),
        kind,
        effort: fields.required("effort").and_then(|effort| effort.word(&EFFORTS)).unwrap_or(Effort::Glance),
        misread: fields.required("misread").and_then(|misread| chance(&misread)).unwrap_or_default(),
        family: FamilyIndex(named(fields.required("family"), &known.families, "family").unwrap_or_default()),
        applies_if: conditions(&mut fields, known),
        separator: flag(&mut fields, "separator", true),
        spore_colour: flag(&mut fields, "spore_colour", false),
        states,
    };
    known.states.push(names);
    fields.finish();
    Some(character)
}

fn read_states(fields: &mut Fields<'_, '_>) -> (Vec<State>, StateNames) {
    let mut names = StateNames::default();
    let values = fields.required("states").map(Value::list).unwrap_or_default();
    let states: Vec<State> = values
        .into_iter()
        .filter_map(Value::fields)
        .filter_map(|table| state(table, &mut names.states))
        .collect();
    if states.len() < 2 {
        fields.problem("missing-field", "`states` needs at least two states");
    }
    for (set, members) in
        fields.optional("sets").and_then(Value::fields).map(Fields::named).unwrap_or_default()
    {
        if names.states.get(&set).is_some() {
            members.problem("duplicate-id", format!("`{set}` is a state already"));
        }
        let members = resolve(members.texts(), &names.states, "state").into_iter().map(StateIndex).collect();
        names.sets.insert(set, members);
    }
    (states, names)
}

fn state(mut fields: Fields<'_, '_>, names: &mut Names) -> Option<State> {
    let id = new_id(&mut fields, names)?;
    let (label, figure) = (fields.text("label"), fields.optional_text("figure"));
    let separator = flag(&mut fields, "separator", true);
    fields.finish();
    Some(State { id, label, figure, separator })
}

/// `{ other = ["state", …] }`: only characters above can be named, so that conditions never run in a circle.
pub(super) fn conditions(fields: &mut Fields<'_, '_>, known: &Known) -> Vec<Condition> {
    let mut all = Vec::new();
    for (id, states) in
        fields.optional("applies_if").and_then(Value::fields).map(Fields::named).unwrap_or_default()
    {
        let found = known.characters.get(&id);
        let (Some(at), Some(names)) = (found, found.and_then(|at| known.states.get(usize::from(at)))) else {
            let hint = known.characters.hint(&id);
            states.problem("unknown-id", format!("there is no character `{id}` above this one{hint}"));
            continue;
        };
        let states = resolve(states.texts(), &names.states, "state").into_iter().map(StateIndex).collect();
        all.push(Condition { character: CharacterIndex(at), states });
    }
    all
}

pub(super) fn new_id(fields: &mut Fields<'_, '_>, names: &mut Names) -> Option<String> {
    let value = fields.required("id")?;
    let id = value.text()?;
    if !is_id(&id) {
        value.problem("bad-id", format!("`{id}` is not an id: write lower-case words joined by hyphens"));
        return None;
    }
    if names.add(&id).is_none() {
        value.problem("duplicate-id", format!("`{id}` stands here twice"));
        return None;
    }
    Some(id)
}

fn chance(value: &Value<'_, '_>) -> Option<f64> {
    let chance = value.number()?;
    if (0.0..=0.5).contains(&chance) {
        return Some(chance);
    }
    value.problem("bad-number", format!("{chance} is out of range: a chance of misreading is from 0 to 0.5"));
    None
}

pub(super) fn flag(fields: &mut Fields<'_, '_>, key: &'static str, default: bool) -> bool {
    fields.optional(key).and_then(|value| value.flag()).unwrap_or(default)
}
