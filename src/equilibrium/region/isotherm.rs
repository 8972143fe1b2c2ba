//! A blend at one temperature, for a search that changes up to three of its ingredients many times.
//!
//! What cannot crystallise here is lumped with the liquid, exactly: a family whose members all melt below the temperature, with
//! every correction that the blend can bring, has Σ n_i K_i ≤ Σ n_i ≤ L and never appears.

use std::ops::Range;

use crate::equilibrium::{
    model::{Blend, kelvin},
    solve::SolidsByKind,
};
use crate::ordered::{greater, lesser, order};
use crate::substances::{Family, Kind, OuterChains};

/// A species that may crystallise at the temperature.
pub(super) struct Site {
    /// ΔH/R, K.
    pub(super) slope: f64,
    melting_k: f64,
    pub(super) molar_mass: f64,
    pub(super) kind: Kind,
    /// K of the pure crystal, nothing corrected.
    pub(super) plain: f64,
    /// The greatest K that the blend's corrections can give it.
    hottest: f64,
}

/// What decides the correction of a family: sums over its members, per gram of an ingredient.
#[derive(Clone, Copy, Default)]
pub(super) struct Totals {
    pub(super) moles: f64,
    /// Σ n K with every K at its [`Site::hottest`].
    pub(super) hottest: f64,
    pub(super) shift: f64,
    pub(super) excess: f64,
    /// Of a family that can be disordered.
    pub(super) outer: OuterChains,
}

impl Totals {
    /// The fixed part and so much of each changing ingredient.
    pub(super) fn mix(parts: &[Totals; 4], amounts: &[f64; 3]) -> Totals {
        let mut sum = parts[0];
        for (amount, part) in amounts.iter().zip(&parts[1..]) {
            sum.add(*amount, part);
        }
        sum
    }

    pub(super) fn add(&mut self, amount: f64, more: &Totals) {
        self.moles += amount * more.moles;
        self.hottest += amount * more.hottest;
        self.shift += amount * more.shift;
        self.excess += amount * more.excess;
        if more.outer.are_any() {
            self.outer.add(amount, &more.outer);
        }
    }

    /// Whether they change what the family melts at, whatever the amounts.
    pub(super) fn correct(&self) -> bool {
        self.shift != 0.0 || self.excess != 0.0 || self.outer.are_any()
    }

    /// The correction of a family that holds so much.
    pub(super) fn adjustment(&self, family: Family) -> Adjustment {
        if self.moles <= 0.0 {
            return Adjustment::default();
        }
        let disorder = family.disorder(self.outer);
        Adjustment {
            shift_k: self.shift / self.moles - disorder.lowering_k,
            excess: self.excess / self.moles,
            left_out: disorder.left_out,
        }
    }
}

/// A correction of a family: what it does to each member.
#[derive(Clone, Copy, Default, PartialEq)]
pub(super) struct Adjustment {
    /// K, added to the melting points.
    pub(super) shift_k: f64,
    /// Factor on the enthalpies, less one.
    pub(super) excess: f64,
    /// The share that stays liquid.
    pub(super) left_out: f64,
}

/// An ingredient at the temperature, per gram.
pub(super) struct Column {
    pub(super) moles: Vec<(usize, f64)>,
    pub(super) inert: f64,
    pub(super) powder: f64,
    pub(super) mass: f64,
    /// By place in [`Isotherm::crystals`].
    pub(super) totals: Vec<(usize, Totals)>,
}

/// A blend at one temperature.
pub struct Isotherm {
    kelvin: f64,
    pub(super) sites: Vec<Site>,
    /// Where each crystal lies in `sites`, and its family.
    pub(super) crystals: Vec<(Range<usize>, Family)>,
    pub(super) columns: Vec<Column>,
}

