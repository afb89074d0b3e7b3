//! Walking a TOML file field by field, noting every slip with its line instead of stopping at the first.

use std::cell::RefCell;
use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::names::did_you_mean;
use super::problem::Problem;

/// One file being read: where its lines begin, what was wrong so far, and which line holds which field.
pub(super) struct Document<'a> {
    file: &'a str,
    line_starts: Vec<usize>,
    problems: RefCell<Vec<Problem>>,
    lines: RefCell<BTreeMap<String, usize>>,
}

impl<'a> Document<'a> {
    pub fn new(file: &'a str, text: &str) -> Self {
        let line_starts = text.match_indices('\n').map(|(at, _)| at + 1).collect();
        Self { file, line_starts, problems: RefCell::default(), lines: RefCell::default() }
    }

    /// The table that is the whole file, as far as it can be read.
    pub fn fields<'d, 'i>(&'d self, text: &'i str) -> Fields<'d, 'i> {
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            let line = error.span().map_or(0, |span| self.line(span.start));
            self.note(line, "", "toml-syntax", error.message().replace('\n', ", "));
        }
        Fields { doc: self, path: String::new(), line: 1, table: table.into_inner(), asked: Vec::new() }
    }

    /// Problems found, and the line of every field that was asked for.
    pub fn finish(self) -> (Vec<Problem>, BTreeMap<String, usize>) {
        (self.problems.into_inner(), self.lines.into_inner())
    }

    fn line(&self, offset: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= offset) + 1
    }

    fn note(&self, line: usize, field: &str, rule: &'static str, message: String) {
        let (file, field) = (self.file.to_owned(), field.to_owned());
        self.problems.borrow_mut().push(Problem { file, line, field, rule, message });
    }
}

/// A table whose fields are taken out one by one; what is left over at the end was not expected.
pub(super) struct Fields<'d, 'i> {
    doc: &'d Document<'d>,
    path: String,
    line: usize,
    table: DeTable<'i>,
    asked: Vec<&'static str>,
}

impl<'d, 'i> Fields<'d, 'i> {
    /// Notes a problem with the table as a whole.
    pub fn problem(&self, rule: &'static str, message: impl Into<String>) {
        self.doc.note(self.line, &self.path, rule, message.into());
    }

    /// A field that may be left out.
    pub fn optional(&mut self, key: &'static str) -> Option<Value<'d, 'i>> {
        self.asked.push(key);
        self.table.remove(key).map(|value| self.value(key, value))
    }

    /// A field that must be there.
    pub fn required(&mut self, key: &'static str) -> Option<Value<'d, 'i>> {
        let value = self.optional(key);
        if value.is_none() {
            // A misspelt field of this name is told here, not as an unknown one besides.
            let near = |other: &str| strsim::osa_distance(other, key) <= 1 + key.len() / 4;
            let misspelt = self
                .table
                .keys()
                .find(|other| near(other.get_ref().as_ref()))
                .map(|other| other.get_ref().to_string());
            match misspelt.and_then(|other| self.table.remove_entry(other.as_str())) {
                Some((other, _)) => {
                    let line = self.doc.line(other.span().start);
                    let message = format!("unknown field `{}`, did you mean `{key}`?", other.get_ref());
                    self.doc.note(line, &joined(&self.path, other.get_ref()), "unknown-field", message);
                }
                None => self.problem("missing-field", format!("`{key}` is missing")),
            }
        }
        value
    }

    pub fn text(&mut self, key: &'static str) -> String {
        self.required(key).and_then(|value| value.text()).unwrap_or_default()
    }

    pub fn optional_text(&mut self, key: &'static str) -> Option<String> {
        self.optional(key).and_then(|value| value.text())
    }

    /// A list of texts, empty if left out.
    pub fn texts(&mut self, key: &'static str) -> Vec<String> {
        self.optional(key).map(Value::texts).unwrap_or_default().into_iter().map(|(text, _)| text).collect()
    }

    /// A list of tables, empty if left out.
    pub fn tables(&mut self, key: &'static str) -> Vec<Fields<'d, 'i>> {
        let values = self.optional(key).map(Value::list).unwrap_or_default();
        values.into_iter().filter_map(Value::fields).collect()
    }

