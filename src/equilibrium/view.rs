//! An [`Isotherm`] with all but up to three amounts fixed: loaded by difference from the whole recipe, solved from where it was.

use std::{ops::Range, sync::Arc};

use super::{
    Equilibrium, SolidsByKind,
    isotherm::{Adjustment, Isotherm, Totals},
    solve::{self, Layout},
    state::SolidPart,
};
use crate::substances::Family;

/// How many steps [`View::near`] takes before the whole solver does it.
const NEAR_STEPS: u32 = 12;

/// How near is near: the last step takes it from here to the square.
const NEAR: f64 = 3e-3;

/// A whole mixture, summed.
#[derive(Clone, Default)]
struct Base {
    amounts: Vec<f64>,
    moles: Vec<f64>,
    totals: Vec<Totals>,
    inert: f64,
    powder: f64,
    mass: f64,
}

/// A sum from which a part is taken away again: what is left of nothing but that part is nothing.
const NOTHING_LEFT: f64 = 1e-12;

/// A blend at one temperature with all but up to three amounts fixed.
pub struct View {
    isotherm: Arc<Isotherm>,
    /// The mixture that was loaded last, whole.
    base: Base,
    /// Moles by site of the isotherm: of the fixed part, and per gram of each changing ingredient.
    dense: Vec<[f64; 4]>,
    /// Which of the isotherm's crystals those of the view are.
    places: Vec<usize>,
    /// σ of each of the isotherm's crystals when last solved.
    warm: Vec<f64>,
    /// Sites that the fixed or the changing ingredients bring.
    pub(super) sites: Vec<usize>,
    /// Where each crystal lies in `sites`, and its family.
    pub(super) crystals: Vec<(Range<usize>, Family)>,
    /// Moles by site: of the fixed part, and per gram of each changing ingredient.
    pub(super) moles: Vec<[f64; 4]>,
    pub(super) inert: [f64; 4],
    pub(super) powder: [f64; 4],
    pub(super) mass: [f64; 4],
    /// By crystal.
    pub(super) totals: Vec<[Totals; 4]>,
    /// Whether nothing is corrected in a crystal, whatever the amounts.
    pub(super) plain: Vec<bool>,
    pub(super) n: Vec<f64>,
    pub(super) k: Vec<f64>,
    pub(super) sigma: Vec<f64>,
    steps: Vec<(f64, f64)>,
    guess: Option<f64>,
}

impl Base {
    fn of(isotherm: &Isotherm, amounts: &[f64]) -> Base {
        let mut base = Base {
            amounts: amounts.to_vec(),
            moles: vec![0.0; isotherm.sites.len()],
            totals: vec![Totals::default(); isotherm.crystals.len()],
            ..Base::default()
        };
        for (column, amount) in isotherm.columns.iter().zip(amounts).filter(|(_, amount)| **amount > 0.0) {
            base.inert += amount * column.inert;
            base.powder += amount * column.powder;
            base.mass += amount * column.mass;
            for (site, moles) in &column.moles {
                base.moles[*site] += amount * moles;
            }
            for (crystal, more) in &column.totals {
                base.totals[*crystal].add(*amount, more);
            }
        }
        base
    }
}

impl Isotherm {
    /// An empty view, to be loaded.
    pub fn view(self: &Arc<Self>) -> View {
        View {
            isotherm: Arc::clone(self),
            base: Base::default(),
            dense: Vec::new(),
            places: Vec::new(),
            warm: vec![0.0; self.crystals.len()],
            sites: Vec::new(),
            crystals: Vec::new(),
            moles: Vec::new(),
            inert: [0.0; 4],
            powder: [0.0; 4],
            mass: [0.0; 4],
            totals: Vec::new(),
            plain: Vec::new(),
            n: Vec::new(),
            k: Vec::new(),
            sigma: Vec::new(),
            steps: Vec::new(),
            guess: None,
        }
    }
}

