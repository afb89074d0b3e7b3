//! A notebook's own key pair, in a file that any age program takes as an identity.

use std::fmt;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use age::secrecy::{ExposeSecret, SecretString};
use ed25519_dalek::SigningKey;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;
use zeroize::Zeroizing;

use super::key::{HALF, PublicKey, read};
use super::{SealError, Signature};
use crate::change::hex;
use crate::disk;

/// No identity file is longer.
const LONGEST_FILE: u64 = 4096;

/// The key pair of one notebook: opens what is sealed to it, and signs.
///
/// There is one secret, the X25519 one. The Ed25519 secret follows from it by HMAC under a label of its own, so that one line
/// of text is all that there is to keep, and neither use of it tells anything about the other.
#[derive(Clone)]
pub struct Identity {
    pub(super) opens: age::x25519::Identity,
    signs: SigningKey,
}

impl fmt::Debug for Identity {
    /// Says nothing of the secret.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Identity(hidden)")
    }
}

impl Identity {
    /// A new one.
    ///
    /// # Errors
    /// [`SealError::IdentityDamaged`], which no secret drawn here can cause.
    pub fn draw() -> Result<Self, SealError> {
        Self::from_secret(age::x25519::Identity::generate())
    }

    fn from_secret(opens: age::x25519::Identity) -> Result<Self, SealError> {
        let seed = derived(&opens, b"trug signing key 1")?;
        Ok(Self { opens, signs: SigningKey::from_bytes(&seed) })
    }

    /// A name for something, always the same, that tells nobody else what it is a name of: 32 hex figures.
    ///
    /// # Errors
    /// As [`Identity::public`].
    pub fn name_for(&self, what: &str) -> Result<String, SealError> {
        let name = derived(&self.opens, format!("trug name 1\n{what}").as_bytes())?;
        Ok(hex(name.first_chunk::<16>().map_or(&[], |first| first.as_slice())))
    }

    /// The public half.
    ///
    /// # Errors
    /// [`SealError::IdentityDamaged`], which no key read here can cause.
    pub fn public(&self) -> Result<PublicKey, SealError> {
        let (_, sealing) = read(&self.opens.to_public().to_string()).ok_or(SealError::IdentityDamaged)?;
        let sealing = sealing.as_slice().try_into().map_err(|_| SealError::IdentityDamaged)?;
        Ok(PublicKey { sealing, signing: self.signs.verifying_key().to_bytes() })
    }

    /// Signs a text that stands for a whole bundle.
    ///
    /// # Errors
    /// As [`Identity::public`].
    pub fn sign(&self, text: &str) -> Result<Signature, SealError> {
        Ok(Signature::of(&self.signs, self.public()?, text))
    }

    /// Reads the file; `None` if there is none.
    ///
    /// # Errors
    /// [`SealError::IdentityDamaged`] if it holds no key, [`SealError::Disk`].
    pub fn read(path: &Path) -> Result<Option<Self>, SealError> {
        let mut text = Zeroizing::new(String::new());
        let read = File::open(path).and_then(|file| file.take(LONGEST_FILE).read_to_string(&mut text));
        match read {
            Ok(_) => Self::from_text(&text).map(Some),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) if error.kind() == io::ErrorKind::InvalidData => Err(SealError::IdentityDamaged),
            Err(error) => Err(SealError::Disk(error)),
        }
    }

    /// As a file has it: lines that begin with # are remarks, one line is the secret.
    fn from_text(text: &str) -> Result<Self, SealError> {
        let mut secrets =
            text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
        let (Some(secret), None) = (secrets.next(), secrets.next()) else {
            return Err(SealError::IdentityDamaged);
        };
        Self::from_secret(secret.parse().map_err(|_| SealError::IdentityDamaged)?)
    }

    /// Writes the file, whole or not at all, for its owner's eyes alone.
    ///
    /// # Errors
    /// [`SealError::Disk`].
    pub fn write(&self, path: &Path) -> Result<(), SealError> {
        let secret: SecretString = self.opens.to_string();
        let public = self.public()?;
        let written = disk::write_whole(path, |out| {
            writeln!(
                out,
                "# The key of one Trug notebook. Whoever has this file can read what is sealed to it, and write as it."
            )?;
            writeln!(out, "# public key: {}", public.age())?;
            writeln!(out, "{}", secret.expose_secret())
        });
        written.and_then(|()| for_the_owner_alone(path)).map_err(SealError::Disk)
    }
}

/// What follows from the secret under a label, and tells nothing of it: HMAC-SHA-256 (RFC 2104).
fn derived(secret: &age::x25519::Identity, label: &[u8]) -> Result<Zeroizing<[u8; HALF]>, SealError> {
    let text = secret.to_string();
    let (_, bytes) = read(text.expose_secret()).ok_or(SealError::IdentityDamaged)?;
    let bytes = Zeroizing::new(bytes);
    // A key shorter than a block of 64 bytes is filled up with noughts (RFC 2104 §2).
    let mut key = Zeroizing::new([0; 64]);
    for (to, from) in key.iter_mut().zip(bytes.iter()) {
        *to = *from;
    }
    let mut mac = <Hmac<Sha256> as KeyInit>::new((&*key).into());
    mac.update(label);
    Ok(Zeroizing::new(mac.finalize().into_bytes().into()))
}

#[cfg(unix)]
fn for_the_owner_alone(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    // Temporary files are made so already; this holds should that ever change.
    fs::set_permissions(path, fs::Permissions::from_mode(0o600))
}

#[cfg(not(unix))]
fn for_the_owner_alone(_path: &Path) -> io::Result<()> {
    Ok(())
}
