//! Recipes judged: what the bands say of one set of percentages.

use std::sync::Arc;

use super::{
    problem::Problem,
    region::{Grid, Region, Support},
};
use crate::{
    behaviour::{Band, Quantity, Solids, Where},
    equilibrium::{Blend, Equilibrium, Isotherm, Part, SolidsByKind, State, View},
};

/// Misses are compared in millionths of a percent point, so that rounding never decides.
const MISS_UNITS: f64 = 1e6;

/// A temperature at which something is wanted.
pub(super) struct Station {
    pub(super) view: View,
    loaded: Option<Support>,
    pub(super) bands: Vec<Band>,
}

impl Station {
    fn load(&mut self, present: &[f64], support: &Support) {
        if self.loaded.is_some_and(|loaded| loaded.lines == support.lines && loaded.count == support.count) {
            return;
        }
        let lines = support.lines.map(usize::from);
        self.view.load(present, &lines[..usize::from(support.count)]);
        self.loaded = Some(*support);
    }

    /// How far a state is outside the bands here, in all.
    pub(super) fn miss(&self, state: &Equilibrium) -> f64 {
        self.bands.iter().map(|band| band.miss(figure(band.quantity, state))).sum()
    }
}

/// The figure that a band is on.
pub fn figure(quantity: Quantity, state: &Equilibrium) -> f64 {
    match quantity {
        Quantity::Structure => Solids::from(state).structure_percent(),
        Quantity::Solid => Solids::from(state).fat_percent(),
    }
}

/// A miss as a whole number that is 0 only where nothing is missed.
pub(super) fn units(miss: f64) -> u64 {
    libm::ceil(miss * MISS_UNITS) as u64
}

/// A miss as a whole number that it is at least.
fn units_at_least(miss: f64) -> u64 {
    libm::floor(miss * MISS_UNITS) as u64
}

/// What a quantity counts each kind of solid for, and powder, read off the figure itself: it is a sum of these, up to 100.
fn weights(quantity: Quantity) -> (SolidsByKind, f64) {
    let of = |solids: Solids| match quantity {
        Quantity::Structure => solids.structure_percent(),
        Quantity::Solid => solids.fat_percent(),
    };
    let none = Solids::default();
    let by_kind = SolidsByKind {
        triglyceride: of(Solids { triglyceride: 1.0, ..none }),
        acid: of(Solids { acid: 1.0, ..none }),
        alcohol: of(Solids { alcohol: 1.0, ..none }),
        wax: of(Solids { wax: 1.0, ..none }),
        glyceride: of(Solids { glyceride: 1.0, ..none }),
    };
    (by_kind, of(Solids { powder: 1.0, ..none }))
}

/// Judges recipes of one problem.
pub(super) struct Judge {
    present: Vec<f64>,
    stations: Vec<Station>,
    solves: u64,
}

impl Judge {
    pub(super) fn new(problem: &Problem) -> Judge {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let blend = Blend::new(&parts, State::Settled);
        let bands = problem.wishes.bands();
        let stations = [Where::Hottest, Where::Usual, Where::Skin, Where::Coldest]
            .into_iter()
            .filter_map(|place| {
                let bands: Vec<Band> = bands.iter().filter(|band| band.place == place).copied().collect();
                let isotherm = Arc::new(Isotherm::new(&blend, problem.wishes.temperature_c(place)));
                (!bands.is_empty()).then(|| Station { view: isotherm.view(), loaded: None, bands })
            })
            .collect();
        Judge { present: problem.amounts(), stations, solves: 0 }
    }

    /// The total miss of the present recipe, in [`units`].
    pub(super) fn present(&mut self) -> u64 {
        let mut miss = 0.0;
        for station in &mut self.stations {
            self.solves += 1;
            station.view.load(&self.present, &[]);
            station.loaded = None;
            let state = station.view.at(&[0.0; 3]);
            miss += station.miss(&state);
        }
        units(miss)
    }

    /// The total miss of a support's lines at these percentages, in [`units`].
    pub(super) fn miss(&mut self, support: &Support, amounts: &[f64; 3]) -> u64 {
        let mut miss = 0.0;
        for at in 0..self.stations.len() {
            miss += self.at(at, support, amounts);
        }
        units(miss)
    }

    /// Whether every band is met; else the miss where that was first seen, in [`units`].
    pub(super) fn meets(&mut self, support: &Support, amounts: &[f64; 3]) -> Result<(), u64> {
        for at in 0..self.stations.len() {
            let miss = units(self.at(at, support, amounts));
            if miss > 0 {
                return Err(miss);
            }
        }
        Ok(())
    }

    /// What every recipe of a region misses by at least, in [`units`], from the first temperature that says so; 0 if none does.
    pub(super) fn misses_somewhere(&mut self, grid: &Grid<'_>, region: &Region) -> u64 {
        for at in 0..self.stations.len() {
            let miss = units_at_least(self.bound(at, grid, region));
            if miss > 0 {
                // What excluded one region is likely to exclude the next.
                self.stations.swap(0, at);
                return miss;
            }
        }
        0
    }

    /// What every recipe of a region misses by at least, over all temperatures, in [`units`].
    pub(super) fn misses_in_all(&mut self, grid: &Grid<'_>, region: &Region) -> u64 {
        let mut miss = 0.0;
        for at in 0..self.stations.len() {
            miss += self.bound(at, grid, region);
        }
        units_at_least(miss)
    }

    fn bound(&mut self, at: usize, grid: &Grid<'_>, region: &Region) -> f64 {
        let station = &mut self.stations[at];
        station.load(&self.present, &region.support);
        let mut corners: Vec<[f64; 3]> = Vec::with_capacity(6);
        for corner in region.corners() {
            let corner = grid.point(&region.support, corner);
            if !corners.contains(&corner) {
                corners.push(corner);
            }
        }
        let mut miss = 0.0;
        for quantity in [Quantity::Structure, Quantity::Solid] {
            if !station.bands.iter().any(|band| band.quantity == quantity) {
                continue;
            }
            self.solves += 1;
            let (by_kind, powder) = weights(quantity);
            let Some((low, high)) = station.view.bounds(&corners, &by_kind, powder) else { continue };
            let (low, high) = (low.min(100.0), high.min(100.0));
            let bands = station.bands.iter().filter(|band| band.quantity == quantity);
            miss += bands.map(|band| (band.low - high).max(low - band.high).max(0.0)).sum::<f64>();
        }
        miss
    }

    fn at(&mut self, at: usize, support: &Support, amounts: &[f64; 3]) -> f64 {
        self.solves += 1;
        let station = &mut self.stations[at];
        station.load(&self.present, support);
        let state = station.view.at(amounts);
        station.miss(&state)
    }

    /// How many equilibria were solved so far.
    pub(super) fn solves(&self) -> u64 {
        self.solves
    }
}
