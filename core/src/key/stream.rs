//! The form in which other programs give evidence and take answers: one JSON object a line.
//!
//! Names are the pack's ids. Field names are relied on by others and never change.

use serde::{Deserialize, Serialize};

use crate::pack::{Character, Effort, Kind, Pack, TaxonIndex};

use super::evidence::{Answer, Evidence, Observed, StateSet};
use super::step::Step;
use super::verdict::Status;

/// All evidence about one find.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// The answers, in the order in which they were given; the same character again is a second look.
    #[serde(default)]
    pub evidence: Vec<Seen>,
    /// What its finder thinks it is: the taxon's id, or an exact name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub suspect: Option<String>,
}

/// One answer: states, or a range of numbers. No states means that it cannot be told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seen {
    /// Id of the character.
    pub character: String,
    /// Ids of the states; for a month its number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub states: Option<Vec<String>>,
    /// Least and most, or a single number. Millimetres, or the number of a month.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<Vec<f32>>,
    /// Whether its finder is sure of it.
    #[serde(default = "sure")]
    pub sure: bool,
}

fn sure() -> bool {
    true
}

/// What the key answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reply {
    /// Where the find stands.
    pub status: Status,
    /// What is named: one food, the members of a group, or nothing.
    pub taxa: Vec<String>,
    /// The taxa not quite excluded, the likeliest first.
    pub ranking: Vec<Ranked>,
    /// Every dangerous taxon at 0.01 or more, and each look-alike of the leader not yet spoken against.
    pub suspected: Vec<String>,
    /// What to look at next, the best first.
    pub next: Vec<Next>,
    /// What keeps the food that fits best from being named.
    pub in_the_way: Vec<Obstacle>,
}

/// A taxon and its probability.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ranked {
    /// Id of the taxon.
    pub taxon: String,
    /// 0 to 1. Together they fall short of 1 by the chance of something unknown.
    pub probability: f64,
}

/// A question worth asking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Next {
    /// Id of the character. One that was answered already should be looked at afresh.
    pub character: String,
    /// Expected information about which taxon it is, in bits.
    pub gain_bits: f64,
    /// What looking costs, in the words of the pack format.
    pub effort: String,
}

/// Something that keeps a food from being named.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Obstacle {
    /// Id of the taxon.
    pub taxon: String,
    /// Ids of characters whose answers would clear it, the cheapest first.
    pub checks: Vec<String>,
}

/// Evidence that does not speak the pack's language.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotEvidence {
    /// No such character.
    #[error("the pack has no character `{0}`: use an id that `pack show` lists")]
    UnknownCharacter(String),
    /// The character has no such state.
    #[error("`{character}` has no state `{state}`: use one of {known}")]
    UnknownState {
        /// The character.
        character: String,
        /// The state as given.
        state: String,
        /// Its states.
        known: String,
    },
    /// No such taxon.
    #[error("the pack has no taxon `{0}`: use an id, or an exact Latin or English name")]
    UnknownTaxon(String),
    /// States where a number is wanted, a range where states are, or both or neither.
    #[error("`{character}` is answered by {wanted}")]
    WrongKind {
        /// The character.
        character: String,
        /// What it takes.
        wanted: &'static str,
    },
}

impl NotEvidence {
    /// A stable code for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::UnknownCharacter(_) => "evidence-unknown-character",
            Self::UnknownState { .. } => "evidence-unknown-state",
            Self::UnknownTaxon(_) => "evidence-unknown-taxon",
            Self::WrongKind { .. } => "evidence-wrong-kind",
        }
    }

    /// What went into its words, by name.
    #[must_use]
    pub fn arguments(&self) -> Vec<(&'static str, String)> {
        match self {
            Self::UnknownCharacter(character) => vec![("character", character.clone())],
            Self::UnknownState { character, state, known } => {
                vec![("character", character.clone()), ("state", state.clone()), ("known", known.clone())]
            }
            Self::UnknownTaxon(taxon) => vec![("taxon", taxon.clone())],
            Self::WrongKind { character, wanted } => {
                vec![("character", character.clone()), ("wanted", (*wanted).to_owned())]
            }
        }
    }
}

impl Request {
    /// The evidence, with the pack's names resolved.
    ///
    /// # Errors
    /// [`NotEvidence`] if a name is not the pack's, or an answer does not suit its character.
    pub fn resolve(&self, pack: &Pack) -> Result<Evidence, NotEvidence> {
        let mut evidence = Evidence::new();
        for seen in &self.evidence {
            evidence.answer(seen.resolve(pack)?);
        }
        if let Some(suspect) = &self.suspect {
            let taxon = pack.taxon_by_name(suspect);
            evidence.set_suspect(Some(taxon.ok_or_else(|| NotEvidence::UnknownTaxon(suspect.clone()))?));
        }
        Ok(evidence)
    }
}

