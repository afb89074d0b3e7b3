//! A program that carries a folder between devices: late, out of order, twice, in part, under another name.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::Device;

/// Files by name.
pub type Files = BTreeMap<String, Vec<u8>>;

pub fn files(folder: &Path) -> Files {
    let mut found = Files::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if path.is_dir() {
            found.extend(files(&path).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
        } else {
            found.insert(name, fs::read(&path).unwrap());
        }
    }
    found
}

pub fn put(folder: &Path, name: &str, bytes: &[u8]) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// The program that carries the folder.
pub struct Carrier {
    pub lot: Pcg64,
    /// What each device's copy held when it was last looked at.
    seen: Vec<Files>,
    /// What is under way: to whom, under what name, and what; nothing for a file that is to go.
    pub under_way: Vec<(usize, String, Option<Vec<u8>>)>,
}

impl Carrier {
    pub fn new(devices: usize, seed: u64) -> Self {
        Self { lot: Pcg64::seed_from_u64(seed), seen: vec![Files::new(); devices], under_way: Vec::new() }
    }

    /// Notices what a device did to its copy.
    pub fn look(&mut self, n: usize, device: &Device) {
        let now = files(&device.shared);
        let others: Vec<usize> = (0..self.seen.len()).filter(|other| *other != n).collect();
        for (name, bytes) in &now {
            if self.seen[n].get(name) != Some(bytes) {
                self.under_way.extend(others.iter().map(|to| (*to, name.clone(), Some(bytes.clone()))));
            }
        }
        for name in self.seen[n].keys().filter(|name| !now.contains_key(*name)) {
            self.under_way.extend(others.iter().map(|to| (*to, name.clone(), None)));
        }
        self.seen[n] = now;
    }

    /// Delivers something, well or badly. What comes badly comes once more.
    pub fn deliver(&mut self, devices: &[Device], badly: bool) {
        if self.under_way.is_empty() {
            return;
        }
        let at = self.lot.random_range(0..self.under_way.len());
        let (to, name, what) = self.under_way[at].clone();
        let folder = &devices[to].shared;
        let way = if badly { self.lot.random_range(0..6) } else { 0 };
        match (what, way) {
            (None, _) => {
                let _ = fs::remove_file(folder.join(&name));
                self.seen[to].remove(&name);
                self.under_way.swap_remove(at);
            }
            (Some(bytes), 1) => {
                let part = bytes[..self.lot.random_range(0..bytes.len())].to_vec();
                put(folder, &name, &part);
                self.seen[to].insert(name, part);
            }
            (Some(mut bytes), 2) => {
                // Its room is made first, and filled later.
                let from = self.lot.random_range(0..bytes.len());
                bytes[from..].fill(0);
                put(folder, &name, &bytes);
                self.seen[to].insert(name, bytes);
            }
            (Some(bytes), 3) => {
                let (stem, ending) = name.rsplit_once('.').unwrap();
                put(folder, &format!("{stem} (conflicted copy).{ending}"), &bytes);
            }
            (Some(bytes), 4) => {
                let (place, file) = name.split_once('/').unwrap_or(("lost", &name));
                put(folder, &format!("{place} (1)/{file}"), &bytes);
            }
            (Some(bytes), way) => {
                put(folder, &name, &bytes);
                self.seen[to].insert(name, bytes);
                if way != 5 {
                    self.under_way.swap_remove(at);
                }
            }
        }
    }
}
