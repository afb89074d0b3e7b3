//! New ids for copies: they say nothing of the originals and link one recipient's copies to no other's.

use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;
use uuid::Uuid;

use crate::id::{RecordId, from_hash};

/// Length of an owner's secret.
pub const SECRET_BYTES: usize = 32;

/// Gives each original its new id for one recipient.
///
/// # References
/// RFC 2104 (HMAC) with SHA-256 (FIPS 180-4); the first 16 bytes as a `UUIDv8` (RFC 9562 §5.8).
#[derive(Clone)]
pub struct Ids(Hmac<Sha256>);

impl std::fmt::Debug for Ids {
    /// Says nothing of the secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Ids(hidden)")
    }
}

impl Ids {
    /// Ids under a secret: the owner's, with the recipient's name, so that they stay the same for that person; or one drawn
    /// for a single export, with none, so that they are new every time.
    #[must_use]
    pub fn new(secret: &[u8; SECRET_BYTES], recipient: &str) -> Self {
        // A key shorter than a block of 64 bytes is filled up with noughts (RFC 2104 §2).
        let mut key = [0; 64];
        for (to, from) in key.iter_mut().zip(secret) {
            *to = *from;
        }
        let mut mac = Hmac::<Sha256>::new(&key.into());
        // The length first, so that no name and id run into one another.
        mac.update(&(recipient.len() as u64).to_be_bytes());
        mac.update(recipient.as_bytes());
        Self(mac)
    }

    /// The new id of an original.
    #[must_use]
    pub fn of(&self, original: impl Into<RecordId>) -> Uuid {
        let mut mac = self.0.clone();
        mac.update(original.into().0.as_bytes());
        from_hash(mac.finalize().into_bytes())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::FindId;

    #[test]
    fn stable_for_one_recipient_and_strange_to_all_others() {
        let find = FindId::new();
        let (ours, other) = ([7; SECRET_BYTES], [8; SECRET_BYTES]);
        let id = Ids::new(&ours, "R.").of(find);
        assert_eq!(id, Ids::new(&ours, "R.").of(find));
        for another in [
            Ids::new(&ours, "S.").of(find),
            Ids::new(&other, "R.").of(find),
            Ids::new(&ours, "R.").of(FindId::new()),
        ] {
            assert_ne!(id, another);
        }
        assert_eq!(id.get_version_num(), 8);
    }

    /// Python 3.11: `hmac.new(bytes([7]*32), (2).to_bytes(8,'big') + b'R.' + bytes(range(16)), 'sha256').hexdigest()[:32]`,
    /// with version and variant set.
    #[test]
    fn the_standard_construction() {
        let original = FindId(Uuid::from_bytes(std::array::from_fn(|at| u8::try_from(at).unwrap())));
        assert_eq!(
            Ids::new(&[7; SECRET_BYTES], "R.").of(original).to_string(),
            "71a545bb-e323-8009-925e-c984af589e5d"
        );
    }
}
