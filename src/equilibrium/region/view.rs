//! An [`Isotherm`] with all but up to three amounts fixed: loaded by difference from the whole recipe, solved from where it was.

#![allow(
    clippy::needless_range_loop,
    reason = "plain loops stay fast in the page's engine, which is compiled for size"
)]

use std::{ops::Range, sync::Arc};

use super::{
    bounds::Enclosure,
    isotherm::{Adjustment, Isotherm, Totals},
    load::{Base, Brought},
};
use crate::{
    equilibrium::solve::{self, Equilibrium, Layout, Phases, SolidPart},
    ordered::greater,
    substances::Family,
};

/// How many steps [`View::near`] takes before the whole solver does it.
const NEAR_STEPS: u32 = 12;

/// How near is near: the last step takes it from here to the square.
const NEAR: f64 = 3e-3;

/// A blend at one temperature with all but up to three amounts fixed.
pub struct View {
    pub(super) isotherm: Arc<Isotherm>,
    /// The mixture that was loaded last, whole.
    pub(super) base: Base,
    /// The ingredients that change.
    pub(super) changing: Vec<usize>,
    /// The one that they are added in place of, if any.
    pub(super) giving: Option<usize>,
    /// Moles by site of the isotherm: of the fixed part, and per gram of each changing ingredient.
    pub(super) dense: Vec<[f64; 4]>,
    /// By crystal of the isotherm.
    pub(super) brought: Vec<Brought>,
    /// Moles that never crystallise: of the fixed part, and per gram of each changing ingredient.
    pub(super) loose: [f64; 4],
    /// By crystal of the isotherm, whether its sites were gathered; empty before any are.
    pub(super) gathered: Vec<bool>,
    /// How much liquid, moles, leaves the others absent.
    pub(super) enough: f64,
    /// Which of the isotherm's crystals those of the view are.
    pub(super) places: Vec<usize>,
    /// σ of each of the isotherm's crystals when last solved.
    pub(super) warm: Vec<f64>,
    /// Sites of the families that were gathered: as many as `held`, and so of what is by site. There is room for all.
    pub(super) sites: Vec<usize>,
    pub(super) held: usize,
    /// Where each crystal lies in `sites`, and its family.
    pub(super) crystals: Vec<(Range<usize>, Family)>,
    /// Moles by site: of the fixed part, and per gram of each changing ingredient.
    pub(super) moles: Vec<[f64; 4]>,
    /// What never crystallises, and what was not gathered.
    pub(super) inert: [f64; 4],
    pub(super) powder: [f64; 4],
    pub(super) mass: [f64; 4],
    /// Of the crystals that are corrected: of the fixed part, and per gram of each changing ingredient.
    pub(super) totals: Vec<[Totals; 4]>,
    /// By crystal, which of these are its own; none where nothing is corrected, whatever the amounts.
    pub(super) corrected: Vec<Option<usize>>,
    pub(super) n: Vec<f64>,
    pub(super) k: Vec<f64>,
    pub(super) sigma: Vec<f64>,
    steps: Vec<(f64, f64)>,
    /// By crystal, Σ n and Σ n K.
    free: Vec<(f64, f64)>,
    guess: Option<f64>,
    /// Room to bound regions in.
    pub(super) enclosure: Enclosure,
}

impl Isotherm {
    /// An empty view, to be loaded.
    pub fn view(self: &Arc<Self>) -> View {
        let sites = self.sites.len();
        View {
            isotherm: Arc::clone(self),
            base: Base::default(),
            changing: Vec::new(),
            giving: None,
            dense: Vec::new(),
            brought: Vec::new(),
            loose: [0.0; 4],
            gathered: Vec::new(),
            enough: 0.0,
            places: Vec::new(),
            warm: vec![0.0; self.crystals.len()],
            sites: vec![0; sites],
            held: 0,
            crystals: Vec::new(),
            moles: vec![[0.0; 4]; sites],
            inert: [0.0; 4],
            powder: [0.0; 4],
            mass: [0.0; 4],
            totals: Vec::new(),
            corrected: Vec::new(),
            n: vec![0.0; sites],
            k: vec![0.0; sites],
            sigma: Vec::new(),
            steps: Vec::new(),
            free: Vec::new(),
            guess: None,
            enclosure: Enclosure::default(),
        }
    }
}

impl View {
    /// The correction of a family at these amounts of the changing ingredients.
    pub(super) fn adjustment(&self, crystal: usize, amounts: &[f64; 3]) -> Adjustment {
        let Some(totals) = self.totals(crystal) else { return Adjustment::default() };
        Totals::mix(totals, amounts).adjustment(self.crystals[crystal].1)
    }

    /// What decides the correction of a crystal, of the fixed part and per gram of each changing ingredient; none where nothing is
    /// corrected, whatever the amounts.
    pub(super) fn totals(&self, crystal: usize) -> Option<&[Totals; 4]> {
        Some(&self.totals[self.corrected[crystal]?])
    }

    /// K of a site under a correction.
    pub(super) fn distribution(&self, at: usize, adjustment: &Adjustment) -> f64 {
        self.isotherm.distribution(self.sites[at], adjustment)
    }

