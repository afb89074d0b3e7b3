//! The orders in which patches are listed.

use std::cmp::Ordering;

use jiff::civil::Date;

use crate::id::PatchId;

/// By what a list of patches is ordered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Listed {
    /// The nearest first; those whose way nobody knows last.
    Near,
    /// Those never looked at first, then the longest not looked at.
    LastLook,
    /// By the name of what is looked for there; those without one last.
    Kind,
}

/// What a patch is ordered by. What two have alike is left to the next: their way, their name, and in the end their age.
#[derive(Debug, Clone, PartialEq)]
pub struct Sorting {
    /// The name of its kind.
    pub kind: Option<String>,
    /// What it is called.
    pub name: Option<String>,
    /// How far it is, in metres.
    pub metres: Option<f64>,
    /// The last look.
    pub looked: Option<Date>,
    /// Its id, which tells its age.
    pub id: PatchId,
}

impl Sorting {
    /// Which of two comes first.
    #[must_use]
    pub fn compare(&self, other: &Self, order: Listed) -> Ordering {
        let near = || {
            let far = |one: &Self| one.metres.unwrap_or(f64::INFINITY);
            far(self).total_cmp(&far(other))
        };
        let first = match order {
            Listed::Near => near(),
            Listed::LastLook => self.looked.cmp(&other.looked).then_with(near),
            Listed::Kind => named_first(self.kind.as_ref(), other.kind.as_ref()).then_with(near),
        };
        first.then_with(|| named_first(self.name.as_ref(), other.name.as_ref())).then(self.id.cmp(&other.id))
    }
}

/// By name, whatever the case; what has none comes last.
fn named_first(a: Option<&String>, b: Option<&String>) -> Ordering {
    let folded = |name: Option<&String>| name.map(|name| name.trim().to_lowercase());
    a.is_none().cmp(&b.is_none()).then_with(|| folded(a).cmp(&folded(b)))
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use proptest::prelude::*;
    use uuid::Uuid;

    use super::*;

    fn one(
        id: u128,
        kind: Option<&str>,
        name: Option<&str>,
        metres: Option<f64>,
        looked: Option<Date>,
    ) -> Sorting {
        let text = |text: Option<&str>| text.map(str::to_owned);
        Sorting { kind: text(kind), name: text(name), metres, looked, id: PatchId(Uuid::from_u128(id)) }
    }

    fn sorted(mut all: Vec<Sorting>, order: Listed) -> Vec<u128> {
        all.sort_by(|a, b| a.compare(b, order));
        all.iter().map(|one| one.id.0.as_u128()).collect()
    }

    fn four() -> Vec<Sorting> {
        vec![
            one(1, Some("Velvet shank"), Some("old elder"), Some(900.0), Some(date(2025, 12, 1))),
            one(2, Some("chanterelle"), None, None, Some(date(2024, 7, 1))),
            one(3, None, Some("Bank"), Some(20.0), None),
            one(4, Some("Velvet shank"), Some("ash log"), Some(40.0), Some(date(2025, 12, 1))),
        ]
    }

    #[test]
    fn by_nearness_by_the_last_look_and_by_kind() {
        assert_eq!(sorted(four(), Listed::Near), [3, 4, 1, 2], "without a way last");
        assert_eq!(
            sorted(four(), Listed::LastLook),
            [3, 2, 4, 1],
            "never looked at first, then the longest not"
        );
        assert_eq!(
            sorted(four(), Listed::Kind),
            [2, 4, 1, 3],
            "without a kind last, and within one by nearness"
        );
        let nowhere = four().into_iter().map(|one| Sorting { metres: None, ..one }).collect();
        assert_eq!(sorted(nowhere, Listed::Near), [4, 3, 1, 2], "by name where no way is known");
    }

    proptest! {
        #[test]
        fn every_list_has_one_order(
            kinds in prop::collection::vec((0usize..3, 0usize..3, 0usize..3, 0usize..3), 0..10), seed in any::<u64>(),
        ) {
            let pick = |all: [Option<&'static str>; 3], at: usize| all[at];
            let mut all: Vec<Sorting> = kinds.iter().enumerate().map(|(id, (kind, name, far, looked))| one(
                id as u128,
                pick([None, Some("Cep"), Some("cep")], *kind),
                pick([None, Some("a"), Some("B")], *name),
                [None, Some(1.0), Some(2.0)][*far],
                [None, Some(date(2025, 1, 1)), Some(date(2026, 1, 1))][*looked],
            )).collect();
            for order in [Listed::Near, Listed::LastLook, Listed::Kind] {
                let before = sorted(all.clone(), order);
                let turns = usize::try_from(seed % 10).unwrap().min(all.len());
                all.rotate_left(turns);
                all.reverse();
                prop_assert_eq!(&before, &sorted(all.clone(), order));
            }
        }
    }
}
