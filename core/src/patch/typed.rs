//! The fields of a patch as text: how shells hand them over.

use std::fmt::Display;

use super::Patch;
use crate::find::FieldError;
use crate::units::Metres;

impl Patch {
    /// Sets a field from text: name, radius, host (a last "?" is a guess, a last "!" sure), on, taxon, note. Its place, its rest
    /// and what it was merged into are set by themselves.
    ///
    /// # Units
    /// The radius in metres, with a point for decimals.
    ///
    /// # Errors
    /// [`FieldError`] names the field and says how to write it.
    pub fn set(&mut self, field: &str, text: &str) -> Result<(), FieldError> {
        let text = text.trim();
        match field {
            "name" => self.name = Some(text.to_owned()),
            "radius" => self.radius = Some(metres(text)?),
            "host" => self.host = Some(text.parse().map_err(|error| wrong("host", error))?),
            "on" => self.on = Some(text.parse().map_err(|error| wrong("on", error))?),
            "taxon" => self.taxon = Some(text.to_owned()),
            "note" => self.note = Some(text.to_owned()),
            _ => {
                return Err(wrong(
                    "field",
                    format!("a patch has no field `{field}` that is written as text"),
                ));
            }
        }
        Ok(())
    }
}

fn wrong(field: &'static str, why: impl Display) -> FieldError {
    FieldError { field, why: why.to_string() }
}

fn metres(text: &str) -> Result<Metres, FieldError> {
    let number: f64 =
        text.parse().map_err(|_| wrong("radius", "write a number of metres, with a point for decimals"))?;
    // A patch that reaches nowhere holds no find.
    if number <= 0.0 {
        return Err(wrong("radius", "give more than 0 m"));
    }
    Metres::new(number).map_err(|error| wrong("radius", error))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::find::{Substrate, Sure};

    #[test]
    fn fields_are_read_from_text() {
        let mut patch = Patch::default();
        for (field, text) in [
            ("name", " old elder "),
            ("radius", "12.5"),
            ("host", "elder?"),
            ("on", "stump"),
            ("taxon", "velvet-shank"),
            ("note", "by the gate"),
        ] {
            patch.set(field, text).unwrap();
        }
        let host = patch.host.clone().unwrap();
        assert_eq!((patch.name.as_deref(), patch.note.as_deref()), (Some("old elder"), Some("by the gate")));
        assert_eq!((patch.radius.map(Metres::get), patch.on), (Some(12.5), Some(Substrate::Stump)));
        assert_eq!((host.tree.as_str(), host.sure), ("elder", Sure::Guess));
        assert_eq!(patch.taxon.as_deref(), Some("velvet-shank"));
    }

    #[test]
    fn what_cannot_be_read_is_refused_by_its_field() {
        for (field, text) in [
            ("radius", "wide"),
            ("radius", "0"),
            ("radius", "-3"),
            ("radius", "NaN"),
            ("on", "cheese"),
            ("centre", "x"),
        ] {
            let error = Patch::default().set(field, text).unwrap_err();
            assert!(error.field == field || field == "centre", "{field} {text}: {error}");
        }
    }
}
