//! Ids of records and devices: `UUIDv7`, so that they sort by the time they were made; `UUIDv8` where they follow from a content.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;
use serde::{Deserialize, Serialize};
use uuid::{Builder, Uuid};

/// A text that is not an id.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("not an id: copy the 36 characters that a list shows, or its first 8 or more")]
pub struct NotAnId;

/// An id that follows from a hash: its first 16 bytes as a `UUIDv8` (RFC 9562 §5.8).
pub(crate) fn from_hash(hash: impl IntoIterator<Item = u8>) -> Uuid {
    let mut bytes = [0; 16];
    for (to, from) in bytes.iter_mut().zip(hash) {
        *to = from;
    }
    Builder::from_custom_bytes(bytes).into_uuid()
}

impl RecordId {
    /// The day on which the id was made, in UTC; `None` if it does not say.
    #[must_use]
    pub fn made(self) -> Option<Date> {
        let (seconds, nanos) = self.0.get_timestamp()?.to_unix();
        let made = Timestamp::new(i64::try_from(seconds).ok()?, i32::try_from(nanos).ok()?).ok()?;
        Some(Offset::UTC.to_datetime(made).date())
    }
}

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl $name {
            /// A new id, unlike any other.
            #[must_use]
            #[allow(clippy::new_without_default)]
            pub fn new() -> Self {
                Self(Uuid::now_v7())
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)
            }
        }

        impl std::str::FromStr for $name {
            type Err = NotAnId;
            fn from_str(text: &str) -> Result<Self, NotAnId> {
                Uuid::parse_str(text).map(Self).map_err(|_| NotAnId)
            }
        }
    };
}

id!(
    /// Any record, whatever its kind.
    RecordId
);
id!(
    /// One notebook folder on one device.
    DeviceId
);

macro_rules! record_id {
    ($(#[$doc:meta])* $name:ident) => {
        id!($(#[$doc])* $name);

        impl From<$name> for RecordId {
            fn from(id: $name) -> Self {
                Self(id.0)
            }
        }

        impl From<RecordId> for $name {
            fn from(id: RecordId) -> Self {
                Self(id.0)
            }
        }
    };
}

record_id!(
    /// An outing.
    OutingId
);
record_id!(
    /// A find.
    FindId
);
record_id!(
    /// A name given to a find.
    DeterminationId
);
record_id!(
    /// A photo of a find: the record, not the file.
    PhotoId
);
record_id!(
    /// A patch.
    PatchId
);
record_id!(
    /// Advice that was given.
    AdviceId
);
record_id!(
    /// A house rule.
    RuleId
);
record_id!(
    /// An area.
    AreaId
);
record_id!(
    /// A choice of codes.
    ChoiceId
);
record_id!(
    /// What the key assumes of its observer.
    ObserverId
);
record_id!(
    /// A look at a patch.
    VisitId
);
record_id!(
    /// A meal.
    MealId
);
record_id!(
    /// Somebody who ate.
    PersonId
);
record_id!(
    /// A paired device.
    PeerId
);
