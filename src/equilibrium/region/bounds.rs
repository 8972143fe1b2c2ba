//! Bounds on the solids of every mixture between some corners, from one state solved among them.
//!
//! With q_i = 1/(1 + σ_k K_i), every state obeys Σ n_i q_i = L over the whole and Σ_{i in k} n_i K_i q_i = L in each family that
//! is present. For any multipliers α and β_k with α + Σ β_k = 0, a weighted sum of the solids is therefore
//!
//! Σ w_i n_i (1 − q_i) = α n_inert + Σ_k Σ_i n_i [w_i + (α + β_k K_i − w_i) q_i(σ_k)],
//!
//! which is linear in the amounts once σ is held, and stands still in each σ_k where the multipliers are those of the state.
//! In v = 1/(1 + σK₀), q is K₀v/(K₀v + K(1 − v)): convex where K > K₀, concave where K < K₀. With K₀ where α + βK − w changes its
//! sign, the sum over a family is convex in v (members between the pivots of unlike weights are seen to one by one). So within an
//! interval of σ it is at most what it is at an end, and at least what a tangent says: the first is convex in the amounts, the second
//! concave, and both are extreme at corners. Both are off by the order of the interval squared.
//!
//! The intervals: at a given L each family is alone, and Σ n_i K_i q_i falls with σ and is linear in the amounts, so that
//! corners decide. An interval of L is proven by the sign of the concave F(L) = Σ n_i q_i − L at its ends, which is bounded as
//! above with w = 0 and α = 1, and the other way about: concave in v. No monotony of the solids in the composition is assumed:
//! with solid solutions there is none. Where K depends on the composition (corrections, disorder), an interval of K takes its place:
//! dissolved moles fall with K, since d/dK (1 + βK) q = (β − σ) q² and β ≤ 0, and solids rise, since β + σ(w − α) ≥ 0.
//!
//! Since the bound from above is convex in the amounts, and the one from below concave, a mixture of corners lies between the same mixtures
//! of their bounds.
//!
//! A family that may be absent has Σ n_i K_i ≤ L instead, and all its moles dissolved: one more case beside the ends.

#![allow(clippy::needless_range_loop, reason = "corners of several arrays go hand in hand")]

use super::{
    hull::{CORNERS, Falls, HIGH, Hull, LOW, Lanes, ROUNDING, Sums, add_times, least, most},
    view::View,
};
use crate::{
    equilibrium::solve::SolidsByKind,
    ordered::{greater, lesser},
};

/// How often an interval of L may be widened before giving up.
const WIDENINGS: u32 = 4;

/// How often the upper end of an interval of σ is moved before giving up.
const REACHES: u32 = 6;

/// A family is far from present where it would be so only with this much of the liquid.
const FAR: f64 = 0.5;

/// A family at the σ of the state that was solved, at the low end.
struct Middle {
    sigma: f64,
    sums: Sums,
    falls: Falls,
    /// The multiplier that makes dissolved moles stand still; 0 where the family is absent.
    beta: f64,
    /// Where (1 + βK) changes its sign, or beyond every K.
    pivot: f64,
    /// Σ w n K q² per Σ n K² q², where it is present.
    pull: f64,
}

/// An end of the interval of σ of a family, and the sums there at the high end.
type End = (f64, Sums);

/// A region with what is proven of its states.
#[derive(Default)]
pub(super) struct Enclosure {
    hull: Hull,
    middles: Vec<Middle>,
    /// The least σ; 0 where the family may be absent.
    floors: Vec<End>,
    /// The greatest σ; 0 where the family is absent everywhere.
    ceilings: Vec<End>,
    most_liquid: f64,
}

impl Middle {
    /// A step towards the σ at which the family is in balance at a corner with this much liquid.
    #[inline(always)]
    fn newton(&self, lane: usize, inside: f64, liquid: f64) -> f64 {
        newton(self.sigma, inside, self.sums.held[lane], self.falls.held[lane], liquid)
    }
}

/// A step of Newton's method on 1/Σ n K q, which is concave in σ: it never passes the root.
#[inline(always)]
fn newton(sigma: f64, inside: f64, held: f64, falls: f64, liquid: f64) -> f64 {
    if falls > 0.0 { sigma + held * (inside * held / liquid - 1.0) / falls } else { 0.0 }
}

