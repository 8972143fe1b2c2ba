//! How the solids move with the amount of every ingredient of a blend, from one state: a model to search by, not a bound.
//!
//! The weighted sum of `bounds.rs` stands still in every σ at the state's own multipliers, so its direct derivative by an amount is
//! the whole one: a mole of species i of a family that is present adds w + (α + βK − w) q, anything else α. What an ingredient
//! brings to a family that is absent dissolves until Σ n K reaches L, held where it is, and adds βΣ n K from there on.

use super::{
    isotherm::{Adjustment, Column, Totals},
    view::{View, mix},
};
use crate::substances::Family;

/// How many families that are absent now an ingredient may bring in before the rest is left out of the model.
const MOST_BENDS: usize = 3;

/// The amount by which a correction's slope is felt for, g of some 100.
const FEELER: f64 = 1e-3;

/// What a figure gains as an ingredient is added.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slope {
    /// Percent by mass per percent of the mixture.
    first: f64,
    /// From which amount on, in percent, how much more.
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

/// A family of the isotherm where the view was solved.
#[derive(Clone, Copy, Default)]
struct Crystal {
    /// 0 where it is absent.
    sigma: f64,
    /// Σ n K q, moles.
    held: f64,
    beta: f64,
    totals: Totals,
    adjustment: Adjustment,
    /// What the sum gains with the shift, K, with the excess and with the share left out.
    by: [f64; 3],
}

impl View {
    /// The slope of solids by [`Isotherm::worth`](super::Isotherm::worth) + `powder`·powder in every ingredient, once [`View::at`] was
    /// solved at `amounts`.
    pub(crate) fn slopes(&self, amounts: &[f64; 3], worth: &[f64], powder: f64) -> Vec<Slope> {
        let isotherm = self.isotherm();
        let (alpha, crystals) = self.multipliers(amounts, worth);
        // What a mole of each site adds.
        let mut adds = vec![alpha; isotherm.sites.len()];
        for ((range, _), crystal) in isotherm.crystals.iter().zip(&crystals).filter(|(_, it)| it.sigma > 0.0)
        {
            let inside = 1.0 - crystal.adjustment.left_out;
            for site in range.clone() {
                let k = isotherm.distribution_about(site, &crystal.adjustment);
                let weight = worth[site];
                let pull = alpha + crystal.beta * k - weight;
                adds[site] += inside * (weight + pull / (1.0 + crystal.sigma * k) - alpha);
            }
        }
        let sum = 0.01 * self.weighted(amounts, worth, powder);
        let per_mass = 100.0 / mix(&self.mass, amounts);
        let slope = |column: &Column| {
            let mut first = alpha * column.inert + powder * column.powder - sum * column.mass;
            for (site, moles) in &column.moles {
                first += moles * adds[*site];
            }
            let mut slope = Slope { first, bends: [(f64::INFINITY, 0.0); MOST_BENDS] };
            for (at, more) in &column.totals {
                let crystal = &crystals[*at];
                if crystal.sigma > 0.0 {
                    slope.first += crystal.felt(isotherm.crystals[*at].1, more);
                } else {
                    slope.bend(self.onset(column, *at, more, crystal.held, alpha, worth));
                }
            }
            slope.first *= per_mass;
            for (_, more) in &mut slope.bends {
                *more *= per_mass;
            }
            slope
        };
        isotherm.columns.iter().map(slope).collect()
    }

