//! Rules of the owner's own: what they say, and the form that asks for one more.

use trug::code::{LimitKind, OWN_KINDS, Over, OwnRule, Per, Share};
use trug::notebook::HouseRuleRecord;

use crate::{Book, TrugError};

/// The owner's own rules, and what the form for one more offers.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HousePage {
    /// The rules, oldest first.
    pub rules: Vec<HouseRuleShown>,
    /// The kinds to choose from.
    pub kinds: Vec<String>,
    /// The shares to choose from.
    pub shares: Vec<ShareOffered>,
    /// The times over which takings are added up.
    pub per: Vec<String>,
    /// And over what.
    pub over: Vec<String>,
}

/// A rule as its owner knows it.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HouseRuleShown {
    /// Its id.
    pub id: String,
    /// What it says; its name where only a newer version can read it.
    pub words: String,
    /// Whether this version can read it. One that it cannot read is never judged by half: advice says so.
    pub readable: bool,
}

/// A share of those present.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct ShareOffered {
    /// As it is to be handed back: `1/2`.
    pub number: String,
    /// As people say it: half.
    pub words: String,
}

/// What was filled in for a rule. What its kind has no use for may be anything.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct RuleAsked {
    /// One of [`HousePage::kinds`].
    pub kind: String,
    /// The number as typed: how many, millimetres across, grams, days, or one of [`HousePage::shares`].
    pub number: String,
    /// One of [`HousePage::per`].
    pub per: String,
    /// One of [`HousePage::over`].
    pub over: String,
    /// Id of the one fungus that it is on.
    pub fungus: Option<String>,
}

/// The parts of a whole that are offered (common practice, no source).
const SHARES: [(u32, u32); 4] = [(1, 2), (1, 3), (1, 4), (1, 10)];

impl From<&HouseRuleRecord> for HouseRuleShown {
    fn from(record: &HouseRuleRecord) -> Self {
        let rule = record.rule();
        Self {
            id: record.id.to_string(),
            readable: rule.is_some(),
            words: rule.map_or_else(|| record.name(), |rule| rule.words),
        }
    }
}

#[uniffi::export]
impl Book {
    /// The owner's own rules.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn house(&self) -> Result<HousePage, TrugError> {
        let shares = SHARES.iter().filter_map(|(part, of)| Share::new(*part, *of));
        Ok(HousePage {
            rules: self.notebook.house_rules()?.iter().map(HouseRuleShown::from).collect(),
            kinds: OWN_KINDS.iter().map(|kind| kind.word().to_owned()).collect(),
            shares: shares
                .map(|share| ShareOffered { number: share.to_string(), words: share.in_words() })
                .collect(),
            per: Per::ALL.iter().map(|per| per.word().to_owned()).collect(),
            over: Over::ALL.iter().map(|over| over.word().to_owned()).collect(),
        })
    }

    /// Keeps one rule more. It can only ever allow less.
    ///
    /// # Errors
    /// `field` for what was filled in wrongly, or where the same rule is there already; then nothing is kept.
    pub fn add_house_rule(&self, asked: RuleAsked) -> Result<HousePage, TrugError> {
        let wanted = OwnRule {
            kind: asked.kind.parse::<LimitKind>()?,
            number: asked.number,
            per: asked.per.parse::<Per>()?,
            over: asked.over.parse::<Over>()?,
            fungus: asked.fungus,
        };
        self.notebook.add_house_rule(&wanted.rule(self.pack)?)?;
        self.house()
    }

    /// Takes a rule back.
    ///
    /// # Errors
    /// `not-found`.
    pub fn remove_house_rule(&self, id: String) -> Result<HousePage, TrugError> {
        self.notebook.remove_house_rule(&id)?;
        self.house()
    }
}
