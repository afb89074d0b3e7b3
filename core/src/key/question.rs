//! What to look at next: the most information per effort, and what would part a food from danger before all else.
//!
//! One step ahead: two steps gain nothing once answers can be wrong.

use crate::pack::{CharacterIndex, Effort, StateIndex, TaxonIndex};

use super::candidate::{Candidate, Part, Rival, Spoken};
use super::evidence::StateSet;
use super::heard::Heard;
use super::pools::{Pools, Swaying, ToGo, View};
use super::posterior::{DEPENDENT, Posterior};
use super::reading::second_look;
use super::scale::Scale;
use super::table::{Table, entropy};
use super::verdict::{DANGER_UP_TO, NAMED_FROM, UNKNOWN_UP_TO, chance};

/// Looking afresh is worked out taxon by taxon, for so many of each pool.
const LIKELIEST: usize = 16;
/// What one step towards speaking against a look-alike is worth, in bits.
const SEPARATOR: f32 = 4.0;
/// Questions worth less than this, in bits per effort, are not asked.
const WORTHLESS: f32 = 1e-3;

/// A question and what it is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scored {
    pub character: CharacterIndex,
    /// Whether it has been answered before.
    pub afresh: bool,
    /// Expected information about which taxon it is, in bits.
    pub gain: f32,
    /// What the questions are ordered by: bits of progress per effort.
    pub worth: f32,
}

/// What is known when questions are chosen.
pub(super) struct Standing<'k> {
    pub table: &'k Table,
    pub efforts: &'k [Effort],
    /// By taxon, with any suspicion weighed in.
    pub chances: &'k [f32],
    pub posterior: &'k Posterior,
    pub heard: &'k [Heard],
    /// What is to be tested, and how much of the questioning goes into that; the rest goes into telling taxa apart.
    pub focus: Option<(&'k Candidate, f32)>,
}

/// Buffers of the search for questions, and what it found.
#[derive(Default)]
pub(super) struct Enquiry {
    /// Every question worth asking, the best first.
    pub scored: Vec<Scored>,
    pools: Pools,
    afresh: Pools,
    predicted: Vec<f32>,
    swaying: Swaying,
    /// The few that sway whether to look afresh.
    likeliest: Swaying,
    /// How far each look-alike of what is tested is spoken against.
    spoken: Vec<Spoken>,
}

/// What looking costs, against a glance. Judged (common practice, no source), and kept close together: a question saved is
/// worth more than a little effort, and costs spread wider settle fewer foods within twelve questions.
pub(super) fn cost(effort: Effort) -> f32 {
    match effort {
        Effort::Glance => 1.0,
        Effort::TurnOver => 1.05,
        Effort::Smell | Effort::Cut => 1.1,
        Effort::DigOut => 1.2,
        Effort::SporePrint => 1.5,
        Effort::Lens => 2.0,
        Effort::Microscope => 10.0,
    }
}

impl Enquiry {
    /// Scores every question.
    pub fn search(&mut self, now: &Standing<'_>) {
        let members = now.focus.map_or(&[][..], |(candidate, _)| &candidate.members);
        self.swaying.fill(now.table, now.chances, members);
        self.pools.fill(now.table, &self.swaying);
        self.likeliest.take_likeliest(&self.swaying, LIKELIEST);
        self.spoken.clear();
        let rivals = now.focus.into_iter().flat_map(|(tested, _)| &tested.rivals);
        self.spoken.extend(rivals.map(|rival| rival.spoken(now.heard)));
        let to_go =
            now.focus.map(|(tested, belief)| to_go(tested, belief, now.posterior)).unwrap_or_default();
        self.scored.clear();
        for ((at, scale), effort) in (0_u16..).map(CharacterIndex).zip(&now.table.scales).zip(now.efforts) {
            let before = now.heard.iter().find(|heard| heard.character == at);
            if !can_be_seen(now.table, now.heard, scale) {
                continue;
            }
            let (gain, mut worth) = match before {
                None => {
                    self.pools.view(now.table, at.get()).map_or((0.0, 0.0), |view| value(view, now, to_go))
                }
                Some(before) if before.looks == 1 && before.asked == 1 => {
                    self.look_afresh(now, scale, before, to_go)
                }
                Some(_) => continue,
            };
            let is_dependent = now
                .heard
                .iter()
                .any(|heard| heard.family == scale.family && heard.character != at && heard.looks > 0);
            if is_dependent {
                worth *= DEPENDENT;
            }
            if let (None, Some((tested, belief))) = (before, now.focus) {
                worth += belief * SEPARATOR * self.parting(now, scale, at, tested);
            }
            worth /= cost(*effort);
            if worth > WORTHLESS {
                self.scored.push(Scored { character: at, afresh: before.is_some(), gain, worth });
            }
        }
        self.scored.sort_by(|one, other| {
            other.worth.total_cmp(&one.worth).then(one.character.cmp(&other.character))
        });
    }

