//! Bringing the two copies of every change together: what one has lost, the other gives back.
//!
//! Segment by segment: the whole lines of the log, the whole rows of the view, and the union of both is the truth. A
//! segment that lacks some of it is rewritten (the damaged file goes aside); a view that lacks some, or cannot be read,
//! is built afresh. Only what is damaged in both copies is lost, and that is reported, change by change.

use std::collections::BTreeSet;

use serde::Serialize;

use super::Opening;
use super::folder::Folder;
use crate::change::{ChangeId, Line};
use crate::disk::Doing;
use crate::error::Error;
use crate::log::{Log, Scan, SegmentId};
use crate::progress::Progress;
use crate::store::{self, Beyond, SecondCopy, View};

/// Something found wrong. The words carry no places and no notes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// A stable word for programs.
    pub code: &'static str,
    /// Plain words.
    pub message: String,
}

impl Problem {
    pub(super) fn new(code: &'static str, message: impl Into<String>) -> Self {
        Self { code, message: message.into() }
    }
}

/// One segment, both copies laid together.
pub(super) struct Union {
    segment: SegmentId,
    /// Everything that is whole in either copy, in order of stamps.
    lines: Vec<Line>,
    /// What is wrong with the log's copy; its lines are among those above.
    scan: Scan,
    /// How many lines the log had.
    in_log: usize,
    /// The view has all of it, undamaged.
    view_has_all: bool,
    /// Changes that neither copy still holds.
    lost: u64,
}

impl Union {
    /// Lays the copies together, of the whole file or only of that part which the view says it had folded.
    pub(super) fn of(
        log: &Log,
        copy: &SecondCopy,
        segment: SegmentId,
        folded_only: bool,
    ) -> Result<Self, Error> {
        let known = copy.segments().get(&segment);
        let end = known.filter(|_| folded_only).map_or(u64::MAX, |known| known.bytes);
        let mut scan = log.scan(segment, 0..end).doing("read the log")?;
        let Beyond { lines: mut beyond, matched, whole } = copy.beyond(segment, &scan.lines);
        let in_log = scan.lines.len();
        let in_view = matched + beyond.len();
        let accounted = known.is_some_and(|known| known.lines > 0);
        if accounted && scan.holds_whole(known.map_or(0, |known| known.bytes)) {
            beyond.clear(); // all that the view had folded is there: these rows belong to another segment
        } else if !accounted {
            drop_misfiled(log, segment, &mut beyond)?;
        }
        let mut lines = std::mem::take(&mut scan.lines);
        lines.extend(beyond);
        if !lines.is_sorted_by(|a, b| a.change.id() < b.change.id()) {
            lines.sort_by_key(|line| line.change.id());
            lines.dedup_by_key(|line| line.change.id());
        }
        let there_were = known.map_or(0, |k| k.lines).max((in_log + scan.damage.len()) as u64);
        Ok(Self {
            segment,
            view_has_all: whole && in_view == lines.len(),
            lost: there_were.saturating_sub(lines.len() as u64),
            in_log,
            scan,
            lines,
        })
    }

    /// A segment that is there or once was; a damaged row may name one that never was.
    fn is_real(&self) -> bool {
        self.scan.length > 0 || !self.lines.is_empty() || self.lost > 0
    }

    /// The log's copy is whole.
    fn log_has_all(&self) -> bool {
        self.scan.is_clean() && self.in_log == self.lines.len()
    }

    /// Both copies are whole.
    pub(super) fn is_clean(&self) -> bool {
        self.log_has_all() && self.view_has_all && self.lost == 0
    }

    fn put_log_right(&self, log: &Log, outcome: &mut Opening) -> Result<(), Error> {
        let Self { segment, scan, lines, in_log, .. } = self;
        if self.lost > 0 {
            let which = if self.lost == 1 {
                "one change is".to_owned()
            } else {
                format!("{} changes are", self.lost)
            };
            let words = format!(
                "{which} damaged in both copies and lost: segment {} of device {}{}; the file is kept in aside",
                segment.number,
                segment.device,
                scan.damage.first().map_or(String::new(), |damage| format!(", near line {}", damage.line)),
            );
            let lost = Problem::new("change-lost", words);
            if !outcome.lost.contains(&lost) {
                outcome.lost.push(lost);
            }
        }
        if self.log_has_all() {
            return Ok(());
        }
        if scan.damage.is_empty() && !scan.salvaged && *in_log == lines.len() {
            return Ok(log.cut(*segment, scan.whole).doing("cut off a torn tail")?);
        }
        log.rewrite(*segment, lines).doing("mend the log")?;
        let given_back = lines.len().saturating_sub(*in_log);
        let words = format!("segment {} was mended, {given_back} changes from the view", segment.number);
        outcome.mended.push(Problem::new("log-mended", words));
        Ok(())
    }
}

