//! The fields of a find as a person types them.

use std::ffi::OsString;
use std::path::PathBuf;
use std::str::FromStr;

use clap::Args;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use trug::find::{
    Count, Find, Got, Ground, Growth, Hazard, Host, Measured, Substrate, Sure, Whereabouts, Width,
};
use trug::moment::Moment;
use trug::notebook::{NewPhoto, Notebook};
use trug::photo::Role;
use trug::place::Reference;
use trug::units::{Grams, Metres};

use crate::answer::Refusal;

/// What may be said of a find.
#[derive(Debug, Default, Args)]
pub struct Fields {
    /// When: 2026-10-18T14:05:09+01:00, or "2026-10-18 14:05" by this device's clock.
    #[arg(long, value_name = "TIME", value_parser = moment)]
    at: Option<Moment>,
    /// Where: a British, Irish or MGRS reference, or degrees.
    #[arg(long, value_name = "REF", allow_hyphen_values = true)]
    place: Option<String>,
    /// How exact the place is, in metres.
    #[arg(long, value_name = "METRES", value_parser = metres, requires = "place")]
    accuracy: Option<Metres>,
    /// What it grows on: fallen-branch, stump, buried-wood, soil, moss …
    #[arg(long, value_name = "SUBSTRATE")]
    on: Option<Substrate>,
    /// The tree; "hazel?" for a guess.
    #[arg(long, value_name = "TREE", value_parser = host)]
    host: Option<Host>,
    /// The ground: chalk, acid, neutral, unknown.
    #[arg(long)]
    ground: Option<Ground>,
    /// The surroundings, in words.
    #[arg(long, value_name = "TEXT")]
    habitat: Option<String>,
    /// What makes the ground unfit: roadside, sprayed, tipped. May be given more than once.
    #[arg(long)]
    hazard: Vec<Hazard>,
    /// How they stand: single, scattered, tuft, tiers, ring.
    #[arg(long)]
    growth: Option<Growth>,
    /// How many were there: 7, or 18-22.
    #[arg(long, value_name = "COUNT")]
    seen: Option<Count>,
    /// Cap width in mm: 35, or 12-35.
    #[arg(long, value_name = "MM")]
    width: Option<Width>,
    /// How the width was come by: eye, rule, photo.
    #[arg(long, value_name = "HOW")]
    measured: Option<Measured>,
    /// A sign of condition, by its id. May be given more than once.
    #[arg(long, value_name = "SIGN")]
    sign: Vec<String>,
    /// How many were taken.
    #[arg(long, value_name = "COUNT")]
    taken: Option<u32>,
    /// What those weigh, in grams.
    #[arg(long, value_name = "GRAMS", value_parser = grams)]
    grams: Option<Grams>,
    /// How many were taken for study, apart from food.
    #[arg(long, value_name = "COUNT")]
    specimens: Option<u32>,
    /// Anything else.
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// The outing it belongs to, by the beginning of its id [default: the one that is on].
    #[arg(long, value_name = "ID")]
    outing: Option<String>,
    /// The patch it belongs to, by the beginning of its id.
    #[arg(long, value_name = "ID")]
    patch: Option<String>,
}

impl Fields {
    /// The find that they describe.
    pub fn into_find(self, notebook: &Notebook) -> Result<Find, Refusal> {
        let position = match &self.place {
            None => None,
            Some(typed) => {
                let position = typed.parse::<Reference>()?.position()?;
                let position = self.accuracy.map_or(position, |accuracy| position.within(accuracy));
                Some(Whereabouts { position, got: Got::Typed })
            }
        };
        Ok(Find {
            outing: self.outing.map(|id| notebook.outing_beginning(&id)).transpose()?,
            patch: self.patch.map(|id| notebook.patch_beginning(&id)).transpose()?,
            at: self.at,
            position,
            on: self.on,
            host: self.host,
            ground: self.ground,
            habitat: self.habitat,
            hazards: some(self.hazard),
            growth: self.growth,
            seen: self.seen,
            width: self.width,
            measured: self.measured,
            signs: some(self.sign),
            taken: self.taken,
            grams: self.grams,
            specimens: self.specimens,
            note: self.note,
            ..Find::default()
        })
    }
}

fn some<T>(list: Vec<T>) -> Option<Vec<T>> {
    (!list.is_empty()).then_some(list)
}

/// A time with its offset, or a plain one by this device's clock.
pub fn moment(text: &str) -> Result<Moment, String> {
    if let Ok(moment) = text.parse() {
        return Ok(moment);
    }
    let zone = TimeZone::system();
    let plain = DateTime::from_str(&text.replacen(' ', "T", 1)).or_else(|_| {
        let day: Result<jiff::civil::Date, _> = text.parse();
        day.map(|day| day.to_datetime(jiff::civil::Time::midnight()))
    });
    let shown = plain.ok().and_then(|plain| zone.to_ambiguous_timestamp(plain).compatible().ok());
    shown.map(|instant| Moment::in_zone(instant, &zone)).ok_or_else(|| {
        "write it like 2026-10-18T14:05:09+01:00, or \"2026-10-18 14:05\" by this device's clock".to_owned()
    })
}

/// A distance on the ground.
pub fn metres(text: &str) -> Result<Metres, String> {
    number(text).and_then(|n| Metres::new(n).map_err(|e| e.to_string()))
}

fn grams(text: &str) -> Result<Grams, String> {
    number(text).and_then(|n| Grams::new(n).map_err(|e| e.to_string()))
}

fn number(text: &str) -> Result<f64, String> {
    text.trim().parse().map_err(|_| "write a number, with a point for decimals".to_owned())
}

#[allow(clippy::unnecessary_wraps, reason = "the shape clap asks for")]
fn host(text: &str) -> Result<Host, String> {
    let tree = text.trim_end_matches('?');
    let sure = if tree.len() < text.len() { Sure::Guess } else { Sure::Likely };
    Ok(Host { tree: tree.trim().to_owned(), sure })
}

/// `FILE`, or `ROLE:FILE`. A file whose name begins like a role and a colon is given as `./role:…`.
pub fn photo(given: &OsString) -> NewPhoto {
    let named = given.to_str().and_then(|text| text.split_once(':'));
    if let Some((role, path)) = named
        && let Ok(role) = role.parse::<Role>()
    {
        return NewPhoto { path: PathBuf::from(path), role };
    }
    NewPhoto { path: PathBuf::from(given), role: Role::Whole }
}
