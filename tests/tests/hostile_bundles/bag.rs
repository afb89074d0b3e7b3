//! A good bag in parts, so that each can be spoilt by itself.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use trug_tests::raw_zip::{Entry, zip};

pub const DEVICE: &str = "0190a000-0000-7000-8000-00000000000a";
pub const RECORD: &str = "0190a000-0000-7000-8000-0000000000f1";
pub const OTHER: &str = "0190a000-0000-7000-8000-0000000000f2";
pub const BAGIT: &str = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// A change as the log writes it: compact JSON in this order, sealed by its hash.
pub fn line(change: &Value) -> String {
    seal(&change.to_string())
}

pub fn seal(text: &str) -> String {
    let body = text.strip_suffix('}').unwrap();
    format!("{body},\"hash\":\"{}\"}}\n", sha256(body.as_bytes()))
}

pub fn stamp(n: u64) -> String {
    format!("1764061200{n:03}.00000")
}

pub fn change(n: u64) -> Value {
    json!({"kind": "find", "record": RECORD, "set": {"seen": 3}, "stamp": stamp(n), "device": DEVICE})
}

pub fn with(n: u64, member: &str, value: Value) -> Value {
    let mut change = change(n);
    change[member] = value;
    change
}

/// A bag in parts, so that each can be spoilt by itself.
pub struct Bag {
    pub info: String,
    pub bagit: String,
    pub payload: BTreeMap<String, Vec<u8>>,
    /// Told of the manifest's text before it is packed.
    pub manifest: fn(String) -> String,
    pub tags: fn(String) -> String,
    /// Told of the entries at last.
    pub spoil: fn(&mut Vec<Entry>),
    /// Told of the archive's bytes at the very last.
    pub bytes: fn(&mut Vec<u8>),
}

impl Bag {
    pub fn of(lines: &[String]) -> Self {
        let changes = lines.concat().into_bytes();
        Self {
            info: "Trug-Bundle-Format: 1.0\nTrug-Bundle-For: me\nBagging-Date: 2026-10-18\n".into(),
            bagit: BAGIT.into(),
            payload: [(format!("data/changes/{DEVICE}.jsonl"), changes)].into(),
            manifest: |text| text,
            tags: |text| text,
            spoil: |_| {},
            bytes: |_| {},
        }
    }

    pub fn good() -> Self {
        Self::of(&[line(&change(1)), line(&with(2, "set", json!({"taken": 1})))])
    }

    pub fn write(&self) -> Vec<u8> {
        let list = |files: Vec<(&String, &[u8])>| -> String {
            files.iter().map(|(name, content)| format!("{}  {name}\n", sha256(content))).collect()
        };
        let payload = self.payload.iter().map(|(name, content)| (name, content.as_slice())).collect();
        let manifest = (self.manifest)(list(payload));
        let names = ["bag-info.txt", "bagit.txt", "manifest-sha256.txt"].map(str::to_owned);
        let texts = [&self.info, &self.bagit, &manifest];
        let tags = (self.tags)(list(names.iter().zip(texts.map(String::as_bytes)).collect()));
        let mut entries = vec![
            Entry::new("bundle/bag-info.txt", self.info.as_str()),
            Entry::new("bundle/bagit.txt", self.bagit.as_str()),
        ];
        entries.extend(
            self.payload.iter().map(|(name, content)| Entry::new(&format!("bundle/{name}"), content.clone())),
        );
        entries.push(Entry::new("bundle/manifest-sha256.txt", manifest));
        entries.push(Entry::new("bundle/tagmanifest-sha256.txt", tags));
        (self.spoil)(&mut entries);
        let mut bytes = zip(&entries);
        (self.bytes)(&mut bytes);
        bytes
    }
}

pub fn spoilt(spoil: fn(&mut Vec<Entry>)) -> Vec<u8> {
    Bag { spoil, ..Bag::good() }.write()
}

pub fn lines(lines: &[String]) -> Vec<u8> {
    Bag::of(lines).write()
}

pub fn one(change: &Value) -> Vec<u8> {
    lines(&[line(change)])
}

pub fn added(name: &'static str, content: &'static [u8]) -> Vec<u8> {
    let mut bag = Bag::good();
    bag.payload.insert(name.to_owned(), content.to_vec());
    bag.write()
}

pub fn info(info: &str) -> Vec<u8> {
    Bag { info: info.to_owned(), ..Bag::good() }.write()
}

pub fn manifest(manifest: fn(String) -> String) -> Vec<u8> {
    Bag { manifest, ..Bag::good() }.write()
}

pub fn bytes(bytes: fn(&mut Vec<u8>)) -> Vec<u8> {
    Bag { bytes, ..Bag::good() }.write()
}

/// What it is, the code it must be refused with, a part of the words, and its bytes.
pub type Case = (&'static str, &'static str, &'static str, Vec<u8>);
