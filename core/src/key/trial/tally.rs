//! What came of a trial: counts by taxon, which add up in any order, and the report made of them.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::pack::{Pack, Standing, TaxonIndex};

use super::interval::clopper_pearson;
use crate::key::verdict::Clauses;

/// How many of the worst pairs are told.
const WORST_PAIRS: usize = 10;

/// Counts of what came of the specimens.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Tally {
    by_taxon: BTreeMap<TaxonIndex, Count>,
    /// How often a dangerous taxon was named as this food.
    pairs: BTreeMap<(TaxonIndex, TaxonIndex), u64>,
    /// How often a dangerous look-alike was not yet spoken against when a food ended unnamed.
    unspoken: BTreeMap<(TaxonIndex, TaxonIndex), u64>,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Count {
    specimens: u64,
    questions: u64,
    right: u64,
    wrong: u64,
    unsettled: u64,
    unknown: u64,
    questions_settled: u64,
    led: u64,
    questions_led: u64,
    questions_led_settled: u64,
    unseen: u64,
    unseen_named: u64,
    held_back: HeldBack,
}

/// Specimens of foods that the key may name which ended unnamed, by the clauses of the rule of naming that failed; one
/// specimen can fail several.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct HeldBack {
    /// The food itself was not likely enough.
    pub likelihood: u64,
    /// Danger in all was too likely.
    pub danger: u64,
    /// Something unknown was too likely.
    pub unknown: u64,
    /// A dangerous look-alike was not spoken against.
    pub look_alikes: u64,
}

/// What came of one specimen.
pub(super) struct Outcome<'o> {
    pub taxon: TaxonIndex,
    pub questions: u64,
    /// After how many of them it, or its group, first was as likely as a name asks for.
    pub led_after: Option<u64>,
    /// What it was named as; empty if nothing.
    pub named: &'o [TaxonIndex],
    pub is_unknown: bool,
    /// Whether the key had never heard of the taxon.
    pub was_unseen: bool,
    /// The rule of naming over the taxon itself, if it is known to the key.
    pub clauses: Option<Clauses>,
    /// Its dangerous look-alikes that are not spoken against.
    pub unspoken: &'o [TaxonIndex],
}

impl Tally {
    pub fn add(&mut self, outcome: &Outcome<'_>) {
        let is_named = !outcome.named.is_empty();
        let is_right = outcome.named.contains(&outcome.taxon);
        let count = self.by_taxon.entry(outcome.taxon).or_default();
        count.specimens += 1;
        count.questions += outcome.questions;
        count.right += u64::from(is_right);
        count.wrong += u64::from(is_named && !is_right);
        count.unsettled += u64::from(!is_named);
        count.unknown += u64::from(outcome.is_unknown);
        count.questions_settled += if is_right { outcome.questions } else { 0 };
        count.led += u64::from(outcome.led_after.is_some());
        let led_after = outcome.led_after.unwrap_or(0);
        count.questions_led += led_after;
        count.questions_led_settled += if is_right { led_after } else { 0 };
        count.unseen += u64::from(outcome.was_unseen);
        count.unseen_named += u64::from(outcome.was_unseen && is_named);
        if let Some(clauses) = outcome.clauses.filter(|clauses| !is_named && clauses.may_be_named) {
            count.held_back.likelihood += u64::from(!clauses.likely_enough);
            count.held_back.danger += u64::from(!clauses.danger_low);
            count.held_back.unknown += u64::from(!clauses.unknown_low);
            count.held_back.look_alikes += u64::from(!clauses.rivals_spoken_against);
            for rival in outcome.unspoken {
                *self.unspoken.entry((outcome.taxon, *rival)).or_default() += 1;
            }
        }
        if let Some(named) = outcome.named.first().filter(|_| !is_right) {
            *self.pairs.entry((outcome.taxon, *named)).or_default() += 1;
        }
    }

    pub fn merge(&mut self, other: &Self) {
        for (taxon, count) in &other.by_taxon {
            self.by_taxon.entry(*taxon).or_default().add(count);
        }
        for (pair, count) in &other.pairs {
            *self.pairs.entry(*pair).or_default() += count;
        }
        for (pair, count) in &other.unspoken {
            *self.unspoken.entry(*pair).or_default() += count;
        }
    }

