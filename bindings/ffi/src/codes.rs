//! Codes of gathering: which there are, where they hold, and under which of them this notebook gathers.

use trug::code::{self, Code, Force, Mark};

use crate::{Book, TrugError};

/// Every code that comes with Trug.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CodesPage {
    /// Whether its owner has chosen; until then those hold that are meant for that case.
    pub chosen: bool,
    /// All of them, in the order in which they are to be shown.
    pub codes: Vec<CodeShown>,
}

/// One code.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CodeShown {
    /// Its id.
    pub id: String,
    /// Its full title.
    pub title: String,
    /// Where it holds, in words: codes tell their region no otherwise.
    pub holds_in: String,
    /// What weight it has: law, byelaw, code-of-conduct, guidance, practice.
    pub kind: String,
    /// Whether it is in force for this notebook.
    pub in_force: bool,
    /// Whether it is in force whatever is chosen.
    pub always: bool,
    /// Where its text stands.
    pub source: String,
    /// Date of the text, as far as it is known: 1998-09-03, 1998-09 or 1998.
    pub text_of: Option<String>,
    /// When what was read of the text was last looked at; none if never.
    pub seen: Option<String>,
    /// Whether it may have changed, or be ruled otherwise on the spot.
    pub check_locally: bool,
    /// A remark.
    pub note: Option<String>,
    /// Its rules.
    pub rules: Vec<CodeRule>,
}

/// One rule of a code.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CodeRule {
    /// What it asks.
    pub words: String,
    /// Where it stands in the text.
    pub stands_in: Option<String>,
    /// Whether it was written down from memory and waits to be checked.
    pub from_memory: bool,
    /// A remark.
    pub note: Option<String>,
}

impl CodeShown {
    fn new(code: &Code, in_force: bool) -> Self {
        let about = &code.about;
        let rule = |rule: &code::Rule| CodeRule {
            words: rule.words.clone(),
            stands_in: rule.stands_in.clone(),
            from_memory: code.mark_of(rule) == Mark::Memory,
            note: rule.note.clone(),
        };
        Self {
            id: about.id.clone(),
            title: about.title.clone(),
            holds_in: about.holds_in.clone(),
            kind: about.kind.word().to_owned(),
            in_force,
            always: about.in_force == Force::Always,
            source: about.source.clone(),
            text_of: about.text_of.map(|date| date.to_string()),
            seen: about.seen.map(|date| date.to_string()),
            check_locally: about.check_locally,
            note: about.note.clone(),
            rules: code.rules.iter().map(rule).collect(),
        }
    }
}

#[uniffi::export]
impl Book {
    /// Every code, and which are in force.
    ///
    /// # Errors
    /// `code-unknown` where a code was chosen that this version does not have.
    pub fn codes(&self) -> Result<CodesPage, TrugError> {
        let codes = code::shipped()?;
        let chosen = self.notebook.chosen_codes()?;
        let in_force = code::choose(codes, chosen.as_deref())?;
        let holds = |code: &Code| in_force.iter().any(|other| other.about.id == code.about.id);
        Ok(CodesPage {
            chosen: chosen.is_some(),
            codes: codes.iter().map(|code| CodeShown::new(code, holds(code))).collect(),
        })
    }

    /// From now on one code holds besides, or no longer does.
    ///
    /// # Errors
    /// `code-unknown`.
    pub fn gather_under(&self, code: String, holds: bool) -> Result<CodesPage, TrugError> {
        self.notebook.gather_under(&code, holds)?;
        self.codes()
    }

    /// From now on those codes hold that are meant for whoever has not chosen.
    ///
    /// # Errors
    /// None in practice.
    pub fn gather_as_at_first(&self) -> Result<CodesPage, TrugError> {
        self.notebook.choose_codes(None)?;
        self.codes()
    }
}
