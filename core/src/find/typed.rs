//! The fields of a find as text: how people type them and shells hand them over.

use std::fmt::Display;
use std::str::FromStr;

use super::{Find, Host, Stage, Sure};
use crate::units::Grams;

use super::FieldError;

impl FromStr for Host {
    type Err = std::convert::Infallible;

    /// Reads a tree's name; a last "?" is a guess, a last "!" sure.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        let marked = [('?', Sure::Guess), ('!', Sure::Sure)]
            .into_iter()
            .find_map(|(mark, sure)| text.strip_suffix(mark).map(|tree| (tree, sure)));
        let (tree, sure) = marked.unwrap_or((text, Sure::Likely));
        Ok(Self { tree: tree.trim().to_owned(), sure })
    }
}

impl Find {
    /// Sets a field from text; time, place, outing and patch are set by themselves. Lists are parted by commas, stages
    /// written as `button=2, prime=5`, numbers with a point.
    ///
    /// # Units
    /// Widths and heights in millimetres, weights in grams.
    ///
    /// # Errors
    /// [`FieldError`] names the field and says how to write it.
    pub fn set(&mut self, field: &str, text: &str) -> Result<(), FieldError> {
        let text = text.trim();
        match field {
            "on" => self.on = Some(read("on", text)?),
            "host" => self.host = Some(read("host", text)?),
            "ground" => self.ground = Some(read("ground", text)?),
            "habitat" => self.habitat = Some(text.to_owned()),
            "hazards" => self.hazards = Some(list("hazards", text)?),
            "growth" => self.growth = Some(read("growth", text)?),
            "seen" => self.seen = Some(read("seen", text)?),
            "stages" => self.stages = Some(parts(text).map(stage).collect::<Result<_, _>>()?),
            "width" => self.width = Some(read("width", text)?),
            "height" => self.height = Some(read("height", text)?),
            "measured" => self.measured = Some(read("measured", text)?),
            "signs" => self.signs = Some(list("signs", text)?),
            "taken" => self.taken = Some(whole("taken", text)?),
            "grams" => self.grams = Some(grams(text)?),
            "specimens" => self.specimens = Some(whole("specimens", text)?),
            "by" => self.by = Some(text.to_owned()),
            "note" => self.note = Some(text.to_owned()),
            _ => {
                return Err(wrong("field", format!("a find has no field `{field}` that is written as text")));
            }
        }
        Ok(())
    }
}

fn wrong(field: &'static str, why: impl Display) -> FieldError {
    FieldError { field, why: why.to_string() }
}

fn read<T: FromStr<Err: Display>>(field: &'static str, text: &str) -> Result<T, FieldError> {
    text.parse().map_err(|error| wrong(field, error))
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(',').map(str::trim).filter(|part| !part.is_empty())
}

fn list<T: FromStr<Err: Display>>(field: &'static str, text: &str) -> Result<Vec<T>, FieldError> {
    parts(text).map(|part| read(field, part)).collect()
}

fn whole(field: &'static str, text: &str) -> Result<u32, FieldError> {
    let count = text.parse().ok().filter(|count| *count <= super::Count::MOST);
    count.ok_or_else(|| wrong(field, format!("write a whole number, up to {}", super::Count::MOST)))
}

fn grams(text: &str) -> Result<Grams, FieldError> {
    let number: f64 =
        text.parse().map_err(|_| wrong("grams", "write a number of grams, with a point for decimals"))?;
    Grams::new(number).map_err(|error| wrong("grams", error))
}

fn stage(text: &str) -> Result<(Stage, u32), FieldError> {
    let (stage, count) =
        text.split_once('=').ok_or_else(|| wrong("stages", "write it like button=2, prime=5"))?;
    Ok((read("stages", stage)?, whole("stages", count.trim())?))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::find::{Count, FIELDS, Hazard, Substrate};

    #[test]
    fn every_field_that_is_text_is_read() {
        let mut find = Find::default();
        for (field, text) in [
            ("on", "fallen branch"),
            ("host", "elder!"),
            ("ground", "chalk"),
            ("habitat", "scrub"),
            ("hazards", "roadside, sprayed"),
            ("growth", "tuft"),
            ("seen", "6-8"),
            ("stages", "button=2, prime=5"),
            ("width", "14-30"),
            ("height", "80"),
            ("measured", "rule"),
            ("signs", "edge-in,tacky"),
            ("taken", "3"),
            ("grams", "40.5"),
            ("specimens", "1"),
            ("by", "R."),
            ("note", "under the old elder"),
        ] {
            find.set(field, text).unwrap();
        }
        assert_eq!((find.on, find.seen), (Some(Substrate::FallenBranch), Count::between(6, 8).ok()));
        assert_eq!(find.hazards, Some(vec![Hazard::Roadside, Hazard::Sprayed]));
        assert_eq!(find.host, Some(Host { tree: "elder".into(), sure: Sure::Sure }));
        assert_eq!(find.stages, Some([(Stage::Button, 2), (Stage::Prime, 5)].into()));
        assert_eq!(find.signs, Some(vec!["edge-in".to_owned(), "tacky".to_owned()]));
        assert_eq!((find.grams.map(Grams::get), find.taken), (Some(40.5), Some(3)));
        let set = serde_json::to_value(&find).unwrap();
        for field in FIELDS {
            let apart = ["outing", "patch", "at", "position"].contains(&field);
            assert_eq!(set.get(field).is_none(), apart, "{field}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused_by_its_field() {
        for (field, text) in [
            ("on", "the moon"),
            ("seen", "many"),
            ("seen", "8-6"),
            ("taken", "-1"),
            ("taken", "1000000"),
            ("grams", "1,5"),
            ("grams", "NaN"),
            ("stages", "button"),
            ("width", "3000"),
            ("hazards", "roadside,dragons"),
        ] {
            assert_eq!(Find::default().set(field, text).unwrap_err().field, field, "{text}");
        }
        for field in ["position", "at", "colour", ""] {
            assert_eq!(Find::default().set(field, "1").unwrap_err().field, "field");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(field in prop::sample::select(FIELDS.as_slice()), text in any::<String>()) {
            let _ = Find::default().set(field, &text);
        }
    }
}
