//! From the texts of a pack to the pack: files in their order, each name resolved where it is used.

use std::collections::BTreeMap;

use super::fields::{Document, Fields, Value};
use super::model::{About, Cell, Character, Group, Pack, Source, SourceIndex, Sources, Statement, Taxon};
use super::names::{Names, did_you_mean, is_id};
use super::problem::Problem;
use super::signs::{Life, Sign};
use super::{read_characters, read_signs, read_taxon};

/// The version of the format that this reader knows.
const FORMAT: f64 = 1.0;

/// The file of the signs of age.
pub(super) const SIGNS: &str = "signs.toml";

/// The text of every file of a pack, by its path relative to the pack's folder.
pub type Texts = BTreeMap<String, String>;

/// Line figures as SVG texts, by the ids that states give them. States without one are told in words alone.
pub type Figures = BTreeMap<String, String>;

/// The line of every field read, by file and by path within it.
pub(super) type Lines = BTreeMap<String, BTreeMap<String, usize>>;

/// A pack as far as its files could be read, and what was wrong with them.
pub(super) struct Reading {
    pub pack: Pack,
    pub problems: Vec<Problem>,
    pub lines: Lines,
}

/// The names that statements may use.
#[derive(Default)]
pub(super) struct Known {
    pub sources: Names,
    pub families: Names,
    pub characters: Names,
    pub states: Vec<read_characters::StateNames>,
    pub signs: Names,
    pub groups: Names,
    pub taxa: Names,
}

/// Reads a whole pack, noting every slip.
pub(super) fn read(texts: &Texts) -> Reading {
    let mut reader = Reader { texts, known: Known::default(), problems: Vec::new(), lines: Lines::new() };
    reader.unknown_files();
    let about = reader.file("pack.toml", |fields, _| about(fields)).unwrap_or_default();
    let sources = reader.file("sources.toml", sources).unwrap_or_default();
    let (families, characters) = reader.file("characters.toml", read_characters::read).unwrap_or_default();
    let (lives, signs) = reader.signs();
    let groups = reader.groups();
    let (taxa, cells) = reader.taxa(&characters, &signs);
    let pack = Pack { about, sources, families, characters, lives, signs, groups, taxa, cells };
    let mut problems = reader.problems;
    problems.sort();
    Reading { pack, problems, lines: reader.lines }
}

struct Reader<'a> {
    texts: &'a Texts,
    known: Known,
    problems: Vec<Problem>,
    lines: Lines,
}

impl Reader<'_> {
    /// Reads one file; `None` if it is not there.
    fn file<T>(&mut self, file: &str, read: impl FnOnce(&mut Fields<'_, '_>, &mut Known) -> T) -> Option<T> {
        let Some(text) = self.texts.get(file) else {
            self.note(file, "missing-file", "this file is missing".into());
            return None;
        };
        let document = Document::new(file, text);
        let mut fields = document.fields(text);
        let content = read(&mut fields, &mut self.known);
        fields.finish();
        let (problems, lines) = document.finish();
        self.problems.extend(problems);
        self.lines.insert(file.to_owned(), lines);
        Some(content)
    }

    /// A pack that says nothing of condition needs no file for it.
    fn signs(&mut self) -> (Vec<Life>, Vec<Sign>) {
        if !self.texts.contains_key(SIGNS) {
            return Default::default();
        }
        self.file(SIGNS, read_signs::read).unwrap_or_default()
    }

    fn groups(&mut self) -> Vec<Group> {
        let files = self.stems("groups/");
        files
            .into_iter()
            .filter_map(|(file, stem)| self.file(&file, |fields, known| group(fields, known, &stem)))
            .collect()
    }

    fn taxa(&mut self, characters: &[Character], signs: &[Sign]) -> (Vec<Taxon>, Vec<Cell>) {
        let files = self.stems("taxa/");
        if files.is_empty() {
            self.note("taxa", "missing-file", "a pack needs at least one taxon".into());
        }
        // Look-alikes and stages name taxa in any order, so all ids are known before the first is read.
        for (file, stem) in &files {
            if self.known.taxa.add(stem).is_none() {
                self.note(file, "too-many", "no more than 65,535 taxa fit into a pack".into());
            }
        }
        let (mut taxa, mut cells) = (Vec::with_capacity(files.len()), Vec::new());
        for (file, stem) in files {
            let read = |fields: &mut Fields<'_, '_>, known: &mut Known| {
                read_taxon::read(fields, known, (characters, signs), &stem)
            };
            if let Some((taxon, row)) = self.file(&file, read) {
                taxa.push(taxon);
                cells.extend(row);
            }
        }
        (taxa, cells)
    }

    /// The files of a subfolder with the ids that they are named after.
    fn stems(&self, folder: &str) -> Vec<(String, String)> {
        let stem = |file: &str| Some(file.strip_prefix(folder)?.strip_suffix(".toml")?.to_owned());
        self.texts.keys().filter_map(|file| Some((file.clone(), stem(file)?))).collect()
    }

    fn unknown_files(&mut self) {
        const FILES: [&str; 4] = ["pack.toml", "sources.toml", "characters.toml", SIGNS];
        let texts = self.texts;
        for file in texts.keys().filter(|file| !file.contains('/') && !FILES.contains(&file.as_str())) {
            let hint = did_you_mean(file, FILES.into_iter());
            self.note(file, "unknown-file", format!("a pack has no such file{hint}"));
        }
    }

    fn note(&mut self, file: &str, rule: &'static str, message: String) {
        self.problems.push(Problem { file: file.to_owned(), line: 0, field: String::new(), rule, message });
    }
}

