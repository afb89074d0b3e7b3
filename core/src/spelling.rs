//! Words as people type them: folded to plain small letters, and near to each other by a slip or two.
//!
//! Both sides of every search are folded here, what is on record and what is asked for, so that neither capitals nor accents
//! nor apostrophes part them.

/// A word longer than this, in bytes, is cut: it is no word that anybody types again.
pub const LONGEST_WORD: usize = 64;

/// How well a word fits one that is asked for, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fit {
    /// The same.
    Whole,
    /// What is asked for is its beginning, or its plural.
    Beginning,
    /// A slip or two apart.
    Near,
}

/// The plain letters, and those that are one of them with marks: the canonical decompositions of Unicode 15 for the Latin blocks up to
/// U+024F and of U+1E00 to U+1EFF. Below them letters that do not decompose, as they are commonly written without their sign (common
/// practice, no source).
const PLAIN: [(&str, &str); 35] = [
    ("a", "àáâãäåāăąǎǟǡǻȁȃȧḁạảấầẩẫậắằẳẵặ"),
    ("b", "ḃḅḇ"),
    ("c", "çćĉċčḉ"),
    ("d", "ďḋḍḏḑḓ"),
    ("e", "èéêëēĕėęěȅȇȩḕḗḙḛḝẹẻẽếềểễệ"),
    ("f", "ḟ"),
    ("g", "ĝğġģǧǵḡ"),
    ("h", "ĥȟḣḥḧḩḫẖ"),
    ("i", "ìíîïĩīĭįǐȉȋḭḯỉị"),
    ("j", "ĵǰ"),
    ("k", "ķǩḱḳḵ"),
    ("l", "ĺļľḷḹḻḽ"),
    ("m", "ḿṁṃ"),
    ("n", "ñńņňǹṅṇṉṋ"),
    ("o", "òóôõöōŏőơǒǫǭȍȏȫȭȯȱṍṏṑṓọỏốồổỗộớờởỡợ"),
    ("p", "ṕṗ"),
    ("r", "ŕŗřȑȓṙṛṝṟ"),
    ("s", "śŝşšșṡṣṥṧṩẛ"),
    ("t", "ţťțṫṭṯṱẗ"),
    ("u", "ùúûüũūŭůűųưǔǖǘǚǜȕȗṳṵṷṹṻụủứừửữự"),
    ("v", "ṽṿ"),
    ("w", "ŵẁẃẅẇẉẘ"),
    ("x", "ẋẍ"),
    ("y", "ýÿŷȳẏẙỳỵỷỹ"),
    ("z", "źżžẑẓẕ"),
    ("ae", "æǣǽ"),
    ("d", "đð"),
    ("h", "ħ"),
    ("i", "ı"),
    ("l", "ł"),
    ("o", "øǿ"),
    ("oe", "œ"),
    ("s", "ſ"),
    ("ss", "ß"),
    ("th", "þ"),
];

/// The words of a text, in order: small plain letters and figures, without marks, apostrophes or noughts in front. Whatever else
/// stands between them parts them.
#[must_use]
pub fn words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    for letter in text.chars().flat_map(char::to_lowercase) {
        if is_silent(letter) {
            continue;
        }
        if letter.is_alphanumeric() {
            fold_onto(&mut word, letter);
        } else {
            finish(&mut word, &mut words);
        }
    }
    finish(&mut word, &mut words);
    words
}

/// The words of what is asked for: the first dozen, of the first thousand letters. Nobody types more with one thumb, and what somebody
/// pastes must not keep the phone busy.
#[must_use]
pub fn asked(text: &str) -> Vec<String> {
    let end = text.char_indices().nth(1000).map_or(text.len(), |(at, _)| at);
    let mut words = words(text.get(..end).unwrap_or_default());
    words.truncate(12);
    words
}

