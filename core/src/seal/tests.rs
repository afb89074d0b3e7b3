//! Sealing from within: round trips, damage, cost, keys. What age itself says of our files is in the outside tests.

use std::io::{Cursor, Read, Seek, SeekFrom, Write};

use age::armor::{ArmoredWriter, Format};
use proptest::prelude::*;

use super::*;

/// Bytes of one piece of an age file.
const PIECE: usize = 64 * 1024;
/// Secret 07 × 32. Its texts by Python 3 (`hmac`, Bech32 of BIP 173) and OpenSSL 3 (`openssl pkey -pubout`); `age-keygen -y`
/// gives the same `age1…`.
const SECRET: &str = "AGE-SECRET-KEY-1QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSWPC8QURSKMP32K";
const AGE: &str = "age1zwlyl6h27gzv0lfntr7fcqrjrzqazap8sy5zylkxwneh7llf0dksu37mwt";
const PUBLIC: &str = "trug1zwlyl6h27gzv0lfntr7fcqrjrzqazap8sy5zylkxwneh7llf0dknv03mvc9dye4733rqglrja4u5nwmpvjy6ux0vfxkl4pcdkh08d0s6y4twc";
/// `openssl pkeyutl -sign -rawin` over "trug bundle 1\nhello\n".
const SIGNATURE: &str = "daf4ee16057e3d3e892729b9623fafc9e8373a7a93f3832bb805c01a98344dedffdcb73832d6d427de0e4e035e8515bc48a15ff81405629e11147e72e1937f03";

fn identity() -> Identity {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("identity.secret");
    std::fs::write(&path, format!("# a remark\n\n{SECRET}\n")).unwrap();
    Identity::read(&path).unwrap().unwrap()
}

fn sealed(plain: &[u8], to: &Identity) -> Vec<u8> {
    let recipient = Recipient::try_from(&to.public().unwrap()).unwrap();
    let mut sealer = seal(Vec::new(), To::Keys(&[recipient])).unwrap();
    sealer.write_all(plain).unwrap();
    sealer.finish().unwrap()
}

fn armoured(sealed: &[u8]) -> Vec<u8> {
    let mut writer = ArmoredWriter::wrap_output(Vec::new(), Format::AsciiArmor).unwrap();
    writer.write_all(sealed).unwrap();
    writer.finish().unwrap()
}

fn plain(length: usize) -> Vec<u8> {
    (0_u32..).map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes()[0]).take(length).collect()
}

fn opened(sealed: &[u8], with: With<'_>) -> Result<Vec<u8>, SealError> {
    let mut all = Vec::new();
    let mut reader = unseal(Cursor::new(sealed), with)?;
    reader.read_to_end(&mut all).map_err(error::told_by)?;
    Ok(all)
}

#[test]
fn keys_and_signatures_are_those_of_the_standards() {
    let identity = identity();
    let public = identity.public().unwrap();
    assert_eq!((public.age().as_str(), public.to_string().as_str()), (AGE, PUBLIC));
    assert_eq!(public.fingerprint(), "46547 96915 31259 80032 15647 93505");
    assert_eq!(identity.sign("hello\n").unwrap().ed25519, SIGNATURE);
    assert_eq!(format!("{identity:?}"), "Identity(hidden)");
    assert_eq!(format!("{:?}", Passphrase::new("elder").unwrap()), "Passphrase(hidden)");
}

#[test]
fn what_was_written_to_the_file_reads_the_same() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("identity.secret");
    assert!(Identity::read(&path).unwrap().is_none());
    let drawn = Identity::draw().unwrap();
    drawn.write(&path).unwrap();
    let read = Identity::read(&path).unwrap().unwrap();
    assert_eq!(read.public().unwrap(), drawn.public().unwrap());
    assert_ne!(Identity::draw().unwrap().public().unwrap(), drawn.public().unwrap());
}

#[test]
fn a_slip_in_a_key_is_noticed() {
    assert_eq!(format!(" {PUBLIC}\n").parse::<PublicKey>().unwrap().to_string(), PUBLIC);
    assert_eq!(AGE.parse::<PublicKey>(), Err(NotAKey::SealsOnly));
    assert!(AGE.parse::<Recipient>().is_ok() && PUBLIC.parse::<Recipient>().is_ok());
    for at in 0..PUBLIC.len() {
        let mut slip = PUBLIC.as_bytes().to_vec();
        slip[at] = if slip[at] == b'q' { b'p' } else { b'q' };
        assert_eq!(String::from_utf8(slip).unwrap().parse::<PublicKey>(), Err(NotAKey::Text), "at {at}");
    }
    for text in ["", "trug1", "age1", SECRET, &PUBLIC[..PUBLIC.len() - 1], &format!("{PUBLIC}q")] {
        assert!(text.parse::<PublicKey>().is_err() && text.parse::<Recipient>().is_err(), "{text}");
    }
    // A signing half of a point of small order would accept one signature for many texts.
    let weak = [identity().public().unwrap().bytes()[..32].to_vec(), vec![0; 32]].concat();
    let weak = key::written(bech32::Hrp::parse_unchecked("trug"), &weak);
    assert_eq!(weak.parse::<PublicKey>(), Err(NotAKey::Text));
}

