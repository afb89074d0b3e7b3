//! Ids and the positions they stand for, with a guess at what a misspelt one meant.

use std::collections::HashMap;

/// The ids of one kind of thing, in their order.
#[derive(Debug, Default)]
pub(super) struct Names {
    positions: HashMap<String, u16>,
}

impl Names {
    /// Adds an id at the next position. `None` if it is there already, or if there is no room for more.
    pub fn add(&mut self, id: &str) -> Option<u16> {
        let at = u16::try_from(self.positions.len()).ok()?;
        if self.positions.contains_key(id) {
            return None;
        }
        self.positions.insert(id.to_owned(), at);
        Some(at)
    }

    pub fn get(&self, id: &str) -> Option<u16> {
        self.positions.get(id).copied()
    }

    /// A hint for a message: the known id nearest to a misspelt one, or nothing.
    pub fn hint(&self, misspelt: &str) -> String {
        did_you_mean(misspelt, self.positions.keys().map(String::as_str))
    }
}

/// `, did you mean …?` if one of the known words is near.
pub(crate) fn did_you_mean<'a>(misspelt: &str, known: impl Iterator<Item = &'a str>) -> String {
    let reach = 1 + misspelt.chars().count() / 4;
    known
        .map(|word| (strsim::osa_distance(misspelt, word), word))
        .filter(|(distance, _)| *distance <= reach)
        .min()
        .map_or_else(String::new, |(_, word)| format!(", did you mean `{word}`?"))
}

/// Lower-case words joined by single hyphens.
pub(crate) fn is_id(text: &str) -> bool {
    let word = |word: &str| {
        !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
    };
    text.split('-').all(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_near_miss_is_guessed_and_a_far_one_is_not() {
        let known = ["funeral-bell", "velvet-shank"];
        assert_eq!(did_you_mean("funeral-bel", known.into_iter()), ", did you mean `funeral-bell`?");
        assert_eq!(did_you_mean("parasol", known.into_iter()), "");
    }

    #[test]
    fn ids_are_kebab_case() {
        assert!(["ring", "spore-print", "p06"].iter().all(|id| is_id(id)));
        assert!(!["", "Ring", "-ring", "ring-", "a--b", "a_b", "ö"].iter().any(|id| is_id(id)));
    }
}
