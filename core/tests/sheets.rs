//! What is printed: every danger beside its food, nothing promised, nothing loaded from elsewhere.

#![allow(clippy::unwrap_used)]

use std::path::Path;

use trug::pack::sheets::{Sheet, sheets};
use trug::pack::{Figures, Pack, Standing, britain_figures, read_figures};

fn good() -> Pack {
    Pack::open(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/good")).unwrap()
}

fn of<'a>(sheets: &'a [Sheet], file: &str) -> &'a str {
    &sheets.iter().find(|sheet| sheet.file == file).unwrap().html
}

#[test]
fn each_food_stands_beside_each_danger_and_there_is_a_field_sheet() {
    let pack = Pack::britain().unwrap();
    let sheets = sheets(pack, &Figures::new());
    let foods = pack.taxon_indices().filter(|at| pack.taxon(*at).unwrap().standing == Standing::Food);
    assert_eq!(sheets.len(), foods.clone().count() + 1);
    for food in foods {
        let html = of(&sheets, &format!("{}.html", pack.taxon(food).unwrap().id));
        for (danger, _) in
            pack.lookalikes_of(food).filter(|(other, _)| pack.taxon(*other).unwrap().standing.is_dangerous())
        {
            assert!(html.contains(&format!(">{}<", pack.taxon(danger).unwrap().latin)));
        }
    }
    let field = of(&sheets, "field-sheet.html");
    assert!(pack.characters().iter().all(|character| field.contains(&character.label)));
}

#[test]
fn a_sheet_promises_nothing_and_refers_to_nothing_outside_itself() {
    for sheet in sheets(Pack::britain().unwrap(), &Figures::new()) {
        assert!(sheet.html.contains("If in any doubt, leave it."), "{}", sheet.file);
        let words = sheet.html.to_lowercase();
        for bad in ["<img", "<script", "src=", "href=", "url(", "safe to", "is safe", "are safe"] {
            assert!(!words.contains(bad), "{}: {bad}", sheet.file);
        }
    }
}

#[test]
fn what_parts_stands_first_and_what_only_guides_last() {
    let sheets = sheets(&good(), &Figures::new());
    let html = of(&sheets, "field-cap.html");
    let at = |text: &str| html.find(text).unwrap_or_else(|| panic!("no {text}"));
    assert!(at("<tr class=\"parts\"><th>Smell") < at("<tr class=\"parts\"><th>Base"));
    assert!(at("<tr class=\"parts\"><th>Base") < at("<tr class=\"parts\"><th>Spore print"));
    assert!(at("<th>Spore print") < at("<tr class=\"guide\"><th>Tree"));
    assert!(html.contains("Not ruled out until looked at: base or bag."));
    assert!(html.contains("<td>brown; rarely white</td>"), "{html}");
}

#[test]
fn figures_stand_where_there_are_any() {
    let figures = Figures::from([("form-ball".to_owned(), "<svg><circle r=\"3\"/></svg>".to_owned())]);
    let sheets = sheets(&good(), &figures);
    assert_eq!(of(&sheets, "field-sheet.html").matches("<svg>").count(), 1);
    assert!(of(&sheets, "first-snowball.html").contains("<svg><circle r=\"3\"/></svg>"));
}

#[test]
fn a_figure_is_a_drawing_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(read_figures(folder.path()).unwrap(), Figures::new());
    std::fs::create_dir(folder.path().join("figures")).unwrap();
    let file = folder.path().join("figures/ring-skirt.svg");
    std::fs::write(&file, "<svg><path d=\"M0 0h3\"/></svg>\n").unwrap();
    assert!(read_figures(folder.path()).unwrap().contains_key("ring-skirt"));
    for bad in
        ["<svg><script>1</script></svg>", "<svg onload=\"x\"></svg>", "<svg><a href=\"x\"/></svg>", "<p></p>"]
    {
        std::fs::write(&file, bad).unwrap();
        assert_eq!(read_figures(folder.path()).unwrap_err().code(), "pack-unreadable", "{bad}");
    }
}

#[test]
fn every_figure_of_the_britain_pack_shows_a_state_and_is_drawn_in_one_hand() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("packs/britain");
    let drawn = read_figures(&folder).unwrap();
    assert_eq!(britain_figures().unwrap(), &drawn, "the built-in ones are those in the folder");
    assert!(drawn.len() > 100, "{} figures", drawn.len());
    let states = Pack::britain().unwrap().characters().iter().flat_map(|character| &character.states);
    let wanted: Vec<&String> = states.filter_map(|state| state.figure.as_ref()).collect();
    let hand = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 48 48\" fill=\"none\" stroke=\"currentColor\" \
        stroke-width=\"1.5\" stroke-linecap=\"round\" stroke-linejoin=\"round\">";
    for (id, svg) in &drawn {
        assert!(wanted.contains(&id), "no state is shown by {id}");
        assert!(svg.starts_with(hand) && svg.len() < 3_000, "{id}");
        let inside = svg.lines().skip(1).filter(|line| *line != "</svg>");
        assert!(
            inside.clone().count() > 0 && inside.clone().all(|line| line.starts_with("  <path d=\"M")),
            "{id}"
        );
    }
    // No two states of one character look alike.
    for character in Pack::britain().unwrap().characters() {
        let figures = character.states.iter().filter_map(|state| drawn.get(state.figure.as_ref()?));
        let mut figures: Vec<&String> = figures.collect();
        let all = figures.len();
        figures.sort_unstable();
        figures.dedup();
        assert_eq!(figures.len(), all, "{}", character.id);
    }
    let sheets = sheets(Pack::britain().unwrap(), britain_figures().unwrap());
    let field = of(&sheets, "field-sheet.html");
    assert_eq!(field.matches("<svg ").count(), drawn.len(), "the field sheet shows every figure once");
    assert!(of(&sheets, "velvet-shank.html").contains("<svg "));
}
