//! Specimens drawn from a pack: one state a character, as often as the pack says.

use rand::RngExt;
use rand_pcg::Pcg64;

use crate::key::engine::Key;
use crate::pack::{Cell, CharacterIndex, Kind, Pack, StateIndex, TaxonIndex};

/// Share of specimens found in the months that the pack calls usual; the rest at the edges of the season.
const IN_SEASON: f32 = 0.9;

/// What specimens of each taxon show.
pub(super) struct Nature<'p> {
    pack: &'p Pack,
    columns: usize,
    /// Where each character's steps start, and how many there are.
    characters: Vec<(usize, usize)>,
    /// Row by row and character by character, the running sum of the chances of its steps.
    running: Vec<f32>,
}

/// One fruitbody: what is really there.
#[derive(Default)]
pub(super) struct Specimen {
    /// By character, the step that is there; `None` where there is nothing of the kind.
    shown: Vec<Option<StateIndex>>,
}

impl<'p> Nature<'p> {
    /// What the pack behind a key says of nature. Cells that nobody has filled show what is common in the pack.
    pub fn of(key: &Key<'p>) -> Self {
        let pack = key.pack();
        let columns = key.table.columns();
        let mut running = Vec::with_capacity(columns * pack.taxa().len());
        for taxon in pack.taxon_indices() {
            for (at, scale) in pack.character_indices().zip(&key.table.scales) {
                let truth = |column| key.table.truth(column).get(taxon.get()).copied().unwrap_or(0.0);
                let chances: Vec<f32> = match pack.cell(taxon, at) {
                    Cell::Months(range, _) => (1..=12_u8)
                        .map(|month| {
                            let is_edge = range.is_seen(month) && !range.is_usual(month);
                            f32::from(u8::from(range.is_usual(month))) * IN_SEASON
                                + f32::from(u8::from(is_edge)) * (1.0 - IN_SEASON)
                        })
                        .collect(),
                    _ => scale.columns().map(truth).collect(),
                };
                running.extend(chances.iter().scan(0.0, |sum, chance| {
                    *sum += chance;
                    Some(*sum)
                }));
            }
        }
        let characters =
            key.table.scales.iter().map(|scale| (scale.first, usize::from(scale.steps))).collect();
        Self { pack, columns, characters, running }
    }

    /// The running sums of one taxon in one character; they end in 0 where it has nothing of the kind.
    fn running(&self, taxon: TaxonIndex, character: CharacterIndex) -> &[f32] {
        let (first, steps) = self.characters.get(character.get()).copied().unwrap_or_default();
        let start = taxon.get() * self.columns + first;
        self.running.get(start..start + steps).unwrap_or(&[])
    }

    /// Draws a specimen of a taxon.
    pub fn draw(&self, taxon: TaxonIndex, random: &mut Pcg64, into: &mut Specimen) {
        into.shown.clear();
        into.shown.extend(self.pack.character_indices().map(|at| pick(self.running(taxon, at), random)));
    }

    /// What a specimen shows in a character: nothing where the character does not apply to it.
    pub fn shows(&self, specimen: &Specimen, character: CharacterIndex) -> Option<StateIndex> {
        let applies = self.pack.character(character)?.applies_if.iter().all(|gate| {
            self.shows(specimen, gate.character).is_some_and(|state| gate.states.contains(&state))
        });
        specimen.shown.get(character.get()).copied().flatten().filter(|_| applies)
    }

    /// Draws one of the steps that a taxon shows, other than one. `None` if it shows no other.
    pub fn draw_other(
        &self,
        taxon: TaxonIndex,
        character: CharacterIndex,
        than: StateIndex,
        random: &mut Pcg64,
    ) -> Option<StateIndex> {
        let running = self.running(taxon, character);
        let before = than.get().checked_sub(1).and_then(|at| running.get(at)).copied().unwrap_or(0.0);
        let own = running.get(than.get()).copied().unwrap_or(before) - before;
        let total = running.last().copied().unwrap_or(0.0);
        if total - own <= 1e-4 {
            return None;
        }
        (0..64).filter_map(|_| pick(running, random)).find(|state| *state != than)
    }

    /// The food that the key may name with whose specimens this taxon's have most in common.
    pub fn most_similar_food(&self, taxon: TaxonIndex) -> Option<TaxonIndex> {
        let likeness = |other: TaxonIndex| -> f32 {
            self.pack.character_indices().map(|at| self.overlap(taxon, other, at)).sum()
        };
        self.pack
            .taxon_indices()
            .filter(|other| {
                *other != taxon && self.pack.taxon(*other).is_some_and(|other| other.key_may_name)
            })
            .map(|other| (likeness(other), other))
            .max_by(|(one, first), (other, second)| one.total_cmp(other).then(second.cmp(first)))
            .map(|(_, other)| other)
    }

    /// How much two taxa share in a character, 0 to 1; a half where it is not known of one of them.
    fn overlap(&self, one: TaxonIndex, other: TaxonIndex, at: CharacterIndex) -> f32 {
        let (ours, theirs) = (self.pack.cell(one, at), self.pack.cell(other, at));
        match (ours, theirs) {
            (Cell::NotApplicable, Cell::NotApplicable) => 1.0,
            (Cell::NotApplicable, _) | (_, Cell::NotApplicable) => 0.0,
            (Cell::Unknown, _) | (_, Cell::Unknown) => 0.5,
            _ => {
                let chances = |taxon| {
                    let running = self.running(taxon, at);
                    let total = running.last().copied().unwrap_or(1.0).max(f32::MIN_POSITIVE);
                    let before = std::iter::once(0.0).chain(running.iter().copied());
                    running.iter().zip(before).map(move |(sum, before)| (sum - before) / total)
                };
                chances(one).zip(chances(other)).map(|(ours, theirs)| f32::min(ours, theirs)).sum()
            }
        }
    }

    /// How many steps a character has.
    pub fn steps(&self, character: CharacterIndex) -> u16 {
        let (_, steps) = self.characters.get(character.get()).copied().unwrap_or_default();
        u16::try_from(steps).unwrap_or(u16::MAX)
    }

    /// What kind of answer a character takes.
    pub fn kind(&self, character: CharacterIndex) -> Kind {
        self.pack.character(character).map_or(Kind::States, |character| character.kind)
    }
}

/// Draws a step by its running sums.
fn pick(running: &[f32], random: &mut Pcg64) -> Option<StateIndex> {
    let total = running.last().copied().filter(|total| *total > 0.0)?;
    let at = random.random::<f32>() * total;
    let step = running.iter().position(|sum| at < *sum).unwrap_or(running.len() - 1);
    u16::try_from(step).ok().map(StateIndex)
}
