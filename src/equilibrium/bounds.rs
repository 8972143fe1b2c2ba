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
//! A family that may be absent has Σ n_i K_i ≤ L instead, and all its moles dissolved: one more case beside the ends.

use super::{
    SolidsByKind,
    hull::{CORNERS, Falls, HIGH, Hull, LOW, Lanes, ROUNDING, Sums, least, most},
    isotherm::View,
};

/// How often an interval of L may be widened before giving up.
const WIDENINGS: u32 = 4;

/// How often the upper end of an interval of σ is moved before giving up.
const REACHES: u32 = 6;

/// A family at the σ of the state that was solved, at the low end.
struct Middle {
    sigma: f64,
    sums: Sums,
    falls: Falls,
    /// The multiplier that makes dissolved moles stand still; 0 where the family is absent.
    beta: f64,
    /// Where (1 + βK) changes its sign, or beyond every K.
    pivot: f64,
}

/// How a family is found over the region.
enum Presence {
    /// Nowhere.
    Absent,
    /// With σ between two, and the sums there at the high end. It may be absent where the first is 0.
    Within { sigmas: [f64; 2], ends: [Sums; 2] },
}

/// A region with what is proven of its states.
struct Enclosure {
    hull: Hull,
    middles: Vec<Middle>,
    presences: Vec<Presence>,
    most_liquid: f64,
}

/// v − v_m times the slope in v, per slope in −σ.
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
    let corners = &corners[..corners.len().min(CORNERS)];
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
    /// The least and the most that `weights`·solids + `powder`·powder can be, percent by mass, over every mixture between
    /// the corners, with one state solved. `None` where nothing could be proven.
    ///
    /// Weights must not be negative. At most six corners are looked at.
    pub fn bounds(
        &mut self,
        corners: &[[f64; 3]],
        weights: &SolidsByKind,
        powder: f64,
    ) -> Option<(f64, f64)> {
        let liquid = self.centre(corners)?;
        self.bounds_around(liquid, corners, weights, powder)
    }

    /// Solves the middle of the corners, nearly; gives the liquid.
    fn centre(&mut self, corners: &[[f64; 3]]) -> Option<f64> {
        self.near(&middle(corners))
    }

    /// What a mixture nearly holds: `weights`·solids + `powder`·powder, percent by mass.
    pub(crate) fn middle(
        &mut self,
        corners: &[[f64; 3]],
        weights: &SolidsByKind,
        powder: f64,
    ) -> Option<Middling> {
        let liquid = self.centre(corners)?;
        Some(Middling { liquid, percent: self.weighted(&middle(corners), weights, powder) })
    }

    /// As [`View::bounds`], once the middle is solved.
    pub(crate) fn bounds_around(
        &self,
        liquid: f64,
        corners: &[[f64; 3]],
        weights: &SolidsByKind,
        powder: f64,
    ) -> Option<(f64, f64)> {
        let region = Enclosure::of(self, liquid, corners, weights)?;
        let (low, high) = region.solids()?;
        let (mass, dust) = (&region.hull.mass, &region.hull.powder);
        let slack = ROUNDING * (low.abs() + high.abs()) + 1e-9 * most(mass);
        let low = 100.0 * ((low - slack).max(0.0) + powder * least(dust)) / most(mass);
        let high = 100.0 * (high + slack + powder * most(dust)) / least(mass);
        (low.is_finite() && high.is_finite() && low <= high).then_some((low, high))
    }
}

