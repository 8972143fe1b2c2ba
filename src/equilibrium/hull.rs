//! One family over a region of mixtures: the ends of its K and σ, and the sums that bounds are made of.

use super::{
    SolidsByKind,
    isotherm::{Adjustment, View, mix},
};

/// The most corners.
pub(super) const CORNERS: usize = 6;

/// How closely the ends of σ are looked for.
const NEAR: f64 = 1e-3;

/// Relative slack for rounding, far above what sums of some hundred terms lose.
pub(super) const ROUNDING: f64 = 1e-10;

/// A sum over the fixed part and each changing ingredient.
pub(super) type Parts = [f64; 4];

/// The multiplier terms of one family, Σ n_i (constant_i + (free + β K_i) q_i), and how they change with ln σ (with σ itself where
/// it may be 0).
#[derive(Clone, Copy)]
pub(super) struct Terms {
    value: Parts,
    slope: Parts,
    /// A bound on the size of the second derivative over the interval.
    bend: Parts,
    /// Half the width of the interval in that variable.
    radius: f64,
    /// A plain bound: each species at the end of the interval that is worst for it.
    plain: Parts,
}

/// The interval of σ of one family, and whether it may be absent.
#[derive(Clone, Copy, Default)]
pub(super) struct Sigma {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Sigma {
    /// The middle, on the scale that [`Terms`] uses.
    pub(super) fn middle(self) -> f64 {
        if self.low > 0.0 { libm::sqrt(self.low * self.high) } else { 0.5 * self.high }
    }
}

/// A bound on |d²q/d(ln σ)²| = q (1 − q) |1 − 2q| for q between two: it rises to q = 0.2113, is 0 at ½, and mirrored.
fn most_bend(low: f64, high: f64) -> f64 {
    let at = |q: f64| q * (1.0 - q) * (1.0 - 2.0 * q).abs();
    if high <= 0.2113 {
        at(high)
    } else if low >= 0.7887 {
        at(low)
    } else {
        0.096_225_1
    }
}

/// What a region does to a family.
pub(super) struct Extremes {
    /// The least and the greatest share left out.
    left_out: [f64; 2],
    /// Whether K and the share left out are the same everywhere.
    pub(super) fixed: bool,
    /// Moles of its members.
    pub(super) moles: Parts,
    /// The least and the greatest Σ n_i K_i over the corners.
    pub(super) free: [f64; 2],
}

pub(super) const LOW: usize = 0;
pub(super) const HIGH: usize = 1;

/// A region of mixtures being bounded.
pub(super) struct Hull<'v> {
    pub(super) view: &'v View,
    pub(super) corners: &'v [[f64; 3]],
    /// The least and the greatest K by site.
    pub(super) k: [Vec<f64>; 2],
    pub(super) families: Vec<Extremes>,
}

/// Sums at a point that multipliers come from: Σ n K q², Σ n K² q², Σ M n K q².
#[derive(Clone, Copy, Default)]
pub(super) struct Pull {
    pub(super) dissolves: f64,
    pub(super) stiffness: f64,
    pub(super) weight: f64,
}

