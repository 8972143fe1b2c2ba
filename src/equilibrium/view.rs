//! An [`Isotherm`] with all but up to three amounts fixed: loaded by difference from the whole recipe, solved from where it was.

#![allow(
    clippy::needless_range_loop,
    reason = "plain loops stay fast in the page's engine, which is compiled for size"
)]

use std::{ops::Range, sync::Arc};

use super::{
    Equilibrium,
    isotherm::{Adjustment, Isotherm, Totals},
    solve::{self, Layout},
    state::SolidPart,
};
use crate::{ordered::greater, substances::Family};

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
    /// By crystal.
    marks: Vec<Marks>,
    inert: f64,
    powder: f64,
    mass: f64,
}

/// What is known of a crystal before its sites are looked at.
#[derive(Clone, Copy)]
struct Marks {
    /// Whether an ingredient brings it.
    brought: bool,
    /// Whether an ingredient corrects it.
    corrected: bool,
}

impl Marks {
    fn of(totals: &Totals) -> Marks {
        Marks { brought: totals.moles > 0.0, corrected: totals.correct() }
    }
}

/// A sum from which a part is taken away again: what is left of nothing but that part is nothing.
const NOTHING_LEFT: f64 = 1e-12;

/// A blend at one temperature with all but up to three amounts fixed.
pub struct View {
    isotherm: Arc<Isotherm>,
    /// The mixture that was loaded last, whole.
    base: Base,
    /// The ingredients that change.
    changing: Vec<usize>,
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
    /// Of the crystals that are corrected: of the fixed part, and per gram of each changing ingredient.
    totals: Vec<[Totals; 4]>,
    /// By crystal, which of these are its own; none where nothing is corrected, whatever the amounts.
    corrected: Vec<Option<usize>>,
    /// By crystal of the isotherm.
    marks: Vec<Marks>,
    pub(super) n: Vec<f64>,
    pub(super) k: Vec<f64>,
    pub(super) sigma: Vec<f64>,
    steps: Vec<(f64, f64)>,
    /// By crystal, Σ n and Σ n K.
    free: Vec<(f64, f64)>,
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
        base.marks = base.totals.iter().map(Marks::of).collect();
        base
    }

    /// What decides the correction of a crystal: of all but the changing ingredients, and per gram of each.
    fn totals_without(&self, isotherm: &Isotherm, crystal: usize, changing: &[usize]) -> [Totals; 4] {
        let mut parts = [Totals::default(); 4];
        parts[0] = self.totals[crystal];
        for (slot, at) in changing.iter().enumerate() {
            let Some((_, more)) = isotherm.columns[*at].totals.iter().find(|it| it.0 == crystal) else {
                continue;
            };
            let amount = greater(self.amounts.get(*at).copied().unwrap_or(0.0), 0.0);
            let rest = less(parts[0].moles, self.totals[crystal].moles, amount * more.moles);
            parts[0].add(-amount, more);
            parts[0] = if rest > 0.0 { Totals { moles: rest, ..parts[0] } } else { Totals::default() };
            parts[slot + 1] = *more;
        }
        parts
    }
}

/// A sum less a part of the whole.
fn less(sum: f64, whole: f64, part: f64) -> f64 {
    let rest = sum - part;
    if rest > NOTHING_LEFT * whole { rest } else { 0.0 }
}

impl Isotherm {
    /// An empty view, to be loaded.
    pub fn view(self: &Arc<Self>) -> View {
        View {
            isotherm: Arc::clone(self),
            base: Base::default(),
            changing: Vec::new(),
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
            corrected: Vec::new(),
            marks: Vec::new(),
            n: Vec::new(),
            k: Vec::new(),
            sigma: Vec::new(),
            steps: Vec::new(),
            free: Vec::new(),
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
            self.dense = self.base.moles.iter().map(|moles| [*moles, 0.0, 0.0, 0.0]).collect();
        }
        let base = &self.base;
        for (site, _) in self.changing.iter().flat_map(|at| &isotherm.columns[*at].moles) {
            self.dense[*site] = [base.moles[*site], 0.0, 0.0, 0.0];
        }
        self.changing.clear();
        self.changing.extend_from_slice(changing);
        self.marks.clear();
        self.marks.extend_from_slice(&base.marks);
        self.inert = [base.inert, 0.0, 0.0, 0.0];
        self.powder = [base.powder, 0.0, 0.0, 0.0];
        self.mass = [base.mass, 0.0, 0.0, 0.0];
        for (slot, at) in changing.iter().enumerate() {
            let column = &isotherm.columns[*at];
            let amount = greater(amounts.get(*at).copied().unwrap_or(0.0), 0.0);
            self.inert[0] = less(self.inert[0], base.inert, amount * column.inert);
            self.powder[0] = less(self.powder[0], base.powder, amount * column.powder);
            self.mass[0] = less(self.mass[0], base.mass, amount * column.mass);
            self.inert[slot + 1] = column.inert;
            self.powder[slot + 1] = column.powder;
            self.mass[slot + 1] = column.mass;
            for (site, moles) in &column.moles {
                let parts = &mut self.dense[*site];
                parts[0] = less(parts[0], base.moles[*site], amount * moles);
                parts[slot + 1] = *moles;
            }
            for (crystal, more) in &column.totals {
                let (marks, more) = (&mut self.marks[*crystal], Marks::of(more));
                marks.brought |= more.brought;
                marks.corrected |= more.corrected;
            }
        }
        for (place, sigma) in self.places.iter().zip(&self.sigma).filter(|(_, sigma)| sigma.is_finite()) {
            self.warm[*place] = *sigma;
        }
        self.totals.clear();
        self.corrected.clear();
        self.sites.clear();
        self.moles.clear();
        self.crystals.clear();
        self.places.clear();
        self.sigma.clear();
        for (place, (range, family)) in isotherm.crystals.iter().enumerate() {
            if !self.marks[place].brought {
                continue;
            }
            let start = self.sites.len();
            for site in range.clone() {
                let moles = &self.dense[site];
                if moles[0] > 0.0 || moles[1] > 0.0 || moles[2] > 0.0 || moles[3] > 0.0 {
                    self.sites.push(site);
                    self.moles.push(*moles);
                }
            }
            if self.sites.len() > start {
                self.crystals.push((start..self.sites.len(), *family));
                self.places.push(place);
                self.sigma.push(self.warm[place]);
                let corrected = self.marks[place].corrected;
                self.corrected.push(corrected.then_some(self.totals.len()));
                if corrected {
                    self.totals.push(base.totals_without(&isotherm, place, changing));
                }
            }
        }
        self.n.clear();
        self.n.resize(self.sites.len(), 0.0);
        // Where nothing is corrected, K stays so.
        self.k.clear();
        self.k.extend(self.sites.iter().map(|site| isotherm.sites[*site].plain));
    }

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
