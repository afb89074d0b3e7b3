//! Sealing: whatever is written comes out as an age file.

use std::fmt;
use std::io::{self, Write};

use age::secrecy::SecretString;

use super::key::Recipient;
use super::{SealError, error::told_by};

/// How much work a passphrase costs us and everybody who guesses at it: N = 2¹⁷, with r = 8 some 128 MiB and half a second
/// (scrypt, RFC 7914). One doubling below what the age program uses, because phones have less memory to spare.
const WORK: u8 = 17;

/// A passphrase. Not shown by anything.
#[derive(Clone)]
pub struct Passphrase(pub(super) SecretString);

impl Passphrase {
    /// As it was typed, or as the first line of a file has it: line ends do not belong to it.
    ///
    /// # Errors
    /// [`SealError::NoPassphrase`] if nothing is left.
    pub fn new(text: &str) -> Result<Self, SealError> {
        let text = text.trim_end_matches(['\r', '\n']);
        if text.is_empty() {
            return Err(SealError::NoPassphrase);
        }
        Ok(Self(text.to_owned().into()))
    }
}

impl fmt::Debug for Passphrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Passphrase(hidden)")
    }
}

/// Who may open it.
#[derive(Debug, Clone, Copy)]
pub enum To<'a> {
    /// Whoever knows the passphrase.
    Passphrase(&'a Passphrase),
    /// The owners of these keys; each alone.
    Keys(&'a [Recipient]),
}

/// Takes the plain bytes. Must be told when all are written: see [`Sealer::finish`].
pub struct Sealer<W: Write>(age::stream::StreamWriter<W>);

impl<W: Write> fmt::Debug for Sealer<W> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Sealer")
    }
}

impl<W: Write> Write for Sealer<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

impl<W: Write> Sealer<W> {
    /// Ends the file; without this it is one that was cut short. Gives back what it was written to.
    ///
    /// # Errors
    /// Whatever the disk says.
    pub fn finish(self) -> io::Result<W> {
        self.0.finish()
    }
}

/// Begins a sealed file. Holds one piece of 64 KiB in memory, however much is written.
///
/// # Errors
/// [`SealError::NoRecipient`], [`SealError::Disk`].
pub fn seal<W: Write>(out: W, to: To<'_>) -> Result<Sealer<W>, SealError> {
    let by_passphrase;
    let recipients: Vec<&dyn age::Recipient> = match to {
        To::Passphrase(passphrase) => {
            let mut recipient = age::scrypt::Recipient::new(passphrase.0.clone());
            recipient.set_work_factor(WORK);
            by_passphrase = recipient;
            vec![&by_passphrase]
        }
        To::Keys(keys) => keys.iter().map(|key| &key.0 as &dyn age::Recipient).collect(),
    };
    let encryptor = age::Encryptor::with_recipients(recipients.into_iter()).map_err(|error| match error {
        age::EncryptError::Io(error) => told_by(error),
        _ => SealError::NoRecipient,
    })?;
    Ok(Sealer(encryptor.wrap_output(out).map_err(SealError::Disk)?))
}
