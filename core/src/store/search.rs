//! Questions by words.

use std::collections::BTreeSet;

use rusqlite::params_from_iter;
use uuid::Uuid;

use super::{StoreError, View, wording};
use crate::id::{FindId, PatchId};
use crate::spelling::LONGEST_WORD;

/// One of the things that a word asked for may stand for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Term {
    /// This word.
    Word(String),
    /// Any word that begins like this.
    Beginning(String),
    /// Exactly this name.
    Name(String),
}

/// What is asked for. Without any word or name nothing is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Each of these must be met, in one of its ways.
    pub words: Vec<Vec<Term>>,
    /// Or one of these.
    pub or: Vec<Term>,
}

/// A find that is as asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hit {
    /// When it was made, in milliseconds since 1970.
    pub at: Option<i64>,
    /// The find.
    pub find: FindId,
}

/// The finds that say one thing: their own words, those of their outing, the name of their patch or of the one it was merged into.
const FINDS: &str = "SELECT rowid FROM wording WHERE wording MATCH ?
    UNION ALL SELECT t.n FROM timed AS t WHERE +t.kind = 'find' AND t.outing IN (
      SELECT id FROM record WHERE n IN (SELECT rowid FROM wording WHERE wording MATCH ?))
    UNION ALL SELECT t.n FROM timed AS t WHERE +t.kind = 'find' AND t.patch IN (
      WITH RECURSIVE family(id) AS (
        SELECT id FROM record WHERE n IN (SELECT rowid FROM wording WHERE wording MATCH ?)
        UNION SELECT r.id FROM record AS r JOIN family AS f ON r.parent = f.id WHERE r.kind = 'patch')
      SELECT id FROM family)";

/// The patches that say one thing, themselves or by what was noted on a visit.
const PATCHES: &str = "SELECT DISTINCT CASE kind WHEN 'patch' THEN id ELSE parent END FROM record
    WHERE n IN (SELECT rowid FROM wording WHERE wording MATCH ?)";

impl View {
    /// The finds that are as asked for, the newest first; those without a time last.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn finds_saying(&self, wanted: &Wanted) -> Result<Vec<Hit>, StoreError> {
        let (mut conditions, mut values) = (Vec::new(), Vec::new());
        let mut finds = |terms: &[Term]| {
            values.extend(["find", "outing", "patch"].map(|column| expression(column, terms)));
            format!("t.n IN ({FINDS})")
        };
        let words: Vec<String> = wanted.words.iter().map(|terms| finds(terms)).collect();
        if !words.is_empty() {
            conditions.push(format!("({})", words.join(" AND ")));
        }
        if !wanted.or.is_empty() {
            conditions.push(finds(&wanted.or));
        }
        if conditions.is_empty() {
            return Ok(Vec::new());
        }
        let either: Vec<String> = conditions
            .iter()
            .map(|condition| format!("SELECT t.n FROM timed AS t WHERE {condition}"))
            .collect();
        let sql = format!(
            "SELECT t.at, r.id FROM timed AS t JOIN record AS r USING (n) WHERE t.n IN ({})
             ORDER BY t.at DESC, r.id DESC",
            either.join(" UNION ")
        );
        let mut statement = self.db.prepare(&sql)?;
        let hits = statement.query_map(params_from_iter(&values), |row| {
            Ok(Hit { at: row.get(0)?, find: FindId(row.get(1)?) })
        })?;
        Ok(hits.collect::<Result<_, _>>()?)
    }

    /// The patches that are as asked for, merged ones too, by id.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn patches_saying(&self, wanted: &Wanted) -> Result<BTreeSet<PatchId>, StoreError> {
        let mut all: Option<BTreeSet<PatchId>> = None;
        for terms in &wanted.words {
            let saying = self.patches_of(terms)?;
            all = Some(match all {
                Some(before) => before.intersection(&saying).copied().collect(),
                None => saying,
            });
        }
        let mut all = all.unwrap_or_default();
        if !wanted.or.is_empty() {
            all.extend(self.patches_of(&wanted.or)?);
        }
        Ok(all)
    }

    fn patches_of(&self, terms: &[Term]) -> Result<BTreeSet<PatchId>, StoreError> {
        let mut statement = self.db.prepare_cached(PATCHES)?;
        let ids =
            statement.query_map([expression("patch about", terms)], |row| row.get::<_, Option<Uuid>>(0))?;
        Ok(ids.filter_map(|id| id.map(|id| id.map(PatchId)).transpose()).collect::<Result<_, _>>()?)
    }

    /// Calls for every word that some record is found by, in the order of their letters.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn each_word(&self, mut take: impl FnMut(&str)) -> Result<(), StoreError> {
        let mut statement = self.db.prepare_cached("SELECT term FROM vocabulary")?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let word = row.get_ref(0)?.as_str().map_err(|_| StoreError::Damaged)?;
            if !word.starts_with('=') {
                take(word);
            }
        }
        Ok(())
    }
}

/// What FTS5 is asked. Whatever was typed stands between quotes, which no folded word contains.
fn expression(columns: &str, terms: &[Term]) -> String {
    let quoted = |text: &str| {
        let plain: String = text.chars().filter(|sign| *sign != '"' && *sign != '\0').collect();
        format!("\"{plain}\"")
    };
    if terms.is_empty() {
        return quoted("=="); // which nothing is called
    }
    let any = terms.iter().map(|term| match term {
        Term::Word(word) => quoted(word),
        // A word that was cut is all there is of it.
        Term::Beginning(word) if word.len() >= LONGEST_WORD => quoted(word),
        Term::Beginning(word) => format!("{}*", quoted(word)),
        Term::Name(name) => quoted(&wording::whole_name(name)),
    });
    format!("{{{columns}}} : ({})", any.collect::<Vec<_>>().join(" OR "))
}
