//! Reading `signs.toml`, and the `[condition]` of a taxon.

use crate::stage::Stage;

use super::fields::{Fields, Value};
use super::model::StateIndex;
use super::read::{Known, sources_of};
use super::read_characters::{StateNames, conditions, new_id};
use super::signs::{FORM, Handling, Life, Maturity, OwnSign, Sign, SignIndex, Size, Span};

const STAGES: [(&str, Stage); 4] =
    [("button", Stage::Button), ("young", Stage::Young), ("prime", Stage::Prime), ("past", Stage::Past)];

const HANDLINGS: [(&str, Handling); 5] = [
    ("glance", Handling::Glance),
    ("turn over", Handling::TurnOver),
    ("touch", Handling::Touch),
    ("smell", Handling::Smell),
    ("cut", Handling::Cut),
];

const SAY: &str = "say what it means: `stage`, or both `from` and `to`";

/// The longest fruitbody, in millimetres.
const LONGEST: f64 = 2000.0;

/// Reads the stages of each form, and all signs.
pub(super) fn read(fields: &mut Fields<'_, '_>, known: &mut Known) -> (Vec<Life>, Vec<Sign>) {
    let tables = fields.tables("sign");
    let lives = fields.required("stages").and_then(Value::fields).map(Fields::named).unwrap_or_default();
    let Some(forms) = forms(known) else {
        fields.problem("unknown-id", "signs need the character `form` in characters.toml");
        return Default::default();
    };
    let lives = lives.into_iter().filter_map(|(form, stages)| life(&form, stages, forms)).collect();
    let signs = tables.into_iter().filter_map(|table| sign(table, known)).collect();
    (lives, signs)
}

/// The names of all forms.
fn forms(known: &Known) -> Option<&StateNames> {
    known.states.get(usize::from(known.characters.get(FORM)?))
}

/// `None` if it has no id of its own, by which finds could speak of it.
fn sign(mut fields: Fields<'_, '_>, known: &mut Known) -> Option<Sign> {
    let id = new_id(&mut fields, &mut known.signs)?;
    let on = fields.optional("forms").zip(forms(known));
    let sign = Sign {
        id,
        text: fields.text("text"),
        forms: on.map(|(value, forms)| listed(value, forms)).unwrap_or_default(),
        applies_if: conditions(&mut fields, known),
        span: required_span(&mut fields),
        handling: fields
            .required("effort")
            .and_then(|effort| effort.word(&HANDLINGS))
            .unwrap_or(Handling::Glance),
        sources: sources_of(&mut fields, known),
    };
    fields.finish();
    Some(sign)
}

fn life(form: &str, stages: Value<'_, '_>, forms: &StateNames) -> Option<Life> {
    let Some(at) = forms.states.get(form) else {
        stages.problem("unknown-id", format!("`form` has no state `{form}`{}", forms.states.hint(form)));
        return None;
    };
    let place = stages.place();
    let stages: Vec<Stage> = stages.list().into_iter().filter_map(|stage| stage.word(&STAGES)).collect();
    if !stages.is_sorted_by(|one, next| one < next) {
        place.problem("bad-range", "write each stage once, the youngest first");
    }
    Some(Life { form: StateIndex(at), stages })
}

/// Forms and sets of forms.
fn listed(value: Value<'_, '_>, forms: &StateNames) -> Vec<StateIndex> {
    let mut all = Vec::new();
    for (id, place) in value.texts() {
        match (forms.states.get(&id), forms.sets.get(&id)) {
            (Some(at), _) => all.push(StateIndex(at)),
            (None, Some(set)) => all.extend(set),
            (None, None) => {
                let hint = forms.states.hint(&id);
                place.problem("unknown-id", format!("`form` has no state or set `{id}`{hint}"));
            }
        }
    }
    all.sort();
    all.dedup();
    all
}

fn required_span(fields: &mut Fields<'_, '_>) -> Span {
    span(fields).unwrap_or_else(|| {
        fields.problem("missing-field", SAY);
        Span::only(Stage::Past)
    })
}

/// `stage`, `from` and `to`; the ends are those of the stage where they are left out. `None` if none of them is there.
fn span(fields: &mut Fields<'_, '_>) -> Option<Span> {
    let [says, from, to] = ["stage", "from", "to"].map(|key| fields.optional(key));
    if says.is_none() && from.is_none() && to.is_none() {
        return None;
    }
    if says.is_none() && (from.is_none() || to.is_none()) {
        fields.problem("missing-field", SAY);
    }
    let [says, from, to] = [says, from, to].map(|it| it.map(|stage| stage.word(&STAGES)));
    // A word that is no stage has been told already, and stands for anything.
    let slip = [says, from, to].contains(&Some(None));
    let [says, from, to] = [says, from, to].map(Option::flatten);
    let span =
        Span { says, from: from.or(says).unwrap_or(Stage::Button), to: to.or(says).unwrap_or(Stage::Past) };
    let middle = says.unwrap_or(span.from);
    if !slip && (span.from > middle || middle > span.to) {
        fields.problem("bad-range", "`from`, `stage` and `to` must follow each other, the youngest first");
    }
    Some(span)
}

/// Reads `[condition]`.
pub(super) fn maturity(mut fields: Fields<'_, '_>, known: &Known, signs: &[Sign]) -> Maturity {
    let size = |value: Value<'_, '_>| value.fields().and_then(|fields| size(fields, known));
    let own = fields.optional("signs").and_then(Value::fields).map(Fields::named).unwrap_or_default();
    let maturity = Maturity {
        width: fields.optional("width").and_then(size),
        height: fields.optional("height").and_then(size),
        signs: own.into_iter().filter_map(|(id, value)| own_sign(&id, value, known, signs)).collect(),
    };
    fields.finish();
    maturity
}

fn size(mut fields: Fields<'_, '_>, known: &Known) -> Option<Size> {
    let button_below = fields.optional("button_below").and_then(|value| millimetres(&value));
    let taken_from = fields.required("taken_from").and_then(|value| millimetres(&value));
    let (note, sources) = (fields.optional_text("note"), sources_of(&mut fields, known));
    if button_below > taken_from && taken_from.is_some() {
        fields.problem(
            "bad-range",
            "`button_below` is above `taken_from`: a button is smaller than what is taken",
        );
    }
    fields.finish();
    Some(Size { button_below, taken_from: taken_from?, note, sources })
}

fn millimetres(value: &Value<'_, '_>) -> Option<f64> {
    let number = value.number()?;
    if number > 0.0 && number <= LONGEST {
        return Some(number);
    }
    value.problem(
        "bad-number",
        format!("{number} is out of range: give millimetres above 0, up to {LONGEST}"),
    );
    None
}

fn own_sign(id: &str, value: Value<'_, '_>, known: &Known, signs: &[Sign]) -> Option<OwnSign> {
    let Some(at) = known.signs.get(id) else {
        value.problem("unknown-id", format!("there is no sign `{id}`{}", known.signs.hint(id)));
        return None;
    };
    let mut fields = value.fields()?;
    let usual = signs.get(usize::from(at)).map(|sign| sign.span);
    let own = OwnSign {
        sign: SignIndex(at),
        text: fields.optional_text("text"),
        span: span(&mut fields).or(usual)?,
        note: fields.optional_text("note"),
        sources: sources_of(&mut fields, known),
    };
    fields.finish();
    Some(own)
}