/// A row may claim a segment of which the view keeps no account: what the log has elsewhere was only misfiled.
fn drop_misfiled(log: &Log, claimed: SegmentId, beyond: &mut Vec<Line>) -> Result<(), Error> {
    if beyond.is_empty() {
        return Ok(());
    }
    for (segment, _) in log.segments().doing("list the log")? {
        if segment != claimed && beyond.iter().any(|line| line.change.device == segment.device) {
            let held = log.scan(segment, 0..u64::MAX).doing("read the log")?.lines;
            let held: BTreeSet<ChangeId> = held.iter().map(|line| line.change.id()).collect();
            beyond.retain(|line| !held.contains(&line.change.id()));
        }
    }
    Ok(())
}

/// Every segment that either copy knows of.
pub(super) fn segments(log: &Log, copy: &SecondCopy) -> Result<Vec<SegmentId>, Error> {
    let on_disk = log.segments().doing("list the log")?;
    let mut all: Vec<SegmentId> = on_disk.into_iter().map(|(segment, _)| segment).collect();
    all.extend(copy.segments().keys().copied());
    all.sort_unstable();
    all.dedup();
    Ok(all)
}

/// A number that is skipped: a whole segment that neither copy has.
fn gaps(segments: &[SegmentId]) -> impl Iterator<Item = Problem> + '_ {
    let before = std::iter::once(None).chain(segments.iter().map(Some));
    before.zip(segments).filter_map(|(before, segment)| {
        let expected = before.filter(|b| b.device == segment.device).map_or(1, |b| b.number + 1);
        (segment.number > expected).then(|| {
            let words = format!(
                "segments {expected} to {} of device {} are missing",
                segment.number - 1,
                segment.device
            );
            Problem::new("segment-lost", words)
        })
    })
}

/// Puts both copies right and opens the view.
pub(super) fn mend(
    folder: &Folder,
    progress: &dyn Progress,
    why_view: Option<&str>,
) -> Result<(View, Opening), Error> {
    let log = folder.log();
    let copy = SecondCopy::of(&folder.view());
    let all = segments(&log, &copy)?;
    let mut outcome = Opening::default();
    if why_view.is_none() && !copy.is_damaged() {
        let mut view_has_all = true;
        for segment in &all {
            let union = Union::of(&log, &copy, *segment, false)?;
            view_has_all &= union.view_has_all && union.is_real();
            union.put_log_right(&log, &mut outcome)?;
            progress.step("comparing both copies")?;
        }
        if view_has_all && let Ok(view) = View::open(&folder.view()) {
            outcome.lost.extend(gaps(&all));
            return Ok((view, outcome));
        }
    }
    let mut real = Vec::with_capacity(all.len());
    let fresh = store::build(
        &folder.view(),
        all.iter().map(|segment| {
            let union = Union::of(&log, &copy, *segment, false)?;
            if union.is_real() {
                real.push(*segment);
            }
            union.put_log_right(&log, &mut outcome)?;
            Ok::<_, Error>((*segment, union.lines))
        }),
        progress,
    )?;
    outcome.lost.extend(gaps(&real));
    let damaged = copy.is_damaged() || why_view == Some(DAMAGED);
    drop(copy);
    if folder.view().exists() {
        let words = why_view.unwrap_or("the view lacked something");
        outcome
            .mended
            .push(Problem::new("view-rebuilt", format!("{words}: it was built afresh from the log")));
    }
    if damaged {
        folder.set_view_aside()?;
    }
    fresh.put_in_place()?;
    Ok((View::open(&folder.view())?, outcome))
}

/// Why a view is built afresh, when it was damaged.
pub(super) const DAMAGED: &str = "the view was damaged";