    /// How many of the look-alikes not yet spoken against a question is expected to bring nearer to that.
    fn parting(&self, now: &Standing<'_>, scale: &Scale, at: CharacterIndex, tested: &Candidate) -> f32 {
        let Some(own) = self.pools.own(scale) else { return 0.0 };
        let total: f32 = own.iter().sum();
        if total <= 0.0 {
            return 0.0;
        }
        let chance_of = |states: StateSet| -> f32 {
            states.iter().filter_map(|state| own.get(state.get())).sum::<f32>() / total
        };
        let step = |(rival, spoken): (&Rival, &Spoken)| {
            let part = rival.parts.iter().find(|part| part.character == at)?;
            Some(step_towards(rival, *spoken, part, scale, now.heard) * chance_of(part.states))
        };
        tested.rivals.iter().zip(&self.spoken).filter_map(step).sum()
    }

    /// What a second look at an answered character is worth.
    fn look_afresh(&mut self, now: &Standing<'_>, scale: &Scale, before: &Heard, to_go: ToGo) -> (f32, f32) {
        self.afresh.reset(usize::from(scale.steps));
        for (pool, taxa) in self.likeliest.pools() {
            for (at, chance) in taxa {
                second_look(
                    scale,
                    before.seen,
                    |step| truth(now.table, scale, *at, step),
                    &mut self.predicted,
                );
                self.afresh.add(pool, &self.predicted, entropy(&self.predicted), *chance);
            }
        }
        self.afresh.whole(now.table.mean(scale)).map_or((0.0, 0.0), |view| value(view, now, to_go))
    }
}

/// Whether what was seen so far leaves anything to look at: no gills on a ball, no ring without a stem.
pub(super) fn can_be_seen(table: &Table, heard: &[Heard], scale: &Scale) -> bool {
    scale.gates.iter().all(|(gate, states)| {
        let seen = heard.iter().find(|heard| heard.character == *gate && heard.looks > 0);
        seen.is_none_or(|heard| !heard.seen.and(*states).is_empty())
            && table.scale(*gate).is_none_or(|gate| can_be_seen(table, heard, gate))
    })
}

/// The information a question gives, and its worth before effort.
fn value(view: View<'_>, now: &Standing<'_>, to_go: ToGo) -> (f32, f32) {
    let gain = view.gain();
    let progress = if to_go.belief > 0.0 { view.progress(to_go, now.posterior.danger) } else { 0.0 };
    (gain, (1.0 - to_go.belief) * gain + to_go.belief * progress)
}

fn to_go(tested: &Candidate, belief: f32, posterior: &Posterior) -> ToGo {
    let own = chance(tested, posterior).max(f32::MIN_POSITIVE);
    let others = f32::max(1.0 - own - posterior.danger - posterior.unknown, 0.0);
    let bits = |now: f32, wanted: f32| f32::max((now / wanted).log2(), 0.0);
    ToGo {
        belief,
        danger: bits(posterior.danger / own, DANGER_UP_TO),
        others: bits(others / own, (1.0 - NAMED_FROM) / 2.0),
        unknown: bits(posterior.unknown / own, UNKNOWN_UP_TO),
    }
}

/// How much nearer a contradiction would bring a rival to being spoken against, 0 to 1.
fn step_towards(rival: &Rival, spoken: Spoken, part: &Part, scale: &Scale, heard: &[Heard]) -> f32 {
    let lacks = rival.lacks(spoken);
    if (lacks.demanded && part.is_demanded) || (lacks.spore_colour && part.is_spore_colour) {
        return 1.0;
    }
    if spoken.families >= 2 || spoken.by_decisive {
        return 0.0;
    }
    if part.is_decisive {
        return 1.0;
    }
    let is_new =
        !heard.iter().any(|heard| heard.family == scale.family && rival.contradicted_by(heard).is_some());
    if is_new { 0.5 } else { 0.0 }
}

fn truth(table: &Table, scale: &Scale, taxon: TaxonIndex, step: StateIndex) -> f32 {
    table.truth(scale.first + step.get()).get(taxon.get()).copied().unwrap_or(0.0)
}
