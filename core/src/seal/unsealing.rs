//! Opening sealed files: read and sought through as if they were not sealed, with one piece of 64 KiB in memory.

use std::fmt;
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom};

use age::DecryptError;
use age::armor::ArmoredReader;
use age::stream::StreamReader;

use super::error::told_by;
use super::{Identity, Passphrase, SealError};

/// Passphrases may cost at most this to try: N = 2¹⁸ takes 256 MiB and about a second, and is what the age program uses.
const MOST_WORK: u8 = 18;
/// No honest header is longer: it is room for some 500 recipients, each of which costs a trial.
const LONGEST_HEADER: u64 = 64 * 1024;
/// Blank lines and the like before an armoured file.
const MOST_BLANKS: usize = 1024;
const MAGIC: &[u8] = b"age-encryption.org/";
const ARMOUR: &[u8] = b"-----BEGIN AGE ENCRYPTED FILE-----";
/// Columns of a full line of a stanza's body.
const FULL_LINE: usize = 64;

/// What to open with.
#[derive(Debug, Clone, Copy)]
pub enum With<'a> {
    /// A passphrase.
    Passphrase(&'a Passphrase),
    /// The notebook's own key.
    Identity(&'a Identity),
}

/// Tells whether bytes are the beginning of a sealed file, armoured or not. 1 KiB is always enough.
#[must_use]
pub fn is_sealed(beginning: &[u8]) -> bool {
    beginning.starts_with(MAGIC) || beginning.trim_ascii_start().starts_with(ARMOUR)
}

/// Opens a sealed file, armoured or not.
///
/// What is read later is proved piece by piece: a reader is never given a byte that the writer did not seal, but may hear of
/// damage only when it comes to it.
///
/// # Errors
/// [`SealError`] says why not.
pub fn unseal<R: Read + Seek>(mut source: R, with: With<'_>) -> Result<Unsealed<R>, SealError> {
    let start = begin(&mut source)?;
    let seek = |source: &mut R| source.seek(SeekFrom::Start(start)).map_err(SealError::Disk);
    seek(&mut source)?;
    vet_header(&mut ArmoredReader::new(&mut source))?;
    seek(&mut source)?;
    let sealed = age::Decryptor::new_buffered(ArmoredReader::new(source)).map_err(unreadable)?;
    let stream = match (sealed.is_scrypt(), with) {
        (true, With::Identity(_)) => return Err(SealError::NeedsPassphrase),
        (false, With::Passphrase(_)) => return Err(SealError::NotForUs),
        (true, With::Passphrase(passphrase)) => {
            let mut identity = age::scrypt::Identity::new(passphrase.0.clone());
            identity.set_max_work_factor(MOST_WORK);
            sealed.decrypt(std::iter::once(&identity as _))
        }
        (false, With::Identity(identity)) => sealed.decrypt(std::iter::once(&identity.opens as _)),
    };
    Ok(Unsealed { stream: stream.map_err(unreadable)?, at: 0, reached: 0, length: None, broken: false })
}

fn unreadable(error: DecryptError) -> SealError {
    match error {
        DecryptError::NoMatchingKeys => SealError::NotForUs,
        // Of a passphrase: with keys, one that does not fit is not an error but the next one's turn.
        DecryptError::DecryptionFailed | DecryptError::KeyDecryptionFailed => SealError::WrongPassphrase,
        DecryptError::ExcessiveWork { .. } => SealError::TooCostly,
        DecryptError::UnknownFormat => SealError::Newer,
        DecryptError::Io(error) => told_by(error),
        _ => SealError::Damaged,
    }
}

/// Where the sealed file begins: an armoured one may have blanks before it.
fn begin<R: Read + Seek>(source: &mut R) -> Result<u64, SealError> {
    let mut bytes = Vec::new();
    source.rewind().map_err(SealError::Disk)?;
    let most = (MOST_BLANKS + ARMOUR.len()) as u64;
    source.take(most).read_to_end(&mut bytes).map_err(SealError::Disk)?;
    if !is_sealed(&bytes) {
        return Err(SealError::NotSealed);
    }
    let armoured = !bytes.starts_with(MAGIC);
    Ok(if armoured { (bytes.len() - bytes.trim_ascii_start().len()) as u64 } else { 0 })
}

/// Looks at the header before the crate does: that it ends within reason, and that every stanza's body ends in a line that is
/// not full, as the format has it (the crate reads older files, too, that lack it).
fn vet_header(sealed: &mut impl BufRead) -> Result<(), SealError> {
    let mut header = sealed.take(LONGEST_HEADER);
    let mut line = Vec::new();
    let mut ended = true;
    loop {
        line.clear();
        header.read_until(b'\n', &mut line).map_err(told_by)?;
        let whole = line.strip_suffix(b"\n");
        if !whole.unwrap_or(&line).iter().all(|byte| (b' '..=b'~').contains(byte)) {
            return Err(SealError::Damaged); // the sealed part itself, or nonsense
        }
        if whole.is_none() {
            return Err(if header.limit() == 0 { SealError::TooCostly } else { SealError::Damaged });
        }
        if line.starts_with(b"---") {
            return if ended { Ok(()) } else { Err(SealError::Damaged) };
        }
        if line.starts_with(b"->") {
            if !ended {
                return Err(SealError::Damaged);
            }
            ended = false;
        } else {
            ended = line.len() <= FULL_LINE;
        }
    }
}

/// The plain bytes of a sealed file.
pub struct Unsealed<R: Read + Seek> {
    stream: StreamReader<ArmoredReader<BufReader<R>>>,
    /// Where the reader wants to be.
    at: u64,
    /// Where the stream is.
    reached: u64,
    length: Option<u64>,
    /// Damage was met: nothing more is read.
    broken: bool,
}

impl<R: Read + Seek> fmt::Debug for Unsealed<R> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Unsealed")
    }
}

impl<R: Read + Seek> Unsealed<R> {
    /// How many plain bytes there are. Proves the last piece, hence that the file was not cut short.
    ///
    /// # Errors
    /// [`SealError::Damaged`], inside.
    pub fn length(&mut self) -> io::Result<u64> {
        if let Some(length) = self.length {
            return Ok(length);
        }
        let length = self.stream.seek(SeekFrom::End(0));
        let length = self.prove(length)?;
        self.reached = length;
        self.length = Some(length);
        Ok(length)
    }

    fn prove<T>(&mut self, read: io::Result<T>) -> io::Result<T> {
        read.map_err(|error| {
            self.broken = true;
            told_by(error).into()
        })
    }
}

impl<R: Read + Seek> Read for Unsealed<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.broken {
            return Err(SealError::Damaged.into());
        }
        if buffer.is_empty() {
            return Ok(0);
        }
        if self.at != self.reached {
            // The stream must never be sent beyond its end.
            if self.at >= self.length()? {
                return Ok(0);
            }
            let sought = self.stream.seek(SeekFrom::Start(self.at));
            self.reached = self.prove(sought)?;
        }
        let read = self.stream.read(buffer);
        let read = self.prove(read)?;
        self.at += read as u64;
        self.reached = self.at;
        Ok(read)
    }
}

impl<R: Read + Seek> Seek for Unsealed<R> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let target = match to {
            SeekFrom::Start(at) => Some(at),
            SeekFrom::Current(by) => self.at.checked_add_signed(by),
            SeekFrom::End(by) => self.length()?.checked_add_signed(by),
        };
        self.at = target.ok_or_else(|| io::Error::from(io::ErrorKind::InvalidInput))?;
        Ok(self.at)
    }
}
