//! A copy field by field, as text: what its owner is shown before it leaves.

use serde::Serialize;
use serde_json::Value;

/// A field of what leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// Its name in the file; `place.square` is the square within the place.
    pub field: String,
    /// What it says.
    pub value: String,
}

/// Every field of a copy or a waypoint that says something, in their order. They are those that are written: a field that is
/// added to what leaves is told here too, without anybody thinking of it.
#[must_use]
pub fn told(leaves: &impl Serialize) -> Vec<Told> {
    let mut fields = Vec::new();
    // What cannot be written as JSON does not leave either: writing it fails.
    let value = serde_json::to_value(leaves).unwrap_or_default();
    tell(String::new(), &value, &mut fields);
    fields
}

fn tell(field: String, value: &Value, into: &mut Vec<Told>) {
    let within = |part: &str| if field.is_empty() { part.to_owned() } else { format!("{field}.{part}") };
    match value {
        Value::Null => {}
        Value::Object(parts) => parts.iter().for_each(|(part, value)| tell(within(part), value, into)),
        plain => into.push(Told { field, value: written(plain) }),
    }
}

/// A range is written as its ends.
fn written(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Array(ends) => ends.iter().map(written).collect::<Vec<_>>().join("–"),
        number_or_truth => number_or_truth.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::{Copied, SharedPlace};
    use crate::find::{Count, Host, Sure};

    #[test]
    fn everything_that_stands_in_a_copy_is_told_by_the_name_of_its_field() {
        let copy = Copied {
            host: Some(Host { tree: "elder".into(), sure: Sure::Likely }),
            place: Some(SharedPlace {
                latitude: 50.943_21,
                longitude: -1.5,
                uncertainty_m: Some(7072.0),
                square: Some("SU31".into()),
            }),
            stages: Some([(crate::stage::Stage::Prime, 5)].into()),
            seen: Some(Count::between(5, 7).unwrap()),
            note: Some("under the old elder".into()),
            ..Copied::default()
        };
        let fields = told(&copy);
        let said = |name: &str| fields.iter().find(|one| one.field == name).map(|one| one.value.as_str());
        assert_eq!(said("place.square"), Some("SU31"));
        assert_eq!(said("place.latitude"), Some("50.94321"));
        assert_eq!((said("host.tree"), said("host.sure")), (Some("elder"), Some("likely")));
        assert_eq!((said("stages.prime"), said("note")), (Some("5"), Some("under the old elder")));
        assert_eq!((said("seen"), said("time")), (Some("5–7"), None));
        // Nothing that is written is left untold: what is told, laid end to end, holds every value of the written form.
        let written = serde_json::to_string(&copy).unwrap();
        assert_eq!(written.matches(':').count() - written.matches(":{").count(), fields.len());
    }
}
