//! Trug as phones call it: the core's notebook, key and advice as plain records, one call a change of screen.
//!
//! Nothing is decided here; the core decides, and this crate carries its answers over. Every function is synchronous, may take
//! a while, and answers with everything that one page shows, or with a [`TrugError`]. No call belongs on the thread that draws.
//!
//! `bindings/kotlin` and `bindings/swift` build the library and write the code that calls it; that code is never committed.
//! `tests/measure/size` builds the library as phones carry it (`bindings/library phone`) and tells what it weighs.

#![allow(clippy::needless_pass_by_value, reason = "what crosses over is owned by the call")]

mod advice;
mod areas;
mod book;
mod choices;
mod codes;
mod error;
mod exchange;
mod find;
mod find_page;
mod help;
mod house;
mod ill;
mod job;
mod key;
mod key_page;
mod knowledge;
mod leaving;
mod licences;
mod map;
mod now;
mod patch;
mod patch_page;
mod patches;
mod peers;
mod photos;
mod receive;
mod restore;
mod search;
mod settings;
mod share;
mod shared;
mod year;
mod year_row;

pub use advice::{AdviceShown, CheckShown, ConditionShown, Kind, Number, ReasonShown, Weight};
pub use areas::{AreaAsked, AreaShown, OutlinesSeen, outlines_in};
pub use book::{Book, OpeningReport, Zone};
pub use choices::{Choices, choices};
pub use codes::{CodeRule, CodeShown, CodesPage};
pub use error::{Argument, TrugError};
pub use exchange::{ExchangeReport, FolderError, FolderFile, SharedFolder, UnreadFile};
pub use find::FieldValue;
pub use find_page::{
    FindFields, FindPage, NameGiven, NameSoFar, PatchChoice, PhotoShown, SignOffered, StageCount,
};
pub use help::{CountryHelp, HelpLine, HelpPage, HelpSection, HelpSource, NumberToRing, help_page};
pub use house::{HousePage, HouseRuleShown, RuleAsked, ShareOffered};
pub use ill::{At, DoctorSheet, EaterNoted, EaterShown, IllPage, MealNoted, MealShown, SheetPassage};
pub use job::{Job, JobReport, Progress};
pub use key::{KeyAsked, KeySeen};
pub use key_page::{
    AnswerGiven, Ending, Fits, KeyPage, OtherQuestion, Question, Sheet, StateOffered, StillPossible, Verdict,
};
pub use knowledge::{KnowledgePage, SourceShown, knowledge};
pub use leaving::{
    CopiesLeaving, CopyLeaving, FieldLeaving, LeavingShown, LeftOut, PhotoLeaving, SquareShown,
};
pub use licences::{LibraryUsed, LicencePage, LicenceShown, licence_page, licences};
pub use map::{
    MapArea, MapFind, MapHere, MapLine, MapPage, MapPatch, MapPoint, MapSheet, MapSquare, MapWindow,
};
pub use now::{Basket, Carried, FindLine, Light, NowPage, OutingShown, PatchNear, WaitingFind, WaitsFor};
pub use patch::{LookNoted, PatchNoted};
pub use patch_page::{AgainstAdvice, LookShown, PatchLast, PatchPage, SeasonShown};
pub use patches::{InPatch, PatchLine, PatchOrder, PatchPlace, PatchesPage, WayBack};
pub use peers::{KeyShown, PeerShown, PeersPage};
pub use photos::UnownedPhoto;
pub use receive::{BundleRead, CopiedPlace, CopyShown};
pub use restore::{
    HoldsShown, RestorePage, SetAsideShown, delete_set_aside, forget_restored, restore_page, start_restore,
    use_restored, use_set_aside,
};
pub use search::{FindFound, KindPage, PatchFound, SearchPage, TakenFor, Trait};
pub use settings::{OwnKey, SettingsPage};
pub use share::{
    DeviceOffered, FormOffered, PatchOffered, SharePage, ShareSeal, ShareTerms, ShareWhat, ShareWhich,
};
pub use shared::{Danger, Fix, NameShown, PlaceShown, Said, When};
pub use year::{LookLine, MonthPage, SeasonSum, YearBy, YearPage, YearRowMore, YearRun};
pub use year_row::{HowMany, YearCame, YearMonth, YearOf, YearRow, YearSum};

uniffi::setup_scaffolding!();
