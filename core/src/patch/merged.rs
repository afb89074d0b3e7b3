//! Patches that turned out to be one.

use crate::id::PatchId;

/// The patch that stands for this one: the end of the way along `merged_into`, which `next` looks up.
///
/// `next` gives `None` for a patch that was not merged, or into one that is not there: then it stands for itself. Two devices
/// may each have merged one into the other; of such a ring the patch with the least id, the oldest, stands for all.
///
/// # Errors
/// Those of `next`.
pub fn survivor<E>(
    patch: PatchId,
    mut next: impl FnMut(PatchId) -> Result<Option<PatchId>, E>,
) -> Result<PatchId, E> {
    let mut way = vec![patch];
    let mut here = patch;
    while let Some(into) = next(here)? {
        if let Some(at) = way.iter().position(|passed| *passed == into) {
            let ring = way.iter().skip(at).copied().min();
            return Ok(ring.unwrap_or(into));
        }
        way.push(into);
        here = into;
    }
    Ok(here)
}

#[cfg(test)]
mod tests {
    use std::convert::Infallible;

    use proptest::prelude::*;
    use uuid::Uuid;

    use super::*;

    fn id(n: u128) -> PatchId {
        PatchId(Uuid::from_u128(n))
    }

    fn end(from: u128, merges: &[(u128, u128)]) -> PatchId {
        let next = |at| Ok(merges.iter().find(|(from, _)| id(*from) == at).map(|(_, into)| id(*into)));
        let Ok(end) = survivor::<Infallible>(id(from), next);
        end
    }

    #[test]
    fn chains_are_followed_and_rings_have_one_survivor() {
        assert_eq!(end(1, &[]), id(1));
        assert_eq!(end(3, &[(3, 2), (2, 1)]), id(1));
        assert_eq!(end(1, &[(1, 1)]), id(1));
        for from in 1..=4 {
            assert_eq!(end(from, &[(4, 3), (3, 2), (2, 3), (1, 4)]), id(2), "from {from}");
        }
    }

    proptest! {
        #[test]
        fn whoever_is_merged_with_another_ends_where_it_does(into in prop::collection::vec(0u128..8, 8)) {
            let merges: Vec<(u128, u128)> = (0..8).zip(into).filter(|(from, into)| from != into).collect();
            for (from, into) in &merges {
                prop_assert_eq!(end(*from, &merges), end(*into, &merges));
            }
        }
    }
}
