//! The words that a record is found by, folded: what its owner wrote, chose or was told, and the day.
//!
//! A find's row has the names given to it as well. The names of its patch and outing are not repeated in it: whoever asks
//! goes by way of them, so that renaming a patch rewrites one row.

use std::collections::BTreeSet;

use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::StoreError;
use crate::change::State;
use crate::moment::Moment;
use crate::pack::month_name;
use crate::spelling;

/// The words of a record, by what they say it is found by.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Wording {
    /// A find.
    find: BTreeSet<String>,
    /// A patch, and the finds there.
    patch: BTreeSet<String>,
    /// A patch alone.
    about: BTreeSet<String>,
    /// The finds of an outing.
    outing: BTreeSet<String>,
}

/// Writes the row of a record, which has none. One that is deleted gets none.
pub fn write(db: &Connection, n: i64, kind: &str, record: Uuid, state: &State) -> Result<(), StoreError> {
    let mut own = Wording::of(kind, state);
    if kind == "find" && !state.deleted() {
        add_names(db, record, &mut own.find)?;
    }
    if own == Wording::default() {
        return Ok(());
    }
    let text = |words: BTreeSet<String>| words.into_iter().collect::<Vec<_>>().join(" ");
    let Wording { find, patch, about, outing } = own;
    db.prepare_cached("INSERT INTO wording(rowid, find, patch, about, outing) VALUES (?1, ?2, ?3, ?4, ?5)")?
        .execute(params![n, text(find), text(patch), text(about), text(outing)])?;
    Ok(())
}

/// Takes away the row of a record, if it has one.
pub fn remove(db: &Connection, n: i64) -> Result<(), StoreError> {
    db.prepare_cached("DELETE FROM wording WHERE rowid = ?1")?.execute([n])?;
    Ok(())
}

/// Whether two states of a record say the same: most of what is noted in a wood is numbers.
pub fn is_same(kind: &str, before: &State, after: &State) -> bool {
    before.deleted() == after.deleted() && Wording::of(kind, before) == Wording::of(kind, after)
}

/// Brings the row of a find up to date, after a name was given to it or taken back.
pub fn rename(db: &Connection, find: Uuid) -> Result<(), StoreError> {
    let mut known =
        db.prepare_cached("SELECT n, state FROM record WHERE id = ?1 AND kind = 'find' AND NOT deleted")?;
    let found =
        known.query_row([find], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?))).optional()?;
    let Some((n, state)) = found else { return Ok(()) };
    remove(db, n)?;
    write(db, n, "find", find, &serde_json::from_str(&state)?)
}

/// The one word that stands for a whole name: no word that anybody types is like it.
pub fn whole_name(name: &str) -> String {
    format!("={}", spelling::words(name).join("-"))
}

/// A number for all rows together, whatever their order, and how many words they have: what two views have in common if they say the same.
pub fn sum(db: &Connection) -> Result<(u64, u128), StoreError> {
    let mut all = db.prepare(
        "SELECT w.term, w.col, r.kind, r.id FROM word_in_record AS w LEFT JOIN record AS r ON r.n = w.doc",
    )?;
    let mut rows = all.query([])?;
    let (mut count, mut sum) = (0, 0_u128);
    while let Some(row) = rows.next()? {
        let text = |column| -> Result<_, StoreError> {
            Ok(row.get_ref(column)?.as_str_or_null().map_err(|_| StoreError::Damaged)?.unwrap_or_default())
        };
        let id: Option<Uuid> = row.get(3)?;
        let said = format!("{} {} {} {id:?}", text(0)?, text(1)?, text(2)?);
        let hash = Sha256::digest(said.as_bytes());
        let part = hash.as_slice().first_chunk().map_or(0, |first| u128::from_be_bytes(*first));
        (count, sum) = (count + 1, sum.wrapping_add(part));
    }
    Ok((count, sum))
}

/// The names given to a find that were not taken back, and who gave them.
fn add_names(db: &Connection, find: Uuid, words: &mut BTreeSet<String>) -> Result<(), StoreError> {
    let mut names = db.prepare_cached(
        "SELECT state ->> '$.taxon[0].value', state ->> '$.who[0].value' FROM record
         WHERE parent = ?1 AND kind = 'determination' AND NOT deleted
           AND state ->> '$.withdrawn[0].value' IS NOT 1",
    )?;
    let mut rows = names.query([find])?;
    while let Some(row) = rows.next()? {
        // What a later version wrote there may be no text, and has no words then.
        let text = |column| row.get_ref(column).ok().and_then(|value| value.as_str().ok());
        if let Some(taxon) = text(0) {
            add_name(words, taxon);
        }
        words.extend(text(1).into_iter().flat_map(spelling::words));
    }
    Ok(())
}