impl View {
    /// Takes up fixed amounts (those of `changing` count as 0) and the ingredients that change; the last may be missing.
    pub fn load(&mut self, amounts: &[f64], changing: &[usize]) {
        let isotherm = Arc::clone(&self.isotherm);
        let changing = &changing[..changing.len().min(3)];
        if self.base.amounts != amounts || self.base.moles.is_empty() {
            self.base = Base::of(&isotherm, amounts);
        }
        let base = &self.base;
        self.dense.clear();
        self.dense.extend(base.moles.iter().map(|moles| [*moles, 0.0, 0.0, 0.0]));
        let mut totals: Vec<[Totals; 4]> = base
            .totals
            .iter()
            .map(|it| [*it, Totals::default(), Totals::default(), Totals::default()])
            .collect();
        self.inert = [base.inert, 0.0, 0.0, 0.0];
        self.powder = [base.powder, 0.0, 0.0, 0.0];
        self.mass = [base.mass, 0.0, 0.0, 0.0];
        let less = |sum: &mut f64, whole: f64, part: f64| {
            let rest = *sum - part;
            *sum = if rest > NOTHING_LEFT * whole { rest } else { 0.0 };
        };
        for (slot, at) in changing.iter().enumerate() {
            let column = &isotherm.columns[*at];
            let amount = amounts.get(*at).copied().unwrap_or(0.0).max(0.0);
            less(&mut self.inert[0], base.inert, amount * column.inert);
            less(&mut self.powder[0], base.powder, amount * column.powder);
            less(&mut self.mass[0], base.mass, amount * column.mass);
            self.inert[slot + 1] = column.inert;
            self.powder[slot + 1] = column.powder;
            self.mass[slot + 1] = column.mass;
            for (site, moles) in &column.moles {
                less(&mut self.dense[*site][0], base.moles[*site], amount * moles);
                self.dense[*site][slot + 1] = *moles;
            }
            for (crystal, more) in &column.totals {
                let fixed = &mut totals[*crystal];
                less(&mut fixed[0].moles, base.totals[*crystal].moles, amount * more.moles);
                let rest = fixed[0].moles;
                fixed[0].add(-amount, &Totals { moles: 0.0, ..*more });
                if rest <= 0.0 {
                    fixed[0] = Totals::default();
                }
                fixed[slot + 1] = *more;
            }
        }
        for (place, sigma) in self.places.iter().zip(&self.sigma).filter(|(_, sigma)| sigma.is_finite()) {
            self.warm[*place] = *sigma;
        }
        self.totals.clear();
        self.plain.clear();
        self.sites.clear();
        self.moles.clear();
        self.crystals.clear();
        self.places.clear();
        self.sigma.clear();
        for (place, ((range, family), totals)) in isotherm.crystals.iter().zip(&totals).enumerate() {
            if totals.iter().all(|part| part.moles <= 0.0) {
                continue;
            }
            let start = self.sites.len();
            for site in range.clone() {
                let moles = self.dense[site];
                if moles[0] > 0.0 || moles[1] > 0.0 || moles[2] > 0.0 || moles[3] > 0.0 {
                    self.sites.push(site);
                    self.moles.push(moles);
                }
            }
            if self.sites.len() > start {
                self.crystals.push((start..self.sites.len(), *family));
                self.totals.push(*totals);
                let corrects = |part: &Totals| part.shift != 0.0 || part.excess != 0.0;
                self.plain.push(!family.is_disordered() && !totals.iter().any(corrects));
                self.places.push(place);
                self.sigma.push(self.warm[place]);
            }
        }
        self.n.clear();
        self.n.resize(self.sites.len(), 0.0);
        self.k.clear();
        self.k.resize(self.sites.len(), 0.0);
    }

    /// The correction of a family at these amounts of the changing ingredients.
    pub(super) fn adjustment(&self, crystal: usize, amounts: &[f64; 3]) -> Adjustment {
        if self.plain[crystal] {
            return Adjustment::default();
        }
        Totals::mix(&self.totals[crystal], amounts).adjustment(self.crystals[crystal].1)
    }

    /// K of a site under a correction.
    pub(super) fn distribution(&self, at: usize, adjustment: &Adjustment) -> f64 {
        self.isotherm.distribution(self.sites[at], adjustment)
    }

    /// The same within [`super::isotherm::ABOUT`].
    pub(super) fn distribution_about(&self, at: usize, adjustment: &Adjustment) -> f64 {
        self.isotherm.distribution_about(self.sites[at], adjustment)
    }

    /// What a mole of solid of this site counts for.
    pub(super) fn weight(&self, at: usize, weights: &SolidsByKind) -> f64 {
        self.isotherm.sites[self.sites[at]].weight(weights)
    }

    /// What the view is of.
    pub(super) fn isotherm(&self) -> &Isotherm {
        &self.isotherm
    }

    /// Which of the isotherm's crystals one of the view is.
    pub(super) fn place(&self, crystal: usize) -> usize {
        self.places[crystal]
    }

    /// Moles of liquid where the view was solved last.
    pub(super) fn liquid(&self) -> f64 {
        self.guess.unwrap_or(0.0)
    }

    /// Sets n and K at these amounts, K exactly or about; gives the moles that are always liquid.
    fn set(&mut self, amounts: &[f64; 3], exactly: bool) -> f64 {
        let mut inert = mix(&self.inert, amounts);
        for (crystal, (range, _)) in self.crystals.iter().enumerate() {
            let adjustment = self.adjustment(crystal, amounts);
            if self.plain[crystal] {
                for at in range.clone() {
                    self.n[at] = mix(&self.moles[at], amounts);
                    self.k[at] = self.isotherm.distribution(self.sites[at], &adjustment);
                }
                continue;
            }
            for at in range.clone() {
                let moles = mix(&self.moles[at], amounts);
                inert += moles * adjustment.left_out;
                self.n[at] = moles * (1.0 - adjustment.left_out);
                self.k[at] = if exactly {
                    self.distribution(at, &adjustment)
                } else {
                    self.distribution_about(at, &adjustment)
                };
            }
        }
        inert
    }

