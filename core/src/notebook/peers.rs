//! The notebook's own key, and the devices that its owner paired it with.
//!
//! Pairing is done once, by handing each device the other's key. What a paired device signed may change records that are
//! here; what anybody else wrote may only add some. So a record of this kind is believed only from this notebook or from a
//! paired device: whoever reads bundles has to leave out those that strangers bring.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};

use super::act::Edit;
use super::record::{Kept, amended, fields};
use super::{Notebook, kind};
use crate::change::DELETED;
use crate::error::Error;
use crate::find::FieldError;
use crate::id::{PeerId, from_hash};
use crate::seal::{Identity, PublicKey, Signature, verify};
use crate::store::Record;

/// The file in the notebook folder that holds the notebook's own key pair.
pub(super) const IDENTITY: &str = "identity.secret";
/// Bytes of a name.
const LONGEST_NAME: usize = 200;

/// A paired device, as its record holds it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Peer {
    /// Its key.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<PublicKey>,
    /// What its owner calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// A paired device as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PeerRecord {
    /// Its id, which follows from its key: paired on two devices, it is one record.
    pub id: PeerId,
    /// Its fields.
    #[serde(flatten)]
    pub peer: Kept<Peer>,
}

impl PeerRecord {
    /// The name it goes by: its own, or its id.
    #[must_use]
    pub fn name(&self) -> String {
        self.peer.value.name.clone().unwrap_or_else(|| self.id.to_string())
    }

    fn of(record: &Record) -> Option<Self> {
        let peer: Kept<Peer> = Kept::from(record);
        let id = PeerId::from(record.id);
        // A record that names another key than the one it is filed under was made to mislead.
        (!is_sent_away(record) && id_of(&peer.value.key?) == id).then_some(Self { id, peer })
    }
}

/// Where devices disagree on whether to trust one, it is not trusted: one that was sent away could else have written itself
/// back in, by way of a device that had not heard of it yet.
fn is_sent_away(record: &Record) -> bool {
    let disagreements = record.state.disagreements();
    record.state.deleted() || disagreements.get(DELETED).is_some_and(|marks| marks.contains(&true.into()))
}

/// Who wrote something that bears a signature which holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Author {
    /// This notebook, or one with the same key: a backup of it restored elsewhere.
    Ourselves,
    /// A paired device.
    Paired {
        /// The record of it.
        id: PeerId,
        /// What its owner calls it.
        name: String,
    },
}

impl Author {
    /// What its owner calls the device; nothing for ourselves.
    #[must_use]
    pub fn name(&self) -> Option<String> {
        match self {
            Self::Ourselves => None,
            Self::Paired { name, .. } => Some(name.clone()),
        }
    }
}

/// It follows from the key.
fn id_of(key: &PublicKey) -> PeerId {
    let hash = Sha256::new().chain_update(b"trug peer 1\n").chain_update(key.bytes()).finalize();
    PeerId(from_hash(hash))
}

impl Notebook {
    /// The notebook's own key pair, drawn at first need.
    ///
    /// # Errors
    /// [`SealError::IdentityDamaged`](crate::seal::SealError): a new one in its place would silently be nobody whom others trust. [`Error::NoRoom`].
    pub fn identity(&self) -> Result<Identity, Error> {
        let path = self.root().join(IDENTITY);
        let _alone = self.lock();
        if let Some(identity) = Identity::read(&path)? {
            return Ok(identity);
        }
        let identity = Identity::draw()?;
        identity.write(&path)?;
        Ok(identity)
    }

    /// What to hand to another device, or to anybody who is to seal something to this notebook.
    ///
    /// # Errors
    /// As [`Notebook::identity`].
    pub fn own_key(&self) -> Result<PublicKey, Error> {
        Ok(self.identity()?.public()?)
    }

    /// Pairs with another device of the owner's; the other has to do the same with this one's key. Pairing again renames it.
    ///
    /// # Errors
    /// [`Error::Field`] for this notebook's own key, or a name that is empty or too long.
    pub fn pair(&self, key: &PublicKey, name: &str) -> Result<PeerRecord, Error> {
        let wrong = |field, why: &str| Error::from(FieldError { field, why: why.to_owned() });
        let name = name.trim();
        if name.is_empty() || name.len() > LONGEST_NAME {
            return Err(wrong("name", "give it a name of at most 200 bytes, to know it by"));
        }
        if *key == self.own_key()? {
            return Err(wrong("key", "that is this notebook's own key: give that of the other device"));
        }
        let id = id_of(key);
        let peer = Peer { key: Some(*key), name: Some(name.to_owned()), ..Peer::default() };
        let set = fields(&peer)?;
        self.decide_and_keep(|desk| {
            let Some(known) = desk.view.record(kind::PEER, id.into())? else {
                return Ok((vec![Edit::new(kind::PEER, id, set.clone())], ()));
            };
            let mut news = amended::<Peer>(&known, &set).map(|(news, _)| news).unwrap_or_default();
            if is_sent_away(&known) {
                news.insert(DELETED.to_owned(), false.into());
            }
            Ok(((!news.is_empty()).then(|| Edit::new(kind::PEER, id, news)).into_iter().collect(), ()))
        })?;
        self.peer(id)
    }

    /// Trusts a device no longer, by its name or the beginning of its id. What it wrote before stays.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn unpair(&self, name: &str) -> Result<PeerRecord, Error> {
        let peer = self.peer_named(name)?;
        self.keep(&[Edit::field(kind::PEER, peer.id, DELETED, true)])?;
        Ok(peer)
    }

    /// A paired device by its name or the beginning of its id.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn peer_named(&self, name: &str) -> Result<PeerRecord, Error> {
        let named: Vec<PeerRecord> =
            self.peers()?.into_iter().filter(|peer| peer.name().eq_ignore_ascii_case(name.trim())).collect();
        match named.as_slice() {
            [] => self.peer(self.beginning(kind::PEER, "paired device", name)?.into()),
            [one] => Ok(one.clone()),
            _ => Err(Error::Ambiguous { what: "paired device" }),
        }
    }

    fn peer(&self, id: PeerId) -> Result<PeerRecord, Error> {
        let found = self.peers()?.into_iter().find(|peer| peer.id == id);
        found.ok_or(Error::NotFound { what: "paired device" })
    }

    /// The devices that this notebook is paired with, by itself or through one of them; not itself.
    ///
    /// # Errors
    /// If the view cannot be read; as [`Notebook::identity`].
    pub fn peers(&self) -> Result<Vec<PeerRecord>, Error> {
        let own = self.own_key()?;
        let records = self.read(|view| view.all(kind::PEER))?;
        let others = |peer: &PeerRecord| peer.peer.value.key != Some(own);
        Ok(records.iter().filter_map(PeerRecord::of).filter(others).collect())
    }

    /// Who signed this text; `None` if it was nobody whom this notebook trusts.
    ///
    /// # Errors
    /// As [`Notebook::peers`].
    pub fn author_of(&self, text: &str, signature: &Signature) -> Result<Option<Author>, Error> {
        let own = self.own_key()?;
        let peers = self.peers()?;
        let paired = peers.iter().filter_map(|peer| {
            Some((peer.peer.value.key.as_ref()?, Author::Paired { id: peer.id, name: peer.name() }))
        });
        Ok(verify(text, signature, std::iter::once((&own, Author::Ourselves)).chain(paired)))
    }

    /// Signs a text that stands for a whole bundle, as this notebook.
    ///
    /// # Errors
    /// As [`Notebook::identity`].
    pub fn sign(&self, text: &str) -> Result<Signature, Error> {
        Ok(self.identity()?.sign(text)?)
    }
}
