//! Why a bundle is refused. It carries no name or text out of the bundle: a hostile one could make them say anything.

/// Why a bundle was refused, whole: nothing of it was kept.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    /// It is something else, or cut short.
    #[error("the file is no bundle, or was cut short: get another copy of it")]
    NotABundle,
    /// A name that does not belong.
    #[error("entry {entry} of the bundle has a name that {why}: it was not written by Trug, do not open it")]
    Name {
        /// Which entry, from 1.
        entry: usize,
        /// What is wrong with it.
        why: &'static str,
    },
    /// Not a plain file.
    #[error("entry {entry} of the bundle is {what}: it was not written by Trug, do not open it")]
    Kind {
        /// Which entry, from 1.
        entry: usize,
        /// What it is.
        what: &'static str,
    },
    /// Two entries that would be one file.
    #[error("the bundle holds two entries of one name: it was not written by Trug, do not open it")]
    Twice,
    /// More than a bundle can hold.
    #[error("the bundle holds {what}: it was not written by Trug, do not open it")]
    TooLarge {
        /// Of what it has too much.
        what: &'static str,
    },
    /// Bytes that do not fit their checksum.
    #[error("{what} of the bundle is damaged: get another copy of it")]
    Damaged {
        /// Which part.
        what: &'static str,
    },
    /// The bag does not hold together.
    #[error("{what} of the bundle {why}: get another copy of it")]
    Bag {
        /// Which part.
        what: &'static str,
        /// What is wrong with it.
        why: &'static str,
    },
    /// A later version wrote it.
    #[error("the bundle is of format {found}, and this version reads up to {known}: use a newer Trug")]
    Newer {
        /// Its format.
        found: u32,
        /// The newest that this version reads.
        known: u32,
    },
    /// A line that is no change.
    #[error(
        "line {line} of a device's changes {why}: the bundle was damaged or altered, get another copy of it"
    )]
    Line {
        /// Which line, from 1.
        line: u64,
        /// What is wrong with it.
        why: &'static str,
    },
    /// Something that this bundle may not bring.
    #[error("the bundle {why}")]
    NotAllowed {
        /// What it tries.
        why: &'static str,
    },
    /// The file cannot be read.
    #[error("the bundle cannot be read: {0}")]
    Reading(#[source] std::io::Error),
}

impl Refused {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotABundle => "not-a-bundle",
            Self::Name { .. } => "bundle-name",
            Self::Kind { .. } => "bundle-entry",
            Self::Twice => "bundle-twice",
            Self::TooLarge { .. } => "bundle-too-large",
            Self::Damaged { .. } => "bundle-damaged",
            Self::Bag { .. } => "bundle-bag",
            Self::Newer { .. } => "bundle-newer",
            Self::Line { .. } => "bundle-line",
            Self::NotAllowed { .. } => "bundle-not-allowed",
            Self::Reading(_) => "bundle-unreadable",
        }
    }

    /// What went into its words, by name.
    #[must_use]
    pub fn arguments(&self) -> Vec<(&'static str, String)> {
        let text = |text: &str| text.to_owned();
        match self {
            Self::NotABundle | Self::Twice => Vec::new(),
            Self::Name { entry, why } => vec![("entry", entry.to_string()), ("why", text(why))],
            Self::Kind { entry, what } => vec![("entry", entry.to_string()), ("what", text(what))],
            Self::TooLarge { what } | Self::Damaged { what } => vec![("what", text(what))],
            Self::Bag { what, why } => vec![("what", text(what)), ("why", text(why))],
            Self::Newer { found, known } => vec![("found", found.to_string()), ("known", known.to_string())],
            Self::Line { line, why } => vec![("line", line.to_string()), ("why", text(why))],
            Self::NotAllowed { why } => vec![("why", text(why))],
            Self::Reading(error) => vec![("kind", error.kind().to_string())],
        }
    }
}
