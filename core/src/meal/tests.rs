//! The sheet for the doctor: what it must never leave out, and its words as they stand.

use proptest::prelude::*;

use super::*;
use crate::help::Help;
use crate::pack::{Pack, TaxonIndex};

fn known() -> (&'static Pack, &'static Help) {
    (Pack::britain().unwrap(), Help::shipped().unwrap())
}

fn moment(text: &str) -> Moment {
    text.parse().unwrap()
}

fn named(name: &str) -> Eaten {
    Eaten { names: vec![name.to_owned()], ..Eaten::default() }
}

fn made(meals: &[Asked]) -> Sheet {
    let (pack, help) = known();
    sheet(pack, help, meals, moment("2026-11-07T03:10:00+00:00"))
}

fn all_words(sheet: &Sheet) -> String {
    let passage = |passage: Passage| format!("{}\n  {}\n", passage.title, passage.lines.join("\n  "));
    sheet.passages().into_iter().map(passage).collect()
}

fn person(name: &str, feels: Feels, child: bool) -> PersonShown {
    PersonShown { name: name.into(), child, feels, first_sign: None, delay_minutes: None, signs: None }
}

/// An invented evening: a tuft taken for velvet shank, and something that a child found.
fn evening() -> Asked {
    let ill = PersonShown {
        first_sign: Some(moment("2026-11-07T01:40:00+00:00")),
        signs: Some("Vomiting, then watery diarrhoea".into()),
        ..person("R.", Feels::Ill, false)
    };
    Asked {
        at: Some(moment("2026-11-06T19:30:00+00:00")),
        what: Some("Fried, on toast".into()),
        amount: Some("two handfuls between three".into()),
        prepared: Some(Prepared::Cooked),
        alcohol: Some(Alcohol::WithIt),
        people: vec![person("Ada", Feels::Well, true), ill, person("J. M.", Feels::Unknown, false)],
        others: Some(1),
        left: Some("five raw caps, in paper, in the fridge".into()),
        note: None,
        also: vec![
            Also { field: "amount", value: "one handful".into() },
            Also { field: "at", value: "2026-11-06T20:00:00+00:00".into() },
            Also { field: "alcohol", value: Value::Null },
        ],
        eaten: vec![
            Eaten {
                gathered: Some(moment("2026-11-05T14:00:00+00:00")),
                grew: Some("on: stump, tree: elm (likely)".into()),
                ..named("velvet-shank")
            },
            named("brown thing of Ada's"),
        ],
    }
}

