//! The arithmetic of the key against published formulas and worked figures.

use super::*;
use crate::key::pools::{Pool, Pools};
use crate::key::table::entropy;

/// Three tests, three taxa, results + + −: likelihoods 0.99·0.99·0.90, 0.95·0.50·0.95 and so on, worked by hand.
///
/// The method: Lapage, Bascomb, Willcox and Curtis, 1973, Journal of General Microbiology 77:273–290. The fixture:
/// P(A) = .99 .95 .05 .01, P(B) = .99 .50 .90 .05, P(C) = .10 .05 .95 .99, results + + − −; L = 0.88454025, 0.047025, 2.5e-6;
/// scores 0.94951790, 0.05047942, 0.00000268: accepted neither at 0.999 nor at 0.95.
#[test]
fn bayes_over_a_matrix_gives_the_scores_worked_by_hand() {
    let matrix = [[0.99, 0.95, 0.05, 0.01], [0.99, 0.50, 0.90, 0.05], [0.10, 0.05, 0.95, 0.99]];
    let shown: Vec<Vec<Vec<f32>>> = (0..4)
        .map(|test| matrix.iter().map(|taxon| vec![taxon[test], 1.0 - taxon[test]]).collect())
        .collect();
    let table = exact(&[1.0; 3], &shown);
    let mut evidence = Evidence::new();
    for (test, result) in (0_u16..).zip([0, 0, 1, 1]) {
        see(&mut evidence, CharacterIndex(test), result);
    }
    let scores = chances(&table, &evidence);
    for (score, by_hand) in scores.iter().zip([0.949_517_9, 0.050_479_42, 0.000_002_68]) {
        assert!((score - by_hand).abs() < 2e-7, "{scores:?}");
    }
    assert!(scores[0] < NAMED_FROM);
}

/// The best possible mean number of yes-or-no questions for so many taxa, all alike likely (computed from the depths of
/// a complete binary tree). Where any cut of a row of taxa can be asked for, the key asks no more.
#[test]
fn yes_or_no_questions_reach_the_best_possible_mean() {
    for (taxa, best) in [(3, 1.666_667), (5, 2.4), (8, 3.0), (23, 4.608_696), (59, 5.915_254)] {
        let cut = |at: usize| (0..taxa).map(|taxon| certain(usize::from(taxon < at), 2)).collect();
        let table = exact(&vec![1.0; taxa], &(1..taxa).map(cut).collect::<Vec<_>>());
        let total: usize = (0..taxa).map(|taxon| questions(&table, taxon)).sum();
        #[allow(clippy::cast_precision_loss)]
        let mean = total as f64 / taxa as f64;
        assert!((mean - best).abs() < 1e-6, "{taxa}: {mean}");
    }
}

/// Weights 45 13 12 16 9 5 (a textbook's example, from memory): Huffman's code has 224 in all, 2.24 in the mean; their
/// entropy is 2.219880 bits.
#[test]
fn questions_follow_huffman_where_his_cuts_can_be_asked_for() {
    // In the order of his tree's leaves, so that each of its cuts is a cut of the row.
    let weights = [45.0, 12.0, 13.0, 5.0, 9.0, 16.0];
    let shares: Vec<f32> = weights.iter().map(|weight| weight / 100.0).collect();
    assert!((entropy(&shares) - 2.219_88).abs() < 1e-6);
    let cut = |at: usize| (0..6).map(|taxon| certain(usize::from(taxon < at), 2)).collect();
    let table = exact(&weights, &(1..6).map(cut).collect::<Vec<_>>());
    let total: f32 = (0..6_u8)
        .zip(weights)
        .map(|(taxon, weight)| f32::from(u8::try_from(questions(&table, taxon.into())).unwrap()) * weight)
        .sum();
    assert!((total - 224.0).abs() < 1e-3, "{total}");
}

/// Ten characters of two states that part all they can: after j answers the share of pairs told apart is
/// (1 − 2^−j) / (1 − 2^−10).
///
/// # References
/// Rypka, Clapper, Bowen and Babb, 1967, Journal of General Microbiology 46:407.
#[test]
fn separation_follows_the_theoretical_curve() {
    const CURVE: [f64; 10] = [
        0.500_489, 0.750_733, 0.875_855, 0.938_416, 0.969_697, 0.985_337, 0.993_157, 0.997_067, 0.999_022,
        1.0,
    ];
    let taxa = 1_usize << 10;
    let bit = |at: usize| (0..taxa).map(|taxon| certain(taxon >> at & 1, 2)).collect();
    let table = exact(&vec![1.0; taxa], &(0..10).map(bit).collect::<Vec<_>>());
    let mut evidence = Evidence::new();
    for (at, expected) in (0_u16..).zip(CURVE) {
        see(&mut evidence, CharacterIndex(at), usize::from(at % 3 == 0));
        let standing = chances(&table, &evidence).iter().filter(|chance| **chance > 1e-5).count();
        #[allow(clippy::cast_precision_loss)]
        let told_apart = 1.0 - (standing as f64 - 1.0) / (taxa as f64 - 1.0);
        assert!((told_apart - expected).abs() < 1e-6, "{at}: {told_apart}");
    }
}

/// Sixty taxa, twenty in each of three states: log₂ 3 bits.
#[test]
fn a_character_that_parts_in_three_gives_the_logarithm_of_three() {
    let mut pools = Pools::default();
    pools.reset(3);
    for taxon in 0..60_usize {
        pools.add(Pool::Others, &certain(taxon % 3, 3), 0.0, 1.0 / 60.0);
    }
    let gain = pools.whole(&[1.0 / 3.0; 3]).unwrap().gain();
    assert!((gain - 3.0_f32.log2()).abs() < 1e-5, "{gain}");
}
