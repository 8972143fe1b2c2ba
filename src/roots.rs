//! Roots of one figure: where a function of one variable passes a level inside a bracket.
//!
//! [`bisect`] needs only the side that a point lies on. [`falling`] uses the values too and takes about half
//! of the calls on a smooth curve, which matters where a call solves an equilibrium.

/// The point of an interval up to which `below` holds, to within `resolution`. It must hold towards `low` and
/// not towards `high`; the interval is halved until it is narrow enough.
pub(crate) fn bisect(
    (mut low, mut high): (f64, f64),
    resolution: f64,
    mut below: impl FnMut(f64) -> bool,
) -> f64 {
    while high - low > resolution {
        let midpoint = 0.5 * (low + high);
        if below(midpoint) { low = midpoint } else { high = midpoint }
    }
    0.5 * (low + high)
}

/// A bracket wider than this is halved: the functions of temperature that are looked into here are flat
/// enough for secants only over some kelvin.
const SECANT_BELOW: f64 = 10.0;

/// The root of a falling function between two ends, each given with the value there: positive at the low one,
/// not so at the high one.
///
/// The method is that of Illinois (regula falsi, in which the value at an end that stays counts half from its
/// second step on). Where three steps have not halved the bracket, the next one does, so that even a step is
/// found in some five times the calls of [`bisect`].
pub(crate) fn falling(
    mut low: (f64, f64),
    mut high: (f64, f64),
    resolution: f64,
    value: &mut dyn FnMut(f64) -> f64,
) -> f64 {
    let (mut steps_since, mut width_before, mut low_moved) = (0, high.0 - low.0, None);
    while high.0 - low.0 > resolution {
        let width = high.0 - low.0;
        steps_since += 1;
        let has_not_halved = steps_since > 2 && 2.0 * width > width_before;
        let next = if has_not_halved || width > SECANT_BELOW || high.1 >= 0.0 {
            0.5 * (low.0 + high.0)
        } else {
            // Not closer to an end than half the resolution, so that the bracket closes.
            let margin = 0.5 * resolution;
            (low.0 + width * low.1 / (low.1 - high.1)).clamp(low.0 + margin, high.0 - margin)
        };
        if steps_since > 2 {
            (steps_since, width_before) = (0, width);
        }
        let found = value(next);
        if found > 0.0 {
            low = (next, found);
            if low_moved == Some(true) {
                high.1 *= 0.5;
            }
        } else {
            high = (next, found);
            if low_moved == Some(false) {
                low.1 *= 0.5;
            }
        }
        low_moved = Some(found > 0.0);
    }
    0.5 * (low.0 + high.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Falling functions and their roots.
    type Functions = [(fn(f64) -> f64, f64); 3];

    const SMOOTH: Functions = [
        (|x| 8.0 - x * x * x, 2.0),
        (|x| libm::exp(-x) - libm::exp(-2.5), 2.5),
        // Solids as they melt about 4 °C.
        (|x| 30.0 / (1.0 + libm::exp(x - 4.0)) - 15.0, 4.0),
    ];

    /// Flat on one side of the root or on both.
    const AWKWARD: Functions = [
        (|x| libm::exp(-4.0 * x) - libm::exp(-20.0), 5.0),
        (|x| if x < 1.5 { 100.0 } else { -1e-9 }, 1.5),
        (|x| if x < 6.5 { 1e-9 } else { -100.0 }, 6.5),
    ];

    const RESOLUTION: f64 = 1e-7;

    /// The root by halving and by secants between 0 and 9, each with the calls that it took.
    fn both(function: fn(f64) -> f64) -> [(f64, u32); 2] {
        let mut calls = [0, 0];
        let halved = bisect((0.0, 9.0), RESOLUTION, |x| {
            calls[0] += 1;
            function(x) > 0.0
        });
        let found = falling((0.0, function(0.0)), (9.0, function(9.0)), RESOLUTION, &mut |x| {
            calls[1] += 1;
            function(x)
        });
        [(halved, calls[0]), (found, calls[1])]
    }

    #[test]
    fn both_find_the_root_to_their_resolution() {
        for (function, root) in SMOOTH.into_iter().chain(AWKWARD) {
            for (found, _) in both(function) {
                assert!((found - root).abs() <= RESOLUTION, "{found} for {root}");
            }
        }
    }

    #[test]
    fn secants_take_half_the_calls_on_what_is_smooth_and_never_many() {
        for (function, root) in SMOOTH {
            let [(_, by_halving), (_, by_secants)] = both(function);
            assert!(2 * by_secants <= by_halving, "{root}: {by_secants} calls, {by_halving} by halving");
        }
        for (function, root) in AWKWARD {
            let [(_, by_halving), (_, by_secants)] = both(function);
            assert!(by_secants <= 6 * by_halving, "{root}: {by_secants} calls, {by_halving} by halving");
        }
    }
}
