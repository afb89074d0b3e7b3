//! Exchanging by a folder that some program carries between the owner's devices: what the others put there is read, and what
//! they lack is put there for them.
//!
//! The segment that is still being written goes across as it stands, as a piece named after how far it reaches; the next
//! exchange puts a longer one in its place. To close the segment instead would leave a log of many small ones, which every
//! opening has to look at.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use serde::Serialize;
use tempfile::TempDir;

use super::Notebook;
use super::bundles::{Parcel, day_of};
use super::copying::Lines;
use super::peers::Author;
use super::receiving::Received;
use crate::change::Stamp;
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::exchange::{About, Audience, FORMAT, Found, Keeper, Known, Naming, OnDisk, Photograph};
use crate::find::FieldError;
use crate::id::DeviceId;
use crate::log::SegmentId;
use crate::photo::{PhotoHash, Stored};
use crate::progress::Progress;
use crate::seal::{Identity, PublicKey, Recipient, SealError, To, With, unseal};
use crate::store::Folded;

/// What is known of exchange folders, in the notebook's folder.
const MEMORY: &str = "exchanged.json";

/// What came of an exchange.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Exchanged {
    /// Pieces of other devices that were read for the first time.
    pub read: u64,
    /// Changes in them that were new here.
    pub new: u64,
    /// Finds in them that were new here.
    pub new_finds: u64,
    /// Photos in them that were new here.
    pub new_photos: u64,
    /// Pieces that were put there for the others.
    pub written: u64,
    /// Pieces of this device that had been overtaken, and were taken away.
    pub removed: u64,
    /// Segments and photos that could not be put there, because they are damaged here: check the notebook.
    pub left_out: u64,
    /// Files that were not read, and why. They are looked at again every time.
    pub unread: Vec<LeftUnread>,
}

/// A file in the exchange folder that was not read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LeftUnread {
    /// Its path from the folder on.
    pub file: String,
    /// Why, as a stable word.
    pub code: &'static str,
    /// Why, in words.
    pub message: String,
}

impl LeftUnread {
    fn new(found: &Found, code: &'static str, message: impl Into<String>) -> Self {
        Self { file: found.name.clone(), code, message: message.into() }
    }
}

const NOT_PAIRED: &str = "not-paired";
const LOOK: &str = "look into the exchange folder";
const WRITE: &str = "write to the exchange folder";

fn wrong(field: &'static str, why: &str) -> Error {
    FieldError { field, why: why.to_owned() }.into()
}

/// One exchange under way.
struct Exchange<'a> {
    notebook: &'a Notebook,
    keeper: &'a dyn Keeper,
    naming: Naming,
    scratch: TempDir,
    identity: Identity,
    known: Known,
    keep: bool,
    progress: &'a dyn Progress,
    done: Exchanged,
}

/// What came out of a piece.
struct Came {
    author: Author,
    received: Received,
    segments: Vec<SegmentId>,
    photos: Vec<PhotoHash>,
}

/// What a piece of ours holds.
enum Piece {
    Segment(Folded),
    Photo(Stored),
}

impl Notebook {
    /// Reads what the owner's other devices have put into a folder, and puts there what they may lack. Again changes nothing.
    /// With `keep` false it is only looked at.
    ///
    /// A file that is not all there yet, or that cannot be believed, is left for another time and does not hinder the rest.
    ///
    /// # Errors
    /// [`Error::Field`] if no other device is paired, or the folder is the notebook's own; [`Error::NoRoom`], [`Error::Stopped`].
    /// Then what was done so far stays done.
    pub fn exchange(&self, folder: &Path, keep: bool, progress: &dyn Progress) -> Result<Exchanged, Error> {
        let folder = OnDisk::open(folder).doing(LOOK)?;
        let own = fs::canonicalize(self.root()).doing("look into the notebook")?;
        if folder.root().starts_with(&own) {
            return Err(wrong(
                "folder",
                "that is in the notebook itself: choose one that other devices see too",
            ));
        }
        self.exchange_by(&folder, keep, progress)
    }

    /// The same with a folder that somebody else keeps and hands files of.
    ///
    /// # Errors
    /// As [`Notebook::exchange`].
    pub fn exchange_by(
        &self,
        keeper: &dyn Keeper,
        keep: bool,
        progress: &dyn Progress,
    ) -> Result<Exchanged, Error> {
        if self.peers()?.is_empty() {
            return Err(wrong("device", "no other device is paired yet: pair one first"));
        }
        let identity = self.identity()?;
        let name = identity.name_for(&format!("folder {}", keeper.known_by()))?;
        let mut memory = self.memory();
        let mut exchange = Exchange {
            notebook: self,
            keeper,
            naming: Naming::of(self.device()),
            scratch: self.folder.scratch()?,
            identity,
            known: memory.remove(&name).unwrap_or_default(),
            keep,
            progress,
            done: Exchanged::default(),
        };
        let result = exchange.read().and_then(|()| exchange.write());
        if keep {
            memory.insert(name, exchange.known);
            // Whatever stopped it: what was done need not be done again.
            let remembered = disk::write_whole(&self.root().join(MEMORY), |out| {
                serde_json::to_writer(out, &memory).map_err(io::Error::from)
            });
            result?;
            remembered.doing("remember the exchange")?;
        } else {
            result?;
        }
        Ok(exchange.done)
    }

