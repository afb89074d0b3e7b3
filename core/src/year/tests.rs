//! The year, worked by hand, and what must hold of any.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use proptest::prelude::*;
use uuid::Uuid;

use super::*;
use crate::find::{Count, Find};
use crate::id::{OutingId, PatchId};
use crate::patch::{Amounts, Many, Outcome, Season};
use crate::units::Grams;

fn patch(n: u128) -> PatchId {
    PatchId(Uuid::from_u128(n))
}

fn outing(n: u128) -> OutingId {
    OutingId(Uuid::from_u128(n))
}

/// As a pack would: capitals make no difference, and two kinds of elf cup are parted by no look.
fn called(name: &str) -> Called {
    let id = name.trim().to_lowercase().replace(' ', "-");
    let group = id.ends_with("elf-cup").then(|| "elf-cups".to_owned());
    Called { one_with: [id.clone()].into_iter().chain(group).collect(), id }
}

fn of(find: &Find) -> Amounts {
    Amounts::of(find)
}

fn seen(n: u32) -> Amounts {
    of(&Find { seen: Count::exactly(n).ok(), ..Find::default() })
}

fn sum(taxon: &'static str, day: Date, amounts: Amounts) -> Sum<'static> {
    Sum { patch: None, day, outing: None, taxon, by_others: false, amounts }
}

fn grounds(all: &[(u128, Option<u128>, Option<&str>)]) -> BTreeMap<PatchId, Ground> {
    let ground = |(id, into, kind): &(u128, Option<u128>, Option<&str>)| {
        let kind = kind.map(str::to_owned);
        (patch(*id), Ground { name: None, merged_into: into.map(patch), kind })
    };
    all.iter().map(ground).collect()
}

fn row<'c>(rows: &'c [Row], key: &str) -> &'c Course {
    let key: Key = key.parse().unwrap();
    &rows.iter().find(|row| row.key == key).unwrap_or_else(|| panic!("{key}")).course
}

/// What came of each month in which somebody looked: its looks, those that found nothing, its finds.
fn told(course: &Course) -> Vec<String> {
    let month = |(month, cell): (&Month, &Cell)| {
        format!("{month} {:?} {}/{} {}", cell.came(), cell.nothing, cell.looks, cell.amounts.finds)
    };
    course.months.iter().map(month).collect()
}

/// A patch of velvet shank over one winter: found, looked for in vain, and not looked at in February.
#[test]
fn a_month_that_was_looked_at_in_vain_differs_from_one_that_was_not() {
    let mut counting = Counting::new(grounds(&[(1, None, Some("velvet-shank"))]), &called);
    let at = |day, amounts| Sum { patch: Some(patch(1)), ..sum("Velvet shank", day, amounts) };
    let look = |day, outcome| Visited { patch: patch(1), outing: None, day, outcome };
    counting.finds(&at(date(2025, 11, 8), seen(7)));
    counting.visit(&look(date(2025, 11, 29), Outcome::Nothing));
    counting.visit(&look(date(2025, 12, 20), Outcome::Nothing));
    // Noted as nothing in the morning, and found on the same day after all.
    counting.visit(&look(date(2026, 1, 3), Outcome::Nothing));
    counting.finds(&at(date(2026, 1, 3), seen(2)));
    counting.visit(&look(date(2026, 3, 1), Outcome::Seen));
    // Something else was found there: what the patch is for was not.
    counting.finds(&Sum { patch: Some(patch(1)), ..sum("jelly-ear", date(2026, 4, 4), seen(3)) });
    // A find that says that there was none.
    counting.finds(&at(date(2026, 5, 1), seen(0)));
    // Elsewhere nobody looked for it.
    counting.finds(&sum("jelly-ear", date(2026, 6, 1), seen(1)));
    let counted = counting.finish(None);
    let velvet = row(&counted.fungi, "fungus/velvet-shank");
    assert_eq!(
        told(velvet),
        [
            "2025-11 Found 1/2 1",
            "2025-12 Nothing 1/1 0",
            "2026-01 Found 0/1 1",
            "2026-03 Noted 0/1 0",
            "2026-04 Nothing 1/1 0",
            "2026-05 Nothing 1/1 1"
        ]
    );
    assert_eq!(velvet.days, [date(2025, 11, 8), date(2026, 1, 3)]);
    let laid = twelve(velvet, Some(Season::of(date(2026, 1, 1))), date(2026, 5, 20));
    let came: Vec<String> = laid
        .iter()
        .map(|laid| {
            format!("{} {:?}{}", laid.pick, laid.cell.came(), if laid.is_ahead { ", ahead" } else { "" })
        })
        .collect();
    assert_eq!(
        came,
        [
            "2025-07 NotLooked",
            "2025-08 NotLooked",
            "2025-09 NotLooked",
            "2025-10 NotLooked",
            "2025-11 Found",
            "2025-12 Nothing",
            "2026-01 Found",
            "2026-02 NotLooked",
            "2026-03 Noted",
            "2026-04 Nothing",
            "2026-05 Nothing",
            "2026-06 NotLooked, ahead"
        ]
    );
    assert_eq!(told(row(&counted.fungi, "fungus/jelly-ear")), ["2026-04 Found 0/1 1", "2026-06 Found 0/1 1"]);
}

