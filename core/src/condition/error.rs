//! Why signs are refused.

/// A sign that this taxon does not show.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SignError {
    /// No sign of the pack has this id.
    #[error("there is no sign `{id}`{hint}: `trug condition signs` lists those there are")]
    Unknown {
        /// The id as given.
        id: String,
        /// `, did you mean …?`, or nothing.
        hint: String,
    },
    /// It is a sign of other fungi.
    #[error("`{id}` is a sign of {forms}, not of {taxon}: {own}{hint}")]
    OtherForm {
        /// The id as given.
        id: String,
        /// What shows it.
        forms: String,
        /// The taxon.
        taxon: String,
        /// The form of the taxon.
        own: String,
        /// `, did you mean …?`, or nothing.
        hint: String,
    },
}

impl SignError {
    /// A stable code for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Unknown { .. } => "unknown-sign",
            Self::OtherForm { .. } => "sign-of-another-form",
        }
    }
}