/// How a word fits one that is asked for; both folded by [`words`].
#[must_use]
pub fn fit(wanted: &str, word: &str) -> Option<Fit> {
    if word == wanted {
        Some(Fit::Whole)
    } else if word.starts_with(wanted) || singular(wanted) == Some(word) {
        Some(Fit::Beginning)
    } else {
        is_near(wanted, word).then_some(Fit::Near)
    }
}

/// What a plural may be the plural of.
#[must_use]
pub fn singular(word: &str) -> Option<&str> {
    word.strip_suffix('s').filter(|rest| rest.len() >= 3)
}

/// How many slips part two words: letters that lack, are too many, are others, or have changed places with their neighbours.
#[must_use]
pub fn slips(one: &str, other: &str) -> usize {
    strsim::osa_distance(one, other)
}

/// The known word nearest to one that is not known, or none if all are far: the fewest slips, then the first by the alphabet.
#[must_use]
pub fn nearest<'a>(misspelt: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let reach = 1 + misspelt.chars().count() / 4;
    let near = known.filter(|word| may_be_near(misspelt, word, reach));
    let near = near.map(|word| (slips(misspelt, word), word)).filter(|(slips, _)| *slips <= reach);
    near.min().map(|(_, word)| word)
}

/// Whether two words are a slip or two apart. Short words and numbers never are: too many others are as near.
fn is_near(wanted: &str, word: &str) -> bool {
    let reach = reach(wanted.chars().count().max(word.chars().count()));
    if reach == 0 || !may_be_near(wanted, word, reach) || !wanted.chars().all(char::is_alphabetic) {
        return false;
    }
    slips(wanted, word) <= reach || begins_nearly(wanted, word)
}

/// Whether a word begins as what is typed so far, but for a slip.
fn begins_nearly(wanted: &str, word: &str) -> bool {
    const LETTERS: usize = 6;
    let letters = wanted.chars().count();
    letters >= LETTERS
        && (letters - 1..=letters + 1).any(|end| {
            let end = word.char_indices().nth(end).map(|(at, _)| at);
            end.and_then(|end| word.get(..end)).is_some_and(|beginning| slips(wanted, beginning) <= 1)
        })
}

/// Slips that are overlooked in a word of so many letters (common practice, no source).
fn reach(letters: usize) -> usize {
    match letters {
        0..5 => 0,
        5..9 => 1,
        _ => 2,
    }
}

/// A cheap look before the slips are counted: each slip brings in one letter at most that the other word has not got.
fn may_be_near(wanted: &str, word: &str, reach: usize) -> bool {
    (letters(wanted) & !letters(word)).count_ones() as usize <= reach
}

/// A bit for each letter that a word has, some letters sharing theirs.
fn letters(word: &str) -> u64 {
    word.chars().fold(0, |all, letter| all | 1 << (u32::from(letter) % 64))
}

/// Marks on letters, apostrophes and what has no width: they part no words.
fn is_silent(letter: char) -> bool {
    matches!(
        letter,
        '\'' | '’' | '‘' | 'ʼ' | '`' | '´' | '\u{ad}' | '\u{300}'..='\u{36f}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}'
    )
}

fn fold_onto(word: &mut String, letter: char) {
    if word.len() >= LONGEST_WORD {
        return;
    }
    let plain = PLAIN.iter().find(|(_, marked)| !letter.is_ascii() && marked.contains(letter));
    match plain {
        Some((plain, _)) => word.push_str(plain),
        None => word.push(letter),
    }
}

