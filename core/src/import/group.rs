//! Which photos were taken of one find: those that follow each other closely at one place.

use serde::Serialize;

use crate::moment::Moment;
use crate::place::{Position, distance};
use crate::units::Metres;

/// Photos of one find follow each other within so many minutes (common practice, no source).
pub const ONE_FIND_MINUTES: i64 = 10;
/// They lie no further apart than this, beyond what their receivers were out by (common practice, no source).
pub const ONE_FIND_METRES: f64 = 25.0;

/// What a photo says of when and where it was taken.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Shot {
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken: Option<Moment>,
    /// Where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub position: Option<Position>,
}

/// A group while it grows.
struct Group {
    members: Vec<usize>,
    last: i64,
    position: Option<Position>,
}

/// Photos by the find that they show, as places in the list given: groups by the time they begin, each in order of time. A photo
/// that does not say when it was taken stands alone, at the end.
///
/// A photo joins the nearest group that was added to within [`ONE_FIND_MINUTES`] and lies within [`ONE_FIND_METRES`]; where either does
/// not know its place, the one added to last.
#[must_use]
pub fn together(shots: &[Shot]) -> Vec<Vec<usize>> {
    let mut timed: Vec<(i64, usize)> =
        (0..).zip(shots).filter_map(|(at, shot)| Some((shot.taken?.millis(), at))).collect();
    timed.sort_unstable();
    let mut groups: Vec<Group> = Vec::new();
    for (taken, at) in timed {
        let position = shots.get(at).and_then(|shot| shot.position);
        let recent = groups.iter_mut().rev().filter(|group| taken - group.last <= ONE_FIND_MINUTES * 60_000);
        let joins = recent
            .enumerate()
            .filter_map(|(age, group)| match (position, group.position) {
                (Some(here), Some(there)) => Some((apart(here, there)?, age, group)),
                // Without a place only the latest can be meant.
                _ => (age == 0).then_some((0.0, age, group)),
            })
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        match joins {
            Some((_, _, group)) => {
                group.members.push(at);
                group.last = taken;
                group.position = group.position.or(position);
            }
            None => groups.push(Group { members: vec![at], last: taken, position }),
        }
    }
    let untimed = (0..).zip(shots).filter(|(_, shot)| shot.taken.is_none()).map(|(at, _)| vec![at]);
    groups.into_iter().map(|group| group.members).chain(untimed).collect()
}

/// How far apart two places are, if that is near enough for one find.
fn apart(here: Position, there: Position) -> Option<f64> {
    let doubt = |position: Position| position.accuracy().map_or(0.0, Metres::get);
    let metres = distance(here, there).get();
    (metres <= ONE_FIND_METRES + doubt(here) + doubt(there)).then_some(metres)
}
