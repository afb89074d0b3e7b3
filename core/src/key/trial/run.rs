//! The trial itself: blocks of specimens shared out among threads.

use std::sync::atomic::{AtomicU64, Ordering};

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::key::engine::{Assessment, Key};
use crate::key::evidence::{Answer, Evidence};
use crate::key::knowledge::Knowledge;
use crate::key::question::can_be_seen;
use crate::key::verdict::{NAMED_FROM, Status, chance, judge};
use crate::pack::{Cell, CharacterIndex, Pack, Standing, TaxonIndex};

use super::observer::{Eye, Suspicion};
use super::specimen::{Nature, Specimen};
use super::tally::{Outcome, Report, Tally};
use super::{Order, Settings};

/// Specimens that share one key, and so one choice of hidden taxa and wrong cells.
const BLOCK: u64 = 2_000;
/// Parts the streams of random numbers of specimens from those of blocks.
const BLOCKS: u64 = 1 << 63;

/// Runs a trial, telling `progress` now and then how many specimens are done.
#[must_use]
pub fn run(pack: &Pack, settings: &Settings, progress: &(dyn Fn(u64) + Sync)) -> Report {
    let whole = Key::new(pack, settings.assumed);
    let nature = Nature::of(&whole);
    let hall = Hall {
        settings,
        whole: &whole,
        nature: &nature,
        drawn: pack
            .taxon_indices()
            .zip(pack.taxa())
            .filter(|(_, taxon)| !settings.only_deadly || taxon.standing == Standing::Deadly)
            .map(|(at, _)| at)
            .collect(),
        hoped_for: pack.taxon_indices().map(|taxon| nature.most_similar_food(taxon)).collect(),
        next: AtomicU64::new(0),
        done: AtomicU64::new(0),
        progress,
    };
    let mut tally = Tally::default();
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..settings.threads.max(1)).map(|_| scope.spawn(|| hall.work())).collect();
        for worker in workers {
            if let Ok(part) = worker.join() {
                tally.merge(&part);
            }
        }
    });
    Report::new(pack, &tally)
}

/// What all threads share.
struct Hall<'h, 'p> {
    settings: &'h Settings,
    whole: &'h Key<'p>,
    nature: &'h Nature<'p>,
    drawn: Vec<TaxonIndex>,
    hoped_for: Vec<Option<TaxonIndex>>,
    next: AtomicU64,
    done: AtomicU64,
    progress: &'h (dyn Fn(u64) + Sync),
}

/// The buffers of one thread.
struct Bench<'n> {
    eye: Eye<'n>,
    specimen: Specimen,
    evidence: Evidence,
    now: Assessment,
    unspoken: Vec<TaxonIndex>,
}

impl Hall<'_, '_> {
    /// Takes blocks until none are left.
    fn work(&self) -> Tally {
        let mut tally = Tally::default();
        let mut bench = Bench {
            eye: Eye::new(self.nature),
            specimen: Specimen::default(),
            evidence: Evidence::new(),
            now: Assessment::default(),
            unspoken: Vec::new(),
        };
        loop {
            let start = self.next.fetch_add(1, Ordering::Relaxed).saturating_mul(BLOCK);
            if start >= self.settings.specimens || self.drawn.is_empty() {
                return tally;
            }
            let end = self.settings.specimens.min(start + BLOCK);
            let known = self.knowledge(start / BLOCK);
            let spoilt = known.as_ref().map(|known| Key::over(known, self.settings.assumed));
            let key = spoilt.as_ref().unwrap_or(self.whole);
            for specimen in start..end {
                self.question(key, known.as_ref(), specimen, &mut bench, &mut tally);
            }
            (self.progress)(self.done.fetch_add(end - start, Ordering::Relaxed) + end - start);
        }
    }

