//! Reading a published fact: which of a character's states do its few words name?

use std::collections::{BTreeMap, BTreeSet};

/// After one of these, up to the next comma, a word is denied, not said.
const DENIALS: [&str; 8] = ["not", "no", "never", "without", "lacks", "nor", "lack", "hardly"];
const STOP: &str = "|";

/// The words by which each state of a character is named. A phrase may have several words; a last `*` stands for any ending.
pub type Words = BTreeMap<String, Vec<String>>;

/// The words of a fact, commas and the like kept as stops.
pub fn tokens(text: &str) -> Vec<String> {
    let mut tokens = Vec::new();
    let mut word = String::new();
    for letter in text.to_lowercase().chars().chain([' ']) {
        if letter.is_alphanumeric() || letter == '-' {
            word.push(letter);
            continue;
        }
        if !word.is_empty() {
            tokens.push(std::mem::take(&mut word).trim_matches('-').to_owned());
        }
        if ",;:.()/".contains(letter) {
            tokens.push(STOP.to_owned());
        }
    }
    tokens
}

/// The states that a fact names.
pub fn named<'w>(text: &str, words: &'w Words) -> BTreeSet<&'w str> {
    named_in(&tokens(text), words)
}

/// The states that a contrast of two species names: what is denied of one holds for the other.
pub fn contrasted<'w>(text: &str, words: &'w Words) -> BTreeSet<&'w str> {
    let tokens: Vec<String> = tokens(text).into_iter().filter(|t| !DENIALS.contains(&t.as_str())).collect();
    &named_in(&tokens, words) | &named(text, words)
}

fn named_in<'w>(tokens: &[String], words: &'w Words) -> BTreeSet<&'w str> {
    let known: Vec<&str> = words.values().flatten().map(String::as_str).collect();
    let says = |phrase: &str| says(tokens, phrase, &known);
    words
        .iter()
        .filter(|(_, phrases)| phrases.iter().any(|p| says(p)))
        .map(|(states, _)| states.as_str())
        .collect()
}

fn says(tokens: &[String], phrase: &str, known: &[&str]) -> bool {
    let phrase: Vec<&str> = phrase.split(' ').collect();
    let denying = DENIALS.contains(&phrase[0]);
    (0..tokens.len()).any(|at| {
        let here = tokens.get(at..at + phrase.len());
        let fits =
            here.is_some_and(|here| here.iter().zip(&phrase).all(|(token, word)| same(token, word, known)));
        fits && (denying || !is_denied(&tokens[..at]))
    })
}

/// A compound that has words of its own is not taken apart: "red-brown" is not red.
fn same(token: &str, word: &str, known: &[&str]) -> bool {
    let plain = |token: &str, word: &str| match word.strip_suffix('*') {
        Some(start) => token.starts_with(start) && (start.contains('-') || !token.contains('-')),
        None => token == word,
    };
    plain(token, word)
        || (token.contains('-')
            && !known.iter().any(|known| plain(token, known))
            && token.split('-').any(|part| plain(part, word)))
}

/// "Not mealy", "no clear volva"; but "not mealy, fruity" says fruity, and "with or without an umbo" says both.
fn is_denied(before: &[String]) -> bool {
    let near: Vec<&String> = before.iter().rev().take(4).take_while(|token| *token != STOP).collect();
    near.iter().take(3).enumerate().any(|(at, token)| {
        DENIALS.contains(&token.as_str()) && near.get(at + 1).is_none_or(|before| *before != "or")
    })
}

#[test]
fn words_are_read_with_their_denials_and_compounds() {
    let words = |list: &[(&str, &[&str])]| -> Words {
        list.iter().map(|(s, p)| ((*s).to_owned(), p.iter().map(ToString::to_string).collect())).collect()
    };
    let colours =
        words(&[("red", &["red", "scarlet"]), ("brown", &["brown*"]), ("chestnut", &["red-brown"])]);
    let read = |text: &str| named(text, &colours).into_iter().collect::<Vec<_>>();
    assert_eq!(read("red-brown, not red"), ["chestnut"]);
    assert_eq!(read("grey-brown; then brownish"), ["brown"]);
    assert_eq!(read("with or without red spots"), ["red"]);
    assert_eq!(contrasted("not red", &colours).into_iter().collect::<Vec<_>>(), ["red"]);
    assert_eq!(read("never very red, scarlet"), ["red"]);
    assert_eq!(read("green"), Vec::<&str>::new());
    let rings = words(&[("absent", &["none", "no ring"]), ("skirt", &["ring"])]);
    assert_eq!(named("no ring", &rings).into_iter().collect::<Vec<_>>(), ["absent"]);
}
