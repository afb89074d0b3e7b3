//! Evidence put in order: one entry a character, by family, so that the order of the answers cannot matter.

use crate::pack::{CharacterIndex, FamilyIndex};

use super::evidence::{Answer, Evidence, StateSet};
use super::reading::Look;
use super::table::Table;

/// An unsure look is misread this many times as often.
const UNSURE: f32 = 2.0;
/// Beyond this an answer would say nothing at all.
const MOST_MISREAD: f32 = 0.5;

/// What came of looking at one character.
#[derive(Debug, Clone, Copy)]
pub(super) struct Heard {
    pub family: FamilyIndex,
    pub character: CharacterIndex,
    /// The steps named by the last look that told something; empty if none did.
    pub seen: StateSet,
    /// How many looks there were.
    pub asked: u8,
    /// How many of them told something.
    pub looks: u8,
    /// Whether it may speak against anything: sure, and not at odds with the look before it.
    pub firm: bool,
}

/// One look on its character's scale, if it told anything.
pub(super) fn look(table: &Table, answer: &Answer) -> Option<Look> {
    let scale = table.scale(answer.character)?;
    let seen = scale.steps_of(answer.seen);
    let misread = if answer.sure {
        scale.misread
    } else {
        f32::max(scale.misread, f32::min(scale.misread * UNSURE, MOST_MISREAD))
    };
    // Having seen every state is having told nothing.
    (!seen.is_empty() && seen.len() < scale.steps).then_some(Look { seen, misread })
}

/// Fills `heard` with what the evidence says, sorted by family and character.
pub(super) fn hear(table: &Table, evidence: &Evidence, heard: &mut Vec<Heard>) {
    heard.clear();
    for answer in evidence.answers() {
        if table.scale(answer.character).is_none() {
            continue;
        }
        let at = heard.iter().position(|known| known.character == answer.character);
        let at = at.unwrap_or_else(|| {
            heard.push(Heard {
                family: table.family(answer.character),
                character: answer.character,
                seen: StateSet::default(),
                asked: 0,
                looks: 0,
                firm: false,
            });
            heard.len() - 1
        });
        let Some(known) = heard.get_mut(at) else { continue };
        known.asked = known.asked.saturating_add(1);
        let Some(look) = look(table, answer) else { continue };
        known.firm = answer.sure && (known.looks == 0 || known.seen == look.seen);
        known.seen = look.seen;
        known.looks = known.looks.saturating_add(1);
    }
    heard.sort_unstable_by_key(|known| (known.family, known.character));
}
