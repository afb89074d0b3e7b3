//! From a folded record to a typed one, and from a typed one to the fields of an edit.

use std::collections::BTreeMap;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use crate::error::Error;
use crate::find::FieldError;
use crate::store::{Record, StoreError};

/// A record as shells see it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Kept<T> {
    /// What it says.
    #[serde(flatten)]
    pub value: T,
    /// Fields on which devices disagree: every differing value, the shown one first.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub disagreements: BTreeMap<String, Vec<Value>>,
    /// Fields whose value this version cannot read; they are kept.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub unreadable: Map<String, Value>,
    /// Marked as deleted.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub deleted: bool,
}

impl<T: DeserializeOwned + Default> Kept<T> {
    pub(super) fn from(record: &Record) -> Self {
        let mut fields = record.state.object();
        fields.remove(crate::change::DELETED);
        let (value, unreadable) = typed(fields);
        Self {
            value,
            unreadable,
            disagreements: record.state.disagreements(),
            deleted: record.state.deleted(),
        }
    }
}

/// Reads what can be read; a value that a later version put into a field of ours must not hide the other fields.
fn typed<T: DeserializeOwned + Default>(fields: Map<String, Value>) -> (T, Map<String, Value>) {
    if let Ok(value) = T::deserialize(&fields) {
        return (value, Map::new());
    }
    let reads = |(field, value): &(String, Value)| {
        let alone = Map::from_iter([(field.clone(), value.clone())]);
        serde_json::from_value::<T>(Value::Object(alone)).is_ok()
    };
    let (good, bad): (Vec<_>, Vec<_>) = fields.into_iter().partition(reads);
    let value = serde_json::from_value(Value::Object(good.into_iter().collect())).unwrap_or_default();
    (value, bad.into_iter().collect())
}

/// The fields that a record sets.
pub(super) fn fields(value: &impl Serialize) -> Result<Map<String, Value>, Error> {
    match serde_json::to_value(value) {
        Ok(Value::Object(fields)) => Ok(fields),
        Ok(_) => Ok(Map::new()),
        Err(error) => Err(Error::View(StoreError::Unreadable(error))),
    }
}

/// What an amendment comes to: the fields that are news, and the record as it will be; `None` if nothing is.
pub(super) fn amended<T: DeserializeOwned + Default>(
    record: &Record,
    set: &Map<String, Value>,
) -> Option<(Map<String, Value>, T)> {
    let mut fields = record.state.object();
    let news = |(field, value): &(&String, &Value)| fields.get(*field).unwrap_or(&Value::Null) != *value;
    let set: Map<String, Value> =
        set.iter().filter(news).map(|(field, value)| (field.clone(), value.clone())).collect();
    fields.extend(set.clone());
    fields.retain(|_, value| !value.is_null());
    fields.remove(crate::change::DELETED);
    (!set.is_empty()).then(|| (set, typed(fields).0))
}

/// Adds the fields that are to be emptied; what is set stays set.
pub(super) fn emptied(
    mut set: Map<String, Value>,
    empty: &[String],
    what: &str,
    known: &[&'static str],
) -> Result<Map<String, Value>, Error> {
    for field in empty {
        let Some(field) = known.iter().find(|known| *known == field) else {
            let why = format!("no field of this {what}: choose from {}", known.join(", "));
            return Err(FieldError { field: "empty", why }.into());
        };
        set.entry(*field).or_insert(Value::Null);
    }
    Ok(set)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::find::{Find, Ground};
    use serde_json::json;

    #[test]
    fn a_value_of_a_later_version_does_not_hide_the_rest() {
        let Value::Object(fields) = json!({"ground": "loess", "seen": 3, "aura": 1}) else { panic!() };
        let (find, unreadable) = typed::<Find>(fields);
        assert_eq!(find.seen.map(crate::find::Count::least), Some(3));
        assert_eq!(find.ground, None::<Ground>);
        assert_eq!(find.further.get("aura"), Some(&json!(1)));
        assert_eq!(unreadable.get("ground"), Some(&json!("loess")));
    }
}
