//! Reading a bundle: everything in it is proved before anything is taken from it.

use std::collections::BTreeMap;
use std::io::{Read, Seek};

use super::Refused;
use super::about::{About, is_declared};
use super::archive::Archive;
use super::held::Holdings;
use super::lines::Lines;
use super::manifest::{self, Algorithm, Hashes};
use super::name::Name;
use crate::change::Line;
use crate::id::DeviceId;
use crate::photo::{Format, HEAD, PhotoHash};
use crate::progress::{Progress, Stopped};
use crate::seal::Signature;

/// A bundle whose structure holds and whose every file fits its hash. Its changes have not been looked into yet.
pub struct Bundle<R: Read + Seek> {
    archive: Archive<R>,
    about: About,
    manifest: String,
    signature: Option<Signature>,
    holdings: Option<Holdings>,
}

/// Why a bundle was not read to its end.
#[derive(Debug, thiserror::Error)]
pub enum Unread {
    /// It was refused.
    #[error(transparent)]
    Refused(#[from] Refused),
    /// The one who watches stopped it.
    #[error(transparent)]
    Stopped(#[from] Stopped),
}

impl<R: Read + Seek> Bundle<R> {
    /// Opens a bundle and proves all of it: names, sizes, manifests, hashes, the signature. Nothing is written anywhere.
    ///
    /// # Errors
    /// [`Unread::Refused`] with the first thing that is wrong, or [`Unread::Stopped`].
    pub fn open(reader: R, progress: &dyn Progress) -> Result<Self, Unread> {
        let mut archive = Archive::open(reader)?;
        is_declared(&archive.text(Name::Tag("bagit.txt"))?)?;
        let (about, oxum) = About::read(&archive.text(Name::Tag("bag-info.txt"))?)?;
        let payload: Vec<Name> = archive.names().filter(Name::is_payload).collect();
        let bytes = payload.iter().filter_map(|name| archive.bytes(*name)).sum();
        if oxum.is_some_and(|told| told != (bytes, payload.len())) {
            return Err(Refused::Bag { what: "bag-info.txt", why: "does not tell what is there" }.into());
        }
        let [list, tags] = Algorithm::Sha256.files();
        for needed in [list, tags] {
            if archive.bytes(needed).is_none() {
                return Err(Refused::Bag { what: needed.part(), why: "is missing" }.into());
            }
        }
        prove(&mut archive, &payload, progress)?;
        let manifest = archive.text(tags)?;
        let signature = signature(&mut archive, &manifest)?;
        let holdings = holdings(&mut archive)?;
        Ok(Self { archive, about, manifest, signature, holdings })
    }

    /// What it says of itself.
    pub fn about(&self) -> &About {
        &self.about
    }

    /// What a signature is over: the tag manifest, from which the hash of everything else follows.
    pub fn signed(&self) -> &str {
        &self.manifest
    }

    /// The signature, which holds; whether its maker is to be believed is not for a bundle to say.
    pub fn signature(&self) -> Option<&Signature> {
        self.signature.as_ref()
    }

    /// What the one who wrote it holds, and left out, if it tells.
    pub fn holdings(&self) -> Option<&Holdings> {
        self.holdings.as_ref()
    }

    /// The devices whose changes it brings.
    pub fn devices(&self) -> Vec<DeviceId> {
        let device = |name| if let Name::Changes(device) = name { Some(device) } else { None };
        self.archive.names().filter_map(device).collect()
    }

    /// The photos that it brings.
    pub fn photos(&self) -> Vec<(PhotoHash, Format)> {
        let photo = |name| if let Name::Photo(hash, format) = name { Some((hash, format)) } else { None };
        self.archive.names().filter_map(photo).collect()
    }

    /// Gives out every change, device by device, each proved; answers how many there were.
    ///
    /// # Errors
    /// [`Refused`] for the first line that is wrong, or whatever `each` says.
    pub fn lines<E: From<Refused>>(&mut self, mut each: impl FnMut(Line) -> Result<(), E>) -> Result<u64, E> {
        let mut count = 0;
        for device in self.devices() {
            let mut lines = Lines::of(device);
            self.archive.read(Name::Changes(device), |piece| lines.take(piece, &mut each))?;
            count += lines.finish()?;
        }
        Ok(count)
    }

    /// Gives out a photo, piece by piece.
    ///
    /// # Errors
    /// [`Refused`] if it is not there or damaged, or whatever `each` says.
    pub fn photo<E: From<Refused>>(
        &mut self,
        (hash, format): (PhotoHash, Format),
        each: impl FnMut(&[u8]) -> Result<(), E>,
    ) -> Result<(), E> {
        self.archive.read(Name::Photo(hash, format), each)
    }
}

/// The signature, if there is one; one that does not hold is no less than damage.
fn signature<R: Read + Seek>(archive: &mut Archive<R>, signed: &str) -> Result<Option<Signature>, Refused> {
    let name = Name::Tag("signature.json");
    let bad = |why| Refused::Bag { what: name.part(), why };
    if archive.bytes(name).is_none() {
        return Ok(None);
    }
    let signature: Signature =
        serde_json::from_str(&archive.text(name)?).map_err(|_| bad("is no signature"))?;
    if signature.holds(signed) { Ok(Some(signature)) } else { Err(bad("was made for something else")) }
}

fn holdings<R: Read + Seek>(archive: &mut Archive<R>) -> Result<Option<Holdings>, Refused> {
    let name = Name::Tag("holds.json");
    if archive.bytes(name).is_none() {
        return Ok(None);
    }
    let holdings = serde_json::from_str(&archive.text(name)?);
    holdings.map(Some).map_err(|_| Refused::Bag { what: name.part(), why: "does not tell what is held" })
}

/// Every file in every manifest that is there, every manifest complete, every hash right, every photo what its name says.
fn prove<R: Read + Seek>(
    archive: &mut Archive<R>,
    payload: &[Name],
    progress: &dyn Progress,
) -> Result<(), Unread> {
    let mut wanted: Vec<(Algorithm, BTreeMap<Name, String>)> = Vec::new();
    for algorithm in Algorithm::ALL {
        for (file, is_tags) in algorithm.files().into_iter().zip([false, true]) {
            if archive.bytes(file).is_none() {
                continue;
            }
            let list = manifest::read(&archive.text(file)?, file, algorithm)?;
            let bad = |why| Refused::Bag { what: file.part(), why };
            if list.keys().any(|name| name.is_payload() == is_tags || *name == file) {
                return Err(bad("lists a file that belongs in another list").into());
            }
            if list.keys().any(|name| archive.bytes(*name).is_none()) {
                return Err(bad("lists a file that is not there").into());
            }
            if !is_tags && payload.iter().any(|name| !list.contains_key(name)) {
                return Err(bad("leaves out a file that is there").into());
            }
            let [must, also] = [Name::Tag("bag-info.txt"), Name::Tag("manifest-sha256.txt")];
            // What is signed is that list alone.
            let held = Name::Tag("holds.json");
            let unlisted = archive.bytes(held).is_some() && !list.contains_key(&held);
            if is_tags && (unlisted || !list.contains_key(&must) || !list.contains_key(&also)) {
                return Err(bad("leaves out a file that it must list").into());
            }
            wanted.push((algorithm, list));
        }
    }
    let long = wanted.iter().any(|(algorithm, _)| *algorithm == Algorithm::Sha512);
    for name in archive.names().collect::<Vec<_>>() {
        let mut hashes = Hashes::new(long);
        let mut head = Vec::new();
        archive.read(name, |piece| {
            hashes.take(piece);
            if head.is_empty() {
                head.extend_from_slice(piece.get(..HEAD).unwrap_or(piece));
            }
            progress.step("proving the bundle").map_err(Unread::from)
        })?;
        let texts = hashes.texts();
        let fits = |(algorithm, list): &(Algorithm, BTreeMap<Name, String>)| {
            list.get(&name).is_none_or(|hash| texts.fit(*algorithm, hash))
        };
        let is_what_it_says = match name {
            Name::Photo(hash, format) => {
                if Format::sniff(&head) != Some(format) {
                    return Err(Refused::Bag { what: name.part(), why: "is no picture of its kind" }.into());
                }
                texts.fit(Algorithm::Sha256, &hash.to_string())
            }
            _ => true,
        };
        if !is_what_it_says || !wanted.iter().all(fits) {
            return Err(Refused::Damaged { what: name.part() }.into());
        }
    }
    Ok(())
}
