//! What finds come to when they are added up: how many were seen, taken and left, and what that weighed.

use std::iter::Sum;
use std::ops::{Add, AddAssign};

use jiff::civil::Date;
use serde::{Serialize, Serializer};

use crate::find::Find;
use crate::id::{OutingId, PatchId};

/// How many, all told. The low end is sure; there is no high end where something was not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Many {
    /// At least.
    pub least: u32,
    /// At most, if that is known.
    pub most: Option<u32>,
}

impl Many {
    /// Exactly so many.
    #[must_use]
    pub fn exactly(n: u32) -> Self {
        Self { least: n, most: Some(n) }
    }

    /// None at all, as far as anyone can say.
    #[must_use]
    pub fn is_none(self) -> bool {
        self.most == Some(0)
    }
}

impl Default for Many {
    fn default() -> Self {
        Self::exactly(0)
    }
}

impl Add for Many {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        let most = self.most.zip(other.most).map(|(a, b)| a.saturating_add(b));
        Self { least: self.least.saturating_add(other.least), most }
    }
}

/// Always a pair, `[least, most]`; `null` for a high end that nobody knows.
impl Serialize for Many {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (self.least, self.most).serialize(serializer)
    }
}

/// What some finds come to. Order and grouping of the finds make no difference.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Amounts {
    /// How many finds.
    pub finds: u32,
    /// How many fruitbodies were there on arrival, those taken included.
    pub seen: Many,
    /// How many were taken for the table.
    pub taken: Many,
    /// How many were taken for study.
    pub specimens: u32,
    /// What those taken for the table weigh, as far as they were weighed, in milligrams: whole numbers add up the same in
    /// any order.
    pub milligrams: u64,
    /// Finds of which something was taken for the table and not weighed.
    pub unweighed: u32,
}

impl Amounts {
    /// What one find comes to.
    ///
    /// A find that nobody counted is of one fruitbody at least. What was taken had been there, so the low end of what was
    /// seen is never below it. A weight without a number is of one at least.
    #[must_use]
    pub fn of(find: &Find) -> Self {
        let weighed = find.grams.filter(|grams| grams.get() > 0.0);
        let taken = match (find.taken, weighed) {
            (Some(n), _) => Many::exactly(n),
            (None, Some(_)) => Many { least: 1, most: None },
            (None, None) => Many::default(),
        };
        let specimens = find.specimens.unwrap_or(0);
        let away = taken.least.saturating_add(specimens);
        let seen = match find.seen {
            Some(count) => Many { least: count.least().max(away), most: Some(count.most().max(away)) },
            None => Many { least: away.max(1), most: None },
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 100,000,000")]
        let milligrams = weighed.map_or(0, |grams| (grams.get() * 1000.0).round() as u64);
        let unweighed = u32::from(taken.least > 0 && weighed.is_none());
        Self { finds: 1, seen, taken, specimens, milligrams, unweighed }
    }

    /// How many stayed.
    #[must_use]
    pub fn left(&self) -> Many {
        let gone = |taken: u32| taken.saturating_add(self.specimens);
        let least = self.taken.most.map_or(0, |taken| self.seen.least.saturating_sub(gone(taken)));
        Many { least, most: self.seen.most.map(|seen| seen.saturating_sub(gone(self.taken.least))) }
    }

    /// What was weighed.
    ///
    /// # Units
    /// Grams.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "exact up to nine million tonnes")]
    pub fn grams(&self) -> f64 {
        self.milligrams as f64 / 1000.0
    }

    /// Something was taken away, for the table or for study.
    #[must_use]
    pub fn any_taken(&self) -> bool {
        self.taken.least > 0 || self.specimens > 0
    }
}

impl Add for Amounts {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            finds: self.finds.saturating_add(other.finds),
            seen: self.seen + other.seen,
            taken: self.taken + other.taken,
            specimens: self.specimens.saturating_add(other.specimens),
            milligrams: self.milligrams.saturating_add(other.milligrams),
            unweighed: self.unweighed.saturating_add(other.unweighed),
        }
    }
}

