//! What holds under every code: an unsettled name, danger, an unknown number or age, closed ground, a patch at rest.

use super::Case;
use super::asked::{AreaHere, Maturity, Naming, Whereto};
use super::body::parted;
use super::closed::resting;
use super::number::taken_uncounted;
use super::ruling::{Effect, Finding, Head, Missing, Ruling};
use super::words;
use crate::code::Limit;
use crate::find::How;
use crate::outing::Permission;
use crate::pack::Standing;
use crate::stage::Stage;

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let mut all = vec![
        Finding::always("name", case.name()),
        Finding::always("standing", case.standing()),
        Finding::always("count", case.counted()),
        Finding::always("condition", case.condition()),
        Finding::always("land", case.land()),
    ];
    all.extend(case.own_sizes().map(|ruling| Finding::always("own-size", ruling)));
    all.extend(case.asked.site.areas.iter().map(|area| Finding::always("area", area_here(area))));
    all.extend(case.rest_until().map(|ruling| Finding::always("rest", ruling)));
    all.extend(case.asked.unread.iter().map(|rule| Finding::always("unread-rule", unread(rule))));
    all
}

impl Case<'_> {
    fn name(&self) -> Ruling {
        match (self.asked.fungus, self.asked.naming) {
            (None, _) => Ruling::unknown(Missing::Name, "Nobody has a name for it.")
                .leave(Head::NotSettled, "Nobody has a name for it."),
            (Some(_), Naming::NotSettled) => {
                Ruling::unknown(Missing::Name, "Not settled: something else still fits.")
                    .leave(Head::NotSettled, "Not settled: something else still fits.")
            }
            (Some(fungus), Naming::By(How::Key)) => {
                Ruling::not(format!("Your answers fit {}. Check every one you cut.", fungus.name))
            }
            (Some(fungus), Naming::By(how)) => Ruling::not(format!(
                "{} {}: that is somebody's word. Every look-alike stays open.",
                words::capital(&fungus.name),
                words::named(how)
            )),
        }
    }

    fn standing(&self) -> Ruling {
        let Some(fungus) = self.asked.fungus else {
            return Ruling::unknown(Missing::Name, "What it is to people is not known.");
        };
        let name = words::capital(&fungus.name);
        match fungus.standing {
            None => Ruling::unknown(Missing::Name, format!("No pack knows {}.", fungus.name))
                .leave(Head::NotSettled, format!("Trug knows nothing of {}.", fungus.name)),
            Some(Standing::Deadly) => {
                let first = format!("{name} has killed people.");
                Ruling::holds(first.clone()).leave(Head::Danger, first).and_no_specimen()
            }
            Some(Standing::Harmful) => {
                let first = format!("{name} makes people ill.");
                Ruling::holds(first.clone()).leave(Head::Danger, first).and_no_specimen()
            }
            Some(Standing::Inedible) => {
                let first = format!("Nobody gathers {}.", fungus.name);
                Ruling::holds(first.clone()).leave(Head::Inedible, first)
            }
            Some(Standing::Food) => {
                Ruling::not(format!("People gather {}. That says nothing about this one.", fungus.name))
            }
        }
    }

    fn counted(&self) -> Ruling {
        if self.ledger.here_on_this_visit().uncounted > 0 {
            return taken_uncounted();
        }
        match self.asked.there.seen {
            None => Ruling::unknown(Missing::Count, "How many there are is not known.")
                .leave(Head::NotCounted, "Still to count: how many there are."),
            Some(seen) if seen.most() == 1 => Ruling::not("There was 1 at arrival."),
            Some(seen) => Ruling::not(format!("There were {seen} at arrival{}.", words::low_end_rules(seen)))
                .number("present", seen.least()),
        }
    }

    /// Those that no stage rule leaves, all such rules taken together.
    fn condition(&self) -> Ruling {
        match &self.asked.there.maturity {
            Maturity::Unknown => Ruling::unknown(Missing::Stage, "How old they are is not known.")
                .leave(Head::NoStage, "Still to judge: how old they are."),
            Maturity::Uncounted => {
                Ruling::unknown(Missing::Stages, "Some are older than others, and nobody counted.")
                    .leave(Head::NoStage, "Still to count: how many there are of each age.")
            }
            Maturity::All(stage) => Ruling::not(format!("They {}.", words::are(*stage))),
            Maturity::Mixed(stages) => {
                let (_, good) = parted(stages, &self.left_stages());
                let left = good.saturating_sub(self.ledger.here_on_this_visit().count);
                let first = if good == 0 {
                    words::none_in_condition()
                } else {
                    format!("{good} of them are of an age to be taken")
                };
                Ruling::holds(format!("{good} of them are of an age to be taken."))
                    .effect(Effect::AtMost(left))
                    .head(if good == 0 { Head::Past } else { Head::TooFew }, first)
                    .number("in_condition", good)
            }
        }
    }

    fn left_stages(&self) -> Vec<Stage> {
        let rules = self.asked.codes.iter().flat_map(|code| &code.rules);
        let hold = rules.filter(|rule| self.asked.fungus.is_none_or(|fungus| rule.names.hold(fungus)));
        let stages = hold
            .filter_map(|rule| if let Limit::Stage(limit) = &rule.limit { Some(&limit.leave) } else { None });
        stages.flatten().copied().collect()
    }

    fn own_sizes(&self) -> impl Iterator<Item = Ruling> {
        let sizes = self.asked.fungus.map_or(&[][..], |fungus| &fungus.taken_from);
        // What was not measured is judged by eye, and holds nothing back.
        sizes.iter().filter_map(|(of, least)| self.size_from(*of, least.get()))
    }

    fn land(&self) -> Ruling {
        match self.asked.site.land {
            Permission::Own => Ruling::not("It is your own land."),
            Permission::Permitted => Ruling::not("You have the owner's leave."),
            Permission::Open => Ruling::not("It is access land; a byelaw may still forbid it."),
            Permission::Unknown => {
                Ruling::unknown(Missing::Land, "Whose land it is, and whether you may pick, is not known.")
                    .effect(Effect::Ask)
                    .head(Head::Other, "whose land it is, and whether you may pick, is not known")
            }
        }
    }

    fn rest_until(&self) -> Option<Ruling> {
        let until = self.asked.past.rest_until?;
        Some(if self.asked.now.day() < until {
            resting(format!("You let this patch rest until {}.", words::date(until)), until)
        } else {
            Ruling::not(format!("The patch rested until {}.", words::date(until)))
        })
    }
}

