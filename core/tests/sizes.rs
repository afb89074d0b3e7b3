//! Cap sizes of the Britain pack against figures published elsewhere.

#![allow(clippy::unwrap_used, clippy::panic)]

use trug::pack::{Cell, NumberRange, Pack};

/// Least and most cap diameter in centimetres: D. Wagner, D. Heider & G. Hattab, "Mushroom data creation, curation, and
/// simulation to support classification tasks", Scientific Reports 11:8134 (2021), primary table, CC BY 4.0. Its figures are a
/// popular book's for grown caps of Europe.
const PUBLISHED: [(&str, f32, f32); 12] = [
    ("cep", 8.0, 30.0),
    ("bay-bolete", 7.0, 15.0),
    ("chanterelle", 2.0, 10.0),
    ("winter-chanterelle", 2.0, 5.0),
    ("wood-hedgehog", 6.0, 14.0),
    ("oyster-mushroom", 5.0, 18.0),
    ("velvet-shank", 2.0, 7.0),
    ("honey-fungus", 5.0, 15.0),
    ("wood-blewit", 5.0, 15.0),
    ("parasol", 10.0, 25.0),
    ("death-cap", 5.0, 12.0),
    ("fly-agaric", 10.0, 20.0),
];

fn cap_width(id: &str) -> NumberRange {
    let pack = Pack::britain().unwrap();
    let (taxon, character) = (pack.taxon_by_id(id).unwrap(), pack.character_by_id("cap-width").unwrap());
    match pack.cell(taxon, character) {
        Cell::Number(range, _) => *range,
        other => panic!("{id}: {other:?}"),
    }
}

#[test]
fn cap_widths_overlap_those_of_a_published_table_in_millimetres_and_in_nothing_else() {
    for (id, least, most) in PUBLISHED {
        let ours = cap_width(id);
        let published = |unit: f32| NumberRange {
            least: least * unit,
            low: least * unit,
            high: most * unit,
            most: most * unit,
        };
        assert!(ours.overlaps(&published(10.0)), "{id}: {ours} against {least}–{most} cm");
        // Most of the usual range is shared, not an edge of it.
        let shared = ours.high.min(most * 10.0) - ours.low.max(least * 10.0);
        assert!(shared * 2.0 >= f32::min(ours.high - ours.low, (most - least) * 10.0), "{id}: {ours}");
        // Neither centimetres nor inches pass for millimetres.
        assert!(!ours.overlaps(&published(1.0)) && !ours.overlaps(&published(254.0)), "{id}: {ours}");
    }
}
