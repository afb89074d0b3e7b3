//! What stands for everything that leaves, so that nothing else does: shown beforehand, and compared when it is written.

use std::collections::BTreeMap;
use std::fmt::Write;

use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::Album;
use crate::error::Error;
use crate::export::{Contents, Copied};
use crate::photo::Role;
use crate::store::StoreError;

/// Stands for what leaves: a hash over every copy without its id, each with the photos that go along, in an order of their own.
pub(super) fn mark(form: &str, contents: &Contents, album: &Album) -> Result<String, Error> {
    let mut photos: BTreeMap<Uuid, Vec<String>> = BTreeMap::new();
    for (picture, hash) in album.made_of() {
        let role = picture.role.map(Role::name);
        photos.entry(picture.of).or_default().push(format!("{hash} {:?} {role:?}", picture.format));
    }
    let mut parts = Vec::with_capacity(contents.len());
    match contents {
        Contents::Finds(copies) => {
            for copy in copies {
                let mut along = photos.remove(&copy.id).unwrap_or_default();
                along.sort_unstable();
                let nameless = Copied { id: Uuid::nil(), ..copy.clone() };
                parts.push(serde_json::to_string(&(nameless, along)).map_err(StoreError::from)?);
            }
        }
        Contents::Patches(points) => {
            for point in points {
                parts.push(serde_json::to_string(point).map_err(StoreError::from)?);
            }
        }
    }
    parts.sort_unstable();
    let mut hash = Sha256::new().chain_update(form);
    for part in parts {
        hash.update([b'\n']);
        hash.update(part);
    }
    Ok(hash.finalize().iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    }))
}
