//! From changes to state: pure, and blind to the order in which they come.
//!
//! A change beats another for a field if it names it in `replaces` and both set that field. What nobody beat is held: one
//! value in quiet times, several when devices wrote without knowledge of each other. All are shown, the highest
//! (stamp, device) first. Time only orders what is shown; it never makes a value disappear.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::{Change, ChangeId, DELETED};

/// A value and the change that set it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Held {
    /// The value; `null` means emptied.
    pub value: Value,
    /// Who set it.
    pub by: ChangeId,
}

/// What a record says, field by field, each with every value that nobody replaced, the highest first.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct State {
    /// Field to values; never an empty list.
    pub fields: BTreeMap<String, Vec<Held>>,
}

/// Folds the changes of **one** record.
#[must_use]
pub fn fold(changes: Vec<Change>) -> State {
    let mut beaten: BTreeSet<(String, ChangeId)> = BTreeSet::new();
    for change in changes.iter().filter(|change| !change.replaces.is_empty()) {
        for field in change.set.keys() {
            beaten.extend(change.replaces.iter().map(|old| (field.clone(), *old)));
        }
    }
    let mut fields: BTreeMap<String, Vec<Held>> = BTreeMap::new();
    for change in changes {
        let by = change.id();
        for (field, value) in change.set {
            let key = (field, by);
            if beaten.is_empty() || !beaten.contains(&key) {
                fields.entry(key.0).or_default().push(Held { value, by });
            }
        }
    }
    for held in fields.values_mut().filter(|held| held.len() > 1) {
        held.sort_by_key(|held| Reverse(held.by));
        held.dedup_by_key(|held| held.by); // the same change twice
    }
    State { fields }
}

impl State {
    /// The value shown for a field; `None` if never set or emptied.
    #[must_use]
    pub fn shown(&self, field: &str) -> Option<&Value> {
        self.fields.get(field)?.first().map(|held| &held.value).filter(|value| !value.is_null())
    }

    /// Marked as deleted.
    #[must_use]
    pub fn deleted(&self) -> bool {
        self.shown(DELETED).and_then(Value::as_bool).unwrap_or(false)
    }