fn about(fields: &mut Fields<'_, '_>) -> About {
    if let Some(format) = fields.required("format")
        && format.number().is_some_and(|number| number.to_bits() != FORMAT.to_bits())
    {
        format.problem("unsupported-format", "this reader knows format 1");
    }
    About {
        id: own_id(fields, None),
        version: fields.text("version"),
        title: fields.text("title"),
        language: fields.text("language"),
        region: fields.text("region"),
        notes: fields.texts("notes"),
    }
}

fn sources(fields: &mut Fields<'_, '_>, known: &mut Known) -> Vec<Source> {
    let mut all = Vec::new();
    for (key, published) in [("published", true), ("unpublished", false)] {
        for (id, citation) in
            fields.optional(key).and_then(Value::fields).map(Fields::named).unwrap_or_default()
        {
            if known.sources.add(&id).is_none() {
                citation.problem("duplicate-id", format!("`{id}` is both published and unpublished"));
            }
            all.push(Source { id, citation: citation.text().unwrap_or_default(), published });
        }
    }
    all
}

fn group(fields: &mut Fields<'_, '_>, known: &mut Known, stem: &str) -> Group {
    let id = own_id(fields, Some(stem));
    known.groups.add(stem);
    let english = fields.texts("english");
    if english.is_empty() {
        fields.problem("missing-field", "`english` needs at least one name");
    }
    let parted_by = fields.required("parted_by").and_then(Value::fields);
    Group {
        id,
        english,
        latin: fields.text("latin"),
        parted_by: parted_by.map(|fields| statement(fields, known)).unwrap_or_default(),
    }
}

/// The `id` of a file, which must be the one that the file is named after.
pub(super) fn own_id(fields: &mut Fields<'_, '_>, stem: Option<&str>) -> String {
    let Some(value) = fields.required("id") else { return stem.unwrap_or_default().to_owned() };
    let id = value.text().unwrap_or_default();
    if !is_id(&id) {
        value.problem("bad-id", format!("`{id}` is not an id: write lower-case words joined by hyphens"));
    } else if stem.is_some_and(|stem| stem != id) {
        value.problem("bad-id", format!("the file of `{id}` must be named {id}.toml"));
    }
    id
}

/// A sentence with its sources: `{ about?, text, source }`.
pub(super) fn statement(mut fields: Fields<'_, '_>, known: &Known) -> Statement {
    let statement = Statement {
        about: fields.optional_text("about").unwrap_or_default(),
        text: fields.text("text"),
        sources: sources_of(&mut fields, known),
    };
    fields.finish();
    statement
}

/// The `source` that every statement must carry.
pub(super) fn sources_of(fields: &mut Fields<'_, '_>, known: &Known) -> Sources {
    fields.required("source").map(|value| cited(value, known)).unwrap_or_default()
}

/// One source id or a list of them.
pub(super) fn cited(value: Value<'_, '_>, known: &Known) -> Sources {
    let place = value.place();
    let texts = value.texts();
    if texts.is_empty() {
        place.problem("missing-field", "a statement needs at least one source");
    }
    resolve(texts, &known.sources, "source").into_iter().map(SourceIndex).collect()
}

/// Positions of the ids in a list; unknown ones are noted and left out.
pub(super) fn resolve(ids: Vec<(String, Value<'_, '_>)>, names: &Names, what: &str) -> Vec<u16> {
    let mut all = Vec::with_capacity(ids.len());
    for (id, place) in ids {
        match names.get(&id) {
            Some(at) if all.contains(&at) => {
                place.problem("duplicate-id", format!("the {what} `{id}` stands here twice"));
            }
            Some(at) => all.push(at),
            None => place.problem("unknown-id", format!("there is no {what} `{id}`{}", names.hint(&id))),
        }
    }
    all
}

/// The position that a value names, if it is there.
pub(super) fn named(value: Option<Value<'_, '_>>, names: &Names, what: &str) -> Option<u16> {
    let value = value?;
    resolve(vec![(value.text()?, value.place())], names, what).pop()
}
