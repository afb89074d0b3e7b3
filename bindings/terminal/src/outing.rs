//! `trug outing`: start, end, show.

use std::path::Path;

use clap::Subcommand;
use serde_json::json;
use trug::moment::Moment;
use trug::notebook::Notebook;
use trug::outing::{Outing, Permission};
use trug::store::Criteria;

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::{dates, show};

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Begins an outing; one that was still on is ended.
    Start {
        /// Where, in words.
        place: Option<String>,
        /// May I pick here? own, permitted, open, unknown.
        #[arg(long, value_name = "ANSWER")]
        may_pick: Option<Permission>,
        /// Who comes along. May be given more than once.
        #[arg(long, value_name = "NAME")]
        with: Vec<String>,
        /// When it began [default: now].
        #[arg(long, value_name = "TIME", value_parser = dates::moment)]
        at: Option<Moment>,
        /// Anything else.
        #[arg(long, value_name = "TEXT")]
        note: Option<String>,
    },
    /// Ends the outing that is on.
    End {
        /// When it ended [default: now].
        #[arg(long, value_name = "TIME", value_parser = dates::moment)]
        at: Option<Moment>,
    },
    /// Shows an outing and its finds.
    Show {
        /// The beginning of its id [default: the one that is on].
        id: Option<String>,
    },
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    match verb {
        Verb::Start { place, may_pick, with, at, note } => {
            let people = (!with.is_empty()).then_some(with);
            let outing = Outing { start: at, place, permission: may_pick, people, note, ..Outing::default() };
            let record = notebook.start_outing(outing)?;
            Ok(Answer::new(show::outing(&record), &record))
        }
        Verb::End { at } => {
            let record = notebook.end_outing(at)?;
            Ok(Answer::new(show::outing(&record), &record))
        }
        Verb::Show { id } => {
            let record = match id {
                Some(id) => notebook.outing(notebook.outing_beginning(&id)?)?,
                None => notebook.current_outing()?.ok_or_else(|| {
                    Refusal::new("not-found", "no outing is on: give the id of an earlier one")
                })?,
            };
            let finds = notebook.finds(&Criteria { outing: Some(record.id), ..Criteria::default() })?;
            let words = format!("{}\n{}", show::outing(&record), show::finds(&finds));
            Ok(Answer::new(words, &json!({"outing": record, "finds": finds})))
        }
    }
}
