//! What a pack knows, put into words.

use super::model::{
    Cell, Character, CharacterIndex, Effort, Frequency, Kind, Pack, Seen, Standing, StatesCell, TaxonIndex,
};
use super::signs::Handling;

impl Pack {
    /// What a taxon shows in a character: `white / cream; sometimes yellow; rarely pink`.
    ///
    /// `None` if nothing is known, or the character does not apply.
    #[must_use]
    pub fn in_words(&self, taxon: TaxonIndex, character: CharacterIndex) -> Option<String> {
        let looked_at = self.character(character)?;
        let cell = match self.cell(taxon, character) {
            Cell::States(cell) => cell,
            Cell::Number(range, _) => return Some(format!("{range} mm")),
            Cell::Months(range, _) if range.low == range.high => {
                return Some(month_name(range.low).to_owned());
            }
            Cell::Months(range, _) => {
                return Some(format!("{} to {}", month_name(range.low), month_name(range.high)));
            }
            Cell::NotApplicable | Cell::Unknown => return None,
        };
        let levels =
            [(Frequency::Usual, ""), (Frequency::Sometimes, "sometimes "), (Frequency::Rare, "rarely ")];
        let told = levels.map(|(frequency, adverb)| (adverb, labels(looked_at, cell, frequency)));
        let told = told
            .iter()
            .filter(|(_, labels)| !labels.is_empty())
            .map(|(adverb, labels)| format!("{adverb}{labels}"));
        Some(told.collect::<Vec<_>>().join("; "))
    }

    /// What a taxon usually shows: `white / cream`.
    #[must_use]
    pub fn usual_in_words(&self, taxon: TaxonIndex, character: CharacterIndex) -> Option<String> {
        match self.cell(taxon, character) {
            Cell::States(cell) => Some(labels(self.character(character)?, cell, Frequency::Usual)),
            _ => self.in_words(taxon, character),
        }
    }
}

/// The states of one frequency. Labels hold commas and an `or` of their own, so that strokes part them.
fn labels(character: &Character, cell: &StatesCell, frequency: Frequency) -> String {
    let seen = |seen: &Option<Seen>| seen.as_ref().is_some_and(|seen| seen.frequency == frequency);
    let labels = character
        .states
        .iter()
        .zip(&cell.states)
        .filter(|(_, cell)| seen(cell))
        .map(|(state, _)| state.label.as_str());
    labels.collect::<Vec<_>>().join(" / ")
}

/// A month by its number, 1 to 12.
pub(crate) fn month_name(number: u8) -> &'static str {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    MONTHS.get(usize::from(number).wrapping_sub(1)).copied().unwrap_or_default()
}

/// A name or label inside a sentence. A saint keeps the capital.
#[must_use]
pub fn in_a_sentence(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next().filter(|_| !text.starts_with("St ")) {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => text.to_owned(),
    }
}

/// A name or label at the beginning of a sentence.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

impl Effort {
    /// All, the cheapest first.
    pub const ALL: [Self; 8] = [
        Self::Glance,
        Self::TurnOver,
        Self::Smell,
        Self::Cut,
        Self::DigOut,
        Self::Lens,
        Self::SporePrint,
        Self::Microscope,
    ];

    /// What to do, as an instruction.
    #[must_use]
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Glance => "At a glance",
            Self::TurnOver => "Turn it over",
            Self::Smell => "Smell it",
            Self::Cut => "Cut or break it",
            Self::DigOut => "Dig out the whole base",
            Self::Lens => "With a lens",
            Self::SporePrint => "Leave it for a spore print, overnight",
            Self::Microscope => "With a microscope",
        }
    }
}

impl Standing {
    /// The word as packs write it.
    #[must_use]
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Food => "food",
            Self::Inedible => "inedible",
            Self::Harmful => "harmful",
            Self::Deadly => "deadly",
        }
    }
}

impl Handling {
    /// The word as packs write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Glance => "glance",
            Self::TurnOver => "turn over",
            Self::Touch => "touch",
            Self::Smell => "smell",
            Self::Cut => "cut",
        }
    }
}

impl Kind {
    /// What to write down, where no states are given to tick.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::States => "",
            Self::Millimetres => "mm",
            Self::Month => "month",
        }
    }
}
