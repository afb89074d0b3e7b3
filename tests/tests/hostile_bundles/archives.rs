//! Names, entries and archives that are not what they seem.

use trug_tests::raw_zip::{Entry, zip};

use crate::bag::{Bag, Case, DEVICE, added, bytes, spoilt};

pub fn names() -> Vec<Case> {
    pub fn push(entries: &mut Vec<Entry>, name: &[u8]) {
        entries.push(Entry { name: name.to_vec(), ..Entry::new("", "x") });
    }
    vec![
        ("a path up", "bundle-name", "leads out of its folder", spoilt(|e| push(e, b"bundle/../evil"))),
        (
            "a path up at the root",
            "bundle-name",
            "leads out of its folder",
            spoilt(|e| push(e, b"../../evil")),
        ),
        ("a dot", "bundle-name", "leads out of its folder", spoilt(|e| push(e, b"bundle/./bagit.txt"))),
        ("an absolute path", "bundle-name", "root of the disk", spoilt(|e| push(e, b"/etc/passwd"))),
        ("a drive letter", "bundle-name", "drive or a device", spoilt(|e| push(e, b"C:/evil"))),
        (
            "an alternate stream",
            "bundle-name",
            "drive or a device",
            spoilt(|e| push(e, b"bundle/bagit.txt:evil")),
        ),
        ("a UNC path", "bundle-name", "backslashes", spoilt(|e| push(e, b"\\\\server\\share\\evil"))),
        ("a backslash", "bundle-name", "backslashes", spoilt(|e| push(e, b"bundle\\..\\evil"))),
        ("a device of Windows", "bundle-name", "does not belong", spoilt(|e| push(e, b"bundle/data/NUL"))),
        ("a line end", "bundle-name", "control characters", spoilt(|e| push(e, b"bundle/data/a\nb"))),
        ("a NUL", "bundle-name", "control characters", spoilt(|e| push(e, b"bundle/bagit.txt\0.exe"))),
        ("an empty part", "bundle-name", "empty part", spoilt(|e| push(e, b"bundle//bagit.txt"))),
        ("invalid UTF-8", "bundle-name", "is not text", spoilt(|e| push(e, b"bundle/data/\xff\xfe"))),
        (
            "NFC",
            "bundle-name",
            "not in plain letters",
            spoilt(|e| push(e, "bundle/data/caf\u{e9}".as_bytes())),
        ),
        (
            "NFD",
            "bundle-name",
            "not in plain letters",
            spoilt(|e| push(e, "bundle/data/cafe\u{301}".as_bytes())),
        ),
        ("the same name twice", "bundle-twice", "two entries of one name", spoilt(|e| e.push(e[1].clone()))),
        (
            "names that differ in case",
            "bundle-twice",
            "two entries of one name",
            spoilt(|e| push(e, b"bundle/BAGIT.TXT")),
        ),
        (
            "a file beside the bag",
            "bundle-name",
            "does not belong",
            spoilt(|e| push(e, b"elsewhere/file.txt")),
        ),
        ("a nested archive", "bundle-name", "does not belong", added("data/photos/more.zip", b"PK\x05\x06")),
        (
            "what is held, told beside the signed list",
            "bundle-bag",
            "leaves out a file that it must list",
            spoilt(|e| e.push(Entry::new("bundle/holds.json", "{\"holds\":{}}"))),
        ),
        ("a script", "bundle-name", "does not belong", added("data/run.sh", b"#!/bin/sh")),
        (
            "a hash in capitals",
            "bundle-name",
            "does not belong",
            added("data/changes/0190A000-0000-7000-8000-00000000000B.jsonl", b""),
        ),
        (
            "a bag within a bag",
            "not-a-bundle",
            "no bundle",
            spoilt(|e| e.iter_mut().for_each(|e| e.name.splice(0..0, *b"deep/").for_each(drop))),
        ),
    ]
}

