//! What stands in the way of a name, and the cheapest observations that would clear it.

use crate::pack::{CharacterIndex, Effort, TaxonIndex};

use super::candidate::{Candidate, Lacks, Rival};
use super::engine::{Assessment, Key};
use super::explain::is_misfit;
use super::question::{can_be_seen, cost};
use super::scale::Scale;
use super::step::{Check, Obstacle};
use super::verdict::{DANGER_UP_TO, NAMED_FROM, chance};

/// A food less likely than this is not worth clearing the way for.
const WORTH_CLEARING_FROM: f32 = 0.02;
/// Harmless things less likely than this do not stand in the way.
const STANDS_FROM: f32 = 0.02;
/// A dangerous taxon stands in the way with more than this share of what danger may have in all.
const DANGER_SHARE: f32 = 0.25;
/// How many obstacles of a kind, and how many checks for each, are told.
const OBSTACLES: usize = 6;
const CHECKS: usize = 4;
/// How many dangerous taxa a question's reason chooses from.
const STANDING: usize = 12;
/// Parts that say less than this, in bits per effort, are no checks.
const TELLING_FROM: f32 = 0.05;

/// What keeps the food that fits best from being named. If no food fits, the dangerous taxon that leads, with no checks.
pub(super) fn in_the_way(key: &Key<'_>, now: &Assessment) -> Vec<Obstacle> {
    let tested = now.tested.and_then(|at| key.candidates.get(at));
    let Some(food) = tested.filter(|it| it.is_food && chance(it, &now.posterior) >= WORTH_CLEARING_FROM)
    else {
        return leading_danger(key, now);
    };
    let mut obstacles: Vec<Obstacle> = food
        .rivals
        .iter()
        .filter(|rival| !rival.is_spoken_against(&now.heard))
        .map(|rival| Obstacle {
            taxon: rival.taxon,
            not_spoken_against: true,
            checks: checks(key, now, food, rival.taxon, Some(rival)),
        })
        .collect();
    let mut others: Vec<(TaxonIndex, f32)> = key
        .pack
        .taxon_indices()
        .zip(&key.table.dangerous)
        .map(|(taxon, dangerous)| (taxon, *dangerous, now.posterior.of(taxon)))
        .filter(|(taxon, dangerous, chance)| {
            let from = if *dangerous && now.posterior.danger > DANGER_UP_TO {
                DANGER_UP_TO * DANGER_SHARE
            } else if self::chance(food, &now.posterior) < NAMED_FROM {
                STANDS_FROM
            } else {
                f32::INFINITY
            };
            *chance >= from
                && !food.members.contains(taxon)
                && obstacles.iter().all(|obstacle| obstacle.taxon != *taxon)
        })
        .map(|(taxon, _, chance)| (taxon, chance))
        .collect();
    others.sort_by(|(first, one), (second, other)| other.total_cmp(one).then(first.cmp(second)));
    let rival = |taxon| food.rivals.iter().find(|rival| rival.taxon == taxon);
    obstacles.extend(others.into_iter().take(OBSTACLES).map(|(taxon, _)| Obstacle {
        taxon,
        not_spoken_against: false,
        checks: checks(key, now, food, taxon, rival(taxon)),
    }));
    obstacles.sort_by(|one, other| {
        now.posterior
            .of(other.taxon)
            .total_cmp(&now.posterior.of(one.taxon))
            .then(one.taxon.cmp(&other.taxon))
    });
    obstacles
}

fn leading_danger(key: &Key<'_>, now: &Assessment) -> Vec<Obstacle> {
    let leader = now.leader.and_then(|at| key.candidates.get(at));
    let dangerous = |taxon: &TaxonIndex| key.table.dangerous.get(taxon.get()).copied().unwrap_or(false);
    leader
        .into_iter()
        .flat_map(|leader| leader.members.iter().copied().filter(dangerous))
        .map(|taxon| Obstacle { taxon, not_spoken_against: false, checks: Vec::new() })
        .collect()
}

