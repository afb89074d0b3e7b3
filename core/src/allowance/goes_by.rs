//! The name that a find goes by, of all that were given to it.

use super::facts::Facts;
use crate::find::{Determination, How};
use crate::pack::{Pack, Standing};

/// What a find is taken for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct GoesBy {
    /// The last name given; `None` if nobody has one.
    pub name: Option<String>,
    /// How it was reached; `None` if it is not settled.
    pub how: Option<How>,
}

/// What a find goes by, of the names given to it, oldest first.
///
/// The last one that was not taken back counts, whoever gave it. It is *not settled* if the last word was that it is unknown,
/// as when the key will not name what somebody had a name for; or if any two names differ of which one is dangerous.
#[must_use]
pub fn goes_by<'d>(pack: &Pack, given: impl IntoIterator<Item = &'d Determination>) -> GoesBy {
    let given: Vec<&Determination> = given.into_iter().filter(|one| one.withdrawn != Some(true)).collect();
    let names: Vec<&String> = given.iter().filter_map(|one| one.taxon.as_ref()).collect();
    let facts: Vec<Facts> =
        names.iter().map(|name| Facts::named(pack, name).unwrap_or_else(|| Facts::unknown(name))).collect();
    let differ = facts.iter().any(|one| facts.iter().any(|other| !are_one(one, other)));
    let danger = facts.iter().any(|one| one.standing.is_none_or(Standing::is_dangerous));
    let last = given.last().filter(|last| last.taxon.is_some() && !(differ && danger));
    GoesBy { name: names.last().map(ToString::to_string), how: last.and_then(|last| last.how) }
}

/// Whether two names speak of the same, or one of the other's group.
fn are_one(one: &Facts, other: &Facts) -> bool {
    let same = |one: &str, other: &str| one.eq_ignore_ascii_case(other);
    one.ids.iter().any(|id| other.ids.iter().any(|other| same(id, other)))
        || one.latin.iter().any(|name| other.latin.iter().any(|other| same(name, other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(names: &[(&str, How)]) -> GoesBy {
        let of = |(name, how): &(&str, How)| Determination {
            taxon: (!name.is_empty()).then(|| name.trim_start_matches('~').to_owned()),
            how: Some(*how),
            withdrawn: name.starts_with('~').then_some(true),
            ..Determination::default()
        };
        let all: Vec<Determination> = names.iter().map(of).collect();
        goes_by(Pack::britain().unwrap(), &all)
    }

    fn is(name: &str, how: Option<How>) -> GoesBy {
        GoesBy { name: Some(name.to_owned()).filter(|name| !name.is_empty()), how }
    }

    /// Rules of the design: an unwithdrawn disagreement about danger is not settled, and what the key will not name is not.
    #[test]
    fn the_last_name_counts_unless_something_dangerous_still_fits() {
        use How::{Key, Sight, Told};
        for (names, expected) in [
            (&[][..], is("", None)),
            (&[("", Key)], is("", None)),
            (&[("velvet-shank", Sight)], is("velvet-shank", Some(Sight))),
            (&[("velvet-shank", Sight), ("", Key)], is("velvet-shank", None)),
            (&[("velvet-shank", Sight), ("", Key), ("velvet-shank", Key)], is("velvet-shank", Some(Key))),
            (&[("velvet-shank", Key), ("funeral-bell", Told)], is("funeral-bell", None)),
            (&[("funeral-bell", Told), ("velvet-shank", Key)], is("velvet-shank", None)),
            (&[("~funeral-bell", Told), ("velvet-shank", Key)], is("velvet-shank", Some(Key))),
            (
                &[("velvet-shank", Sight), ("something of the Congo", Told)],
                is("something of the Congo", None),
            ),
            (&[("cep", Sight), ("bay-bolete", Key)], is("bay-bolete", Some(Key))),
            (&[("scarlet-elf-cup", Sight), ("elf-cups", Key)], is("elf-cups", Some(Key))),
            (
                &[("Velvet shank", Sight), ("Flammulina velutipes", Told)],
                is("Flammulina velutipes", Some(Told)),
            ),
        ] {
            assert_eq!(given(names), expected, "{names:?}");
        }
    }
}
