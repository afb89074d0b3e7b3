//! *Settings*: what the notebook goes by, and its own key.

use trug::code;
use trug::key::ObserverError;

use crate::restore::HoldsShown;
use crate::{Book, TrugError};

/// What the first leaf of the settings says of the notebook.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct SettingsPage {
    /// Short titles of the codes in force, those aside that always are.
    pub codes: Vec<String>,
    /// How many rules of the owner's own there are.
    pub rules: u32,
    /// How many areas.
    pub areas: u32,
    /// How often the key thinks its observer wrong, in per cent.
    pub observer_percent: u32,
    /// The least that this may be.
    pub observer_least: u32,
    /// The most that this may be.
    pub observer_most: u32,
    /// What the notebook holds.
    pub holds: HoldsShown,
}

/// What to hand to another device, or to anybody who is to seal something to this notebook. Nothing in it is secret.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct OwnKey {
    /// The key in one line: `trug1…`.
    pub line: String,
    /// Thirty figures to compare by eye or by telephone.
    pub fingerprint: String,
    /// Its sealing half, for any age program: `age1…`.
    pub age: String,
}

#[uniffi::export]
impl Book {
    /// The first leaf of the settings.
    ///
    /// # Errors
    /// `code-unknown` where a code was chosen that this version does not have.
    pub fn settings(&self) -> Result<SettingsPage, TrugError> {
        let chosen = self.notebook.chosen_codes()?;
        let in_force = code::choose(code::shipped()?, chosen.as_deref())?;
        let told = in_force.iter().filter(|code| code.about.in_force != code::Force::Always);
        let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        Ok(SettingsPage {
            codes: told.map(|code| code.about.short.clone()).collect(),
            rules: count(self.notebook.house_rules()?.len()),
            areas: count(self.notebook.areas()?.len()),
            observer_percent: percent(self.notebook.observer()?.get()),
            observer_least: percent(ObserverError::LEAST),
            observer_most: percent(ObserverError::MOST),
            holds: HoldsShown::new(self.notebook.holds()?, &self.zone()),
        })
    }

    /// From now on the key thinks its observer wrong so often.
    ///
    /// # Errors
    /// `observer-error-out-of-range` below the least or above the most; then what held before still does.
    pub fn assume_observer(&self, percent: u32) -> Result<SettingsPage, TrugError> {
        let error = ObserverError::new(f64::from(percent) / 100.0)?;
        self.notebook.assume_observer(error)?;
        self.settings()
    }

    /// The notebook's own key, drawn at first need.
    ///
    /// # Errors
    /// `identity-damaged`, `no-room`.
    pub fn own_key(&self) -> Result<OwnKey, TrugError> {
        let key = self.notebook.own_key()?;
        Ok(OwnKey { line: key.to_string(), fingerprint: key.fingerprint(), age: key.age() })
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 15 and 50")]
fn percent(chance: f64) -> u32 {
    (chance * 100.0).round() as u32
}
