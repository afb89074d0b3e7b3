//! Finds: added, amended, named, deleted, shown.

use serde::Serialize;
use serde_json::{Map, Value};

use super::act::Edit;
use super::photos::{NewPhoto, PhotoOfFind, PhotoRecord, TakenIn};
use super::record::{Kept, amended, emptied, fields};
use super::{Desk, Notebook, kind};
use crate::change::DELETED;
use crate::error::Error;
use crate::find::{self, Determination, Find, Got, How, Sure, Whereabouts};
use crate::id::{DeterminationId, FindId, OutingId, RecordId};
use crate::moment::Moment;
use crate::patch::Proposal;
use crate::place::{Position, distance};
use crate::store::{Criteria, Record, StoreError, View};

/// Photos of one find lie no further apart than this; beyond, a warning asks whether they are of one find.
const ONE_FIND_METRES: f64 = 200.0;
/// A find made this long after an outing began is no longer taken to belong to it: someone forgot to end it.
const ONE_OUTING_HOURS: i64 = 24;

/// A find to be kept: what is known of it so far, and its photos.
#[derive(Debug, Clone, Default)]
pub struct NewFind {
    /// Its fields. Missing time and place are taken from the photos, a missing time otherwise from the clock, a missing
    /// outing from the one that is on.
    pub find: Find,
    /// Its photos, in order.
    pub photos: Vec<NewPhoto>,
}

/// Something worth saying that kept nothing from being done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Warning {
    /// A stable word for programs.
    pub code: &'static str,
    /// Plain words.
    pub message: String,
}

/// A find that has been kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Added {
    /// Its id.
    pub id: FindId,
    /// Its photos.
    pub photos: Vec<PhotoOfFind>,
    /// Where it is.
    pub position: Option<Whereabouts>,
    /// When it was made.
    pub at: Option<Moment>,
    /// The patch that it joined, or those it may belong to; none if it was given one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub patch: Option<Proposal>,
    /// What is odd about it.
    pub warnings: Vec<Warning>,
}

/// A find with all that belongs to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindRecord {
    /// Its id.
    pub id: FindId,
    /// Its fields.
    #[serde(flatten)]
    pub find: Kept<Find>,
    /// Its photos.
    pub photos: Vec<PhotoRecord>,
    /// The names given to it, oldest first.
    pub determinations: Vec<Named>,
}

/// A name given to a find.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Named {
    /// Its id.
    pub id: DeterminationId,
    /// What it says.
    #[serde(flatten)]
    pub determination: Kept<Determination>,
}

/// A name to be given.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NewName {
    /// The taxon or group; `None` for "unknown".
    pub taxon: Option<String>,
    /// The pack and its version, if the name is a taxon of one.
    pub pack: Option<(String, String)>,
    /// How it was reached.
    pub how: Option<How>,
    /// How sure.
    pub sure: Option<Sure>,
    /// What it rests on.
    pub evidence: Option<Value>,
    /// Who says so.
    pub who: Option<String>,
}

impl Notebook {
    /// Keeps a find. When this returns, its photos stand on the shelf and it survives anything.
    ///
    /// One that is given no patch joins the one it lies in, if there is no doubt which that is.
    ///
    /// # Errors
    /// [`Error::Photo`] if a file cannot be taken in, [`Error::Field`] if numbers contradict each other,
    /// [`Error::NotFound`] for an outing or patch that is not there, [`Error::NoRoom`]; then no find is kept.
    pub fn add_find(&self, new: NewFind) -> Result<Added, Error> {
        new.find.validate()?;
        let mut warnings = Vec::new();
        let taken_in = self.take_in(&new.photos, &mut warnings)?;
        let mut find = new.find;
        self.complete(&mut find, &taken_in, &mut warnings);
        let id = FindId::new();
        let patch = self.decide_and_keep(|desk| new_find(desk, id, &find, &taken_in))?;
        let photos = taken_in.iter().map(TakenIn::of_find).collect();
        Ok(Added { id, photos, position: find.position, at: find.at, patch, warnings })
    }