impl AddAssign for Amounts {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sum for Amounts {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}

impl Serialize for Amounts {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let mut fields = serializer.serialize_struct("Amounts", 7)?;
        fields.serialize_field("finds", &self.finds)?;
        fields.serialize_field("seen", &self.seen)?;
        fields.serialize_field("taken", &self.taken)?;
        fields.serialize_field("specimens", &self.specimens)?;
        fields.serialize_field("left", &self.left())?;
        fields.serialize_field("grams", &self.grams())?;
        fields.serialize_field("unweighed", &self.unweighed)?;
        fields.end()
    }
}

/// What the finds of one patch, day, outing, name and gatherer come to: the grain at which earlier taking is asked for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tally {
    /// The patch, if they belong to one.
    pub patch: Option<PatchId>,
    /// The day, by the clock that was carried.
    pub day: Date,
    /// The outing, if they were made on one.
    pub outing: Option<OutingId>,
    /// The latest name given to them that stands; none where nobody has named them.
    pub taxon: Option<String>,
    /// Who gathered; none for the notebook's owner.
    pub by: Option<String>,
    /// How much.
    #[serde(flatten)]
    pub amounts: Amounts,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::{collection::vec, option};

    use super::*;
    use crate::find::Count;
    use crate::units::Grams;

    fn find(
        seen: Option<(u32, u32)>,
        taken: Option<u32>,
        specimens: Option<u32>,
        grams: Option<f64>,
    ) -> Amounts {
        let seen = seen.map(|(least, most)| Count::between(least, most).unwrap());
        let grams = grams.map(|grams| Grams::new(grams).unwrap());
        Amounts::of(&Find { seen, taken, grams, specimens, ..Find::default() })
    }

    fn range(least: u32, most: impl Into<Option<u32>>) -> Many {
        Many { least, most: most.into() }
    }

    #[test]
    fn a_find_says_what_was_seen_taken_and_left() {
        let counted = find(Some((7, 7)), Some(3), Some(1), Some(40.5));
        assert_eq!((counted.left(), counted.grams(), counted.unweighed), (Many::exactly(3), 40.5, 0));
        let about = find(Some((3, 5)), Some(4), None, None);
        assert_eq!((about.seen, about.left(), about.unweighed), (range(4, 5), range(0, 1), 1));
        let untouched = find(Some((10, 10)), None, None, None);
        assert_eq!((untouched.taken, untouched.any_taken()), (Many::default(), false));
        assert_eq!((about + untouched).left(), range(10, 11));
    }

    #[test]
    fn what_nobody_counted_has_no_high_end() {
        let uncounted = find(None, Some(2), None, Some(30.0));
        assert_eq!((uncounted.seen, uncounted.left()), (range(2, None), range(0, None)));
        let weighed = find(Some((9, 9)), None, None, Some(120.0));
        assert_eq!((weighed.taken, weighed.left()), (range(1, None), range(0, 8)));
        assert_eq!((uncounted + weighed).seen, range(11, None));
        assert_eq!(find(None, None, None, None).seen, range(1, None));
    }

    fn amounts() -> impl Strategy<Value = Amounts> {
        let seen = option::of((0u32..30, 0u32..30).prop_map(|(a, b)| (a, a + b)));
        (seen, option::of(0u32..20), option::of(0u32..4), option::of(0.0..500.0))
            .prop_map(|(seen, taken, specimens, grams)| find(seen, taken, specimens, grams))
    }

    proptest! {
        #[test]
        fn order_and_grouping_make_no_difference(mut all in vec(amounts(), 0..12), cut in 0usize..12) {
            let straight: Amounts = all.iter().copied().sum();
            let (front, back) = all.split_at(cut.min(all.len()));
            prop_assert_eq!(straight, back.iter().copied().sum::<Amounts>() + front.iter().copied().sum());
            all.reverse();
            prop_assert_eq!(straight, all.into_iter().sum());
        }

        #[test]
        fn nothing_appears_or_disappears(all in vec(amounts(), 0..12)) {
            let sum: Amounts = all.into_iter().sum();
            let (seen, taken, left) = (sum.seen, sum.taken, sum.left());
            prop_assert!(left.most.is_none_or(|most| left.least <= most));
            prop_assert!(seen.least >= taken.least + sum.specimens);
            if let (Some(seen), Some(left)) = (seen.most, left.most) {
                prop_assert_eq!(seen, left + taken.least + sum.specimens);
            }
        }
    }
}
