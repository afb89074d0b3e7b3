//! Exports: copies for somebody else, shown beforehand or written to a file.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;
use uuid::Uuid;

use super::exporting_photos::{Album, LeftOut};
use super::{FindRecord, Notebook, kind};
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::export::{
    Contents, Copied, Exactness, Format, Ids, Original, SECRET_BYTES, Terms, copy, sorted, waypoint, write,
    write_with_photos,
};
use crate::find::FieldError;
use crate::id::{FindId, PatchId};
use crate::pack::Pack;
use crate::progress::{Progress, Stopped};
use crate::store::Criteria;

/// The file in the notebook folder that holds the owner's secret for new ids.
pub(super) const SECRET: &str = "copies.secret";

/// What is to be exported.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// What kind of file.
    pub format: Format,
    /// Which finds, or whose patches; `None` for all.
    pub finds: Option<Vec<FindId>>,
    /// What may leave.
    pub terms: Terms,
    /// Photos go along, stripped of everything but the picture. Only a Darwin Core archive holds any.
    pub photos: bool,
    /// For whom: their copies keep their ids from one export to the next. Without, all ids are new every time.
    pub recipient: Option<String>,
    /// In a format of patches: this one, whether anything was found there or not.
    pub patch: Option<PatchId>,
}

/// What was exported.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Exported {
    /// What kind of file.
    pub format: Format,
    /// How many finds or patches it holds.
    pub records: usize,
    /// How exactly it tells places.
    pub place: Exactness,
    /// How many photos it holds; absent unless they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub photos: Option<usize>,
    /// Photos that stay, with the reason.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub photos_left_out: Vec<LeftOut>,
}

impl Notebook {
    /// Exactly what an export would let out: copies, and photos if they were asked for.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a find that is not there or deleted, [`Error::Field`] for an empty name or a format that holds no
    /// photos, [`Error::Stopped`].
    pub fn copies(
        &self,
        pack: &Pack,
        order: &Order,
        progress: &dyn Progress,
    ) -> Result<(Contents, Album), Error> {
        vet_names(order.recipient.as_deref(), order.terms.name.as_deref())?;
        let ids = self.new_ids(order.recipient.as_deref())?;
        let album = self.album_under(order, &ids, progress)?;
        Ok((self.copies_under(pack, order, &ids, progress)?, album))
    }

    /// One find after the other, so that no more is held than what leaves.
    fn copies_under(
        &self,
        pack: &Pack,
        order: &Order,
        ids: &Ids,
        progress: &dyn Progress,
    ) -> Result<Contents, Error> {
        let finds = self.chosen_ids(order.finds.as_deref())?;
        if order.format == Format::Gpx {
            return self.waypoints(order, &finds);
        }
        let mut copies = Vec::with_capacity(finds.len());
        for find in finds {
            progress.step("copying")?;
            let record = self.find(find)?;
            // Somebody may have deleted it a moment ago.
            if !record.find.deleted {
                copies.push(copy_of(&record, &order.terms, ids, pack)?);
            }
        }
        Ok(Contents::Finds(sorted(copies)))
    }

    /// Writes copies to a file, whole or not at all; a file that is there is replaced only if `replace` says so.
    ///
    /// # Errors
    /// As [`Notebook::copies`], [`Error::InTheWay`] if the file is there, [`Error::NoRoom`].
    pub fn export(
        &self,
        pack: &Pack,
        order: &Order,
        to: &Path,
        replace: bool,
        progress: &dyn Progress,
    ) -> Result<Exported, Error> {
        // `exists` would take a link that leads nowhere for a free name.
        if !replace && to.symlink_metadata().is_ok() {
            return Err(Error::InTheWay { what: "a file of that name" });
        }
        let (contents, album) = self.copies(pack, order, progress)?;
        write_copies(order, &contents, &album, to, replace, progress)?;
        Ok(Exported {
            format: order.format,
            records: contents.len(),
            place: order.terms.place,
            photos: order.photos.then_some(album.pictures.len()),
            photos_left_out: album.left_out,
        })
    }

    /// The finds that are meant, each there and once; all if none are named.
    pub(super) fn chosen_ids(&self, ids: Option<&[FindId]>) -> Result<Vec<FindId>, Error> {
        let Some(ids) = ids else {
            let all = self.read(|view| view.ids(kind::FIND))?;
            return Ok(all.into_iter().map(FindId::from).collect());
        };
        let once: BTreeSet<_> = ids.iter().copied().collect();
        for id in &once {
            if self.find(*id)?.find.deleted {
                return Err(Error::NotFound { what: "find" });
            }
        }
        Ok(once.into_iter().collect())
    }