#[test]
fn a_signature_holds_for_one_text_and_one_key() {
    let (ours, theirs) = (identity(), Identity::draw().unwrap());
    let (key, other) = (ours.public().unwrap(), theirs.public().unwrap());
    let good = ours.sign("a bag").unwrap();
    let by = |text, signature: &Signature| verify(text, signature, [(&other, "them"), (&key, "us")]);
    assert_eq!(by("a bag", &good), Some("us"));
    assert_eq!(by("a bug", &good), None);
    assert_eq!(by("a bag", &Signature { key: other, ..good.clone() }), None);
    assert_eq!(verify("a bag", &good, [(&other, ())]), None);
    for at in 0..good.ed25519.len() {
        let mut figures = good.ed25519.clone().into_bytes();
        figures[at] = if figures[at] == b'0' { b'1' } else { b'0' };
        let bad = Signature { key, ed25519: String::from_utf8(figures).unwrap() };
        assert_eq!(by("a bag", &bad), None, "at {at}");
    }
    for figures in ["", "00", &"g".repeat(128), &"é".repeat(64), &"+1".repeat(64)] {
        assert!(!Signature { key, ed25519: figures.to_owned() }.holds("a bag"), "{figures}");
    }
    let text = serde_json::to_string(&good).unwrap();
    assert_eq!(serde_json::from_str::<Signature>(&text).unwrap(), good);
}

#[test]
fn only_those_it_is_sealed_to_open_it() {
    let (ours, theirs) = (identity(), Identity::draw().unwrap());
    let both: Vec<Recipient> =
        [&ours, &theirs].iter().map(|one| Recipient::try_from(&one.public().unwrap()).unwrap()).collect();
    let mut sealer = seal(Vec::new(), To::Keys(&both)).unwrap();
    sealer.write_all(b"elder").unwrap();
    let file = sealer.finish().unwrap();
    for one in [&ours, &theirs] {
        assert_eq!(opened(&file, With::Identity(one)).unwrap(), b"elder");
    }
    let stranger = Identity::draw().unwrap();
    assert!(matches!(opened(&file, With::Identity(&stranger)), Err(SealError::NotForUs)));
    let passphrase = Passphrase::new("elder").unwrap();
    assert!(matches!(opened(&file, With::Passphrase(&passphrase)), Err(SealError::NotForUs)));
    assert!(matches!(seal(Vec::new(), To::Keys(&[])), Err(SealError::NoRecipient)));
}

#[test]
fn a_passphrase_opens_what_it_sealed_and_no_other_does() {
    let passphrase = Passphrase::new("three dry words\r\n").unwrap();
    let mut sealer = seal(Vec::new(), To::Passphrase(&passphrase)).unwrap();
    sealer.write_all(b"elder").unwrap();
    let file = sealer.finish().unwrap();
    assert_eq!(
        opened(&file, With::Passphrase(&Passphrase::new("three dry words").unwrap())).unwrap(),
        b"elder"
    );
    let other = Passphrase::new("three wet words").unwrap();
    assert!(matches!(opened(&file, With::Passphrase(&other)), Err(SealError::WrongPassphrase)));
    assert!(matches!(opened(&file, With::Identity(&identity())), Err(SealError::NeedsPassphrase)));
    assert!(matches!(Passphrase::new("\n"), Err(SealError::NoPassphrase)));
    // 2¹⁹ would take 512 MiB: refused before it is tried.
    let header = String::from_utf8_lossy(&file).find(" 17\n").unwrap();
    let mut costly = file.clone();
    costly[header + 2] = b'9';
    let begun = std::time::Instant::now();
    assert!(matches!(opened(&costly, With::Passphrase(&passphrase)), Err(SealError::TooCostly)));
    assert!(begun.elapsed().as_millis() < 500);
}

#[test]
fn what_is_not_sealed_is_told_apart() {
    let identity = identity();
    for plain in
        [&b""[..], b"PK\x03\x04", b"age-encryption.or", b"-----BEGIN PGP MESSAGE-----\n", &[b'\n'; 5000]]
    {
        assert!(!is_sealed(plain));
        assert!(matches!(opened(plain, With::Identity(&identity)), Err(SealError::NotSealed)));
    }
    let file = sealed(b"elder", &identity);
    let newer = [b"age-encryption.org/v2\n".as_slice(), &file[22..]].concat();
    assert!(matches!(opened(&newer, With::Identity(&identity)), Err(SealError::Newer)));
    let letter = [b" \r\n\n".as_slice(), &armoured(&file), b"\n"].concat();
    assert!(is_sealed(&letter));
    assert_eq!(opened(&letter, With::Identity(&identity)).unwrap(), b"elder");
}

/// A source without end, that counts what is asked of it.
struct Endless<'a>(u64, &'a [u8], &'a std::cell::Cell<u64>);

