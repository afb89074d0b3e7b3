//! What several pages show: times, places, names, choices, warnings.

use trug::find::{Got, Whereabouts};
use trug::moment::Moment;
use trug::pack::{Named, Pack, Standing};
use trug::place::{Place, Position};
use trug::units::Metres;

use crate::TrugError;

/// A time, as the clock that was carried showed it. How a day or an hour is written is the phone's affair.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct When {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub millis: i64,
    /// What that clock was ahead of UTC, in seconds.
    pub offset_seconds: i32,
    /// The day that it showed: 2026-10-18.
    pub day: String,
}

impl From<Moment> for When {
    fn from(at: Moment) -> Self {
        Self { millis: at.millis(), offset_seconds: at.offset().seconds(), day: at.day().to_string() }
    }
}

/// Where the phone is, as its system says.
#[derive(Debug, Clone, Copy, PartialEq, uniffi::Record)]
pub struct Fix {
    /// Degrees north, WGS84.
    pub latitude: f64,
    /// Degrees east, WGS84.
    pub longitude: f64,
    /// The radius within which the true place is held to lie, in metres, if known.
    pub accuracy_m: Option<f64>,
}

impl Fix {
    /// The position that it gives.
    pub(crate) fn position(self) -> Result<Position, TrugError> {
        let position = Position::new(self.latitude, self.longitude)?;
        match self.accuracy_m {
            None => Ok(position),
            Some(metres) => {
                let accuracy = Metres::new(metres).map_err(|_| trug::place::Error::Accuracy)?;
                Ok(position.within(accuracy))
            }
        }
    }

    /// The position, as the phone's own fix.
    pub(crate) fn whereabouts(self) -> Result<Whereabouts, TrugError> {
        Ok(Whereabouts { position: self.position()?, got: Got::Fix })
    }
}

/// A place on record, ready to show.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PlaceShown {
    /// The grid reference, no finer than the place is known; degrees where no grid holds.
    pub name: String,
    /// How far the true place may be from there, in metres, if known.
    pub accuracy_m: Option<f64>,
    /// How it was got: fix, photo, map, typed.
    pub got: String,
    /// Degrees north, WGS84.
    pub latitude: f64,
    /// Degrees east, WGS84.
    pub longitude: f64,
}

impl From<&Whereabouts> for PlaceShown {
    fn from(at: &Whereabouts) -> Self {
        let place = Place::told(at.position);
        Self {
            name: place.name(),
            accuracy_m: at.position.accuracy().map(Metres::get),
            got: at.got.word().to_owned(),
            latitude: at.position.latitude(),
            longitude: at.position.longitude(),
        }
    }
}

/// What a name stands for among people. Never that a thing is fit to eat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum Danger {
    /// It has killed.
    Deadly,
    /// It makes people ill.
    Harmful,
    /// Not gathered.
    Inedible,
    /// Gathered by people; never a promise.
    Gathered,
    /// No pack knows it.
    NotKnown,
}

impl From<Standing> for Danger {
    fn from(standing: Standing) -> Self {
        match standing {
            Standing::Deadly => Self::Deadly,
            Standing::Harmful => Self::Harmful,
            Standing::Inedible => Self::Inedible,
            Standing::Food => Self::Gathered,
        }
    }
}

/// A fungus or a group of them, by name.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct NameShown {
    /// Its id in the pack; for a name that no pack knows the name itself.
    pub id: String,
    /// The English name to show.
    pub english: String,
    /// The Latin name; empty if none is known.
    pub latin: String,
    /// What it is to people.
    pub danger: Danger,
}

impl From<Named> for NameShown {
    fn from(named: Named) -> Self {
        let Named { id, english, latin, standing, .. } = named;
        Self { id, english, latin, danger: standing.into() }
    }
}

impl NameShown {
    /// A name on record, whether the pack knows it or not.
    pub(crate) fn of(pack: &Pack, name: &str) -> Self {
        pack.named(name).map_or_else(
            || Self {
                id: name.to_owned(),
                english: name.to_owned(),
                latin: String::new(),
                danger: Danger::NotKnown,
            },
            Self::from,
        )
    }
}

/// Something worth saying that kept nothing from being done.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Said {
    /// A stable code.
    pub code: String,
    /// Plain words, in English.
    pub words: String,
}

impl From<&trug::notebook::Warning> for Said {
    fn from(warning: &trug::notebook::Warning) -> Self {
        Self { code: warning.code.to_owned(), words: warning.message.clone() }
    }
}

impl From<&trug::notebook::Problem> for Said {
    fn from(problem: &trug::notebook::Problem) -> Self {
        Self { code: problem.code.to_owned(), words: problem.message.clone() }
    }
}
