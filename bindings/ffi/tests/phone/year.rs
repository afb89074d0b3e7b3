//! The year and its months, as a phone asks for them.

use trug_ffi::{YearBy, YearCame, YearOf};

use crate::{HERE, Phone, code};

/// Today's month, where it stands among the twelve from July on, and its season.
fn today(phone: &Phone) -> (u8, usize, String) {
    let day = phone.book.now(None).unwrap().now.day;
    let (year, month): (i32, u8) = (day[..4].parse().unwrap(), day[5..7].parse().unwrap());
    let began = if month >= 7 { year } else { year - 1 };
    let season = format!("{began}/{:02}", (began + 1) % 100);
    (month, usize::from((month + 5) % 12), season)
}

#[test]
fn the_year_of_an_empty_notebook_says_so() {
    let phone = Phone::new();
    let page = phone.book.year_page(YearBy::Fungus, None, None).unwrap();
    assert!(page.rows.is_empty() && page.all.sum.finds == 0 && page.season.is_none() && page.more.is_none());
    assert_eq!(page.seasons, [today(&phone).2]);
    assert_eq!(
        page.all.months.iter().map(|month| month.month).collect::<Vec<_>>(),
        [7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6]
    );
}

#[test]
fn a_row_leads_to_its_months_and_they_to_their_finds() {
    let phone = Phone::new();
    let book = &phone.book;
    let (month, at, season) = today(&phone);
    let find = |name: &str, values: &[(&str, &str)]| {
        let page = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
        if !name.is_empty() {
            book.name_find(page.id.clone(), name.into(), "sight".into(), None, None).unwrap();
        }
        phone.amend(&page, values)
    };
    find("velvet-shank", &[("seen", "9"), ("taken", "4"), ("grams", "60")]);
    let second = find("velvet-shank", &[("seen", "5"), ("taken", "1"), ("by", "R.")]);
    find("", &[]);
    let ear = find("jelly-ear", &[("seen", "3")]);
    let patch = book.found_patch(ear.id, Some("old elder".into())).unwrap().patch.unwrap();
    let page =
        book.year_page(YearBy::Fungus, Some(season.clone()), Some("fungus/velvet-shank".into())).unwrap();
    assert_eq!(page.season, Some(season.clone()));
    let ids: Vec<&str> = page.rows.iter().map(|row| row.id.as_str()).collect();
    assert_eq!(ids, ["fungus/jelly-ear", "fungus/velvet-shank", "unnamed"]);
    let more = page.more.unwrap();
    assert_eq!((more.turns, more.runs.len(), more.seasons.len()), (7, 1, 1));
    assert!(more.runs[0].is_on && more.runs[0].name == season && more.runs[0].days.len() == 1);
    let sum = &more.row.sum;
    // 14 seen, 5 taken, 9 left; one of the four that were weighed has 15 g.
    assert_eq!((sum.finds, sum.seen.least, sum.taken.least, sum.left.most), (2, 14, 5, Some(9)));
    assert_eq!((sum.grams, sum.unweighed, sum.others.least, sum.left_grams), (60.0, 1, 1, Some(135.0)));
    let this = &more.row.months[at];
    assert_eq!((this.month, this.came, this.level, this.seen), (month, YearCame::Found, 3, 14));

    let page = book.month_page(this.id.clone(), 1).unwrap();
    assert_eq!((page.finds.len(), page.more, page.sum.finds, page.month), (1, 1, 2, month));
    let page = book.month_page(this.id.clone(), 100).unwrap();
    assert_eq!(page.finds[0].id, second.id);
    assert!(matches!(&page.of, YearOf::Fungus { name } if name.english == "Velvet shank"));

    // The same month of every year, by place; the patch by its name.
    let page = book.year_page(YearBy::Place, None, None).unwrap();
    let of: Vec<&YearOf> = page.rows.iter().map(|row| &row.of).collect();
    assert!(
        matches!(of[..], [YearOf::Patch { id, name: Some(name), .. }, YearOf::Elsewhere] if *id == patch.id && name == "old elder"),
        "{of:?}"
    );
    let this = &page.rows[0].months[at];
    assert_eq!((this.year, this.found_in, this.looked_in), (None, 1, 1));
    assert_eq!(book.month_page(this.id.clone(), 9).unwrap().finds.len(), 1);
}

#[test]
fn a_look_in_vain_is_told_with_its_place() {
    let phone = Phone::new();
    let book = &phone.book;
    let (_, at, season) = today(&phone);
    let find = book.begin_find(None, "whole".into(), Some(HERE)).unwrap();
    book.name_find(find.id.clone(), "jelly-ear".into(), "sight".into(), None, None).unwrap();
    let patch = book.found_patch(find.id.clone(), None).unwrap().patch.unwrap();
    book.delete_find(find.id).unwrap();
    book.look_at_patch(patch.id.clone(), "nothing".into()).unwrap();
    let page = book.year_page(YearBy::Fungus, Some(season), None).unwrap();
    let this = &page.rows[0].months[at];
    assert_eq!((this.came, this.level, this.looks, this.nothing), (YearCame::Nothing, 0, 1, 1));
    let page = book.month_page(this.id.clone(), 9).unwrap();
    assert!(page.finds.is_empty());
    // A patch without a name is told by its kind and where it is.
    let [look] = &page.looks[..] else { panic!("{:?}", page.looks) };
    let YearOf::Patch { id, name: None, kind: Some(kind), place: Some(_) } = &look.at else {
        panic!("{look:?}")
    };
    assert_eq!((id, kind.id.as_str(), look.came), (&patch.id, "jelly-ear", YearCame::Nothing));
}

#[test]
fn what_names_no_row_or_month_is_refused() {
    let phone = Phone::new();
    for id in ["", "2026-13 all", "2026-01", "2026-01 fungi", "all 2026-01"] {
        assert_eq!(code(phone.book.month_page(id.into(), 9)), "not-an-id", "{id}");
    }
    assert_eq!(code(phone.book.year_page(YearBy::Fungus, None, Some("patch/7".into()))), "not-an-id");
    let page = phone.book.year_page(YearBy::Fungus, None, Some("fungus/cep".into())).unwrap();
    assert!(page.more.is_none(), "nothing is known of it here");
}
