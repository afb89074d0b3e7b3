//! *Work it out*: the key, asked step by step. The phone holds the answers; each step is put afresh with all of them.

use trug::find::How;
use trug::id::FindId;
use trug::key::Evidence;
use trug::key::stream::{Request, Seen};
use trug::notebook::noted;

use crate::find_page::FindPage;
use crate::key_page::KeyPage;
use crate::{Book, TrugError};

/// All that the key is told. To go on, hand it back with one more answer; to take an answer back, without it.
#[derive(Debug, Clone, Default, PartialEq, uniffi::Record)]
pub struct KeyAsked {
    /// What its finder thinks it is: an id or an exact name.
    pub suspect: Option<String>,
    /// The answers in the order in which they were given; the same character again is a second look.
    pub evidence: Vec<KeySeen>,
    /// The character to ask after next, where somebody chose one from the list.
    pub ask: Option<String>,
}

/// One answer: states, or a size. Neither means that it cannot be told.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct KeySeen {
    /// Id of the character.
    pub character: String,
    /// Ids of the states between which the eye cannot choose; for a month its number.
    pub states: Vec<String>,
    /// The least size, in millimetres.
    pub from_mm: Option<f64>,
    /// The greatest size, in millimetres; none for a single one.
    pub to_mm: Option<f64>,
    /// Whether its finder is sure.
    pub sure: bool,
}

impl From<&KeySeen> for Seen {
    #[allow(clippy::cast_possible_truncation, reason = "millimetres, which are checked afterwards")]
    fn from(seen: &KeySeen) -> Self {
        let range: Vec<f32> = seen.from_mm.into_iter().chain(seen.to_mm).map(|size| size as f32).collect();
        let is_size = !range.is_empty();
        Self {
            character: seen.character.clone(),
            states: (!is_size || !seen.states.is_empty()).then(|| seen.states.clone()),
            range: is_size.then_some(range),
            sure: seen.sure,
        }
    }
}

impl From<&Seen> for KeySeen {
    fn from(seen: &Seen) -> Self {
        let size = |at: usize| seen.range.as_ref().and_then(|range| range.get(at)).copied().map(f64::from);
        Self {
            character: seen.character.clone(),
            states: seen.states.clone().unwrap_or_default(),
            from_mm: size(0),
            to_mm: size(1),
            sure: seen.sure,
        }
    }
}

impl KeyAsked {
    /// As it is kept with a find.
    pub(crate) fn request(&self) -> Request {
        Request { evidence: self.evidence.iter().map(Seen::from).collect(), suspect: self.suspect.clone() }
    }
}

#[uniffi::export]
impl Book {
    /// Begins with the key: for a find, where it was left, or else with what its fields say already. A spore print that was
    /// not there yet is asked after first.
    ///
    /// # Errors
    /// `not-found`, `evidence-unknown-taxon`.
    pub fn key_begin(&self, find: Option<String>, suspect: Option<String>) -> Result<KeyPage, TrugError> {
        let mut told = Request::default();
        if let Some(find) = find {
            let id = find.parse::<FindId>()?;
            let record = self.notebook.find(id)?;
            let keyed = record.determinations.iter().rev().map(|named| &named.determination.value);
            let keyed = keyed
                .filter(|one| one.how == Some(How::Key))
                .filter_map(|one| serde_json::from_value(one.evidence.clone()?).ok());
            // Of another version of the pack: then it is asked afresh.
            let mut kept = self.notebook.session(id)?.into_iter().chain(keyed);
            told = kept
                .find(|kept: &Request| kept.resolve(self.pack).is_ok())
                .unwrap_or_else(|| Request { evidence: noted(self.pack, &record.find.value), suspect: None });
        }
        let evidence = told.evidence.iter().map(KeySeen::from).collect();
        let mut asked = KeyAsked { suspect: suspect.or(told.suspect), evidence, ask: None };
        asked.ask = self.night(&asked);
        self.key_step(asked)
    }

    /// One step, with the answers kept beside the find as they are given: nothing is lost where the phone dies.
    ///
    /// # Errors
    /// As [`Book::key_step`], and then nothing is kept; `not-found`.
    pub fn key_go_on(&self, find: String, asked: KeyAsked) -> Result<KeyPage, TrugError> {
        let id: FindId = find.parse()?;
        let request = asked.request();
        let page = self.key_step(asked)?;
        self.notebook.note_session(id, &request)?;
        Ok(page)
    }

    /// One step: everything the key has to say about these answers.
    ///
    /// # Errors
    /// A code that begins with `evidence-`, for an answer that does not suit its character.
    pub fn key_step(&self, asked: KeyAsked) -> Result<KeyPage, TrugError> {
        let evidence: Evidence = asked.request().resolve(self.pack)?;
        let key = self.key()?;
        let step = key.step(&evidence);
        Ok(self.key_page(&key, asked, &evidence, &step))
    }

    /// Keeps what the key says of a find, with the answers. What it may not name stays without a name by it.
    ///
    /// # Errors
    /// As [`Book::key_step`]; `not-found`.
    pub fn key_keep(&self, find: String, asked: KeyAsked) -> Result<FindPage, TrugError> {
        let id: FindId = find.parse()?;
        self.notebook.key_find(&*self.key()?, id, &asked.request(), None)?;
        self.page(id, &[])
    }
}
