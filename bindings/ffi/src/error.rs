//! The one error that phones see: a code to put words to, what went into it, and plain words where nobody has any yet.

use trug::error::Error;

/// Why a call did not do as asked. Whatever it was, nothing that had been acknowledged is lost. Carries no place and no note.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, uniffi::Error)]
pub enum TrugError {
    /// It was said why.
    #[error("{fallback}")]
    Said {
        /// The core's stable code, in kebab-case.
        code: String,
        /// What went into its words, by name.
        arguments: Vec<Argument>,
        /// The core's own words, in English: what is wrong and what to do.
        fallback: String,
    },
}

/// Something that went into the words of an error.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Argument {
    /// Its name.
    pub name: String,
    /// Its value, as text.
    pub value: String,
}

impl TrugError {
    /// The code.
    #[must_use]
    pub fn code(&self) -> &str {
        let Self::Said { code, .. } = self;
        code
    }
}

impl From<Error> for TrugError {
    fn from(error: Error) -> Self {
        let argument = |(name, value): (&str, String)| Argument { name: name.to_owned(), value };
        Self::Said {
            code: error.code().to_owned(),
            arguments: error.arguments().into_iter().map(argument).collect(),
            fallback: error.to_string(),
        }
    }
}

macro_rules! by_way_of_the_notebooks {
    ($($error:ty),+ $(,)?) => {
        $(impl From<$error> for TrugError {
            fn from(error: $error) -> Self {
                Error::from(error).into()
            }
        })+
    };
}

by_way_of_the_notebooks!(
    trug::code::CodeError,
    trug::area::AreaError,
    trug::key::NotAnObserverError,
    trug::find::FieldError,
    trug::help::HelpError,
    trug::id::NotAnId,
    trug::key::stream::NotEvidence,
    trug::pack::PackError,
    trug::place::Error,
    trug::progress::Stopped,
    trug::seal::SealError,
);

/// A text that should be a key.
impl From<trug::seal::NotAKey> for TrugError {
    fn from(error: trug::seal::NotAKey) -> Self {
        Self::Said { code: error.code().to_owned(), arguments: Vec::new(), fallback: error.to_string() }
    }
}

/// A word that is on none of the core's lists.
impl From<trug::words::UnknownWord> for TrugError {
    fn from(error: trug::words::UnknownWord) -> Self {
        trug::find::FieldError { field: error.what, why: error.to_string() }.into()
    }
}

impl From<trug::photo::NotAHash> for TrugError {
    fn from(error: trug::photo::NotAHash) -> Self {
        trug::find::FieldError { field: "hash", why: error.to_string() }.into()
    }
}

impl From<trug::photo::NotARole> for TrugError {
    fn from(error: trug::photo::NotARole) -> Self {
        trug::find::FieldError { field: "role", why: error.to_string() }.into()
    }
}
