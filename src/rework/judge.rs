//! Recipes judged: what the bands say of one set of percentages.

use std::cell::Cell;

use super::problem::Problem;
use crate::{
    behaviour::{Band, Quantity, Solids, Where},
    equilibrium::{Blend, Equilibrium, Mixture, Part, State},
};

/// Misses are compared in millionths of a percent point, so that rounding never decides.
const MISS_UNITS: f64 = 1e6;

/// A temperature at which something is wanted.
pub(super) struct Station {
    pub(super) celsius: f64,
    pub(super) bands: Vec<Band>,
}

impl Station {
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

/// Judges recipes of one problem.
pub(super) struct Judge {
    blend: Blend,
    pub(super) stations: Vec<Station>,
    solves: Cell<u64>,
}

impl Judge {
    pub(super) fn new(problem: &Problem) -> Judge {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let bands = problem.wishes.bands();
        let stations = [Where::Hottest, Where::Usual, Where::Skin, Where::Coldest]
            .into_iter()
            .filter_map(|place| {
                let bands: Vec<Band> = bands.iter().filter(|band| band.place == place).copied().collect();
                let celsius = problem.wishes.temperature_c(place);
                (!bands.is_empty()).then_some(Station { celsius, bands })
            })
            .collect();
        Judge { blend: Blend::new(&parts, State::Settled), stations, solves: Cell::new(0) }
    }

    /// The mixture of these percentages.
    pub(super) fn mixture(&self, amounts: &[f64]) -> Mixture {
        self.blend.mixture(amounts)
    }

    /// The total miss, in [`units`].
    pub(super) fn miss(&self, amounts: &[f64]) -> u64 {
        let mixture = self.mixture(amounts);
        let miss: f64 = self.stations.iter().map(|station| station.miss(&self.at(&mixture, station))).sum();
        units(miss)
    }

    /// Whether every band is met; else the miss where that was first seen, in [`units`].
    pub(super) fn meets(&self, amounts: &[f64]) -> Result<(), u64> {
        let mixture = self.mixture(amounts);
        for station in &self.stations {
            let miss = units(station.miss(&self.at(&mixture, station)));
            if miss > 0 {
                return Err(miss);
            }
        }
        Ok(())
    }

    fn at(&self, mixture: &Mixture, station: &Station) -> Equilibrium {
        self.solves.set(self.solves.get() + 1);
        mixture.at(station.celsius)
    }

    /// How many equilibria were solved so far.
    pub(super) fn solves(&self) -> u64 {
        self.solves.get()
    }
}
