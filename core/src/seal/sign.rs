//! Signatures: which notebook wrote a bundle.
//!
//! Sealing proves nothing about the writer: anybody may seal to a public key. So the writer signs the text from which the
//! hash of everything in a bundle follows, with Ed25519 (RFC 8032), verified strictly: no weak keys, one signature a text.

use ed25519_dalek::{Signer, SigningKey, VerifyingKey};
use serde::{Deserialize, Serialize};

use super::key::PublicKey;

/// Stands before every text that is signed, so that no signature made for anything else is taken for one of these.
const PURPOSE: &str = "trug bundle 1\n";
const HEX: usize = 2 * ed25519_dalek::SIGNATURE_LENGTH;

/// Who signed, and the signature. In a bundle it is a file of JSON.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signature {
    /// The signer's key. That it is named here proves nothing: see [`verify`].
    pub key: PublicKey,
    /// Ed25519, 128 hex figures.
    pub ed25519: String,
}

impl Signature {
    pub(super) fn of(signs: &SigningKey, key: PublicKey, text: &str) -> Self {
        Self { key, ed25519: format!("{:x}", signs.sign(&signed(text))).to_lowercase() }
    }

    /// The key that it names made it, over exactly this text.
    #[must_use]
    pub fn holds(&self, text: &str) -> bool {
        let Some(bytes) = bytes(&self.ed25519) else { return false };
        let Ok(key) = VerifyingKey::from_bytes(&self.key.signing) else { return false };
        key.verify_strict(&signed(text), &ed25519_dalek::Signature::from_bytes(&bytes)).is_ok()
    }
}

fn signed(text: &str) -> Vec<u8> {
    [PURPOSE.as_bytes(), text.as_bytes()].concat()
}

fn bytes(hex: &str) -> Option<[u8; ed25519_dalek::SIGNATURE_LENGTH]> {
    if hex.len() != HEX {
        return None;
    }
    let mut bytes = [0; ed25519_dalek::SIGNATURE_LENGTH];
    for (byte, two) in bytes.iter_mut().zip(hex.as_bytes().chunks_exact(2)) {
        let figure =
            |figure: &u8| char::from(*figure).to_digit(16).and_then(|figure| u8::try_from(figure).ok());
        let [high, low] = two else { return None };
        *byte = figure(high)? << 4 | figure(low)?;
    }
    Some(bytes)
}

/// Which of those whom we trust signed this text; `None` if none of them did.
///
/// A key is known by its signing half: what else stands in the signature is not believed.
pub fn verify<'a, T>(
    text: &str,
    signature: &Signature,
    trusted: impl IntoIterator<Item = (&'a PublicKey, T)>,
) -> Option<T> {
    if !signature.holds(text) {
        return None;
    }
    trusted.into_iter().find(|(key, _)| key.signing == signature.key.signing).map(|(_, who)| who)
}
