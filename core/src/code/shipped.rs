//! The codes that come with Trug, and which of all codes are in force.

use std::sync::LazyLock;

use serde::Deserialize;

use super::model::{About, Code, Force, Rule};
use super::read::CodeError;
use crate::pack::{Problem, did_you_mean};

macro_rules! files {
    ($($file:literal),+ $(,)?) => {
        [$(($file, include_str!(concat!(env!("OUT_DIR"), "/codes/", $file, ".json")))),+]
    };
}

/// A code as the build has written it, read and checked there and in the tests.
#[derive(Deserialize)]
struct Shipped {
    code: About,
    rule: Vec<Rule>,
}

/// A new code gets a line here.
const FILES: [(&str, &str); 6] = files![
    "common-practice",
    "britain-pickers-1998",
    "britain-scottish-code",
    "britain-schedule-8",
    "britain-theft-act-1968",
    "castilla-y-leon-2017",
];

/// Every code that comes with Trug. Read once, at first use.
///
/// # Errors
/// [`CodeError::Broken`] if a file does not hold a code, which no tested build has.
pub fn shipped() -> Result<&'static [Code], CodeError> {
    static CODES: LazyLock<Result<Vec<Code>, CodeError>> =
        LazyLock::new(|| FILES.iter().map(|(file, text)| read(file, text)).collect());
    CODES.as_deref().map_err(Clone::clone)
}

fn read(file: &str, text: &str) -> Result<Code, CodeError> {
    let Shipped { code, rule } = serde_json::from_str(text).map_err(|error| {
        let (file, field) = (format!("{file}.json"), String::new());
        CodeError::Broken(vec![Problem {
            file,
            line: error.line(),
            field,
            rule: "syntax",
            message: error.to_string(),
        }])
    })?;
    Ok(Code { about: code, rules: rule })
}

/// The codes in force: those that always are, and the chosen ones; while none were chosen, those meant for that case.
///
/// `chosen` is `None` until the owner has chosen, and may be empty afterwards.
///
/// # Errors
/// [`CodeError::Unknown`] for a chosen id that `codes` lacks.
pub fn choose<'a>(codes: &'a [Code], chosen: Option<&[String]>) -> Result<Vec<&'a Code>, CodeError> {
    for id in chosen.unwrap_or_default() {
        by_id(codes, id)?;
    }
    let in_force = |code: &&Code| match (code.about.in_force, chosen) {
        (Force::Always, _) | (Force::UntilOthersAreChosen, None) => true,
        (Force::IfChosen, None) => false,
        (_, Some(chosen)) => chosen.contains(&code.about.id),
    };
    Ok(codes.iter().filter(in_force).collect())
}

/// The choice that comes of adding one code to those in force, or of leaving it out.
///
/// # Errors
/// [`CodeError::Unknown`] for an id that `codes` lacks.
pub fn choose_with(
    codes: &[Code],
    chosen: Option<&[String]>,
    id: &str,
    holds: bool,
) -> Result<Vec<String>, CodeError> {
    by_id(codes, id)?;
    let in_force = choose(codes, chosen)?;
    let wanted = |code: &&Code| {
        let is_it = code.about.id == id;
        let held = in_force.iter().any(|other| other.about.id == code.about.id);
        code.about.in_force != Force::Always && if is_it { holds } else { held }
    };
    Ok(codes.iter().filter(wanted).map(|code| code.about.id.clone()).collect())
}

/// The code that goes by an id.
///
/// # Errors
/// [`CodeError::Unknown`], with what may have been meant.
pub fn by_id<'a>(codes: &'a [Code], id: &str) -> Result<&'a Code, CodeError> {
    codes.iter().find(|code| code.about.id == id).ok_or_else(|| CodeError::Unknown {
        id: id.to_owned(),
        hint: did_you_mean(id, codes.iter().map(|code| code.about.id.as_str())),
    })
}