    /// The multiplier of the liquid, and the families with theirs.
    fn multipliers(&self, amounts: &[f64; 3], worth: &[f64]) -> (f64, Vec<Crystal>) {
        let mut crystals = vec![Crystal::default(); self.isotherm().crystals.len()];
        let mut ratios = vec![(0.0, 0.0); self.crystals.len()];
        let (mut rate, mut pull) = (0.0, 0.0);
        for (at, (range, _)) in self.crystals.iter().enumerate() {
            let crystal = &mut crystals[self.place(at)];
            let sigma = self.sigma[at];
            let (mut up, mut falls, mut weighed) = (0.0, 0.0, 0.0);
            for site in range.clone() {
                let q = 1.0 / (1.0 + sigma * self.k[site]);
                let kq = self.k[site] * q;
                let part = self.n[site] * kq;
                crystal.held += part;
                up += part * q;
                falls += part * kq;
                weighed += worth[self.sites[site]] * part * q;
            }
            if sigma > 0.0 && falls > 0.0 {
                crystal.sigma = sigma;
                crystal.totals = match self.totals(at) {
                    Some(totals) => Totals::mix(totals, amounts),
                    None => Totals { moles: self.n[range.clone()].iter().sum(), ..Totals::default() },
                };
                crystal.adjustment = self.adjustment(at, amounts);
                ratios[at] = (up / falls, weighed / falls);
                rate += ratios[at].0;
                pull += ratios[at].1;
            }
        }
        let alpha = if rate < 1.0 { -pull / (1.0 - rate) } else { 0.0 };
        for (at, (range, _)) in self.crystals.iter().enumerate() {
            let crystal = &mut crystals[self.place(at)];
            if crystal.sigma <= 0.0 {
                continue;
            }
            crystal.beta = ratios[at].1 - alpha * ratios[at].0;
            let Crystal { sigma, beta, adjustment, .. } = *crystal;
            for site in range.clone() {
                let (n, k, weight) = (self.n[site], self.k[site], worth[self.sites[site]]);
                let q = 1.0 / (1.0 + sigma * k);
                let pull = alpha + beta * k - weight;
                let by_k = n * k * (beta * q - sigma * pull * q * q);
                let by = self.isotherm().distribution_slopes(self.sites[site], &adjustment);
                crystal.by[0] += by_k * by.0;
                crystal.by[1] += by_k * by.1;
                crystal.by[2] += n / (1.0 - adjustment.left_out) * (alpha - weight - pull * q);
            }
        }
        (alpha, crystals)
    }

    /// From which amount on an ingredient makes a family present that is absent, and what each unit then adds besides.
    fn onset(
        &self,
        column: &Column,
        at: usize,
        more: &Totals,
        held_now: f64,
        alpha: f64,
        worth: &[f64],
    ) -> (f64, f64) {
        let isotherm = self.isotherm();
        let (range, family) = &isotherm.crystals[at];
        let own = more.adjustment(*family);
        let (mut held, mut falls, mut weighed) = (0.0, 0.0, 0.0);
        for (site, moles) in column.moles.iter().filter(|(site, _)| range.contains(site)) {
            let k = isotherm.distribution_about(*site, &own);
            let part = moles * (1.0 - own.left_out) * k;
            held += part;
            falls += part * k;
            weighed += part * (worth[*site] - alpha);
        }
        if falls <= 0.0 {
            return (f64::INFINITY, 0.0);
        }
        ((self.liquid() - held_now).max(0.0) / held, weighed / falls * held)
    }
}

impl Crystal {
    /// What the corrections that a gram of an ingredient brings add.
    fn felt(&self, family: Family, more: &Totals) -> f64 {
        let now = &self.adjustment;
        if *now == Adjustment::default() && more.shift == 0.0 && more.excess == 0.0 && !family.is_disordered()
        {
            return 0.0;
        }
        let mut felt = self.totals;
        felt.add(FEELER, more);
        let felt = felt.adjustment(family);
        let gain = self.by[0] * (felt.shift_k - now.shift_k)
            + self.by[1] * (felt.excess - now.excess)
            + self.by[2] * (felt.left_out - now.left_out);
        gain / FEELER
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::{
        equilibrium::{Blend, Isotherm, Part, SolidsByKind, State},
        recipe::Line,
        substances,
    };

    /// Against a difference of 0.001 g on either side, for what is there and for what only adds to families that are.
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
        let blend = Blend::new(&parts, State::Settled);
        let weights = SolidsByKind {
            triglyceride: 1.0,
            acid: 0.8,
            alcohol: 0.8,
            ester: 5.5,
            alkane: 3.5,
            mixed_ester: 1.2,
            glyceride: 1.0,
        };
        for celsius in [10.0, 18.0, 25.0, 30.0] {
            let mut view = Arc::new(Isotherm::new(&blend, celsius)).view();
            let amounts = recipe.map(|(_, percent)| percent);
            let mut figure = |at: usize, more: f64| {
                view.load(&amounts, &[at]);
                let own = [amounts[at] + more, 0.0, 0.0];
                view.at(&own);
                let worth = view.isotherm().worth(&weights);
                (view.weighted(&own, &worth, 0.0), view.slopes(&own, &worth, 0.0))
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
