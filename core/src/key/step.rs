//! One whole step: all that the key has to say about some evidence, as plain data with positions in the pack.

use crate::pack::{CharacterIndex, Effort, GroupIndex, Pack, TaxonIndex};

use super::engine::{Assessment, Key};
use super::evidence::Evidence;
use super::explain::explain;
use super::heard::hear;
use super::question::can_be_seen;
use super::verdict::{SUSPECTED_FROM, Status};
use super::way::{in_the_way, parted, standing_dangers};

/// How many taxa are explained, beside the suspected ones.
const EXPLAINED: usize = 5;
/// How many questions come with what they would part.
const REASONED: usize = 12;
/// A taxon less likely than this is left out of the ranking.
const RANKED_FROM: f32 = 1e-6;

/// All that the key has to say.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where the find stands.
    pub status: Status,
    /// What is named: one food, the members of a group, or nothing.
    pub named: Vec<TaxonIndex>,
    /// The group that is named.
    pub group: Option<GroupIndex>,
    /// The likeliest candidate on the answers alone; all its members if they cannot be parted.
    pub leading: Vec<TaxonIndex>,
    /// All taxa not quite excluded, the likeliest first, with any suspicion weighed in.
    pub ranking: Vec<Ranked>,
    /// Chance of something that Trug does not know.
    pub unknown: f64,
    /// Chance of all dangerous taxa together, on the answers alone.
    pub danger: f64,
    /// Every dangerous taxon at [`SUSPECTED_FROM`] or more, and each look-alike of the leader not yet spoken against.
    pub suspected: Vec<Suspected>,
    /// The dangerous look-alikes of the leader that the answers speak against as the rule of naming demands.
    pub spoken_against: Vec<SpokenAgainst>,
    /// What to look at next, the best first.
    pub next: Vec<Question>,
    /// What keeps the food that fits best from being named; empty once it is.
    pub in_the_way: Vec<Obstacle>,
    /// What speaks for and against the likeliest taxa and the suspected ones.
    pub explained: Vec<Explained>,
}

/// A taxon and its chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// Which.
    pub taxon: TaxonIndex,
    /// 0 to 1.
    pub chance: f64,
}

/// A dangerous taxon that cannot be left out of account.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspected {
    /// Which.
    pub taxon: TaxonIndex,
    /// 0 to 1.
    pub chance: f64,
    /// Whether it is here because the leader is taken for it and nothing speaks against it yet.
    pub not_spoken_against: bool,
}

/// A dangerous look-alike, and what speaks against it.
#[derive(Debug, Clone, PartialEq)]
pub struct SpokenAgainst {
    /// Which.
    pub taxon: TaxonIndex,
    /// The characters that contradict it: what has to be looked at on every fruitbody.
    pub by: Vec<CharacterIndex>,
}

/// Something to look at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// What to look at.
    pub character: CharacterIndex,
    /// Whether it was answered before and is doubtful.
    pub afresh: bool,
    /// Expected information about which taxon it is, in bits.
    pub gain_bits: f64,
    /// What looking costs.
    pub effort: Effort,
    /// The food and the dangerous taxon that it would part best, while both still stand.
    pub parts: Option<(TaxonIndex, TaxonIndex)>,
}

/// Something that keeps a food from being named.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    /// What it is confused with.
    pub taxon: TaxonIndex,
    /// Whether it is a dangerous look-alike that nothing speaks against yet, however unlikely it is.
    pub not_spoken_against: bool,
    /// What would clear it, the cheapest first.
    pub checks: Vec<Check>,
}

/// An observation that would clear an obstacle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Check {
    /// What to look at.
    pub character: CharacterIndex,
    /// Whether it was answered before and should be looked at again.
    pub afresh: bool,
}

/// What speaks for and against one taxon.
#[derive(Debug, Clone, PartialEq)]
pub struct Explained {
    /// Which.
    pub taxon: TaxonIndex,
    /// Answers that speak for it, the strongest first.
    pub speaks_for: Vec<Point>,
    /// Answers that speak against it, the strongest first.
    pub speaks_against: Vec<Point>,
    /// Whether the rule of naming holds it for spoken against, as a look-alike of the leader.
    pub is_spoken_against: bool,
}