    /// All patches, or those of the chosen finds.
    fn waypoints(&self, order: &Order, finds: &[FindId]) -> Result<Contents, Error> {
        let mut wanted = BTreeSet::new();
        if let Some(patch) = order.patch {
            wanted.insert(self.standing_patch(patch)?);
        }
        for find in finds.iter().filter(|_| order.finds.is_some()) {
            if let Some(patch) = self.find(*find)?.find.value.patch {
                wanted.insert(self.standing_patch(patch)?);
            }
        }
        let all = order.finds.is_none() && order.patch.is_none();
        let mut points = Vec::new();
        for record in self.patches(&Criteria::default())? {
            if !record.patch.deleted && (all || wanted.contains(&record.id)) {
                points.extend(waypoint(&record.patch.value, &order.terms)?);
            }
        }
        // By what they themselves show.
        points.sort_by(|a, b| {
            let north_first = b.place.latitude.total_cmp(&a.place.latitude);
            north_first
                .then(a.place.longitude.total_cmp(&b.place.longitude))
                .then_with(|| (&a.name, a.on, &a.note).cmp(&(&b.name, b.on, &b.note)))
        });
        Ok(Contents::Patches(points))
    }

    pub(super) fn new_ids(&self, recipient: Option<&str>) -> Result<Ids, Error> {
        match recipient {
            Some(name) => Ok(Ids::new(&self.secret()?, name.trim())),
            None => Ok(Ids::new(&drawn(), "")),
        }
    }

    /// The owner's secret; drawn at first use. A damaged one is kept aside: copies made under it stay as they are.
    fn secret(&self) -> Result<[u8; SECRET_BYTES], Error> {
        let path = self.root().join(SECRET);
        let _alone = self.lock();
        match fs::read(&path) {
            Ok(bytes) => {
                if let Ok(secret) = <[u8; SECRET_BYTES]>::try_from(bytes) {
                    return Ok(secret);
                }
                self.folder.log().keep_aside(&path, true).doing("keep a damaged file aside")?;
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            other => drop(other.doing("read the secret for copies")?),
        }
        let secret = drawn();
        disk::write_whole(&path, |out| out.write_all(&secret)).doing("write the secret for copies")?;
        Ok(secret)
    }
}

/// Writes what has been gathered, whole or not at all.
pub(super) fn write_copies(
    order: &Order,
    contents: &Contents,
    album: &Album,
    to: &Path,
    replace: bool,
    progress: &dyn Progress,
) -> Result<(), Error> {
    let mut stopped = false;
    let mut fill = |out: &mut dyn Write| {
        let mut step = || {
            stopped = !progress.go_on("writing");
            if stopped { Err(io::Error::from(io::ErrorKind::Interrupted)) } else { Ok(()) }
        };
        match contents {
            Contents::Finds(finds) if order.photos => {
                let mut picture = |at: usize, out: &mut dyn Write| album.write(at, out);
                write_with_photos(finds, &album.pictures, out, &mut picture, &mut step)
            }
            _ => write(order.format, contents, out, &mut step),
        }
    };
    let written = if replace { disk::write_whole(to, fill) } else { disk::write_new(to, |file| fill(file)) };
    if stopped {
        return Err(Stopped.into());
    }
    Ok(written.doing("write the export")?)
}

/// The copy of a find with the names given to it.
pub(super) fn copy_of(record: &FindRecord, terms: &Terms, ids: &Ids, pack: &Pack) -> Result<Copied, Error> {
    let names: Vec<_> = record.determinations.iter().map(|named| &named.determination.value).collect();
    Ok(copy(Original { id: record.id, find: &record.find.value, names: &names }, terms, ids, pack)?)
}

/// Names of people as they may be given for copies.
pub(super) fn vet_names(recipient: Option<&str>, owner: Option<&str>) -> Result<(), FieldError> {
    for (field, name) in [("recipient", recipient), ("name", owner)] {
        if name.is_some_and(|name| name.trim().is_empty() || name.len() > 200) {
            return Err(FieldError { field, why: "give a name of at most 200 bytes".into() });
        }
    }
    Ok(())
}

/// 244 bits of chance: each version 4 UUID has 122 (RFC 9562 §5.4).
fn drawn() -> [u8; SECRET_BYTES] {
    let mut secret = [0; SECRET_BYTES];
    for half in secret.chunks_exact_mut(16) {
        half.copy_from_slice(Uuid::new_v4().as_bytes());
    }
    secret
}
