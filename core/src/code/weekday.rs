//! The days of the week, as codes write them.

use jiff::civil::Date;

use crate::words::words;

words!(
    /// A day of the week.
    Weekday, "day of the week", {
        /// Monday.
        Monday = "monday",
        /// Tuesday.
        Tuesday = "tuesday",
        /// Wednesday.
        Wednesday = "wednesday",
        /// Thursday.
        Thursday = "thursday",
        /// Friday.
        Friday = "friday",
        /// Saturday.
        Saturday = "saturday",
        /// Sunday.
        Sunday = "sunday",
    }
);

impl Weekday {
    /// The day of the week of a date.
    #[must_use]
    pub fn of(date: Date) -> Self {
        use jiff::civil::Weekday as Jiff;
        match date.weekday() {
            Jiff::Monday => Self::Monday,
            Jiff::Tuesday => Self::Tuesday,
            Jiff::Wednesday => Self::Wednesday,
            Jiff::Thursday => Self::Thursday,
            Jiff::Friday => Self::Friday,
            Jiff::Saturday => Self::Saturday,
            Jiff::Sunday => Self::Sunday,
        }
    }
}