/// What one answer says about one taxon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// What was looked at.
    pub character: CharacterIndex,
    /// How the taxon bears it.
    pub fit: Fit,
    /// How strongly, in bits against the mean of the pack: positive speaks for it.
    pub bits: f64,
    /// Whether it counts in parting a find from this taxon: guides such as ground and month never do.
    pub counts: bool,
}

/// How an answer fits what a taxon shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// As usual.
    Usual,
    /// Seen sometimes.
    Sometimes,
    /// Seen rarely.
    Rare,
    /// Not expected at all.
    NotExpected,
    /// It has nothing of the kind.
    NotApplicable,
    /// Nobody has said.
    Unknown,
}

impl Step {
    /// The id of the group or the food that is named; `None` while nothing is.
    #[must_use]
    pub fn name(&self, pack: &Pack) -> Option<String> {
        let group = self.group.and_then(|at| pack.group(at)).map(|group| &group.id);
        let one = self.named.first().and_then(|at| pack.taxon(*at)).map(|taxon| &taxon.id);
        group.or(one).filter(|_| self.status.is_named()).cloned()
    }
}

impl Key<'_> {
    /// Takes all the evidence and says all there is to say.
    #[must_use]
    pub fn step(&self, evidence: &Evidence) -> Step {
        let mut now = Assessment::default();
        self.assess(evidence, &mut now);
        self.tell(evidence, &now)
    }

    fn tell(&self, evidence: &Evidence, now: &Assessment) -> Step {
        let status = now.status.unwrap_or(Status::NotSettled);
        let leader = now.leader.and_then(|at| self.candidates.get(at));
        let leading = leader.map(|leader| leader.members.clone()).unwrap_or_default();
        let ranking = ranking(now);
        let suspected = self.suspected(now);
        let mut explained: Vec<TaxonIndex> =
            ranking.iter().take(EXPLAINED).map(|ranked| ranked.taxon).collect();
        for taxon in evidence.suspect().into_iter().chain(suspected.iter().map(|suspected| suspected.taxon)) {
            if !explained.contains(&taxon) {
                explained.push(taxon);
            }
        }
        Step {
            status,
            named: if status.is_named() { leading.clone() } else { Vec::new() },
            group: leader.and_then(|leader| leader.group).filter(|_| status == Status::Group),
            leading,
            unknown: f64::from(now.posterior.unknown),
            danger: f64::from(now.posterior.danger),
            spoken_against: self.spoken_against(now),
            next: self.questions(now),
            in_the_way: if status.is_named() { Vec::new() } else { in_the_way(self, now) },
            explained: explained.into_iter().map(|taxon| explain(self, now, taxon)).collect(),
            ranking,
            suspected,
        }
    }

    /// One sheet to begin with: the characters that a glance shows, in the order of the pack. What only some forms have is on
    /// it once the answers say that the find has it.
    #[must_use]
    pub fn glance(&self, evidence: &Evidence) -> Vec<CharacterIndex> {
        let mut heard = Vec::new();
        hear(&self.table, evidence, &mut heard);
        let of_a_glance = |at: CharacterIndex| {
            let character = self.pack.character(at);
            character.is_some_and(|it| it.effort == Effort::Glance && it.has_states())
        };
        let answered = |at: CharacterIndex| heard.iter().any(|one| one.character == at && one.looks > 0);
        let is_there = |at: &CharacterIndex| {
            self.table.scale(*at).is_some_and(|scale| {
                can_be_seen(&self.table, &heard, scale)
                    && scale.gates.iter().all(|(gate, _)| answered(*gate) || !of_a_glance(*gate))
            })
        };
        self.pack.character_indices().filter(|at| of_a_glance(*at)).filter(is_there).collect()
    }

    /// The dangerous look-alikes of the suspected name that the answers do not speak against yet, the likeliest first: to be
    /// reckoned with from the moment at which somebody has that name in mind.
    #[must_use]
    pub fn open_lookalikes(&self, evidence: &Evidence) -> Vec<Suspected> {
        let mut now = Assessment::default();
        self.assess(evidence, &mut now);
        let suspect = evidence.suspect().and_then(|taxon| self.candidates.get(self.candidate_at(taxon)?));
        let rivals = suspect.into_iter().flat_map(|candidate| &candidate.rivals);
        let mut open: Vec<Suspected> = rivals
            .filter(|rival| !rival.is_spoken_against(&now.heard))
            .map(|rival| Suspected {
                taxon: rival.taxon,
                chance: now.chances.get(rival.taxon.get()).copied().map_or(0.0, f64::from),
                not_spoken_against: true,
            })
            .collect();
        open.sort_by(|one, other| other.chance.total_cmp(&one.chance).then(one.taxon.cmp(&other.taxon)));
        open
    }

    fn suspected(&self, now: &Assessment) -> Vec<Suspected> {
        let leader = now.leader.and_then(|at| self.candidates.get(at));
        let open = |taxon: TaxonIndex| {
            leader.is_some_and(|leader| {
                leader.rivals.iter().any(|rival| rival.taxon == taxon && !rival.is_spoken_against(&now.heard))
            })
        };
        let all = self.pack.taxon_indices().zip(&now.chances).zip(&self.table.dangerous);
        let mut suspected: Vec<Suspected> = all
            .filter(|(_, dangerous)| **dangerous)
            .map(|((taxon, chance), _)| Suspected {
                taxon,
                chance: f64::from(*chance),
                not_spoken_against: open(taxon),
            })
            .filter(|it| it.not_spoken_against || it.chance >= f64::from(SUSPECTED_FROM))
            .collect();
        suspected.sort_by(|one, other| other.chance.total_cmp(&one.chance).then(one.taxon.cmp(&other.taxon)));
        suspected
    }

    fn spoken_against(&self, now: &Assessment) -> Vec<SpokenAgainst> {
        let leader = now.leader.and_then(|at| self.candidates.get(at));
        let rivals = leader.into_iter().flat_map(|leader| &leader.rivals);
        rivals
            .filter(|rival| rival.is_spoken_against(&now.heard))
            .map(|rival| SpokenAgainst {
                taxon: rival.taxon,
                by: now
                    .heard
                    .iter()
                    .filter_map(|heard| rival.contradicted_by(heard))
                    .map(|it| it.character)
                    .collect(),
            })
            .collect()
    }

    fn questions(&self, now: &Assessment) -> Vec<Question> {
        let dangers = standing_dangers(self, now);
        now.enquiry
            .scored
            .iter()
            .enumerate()
            .filter_map(|(rank, scored)| {
                let parts = || parted(self, now, &dangers, scored.character);
                Some(Question {
                    character: scored.character,
                    afresh: scored.afresh,
                    gain_bits: f64::from(scored.gain),
                    effort: *self.efforts.get(scored.character.get())?,
                    parts: (rank < REASONED).then(parts).flatten(),
                })
            })
            .collect()
    }
}

/// All taxa not quite excluded, the likeliest first.
fn ranking(now: &Assessment) -> Vec<Ranked> {
    // Chances are positive, so that their bits are in their order.
    let key = |(taxon, chance): (u32, &f32)| u64::from(!chance.to_bits()) << 32 | u64::from(taxon);
    let all = (0_u32..).zip(&now.chances).filter(|(_, chance)| **chance >= RANKED_FROM);
    let mut ranking: Vec<u64> = all.map(key).collect();
    ranking.sort_unstable();
    let taxon = |key: u64| TaxonIndex(u16::try_from(key & 0xffff).unwrap_or(u16::MAX));
    let chance = |key: u64| f64::from(f32::from_bits(!u32::try_from(key >> 32).unwrap_or(0)));
    ranking.into_iter().map(|key| Ranked { taxon: taxon(key), chance: chance(key) }).collect()
}
