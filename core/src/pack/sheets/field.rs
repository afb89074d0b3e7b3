//! A blank sheet for one find: everything that the key can ask, to be ticked in the wood.

use maud::{Markup, html};

use super::{Sheet, document, figure, lines};
use crate::pack::Figures;
use crate::pack::model::{Character, Effort, Pack};

/// What to write down of the find itself.
const FIND: [&str; 8] = [
    "Date",
    "Time",
    "Place",
    "Found by",
    "How many there",
    "How many taken",
    "Photographs",
    "Specimen number",
];

pub(super) fn sheet(pack: &Pack, figures: &Figures) -> Sheet {
    let body = html! {
        header { h1 { "Field sheet" } p { "One find. Tick what you see; leave blank what you cannot tell." } }
        p { @for label in FIND { span.choice { (label) " " span.blank {} } " " } }
        @for effort in Effort::ALL {
            @let looks: Vec<_> = pack.characters().iter().filter(|character| character.effort == effort).collect();
            @if !looks.is_empty() {
                h2 { (effort.in_words()) }
                @for character in looks { (look(character, figures)) }
            }
        }
        h2 { "Suspected, and what speaks against it" }
        (lines(3))
        h2 { "Notes" }
        (lines(6))
    };
    document(pack, "field-sheet", "Field sheet", &body)
}

fn look(character: &Character, figures: &Figures) -> Markup {
    html! {
        div.look {
            b { (character.label) } ": "
            @if character.has_states() {
                @for state in &character.states {
                    span.choice { span.box {} " " (figure(state.figure.as_ref(), figures)) (state.label) } " "
                }
            } @else {
                span.blank {} " " (character.kind.unit())
            }
        }
    }
}
