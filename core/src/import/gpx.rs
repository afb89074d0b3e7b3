//! GPX 1.0 and 1.1: the waypoints; routes and tracks are passed over.
//!
//! The crate that writes GPX reads it into memory whole, tracks and all, knows no lines, and gives up at the first element of
//! somebody's own. So a reader of XML events is asked instead, which expands nothing.
//!
//! # References
//! The schemas of GPX 1.0 (2002) and 1.1 (2004): `gpx`, `wpt`, `lat`, `lon`, `name`, `cmt`, `desc`.

use std::io::BufRead;

use quick_xml::Reader;
use quick_xml::errors::Error as XmlError;
use quick_xml::events::{BytesStart, Event};

use super::lines::Lines;
use super::{ImportError, LONGEST, LONGEST_NOTE, MOST_MARKS, Mark, mark};

/// The waypoints of a file, in its order: all of them, or none.
///
/// # Errors
/// [`ImportError`].
pub fn gpx(source: impl BufRead) -> Result<Vec<Mark>, ImportError> {
    let mut file = File { xml: Reader::from_reader(Lines::new(source, LONGEST)), held: Vec::new() };
    let read = file.waypoints();
    // What is cut off in the middle looks broken.
    if file.xml.get_ref().is_too_long() { Err(ImportError::TooLong) } else { read }
}

struct File<R> {
    xml: Reader<R>,
    held: Vec<u8>,
}

/// What stands in the file next, as far as it matters here.
enum Next {
    Begins(Element),
    Ends,
    Text(String),
    FileEnds,
}

/// The start of an element.
struct Element {
    name: Vec<u8>,
    /// It has no content, and no end of its own.
    empty: bool,
    version: Option<String>,
    latitude: Option<String>,
    longitude: Option<String>,
}

/// The texts of a waypoint while it is read.
#[derive(Default)]
struct Texts {
    name: Option<String>,
    comment: Option<String>,
    description: Option<String>,
}

impl<R: BufRead> File<Lines<R>> {
    fn waypoints(&mut self) -> Result<Vec<Mark>, ImportError> {
        loop {
            match self.next()? {
                Next::Begins(root) if root.name == b"gpx" => {
                    if !matches!(root.version.as_deref(), Some("1.0" | "1.1")) {
                        return Err(ImportError::OtherVersion);
                    }
                    return if root.empty { Ok(Vec::new()) } else { self.children() };
                }
                Next::Text(text) if text.trim().is_empty() => {}
                _ => return Err(ImportError::NotGpx),
            }
        }
    }

    /// What stands directly in the root.
    fn children(&mut self) -> Result<Vec<Mark>, ImportError> {
        let mut marks = Vec::new();
        loop {
            let line = self.line();
            match self.next()? {
                Next::Begins(element) if element.name == b"wpt" => {
                    if marks.len() == MOST_MARKS {
                        return Err(ImportError::TooMany);
                    }
                    marks.push(self.waypoint(&element, marks.len() + 1, line)?);
                }
                Next::Begins(element) => self.pass_over(&element)?,
                Next::Text(_) => {}
                Next::Ends => return Ok(marks),
                Next::FileEnds => return Err(self.broken()),
            }
        }
    }

    fn waypoint(&mut self, element: &Element, number: usize, line: u64) -> Result<Mark, ImportError> {
        let wrong = |(field, why)| ImportError::Waypoint { number, line, field, why };
        let degrees = |text: &Option<String>, field| {
            let text = text.as_ref().ok_or_else(|| wrong((field, "missing: a waypoint has lat and lon")))?;
            text.trim().parse::<f64>().map_err(|_| wrong((field, "not a number: give degrees as 51.5")))
        };
        let place = (degrees(&element.latitude, "lat")?, degrees(&element.longitude, "lon")?);
        let texts = if element.empty { Texts::default() } else { self.texts(&wrong)? };
        let notes = [texts.description.as_deref(), texts.comment.as_deref()];
        mark(texts.name.as_deref(), place, &notes).map_err(wrong)
    }

    /// The texts of a waypoint that has begun, up to its end.
    fn texts(
        &mut self,
        wrong: &impl Fn((&'static str, &'static str)) -> ImportError,
    ) -> Result<Texts, ImportError> {
        let mut texts = Texts::default();
        loop {
            match self.next()? {
                Next::Begins(child) => {
                    let (into, field) = match child.name.as_slice() {
                        b"name" => (&mut texts.name, "name"),
                        b"cmt" => (&mut texts.comment, "comment"),
                        b"desc" => (&mut texts.description, "description"),
                        _ => {
                            self.pass_over(&child)?;
                            continue;
                        }
                    };
                    *into = Some(if child.empty { String::new() } else { self.text(field, wrong)? });
                }
                Next::Text(_) => {}
                Next::Ends => return Ok(texts),
                Next::FileEnds => return Err(self.broken()),
            }
        }
    }

