//! `trug find`: add, show, list, amend, name, delete, undo.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use trug::find::{Find, How, Sure};
use trug::moment::Moment;
use trug::notebook::{NewFind, NewName, Notebook, Question};
use trug::pack::Pack;
use trug::place::Reference;
use trug::store::{Criteria, Within};
use trug::units::Metres;

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::fields::{self, Fields};
use crate::key::{self, Answers};
use crate::{advise, dates, knowledge, patch, show};

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Keeps a find, with its photos.
    Add {
        /// A photo, or ROLE:FILE with a role of whole, underside, stem-base, cut, habitat, spore-print, scale.
        #[arg(long, value_name = "FILE")]
        photo: Vec<OsString>,
        /// What it is taken for: an id of the pack, or any name. It becomes the find's first name.
        #[arg(long, value_name = "TAXON")]
        taxon: Option<String>,
        /// How that was reached: key, sight, told, spore-print, microscope, or not-settled [default: sight].
        #[arg(long, value_name = "HOW", requires = "taxon", value_parser = advise::named)]
        named: Option<advise::Named>,
        /// Why it is taken against the advice, if it is. The advice and the reason are kept with the find.
        #[arg(long, value_name = "TEXT")]
        because: Option<String>,
        #[command(flatten)]
        more: advise::More,
        #[command(flatten)]
        fields: Box<Fields>,
    },
    /// Shows the whole find.
    Show {
        /// The beginning of its id.
        id: String,
    },
    /// Lists finds, oldest first; near a place, nearest first.
    List(Box<Filter>),
    /// Changes fields of a find.
    Amend {
        /// The beginning of its id.
        id: String,
        /// A field to empty. May be given more than once.
        #[arg(long, value_name = "FIELD")]
        empty: Vec<String>,
        #[command(flatten)]
        fields: Box<Fields>,
    },
    /// Gives a find a name: the key's, if there are answers and no taxon; otherwise somebody's word, which leaves every
    /// look-alike open.
    Name {
        /// The beginning of its id.
        id: String,
        /// The taxon or group; left out for "unknown".
        taxon: Option<String>,
        /// How it was reached: key, sight, told, spore-print, microscope [default: key if that names it, otherwise sight].
        #[arg(long)]
        how: Option<How>,
        /// How sure: guess, likely, sure.
        #[arg(long)]
        sure: Option<Sure>,
        /// Who says so.
        #[arg(long, value_name = "NAME")]
        who: Option<String>,
        #[command(flatten)]
        answers: Answers,
        /// A pack's folder, for the key [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Marks a find as deleted; undo brings it back.
    Delete {
        /// The beginning of its id.
        id: String,
    },
    /// Takes back the last thing done to a find.
    Undo {
        /// The beginning of its id.
        id: String,
    },
}

/// Which finds.
#[derive(Debug, Args)]
pub struct Filter {
    /// Not before.
    #[arg(long, value_name = "TIME", value_parser = dates::moment)]
    since: Option<Moment>,
    /// Before.
    #[arg(long, value_name = "TIME", value_parser = dates::moment)]
    until: Option<Moment>,
    /// Near a place.
    #[arg(long, value_name = "REF", allow_hyphen_values = true)]
    near: Option<String>,
    /// How near, in metres.
    #[arg(long, value_name = "METRES", value_parser = fields::metres, default_value = "200", requires = "near")]
    within: Metres,
    /// Of an outing, by the beginning of its id.
    #[arg(long, value_name = "ID")]
    outing: Option<String>,
    /// Of a patch, by the beginning of its id or its name.
    #[arg(long, value_name = "ID")]
    patch: Option<String>,
}

impl Filter {
    fn criteria(&self, notebook: &Notebook) -> Result<Criteria, Refusal> {
        let within = match &self.near {
            None => None,
            Some(typed) => Some(Within { of: typed.parse::<Reference>()?.position()?, metres: self.within }),
        };
        Ok(Criteria {
            from: self.since.map(Moment::millis),
            until: self.until.map(Moment::millis),
            outing: self.outing.as_ref().map(|id| notebook.outing_beginning(id)).transpose()?,
            patch: self.patch.as_ref().map(|typed| patch::named(notebook, typed)).transpose()?,
            within,
        })
    }
}