/// The fifth of a month is the fifth, with a nought in front or without.
fn finish(word: &mut String, words: &mut Vec<String>) {
    if word.bytes().all(|figure| figure.is_ascii_digit()) {
        let figures = word.trim_start_matches('0').len();
        word.drain(..word.len() - figures.max(1).min(word.len()));
    }
    if !word.is_empty() {
        words.push(std::mem::take(word));
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn words_are_small_and_plain() {
        assert_eq!(
            words("  Devil’s BOLETE, under the Roll-rim's "),
            ["devils", "bolete", "under", "the", "roll", "rims"]
        );
        assert_eq!(
            words("Gwŷdd, chêne, e\u{301}tang, Æthel, Straße"),
            ["gwydd", "chene", "etang", "aethel", "strasse"]
        );
        assert_eq!(words("2026-10-05 007 0 00"), ["2026", "10", "5", "7", "0", "0"]);
        assert_eq!(words("🍄 \" ; -- \0 *"), Vec::<String>::new());
        assert_eq!(words("אלון \u{200f}بلوط"), ["אלון", "بلوط"]);
        assert_eq!(words(&"x".repeat(1_000_000)), ["x".repeat(LONGEST_WORD)]);
    }

    #[test]
    fn of_what_is_asked_a_dozen_words_count() {
        assert_eq!(asked("a b").len(), 2);
        assert_eq!(asked(&"é ".repeat(500_000)), ["e"; 12]);
        assert_eq!(asked(&" ".repeat(1_000_000)), Vec::<String>::new());
    }

    #[test]
    fn what_is_typed_fits_whole_by_its_beginning_or_nearly() {
        for (wanted, word, how) in [
            ("cep", "cep", Some(Fit::Whole)),
            ("ceps", "cep", Some(Fit::Beginning)),
            ("fun", "funeral", Some(Fit::Beginning)),
            ("chantrelle", "chanterelle", Some(Fit::Near)),
            ("chantrel", "chanterelle", Some(Fit::Near)),
            ("flamulina", "flammulina", Some(Fit::Near)),
            ("phaloides", "phalloides", Some(Fit::Near)),
            ("shnak", "shank", Some(Fit::Near)),
            ("eldr", "elder", Some(Fit::Near)),
            ("cpe", "cep", None),
            ("bell", "ball", None),
            ("2025", "2026", None),
            ("20255", "20256", None),
            ("funeral", "velvet", None),
        ] {
            assert_eq!(fit(wanted, word), how, "{wanted}, {word}");
        }
    }

    #[test]
    fn the_nearest_of_those_known_is_offered_and_a_far_one_is_not() {
        let known = ["chanterelle", "charcoal", "parasol"];
        assert_eq!(nearest("shantarell", known.into_iter()), Some("chanterelle"));
        assert_eq!(nearest("parrasoll", known.into_iter()), Some("parasol"));
        assert_eq!(nearest("hedgehog", known.into_iter()), None);
        assert_eq!(nearest("", known.into_iter()), None);
    }

    proptest! {
        #[test]
        fn folding_again_changes_nothing(text in "\\PC{0,40}") {
            let once = words(&text);
            prop_assert_eq!(&words(&once.join(" ")), &once);
        }

        #[test]
        fn one_slip_in_five_letters_is_overlooked(word in "[a-z]{5,12}", at in 0usize..12, letter in "[a-z]", slip in 0..4) {
            let mut letters: Vec<char> = word.chars().collect();
            let at = at % letters.len();
            let other = letter.chars().next().unwrap();
            match slip {
                0 => letters[at] = other,
                1 => {
                    letters.remove(at);
                }
                2 => letters.insert(at, other),
                _ => {
                    let next = (at + 1) % letters.len();
                    letters.swap(at, next);
                }
            }
            let wrong: String = letters.into_iter().collect();
            if slips(&wrong, &word) <= 1 {
                prop_assert!(fit(&wrong, &word).is_some(), "{wrong}, {word}");
            }
        }

        /// The cheap look never keeps out what the slips would let in.
        #[test]
        fn the_cheap_look_is_only_cheap(one in "[a-f]{4,9}", other in "[a-f]{4,9}", reach in 1usize..3) {
            if slips(&one, &other) <= reach {
                prop_assert!(may_be_near(&one, &other, reach));
            }
        }
    }
}
