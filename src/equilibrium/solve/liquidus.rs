//! The liquidus: where the last crystal of a mixture dissolves.

use crate::{
    equilibrium::model::{COLDEST_K, Mixture, kelvin},
    roots,
    substances::ZERO_CELSIUS_K,
};

/// Hotter than any wax melts, °C.
const HOTTEST_C: f64 = 200.0;

/// How closely it is found, K.
const RESOLUTION_K: f64 = 1e-9;

impl Mixture {
    /// The temperature, °C, at which the last crystal dissolves; `None` where nothing crystallises.
    ///
    /// A phase is about to appear where Σ x K = 1 over its members. The sum falls with temperature, so the
    /// highest root over the phases is bracketed and the bracket halved.
    pub fn liquidus_c(&self) -> Option<f64> {
        let moles = self.moles();
        let is_supersaturated = |celsius: f64| {
            let kelvin = kelvin(celsius);
            self.phases.iter().any(|phase| {
                let members = self.solutes[phase.clone()].iter();
                members.map(|solute| solute.moles * solute.distribution.at(kelvin)).sum::<f64>() > moles
            })
        };
        let coldest_c = COLDEST_K - ZERO_CELSIUS_K;
        is_supersaturated(coldest_c)
            .then(|| roots::bisect((coldest_c, HOTTEST_C), RESOLUTION_K, is_supersaturated))
    }
}
