//! "Leave it": how much of what stands here may be taken under every rule that holds, and why.
//!
//! [`advise`] is one pure function: everything that decides is in [`Asked`], the time and the place included. Every rule is
//! judged, the strictest wins, and all verdicts come back. An answer speaks of the patch and never of eating.

mod advice;
mod always;
mod asked;
mod basket;
mod body;
mod closed;
mod facts;
mod goes_by;
mod ledger;
mod light;
mod number;
mod ruling;
mod sun;
mod told;
mod words;

pub use advice::{Advice, Answer};
pub use asked::{AreaHere, Asked, Maturity, Naming, Past, Site, Take, There, Whereto};
pub use basket::basket;
pub use facts::{Check, Facts};
pub use goes_by::{GoesBy, goes_by};
pub use light::{Light, light};
pub use ruling::{Missing, Reason, Verdict};
pub use sun::{Sun, sun};
pub use told::{Told, told};

use crate::code::{Code, Limit, Rule};
use ledger::Ledger;
use ruling::{Finding, Ruling};

/// One question, with what was taken already added up.
struct Case<'a> {
    asked: &'a Asked<'a>,
    ledger: Ledger<'a>,
}

/// What may be taken of what stands here, and why.
///
/// # Units
/// Fruitbodies, grams and millimetres.
#[must_use]
pub fn advise(asked: &Asked<'_>) -> Advice {
    let case = Case { asked, ledger: Ledger::of(asked) };
    let mut findings = always::findings(&case);
    for code in asked.codes {
        findings.extend(code.rules.iter().map(|rule| Finding::of(code, rule, case.judge(code, rule))));
    }
    advice::weigh(&case, findings)
}

impl Case<'_> {
    /// One rule, judged.
    fn judge(&self, code: &Code, rule: &Rule) -> Ruling {
        match self.asked.fungus {
            None if !rule.names.is_everything() => {
                return Ruling::unknown(
                    Missing::Name,
                    "It speaks of certain fungi, and this one has no name yet.",
                );
            }
            Some(fungus) if !rule.names.hold(fungus) => {
                return Ruling::not(format!("It does not speak of {}.", fungus.name));
            }
            _ => {}
        }
        match &rule.limit {
            Limit::Share(limit) => self.share(limit),
            Limit::Keep(limit) => self.keep(limit),
            Limit::Present(limit) => self.present(limit),
            Limit::Count(limit) => self.count(limit, &rule.names),
            Limit::Weight(limit) => self.weight(limit, &rule.names),
            Limit::Volume(limit) => words::volume(limit),
            Limit::Study(limit) => self.study(limit),
            Limit::Size(limit) => self.size(limit),
            Limit::Stage(limit) => self.stage(limit),
            Limit::Abundance(limit) => self.abundance(limit),
            Limit::Protected => self.protected(code, rule),
            Limit::Ground(limit) => self.ground(limit),
            Limit::Host(limit) => self.host(limit),
            Limit::Permission => self.permission(rule),
            Limit::ClosedDays(limit) => self.closed_days(limit),
            Limit::ClosedWeekdays(limit) => self.closed_weekdays(limit),
            Limit::ClosedSeason(limit) => self.closed_season(limit),
            Limit::ClosedHours(limit) => self.closed_hours(limit),
            Limit::ClosedNight(limit) => self.closed_night(limit),
            Limit::Rest(limit) => self.rest(limit, &rule.names),
            Limit::OwnUse | Limit::Advice(_) => Ruling::holds(rule.words.clone()),
        }
    }
}
