//! Whether the values of a change from elsewhere can be what their fields are, for the kinds that this version knows.

use serde::de::DeserializeOwned;
use serde::de::value::MapDeserializer;
use serde_json::{Map, Value};

use super::kind;
use super::peers::Peer;
use super::session::Session;
use crate::area::Area;
use crate::change::{Change, DELETED};
use crate::export::Copied;
use crate::find::{Determination, Find, Photo};
use crate::meal::{Meal, Person};
use crate::outing::Outing;
use crate::patch::{Patch, Visit};

/// Unknown kinds and fields are readable: they are kept as they are.
pub(super) fn is_readable(change: &Change) -> bool {
    let reads = match change.kind.as_str() {
        kind::FIND => reads::<Find>,
        kind::OUTING => reads::<Outing>,
        kind::DETERMINATION => reads::<Determination>,
        kind::PHOTO => reads::<Photo>,
        kind::PATCH => reads::<Patch>,
        kind::VISIT => reads::<Visit>,
        kind::AREA => reads::<Area>,
        kind::COPY => reads::<Copied>,
        kind::PEER => reads::<Peer>,
        kind::SESSION => reads::<Session>,
        kind::MEAL => reads::<Meal>,
        kind::PERSON => reads::<Person>,
        _ => |_: &Map<String, Value>| true,
    };
    let is_mark = |value: &Value| value.is_boolean() || value.is_null();
    change.set.get(DELETED).is_none_or(is_mark) && reads(&change.set)
}

fn reads<T: DeserializeOwned>(set: &Map<String, Value>) -> bool {
    let given = set.iter().filter(|(field, value)| *field != DELETED && !value.is_null());
    let given = given.map(|(field, value)| (field.as_str(), value));
    T::deserialize(MapDeserializer::<_, serde_json::Error>::new(given)).is_ok()
}
