//! Percentages in proportion to amounts.

use crate::apportion::apportion;

/// Percentages in proportion to `amounts`, each a multiple of `step`, summing to exactly 100 where the step
/// divides it: every one is rounded down, and the steps left over go to the largest remainders, the earlier
/// line first. A step that does not divide 100 gives its odd rest to the largest line. All zero for amounts
/// that are not positive.
pub fn shares(amounts: &[f64], step: f64) -> Vec<f64> {
    let amounts: Vec<f64> =
        amounts.iter().map(|amount| if amount.is_finite() { amount.max(0.0) } else { 0.0 }).collect();
    let steps = if step.is_finite() && step > 0.0 { (100.0 / step).floor() } else { 0.0 };
    let sum: f64 = amounts.iter().sum();
    if sum <= 0.0 || !sum.is_finite() || !(1.0..=1e7).contains(&steps) {
        return vec![0.0; amounts.len()];
    }
    let mut percents: Vec<f64> =
        apportion(&amounts, steps as u64).iter().map(|whole| tidy(*whole as f64 * step)).collect();
    let rest = 100.0 - percents.iter().sum::<f64>();
    if rest.abs() > 1e-9
        && let Some(largest) = (0..percents.len()).max_by(|a, b| percents[*a].total_cmp(&percents[*b]))
    {
        percents[largest] = tidy(percents[largest] + rest);
    }
    percents
}

/// Takes off what binary fractions add beyond 0.000001.
fn tidy(percent: f64) -> f64 {
    (percent * 1e6).round() / 1e6
}