    /// Fills in from the photos what was not given.
    pub(super) fn complete(&self, find: &mut Find, photos: &[TakenIn], warnings: &mut Vec<Warning>) {
        let positions: Vec<_> = photos.iter().filter_map(TakenIn::position).collect();
        if find.position.is_none() {
            find.position =
                positions.first().map(|position| Whereabouts { position: *position, got: Got::Photo });
        }
        if let Some(here) = &find.position
            && positions.iter().any(|there| distance(here.position, *there).get() > ONE_FIND_METRES)
        {
            warnings.push(Warning {
                code: "photos-far-apart",
                message: format!("a photo was taken more than {ONE_FIND_METRES} m away: is it of this find?"),
            });
        }
        find.at =
            find.at.or_else(|| photos.iter().filter_map(TakenIn::taken).min()).or_else(|| Some(self.now()));
    }

    /// Sets fields of a find and empties others.
    ///
    /// # Errors
    /// As [`Notebook::add_find`]; then nothing is changed.
    pub fn amend_find(&self, id: FindId, changes: &Find, empty: &[String]) -> Result<FindRecord, Error> {
        let set = emptied(fields(changes)?, empty, "find", &find::FIELDS)?;
        self.decide_and_keep(|desk| {
            let record = desk.find(id)?;
            let Some((set, whole)) = amended::<Find>(&record, &set) else { return Ok((Vec::new(), ())) };
            whole.validate()?;
            require(desk, &whole)?;
            Ok((vec![Edit::new(kind::FIND, id, set)], ()))
        })?;
        self.find(id)
    }

    /// Takes a fix in place of a worse one, or of none; whether it was taken. A place that was typed, pointed out or read off a
    /// photo stays.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn improve_place(&self, id: FindId, fix: Position) -> Result<bool, Error> {
        let better = Find { position: Some(Whereabouts { position: fix, got: Got::Fix }), ..Find::default() };
        let set = fields(&better)?;
        self.decide_and_keep(|desk| {
            let known = Kept::<Find>::from(&desk.find(id)?).value.position;
            let take = known.is_none_or(|known| known.got == Got::Fix && is_better(fix, known.position));
            // Undo takes back what its owner did, and this comes by itself.
            let edit = Edit { unasked: true, ..Edit::new(kind::FIND, id, set.clone()) };
            Ok((if take { vec![edit] } else { Vec::new() }, take))
        })
    }

    /// Adds a name to a find.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn name_find(&self, id: FindId, name: NewName) -> Result<Named, Error> {
        let (pack, pack_version) = name.pack.unzip();
        let determination = Determination {
            find: Some(id),
            taxon: name.taxon,
            pack,
            pack_version,
            sure: name.sure,
            how: name.how,
            evidence: name.evidence,
            who: name.who,
            at: Some(self.now()),
            withdrawn: None,
            further: Map::new(),
        };
        let new = DeterminationId::new();
        self.decide_and_keep(|desk| {
            desk.find(id)?;
            Ok((vec![Edit::new(kind::DETERMINATION, new, fields(&determination)?)], ()))
        })?;
        let record = self.read(|view| view.record(kind::DETERMINATION, new.into()))?;
        record.as_ref().map(named).ok_or(Error::NotFound { what: "name" })
    }

    /// Takes a name back; it stays in the record, marked as withdrawn.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn withdraw_name(&self, id: DeterminationId) -> Result<(), Error> {
        self.decide_and_keep(|desk| {
            desk.record(kind::DETERMINATION, id.into(), "name")?;
            Ok((vec![Edit::field(kind::DETERMINATION, id, "withdrawn", true)], ()))
        })
    }

    /// Marks a find as deleted. Its records and photos stay, and undo brings it back.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn delete_find(&self, id: FindId) -> Result<(), Error> {
        self.decide_and_keep(|desk| {
            desk.find(id)?;
            Ok((vec![Edit::field(kind::FIND, id, DELETED, true)], ()))
        })
    }

    /// The whole find, deleted or not.
    ///
    /// # Errors
    /// [`Error::NotFound`].
    pub fn find(&self, id: FindId) -> Result<FindRecord, Error> {
        let found = self.read(|view| {
            let Some(record) = view.record(kind::FIND, id.into())? else { return Ok(None) };
            let photos = view.children(kind::PHOTO, record.id)?;
            let names = view.children(kind::DETERMINATION, record.id)?;
            Ok(Some(whole(&record, &photos, &names)))
        })?;
        found.ok_or(Error::NotFound { what: "find" })
    }

    /// Every find that meets the criteria, by time; near a point, nearest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn finds(&self, criteria: &Criteria) -> Result<Vec<FindRecord>, Error> {
        self.read(|view| {
            let records = view.matching(kind::FIND, criteria)?;
            let with_all = records.iter().map(|record| {
                let photos = view.children(kind::PHOTO, record.id)?;
                let names = view.children(kind::DETERMINATION, record.id)?;
                Ok(whole(record, &photos, &names))
            });
            with_all.collect()
        })
    }

    /// The find whose id begins like this; deleted ones too, so that they can be brought back.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn find_beginning(&self, beginning: &str) -> Result<FindId, Error> {
        self.beginning(kind::FIND, "find", beginning).map(FindId::from)
    }
}

