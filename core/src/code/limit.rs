//! What a rule can limit. Together these say every rule that was found in the codes, decrees and byelaws looked at.

use jiff::civil::Time;
use serde::{Deserialize, Serialize};

use super::values::{DayRange, MonthDay, Share};
use super::weekday::Weekday;
use crate::find::Hazard;
use crate::pack::Abundance;
use crate::stage::Stage;
use crate::units::{Grams, Millimetres};
use crate::words::words;

/// What a rule limits, and by how much.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Limit {
    /// At most a share of the fruitbodies of a species that were present at arrival.
    Share(ShareLimit),
    /// So many fruitbodies stay, whatever else may be taken.
    Keep(KeepLimit),
    /// None where fewer than so many are present at arrival.
    Present(PresentLimit),
    /// At most so many fruitbodies.
    Count(CountLimit),
    /// At most so many grams a person.
    Weight(WeightLimit),
    /// At most so many litres a person. Nobody measures litres in a wood, so that it is told and not reckoned.
    Volume(VolumeLimit),
    /// Only fruitbodies of at least this size.
    Size(SizeLimit),
    /// None that are of these stages.
    Stage(StageLimit),
    /// None that are as seldom met as this.
    Abundance(AbundanceLimit),
    /// None on these days of the month.
    ClosedDays(ClosedDays),
    /// None on these days of the week.
    ClosedWeekdays(ClosedWeekdays),
    /// None from one day of the year to another.
    ClosedSeason(ClosedSeason),
    /// None between two times of the clock.
    ClosedHours(ClosedHours),
    /// None by night, reckoned from the sun.
    ClosedNight(ClosedNight),
    /// A patch rests after something was taken from it.
    Rest(RestLimit),
    /// Not to be picked at all.
    Protected,
    /// None from ground that is unfit.
    Ground(GroundLimit),
    /// None from these trees, nor from a tree that nobody can name.
    Host(HostLimit),
    /// Only with the leave of whoever owns the land.
    Permission,
    /// Only what will be used.
    OwnUse,
    /// At most so many specimens for study.
    Study(StudyLimit),
    /// Something to be heeded that is no number: tools, baskets, cutting.
    Advice(Advice),
}

words!(
    /// The names of the kinds of limit, as files write them.
    LimitKind, "kind of limit", {
        /// [`Limit::Share`].
        Share = "share",
        /// [`Limit::Keep`].
        Keep = "keep",
        /// [`Limit::Present`].
        Present = "present",
        /// [`Limit::Count`].
        Count = "count",
        /// [`Limit::Weight`].
        Weight = "weight",
        /// [`Limit::Volume`].
        Volume = "volume",
        /// [`Limit::Size`].
        Size = "size",
        /// [`Limit::Stage`].
        Stage = "stage",
        /// [`Limit::Abundance`].
        Abundance = "abundance",
        /// [`Limit::ClosedDays`].
        ClosedDays = "closed-days",
        /// [`Limit::ClosedWeekdays`].
        ClosedWeekdays = "closed-weekdays",
        /// [`Limit::ClosedSeason`].
        ClosedSeason = "closed-season",
        /// [`Limit::ClosedHours`].
        ClosedHours = "closed-hours",
        /// [`Limit::ClosedNight`].
        ClosedNight = "closed-night",
        /// [`Limit::Rest`].
        Rest = "rest",
        /// [`Limit::Protected`].
        Protected = "protected",
        /// [`Limit::Ground`].
        Ground = "ground",
        /// [`Limit::Host`].
        Host = "host",
        /// [`Limit::Permission`].
        Permission = "permission",
        /// [`Limit::OwnUse`].
        OwnUse = "own-use",
        /// [`Limit::Study`].
        Study = "study",
        /// [`Limit::Advice`].
        Advice = "advice",
    }
);

impl Limit {
    /// Which kind it is.
    #[must_use]
    pub fn kind(&self) -> LimitKind {
        match self {
            Self::Share(_) => LimitKind::Share,
            Self::Keep(_) => LimitKind::Keep,
            Self::Present(_) => LimitKind::Present,
            Self::Count(_) => LimitKind::Count,
            Self::Weight(_) => LimitKind::Weight,
            Self::Volume(_) => LimitKind::Volume,
            Self::Size(_) => LimitKind::Size,
            Self::Stage(_) => LimitKind::Stage,
            Self::Abundance(_) => LimitKind::Abundance,
            Self::ClosedDays(_) => LimitKind::ClosedDays,
            Self::ClosedWeekdays(_) => LimitKind::ClosedWeekdays,
            Self::ClosedSeason(_) => LimitKind::ClosedSeason,
            Self::ClosedHours(_) => LimitKind::ClosedHours,
            Self::ClosedNight(_) => LimitKind::ClosedNight,
            Self::Rest(_) => LimitKind::Rest,
            Self::Protected => LimitKind::Protected,
            Self::Ground(_) => LimitKind::Ground,
            Self::Host(_) => LimitKind::Host,
            Self::Permission => LimitKind::Permission,
            Self::OwnUse => LimitKind::OwnUse,
            Self::Study(_) => LimitKind::Study,
            Self::Advice(_) => LimitKind::Advice,
        }
    }
}

macro_rules! limit {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $type:ty),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $type),+
        }
    };
}

limit!(
    /// See [`Limit::Share`].
    ShareLimit {
        /// At most this.
        most: Share,
        /// What becomes of a broken number.
        #[serde(default)]
        round: Round,
    }
);