    fn sum(&self, wanted: impl Fn(TaxonIndex) -> bool) -> Count {
        let mut sum = Count::default();
        for (_, count) in self.by_taxon.iter().filter(|(taxon, _)| wanted(**taxon)) {
            sum.add(count);
        }
        sum
    }
}

impl Count {
    fn add(&mut self, other: &Self) {
        self.specimens += other.specimens;
        self.questions += other.questions;
        self.right += other.right;
        self.wrong += other.wrong;
        self.unsettled += other.unsettled;
        self.unknown += other.unknown;
        self.questions_settled += other.questions_settled;
        self.led += other.led;
        self.questions_led += other.questions_led;
        self.questions_led_settled += other.questions_led_settled;
        self.unseen += other.unseen;
        self.unseen_named += other.unseen_named;
        self.held_back.likelihood += other.held_back.likelihood;
        self.held_back.danger += other.held_back.danger;
        self.held_back.unknown += other.held_back.unknown;
        self.held_back.look_alikes += other.held_back.look_alikes;
    }
}

/// The report of a trial. Field names are relied on by other programs and never change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// How many specimens were drawn.
    pub specimens: u64,
    /// Mean number of questions asked.
    pub questions_mean: f64,
    /// The same for specimens that were named rightly.
    pub questions_mean_settled: f64,
    /// Specimens of any taxon, dangerous ones among them, that were told as what they are, whether named or not: their taxon
    /// or its group became at least [`NAMED_FROM`](crate::key::NAMED_FROM).
    pub told: u64,
    /// Mean number of questions until then.
    pub questions_mean_told: f64,
    /// The same for specimens that were named rightly: when the name led, before danger was cleared away.
    pub questions_mean_told_settled: f64,
    /// Specimens named rightly.
    pub right: u64,
    /// Specimens named as something else.
    pub wrong: u64,
    /// Specimens not named.
    pub unsettled: u64,
    /// Of those, the ones that ended as unknown to Trug.
    pub unknown: u64,
    /// Share of the specimens of foods that the key may name which were named rightly; groups count.
    pub food_settled: f64,
    /// How many foods the key may name.
    pub foods: u64,
    /// Specimens of dangerous taxa.
    pub dangerous: u64,
    /// Of those, the ones named as food.
    pub danger_as_food: u64,
    /// Dangerous specimens named as food, per 100,000 of them.
    pub danger_as_food_per_100k: f64,
    /// Its exact 95 % interval.
    pub interval: [f64; 2],
    /// The deadly taxon most often named as food.
    pub worst_deadly: Option<Worst>,
    /// The dangerous taxa most often named as food, and as which.
    pub worst_pairs: Vec<Pair>,
    /// Dangerous specimens of taxa held back from the key.
    pub unseen_dangerous: u64,
    /// Of those, the ones named as food, per 100,000 of them.
    pub unseen_danger_as_food_per_100k: f64,
    /// Every food that the key may name, and the share of its specimens that were named rightly.
    pub settled_by_food: Vec<Settled>,
    /// Why specimens of such foods ended unnamed.
    pub held_back: HeldBack,
    /// The dangerous look-alikes that most often were not spoken against.
    pub not_spoken_against: Vec<Pair>,
    /// Every deadly taxon, as [`Self::worst_deadly`].
    pub by_deadly: Vec<Worst>,
}

/// A deadly taxon named as food.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Worst {
    /// Its id.
    pub taxon: String,
    /// Specimens named as food, per 100,000.
    pub per_100k: f64,
    /// Its exact 95 % interval.
    pub interval: [f64; 2],
}

/// Two taxa that were confused.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pair {
    /// Id of what it was.
    pub taxon: String,
    /// Id of what it was named as, or could not be told from; the first member of a group.
    pub other: String,
    /// How many specimens.
    pub count: u64,
}

/// How often a food is named.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settled {
    /// Its id.
    pub taxon: String,
    /// 0 to 1.
    pub share: f64,
}

