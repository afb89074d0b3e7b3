//! Manifests: a hash and a name a line, as `BagIt` has them.

use std::collections::BTreeMap;

use sha2::{Digest, Sha256, Sha512};

use super::Refused;
use super::name::Name;
use crate::change::hex;

/// Which hash a manifest is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Algorithm {
    Sha256,
    Sha512,
}

impl Algorithm {
    pub const ALL: [Self; 2] = [Self::Sha256, Self::Sha512];

    /// Figures of its hexadecimal text.
    fn figures(self) -> usize {
        match self {
            Self::Sha256 => 64,
            Self::Sha512 => 128,
        }
    }

    /// The manifest of the payload, and that of the tag files.
    pub fn files(self) -> [Name; 2] {
        match self {
            Self::Sha256 => [Name::Tag("manifest-sha256.txt"), Name::Tag("tagmanifest-sha256.txt")],
            Self::Sha512 => [Name::Tag("manifest-sha512.txt"), Name::Tag("tagmanifest-sha512.txt")],
        }
    }
}

/// What is hashed, both ways at once where both are asked for.
pub struct Hashes {
    short: Sha256,
    long: Option<Sha512>,
}

impl Hashes {
    pub fn new(long: bool) -> Self {
        Self { short: Sha256::new(), long: long.then(Sha512::new) }
    }

    pub fn take(&mut self, bytes: &[u8]) {
        self.short.update(bytes);
        if let Some(long) = &mut self.long {
            long.update(bytes);
        }
    }

    /// The texts of both.
    pub fn texts(self) -> Texts {
        Texts {
            short: hex(self.short.finalize().as_slice()),
            long: self.long.map(|long| hex(long.finalize().as_slice())),
        }
    }
}

/// The hashes of one file, as texts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Texts {
    short: String,
    long: Option<String>,
}

impl Texts {
    /// That of SHA-256.
    pub fn short(&self) -> &str {
        &self.short
    }

    /// Whether a file has the hash that a manifest gives it.
    pub fn fit(&self, algorithm: Algorithm, wanted: &str) -> bool {
        match algorithm {
            Algorithm::Sha256 => self.short == wanted,
            Algorithm::Sha512 => self.long.as_deref() == Some(wanted),
        }
    }
}

/// One line of a manifest.
pub fn line(hash: &str, name: Name) -> String {
    // None of our names holds a character that would have to be escaped.
    format!("{hash}  {name}\n")
}

/// Reads a manifest; every name must be one that may stand in a bundle.
pub fn read(text: &str, what: Name, algorithm: Algorithm) -> Result<BTreeMap<Name, String>, Refused> {
    let bad = |why| Refused::Bag { what: what.part(), why };
    let mut found = BTreeMap::new();
    for line in text.lines() {
        let (hash, name) = line.split_once([' ', '\t']).ok_or_else(|| bad("has a line without a name"))?;
        let name = name.trim_start_matches([' ', '\t']);
        // `md5sum` and its kin mark binary files with a star.
        let name = name.strip_prefix('*').unwrap_or(name);
        let name = Name::read(name).ok_or_else(|| bad("lists a name that does not belong in a bundle"))?;
        if hash.len() != algorithm.figures() || !hash.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(bad("has a hash that is none"));
        }
        if found.insert(name, hash.to_ascii_lowercase()).is_some() {
            return Err(bad("lists a file twice"));
        }
    }
    Ok(found)
}