    /// The same within [`super::isotherm::ABOUT`].
    pub(super) fn distribution_about(&self, at: usize, adjustment: &Adjustment) -> f64 {
        self.isotherm.distribution_about(self.sites[at], adjustment)
    }

    /// What the view is of.
    pub(crate) fn isotherm(&self) -> &Isotherm {
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
        for crystal in 0..self.crystals.len() {
            let range = self.crystals[crystal].0.clone();
            if self.corrected[crystal].is_none() {
                let (moles, n) = (&self.moles[range.clone()], &mut self.n[range]);
                for at in 0..n.len() {
                    n[at] = mix(&moles[at], amounts);
                }
                continue;
            }
            let adjustment = self.adjustment(crystal, amounts);
            for at in range {
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
    pub(super) fn phases(&mut self, amounts: &[f64; 3]) -> Phases {
        let inert = self.set(amounts, true);
        let families: Vec<Range<usize>> = self.crystals.iter().map(|(range, _)| range.clone()).collect();
        let layout = Layout { n: &self.n[..self.held], k: &self.k[..self.held], families: &families, inert };
        let phases = layout.solve(&mut self.sigma, self.guess);
        self.guess = Some(phases.liquid);
        phases
    }

    /// As [`View::phases`], to a thousandth or so: Newton's method in L and every σ at once. Gives L, if there is liquid.
    pub(super) fn near(&mut self, amounts: &[f64; 3]) -> Option<f64> {
        let inert = self.set(amounts, false);
        let (n, k) = (&self.n[..], &self.k[..]);
        let (crystals, sigma) = (&self.crystals[..], &mut self.sigma[..]);
        self.free.resize(crystals.len(), (0.0, 0.0));
        self.steps.resize(crystals.len(), (0.0, 0.0));
        let (free, steps) = (&mut self.free[..], &mut self.steps[..]);
        let mut total = inert;
        for at in 0..crystals.len() {
            let (mut moles, mut held) = (0.0, 0.0);
            for site in crystals[at].0.clone() {
                moles += n[site];
                held += n[site] * k[site];
            }
            total += moles;
            free[at] = (moles, held);
            if !sigma[at].is_finite() {
                sigma[at] = 0.0;
            }
        }
        let mut liquid = self.guess.filter(|guess| *guess > 0.0 && *guess < total).unwrap_or(total);
        for _ in 0..NEAR_STEPS {
            let (mut moles, mut slope) = (inert, 0.0);
            for at in 0..crystals.len() {
                steps[at] = (0.0, 0.0);
                // Absent, as most are.
                if sigma[at] <= 0.0 && free[at].1 <= liquid {
                    moles += free[at].0;
                    continue;
                }
                let (mut dissolved, mut held, mut up, mut falls) = (0.0, 0.0, 0.0, 0.0);
                for site in crystals[at].0.clone() {
                    let q = 1.0 / (1.0 + sigma[at] * k[site]);
                    let (part, kq) = (n[site] * q, k[site] * q);
                    dissolved += part;
                    held += part * k[site];
                    up += part * kq;
                    falls += part * kq * k[site];
                }
                moles += dissolved;
                if falls <= 0.0 {
                    continue;
                }
                moles -= up / falls * (held - liquid);
                slope += up / falls;
                steps[at] = (held, falls);
            }
            let next = liquid - (moles - liquid) / (slope - 1.0);
            if slope >= 1.0 || next <= 0.0 || next.is_nan() {
                break;
            }
            let mut off = (next / liquid - 1.0).abs();
            liquid = next;
            for at in 0..crystals.len() {
                let (held, falls) = steps[at];
                if falls > 0.0 {
                    let error = held / liquid - 1.0;
                    sigma[at] = greater(sigma[at] + held * error / falls, 0.0);
                    // One that leaves is not off.
                    off = greater(off, if sigma[at] > 0.0 { error.abs() } else { 0.0 });
                }
            }
            if off <= NEAR {
                self.guess = Some(liquid);
                return Some(liquid);
            }
        }
        let phases = self.phases(amounts);
        (phases.liquid > 0.0 && phases.certificate <= 1e-6).then_some(phases.liquid)
    }

    /// Weighted solids and powder where the view was solved last, percent by mass; `worth` as by [`Isotherm::worth`].
    pub(super) fn weighted(&self, amounts: &[f64; 3], worth: &[f64], powder: f64) -> f64 {
        let mut sum = powder * mix(&self.powder, amounts);
        let (sites, moles, k) = (&self.sites[..], &self.n[..], &self.k[..]);
        for ((range, _), sigma) in self.crystals.iter().zip(&self.sigma) {
            if *sigma <= 0.0 {
                continue;
            }
            for at in range.clone() {
                sum += worth[sites[at]] * moles[at] * solve::solid_share(*sigma, k[at]);
            }
        }
        100.0 * sum / mix(&self.mass, amounts)
    }

    /// The state at these amounts of the changing ingredients.
    pub fn at(&mut self, amounts: &[f64; 3]) -> Equilibrium {
        self.gather_all();
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
