//! What people do to notebooks, as tests draw it by lot.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use proptest::prelude::*;
use proptest::sample::Index;
use trug::change::Change;
use trug::error::Error;
use trug::find::{Count, Find, Ground};
use trug::id::{FindId, MealId, PatchId, RecordId};
use trug::meal::{Alcohol, Meal};
use trug::notebook::{NewEater, NewFind, NewName, Notebook};
use trug::pack::Pack;
use trug::patch::{Outcome, Patch, Visit};
use trug::store::{Criteria, View};

/// What someone does on one of the devices.
#[derive(Debug, Clone)]
pub enum Step {
    /// A find with so many seen.
    Add(u32),
    /// One of the finds is amended.
    Amend(Index, u32),
    /// A field of it is emptied.
    Empty(Index),
    /// It is named.
    Name(Index),
    /// It is deleted.
    Delete(Index),
    /// Something about it is taken back.
    Undo(Index),
    /// A patch is founded on a find.
    Found(Index),
    /// A find goes to a patch.
    Join(Index, Index),
    /// Two patches become one.
    Merge(Index, Index),
    /// A look at a patch.
    Look(Index),
    /// Something about a patch is taken back.
    UndoPatch(Index),
    /// A find is eaten, by so many besides.
    Eat(Index, u32),
    /// Something more of a meal is noted, and who ate it.
    AmendMeal(Index, u32),
    /// Something about a meal is taken back.
    UndoMeal(Index),
    /// Something passes between devices: which, is for the test to say.
    Pass(usize),
}

/// Steps of several devices.
pub fn steps(devices: usize) -> impl Strategy<Value = Vec<(usize, Step)>> {
    let step = prop_oneof![
        3 => (0..40u32).prop_map(Step::Add),
        4 => (any::<Index>(), 0..40u32).prop_map(|(at, n)| Step::Amend(at, n)),
        1 => any::<Index>().prop_map(Step::Empty),
        2 => any::<Index>().prop_map(Step::Name),
        1 => any::<Index>().prop_map(Step::Delete),
        2 => any::<Index>().prop_map(Step::Undo),
        2 => any::<Index>().prop_map(Step::Found),
        2 => (any::<Index>(), any::<Index>()).prop_map(|(find, patch)| Step::Join(find, patch)),
        2 => (any::<Index>(), any::<Index>()).prop_map(|(one, other)| Step::Merge(one, other)),
        1 => any::<Index>().prop_map(Step::Look),
        2 => any::<Index>().prop_map(Step::UndoPatch),
        2 => (any::<Index>(), 0..4u32).prop_map(|(find, others)| Step::Eat(find, others)),
        2 => (any::<Index>(), 0..4u32).prop_map(|(meal, others)| Step::AmendMeal(meal, others)),
        1 => any::<Index>().prop_map(Step::UndoMeal),
        3 => (0..97usize).prop_map(Step::Pass),
    ];
    prop::collection::vec((0..devices, step), 4..32)
}

