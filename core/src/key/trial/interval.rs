//! Exact binomial intervals.

use statrs::distribution::{Beta, ContinuousCDF};

/// The exact 95 % interval of a proportion, of which `hits` of `trials` were seen.
///
/// # References
/// Clopper and Pearson, 1934, Biometrika 26:404–413.
#[must_use]
pub fn clopper_pearson(hits: u64, trials: u64) -> (f64, f64) {
    const TAIL: f64 = 0.025;
    if trials == 0 {
        return (0.0, 1.0);
    }
    #[allow(clippy::cast_precision_loss)] // counts far below 2^52
    let (hit, missed) = (hits as f64, trials.saturating_sub(hits) as f64);
    let quantile = |a: f64, b: f64, at: f64| Beta::new(a, b).map(|beta| beta.inverse_cdf(at));
    let low = if hits == 0 { Ok(0.0) } else { quantile(hit, missed + 1.0, TAIL) };
    let high = if hits >= trials { Ok(1.0) } else { quantile(hit + 1.0, missed, 1.0 - TAIL) };
    (low.unwrap_or(0.0), high.unwrap_or(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where one side is empty the interval has a closed form: 1 − 0.025^(1/n). The others solve the two defining tail
    /// sums, which are added up here term by term.
    #[test]
    fn intervals_are_exact() {
        for trials in [1_u64, 10, 100, 100_000] {
            #[allow(clippy::cast_precision_loss)]
            let closed = 1.0 - 0.025_f64.powf(1.0 / trials as f64);
            let (low, high) = clopper_pearson(0, trials);
            assert!(
                low.abs() < 1e-15 && (high - closed).abs() < 1e-9 * closed.max(1e-3),
                "{trials}: {high} {closed}"
            );
            let (low, high) = clopper_pearson(trials, trials);
            assert!((low - (1.0 - closed)).abs() < 1e-9 && (high - 1.0).abs() < 1e-15);
        }
        for (hits, trials) in [(1_i32, 10_i32), (2, 20), (7, 40), (19, 20)] {
            let (low, high) = clopper_pearson(hits.unsigned_abs().into(), trials.unsigned_abs().into());
            let tail = |from: i32, to: i32, chance: f64| -> f64 {
                (from..=to)
                    .map(|k| {
                        let choose: f64 = (0..k).map(|i| f64::from(trials - i) / f64::from(i + 1)).product();
                        choose * chance.powi(k) * (1.0 - chance).powi(trials - k)
                    })
                    .sum()
            };
            assert!((tail(hits, trials, low) - 0.025).abs() < 1e-9, "{hits} of {trials}");
            assert!((tail(0, hits, high) - 0.025).abs() < 1e-9, "{hits} of {trials}");
        }
        assert_eq!(clopper_pearson(0, 0), (0.0, 1.0));
    }
}