impl Enclosure {
    fn of(view: &View, liquid: f64, corners: &[[f64; 3]], weights: &SolidsByKind) -> Option<Enclosure> {
        let hull = Hull::new(view, corners, weights)?;
        let middles: Vec<Middle> = hull
            .crystals
            .iter()
            .zip(&view.sigma)
            .map(|(crystal, sigma)| {
                let sums = hull.sums(crystal, *sigma, LOW);
                let falls = hull.falls(crystal, *sigma, LOW);
                let held = hull.mean(&falls.held);
                let beta = if *sigma > 0.0 && held > 0.0 { -hull.mean(&falls.dissolved) / held } else { 0.0 };
                let pivot = if beta < 0.0 { -1.0 / beta } else { hull.most_k(crystal) };
                Middle { sigma: *sigma, sums, falls, beta, pivot }
            })
            .collect();
        let mut region = Enclosure { hull, middles, presences: Vec::new(), most_liquid: 0.0 };
        region.enclose(liquid)?;
        Some(region)
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
        for _ in 0..WIDENINGS {
            let (least_liquid, most_liquid) = (liquid - below, liquid + above);
            if least_liquid <= 0.0 {
                return None;
            }
            self.presences.clear();
            for at in 0..self.hull.crystals.len() {
                let presence = self.presence(at, least_liquid, most_liquid)?;
                self.presences.push(presence);
            }
            let low = least(&self.dissolved(least_liquid, LOW)) - least_liquid;
            let high = most(&self.dissolved(most_liquid, HIGH)) - most_liquid;
            if low > ROUNDING * liquid && high < -ROUNDING * liquid {
                self.most_liquid = most_liquid;
                return Some(());
            }
            // As far again as it fell short, and a bit.
            if low <= ROUNDING * liquid {
                below += (-1.5 * low / slope).max(0.3 * below);
            }
            if high >= -ROUNDING * liquid {
                above += (1.5 * high / slope).max(0.3 * above);
            }
        }
        None
    }

    /// An interval of σ that holds for every mixture and every L between the two.
    fn presence(&self, at: usize, least_liquid: f64, most_liquid: f64) -> Option<Presence> {
        let (crystal, middle) = (&self.hull.crystals[at], &self.middles[at]);
        if most(&crystal.free[HIGH]) <= least_liquid {
            return Some(Presence::Absent);
        }
        // Newton's method on 1/Σ n K q, which is concave in σ, never passes the root.
        let newton = |sigma: f64, inside: f64, held: f64, falls: f64, liquid: f64| {
            if falls > 0.0 { sigma + held * (inside * held / liquid - 1.0) / falls } else { 0.0 }
        };
        let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
        for lane in 0..CORNERS {
            let (held, falls) = (middle.sums.held[lane], middle.falls.held[lane]);
            low = low.min(newton(middle.sigma, crystal.inside[LOW], held, falls, most_liquid));
            high = high.max(newton(middle.sigma, crystal.inside[LOW], held, falls, least_liquid));
        }
        let low =
            if least(&crystal.free[LOW]) > most_liquid { (low * (1.0 - ROUNDING)).max(0.0) } else { 0.0 };
        let mut end = self.hull.sums(crystal, low, HIGH);
        let ends_low = end;
        high = high + 0.1 * (high - middle.sigma).abs() + 1e-9 * high;
        let inside = crystal.inside[HIGH];
        for _ in 0..REACHES {
            high = high.max(low);
            end = self.hull.sums(crystal, high, HIGH);
            // The sum falls with σ: here it must have fallen to L.
            if inside * most(&end.held) <= least_liquid {
                return Some(Presence::Within { sigmas: [low, high], ends: [ends_low, end] });
            }
            let falls = self.hull.falls(crystal, high, HIGH);
            let next = (0..CORNERS)
                .map(|lane| newton(high, inside, end.held[lane], falls.held[lane], least_liquid))
                .fold(high, f64::max);
            high = next + 0.2 * (next - high) + 1e-9 * next;
            if !high.is_finite() {
                return None;
            }
        }
        None
    }

