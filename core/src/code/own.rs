//! Rules of the owner's own, as somebody asks for them: the limit, the words and the name follow from what was filled in.

use super::limit::{
    CountLimit, KeepLimit, Limit, LimitKind, Measure, Over, Per, PresentLimit, RestLimit, Round, ShareLimit,
    SizeLimit, WeightLimit,
};
use super::model::Rule;
use super::named::{Names, TaxonName};
use super::values::Share;
use crate::find::FieldError;
use crate::pack::{Named, Pack, capital};
use crate::units::{Grams, Millimetres};

/// The kinds that an owner is asked for; any other limit is written as the files of codes have it.
pub const OWN_KINDS: [LimitKind; 8] = [
    LimitKind::Present,
    LimitKind::Keep,
    LimitKind::Share,
    LimitKind::Count,
    LimitKind::Weight,
    LimitKind::Size,
    LimitKind::Rest,
    LimitKind::Protected,
];

/// What was filled in for a rule of one's own. What its kind has no use for is left alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnRule {
    /// One of [`OWN_KINDS`].
    pub kind: LimitKind,
    /// How many, or for a share `1/2`; a size in millimetres across, a weight in grams, a rest in days. As typed.
    pub number: String,
    /// Over which time takings are added up.
    pub per: Per,
    /// And over what.
    pub over: Over,
    /// An id or a name of the pack, where the rule is on one fungus.
    pub fungus: Option<String>,
}

impl OwnRule {
    /// The rule that this asks for. The same again gives the same id.
    ///
    /// # Errors
    /// [`FieldError`] names what is wrong: `number`, `kind`, or `fungus` where there has to be one and the pack knows none.
    pub fn rule(&self, pack: &Pack) -> Result<Rule, FieldError> {
        let fungus = match self.fungus.as_deref().map(str::trim).filter(|name| !name.is_empty()) {
            Some(name) => Some(pack.named(name).ok_or_else(|| unknown(name))?),
            None if self.kind == LimitKind::Protected => {
                return wrong("fungus", "say which fungus is never to be taken");
            }
            None => None,
        };
        let limit = self.limit()?;
        let plain = limit.in_words().unwrap_or_default();
        let words = fungus
            .as_ref()
            .map_or(plain.clone(), |of| format!("{}: {}", capital(&of.english), lower(&plain)));
        Ok(Rule {
            id: id(&words),
            stands_in: None,
            words,
            names: fungus.map_or_else(Names::default, names),
            limit,
            mark: None,
            note: None,
        })
    }

    fn limit(&self) -> Result<Limit, FieldError> {
        let Self { per, over, .. } = *self;
        Ok(match self.kind {
            LimitKind::Present => Limit::Present(PresentLimit { least: self.whole(2, 9999)? }),
            LimitKind::Keep => Limit::Keep(KeepLimit { least: self.whole(1, 9999)? }),
            LimitKind::Share => Limit::Share(ShareLimit { most: self.share()?, round: Round::default() }),
            LimitKind::Count => Limit::Count(CountLimit { most: self.whole(1, 9999)?, per, over }),
            LimitKind::Weight => {
                let grams = Grams::new(self.decimal(1.0, 100_000.0)?).map_err(|_| not_a_number())?;
                Limit::Weight(WeightLimit { grams, per, single: None, clump: false })
            }
            LimitKind::Size => {
                let least = Millimetres::new(self.decimal(1.0, 2000.0)?).map_err(|_| not_a_number())?;
                Limit::Size(SizeLimit { least, of: Measure::Width })
            }
            LimitKind::Rest => {
                let days = u16::try_from(self.whole(1, 3650)?).map_err(|_| not_a_number())?;
                Limit::Rest(RestLimit { days })
            }
            LimitKind::Protected => Limit::Protected,
            _ => return wrong("kind", "choose one that is offered"),
        })
    }

    fn share(&self) -> Result<Share, FieldError> {
        self.number.parse().map_err(|_| not_a_number())
    }

    fn whole(&self, least: u32, most: u32) -> Result<u32, FieldError> {
        let number = self.number.trim().parse().map_err(|_| not_a_number())?;
        if (least..=most).contains(&number) { Ok(number) } else { Err(out_of(least.into(), most.into())) }
    }

    /// With a point or a comma, whichever the keyboard has.
    fn decimal(&self, least: f64, most: f64) -> Result<f64, FieldError> {
        let number: f64 = self.number.trim().replace(',', ".").parse().map_err(|_| not_a_number())?;
        if (least..=most).contains(&number) { Ok(number) } else { Err(out_of(least, most)) }
    }
}

