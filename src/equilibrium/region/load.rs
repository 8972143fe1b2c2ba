//! How a [`View`] takes up a mixture: by difference from the whole recipe, and of its families only those that may be present.

#![allow(
    clippy::needless_range_loop,
    reason = "plain loops stay fast in the page's engine, which is compiled for size"
)]

use std::sync::Arc;

use super::{
    hull::ROUNDING,
    isotherm::{Column, Isotherm, Totals},
    view::{View, mix},
};
use crate::ordered::greater;

/// A whole mixture, summed.
#[derive(Clone, Default)]
pub(super) struct Base {
    amounts: Vec<f64>,
    moles: Vec<f64>,
    totals: Vec<Totals>,
    /// By crystal of the isotherm.
    brought: Vec<Brought>,
    inert: f64,
    powder: f64,
    mass: f64,
}

/// What is known of a family before its sites are looked at: of the fixed part, and per gram of each changing ingredient.
#[derive(Clone, Copy)]
pub(super) struct Brought {
    moles: [f64; 4],
    /// [`Totals::hottest`]: what Σ n K is at most.
    hottest: [f64; 4],
    /// Whether an ingredient corrects it.
    corrected: bool,
}

impl Brought {
    fn of(totals: &Totals) -> Brought {
        Brought {
            moles: [totals.moles, 0.0, 0.0, 0.0],
            hottest: [totals.hottest, 0.0, 0.0, 0.0],
            corrected: totals.correct(),
        }
    }

    fn is_any(&self) -> bool {
        are_any(&self.moles)
    }

    /// Whether, at all of these amounts, it is absent from more liquid than `enough`, moles.
    fn is_absent(&self, corners: &[[f64; 3]], enough: f64) -> bool {
        for corner in corners {
            if mix(&self.hottest, corner) * (1.0 + ROUNDING) > enough {
                return false;
            }
        }
        true
    }
}

#[inline(always)]
fn are_any(moles: &[f64; 4]) -> bool {
    moles[0] > 0.0 || moles[1] > 0.0 || moles[2] > 0.0 || moles[3] > 0.0
}

/// A sum from which a part is taken away again: what is left of nothing but that part is nothing.
pub(super) const NOTHING_LEFT: f64 = 1e-12;

/// A sum less a part of the whole.
#[inline(always)]
fn less(sum: f64, whole: f64, part: f64) -> f64 {
    let rest = sum - part;
    if rest > NOTHING_LEFT * whole { rest } else { 0.0 }
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
        base.brought = base.totals.iter().map(Brought::of).collect();
        base
    }

    /// What decides the correction of a crystal: of all but the changing ingredients, and per gram of each.
    fn totals_without(
        &self,
        isotherm: &Isotherm,
        crystal: usize,
        changing: &[usize],
        giving: Option<usize>,
    ) -> [Totals; 4] {
        let of = |at: usize| isotherm.columns[at].totals.iter().find(|it| it.0 == crystal);
        let mut parts = [Totals::default(); 4];
        parts[0] = self.totals[crystal];
        for (slot, at) in changing.iter().enumerate() {
            let Some((_, more)) = of(*at) else { continue };
            let amount = self.amount(*at);
            let rest = less(parts[0].moles, self.totals[crystal].moles, amount * more.moles);
            parts[0].add(-amount, more);
            parts[0] = if rest > 0.0 { Totals { moles: rest, ..parts[0] } } else { Totals::default() };
            parts[slot + 1] = *more;
        }
        if let Some((_, less)) = giving.and_then(of) {
            parts[1..].iter_mut().for_each(|part| part.add(-1.0, less));
        }
        parts
    }

    fn amount(&self, at: usize) -> f64 {
        greater(self.amounts.get(at).copied().unwrap_or(0.0), 0.0)
    }
}

