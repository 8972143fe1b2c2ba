//! Bounds on the solids of every mixture in a region, from one state solved in its centre.
//!
//! The chapter on equilibrium derives them; here is what the names stand for. With q = 1/(1 + σK) and any
//! multipliers α and β of each phase with α + Σ β = 0, a weighted sum of the solids is
//!
//! Σ w n (1 − q) = α n(solvent) + Σ over phases Σ n [w + (α + βK − w) q],
//!
//! which is linear in the amounts once every σ is held. Over an interval of σ the part of a phase is bounded
//! by its ends and by a tangent in v = 1/(1 + σK₀), where K₀ is the pivot at which α + βK − w changes its
//! sign. The intervals of σ follow from an interval of L, which is proven by the sign of F(L) = Σ n q − L at
//! its ends; there w is 0 and α is 1.

#![allow(clippy::needless_range_loop, reason = "corners of several arrays go hand in hand")]

use super::{
    hull::{CORNERS, Falls, HIGH, Hull, LOW, PerCorner, Sums, add_times, least, most},
    section::Weighting,
    slice::ROUNDING,
    view::{Centre, FAR, View, centroid},
};
use crate::{
    equilibrium::solve::sigma_step,
    extremes::{greater, lesser},
};

/// How often an interval of L may be widened before giving up.
const WIDENINGS: u32 = 4;

/// How often the upper end of an interval of σ is moved before giving up.
const REACHES: u32 = 6;

/// A phase at the centre's σ, with K at its low end: the point at which bounds are tangents.
struct Expansion {
    sigma: f64,
    sums: Sums,
    falls: Falls,
    /// The multiplier that makes dissolved moles stand still in σ; 0 where the phase is absent.
    beta: f64,
    /// The K at which 1 + βK changes its sign, or one beyond every K.
    pivot: f64,
    /// Σ w n K q² per Σ n K² q², where the phase is present.
    pull: f64,
}

/// An end of the interval of σ of a phase, and the sums there at the high end.
type End = (f64, Sums);

/// What is proven of the states of a region, and room to prove it in.
///
/// ```
/// use std::sync::Arc;
///
/// use meltmargin::{
///     equilibrium::{Blend, CrystalState, Enclosure, IsothermalSection, Part, SolidsByKind, View},
///     substances,
/// };
///
/// let parts = ["shea-butter", "sweet-almond-oil", "cocoa-butter"].map(|id| {
///     let ingredient = substances::find(id).unwrap();
///     Part { make: ingredient.make(), corrections: ingredient.corrections() }
/// });
/// let blend = Blend::new(&parts, CrystalState::Settled);
/// let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, 25.0)));
/// view.load(&[60.0, 0.0, 0.0], &[1, 2]);
/// // 60 g of shea butter with 30 to 32 g of oil and the rest of 40 g cocoa butter.
/// let corners = [[30.0, 10.0, 0.0], [32.0, 8.0, 0.0]];
/// let triglyceride = SolidsByKind { triglyceride: 1.0, ..SolidsByKind::default() };
/// let weighting = view.section().weighting(&triglyceride, 0.0);
/// let [low, high] = Enclosure::default().bounds(&mut view, &corners, &weighting).unwrap();
/// // The mixture halfway between the corners lies halfway between their bounds.
/// let found = view.at(&[31.0, 9.0, 0.0]).by_kind.triglyceride;
/// assert!(0.5 * (low[0] + low[1]) <= found && found <= 0.5 * (high[0] + high[1]));
/// ```
#[derive(Default)]
pub struct Enclosure {
    hull: Hull,
    /// By phase of the hull.
    expansions: Vec<Expansion>,
    /// The least σ of each phase; 0 where it may be absent.
    floors: Vec<End>,
    /// The greatest σ of each phase; 0 where it is absent everywhere.
    ceilings: Vec<End>,
    most_liquid: f64,
}

impl Expansion {
    /// A step from the centre towards σ at which the phase is in balance with this much liquid at a corner.
    #[inline(always)]
    fn step(&self, corner: usize, inside: f64, liquid: f64) -> f64 {
        stepped(self.sigma, inside, self.sums.saturated[corner], self.falls.saturated[corner], liquid)
    }
}

/// σ after a step towards balance with this much liquid; it never passes the root.
#[inline(always)]
fn stepped(sigma: f64, inside: f64, saturated: f64, fall: f64, liquid: f64) -> f64 {
    if fall > 0.0 { sigma + sigma_step(saturated, fall, inside * saturated / liquid) } else { 0.0 }
}