#[test]
fn a_patch_of_no_kind_is_looked_at_for_whatever_was_found_there() {
    let mut counting = Counting::new(grounds(&[(1, None, None)]), &called);
    let at = |taxon, day, amounts| Sum { patch: Some(patch(1)), ..sum(taxon, day, amounts) };
    counting.finds(&at("cep", date(2025, 9, 1), seen(2)));
    counting.finds(&at("chanterelle", date(2025, 9, 1), seen(9)));
    counting.finds(&at("chanterelle", date(2025, 10, 1), seen(4)));
    // Something that nobody has named was there: that is no absence of either.
    counting.finds(&at("", date(2025, 11, 1), seen(1)));
    counting.visit(&Visited {
        patch: patch(1),
        outing: None,
        day: date(2024, 9, 5),
        outcome: Outcome::Nothing,
    });
    let counted = counting.finish(None);
    assert_eq!(
        told(row(&counted.fungi, "fungus/cep")),
        ["2024-09 Nothing 1/1 0", "2025-09 Found 0/1 1", "2025-10 Nothing 1/1 0", "2025-11 Noted 0/1 0"]
    );
    assert_eq!(
        told(row(&counted.fungi, "fungus/chanterelle")),
        ["2024-09 Nothing 1/1 0", "2025-09 Found 0/1 1", "2025-10 Found 0/1 1", "2025-11 Noted 0/1 0"]
    );
    assert_eq!(told(row(&counted.fungi, "unnamed")), ["2025-11 Found 0/1 1"]);
}

/// Found by one name where another was looked for that no look parts from it: that is no absence.
#[test]
fn what_no_look_parts_is_not_told_as_absent() {
    let mut counting = Counting::new(grounds(&[(1, None, Some("scarlet elf cup"))]), &called);
    let find = |taxon, day| Sum { patch: Some(patch(1)), ..sum(taxon, day, seen(3)) };
    counting.finds(&find("ruby elf cup", date(2026, 2, 1)));
    counting.finds(&find("jelly ear", date(2026, 3, 1)));
    let counted = counting.finish(None);
    assert_eq!(
        told(row(&counted.fungi, "fungus/scarlet-elf-cup")),
        ["2026-02 Noted 0/1 0", "2026-03 Nothing 1/1 0"]
    );
}

/// On New Year's Eve past midnight: one look, by the day on which the outing began; the finds by their own days, in one season.
#[test]
fn new_year_parts_months_and_no_season() {
    let mut counting = Counting::new(grounds(&[(1, None, Some("velvet-shank"))]), &called);
    counting.outing(&Went {
        outing: outing(5),
        day: Some(date(2025, 12, 31)),
        place: "Harrow Shaw",
        is_over: true,
    });
    let at =
        |day| Sum { patch: Some(patch(1)), outing: Some(outing(5)), ..sum("velvet-shank", day, seen(4)) };
    counting.visit(&Visited {
        patch: patch(1),
        outing: Some(outing(5)),
        day: date(2025, 12, 31),
        outcome: Outcome::Nothing,
    });
    counting.finds(&at(date(2026, 1, 1)));
    let counted = counting.finish(None);
    let velvet = row(&counted.fungi, "fungus/velvet-shank");
    // It was found on that walk, so December is no absence.
    assert_eq!(told(velvet), ["2025-12 NotLooked 0/1 0", "2026-01 Found 0/0 1"]);
    let season = |course: &Course| course.months.keys().map(|month| month.season()).collect::<Vec<_>>();
    assert!(season(velvet).iter().all(|season| season.to_string() == "2025/26"));
    // The outing was at the patch, and is told there.
    let places: Vec<String> = counted.places.iter().map(|row| row.key.to_string()).collect();
    assert_eq!(places, [Key::Patch(patch(1)).to_string()]);
}

