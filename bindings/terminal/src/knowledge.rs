//! `trug pack`: list, show, check, trial, sheets.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use clap::Subcommand;
use serde_json::{Map, Value, json};
use trug::pack::sheets::sheets;
use trug::pack::{
    Backed, Cell, Figures, Frequency, Pack, Standing, StatesCell, Statistics, TaxonIndex, britain_figures,
    check_folder, check_pack, read_figures,
};

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::trial;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Lists the taxa of a pack.
    List {
        /// A pack's folder [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Shows what is known of a taxon.
    Show {
        /// Its id, or an exact Latin or English name.
        taxon: String,
        /// A pack's folder [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Checks the files of a pack, and names file, line and field of whatever is wrong.
    Check {
        /// A pack's folder [default: the one that is built in, of which lines are not known].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Tries the key on specimens drawn from a pack and seen by people who err.
    Trial(trial::Command),
    /// Writes sheets to print on A5: each food beside what it is taken for, and a blank one.
    Sheets {
        /// A folder for the sheets; made if there is none.
        out: PathBuf,
        /// A pack's folder [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
}

pub fn run(verb: Verb) -> Done {
    match verb {
        Verb::List { pack } => with(pack.as_ref(), list),
        Verb::Show { taxon, pack } => with(pack.as_ref(), |pack| show(pack, &taxon)),
        Verb::Check { pack } => check(pack.as_deref()),
        Verb::Trial(command) => with(command.pack.as_ref(), |pack| trial::run(&command, pack)),
        Verb::Sheets { out, pack } => {
            let own = pack.as_ref().map(|folder| read_figures(folder)).transpose()?;
            let figures = match &own {
                Some(own) => own,
                None => britain_figures()?,
            };
            with(pack.as_ref(), |pack| print(pack, figures, &out))
        }
    }
}

pub fn with(folder: Option<&PathBuf>, job: impl FnOnce(&Pack) -> Done) -> Done {
    match folder {
        Some(folder) => job(&Pack::open(folder)?),
        None => job(Pack::britain()?),
    }
}

/// What a taxon is to people; never that it is fit to eat.
pub fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Food => "gathered as food",
        Standing::Inedible => "not eaten",
        Standing::Harmful => "harmful",
        Standing::Deadly => "deadly",
    }
}

#[allow(clippy::unnecessary_wraps, reason = "one job among others that may be refused")]
fn list(pack: &Pack) -> Done {
    let mut words = String::new();
    let mut rows = Vec::new();
    for taxon in pack.taxa() {
        let english = taxon.english.first().map_or("", String::as_str);
        let _ = writeln!(words, "{:<26} {:<30} {}", taxon.id, taxon.latin, standing(taxon.standing));
        rows.push(json!({
            "id": taxon.id, "name": taxon.latin, "english": english,
            "danger": danger(taxon.standing), "key_may_name": taxon.key_may_name,
        }));
    }
    let about = pack.about();
    let _ = writeln!(words, "{} taxa. {}, version {}.", rows.len(), about.title, about.version);
    Ok(Answer::new(words, &json!({"pack": about.id, "version": about.version, "taxa": rows})))
}

pub fn danger(standing: Standing) -> &'static str {
    match standing {
        Standing::Food => "food",
        Standing::Inedible => "inedible",
        Standing::Harmful => "harmful",
        Standing::Deadly => "deadly",
    }
}

pub fn unknown() -> Refusal {
    Refusal::new("not-found", "no such taxon in this pack: `trug pack list` shows what there is")
}

/// A taxon as it is typed: its id, or an exact name.
pub fn taxon(pack: &Pack, name: &str) -> Option<TaxonIndex> {
    pack.taxon_by_id(name).or_else(|| pack.taxon_by_name(name))
}

