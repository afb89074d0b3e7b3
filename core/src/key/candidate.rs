//! What a find could be called, and what would have to be spoken against before it may be called food.

use crate::pack::{
    Cell, Character, CharacterIndex, GroupIndex, Kind, LookAlike, Pack, Standing, StateIndex, StatesCell,
    Taxon, TaxonIndex,
};

use super::evidence::StateSet;
use super::heard::Heard;
use super::knowledge::Knowledge;

/// A taxon, or an inseparable group of them.
#[derive(Debug)]
pub(super) struct Candidate {
    pub members: Vec<TaxonIndex>,
    pub group: Option<GroupIndex>,
    pub is_food: bool,
    /// Whether every member is a food that the key may name, and has a complete list of look-alikes.
    pub may_be_named: bool,
    /// Its dangerous look-alikes, sorted.
    pub rivals: Vec<Rival>,
}

/// A dangerous look-alike of a candidate.
#[derive(Debug)]
pub(super) struct Rival {
    pub taxon: TaxonIndex,
    /// One of these must speak against it; empty asks for nothing.
    pub demands: Vec<CharacterIndex>,
    /// Whether the spore colour must speak against it.
    pub needs_spore_colour: bool,
    /// What parts the two: a character, the states that do, and whether it is enough alone.
    pub parts: Vec<Part>,
}

/// A character that parts a candidate from a rival.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub character: CharacterIndex,
    pub states: StateSet,
    pub is_decisive: bool,
    pub is_spore_colour: bool,
    pub is_demanded: bool,
}

/// How far a rival is spoken against.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Spoken {
    /// Families of characters that contradict it.
    pub families: u8,
    pub by_decisive: bool,
    pub by_demanded: bool,
    pub by_spore_colour: bool,
}

impl Rival {
    /// How far the answers speak against it.
    pub fn spoken(&self, heard: &[Heard]) -> Spoken {
        let mut spoken = Spoken::default();
        for family in heard.chunk_by(|one, other| one.family == other.family) {
            let mut against = false;
            for part in family.iter().filter_map(|heard| self.contradicted_by(heard)) {
                against = true;
                spoken.by_decisive |= part.is_decisive;
                spoken.by_demanded |= part.is_demanded;
                spoken.by_spore_colour |= part.is_spore_colour;
            }
            spoken.families += u8::from(against);
        }
        spoken
    }

    /// The part that one character plays against it, if it does.
    pub fn contradicted_by(&self, heard: &Heard) -> Option<&Part> {
        let part = self.parts.iter().find(|part| part.character == heard.character)?;
        (heard.firm && !heard.seen.is_empty() && heard.seen.is_within(part.states)).then_some(part)
    }

    /// Whether it is ruled out as the rule of naming demands.
    pub fn is_spoken_against(&self, heard: &[Heard]) -> bool {
        let spoken = self.spoken(heard);
        (spoken.families >= 2 || spoken.by_decisive) && self.lacks(spoken) == Lacks::default()
    }

    /// What is missing apart from the number of families.
    pub fn lacks(&self, spoken: Spoken) -> Lacks {
        Lacks {
            demanded: !self.demands.is_empty() && !spoken.by_demanded,
            spore_colour: self.needs_spore_colour && !spoken.by_spore_colour,
        }
    }
}

/// What is still asked for before a rival is ruled out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Lacks {
    pub demanded: bool,
    pub spore_colour: bool,
}

/// All candidates, and the one that each taxon belongs to.
pub(super) fn candidates(known: &Knowledge<'_>) -> (Vec<Candidate>, Vec<Option<usize>>) {
    let pack = known.pack;
    let mut all: Vec<Candidate> = Vec::new();
    let mut of = vec![None; pack.taxa().len()];
    for (at, taxon) in pack.taxon_indices().zip(pack.taxa()) {
        if known.is_hidden(at) {
            continue;
        }
        let shared = taxon.group.and_then(|group| all.iter().position(|other| other.group == Some(group)));
        if shared.is_none() {
            let members: Vec<TaxonIndex> = match taxon.group {
                Some(group) => pack.members(group).filter(|member| !known.is_hidden(*member)).collect(),
                None => vec![at],
            };
            all.push(candidate(known, members, taxon.group));
        }
        if let Some(of) = of.get_mut(at.get()) {
            *of = shared.or_else(|| all.len().checked_sub(1));
        }
    }
    (all, of)
}