#[test]
fn places_are_patches_then_where_the_outing_was_then_elsewhere() {
    let merged = [(1, None, None), (2, Some(1), None), (3, Some(9), None)];
    let mut counting = Counting::new(grounds(&merged), &called);
    for (n, place) in [(1, "Harrow Shaw"), (2, " Harrow Shaw "), (3, ""), (4, "Lidgate Hanger")] {
        counting.outing(&Went { outing: outing(n), day: Some(date(2025, 10, 1)), place, is_over: true });
    }
    counting.outing(&Went {
        outing: outing(5),
        day: Some(date(2025, 11, 1)),
        place: "Harrow Shaw",
        is_over: false,
    });
    let mut find = |place: Option<u128>, on: Option<u128>| {
        let (patch, outing) = (place.map(patch), on.map(outing));
        counting.finds(&Sum { patch, outing, ..sum("cep", date(2025, 10, 1), seen(1)) });
    };
    find(Some(1), Some(1)); // at a patch
    find(Some(2), None); // at one that was merged into it
    find(Some(3), None); // at one that was merged into a patch that is not there
    find(Some(7), Some(2)); // at one that is not there any more
    find(None, Some(1));
    find(None, Some(3));
    find(None, None);
    let counted = counting.finish(None);
    let mut told: Vec<(String, Vec<String>)> =
        counted.places.iter().map(|row| (row.key.to_string(), told(&row.course))).collect();
    told.sort();
    let month = |text: &str| vec![text.to_owned()];
    assert_eq!(
        told,
        [
            ("elsewhere".to_owned(), month("2025-10 Found 0/2 2")),
            ("outing/Harrow Shaw".to_owned(), month("2025-10 Found 0/2 2")),
            // Nothing was found on that walk; one that is still on says nothing yet.
            ("outing/Lidgate Hanger".to_owned(), month("2025-10 Nothing 1/1 0")),
            (Key::Patch(patch(1)).to_string(), month("2025-10 Found 0/2 2")),
            (Key::Patch(patch(3)).to_string(), month("2025-10 Found 0/1 1")),
        ]
    );
    assert_eq!(counted.all.course.sum(|_| true).amounts.finds, 7);
}

/// 9 seen of which 4 taken for 120 g, and 6 seen of which 2 were taken and not weighed: 9 left, of 30 g in the mean.
#[test]
fn the_mean_is_of_what_was_counted_and_weighed() {
    let take = |seen, taken, grams: Option<f64>| {
        of(&Find {
            seen: Count::exactly(seen).ok(),
            taken: Some(taken),
            grams: grams.map(|grams| Grams::new(grams).unwrap()),
            ..Find::default()
        })
    };
    let mut counting = Counting::new(BTreeMap::new(), &called);
    counting.finds(&sum("cep", date(2025, 9, 1), take(9, 4, Some(120.0))));
    counting.finds(&Sum { by_others: true, ..sum("cep", date(2025, 9, 2), take(6, 2, None)) });
    let cell = counting.finish(None).all.course.sum(|_| true);
    assert_eq!((cell.amounts.left(), cell.mean_grams()), (Many::exactly(9), Some(30.0)));
    assert_eq!((cell.by_others.taken, cell.amounts.unweighed), (Many::exactly(2), 1));
    assert_eq!(Cell::default().mean_grams(), None);
}

#[test]
fn the_looks_that_were_watched_for_are_told_one_by_one() {
    let mut counting = Counting::new(grounds(&[(1, None, Some("cep")), (2, None, None)]), &called);
    for (at, day, outcome) in [
        (1, date(2025, 9, 1), Outcome::Nothing),
        (1, date(2025, 9, 8), Outcome::Seen),
        (1, date(2025, 10, 1), Outcome::Nothing),
        (2, date(2025, 9, 2), Outcome::Nothing),
    ] {
        counting.visit(&Visited { patch: patch(at), outing: None, day, outcome });
    }
    let watched = |key: &str, pick: &str| Watched { key: key.parse().unwrap(), pick: pick.parse().unwrap() };
    let counted = counting.finish(Some(&watched("fungus/cep", "2025-09")));
    assert_eq!(
        counted.looked,
        [
            (date(2025, 9, 8), Key::Patch(patch(1)), Came::Noted),
            (date(2025, 9, 1), Key::Patch(patch(1)), Came::Nothing)
        ]
    );
}

#[test]
fn months_stand_as_tall_as_their_fruitbodies_are_many() {
    for (count, tall) in
        [(0, 0), (1, 1), (2, 1), (3, 2), (9, 2), (10, 3), (29, 3), (30, 4), (99, 4), (100, 5), (9000, 5)]
    {
        let cell = Cell { amounts: seen(count), ..Cell::default() };
        assert_eq!(level(&cell), tall, "{count}");
    }
    let uncounted = Cell { amounts: of(&Find::default()), ..Cell::default() };
    assert_eq!(level(&uncounted), 1);
}

