//! Codes of gathering as data: laws, byelaws, codes of conduct, common practice, and the owner's own rules.
//!
//! A code is a TOML file of `packs/codes`, described there in `FORMAT.md`; an own rule is one [`Rule`] kept as JSON in a
//! record. What a rule means for a find is decided by the room `allowance`, and nowhere else.

mod limit;
mod model;
mod named;
mod own;
mod read;
mod shipped;
mod values;
mod weekday;

pub use limit::*;
pub use model::{About, Code, Force, Kind, Mark, Rule};
pub use named::{Fungus, Names, NotAName, TaxonName};
pub use own::{OWN_KINDS, OwnRule};
pub use read::{CodeError, RuleError, check, read};
pub use shipped::{by_id, choose, choose_with, shipped};
pub use values::{DayRange, MonthDay, NotAValue, PartialDate, Share};
pub use weekday::Weekday;