impl Isotherm {
    /// The blend at a temperature, °C, with settled crystals, whatever its state.
    pub fn new(blend: &Blend, celsius: f64) -> Isotherm {
        let kelvin = kelvin(celsius);
        // Means over ingredients, of which some may bring no correction.
        let extremes = |family: Family| {
            let corrections = blend.columns.iter().flat_map(|column| &column.corrections);
            let (mut warmest, mut excess) = (0.0, [0.0, 0.0]);
            for correction in corrections.filter(|it| it.family == family) {
                let factor = correction.enthalpy_factor - 1.0;
                warmest = greater(warmest, correction.shift_k);
                excess = [lesser(excess[0], factor), greater(excess[1], factor)];
            }
            (warmest, excess)
        };
        let melts = |at: usize| {
            let member = &blend.species[at];
            member.settled.melting_k + extremes(member.crystal.family).0 <= kelvin
        };
        let family = |at: usize| blend.species[at].crystal.family;
        let order = order(blend.species.len(), &|a, b| family(a).cmp(&family(b)));
        let mut kept: Vec<Vec<usize>> = Vec::new();
        for at in order {
            let family = blend.species[at].crystal.family;
            match kept.last_mut() {
                Some(last) if family != Family::Own && blend.species[last[0]].crystal.family == family => {
                    last.push(at)
                }
                _ => kept.push(vec![at]),
            }
        }
        kept.retain(|members| !members.iter().all(|at| melts(*at)));
        let mut isotherm = Isotherm { kelvin, sites: Vec::new(), crystals: Vec::new(), columns: Vec::new() };
        let mut place = vec![None; blend.species.len()];
        for members in kept {
            let start = isotherm.sites.len();
            let family = blend.species[members[0]].crystal.family;
            let (warmest, excess) = extremes(family);
            for at in members {
                place[at] = Some(isotherm.sites.len());
                let member = &blend.species[at];
                let slope = member.settled.enthalpy_j_mol / crate::substances::GAS_CONSTANT;
                let mut site = Site {
                    slope,
                    melting_k: member.settled.melting_k,
                    molar_mass: member.molar_mass,
                    kind: member.kind,
                    plain: 0.0,
                    hottest: 0.0,
                };
                site.plain = site.distribution(&Adjustment::default(), kelvin);
                site.hottest = site.plain;
                // K rises with the shift, and ln K is straight in the excess; disorder only lowers it.
                for excess in excess {
                    let adjustment = Adjustment { shift_k: warmest, excess, left_out: 0.0 };
                    site.hottest = greater(site.hottest, site.distribution(&adjustment, kelvin));
                }
                isotherm.sites.push(site);
            }
            isotherm.crystals.push((start..isotherm.sites.len(), family));
        }
        isotherm.columns = (0..blend.columns.len()).map(|at| isotherm.column(blend, at, &place)).collect();
        isotherm
    }

    fn column(&self, blend: &Blend, at: usize, place: &[Option<usize>]) -> Column {
        let column = &blend.columns[at];
        let mut found = Column {
            moles: Vec::new(),
            inert: column.liquid.0,
            powder: column.powder,
            mass: column.liquid.1 + column.powder,
            totals: Vec::new(),
        };
        for (species, moles) in &column.moles_per_gram {
            let member = &blend.species[*species];
            found.mass += moles * member.molar_mass;
            let Some(site) = place[*species] else {
                found.inert += moles;
                continue;
            };
            found.moles.push((site, *moles));
            let Some(at) = self.crystals.iter().position(|(range, _)| range.contains(&site)) else {
                continue;
            };
            let hottest = moles * self.sites[site].hottest;
            let mut more = Totals { moles: *moles, hottest, ..Totals::default() };
            if member.crystal.family.is_disordered() {
                more.outer.add(*moles, &member.crystal.outer);
            }
            for correction in column.corrections.iter().filter(|it| it.family == member.crystal.family) {
                more.shift += moles * correction.shift_k;
                more.excess += moles * (correction.enthalpy_factor - 1.0);
            }
            match found.totals.iter_mut().find(|(crystal, _)| *crystal == at) {
                Some((_, totals)) => totals.add(1.0, &more),
                None => found.totals.push((at, more)),
            }
        }
        found
    }