#[test]
fn rows_come_as_the_year_brings_them() {
    let mut counting = Counting::new(grounds(&[(1, None, Some("morel"))]), &called);
    for (taxon, day) in [
        ("velvet shank", date(2025, 11, 1)),
        ("velvet shank", date(2026, 2, 1)),
        ("cep", date(2025, 8, 1)),
        ("amethyst deceiver", date(2025, 11, 9)),
        ("chanterelle", date(2025, 8, 2)),
        ("chanterelle", date(2025, 10, 2)),
        ("st george", date(2026, 4, 23)),
        ("", date(2025, 7, 1)),
    ] {
        counting.finds(&sum(taxon, day, seen(1)));
    }
    counting.visit(&Visited {
        patch: patch(1),
        outing: None,
        day: date(2026, 3, 1),
        outcome: Outcome::Nothing,
    });
    let mut rows = counting.finish(None).fungi;
    order(&mut rows, None, ToString::to_string);
    let names: Vec<String> = rows.iter().map(|row| row.key.to_string().replace("fungus/", "")).collect();
    assert_eq!(
        names,
        ["cep", "chanterelle", "amethyst-deceiver", "velvet-shank", "st-george", "morel", "unnamed"]
    );
}

fn amounts() -> impl Strategy<Value = Amounts> {
    let find = (prop::option::of(0u32..30), prop::option::of(0u32..5), prop::option::of(0.0..500.0));
    find.prop_map(|(seen, taken, grams)| {
        let seen = seen.and_then(|seen| Count::exactly(seen).ok());
        of(&Find { seen, taken, grams: grams.map(Grams::nearest), ..Find::default() })
    })
}

fn sums() -> impl Strategy<Value = Vec<Sum<'static>>> {
    let names = prop::sample::select(vec!["", "cep", "Cep", "scarlet elf cup", "ruby elf cup", "jelly ear"]);
    let days = (2020i16..2026, 1i8..=12, 1i8..=29)
        .prop_filter_map("a day", |(year, month, day)| Date::new(year, month, day).ok());
    let places = (prop::option::of(1u128..6), prop::option::of(1u128..5));
    let one = (names, days, places, any::<bool>(), amounts());
    let one = one.prop_map(|(taxon, day, (at, on), by_others, amounts)| Sum {
        patch: at.map(patch),
        outing: on.map(outing),
        by_others,
        ..sum(taxon, day, amounts)
    });
    prop::collection::vec(one, 0..60)
}

proptest! {
    /// Whatever way they are counted, months add up to the finds: by fungus, by place, by season, all together.
    #[test]
    fn nothing_is_counted_twice_and_nothing_is_left_out(
        sums in sums(),
        visits in prop::collection::vec((1u128..6, prop::option::of(1u128..5), 1i8..=12), 0..20),
    ) {
        let merged = [(1, None, Some("cep")), (2, Some(1), None), (3, None, None), (4, Some(3), None)];
        let mut counting = Counting::new(grounds(&merged), &called);
        counting.outing(&Went { outing: outing(1), day: Some(date(2024, 5, 1)), place: "Harrow Shaw", is_over: true });
        counting.outing(&Went { outing: outing(2), day: None, place: "", is_over: true });
        for sum in &sums {
            counting.finds(sum);
        }
        for (at, on, month) in visits {
            let day = date(2024, month, 1);
            counting.visit(&Visited { patch: patch(at), outing: on.map(outing), day, outcome: Outcome::Nothing });
        }
        let counted = counting.finish(None);
        let whole: Amounts = sums.iter().map(|sum| sum.amounts).sum();
        let others: Amounts = sums.iter().filter(|sum| sum.by_others).map(|sum| sum.amounts).sum();
        for rows in [std::slice::from_ref(&counted.all), &counted.fungi, &counted.places] {
            let mut sum = Cell::default();
            for row in rows {
                sum += row.course.sum(|_| true);
            }
            prop_assert_eq!((sum.amounts, sum.by_others), (whole, others));
        }
        let today = date(2026, 1, 1);
        for row in counted.fungi.iter().chain(&counted.places).chain([&counted.all]) {
            let course = &row.course;
            let by_season = seasons(&counted, today).into_iter().flat_map(|season| twelve(course, Some(season), today));
            let (mut sum, mut over) = (Cell::default(), Cell::default());
            for laid in by_season {
                sum += laid.cell;
            }
            for laid in twelve(course, None, today) {
                over += laid.cell;
            }
            prop_assert_eq!(sum, course.sum(|_| true));
            prop_assert_eq!(over, sum);
            prop_assert!(u64::from(sum.nothing) + u64::from(sum.noted) <= u64::from(sum.looks));
            prop_assert!(course.days.windows(2).all(|two| two[0] < two[1]));
        }
        // Of each fungus by name, without the months.
        for row in &counted.fungi {
            let own = sums.iter().filter(|sum| match &row.key {
                Key::Fungus(id) => !sum.taxon.is_empty() && called(sum.taxon).id == *id,
                _ => sum.taxon.is_empty(),
            });
            prop_assert_eq!(row.course.sum(|_| true).amounts, own.map(|sum| sum.amounts).sum());
        }
    }
}