impl Report {
    pub(super) fn new(pack: &Pack, tally: &Tally) -> Self {
        let id = |taxon: TaxonIndex| pack.taxon(taxon).map_or_else(String::new, |taxon| taxon.id.clone());
        let standing =
            |taxon: TaxonIndex| pack.taxon(taxon).map_or(Standing::Inedible, |taxon| taxon.standing);
        let is_food = |taxon: TaxonIndex| {
            pack.taxon(taxon).is_some_and(|taxon| taxon.standing == Standing::Food && taxon.key_may_name)
        };
        let all = tally.sum(|_| true);
        let foods = tally.sum(is_food);
        let dangerous = tally.sum(|taxon| standing(taxon).is_dangerous());
        let deadly = tally.by_taxon.iter().filter(|(taxon, _)| standing(**taxon) == Standing::Deadly);
        let mut by_deadly: Vec<Worst> = deadly
            .map(|(taxon, count)| Worst {
                taxon: id(*taxon),
                per_100k: per_100k(count.wrong, count.specimens),
                interval: interval_per_100k(count.wrong, count.specimens),
            })
            .collect();
        by_deadly.sort_by(|one, other| {
            other.per_100k.total_cmp(&one.per_100k).then_with(|| one.taxon.cmp(&other.taxon))
        });
        let worst = |pairs: &BTreeMap<(TaxonIndex, TaxonIndex), u64>, wanted: &dyn Fn(TaxonIndex) -> bool| {
            let mut pairs: Vec<_> = pairs.iter().filter(|((taxon, _), _)| wanted(*taxon)).collect();
            pairs.sort_by(|(first, one), (second, other)| other.cmp(one).then(first.cmp(second)));
            let told = pairs.into_iter().take(WORST_PAIRS);
            told.map(|((one, other), count)| Pair { taxon: id(*one), other: id(*other), count: *count })
                .collect()
        };
        Self {
            specimens: all.specimens,
            questions_mean: ratio(all.questions, all.specimens),
            questions_mean_settled: ratio(all.questions_settled, all.right),
            told: all.led,
            questions_mean_told: ratio(all.questions_led, all.led),
            questions_mean_told_settled: ratio(all.questions_led_settled, all.right),
            right: all.right,
            wrong: all.wrong,
            unsettled: all.unsettled,
            unknown: all.unknown,
            food_settled: ratio(foods.right, foods.specimens),
            foods: tally.by_taxon.keys().filter(|taxon| is_food(**taxon)).map(|_| 1).sum(),
            dangerous: dangerous.specimens,
            danger_as_food: dangerous.wrong,
            danger_as_food_per_100k: per_100k(dangerous.wrong, dangerous.specimens),
            interval: interval_per_100k(dangerous.wrong, dangerous.specimens),
            worst_deadly: by_deadly.first().cloned(),
            worst_pairs: worst(&tally.pairs, &|taxon| standing(taxon).is_dangerous()),
            held_back: foods.held_back,
            not_spoken_against: worst(&tally.unspoken, &is_food),
            unseen_dangerous: dangerous.unseen,
            unseen_danger_as_food_per_100k: per_100k(dangerous.unseen_named, dangerous.unseen),
            settled_by_food: tally
                .by_taxon
                .iter()
                .filter(|(taxon, _)| is_food(**taxon))
                .map(|(taxon, count)| Settled {
                    taxon: id(*taxon),
                    share: ratio(count.right, count.specimens),
                })
                .collect(),
            by_deadly,
        }
    }
}

#[allow(clippy::cast_precision_loss)] // counts far below 2^52
fn ratio(part: u64, whole: u64) -> f64 {
    if whole == 0 { 0.0 } else { part as f64 / whole as f64 }
}

fn per_100k(part: u64, whole: u64) -> f64 {
    100_000.0 * ratio(part, whole)
}

fn interval_per_100k(part: u64, whole: u64) -> [f64; 2] {
    let (low, high) = clopper_pearson(part, whole);
    [100_000.0 * low, 100_000.0 * high]
}