words!(
    /// What becomes of a broken number of fruitbodies.
    Round, "way of rounding", {
        /// The next lower whole number; a single fruitbody stays.
        Down = "down",
        /// The nearest whole number, a half upwards.
        Nearest = "nearest",
        /// The next higher whole number.
        Up = "up",
    }
);

#[allow(clippy::derivable_impls, reason = "the list of words is made by a macro")]
impl Default for Round {
    fn default() -> Self {
        Self::Down
    }
}

limit!(
    /// See [`Limit::Keep`].
    KeepLimit {
        /// At least so many stay.
        least: u32,
    }
);

limit!(
    /// See [`Limit::Present`].
    PresentLimit {
        /// At least so many are present.
        least: u32,
    }
);

words!(
    /// The time over which takings are added up.
    Per, "span of time", {
        /// This walk.
        Visit = "visit",
        /// The day that the clock shows.
        Day = "day",
        /// The season, from one summer to the next.
        Season = "season",
        /// The calendar year.
        Year = "year",
    }
);

words!(
    /// What is added up.
    Over, "sum", {
        /// What one person took, of all that the rule speaks of.
        Person = "person",
        /// What one person took of this species alone.
        Species = "species",
        /// What anybody took from this patch, as far as it is on record.
        Patch = "patch",
    }
);

limit!(
    /// See [`Limit::Count`].
    CountLimit {
        /// At most so many.
        most: u32,
        /// Added up over this time.
        per: Per,
        /// And over this.
        over: Over,
    }
);

limit!(
    /// See [`Limit::Weight`].
    WeightLimit {
        /// At most so many grams a person.
        grams: Grams,
        /// Added up over this time.
        per: Per,
        /// Whether one heavy fruitbody may go beyond it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        single: Option<Single>,
        /// Whether a clump of several counts as a single fruitbody.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        clump: bool,
    }
);

words!(
    /// How one heavy fruitbody may go beyond a weight.
    Single, "way of a single fruitbody", {
        /// It alone, in place of all others.
        Alone = "alone",
        /// It besides the weight, if it is heavier than that.
        Besides = "besides",
    }
);

limit!(
    /// See [`Limit::Volume`].
    VolumeLimit {
        /// At most so many litres a person.
        litres: f64,
        /// Added up over this time.
        per: Per,
    }
);

limit!(
    /// See [`Limit::Size`].
    SizeLimit {
        /// At least this, in millimetres.
        least: Millimetres,
        /// Measured so.
        of: Measure,
    }
);

words!(
    /// What is measured.
    Measure, "measure", {
        /// Across the cap or cup.
        Width = "width",
        /// From the base to the top.
        Height = "height",
    }
);

limit!(
    /// See [`Limit::Stage`].
    StageLimit {
        /// These stay.
        leave: Vec<Stage>,
    }
);

limit!(
    /// See [`Limit::Abundance`].
    AbundanceLimit {
        /// Those that are met this often, or less, stay.
        up_to: Abundance,
    }
);

limit!(
    /// See [`Limit::ClosedDays`].
    ClosedDays {
        /// On these days of every month.
        of_month: Vec<DayRange>,
    }
);

limit!(
    /// See [`Limit::ClosedWeekdays`].
    ClosedWeekdays {
        /// On these days.
        on: Vec<Weekday>,
    }
);

limit!(
    /// See [`Limit::ClosedSeason`]. It may run over the turn of the year.
    ClosedSeason {
        /// The first closed day.
        from: MonthDay,
        /// The last closed day.
        to: MonthDay,
    }
);

limit!(
    /// See [`Limit::ClosedHours`]. It may run over midnight.
    ClosedHours {
        /// Closed from this time on.
        from: Time,
        /// Open again from this time on.
        to: Time,
    }
);

limit!(
    /// See [`Limit::ClosedNight`]. Negative minutes close while the sun is still up.
    ClosedNight {
        /// Closed from so many minutes after sunset.
        after_sunset: i16,
        /// Open again from so many minutes before sunrise.
        before_sunrise: i16,
    }
);

limit!(
    /// See [`Limit::Rest`].
    RestLimit {
        /// For so many days after the day of taking.
        days: u16,
    }
);

limit!(
    /// See [`Limit::Ground`].
    GroundLimit {
        /// These make it unfit.
        leave: Vec<Hazard>,
    }
);

limit!(
    /// See [`Limit::Host`].
    HostLimit {
        /// Trees, in lower case: `yew`.
        leave: Vec<String>,
        /// Whether a tree that nobody can name is left as well.
        unknown: bool,
    }
);

limit!(
    /// See [`Limit::Study`].
    StudyLimit {
        /// At most so many of a species.
        most: u32,
        /// Added up over this time.
        per: Per,
    }
);

limit!(
    /// See [`Limit::Advice`].
    Advice {
        /// What it is about.
        about: Topic,
    }
);

words!(
    /// What advice is about.
    Topic, "topic", {
        /// Knives, rakes, hooks.
        Tools = "tools",
        /// Cutting, pulling, cleaning.
        Cutting = "cutting",
        /// Baskets and bags.
        Carrying = "carrying",
        /// What grows and lies around.
        Ground = "ground",
        /// Knowing what one picks.
        Knowing = "knowing",
        /// What the law says of owning and selling.
        Law = "law",
        /// Amounts that the text gives in words alone.
        Amount = "amount",
    }
);
