//! How a figure moves with the amount of every ingredient of a blend, from one state: a model to search by,
//! not a bound.
//!
//! The weighted sum of solids that [`bounds`](super::bounds) are made of stands still in every σ at the
//! state's own multipliers, so its direct derivative by an amount is the whole one: a mole of a solute whose
//! phase is present adds w + (α + βK − w) q, and anything else adds α. What an ingredient brings to a phase
//! that is absent dissolves until Σ n K reaches L, which is taken to stay where it is, and adds βΣ n K from
//! there on.

use super::{
    affine::{Amounts, value},
    section::{Contribution, Weighting},
    slice::sums_at,
    view::View,
};
use crate::{
    equilibrium::{
        model::{CorrectionSums, PhaseCorrection},
        solve::PhaseSums,
    },
    substances::Family,
};

/// How many phases that are absent now an ingredient may bring in before the rest is left out of the model.
const MOST_BENDS: usize = 3;

/// The amount of an ingredient, g of some 100, over which the slope of a correction is taken by difference.
const DIFFERENCE: f64 = 1e-3;

/// What a figure gains as an ingredient is added.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slope {
    /// Percent by mass per percent of the mixture.
    first: f64,
    /// Pairs of an amount, percent, and the slope that is added from it on.
    bends: [(f64, f64); MOST_BENDS],
}

impl Slope {
    /// The gain of a change, percent for percent.
    pub(crate) fn gain(&self, change: f64) -> f64 {
        let mut gain = self.first * change;
        for (from, more) in &self.bends {
            if change <= *from {
                break;
            }
            gain += more * (change - from);
        }
        gain
    }

    /// Takes up a bend, if it is among the first.
    fn bend(&mut self, mut bend: (f64, f64)) {
        for place in &mut self.bends {
            if bend.0 < place.0 {
                std::mem::swap(place, &mut bend);
            }
        }
    }
}

/// A phase of the section in the state that was solved.
#[derive(Clone, Copy, Default)]
struct Balance {
    /// 0 where it is absent.
    sigma: f64,
    /// Σ n K q, moles.
    saturated: f64,
    /// Its multiplier.
    beta: f64,
    sums: CorrectionSums,
    correction: PhaseCorrection,
    /// What the weighted sum gains with the shift, per K, with the excess and with the share left out.
    by_correction: [f64; 3],
}

impl View {
    /// The slope of a figure in every ingredient, once [`View::at`] was solved at `amounts`.
    pub(crate) fn slopes(&self, amounts: &Amounts, weighting: &Weighting) -> Vec<Slope> {
        let (alpha, balances) = self.balances(amounts, weighting);
        // What a mole of each solute adds.
        let mut adds = vec![alpha; self.section.solutes.len()];
        let phases = self.section.phases.iter().zip(&balances);
        for (phase, balance) in phases.filter(|(_, balance)| balance.sigma > 0.0) {
            let inside = 1.0 - balance.correction.left_out;
            for solute in phase.members.clone() {
                let k = self.section.k_about(solute, &balance.correction);
                let weight = weighting.solutes[solute];
                let pull = alpha + balance.beta * k - weight;
                adds[solute] += inside * (weight + pull / (1.0 + balance.sigma * k) - alpha);
            }
        }
        let sum = 0.01 * self.weighted(amounts, weighting);
        let per_mass = 100.0 / value(&self.slice.mass, amounts);
        let slope = |ingredient: &Contribution| {
            let mut first =
                alpha * ingredient.solvent + weighting.powder * ingredient.powder - sum * ingredient.mass;
            for (solute, moles) in &ingredient.moles {
                first += moles * adds[*solute];
            }
            let mut slope = Slope { first, bends: [(f64::INFINITY, 0.0); MOST_BENDS] };
            for (phase, brought) in &ingredient.phases {
                let balance = &balances[*phase];
                if balance.sigma > 0.0 {
                    slope.first += balance.corrected(self.section.phases[*phase].family, &brought.sums);
                } else {
                    let liquid_left = (self.solved.liquid.unwrap_or(0.0) - balance.saturated).max(0.0);
                    slope.bend(self.onset(ingredient, *phase, &brought.sums, liquid_left, alpha, weighting));
                }
            }
            slope.first *= per_mass;
            for (_, more) in &mut slope.bends {
                *more *= per_mass;
            }
            slope
        };
        self.section.ingredients.iter().map(slope).collect()
    }

