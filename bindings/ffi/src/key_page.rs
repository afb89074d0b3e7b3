//! *Work it out*: everything that a step of the key shows.

use std::collections::BTreeSet;

use trug::key::{Evidence, Key, Question as Asked, Status, Step, words};
use trug::pack::{Character, CharacterIndex, Effort, Kind};

use crate::Book;
use crate::key::{KeyAsked, KeySeen};
use crate::shared::NameShown;

/// How many taxa that still fit are told.
const FITS: usize = 8;
/// How many other questions are offered.
const OTHERS: usize = 40;

/// Everything that a step of the key shows.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct KeyPage {
    /// What it was told: to be handed back with the next answer.
    pub asked: KeyAsked,
    /// One sheet to begin with: what a glance shows. More appears on it as the form is known.
    pub sheet: Vec<Sheet>,
    /// The dangerous ones still possible, the likeliest first, then those that the suspected name is taken for.
    pub strip: Vec<StillPossible>,
    /// The same in one line; none if there are none.
    pub warning: Option<String>,
    /// What to look at next; none when nothing more would tell.
    pub question: Option<Question>,
    /// Other things to look at, the best first.
    pub others: Vec<OtherQuestion>,
    /// The answers so far, in the order in which they were given.
    pub answers: Vec<AnswerGiven>,
    /// What still fits, the likeliest first.
    pub fits: Vec<Fits>,
    /// Where it stands.
    pub verdict: Verdict,
}

/// A character of the sheet.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Sheet {
    /// Id of the character.
    pub character: String,
    /// Its short name.
    pub label: String,
    /// Its states.
    pub states: Vec<StateOffered>,
}

/// A state that may be seen.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct StateOffered {
    /// Its id within the character.
    pub id: String,
    /// What it is called.
    pub label: String,
    /// Id of the line figure that shows it.
    pub figure: Option<String>,
    /// Whether the last look at the character gave it.
    pub chosen: bool,
}

/// A dangerous taxon that cannot be left out of account.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct StillPossible {
    /// Which.
    pub name: NameShown,
    /// In how strong words: "fits well; has killed".
    pub words: String,
    /// 0 to 1.
    pub chance: f64,
}

/// A question.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Question {
    /// Id of the character.
    pub character: String,
    /// The question as it is asked.
    pub words: String,
    /// How to look, where the question does not say it all.
    pub help: Option<String>,
    /// What has to be done, and what the answer parts.
    pub why: String,
    /// What looking costs: glance, turn over, smell, cut, dig out, lens, spore print, microscope.
    pub effort: String,
    /// Whether it was answered before, and should be looked at afresh.
    pub afresh: bool,
    /// The states to choose from; empty for a size and for a month.
    pub states: Vec<StateOffered>,
    /// "mm" for a size, "month" for a month; empty for states.
    pub unit: String,
}

/// Another question that may be asked.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct OtherQuestion {
    /// Id of the character, for [`KeyAsked::ask`].
    pub character: String,
    /// Its short name.
    pub label: String,
    /// What looking costs.
    pub effort: String,
    /// Whether it was answered before.
    pub afresh: bool,
}

/// An answer that was given.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct AnswerGiven {
    /// The answer; its place in this list is its place in [`KeyAsked::evidence`].
    pub seen: KeySeen,
    /// In words: "Ring: absent (not sure)".
    pub words: String,
}

/// A taxon that still fits.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Fits {
    /// Which.
    pub name: NameShown,
    /// 0 to 1.
    pub chance: f64,
    /// What the answers say for and against it, a sentence each; empty where they say nothing, or it is far down.
    pub words: Vec<String>,
}

/// Where a find stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum Ending {
    /// Nothing was seen yet: at most the month is known.
    Open,
    /// One food that the key may name.
    Settled,
    /// A group of such foods which no field character parts.
    Group,
    /// Something else still fits.
    NotSettled,
    /// Nothing that Trug knows fits well.
    Unknown,
}

/// Where it stands, in words.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Verdict {
    /// Where it stands.
    pub ending: Ending,
    /// In a line.
    pub title: String,
    /// In a few sentences, with what keeps it from being settled and what would settle it.
    pub body: String,
    /// The food, or the members of the group, that is named.
    pub named: Vec<NameShown>,
    /// The dangerous look-alikes that the answers speak against, and by what: to be checked on every one that is cut.
    pub checks: Vec<String>,
    /// What else stands in the way, and what would clear it.
    pub in_the_way: Vec<String>,
    /// What stays in view after a name.
    pub cautions: Vec<String>,
}

impl Book {
    /// The page of a step.
    pub(crate) fn key_page(
        &self,
        key: &Key<'_>,
        asked: KeyAsked,
        evidence: &Evidence,
        step: &Step,
    ) -> KeyPage {
        let glance = key.glance(evidence);
        let sheet = glance.into_iter().filter_map(|at| self.sheet(&asked, at)).collect();
        let wanted = asked.ask.as_deref().and_then(|id| self.pack.character_by_id(id));
        let next = wanted.map_or_else(|| step.next.first().copied(), |at| Some(self.wanted(step, at)));
        // What could not be told comes up again only where somebody asks for it; a spore print will be there by morning.
        let (nights, untold): (Vec<_>, Vec<_>) = self
            .untold(&asked)
            .map(|at| Asked { afresh: true, ..self.wanted(step, at) })
            .partition(|other| other.effort == Effort::SporePrint);
        let offered = step.next.iter().take(OTHERS).copied();
        let mut others: Vec<Asked> = nights.into_iter().chain(offered).chain(untold).collect();
        others.retain(|other| next.is_none_or(|next| next.character != other.character));
        KeyPage {
            sheet,
            strip: self.strip(key, evidence, step),
            warning: words::warning(self.pack, step),
            question: next.and_then(|next| self.question(&asked, evidence, &next)),
            others: others.iter().filter_map(|other| self.other(other)).collect(),
            answers: asked
                .evidence
                .iter()
                .zip(evidence.answers())
                .map(|(seen, answer)| AnswerGiven {
                    seen: seen.clone(),
                    words: words::answered(self.pack, answer),
                })
                .collect(),
            fits: self.fits(evidence, step),
            verdict: self.verdict(evidence, step),
            asked,
        }
    }

