//! Meals: noted with those who ate, amended by name, kept for good, laid out for a doctor.

use std::io::Read as _;

use super::*;
use crate::help::Help;
use crate::id::FindId;
use crate::meal::{Feels, Meal, Prepared};
use crate::notebook::{NewEater, NewName, Notebook, Sending};
use crate::pack::Pack;

fn soup() -> Meal {
    Meal { what: Some("soup".into()), ..Meal::default() }
}

#[test]
fn a_meal_is_there_after_reopening_and_a_person_is_made_once() {
    let desk = Desk::new();
    let notebook = desk.open();
    let ill = NewEater { feels: Feels::Ill, child: true, ..NewEater::named("Ada") };
    let first = notebook.add_meal(&soup(), &[ill, NewEater::named("R.")]).unwrap();
    let second = notebook.add_meal(&soup(), &[NewEater::named(" ada ")]).unwrap();
    assert_eq!(notebook.people().unwrap().len(), 2);
    assert_eq!(first.meal.value.at, None, "a time that nobody gave is not made up");
    drop(notebook);
    let notebook = desk.open();
    assert_eq!(
        notebook.meals().unwrap().iter().map(|meal| meal.id).collect::<Vec<_>>(),
        [second.id, first.id]
    );
    assert_eq!(notebook.meal(first.id).unwrap(), first);
}

#[test]
fn amending_puts_one_person_right_and_leaves_the_others() {
    let desk = Desk::new();
    let notebook = desk.open();
    let meal = notebook.add_meal(&soup(), &[NewEater::named("Ada"), NewEater::named("R.")]).unwrap();
    let ill = NewEater { feels: Feels::Ill, ..NewEater::named("r.") };
    let raw = Meal { prepared: Some(Prepared::Raw), ..Meal::default() };
    let after = notebook.amend_meal(meal.id, &raw, &[ill], &[]).unwrap().meal.value;
    let feels: Vec<Feels> = after.eaters.unwrap().iter().map(|eater| eater.feels).collect();
    assert_eq!((feels, after.prepared), (vec![Feels::Unknown, Feels::Ill], Some(Prepared::Raw)));
    assert_eq!(after.what.as_deref(), Some("soup"));
    let emptied = notebook.amend_meal(meal.id, &Meal::default(), &[], &["prepared".into()]).unwrap();
    assert_eq!(emptied.meal.value.prepared, None);
}

#[test]
fn what_cannot_be_is_refused_and_nothing_is_kept() {
    let desk = Desk::new();
    let notebook = desk.open();
    let lost = Meal { finds: Some(vec![FindId::new()]), ..soup() };
    assert_eq!(notebook.add_meal(&lost, &[NewEater::named("Ada")]).unwrap_err().code(), "not-found");
    assert_eq!(notebook.add_meal(&Meal::default(), &[]).unwrap_err().code(), "field");
    let twice = [NewEater::named("Ada"), NewEater::named("ADA")];
    assert_eq!(notebook.add_meal(&soup(), &twice).unwrap_err().code(), "field");
    assert_eq!(notebook.add_meal(&soup(), &[NewEater::named(" ")]).unwrap_err().code(), "field");
    assert!(notebook.meals().unwrap().is_empty() && notebook.people().unwrap().is_empty());
}

#[test]
fn the_doctor_sees_every_name_a_find_ever_had_even_one_taken_back() {
    let desk = Desk::new();
    let notebook = desk.open();
    let find = notebook.add_find(seen(3)).unwrap().id;
    let name = |taxon: &str| NewName { taxon: Some(taxon.into()), ..NewName::default() };
    let first = notebook.name_find(find, name("velvet-shank")).unwrap();
    notebook.withdraw_name(first.id).unwrap();
    notebook.name_find(find, name("fairy-ring-champignon")).unwrap();
    notebook.add_meal(&Meal { finds: Some(vec![find]), ..Meal::default() }, &[]).unwrap();
    notebook.delete_find(find).unwrap();
    let sheet = notebook.doctors_sheet(Pack::britain().unwrap(), Help::shipped().unwrap(), None).unwrap();
    let part = sheet.meals.first().and_then(|meal| meal.parts.first()).unwrap();
    assert_eq!(part.kinds.len(), 2);
    let dangers: Vec<&str> =
        part.kinds.iter().flat_map(|kind| &kind.dangers).map(|danger| danger.taxon.as_str()).collect();
    assert!(dangers.contains(&"funeral-bell") && dangers.contains(&"fools-funnel"), "{dangers:?}");
}

#[test]
fn undo_walks_back_to_nothing_and_a_meal_never_grows_too_old() {
    let desk = Desk::new();
    let notebook = desk.open();
    let old = notebook.add_meal(&soup(), &[NewEater::named("Ada")]).unwrap();
    notebook.amend_meal(old.id, &Meal { others: Some(2), ..Meal::default() }, &[], &[]).unwrap();
    desk.set("2046-10-18T12:00:00Z");
    assert_eq!(notebook.meals().unwrap().len(), 1, "twenty years on");
    let sheet = notebook.doctors_sheet(Pack::britain().unwrap(), Help::shipped().unwrap(), None).unwrap();
    assert_eq!(sheet.meals.len(), 1);
    assert_eq!(notebook.undo_meal(old.id).unwrap().meal.value.others, None);
    assert!(notebook.undo_meal(old.id).unwrap().meal.deleted);
    assert_eq!(notebook.undo_meal(old.id).unwrap_err().code(), "nothing-to-undo");
    assert!(notebook.meals().unwrap().is_empty());
    assert!(notebook.check(&Unwatched).unwrap().ok);
}

