//! A device's changes as a bundle brings them: whole lines, each proved, in order, none breaking off inside an act.

use super::Refused;
use crate::change::{Change, ChangeId, Line, NotALine, Size, Stamp};
use crate::id::DeviceId;

/// Reads one device's changes piece by piece.
pub struct Lines {
    device: DeviceId,
    /// Lines read so far.
    number: u64,
    last: Stamp,
    /// How many changes of the act begun are still to come.
    more: u32,
    /// The beginning of a line that goes on in the next piece.
    begun: Vec<u8>,
    /// How large it is so far.
    size: Size,
}

impl Lines {
    pub fn of(device: DeviceId) -> Self {
        Self { device, number: 0, last: Stamp::ZERO, more: 0, begun: Vec::new(), size: Size::default() }
    }

    /// Takes the next piece and gives out the lines that it ends.
    pub fn take<E: From<Refused>>(
        &mut self,
        piece: &[u8],
        each: &mut dyn FnMut(Line) -> Result<(), E>,
    ) -> Result<(), E> {
        for part in piece.split_inclusive(|byte| *byte == b'\n') {
            self.begun.extend_from_slice(part);
            self.size.add(part);
            if self.size.is_beyond_an_act() {
                return Err(self.bad("is longer than any that Trug writes").into());
            }
            if part.ends_with(b"\n") {
                self.number += 1;
                let line = self.line()?;
                self.begun.clear();
                self.size = Size::default();
                each(line)?;
            }
        }
        Ok(())
    }

    /// Nothing may be left over; answers how many lines there were.
    pub fn finish(self) -> Result<u64, Refused> {
        if !self.begun.is_empty() {
            return Err(Refused::Line { line: self.number + 1, why: "breaks off" });
        }
        if self.more > 0 {
            return Err(self.bad("is the last, and its act is not finished"));
        }
        Ok(self.number)
    }

    fn bad(&self, why: &'static str) -> Refused {
        Refused::Line { line: self.number, why }
    }

    fn line(&mut self) -> Result<Line, Refused> {
        let bytes = self.begun.strip_suffix(b"\n").unwrap_or(&self.begun);
        let text = std::str::from_utf8(bytes).map_err(|_| self.bad("is not text"))?;
        let line = Line::read(text).map_err(|error| {
            self.bad(match error {
                NotALine::NoHash => "does not end in a hash",
                NotALine::Damaged => "does not fit its hash",
                NotALine::NotAChange(_) => "is not a change",
            })
        })?;
        if let Some(why) = fault(&line.change) {
            return Err(self.bad(why));
        }
        if line.change.device != self.device {
            return Err(self.bad("was written by another device than its file says"));
        }
        if line.change.stamp <= self.last {
            return Err(self.bad("is out of order or comes twice"));
        }
        if self.more > 0 && line.change.more != self.more - 1 {
            return Err(self.bad("does not go on with the act begun before it"));
        }
        self.last = line.change.stamp;
        self.more = line.change.more;
        Ok(line)
    }
}

/// What no device writes. Stamps of *other* devices may well be later: a clock that is years ahead is not followed.
fn fault(change: &Change) -> Option<&'static str> {
    let own = change.id();
    let later = |seen: &ChangeId| seen.device == own.device && seen.stamp > own.stamp;
    let is_word = |kind: &str| {
        kind.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
    };
    if change.kind.is_empty() || change.kind.len() > 64 || !is_word(&change.kind) {
        Some("is of a kind that is none")
    } else if change.replaces.contains(&own) || change.undoes == Some(own) {
        Some("replaces itself")
    } else if change.replaces.iter().chain(&change.undoes).any(later) {
        Some("replaces a later change of the same device")
    } else {
        None
    }
}