fn add_name(words: &mut BTreeSet<String>, name: &str) {
    words.extend(spelling::words(name));
    words.insert(whole_name(name));
}

/// The day as people say it: 18 October 2026, 2026-10-18, a Sunday.
fn day_words(at: Moment) -> [String; 5] {
    let day = at.day();
    let month = u8::try_from(day.month()).unwrap_or_default();
    [
        day.year().to_string(),
        month.to_string(),
        month_name(month).to_lowercase(),
        day.day().to_string(),
        format!("{:?}", day.weekday()).to_lowercase(),
    ]
}

impl Wording {
    /// What the record itself says. One that is deleted says nothing.
    fn of(kind: &str, state: &State) -> Self {
        let mut own = Self::default();
        if state.deleted() {
            return own;
        }
        let text = |field| state.shown(field).and_then(Value::as_str).unwrap_or_default();
        let tree = state.shown("host").and_then(|host| host.get("tree")).and_then(Value::as_str);
        let list = |field| {
            let list = state.shown(field).and_then(Value::as_array).into_iter().flatten();
            list.filter_map(Value::as_str)
        };
        match kind {
            "find" => {
                for said in ["on", "ground", "growth", "habitat", "by", "note"].map(text) {
                    own.find.extend(spelling::words(said));
                }
                for said in tree.into_iter().chain(list("hazards")) {
                    own.find.extend(spelling::words(said));
                }
                if let Ok(at) = text("at").parse() {
                    own.find.extend(day_words(at));
                }
            }
            "patch" => {
                own.patch.extend(spelling::words(text("name")));
                for said in [text("on"), text("note"), tree.unwrap_or_default()] {
                    own.about.extend(spelling::words(said));
                }
                if !text("taxon").is_empty() {
                    add_name(&mut own.about, text("taxon"));
                }
            }
            "visit" => own.about.extend(spelling::words(text("note"))),
            "outing" => {
                for said in [text("where"), text("note")].into_iter().chain(list("people")) {
                    own.outing.extend(spelling::words(said));
                }
            }
            _ => {}
        }
        own
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{ChangeId, Held, Stamp};
    use crate::id::DeviceId;

    /// SQLite's own folding of Latin letters with marks (its tokenizer `unicode61` with `remove_diacritics=2`), where it comes to a
    /// plain letter.
    #[test]
    fn letters_are_folded_as_sqlite_folds_them() {
        let db = Connection::open_in_memory().unwrap();
        db.execute_batch(
            "CREATE VIRTUAL TABLE t USING fts5(c, tokenize=\"unicode61 remove_diacritics 2\");
             CREATE VIRTUAL TABLE v USING fts5vocab(t, instance);",
        )
        .unwrap();
        let letters = ('\u{c0}'..='\u{24f}').chain('\u{1e00}'..='\u{1eff}').filter(|one| one.is_alphabetic());
        let letters: Vec<char> = letters.collect();
        for (n, letter) in (1_i64..).zip(&letters) {
            db.execute("INSERT INTO t(rowid, c) VALUES (?1, ?2)", params![n, letter.to_string()]).unwrap();
        }
        let mut all = db.prepare("SELECT doc, term FROM v").unwrap();
        let folded = all.query_map([], |row| Ok((row.get::<_, u32>(0)?, row.get::<_, String>(1)?))).unwrap();
        let mut plain = 0;
        for (n, term) in folded.map(Result::unwrap).filter(|(_, term)| term.is_ascii()) {
            let letter = letters[n as usize - 1];
            assert_eq!(spelling::words(&letter.to_string()), [term], "{letter}");
            plain += 1;
        }
        assert!(plain > 400, "{plain}");
    }

    #[test]
    fn what_a_later_version_wrote_has_no_words_and_does_no_harm() {
        let by = ChangeId { stamp: Stamp::ZERO, device: DeviceId(Uuid::nil()) };
        let Value::Object(set) = serde_json::json!({
            "note": 7, "host": ["oak"], "hazards": "road", "at": "noon", "on": "stump"
        }) else {
            unreachable!()
        };
        let held = set.into_iter().map(|(field, value)| (field, vec![Held { value, by }]));
        let odd = State { fields: held.collect() };
        assert_eq!(Wording::of("find", &odd).find, BTreeSet::from(["stump".to_owned()]));
        assert_eq!(Wording::of("aura", &odd), Wording::default());
    }

    #[test]
    fn a_whole_name_is_one_word() {
        assert_eq!(whole_name("Velvet  SHANK"), "=velvet-shank");
        assert_eq!(whole_name("Devil’s bolete"), whole_name("devils-bolete"));
        assert_eq!(whole_name("\"' \0"), "=");
    }
}
