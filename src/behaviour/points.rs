//! Melting points: where the solids of a mixture fall to a stated level.

use crate::equilibrium::Mixture;

/// Solids left at the slip point, percent: the column of an open capillary slips at 4 to 5 % (AOCS Cc 3-25 / ISO 6321; palm
/// oil practice says about 5, an industry answer 3).
pub const SLIP_SOLID_PERCENT: f64 = 4.5;

/// The most solids left at the clear point, percent: what an eye takes for clear in a capillary (Wiley and clear points are
/// read at 1 % solids or less: palm oil quality practice).
pub const CLEAR_SOLID_PERCENT: f64 = 1.0;

/// Solids left where the last crystals go, percent.
pub const LAST_SOLID_PERCENT: f64 = 0.1;

/// Where a butter has few solids to begin with (a little wax in oil), the clear point is where a tenth of those that it has
/// at this temperature, °C, is left, but not less than [`LAST_SOLID_PERCENT`].
const ROOM_C: f64 = 20.0;

/// The temperatures considered, °C: colder than any larder, hotter than any wax.
pub const RANGE_C: (f64, f64) = (-20.0, 120.0);

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

/// The temperature at which `measure` (solids, or structure), which falls with temperature, passes `level`.
pub fn falls_to(
    mixture: &Mixture,
    level: f64,
    measure: impl Fn(&crate::equilibrium::Equilibrium) -> f64,
) -> MeltingPoint {
    let (mut cold, mut hot) = RANGE_C;
    let mut certificate: f64 = 0.0;
    let mut above = |celsius: f64| {
        let state = mixture.at(celsius);
        certificate = certificate.max(state.certificate);
        measure(&state) > level
    };
    if !above(cold) {
        return MeltingPoint { celsius: None, certificate };
    }
    while hot - cold > RESOLUTION_K {
        let middle = 0.5 * (cold + hot);
        if above(middle) { cold = middle } else { hot = middle }
    }
    MeltingPoint { celsius: Some(0.5 * (cold + hot)), certificate }
}

/// The slip point.
pub fn slip_point(mixture: &Mixture) -> MeltingPoint {
    falls_to(mixture, SLIP_SOLID_PERCENT, |state| state.solid_percent)
}

/// The clear point.
pub fn clear_point(mixture: &Mixture) -> MeltingPoint {
    let level = (0.1 * mixture.at(ROOM_C).solid_percent).clamp(LAST_SOLID_PERCENT, CLEAR_SOLID_PERCENT);
    falls_to(mixture, level, |state| state.solid_percent)
}

/// Where the last crystals go: above it the melt remembers nothing.
pub fn last_crystal_point(mixture: &Mixture) -> MeltingPoint {
    falls_to(mixture, LAST_SOLID_PERCENT, |state| state.solid_percent)
}