    /// Made again at need: one that cannot be read is as none.
    fn memory(&self) -> BTreeMap<String, Known> {
        let bytes = fs::read(self.root().join(MEMORY)).unwrap_or_default();
        serde_json::from_slice(&bytes).unwrap_or_default()
    }
}

impl Exchange<'_> {
    fn files(&self) -> Result<Vec<Found>, Error> {
        let mut files = self.keeper.files().doing(LOOK)?;
        files.sort_unstable();
        Ok(files)
    }

    /// Where a piece may lie for a while, one after the other.
    fn room(&self) -> PathBuf {
        self.scratch.path().join("piece")
    }

    /// Reads what other devices have put there.
    fn read(&mut self) -> Result<(), Error> {
        loop {
            let files = self.files()?;
            self.known.keep_only(&files);
            self.done.unread.clear();
            let mut learnt = false;
            for found in &files {
                if self.naming.is_own(found) || self.known.knows(found) {
                    continue;
                }
                match self.read_piece(found)? {
                    Ok(came) => {
                        learnt |= came.received.merged.new > 0;
                        self.done.read += 1;
                        self.count(&came.received);
                        // A copy that some program made of a piece of ours: that is seen to here.
                        if came.author != Author::Ourselves {
                            self.known.came(found, came.segments.iter().map(name_of), came.photos);
                        }
                        self.known.note(found);
                    }
                    Err(unread) => self.done.unread.push(unread),
                }
            }
            // Who is paired with whom may be among what came.
            let strangers = self.done.unread.iter().any(|unread| unread.code == NOT_PAIRED);
            if !(self.keep && learnt && strangers) {
                return Ok(());
            }
        }
    }

    fn count(&mut self, received: &Received) {
        self.done.new += received.merged.new;
        self.done.new_finds += received.merged.new_finds;
        self.done.new_photos += received.new_photos;
    }

    /// Reads one file; the inner error is why it was left.
    fn read_piece(&self, found: &Found) -> Result<Result<Came, LeftUnread>, Error> {
        self.progress.step("reading the exchange folder")?;
        let fetched = self.keeper.fetch(found, &self.room()).doing("fetch a file of the exchange folder");
        let opened = fetched
            .map_err(Error::from)
            .and_then(|path| self.notebook.open_bundle(&path, None, self.progress));
        let opened = match opened {
            // Whatever is wrong lies with that file or with the folder.
            Err(error @ (Error::Seal(_) | Error::Bundle(_) | Error::Disk(_)))
                if !matches!(error, Error::Seal(SealError::IdentityDamaged)) =>
            {
                return Ok(Err(LeftUnread::new(found, error.code(), error.to_string())));
            }
            other => other?,
        };
        if opened.bundle.about().audience == Audience::Someone {
            let why =
                "copies made for somebody else do not belong in an exchange folder: read them by themselves";
            return Ok(Err(LeftUnread::new(found, "for-someone", why)));
        }
        let Some(author) = opened.author.clone() else {
            let why = "it is not from a device that is paired with this one: pair it first, if it is yours";
            return Ok(Err(LeftUnread::new(found, NOT_PAIRED, why)));
        };
        let photos = opened.bundle.photos().into_iter().map(|(hash, _)| hash).collect();
        match self.notebook.take_bundle(opened, self.keep, self.progress) {
            Err(error @ Error::Bundle(_)) => Ok(Err(LeftUnread::new(found, error.code(), error.to_string()))),
            taken => taken.map(|(received, segments)| Ok(Came { author, received, segments, photos })),
        }
    }

    /// Puts there what the others may lack, sealed to all of them, and takes away what it has overtaken.
    fn write(&mut self) -> Result<(), Error> {
        let keys = self.keys()?;
        let recipients: Vec<Recipient> =
            keys.iter().filter_map(|key| Recipient::try_from(key).ok()).collect();
        let wanted = self.wanted(&keys)?;
        let there: BTreeMap<String, Found> = self
            .files()?
            .into_iter()
            .filter(|found| self.naming.is_own(found))
            .map(|found| (found.name.clone(), found))
            .collect();
        for (name, piece) in &wanted {
            self.progress.step("writing to the exchange folder")?;
            if let Some(found) = there.get(name)
                && (self.known.knows(found) || self.is_whole(found))
            {
                self.known.note(found);
            } else {
                self.write_piece(name, piece, To::Keys(&recipients))?;
            }
        }
        for found in there.values().filter(|found| !wanted.contains_key(&found.name)) {
            self.take_away(found)?;
        }
        Ok(())
    }

    /// Our own key and those of all paired devices, in order.
    fn keys(&self) -> Result<BTreeSet<PublicKey>, Error> {
        let peers = self.notebook.peers()?;
        let mut keys: BTreeSet<PublicKey> = peers.iter().filter_map(|peer| peer.peer.value.key).collect();
        keys.insert(self.identity.public()?);
        Ok(keys)
    }

    /// What is to be there, by name: the name stands for what a piece holds and for whom it is sealed.
    fn wanted(&self, keys: &BTreeSet<PublicKey>) -> Result<BTreeMap<String, Piece>, Error> {
        let circle = keys.iter().map(PublicKey::to_string).collect::<Vec<_>>().join(" ");
        let name = |what: &str| -> Result<String, Error> {
            Ok(self.naming.name(&self.identity.name_for(&format!("piece {what} {circle}"))?))
        };
        let mut wanted = BTreeMap::new();
        for folded in self.notebook.read(crate::store::View::folded)? {
            let segment = name_of(&folded.segment);
            let is_own = folded.segment.device == self.notebook.device();
            if folded.lines > 0 && (is_own || !self.known.has_segment(&segment)) {
                wanted.insert(name(&format!("{segment} {}", folded.bytes))?, Piece::Segment(folded));
            }
        }
        for stored in self.notebook.shelf.list().map_err(Error::from_shelf)? {
            if !self.known.has_photo(&stored.hash) {
                wanted.insert(name(&stored.hash.to_string())?, Piece::Photo(stored));
            }
        }
        Ok(wanted)
    }

    fn is_whole(&self, found: &Found) -> bool {
        let Ok(file) = self.keeper.fetch(found, &self.room()).and_then(File::open) else { return false };
        unseal(file, With::Identity(&self.identity)).is_ok_and(|mut plain| plain.length().is_ok())
    }

    fn write_piece(&mut self, name: &str, piece: &Piece, to: To<'_>) -> Result<(), Error> {
        let Some(parcel) = self.parcel(piece)? else {
            self.done.left_out += 1;
            return Ok(());
        };
        if self.keep {
            let draft = self.keeper.draft(name, &self.room()).doing(WRITE)?;
            match self.notebook.write_parcel(&parcel, Some(to), &draft, true, self.progress) {
                // A photo that is not what its name says.
                Err(Error::Disk(error)) if error.source.kind() == io::ErrorKind::InvalidData => {
                    self.done.left_out += 1;
                    return Ok(());
                }
                other => other?,
            }
            self.keeper.put(name, &draft).doing(WRITE)?;
        }
        self.done.written += 1;
        Ok(())
    }

    /// A piece as a bundle; `None` if it is damaged here.
    fn parcel(&self, piece: &Piece) -> Result<Option<Parcel>, Error> {
        let device = self.notebook.device();
        let about = |newest: Stamp| About {
            format: FORMAT,
            audience: Audience::Me,
            date: day_of(newest),
            device: Some(device),
            owner: None,
            place: None,
        };
        Ok(match piece {
            Piece::Segment(folded) => {
                let scan = self.notebook.folder.log().scan(folded.segment, 0..folded.bytes);
                let mut lines = scan.doing("read the log")?.lines;
                if lines.len() as u64 != folded.lines {
                    return Ok(None);
                }
                lines.sort_by_key(|line| line.change.stamp);
                let texts = lines.iter().map(|line| line.text().to_owned()).collect();
                let source = Box::new(Lines { device: folded.segment.device, lines: texts });
                Some(Parcel {
                    about: about(folded.stamp),
                    source,
                    photos: Vec::new(),
                    holds: None,
                    _scratch: None,
                })
            }
            Piece::Photo(stored) => self.notebook.shelf.path(&stored.hash).map(|file| Parcel {
                about: about(Stamp::ZERO),
                source: Box::new(Lines { device: DeviceId(uuid::Uuid::nil()), lines: Vec::new() }),
                photos: vec![Photograph { hash: stored.hash, format: stored.format, file }],
                holds: None,
                _scratch: None,
            }),
        })
    }

    /// Takes away a piece of ours that another has overtaken, once it is certain that nothing is in it that is not here: a
    /// notebook that lost something gets it back from the pieces it once wrote.
    fn take_away(&mut self, found: &Found) -> Result<(), Error> {
        match self.read_piece(found)? {
            Ok(Came { received, .. }) if received.merged.new == 0 && received.new_photos == 0 => {
                if self.keep {
                    self.keeper.remove(found).doing("take away an overtaken piece")?;
                }
                self.done.removed += 1;
            }
            Ok(came) => self.count(&came.received),
            Err(unread) => self.done.unread.push(unread),
        }
        Ok(())
    }
}

fn name_of(segment: &SegmentId) -> String {
    format!("{}/{}", segment.device, segment.number)
}
