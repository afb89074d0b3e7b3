//! Names as they are typed, letter by letter: what may be meant, the likeliest first.

use std::collections::BTreeSet;

use super::model::{GroupIndex, Pack, Standing, Taxon, TaxonIndex};
use crate::spelling;

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

/// How well a taxon's names fit what was typed, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Whole,
    Beginning,
    BeginningOfWord,
    Within,
    Near,
}

/// What was typed, folded.
struct Typed {
    words: Vec<String>,
    /// Without what parts the words: a death cap is a deathcap to many.
    closed_up: String,
}

impl Pack {
    /// The taxa and groups whose English or Latin names fit what was typed, at most `most`; all of them, by name, for nothing
    /// typed. The order of words does not matter, and a misspelt name finds what is near it.
    #[must_use]
    pub fn search(&self, typed: &str, most: usize) -> Vec<Named> {
        self.ranked(typed).into_iter().map(|(_, _, named)| named).take(most).collect()
    }

    /// Everything that each taxon or group is called whose names fit what was typed, and how they fit.
    #[must_use]
    pub fn fitting(&self, typed: &str) -> Vec<(spelling::Fit, Vec<String>)> {
        // So few letters stand within too many names to mean any of them.
        const WITHIN: usize = 5;
        let few = typed.chars().count() < WITHIN;
        let plain = |fit| match fit {
            Fit::Whole => Some(spelling::Fit::Whole),
            Fit::Within if few => None,
            Fit::Beginning | Fit::BeginningOfWord | Fit::Within => Some(spelling::Fit::Beginning),
            Fit::Near => Some(spelling::Fit::Near),
        };
        let ranked = self.ranked(typed).into_iter();
        ranked.filter_map(|(fit, names, named)| Some((plain(fit)?, called(names, named)))).collect()
    }

    /// Everything that each taxon or group is called of which some name has a word that fits this one, and how it fits. A group has
    /// its members' words too.
    #[must_use]
    pub fn having_word(&self, word: &str) -> Vec<(spelling::Fit, Vec<String>)> {
        let having = |(names, named): (Vec<&String>, Named)| {
            let of_group = if named.is_group { spelling::words(&named.latin) } else { Vec::new() };
            let words = names.iter().flat_map(|name| spelling::words(name)).chain(of_group);
            let fit = words.filter_map(|other| spelling::fit(word, &other)).min()?;
            Some((fit, called(names, named)))
        };
        self.everything().filter_map(having).collect()
    }

    /// Everything that a taxon or group is called: its id, then its English and Latin names. What the pack does not know is called
    /// that.
    #[must_use]
    pub fn called(&self, name: &str) -> Vec<String> {
        let known = self.named(name).map(|named| named.id);
        let mut everything = self.everything();
        let found = known.and_then(|id| everything.find(|(_, named)| named.id == id));
        found.map_or_else(|| vec![name.to_owned()], |(names, named)| called(names, named))
    }

    /// Those that belong to a group; for a taxon its group, the taxon that it is a stage of, and its own stages.
    #[must_use]
    pub fn kin(&self, id: &str) -> Vec<Named> {
        let groups = (0..).map(GroupIndex).zip(self.groups());
        if let Some((group, _)) = groups.clone().find(|(_, group)| group.id == id) {
            return self.members(group).filter_map(|at| self.named_at(at)).collect();
        }
        let Some((own, taxon)) = self.taxon_by_id(id).and_then(|at| Some((at, self.taxon(at)?))) else {
            return Vec::new();
        };
        let group = taxon.group.and_then(|at| self.group(at)).and_then(|group| self.named(&group.id));
        let of = taxon.stage.as_ref().and_then(|stage| self.named_at(stage.of));
        let stages =
            self.taxa().iter().filter(|other| other.stage.as_ref().is_some_and(|stage| stage.of == own));
        group.into_iter().chain(of).chain(stages.map(Named::of)).collect()
    }

    /// The words of all names.
    #[must_use]
    pub fn words_of_names(&self) -> BTreeSet<String> {
        let names = self.everything().flat_map(|(names, _)| names);
        names.flat_map(|name| spelling::words(name)).collect()
    }