/// Σ n (α + βK − w) q at a corner: the part of a phase that depends on σ.
#[inline(always)]
fn variable_part(sums: &Sums, corner: usize, alpha: f64, beta: f64) -> f64 {
    alpha * sums.dissolved[corner] + beta * sums.saturated[corner] - sums.weighted[corner]
}

/// v less its value in the centre, times the slope in v, per slope in −σ: how far a tangent in v reaches.
#[inline(always)]
fn reach(centre_sigma: f64, sigma: f64, pivot: f64) -> f64 {
    (centre_sigma - sigma) * (1.0 + centre_sigma * pivot) / (1.0 + sigma * pivot)
}

impl Enclosure {
    /// What a weighted sum of solids and powder is at least and at most, percent by mass, corner by corner,
    /// with one state solved: a mixture of the corners lies between the same mixtures of the two if all
    /// corners weigh the same, and anyway between the least of the one and the most of the other. `None`
    /// where nothing could be proven.
    ///
    /// Corners number one to four; of fewer, the last is repeated.
    pub fn bounds(
        &mut self,
        view: &mut View,
        corners: &[[f64; 3]],
        weighting: &Weighting,
    ) -> Option<[[f64; CORNERS]; 2]> {
        let centre = view.centre(corners)?;
        self.bounds_around(view, centre, corners, weighting)
    }

    /// As [`Enclosure::bounds`], once the centre is solved.
    pub(crate) fn bounds_around(
        &mut self,
        view: &mut View,
        centre: Centre,
        corners: &[[f64; 3]],
        weighting: &Weighting,
    ) -> Option<[PerCorner; 2]> {
        if corners.len() > CORNERS {
            return None;
        }
        let mut solids = self.bound(view, centre.liquid, FAR * centre.liquid, corners, weighting);
        if solids.is_none() {
            // What was taken to be absent may not be.
            view.gather_all();
            let liquid = view.solve_nearly(&centroid(corners));
            solids = liquid.and_then(|liquid| self.bound(view, liquid, 0.0, corners, weighting));
        }
        let [mut low, mut high] = solids?;
        let Hull { mass, powder, .. } = &self.hull;
        let slack = ROUNDING * (least(&low).abs() + most(&high).abs()) + 1e-9 * most(mass);
        for corner in 0..CORNERS {
            let powder = weighting.powder * powder[corner];
            low[corner] = 100.0 * (low[corner] - slack + powder) / most(mass);
            high[corner] = 100.0 * (high[corner] + slack + powder) / least(mass);
        }
        let (least, most) = (least(&low), most(&high));
        (least.is_finite() && most.is_finite() && least <= most).then_some([low, high])
    }

    /// Bounds on the weighted solids, in mass, corner by corner, if they can be proven.
    fn bound(
        &mut self,
        view: &View,
        liquid: f64,
        down_to: f64,
        corners: &[[f64; 3]],
        weighting: &Weighting,
    ) -> Option<[PerCorner; 2]> {
        let hull = &mut self.hull;
        hull.take_up(view, greater(down_to, view.gathered.down_to), corners, weighting)?;
        self.expansions.clear();
        for phase in &hull.phases {
            let sigma = phase.sigma;
            let (sums, falls) = hull.sums_and_falls(phase, sigma, LOW);
            let fall = hull.mean(&falls.saturated);
            let is_present = sigma > 0.0 && fall > 0.0;
            let beta = if is_present { -hull.mean(&falls.dissolved) / fall } else { 0.0 };
            let pull = if is_present { hull.mean(&falls.weighted) / fall } else { 0.0 };
            let pivot = if beta < 0.0 { -1.0 / beta } else { hull.most_k(phase) };
            self.expansions.push(Expansion { sigma, sums, falls, beta, pivot, pull });
        }
        self.enclose(liquid)?;
        self.solids()
    }

