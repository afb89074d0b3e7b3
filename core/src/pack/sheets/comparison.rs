//! A food beside each dangerous taxon that it is taken for, character by character.

use maud::{Markup, html};

use super::{Sheet, document, figure, lines};
use crate::pack::Figures;
use crate::pack::model::{
    Cell, Character, CharacterIndex, Effort, Frequency, LookAlike, Pack, Seen, SourceIndex, Statement, Taxon,
    TaxonIndex,
};

pub(super) fn sheet(pack: &Pack, at: TaxonIndex, food: &Taxon, figures: &Figures) -> Sheet {
    let lookalikes = distinct(pack, at);
    let (dangers, others): (Vec<_>, Vec<_>) = lookalikes
        .into_iter()
        .partition(|(other, _)| pack.taxon(*other).is_some_and(|other| other.standing.is_dangerous()));
    let body = html! {
        header {
            h1 { (name(food)) }
            p { span.latin { (food.latin) } }
        }
        (group(pack, food))
        (statements("Cautions", &food.cautions))
        (statements("Authors disagree", &food.disputed))
        @if let Some(reason) = &food.key_may_not_because { p { b { "The key does not name it: " } (reason) } }
        @if dangers.is_empty() {
            h2 { "Dangerous look-alikes" }
            p { "This pack knows of none. That is no promise: what it does not know, it cannot warn of." }
        }
        @for (danger_at, entry) in &dangers {
            @if let Some(danger) = pack.taxon(*danger_at) { (comparison(pack, (at, food), (*danger_at, danger), entry, figures)) }
        }
        (harmless_list(pack, &others))
        h2 { "Look again at every one that you cut" }
        p { "A name holds for the one fruitbody looked at. A deadly one can stand in the same tuft." }
        h2 { "Notes" }
        (lines(6))
        (citations(pack, food, &dangers))
    };
    document(pack, &food.id, &format!("{} and what it is taken for", name(food)), &body)
}

/// Its look-alikes, each once, its own entries before those that others make of it.
fn distinct(pack: &Pack, at: TaxonIndex) -> Vec<(TaxonIndex, &LookAlike)> {
    let mut all: Vec<(TaxonIndex, &LookAlike)> = Vec::new();
    for (other, entry) in pack.lookalikes_of(at) {
        if !all.iter().any(|(known, _)| *known == other) {
            all.push((other, entry));
        }
    }
    // The worst first.
    all.sort_by_key(|(other, _)| std::cmp::Reverse(pack.taxon(*other).map(|other| other.standing)));
    all
}

fn name(taxon: &Taxon) -> &str {
    taxon.english.first().unwrap_or(&taxon.latin)
}

fn group(pack: &Pack, food: &Taxon) -> Markup {
    let group = food.group.and_then(|at| pack.group(at));
    html! {
        @if let Some(group) = group {
            p { b { "Of the group " (group.english.join(", ")) ": " } (group.parted_by.text) }
        }
    }
}

fn statements(title: &str, statements: &[Statement]) -> Markup {
    html! {
        @if !statements.is_empty() {
            h3 { (title) }
            ul { @for it in statements { li { @if !it.about.is_empty() { b { (it.about) ": " } } (it.text) } } }
        }
    }
}

fn comparison(
    pack: &Pack,
    food: (TaxonIndex, &Taxon),
    danger: (TaxonIndex, &Taxon),
    entry: &LookAlike,
    figures: &Figures,
) -> Markup {
    let rows = rows(pack, food.0, danger.0);
    html! {
        section {
            h2 { (name(danger.1)) " " span.standing { (danger.1.standing.in_words()) } }
            p { span.latin { (danger.1.latin) } @if let Some(stage) = &danger.1.stage { ", " (stage.name) } }
            p { (entry.apart) }
            @if !danger.1.demands.is_empty() {
                p.never { "Not ruled out until looked at: " (labels(pack, &danger.1.demands)) "." }
            }
            table {
                thead { tr { th { "Look" } th { (name(food.1)) } th { (name(danger.1)) } th.tick { "Seen" } } }
                tbody { @for row in &rows { (row_markup(pack, row, food.0, danger.0, figures)) } }
            }
            p.small { "In bold: what can part the two. In italics: what only guides, for trees are misnamed and sizes overlap." }
        }
    }
}

/// A character in which the two differ.
struct Row<'a> {
    at: CharacterIndex,
    character: &'a Character,
    parts: bool,
}