    fn ranked(&self, typed: &str) -> Vec<(Fit, Vec<&String>, Named)> {
        let words = spelling::asked(typed);
        if words.is_empty() && !typed.trim().is_empty() {
            return Vec::new(); // signs alone are no name
        }
        let typed = Typed { closed_up: words.concat(), words };
        let mut found: Vec<_> = self
            .everything()
            .filter_map(|(names, named)| {
                let (fit, slips) = typed.fit(&names)?;
                Some((fit, slips, names, named))
            })
            .collect();
        // What is near is guessed at only where nothing fits.
        if found.iter().any(|(fit, ..)| *fit < Fit::Near) {
            found.retain(|(fit, ..)| *fit < Fit::Near);
        }
        found.sort_by(|(one, slips, _, first), (other, more, _, second)| {
            one.cmp(other)
                .then_with(|| slips.cmp(more))
                .then_with(|| first.english.cmp(&second.english))
                .then_with(|| first.id.cmp(&second.id))
        });
        found.into_iter().map(|(fit, _, names, named)| (fit, names, named)).collect()
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
            let members = self.members(GroupIndex(at)).filter_map(|at| self.taxon(at));
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

fn called(names: Vec<&String>, taxon: Named) -> Vec<String> {
    std::iter::once(taxon.id).chain(names.into_iter().cloned()).collect()
}

impl Typed {
    /// How the names fit; and where they do so only nearly, by how many slips the best of them as a whole.
    fn fit(&self, names: &[&String]) -> Option<(Fit, usize)> {
        let names: Vec<Vec<String>> = names.iter().map(|name| spelling::words(name)).collect();
        let closed_up: Vec<String> = names.iter().map(|words| words.concat()).collect();
        let any = |fits: &dyn Fn(&String) -> bool| closed_up.iter().any(fits);
        let of_words = self.of_words(&names.iter().flatten());
        let singular = spelling::singular(&self.closed_up);
        if any(&|name| *name == self.closed_up) {
            Some((Fit::Whole, 0))
        } else if any(&|name| name.starts_with(&self.closed_up) || Some(name.as_str()) == singular) {
            Some((Fit::Beginning, 0))
        } else if of_words.is_some_and(|fit| fit < spelling::Fit::Near) {
            Some((Fit::BeginningOfWord, 0))
        } else if any(&|name| name.contains(&self.closed_up)) {
            Some((Fit::Within, 0))
        } else {
            let near = |name: &String| spelling::fit(&self.closed_up, name) == Some(spelling::Fit::Near);
            let slips = closed_up.iter().map(|name| spelling::slips(&self.closed_up, name)).min();
            (of_words.is_some() || any(&near)).then(|| (Fit::Near, slips.unwrap_or(usize::MAX)))
        }
    }

    /// How the words fit, each by itself, one as well as the worst of them; `None` if one does not fit at all.
    fn of_words<'a>(&self, words: &(impl Iterator<Item = &'a String> + Clone)) -> Option<spelling::Fit> {
        let best = |typed: &String| words.clone().filter_map(|word| spelling::fit(typed, word)).min();
        self.words.iter().map(best).try_fold(spelling::Fit::Whole, |worst, fit| Some(worst.max(fit?)))
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

    /// Spellings as people make them, and words in any order, in any case, run together or not.
    #[test]
    fn names_are_found_however_they_are_spelt() {
        for (typed, first) in [
            ("chantrelle", "chanterelle"),
            ("chanterell", "chanterelle"),
            ("shank velvet", "velvet-shank"),
            ("velvit shank", "velvet-shank"),
            ("flamulina", "velvet-shank"),
            ("FLAMMULINA VELUTIPES", "velvet-shank"),
            ("velutipes flammulina", "velvet-shank"),
            ("amanita phaloides", "death-cap"),
            ("phaloides", "death-cap"),
            ("deathcap", "death-cap"),
            ("cep", "cep"),
            ("ceps", "cep"),
            ("pennybun", "cep"),
            ("peny bun", "cep"),
            ("boletis edulis", "cep"),
            ("galarina marginata", "funeral-bell"),
            ("funeral bel", "funeral-bell"),
            ("devils bolete", "devils-bolete"),
            ("DEVIL’S  BOLETE", "devils-bolete"),
            ("common ink cap", "common-inkcap"),
            ("flý agaric", "fly-agaric"),
        ] {
            assert_eq!(ids(typed).first().map(String::as_str), Some(first), "{typed}");
        }
    }

    #[test]
    fn signs_and_strangers_find_nothing_and_do_no_harm() {
        for typed in ["\"", "' OR 1=1 --", "*", "\0", "🍄", "שלום", &"x".repeat(1_000_000), "zzzz zzzz"]
        {
            assert_eq!(ids(typed), Vec::<String>::new(), "{} bytes", typed.len());
        }
    }

    #[test]
    fn a_word_finds_every_taxon_that_has_it_and_how() {
        let pack = Pack::britain().unwrap();
        let having = |word: &str| -> Vec<(spelling::Fit, String)> {
            let having = pack.having_word(word).into_iter();
            having.map(|(fit, called)| (fit, called.first().unwrap().clone())).collect()
        };
        assert!(having("amanita").iter().all(|(fit, _)| *fit == spelling::Fit::Whole));
        assert!(having("amanita").len() > 5);
        assert!(having("flamulina").contains(&(spelling::Fit::Near, "velvet-shank".into())));
        assert!(having("tubaeformis").contains(&(spelling::Fit::Whole, "winter-chanterelles".into())));
        assert_eq!(pack.called("velvet-shank")[..3], ["velvet-shank", "Velvet shank", "Winter mushroom"]);
        assert_eq!(pack.called("Flammulina velutipes"), pack.called("velvet-shank"));
        assert_eq!(pack.called("Something brown"), ["Something brown"]);
        assert!(pack.words_of_names().contains("girolle"));
    }

    #[test]
    fn kin_are_a_groups_members_or_a_taxons_group_and_stages() {
        let pack = Pack::britain().unwrap();
        let kin = |id: &str| -> Vec<String> { pack.kin(id).into_iter().map(|named| named.id).collect() };
        assert_eq!(kin("death-cap"), ["death-cap-egg"]);
        assert_eq!(kin("death-cap-egg"), ["death-cap"]);
        for member in kin("winter-chanterelles") {
            assert_eq!(kin(&member), ["winter-chanterelles"]);
        }
        assert!(kin("winter-chanterelles").len() == 2 && kin("nothing").is_empty());
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
            let members = pack.members(GroupIndex(group));
            assert!(members.filter_map(|at| pack.taxon(at)).all(|taxon| taxon.standing <= named.standing));
        }
    }
}