fn area_here(area: &AreaHere) -> Ruling {
    let name = &area.name;
    match area.whereto {
        _ if !area.closed => Ruling::not(format!("{name}: the code of that ground is taken along.")),
        Whereto::Inside => {
            let first = format!("Closed ground: {name}.");
            Ruling::holds(first.clone()).leave(Head::ClosedArea, first).and_no_specimen()
        }
        Whereto::Near(metres) => {
            let text = format!("Within {metres:.0} m of closed ground: {name}. Check where it begins.");
            let first = format!("within {metres:.0} m of closed ground ({name}); check where it begins");
            Ruling::unknown(Missing::Place, text)
                .effect(Effect::Ask)
                .head(Head::ClosedArea, first)
                .and_no_specimen()
        }
        Whereto::Unknown => {
            let text =
                format!("Where this is is not known, and {name} is closed. Check that this is not it.");
            let first = format!("where this is is not known, and {name} is closed");
            Ruling::unknown(Missing::Place, text)
                .effect(Effect::Ask)
                .head(Head::ClosedArea, first)
                .and_no_specimen()
        }
    }
}

fn unread(rule: &str) -> Ruling {
    Ruling::unknown(
        Missing::NewerVersion,
        format!("Your rule {rule:?} was written by a newer version, which alone can read it."),
    )
    .effect(Effect::Ask)
    .head(Head::Other, format!("a rule of yours, {rule:?}, cannot be read by this version"))
}