    /// Proves an interval of L, and finds how each phase is present within.
    fn enclose(&mut self, liquid: f64) -> Option<()> {
        // A guess at F over the corners, with every σ as it is in the centre.
        let mut guess = self.hull.solvent;
        let mut slope = 1.0;
        for (phase, expansion) in self.hull.phases.iter().zip(&self.expansions) {
            let Expansion { sums, beta, .. } = expansion;
            slope += beta;
            let inside = phase.inside[LOW];
            for corner in 0..CORNERS {
                let sum = sums.dissolved[corner] + beta * sums.saturated[corner];
                guess[corner] += (1.0 - inside) * phase.moles[corner] + inside * sum - beta * liquid;
            }
        }
        if slope < 1e-3 {
            return None;
        }
        let tiny = 1e-5 * liquid;
        let mut below = (1.1 * (liquid - least(&guess)) / slope).max(0.0) + tiny;
        let mut above = (1.1 * (most(&guess) - liquid) / slope).max(0.0) + tiny;
        let (mut proven_below, mut proven_above) = (false, false);
        for _ in 0..WIDENINGS {
            let least_liquid = liquid - below;
            if least_liquid <= self.hull.down_to {
                return None;
            }
            if !proven_above {
                self.most_liquid = liquid + above;
                self.floors.clear();
                for at in 0..self.expansions.len() {
                    self.floors.push(self.floor(at));
                }
            }
            if !proven_below {
                self.ceilings.clear();
                for at in 0..self.expansions.len() {
                    let ceiling = self.ceiling(at, least_liquid)?;
                    self.ceilings.push(ceiling);
                }
                let low = least(&self.dissolved_at_least(least_liquid)) - least_liquid;
                proven_below = low > ROUNDING * liquid;
                // As far again as it fell short, and a bit.
                below += if proven_below { 0.0 } else { greater(-1.5 * low / slope, 0.3 * below) };
            }
            if !proven_above {
                let high = most(&self.dissolved_at_most()) - self.most_liquid;
                proven_above = high < -ROUNDING * liquid;
                above += if proven_above { 0.0 } else { greater(1.5 * high / slope, 0.3 * above) };
            }
            if proven_below && proven_above {
                return Some(());
            }
        }
        None
    }

    /// The least σ of any mixture at the most liquid, or 0 where the phase may be absent, and the sums there
    /// at the high end.
    fn floor(&self, at: usize) -> End {
        let (phase, expansion) = (&self.hull.phases[at], &self.expansions[at]);
        if phase.inside[LOW] * least(&phase.onset[LOW]) <= self.most_liquid {
            return (0.0, phase.all_dissolved(HIGH));
        }
        let mut low = f64::INFINITY;
        for corner in 0..CORNERS {
            low = lesser(low, expansion.step(corner, phase.inside[LOW], self.most_liquid));
        }
        let low = greater(low * (1.0 - ROUNDING), 0.0);
        (low, self.hull.sums(phase, low, HIGH))
    }

    /// The greatest σ of any mixture at the least liquid, and the sums there at the high end; 0 where the
    /// phase is absent everywhere.
    fn ceiling(&self, at: usize, least_liquid: f64) -> Option<End> {
        let (phase, expansion) = (&self.hull.phases[at], &self.expansions[at]);
        if phase.inside[HIGH] * most(&phase.onset[HIGH]) <= least_liquid {
            return Some((0.0, Sums::default()));
        }
        let mut high = 0.0;
        for corner in 0..CORNERS {
            high = greater(high, expansion.step(corner, phase.inside[LOW], least_liquid));
        }
        // One step is exact for a pure crystal, but for rounding; others need a little more.
        let is_exact = phase.is_fixed && phase.is_pure();
        high += if is_exact { 0.0 } else { 0.1 * (high - expansion.sigma).abs() } + 1e-9 * high;
        let inside = phase.inside[HIGH];
        for _ in 0..REACHES {
            high = greater(high, self.floors[at].0);
            let sums = self.hull.sums(phase, high, HIGH);
            // The sum falls with σ: here it must have fallen to L.
            if inside * most(&sums.saturated) <= least_liquid {
                return Some((high, sums));
            }
            let falls = self.hull.saturated_falls(phase, high, HIGH);
            let mut next = high;
            for corner in 0..CORNERS {
                let saturated = sums.saturated[corner];
                next = greater(next, stepped(high, inside, saturated, falls[corner], least_liquid));
            }
            high = next + 0.2 * (next - high) + 1e-9 * next;
            if !high.is_finite() {
                return None;
            }
        }
        None
    }

    fn is_absent(&self, at: usize) -> bool {
        self.ceilings[at].0 <= 0.0
    }

    /// A bound from below on the dissolved moles at this much liquid. It is extreme at corners.
    fn dissolved_at_least(&self, liquid: f64) -> PerCorner {
        let mut sum = self.hull.solvent;
        for (at, (phase, expansion)) in self.hull.phases.iter().zip(&self.expansions).enumerate() {
            let ((low, floor), (_, ceiling)) = (&self.floors[at], &self.ceilings[at]);
            let (inside, beta) = (phase.inside[HIGH], expansion.beta);
            if self.is_absent(at) {
                add_times(&mut sum, 1.0, &phase.moles);
                continue;
            }
            for corner in 0..CORNERS {
                let moles = phase.moles[corner];
                let at_floor = floor.dissolved[corner] + beta * floor.saturated[corner];
                let at_ceiling = ceiling.dissolved[corner] + beta * ceiling.saturated[corner];
                let found = (1.0 - inside) * moles + inside * lesser(at_floor, at_ceiling) - beta * liquid;
                sum[corner] += if *low > 0.0 { found } else { lesser(found, moles) };
            }
        }
        sum
    }