pub fn entries() -> Vec<Case> {
    vec![
        ("a link", "bundle-entry", "a link", spoilt(|e| e[1].mode = 0o120_777)),
        ("a device file", "bundle-entry", "no plain file", spoilt(|e| e[1].mode = 0o020_666)),
        ("a pipe", "bundle-entry", "no plain file", spoilt(|e| e[1].mode = 0o010_666)),
        ("a socket", "bundle-entry", "no plain file", spoilt(|e| e[1].mode = 0o140_666)),
        ("a folder that is a file", "bundle-entry", "no plain file", spoilt(|e| e[1].mode = 0o040_755)),
        ("encrypted", "bundle-entry", "locked with a password", spoilt(|e| e[2].flags |= 1)),
        ("an unusual packing", "bundle-entry", "packed in a way", spoilt(|e| e[2].method = Some(12))),
        ("a bomb", "bundle-too-large", "far more than it is", {
            let mut bag = Bag::good();
            bag.payload.insert(format!("data/changes/{DEVICE}.jsonl"), vec![b' '; 40 << 20]);
            bag.spoil = |e| e[2].deflated = true;
            bag.write()
        }),
        ("many small bombs", "bundle-too-large", "files that unpack to far more", {
            let mut bag = Bag::good();
            for n in 0..80 {
                let device = DEVICE.replace("00000a", &format!("{n:06}"));
                bag.payload.insert(format!("data/changes/{device}.jsonl"), vec![b' '; 1 << 20]);
            }
            bag.spoil = |e| e.iter_mut().for_each(|e| e.deflated = true);
            bag.write()
        }),
        (
            "an enormous manifest",
            "bundle-too-large",
            "larger than any",
            spoilt(|e| {
                // Of bytes that do not pack, so that it is its size and nothing else.
                e[3].content =
                    (0..17_u32 << 20).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
            }),
        ),
        (
            "more entries than a bundle can hold",
            "bundle-too-large",
            "too many entries",
            spoilt(|e| {
                e.extend(
                    (0..65_000)
                        .map(|n| Entry { extra: vec![0; 200], ..Entry::new(&format!("bundle/{n:060}"), "") }),
                );
            }),
        ),
        (
            "entries that lie in one another",
            "bundle-too-large",
            "lie in one another",
            spoilt(|e| e[1].offset = Some(0)),
        ),
        ("a wrong checksum", "bundle-damaged", "is damaged", spoilt(|e| e[2].crc = Some(7))),
        (
            "a length that is too short",
            "bundle-damaged",
            "is damaged",
            spoilt(|e| {
                e[2].deflated = true;
                e[2].length = Some(10);
            }),
        ),
        (
            "a length that is too long",
            "bundle-damaged",
            "is damaged",
            spoilt(|e| {
                e[2].deflated = true;
                e[2].length = Some(100_000);
            }),
        ),
        (
            "packed bytes beyond the end",
            "bundle-too-large",
            "lie in one another",
            spoilt(|e| e[2].packed = Some(2_000_000)),
        ),
        (
            "a lie in the ZIP64 field",
            "not-a-bundle",
            "no bundle",
            spoilt(|e| {
                e[2].length = Some(u32::MAX);
                e[2].extra = vec![1, 0, 4, 0, 1, 2, 3, 4];
            }),
        ),
        (
            "ZIP64 lengths beyond the end",
            "bundle-too-large",
            "far more than it is",
            spoilt(|e| {
                e[2].length = Some(u32::MAX);
                e[2].extra = [&[1, 0, 8, 0][..], &(1_u64 << 40).to_le_bytes()].concat();
            }),
        ),
    ]
}

pub fn archives() -> Vec<Case> {
    vec![
        ("nothing", "not-a-bundle", "no bundle", Vec::new()),
        ("something else", "not-a-bundle", "no bundle", b"%PDF-1.7 and so on".to_vec()),
        ("an empty archive", "not-a-bundle", "no bundle", zip(&[])),
        ("cut short by a byte", "not-a-bundle", "no bundle", bytes(|b| b.truncate(b.len() - 1))),
        ("cut in the middle", "not-a-bundle", "no bundle", bytes(|b| b.truncate(b.len() / 2))),
        (
            "something before the archive",
            "not-a-bundle",
            "no bundle",
            bytes(|b| drop(b.splice(0..0, *b"#!/bin/sh\n"))),
        ),
        (
            "a count that lies",
            "not-a-bundle",
            "no bundle",
            bytes(|b| {
                let at = b.len() - 12;
                b[at] = 200;
            }),
        ),
        (
            "several disks",
            "not-a-bundle",
            "no bundle",
            bytes(|b| {
                let at = b.len() - 18;
                b[at] = 1;
            }),
        ),
    ]
}
