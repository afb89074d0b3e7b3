//! Opening cheaply: the ends of the segments against what was folded of them.

use super::folder::Folder;
use super::mend::{DAMAGED, mend};
use super::{Desk, Opening, WallClock};
use crate::change::{Clock, Stamp};
use crate::disk::Doing;
use crate::error::Error;
use crate::log::{Appended, Appender, Log, SegmentId};
use crate::progress::Progress;
use crate::store::{Folded, StoreError, View};

/// Opens the view, catches it up with the log or has it built afresh, and sets the clock.
pub(super) fn open(
    folder: &Folder,
    clock: &dyn WallClock,
    progress: &dyn Progress,
) -> Result<(Desk, Opening), Error> {
    let log = folder.log();
    log.end_arrivals().doing("end what was arriving in the log")?;
    let (view, opening) = match ready(folder, &log) {
        Ok(view) => (view, Opening::default()),
        Err(Unready::Mend(why)) => mend(folder, progress, why)?,
        Err(Unready::Failed(error)) => return Err(error),
    };
    let own = view.folded()?.into_iter().rfind(|folded| folded.segment.device == folder.device);
    let appender = Appender::new(log, folder.device, own.map(|own| (own.segment.number, own.bytes)));
    let stamps = set_clock(folder, &view, clock)?;
    Ok((Desk { view, appender, stamps }, opening))
}

/// The own clock goes on from its own last stamp; those of others are followed within reason.
fn set_clock(folder: &Folder, view: &View, clock: &dyn WallClock) -> Result<Clock, Error> {
    let last = view.last_stamps()?;
    let own =
        last.iter().find(|(device, _)| *device == folder.device).map_or(Stamp::ZERO, |(_, stamp)| *stamp);
    let mut stamps = Clock::after(own);
    for (_, stamp) in last {
        stamps.saw(stamp, clock.now().as_millisecond());
    }
    Ok(stamps)
}

enum Unready {
    /// The copies must be brought together first; with the reason if the view is no good.
    Mend(Option<&'static str>),
    Failed(Error),
}

impl From<StoreError> for Unready {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Missing => Self::Mend(Some("the view was missing")),
            StoreError::OtherVersion { .. } => Self::Mend(Some("the view was of another version")),
            other if other.calls_for_rebuild() => Self::Mend(Some(DAMAGED)),
            other => Self::Failed(other.into()),
        }
    }
}

impl From<crate::disk::DiskError> for Unready {
    fn from(error: crate::disk::DiskError) -> Self {
        Self::Failed(error.into())
    }
}

/// The view, if nothing but new lines at the end of the log parts it from the log.
fn ready(folder: &Folder, log: &Log) -> Result<View, Unready> {
    let mut view = View::open(&folder.view())?;
    let known = view.folded()?;
    let on_disk = log.segments().doing("list the log")?;
    if known.iter().any(|f| !on_disk.iter().any(|(segment, _)| *segment == f.segment)) {
        return Err(Unready::Mend(None)); // a segment is gone
    }
    let mut new = Vec::new();
    for (segment, length) in on_disk {
        let Some(before) = known.iter().find(|f| f.segment == segment) else {
            new.push((segment, 0, length));
            continue;
        };
        if length < before.bytes || !is_same_file(log, before)? {
            return Err(Unready::Mend(None));
        }
        if length > before.bytes {
            new.push((segment, before.bytes, length));
        }
    }
    for (segment, from, length) in new {
        catch_up(&mut view, log, segment, from, length)?;
    }
    Ok(view)
}

fn is_same_file(log: &Log, before: &Folded) -> Result<bool, Unready> {
    let ending = log.ending(before.segment, before.bytes, before.last.len()).doing("read the log")?;
    Ok(ending == before.last.as_bytes())
}

/// Folds in what the log has beyond the view: acts that were synced and not yet folded when the process ended.
fn catch_up(view: &mut View, log: &Log, segment: SegmentId, from: u64, length: u64) -> Result<(), Unready> {
    let scan = log.scan(segment, from..length).doing("read the log")?;
    if !scan.damage.is_empty() || scan.salvaged {
        return Err(Unready::Mend(None));
    }
    if scan.whole < scan.length {
        log.cut(segment, from + scan.whole).doing("cut off a torn tail")?;
    }
    if scan.lines.is_empty() {
        return Ok(()); // nothing but room made ahead
    }
    Ok(view.fold_in(&scan.lines, Appended { segment, before: from, after: from + scan.whole })?)
}
