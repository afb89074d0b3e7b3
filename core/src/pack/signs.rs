//! Signs of age, and what they say of a taxon: the model, and how to find a sign.

use serde::{Deserialize, Serialize};

use crate::stage::Stage;

use super::model::{Cell, CharacterIndex, Condition, Frequency, Pack, Seen, Sources, StateIndex, TaxonIndex};
use super::names::did_you_mean;

/// The character whose states are the forms.
pub(super) const FORM: &str = "form";

/// Position of a sign in [`Pack::signs`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct SignIndex(pub u16);

/// Something to see, feel or smell that tells how old a fruitbody is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sign {
    /// Stable id, kept with finds.
    pub id: String,
    /// What is seen, as words that fit into a sentence.
    pub text: String,
    /// The forms that it is seen on; empty where only taxa that name it show it.
    pub forms: Vec<StateIndex>,
    /// All must hold for a taxon of these forms to show it.
    pub applies_if: Vec<Condition>,
    /// What it says, unless a taxon has a word of its own.
    pub span: Span,
    /// What it costs to look.
    pub handling: Handling,
    /// Who says so.
    pub sources: Sources,
}

/// What a sign says of age: the stages in which it is seen, and the one that it points to by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Span {
    /// The stage that it points to when nothing else was seen.
    pub says: Option<Stage>,
    /// The first stage in which it is seen.
    pub from: Stage,
    /// The last stage in which it is seen.
    pub to: Stage,
}

impl Span {
    /// Seen in this stage and in no other.
    #[must_use]
    pub fn only(stage: Stage) -> Self {
        Self { says: Some(stage), from: stage, to: stage }
    }

    /// Whether it is seen at every age, and so says nothing: frost on a species that stands it.
    #[must_use]
    pub fn says_nothing(self) -> bool {
        self.says.is_none() && self.from == Stage::Button && self.to == Stage::Past
    }

    /// Whether it is seen in this stage.
    #[must_use]
    pub fn holds(self, stage: Stage) -> bool {
        (self.from..=self.to).contains(&stage)
    }
}

/// What it costs to look for a sign, the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Handling {
    /// A glance.
    Glance,
    /// Bend down, or turn it over.
    TurnOver,
    /// Press or bend it.
    Touch,
    /// Smell it.
    Smell,
    /// Cut it.
    Cut,
}

/// The stages that fruitbodies of one form go through.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Life {
    /// The form.
    pub form: StateIndex,
    /// Its stages, the youngest first.
    pub stages: Vec<Stage>,
}

/// What is known of the condition of one taxon: when it is large enough, and what signs mean in it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Maturity {
    /// How wide it must be.
    pub width: Option<Size>,
    /// How high it must be, where that is what people measure.
    pub height: Option<Size>,
    /// Signs that say something else in it than in others of its form, or that only it shows.
    pub signs: Vec<OwnSign>,
}

/// From what size a taxon is taken.
///
/// # Units
/// Millimetres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// Smaller than this, and with nothing else seen, it is a button.
    pub button_below: Option<f64>,
    /// Smaller than this it is left to grow.
    pub taken_from: f64,
    /// How the figure is to be understood.
    pub note: Option<String>,
    /// Who says so.
    pub sources: Sources,
}

/// What a sign says in one taxon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OwnSign {
    /// The sign.
    pub sign: SignIndex,
    /// What is seen on this taxon, where it has words of its own.
    pub text: Option<String>,
    /// What it says.
    pub span: Span,
    /// Why, for people.
    pub note: Option<String>,
    /// Who says so.
    pub sources: Sources,
}

impl Pack {
    /// All signs of age.
    #[must_use]
    pub fn signs(&self) -> &[Sign] {
        &self.signs
    }

    /// The sign at a position.
    #[must_use]
    pub fn sign(&self, at: SignIndex) -> Option<&Sign> {
        self.signs.get(usize::from(at.0))
    }

    /// Positions of all signs.
    pub fn sign_indices(&self) -> impl ExactSizeIterator<Item = SignIndex> + Clone + use<> {
        (0..u16::try_from(self.signs.len()).unwrap_or(u16::MAX)).map(SignIndex)
    }

    /// A sign by its id.
    #[must_use]
    pub fn sign_by_id(&self, id: &str) -> Option<SignIndex> {
        self.sign_indices().find(|at| self.sign(*at).is_some_and(|sign| sign.id == id))
    }

    /// `, did you mean …?` for an id that is no sign of these, or nothing.
    #[must_use]
    pub fn sign_meant(&self, misspelt: &str, among: impl Iterator<Item = SignIndex>) -> String {
        did_you_mean(misspelt, among.filter_map(|at| self.sign(at)).map(|sign| sign.id.as_str()))
    }

    /// The stages that each form goes through, in the order of the forms.
    #[must_use]
    pub fn lives(&self) -> &[Life] {
        &self.lives
    }

    /// The character whose states are the forms.
    #[must_use]
    pub fn form_character(&self) -> Option<CharacterIndex> {
        self.character_by_id(FORM)
    }

    /// The forms that a taxon usually takes.
    #[must_use]
    pub fn forms_of(&self, taxon: TaxonIndex) -> Vec<StateIndex> {
        let Some(Cell::States(cell)) = self.form_character().map(|form| self.cell(taxon, form)) else {
            return Vec::new();
        };
        let usual =
            |seen: &Option<Seen>| seen.as_ref().is_some_and(|seen| seen.frequency == Frequency::Usual);
        let all = (0..).map(StateIndex).zip(&cell.states);
        all.filter(|(_, seen)| usual(seen)).map(|(at, _)| at).collect()
    }

    /// Whether fungi like this taxon show a sign: of its forms, and with what the sign asks for.
    #[must_use]
    pub fn shows(&self, taxon: TaxonIndex, sign: &Sign) -> bool {
        let holds = |condition: &Condition| match self.cell(taxon, condition.character) {
            Cell::States(cell) => condition.states.iter().any(|state| cell.shows(*state)),
            _ => false,
        };
        let forms = self.forms_of(taxon);
        sign.forms.iter().any(|form| forms.contains(form)) && sign.applies_if.iter().all(holds)
    }

    /// The id of a form.
    #[must_use]
    pub fn form_id(&self, form: StateIndex) -> &str {
        let states = self.form_character().and_then(|at| self.character(at)).map(|form| &form.states);
        states.and_then(|states| states.get(form.get())).map_or("", |state| state.id.as_str())
    }
}