    /// All fields with the names the author chose.
    pub fn named(mut self) -> Vec<(String, Value<'d, 'i>)> {
        let table = std::mem::take(&mut self.table);
        let mut all: Vec<_> = table
            .into_iter()
            .map(|(key, value)| (key.get_ref().to_string(), self.value(key.get_ref(), value)))
            .collect();
        all.sort_by_key(|(_, value)| value.line);
        all
    }

    /// Ends the reading of the table: what was not asked for is not known.
    pub fn finish(self) {
        for key in self.table.keys() {
            let hint = did_you_mean(key.get_ref(), self.asked.iter().copied());
            let line = self.doc.line(key.span().start);
            let message = format!("unknown field `{}`{hint}", key.get_ref());
            self.doc.note(line, &joined(&self.path, key.get_ref()), "unknown-field", message);
        }
    }

    fn value(&self, key: &str, value: Spanned<DeValue<'i>>) -> Value<'d, 'i> {
        Value::new(self.doc, joined(&self.path, key), value)
    }
}

/// A value and where it stands.
pub(super) struct Value<'d, 'i> {
    doc: &'d Document<'d>,
    path: String,
    line: usize,
    content: DeValue<'i>,
}

impl<'d, 'i> Value<'d, 'i> {
    fn new(doc: &'d Document<'d>, path: String, value: Spanned<DeValue<'i>>) -> Self {
        let line = doc.line(value.span().start);
        doc.lines.borrow_mut().insert(path.clone(), line);
        Self { doc, path, line, content: value.into_inner() }
    }

    /// Notes a problem with the value.
    pub fn problem(&self, rule: &'static str, message: impl Into<String>) {
        self.doc.note(self.line, &self.path, rule, message.into());
    }

    /// A copy that can still note problems after the value itself was used up.
    pub fn place(&self) -> Value<'d, 'i> {
        Self { doc: self.doc, path: self.path.clone(), line: self.line, content: DeValue::Boolean(false) }
    }

    pub fn is_table(&self) -> bool {
        matches!(self.content, DeValue::Table(_))
    }

    /// A text that says something.
    pub fn text(&self) -> Option<String> {
        match &self.content {
            DeValue::String(text) if text.trim().is_empty() => {
                self.problem("missing-field", "this text is empty");
                None
            }
            DeValue::String(text) => Some(text.trim().to_owned()),
            _ => self.wrong("a text in quotes"),
        }
    }

    /// One text or a list of texts, each with its place.
    pub fn texts(self) -> Vec<(String, Value<'d, 'i>)> {
        let values = if matches!(self.content, DeValue::Array(_)) { self.list() } else { vec![self] };
        values.into_iter().filter_map(|value| value.text().map(|text| (text, value.place()))).collect()
    }

    pub fn list(self) -> Vec<Value<'d, 'i>> {
        match self.content {
            DeValue::Array(values) => {
                let path = |at: usize| format!("{}[{at}]", self.path);
                values
                    .into_iter()
                    .enumerate()
                    .map(|(at, value)| Value::new(self.doc, path(at), value))
                    .collect()
            }
            _ => self.wrong("a list in square brackets").unwrap_or_default(),
        }
    }

    pub fn fields(self) -> Option<Fields<'d, 'i>> {
        match self.content {
            DeValue::Table(table) => {
                Some(Fields { doc: self.doc, path: self.path, line: self.line, table, asked: Vec::new() })
            }
            _ => self.wrong("a table of fields"),
        }
    }

    pub fn flag(&self) -> Option<bool> {
        if let DeValue::Boolean(flag) = self.content { Some(flag) } else { self.wrong("true or false") }
    }

    pub fn number(&self) -> Option<f64> {
        let read = match &self.content {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
            DeValue::Float(number) => number.as_str().parse().ok(),
            _ => None,
        };
        read.filter(|number: &f64| number.is_finite()).or_else(|| self.wrong("a number"))
    }

    /// One of a few fixed words.
    pub fn word<T: Copy>(&self, words: &[(&'static str, T)]) -> Option<T> {
        let text = self.text()?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, meaning)| *meaning);
        if found.is_none() {
            let all: Vec<_> = words.iter().map(|(word, _)| *word).collect();
            let hint = did_you_mean(&text, all.iter().copied());
            self.problem("unknown-word", format!("`{text}` is none of: {}{hint}", all.join(", ")));
        }
        found
    }

    fn wrong<T>(&self, expected: &str) -> Option<T> {
        self.problem("wrong-type", format!("expected {expected}, found {}", kind(&self.content)));
        None
    }
}

fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}
