//! A pack as it stands in memory: immutable, and indexed by position so that a key can be fast.
//!
//! The files it is read from are described in `packs/FORMAT.md`.

use serde::{Deserialize, Serialize};

use super::range::{MonthRange, NumberRange};
use super::signs::{Life, Maturity, Sign};

macro_rules! index {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub u16);

        impl $name {
            /// The position, for slices.
            #[must_use]
            pub fn get(self) -> usize {
                usize::from(self.0)
            }
        }
    };
}

index!(
    /// Position of a taxon in [`Pack::taxa`].
    TaxonIndex
);
index!(
    /// Position of a character in [`Pack::characters`].
    CharacterIndex
);
index!(
    /// Position of a state within its character's [`Character::states`].
    StateIndex
);
index!(
    /// Position of a family in [`Pack::families`].
    FamilyIndex
);
index!(
    /// Position of a group in [`Pack::groups`].
    GroupIndex
);
index!(
    /// Position of a source in [`Pack::sources`].
    SourceIndex
);

/// Everything that one pack knows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pack {
    pub(super) about: About,
    pub(super) sources: Vec<Source>,
    pub(super) families: Vec<Family>,
    pub(super) characters: Vec<Character>,
    pub(super) lives: Vec<Life>,
    pub(super) signs: Vec<Sign>,
    pub(super) groups: Vec<Group>,
    pub(super) taxa: Vec<Taxon>,
    /// Row by row: all characters of the first taxon, then of the second.
    pub(super) cells: Vec<Cell>,
}

/// What a pack says of itself.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    /// Stable id, kept with every determination.
    pub id: String,
    /// Version, kept with every determination.
    pub version: String,
    /// Title for people.
    pub title: String,
    /// BCP 47 language of all its texts.
    pub language: String,
    /// Where it holds.
    pub region: String,
    /// Remarks to show beside the title.
    pub notes: Vec<String>,
}

/// Where a statement comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Id as cited by statements.
    pub id: String,
    /// The full citation.
    pub citation: String,
    /// False for common practice, memory and derived contrasts.
    pub published: bool,
}

/// Ids of the sources of one statement; never empty in a checked pack.
pub type Sources = Box<[SourceIndex]>;

/// A set of mutually dependent characters, which together count as one piece of evidence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Family {
    /// Stable id.
    pub id: String,
    /// Name for people.
    pub label: String,
}

/// Something to look at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Character {
    /// Stable id.
    pub id: String,
    /// Short name.
    pub label: String,
    /// The question as it is asked.
    pub question: String,
    /// How to look, where the question does not say it all.
    pub help: Option<String>,
    /// What an answer is.
    pub kind: Kind,
    /// What looking costs.
    pub effort: Effort,
    /// Chance that a careful person reads it wrongly, 0 to 0.5.
    pub misread: f64,
    /// The family it belongs to.
    pub family: FamilyIndex,
    /// All must hold for it to apply to a taxon.
    pub applies_if: Vec<Condition>,
    /// Whether it can ever speak against a dangerous look-alike.
    pub separator: bool,
    /// Whether it shows the colour of the spores.
    pub spore_colour: bool,
    /// Its states; empty for numbers and months.
    pub states: Vec<State>,
}

/// What kind of answer a character takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// One or several of its states.
    States,
    /// A number or a range, in millimetres.
    Millimetres,
    /// A month, 1 to 12.
    Month,
}

/// What it costs to look, the cheapest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Effort {
    /// A glance.
    Glance,
    /// Pick one and turn it over.
    TurnOver,
    /// Smell it.
    Smell,
    /// Cut or break it.
    Cut,
    /// Dig out the whole base.
    DigOut,
    /// A hand lens.
    Lens,
    /// A night's spore print.
    SporePrint,
    /// A microscope.
    Microscope,
}

/// One answer to a character.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct State {
    /// Stable id within its character.
    pub id: String,
    /// Name for people.
    pub label: String,
    /// Id of the line figure that shows it.
    pub figure: Option<String>,
    /// False where seeing it clears nothing: rings fall off.
    pub separator: bool,
}

/// Holds for a taxon that shows at least one of these states, however rarely.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Condition {
    /// The character that decides.
    pub character: CharacterIndex,
    /// Any of these states.
    pub states: Vec<StateIndex>,
}

