//! How much a pack knows, in numbers.

use serde::Serialize;

use super::model::{Pack, Sources, Standing, Taxon};
use super::signs::{Maturity, Size};

/// Counts of what a pack holds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Statistics {
    /// Taxa, stages of others among them.
    pub taxa: usize,
    /// Taxa that people gather.
    pub foods: usize,
    /// Foods whose condition the pack speaks of.
    pub foods_with_condition: usize,
    /// Foods whose least size is known.
    pub foods_with_size: usize,
    /// Least sizes by where they come from.
    pub sizes: Backed,
    /// Forms whose signs of age are told.
    pub forms: usize,
    /// Signs of age, by where they come from.
    pub signs: Backed,
    /// What signs say in single taxa, by where it comes from.
    pub own_signs: Backed,
}

/// Statements by the best source that they have.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Backed {
    /// From a published source.
    pub published: usize,
    /// Common practice.
    pub practice: usize,
    /// From memory, or derived.
    pub memory: usize,
}

impl Statistics {
    /// Counts.
    #[must_use]
    pub fn of(pack: &Pack) -> Self {
        let foods: Vec<&Taxon> = pack.taxa.iter().filter(|taxon| taxon.standing == Standing::Food).collect();
        let known: Vec<&Maturity> = foods.iter().filter_map(|taxon| taxon.maturity.as_ref()).collect();
        let sizes = |maturity: &Maturity| [maturity.width.clone(), maturity.height.clone()];
        let backed = |all: Vec<&Sources>| Backed::of(pack, &all);
        let all_sizes: Vec<Size> = known.iter().flat_map(|it| sizes(it)).flatten().collect();
        Self {
            taxa: pack.taxa.len(),
            foods: foods.len(),
            foods_with_condition: known.len(),
            foods_with_size: known.iter().filter(|it| it.width.is_some() || it.height.is_some()).count(),
            sizes: backed(all_sizes.iter().map(|size| &size.sources).collect()),
            forms: pack.lives.len(),
            signs: backed(pack.signs.iter().map(|sign| &sign.sources).collect()),
            own_signs: backed(known.iter().flat_map(|it| &it.signs).map(|own| &own.sources).collect()),
        }
    }
}

impl Backed {
    fn of(pack: &Pack, statements: &[&Sources]) -> Self {
        let cites = |sources: &Sources, id: &str| {
            sources.iter().any(|at| pack.sources.get(at.get()).is_some_and(|source| source.id == id))
        };
        let mut backed = Self::default();
        for sources in statements {
            let count = if pack.is_published(sources) {
                &mut backed.published
            } else if cites(sources, "practice") {
                &mut backed.practice
            } else {
                &mut backed.memory
            };
            *count += 1;
        }
        backed
    }

    /// All of them.
    #[must_use]
    pub fn total(self) -> usize {
        self.published + self.practice + self.memory
    }
}
