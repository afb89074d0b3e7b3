//! Rules about the fruitbodies themselves, and about what they stand on.

use std::collections::BTreeMap;

use super::Case;
use super::asked::Maturity;
use super::ruling::{Effect, Head, Missing, Ruling};
use super::words;
use crate::code::{AbundanceLimit, Code, GroundLimit, HostLimit, Kind, Measure, Rule, SizeLimit, StageLimit};
use crate::outing::Permission;
use crate::stage::Stage;

/// Days after which young fruitbodies are worth another look. Common practice, no source.
const GROWN_AFTER_DAYS: i64 = 3;

impl Case<'_> {
    pub(super) fn size(&self, limit: &SizeLimit) -> Ruling {
        self.size_from(limit.of, limit.least.get()).unwrap_or_else(|| {
            let (missing, across) = match limit.of {
                Measure::Width => (Missing::Width, "across"),
                Measure::Height => (Missing::Height, "high"),
            };
            let from = format!("it is taken from {} mm {across}.", limit.least);
            Ruling::unknown(missing, format!("Nobody measured them: {from}"))
                .number("least_mm", limit.least)
                .leave(Head::NotMeasured, format!("Still to measure: {from}"))
        })
    }

    /// A least size against what was measured; `None` if nothing was.
    pub(super) fn size_from(&self, of: Measure, least: f64) -> Option<Ruling> {
        let there = &self.asked.there;
        let (seen, across) = match of {
            Measure::Width => (there.width?, "across"),
            Measure::Height => (there.height?, "high"),
        };
        let (low, high) = (seen.least().get(), seen.most().get());
        let ruling = if high < least {
            let first = format!("Still too small: {seen} {across}; this species is taken from {least} mm.");
            Ruling::holds(format!("They are {seen} {across}; it is taken from {least} mm."))
                .leave(Head::TooSmall, first)
                .again(self.when_grown())
        } else if low < least {
            let only = format!("only those of {least} mm {across} and more");
            Ruling::holds(format!("They are {seen} {across}; {only} are taken.")).only(only)
        } else {
            Ruling::not(format!("They are {seen} {across}; it is taken from {least} mm."))
        };
        Some(ruling.number("least_mm", least).number("smallest_mm", low).number("largest_mm", high))
    }

    pub(super) fn stage(&self, limit: &StageLimit) -> Ruling {
        match &self.asked.there.maturity {
            Maturity::Unknown => Ruling::unknown(Missing::Stage, "How old they are is not known."),
            Maturity::Uncounted => {
                Ruling::unknown(Missing::Stages, "How many there are of each stage is not known.")
            }
            Maturity::All(stage) if limit.leave.contains(stage) => {
                let text = format!("They {}: those are left.", words::are(*stage));
                Ruling::holds(text)
                    .leave(head(*stage), words::why_left(*stage))
                    .again(self.when_older(*stage))
            }
            Maturity::All(stage) => Ruling::not(format!("They {}.", words::are(*stage))),
            Maturity::Mixed(stages) => {
                let (left, good) = parted(stages, &limit.leave);
                if left == 0 {
                    return Ruling::not("None of them is of a stage that is left.");
                }
                let which: Vec<&str> = limit.leave.iter().map(|stage| words::are(*stage)).collect();
                let text = format!("{left} of them {}: leave those.", which.join(" or "));
                let at_most = good.saturating_sub(self.ledger.here_on_this_visit().count);
                let first = if good == 0 {
                    words::none_in_condition()
                } else {
                    format!("{at_most} of them may be taken by their age")
                };
                let youngest = limit.leave.iter().min().copied();
                Ruling::holds(text)
                    .effect(Effect::AtMost(at_most))
                    .head(youngest.map_or(Head::Other, head), first)
                    .number("left", left)
                    .number("in_condition", good)
                    .again(youngest.and_then(|stage| self.when_older(stage)))
            }
        }
    }

    pub(super) fn abundance(&self, limit: &AbundanceLimit) -> Ruling {
        match self.asked.fungus.and_then(|fungus| fungus.abundance) {
            None => Ruling::unknown(Missing::Abundance, "How seldom it is met is not known.")
                .leave(Head::Rare, "Still to find out: how seldom it is met."),
            Some(abundance) if abundance <= limit.up_to => {
                Ruling::holds("It is seldom met, and stays.").leave(Head::Rare, "Seldom met: it stays.")
            }
            Some(_) => Ruling::not("It is met often enough."),
        }
    }

    #[allow(clippy::unused_self, reason = "like every other kind of rule")]
    pub(super) fn protected(&self, code: &Code, rule: &Rule) -> Ruling {
        let by = if code.about.kind == Kind::Law { "Protected by law." } else { "Protected." };
        Ruling::holds(rule.words.clone()).leave(Head::Protected, by).and_no_specimen()
    }

    pub(super) fn ground(&self, limit: &GroundLimit) -> Ruling {
        let unfit: Vec<&str> = self
            .asked
            .site
            .hazards
            .iter()
            .filter(|it| limit.leave.contains(it))
            .map(|it| it.word())
            .collect();
        if unfit.is_empty() {
            let asked: Vec<&str> = limit.leave.iter().map(|hazard| hazard.word()).collect();
            return Ruling::not(format!("Nothing of it was noted: {}.", asked.join(", ")));
        }
        let first = format!("Unfit ground: {}.", unfit.join(", "));
        Ruling::holds(first.clone()).leave(Head::Unfit, first)
    }

    pub(super) fn host(&self, limit: &HostLimit) -> Ruling {
        let tree = self
            .asked
            .site
            .tree()
            .map(str::to_lowercase)
            .filter(|tree| !tree.is_empty() && tree != "unknown");
        match tree {
            Some(tree)
                if limit.leave.iter().any(|unfit| tree.split([' ', '-']).any(|word| word == unfit)) =>
            {
                let first = format!("Unfit tree: {tree}.");
                Ruling::holds(first.clone()).leave(Head::Unfit, first)
            }
            Some(tree) => Ruling::not(format!("The tree is {tree}.")),
            None if limit.unknown => Ruling::unknown(Missing::Host, "Nobody can name the tree for certain.")
                .leave(Head::Unfit, "Nobody can name the tree it grows on."),
            None => Ruling::unknown(Missing::Host, format!("It may be {}.", limit.leave.join(" or ")))
                .leave(Head::Unfit, "Still to find out: the tree it grows on."),
        }
    }

    pub(super) fn permission(&self, rule: &Rule) -> Ruling {
        match self.asked.site.land {
            Permission::Own => Ruling::not("It is your own land."),
            Permission::Permitted => Ruling::not("You have the owner's leave."),
            Permission::Open => Ruling::holds(format!("{} On access land, look for a byelaw.", rule.words)),
            Permission::Unknown => Ruling::unknown(Missing::Land, rule.words.clone()).effect(Effect::Ask),
        }
    }

    fn when_older(&self, stage: Stage) -> Option<jiff::civil::Date> {
        if stage == Stage::Past { None } else { self.when_grown() }
    }

    fn when_grown(&self) -> Option<jiff::civil::Date> {
        self.asked.now.day().checked_add(jiff::SignedDuration::from_hours(24 * GROWN_AFTER_DAYS)).ok()
    }
}

fn head(stage: Stage) -> Head {
    if stage == Stage::Past { Head::Past } else { Head::TooYoung }
}

/// How many are of these stages, and how many of others.
pub(super) fn parted(stages: &BTreeMap<Stage, u32>, these: &[Stage]) -> (u32, u32) {
    stages.iter().fold((0_u32, 0_u32), |(of, not), (stage, count)| {
        if these.contains(stage) {
            (of.saturating_add(*count), not)
        } else {
            (of, not.saturating_add(*count))
        }
    })
}