/// What parts the two first, the cheapest look before the dearer; then where ordinary specimens differ; then what only guides.
fn rows(pack: &Pack, food: TaxonIndex, danger: TaxonIndex) -> Vec<Row<'_>> {
    let differs = |at| match (pack.cell(food, at), pack.cell(danger, at)) {
        (Cell::States(ours), Cell::States(theirs)) => ours
            .states
            .iter()
            .zip(&theirs.states)
            .any(|(ours, theirs)| is_usual(ours.as_ref()) != is_usual(theirs.as_ref())),
        (Cell::Number(ours, _), Cell::Number(theirs, _)) => ours != theirs,
        (Cell::Months(ours, _), Cell::Months(theirs, _)) => ours != theirs,
        _ => false,
    };
    let indexed = pack.character_indices().zip(pack.characters());
    let mut rows: Vec<_> = indexed
        .filter(|(at, character)| character.effort != Effort::Microscope && differs(*at))
        .map(|(at, character)| Row { at, character, parts: pack.can_part(at, food, danger) })
        .collect();
    rows.sort_by_key(|row| (!row.parts, !row.character.separator, row.character.effort));
    rows
}

fn is_usual(seen: Option<&Seen>) -> bool {
    seen.is_some_and(|seen| seen.frequency == Frequency::Usual)
}

fn row_markup(pack: &Pack, row: &Row<'_>, food: TaxonIndex, danger: TaxonIndex, figures: &Figures) -> Markup {
    let class = if row.parts {
        "parts"
    } else if row.character.separator {
        "differs"
    } else {
        "guide"
    };
    html! {
        tr class=(class) {
            th { (row.character.label) }
            @for taxon in [food, danger] {
                td { (told(pack, taxon, row)) (drawn(pack, taxon, row, figures)) }
            }
            td.tick { span.box {} }
        }
    }
}

/// All that is known, or of what only guides, what is usual.
fn told(pack: &Pack, taxon: TaxonIndex, row: &Row<'_>) -> String {
    let told = if row.character.separator {
        pack.in_words(taxon, row.at)
    } else {
        pack.usual_in_words(taxon, row.at)
    };
    told.unwrap_or_default()
}

/// The figures of the states that a taxon usually shows.
fn drawn(pack: &Pack, taxon: TaxonIndex, row: &Row<'_>, figures: &Figures) -> Markup {
    let Cell::States(cell) = pack.cell(taxon, row.at) else { return Markup::default() };
    let usual = row.character.states.iter().zip(&cell.states).filter(|(_, seen)| is_usual(seen.as_ref()));
    let drawn = usual.filter_map(|(state, _)| state.figure.as_ref()).filter(|id| figures.contains_key(*id));
    let drawn: Vec<&String> = drawn.collect();
    html! { @if !drawn.is_empty() { div.drawn { @for id in drawn { (figure(Some(id), figures)) } } } }
}

fn labels(pack: &Pack, characters: &[CharacterIndex]) -> String {
    let labels = characters.iter().filter_map(|at| pack.character(*at)).map(|it| it.label.to_lowercase());
    labels.collect::<Vec<_>>().join(" or ")
}

fn harmless_list(pack: &Pack, others: &[(TaxonIndex, &LookAlike)]) -> Markup {
    html! {
        @if !others.is_empty() {
            h2 { "Also taken for" }
            ul {
                @for (at, entry) in others {
                    @if let Some(other) = pack.taxon(*at) { li { b { (name(other)) } " (" (other.standing.in_words()) "): " (entry.apart) } }
                }
            }
        }
    }
}

/// The sources of what the sheet says in sentences.
fn citations(pack: &Pack, food: &Taxon, dangers: &[(TaxonIndex, &LookAlike)]) -> Markup {
    let statements = food.cautions.iter().chain(&food.disputed).chain([&food.standing_statement]);
    let cited =
        statements.flat_map(|it| &it.sources).chain(dangers.iter().flat_map(|(_, entry)| &entry.sources));
    let mut cited: Vec<SourceIndex> = cited.copied().collect();
    cited.sort_unstable();
    cited.dedup();
    let sources: Vec<_> = cited.iter().filter_map(|at| pack.sources().get(at.get())).collect();
    html! {
        h3 { "Sources of cautions and comparisons" }
        ul.small { @for source in sources { li { (source.citation) } } }
    }
}