    /// What the answers leave possible, and what has to be reckoned with for the name in mind.
    fn strip(&self, key: &Key<'_>, evidence: &Evidence, step: &Step) -> Vec<StillPossible> {
        let mut suspected = step.suspected.clone();
        for open in key.open_lookalikes(evidence) {
            if suspected.iter().all(|known| known.taxon != open.taxon) {
                suspected.push(open);
            }
        }
        let shown = suspected.iter().filter_map(|suspected| {
            Some(StillPossible {
                name: self.pack.named_at(suspected.taxon)?.into(),
                words: words::suspicion(self.pack, suspected),
                chance: suspected.chance,
            })
        });
        shown.collect()
    }

    fn sheet(&self, asked: &KeyAsked, at: CharacterIndex) -> Option<Sheet> {
        let character = self.pack.character(at)?;
        Some(Sheet {
            character: character.id.clone(),
            label: character.label.clone(),
            states: states(asked, character),
        })
    }

    /// The question about a character that somebody chose, whatever it is worth.
    /// The characters that were asked after and could not be told.
    fn untold<'a>(&'a self, asked: &'a KeyAsked) -> impl Iterator<Item = CharacterIndex> + 'a {
        let characters: BTreeSet<&str> = asked.evidence.iter().map(|seen| seen.character.as_str()).collect();
        let untold = characters.into_iter().filter(|id| {
            let mut looks = asked.evidence.iter().filter(|seen| seen.character == **id);
            looks.all(|seen| seen.states.is_empty() && seen.from_mm.is_none())
        });
        untold.filter_map(|id| self.pack.character_by_id(id))
    }

    /// What takes a night and could not be told yet: what to ask first of a find that waited.
    pub(crate) fn night(&self, asked: &KeyAsked) -> Option<String> {
        let mut untold = self.untold(asked).filter_map(|at| self.pack.character(at));
        untold.find(|character| character.effort == Effort::SporePrint).map(|character| character.id.clone())
    }

    fn wanted(&self, step: &Step, at: CharacterIndex) -> Asked {
        let known = step.next.iter().find(|question| question.character == at).copied();
        known.unwrap_or_else(|| Asked {
            character: at,
            afresh: false,
            gain_bits: 0.0,
            effort: self.pack.character(at).map_or(Effort::Glance, |it| it.effort),
            parts: None,
        })
    }

    fn question(&self, asked: &KeyAsked, evidence: &Evidence, question: &Asked) -> Option<Question> {
        let character = self.pack.character(question.character)?;
        Some(Question {
            character: character.id.clone(),
            words: character.question.clone(),
            help: character.help.clone(),
            why: words::why(self.pack, evidence, question),
            effort: trug::key::stream::effort(question.effort).to_owned(),
            afresh: question.afresh,
            states: states(asked, character),
            unit: match character.kind {
                Kind::States => "",
                Kind::Millimetres | Kind::Month => character.kind.unit(),
            }
            .to_owned(),
        })
    }

    fn other(&self, question: &Asked) -> Option<OtherQuestion> {
        let character = self.pack.character(question.character)?;
        Some(OtherQuestion {
            character: character.id.clone(),
            label: character.label.clone(),
            effort: trug::key::stream::effort(question.effort).to_owned(),
            afresh: question.afresh,
        })
    }

    fn fits(&self, evidence: &Evidence, step: &Step) -> Vec<Fits> {
        let told = step.ranking.iter().take(FITS).filter_map(|ranked| {
            let explained = step.explained.iter().find(|one| one.taxon == ranked.taxon);
            Some(Fits {
                name: self.pack.named_at(ranked.taxon)?.into(),
                chance: ranked.chance,
                words: explained.map(|one| words::explanation(self.pack, evidence, one)).unwrap_or_default(),
            })
        });
        told.collect()
    }

    fn verdict(&self, evidence: &Evidence, step: &Step) -> Verdict {
        let ending = match step.status {
            Status::Settled => Ending::Settled,
            Status::Group => Ending::Group,
            Status::Unknown => Ending::Unknown,
            Status::NotSettled if evidence.is_bare() => Ending::Open,
            Status::NotSettled => Ending::NotSettled,
        };
        let is_named = step.status.is_named();
        let checks = step.spoken_against.iter().filter(|_| is_named);
        Verdict {
            ending,
            title: words::title(self.pack, step),
            body: words::verdict(self.pack, step),
            named: step.named.iter().filter_map(|at| self.pack.named_at(*at)).map(NameShown::from).collect(),
            checks: checks.map(|against| words::check(self.pack, against)).collect(),
            in_the_way: step.in_the_way.iter().map(|one| words::obstacle(self.pack, one)).collect(),
            cautions: words::cautions(self.pack, step),
        }
    }
}

fn states(asked: &KeyAsked, character: &Character) -> Vec<StateOffered> {
    let last = asked.evidence.iter().rfind(|seen| seen.character == character.id);
    let chosen = last.map_or(&[][..], |seen| seen.states.as_slice());
    let offered = character.states.iter().map(|state| StateOffered {
        id: state.id.clone(),
        label: state.label.clone(),
        figure: state.figure.clone(),
        chosen: chosen.contains(&state.id),
    });
    offered.collect()
}