    /// A bound from above on the dissolved moles at the most liquid. It is extreme at corners.
    fn dissolved_at_most(&self) -> PerCorner {
        let mut sum = self.hull.solvent;
        for (at, (phase, expansion)) in self.hull.phases.iter().zip(&self.expansions).enumerate() {
            if self.is_absent(at) {
                add_times(&mut sum, 1.0, &phase.moles);
                continue;
            }
            let Expansion { sigma, sums, falls, beta, pivot, .. } = expansion;
            let inside = phase.inside[LOW];
            let ends = [&self.floors[at], &self.ceilings[at]];
            let reaches = ends.map(|(end, _)| reach(*sigma, *end, *pivot));
            for corner in 0..CORNERS {
                let value = sums.dissolved[corner] + beta * sums.saturated[corner];
                let slope = falls.dissolved[corner] + beta * falls.saturated[corner];
                let off = greater(slope * reaches[0], slope * reaches[1]);
                sum[corner] +=
                    (1.0 - inside) * phase.moles[corner] + inside * (value + off) - beta * self.most_liquid;
            }
        }
        sum
    }

    /// Bounds on the weighted solids, in mass, corner by corner.
    fn solids(&self) -> Option<[PerCorner; 2]> {
        let (mut rate, mut pull) = (0.0, 0.0);
        for (at, expansion) in self.expansions.iter().enumerate() {
            if !self.is_absent(at) {
                rate -= expansion.beta;
                pull += expansion.pull;
            }
        }
        if 1.0 - rate < 1e-3 {
            return None;
        }
        let alpha = -pull / (1.0 - rate);
        let mut low = self.hull.solvent.map(|moles| alpha * moles);
        let mut high = low;
        for (at, (phase, expansion)) in self.hull.phases.iter().zip(&self.expansions).enumerate() {
            if self.is_absent(at) {
                for corner in 0..CORNERS {
                    low[corner] += alpha * phase.moles[corner];
                    high[corner] += alpha * phase.moles[corner];
                }
                continue;
            }
            let (floor, ceiling) = (&self.floors[at], &self.ceilings[at]);
            // Standing still, where it is present: α Σ n K q² + β Σ n K² q² = Σ w n K q².
            let rate = -expansion.beta;
            let beta = if rate > 0.0 { expansion.pull - alpha * rate } else { 0.0 };
            let pivot =
                if beta > 0.0 { (expansion.pull / rate - alpha) / beta } else { self.hull.most_k(phase) };
            let span = [floor.0, expansion.sigma, ceiling.0];
            let gaps = if phase.is_fixed {
                [self.hull.concave_gap(phase, (alpha, beta), pivot, span, LOW); 2]
            } else {
                [LOW, HIGH].map(|end| self.hull.concave_gap(phase, (alpha, beta), pivot, span, end))
            };
            let reaches = [reach(expansion.sigma, floor.0, pivot), reach(expansion.sigma, ceiling.0, pivot)];
            for corner in 0..CORNERS {
                let (falls, inside) = (&expansion.falls, phase.inside[LOW]);
                let slope = inside
                    * (alpha * falls.dissolved[corner] + beta * falls.saturated[corner]
                        - falls.weighted[corner]);
                let off = lesser(slope * reaches[0], slope * reaches[1]);
                let part = variable_part(&expansion.sums, corner, alpha, beta);
                let (moles, weighted) = (phase.moles[corner], phase.weighted[corner]);
                low[corner] +=
                    inside * (weighted + part - gaps[LOW][corner]) + (1.0 - inside) * alpha * moles + off;
                let inside = phase.inside[HIGH];
                let part = greater(
                    variable_part(&floor.1, corner, alpha, beta),
                    variable_part(&ceiling.1, corner, alpha, beta),
                );
                let mut found =
                    inside * (weighted + part + gaps[HIGH][corner]) + (1.0 - inside) * alpha * moles;
                if floor.0 <= 0.0 {
                    found = greater(found, alpha * phase.moles[corner] + beta * self.most_liquid);
                }
                high[corner] += found;
            }
        }
        Some([low, high])
    }
}