impl Read for Endless<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        for byte in buffer.iter_mut() {
            let first = b"age-encryption.org/v1\n".get(usize::try_from(self.0).unwrap());
            *byte = *first.unwrap_or(&self.1[usize::try_from(self.0).unwrap() % self.1.len()]);
            self.0 += 1;
        }
        self.2.set(self.2.get() + buffer.len() as u64);
        Ok(buffer.len())
    }
}

impl Seek for Endless<'_> {
    fn seek(&mut self, to: SeekFrom) -> std::io::Result<u64> {
        let SeekFrom::Start(at) = to else { panic!("not needed") };
        self.0 = at;
        Ok(at)
    }
}

#[test]
fn a_header_without_end_is_not_read_to_its_end() {
    let identity = identity();
    for pattern in ["-> X25519 AAAA\nAAAA\n", "A", "\n", "-> a\n"] {
        let asked = std::cell::Cell::new(0);
        let endless = Endless(0, pattern.as_bytes(), &asked);
        let error = unseal(endless, With::Identity(&identity)).unwrap_err();
        assert!(matches!(error, SealError::TooCostly | SealError::Damaged), "{pattern:?}: {error}");
        assert!(asked.get() < 200_000, "{pattern:?}: {}", asked.get());
    }
}

#[test]
fn wherever_it_is_cut_or_altered_nothing_false_is_read() {
    let identity = identity();
    let plain = plain(3 * PIECE + 100);
    let file = sealed(&plain, &identity);
    let cuts = (0..400).chain((1..12).map(|n| n * file.len() / 12)).chain(file.len() - 120..file.len());
    for cut in cuts {
        let mut all = Vec::new();
        let Ok(mut reader) = unseal(Cursor::new(&file[..cut]), With::Identity(&identity)) else { continue };
        let error = reader.read_to_end(&mut all).expect_err(&format!("cut at {cut}"));
        assert!(matches!(SealError::behind(&error), Some(SealError::Damaged)), "cut at {cut}: {error}");
        assert!(plain.starts_with(&all) && all.len() % PIECE == 0, "cut at {cut}");
        assert!(reader.read(&mut [0; 10]).is_err(), "it stays so");
    }
    for at in (0..300).chain((1..40).map(|n| n * file.len() / 40)) {
        let mut altered = file.clone();
        altered[at] ^= 1;
        match unseal(Cursor::new(&altered), With::Identity(&identity)) {
            Ok(mut reader) => {
                let mut all = Vec::new();
                reader.read_to_end(&mut all).expect_err(&format!("altered at {at}"));
                assert!(plain.starts_with(&all), "altered at {at}");
            }
            Err(error) => assert!(
                matches!(
                    error,
                    SealError::Damaged | SealError::NotSealed | SealError::Newer | SealError::NotForUs
                ),
                "altered at {at}: {error}"
            ),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Read and sought through like any file, at the awkward lengths above all.
    #[test]
    fn seeking_and_reading_is_as_in_the_plain_file(
        pieces in 0_usize..4,
        beyond in prop_oneof![Just(0_usize), Just(1), 2_usize..PIECE, Just(PIECE - 1)],
        armour in any::<bool>(),
        steps in prop::collection::vec((0_u8..4, any::<prop::sample::Index>(), 0_usize..100_000), 1..24),
    ) {
        let identity = identity();
        let plain = plain(pieces * PIECE + beyond);
        let file = sealed(&plain, &identity);
        let file = if armour { armoured(&file) } else { file };
        let mut reader = unseal(Cursor::new(file), With::Identity(&identity)).unwrap();
        let mut model = Cursor::new(&plain);
        for (way, index, length) in steps {
            // Sometimes beyond the end.
            let place = index.index(plain.len() + PIECE * 2);
            let to = match way {
                0 => SeekFrom::Start(place as u64),
                1 => SeekFrom::End(-(place.min(plain.len()) as u64).cast_signed()),
                2 => SeekFrom::Current((place as u64).cast_signed() - model.position().cast_signed()),
                _ => SeekFrom::Current(0),
            };
            prop_assert_eq!(reader.seek(to).unwrap(), model.seek(to).unwrap());
            let (mut read, mut expected) = (Vec::new(), Vec::new());
            (&mut reader).take(length as u64).read_to_end(&mut read).unwrap();
            (&mut model).take(length as u64).read_to_end(&mut expected).unwrap();
            prop_assert!(read == expected, "{} and {} bytes", read.len(), expected.len());
        }
        prop_assert_eq!(reader.length().unwrap(), plain.len() as u64);
    }

    #[test]
    fn nonsense_never_panics(junk in prop::collection::vec(any::<u8>(), 0..600), begun in 0_u8..3) {
        let identity = identity();
        let file = sealed(b"elder", &identity);
        let start = match begun { 0 => Vec::new(), 1 => file[..200.min(file.len())].to_vec(), _ => armoured(&file)[..90].to_vec() };
        let _ = opened(&[start, junk.clone()].concat(), With::Identity(&identity));
        let _ = String::from_utf8_lossy(&junk).parse::<Recipient>();
    }
}