/// What would clear an obstacle: first what the rule of naming asks for, then what tells most for its effort.
fn checks(
    key: &Key<'_>,
    now: &Assessment,
    food: &Candidate,
    obstacle: TaxonIndex,
    rival: Option<&Rival>,
) -> Vec<Check> {
    let lacks = rival.map(|rival| rival.lacks(rival.spoken(&now.heard))).unwrap_or_default();
    let mut found: Vec<(f32, Check)> = (0_u16..)
        .map(CharacterIndex)
        .zip(&key.table.scales)
        .zip(&key.efforts)
        .filter_map(|((character, scale), effort)| {
            if !can_be_seen(&key.table, &now.heard, scale) {
                return None;
            }
            let before = now.heard.iter().find(|heard| heard.character == character);
            let afresh = before.is_some_and(|heard| heard.looks > 0);
            let doubtful = food.members.iter().all(|member| is_misfit(key, now, character, *member))
                || before.is_some_and(|heard| !heard.firm);
            // What takes a night is still to come where it could not be told in the wood.
            let waits = *effort == Effort::SporePrint && before.is_some_and(|heard| heard.looks == 0);
            if before.is_some() && !waits && !(afresh && doubtful) {
                return None;
            }
            let asked_for = if is_asked_for(lacks, rival, character) { 10.0 } else { 0.0 };
            let telling = telling(key, scale, food, obstacle);
            (telling + asked_for > TELLING_FROM * cost(*effort))
                .then_some(((telling + asked_for) / cost(*effort), Check { character, afresh }))
        })
        .collect();
    found.sort_by(|(one, first), (other, second)| {
        other.total_cmp(one).then(first.character.cmp(&second.character))
    });
    found.into_iter().take(CHECKS).map(|(_, check)| check).collect()
}

fn is_asked_for(lacks: Lacks, rival: Option<&Rival>, character: CharacterIndex) -> bool {
    rival.into_iter().flat_map(|rival| &rival.parts).any(|part| {
        part.character == character
            && ((lacks.demanded && part.is_demanded) || (lacks.spore_colour && part.is_spore_colour))
    })
}

/// How much one look at a character is expected to tell a food from another taxon, in bits.
fn telling(key: &Key<'_>, scale: &Scale, food: &Candidate, other: TaxonIndex) -> f32 {
    food.members.iter().map(|member| key.table.telling(scale, *member, other)).fold(f32::INFINITY, f32::min)
}

/// The dangerous taxa that still stand beside the food that is tested, with the weight that each is given.
pub(super) fn standing_dangers(key: &Key<'_>, now: &Assessment) -> Vec<(TaxonIndex, f32)> {
    let tested = now.tested.and_then(|at| key.candidates.get(at)).filter(|tested| tested.is_food);
    let Some(food) = tested else { return Vec::new() };
    let all = key.pack.taxon_indices().zip(&key.table.dangerous).filter(|(_, dangerous)| **dangerous);
    let standing = all.map(|(taxon, _)| (taxon, now.posterior.of(taxon))).filter(|(taxon, chance)| {
        let open = |rival: &Rival| rival.taxon == *taxon && !rival.is_spoken_against(&now.heard);
        *chance >= DANGER_UP_TO * DANGER_SHARE || food.rivals.iter().any(open)
    });
    let mut standing: Vec<_> = standing.map(|(taxon, chance)| (taxon, chance.sqrt())).collect();
    standing.sort_by(|(first, one), (second, other)| other.total_cmp(one).then(first.cmp(second)));
    standing.truncate(STANDING);
    standing
}

/// The food and the dangerous taxon that a question would part best, of those that still stand.
pub(super) fn parted(
    key: &Key<'_>,
    now: &Assessment,
    dangers: &[(TaxonIndex, f32)],
    character: CharacterIndex,
) -> Option<(TaxonIndex, TaxonIndex)> {
    let food = now.tested.and_then(|at| key.candidates.get(at)).filter(|food| food.is_food)?;
    let scale = key.table.scale(character)?;
    let (danger, _) = dangers
        .iter()
        .map(|(taxon, weight)| (*taxon, telling(key, scale, food, *taxon) * weight))
        .filter(|(_, telling)| *telling > 0.0)
        .max_by(|(first, one), (second, other)| one.total_cmp(other).then(second.cmp(first)))?;
    Some((*food.members.first()?, danger))
}
