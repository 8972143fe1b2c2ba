//! Sharing a whole out in steps.

/// Percentages in proportion to `amounts`, each a multiple of `step`, summing to exactly 100 where the step divides it:
/// every one is rounded down, and the steps left over go to the largest remainders, the earlier line first. A step
/// that does not divide 100 gives its odd rest to the largest line. All zero for amounts that are not positive.
pub fn shares(amounts: &[f64], step: f64) -> Vec<f64> {
    let amounts: Vec<f64> =
        amounts.iter().map(|amount| if amount.is_finite() { amount.max(0.0) } else { 0.0 }).collect();
    let sum: f64 = amounts.iter().sum();
    let steps = if step.is_finite() && step > 0.0 { (100.0 / step).floor() } else { 0.0 };
    if sum <= 0.0 || !sum.is_finite() || !(1.0..=1e7).contains(&steps) {
        return vec![0.0; amounts.len()];
    }
    // A hair is added so that an exact share is not lost to rounding in the last bit.
    let exact: Vec<f64> = amounts.iter().map(|amount| amount / sum * steps).collect();
    let mut whole: Vec<f64> = exact.iter().map(|share| (share + 1e-9).floor()).collect();
    let mut left = steps - whole.iter().sum::<f64>();
    // A recipe is short: looking for the largest remainder again and again is as fast as sorting, and smaller.
    let mut given = vec![false; amounts.len()];
    while left >= 1.0 {
        let remainder = |at: &usize| exact[*at] - whole[*at];
        let open = (0..amounts.len()).filter(|at| !given[*at] && amounts[*at] > 0.0);
        // Of equal remainders the earlier line's: `max_by` keeps the last of equals, so it goes backwards.
        let Some(next) = open.rev().max_by(|a, b| remainder(a).total_cmp(&remainder(b))) else { break };
        whole[next] += 1.0;
        given[next] = true;
        left -= 1.0;
    }
    let mut percents: Vec<f64> = whole.iter().map(|share| tidy(share * step)).collect();
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