fn candidate(known: &Knowledge<'_>, members: Vec<TaxonIndex>, group: Option<GroupIndex>) -> Candidate {
    let pack = known.pack;
    let all = |holds: &dyn Fn(&Taxon) -> bool| members.iter().all(|it| pack.taxon(*it).is_some_and(holds));
    let is_food = all(&|taxon| taxon.standing == Standing::Food);
    let may_be_named = is_food && all(&|taxon| taxon.key_may_name && taxon.lookalikes_complete);
    let mut rivals: Vec<Rival> = Vec::new();
    for member in &members {
        for (other, _) in pack.lookalikes_of(*member) {
            let Some(taxon) = pack.taxon(other).filter(|taxon| taxon.standing.is_dangerous()) else {
                continue;
            };
            let is_other = !members.contains(&other) && !known.is_hidden(other);
            if is_other && rivals.iter().all(|rival| rival.taxon != other) {
                rivals.push(rival(known, &members, other, taxon));
            }
        }
    }
    rivals.sort_by_key(|rival| rival.taxon);
    Candidate { members, group, is_food, may_be_named, rivals }
}

fn rival(known: &Knowledge<'_>, members: &[TaxonIndex], at: TaxonIndex, taxon: &Taxon) -> Rival {
    let pack = known.pack;
    let entries: Vec<&LookAlike> = members
        .iter()
        .flat_map(|member| {
            pack.lookalikes_of(*member).filter(|(other, _)| *other == at).map(|(_, entry)| entry)
        })
        .collect();
    let parts = pack
        .character_indices()
        .zip(pack.characters())
        .filter(|(_, character)| character.separator && character.kind == Kind::States)
        .filter_map(|(character_at, character)| {
            let states = parting_states(known, members, at, taxon, character_at, character);
            (!states.is_empty()).then(|| Part {
                character: character_at,
                states,
                is_decisive: entries.iter().any(|entry| entry.decisive.contains(&character_at)),
                is_spore_colour: character.spore_colour,
                is_demanded: taxon.demands.contains(&character_at),
            })
        })
        .collect();
    Rival {
        taxon: at,
        demands: taxon.demands.clone(),
        needs_spore_colour: taxon.standing == Standing::Deadly && spore_colour_differs(known, members, at),
        parts,
    }
}

/// The states that a member shows and the rival never does; both by a published source if the rival is deadly.
fn parting_states(
    known: &Knowledge<'_>,
    members: &[TaxonIndex],
    rival: TaxonIndex,
    taxon: &Taxon,
    at: CharacterIndex,
    character: &Character,
) -> StateSet {
    let pack = known.pack;
    let needs_source = taxon.standing == Standing::Deadly;
    let Cell::States(theirs) = known.cell(rival, at) else { return StateSet::default() };
    if needs_source && !has_published_usual(pack, theirs) {
        return StateSet::default();
    }
    let shown_by_member = |state: StateIndex| {
        members.iter().any(|member| match known.cell(*member, at) {
            Cell::States(ours) => ours
                .states
                .get(state.get())
                .and_then(Option::as_ref)
                .is_some_and(|seen| !needs_source || pack.is_published(&seen.sources)),
            _ => false,
        })
    };
    (0_u16..)
        .map(StateIndex)
        .zip(&character.states)
        .filter(|(state, described)| described.separator && !theirs.shows(*state) && shown_by_member(*state))
        .map(|(state, _)| state)
        .collect()
}

/// Whether what is usual in a cell is said by a published source.
fn has_published_usual(pack: &Pack, cell: &StatesCell) -> bool {
    cell.states
        .iter()
        .flatten()
        .any(|seen| seen.frequency == crate::pack::Frequency::Usual && pack.is_published(&seen.sources))
}

/// Whether the colours of spores known of the two have nothing in common. What carries no spores to be seen has none.
fn spore_colour_differs(known: &Knowledge<'_>, members: &[TaxonIndex], rival: TaxonIndex) -> bool {
    let pack = known.pack;
    let colours = |character: &Character, at: CharacterIndex, taxon: TaxonIndex| -> StateSet {
        let Cell::States(cell) = known.cell(taxon, at) else { return StateSet::default() };
        let states = (0_u16..).map(StateIndex).zip(&character.states);
        states
            .filter(|(state, described)| described.separator && cell.shows(*state))
            .map(|(it, _)| it)
            .collect()
    };
    pack.character_indices().zip(pack.characters()).filter(|(_, character)| character.spore_colour).any(
        |(at, character)| {
            let theirs = colours(character, at, rival);
            let ours = members
                .iter()
                .map(|member| colours(character, at, *member))
                .fold(StateSet::default(), StateSet::or);
            !theirs.is_empty() && !ours.is_empty() && theirs.and(ours).is_empty()
        },
    )
}
