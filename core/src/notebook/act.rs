//! An act: edits that are kept together or not at all.

use serde_json::{Map, Value};

use super::{Desk, Notebook};
use crate::change::{Change, ChangeId, Line, Size};
use crate::disk::DiskError;
use crate::error::Error;
use crate::id::{DeviceId, RecordId};
use crate::progress::Unwatched;

/// One record's part in an act.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edit {
    pub kind: String,
    pub record: RecordId,
    /// Fields and their new values; `null` empties one.
    pub set: Map<String, Value>,
    pub undoes: Option<ChangeId>,
    pub unasked: bool,
}

impl Edit {
    pub fn new(kind: &str, record: impl Into<RecordId>, set: Map<String, Value>) -> Self {
        Self { kind: kind.to_owned(), record: record.into(), set, undoes: None, unasked: false }
    }

    /// One field.
    pub fn field(kind: &str, record: impl Into<RecordId>, field: &str, value: impl Into<Value>) -> Self {
        Self::new(kind, record, [(field.to_owned(), value.into())].into_iter().collect())
    }
}

impl Notebook {
    /// Keeps an act. When this returns, it is on the disk and in the view.
    pub(super) fn keep(&self, edits: &[Edit]) -> Result<(), Error> {
        self.decide_and_keep(|_| Ok((edits.to_vec(), ())))
    }

    /// Decides on an act from what is in the notebook, and keeps it, with nothing coming between.
    pub(super) fn decide_and_keep<T>(
        &self,
        decide: impl Fn(&Desk) -> Result<(Vec<Edit>, T), Error>,
    ) -> Result<T, Error> {
        let mut desk = self.lock();
        let open = desk.as_mut().ok_or(Error::Paused)?;
        match self.try_to_keep(open, &decide) {
            Err(Error::View(error)) if error.calls_for_rebuild() => {
                // The log is untouched or holds the act whole: either way it is the truth to build from.
                self.mend(&mut desk, &Unwatched, Some(super::mend::DAMAGED))?;
                self.try_to_keep(desk.as_mut().ok_or(Error::Paused)?, &decide)
            }
            kept => kept,
        }
    }

    fn try_to_keep<T>(
        &self,
        desk: &mut Desk,
        decide: impl Fn(&Desk) -> Result<(Vec<Edit>, T), Error>,
    ) -> Result<T, Error> {
        let (edits, answer) = decide(desk)?;
        if edits.is_empty() {
            return Ok(answer);
        }
        let lines = self.write(desk, edits)?;
        // Whoever reads it elsewhere must hold it whole.
        if lines.iter().map(Line::size).fold(Size::default(), Size::and).is_beyond_an_act() {
            return Err(Error::TooMuch);
        }
        let at =
            desk.appender.append(&lines).map_err(|source| DiskError { doing: "write to the log", source })?;
        if let Err(error) = desk.view.fold_in(&lines, at) {
            // Not acknowledged, so it may go again: the caller is told that nothing was kept.
            desk.appender.take_back(at);
            return Err(error.into());
        }
        Ok(answer)
    }

    fn write(&self, desk: &mut Desk, edits: Vec<Edit>) -> Result<Vec<Line>, Error> {
        let now = self.clock.now().as_millisecond();
        let mut following = u32::try_from(edits.len()).unwrap_or(u32::MAX);
        let mut lines = Vec::with_capacity(edits.len());
        for edit in edits {
            following -= 1;
            let state =
                desk.view.record(&edit.kind, edit.record)?.map(|record| record.state).unwrap_or_default();
            let change = Change {
                replaces: state.seen(edit.set.keys()),
                kind: edit.kind,
                record: edit.record,
                set: edit.set,
                stamp: desk.stamps.tick(now),
                device: self.device(),
                undoes: edit.undoes,
                unasked: edit.unasked,
                more: following,
            };
            lines.push(Line::write(change).map_err(|error| Error::View(error.into()))?);
        }
        Ok(lines)
    }

    pub(super) fn device(&self) -> DeviceId {
        self.folder.device
    }
}
