//! Why something could not be sealed or opened.

use std::io;

/// Why a file could not be sealed, or a sealed one not opened.
#[derive(Debug, thiserror::Error)]
pub enum SealError {
    /// It does not begin as a sealed file does.
    #[error("the file is not sealed: open it as it is")]
    NotSealed,
    /// Sealed by a version of age that is not known here.
    #[error("the file is sealed in a form that this version does not know: use a newer Trug")]
    Newer,
    /// It needs a passphrase and none was given.
    #[error("the file is sealed with a passphrase: give it")]
    NeedsPassphrase,
    /// The passphrase is another.
    #[error("the passphrase is not the one that the file was sealed with: try again")]
    WrongPassphrase,
    /// None of its keys is ours.
    #[error(
        "the file is not sealed to this notebook: ask for one that is, and hand over the key that `trug bundle key` shows"
    )]
    NotForUs,
    /// Cut short, or altered.
    #[error("the sealed file is damaged or not all there: use another copy of it")]
    Damaged,
    /// Opening it would take more time or memory than any honest file asks for.
    #[error("opening the file would cost more than any honest file does: it is not opened")]
    TooCostly,
    /// A passphrase of nothing.
    #[error("the passphrase is empty: give one")]
    NoPassphrase,
    /// Sealed to nobody.
    #[error("nobody is named to seal it to: give a key or a passphrase")]
    NoRecipient,
    /// The notebook's own key cannot be read.
    #[error(
        "the notebook's key, identity.secret, is damaged: put it back from a backup, or move it away to begin with a new one"
    )]
    IdentityDamaged,
    /// The disk refused.
    #[error("could not seal or open the file: {0}")]
    Disk(#[source] io::Error),
}

impl SealError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotSealed => "not-sealed",
            Self::Newer => "newer-seal",
            Self::NeedsPassphrase => "needs-passphrase",
            Self::WrongPassphrase => "wrong-passphrase",
            Self::NotForUs => "not-for-us",
            Self::Damaged => "sealed-damaged",
            Self::TooCostly => "too-costly",
            Self::NoPassphrase => "no-passphrase",
            Self::NoRecipient => "no-recipient",
            Self::IdentityDamaged => "identity-damaged",
            Self::Disk(_) => "disk",
        }
    }

    /// What an error met while reading an unsealed file comes from: ours travel inside those of the standard library.
    #[must_use]
    pub fn behind(error: &io::Error) -> Option<&Self> {
        error.get_ref()?.downcast_ref()
    }
}

/// What bytes that do not decrypt, or that end too soon, show themselves as.
pub(super) fn told_by(error: io::Error) -> SealError {
    match error.kind() {
        io::ErrorKind::InvalidData | io::ErrorKind::UnexpectedEof => SealError::Damaged,
        _ => SealError::Disk(error),
    }
}

impl From<SealError> for io::Error {
    fn from(error: SealError) -> Self {
        match error {
            SealError::Disk(error) => error,
            other => Self::new(io::ErrorKind::InvalidData, other),
        }
    }
}