    /// What the key of a block knows; `None` for all there is to know.
    fn knowledge(&self, block: u64) -> Option<Knowledge<'_>> {
        let Settings { unseen, wrong_cells, seed, .. } = *self.settings;
        if unseen <= 0.0 && wrong_cells <= 0.0 {
            return None;
        }
        let mut random = stream(seed, BLOCKS | block);
        let pack = self.whole.pack();
        let mut known = Knowledge::of(pack);
        for hidden in &mut known.hidden {
            *hidden = random.random_bool(unseen.clamp(0.0, 1.0));
        }
        let is_filled = |cell: &Cell| !matches!(cell, Cell::NotApplicable | Cell::Unknown);
        for character in pack.character_indices() {
            let filled: Vec<TaxonIndex> =
                pack.taxon_indices().filter(|taxon| is_filled(pack.cell(*taxon, character))).collect();
            for taxon in &filled {
                if random.random_bool(wrong_cells.clamp(0.0, 1.0))
                    && let Some(other) = filled.get(random.random_range(0..filled.len()))
                {
                    known.swapped.insert((*taxon, character), *other);
                }
            }
        }
        Some(known)
    }

    /// Lets the key question one specimen until it names it or may ask no more.
    fn question(
        &self,
        key: &Key<'_>,
        known: Option<&Knowledge<'_>>,
        number: u64,
        bench: &mut Bench<'_>,
        tally: &mut Tally,
    ) {
        let Bench { eye, specimen, evidence, now, unspoken } = bench;
        let turn = usize::try_from(number % self.drawn.len() as u64).unwrap_or(0);
        let Some(taxon) = self.drawn.get(turn).copied() else { return };
        let hoped_for = self.hoped_for.get(taxon.get()).copied().flatten();
        let mut random = stream(self.settings.seed, number);
        self.nature.draw(taxon, &mut random, specimen);
        eye.meet(self.settings.observer, self.settings.error, hoped_for, &mut random);
        evidence.clear();
        evidence.set_suspect(match self.settings.suspicion {
            Suspicion::None => None,
            Suspicion::Right => Some(taxon),
            Suspicion::Wishful => hoped_for,
        });
        let own = key.candidate_at(taxon).and_then(|at| key.candidates.get(at));
        let leads = |now: &Assessment| own.is_some_and(|own| chance(own, &now.posterior) >= NAMED_FROM);
        let (mut questions, mut led_after) = (0, None);
        key.assess(evidence, now);
        while questions < self.settings.questions && !now.status.is_some_and(Status::is_named) {
            let Some(character) = self.next(key, now, &mut random) else { break };
            let seen = eye.look(specimen, character, &mut random);
            evidence.answer(Answer { character, seen, sure: true });
            questions += 1;
            key.assess(evidence, now);
            led_after = led_after.or_else(|| leads(now).then_some(questions));
        }
        let named = now.status.is_some_and(Status::is_named);
        unspoken.clear();
        let rivals = own.filter(|_| !named).into_iter().flat_map(|own| &own.rivals);
        unspoken.extend(rivals.filter(|it| !it.is_spoken_against(&now.heard)).map(|it| it.taxon));
        let leader = now.leader.and_then(|at| key.candidates.get(at)).filter(|_| named);
        tally.add(&Outcome {
            taxon,
            questions,
            led_after,
            named: leader.map_or(&[], |leader| &leader.members),
            is_unknown: now.status == Some(Status::Unknown),
            was_unseen: known.is_some_and(|known| known.is_hidden(taxon)),
            clauses: own.map(|own| judge(own, &now.posterior, &now.heard)),
            unspoken,
        });
    }

    /// The next question that needs neither lens nor microscope: the best one, or any that is left.
    fn next(&self, key: &Key<'_>, now: &Assessment, random: &mut Pcg64) -> Option<CharacterIndex> {
        let in_the_field = |at: CharacterIndex| {
            key.pack().character(at).is_some_and(crate::pack::Character::is_for_the_field)
        };
        match self.settings.order {
            Order::Best => {
                now.enquiry.scored.iter().map(|scored| scored.character).find(|at| in_the_field(*at))
            }
            Order::Random => {
                let is_left = |at: &CharacterIndex| {
                    let open = |scale| can_be_seen(&key.table, &now.heard, scale);
                    in_the_field(*at)
                        && now.heard.iter().all(|heard| heard.character != *at)
                        && key.table.scale(*at).is_some_and(open)
                };
                let left: Vec<CharacterIndex> = key.pack().character_indices().filter(is_left).collect();
                (!left.is_empty()).then(|| left.get(random.random_range(0..left.len())).copied()).flatten()
            }
        }
    }
}

/// A stream of random numbers of its own for each specimen or block.
fn stream(seed: u64, number: u64) -> Pcg64 {
    let mut seeds = Pcg64::seed_from_u64(seed);
    let mixed = seeds.random::<u64>() ^ number.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    Pcg64::seed_from_u64(mixed)
}
