//! *A patch*: everything that its page shows.

use trug::find::Host;
use trug::notebook::{Heedless, PatchAct, PatchWhole};
use trug::patch::{Look, Row, Season, SeasonAtPatch};

use crate::now::FindLine;
use crate::patches::PatchLine;
use crate::shared::{Fix, When};
use crate::{Book, TrugError};

/// Everything that the page of a patch shows.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchPage {
    /// Now.
    pub now: When,
    /// The patch in a line, seen from here.
    pub line: PatchLine,
    /// How sure of the tree: guess, likely, sure.
    pub host_sure: Option<String>,
    /// How far it reaches as its owner said, in metres; none where nobody did, and the usual holds.
    pub reach_said_m: Option<f64>,
    /// Anything else about it.
    pub note: Option<String>,
    /// What the patches that were merged into it are called; none for those without a name.
    pub merged: Vec<Option<String>>,
    /// Its history, the latest season first. Seasons in which nobody looked stand in it too.
    pub seasons: Vec<SeasonShown>,
    /// How far through its season today is, as [`LookShown::across`] has it.
    pub today_across: f64,
    /// What was taken there against advice, oldest first.
    pub against_advice: Vec<AgainstAdvice>,
    /// The last thing done to it that undo takes back, where that is to be offered: done within a day, or its deletion.
    pub last: Option<PatchLast>,
    /// Whether it is marked as deleted.
    pub deleted: bool,
}

/// A season at a patch, or a run of seasons in which nobody looked.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct SeasonShown {
    /// Which: 2026/27, from July to June; of a run the latest.
    pub season: String,
    /// The earliest of the run; the same where there is but one.
    pub earliest: String,
    /// How often it was looked at; 0 for seasons in which nobody did.
    pub looked: u32,
    /// How often nothing was there.
    pub nothing: u32,
    /// How many fruitbodies were seen, at least. The same ones seen at two looks count twice.
    pub seen: u32,
    /// Whether there were more, because something was not counted.
    pub or_more: bool,
    /// How many were taken, at least.
    pub taken: u32,
    /// The looks, the latest first.
    pub looks: Vec<LookShown>,
}

/// A look at a patch: all that was found there on one outing, or, without one, on one day.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct LookShown {
    /// The day: 2026-10-18.
    pub day: String,
    /// How far through its season that is, every month given the same room: from 0 on 1 July up to, not including, 1.
    pub across: f64,
    /// What came of it: nothing, seen, taken.
    pub outcome: String,
    /// Who gathered or looked, the owner aside.
    pub by: Vec<String>,
    /// What was written down about the look itself.
    pub notes: Vec<String>,
    /// What was found, the latest first.
    pub finds: Vec<FindLine>,
}

/// A find of which more was taken than was advised.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct AgainstAdvice {
    /// The find.
    pub find: String,
    /// When it was made.
    pub at: Option<When>,
    /// How many were taken.
    pub taken: Option<u32>,
    /// What was advised, in a line of the core's words.
    pub advice: String,
    /// Why it was not heeded, if that was said.
    pub because: Option<String>,
}

/// What was last done to a patch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum PatchLast {
    /// It was founded: undo marks it as deleted.
    Founded,
    /// Its fields were changed.
    Amended,
    /// It was let rest, or its rest ended.
    Rested,
    /// It was looked at.
    Looked,
    /// Another was merged into it.
    Merged,
    /// It was marked as deleted.
    Deleted,
}

#[uniffi::export]
impl Book {
    /// The page of a patch, seen from here; for one that was merged, that of the patch which stands for it.
    ///
    /// # Errors
    /// `not-found`, `not-an-id`, `paused`; `place-latitude`, `place-longitude`, `place-accuracy` for a fix that is none.
    pub fn patch_page(&self, id: String, here: Option<Fix>) -> Result<PatchPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let whole = self.notebook.patch_whole(self.pack, id.parse()?, here)?;
        let now = self.notebook.now();
        let record = &whole.listed.record;
        let patch = &record.patch.value;
        Ok(PatchPage {
            now: now.into(),
            line: self.patch_line(&whole.listed, now),
            host_sure: patch.host.as_ref().map(|Host { sure, .. }| sure.word().to_owned()),
            reach_said_m: patch.radius.map(trug::units::Metres::get),
            note: patch.note.clone(),
            merged: whole.merged.iter().map(|merged| merged.patch.value.name.clone()).collect(),
            seasons: whole.rows.iter().map(|row| self.row(&whole, row)).collect(),
            today_across: Season::across(now.day()),
            against_advice: whole.against_advice.iter().map(AgainstAdvice::from).collect(),
            last: whole.last_act.map(PatchLast::from),
            deleted: record.patch.deleted,
        })
    }
}

impl Book {
    fn row(&self, whole: &PatchWhole, row: &Row) -> SeasonShown {
        match row {
            Row::Looked(season) => self.season(whole, season),
            Row::NotLooked { latest, earliest } => SeasonShown {
                season: latest.to_string(),
                earliest: earliest.to_string(),
                looked: 0,
                nothing: 0,
                seen: 0,
                or_more: false,
                taken: 0,
                looks: Vec::new(),
            },
        }
    }

    fn season(&self, whole: &PatchWhole, season: &SeasonAtPatch) -> SeasonShown {
        let SeasonAtPatch { season, looked, nothing, amounts, looks } = season;
        SeasonShown {
            season: season.to_string(),
            earliest: season.to_string(),
            looked: *looked,
            nothing: *nothing,
            seen: amounts.seen.least,
            or_more: amounts.seen.most != Some(amounts.seen.least),
            taken: amounts.taken.least,
            looks: looks.iter().map(|look| self.look(whole, look)).collect(),
        }
    }

    fn look(&self, whole: &PatchWhole, look: &Look) -> LookShown {
        LookShown {
            day: look.day.to_string(),
            across: Season::across(look.day),
            outcome: look.outcome.word().to_owned(),
            by: look.by.iter().cloned().collect(),
            notes: look.notes.clone(),
            finds: whole.finds_of(look).map(|(record, name)| self.line(record, name)).collect(),
        }
    }
}

impl From<&Heedless> for AgainstAdvice {
    fn from(one: &Heedless) -> Self {
        Self {
            find: one.find.to_string(),
            at: one.at.map(When::from),
            taken: one.taken,
            advice: one.advice.clone(),
            because: one.because.clone(),
        }
    }
}

impl From<PatchAct> for PatchLast {
    fn from(act: PatchAct) -> Self {
        match act {
            PatchAct::Founded => Self::Founded,
            PatchAct::Amended => Self::Amended,
            PatchAct::Rested => Self::Rested,
            PatchAct::Looked => Self::Looked,
            PatchAct::Merged => Self::Merged,
            PatchAct::Deleted => Self::Deleted,
        }
    }
}
