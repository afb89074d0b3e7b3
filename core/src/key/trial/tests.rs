//! The trial itself: the same whatever the machine, honest about errors, and small runs held to the measured figures.

use super::*;
use crate::pack::Pack;

fn trial(settings: &Settings) -> Report {
    run(Pack::britain().unwrap(), settings, &|_| ())
}

fn small() -> Settings {
    // Twice round the taxa.
    Settings { specimens: 2 * Pack::britain().unwrap().taxa().len() as u64, ..Settings::default() }
}

#[test]
fn the_report_depends_on_the_seed_and_not_on_the_threads() {
    let settings = Settings { unseen: 0.2, wrong_cells: 0.05, ..small() };
    let one = trial(&Settings { threads: 1, ..settings.clone() });
    assert_eq!(one, trial(&Settings { threads: 3, ..settings.clone() }));
    assert_ne!(one, trial(&Settings { seed: 2, ..settings }));
}

#[test]
fn every_specimen_is_counted_once() {
    for observer in [Observer::Uniform, Observer::Uneven, Observer::Wishful] {
        let report = trial(&Settings { observer, ..small() });
        assert_eq!(report.specimens, small().specimens);
        assert_eq!(report.right + report.wrong + report.unsettled, report.specimens);
        assert!(report.foods >= 30, "{}", report.foods);
        assert!(report.questions_mean <= 12.0 && report.unknown <= report.unsettled);
    }
}

#[test]
fn errors_cost_names() {
    let clear = trial(&Settings { error: 0.0, ..small() });
    let blind = trial(&Settings { error: 0.9, ..small() });
    assert!(
        clear.food_settled > 0.4 && blind.food_settled < 0.05,
        "{} {}",
        clear.food_settled,
        blind.food_settled
    );
    assert_eq!((clear.wrong, clear.danger_as_food), (0, 0));
}

#[test]
fn the_deadly_are_drawn_alone() {
    let pack = Pack::britain().unwrap();
    let deadly = pack.taxa().iter().filter(|taxon| taxon.standing == crate::pack::Standing::Deadly).count();
    let report = trial(&Settings { only_deadly: true, ..small() });
    assert_eq!((report.by_deadly.len(), report.dangerous), (deadly, report.specimens));
    assert_eq!(report.foods, 0);
}

/// Asking in the key's order tells a find in at most half as many questions as asking in any order.
#[test]
fn the_order_of_questions_halves_them() {
    let told = |order| {
        let report = trial(&Settings { order, error: 0.0, questions: 60, ..small() });
        assert!(report.told * 10 >= report.specimens * 8, "{} of {}", report.told, report.specimens);
        report.questions_mean_told
    };
    let (best, random) = (told(Order::Best), told(Order::Random));
    assert!(best * 2.0 <= random, "{best} {random}");
}

#[test]
fn a_trial_tells_how_far_it_is() {
    let told = std::sync::Mutex::new(Vec::new());
    let settings = small();
    let report = run(Pack::britain().unwrap(), &settings, &|done| told.lock().unwrap().push(done));
    assert_eq!(report.specimens, settings.specimens);
    assert_eq!(told.into_inner().unwrap().last(), Some(&settings.specimens));
}