fn show(pack: &Pack, name: &str) -> Done {
    let at = taxon(pack, name).ok_or_else(unknown)?;
    let taxon = pack.taxon(at).ok_or_else(unknown)?;
    let characters = characters(pack, at);
    let mut words = format!("{} ({}): {}\n", taxon.english.join(", "), taxon.latin, standing(taxon.standing));
    for caution in &taxon.cautions {
        let _ = writeln!(words, "  caution: {}", caution.text);
    }
    for (other, look) in pack.lookalikes_of(at) {
        let other = pack.taxon(other).and_then(|t| t.english.first()).map_or("", String::as_str);
        let _ = writeln!(words, "  taken for {other}: {}", look.apart);
    }
    for (character, cell) in &characters {
        let _ = writeln!(words, "  {character:<20} {}", plain(cell));
    }
    words.push_str("If in any doubt, leave it.");
    let lookalikes: Vec<&str> =
        pack.lookalikes_of(at).filter_map(|(other, _)| pack.taxon(other)).map(|t| t.id.as_str()).collect();
    let json = json!({
        "id": taxon.id, "name": taxon.latin, "english": taxon.english, "danger": danger(taxon.standing),
        "key_may_name": taxon.key_may_name, "lookalikes": lookalikes, "characters": characters,
        "cautions": taxon.cautions.iter().map(|c| &c.text).collect::<Vec<_>>(),
    });
    Ok(Answer::new(words, &json))
}

fn characters(pack: &Pack, at: TaxonIndex) -> Map<String, Value> {
    let all = pack.character_indices().zip(pack.characters()).filter_map(|(index, character)| {
        let cell = match pack.cell(at, index) {
            Cell::NotApplicable | Cell::Unknown => return None,
            Cell::Number(range, _) => json!({"range": range.to_string()}),
            Cell::Months(range, _) => json!({"range": range.to_string()}),
            Cell::States(cell) => json!({
                "usual": of(character, cell, Frequency::Usual),
                "sometimes": of(character, cell, Frequency::Sometimes),
                "rare": of(character, cell, Frequency::Rare),
            }),
        };
        Some((character.id.clone(), cell))
    });
    all.collect()
}

fn of<'a>(character: &'a trug::pack::Character, cell: &StatesCell, frequency: Frequency) -> Vec<&'a str> {
    let states = character.states.iter().zip(&cell.states);
    let shown = states.filter(|(_, seen)| seen.as_ref().is_some_and(|seen| seen.frequency == frequency));
    shown.map(|(state, _)| state.id.as_str()).collect()
}

fn plain(cell: &Value) -> String {
    if let Some(range) = cell.get("range").and_then(Value::as_str) {
        return range.to_owned();
    }
    let part = |name: &str| {
        let states: Vec<&str> = cell.get(name)?.as_array()?.iter().filter_map(Value::as_str).collect();
        let label = if name == "usual" { String::new() } else { format!("{name} ") };
        (!states.is_empty()).then(|| format!("{label}{}", states.join(", ")))
    };
    ["usual", "sometimes", "rare"].iter().filter_map(|name| part(name)).collect::<Vec<_>>().join("; ")
}

fn check(folder: Option<&Path>) -> Done {
    let problems = match folder {
        Some(folder) => check_folder(folder)?,
        None => check_pack(Pack::britain()?),
    };
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    // Only a pack without a slip can be opened, and counted.
    let statistics = match folder {
        _ if !lines.is_empty() => None,
        Some(folder) => Some(Statistics::of(&Pack::open(folder)?)),
        None => Some(Statistics::of(Pack::britain()?)),
    };
    let words = statistics.map_or_else(|| lines.join("\n"), |it| counted(&it));
    let json = json!({"ok": lines.is_empty(), "problems": lines, "statistics": statistics});
    let answer = Answer::new(words, &json);
    Ok(if lines.is_empty() { answer } else { answer.bad_news() })
}

fn counted(it: &Statistics) -> String {
    let backed = |it: Backed| {
        format!("{} published, {} common practice, {} from memory", it.published, it.practice, it.memory)
    };
    format!(
        "The pack keeps every rule.\n{} taxa, {} of them gathered as food.\nCondition: told of {} foods; a least size for {} ({}).\n\
         {} signs of age on {} forms ({}), {} with a meaning of their own in one taxon ({}).",
        it.taxa,
        it.foods,
        it.foods_with_condition,
        it.foods_with_size,
        backed(it.sizes),
        it.signs.total(),
        it.forms,
        backed(it.signs),
        it.own_signs.total(),
        backed(it.own_signs),
    )
}

fn print(pack: &Pack, figures: &Figures, out: &Path) -> Done {
    fs::create_dir_all(out)?;
    let sheets = sheets(pack, figures);
    for sheet in &sheets {
        fs::write(out.join(&sheet.file), &sheet.html)?;
    }
    let files: Vec<&str> = sheets.iter().map(|sheet| sheet.file.as_str()).collect();
    Ok(Answer::new(format!("{} sheets written.", files.len()), &json!({"sheets": files})))
}
