//! House rules: the owner's own limits, in the form of any code's.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::act::Edit;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::change::DELETED;
use crate::code::{Code, Rule};
use crate::error::Error;
use crate::find::FieldError;
use crate::id::RuleId;
use crate::store::Record;

/// A house rule as its record holds it: as JSON, so that one of a later version is kept to the letter.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct HouseRule {
    /// The rule; see [`Rule::from_json`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule: Option<Value>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// A house rule as kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HouseRuleRecord {
    /// Its id.
    pub id: RuleId,
    /// What it says.
    #[serde(flatten)]
    pub rule: Kept<HouseRule>,
}

impl From<&Record> for HouseRuleRecord {
    fn from(record: &Record) -> Self {
        Self { id: record.id.into(), rule: Kept::from(record) }
    }
}

impl HouseRuleRecord {
    /// The rule, if this version can read it.
    #[must_use]
    pub fn rule(&self) -> Option<Rule> {
        Rule::from_json(self.rule.value.rule.as_ref()?).ok()
    }

    /// The name it goes by: its clause, or its id if even that cannot be read.
    #[must_use]
    pub fn name(&self) -> String {
        let clause = self.rule.value.rule.as_ref().and_then(|rule| rule.get("id")).and_then(Value::as_str);
        clause.map_or_else(|| self.id.to_string(), str::to_owned)
    }
}

impl Notebook {
    /// Keeps a house rule. From then on it is judged with every code.
    ///
    /// # Errors
    /// [`Error::Field`] if a rule goes by its id already.
    pub fn add_house_rule(&self, rule: &Rule) -> Result<HouseRuleRecord, Error> {
        let value = serde_json::to_value(rule).ok();
        let kept = HouseRule { rule: value, further: Map::new() };
        let (id, fields) = (RuleId::new(), fields(&kept)?);
        self.decide_and_keep(|desk| {
            let known = desk.view.all(kind::HOUSE_RULE)?;
            if known.iter().map(HouseRuleRecord::from).any(|other| other.name() == rule.id) {
                let why =
                    "a rule of yours goes by that name already: remove it first, or choose another name";
                return Err(FieldError { field: "id", why: why.into() }.into());
            }
            Ok((vec![Edit::new(kind::HOUSE_RULE, id, fields.clone())], ()))
        })?;
        let record = self.read(|view| view.record(kind::HOUSE_RULE, id.into()))?;
        record.as_ref().map(HouseRuleRecord::from).ok_or(Error::NotFound { what: "house rule" })
    }

    /// The house rules, oldest first, those too that this version cannot read.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn house_rules(&self) -> Result<Vec<HouseRuleRecord>, Error> {
        let records = self.read(|view| view.all(kind::HOUSE_RULE))?;
        Ok(records.iter().map(HouseRuleRecord::from).collect())
    }

    /// Takes a house rule back, by its name or the beginning of its id.
    ///
    /// # Errors
    /// [`Error::NotFound`] or [`Error::Ambiguous`].
    pub fn remove_house_rule(&self, name: &str) -> Result<(), Error> {
        let named: Vec<HouseRuleRecord> =
            self.house_rules()?.into_iter().filter(|rule| rule.name() == name).collect();
        let ids = match named.as_slice() {
            [] => vec![self.beginning(kind::HOUSE_RULE, "house rule", name)?],
            // Two devices may have made one each.
            all => all.iter().map(|rule| rule.id.into()).collect(),
        };
        let gone: Vec<Edit> =
            ids.into_iter().map(|id| Edit::field(kind::HOUSE_RULE, id, DELETED, true)).collect();
        self.keep(&gone)
    }
}

/// Those that can be judged, as one code, and the names of those that cannot.
pub(super) fn readable(records: Vec<HouseRuleRecord>) -> (Code, Vec<String>) {
    let (mut rules, mut unread) = (Vec::new(), Vec::new());
    for record in records {
        match record.rule() {
            Some(rule) => rules.push(rule),
            None => unread.push(record.name()),
        }
    }
    (Code::own(rules), unread)
}