/// What one taxon shows in one character.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub enum Cell {
    /// The question makes no sense here: gill colour of a puffball.
    NotApplicable,
    /// Applies, and nobody has said.
    #[default]
    Unknown,
    /// What is known of its states.
    States(StatesCell),
    /// Millimetres.
    Number(NumberRange, Sources),
    /// Months, which run over the turn of the year.
    Months(MonthRange, Sources),
}

/// How often each state of a character is seen in a taxon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StatesCell {
    /// One entry for each state of the character; `None` is "not expected at all".
    pub states: Box<[Option<Seen>]>,
}

/// A state that a taxon shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seen {
    /// How often.
    pub frequency: Frequency,
    /// Who says so.
    pub sources: Sources,
}

/// How often a state is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Frequency {
    /// About one specimen in fifty.
    Rare,
    /// About one in ten.
    Sometimes,
    /// A third or more.
    Usual,
}

/// A species, an aggregate, or a stage that has to be known by itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Taxon {
    /// Stable id.
    pub id: String,
    /// Latin name in use.
    pub latin: String,
    /// Other Latin names.
    pub synonyms: Vec<String>,
    /// English names, the one to show first.
    pub english: Vec<String>,
    /// What it is to people.
    pub standing: Standing,
    /// Who says so, and with what reserve.
    pub standing_statement: Statement,
    /// How often it is met.
    pub abundance: Abundance,
    /// Who says so.
    pub abundance_sources: Sources,
    /// Whether the key may name it as food.
    pub key_may_name: bool,
    /// Why the key may not, for food.
    pub key_may_not_because: Option<String>,
    /// Whether every dangerous look-alike known is in its list.
    pub lookalikes_complete: bool,
    /// The inseparable group it belongs to.
    pub group: Option<GroupIndex>,
    /// The taxon that this is a stage of, and the stage's name.
    pub stage: Option<Stage>,
    /// For dangerous taxa: one of these must speak against it before it is ruled out. Empty asks for nothing special.
    pub demands: Vec<CharacterIndex>,
    /// What stays in view after naming.
    pub cautions: Vec<Statement>,
    /// Where authors disagree.
    pub disputed: Vec<Statement>,
    /// Remarks on what it shows, often about a conflict between authors.
    pub notes: Vec<(CharacterIndex, String)>,
    /// What it is taken for, as written in its own file. See [`Pack::lookalikes_of`] for both directions.
    pub lookalikes: Vec<LookAlike>,
    /// When it is in condition. `None` where nothing is said of it, as for what is not food.
    pub maturity: Option<Maturity>,
}

/// What a taxon is to people.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Eaten by people; never a promise.
    Food,
    /// Not eaten, not known to harm.
    Inedible,
    /// Makes people ill.
    Harmful,
    /// Has killed.
    Deadly,
}

impl Standing {
    /// Harmful or deadly.
    #[must_use]
    pub fn is_dangerous(self) -> bool {
        matches!(self, Self::Harmful | Self::Deadly)
    }
}

/// How often a taxon is met in the region.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Abundance {
    /// Seen once in a long while.
    Rare,
    /// Not often seen.
    Uncommon,
    /// Seen now and then.
    Occasional,
    /// Seen on most days in season.
    Common,
    /// Hard to miss.
    VeryCommon,
}

/// A sentence with its sources.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Statement {
    /// A word or two on what it concerns; empty where that is plain.
    pub about: String,
    /// The sentence; empty where the sources alone matter.
    pub text: String,
    /// Who says so.
    pub sources: Sources,
}

/// A stage of another taxon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stage {
    /// The taxon.
    pub of: TaxonIndex,
    /// What the stage is called.
    pub name: String,
}

/// A taxon that another is taken for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LookAlike {
    /// The other taxon.
    pub taxon: TaxonIndex,
    /// What parts the two, in words.
    pub apart: String,
    /// The characters to look at, the best first.
    pub by: Vec<CharacterIndex>,
    /// Characters any one of which is enough by itself.
    pub decisive: Vec<CharacterIndex>,
    /// Who says so.
    pub sources: Sources,
}

/// Taxa that no field character parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Group {
    /// Stable id.
    pub id: String,
    /// English names, the one to show first.
    pub english: Vec<String>,
    /// Its members in Latin.
    pub latin: String,
    /// What would part its members.
    pub parted_by: Statement,
}
