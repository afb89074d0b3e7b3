//! What each source is cited for.

use super::model::{Cell, GroupIndex, Pack, Sources, TaxonIndex};

/// What one source is cited for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CitedFor {
    /// The taxa of which it says something, in their order.
    pub taxa: Vec<TaxonIndex>,
    /// The groups of which it says what would part their members.
    pub groups: Vec<GroupIndex>,
    /// Whether it says something of the signs of age.
    pub signs: bool,
}

impl CitedFor {
    /// Whether nothing cites it.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.taxa.is_empty() && self.groups.is_empty() && !self.signs
    }

    /// The same in words: names by the alphabet, then what else.
    #[must_use]
    pub fn in_words(&self, pack: &Pack) -> Vec<String> {
        let taxa = self.taxa.iter().filter_map(|at| pack.taxon(*at)?.english.first());
        let groups = self.groups.iter().filter_map(|at| pack.group(*at)?.english.first());
        let mut names: Vec<String> = taxa.chain(groups).cloned().collect();
        names.sort();
        names.dedup();
        names.extend(self.signs.then(|| "signs of age".to_owned()));
        names
    }
}

impl Pack {
    /// What each of [`Pack::sources`] is cited for, in their order.
    #[must_use]
    pub fn cited_for(&self) -> Vec<CitedFor> {
        let mut cited = vec![CitedFor::default(); self.sources.len()];
        let mut cite = |sources: &Sources, note: &dyn Fn(&mut CitedFor)| {
            for source in sources {
                cited.get_mut(source.get()).into_iter().for_each(note);
            }
        };
        for (at, group) in (0..).map(GroupIndex).zip(&self.groups) {
            cite(&group.parted_by.sources, &|cited| cited.groups.push(at));
        }
        for sign in &self.signs {
            cite(&sign.sources, &|cited| cited.signs = true);
        }
        for at in self.taxon_indices() {
            let note = |cited: &mut CitedFor| {
                if cited.taxa.last() != Some(&at) {
                    cited.taxa.push(at);
                }
            };
            self.sources_of(at, |sources| cite(sources, &note));
        }
        cited
    }

    /// The sources of every statement on a taxon.
    fn sources_of(&self, at: TaxonIndex, mut told: impl FnMut(&Sources)) {
        if let Some(taxon) = self.taxa.get(at.get()) {
            told(&taxon.abundance_sources);
            let statements = taxon.cautions.iter().chain(&taxon.disputed).chain([&taxon.standing_statement]);
            statements.for_each(|statement| told(&statement.sources));
            taxon.lookalikes.iter().for_each(|entry| told(&entry.sources));
            if let Some(maturity) = &taxon.maturity {
                maturity.width.iter().chain(&maturity.height).for_each(|size| told(&size.sources));
                maturity.signs.iter().for_each(|own| told(&own.sources));
            }
        }
        let row = self.characters.len();
        for cell in self.cells.iter().skip(at.get() * row).take(row) {
            match cell {
                Cell::States(cell) => cell.states.iter().flatten().for_each(|seen| told(&seen.sources)),
                Cell::Number(_, sources) | Cell::Months(_, sources) => told(sources),
                Cell::NotApplicable | Cell::Unknown => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_source_is_cited_for_something_and_by_whom_its_file_says() {
        let pack = Pack::britain().unwrap();
        let cited = pack.cited_for();
        assert_eq!(cited.len(), pack.sources().len());
        assert!(
            cited.iter().all(|cited| !cited.is_nothing()),
            "the pack's own check keeps unused sources out"
        );
        for (source, cited) in pack.sources().iter().zip(&cited) {
            let word = |text: &str| {
                text.split(|c: char| !c.is_alphanumeric() && !"-_".contains(c)).any(|word| word == source.id)
            };
            for at in &cited.taxa {
                let id = &pack.taxon(*at).unwrap().id;
                let path = format!("{}/packs/britain/taxa/{id}.toml", env!("CARGO_MANIFEST_DIR"));
                let text = std::fs::read_to_string(path).unwrap();
                assert!(word(&text), "{id} does not name {}", source.id);
            }
        }
    }
}
