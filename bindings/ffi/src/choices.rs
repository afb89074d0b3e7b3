//! The closed lists that a find, an outing or a patch chooses from, as files write them.

use trug::find::{Ground, Growth, Hazard, How, Measured, Stage, Substrate, Sure};
use trug::outing::Permission;
use trug::patch::Outcome;
use trug::photo::Role;

use crate::TrugError;

/// What a field may hold. What the words are called is the phone's affair.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Choices {
    /// The field: on, ground, growth, hazards, stages, measured, sure, how, role, may-pick, outcome.
    pub field: String,
    /// Its words, in their natural order.
    pub words: Vec<String>,
}

/// Every closed list.
///
/// # Errors
/// None in practice.
#[uniffi::export]
pub fn choices() -> Result<Vec<Choices>, TrugError> {
    fn list<T: Copy>(field: &str, all: &[T], word: impl Fn(T) -> &'static str) -> Choices {
        Choices { field: field.to_owned(), words: all.iter().map(|one| word(*one).to_owned()).collect() }
    }
    Ok(vec![
        list("on", Substrate::ALL, Substrate::word),
        list("ground", Ground::ALL, Ground::word),
        list("growth", Growth::ALL, Growth::word),
        list("hazards", Hazard::ALL, Hazard::word),
        list("stages", Stage::ALL, Stage::word),
        list("measured", Measured::ALL, Measured::word),
        list("sure", Sure::ALL, Sure::word),
        list("how", How::ALL, How::word),
        list("role", &Role::ALL, Role::name),
        list("may-pick", Permission::ALL, Permission::word),
        list("outcome", Outcome::ALL, Outcome::word),
    ])
}
