//! What can be wrong with a pack, told so that its author finds the place.

use std::fmt;

/// One thing wrong with a pack.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The file, relative to the pack's folder.
    pub file: String,
    /// The line, counted from 1; 0 where the whole file is meant.
    pub line: usize,
    /// The field, as a path: `cells.ring.usual`. Empty where no field is meant.
    pub field: String,
    /// Stable id of the rule that is broken.
    pub rule: &'static str,
    /// What is wrong and what was expected.
    pub message: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if self.line > 0 {
            write!(f, ":{}", self.line)?;
        }
        if !self.field.is_empty() {
            write!(f, ": {}", self.field)?;
        }
        write!(f, ": {} [{}]", self.message, self.rule)
    }
}

/// Why a pack cannot be had.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PackError {
    /// A file or folder cannot be read.
    #[error("cannot read {file} of the pack ({kind}): check that the folder holds a pack and may be read")]
    Unreadable {
        /// The file, relative to the pack's folder.
        file: String,
        /// What the system said.
        kind: std::io::ErrorKind,
    },
    /// The files are read, and do not make a pack.
    #[error("the pack has {} problems, the first of them: {}", .0.len(), first(.0))]
    Broken(Vec<Problem>),
    /// The knowledge built into the library does not open.
    #[error("the built-in pack is damaged: install the app again")]
    Damaged,
}

impl PackError {
    /// A stable code for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Unreadable { .. } => "pack-unreadable",
            Self::Broken(_) => "pack-broken",
            Self::Damaged => "pack-damaged",
        }
    }
}

fn first(problems: &[Problem]) -> String {
    problems.first().map(ToString::to_string).unwrap_or_default()
}
