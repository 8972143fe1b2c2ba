//! Sharing a whole out in steps, such as those of a scale.

/// Shares in whole steps of a scale that sum exactly to `steps`, by the largest remainder: each is its
/// exact share rounded down, and those that lost most get a step more (of equals, the earlier). Shares
/// are in any unit and not negative.
pub(crate) fn apportion(shares: &[f64], steps: u64) -> Vec<u64> {
    let total: f64 = shares.iter().sum();
    if total <= 0.0 || !total.is_finite() {
        return vec![0; shares.len()];
    }
    let exact: Vec<f64> = shares.iter().map(|share| share / total * steps as f64).collect();
    let mut weighed: Vec<u64> = exact.iter().map(|steps| (steps + ROUNDING).floor() as u64).collect();
    let left = |at: usize| exact[at] - weighed[at] as f64;
    let mut order: Vec<usize> = (0..shares.len()).filter(|at| shares[*at] > 0.0).collect();
    order.sort_by(|a, b| left(*b).total_cmp(&left(*a)));
    let given: u64 = weighed.iter().sum();
    let missing = steps.saturating_sub(given) as usize;
    for at in order.iter().cycle().take(if order.is_empty() { 0 } else { missing }) {
        weighed[*at] += 1;
    }
    weighed
}

/// A share this close below a whole number of steps is that number: 30 % of 500 g is
/// 150 g whatever the last bit says.
const ROUNDING: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_exact() {
        let shares = [33.3, 33.3, 33.4, 0.0, 12.7, 1e-6];
        for steps in [0, 1, 7, 100, 5_000, 12_345, 1_000_003] {
            assert_eq!(apportion(&shares, steps).iter().sum::<u64>(), steps);
        }
    }

    #[test]
    fn nobody_is_off_by_a_step_and_nothing_comes_from_nothing() {
        let shares = [60.0, 15.5, 0.0, 24.5];
        let weighed = apportion(&shares, 333);
        for (share, steps) in shares.iter().zip(&weighed) {
            assert!((share / 100.0 * 333.0 - *steps as f64).abs() < 1.0);
        }
        assert_eq!(weighed[2], 0);
    }

    #[test]
    fn whole_shares_stay_whole() {
        assert_eq!(apportion(&[30.0, 70.0], 5000), vec![1500, 3500]);
        assert_eq!(apportion(&[0.1, 0.2, 99.7], 1000), vec![1, 2, 997]);
        assert_eq!(apportion(&[1.0, 1.0, 1.0], 10), vec![4, 3, 3]);
        assert_eq!(apportion(&[0.0, 0.0], 10), vec![0, 0]);
        assert_eq!(apportion(&[], 10), Vec::<u64>::new());
    }
}
