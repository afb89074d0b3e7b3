//! A code and its rules.

use serde::{Deserialize, Serialize};

use super::limit::Limit;
use super::named::Names;
use super::values::PartialDate;
use crate::words::words;

/// A set of rules from one source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Code {
    /// What it is.
    #[serde(rename = "code")]
    pub about: About,
    /// Its rules.
    #[serde(rename = "rule")]
    pub rules: Vec<Rule>,
}

/// What a code is, where it holds, and who says so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    /// Stable id, in lower-case words joined by hyphens.
    pub id: String,
    /// Its full title.
    pub title: String,
    /// A short title, as it stands behind a reason: `Pickers' code, 1998`.
    pub short: String,
    /// Where it holds, in words.
    pub holds_in: String,
    /// What weight it has.
    pub kind: Kind,
    /// When it is in force.
    pub in_force: Force,
    /// Where its text stands.
    pub source: String,
    /// Date of the text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text_of: Option<PartialDate>,
    /// When what was read of the text, there or quoted elsewhere, was last looked at; without it, never.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<PartialDate>,
    /// How its rules were come by, unless a rule says otherwise.
    pub mark: Mark,
    /// Whether it may have changed, or be ruled otherwise on the spot.
    #[serde(default)]
    pub check_locally: bool,
    /// A remark to show with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// One rule of a code.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its id within the code: the clause that reasons cite.
    pub id: String,
    /// Where it stands in the text: `Art. 2(3)`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stands_in: Option<String>,
    /// What it asks, in plain words.
    pub words: String,
    /// Which fungi it speaks of; all, unless it says so.
    #[serde(default, rename = "for", skip_serializing_if = "Names::is_everything")]
    pub names: Names,
    /// What it limits.
    pub limit: Limit,
    /// How it was come by, if not as the rest of its code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mark: Option<Mark>,
    /// A remark to show with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

words!(
    /// What weight a code has.
    Kind, "kind of code", {
        /// A law.
        Law = "law",
        /// A byelaw, or the rule of a reserve.
        Byelaw = "byelaw",
        /// A code of conduct.
        Conduct = "code-of-conduct",
        /// Advice of an authority.
        Guidance = "guidance",
        /// Common practice, without a source.
        Practice = "practice",
        /// The owner's own.
        Own = "own-rule",
    }
);

words!(
    /// When a code is in force.
    Force, "force", {
        /// Whatever else is chosen.
        Always = "always",
        /// Until others are chosen.
        UntilOthersAreChosen = "until-others-are-chosen",
        /// Only if it is chosen.
        IfChosen = "if-chosen",
    }
);

words!(
    /// How a statement was come by.
    Mark, "mark", {
        /// Read in the source that is named.
        Read = "read",
        /// From memory: to be checked.
        Memory = "from-memory",
        /// Common practice, no source.
        Practice = "common-practice",
        /// The owner's own.
        Own = "own",
    }
);

impl Code {
    /// A rule by its id.
    #[must_use]
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|rule| rule.id == id)
    }

    /// The owner's own rules as a code, so that they are judged like any other.
    #[must_use]
    pub fn own(rules: Vec<Rule>) -> Self {
        let about = About {
            id: "house".into(),
            title: "Your own rules".into(),
            short: "your own rule".into(),
            holds_in: "wherever you gather".into(),
            kind: Kind::Own,
            in_force: Force::Always,
            source: "you".into(),
            text_of: None,
            seen: None,
            mark: Mark::Own,
            check_locally: false,
            note: None,
        };
        Self { about, rules }
    }

    /// How a rule of this code was come by.
    #[must_use]
    pub fn mark_of(&self, rule: &Rule) -> Mark {
        rule.mark.unwrap_or(self.about.mark)
    }
}