/// Σ n (α + βK − w) q at a corner.
#[inline(always)]
fn held_back(sums: &Sums, lane: usize, alpha: f64, beta: f64) -> f64 {
    alpha * sums.dissolved[lane] + beta * sums.held[lane] - sums.weighed[lane]
}

/// v − v_m times the slope in v, per slope in −σ.
#[inline(always)]
fn reach(middle: f64, sigma: f64, pivot: f64) -> f64 {
    (middle - sigma) * (1.0 + middle * pivot) / (1.0 + sigma * pivot)
}

/// The middle of a region, nearly solved.
#[derive(Clone, Copy)]
pub(crate) struct Middling {
    /// Moles of liquid.
    pub(crate) liquid: f64,
    /// What was asked for, percent by mass.
    pub(crate) percent: f64,
}

fn middle(corners: &[[f64; 3]]) -> [f64; 3] {
    let share = 1.0 / corners.len() as f64;
    let mut centre = [0.0; 3];
    for corner in corners {
        for (sum, value) in centre.iter_mut().zip(corner) {
            *sum += share * value;
        }
    }
    centre
}

impl View {
    /// What `weights`·solids + `powder`·powder is at least and at most, percent by mass, corner by corner, with one state solved:
    /// a mixture of the corners lies between the same mixtures of the two, if all corners weigh the same, and anyway between the least
    /// of the one and the most of the other. `None` where nothing could be proven.
    ///
    /// Weights must not be negative, and corners number one to four; of fewer, the last is repeated.
    pub fn bounds(
        &mut self,
        corners: &[[f64; 3]],
        weights: &SolidsByKind,
        powder: f64,
    ) -> Option<[[f64; CORNERS]; 2]> {
        let worth = self.isotherm().worth(weights);
        let liquid = self.middle(corners, &worth, powder)?.liquid;
        self.bounds_around(liquid, corners, &worth, powder)
    }

    /// What a mixture nearly holds: solids by [`Isotherm::worth`](super::Isotherm::worth) + `powder`·powder, percent by mass.
    pub(crate) fn middle(&mut self, corners: &[[f64; 3]], worth: &[f64], powder: f64) -> Option<Middling> {
        let middle = middle(corners);
        self.gather(corners, FAR * self.liquid());
        let mut liquid = self.near(&middle)?;
        if liquid <= self.enough {
            self.gather_all();
            liquid = self.near(&middle)?;
        }
        Some(Middling { liquid, percent: self.weighted(&middle, worth, powder) })
    }

    /// As [`View::bounds`], once the middle is solved.
    pub(crate) fn bounds_around(
        &mut self,
        liquid: f64,
        corners: &[[f64; 3]],
        worth: &[f64],
        powder: f64,
    ) -> Option<[Lanes; 2]> {
        if corners.len() > CORNERS {
            return None;
        }
        let mut region = std::mem::take(&mut self.enclosure);
        let mut solids = region.bound(self, liquid, FAR * liquid, corners, worth);
        if solids.is_none() {
            // What was taken to be absent may not be.
            self.gather_all();
            let liquid = self.near(&middle(corners));
            solids = liquid.and_then(|liquid| region.bound(self, liquid, 0.0, corners, worth));
        }
        self.enclosure = region;
        let [mut low, mut high] = solids?;
        let Hull { mass, powder: dust, .. } = &self.enclosure.hull;
        let slack = ROUNDING * (least(&low).abs() + most(&high).abs()) + 1e-9 * most(mass);
        for lane in 0..CORNERS {
            low[lane] = 100.0 * (low[lane] - slack + powder * dust[lane]) / most(mass);
            high[lane] = 100.0 * (high[lane] + slack + powder * dust[lane]) / least(mass);
        }
        let (least, most) = (least(&low), most(&high));
        (least.is_finite() && most.is_finite() && least <= most).then_some([low, high])
    }
}

impl Enclosure {
    /// Bounds on the solids by `worth`, in mass, corner by corner, where any of it is proven.
    fn bound(
        &mut self,
        view: &View,
        liquid: f64,
        enough: f64,
        corners: &[[f64; 3]],
        worth: &[f64],
    ) -> Option<[Lanes; 2]> {
        let hull = &mut self.hull;
        hull.take_up(view, greater(enough, view.enough), corners, worth)?;
        self.middles.clear();
        for crystal in &hull.crystals {
            let sigma = crystal.sigma;
            let (sums, falls) = hull.sums_and_falls(crystal, sigma, LOW);
            let held = hull.mean(&falls.held);
            let present = sigma > 0.0 && held > 0.0;
            let beta = if present { -hull.mean(&falls.dissolved) / held } else { 0.0 };
            let pull = if present { hull.mean(&falls.weighed) / held } else { 0.0 };
            let pivot = if beta < 0.0 { -1.0 / beta } else { hull.most_k(crystal) };
            self.middles.push(Middle { sigma, sums, falls, beta, pivot, pull });
        }
        self.enclose(liquid)?;
        self.solids()
    }