    /// The changes that a new value for these fields would replace.
    #[must_use]
    pub fn seen<'a>(&self, fields: impl IntoIterator<Item = &'a String>) -> BTreeSet<ChangeId> {
        let held = fields.into_iter().filter_map(|field| self.fields.get(field)).flatten();
        held.map(|held| held.by).collect()
    }

    /// The record as one object: each field's shown value, emptied ones left out.
    #[must_use]
    pub fn object(&self) -> Map<String, Value> {
        let shown = self.fields.keys().filter_map(|field| Some((field.clone(), self.shown(field)?.clone())));
        shown.collect()
    }

    /// The fields on which devices disagree: every differing value, the shown one first.
    #[must_use]
    pub fn disagreements(&self) -> BTreeMap<String, Vec<Value>> {
        let differing = |held: &Vec<Held>| {
            let mut values: Vec<Value> = Vec::new();
            for one in held {
                if !values.contains(&one.value) {
                    values.push(one.value.clone());
                }
            }
            values
        };
        let all = self.fields.iter().map(|(field, held)| (field.clone(), differing(held)));
        all.filter(|(_, values)| values.len() > 1).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::Stamp;
    use super::*;
    use crate::id::{DeviceId, RecordId};
    use proptest::prelude::*;
    use serde_json::json;
    use uuid::Uuid;

    fn id(millis: i64, device: u128) -> ChangeId {
        ChangeId { stamp: Stamp::at(millis), device: DeviceId(Uuid::from_u128(device)) }
    }

    fn change(by: ChangeId, set: Value, replaces: &[ChangeId]) -> Change {
        let Value::Object(set) = set else { panic!("an object") };
        Change {
            kind: "find".into(),
            record: RecordId(Uuid::from_u128(7)),
            set,
            stamp: by.stamp,
            device: by.device,
            replaces: replaces.iter().copied().collect(),
            undoes: None,
            unasked: false,
            more: 0,
        }
    }

    #[test]
    fn replacing_wins_whatever_the_clocks_say() {
        let ahead = change(id(9_000_000, 1), json!({"taken": 3}), &[]);
        let later = change(id(10, 2), json!({"taken": 2}), &[ahead.id()]);
        let state = fold(vec![later, ahead]);
        assert_eq!(state.shown("taken"), Some(&json!(2)));
        assert!(state.disagreements().is_empty());
    }

    #[test]
    fn values_written_apart_are_both_kept_and_shown() {
        let first = change(id(1, 1), json!({"note": "a", "seen": 4}), &[]);
        let here = change(id(2, 1), json!({"note": "b"}), &[first.id()]);
        let there = change(id(3, 2), json!({"note": "c"}), &[first.id()]);
        let state = fold(vec![first, here, there]);
        assert_eq!(state.shown("note"), Some(&json!("c")));
        assert_eq!(state.disagreements(), [("note".to_owned(), vec![json!("c"), json!("b")])].into());
        assert_eq!(state.shown("seen"), Some(&json!(4)), "a field that nobody else set is not replaced");
    }

    #[test]
    fn the_same_value_twice_is_no_disagreement() {
        let state = fold(vec![
            change(id(1, 1), json!({"note": "a"}), &[]),
            change(id(2, 2), json!({"note": "a"}), &[]),
        ]);
        assert!(state.disagreements().is_empty());
    }

    #[test]
    fn an_edit_that_missed_the_deletion_does_not_bring_a_record_back() {
        let made = change(id(1, 1), json!({"note": "a"}), &[]);
        let gone = change(id(2, 1), json!({"deleted": true}), &[]);
        let edit = change(id(3, 2), json!({"note": "b"}), &[made.id()]);
        assert!(fold(vec![made.clone(), gone.clone(), edit]).deleted());
        let back = change(id(4, 1), json!({"deleted": false}), &[gone.id()]);
        assert!(!fold(vec![made, gone, back]).deleted());
    }

    /// Histories as devices write them: each change replaces some of those before it.
    fn histories() -> impl Strategy<Value = Vec<Change>> {
        let one =
            (0u128..3, 0i64..50, 0usize..3, prop::collection::vec(any::<prop::sample::Index>(), 0..3), 0..9);
        prop::collection::vec(one, 1..14).prop_map(|steps| {
            let mut made: Vec<Change> = Vec::new();
            for (n, (device, millis, field, seen, value)) in steps.into_iter().enumerate() {
                let by = ChangeId {
                    stamp: Stamp::from_bits((millis << 16) + i64::try_from(n).unwrap()),
                    ..id(0, device)
                };
                let replaces: Vec<_> =
                    seen.iter().filter(|_| !made.is_empty()).map(|s| s.get(&made).id()).collect();
                made.push(change(by, json!({ (["a", "b", "deleted"][field]): value }), &replaces));
            }
            made
        })
    }

    proptest! {
        #[test]
        fn order_and_repetition_do_not_matter(made in histories(), seed in any::<u64>()) {
            let mut shuffled = made.clone();
            shuffled.extend(made.iter().take(3).cloned());
            let n = shuffled.len();
            for i in 0..n {
                let j = usize::try_from(seed.rotate_left(u32::try_from(i).unwrap()) % u64::try_from(n).unwrap()).unwrap();
                shuffled.swap(i, j);
            }
            prop_assert_eq!(fold(made), fold(shuffled));
        }

        #[test]
        fn a_value_disappears_only_by_being_replaced(made in histories()) {
            let state = fold(made.clone());
            for change in &made {
                for field in change.set.keys() {
                    let held = state.fields.get(field).is_some_and(|held| held.iter().any(|h| h.by == change.id()));
                    let beaten = made.iter().any(|m| m.set.contains_key(field) && m.replaces.contains(&change.id()));
                    prop_assert_eq!(held, !beaten);
                }
            }
        }
    }
}
