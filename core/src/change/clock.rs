//! The hybrid logical clock: always ahead of everything this device has written, and never dragged far by another's.

use super::Stamp;

/// How far ahead of the wall clock another device's stamp may pull this one.
const FOLLOW_AT_MOST_MS: i64 = 24 * 60 * 60 * 1000;

/// The last stamp given. Pure: the wall clock is passed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clock {
    last: Stamp,
}

impl Clock {
    /// A clock that goes on from the last stamp this device gave.
    #[must_use]
    pub fn after(own_last: Stamp) -> Self {
        Self { last: own_last }
    }

    /// The next stamp: above every earlier one, whatever the wall clock did meanwhile.
    pub fn tick(&mut self, now_millis: i64) -> Stamp {
        self.last = self.last.next().max(Stamp::at(now_millis));
        self.last
    }

    /// Takes note of another device's stamp, unless it lies more than 24 hours ahead of the wall clock: such a clock is
    /// wrong, and following it would make ours wrong too. What it wrote is kept all the same; `replaces` decides, not time.
    pub fn saw(&mut self, other: Stamp, now_millis: i64) {
        if other.millis() <= now_millis.saturating_add(FOLLOW_AT_MOST_MS) {
            self.last = self.last.max(other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DAY: i64 = FOLLOW_AT_MOST_MS;

    proptest! {
        #[test]
        fn stamps_only_rise(times in prop::collection::vec((0i64..1 << 46, 0i64..1 << 46), 1..50)) {
            let mut clock = Clock::after(Stamp::ZERO);
            let mut last = Stamp::ZERO;
            for (now, other) in times {
                clock.saw(Stamp::at(other), now);
                let stamp = clock.tick(now);
                prop_assert!(stamp > last);
                last = stamp;
            }
        }
    }

    #[test]
    fn a_clock_years_ahead_is_not_followed_and_one_an_hour_ahead_is() {
        let now = 1_764_061_200_000;
        let mut clock = Clock::after(Stamp::ZERO);
        clock.saw(Stamp::at(now + 3650 * DAY), now);
        assert_eq!(clock.tick(now).millis(), now);
        clock.saw(Stamp::at(now + 3_600_000), now);
        assert_eq!(clock.tick(now).millis(), now + 3_600_000);
    }
}
