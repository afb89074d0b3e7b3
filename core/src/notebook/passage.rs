//! The passage of a note in which something is said that was asked for.

use crate::spelling;

/// How many words stand before and after the one that was asked for.
const BEFORE: usize = 4;
const AFTER: usize = 8;
/// Letters that a passage has at most: three lines of a phone.
const LONGEST: usize = 120;

/// The words of a note about the first that fits one of those asked for; `None` if none does. Dots stand for what is left out.
pub(super) fn passage(note: &str, asked: &[String]) -> Option<String> {
    let said: Vec<&str> = note.split_whitespace().collect();
    let fits = |said: &&str| {
        let words = spelling::words(said);
        asked.iter().any(|wanted| words.iter().any(|word| spelling::fit(wanted, word).is_some()))
    };
    let at = said.iter().position(fits)?;
    // Dots are no shorter than the one word that they would stand for.
    let from = if at <= BEFORE + 1 { 0 } else { at - BEFORE };
    let until = if at + AFTER + 2 >= said.len() { said.len() } else { at + AFTER + 1 };
    let words = said.get(from..until)?.join(" ");
    let cut = words.char_indices().nth(LONGEST).map(|(at, _)| at);
    let shown = words.get(..cut.unwrap_or(words.len()))?;
    let before = if from > 0 { "… " } else { "" };
    let after = if cut.is_some() || until < said.len() { " …" } else { "" };
    Some(format!("{before}{}{after}", shown.trim_end()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(note: &str, asked: &str) -> Option<String> {
        passage(note, &spelling::words(asked))
    }

    #[test]
    fn a_passage_is_the_words_about_the_one_asked_for() {
        let note = "Under the leaning hazel on the north side, past the second gate.\nWet feet. Come back after rain.";
        assert_eq!(
            of(note, "second").unwrap(),
            "… north side, past the second gate. Wet feet. Come back after rain."
        );
        assert_eq!(
            of(note, "hazle").unwrap(),
            "Under the leaning hazel on the north side, past the second gate. …"
        );
        assert_eq!(of(note, "oak"), None);
        assert_eq!(of("", "oak"), None);
    }

    #[test]
    fn a_word_without_end_is_cut() {
        let shown = of(&format!("oak{}", "é".repeat(10_000)), "oak").unwrap();
        assert_eq!(shown.chars().count(), LONGEST + 2);
    }
}
