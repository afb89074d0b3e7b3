//! Merging: changes from elsewhere become this notebook's, all of them or none, in whatever order and however often they come.
//!
//! Who brings them decides what they may do. A device that the owner paired may change anything. Anybody else may add
//! records that were not here, and nothing that reaches into those that were.

use std::collections::BTreeSet;

use serde::Serialize;
use serde_json::Value;

use super::readable::is_readable;
use super::{Desk, Notebook, kind};
use crate::change::{Change, Line, Size};
use crate::disk::Doing;
use crate::error::Error;
use crate::exchange::Refused;
use crate::id::{DeviceId, RecordId};
use crate::log::{Appender, Arriving, SEGMENT_BYTES, SegmentId};
use crate::progress::{Progress, Unwatched};
use crate::store::{Arrival, Presence, StoreError, Unfit};

/// How changes are brought.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bringing {
    /// By whom.
    pub bearer: Bearer,
    /// In a form that this version writes: every value must be one that it can read. A later form may hold others.
    pub is_ours: bool,
    /// Whether to keep them; otherwise everything is tried and nothing is kept.
    pub keep: bool,
}

/// Who brings changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bearer {
    /// A device of the owner's: may change what is here.
    Paired,
    /// Anybody: may add what is not here.
    Anyone,
    /// Somebody who made copies for us: they bring copies and their photos, and nothing else.
    Copier,
}

/// What came of a merge.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Merged {
    /// Changes that were looked at.
    pub changes: u64,
    /// Those that were new here.
    pub new: u64,
    /// Finds that were not here before and are not marked as deleted.
    pub new_finds: u64,
    /// Copies of other people's finds, likewise.
    pub new_copies: u64,
    /// Those that were left out: only a paired device may change what is here, and nobody brings half an act.
    pub left_out: u64,
}

/// What may not be brought by someone who is not paired: what decides on trust or on what may be taken, and what a doctor is told.
const FOR_PAIRED_ALONE: [&str; 8] = [
    kind::PEER,
    kind::CHOICE,
    kind::HOUSE_RULE,
    kind::AREA,
    kind::ADVICE,
    kind::MEAL,
    kind::PERSON,
    kind::OBSERVER,
];

impl Notebook {
    /// Merges what `bring` gives out.
    ///
    /// `settle` runs when everything has been found good, and before it counts: photos take their places there. Answers what
    /// came of it, and which segments the log has more.
    pub(super) fn merge(
        &self,
        bringing: Bringing,
        bring: impl FnOnce(&mut dyn FnMut(Line) -> Result<(), Error>) -> Result<(), Error>,
        settle: impl FnOnce() -> Result<(), Error>,
        progress: &dyn Progress,
    ) -> Result<(Merged, Vec<SegmentId>), Error> {
        let mut desk = self.lock();
        let open = desk.as_mut().ok_or(Error::Paused)?;
        let result = self.arrive(open, bringing, bring, settle, progress);
        if let Err(Error::View(error)) = &result
            && error.calls_for_rebuild()
        {
            self.mend(&mut desk, &Unwatched, Some(super::mend::DAMAGED))?;
        }
        result
    }

    fn arrive(
        &self,
        desk: &mut Desk,
        bringing: Bringing,
        bring: impl FnOnce(&mut dyn FnMut(Line) -> Result<(), Error>) -> Result<(), Error>,
        settle: impl FnOnce() -> Result<(), Error>,
        progress: &dyn Progress,
    ) -> Result<(Merged, Vec<SegmentId>), Error> {
        let log = self.folder.log();
        let now = self.clock.now().as_millisecond();
        let known = log.segments().doing("list the log")?;
        let before = known.len();
        let mut reception = Reception {
            own: self.device(),
            bearer: bringing.bearer,
            is_ours: bringing.is_ours,
            now,
            arrival: desk.view.arrival()?,
            arriving: log.arriving().doing("make room in the log")?,
            known: known.into_iter().map(|(segment, _)| segment).collect(),
            act: Vec::new(),
            act_size: Size::default(),
            batch: Vec::new(),
            batch_bytes: 0,
            begun: BTreeSet::new(),
            merged: Merged::default(),
        };
        let mut stamps = desk.stamps;
        bring(&mut |line| {
            stamps.saw(line.change.stamp, now);
            progress.step("reading changes")?;
            reception.take(line)
        })?;
        reception.end_batch()?;
        reception.arrival.fold(progress).map_err(unfit)?;
        reception.count()?;
        let (arrival, arriving, known, merged) = reception.parts();
        if !bringing.keep {
            return Ok((merged, Vec::new())); // dropped: nothing has arrived
        }
        settle()?;
        if merged.new == 0 {
            return Ok((merged, Vec::new()));
        }
        let settled = arriving.settle().doing("settle what arrived")?;
        if let Err(error) = arrival.commit() {
            settled.take_back().doing("take back what arrived")?;
            return Err(error.into());
        }
        // From here on it is kept, whatever happens.
        desk.stamps = stamps;
        settled.move_in().doing("move what arrived into the log")?;
        if let Some(last) = known.iter().filter(|segment| segment.device == self.device()).max()
            && let Some(folded) = desk.view.folded()?.into_iter().find(|folded| folded.segment == *last)
        {
            desk.appender = Appender::new(log, self.device(), Some((last.number, folded.bytes)));
        }
        Ok((merged, known.get(before..).unwrap_or_default().to_vec()))
    }
}

fn unfit(unfit: Unfit) -> Error {
    match unfit {
        Unfit::Store(error) => error.into(),
        Unfit::Claim { why } => not_allowed(why),
    }
}

fn not_allowed(why: &'static str) -> Error {
    Refused::NotAllowed { why }.into()
}

