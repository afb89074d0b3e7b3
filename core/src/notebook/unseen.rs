//! What paired devices hold already, so that it need not be sent to them again.
//!
//! Every bundle for the owner's devices tells what the one who wrote it holds. What a paired device told last is remembered, and
//! only what is here to the letter is left out for it. A device that lost its notebook since lacks more than it told: so a bundle
//! says what it leaves out, and whoever reads it is told if any of that is not there.

use std::collections::BTreeMap;
use std::fs;

use super::Notebook;
use crate::disk::{self, Doing};
use crate::error::Error;
use crate::exchange::{Held, Span, Spanning};
use crate::id::{DeviceId, PeerId};
use crate::progress::Progress;
use crate::store::View;

/// What paired devices told, in the notebook's folder.
const MEMORY: &str = "seen.json";

/// What is here of one device.
pub(super) struct Spanned {
    /// All of it.
    pub all: Option<Span>,
    /// The beginning that was told of, if it is here to the letter.
    pub told: Option<Span>,
}

/// What is here of one device, and how many changes go beyond what was told of.
pub(super) fn spanned(
    view: &View,
    device: DeviceId,
    told: Option<&Span>,
    progress: &dyn Progress,
) -> Result<(Spanned, u64), Error> {
    let mut spanning = Spanning::new(told);
    let (mut all, mut beyond) = (0, 0);
    view.lines_of::<Error>(device, None, &mut |stamp, line| {
        spanning.take(stamp, line);
        all += 1;
        beyond += u64::from(told.is_some_and(|told| stamp > told.to));
        Ok(progress.step("looking at what is held")?)
    })?;
    let (span, begins) = spanning.finish();
    let told = told.filter(|_| begins).cloned();
    let more = if told.is_some() { beyond } else { all };
    Ok((Spanned { all: span, told }, more))
}

impl Notebook {
    /// What a paired device told last; nothing, if it never did.
    pub(super) fn seen_by(&self, peer: PeerId) -> Result<Held, Error> {
        if !self.peers()?.iter().any(|paired| paired.id == peer) {
            return Err(Error::NotFound { what: "paired device" });
        }
        Ok(self.seen().remove(&peer).unwrap_or_default())
    }

    /// Learnt again from the next bundles: what cannot be read is as nothing.
    fn seen(&self) -> BTreeMap<PeerId, Held> {
        let bytes = fs::read(self.root().join(MEMORY)).unwrap_or_default();
        serde_json::from_slice(&bytes).unwrap_or_default()
    }

    /// Remembers what a paired device told, in place of what it told before.
    pub(super) fn remember_seen(&self, peer: PeerId, held: Held) -> Result<(), Error> {
        let mut seen = self.seen();
        seen.insert(peer, held);
        let written = disk::write_whole(&self.root().join(MEMORY), |out| {
            serde_json::to_writer(out, &seen).map_err(std::io::Error::from)
        });
        Ok(written.doing("remember what a paired device holds")?)
    }

    /// How many devices and photos there are of which what was left out is not all here.
    pub(super) fn missing(&self, left_out: &Held, progress: &dyn Progress) -> Result<u64, Error> {
        if left_out.is_empty() {
            return Ok(0);
        }
        let mut missing =
            left_out.photos.iter().filter(|photo| self.shelf.path(photo).is_none()).count() as u64;
        let view = View::snapshot(&self.folder.view())?;
        for (device, span) in &left_out.changes {
            let (spanned, _) = spanned(&view, *device, Some(span), progress)?;
            missing += u64::from(spanned.told.is_none());
        }
        Ok(missing)
    }
}
