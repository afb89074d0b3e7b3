//! From looks to likelihood: how likely what was read is, for each state that may really be there.

use crate::pack::StateIndex;

use super::evidence::StateSet;
use super::scale::Scale;

/// Share of misreadings that a look afresh repeats.
const REPEATED: f32 = 0.5;
/// A look afresh, made because of a doubt, spoils a right reading this much more seldom than a first look would.
const SPOILED_AFRESH: f32 = 0.25;

/// One look, on the steps of its character's scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    pub seen: StateSet,
    /// Chance that it is a misreading.
    pub misread: f32,
}

impl Look {
    /// The chance of reading this when a state is there (`.0`), and when another is (`.1`).
    fn chances(self, steps: u8) -> (f32, f32) {
        let wrong = self.misread / f32::from(steps.max(2) - 1);
        let seen = f32::from(self.seen.len());
        let right = 1.0 - self.misread + wrong * (seen - 1.0);
        (right, f32::min(wrong * seen, right))
    }
}

/// One sure look at one state.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    /// The chance of reading a state that is there.
    right: f32,
    /// The chance of reading one given other.
    wrong: f32,
}

impl Reading {
    pub fn of(scale: &Scale) -> Self {
        let seen = StateSet::of(StateIndex(0));
        let (right, wrong) = Look { seen, misread: scale.misread }.chances(scale.steps);
        Self { right, wrong }
    }

    /// The chance of reading a state that is there with this chance.
    pub fn chance(self, truth: f32) -> f32 {
        self.wrong + (self.right - self.wrong) * truth
    }

    /// The chance of reading one of so many states, of which one is there with this chance.
    pub fn chance_of(self, states: u8, truth: f32) -> f32 {
        self.wrong * f32::from(states) + (self.right - self.wrong) * truth
    }
}

/// The likelihood of a chain of looks at one character, the first one first, for each state that may be there.
///
/// A look afresh repeats some of the errors of the one before it, so that two looks which agree say little more than one,
/// and two which disagree leave both states standing, the later one ahead.
pub(super) fn likelihoods(looks: &[Look], steps: u8, out: &mut Vec<f32>) {
    out.clear();
    out.resize(usize::from(steps), 1.0);
    let mut before: Option<Look> = None;
    for look in looks {
        let (right, wrong) = look.chances(steps);
        let agrees = before.is_some_and(|before| !before.seen.and(look.seen).is_empty());
        for (state, likelihood) in (0_u16..).map(StateIndex).zip(&mut *out) {
            let plain = if look.seen.contains(state) { right } else { wrong };
            *likelihood *= match before {
                None => plain,
                Some(before) if before.seen.contains(state) => {
                    if look.seen.contains(state) {
                        plain
                    } else {
                        plain * SPOILED_AFRESH
                    }
                }
                Some(_) if agrees => REPEATED + (1.0 - REPEATED) * plain,
                Some(_) => (1.0 - REPEATED) * plain,
            };
        }
        before = Some(*look);
    }
}

/// The chance of each reading of a look afresh, after one that read `seen`, for something whose states have the chances
/// that `truth` gives. All 0 where nothing could have been read so.
pub(super) fn second_look(
    scale: &Scale,
    seen: StateSet,
    truth: impl Fn(StateIndex) -> f32,
    out: &mut Vec<f32>,
) {
    let first = Look { seen, misread: scale.misread };
    let (right_before, wrong_before) = first.chances(scale.steps);
    let Reading { right, wrong } = Reading::of(scale);
    let states = || (0..u16::from(scale.steps)).map(StateIndex);
    let within: f32 = seen.iter().map(&truth).sum();
    let outside: f32 = states().map(&truth).sum::<f32>() - within;
    out.clear();
    out.extend(states().map(|state| {
        let here = truth(state);
        if seen.contains(state) {
            let kept = right * here + wrong * SPOILED_AFRESH * (within - here);
            right_before * kept + wrong_before * outside * (REPEATED + (1.0 - REPEATED) * wrong)
        } else {
            let changed = right * here + wrong * (outside - here);
            right_before * wrong * SPOILED_AFRESH * within + wrong_before * (1.0 - REPEATED) * changed
        }
    }));
    let sum: f32 = out.iter().sum();
    if sum > 0.0 {
        for chance in out {
            *chance /= sum;
        }
    }
}
