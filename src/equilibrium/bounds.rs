//! Bounds on the solids of every mixture between some corners, from one state solved among them.
//!
//! With q_i = 1/(1 + σ_k K_i), every state obeys Σ n_i q_i = L over the whole and Σ_{i in k} n_i K_i q_i = L in each family that
//! is present. For any multipliers α and β_k with α + Σ β_k = 0, a weighted sum of the solids is therefore
//!
//! Σ M_i n_i (1 − q_i) = α n_inert + Σ_k Σ_i n_i [M_i + (α + β_k K_i − M_i) q_i(σ_k)],
//!
//! which is linear in the amounts once σ is held, and stands still in each σ_k where the multipliers are those of the state:
//! whatever σ_k is within an interval of half-width r, it is off by the order of r². Intervals of σ_k follow from one of L,
//! because at a given L each family is alone; and an interval of L is proven by the sign of the concave F(L) at its ends. No
//! monotony of the solids in the composition is assumed: with solid solutions there is none. Where K depends on the composition
//! (corrections, disorder), an interval of K takes its place; all the sums are monotone in K, as said beside each.
//!
//! A family that is absent has Σ n_i K_i ≤ L instead; what that adds to a side is added.

use super::{
    SolidsByKind,
    hull::{CORNERS, HIGH, Hull, LOW, Parts, ROUNDING, Sigma},
    isotherm::{View, mix},
};

/// How far an interval of L may be widened, each time by 2, before giving up.
const WIDENINGS: u32 = 3;

/// How a family is found over a region.
#[derive(Clone, Copy)]
enum Presence {
    /// Nowhere.
    Absent,
    /// Everywhere, as a pure crystal: it holds all but L/K of its moles.
    Pure,
    /// With σ within an interval, which begins at 0 where it may be absent.
    Within(Sigma),
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
        let corners = &corners[..corners.len().min(CORNERS)];
        if corners.is_empty() {
            return None;
        }
        let share = 1.0 / corners.len() as f64;
        let mut centre = [0.0; 3];
        for corner in corners {
            for (sum, value) in centre.iter_mut().zip(corner) {
                *sum += share * value;
            }
        }
        let phases = self.phases(&centre);
        if phases.liquid <= 0.0 || phases.certificate.is_nan() || phases.certificate > 1e-6 {
            return None;
        }
        let hull = Hull::new(self, corners)?;
        let (presences, most_liquid) = hull.presences(phases.liquid)?;
        let (low, high) = hull.weighted(&presences, most_liquid, weights)?;
        let (mass, dust) = (hull.over(&self.mass), hull.over(&self.powder));
        let slack = ROUNDING * (low.abs() + high.abs()) + 1e-9 * mass.1;
        let low = 100.0 * ((low - slack).max(0.0) + powder * dust.0) / mass.1;
        let high = 100.0 * (high + slack + powder * dust.1) / mass.0;
        (low.is_finite() && high.is_finite() && low <= high).then_some((low, high))
    }
}

