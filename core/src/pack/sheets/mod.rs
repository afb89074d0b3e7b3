//! Sheets to print on A5: a food beside each dangerous look-alike, and a blank sheet for a find.
//!
//! There is no printed key that leads along a single path: one wrong answer there ends in a wrong name.

mod comparison;
mod field;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::model::{Pack, Standing};
use super::read::Figures;

/// A page, or a few, to be printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// A name for its file.
    pub file: String,
    /// Its title.
    pub title: String,
    /// The whole document, which refers to nothing outside itself.
    pub html: String,
}

/// One comparison sheet for each food, and the blank field sheet.
#[must_use]
pub fn sheets(pack: &Pack, figures: &Figures) -> Vec<Sheet> {
    let foods = pack.taxon_indices().zip(pack.taxa()).filter(|(_, taxon)| taxon.standing == Standing::Food);
    let mut all: Vec<_> = foods.map(|(at, taxon)| comparison::sheet(pack, at, taxon, figures)).collect();
    all.push(field::sheet(pack, figures));
    all
}

const STYLE: &str = include_str!("style.css");

fn document(pack: &Pack, file: &str, title: &str, body: &Markup) -> Sheet {
    let about = pack.about();
    let page = html! {
        (DOCTYPE)
        html lang=(about.language) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (body)
                footer {
                    p.never { "This sheet never says that anything is fit to eat. If in any doubt, leave it." }
                    p { (about.title) ", version " (about.version) ". " (about.region) "." }
                }
            }
        }
    };
    Sheet { file: format!("{file}.html"), title: title.to_owned(), html: page.into_string() }
}

/// The figure of a state, if there is one.
fn figure(id: Option<&String>, figures: &Figures) -> Markup {
    let svg = id.and_then(|id| figures.get(id));
    html! { @if let Some(svg) = svg { span.figure { (PreEscaped(svg)) } } }
}

/// Empty lines to write on.
fn lines(count: usize) -> Markup {
    html! { div.lines { @for _ in 0..count { div {} } } }
}
