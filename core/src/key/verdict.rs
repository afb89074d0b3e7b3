//! The rule of naming, and how far a find is from it.

use super::candidate::Candidate;
use super::heard::Heard;
use super::posterior::Posterior;

/// The least chance of a food, or of its inseparable group, at which it may be named.
pub const NAMED_FROM: f32 = 0.95;
/// The most that all dangerous taxa together may have.
pub const DANGER_UP_TO: f32 = 1e-4;
/// The most that something unknown may have. Chosen by measurement.
pub const UNKNOWN_UP_TO: f32 = 0.05;
/// From this chance on a dangerous taxon is suspected.
pub const SUSPECTED_FROM: f32 = 0.01;

/// Where a find stands. *Settled* and *group* are words for food that passes the whole rule of naming, and for nothing
/// else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum Status {
    /// One food that the key may name.
    #[serde(rename = "settled")]
    Settled,
    /// A group of such foods which no field character parts.
    #[serde(rename = "group")]
    Group,
    /// Something else still fits.
    #[serde(rename = "not settled")]
    NotSettled,
    /// Nothing that Trug knows fits well.
    #[serde(rename = "unknown")]
    Unknown,
}

impl Status {
    /// Whether food is named.
    #[must_use]
    pub fn is_named(self) -> bool {
        matches!(self, Self::Settled | Self::Group)
    }
}

/// The rule of naming, clause by clause: food is named only where all of them hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools)] // five clauses, each of which holds or not
pub(super) struct Clauses {
    pub may_be_named: bool,
    pub likely_enough: bool,
    pub danger_low: bool,
    pub unknown_low: bool,
    pub rivals_spoken_against: bool,
}

impl Clauses {
    pub fn hold(self) -> bool {
        let Self { may_be_named, likely_enough, danger_low, unknown_low, rivals_spoken_against } = self;
        may_be_named && likely_enough && danger_low && unknown_low && rivals_spoken_against
    }
}

/// The chance of a candidate: of all its members together.
pub(super) fn chance(candidate: &Candidate, posterior: &Posterior) -> f32 {
    candidate.members.iter().map(|member| posterior.of(*member)).sum()
}

/// Judges a candidate on the answers alone; a suspicion has no say in it.
pub(super) fn judge(candidate: &Candidate, posterior: &Posterior, heard: &[Heard]) -> Clauses {
    Clauses {
        may_be_named: candidate.may_be_named,
        likely_enough: chance(candidate, posterior) >= NAMED_FROM,
        danger_low: posterior.danger <= DANGER_UP_TO,
        unknown_low: posterior.unknown <= UNKNOWN_UP_TO,
        rivals_spoken_against: candidate.rivals.iter().all(|rival| rival.is_spoken_against(heard)),
    }
}
