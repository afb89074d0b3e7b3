//! What the benchmarks of the notebook have in common: invented finds, logs of them, and a bulk insert of the rows they come to.

// Not every benchmark uses all of it.
#![allow(dead_code)]

use std::fs;
use std::path::Path;

use rusqlite::Connection;
use serde_json::{Value, json};
use trug::change::{Change, ChangeId, Line, Stamp};
use trug::id::{DeviceId, PatchId, RecordId};
use trug::log::SEGMENT_BYTES;
use trug::place::Position;

pub const SOUTH: f64 = 51.0;
pub const WEST: f64 = -1.5;
pub const PATCHES: u64 = 500;
pub const BEGAN: i64 = 1_600_000_000_000;

/// Degrees across which so many finds lie: as densely whether they are few or many, so that a circle holds as many.
pub fn span(finds: u64) -> f64 {
    0.3 * (f64::from(u32::try_from(finds).expect("small")) / 100_000.0).sqrt()
}

pub fn middle(finds: u64) -> Position {
    Position::new(SOUTH + span(finds) / 2.0, WEST + span(finds) / 2.0).expect("on Earth")
}

/// The same places every time, evenly scattered: steps of the golden ratio and of the square root of two.
fn scattered(n: u64, salt: u64) -> f64 {
    let step = if salt == 1 { 0.618_033_988_749_895 } else { 0.414_213_562_373_095 };
    (f64::from(u32::try_from(n).expect("small")) * step).fract()
}

pub fn patch(n: u64) -> PatchId {
    PatchId(uuid::Uuid::from_u128(u128::from(n % PATCHES) + 1))
}

pub fn stamp(n: u64) -> Stamp {
    Stamp::at(BEGAN + i64::try_from(n).expect("small"))
}

pub fn change(
    kind: &str,
    record: impl Into<RecordId>,
    set: Value,
    by: ChangeId,
    seen: Option<ChangeId>,
) -> Line {
    let Value::Object(set) = set else { unreachable!("an object") };
    let replaces = seen.into_iter().collect();
    let ChangeId { stamp, device } = by;
    let record = record.into();
    let change = Change {
        kind: kind.into(),
        record,
        set,
        stamp,
        device,
        replaces,
        undoes: None,
        unasked: false,
        more: 0,
    };
    Line::write(change).expect("JSON")
}

/// The patches that the finds belong to.
pub fn patches(device: DeviceId) -> impl Iterator<Item = Line> {
    (0..PATCHES).map(move |n| {
        let stamp = Stamp::at(BEGAN - 1000 + i64::try_from(n).expect("small"));
        change("patch", patch(n), json!({"name": format!("patch {n}")}), ChangeId { stamp, device }, None)
    })
}

pub fn find(n: u64, span: f64) -> Value {
    let seconds = BEGAN / 1000 + i64::try_from(n).expect("small") * 60;
    let at = jiff::Timestamp::from_second(seconds).expect("in range");
    json!({
        "at": at.display_with_offset(jiff::tz::Offset::UTC).to_string(),
        "position": {
            "latitude": SOUTH + span * scattered(n, 1),
            "longitude": WEST + span * scattered(n, 2),
            "accuracy_m": 6.0,
            "got": "fix"
        },
        "patch": patch(n), "on": "fallen-branch", "host": {"tree": "hazel", "sure": "likely"}, "ground": "chalk",
        "growth": "scattered", "seen": 7, "width": {"least": 12.0, "most": 35.0}, "taken": 3, "grams": 40.0,
        "note": "under the leaning one, north side"
    })
}

/// Writes a log of one device into a notebook's folder.
pub fn write_log(notebook: &Path, device: DeviceId, lines: impl Iterator<Item = Line>) {
    let folder = notebook.join("changes").join(device.to_string());
    fs::create_dir_all(&folder).expect("a folder");
    let mut text = String::new();
    let mut number = 1;
    let mut flush = |text: &mut String| {
        fs::write(folder.join(format!("{number:06}.jsonl")), &*text).expect("written");
        number += 1;
        text.clear();
    };
    for line in lines {
        text.push_str(line.text());
        text.push('\n');
        if text.len() as u64 >= SEGMENT_BYTES {
            flush(&mut text);
        }
    }
    flush(&mut text);
}

type Row = Vec<rusqlite::types::Value>;

/// The words of each row: their index holds no text of its own, and gives them back one by one.
fn words(db: &Connection) -> (String, Vec<Row>) {
    let sql = "SELECT doc, group_concat(term, ' ') FILTER (WHERE col = 'find'),
                 group_concat(term, ' ') FILTER (WHERE col = 'patch'), group_concat(term, ' ') FILTER (WHERE col = 'about'),
                 group_concat(term, ' ') FILTER (WHERE col = 'outing') FROM word_in_record GROUP BY doc";
    let mut all = db.prepare(sql).expect("a table");
    let rows = all.query_map([], |row| (0..5).map(|c| row.get(c)).collect::<Result<Row, _>>());
    let rows = rows.and_then(Iterator::collect).expect("rows");
    ("INSERT INTO wording(rowid, find, patch, about, outing) VALUES (?, ?, ?, ?, ?)".to_owned(), rows)
}

/// Everything in a view, to be inserted elsewhere without thinking.
pub struct Bulk {
    schema: String,
    /// The statement that inserts a row of a table, and the table's rows.
    tables: Vec<(String, Vec<Row>)>,
}

impl Bulk {
    /// Every row of every table of a view.
    pub fn of(view: &Path) -> Self {
        let db = Connection::open(view).expect("the view");
        let tables = ["change", "segment", "record", "timed", "place", "photo", "amount", "tally"];
        let read = |table: &&str| {
            let mut all = db.prepare(&format!("SELECT * FROM {table}")).expect("a table");
            let columns = all.column_count();
            let rows = all.query_map([], |row| (0..columns).map(|c| row.get(c)).collect::<Result<Row, _>>());
            let rows = rows.and_then(Iterator::collect).expect("rows");
            (format!("INSERT INTO {table} VALUES ({})", vec!["?"; columns].join(",")), rows)
        };
        let sql = "SELECT group_concat(sql, ';') FROM sqlite_schema
                   WHERE type <> 'trigger' AND sql IS NOT NULL
                     AND name NOT LIKE 'place\\_%' ESCAPE '\\' AND name NOT LIKE 'wording\\_%' ESCAPE '\\'";
        let schema = db.query_row(sql, [], |row| row.get(0)).expect("a schema");
        let tables = tables.iter().map(read).chain([words(&db)]).collect();
        Self { schema, tables }
    }

    /// Inserts all of it into a new file, in one transaction, each row by a statement that was prepared once.
    pub fn insert(&self, to: &Path, pragmas: &str) {
        let db = Connection::open(to).expect("a database");
        db.execute_batch(pragmas).expect("set");
        db.execute_batch(&self.schema).expect("tables");
        db.execute_batch("BEGIN").expect("begun");
        for (sql, rows) in &self.tables {
            let mut insert = db.prepare(sql).expect("a statement");
            for row in rows {
                insert.execute(rusqlite::params_from_iter(row)).expect("inserted");
            }
        }
        db.execute_batch("COMMIT").expect("committed");
    }
}
