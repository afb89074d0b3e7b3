//! Ids of what is read from files: the same content has the same id.
//!
//! So a file that is read twice adds nothing, on whichever of the owner's devices it is read; and what was renamed, moved or deleted since is
//! known again and left as it is. Such ids never leave: copies for somebody else have new ones.

use sha2::{Digest, Sha256};
use uuid::{Builder, Uuid};

use crate::id::RecordId;

/// The id of a record of this kind with these parts.
///
/// # References
/// RFC 9562 §5.8 (`UUIDv8`). Where `UUIDv7` has its time there are noughts, so that what was marked elsewhere sorts before what was made
/// here; the other 74 bits are SHA-256's.
#[must_use]
pub fn id_of(kind: &str, parts: &[&str]) -> RecordId {
    let mut hash = Sha256::new();
    for part in [&[kind], parts].concat() {
        // The length first, so that no two parts run into one another.
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part);
    }
    let hash = hash.finalize();
    let mut bytes = [0; 16];
    for (to, from) in bytes.iter_mut().skip(6).zip(hash) {
        *to = from;
    }
    RecordId(id(bytes))
}

fn id(bytes: [u8; 16]) -> Uuid {
    Builder::from_custom_bytes(bytes).into_uuid()
}