    /// The text of an element that has begun, up to its end.
    fn text(
        &mut self,
        field: &'static str,
        wrong: &impl Fn((&'static str, &'static str)) -> ImportError,
    ) -> Result<String, ImportError> {
        let mut all = String::new();
        loop {
            match self.next()? {
                Next::Text(text) => all.push_str(&text),
                Next::Ends => return Ok(all),
                Next::Begins(_) => return Err(wrong((field, "it holds elements: give plain text"))),
                Next::FileEnds => return Err(self.broken()),
            }
            if all.len() > LONGEST_NOTE {
                return Err(wrong((field, "longer than 20000 bytes: shorten it")));
            }
        }
    }

    /// Passes over the rest of an element that has begun, however deep it is.
    fn pass_over(&mut self, element: &Element) -> Result<(), ImportError> {
        let mut open = u32::from(!element.empty);
        while open > 0 {
            match self.next()? {
                Next::Begins(inner) => open += u32::from(!inner.empty),
                Next::Ends => open -= 1,
                Next::Text(_) => {}
                Next::FileEnds => return Err(self.broken()),
            }
        }
        Ok(())
    }

    fn next(&mut self) -> Result<Next, ImportError> {
        loop {
            self.held.clear();
            let line = self.xml.get_ref().line();
            let not_utf8 = |_| ImportError::NotUtf8 { line };
            let event = self.xml.read_event_into(&mut self.held);
            return Ok(match event {
                Ok(Event::Start(start)) => Next::Begins(element(&start, false, line)?),
                Ok(Event::Empty(start)) => Next::Begins(element(&start, true, line)?),
                Ok(Event::End(_)) => Next::Ends,
                Ok(Event::Text(text)) => Next::Text(text.decode().map_err(not_utf8)?.into_owned()),
                Ok(Event::CData(text)) => Next::Text(text.decode().map_err(not_utf8)?.into_owned()),
                Ok(Event::GeneralRef(reference)) => {
                    let plain = match reference.resolve_char_ref() {
                        Ok(Some(character)) => Some(character),
                        Ok(None) => predefined(&reference),
                        Err(_) => None,
                    };
                    Next::Text(plain.ok_or(ImportError::Entity { line })?.to_string())
                }
                Ok(Event::DocType(_)) => return Err(ImportError::Entity { line }),
                Ok(Event::Decl(declared)) => {
                    let encoding = declared.encoding().and_then(Result::ok);
                    let known = |name: &[u8]| {
                        name.eq_ignore_ascii_case(b"utf-8") || name.eq_ignore_ascii_case(b"us-ascii")
                    };
                    if encoding.is_some_and(|name| !known(&name)) {
                        return Err(ImportError::NotUtf8 { line });
                    }
                    continue;
                }
                Ok(Event::Comment(_) | Event::PI(_)) => continue,
                Ok(Event::Eof) => Next::FileEnds,
                Err(XmlError::Io(error)) => return Err(ImportError::ReadFailed(error.kind())),
                Err(_) => return Err(ImportError::NotXml { line }),
            });
        }
    }

    fn line(&self) -> u64 {
        self.xml.get_ref().line()
    }

    fn broken(&self) -> ImportError {
        ImportError::NotXml { line: self.line() }
    }
}

fn element(start: &BytesStart<'_>, empty: bool, line: u64) -> Result<Element, ImportError> {
    let mut element = Element {
        name: start.local_name().as_ref().to_vec(),
        empty,
        version: None,
        latitude: None,
        longitude: None,
    };
    // Attributes of other elements are nobody's loss.
    if !matches!(element.name.as_slice(), b"gpx" | b"wpt") {
        return Ok(element);
    }
    for attribute in start.attributes() {
        let attribute = attribute.map_err(|_| ImportError::NotXml { line })?;
        let into = match attribute.key.as_ref() {
            b"version" => &mut element.version,
            b"lat" => &mut element.latitude,
            b"lon" => &mut element.longitude,
            _ => continue,
        };
        *into = Some(String::from_utf8_lossy(&attribute.value).into_owned());
    }
    Ok(element)
}

/// The five entities that XML itself has (XML 1.0 §4.6).
fn predefined(name: &[u8]) -> Option<char> {
    match name {
        b"lt" => Some('<'),
        b"gt" => Some('>'),
        b"amp" => Some('&'),
        b"apos" => Some('\''),
        b"quot" => Some('"'),
        _ => None,
    }
}