impl Limit {
    /// What it asks, in a sentence; `None` for a kind that [`OWN_KINDS`] lacks, whose words its code gives.
    #[must_use]
    pub fn in_words(&self) -> Option<String> {
        Some(match self {
            Self::Present(limit) => format!("None where fewer than {} are present.", limit.least),
            Self::Keep(limit) if limit.least == 1 => "At least one stays.".into(),
            Self::Keep(limit) => format!("At least {} stay.", limit.least),
            Self::Share(limit) => format!("At most {} of those present.", limit.most.in_words()),
            Self::Count(limit) => format!("No more than {} {} a {}.", limit.most, of(limit.over), limit.per),
            Self::Weight(limit) => format!("No more than {} g a {}.", limit.grams.get(), limit.per),
            Self::Size(limit) => {
                let measured = if limit.of == Measure::Height { "in height" } else { "across" };
                format!("None below {} mm {measured}.", limit.least.get())
            }
            Self::Rest(limit) if limit.days == 1 => "A patch rests a day after a taking.".into(),
            Self::Rest(limit) => format!("A patch rests {} days after a taking.", limit.days),
            Self::Protected => "Never taken.".into(),
            _ => return None,
        })
    }
}

fn of(over: Over) -> &'static str {
    match over {
        Over::Person => "in all",
        Over::Species => "of one species",
        Over::Patch => "from one patch",
    }
}

fn names(of: Named) -> Names {
    Names { called: Some(of.english), any: vec![TaxonName::Id(of.id)], ..Names::default() }
}

/// A sentence as it goes on after a colon.
fn lower(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The words, as an id writes them.
fn id(words: &str) -> String {
    let letters = words.to_lowercase();
    let parts = letters.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-")
}

fn wrong<T>(field: &'static str, why: &str) -> Result<T, FieldError> {
    Err(FieldError { field, why: why.to_owned() })
}

fn not_a_number() -> FieldError {
    FieldError { field: "number", why: "give a number".to_owned() }
}

fn out_of(least: f64, most: f64) -> FieldError {
    FieldError { field: "number", why: format!("give a number from {least} to {most}") }
}

fn unknown(name: &str) -> FieldError {
    FieldError { field: "fungus", why: format!("Trug does not know {name:?}: choose a name that is offered") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(kind: LimitKind, number: &str, fungus: Option<&str>) -> OwnRule {
        let fungus = fungus.map(str::to_owned);
        OwnRule { kind, number: number.into(), per: Per::Day, over: Over::Patch, fungus }
    }

    fn rule(kind: LimitKind, number: &str, fungus: Option<&str>) -> Result<Rule, FieldError> {
        asked(kind, number, fungus).rule(Pack::britain().unwrap())
    }

    #[test]
    fn each_kind_becomes_a_rule_in_words_that_reads_back() {
        let bell = Some("velvet-shank");
        let cases = [
            (LimitKind::Present, "6", None, "None where fewer than 6 are present."),
            (LimitKind::Keep, "3", None, "At least 3 stay."),
            (LimitKind::Keep, "1", None, "At least one stays."),
            (LimitKind::Share, "1/3", None, "At most a third of those present."),
            (LimitKind::Count, "5", None, "No more than 5 from one patch a day."),
            (LimitKind::Weight, "750,5", None, "No more than 750.5 g a day."),
            (LimitKind::Size, "25", bell, "Velvet shank: none below 25 mm across."),
            (LimitKind::Rest, "14", None, "A patch rests 14 days after a taking."),
            (LimitKind::Protected, "", bell, "Velvet shank: never taken."),
        ];
        for (kind, number, fungus, words) in cases {
            let rule = rule(kind, number, fungus).unwrap();
            assert_eq!(rule.words, words);
            assert_eq!(rule.limit.kind(), kind);
            assert_eq!(Rule::from_json(&serde_json::to_value(&rule).unwrap()).unwrap(), rule, "{words}");
        }
        assert!(OWN_KINDS.iter().all(|kind| cases.iter().any(|case| case.0 == *kind)));
    }

    #[test]
    fn the_same_rule_again_goes_by_the_same_name_and_another_by_another() {
        let id = |number: &str, fungus| rule(LimitKind::Size, number, fungus).unwrap().id;
        assert_eq!(id("25", None), "none-below-25-mm-across");
        assert_eq!(id("25", None), id(" 25 ", None));
        assert_ne!(id("25", None), id("30", None));
        assert_ne!(id("25", None), id("25", Some("velvet-shank")));
    }

    #[test]
    fn what_makes_no_sense_is_refused_with_its_field() {
        for number in ["", "many", "0", "-3", "1.5", "99999999999"] {
            assert_eq!(rule(LimitKind::Keep, number, None).unwrap_err().field, "number", "{number}");
        }
        for number in ["0", "nan", "inf", "1e9", ""] {
            assert_eq!(rule(LimitKind::Weight, number, None).unwrap_err().field, "number", "{number}");
        }
        assert_eq!(rule(LimitKind::Share, "3/2", None).unwrap_err().field, "number");
        assert_eq!(rule(LimitKind::Protected, "", None).unwrap_err().field, "fungus");
        assert_eq!(rule(LimitKind::Keep, "1", Some("the beech by the gate")).unwrap_err().field, "fungus");
        assert_eq!(rule(LimitKind::Advice, "1", None).unwrap_err().field, "kind");
    }
}