impl Hull<'_> {
    /// How a family is found at this much liquid, as far as can be said without looking for σ.
    fn plain(&self, crystal: usize, least_liquid: f64, most_liquid: f64) -> Option<Presence> {
        let family = &self.families[crystal];
        if family.free[HIGH] <= least_liquid {
            return Some(Presence::Absent);
        }
        let pure = family.fixed && self.view.crystals[crystal].0.len() == 1;
        (pure && family.free[LOW] > most_liquid).then_some(Presence::Pure)
    }

    /// The least and the most over the corners of sums kept apart by corner and end, with `parts` added to each.
    fn gather(&self, parts: &Parts, sums: &[[f64; CORNERS]; 2]) -> (f64, f64) {
        let mut found = (f64::INFINITY, f64::NEG_INFINITY);
        for (at, corner) in self.corners.iter().enumerate() {
            let value = mix(parts, corner);
            found = (found.0.min(value + sums[LOW][at]), found.1.max(value + sums[HIGH][at]));
        }
        found
    }

    /// The least and the most of F(L) over the region, with the ends of σ at that L.
    fn excess(&self, liquid: f64) -> Option<(f64, f64, Vec<Sigma>)> {
        let mut parts = self.view.inert;
        let mut sums = [[0.0; CORNERS]; 2];
        let mut fixed = 0.0;
        let mut sigmas = vec![Sigma::default(); self.families.len()];
        for (crystal, found) in sigmas.iter_mut().enumerate() {
            match self.plain(crystal, liquid, liquid) {
                Some(Presence::Absent) => {
                    for (sum, moles) in parts.iter_mut().zip(&self.families[crystal].moles) {
                        *sum += moles;
                    }
                    continue;
                }
                Some(_) => {
                    fixed += liquid / self.k[LOW][self.view.crystals[crystal].0.start];
                    // Only that it is present counts; see `presences`.
                    *found = Sigma { low: f64::INFINITY, high: f64::INFINITY };
                    continue;
                }
                None => {}
            }
            let start = self.view.sigma[crystal];
            let high = self.root(crystal, liquid, HIGH, start)?;
            let low = self.root(crystal, liquid, LOW, start)?.min(high);
            let sigma = Sigma { low, high };
            *found = sigma;
            let pull = self.pull(crystal, sigma.middle(), None);
            let beta = if pull.stiffness > 0.0 { -pull.dissolves / pull.stiffness } else { 0.0 };
            let short = -beta * self.shortfall(crystal, sigma, liquid);
            for end in [LOW, HIGH] {
                let terms = self.terms(crystal, sigma, 1.0, beta, None, end);
                let absent = if end == LOW { short } else { 0.0 };
                for (sum, corner) in sums[end].iter_mut().zip(self.corners) {
                    *sum += Self::at_corner(&terms, corner, end) - beta * liquid - absent;
                }
            }
        }
        let (low, high) = self.gather(&parts, &sums);
        Some((low + fixed - liquid, high + fixed - liquid, sigmas))
    }

    /// How each family is found over the region, and the most liquid, from an interval of L that is proven.
    fn presences(&self, liquid: f64) -> Option<(Vec<Presence>, f64)> {
        // First a guess at F over the corners, with every σ as it is at the centre.
        let mut parts = self.view.inert;
        let (mut fixed, mut rate) = (0.0, 0.0);
        for (crystal, (range, _)) in self.view.crystals.iter().enumerate() {
            let sigma = self.view.sigma[crystal];
            let pull = self.pull(crystal, sigma, None);
            let beta =
                if sigma > 0.0 && pull.stiffness > 0.0 { -pull.dissolves / pull.stiffness } else { 0.0 };
            rate -= beta;
            fixed -= beta * liquid;
            for at in range.clone() {
                let k = self.view.k[at];
                let dissolved = (1.0 + beta * k) / (1.0 + sigma * k);
                for (sum, moles) in parts.iter_mut().zip(&self.view.moles[at]) {
                    *sum += moles * dissolved;
                }
            }
        }
        let slope = 1.0 - rate;
        if slope < 1e-3 {
            return None;
        }
        let (least, most) = self.over(&parts);
        let tiny = 1e-5 * liquid;
        let mut below = (-1.1 * (least + fixed - liquid) / slope).max(0.0) + tiny;
        let mut above = (1.1 * (most + fixed - liquid) / slope).max(0.0) + tiny;
        for _ in 0..WIDENINGS {
            if liquid - below <= 0.0 {
                return None;
            }
            let (low, _, of_least) = self.excess(liquid - below)?;
            let (_, high, of_most) = self.excess(liquid + above)?;
            if low > ROUNDING * liquid && high < -ROUNDING * liquid {
                // Less liquid, more crystal: the greatest σ belong to the least L.
                let presences = of_least.iter().zip(&of_most).enumerate().map(|(crystal, (least, most))| {
                    self.plain(crystal, liquid - below, liquid + above)
                        .map_or_else(|| self.within(crystal, liquid - below, least, most), Some)
                });
                return Some((presences.collect::<Option<_>>()?, liquid + above));
            }
            // As far again as it fell short, and a bit.
            if low <= ROUNDING * liquid {
                below += (-1.5 * low / slope).max(below);
            }
            if high >= -ROUNDING * liquid {
                above += (1.5 * high / slope).max(above);
            }
        }
        None
    }

    /// The interval of σ from its ends at the least and the most liquid.
    fn within(&self, crystal: usize, least_liquid: f64, least: &Sigma, most: &Sigma) -> Option<Presence> {
        let high = if least.high.is_finite() {
            least.high
        } else {
            // A pure crystal that is certain at the least liquid but not at the most.
            self.root(crystal, least_liquid, HIGH, 0.0)?
        };
        Some(Presence::Within(Sigma { low: most.low.min(high), high }))
    }

    /// The least and the most of the weighted solids, in mass.
    fn weighted(
        &self,
        presences: &[Presence],
        most_liquid: f64,
        weights: &SolidsByKind,
    ) -> Option<(f64, f64)> {
        let mut ratios = Vec::with_capacity(presences.len());
        let (mut rate, mut sum) = (0.0, 0.0);
        for (crystal, presence) in presences.iter().enumerate() {
            let ratio = match presence {
                Presence::Absent => (0.0, 0.0),
                Presence::Pure => {
                    let at = self.view.crystals[crystal].0.start;
                    (1.0 / self.view.k[at], self.view.weight(at, weights) / self.view.k[at])
                }
                Presence::Within(sigma) => {
                    let pull = self.pull(crystal, sigma.middle(), Some(weights));
                    if pull.stiffness > 0.0 {
                        (pull.dissolves / pull.stiffness, pull.weight / pull.stiffness)
                    } else {
                        (0.0, 0.0)
                    }
                }
            };
            rate += ratio.0;
            sum += ratio.1;
            ratios.push(ratio);
        }
        if 1.0 - rate < 1e-3 {
            return None;
        }
        let alpha = -sum / (1.0 - rate);
        let mut parts = self.view.inert.map(|moles| alpha * moles);
        let mut sums = [[0.0; CORNERS]; 2];
        for (crystal, presence) in presences.iter().enumerate() {
            match presence {
                Presence::Absent => {
                    for (sum, moles) in parts.iter_mut().zip(&self.families[crystal].moles) {
                        *sum += alpha * moles;
                    }
                }
                Presence::Pure => {
                    let at = self.view.crystals[crystal].0.start;
                    for (sum, moles) in parts.iter_mut().zip(&self.view.moles[at]) {
                        *sum += self.view.weight(at, weights) * moles;
                    }
                }
                Presence::Within(sigma) => {
                    let beta = ratios[crystal].1 - alpha * ratios[crystal].0;
                    let short = beta * self.shortfall(crystal, *sigma, most_liquid);
                    for end in [LOW, HIGH] {
                        let terms = self.terms(crystal, *sigma, alpha, beta, Some(weights), end);
                        let absent = if end == HIGH { short } else { 0.0 };
                        for (sum, corner) in sums[end].iter_mut().zip(self.corners) {
                            *sum += Self::at_corner(&terms, corner, end) + absent;
                        }
                    }
                }
            }
        }
        Some(self.gather(&parts, &sums))
    }
}
