//! The normal distribution: how likely a figure lies below a limit, and where a given share lies below.

use std::{f64::consts::FRAC_1_SQRT_2, sync::LazyLock};

/// The share of a standard normal spread that lies below `x`.
pub(super) fn below(x: f64) -> f64 {
    0.5 * libm::erfc(-FRAC_1_SQRT_2 * x)
}

/// [`below`] in a table: odds ask for it tens of thousands of times, and a straight line between values a
/// hundredth apart is off by less than 4e-6.
pub(super) struct NormalTable(Vec<f64>);

/// Beyond this many standard deviations the table ends; what is left there is 1e-9.
const TABLE_END: f64 = 6.0;

impl NormalTable {
    /// The one table there is.
    pub(super) fn get() -> &'static NormalTable {
        static TABLE: LazyLock<NormalTable> = LazyLock::new(|| {
            NormalTable((0..=1201).map(|at| below(0.01 * f64::from(at) - TABLE_END)).collect())
        });
        &TABLE
    }

    /// The share that lies below `x`, which may be infinite.
    pub(super) fn at(&self, x: f64) -> f64 {
        if x <= -TABLE_END {
            return 0.0;
        }
        if x >= TABLE_END {
            return 1.0;
        }
        let place = 100.0 * (x + TABLE_END);
        let at = place as usize;
        self.0[at] + (place - at as f64) * (self.0[at + 1] - self.0[at])
    }
}

/// Where the share `p` (above 0, below 1) of a standard normal spread lies below: the rational approximation
/// of Acklam (2003, as widely reproduced; relative error 1.15e-9), by `libm` alone.
pub(super) fn quantile(p: f64) -> f64 {
    const TAIL: f64 = 0.024_25;
    if p < TAIL {
        return tail(p);
    }
    if p > 1.0 - TAIL {
        return -tail(1.0 - p);
    }
    let q = p - 0.5;
    let r = q * q;
    let above = horner(
        r,
        &[
            -3.969_683_028_665_376e1,
            2.209_460_984_245_205e2,
            -2.759_285_104_469_687e2,
            1.383_577_518_672_69e2,
            -3.066_479_806_614_716e1,
            2.506_628_277_459_239,
        ],
    );
    let below = horner(
        r,
        &[
            -5.447_609_879_822_406e1,
            1.615_858_368_580_409e2,
            -1.556_989_798_598_866e2,
            6.680_131_188_771_972e1,
            -1.328_068_155_288_572e1,
            1.0,
        ],
    );
    q * above / below
}

/// The same in the lower tail.
fn tail(p: f64) -> f64 {
    let q = (-2.0 * libm::log(p)).sqrt();
    let above = horner(
        q,
        &[
            -7.784_894_002_430_293e-3,
            -3.223_964_580_411_365e-1,
            -2.400_758_277_161_838,
            -2.549_732_539_343_734,
            4.374_664_141_464_968,
            2.938_163_982_698_783,
        ],
    );
    let below = horner(
        q,
        &[
            7.784_695_709_041_462e-3,
            3.224_671_290_700_398e-1,
            2.445_134_137_142_996,
            3.754_408_661_907_416,
            1.0,
        ],
    );
    above / below
}

/// The polynomial of these coefficients, the highest power first.
fn horner(x: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn the_two_undo_each_other() {
        for step in 1..1000 {
            let p = f64::from(step) / 1000.0;
            assert_abs_diff_eq!(below(quantile(p)), p, epsilon = 1e-9);
        }
        for p in [1e-7, 1e-4, 1.0 - 1e-4] {
            assert!((below(quantile(p)) - p).abs() < 2e-8 * p.min(1.0 - p) + 1e-12, "{p}");
        }
    }

    #[test]
    fn the_table_is_the_function() {
        for step in -700..=700 {
            let x = 0.01 * f64::from(step) + 0.003;
            assert_abs_diff_eq!(NormalTable::get().at(x), below(x), epsilon = 4e-6);
        }
        assert_eq!(
            (NormalTable::get().at(f64::NEG_INFINITY), NormalTable::get().at(f64::INFINITY)),
            (0.0, 1.0)
        );
    }

    #[test]
    fn known_values_are_met() {
        // Any table of the normal distribution.
        for (x, p) in [(0.0, 0.5), (1.0, 0.841_344_746), (1.644_853_627, 0.95), (-1.959_963_985, 0.025)] {
            assert_abs_diff_eq!(below(x), p, epsilon = 1e-9);
            assert_abs_diff_eq!(quantile(p), x, epsilon = 1e-7);
        }
    }
}
