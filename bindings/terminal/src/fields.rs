//! The fields of a find as a person types them.

use std::ffi::{OsStr, OsString};
use std::path::Path;

use clap::Args;
use trug::find::{
    Count, Find, Got, Ground, Growth, Hazard, Host, Measured, Stage, Substrate, Whereabouts, Width,
};
use trug::moment::Moment;
use trug::notebook::{NewPhoto, Notebook};
use trug::photo::Role;
use trug::place::Reference;
use trug::units::{Grams, Metres};

use crate::answer::Refusal;
use crate::{dates, patch};

/// What may be said of a find.
#[derive(Debug, Default, Args)]
pub struct Fields {
    /// When: "18 Oct 14:05", 14:05 for today, or 2026-10-18T14:05:09+01:00 [default: when the photo was taken, or now].
    #[arg(long, value_name = "TIME", value_parser = dates::moment)]
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
    /// The tree; "hazel?" for a guess, "hazel!" if sure of it.
    #[arg(long, value_name = "TREE")]
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
    /// How many of each stage, where they were mixed: button=2,young=5,prime=3,past=1.
    #[arg(long, value_name = "STAGE=COUNT", value_delimiter = ',', value_parser = stage)]
    stages: Vec<(Stage, u32)>,
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
    /// Who gathered, if it was not you: a name or initials.
    #[arg(long, value_name = "NAME")]
    by: Option<String>,
    /// Anything else.
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// The outing it belongs to, by the beginning of its id [default: the one that is on].
    #[arg(long, value_name = "ID")]
    outing: Option<String>,
    /// The patch it belongs to, by the beginning of its id or its name [default: the one it lies in].
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
            patch: self.patch.map(|typed| patch::named(notebook, &typed)).transpose()?,
            at: self.at,
            position,
            on: self.on,
            host: self.host,
            ground: self.ground,
            habitat: self.habitat,
            hazards: some(self.hazard),
            growth: self.growth,
            seen: self.seen,
            stages: some(self.stages).map(|all| all.into_iter().collect()),
            width: self.width,
            measured: self.measured,
            signs: some(self.sign),
            taken: self.taken,
            grams: self.grams,
            specimens: self.specimens,
            by: self.by,
            note: self.note,
            ..Find::default()
        })
    }
}

fn some<T>(list: Vec<T>) -> Option<Vec<T>> {
    (!list.is_empty()).then_some(list)
}

/// A distance on the ground.
pub fn metres(text: &str) -> Result<Metres, String> {
    number(text).and_then(|n| Metres::new(n).map_err(|e| e.to_string()))
}

pub fn grams(text: &str) -> Result<Grams, String> {
    number(text).and_then(|n| Grams::new(n).map_err(|e| e.to_string()))
}

fn number(text: &str) -> Result<f64, String> {
    text.trim().parse().map_err(|_| "write a number, with a point for decimals".to_owned())
}

/// `STAGE=COUNT`.
pub fn stage(text: &str) -> Result<(Stage, u32), String> {
    let (stage, count) = text.split_once('=').ok_or("write it like button=2,prime=5")?;
    let stage = stage.parse().map_err(|error: trug::words::UnknownWord| error.to_string())?;
    Ok((stage, count.trim().parse().map_err(|_| format!("{count:?} is not a count: write a whole number"))?))
}

/// `FILE`, or `ROLE:FILE`. A file whose name begins like a role and a colon is given as `./role:…`.
pub fn photo(given: &OsString) -> Result<NewPhoto, Refusal> {
    let plain = || NewPhoto { path: given.into(), role: Role::Whole };
    let Some((role, path)) = before_colon(given) else { return Ok(plain()) };
    match role.parse::<Role>() {
        Ok(role) => Ok(NewPhoto { path: path.into(), role }),
        // Meant as a role, unless there is such a file; a single letter is a drive.
        Err(error) if is_word(&role) && !Path::new(given).exists() => {
            Err(Refusal::new("photo-role", error.to_string()))
        }
        Err(_) => Ok(plain()),
    }
}

fn is_word(text: &str) -> bool {
    text.len() > 1 && text.chars().all(|c| c.is_alphabetic() || matches!(c, '-' | '_' | ' '))
}

/// Parts a name at its first colon; what stands behind it need not be text.
#[cfg(unix)]
fn before_colon(given: &OsStr) -> Option<(String, OsString)> {
    use std::os::unix::ffi::OsStrExt;
    let bytes = given.as_bytes();
    let at = bytes.iter().position(|byte| *byte == b':')?;
    let role = std::str::from_utf8(bytes.get(..at)?).ok()?;
    Some((role.to_owned(), OsStr::from_bytes(bytes.get(at + 1..)?).to_owned()))
}

/// Parts a name at its first colon.
#[cfg(not(unix))]
fn before_colon(given: &OsStr) -> Option<(String, OsString)> {
    given.to_str()?.split_once(':').map(|(role, path)| (role.to_owned(), path.into()))
}
