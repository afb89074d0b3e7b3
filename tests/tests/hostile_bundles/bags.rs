//! Bags that do not hold together.

use sha2::{Digest, Sha512};
use trug_tests::raw_zip::Entry;

use crate::bag::{BAGIT, Bag, Case, DEVICE, hex, info, manifest, sha256, spoilt};

pub fn bags() -> Vec<Case> {
    pub const INFO: &str = "Trug-Bundle-Format: 1.0\nTrug-Bundle-For: me\n";
    vec![
        ("no bagit.txt", "not-a-bundle", "no bundle", spoilt(|e| drop(e.remove(1)))),
        ("no bag-info.txt", "bundle-bag", "is missing", spoilt(|e| drop(e.remove(0)))),
        ("a bag of somebody else's", "not-a-bundle", "no bundle", info("Source-Organization: another\n")),
        (
            "a version of BagIt to come",
            "bundle-bag",
            "other than 0.97 and 1.0",
            Bag { bagit: BAGIT.replace("1.0", "2.0"), ..Bag::good() }.write(),
        ),
        (
            "another encoding",
            "bundle-bag",
            "not in UTF-8",
            Bag { bagit: BAGIT.replace("UTF-8", "UTF-16"), ..Bag::good() }.write(),
        ),
        (
            "a newer format",
            "bundle-newer",
            "use a newer Trug",
            info("Trug-Bundle-Format: 2.0\nTrug-Bundle-For: me\n"),
        ),
        (
            "a format that is none",
            "bundle-bag",
            "a format that is none",
            info("Trug-Bundle-Format: one\nTrug-Bundle-For: me\n"),
        ),
        ("for nobody", "bundle-bag", "whom the bundle is for", info("Trug-Bundle-Format: 1.0\n")),
        (
            "for everybody",
            "bundle-bag",
            "neither me nor someone",
            info("Trug-Bundle-Format: 1.0\nTrug-Bundle-For: all\n"),
        ),
        (
            "said twice",
            "bundle-bag",
            "says something twice",
            info(&format!("{INFO}Trug-Bundle-For: someone\n")),
        ),
        ("no label", "bundle-bag", "a line without a label", info(&format!("{INFO}nothing\n"))),
        (
            "a wrong Oxum",
            "bundle-bag",
            "does not tell what is there",
            info(&format!("{INFO}Payload-Oxum: 1.1\n")),
        ),
        (
            "a date that is none",
            "bundle-bag",
            "a date that is none",
            info(&format!("{INFO}Bagging-Date: 2026-13-01\n")),
        ),
        ("no manifest", "bundle-bag", "is missing", spoilt(|e| drop(e.remove(3)))),
        ("no tag manifest", "bundle-bag", "is missing", spoilt(|e| drop(e.remove(4)))),
        (
            "only an old manifest",
            "bundle-name",
            "does not belong",
            spoilt(|e| e[3].name = b"bundle/manifest-md5.txt".to_vec()),
        ),
        ("a file missing from the manifest", "bundle-bag", "leaves out a file", manifest(|_| String::new())),
        (
            "a file missing from the bag",
            "bundle-bag",
            "lists a file that is not there",
            manifest(|text| text.clone() + &text.replace("00000a", "00000b")),
        ),
        ("a file listed twice", "bundle-bag", "lists a file twice", manifest(|text| text.repeat(2))),
        (
            "a path in the manifest",
            "bundle-bag",
            "does not belong",
            manifest(|text| text.replace("data/changes/", "data/../")),
        ),
        (
            "a hash that is none",
            "bundle-bag",
            "a hash that is none",
            manifest(|text| text.replacen(|c: char| c.is_ascii_hexdigit(), "x", 3)),
        ),
        (
            "another hash",
            "bundle-damaged",
            "is damaged",
            manifest(|text| format!("{}{}", "0".repeat(64), &text[64..])),
        ),
        (
            "a line without a name",
            "bundle-bag",
            "a line without a name",
            manifest(|text| format!("{}\n", &text[..64])),
        ),
        (
            "a tag manifest that leaves out",
            "bundle-bag",
            "that it must list",
            Bag { tags: |_| String::new(), ..Bag::good() }.write(),
        ),
        (
            "a tag altered afterwards",
            "bundle-damaged",
            "is damaged",
            spoilt(|e| e[0].content.extend(b"Contact-Name: x\n")),
        ),
        ("a payload altered afterwards", "bundle-damaged", "is damaged", spoilt(|e| e[2].content[5] ^= 1)),
        (
            "tags that are not text",
            "bundle-bag",
            "is not text",
            spoilt(|e| e[1].content = b"BagIt-Version: \xff".to_vec()),
        ),
        (
            "another sha512",
            "bundle-damaged",
            "is damaged",
            spoilt(|e| {
                let wrong = hex(&Sha512::digest(b"something else"));
                e.push(Entry::new(
                    "bundle/manifest-sha512.txt",
                    format!("{wrong}  data/changes/{DEVICE}.jsonl\n"),
                ));
            }),
        ),
        ("a picture that is none", "bundle-bag", "is no picture of its kind", {
            let mut bag = Bag::good();
            let content = b"MZ, and a program".to_vec();
            bag.payload.insert(format!("data/photos/{}.jpg", sha256(&content)), content);
            bag.write()
        }),
        ("a picture under another's name", "bundle-damaged", "is damaged", {
            let mut bag = Bag::good();
            bag.payload.insert(
                format!("data/photos/{}.jpg", "0".repeat(64)),
                b"\xff\xd8\xff\xe0 as JPEG begins".to_vec(),
            );
            bag.write()
        }),
    ]
}