    /// Adds a mixture of the ingredients, in these amounts, as one more ingredient: what is in a batch that is made. It comes after
    /// the others.
    pub fn merge(&mut self, amounts: &[f64]) {
        let sum: f64 = amounts.iter().sum();
        let mut merged = Column { moles: Vec::new(), inert: 0.0, powder: 0.0, mass: 0.0, totals: Vec::new() };
        let mut moles = vec![0.0; self.sites.len()];
        let mut totals = vec![Totals::default(); self.crystals.len()];
        for (column, amount) in self.columns.iter().zip(amounts).filter(|(_, amount)| **amount > 0.0) {
            let share = amount / sum;
            merged.inert += share * column.inert;
            merged.powder += share * column.powder;
            merged.mass += share * column.mass;
            for (site, more) in &column.moles {
                moles[*site] += share * more;
            }
            for (crystal, more) in &column.totals {
                totals[*crystal].add(share, more);
            }
        }
        merged.moles = moles.into_iter().enumerate().filter(|(_, moles)| *moles > 0.0).collect();
        merged.totals = totals.into_iter().enumerate().filter(|(_, totals)| totals.moles > 0.0).collect();
        self.columns.push(merged);
    }
}

impl Isotherm {
    /// What a mole of solid counts for, by site.
    pub(crate) fn worth(&self, weights: &SolidsByKind) -> Vec<f64> {
        self.sites.iter().map(|site| site.weight(weights)).collect()
    }

    /// K of a site under a correction.
    pub(super) fn distribution(&self, site: usize, adjustment: &Adjustment) -> f64 {
        let site = &self.sites[site];
        if adjustment.shift_k == 0.0 && adjustment.excess == 0.0 {
            return site.plain;
        }
        site.distribution(adjustment, self.kelvin)
    }

    /// The same within [`ABOUT`], and several times faster.
    pub(super) fn distribution_about(&self, site: usize, adjustment: &Adjustment) -> f64 {
        let it = &self.sites[site];
        let exponent = it.slope * adjustment.shift_k / (it.melting_k * (it.melting_k + adjustment.shift_k));
        if adjustment.excess == 0.0 && exponent.abs() <= 2.0 {
            it.plain * small_exp(exponent)
        } else {
            self.distribution(site, adjustment)
        }
    }
}

impl Isotherm {
    /// How ln K of a site rises with the shift, per K, and with the excess.
    pub(super) fn distribution_slopes(&self, site: usize, adjustment: &Adjustment) -> (f64, f64) {
        let it = &self.sites[site];
        let melting_k = it.melting_k + adjustment.shift_k;
        let by_shift = it.slope * (1.0 + adjustment.excess) / (melting_k * melting_k);
        (by_shift, it.slope * (1.0 / self.kelvin - 1.0 / melting_k))
    }
}

/// The relative error of [`Isotherm::distribution_about`], at most.
pub(super) const ABOUT: f64 = 1e-5;

const THIRD: f64 = 1.0 / 3.0;

/// e^x for |x| ≤ 2. With y = x/16 at most 1/8, five terms leave y⁵/120 or less, 3.3e-7 of the sum, and the sixteenth power 16 times
/// as much.
#[inline(always)]
fn small_exp(x: f64) -> f64 {
    let y = x * 0.0625;
    let power = 1.0 + y * (1.0 + 0.5 * y * (1.0 + THIRD * y * (1.0 + 0.25 * y)));
    let power = power * power;
    let power = power * power;
    let power = power * power;
    power * power
}

impl Site {
    /// What a mole of solid counts for.
    pub(super) fn weight(&self, weights: &SolidsByKind) -> f64 {
        weights.of(self.kind) * self.molar_mass
    }

    /// K under a correction of its family.
    fn distribution(&self, adjustment: &Adjustment, kelvin: f64) -> f64 {
        let slope = self.slope * (1.0 + adjustment.excess);
        libm::exp((slope / kelvin - slope / (self.melting_k + adjustment.shift_k)).clamp(-600.0, 600.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_power_is_within_its_error() {
        for step in -200..=200 {
            let x = f64::from(step) * 0.01;
            assert!((small_exp(x) / libm::exp(x) - 1.0).abs() <= 0.6 * ABOUT, "{x}");
        }
    }
}