impl<'v> Hull<'v> {
    pub(super) fn new(view: &'v View, corners: &'v [[f64; 3]]) -> Option<Hull<'v>> {
        let mut hull = Hull { view, corners, k: [view.k.clone(), view.k.clone()], families: Vec::new() };
        for (crystal, (range, _)) in view.crystals.iter().enumerate() {
            let (left_out, fixed) = hull.adjust(crystal);
            let mut moles = [0.0; 4];
            let mut sums = [[0.0; 4]; 2];
            for at in range.clone() {
                for (j, part) in view.moles[at].iter().enumerate() {
                    moles[j] += part;
                    sums[LOW][j] += part * hull.k[LOW][at] * (1.0 - left_out[HIGH]);
                    sums[HIGH][j] += part * hull.k[HIGH][at] * (1.0 - left_out[LOW]);
                }
            }
            let free = [hull.over(&sums[LOW]).0, hull.over(&sums[HIGH]).1];
            if !free[HIGH].is_finite() {
                return None;
            }
            hull.families.push(Extremes { left_out, fixed, moles, free });
        }
        Some(hull)
    }

    /// The least and the most over the corners.
    pub(super) fn over(&self, parts: &Parts) -> (f64, f64) {
        self.corners
            .iter()
            .map(|corner| mix(parts, corner))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
    }

    /// Sets the extremes of K of a family, and gives those of the share left out and whether all of them are fixed.
    fn adjust(&mut self, crystal: usize) -> ([f64; 2], bool) {
        let (range, family) = self.view.crystals[crystal].clone();
        let totals = &self.view.totals[crystal];
        // Quotients of linear sums are extreme at corners; a corner without the family adds nothing to either.
        let mut shift = (f64::INFINITY, f64::NEG_INFINITY);
        let mut excess = shift;
        let mut short = shift;
        let widen = |interval: &mut (f64, f64), value: f64| {
            *interval = (interval.0.min(value), interval.1.max(value));
        };
        for corner in self.corners {
            let moles = mix(&totals.each_ref().map(|it| it.moles), corner);
            if moles > 0.0 {
                widen(&mut shift, mix(&totals.each_ref().map(|it| it.shift), corner) / moles);
                widen(&mut excess, mix(&totals.each_ref().map(|it| it.excess), corner) / moles);
                widen(&mut short, mix(&totals.each_ref().map(|it| it.short), corner) / moles);
            }
        }
        if shift.0 > shift.1 {
            return ([0.0; 2], true);
        }
        let (least, most) = family.disorder_between(short.0, short.1);
        let left_out = [least.left_out, most.left_out];
        let ends = [shift.0 - most.lowering_k, shift.1 - least.lowering_k];
        if ends == [0.0; 2] && excess == (0.0, 0.0) && left_out == [0.0; 2] {
            return (left_out, true);
        }
        for at in range {
            // K rises with the shift, and is monotone in the excess at either end of it.
            let value = |shift_k: f64, excess: f64| {
                self.view.distribution(at, &Adjustment { shift_k, excess, left_out: 0.0 })
            };
            let mut found = [value(ends[0], excess.0), value(ends[1], excess.0)];
            if excess.0 != excess.1 {
                let more = [value(ends[0], excess.1), value(ends[1], excess.1)];
                found = [
                    found[0].min(found[1]).min(more[0]).min(more[1]),
                    found[0].max(found[1]).max(more[0]).max(more[1]),
                ];
            }
            self.k[LOW][at] = found[0] * (1.0 - ROUNDING);
            self.k[HIGH][at] = found[1] * (1.0 + ROUNDING);
        }
        (left_out, false)
    }

    /// The greatest Σ n_i K_i q_i over the corners at the high end (the least at the low end), and minus its slope in σ. It rises
    /// with K and falls with what is left out.
    fn held(&self, crystal: usize, sigma: f64, end: usize) -> (f64, f64) {
        let range = self.view.crystals[crystal].0.clone();
        let inside = 1.0 - self.families[crystal].left_out[1 - end];
        let (mut sum, mut falls) = ([0.0; 4], [0.0; 4]);
        for at in range {
            let k = self.k[end][at];
            let ratio = k / (1.0 + sigma * k);
            let (part, fall) = (inside * ratio, inside * ratio * ratio);
            for (j, moles) in self.view.moles[at].iter().enumerate() {
                sum[j] += moles * part;
                falls[j] += moles * fall;
            }
        }
        let mut found = (0.0, 0.0);
        for (at, corner) in self.corners.iter().enumerate() {
            let value = mix(&sum, corner);
            if at == 0 || (end == HIGH && value > found.0) || (end == LOW && value < found.0) {
                found = (value, mix(&falls, corner));
            }
        }
        found
    }

    /// An end of the interval of σ at this much liquid, on the safe side; `None` if it is not found. It starts from `start`.
    pub(super) fn root(&self, crystal: usize, liquid: f64, end: usize, start: f64) -> Option<f64> {
        let free = self.families[crystal].free[end];
        if free <= liquid {
            return Some(0.0);
        }
        let range = self.view.crystals[crystal].0.clone();
        if range.len() == 1 {
            // n K q = L, with n K what is free.
            let exact = (free / liquid - 1.0) / self.k[end][range.start];
            return Some(if end == HIGH { exact * (1.0 + ROUNDING) } else { exact * (1.0 - ROUNDING) });
        }
        let mut sigma = start;
        for _ in 0..60 {
            let (value, falls) = self.held(crystal, sigma, end);
            // The sum falls with σ: at the high end it must have fallen to L, at the low end not below it.
            let off = value / liquid - 1.0;
            let done = if end == HIGH { (-NEAR..=0.0).contains(&off) } else { (0.0..=NEAR).contains(&off) };
            if done {
                return Some(sigma);
            }
            // Aim a little to the safe side, by Newton on the reciprocal, which is concave.
            let aim = if end == HIGH { 0.3 * NEAR } else { -0.3 * NEAR };
            let next = sigma + value * ((off + aim) / (1.0 - aim)) / falls;
            sigma = if next > 0.0 { next } else { 0.5 * sigma };
            if !sigma.is_finite() {
                return None;
            }
        }
        None
    }

    /// Σ n_i (constant_i + (free + β K_i) q_i) with its slope and bend over the interval, on the side of `end`.
    ///
    /// With weights, solids are summed, and the constant is M_i; without, dissolved moles, with `free` = 1.
    pub(super) fn terms(
        &self,
        crystal: usize,
        sigma: Sigma,
        free: f64,
        beta: f64,
        weights: Option<&SolidsByKind>,
        end: usize,
    ) -> Terms {
        let range = self.view.crystals[crystal].0.clone();
        let certain = sigma.low > 0.0;
        let radius = if certain { 0.5 * libm::log(sigma.high / sigma.low) } else { 0.5 * sigma.high };
        let mut terms = Terms { value: [0.0; 4], slope: [0.0; 4], bend: [0.0; 4], radius, plain: [0.0; 4] };
        // Dissolved moles, (1 + β K) q with β ≤ 0, fall with K and rise with what is left out. Solids,
        // M + (α + β K − M) q with α ≤ 0 ≤ β, rise with K and fall with what is left out.
        let (k_end, out_end) = if weights.is_some() { (end, 1 - end) } else { (1 - end, end) };
        let left_out = self.families[crystal].left_out[out_end];
        let inside = 1.0 - left_out;
        let middle = sigma.middle();
        for at in range {
            let k = self.k[k_end][at];
            let constant = weights.map_or(0.0, |weights| self.view.weight(at, weights));
            let factor = inside * (free + beta * k - constant);
            let still = inside * constant + left_out * free;
            let q = 1.0 / (1.0 + middle * k);
            let (q_most, q_least) = (1.0 / (1.0 + sigma.low * k), 1.0 / (1.0 + sigma.high * k));
            let value = still + factor * q;
            let (slope, bend) = if certain {
                (-factor * q * (1.0 - q), factor.abs() * most_bend(q_least, q_most))
            } else {
                (-factor * k * q * q, factor.abs() * 2.0 * k * k)
            };
            let plain = still + factor * if (factor > 0.0) == (end == HIGH) { q_most } else { q_least };
            for (j, moles) in self.view.moles[at].iter().enumerate() {
                terms.value[j] += moles * value;
                terms.slope[j] += moles * slope;
                terms.bend[j] += moles * bend;
                terms.plain[j] += moles * plain;
            }
        }
        terms
    }

    /// The least or the most of some terms at a corner.
    pub(super) fn at_corner(terms: &Terms, corner: &[f64; 3], end: usize) -> f64 {
        let r = terms.radius;
        let off = mix(&terms.slope, corner).abs() * r + 0.5 * mix(&terms.bend, corner) * r * r;
        let (value, plain) = (mix(&terms.value, corner), mix(&terms.plain, corner));
        if end == HIGH { plain.min(value + off) } else { plain.max(value - off) }
    }

    /// Sums at the centre of the region.
    pub(super) fn pull(&self, crystal: usize, sigma: f64, weights: Option<&SolidsByKind>) -> Pull {
        let mut pull = Pull::default();
        for at in self.view.crystals[crystal].0.clone() {
            let (n, k) = (self.view.n[at], self.view.k[at]);
            let q = 1.0 / (1.0 + sigma * k);
            let part = n * k * q * q;
            pull.dissolves += part;
            pull.stiffness += part * k;
            if let Some(weights) = weights {
                pull.weight += part * self.view.weight(at, weights);
            }
        }
        pull
    }

    /// By how much at most the liquid exceeds Σ n_i K_i of a family that may be absent.
    pub(super) fn shortfall(&self, crystal: usize, sigma: Sigma, liquid: f64) -> f64 {
        if sigma.low > 0.0 { 0.0 } else { (liquid - self.families[crystal].free[LOW]).max(0.0) }
    }
}