    /// The multiplier of the liquid, and the phases of the section with theirs.
    fn balances(&self, amounts: &Amounts, weighting: &Weighting) -> (f64, Vec<Balance>) {
        let (gathered, solved) = (&self.gathered, &self.solved);
        let mut balances = vec![Balance::default(); self.section.phases.len()];
        let mut ratios = vec![(0.0, 0.0); gathered.phases.len()];
        let (mut rate, mut pull) = (0.0, 0.0);
        for (at, members) in gathered.phases.iter().enumerate() {
            let balance = &mut balances[gathered.places[at]];
            let sigma = solved.sigma[at];
            let (moles, k) = (&solved.moles[members.clone()], &solved.k[members.clone()]);
            let sums = PhaseSums::at(sigma, moles, k);
            balance.saturated = sums.saturated;
            if sigma > 0.0 && sums.saturated_fall > 0.0 {
                let mut weighted_fall = 0.0;
                for ((moles, k), solute) in moles.iter().zip(k).zip(&gathered.solutes[members.clone()]) {
                    let q = 1.0 / (1.0 + sigma * k);
                    weighted_fall += weighting.solutes[*solute] * (moles * (k * q)) * q;
                }
                balance.sigma = sigma;
                balance.sums = match &gathered.sums[at] {
                    Some(sums) => sums_at(sums, amounts),
                    None => CorrectionSums { moles: moles.iter().sum(), ..CorrectionSums::default() },
                };
                balance.correction = self.correction(at, amounts);
                ratios[at] = (sums.dissolved_fall / sums.saturated_fall, weighted_fall / sums.saturated_fall);
                rate += ratios[at].0;
                pull += ratios[at].1;
            }
        }
        let alpha = if rate < 1.0 { -pull / (1.0 - rate) } else { 0.0 };
        for (at, members) in gathered.phases.iter().enumerate() {
            let balance = &mut balances[gathered.places[at]];
            if balance.sigma <= 0.0 {
                continue;
            }
            balance.beta = ratios[at].1 - alpha * ratios[at].0;
            let Balance { sigma, beta, correction, by_correction, .. } = balance;
            for place in members.clone() {
                let (moles, k, solute) = (solved.moles[place], solved.k[place], gathered.solutes[place]);
                let weight = weighting.solutes[solute];
                let q = 1.0 / (1.0 + *sigma * k);
                let pull = alpha + *beta * k - weight;
                let by_log_k = moles * k * (*beta * q - *sigma * pull * q * q);
                let (by_shift, by_excess) = self.section.log_k_slopes(solute, correction);
                by_correction[0] += by_log_k * by_shift;
                by_correction[1] += by_log_k * by_excess;
                by_correction[2] += moles / (1.0 - correction.left_out) * (alpha - weight - pull * q);
            }
        }
        (alpha, balances)
    }

    /// From which amount on an ingredient makes a phase present that is absent, given how many moles of
    /// liquid it could still saturate, and what each unit then adds besides.
    fn onset(
        &self,
        ingredient: &Contribution,
        phase: usize,
        brought: &CorrectionSums,
        liquid_left: f64,
        alpha: f64,
        weighting: &Weighting,
    ) -> (f64, f64) {
        let phase = &self.section.phases[phase];
        let own = brought.correction(phase.family);
        let (mut onset, mut fall, mut weighted) = (0.0, 0.0, 0.0);
        for (solute, moles) in ingredient.moles.iter().filter(|(solute, _)| phase.members.contains(solute)) {
            let k = self.section.k_about(*solute, &own);
            let part = moles * (1.0 - own.left_out) * k;
            onset += part;
            fall += part * k;
            weighted += part * (weighting.solutes[*solute] - alpha);
        }
        if fall <= 0.0 {
            return (f64::INFINITY, 0.0);
        }
        (liquid_left / onset, weighted / fall * onset)
    }
}