    /// Proves an interval of L, and finds how each family is present within.
    fn enclose(&mut self, liquid: f64) -> Option<()> {
        // A guess at F over the corners, with every σ as it is in the middle.
        let mut guess = self.hull.inert;
        let mut slope = 1.0;
        for (crystal, middle) in self.hull.crystals.iter().zip(&self.middles) {
            slope += middle.beta;
            let inside = crystal.inside[LOW];
            for lane in 0..CORNERS {
                let sum = middle.sums.dissolved[lane] + middle.beta * middle.sums.held[lane];
                guess[lane] += (1.0 - inside) * crystal.moles[lane] + inside * sum - middle.beta * liquid;
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
            if least_liquid <= self.hull.enough {
                return None;
            }
            if !proven_above {
                self.most_liquid = liquid + above;
                self.floors.clear();
                for at in 0..self.middles.len() {
                    self.floors.push(self.floor(at));
                }
            }
            if !proven_below {
                self.ceilings.clear();
                for at in 0..self.middles.len() {
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

    /// The least σ of any mixture at the most liquid, or 0 where the family may be absent, and the sums there at the high end.
    fn floor(&self, at: usize) -> End {
        let (crystal, middle) = (&self.hull.crystals[at], &self.middles[at]);
        if crystal.inside[LOW] * least(&crystal.free[LOW]) <= self.most_liquid {
            return (0.0, crystal.all_dissolved(HIGH));
        }
        let mut low = f64::INFINITY;
        for lane in 0..CORNERS {
            low = lesser(low, middle.newton(lane, crystal.inside[LOW], self.most_liquid));
        }
        let low = greater(low * (1.0 - ROUNDING), 0.0);
        (low, self.hull.sums(crystal, low, HIGH))
    }

    /// The greatest σ of any mixture at the least liquid, and the sums there at the high end; 0 where the family is absent everywhere.
    fn ceiling(&self, at: usize, least_liquid: f64) -> Option<End> {
        let (crystal, middle) = (&self.hull.crystals[at], &self.middles[at]);
        if crystal.inside[HIGH] * most(&crystal.free[HIGH]) <= least_liquid {
            return Some((0.0, Sums::default()));
        }
        let mut high = 0.0;
        for lane in 0..CORNERS {
            high = greater(high, middle.newton(lane, crystal.inside[LOW], least_liquid));
        }
        // A pure crystal is met at once, but for rounding; others need a little more than a Newton step.
        let pure = crystal.fixed && crystal.is_pure();
        high += if pure { 0.0 } else { 0.1 * (high - middle.sigma).abs() } + 1e-9 * high;
        let inside = crystal.inside[HIGH];
        for _ in 0..REACHES {
            high = greater(high, self.floors[at].0);
            let sums = self.hull.sums(crystal, high, HIGH);
            // The sum falls with σ: here it must have fallen to L.
            if inside * most(&sums.held) <= least_liquid {
                return Some((high, sums));
            }
            let falls = self.hull.falls(crystal, high, HIGH);
            let mut next = high;
            for lane in 0..CORNERS {
                next = greater(next, newton(high, inside, sums.held[lane], falls[lane], least_liquid));
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
    fn dissolved_at_least(&self, liquid: f64) -> Lanes {
        let mut sum = self.hull.inert;
        for (at, (crystal, middle)) in self.hull.crystals.iter().zip(&self.middles).enumerate() {
            let ((low, floor), (_, ceiling)) = (&self.floors[at], &self.ceilings[at]);
            let (inside, beta) = (crystal.inside[HIGH], middle.beta);
            if self.is_absent(at) {
                add_times(&mut sum, 1.0, &crystal.moles);
                continue;
            }
            for lane in 0..CORNERS {
                let moles = crystal.moles[lane];
                let at_floor = floor.dissolved[lane] + beta * floor.held[lane];
                let at_ceiling = ceiling.dissolved[lane] + beta * ceiling.held[lane];
                let found = (1.0 - inside) * moles + inside * lesser(at_floor, at_ceiling) - beta * liquid;
                sum[lane] += if *low > 0.0 { found } else { lesser(found, moles) };
            }
        }
        sum
    }

    /// A bound from above on the dissolved moles at the most liquid. It is extreme at corners.
    fn dissolved_at_most(&self) -> Lanes {
        let mut sum = self.hull.inert;
        for (at, (crystal, middle)) in self.hull.crystals.iter().zip(&self.middles).enumerate() {
            if self.is_absent(at) {
                add_times(&mut sum, 1.0, &crystal.moles);
                continue;
            }
            let (floor, ceiling) = (&self.floors[at], &self.ceilings[at]);
            let (inside, beta) = (crystal.inside[LOW], middle.beta);
            let reaches =
                [reach(middle.sigma, floor.0, middle.pivot), reach(middle.sigma, ceiling.0, middle.pivot)];
            for lane in 0..CORNERS {
                let value = middle.sums.dissolved[lane] + beta * middle.sums.held[lane];
                let slope = middle.falls.dissolved[lane] + beta * middle.falls.held[lane];
                let off = greater(slope * reaches[0], slope * reaches[1]);
                sum[lane] +=
                    (1.0 - inside) * crystal.moles[lane] + inside * (value + off) - beta * self.most_liquid;
            }
        }
        sum
    }

    /// Bounds on the weighted solids, in mass, corner by corner.
    fn solids(&self) -> Option<[Lanes; 2]> {
        let (mut rate, mut pull) = (0.0, 0.0);
        for (at, middle) in self.middles.iter().enumerate() {
            if !self.is_absent(at) {
                rate -= middle.beta;
                pull += middle.pull;
            }
        }
        if 1.0 - rate < 1e-3 {
            return None;
        }
        let alpha = -pull / (1.0 - rate);
        let mut low = self.hull.inert.map(|moles| alpha * moles);
        let mut high = low;
        for (at, (crystal, middle)) in self.hull.crystals.iter().zip(&self.middles).enumerate() {
            if self.is_absent(at) {
                for lane in 0..CORNERS {
                    low[lane] += alpha * crystal.moles[lane];
                    high[lane] += alpha * crystal.moles[lane];
                }
                continue;
            }
            let (floor, ceiling) = (&self.floors[at], &self.ceilings[at]);
            // Standing still, where it is present: α Σ n K q² + β Σ n K² q² = Σ w n K q².
            let rate = -middle.beta;
            let beta = if rate > 0.0 { middle.pull - alpha * rate } else { 0.0 };
            let pivot =
                if beta > 0.0 { (middle.pull / rate - alpha) / beta } else { self.hull.most_k(crystal) };
            let span = [floor.0, middle.sigma, ceiling.0];
            let gaps = if crystal.fixed {
                [self.hull.concave(crystal, (alpha, beta), pivot, span, LOW); 2]
            } else {
                [LOW, HIGH].map(|end| self.hull.concave(crystal, (alpha, beta), pivot, span, end))
            };
            let reaches = [reach(middle.sigma, floor.0, pivot), reach(middle.sigma, ceiling.0, pivot)];
            for lane in 0..CORNERS {
                let (falls, inside) = (&middle.falls, crystal.inside[LOW]);
                let slope =
                    inside * (alpha * falls.dissolved[lane] + beta * falls.held[lane] - falls.weighed[lane]);
                let off = lesser(slope * reaches[0], slope * reaches[1]);
                let part = held_back(&middle.sums, lane, alpha, beta);
                let (moles, weighed) = (crystal.moles[lane], crystal.weighed[lane]);
                low[lane] +=
                    inside * (weighed + part - gaps[LOW][lane]) + (1.0 - inside) * alpha * moles + off;
                let inside = crystal.inside[HIGH];
                let part =
                    greater(held_back(&floor.1, lane, alpha, beta), held_back(&ceiling.1, lane, alpha, beta));
                let mut found = inside * (weighed + part + gaps[HIGH][lane]) + (1.0 - inside) * alpha * moles;
                if floor.0 <= 0.0 {
                    found = greater(found, alpha * crystal.moles[lane] + beta * self.most_liquid);
                }
                high[lane] += found;
            }
        }
        Some([low, high])
    }
}
