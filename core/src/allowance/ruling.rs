//! What one rule says, and how it comes back as a reason.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::code::{Code, Mark, Rule};
use crate::words::words;

/// What became of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Verdict {
    /// It speaks against taking, limits how much, or asks for something to be heeded.
    #[serde(rename = "holds")]
    Holds,
    /// Something is missing; see [`Reason::missing`].
    #[serde(rename = "cannot be judged")]
    CannotBeJudged,
    /// It was judged, and leaves the answer as it is.
    #[serde(rename = "does not hold")]
    DoesNotHold,
}

words!(
    /// What a rule would have to know.
    Missing, "missing fact", {
        /// What it is.
        Name = "name",
        /// How many there are.
        Count = "count",
        /// How old they are.
        Stage = "stage",
        /// How many there are of each stage.
        Stages = "stages",
        /// How wide they are.
        Width = "width",
        /// How high they are.
        Height = "height",
        /// The tree.
        Host = "host",
        /// Whose land it is.
        Land = "land",
        /// Where it is.
        Place = "place",
        /// How much was taken already.
        Taken = "taken",
        /// What was taken weighs.
        Grams = "grams",
        /// What was taken measures in litres.
        Litres = "litres",
        /// How seldom it is met.
        Abundance = "abundance",
        /// A version that can read the rule.
        NewerVersion = "newer-version",
    }
);

/// A rule's verdict, with everything that one needs to argue with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reason {
    /// Id of the code; `trug` for what holds under every code.
    pub code: String,
    /// Id of the rule within it.
    pub clause: String,
    /// What became of it.
    pub verdict: Verdict,
    /// Whether it decided the answer, by itself or with others.
    pub decides: bool,
    /// What would have to be known.
    pub missing: Vec<Missing>,
    /// In plain words, with the numbers that went in.
    pub text: String,
    /// Short title of the code.
    pub title: String,
    /// Where the code's text stands.
    pub source: String,
    /// How the rule was come by.
    pub mark: Mark,
    /// The numbers that went in, by name.
    pub numbers: BTreeMap<String, f64>,
}

/// How a ruling bears on the answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Effect {
    /// Not at all.
    Nothing,
    /// None may be taken.
    Leave,
    /// At most so many more.
    AtMost(u32),
    /// At most so many grams more.
    Grams(f64),
    /// Somebody must be asked first.
    Ask,
}

/// What leads the answer, the weightiest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Head {
    Protected,
    Danger,
    ClosedArea,
    Closed,
    NotSettled,
    Inedible,
    Unfit,
    Rare,
    Resting,
    NotCounted,
    NoStage,
    TooYoung,
    TooSmall,
    Past,
    NotMeasured,
    UsedUp,
    TooFew,
    Share,
    Other,
}

/// What one rule says of one case.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ruling {
    pub verdict: Verdict,
    pub effect: Effect,
    pub missing: Vec<Missing>,
    /// The reason in full.
    pub text: String,
    /// What to say first, if this decides.
    pub head: (Head, String),
    pub numbers: Vec<(&'static str, f64)>,
    /// Which of them alone may be taken: `only those of 20 mm and more`.
    pub only: Option<String>,
    /// Whether not even a specimen may be taken.
    pub bars_specimen: bool,
    /// The day from which the answer may be another.
    pub again: Option<Date>,
}

impl Ruling {
    fn new(verdict: Verdict, text: impl Into<String>) -> Self {
        Self {
            verdict,
            effect: Effect::Nothing,
            missing: Vec::new(),
            text: text.into(),
            head: (Head::Other, String::new()),
            numbers: Vec::new(),
            only: None,
            bars_specimen: false,
            again: None,
        }
    }

    pub fn holds(text: impl Into<String>) -> Self {
        Self::new(Verdict::Holds, text)
    }

    pub fn not(text: impl Into<String>) -> Self {
        Self::new(Verdict::DoesNotHold, text)
    }

    pub fn unknown(missing: Missing, text: impl Into<String>) -> Self {
        Self { missing: vec![missing], ..Self::new(Verdict::CannotBeJudged, text) }
    }

    pub fn effect(self, effect: Effect) -> Self {
        Self { effect, ..self }
    }

    /// None may be taken, and this is how the answer begins if nothing weightier does.
    pub fn leave(self, head: Head, first: impl Into<String>) -> Self {
        Self { effect: Effect::Leave, head: (head, first.into()), ..self }
    }

    pub fn head(self, head: Head, first: impl Into<String>) -> Self {
        Self { head: (head, first.into()), ..self }
    }

    pub fn number(mut self, name: &'static str, value: impl Into<f64>) -> Self {
        self.numbers.push((name, value.into()));
        self
    }

    pub fn only(self, which: String) -> Self {
        Self { only: Some(which), ..self }
    }

    pub fn and_no_specimen(self) -> Self {
        Self { bars_specimen: true, ..self }
    }

    pub fn again(self, day: Option<Date>) -> Self {
        Self { again: day, ..self }
    }
}

/// A ruling and whose it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Finding {
    pub code: String,
    pub clause: String,
    title: String,
    source: String,
    mark: Mark,
    pub ruling: Ruling,
}

impl Finding {
    pub fn of(code: &Code, rule: &Rule, ruling: Ruling) -> Self {
        Self {
            code: code.about.id.clone(),
            clause: rule.id.clone(),
            title: code.about.short.clone(),
            source: code.about.source.clone(),
            mark: code.mark_of(rule),
            ruling,
        }
    }

    /// What holds under every code.
    pub fn always(clause: &str, ruling: Ruling) -> Self {
        Self {
            code: "trug".into(),
            clause: clause.into(),
            title: String::new(),
            source: "Common practice, no source.".into(),
            mark: Mark::Practice,
            ruling,
        }
    }

    /// The short title of its code, in brackets.
    pub fn cited(&self) -> String {
        if self.title.is_empty() { String::new() } else { format!(" ({})", self.title) }
    }

    pub fn into_reason(self, decides: bool) -> Reason {
        let numbers = self.ruling.numbers.into_iter().map(|(name, value)| (name.to_owned(), value));
        Reason {
            code: self.code,
            clause: self.clause,
            verdict: self.ruling.verdict,
            decides,
            missing: self.ruling.missing,
            text: self.ruling.text,
            title: self.title,
            source: self.source,
            mark: self.mark,
            numbers: numbers.collect(),
        }
    }
}