/// Changes being received, act by act: device by device, each device's in order.
struct Reception<'a> {
    own: DeviceId,
    bearer: Bearer,
    /// It comes in a form that this version writes: every value must be one that it can read.
    is_ours: bool,
    now: i64,
    arrival: Arrival<'a>,
    arriving: Arriving,
    /// Every segment that there is, those arriving among them.
    known: Vec<SegmentId>,
    act: Vec<Line>,
    act_size: Size,
    /// New changes of one device that will be one segment.
    batch: Vec<Line>,
    batch_bytes: u64,
    /// Finds and copies that were not here before.
    begun: BTreeSet<(&'static str, RecordId)>,
    merged: Merged,
}

impl<'a> Reception<'a> {
    fn parts(self) -> (Arrival<'a>, Arriving, Vec<SegmentId>, Merged) {
        (self.arrival, self.arriving, self.known, self.merged)
    }

    fn take(&mut self, line: Line) -> Result<(), Error> {
        self.merged.changes += 1;
        self.act_size = self.act_size.and(line.size());
        if self.act_size.is_beyond_an_act() {
            return Err(not_allowed("holds an act larger than any that Trug writes"));
        }
        let ends = line.change.more == 0;
        self.act.push(line);
        if ends {
            self.act_size = Size::default();
            let act = std::mem::take(&mut self.act);
            self.end_act(act)?;
        }
        Ok(())
    }

    fn end_act(&mut self, act: Vec<Line>) -> Result<(), Error> {
        let count = act.len();
        let mut new = Vec::with_capacity(count);
        for line in act {
            match self.arrival.presence(&line)? {
                Presence::Here => {}
                Presence::Absent => new.push(line),
                Presence::Another => {
                    return Err(not_allowed("holds a change that says something else here"));
                }
            }
        }
        let Some(last) = new.last() else { return Ok(()) };
        if last.change.device == self.own && self.bearer != Bearer::Paired {
            return Err(not_allowed("claims changes of this notebook that it never made"));
        }
        for line in &new {
            self.vet(&line.change)?;
        }
        // What is left of an act that is partly here can be kept unless its end is what is here: a log's segment ends an act.
        let breaks_off = last.change.more > 0;
        if breaks_off || (self.bearer != Bearer::Paired && !self.is_addition(&new, count)?) {
            self.merged.left_out += new.len() as u64;
            return Ok(());
        }
        self.merged.new += new.len() as u64;
        for line in &new {
            self.note_begun(&line.change)?;
        }
        if self.batch.last().is_some_and(|before| before.change.device != last.change.device) {
            self.end_batch()?;
        }
        self.batch_bytes += new.iter().map(|line| line.text().len() as u64 + 1).sum::<u64>();
        self.batch.extend(new);
        if self.batch_bytes >= SEGMENT_BYTES { self.end_batch() } else { Ok(()) }
    }

    /// What nobody may bring.
    fn vet(&self, change: &Change) -> Result<(), Error> {
        const DAY: i64 = 24 * 60 * 60 * 1000;
        if change.device == self.own && change.stamp.millis() > self.now.saturating_add(DAY) {
            return Err(not_allowed("claims changes of this notebook from a time to come"));
        }
        if self.is_ours && !is_readable(change) {
            return Err(not_allowed("holds a value that is not what its field is"));
        }
        let is_copy = change.kind == kind::COPY || change.kind == kind::PHOTO;
        if self.bearer == Bearer::Copier && !is_copy {
            return Err(not_allowed("is for somebody else and holds more than copies"));
        }
        Ok(())
    }

    /// A whole act that adds records which were not here, and reaches into none that was.
    fn is_addition(&self, act: &[Line], count: usize) -> Result<bool, StoreError> {
        if act.len() < count {
            return Ok(false);
        }
        for Line { change, .. } in act {
            if FOR_PAIRED_ALONE.contains(&change.kind.as_str()) || self.arrival.knows(change.record.0)? {
                return Ok(false);
            }
            for field in ["find", "patch", "outing", "merged_into"] {
                let named = change.set.get(field).and_then(Value::as_str).and_then(|id| id.parse().ok());
                if let Some(id) = named
                    && self.arrival.knows(id)?
                {
                    return Ok(false);
                }
            }
        }
        Ok(true)
    }

    /// Notes a find or a copy that was not here before.
    fn note_begun(&mut self, change: &Change) -> Result<(), StoreError> {
        let counted = [kind::FIND, kind::COPY].into_iter().find(|kind| *kind == change.kind);
        if let Some(kind) = counted
            && !self.begun.contains(&(kind, change.record))
            && !self.arrival.knows(change.record.0)?
        {
            self.begun.insert((kind, change.record));
        }
        Ok(())
    }

    /// Counts what has begun, once all of it is folded.
    fn count(&mut self) -> Result<(), StoreError> {
        for (kind, record) in &self.begun {
            let stands = u64::from(self.arrival.stands(kind, *record)?);
            match *kind {
                kind::FIND => self.merged.new_finds += stands,
                _ => self.merged.new_copies += stands,
            }
        }
        Ok(())
    }

    fn end_batch(&mut self) -> Result<(), Error> {
        let Some(first) = self.batch.first() else { return Ok(()) };
        let device = first.change.device;
        let last =
            self.known.iter().filter(|segment| segment.device == device).map(|segment| segment.number).max();
        let segment = SegmentId { device, number: last.unwrap_or(0) + 1 };
        let at = self.arriving.write(segment, &self.batch).doing("write to the log")?;
        self.arrival.add(&self.batch, at)?;
        self.known.push(segment);
        self.batch.clear();
        self.batch_bytes = 0;
        Ok(())
    }
}