impl View {
    /// Takes up fixed amounts (those of `changing` count as 0) and the ingredients that change: up to three; or four, of which the first
    /// is what the others are added in place of, gram for gram. It has no amount of its own then, and mixtures must not take more
    /// than there is.
    pub fn load(&mut self, amounts: &[f64], changing: &[usize]) {
        let isotherm = Arc::clone(&self.isotherm);
        let (giving, changing) = match changing {
            [giving, others @ ..] if others.len() >= 3 => (Some(*giving), others),
            _ => (None, changing),
        };
        let changing = &changing[..changing.len().min(3)];
        if self.base.amounts != amounts || self.base.moles.is_empty() {
            self.base = Base::of(&isotherm, amounts);
            self.dense = self.base.moles.iter().map(|moles| [*moles, 0.0, 0.0, 0.0]).collect();
        }
        let base = &self.base;
        for (site, _) in self.changing.iter().chain(&self.giving).flat_map(|at| &isotherm.columns[*at].moles)
        {
            self.dense[*site] = [base.moles[*site], 0.0, 0.0, 0.0];
        }
        self.changing.clear();
        self.changing.extend_from_slice(changing);
        self.giving = giving;
        self.brought.clear();
        self.brought.extend_from_slice(&base.brought);
        self.loose = [base.inert, 0.0, 0.0, 0.0];
        self.powder = [base.powder, 0.0, 0.0, 0.0];
        self.mass = [base.mass, 0.0, 0.0, 0.0];
        for (slot, at) in changing.iter().enumerate() {
            let column = &isotherm.columns[*at];
            let amount = base.amount(*at);
            self.loose[0] = less(self.loose[0], base.inert, amount * column.inert);
            self.powder[0] = less(self.powder[0], base.powder, amount * column.powder);
            self.mass[0] = less(self.mass[0], base.mass, amount * column.mass);
            self.loose[slot + 1] = column.inert;
            self.powder[slot + 1] = column.powder;
            self.mass[slot + 1] = column.mass;
            for (site, moles) in &column.moles {
                let parts = &mut self.dense[*site];
                parts[0] = less(parts[0], base.moles[*site], amount * moles);
                parts[slot + 1] = *moles;
            }
            for (crystal, more) in &column.totals {
                let (brought, whole) = (&mut self.brought[*crystal], &base.totals[*crystal]);
                brought.moles[0] = less(brought.moles[0], whole.moles, amount * more.moles);
                brought.moles[slot + 1] = more.moles;
                brought.hottest[0] = less(brought.hottest[0], whole.hottest, amount * more.hottest);
                brought.hottest[slot + 1] = more.hottest;
                brought.corrected |= more.correct();
            }
        }
        if let Some(at) = giving {
            self.take_away(&isotherm.columns[at]);
        }
        self.gathered.clear();
    }

    /// A gram of this for a gram of each changing ingredient.
    fn take_away(&mut self, column: &Column) {
        for part in 1..4 {
            self.loose[part] -= column.inert;
            self.powder[part] -= column.powder;
            self.mass[part] -= column.mass;
            for (site, moles) in &column.moles {
                self.dense[*site][part] -= moles;
            }
            for (crystal, less) in &column.totals {
                self.brought[*crystal].moles[part] -= less.moles;
                self.brought[*crystal].hottest[part] -= less.hottest;
            }
        }
    }

    /// Gathers the sites of every family that may be present somewhere between these amounts of the changing ingredients; the others
    /// count with what is always liquid, which is so wherever there is more liquid than `enough`, moles.
    pub(super) fn gather(&mut self, corners: &[[f64; 3]], enough: f64) {
        self.enough = enough;
        let mut same = self.gathered.len() == self.brought.len();
        self.gathered.resize(self.brought.len(), false);
        for place in 0..self.brought.len() {
            let brought = &self.brought[place];
            let gathers = brought.is_any() && !brought.is_absent(corners, enough);
            same &= gathers == self.gathered[place];
            self.gathered[place] = gathers;
        }
        if same {
            return;
        }
        for (place, sigma) in self.places.iter().zip(&self.sigma).filter(|(_, sigma)| sigma.is_finite()) {
            self.warm[*place] = *sigma;
        }
        self.totals.clear();
        self.corrected.clear();
        self.crystals.clear();
        self.places.clear();
        self.sigma.clear();
        self.inert = self.loose;
        let isotherm = &*self.isotherm;
        let mut held = 0;
        for place in 0..self.brought.len() {
            let brought = &self.brought[place];
            if !self.gathered[place] {
                for part in 0..4 {
                    self.inert[part] += brought.moles[part];
                }
                continue;
            }
            let start = held;
            let (range, family) = &isotherm.crystals[place];
            for site in range.clone() {
                let moles = &self.dense[site];
                if are_any(moles) {
                    self.sites[held] = site;
                    self.moles[held] = *moles;
                    // Where nothing is corrected, K stays so.
                    self.k[held] = isotherm.sites[site].plain;
                    held += 1;
                }
            }
            self.crystals.push((start..held, *family));
            self.places.push(place);
            self.sigma.push(self.warm[place]);
            self.corrected.push(brought.corrected.then_some(self.totals.len()));
            if brought.corrected {
                self.totals.push(self.base.totals_without(isotherm, place, &self.changing, self.giving));
            }
        }
        self.held = held;
    }

    /// Gathers every family.
    pub(super) fn gather_all(&mut self) {
        self.gather(&[[0.0; 3]], -1.0);
    }
}