#[test]
fn a_meal_without_a_time_stands_before_all_others() {
    let desk = Desk::new();
    let notebook = desk.open();
    let eaten = |at: &str| Meal { at: at.parse().ok(), ..soup() };
    let unknown = notebook.add_meal(&soup(), &[]).unwrap().id;
    let early = notebook.add_meal(&eaten("2026-10-01T19:00:00+01:00"), &[]).unwrap().id;
    let late = notebook.add_meal(&eaten("2026-10-17T19:00:00+01:00"), &[]).unwrap().id;
    let order: Vec<_> = notebook.meals().unwrap().iter().map(|meal| meal.id).collect();
    assert_eq!(order, [unknown, late, early]);
    let pack = Pack::britain().unwrap();
    let one = notebook.doctors_sheet(pack, Help::shipped().unwrap(), Some(early)).unwrap();
    assert_eq!(one.meals.len(), 1);
    let none = notebook.doctors_sheet(pack, Help::shipped().unwrap(), Some(crate::id::MealId::new()));
    assert_eq!(none.unwrap_err().code(), "not-found");
}

/// Two phones at one table, apart when each of them noted more.
#[test]
fn what_two_devices_noted_apart_is_all_on_the_sheet() {
    let (a, b) = (Desk::new(), Desk::new());
    let (one, other) = (a.open(), b.open());
    one.pair(&other.own_key().unwrap(), "the other").unwrap();
    other.pair(&one.own_key().unwrap(), "the other").unwrap();
    let pass = |from: &Notebook, to: &Notebook| {
        let file = a.dir.path().join("bundle.zip");
        from.write_bundle(Pack::britain().unwrap(), &Sending::ForMe, None, &file, true, &Unwatched).unwrap();
        to.read_bundle(&file, None, true, &Unwatched).unwrap();
    };
    let meal = one.add_meal(&soup(), &[NewEater::named("Ada")]).unwrap().id;
    pass(&one, &other);
    let noted = |amount: &str, taken_for: &str| Meal {
        amount: Some(amount.into()),
        taken_for: Some(vec![taken_for.into()]),
        ..Meal::default()
    };
    let ill = NewEater { feels: Feels::Ill, ..NewEater::named("Ada") };
    one.amend_meal(meal, &noted("a bowl", "velvet-shank"), &[ill], &[]).unwrap();
    let well = NewEater { feels: Feels::Well, ..NewEater::named("Ada") };
    other.amend_meal(meal, &noted("a spoon", "chanterelle"), &[well, NewEater::named("R.")], &[]).unwrap();
    pass(&one, &other);
    pass(&other, &one);
    let sheet = |of: &Notebook| {
        of.doctors_sheet(Pack::britain().unwrap(), Help::shipped().unwrap(), None).unwrap().meals.remove(0)
    };
    let told = sheet(&one);
    assert_eq!(told, sheet(&other));
    assert_eq!(told.people.iter().map(|one| one.feels).collect::<Vec<_>>(), [Feels::Ill, Feels::Unknown]);
    let kinds: Vec<&str> =
        told.parts.iter().flat_map(|part| &part.kinds).map(|kind| kind.name.as_str()).collect();
    assert!(
        kinds.len() == 2 && kinds.contains(&"Velvet shank") && kinds.contains(&"Chanterelle"),
        "{kinds:?}"
    );
    let amounts = [told.amount.as_deref(), told.also.first().and_then(|also| also.value.as_str())];
    assert!(amounts.contains(&Some("a bowl")) && amounts.contains(&Some("a spoon")), "{amounts:?}");
}

/// Nobody else's meals come into what a doctor is told, and ours go to nobody.
#[test]
fn meals_pass_between_the_owners_devices_alone() {
    let (a, b) = (Desk::new(), Desk::new());
    let (ours, stranger) = (a.open(), b.open());
    let find = ours.add_find(seen(3)).unwrap().id;
    let dinner = Meal { what: Some("bracken broth".into()), finds: Some(vec![find]), ..Meal::default() };
    ours.add_meal(&dinner, &[NewEater::named("Marigold")]).unwrap();
    let pack = Pack::britain().unwrap();
    let write = |sending: &Sending| {
        let file = a.dir.path().join("bundle.zip");
        let sent = ours.write_bundle(pack, sending, None, &file, true, &Unwatched).unwrap();
        let mut zip = zip::ZipArchive::new(std::fs::File::open(&file).unwrap()).unwrap();
        let mut text = String::new();
        for at in 0..zip.len() {
            zip.by_index(at).unwrap().read_to_string(&mut text).unwrap();
        }
        (sent, file, text)
    };
    let (_, file, whole) = write(&Sending::ForMe);
    assert!(whole.contains("broth") && whole.contains("Marigold"), "the test can fail");
    let merged = stranger.read_bundle(&file, None, true, &Unwatched).unwrap();
    assert!(stranger.meals().unwrap().is_empty() && stranger.people().unwrap().is_empty(), "{merged:?}");
    let copies = Sending::ForSomeone {
        finds: None,
        terms: crate::export::Terms::default(),
        recipient: None,
        photos: true,
    };
    let (sent, _, text) = write(&copies);
    assert_eq!(sent.copies.len(), 1);
    for word in ["broth", "Marigold", "meal"] {
        assert!(!text.contains(word), "{word} leaves");
    }
}
