//! Names as they are typed, letter by letter: what may be meant, the likeliest first.

use super::model::{Pack, Standing, Taxon, TaxonIndex};

/// A taxon or a group, as a list of names shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its id.
    pub id: String,
    /// The English name to show, as at the beginning of a sentence; the Latin one where it has none.
    pub english: String,
    /// The Latin name in use; for a group its members'.
    pub latin: String,
    /// What it is to people; of a group the worst.
    pub standing: Standing,
    /// Whether it is a group.
    pub is_group: bool,
}

/// How well a name fits what was typed, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Whole,
    Beginning,
    BeginningOfWord,
    Within,
    Near,
}

impl Pack {
    /// The taxa and groups whose English or Latin names fit what was typed, at most `most`; all of them, by name, for nothing
    /// typed. A misspelt name finds what is near it.
    #[must_use]
    pub fn search(&self, typed: &str, most: usize) -> Vec<Named> {
        let wanted = typed.trim().to_lowercase();
        let mut found: Vec<(Fit, Named)> = self
            .everything()
            .filter_map(|(names, named)| {
                let fit = names.iter().filter_map(|name| fit(&wanted, &name.to_lowercase())).min()?;
                Some((fit, named))
            })
            .collect();
        // What is near is guessed at only where nothing fits.
        if found.iter().any(|(fit, _)| *fit < Fit::Near) {
            found.retain(|(fit, _)| *fit < Fit::Near);
        }
        found.sort_by(|(one, first), (other, second)| {
            one.cmp(other)
                .then_with(|| first.english.cmp(&second.english))
                .then_with(|| first.id.cmp(&second.id))
        });
        found.into_iter().map(|(_, named)| named).take(most).collect()
    }

    /// The taxon or group that goes by this id or exact name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<Named> {
        if let Some(taxon) = self.taxon_by_name(name).and_then(|at| self.taxon(at)) {
            return Some(Named::of(taxon));
        }
        let wanted = name.trim().to_lowercase();
        let mut groups = self.everything().filter(|(_, named)| named.is_group);
        let same = |names: &[&String]| names.iter().any(|name| name.to_lowercase() == wanted);
        groups.find(|(names, named)| named.id == wanted || same(names)).map(|(_, named)| named)
    }

    /// A taxon as a list of names shows it.
    #[must_use]
    pub fn named_at(&self, at: TaxonIndex) -> Option<Named> {
        self.taxon(at).map(Named::of)
    }

    /// Every taxon and group, with all names that it goes by.
    fn everything(&self) -> impl Iterator<Item = (Vec<&String>, Named)> {
        let taxa = self.taxa().iter().map(|taxon| {
            let latin = std::iter::once(&taxon.latin).chain(&taxon.synonyms);
            (taxon.english.iter().chain(latin).collect(), Named::of(taxon))
        });
        let groups = (0_u16..).zip(self.groups()).filter_map(|(at, group)| {
            let members = self.members(super::model::GroupIndex(at)).filter_map(|at| self.taxon(at));
            let standing = members.map(|taxon| taxon.standing).max()?;
            let named = Named {
                id: group.id.clone(),
                english: super::capital(group.english.first().unwrap_or(&group.latin)),
                latin: group.latin.clone(),
                standing,
                is_group: true,
            };
            Some((group.english.iter().collect(), named))
        });
        taxa.chain(groups)
    }
}

impl Named {
    fn of(taxon: &Taxon) -> Self {
        Self {
            id: taxon.id.clone(),
            english: super::capital(taxon.english.first().unwrap_or(&taxon.latin)),
            latin: taxon.latin.clone(),
            standing: taxon.standing,
            is_group: false,
        }
    }
}

fn fit(wanted: &str, name: &str) -> Option<Fit> {
    // Two slips in a long name, none in a short one.
    let reach = wanted.chars().count() / 4;
    if name == wanted {
        Some(Fit::Whole)
    } else if name.starts_with(wanted) {
        Some(Fit::Beginning)
    } else if name.split([' ', '-']).any(|word| word.starts_with(wanted)) {
        Some(Fit::BeginningOfWord)
    } else if name.contains(wanted) {
        Some(Fit::Within)
    } else {
        (strsim::osa_distance(wanted, name) <= reach.min(2) && reach > 0).then_some(Fit::Near)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ids(typed: &str) -> Vec<String> {
        Pack::britain().unwrap().search(typed, 5).into_iter().map(|named| named.id).collect()
    }

    #[test]
    fn names_are_found_as_they_are_typed() {
        assert_eq!(ids("velvet sh").first().map(String::as_str), Some("velvet-shank"));
        assert_eq!(ids("Amanita phall").first().map(String::as_str), Some("death-cap"));
        assert_eq!(ids("  FUNERAL BELL ").first().map(String::as_str), Some("funeral-bell"));
        assert!(ids("bell").contains(&"funeral-bell".to_owned()));
        assert_eq!(ids("qqqq"), Vec::<String>::new());
    }

    #[test]
    fn a_misspelt_name_finds_what_is_near_it() {
        assert_eq!(ids("velvet shnak"), ["velvet-shank"]);
        assert_eq!(ids("cpe"), Vec::<String>::new());
    }

    #[test]
    fn nothing_typed_lists_by_name_and_no_more_than_asked() {
        let all = Pack::britain().unwrap().search("", usize::MAX);
        assert!(all.len() > 136 && all.is_sorted_by(|one, other| one.english <= other.english));
        assert_eq!(Pack::britain().unwrap().search("", 3).len(), 3);
    }

    #[test]
    fn a_group_is_as_dangerous_as_its_worst() {
        let pack = Pack::britain().unwrap();
        for (_, named) in pack.everything().filter(|(_, named)| named.is_group) {
            let group = (0..).zip(pack.groups()).find(|(_, group)| group.id == named.id).unwrap().0;
            let members = pack.members(super::super::model::GroupIndex(group));
            assert!(members.filter_map(|at| pack.taxon(at)).all(|taxon| taxon.standing <= named.standing));
        }
    }
}
