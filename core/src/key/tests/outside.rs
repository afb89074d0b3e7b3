//! The key against data sets from outside, which `tests/outside` fetches. A maths test only, and no evidence of safety.

use std::collections::{BTreeMap, BTreeSet};

use super::*;
use crate::key::pools::{Pool, Pools};
use crate::key::table::entropy;

/// The header and the rows of a data set; `None`, and a word about it, if it has not been fetched.
///
/// # Panics
/// If it has not been fetched and `TRUG_TOOLS` is `required`.
fn rows(name: &str) -> Option<(Vec<String>, Vec<Vec<String>>)> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/outside").join(name);
    let Ok(text) = std::fs::read_to_string(&path) else {
        assert!(
            std::env::var("TRUG_TOOLS").as_deref() != Ok("required"),
            "target/outside/{name} is missing: run tests/outside"
        );
        eprintln!("SKIPPED: target/outside/{name} is missing; tests/outside fetches it");
        return None;
    };
    let mut lines = text.lines().map(|line| line.split(',').map(ToOwned::to_owned).collect::<Vec<_>>());
    Some((lines.next().unwrap(), lines.collect()))
}

/// The position of each value among all values of its column.
fn coded(rows: &[Vec<String>]) -> (Vec<Vec<usize>>, Vec<usize>) {
    let columns = rows[0].len();
    let values: Vec<Vec<&String>> = (0..columns)
        .map(|at| rows.iter().map(|row| &row[at]).collect::<BTreeSet<_>>().into_iter().collect())
        .collect();
    let code = |row: &Vec<String>| {
        row.iter().zip(&values).map(|(value, all)| all.binary_search(&value).unwrap()).collect()
    };
    (rows.iter().map(code).collect(), values.iter().map(Vec::len).collect())
}

/// Zoo (Forsyth 1990): 101 animals, 59 distinct descriptions in 16 characters. The exact optimum is 4.814 questions in the
/// mean, one-step greedy 4.881 (computed independently).
#[test]
fn zoo_is_told_apart_in_nearly_the_fewest_questions() {
    let Some((_, animals)) = rows("zoo.csv") else { return };
    let described: Vec<Vec<String>> =
        animals.iter().map(|row| row[..16].to_vec()).collect::<BTreeSet<_>>().into_iter().collect();
    assert_eq!((animals.len(), described.len()), (101, 59));
    let (codes, states) = coded(&described);
    let shown: Vec<Vec<Vec<f32>>> = (0..16)
        .map(|character| codes.iter().map(|row| certain(row[character], states[character])).collect())
        .collect();
    let table = exact(&[1.0; 59], &shown);
    let total: usize = (0..59).map(|taxon| questions(&table, taxon)).sum();
    #[allow(clippy::cast_precision_loss)]
    let mean = total as f64 / 59.0;
    assert!((4.814..=4.90).contains(&mean), "{mean}");
}

/// The two classes' readings of a character, pooled as the key pools taxa: its information about the class.
fn gain_about_class(classes: &[Vec<&Vec<usize>>; 2], at: usize, states: usize) -> f32 {
    let total: usize = classes.iter().map(Vec::len).sum();
    let mut pools = Pools::default();
    pools.reset(states);
    for (class, pool) in classes.iter().zip([Pool::Own, Pool::Danger]) {
        let mut counts = vec![0.0_f32; states];
        for row in class {
            counts[row[at]] += 1.0;
        }
        #[allow(clippy::cast_precision_loss)]
        let (own, all) = (class.len() as f32, total as f32);
        let report: Vec<f32> = counts.iter().map(|count| count / own.max(1.0)).collect();
        pools.add(pool, &report, entropy(&report), own / all);
    }
    pools.whole(&vec![1.0; states]).unwrap().gain()
}

/// Information about the class of UCI Mushroom (Schlimmer 1987), computed independently, to four decimals.
#[allow(clippy::approx_constant)] // 0.3180 is no part of a circle
const GAINS: [(&str, f32); 22] = [
    ("odor", 0.9061),
    ("spore-print-color", 0.4807),
    ("gill-color", 0.4170),
    ("ring-type", 0.3180),
    ("stalk-surface-above-ring", 0.2847),
    ("stalk-surface-below-ring", 0.2719),
    ("stalk-color-above-ring", 0.2538),
    ("stalk-color-below-ring", 0.2414),
    ("gill-size", 0.2302),
    ("population", 0.2020),
    ("bruises?", 0.1924),
    ("habitat", 0.1568),
    ("stalk-root", 0.1348),
    ("gill-spacing", 0.1009),
    ("cap-shape", 0.0488),
    ("ring-number", 0.0385),
    ("cap-color", 0.0360),
    ("cap-surface", 0.0286),
    ("veil-color", 0.0238),
    ("gill-attachment", 0.0142),
    ("stalk-shape", 0.0075),
    ("veil-type", 0.0),
];

#[test]
fn information_about_the_class_of_mushrooms_is_as_computed_elsewhere() {
    let Some((header, mushrooms)) = rows("mushroom.csv") else { return };
    let (codes, states) = coded(&mushrooms);
    let classes = by_class(&codes.iter().collect::<Vec<_>>());
    assert_eq!(classes.each_ref().map(Vec::len), [4208, 3916]);
    for (name, expected) in GAINS {
        let at = header.iter().position(|column| column == name).unwrap();
        let gain = gain_about_class(&classes, at, states[at]);
        assert!((gain - expected).abs() < 6e-5, "{name}: {gain}");
    }
}

fn by_class<'r>(rows: &[&'r Vec<usize>]) -> [Vec<&'r Vec<usize>>; 2] {
    [0, 1].map(|class| rows.iter().copied().filter(|row| row[0] == class).collect())
}

/// Questions asked in all until every row's class is known, the most informative question first.
fn questions_to_class(rows: &[&Vec<usize>], states: &[usize]) -> usize {
    let classes = by_class(rows);
    if classes.iter().any(Vec::is_empty) {
        return 0;
    }
    let best = (1..states.len())
        .map(|at| (gain_about_class(&classes, at, states[at]), at))
        .max_by(|(one, first), (other, second)| one.total_cmp(other).then(second.cmp(first)));
    let (_, at) = best.unwrap();
    let mut parts: BTreeMap<usize, Vec<&Vec<usize>>> = BTreeMap::new();
    for row in rows {
        parts.entry(row[at]).or_default().push(row);
    }
    rows.len() + parts.values().map(|part| questions_to_class(part, states)).sum::<usize>()
}

#[test]
fn the_class_of_a_mushroom_takes_a_question_and_a_half() {
    let Some((_, mushrooms)) = rows("mushroom.csv") else { return };
    let (codes, states) = coded(&mushrooms);
    let total = questions_to_class(&codes.iter().collect::<Vec<_>>(), &states);
    #[allow(clippy::cast_precision_loss)]
    let mean = total as f64 / codes.len() as f64;
    assert!(mean <= 1.53, "{mean}");
}
