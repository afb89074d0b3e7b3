//! The lint of a pack's content: every rule that knowledge must keep before a key may lean on it.

mod characters;
mod groups;
mod matrix;
mod pairs;
mod signs;
mod taxa;
mod words;

use std::path::Path;

use super::folder::read_folder;
use super::model::{Pack, Taxon, TaxonIndex};
use super::problem::{PackError, Problem};
use super::read::{Lines, Texts, read};

/// Checks the pack in a folder: its form, and every rule of its content.
///
/// # Errors
/// [`PackError::Unreadable`] if its files cannot be read.
pub fn check_folder(folder: &Path) -> Result<Vec<Problem>, PackError> {
    Ok(check(&read_folder(folder)?))
}

/// Checks a pack's texts. The problems come sorted by file and line; none means that the pack keeps every rule.
#[must_use]
pub fn check(texts: &Texts) -> Vec<Problem> {
    let reading = read(texts);
    let broken = reading.problems.iter().map(|problem| problem.file.as_str()).collect();
    let found = Findings { pack: &reading.pack, lines: &reading.lines, broken, problems: Vec::new() };
    let found = found.of_every_rule();
    let mut problems: Vec<_> = reading.problems.into_iter().chain(found).collect();
    problems.sort();
    problems
}

/// Checks the content of a pack that has been read already, such as the one built in. Its lines are not known any more: the
/// problems name file and field.
#[must_use]
pub fn check_pack(pack: &Pack) -> Vec<Problem> {
    let lines = Lines::default();
    let found = Findings { pack, lines: &lines, broken: Vec::new(), problems: Vec::new() };
    let mut problems = found.of_every_rule();
    problems.sort();
    problems
}

/// What the rules have found, and what they need to say where.
struct Findings<'a> {
    pack: &'a Pack,
    lines: &'a Lines,
    /// Files whose form is broken already: rules stay silent on them, so that one slip is told once.
    broken: Vec<&'a str>,
    problems: Vec<Problem>,
}

impl<'a> Findings<'a> {
    fn of_every_rule(mut self) -> Vec<Problem> {
        if !self.broken.contains(&characters::FILE) {
            characters::check(&mut self);
            taxa::check(&mut self);
            groups::check(&mut self);
            pairs::check(&mut self);
            signs::check(&mut self);
            matrix::check(&mut self);
        }
        words::check(&mut self);
        self.problems
    }

    /// Taxa whose files could be read in full.
    fn sound_taxa(&self) -> impl Iterator<Item = (TaxonIndex, &'a Taxon)> + use<'a> {
        let (pack, broken) = (self.pack, self.broken.clone());
        pack.taxon_indices()
            .zip(&pack.taxa)
            .filter(move |(_, taxon)| !broken.contains(&taxon_file(taxon).as_str()))
    }

    /// Notes a problem, at the line of the field or of what holds it.
    fn note(&mut self, file: &str, field: &str, rule: &'static str, message: String) {
        let line = self.lines.get(file).map_or(0, |lines| {
            let mut path = field;
            loop {
                if let Some(line) = lines.get(path) {
                    break *line;
                }
                match path.rfind(['.', '[']) {
                    Some(end) => path = path.get(..end).unwrap_or_default(),
                    None => break 1,
                }
            }
        });
        self.problems.push(Problem { file: file.to_owned(), line, field: field.to_owned(), rule, message });
    }

    fn note_taxon(&mut self, taxon: &Taxon, field: &str, rule: &'static str, message: String) {
        self.note(&taxon_file(taxon), field, rule, message);
    }
}

fn taxon_file(taxon: &Taxon) -> String {
    format!("taxa/{}.toml", taxon.id)
}