    /// A bound on the dissolved moles at this much liquid: from below for [`LOW`], from above for [`HIGH`]. It is extreme at
    /// corners.
    fn dissolved(&self, liquid: f64, side: usize) -> Lanes {
        let mut sum = self.hull.inert;
        for ((crystal, middle), presence) in self.hull.crystals.iter().zip(&self.middles).zip(&self.presences)
        {
            let Presence::Within { sigmas, ends } = presence else {
                for (sum, moles) in sum.iter_mut().zip(crystal.moles) {
                    *sum += moles;
                }
                continue;
            };
            let beta = middle.beta;
            if side == LOW {
                let inside = crystal.inside[HIGH];
                for lane in 0..CORNERS {
                    let moles = crystal.moles[lane];
                    let of = |sums: &Sums| {
                        (1.0 - inside) * moles + inside * (sums.dissolved[lane] + beta * sums.held[lane])
                            - beta * liquid
                    };
                    let found = of(&ends[0]).min(of(&ends[1]));
                    sum[lane] += if sigmas[0] > 0.0 { found } else { found.min(moles) };
                }
            } else {
                let inside = crystal.inside[LOW];
                let reaches = sigmas.map(|sigma| reach(middle.sigma, sigma, middle.pivot));
                for lane in 0..CORNERS {
                    let value = middle.sums.dissolved[lane] + beta * middle.sums.held[lane];
                    let slope = middle.falls.dissolved[lane] + beta * middle.falls.held[lane];
                    let off = (slope * reaches[0]).max(slope * reaches[1]);
                    sum[lane] +=
                        (1.0 - inside) * crystal.moles[lane] + inside * (value + off) - beta * liquid;
                }
            }
        }
        sum
    }

    /// The least and the most of the weighted solids, in mass.
    fn solids(&self) -> Option<(f64, f64)> {
        let mut ratios = Vec::with_capacity(self.middles.len());
        let (mut rate, mut pull) = (0.0, 0.0);
        for (middle, presence) in self.middles.iter().zip(&self.presences) {
            let held = self.hull.mean(&middle.falls.held);
            let counts = matches!(presence, Presence::Within { .. }) && middle.sigma > 0.0 && held > 0.0;
            let of = |lanes: &Lanes| if counts { self.hull.mean(lanes) / held } else { 0.0 };
            let ratio = (of(&middle.falls.dissolved), of(&middle.falls.weighed));
            rate += ratio.0;
            pull += ratio.1;
            ratios.push(ratio);
        }
        if 1.0 - rate < 1e-3 {
            return None;
        }
        let alpha = -pull / (1.0 - rate);
        let mut low = self.hull.inert.map(|moles| alpha * moles);
        let mut high = low;
        let families = self.hull.crystals.iter().zip(&self.middles).zip(&self.presences).zip(ratios);
        for (((crystal, middle), presence), ratio) in families {
            let Presence::Within { sigmas, ends } = presence else {
                for lane in 0..CORNERS {
                    low[lane] += alpha * crystal.moles[lane];
                    high[lane] += alpha * crystal.moles[lane];
                }
                continue;
            };
            // Standing still, where it is present: α Σ n K q² + β Σ n K² q² = Σ w n K q².
            let beta = if ratio.0 > 0.0 { ratio.1 - alpha * ratio.0 } else { 0.0 };
            let pivot =
                if beta > 0.0 { (ratio.1 / ratio.0 - alpha) / beta } else { self.hull.most_k(crystal) };
            let span = [sigmas[0], middle.sigma, sigmas[1]];
            let gaps = if crystal.fixed {
                [self.hull.concave(crystal, (alpha, beta), pivot, span, LOW); 2]
            } else {
                [LOW, HIGH].map(|end| self.hull.concave(crystal, (alpha, beta), pivot, span, end))
            };
            let reaches = sigmas.map(|sigma| reach(middle.sigma, sigma, pivot));
            for lane in 0..CORNERS {
                let sum = |inside: f64, sums: &Sums| {
                    let part = alpha * sums.dissolved[lane] + beta * sums.held[lane] - sums.weighed[lane];
                    inside * (crystal.weighed[lane] + part) + (1.0 - inside) * alpha * crystal.moles[lane]
                };
                let (falls, inside) = (&middle.falls, crystal.inside[LOW]);
                let slope =
                    inside * (alpha * falls.dissolved[lane] + beta * falls.held[lane] - falls.weighed[lane]);
                let off = (slope * reaches[0]).min(slope * reaches[1]);
                low[lane] += sum(inside, &middle.sums) + off - inside * gaps[LOW][lane];
                let inside = crystal.inside[HIGH];
                let mut found = sum(inside, &ends[0]).max(sum(inside, &ends[1])) + inside * gaps[HIGH][lane];
                if sigmas[0] <= 0.0 {
                    found = found.max(alpha * crystal.moles[lane] + beta * self.most_liquid);
                }
                high[lane] += found;
            }
        }
        Some((least(&low), most(&high)))
    }
}