/// The edits that keep a find with its photos, and the patch that it joins or may belong to.
pub(super) fn new_find(
    desk: &Desk,
    id: FindId,
    find: &Find,
    photos: &[TakenIn],
) -> Result<(Vec<Edit>, Option<Proposal>), Error> {
    let mut find = find.clone();
    if find.outing.is_none() {
        find.outing = outing_at(desk, find.at)?;
    }
    require(desk, &find)?;
    let proposal = if find.patch.is_none() { Some(desk.patch_for(&find, None)?) } else { None };
    if let Some(Proposal::Joins { patch }) = &proposal {
        find.patch = Some(patch.id);
    }
    let mut edits = vec![Edit::new(kind::FIND, id, fields(&find)?)];
    for photo in photos {
        edits.push(photo.edit(id)?);
    }
    Ok((edits, proposal))
}

pub(super) fn whole(record: &Record, photos: &[Record], names: &[Record]) -> FindRecord {
    FindRecord {
        id: record.id.into(),
        find: Kept::from(record),
        photos: photos.iter().map(PhotoRecord::from).collect(),
        determinations: names.iter().map(named).collect(),
    }
}

fn named(record: &Record) -> Named {
    Named { id: record.id.into(), determination: Kept::from(record) }
}

/// Whether a fix is known better than a place, and can be of the same place: whoever got it may have walked on. One of unknown
/// accuracy never is.
fn is_better(fix: Position, known: Position) -> bool {
    let (Some(new), Some(old)) = (fix.accuracy(), known.accuracy()) else { return fix.accuracy().is_some() };
    new < old && distance(fix, known).get() <= new.get() + old.get()
}

/// What a find points at must be there.
fn require(desk: &Desk, find: &Find) -> Result<(), Error> {
    if let Some(outing) = find.outing {
        desk.record(kind::OUTING, outing.into(), "outing")?;
    }
    if let Some(patch) = find.patch {
        desk.record(kind::PATCH, patch.into(), "patch")?;
    }
    Ok(())
}

/// The outing that is on at this time.
pub(super) fn outing_at(desk: &Desk, at: Option<Moment>) -> Result<Option<OutingId>, Error> {
    Ok(at.map(|at| outing_on(&desk.view, at)).transpose()?.flatten())
}

/// The outing that is on at this time.
pub(super) fn outing_on(view: &View, at: Moment) -> Result<Option<OutingId>, StoreError> {
    let Some(record) = view.open_outing()? else { return Ok(None) };
    let outing: Kept<crate::outing::Outing> = Kept::from(&record);
    let since = outing.value.start.map(|start| (at.millis() - start.millis()) / 3_600_000);
    let during =
        outing.value.start.is_some_and(|start| start <= at) && since.is_some_and(|h| h < ONE_OUTING_HOURS);
    Ok(during.then(|| record.id.into()))
}

impl Desk {
    pub(super) fn find(&self, id: FindId) -> Result<Record, Error> {
        self.record(kind::FIND, id.into(), "find")
    }

    pub(super) fn record(&self, kind: &str, id: RecordId, what: &'static str) -> Result<Record, Error> {
        self.view.record(kind, id)?.ok_or(Error::NotFound { what })
    }
}