impl Seen {
    /// The answer, with the pack's names resolved.
    ///
    /// # Errors
    /// [`NotEvidence`] if a name is not the pack's, or the answer does not suit its character.
    pub fn resolve(&self, pack: &Pack) -> Result<Answer, NotEvidence> {
        let at = pack.character_by_id(&self.character);
        let (at, character) = at
            .and_then(|at| Some((at, pack.character(at)?)))
            .ok_or_else(|| NotEvidence::UnknownCharacter(self.character.clone()))?;
        let seen = match (character.kind, self.states.as_deref(), self.range.as_deref()) {
            (_, Some([]), None) => Observed::CannotTell,
            (Kind::States, Some(states), None) => Observed::States(states_of(character, states)?),
            (Kind::Millimetres, None, Some(range)) => measures(range).ok_or_else(|| wrong_kind(character))?,
            (Kind::Month, Some([month]), None) => {
                let month: Option<u8> = month.parse().ok().filter(|month| (1..=12).contains(month));
                Observed::Month(month.ok_or_else(|| wrong_kind(character))?)
            }
            (Kind::Month, None, Some(range)) => month(range).ok_or_else(|| wrong_kind(character))?,
            _ => return Err(wrong_kind(character)),
        };
        Ok(Answer { character: at, seen, sure: self.sure })
    }
}

fn wrong_kind(character: &Character) -> NotEvidence {
    let wanted = match character.kind {
        Kind::States => "\"states\": a list of its states, empty if it cannot be told",
        Kind::Millimetres => "\"range\": one or two numbers from 0 to 2000, in millimetres",
        Kind::Month => "\"states\": the number of one month, 1 to 12",
    };
    NotEvidence::WrongKind { character: character.id.clone(), wanted }
}

fn states_of(character: &Character, states: &[String]) -> Result<StateSet, NotEvidence> {
    let resolve = |state: &String| {
        character.state_by_id(state).ok_or_else(|| NotEvidence::UnknownState {
            character: character.id.clone(),
            state: state.clone(),
            known: character.states.iter().map(|known| known.id.as_str()).collect::<Vec<_>>().join(", "),
        })
    };
    states.iter().map(resolve).collect()
}

fn measures(range: &[f32]) -> Option<Observed> {
    let (from, to) = match range {
        [only] => (*only, *only),
        [from, to] if from <= to => (*from, *to),
        _ => return None,
    };
    (from >= 0.0 && to <= 2000.0).then_some(Observed::Millimetres { from, to })
}

fn month(range: &[f32]) -> Option<Observed> {
    let (first, rest) = range.split_first()?;
    let named = (1_u8..=12).find(|month| (f32::from(*month) - first).abs() < f32::EPSILON)?;
    rest.iter().all(|other| (other - first).abs() < f32::EPSILON).then_some(Observed::Month(named))
}

impl Reply {
    /// A step in the pack's names.
    #[must_use]
    pub fn new(pack: &Pack, step: &Step) -> Self {
        let id = |taxon: TaxonIndex| pack.taxon(taxon).map_or_else(String::new, |taxon| taxon.id.clone());
        let character = |at| pack.character(at).map_or_else(String::new, |character| character.id.clone());
        Self {
            status: step.status,
            taxa: step.named.iter().map(|taxon| id(*taxon)).collect(),
            ranking: step
                .ranking
                .iter()
                .map(|ranked| Ranked { taxon: id(ranked.taxon), probability: ranked.chance })
                .collect(),
            suspected: step.suspected.iter().map(|suspected| id(suspected.taxon)).collect(),
            next: step
                .next
                .iter()
                .map(|question| Next {
                    character: character(question.character),
                    gain_bits: question.gain_bits,
                    effort: effort(question.effort).to_owned(),
                })
                .collect(),
            in_the_way: step
                .in_the_way
                .iter()
                .map(|obstacle| Obstacle {
                    taxon: id(obstacle.taxon),
                    checks: obstacle.checks.iter().map(|check| character(check.character)).collect(),
                })
                .collect(),
        }
    }
}

/// An effort in the words of the pack format.
#[must_use]
pub fn effort(effort: Effort) -> &'static str {
    match effort {
        Effort::Glance => "glance",
        Effort::TurnOver => "turn over",
        Effort::Smell => "smell",
        Effort::Cut => "cut",
        Effort::DigOut => "dig out",
        Effort::Lens => "lens",
        Effort::SporePrint => "spore print",
        Effort::Microscope => "microscope",
    }
}