pub fn run(verb: Verb, folder: &Path) -> Done {
    let notebook = Notebook::open(folder)?;
    match verb {
        Verb::Add { photo, taxon, named, because, more, fields } => {
            let find = Find { height: more.height(), ..fields.into_find(&notebook)? };
            let photos = photo.iter().map(fields::photo).collect::<Result<_, _>>()?;
            add(&notebook, NewFind { find, photos }, (taxon, named), more, because)
        }
        Verb::Show { id } => {
            let find = notebook.find(notebook.find_beginning(&id)?)?;
            let given = notebook.advice_given(find.id)?;
            let mut json = serde_json::to_value(&find)?;
            if let Some(fields) = json.as_object_mut() {
                fields.insert("advice".into(), advise::given(&given, &find.find.value));
            }
            Ok(Answer::new(show::find(&find) + &advise::given_told(&given, &find.find.value), &json))
        }
        Verb::List(filter) => {
            let finds = notebook.finds(&filter.criteria(&notebook)?)?;
            Ok(Answer::new(show::finds(&finds), &finds))
        }
        Verb::Amend { id, empty, fields } => {
            let changes = fields.into_find(&notebook)?;
            let find = notebook.amend_find(notebook.find_beginning(&id)?, &changes, &empty)?;
            Ok(Answer::new(show::find(&find), &find))
        }
        Verb::Name { id, taxon, how, sure, who, answers, pack } => {
            let id = notebook.find_beginning(&id)?;
            if answers.is_empty() {
                let how = Some(how.unwrap_or(How::Sight));
                let name = NewName { taxon, how, sure, who, ..NewName::default() };
                let named = notebook.name_find(id, name)?;
                return Ok(Answer::new(show::named(&named), &named));
            }
            knowledge::with(pack.as_ref(), |pack| {
                let request = answers.request(pack)?;
                let Some(taxon) = taxon else {
                    let keyed = notebook.key_find(&key::key(pack), id, &request, who)?;
                    return Ok(Answer::new(key::told(pack, &keyed.evidence, &keyed.step), &keyed.named));
                };
                // What the answers say of the find comes before somebody's word for it.
                let evidence = request.resolve(pack)?;
                let told = key::told(pack, &evidence, &key::key(pack).step(&evidence));
                let how = Some(how.unwrap_or(How::Sight));
                let evidence = Some(serde_json::to_value(&request)?);
                let name = NewName { taxon: Some(taxon), how, sure, who, evidence, ..NewName::default() };
                let named = notebook.name_find(id, name)?;
                Ok(Answer::new(format!("{told}\n\n{}", show::named(&named)), &named))
            })
        }
        Verb::Delete { id } => {
            let id = notebook.find_beginning(&id)?;
            notebook.delete_find(id)?;
            let short = show::short(&id);
            let words = format!("Deleted {short}. `trug find undo {short}` brings it back.");
            Ok(Answer::new(words, &serde_json::json!({"id": id, "deleted": true})))
        }
        Verb::Undo { id } => {
            let find = notebook.undo_find(notebook.find_beginning(&id)?)?;
            Ok(Answer::new(show::find(&find), &find))
        }
    }
}

/// Keeps a find, and then the name and the advice for it. The find is kept whatever becomes of those.
fn add(
    notebook: &Notebook,
    new: NewFind,
    (taxon, named): (Option<String>, Option<advise::Named>),
    more: advise::More,
    because: Option<String>,
) -> Done {
    let pack = Pack::britain()?;
    // A sign that is none is refused before anything is kept.
    let how = named.map_or(taxon.as_ref().map(|_| How::Sight), |named| named.0);
    let asked = Question { taxon: taxon.clone(), how, ..more.clone().question(new.find.clone()) };
    notebook.advise(pack, &asked)?;
    let added = notebook.add_find(new)?;
    let record = notebook.find(added.id)?;
    let (taken, specimens) = (record.find.value.taken.unwrap_or(0), record.find.value.specimens.unwrap_or(0));
    let advice = advise::for_new_find(notebook, pack, record, taxon.clone(), how, more, because)?;
    let against = if advice.is_followed_by(taken, specimens) {
        ""
    } else {
        "\nTaken against this advice, and kept so."
    };
    if let Some(taxon) = taxon {
        let sure = how.is_none().then_some(Sure::Guess);
        let said = NewName::said(pack, &taxon, how.unwrap_or(How::Sight));
        notebook.name_find(added.id, NewName { sure, ..said })?;
    }
    let words = format!("{}{against}\n{}", advise::told(&advice, false), show::added(&added));
    let mut json = serde_json::to_value(&added)?;
    if let Some(fields) = json.as_object_mut() {
        fields.insert("advice".into(), serde_json::to_value(&advice)?);
    }
    Ok(Answer::new(words, &json))
}