    /// Solves at these amounts; σ stays in `self.sigma`, n and K in `self.n` and `self.k`.
    pub(super) fn phases(&mut self, amounts: &[f64; 3]) -> super::solve::Phases {
        let inert = self.set(amounts, true);
        let families: Vec<Range<usize>> = self.crystals.iter().map(|(range, _)| range.clone()).collect();
        let layout = Layout { n: &self.n, k: &self.k, families: &families, inert };
        let phases = layout.solve(&mut self.sigma, self.guess);
        self.guess = Some(phases.liquid);
        phases
    }

    /// As [`View::phases`], to a thousandth or so: Newton's method in L and every σ at once. Gives L, if there is liquid.
    pub(super) fn near(&mut self, amounts: &[f64; 3]) -> Option<f64> {
        let inert = self.set(amounts, false);
        let total: f64 = inert + self.n.iter().sum::<f64>();
        let mut liquid = self.guess.filter(|guess| *guess > 0.0 && *guess < total).unwrap_or(total);
        for sigma in self.sigma.iter_mut().filter(|sigma| !sigma.is_finite()) {
            *sigma = 0.0;
        }
        for _ in 0..NEAR_STEPS {
            let (mut moles, mut slope) = (inert, 0.0);
            self.steps.clear();
            for ((range, _), sigma) in self.crystals.iter().zip(&self.sigma) {
                let (mut dissolved, mut held, mut up, mut falls) = (0.0, 0.0, 0.0, 0.0);
                for (n, k) in self.n[range.clone()].iter().zip(&self.k[range.clone()]) {
                    let q = 1.0 / (1.0 + sigma * k);
                    let (part, kq) = (n * q, k * q);
                    dissolved += part;
                    held += part * k;
                    up += part * kq;
                    falls += part * kq * k;
                }
                moles += dissolved;
                if *sigma <= 0.0 && held <= liquid || falls <= 0.0 {
                    self.steps.push((0.0, 0.0));
                    continue;
                }
                moles -= up / falls * (held - liquid);
                slope += up / falls;
                self.steps.push((held, falls));
            }
            let next = liquid - (moles - liquid) / (slope - 1.0);
            if slope >= 1.0 || next <= 0.0 || next.is_nan() {
                break;
            }
            let mut off = (next / liquid - 1.0).abs();
            liquid = next;
            for (sigma, (held, falls)) in self.sigma.iter_mut().zip(&self.steps).filter(|(_, it)| it.1 > 0.0)
            {
                let error = held / liquid - 1.0;
                *sigma = (*sigma + held * error / falls).max(0.0);
                // One that leaves is not off.
                off = off.max(if *sigma > 0.0 { error.abs() } else { 0.0 });
            }
            if off <= NEAR {
                self.guess = Some(liquid);
                return Some(liquid);
            }
        }
        let phases = self.phases(amounts);
        (phases.liquid > 0.0 && phases.certificate <= 1e-6).then_some(phases.liquid)
    }

    /// Weighted solids and powder where the view was solved last, percent by mass.
    pub(super) fn weighted(&self, amounts: &[f64; 3], weights: &SolidsByKind, powder: f64) -> f64 {
        let mut sum = powder * mix(&self.powder, amounts);
        for ((range, _), sigma) in self.crystals.iter().zip(&self.sigma).filter(|(_, sigma)| **sigma > 0.0) {
            for at in range.clone() {
                sum += self.weight(at, weights) * self.n[at] * solve::solid_share(*sigma, self.k[at]);
            }
        }
        100.0 * sum / mix(&self.mass, amounts)
    }

    /// The state at these amounts of the changing ingredients.
    pub fn at(&mut self, amounts: &[f64; 3]) -> Equilibrium {
        let phases = self.phases(amounts);
        let view = &*self;
        let present = view.crystals.iter().zip(&view.sigma).filter(|(_, sigma)| **sigma > 0.0);
        let solids = present.flat_map(|((range, _), sigma)| {
            range.clone().map(move |at| {
                let site = &view.isotherm.sites[view.sites[at]];
                SolidPart {
                    moles: view.n[at] * solve::solid_share(*sigma, view.k[at]),
                    molar_mass: site.molar_mass,
                    kind: site.kind,
                    latent_j_mol: site.slope * crate::substances::GAS_CONSTANT,
                }
            })
        });
        Equilibrium::sum(solids, mix(&view.mass, amounts), mix(&view.powder, amounts), &phases)
    }
}

/// The fixed part and so much of each changing ingredient.
#[inline(always)]
pub(super) fn mix(parts: &[f64; 4], amounts: &[f64; 3]) -> f64 {
    parts[0] + amounts[0] * parts[1] + amounts[1] * parts[2] + amounts[2] * parts[3]
}
