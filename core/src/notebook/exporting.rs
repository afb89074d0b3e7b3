//! Exports: copies for somebody else, shown beforehand or written to a file.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;
use uuid::Uuid;

use super::{FindRecord, Notebook};
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::export::{
    Contents, Copied, Exactness, Format, Ids, Original, SECRET_BYTES, Terms, copy, sorted, waypoint, write,
};
use crate::find::FieldError;
use crate::id::FindId;
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
    /// For whom: their copies keep their ids from one export to the next. Without, all ids are new every time.
    pub recipient: Option<String>,
}

/// What was exported.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Exported {
    /// What kind of file.
    pub format: Format,
    /// How many finds or patches it holds.
    pub records: usize,
    /// How exactly it tells places.
    pub place: Exactness,
}

impl Notebook {
    /// Exactly what an export would let out.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a find that is not there or deleted, [`Error::Field`] for an empty name, [`Error::Stopped`].
    pub fn copies(&self, pack: &Pack, order: &Order, progress: &dyn Progress) -> Result<Contents, Error> {
        vet_names(order.recipient.as_deref(), order.terms.name.as_deref())?;
        let finds = self.chosen(order.finds.as_deref())?;
        if order.format == Format::Gpx {
            return self.waypoints(order, &finds);
        }
        let ids = self.new_ids(order.recipient.as_deref())?;
        let mut copies = Vec::with_capacity(finds.len());
        for record in &finds {
            progress.step("copying")?;
            copies.push(copy_of(record, &order.terms, &ids, pack)?);
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
        let contents = self.copies(pack, order, progress)?;
        let mut stopped = false;
        let mut fill = |out: &mut dyn Write| {
            write(order.format, &contents, out, &mut || {
                stopped = !progress.go_on("writing");
                if stopped { Err(io::Error::from(io::ErrorKind::Interrupted)) } else { Ok(()) }
            })
        };
        let written =
            if replace { disk::write_whole(to, fill) } else { disk::write_new(to, |file| fill(file)) };
        if stopped {
            return Err(Stopped.into());
        }
        written.doing("write the export")?;
        Ok(Exported { format: order.format, records: contents.len(), place: order.terms.place })
    }

    pub(super) fn chosen(&self, ids: Option<&[FindId]>) -> Result<Vec<FindRecord>, Error> {
        let Some(ids) = ids else { return self.finds(&Criteria::default()) };
        let once: BTreeSet<_> = ids.iter().collect();
        once.into_iter()
            .map(|id| match self.find(*id)? {
                deleted if deleted.find.deleted => Err(Error::NotFound { what: "find" }),
                record => Ok(record),
            })
            .collect()
    }

    /// All patches, or those of the chosen finds.
    fn waypoints(&self, order: &Order, finds: &[FindRecord]) -> Result<Contents, Error> {
        let mut wanted = BTreeSet::new();
        for patch in finds.iter().filter_map(|record| record.find.value.patch) {
            wanted.insert(self.standing_patch(patch)?);
        }
        let mut points = Vec::new();
        for record in self.patches(&Criteria::default())? {
            if !record.patch.deleted && (order.finds.is_none() || wanted.contains(&record.id)) {
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
