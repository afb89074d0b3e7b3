//! Trug as phones call it: the core's notebook, key and advice as plain records, one call a change of screen.
//!
//! Nothing is decided here; the core decides, and this crate carries its answers over. Every function is synchronous, may take
//! a while, and answers with everything that one page shows, or with a [`TrugError`]. No call belongs on the thread that draws.
//!
//! `bindings/kotlin` and `bindings/swift` build the library and write the code that calls it; that code is never committed.
//! `tests/measure/size` builds the library as phones carry it (`bindings/library phone`) and tells what it weighs.

#![allow(clippy::needless_pass_by_value, reason = "what crosses over is owned by the call")]

mod advice;
mod book;
mod choices;
mod error;
mod find;
mod find_page;
mod help;
mod ill;
mod job;
mod key;
mod key_page;
mod now;
mod photos;
mod search;
mod shared;

pub use advice::{AdviceShown, CheckShown, ConditionShown, Kind, Number, ReasonShown, Weight};
pub use book::{Book, OpeningReport, Zone};
pub use choices::{Choices, choices};
pub use error::{Argument, TrugError};
pub use find::FieldValue;
pub use find_page::{
    FindFields, FindPage, NameGiven, NameSoFar, PatchChoice, PhotoShown, SignOffered, StageCount,
};
pub use help::{CountryHelp, HelpLine, HelpPage, HelpSection, HelpSource, NumberToRing, help_page};
pub use ill::{At, DoctorSheet, EaterNoted, EaterShown, IllPage, MealNoted, MealShown, SheetPassage};
pub use job::{Job, JobReport, Progress};
pub use key::{KeyAsked, KeySeen};
pub use key_page::{
    AnswerGiven, Ending, Fits, KeyPage, OtherQuestion, Question, Sheet, StateOffered, StillPossible, Verdict,
};
pub use now::{Basket, Carried, FindLine, Light, NowPage, OutingShown, PatchNear, WaitingFind, WaitsFor};
pub use photos::UnownedPhoto;
pub use search::{FindFound, KindPage, PatchFound, SearchPage, TakenFor, Trait};
pub use shared::{Danger, Fix, NameShown, PlaceShown, Said, When};

uniffi::setup_scaffolding!();