#[test]
fn the_sheet_in_plain_words() {
    insta::assert_snapshot!(all_words(&made(&[evening()])), @"
    Eaten Friday 6 November 2026, 19:30: 7 hours 40 minutes ago
      What: Fried, on toast
      How much: two handfuls between three
      Raw or cooked: cooked
      Alcohol: with the meal
      Kept of it: five raw caps, in paper, in the fridge
      How much, as another device has it: one handful
      Eaten, as another device has it: Friday 6 November 2026, 20:00
      Alcohol, as another device has it: not noted
    Who ate
      R.: ill, first sign Saturday 7 November 2026, 01:40, 6 hours 10 minutes after the meal. Vomiting, then watery diarrhoea
      Ada, a child: no signs when noted
      J. M.: not asked
      One more person, not named
    Taken for: Velvet shank (Flammulina velutipes)
      Gathered Thursday 5 November 2026, 14:00
      Grew on: stump, tree: elm (likely)
      May have been Funeral bell (Galerina marginata), deadly. Amatoxins, as in the death cap; the liver fails. Signs of amatoxins: 6 to 24 hours after the meal, or later; then 1 to 2 days of seeming recovery; liver failure after 2 to 3 days.
      May have been Brick tuft (Hypholoma lateritium), poisonous. Trug holds no source on when signs begin.
      May have been Spindle toughshank (Gymnopus fusipes), poisonous. Trug holds no source on when signs begin.
      May have been Sulphur tuft (Hypholoma fasciculare), poisonous. Trug holds no source on when signs begin.
    Taken for: brown thing of Ada's
      brown thing of Ada's: a name that Trug does not know. Any poisonous kind is possible.
    About this sheet
      Kinds that were eaten together blur the clock: early signs do not rule out late ones.
      Names are those of whoever gathered. Nobody has confirmed them.
      Made Saturday 7 November 2026, 03:10.
      Times for amatoxins: ACT Health (Australia), alert on the death cap in Canberra, undated; Atlas of Emergency Medicine, 5th edition, 2021; AccessMedicine, table of a textbook of poisoning (book 2284).
      No clinician has reviewed what Trug says here.
    ");
}

#[test]
fn without_a_meal_it_says_what_to_tell() {
    let words = all_words(&made(&[]));
    assert!(words.starts_with("No meal is noted\n  Tell the doctor what was eaten"), "{words}");
}

#[test]
fn what_was_not_noted_says_so_and_is_never_none() {
    let words = all_words(&made(&[Asked { eaten: vec![Eaten::default()], ..Asked::default() }]));
    for line in
        ["Eaten: time not noted", "How much: not noted", "Raw or cooked: not noted", "Alcohol: not noted"]
    {
        assert!(words.contains(line), "{line}\n{words}");
    }
    assert!(words.contains("Who ate\n  not noted") && words.contains("Any poisonous kind is possible."));
}

#[test]
fn the_latest_meal_comes_first_and_no_meal_is_too_old() {
    let old = Asked { at: Some(moment("2025-09-01T12:00:00+01:00")), ..evening() };
    let sheet = made(&[old.clone(), evening()]);
    assert_eq!(sheet.meals.iter().map(|meal| meal.at).collect::<Vec<_>>(), [evening().at, old.at]);
}

#[test]
fn every_name_that_was_given_brings_its_own_dangers_once() {
    let both = Eaten {
        names: vec!["velvet-shank".into(), "honey-fungus".into(), "Velvet shank".into()],
        ..Eaten::default()
    };
    let sheet = made(&[Asked { eaten: vec![both], ..Asked::default() }]);
    let kinds: Vec<&str> = sheet.meals[0].parts[0].kinds.iter().map(|kind| kind.name.as_str()).collect();
    assert_eq!(kinds, ["Velvet shank", "Honey fungus"]);
    assert_eq!(all_words(&sheet).matches("May have been Funeral bell").count(), 1);
}

#[test]
fn a_dangerous_name_is_a_danger_itself_and_a_group_brings_its_members_dangers() {
    let of = |name: &str| {
        made(&[Asked { eaten: vec![named(name)], ..Asked::default() }]).meals[0].parts[0].kinds[0].clone()
    };
    let death_cap = of("Amanita phalloides");
    assert!(death_cap.dangers.iter().any(|danger| danger.taxon == "death-cap" && danger.deadly));
    let (pack, _) = known();
    for group in pack.groups() {
        let members: Vec<TaxonIndex> = pack
            .taxon_indices()
            .filter(|at| {
                pack.taxon(*at).and_then(|taxon| taxon.group).and_then(|at| pack.groups().get(at.get()))
                    == Some(group)
            })
            .collect();
        let expected =
            members.iter().flat_map(|at| pack.lookalikes_of(*at)).filter_map(|(at, _)| pack.taxon(at));
        let shown = of(&group.id);
        for other in expected.filter(|taxon| taxon.standing.is_dangerous()) {
            assert!(
                shown.dangers.iter().any(|danger| danger.taxon == other.id),
                "{}: {}",
                group.id,
                other.id
            );
        }
    }
}

/// Sources: see `packs/help/courses.toml`. Latencies stand with the danger that they belong to and nowhere else.
#[test]
fn latencies_stand_with_their_dangers() {
    let sheet = made(&[evening()]);
    let bell = sheet.meals[0].parts[0].kinds[0]
        .dangers
        .iter()
        .find(|danger| danger.taxon == "funeral-bell")
        .unwrap();
    let begins = bell.begins.as_ref().unwrap();
    assert!(begins.text.starts_with("6 to 24 hours") && begins.sources.len() == 3);
    assert_eq!(
        sheet.meals[0].people.iter().map(|one| one.delay_minutes).collect::<Vec<_>>(),
        [Some(370), None, None]
    );
}

#[test]
fn a_meal_says_what_was_eaten_and_names_nobody_twice() {
    assert_eq!(Meal::default().validate().unwrap_err().field, "what");
    let eater = Eater {
        person: PersonId::new(),
        child: false,
        feels: Feels::Well,
        first_sign: None,
        signs: None,
        further: Map::new(),
    };
    let twice =
        Meal { what: Some("soup".into()), eaters: Some(vec![eater.clone(), eater]), ..Meal::default() };
    assert_eq!(twice.validate().unwrap_err().field, "eaters");
    assert!(Person { name: Some("  ".into()), ..Person::default() }.validate().is_err());
}

proptest! {
    /// Whatever a find was taken for, every dangerous look-alike that the pack lists in either direction is on the sheet and in its
    /// words, and no word consoles.
    #[test]
    fn no_dangerous_look_alike_is_left_out(at in 0_u16..136, ago in 0_i64..1_000_000) {
        let (pack, help) = known();
        let at = TaxonIndex(at % u16::try_from(pack.taxa().len()).unwrap());
        let taxon = pack.taxon(at).unwrap();
        let now = moment("2026-11-07T03:10:00+00:00");
        let eaten = Moment::new(jiff::Timestamp::from_millisecond(now.millis() - ago * 60_000).unwrap(), now.offset());
        let meal = Asked { at: Some(eaten), eaten: vec![named(&taxon.id)], ..Asked::default() };
        let made = sheet(pack, help, &[meal], now);
        prop_assert_eq!(made.meals[0].minutes_ago, Some(ago));
        let words = all_words(&made);
        let listed = pack.lookalikes_of(at).filter_map(|(at, _)| pack.taxon(at)).chain([taxon]);
        for other in listed.filter(|taxon| taxon.standing.is_dangerous()) {
            prop_assert!(words.contains(&other.latin), "{} lacks {}", &taxon.id, &other.id);
        }
        for never in ["harmless", "probably", "don't worry", "edible", "unlikely"] {
            let own = made.passages().iter().flat_map(|it| it.lines.clone()).any(|line| line.contains(never) && !line.starts_with("May have been"));
            prop_assert!(!own);
        }
        let course = made.meals[0].parts[0].kinds.iter().flat_map(|kind| &kind.dangers).filter_map(|one| one.begins.as_ref());
        for begins in course {
            prop_assert!(words.contains(&begins.text));
        }
    }
}
