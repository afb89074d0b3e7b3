//! The owner's other devices: this notebook's own key to hand over, and theirs to pair with.

use trug::notebook::PeerRecord;
use trug::seal::PublicKey;

use crate::{Book, TrugError};

/// A key as it is handed over and compared.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct KeyShown {
    /// One line of text, `trug1…`: what another device is given to pair with.
    pub text: String,
    /// Thirty figures to compare by eye or by telephone.
    pub fingerprint: String,
    /// The half that seals, as any age program takes it: `age1…`.
    pub age: String,
}

impl From<&PublicKey> for KeyShown {
    fn from(key: &PublicKey) -> Self {
        Self { text: key.to_string(), fingerprint: key.fingerprint(), age: key.age() }
    }
}

/// A device that this notebook is paired with, by itself or by way of another of them.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct PeerShown {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: String,
    /// Its key.
    pub key: Option<KeyShown>,
}

impl From<&PeerRecord> for PeerShown {
    fn from(peer: &PeerRecord) -> Self {
        Self {
            id: peer.id.to_string(),
            name: peer.name(),
            key: peer.peer.value.key.as_ref().map(KeyShown::from),
        }
    }
}

/// All devices of the owner.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct PeersPage {
    /// This notebook's own key.
    pub own: KeyShown,
    /// The others.
    pub peers: Vec<PeerShown>,
}

#[uniffi::export]
impl Book {
    /// This notebook's own key, and the devices that it is paired with.
    ///
    /// # Errors
    /// `identity-damaged`, `paused`, `view`.
    pub fn peers(&self) -> Result<PeersPage, TrugError> {
        let peers = self.notebook.peers()?.iter().map(PeerShown::from).collect();
        Ok(PeersPage { own: (&self.notebook.own_key()?).into(), peers })
    }

    /// Pairs with another device of the owner's, which has to do the same with this one's key. Pairing again renames it. Blanks and
    /// line ends within the key are what messages make of a long line, and are passed over.
    ///
    /// # Errors
    /// `not-a-key` for a text that is none, `seals-only` for one that cannot sign; `field` for this notebook's own key, or a name
    /// that is empty or longer than 200 bytes.
    pub fn pair(&self, key: String, name: String) -> Result<PeerShown, TrugError> {
        let key = key.split_whitespace().collect::<String>();
        Ok((&self.notebook.pair(&key.parse()?, &name)?).into())
    }

    /// Trusts a device no longer. What it wrote before stays.
    ///
    /// # Errors
    /// `not-found`.
    pub fn unpair(&self, id: String) -> Result<(), TrugError> {
        self.notebook.unpair(&id)?;
        Ok(())
    }
}
