//! `trug house`: add, list, remove. The owner's own rules, stricter than any code.

use std::fmt::Write;
use std::path::Path;

use clap::{Args, Subcommand};
use serde_json::{Map, Value, json};
use trug::code::{Over, Per, Rule};
use trug::notebook::{HouseRuleRecord, Notebook};

use crate::Done;
use crate::answer::{Answer, Refusal};

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Keeps a rule of your own. It can only ever allow less.
    Add(Box<New>),
    /// Lists your rules.
    List,
    /// Takes a rule back.
    Remove {
        /// Its name, or the beginning of its id.
        name: String,
    },
}

/// A rule: one limit, and perhaps for some fungi only.
#[derive(Debug, Args)]
pub struct New {
    /// What to call it, in lower-case words joined by hyphens: at-most-a-third.
    name: String,
    /// The rule in your words.
    #[arg(long, value_name = "TEXT")]
    words: Option<String>,
    /// For these only: Latin names, genera, or ids of the pack. May be given more than once.
    #[arg(long = "for", value_name = "NAME")]
    of: Vec<String>,
    #[command(flatten)]
    limit: Limit,
    /// The span over which takings are added up: visit, day, season, year.
    #[arg(long, default_value = "visit")]
    per: Per,
    /// What `--count` adds up: person, species, patch.
    #[arg(long, default_value = "species")]
    over: Over,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
struct Limit {
    /// At most a share of those present: 1/3.
    #[arg(long, value_name = "SHARE")]
    share: Option<String>,
    /// So many stay.
    #[arg(long, value_name = "COUNT")]
    keep: Option<u32>,
    /// None where fewer are present at arrival.
    #[arg(long, value_name = "COUNT")]
    present: Option<u32>,
    /// At most so many.
    #[arg(long, value_name = "COUNT")]
    count: Option<u32>,
    /// At most so many grams.
    #[arg(long, value_name = "GRAMS")]
    weight: Option<f64>,
    /// Never below this width, in mm.
    #[arg(long, value_name = "MM")]
    width: Option<f64>,
    /// Never below this height, in mm.
    #[arg(long, value_name = "MM")]
    height: Option<f64>,
    /// A patch rests so many days after a taking.
    #[arg(long, value_name = "DAYS")]
    rest: Option<u16>,
    /// Any other limit, in JSON as the files of codes have it.
    #[arg(long, value_name = "JSON")]
    other: Option<String>,
}

impl New {
    fn rule(&self) -> Result<Rule, Refusal> {
        let mut rule = Map::new();
        rule.insert("id".into(), self.name.clone().into());
        // Words stand in every rule: those of its limit are put in once that is read.
        rule.insert("words".into(), self.words.as_deref().unwrap_or("A rule of your own.").into());
        rule.insert("limit".into(), self.limit()?);
        if !self.of.is_empty() {
            rule.insert("for".into(), json!({"any": self.of}));
        }
        let rule = Rule::from_json(&Value::Object(rule))?;
        let words = self.words.clone().or_else(|| rule.limit.in_words()).unwrap_or(rule.words);
        Ok(Rule { words, ..rule })
    }

    /// The limit as files write it.
    fn limit(&self) -> Result<Value, Refusal> {
        let Limit { share, keep, count, weight, width, height, rest, present, other } = &self.limit;
        let (per, over) = (self.per, self.over);
        let sized = |least: f64, of: &str| json!({"size": {"least": least, "of": of}});
        let given = [
            share.as_ref().map(|share| json!({"share": {"most": share}})),
            keep.map(|least| json!({"keep": {"least": least}})),
            present.map(|least| json!({"present": {"least": least}})),
            count.map(|most| json!({"count": {"most": most, "per": per, "over": over}})),
            weight.map(|grams| json!({"weight": {"grams": grams, "per": per}})),
            width.map(|least| sized(least, "width")),
            height.map(|least| sized(least, "height")),
            rest.map(|days| json!({"rest": {"days": days}})),
        ];
        match given.into_iter().flatten().next() {
            Some(limit) => Ok(limit),
            None => Ok(serde_json::from_str(other.as_deref().unwrap_or_default())?),
        }
    }
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    // A rule that cannot be is refused before a notebook is made for it.
    let rule = if let Verb::Add(new) = &verb { Some(new.rule()?) } else { None };
    let notebook = Notebook::open(folder)?;
    match (verb, rule) {
        (Verb::Add(_), Some(rule)) => {
            let record = notebook.add_house_rule(&rule)?;
            Ok(Answer::new(format!("Your rule: {}: {}", rule.id, rule.words), &record))
        }
        (Verb::Remove { name }, _) => {
            notebook.remove_house_rule(&name)?;
            Ok(Answer::new(format!("{name} no longer holds."), &json!({"removed": name})))
        }
        _ => Ok(list(&notebook.house_rules()?)),
    }
}

fn list(rules: &[HouseRuleRecord]) -> Answer {
    let mut words = String::new();
    for record in rules {
        let told = record.rule().map_or_else(
            || "written by a newer version, which alone can read it".to_owned(),
            |rule| rule.words,
        );
        let _ = writeln!(words, "{:<20} {told}", record.name()); // a String takes everything
    }
    if rules.is_empty() {
        words.push_str("No rules of your own.");
    }
    Answer::new(words, &rules)
}
