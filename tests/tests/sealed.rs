//! Sealing against others: Debian's age both ways, OpenSSL on signatures, and every test vector that the `age` crate ships.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::fs::{self, File};
use std::io::{Cursor, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::{TempDir, tempdir};
use trug::seal::{Identity, Passphrase, Recipient, SealError, To, With, seal, unseal};
use trug_tests::{crate_folder, run, skipped, tool};

const PASSPHRASE: &str = "three dry words";

/// A little more than one piece of an age file.
fn plain() -> Vec<u8> {
    (0_u32..70_000).flat_map(u32::to_le_bytes).take(70_000).collect()
}

/// A folder with an identity of ours in it.
fn desk() -> (TempDir, Identity) {
    let dir = tempdir().unwrap();
    let identity = Identity::draw().unwrap();
    identity.write(&dir.path().join("identity.secret")).unwrap();
    (dir, identity)
}

fn sealed(path: &Path, to: To<'_>) {
    let mut sealer = seal(File::create(path).unwrap(), to).unwrap();
    sealer.write_all(&plain()).unwrap();
    sealer.finish().unwrap();
}

fn opened(path: &Path, with: With<'_>) -> Result<Vec<u8>, SealError> {
    let mut all = Vec::new();
    unseal(File::open(path).unwrap(), with)?.read_to_end(&mut all).unwrap();
    Ok(all)
}

/// age asks for passphrases at a terminal alone, so it is given one.
fn typed(dir: &Path, command: &str, keys: &str) -> Option<()> {
    let mut script = tool("script")?;
    script.current_dir(dir).args(["-qec", command, "/dev/null"]);
    let mut child = script.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let mut keyboard = child.stdin.take().unwrap();
    keyboard.write_all(keys.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{command}: {}", String::from_utf8_lossy(&output.stdout));
    drop(keyboard);
    Some(())
}

#[test]
fn age_opens_what_is_sealed_to_its_keys_and_ours() {
    let (Some(mut keygen), Some(_)) = (tool("age-keygen"), tool("age")) else { return };
    let (dir, identity) = desk();
    let theirs = dir.path().join("theirs");
    run(keygen.arg("-o").arg(&theirs));
    let public = run(Command::new("age-keygen").arg("-y").arg(&theirs));
    let keys = [public.parse().unwrap(), Recipient::try_from(&identity.public().unwrap()).unwrap()];
    let file = dir.path().join("sealed.age");
    sealed(&file, To::Keys(&keys));
    // Their identity, and ours in the very file that the notebook keeps.
    for name in ["theirs", "identity.secret"] {
        let output =
            Command::new("age").arg("-d").arg("-i").arg(dir.path().join(name)).arg(&file).output().unwrap();
        assert!(output.status.success(), "{name}: {}", String::from_utf8_lossy(&output.stderr));
        assert!(output.stdout == plain(), "{name}");
    }
    let file_says = fs::read_to_string(dir.path().join("identity.secret")).unwrap();
    let of_ours = run(Command::new("age-keygen").arg("-y").arg(dir.path().join("identity.secret")));
    assert_eq!(of_ours.trim(), identity.public().unwrap().age());
    assert!(file_says.contains(of_ours.trim()));
}

#[test]
fn what_age_seals_to_our_key_opens() {
    if tool("age").is_none() {
        return;
    }
    let (dir, identity) = desk();
    let key = identity.public().unwrap().age();
    fs::write(dir.path().join("plain"), plain()).unwrap();
    for armour in [&["-e"][..], &["-a"]] {
        let file = dir.path().join("sealed.age");
        run(Command::new("age").current_dir(dir.path()).args(armour).args([
            "-r",
            &key,
            "-o",
            "sealed.age",
            "plain",
        ]));
        assert!(opened(&file, With::Identity(&identity)).unwrap() == plain(), "{armour:?}");
        let other = Identity::draw().unwrap();
        assert!(matches!(opened(&file, With::Identity(&other)), Err(SealError::NotForUs)));
    }
}

#[test]
fn passphrases_go_both_ways() {
    if tool("age").is_none() {
        return;
    }
    let (dir, identity) = desk();
    let passphrase = Passphrase::new(PASSPHRASE).unwrap();
    let file = dir.path().join("ours.age");
    sealed(&file, To::Passphrase(&passphrase));
    let keys = format!("{PASSPHRASE}\n");
    let Some(()) = typed(dir.path(), "age -d -o opened ours.age", &keys) else { return };
    assert!(fs::read(dir.path().join("opened")).unwrap() == plain());
    fs::write(dir.path().join("plain"), plain()).unwrap();
    typed(dir.path(), "age -p -o theirs.age plain", &keys.repeat(2));
    let theirs = dir.path().join("theirs.age");
    assert!(opened(&theirs, With::Passphrase(&passphrase)).unwrap() == plain());
    let wrong = Passphrase::new("three wet words").unwrap();
    assert!(matches!(opened(&theirs, With::Passphrase(&wrong)), Err(SealError::WrongPassphrase)));
    assert!(matches!(opened(&theirs, With::Identity(&identity)), Err(SealError::NeedsPassphrase)));
}

#[test]
fn openssl_believes_our_signatures() {
    let Some(mut openssl) = tool("openssl") else { return };
    let (dir, identity) = desk();
    let text = "0123456789abcdef  data/changes\n";
    let signature = identity.sign(text).unwrap();
    let half = &identity.public().unwrap().bytes()[32..];
    // SubjectPublicKeyInfo of an Ed25519 key (RFC 8410).
    let head = [0x30, 0x2a, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x03, 0x21, 0x00];
    fs::write(dir.path().join("key"), [&head[..], half].concat()).unwrap();
    fs::write(dir.path().join("text"), format!("trug bundle 1\n{text}")).unwrap();
    let figures = signature.ed25519.as_bytes().chunks(2);
    let bytes: Vec<u8> =
        figures.map(|two| u8::from_str_radix(std::str::from_utf8(two).unwrap(), 16).unwrap()).collect();
    fs::write(dir.path().join("signature"), bytes).unwrap();
    openssl.current_dir(dir.path()).args(["pkeyutl", "-verify", "-rawin", "-pubin", "-keyform", "DER"]);
    run(openssl.args(["-inkey", "key", "-sigfile", "signature", "-in", "text"]));
}

/// One of the crate's test vectors.
struct Vector {
    expect: String,
    payload: Option<String>,
    identities: Vec<String>,
    passphrase: Option<String>,
    file: Vec<u8>,
}

impl Vector {
    fn read(bytes: &[u8]) -> Self {
        let end = bytes.windows(2).position(|two| two == b"\n\n").unwrap();
        let head = std::str::from_utf8(&bytes[..end]).unwrap();
        let all = |name: &str| -> Vec<String> {
            let of_name =
                |line: &str| line.split_once(": ").filter(|(n, _)| *n == name).map(|(_, v)| v.to_owned());
            head.lines().filter_map(of_name).collect()
        };
        let mut file = bytes[end + 2..].to_vec();
        if all("compressed").first().is_some_and(|how| how == "zlib") {
            let packed = std::mem::take(&mut file);
            flate2::read::ZlibDecoder::new(&packed[..]).read_to_end(&mut file).unwrap();
        }
        let first = |name: &str| all(name).first().cloned();
        Self {
            expect: first("expect").unwrap(),
            payload: first("payload"),
            identities: all("identity"),
            passphrase: first("passphrase"),
            file,
        }
    }

    /// What comes of it here, in the vectors' own words; plain bytes read before damage showed count, too.
    fn outcome(&self) -> (&'static str, Option<String>) {
        let dir = tempdir().unwrap();
        let path = dir.path().join("identity.secret");
        let mut tried = Vec::new();
        for identity in &self.identities {
            fs::write(&path, identity).unwrap();
            let identity = Identity::read(&path).unwrap().unwrap();
            tried.push(unseal(Cursor::new(&self.file), With::Identity(&identity)));
        }
        if let Some(passphrase) = &self.passphrase {
            let passphrase = Passphrase::new(passphrase).unwrap();
            tried.push(unseal(Cursor::new(&self.file), With::Passphrase(&passphrase)));
        }
        if tried.is_empty() {
            // Refused whoever tries.
            tried.push(unseal(Cursor::new(&self.file), With::Identity(&Identity::draw().unwrap())));
        }
        let best = tried.iter().position(Result::is_ok).unwrap_or(tried.len() - 1);
        let mut reader = match tried.swap_remove(best) {
            Ok(reader) => reader,
            Err(SealError::NotForUs | SealError::WrongPassphrase) => return ("no match", None),
            Err(SealError::Disk(error)) => panic!("{error}"),
            Err(_) => return ("refused", None),
        };
        let mut read = Vec::new();
        let well = reader.read_to_end(&mut read);
        let hash = trug::photo::PhotoHash::of_reader(&read[..]).unwrap().to_string();
        (if well.is_ok() { "success" } else { "payload failure" }, Some(hash))
    }
}

#[test]
fn every_vector_of_the_age_crate_does_as_it_is_marked() {
    let folder = crate_folder("age").join("tests/testdata/testkit");
    let Ok(vectors) = fs::read_dir(&folder) else {
        return skipped("the age crate came without its test vectors");
    };
    let (mut seen, mut wrong) = (0, Vec::new());
    for entry in vectors {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        let vector = Vector::read(&fs::read(&path).unwrap());
        let (came, hash) = vector.outcome();
        let expected = match vector.expect.as_str() {
            // Damaged armour may show only when the armoured payload is read.
            "armor failure" if came == "payload failure" => "payload failure",
            // A stanza that asks for a passphrase by another name is nobody's: not a key's, nor a passphrase's.
            "header failure" | "armor failure" | "HMAC failure" => "refused",
            other => other,
        };
        let shows = ["success", "payload failure"].contains(&vector.expect.as_str());
        if came != expected || (shows && hash != vector.payload) {
            wrong.push(format!("{name}: marked {}, came to {came}", vector.expect));
        }
        seen += 1;
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert_eq!(seen, 123, "version 0.12.1 ships as many");
}
