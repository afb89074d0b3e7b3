//! Why signs are refused.

/// A sign that this taxon does not show.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SignError {
    /// No sign of the pack has this id.
    #[error("there is no sign `{id}`{hint}")]
    Unknown {
        /// The id as given.
        id: String,
        /// `, did you mean …?`, or where to look.
        hint: String,
    },
    /// It is a sign of other fungi.
    #[error("`{id}` is a sign of {of}; the form of {taxon} is {form}: look among its own signs")]
    OtherForm {
        /// The id as given.
        id: String,
        /// The forms that show it, or the taxa, as words.
        of: String,
        /// The taxon's name.
        taxon: String,
        /// The form of the taxon.
        form: String,
    },
    /// It is a sign of its form, and of something that this taxon has not.
    #[error("{taxon} never shows `{id}`: look among its own signs")]
    NotShown {
        /// The id as given.
        id: String,
        /// The taxon's name.
        taxon: String,
    },
}

impl SignError {
    /// A stable code for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Unknown { .. } => "unknown-sign",
            Self::NotShown { .. } => "sign-not-shown",
            Self::OtherForm { .. } => "sign-of-another-form",
        }
    }

    /// What went into its words, by name.
    #[must_use]
    pub fn arguments(&self) -> Vec<(&'static str, String)> {
        match self {
            Self::Unknown { id, hint } => vec![("id", id.clone()), ("hint", hint.clone())],
            Self::OtherForm { id, of, taxon, form } => {
                vec![("id", id.clone()), ("of", of.clone()), ("taxon", taxon.clone()), ("form", form.clone())]
            }
            Self::NotShown { id, taxon } => vec![("id", id.clone()), ("taxon", taxon.clone())],
        }
    }
}