/// Does it, where there is something to do it to.
pub fn take(notebook: &Notebook, step: &Step) {
    let finds: Vec<FindId> =
        notebook.finds(&Criteria::default()).unwrap().iter().map(|find| find.id).collect();
    let pick = |at: &Index| (!finds.is_empty()).then(|| *at.get(&finds));
    let patches: Vec<PatchId> =
        notebook.patches(&Criteria::default()).unwrap().iter().map(|patch| patch.id).collect();
    let patch = |at: &Index| (!patches.is_empty()).then(|| *at.get(&patches));
    let meals: Vec<MealId> = notebook.meals().unwrap().iter().map(|meal| meal.id).collect();
    let meal = |at: &Index| (!meals.is_empty()).then(|| *at.get(&meals));
    let seen = |n: u32| Find {
        seen: Count::exactly(n).ok(),
        ground: Some(Ground::Chalk),
        note: Some(format!("under the {}", if n.is_multiple_of(2) { "hazel" } else { "second elder" })),
        ..Find::default()
    };
    let name = |at: &Index| NewName {
        taxon: Some(["velvet-shank", "Something brown"][at.index(2)].into()),
        ..NewName::default()
    };
    match step {
        Step::Add(n) => drop(notebook.add_find(NewFind { find: seen(*n), photos: Vec::new() }).unwrap()),
        Step::Amend(at, n) => drop(pick(at).map(|id| match notebook.amend_find(id, &seen(*n), &[]) {
            // One was taken of it before: none can have been seen.
            Err(Error::Field(error)) if error.field == "taken" && *n == 0 => {}
            other => drop(other.unwrap()),
        })),
        Step::Empty(at) => {
            drop(pick(at).map(|id| notebook.amend_find(id, &Find::default(), &["seen".into()]).unwrap()));
        }
        Step::Name(at) => drop(pick(at).map(|id| notebook.name_find(id, name(at)).unwrap())),
        Step::Delete(at) => drop(pick(at).map(|id| notebook.delete_find(id).unwrap())),
        Step::Undo(at) => drop(pick(at).map(|id| undo(notebook, id))),
        Step::Found(at) => drop(
            pick(at).map(|id| notebook.found_patch(Pack::britain().unwrap(), id, &Patch::default()).unwrap()),
        ),
        Step::Join(find, to) => {
            let join = |(id, patch)| {
                let find = Find { patch: Some(patch), taken: Some(1), ..Find::default() };
                notebook.amend_find(id, &find, &["seen".into()]).unwrap()
            };
            drop(pick(find).zip(patch(to)).map(join));
        }
        // A patch is not merged into itself.
        Step::Merge(one, other) => {
            drop(patch(one).zip(patch(other)).map(|(a, b)| notebook.merge_patches(a, b)));
        }
        Step::Look(at) => drop(patch(at).map(|id| {
            let visit = Visit { patch: Some(id), outcome: Some(Outcome::Nothing), ..Visit::default() };
            notebook.add_visit(visit).unwrap()
        })),
        Step::UndoPatch(at) => drop(patch(at).map(|id| notebook.undo_patch(id))),
        Step::Eat(find, others) => drop(pick(find).map(|id| {
            let meal = Meal { finds: Some(vec![id]), others: Some(*others), ..Meal::default() };
            notebook.add_meal(&meal, &[NewEater::named("Ada")]).unwrap()
        })),
        Step::AmendMeal(at, others) => drop(meal(at).map(|id| {
            let meal = Meal { others: Some(*others), alcohol: Some(Alcohol::WithIt), ..Meal::default() };
            notebook.amend_meal(id, &meal, &[NewEater::named("R.")], &[]).unwrap()
        })),
        Step::UndoMeal(at) => drop(meal(at).map(|id| notebook.undo_meal(id))),
        Step::Pass(_) => {}
    }
}

/// How many changes of a find, and of what belongs to it, are neither an undo nor undone: read from the log's own text.
#[must_use]
pub fn standing(folder: &Path, id: FindId) -> usize {
    let mut changes: Vec<Change> = Vec::new();
    for device in fs::read_dir(folder.join("changes")).unwrap() {
        for segment in fs::read_dir(device.unwrap().path()).unwrap() {
            let text = fs::read_to_string(segment.unwrap().path()).unwrap();
            let lines = text.lines().filter(|line| line.starts_with('{'));
            changes.extend(lines.map(|line| serde_json::from_str::<Change>(line).unwrap()));
        }
    }
    let own = RecordId::from(id);
    let belongs = |change: &&Change| change.set.get("find") == Some(&id.to_string().into());
    let records: BTreeSet<RecordId> =
        changes.iter().filter(belongs).map(|change| change.record).chain([own]).collect();
    let undone: BTreeSet<_> = changes.iter().filter_map(|change| change.undoes).collect();
    let stands = |change: &&Change| {
        records.contains(&change.record) && change.undoes.is_none() && !undone.contains(&change.id())
    };
    changes.iter().filter(stands).count()
}

/// Undoing takes back something that stands; it is refused for want of that, and for nothing else.
fn undo(notebook: &Notebook, id: FindId) {
    let before = standing(notebook.root(), id);
    match notebook.undo_find(id) {
        Ok(_) => assert!(standing(notebook.root(), id) < before, "an undo takes something back"),
        Err(Error::NothingToUndo { .. }) => assert_eq!(before, 0, "there was something to undo"),
        Err(other) => panic!("{other}"),
    }
}

/// Every logical row of a notebook that nobody has open.
#[must_use]
pub fn rows(folder: &Path) -> Vec<String> {
    View::open(&folder.join("view.sqlite")).unwrap().logical_rows().unwrap()
}
