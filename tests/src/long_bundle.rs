//! Bundles with change files of very many lines, written as they are drawn, so that none is ever held whole.

use std::fs::File;
use std::io::{self, BufWriter};
use std::path::Path;

use serde_json::{Map, Value, json};
use trug::change::{Change, ChangeId, Line, Stamp};
use trug::exchange::{self, About, Audience, Contents, FORMAT, Source};
use trug::id::{DeviceId, RecordId};
use uuid::Uuid;

/// What the lines of a long bundle are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Each is a find of its own.
    Records,
    /// The same, and the very last is no change.
    BadEnd,
    /// All change one find.
    OneRecord,
    /// Each replaces ten changes that nobody has.
    Replacing,
    /// All are one act.
    OneAct,
    /// Each is a list of small numbers, as long as an act may be: little text, and much in memory.
    Numbers,
}

impl Shape {
    /// All of them, each with its name.
    pub const ALL: [(&'static str, Self); 6] = [
        ("records", Self::Records),
        ("bad-end", Self::BadEnd),
        ("one-record", Self::OneRecord),
        ("replacing", Self::Replacing),
        ("one-act", Self::OneAct),
        ("numbers", Self::Numbers),
    ];

    /// The one of this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|(one, _)| *one == name).map(|(_, shape)| shape)
    }
}

struct Long {
    shape: Shape,
    lines: u32,
}

const DEVICE: DeviceId = DeviceId(Uuid::from_u128(0x0190_a000_0000_7000_8000_0000_0000_000a));

/// Numbers that no packer foresees, as ids are.
fn id(n: u32) -> RecordId {
    let mixed = u128::from(n).wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15_f39c_c060_5ced_c835);
    RecordId(Uuid::from_u128(mixed))
}

fn stamp(n: u32) -> Stamp {
    Stamp::at(1_764_061_200_000 + i64::from(n))
}

impl Long {
    fn line(&self, n: u32) -> String {
        let set = match self.shape {
            Shape::Numbers => {
                let digits: Vec<u32> =
                    (0..4_000_000_u32).map(|n| (n.wrapping_mul(0x9e37_79b9) >> 20) % 10).collect();
                json!({ "later": digits })
            }
            _ => json!({"seen": n % 40, "note": "under the leaning one, north side"}),
        };
        let Value::Object(set): Value = set else { unreachable!("an object") };
        self.change(n, set)
    }

    fn change(&self, n: u32, set: Map<String, Value>) -> String {
        let unknown = |salt| ChangeId { stamp: stamp(n), device: DeviceId(id(n.wrapping_mul(10) + salt).0) };
        let change = Change {
            kind: "find".into(),
            record: id(if self.shape == Shape::OneRecord { 0 } else { n }),
            set,
            stamp: stamp(n),
            device: DEVICE,
            replaces: if self.shape == Shape::Replacing { (0..10).map(unknown).collect() } else { [].into() },
            undoes: None,
            unasked: false,
            more: if self.shape == Shape::OneAct { self.lines - 1 - n } else { 0 },
        };
        Line::write(change).unwrap().text().to_owned()
    }
}

impl Source for Long {
    fn devices(&self) -> Vec<DeviceId> {
        vec![DEVICE]
    }

    fn lines(&self, _: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()> {
        (0..self.lines).try_for_each(|n| each(&self.line(n)))?;
        if self.shape == Shape::BadEnd { each("{}") } else { Ok(()) }
    }
}

/// Writes a bundle of so many lines.
pub fn write(shape: Shape, lines: u32, to: &Path) {
    let about = About {
        format: FORMAT,
        audience: Audience::Me,
        date: jiff::civil::date(2026, 10, 18),
        device: Some(DEVICE),
        owner: None,
        place: None,
    };
    let contents =
        Contents { about: &about, source: &Long { shape, lines }, photos: &[], holds: None, sign: None };
    let mut out = BufWriter::new(File::create(to).unwrap());
    exchange::write(&mut out, &contents, &mut || Ok(())).unwrap();
    out.into_inner().unwrap().sync_all().unwrap();
}
