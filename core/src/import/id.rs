//! Ids of what is read from files: the same content has the same id.
//!
//! So a file that is read twice adds nothing, on whichever of the owner's devices it is read; and what was renamed, moved or deleted since is
//! known again and left as it is. Such ids never leave: copies for somebody else have new ones.

use sha2::{Digest, Sha256};

use crate::id::{RecordId, from_hash};

/// The id of a record of this kind with these parts.
#[must_use]
pub fn id_of(kind: &str, parts: &[&str]) -> RecordId {
    let mut hash = Sha256::new();
    for part in [&[kind], parts].concat() {
        // The length first, so that no two parts run into one another.
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part);
    }
    RecordId(from_hash(hash.finalize()))
}
