//! The basket against what one person may carry away.

use super::Case;
use super::asked::Asked;
use super::ledger::Ledger;
use super::ruling::{Finding, Reason};
use crate::code::{Limit, Over, Rule};

/// Every rule that limits by weight or number what one person carries away, with what is taken already. Asked without a
/// fungus, the rules on all of it together; asked with one, those on it alone.
///
/// # Units
/// Fruitbodies and grams.
#[must_use]
pub fn basket(asked: &Asked<'_>) -> Vec<Reason> {
    let case = Case { asked, ledger: Ledger::of(asked) };
    let rules = asked.codes.iter().flat_map(|code| code.rules.iter().map(move |rule| (*code, rule)));
    rules
        .filter(|(_, rule)| bears(asked, rule))
        .map(|(code, rule)| Finding::of(code, rule, case.judge(code, rule)).into_reason(false))
        .collect()
}

fn bears(asked: &Asked<'_>, rule: &Rule) -> bool {
    let on_all = rule.names.is_everything();
    match (&rule.limit, asked.fungus) {
        (Limit::Weight(_), None) => on_all,
        (Limit::Count(limit), None) => on_all && limit.over == Over::Person,
        (Limit::Weight(_), Some(fungus)) => !on_all && rule.names.hold(fungus),
        (Limit::Count(limit), Some(fungus)) => {
            let on_it = if on_all { limit.over == Over::Species } else { limit.over != Over::Patch };
            on_it && rule.names.hold(fungus)
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::allowance::{Facts, Naming, Past, Site, Take, There, Verdict};
    use crate::code;
    use crate::outing::Permission;
    use crate::units::Grams;

    /// The pickers' code of 1998: 1.5 kg a visit.
    fn limits(grams: Option<f64>, fungus: Option<&Facts>) -> Vec<Reason> {
        let take = Take {
            day: date(2026, 11, 1),
            fungus: None,
            visit: true,
            here: false,
            mine: true,
            count: Some(3),
            grams: grams.map(|grams| Grams::new(grams).unwrap()),
            specimens: 0,
        };
        let codes = code::choose(code::shipped().unwrap(), Some(&["pickers-1998".to_owned()])).unwrap();
        basket(&Asked {
            fungus,
            naming: Naming::NotSettled,
            or: &[],
            there: There::default(),
            site: Site { land: Permission::Own, areas: &[], hazards: &[], host: None, position: None },
            now: "2026-11-01T12:00:00+00:00".parse().unwrap(),
            past: Past { takes: &[take], ..Past::default() },
            codes: &codes,
            unread: &[],
        })
    }

    #[test]
    fn a_basket_is_held_against_a_weight_and_an_unweighed_one_promises_nothing() {
        let weighed = limits(Some(400.0), None);
        assert_eq!(weighed.len(), 1, "{weighed:?}");
        assert_eq!(weighed[0].numbers.get("left_grams"), Some(&1100.0));
        assert_eq!(weighed[0].verdict, Verdict::Holds);
        assert_eq!(limits(None, None)[0].verdict, Verdict::CannotBeJudged);
        // No rule of that code weighs one species by itself.
        assert!(limits(Some(400.0), Some(&Facts::unknown("something"))).is_empty());
    }
}
