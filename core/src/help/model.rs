//! Help as it stands in memory, and how it is read.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::words::words;

/// The help that comes with Trug does not read: no tested build is like that.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "the help that comes with Trug is damaged in {file}: install it again, and ring the emergency number now"
)]
pub struct HelpError {
    /// Which file.
    pub file: &'static str,
}

impl HelpError {
    /// A stable word for programs.
    #[must_use]
    pub fn code(&self) -> &'static str {
        "help-damaged"
    }
}

words!(
    /// What answers at a number.
    LineKind, "kind of line", {
        /// An ambulance.
        Emergency = "emergency",
        /// A poison centre.
        Poison = "poison",
        /// Health advice.
        Advice = "advice",
    }
);

/// Everything that the help says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Help {
    /// The words that stand on the page itself.
    #[serde(flatten)]
    pub page: Page,
    /// Whom to ring, by country.
    pub countries: Vec<Country>,
    /// When signs begin; for the doctor's sheet alone.
    pub courses: Vec<Course>,
    /// Where all of it comes from.
    pub sources: Vec<Source>,
}

/// The words of the page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Page {
    /// The first words.
    pub head: String,
    /// The second.
    pub lead: String,
    /// Whether a clinician has reviewed it.
    pub reviewed: bool,
    /// What is said while none has.
    pub unreviewed: String,
    /// What the doctor's sheet says while none has.
    pub sheet_unreviewed: String,
    /// What marks a number from memory.
    pub unchecked: String,
    /// What is said where no country is known.
    pub no_country: String,
    /// What chooses another country.
    pub other_country: String,
    /// What to do, not to do, keep, and be ready to say.
    #[serde(rename = "section")]
    pub sections: Vec<Section>,
}

/// Lines under one title.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Stable id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Its lines, the most urgent first.
    #[serde(rename = "line")]
    pub lines: Vec<Statement>,
}

/// One line, with its sources.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// The words.
    pub text: String,
    /// Ids of its sources.
    pub source: Vec<String>,
}

/// A country, or a nation of one where advice differs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Country {
    /// ISO 3166 code: GB, GB-NIR; EU for elsewhere in the Union.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Whom to ring, first things first.
    #[serde(rename = "line")]
    pub lines: Vec<Number>,
}

/// A number to ring.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Number {
    /// What answers there.
    pub kind: LineKind,
    /// The number, as its owner writes it.
    pub number: String,
    /// Who that is and when to ring.
    pub words: String,
    /// Ids of its sources.
    pub source: Vec<String>,
}

impl Number {
    /// Whether it, or some of its words, stands here from memory.
    #[must_use]
    pub fn is_unchecked(&self) -> bool {
        self.source.iter().any(|source| source == "memory")
    }
}

/// When the signs of a poison begin.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// The poison.
    pub poison: String,
    /// When its signs begin, and how it goes on.
    pub begins: String,
    /// Ids of the taxa that hold it.
    pub taxa: Vec<String>,
    /// Ids of its sources.
    pub source: Vec<String>,
}

/// Where something comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Its id.
    pub id: String,
    /// The full citation.
    pub citation: String,
    /// The day on which it was read.
    pub seen: String,
    /// False for memory and rules of our own.
    pub published: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Countries {
    country: Vec<Country>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Courses {
    course: Vec<Course>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sources {
    source: Vec<Source>,
}

macro_rules! read {
    ($file:literal) => {
        serde_json::from_str(include_str!(concat!(env!("OUT_DIR"), "/help/", $file, ".json")))
            .map_err(|_| HelpError { file: $file })
    };
}

impl Help {
    /// The help that comes with Trug. Read once, at first use.
    ///
    /// # Errors
    /// [`HelpError`] if a file does not read, which no tested build has.
    pub fn shipped() -> Result<&'static Self, HelpError> {
        static HELP: LazyLock<Result<Help, HelpError>> = LazyLock::new(Help::read);
        HELP.as_ref().map_err(Clone::clone)
    }

    fn read() -> Result<Self, HelpError> {
        let countries: Countries = read!("lines")?;
        let courses: Courses = read!("courses")?;
        let sources: Sources = read!("sources")?;
        Ok(Self {
            page: read!("page")?,
            countries: countries.country,
            courses: courses.course,
            sources: sources.source,
        })
    }

    /// The lines of a country, by its ISO 3166 code in any case; of a part that is not here, those of the whole.
    #[must_use]
    pub fn country(&self, code: &str) -> Option<&Country> {
        let find = |code: &str| self.countries.iter().find(|country| country.code.eq_ignore_ascii_case(code));
        find(code.trim()).or_else(|| find(code.trim().split('-').next().unwrap_or_default()))
    }

    /// When the signs of a taxon's poison begin, if a source says so.
    #[must_use]
    pub fn course(&self, taxon: &str) -> Option<&Course> {
        self.courses.iter().find(|course| course.taxa.iter().any(|id| id == taxon))
    }

    /// The sources of these ids.
    pub fn sources_of<'a>(&'a self, ids: &'a [String]) -> impl Iterator<Item = &'a Source> {
        ids.iter().filter_map(|id| self.sources.iter().find(|source| source.id == *id))
    }
}
