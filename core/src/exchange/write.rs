//! Writing a bundle, entry by entry, in the order of their names: the same content gives the same bytes.

use std::fs::File;
use std::io::{self, BufReader, Read, Seek, Write};
use std::path::PathBuf;

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::about::{About, DECLARATION};
use super::held::Holdings;
use super::manifest::{self, Algorithm, Hashes};
use super::name::Name;
use crate::disk::FailsOnce;
use crate::id::DeviceId;
use crate::photo::{Format, PhotoHash};
use crate::seal::{To, seal};

/// The folder that the bag stands in.
const BASE: &str = "bundle/";

/// A photo that goes along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    /// The hash that it has.
    pub hash: PhotoHash,
    /// What kind of picture it is.
    pub format: Format,
    /// The file.
    pub file: PathBuf,
}

/// Where the changes come from. It is asked twice, and must say the same both times.
pub trait Source {
    /// The devices, in the order of their ids.
    fn devices(&self) -> Vec<DeviceId>;
    /// Gives out a device's changes, in order of stamps, each without its line end.
    ///
    /// # Errors
    /// Whatever reading them, or `each`, says.
    fn lines(&self, device: DeviceId, each: &mut dyn FnMut(&str) -> io::Result<()>) -> io::Result<()>;
}

/// Makes a signature's text.
pub type Sign<'a> = dyn Fn(&str) -> io::Result<String> + 'a;

/// What a bundle is made of.
pub struct Contents<'a> {
    /// What it says of itself.
    pub about: &'a About,
    /// The changes.
    pub source: &'a dyn Source,
    /// The photos, by hash.
    pub photos: &'a [Photograph],
    /// What the notebook that it comes from holds, if that is told.
    pub holds: Option<&'a Holdings>,
    /// Makes the text of the signature from that of the tag manifest, if it is to be signed.
    pub sign: Option<&'a Sign<'a>>,
}

/// Writes a bundle to a file. `step` is called often, and may stop it with an error.
///
/// # Errors
/// Whatever `out`, the photos' files or `step` say; [`io::ErrorKind::InvalidData`] if a photo has not the hash it should have.
pub fn write<W: Write + Seek>(
    out: W,
    contents: &Contents<'_>,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut out = FailsOnce::new(out);
    let done = fill(ZipWriter::new(&mut out), contents, step).map(drop);
    out.settle(done)
}

/// The same sealed, so that only those whom `to` names can open it.
///
/// # Errors
/// As [`write()`]; [`io::ErrorKind::InvalidData`] if nobody is named.
pub fn write_sealed<W: Write>(
    out: W,
    to: To<'_>,
    contents: &Contents<'_>,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<()> {
    let mut out = FailsOnce::new(out);
    let mut write = || {
        let zip = ZipWriter::new_stream(seal(&mut out, to)?);
        fill(zip, contents, step)?.into_inner().finish().map(drop)
    };
    let done = write();
    out.settle(done)
}

fn fill<W: Write + Seek>(
    mut zip: ZipWriter<W>,
    contents: &Contents<'_>,
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<W> {
    let Contents { about, source, photos, holds, sign } = *contents;
    let (list, bytes, files) = payload(source, photos, step)?;
    let info = about.write(bytes, files);
    let tag = |text: &str| {
        let mut hashes = Hashes::new(false);
        hashes.take(text.as_bytes());
        hashes.texts()
    };
    let [manifest, tags] = Algorithm::Sha256.files();
    let held = holds.map(serde_json::to_string).transpose()?;
    let held = held.as_deref().map(|text| (Name::Tag("holds.json"), text));
    let before = [(Name::Tag("bag-info.txt"), info.as_str()), (Name::Tag("bagit.txt"), DECLARATION)];
    let behind = [(manifest, list.as_str())];
    let tag_list: String = before
        .iter()
        .chain(&held)
        .chain(&behind)
        .map(|(name, text)| manifest::line(tag(text).short(), *name))
        .collect();
    let signature = sign.map(|sign| sign(&tag_list)).transpose()?;

    let small = |zip: &mut ZipWriter<W>, name: Name, text: &str| {
        start(zip, name, CompressionMethod::Deflated, text.len() as u64)?;
        zip.write_all(text.as_bytes())
    };
    for (name, text) in before {
        small(&mut zip, name, text)?;
    }
    for device in source.devices() {
        start(&mut zip, Name::Changes(device), CompressionMethod::Deflated, u64::MAX)?;
        source.lines(device, &mut |line| {
            zip.write_all(line.as_bytes())?;
            zip.write_all(b"\n")?;
            step()
        })?;
    }
    for photo in photos {
        let mut file = BufReader::new(File::open(&photo.file)?);
        start(
            &mut zip,
            Name::Photo(photo.hash, photo.format),
            CompressionMethod::Stored,
            file.get_ref().metadata()?.len(),
        )?;
        let mut hashing = Proving { hashes: Hashes::new(false), inner: &mut file };
        io::copy(&mut hashing, &mut zip)?;
        if hashing.hashes.texts().short() != photo.hash.to_string() {
            return Err(io::Error::new(io::ErrorKind::InvalidData, "a photo is damaged: check the notebook"));
        }
        step()?;
    }
    for (name, text) in held.into_iter().chain(behind) {
        small(&mut zip, name, text)?;
    }
    if let Some(signature) = signature {
        small(&mut zip, Name::Tag("signature.json"), &signature)?;
    }
    small(&mut zip, tags, &tag_list)?;
    Ok(zip.finish()?)
}

fn start<W: Write + Seek>(
    zip: &mut ZipWriter<W>,
    name: Name,
    method: CompressionMethod,
    bytes: u64,
) -> io::Result<()> {
    let options = SimpleFileOptions::default()
        .compression_method(method)
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644)
        // Of a length that is not known beforehand there may be more than 4 GiB.
        .large_file(bytes > u64::from(u32::MAX));
    Ok(zip.start_file(format!("{BASE}{name}"), options)?)
}

/// The manifest of the payload, its bytes and its files.
fn payload(
    source: &dyn Source,
    photos: &[Photograph],
    step: &mut dyn FnMut() -> io::Result<()>,
) -> io::Result<(String, u64, usize)> {
    let mut list = String::new();
    let mut bytes = 0;
    let devices = source.devices();
    for device in &devices {
        let mut hashes = Hashes::new(false);
        source.lines(*device, &mut |line| {
            hashes.take(line.as_bytes());
            hashes.take(b"\n");
            bytes += line.len() as u64 + 1;
            step()
        })?;
        list.push_str(&manifest::line(hashes.texts().short(), Name::Changes(*device)));
    }
    for photo in photos {
        bytes += photo.file.metadata()?.len();
        list.push_str(&manifest::line(&photo.hash.to_string(), Name::Photo(photo.hash, photo.format)));
    }
    Ok((list, bytes, devices.len() + photos.len()))
}

/// Hashes what is read through it.
struct Proving<'a, R> {
    hashes: Hashes,
    inner: &'a mut R,
}

impl<R: Read> Read for Proving<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(buffer)?;
        self.hashes.take(buffer.get(..read).unwrap_or_default());
        Ok(read)
    }
}
