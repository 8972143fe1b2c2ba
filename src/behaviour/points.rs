//! Melting points: where the solids of a mixture fall to a stated level.

use super::{Melting, Solids, melting::RANGE_C};
use crate::{
    equilibrium::{Equilibrium, Mixture, Sweep},
    roots,
};

/// Solids left at the slip point, percent: the column of an open capillary slips at 4 to 5 % (AOCS Cc 3-25 /
/// ISO 6321; palm oil practice says about 5, an industry answer 3).
pub const SLIP_SOLID_PERCENT: f64 = 4.5;

/// The most solids left at the clear point, percent: what an eye takes for clear in a capillary (Wiley and
/// clear points are read at 1 % solids or less: palm oil quality practice).
pub const CLEAR_SOLID_PERCENT: f64 = 1.0;

/// Solids left where the last crystals go, percent.
pub const LAST_SOLID_PERCENT: f64 = 0.1;

/// Where a butter has few solids to begin with (a little wax in oil), the clear point is where a tenth of
/// those that it has at this temperature, °C, is left, but not less than [`LAST_SOLID_PERCENT`].
const ROOM_C: f64 = 20.0;

/// How closely a point is found, K.
const RESOLUTION_K: f64 = 1e-6;

/// A temperature at which solids fall to a level.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct MeltingPoint {
    /// °C; `None` where the mixture has less than that at the cold end of [`RANGE_C`].
    pub celsius: Option<f64>,
    /// The largest certificate of the states solved on the way.
    pub certificate: f64,
}

/// Where a search begins, °C: between the melting points of most butters.
const FIRST_C: f64 = 32.0;

/// The temperature at which `measure` (solids, or structure), which falls with temperature, passes `level`.
pub fn falls_to(mixture: &Mixture, level: f64, measure: impl Fn(&Equilibrium) -> f64) -> MeltingPoint {
    let mut sweep = Sweep::new(mixture);
    let mut certificate: f64 = 0.0;
    let mut excess = |celsius: f64| {
        let state = sweep.at(celsius);
        certificate = certificate.max(state.certificate);
        let excess = measure(&state) - level;
        if excess > 0.0 {
            sweep.no_colder();
        }
        excess
    };
    let first = excess(FIRST_C);
    let (cold, hot) = if first > 0.0 {
        ((FIRST_C, first), (RANGE_C.1, -level))
    } else {
        ((RANGE_C.0, excess(RANGE_C.0)), (FIRST_C, first))
    };
    let celsius = (cold.1 > 0.0).then(|| roots::falling(cold, hot, RESOLUTION_K, &mut excess));
    MeltingPoint { celsius, certificate }
}

/// The slip point.
pub fn slip_point(mixture: &Mixture) -> MeltingPoint {
    falls_to(mixture, SLIP_SOLID_PERCENT, |state| state.solid_percent)
}

/// The clear point.
pub fn clear_point(mixture: &Mixture) -> MeltingPoint {
    falls_to(mixture, clear_percent(mixture.at(ROOM_C).solid_percent), |state| state.solid_percent)
}

/// Solids left at the clear point, percent, of a butter with so many at [`ROOM_C`].
fn clear_percent(room_percent: f64) -> f64 {
    (0.1 * room_percent).clamp(LAST_SOLID_PERCENT, CLEAR_SOLID_PERCENT)
}

/// The points of a mixture of which something is known, °C; `None` as [`MeltingPoint::celsius`] has it.
impl Melting<'_> {
    /// The slip point.
    pub fn slip_c(&mut self) -> Option<f64> {
        self.falls_to(SLIP_SOLID_PERCENT, RESOLUTION_K, Solids::fat_percent)
    }

    /// The clear point.
    pub fn clear_c(&mut self) -> Option<f64> {
        let level = clear_percent(self.solids(ROOM_C).fat_percent());
        self.falls_to(level, RESOLUTION_K, Solids::fat_percent)
    }

    /// Where the last crystals go: above it the melt remembers nothing.
    pub fn last_crystal_c(&mut self) -> Option<f64> {
        self.falls_to(LAST_SOLID_PERCENT, RESOLUTION_K, Solids::fat_percent)
    }

    /// Where structure, by a measure of it, falls to so many percent.
    pub fn softens_c(&mut self, percent: f64, structure: fn(&Solids) -> f64) -> Option<f64> {
        self.falls_to(percent, RESOLUTION_K, structure)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        equilibrium::CrystalState,
        recipe::{Line, Recipe},
        substances::catalogue,
    };

    /// Plain halving, which cannot go wrong.
    fn by_halving(mixture: &Mixture, level: f64) -> Option<f64> {
        let is_above = |celsius: f64| mixture.at(celsius).solid_percent > level;
        is_above(RANGE_C.0).then(|| roots::bisect(RANGE_C, RESOLUTION_K, is_above))
    }

    #[test]
    fn points_agree_with_plain_halving() {
        let all = catalogue();
        for at in 0..all.len() {
            let shares = [(at, 40.0), (7 * at + 3, 35.0), (13 * at + 5, 25.0)];
            let lines = shares.map(|(at, percent)| Line::of(&all[at % all.len()], percent)).to_vec();
            let mixture = Recipe::new(lines).unwrap().mixture(CrystalState::Settled);
            for level in [0.1, SLIP_SOLID_PERCENT, 10.0, 30.0] {
                let found = falls_to(&mixture, level, |state| state.solid_percent).celsius;
                match (found, by_halving(&mixture, level)) {
                    (Some(found), Some(halved)) => assert!((found - halved).abs() <= 2.0 * RESOLUTION_K),
                    (found, halved) => assert_eq!(found, halved),
                }
            }
        }
    }
}