impl Balance {
    /// What the corrections that a gram of an ingredient brings add.
    fn corrected(&self, family: Family, brought: &CorrectionSums) -> f64 {
        let now = &self.correction;
        if *now == PhaseCorrection::default() && !brought.are_fitted() && !family.is_disordered() {
            return 0.0;
        }
        let mut more = self.sums;
        more.add(DIFFERENCE, brought);
        let then = more.correction(family);
        let gain = self.by_correction[0] * (then.net_shift_k() - now.net_shift_k())
            + self.by_correction[1] * (then.enthalpy_excess - now.enthalpy_excess)
            + self.by_correction[2] * (then.left_out - now.left_out);
        gain / DIFFERENCE
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::{
        equilibrium::{Blend, CrystalState, IsothermalSection, Part, SolidsByKind},
        recipe::Line,
        substances,
    };

    /// Against a difference of 0.001 g on either side, for what is there and for what only adds to families
    /// that are.
    #[test]
    fn a_slope_is_the_difference_that_a_little_more_makes() {
        let recipe = [
            ("shea-butter", 40.0),
            ("cocoa-butter", 20.0),
            ("coconut-oil", 20.0),
            ("sweet-almond-oil", 17.0),
            ("beeswax", 3.0),
        ];
        let lines = recipe.map(|(id, percent)| Line::of(substances::find(id).unwrap(), percent));
        let parts: Vec<Part<'_>> = lines.iter().map(Line::part).collect();
        let blend = Blend::new(&parts, CrystalState::Settled);
        let weights = SolidsByKind {
            triglyceride: 1.0,
            acid: 0.8,
            alcohol: 0.8,
            ester: 5.5,
            alkane: 3.5,
            mixed_ester: 1.2,
            beeswax_ester: 5.0,
            beeswax_alkane: 4.0,
            glyceride: 1.0,
            ..SolidsByKind::default()
        };
        for celsius in [10.0, 18.0, 25.0, 30.0] {
            let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, celsius)));
            let amounts = recipe.map(|(_, percent)| percent);
            let mut figure = |at: usize, more: f64| {
                view.load(&amounts, &[at]);
                let own = [amounts[at] + more, 0.0, 0.0];
                view.at(&own);
                let weighting = view.section().weighting(&weights, 0.0);
                (view.weighted(&own, &weighting), view.slopes(&own, &weighting))
            };
            for (at, (id, _)) in recipe.iter().enumerate() {
                let (less, _) = figure(at, -1e-3);
                let (more, _) = figure(at, 1e-3);
                let (_, slopes) = figure(at, 0.0);
                let (slope, difference) = (slopes[at].first, (more - less) / 2e-3);
                assert!(
                    (slope - difference).abs() < 1e-4 * (1.0 + difference.abs()),
                    "{id} at {celsius} °C: {slope}, by difference {difference}"
                );
            }
        }
    }

    #[test]
    fn bends_come_in_order() {
        let mut slope = Slope { first: 1.0, bends: [(f64::INFINITY, 0.0); MOST_BENDS] };
        for bend in [(4.0, 2.0), (1.0, 0.5), (9.0, 1.0), (2.0, 0.25)] {
            slope.bend(bend);
        }
        assert_eq!(slope.bends, [(1.0, 0.5), (2.0, 0.25), (4.0, 2.0)]);
        assert_eq!(slope.gain(-2.0), -2.0);
        assert_eq!(slope.gain(3.0), 3.0 + 0.5 * 2.0 + 0.25);
    }
}
