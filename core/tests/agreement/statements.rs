//! What the pack says in sentences: standing, frequency, cautions, quarrels, look-alikes. Words cannot be read by a program, but
//! whether a source speaks of the thing can.

use trug::pack::{Sources, TaxonIndex};

use crate::facts::Known;
use crate::{Check, known};

/// Every sentence whose source, as far as the file holds it, says nothing of the kind; and how many were looked at.
pub fn unsupported(check: &Check<'_>) -> (usize, Vec<String>) {
    let mut all = 0;
    let mut found = Vec::new();
    for at in check.pack.taxon_indices() {
        let taxon = check.pack.taxon(at).unwrap();
        let own = known(check.pack, at, &check.readings, check.species);
        if own.own.is_empty() {
            continue;
        }
        let fields = |fields: &[&str]| fields.iter().map(ToString::to_string).collect::<Vec<_>>();
        let (harm, often) = (fields(&["status", "syndrome"]), fields(&["frequency"]));
        let of_harm =
            |source: &str| !own.facts(source, &harm).is_empty() || !own.contrasts(source).is_empty();
        let of_frequency = |source: &str| !own.facts(source, &often).is_empty();
        let of_it = |source: &str| own.is_told_by(source) || quarrels(check, &own, source);
        let beside = |other: TaxonIndex, source: &str| {
            of_it(source) || known(check.pack, other, &check.readings, check.species).is_told_by(source)
        };
        let of_kin = |source: &str| check.pack.lookalikes_of(at).any(|(other, _)| beside(other, source));
        let mut look = |what: &str, sources: &Sources, told: &dyn Fn(&str) -> bool| {
            let ids = sources.iter().map(|at| &check.pack.sources()[usize::from(at.0)]);
            for source in ids.filter(|source| source.published && check.sources.contains_key(&source.id)) {
                all += 1;
                if !told(&source.id) {
                    found.push(format!("taxa/{}.toml: {what} ({})", taxon.id, source.id));
                }
            }
        };
        look("standing", &taxon.standing_statement.sources, &of_harm);
        look("frequency", &taxon.abundance_sources, &of_frequency);
        for caution in &taxon.cautions {
            look("caution", &caution.sources, &|source| of_it(source) || of_kin(source));
        }
        for quarrel in &taxon.disputed {
            look("disputed", &quarrel.sources, &of_it);
        }
        for other in &taxon.lookalikes {
            look("look-alike", &other.sources, &|source| beside(other.taxon, source));
        }
    }
    (all, found)
}

/// A source of which the file holds no fact may still stand behind a quarrel that the file tells in free words.
fn quarrels(check: &Check<'_>, own: &Known<'_>, source: &str) -> bool {
    let facts = check.species.iter().flat_map(|it| &it.facts);
    let contrasts = check.species.iter().flat_map(|it| &it.lookalikes);
    let mut everywhere = facts.map(|fact| &fact.source).chain(contrasts.map(|contrast| &contrast.source));
    own.own.iter().any(|it| !it.conflicts.is_empty())
        && !everywhere.any(|told| crate::facts::is_from(told, source))
}
