//! Sealing: files that only their readers can open, and signatures that tell who wrote them.
//!
//! A sealed file is an ordinary age file, sealed to a passphrase or to keys: any program that knows age opens it, and what
//! such a program sealed opens here, armoured or not. age tells nobody who wrote a file, so a notebook also signs:
//!
//! - one [`Identity`] a notebook, one secret, in a file that any age program takes as it is;
//! - its public half, [`PublicKey`], is one line of text to hand over: an X25519 key to seal to and an Ed25519 key to know
//!   its signatures by, with a checksum against slips and a fingerprint to compare by eye;
//! - [`Identity::sign`] and [`verify`] are over whatever text stands for a whole bundle.
//!
//! # References
//! The age format, version 1 (C2SP, `age.md`); RFC 8032 (Ed25519); RFC 2104 (HMAC); BIP 173 (Bech32).

mod error;
mod identity;
mod key;
mod plain;
mod sealing;
mod sign;
#[cfg(test)]
mod tests;
mod unsealing;

pub use error::SealError;
pub use identity::Identity;
pub use key::{NotAKey, PublicKey, Recipient};
pub use plain::{Plain, plain};
pub use sealing::{Passphrase, Sealer, To, seal};
pub use sign::{Signature, verify};
pub use unsealing::{Unsealed, With, is_sealed, unseal};
