//! Advice and condition, as a find's page shows them.

use trug::allowance::{Advice, Answer, Check, Reason, Told, told};
use trug::condition::Judgement;

/// What the answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum Kind {
    /// Leave them.
    Leave,
    /// Ask somebody first; the figures are as if they said yes.
    AskFirst,
    /// No more than so many. About the patch, never about eating.
    NoMoreThan,
}

/// What may be taken of what stands there, and why.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct AdviceShown {
    /// What the answer is.
    pub kind: Kind,
    /// The answer alone, short enough to stay in view.
    pub brief: String,
    /// The whole in a line or two.
    pub first_line: String,
    /// How many more may be taken; 0 if they are to be left.
    pub up_to: u32,
    /// How many then stay; none if nobody counted.
    pub leave: Option<u32>,
    /// How many may be taken for study, apart from food: 0 or 1.
    pub specimen: u32,
    /// Grams that may still be taken, if a weight is limited.
    pub grams_left: Option<f64>,
    /// The day from which the answer may be another: 2026-10-21.
    pub look_again: Option<String>,
    /// What decided, then what is not known, then what holds as well.
    pub reasons: Vec<ReasonShown>,
    /// Conduct to mind.
    pub conduct: Vec<ReasonShown>,
    /// What was judged and leaves the answer as it is.
    pub idle: Vec<ReasonShown>,
    /// What to look for on every fruitbody that is cut, the deadly first. Empty for what is left anyway.
    pub checks: Vec<CheckShown>,
    /// How old they are decides, and nobody has seen it: signs would tell.
    pub lacks_stage: bool,
}

/// Why a reason is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum Weight {
    /// It decided.
    Why,
    /// It could not be judged.
    NotKnown,
    /// It holds as well.
    Further,
    /// It is to be minded.
    Conduct,
    /// It leaves the answer as it is.
    Idle,
}

/// One rule's verdict.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct ReasonShown {
    /// Why it is told.
    pub weight: Weight,
    /// In plain words, with the numbers that went in.
    pub words: String,
    /// Short title of the code; empty for what holds under every code.
    pub title: String,
    /// Where the code's text stands.
    pub source: String,
    /// Id of the code.
    pub code: String,
    /// Id of the rule within it.
    pub clause: String,
    /// What would have to be known: name, count, stage, width, host, land …
    pub missing: Vec<String>,
    /// The numbers that went in.
    pub numbers: Vec<Number>,
}

/// A number by its name: present, taken, most, `left_grams`, `least_mm` …
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Number {
    /// What it is.
    pub name: String,
    /// How much; the name says of what.
    pub value: f64,
}

/// A dangerous look-alike, to be looked for on every fruitbody that is cut.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CheckShown {
    /// What to call it in a sentence.
    pub name: String,
    /// Whether it has killed.
    pub deadly: bool,
    /// What to look at.
    pub look_at: Vec<String>,
    /// What parts the two, in words.
    pub apart: String,
}

impl From<&Check> for CheckShown {
    fn from(check: &Check) -> Self {
        Self {
            name: check.name.clone(),
            deadly: check.deadly,
            look_at: check.look_at.clone(),
            apart: check.apart.clone(),
        }
    }
}

impl ReasonShown {
    /// A reason, told for this.
    pub(crate) fn of(weight: Weight, reason: &Reason) -> Self {
        let number = |(name, value): (&String, &f64)| Number { name: name.clone(), value: *value };
        Self {
            weight,
            words: reason.text.clone(),
            title: reason.title.clone(),
            source: reason.source.clone(),
            code: reason.code.clone(),
            clause: reason.clause.clone(),
            missing: reason.missing.iter().map(|it| it.word().to_owned()).collect(),
            numbers: reason.numbers.iter().map(number).collect(),
        }
    }

    fn all(weight: Weight, reasons: &[&Reason]) -> Vec<Self> {
        reasons.iter().map(|reason| Self::of(weight, reason)).collect()
    }
}

impl From<&Advice> for AdviceShown {
    fn from(advice: &Advice) -> Self {
        let Told { why, not_known, further, conduct, idle, lacks_stage } = told(advice);
        let mut reasons = ReasonShown::all(Weight::Why, &why);
        reasons.extend(ReasonShown::all(Weight::NotKnown, &not_known));
        reasons.extend(ReasonShown::all(Weight::Further, &further));
        let (kind, checks) = match advice.answer {
            Answer::Leave => (Kind::Leave, &[][..]),
            Answer::AskFirst => (Kind::AskFirst, advice.checks.as_slice()),
            Answer::NoMoreThan => (Kind::NoMoreThan, advice.checks.as_slice()),
        };
        Self {
            kind,
            // What was kept by an earlier version has none.
            brief: if advice.brief.is_empty() { advice.headline.clone() } else { advice.brief.clone() },
            first_line: advice.headline.clone(),
            up_to: advice.up_to,
            leave: advice.leave,
            specimen: advice.specimen,
            grams_left: advice.grams_left.map(trug::units::Grams::get),
            look_again: advice.look_again.map(|day| day.to_string()),
            reasons,
            conduct: ReasonShown::all(Weight::Conduct, &conduct),
            idle: ReasonShown::all(Weight::Idle, &idle),
            checks: checks.iter().map(CheckShown::from).collect(),
            lacks_stage,
        }
    }
}

/// In what condition they are.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct ConditionShown {
    /// Their stage: button, young, prime, past; none if it cannot be told or they are mixed.
    pub stage: Option<String>,
    /// The field that counts for its size: width or height.
    pub measure: String,
    /// The size that it is taken from, in millimetres, if one is known.
    pub taken_from_mm: Option<f64>,
    /// The judgement in a sentence or two.
    pub words: String,
    /// What else to know: what is missing, what to look for.
    pub notes: Vec<String>,
}

impl From<&Judgement> for ConditionShown {
    fn from(judgement: &Judgement) -> Self {
        Self {
            stage: judgement.stage.map(|stage| stage.word().to_owned()),
            measure: judgement.size.measure.field().to_owned(),
            taken_from_mm: judgement.size.taken_from,
            words: judgement.text.clone(),
            notes: judgement.notes.clone(),
        }
    }
}
