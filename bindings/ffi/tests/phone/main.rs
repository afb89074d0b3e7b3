//! The wrapper as a phone uses it: whole jobs, over a real notebook on a real disk.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod errors;
mod exchange;
mod finds;
mod ill;
mod jobs;
mod keyed;
mod map;
mod now;
mod patches;
mod receive;
mod restore;
mod search;
mod settings;
mod share;
mod year;

use std::sync::Arc;

use tempfile::TempDir;
use trug_ffi::{Book, FieldValue, FindPage, Fix, KeySeen, TrugError, Zone};

/// An open notebook in a folder of its own.
struct Phone {
    /// Holds the notebook, and photos that are not in it yet.
    dir: TempDir,
    /// The notebook.
    book: Arc<Book>,
}

/// A place that is nobody's: it stands for "Harrow Shaw", which is invented.
const HERE: Fix = Fix { latitude: 51.5, longitude: -1.5, accuracy_m: Some(8.0) };

/// The zone that the phone stands in.
fn zone() -> Zone {
    Zone { name: "Europe/London".into(), offset_seconds: 0 }
}

impl Phone {
    /// An empty one.
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let book = Book::open(dir.path().join("notebook").to_str().unwrap().to_owned(), zone()).unwrap();
        Self { dir, book }
    }

    /// A picture like no other.
    fn photo(&self, name: &str) -> String {
        let path = self.dir.path().join(name);
        trug_tests::draw(&path).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// Sets fields of a find.
    fn amend(&self, page: &FindPage, values: &[(&str, &str)]) -> FindPage {
        let value = |(field, value): &(&str, &str)| FieldValue {
            field: (*field).to_owned(),
            value: Some((*value).to_owned()),
        };
        self.book.amend_find(page.id.clone(), values.iter().map(value).collect()).unwrap()
    }
}

/// A sure answer to the key.
fn seen(character: &str, states: &[&str]) -> KeySeen {
    KeySeen {
        character: character.into(),
        states: states.iter().map(ToString::to_string).collect(),
        from_mm: None,
        to_mm: None,
        sure: true,
    }
}

/// What a call was refused with.
fn refused<T: std::fmt::Debug>(result: Result<T, TrugError>) -> TrugError {
    result.unwrap_err()
}

/// The code that a call was refused with.
fn code<T: std::fmt::Debug>(result: Result<T, TrugError>) -> String {
    refused(result).code().to_owned()
}
