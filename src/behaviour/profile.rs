//! A recipe sampled over temperature: what texture, making and heat are read from.

use super::{Melting, heat::Enthalpy, structure::Solids};
use crate::equilibrium::Mixture;

/// Solids by kind and the heat taken up by melting, on a rising grid of temperatures.
#[derive(Clone, Debug, Default)]
pub struct MeltingProfile {
    at_c: Vec<f64>,
    solids: Vec<Solids>,
    melting_j_per_g: Vec<f64>,
}

/// The grid that curves are drawn on: from the coldest place a jar is kept in to
/// above the melt-out of most waxes.
const GRID_FROM_C: f64 = -5.0;
/// See [`GRID_FROM_C`].
const GRID_TO_C: f64 = 75.0;
/// See [`GRID_FROM_C`].
const GRID_STEP_C: f64 = 0.5;

/// The default grid, °C.
pub fn grid_c() -> impl Iterator<Item = f64> {
    let steps = ((GRID_TO_C - GRID_FROM_C) / GRID_STEP_C).round() as usize;
    (0..=steps).map(|at| GRID_FROM_C + at as f64 * GRID_STEP_C)
}

impl MeltingProfile {
    /// A profile from rows of (°C, solids, heat taken up by melting in J/g of the whole, over
    /// any zero), temperatures rising.
    pub fn new(rows: impl IntoIterator<Item = (f64, Solids, f64)>) -> MeltingProfile {
        let mut profile = MeltingProfile::default();
        for (at_c, solids, melting_j_per_g) in rows {
            profile.at_c.push(at_c);
            profile.solids.push(solids);
            profile.melting_j_per_g.push(melting_j_per_g);
        }
        profile
    }

    /// A mixture sampled on the default grid, and what is known of it then.
    pub fn sampled(mixture: &Mixture) -> (Melting<'_>, MeltingProfile) {
        let mut melting = Melting::of(mixture);
        let profile = MeltingProfile::new(grid_c().map(|at_c| {
            let (solids, melting_j_per_g) = melting.rising(at_c);
            (at_c, solids, melting_j_per_g)
        }));
        (melting, profile)
    }

    /// The profile of a mixture on the default grid, with the largest certificate over it.
    pub fn of(mixture: &Mixture) -> (MeltingProfile, f64) {
        let (melting, profile) = MeltingProfile::sampled(mixture);
        (profile, melting.certificate())
    }

    /// The temperatures, °C.
    pub fn at_c(&self) -> &[f64] {
        &self.at_c
    }

    /// Solids at the temperatures.
    pub fn solids(&self) -> &[Solids] {
        &self.solids
    }

    /// Enthalpy against temperature, for the heat solver.
    pub fn enthalpy(&self) -> Enthalpy {
        let rows: Vec<(f64, f64, f64)> = (0..self.at_c.len())
            .map(|at| {
                (self.at_c[at], 1000.0 * self.melting_j_per_g[at], 0.01 * self.solids[at].fat_percent())
            })
            .collect();
        Enthalpy::melting(&rows)
    }

    /// A figure of the solids at a temperature, °C, between the rows linearly; beyond the ends, the end's.
    pub fn read(&self, at_c: f64, figure: fn(&Solids) -> f64) -> f64 {
        let next = self.at_c.partition_point(|c| *c <= at_c);
        let (Some(low), Some(high)) = (next.checked_sub(1), (next < self.at_c.len()).then_some(next)) else {
            return self.solids.get(next.min(self.at_c.len().saturating_sub(1))).map_or(0.0, figure);
        };
        let share = (at_c - self.at_c[low]) / (self.at_c[high] - self.at_c[low]);
        let (from, to) = (figure(&self.solids[low]), figure(&self.solids[high]));
        from + share * (to - from)
    }

    /// Structure, percent, at a temperature, °C.
    pub fn structure_percent(&self, at_c: f64) -> f64 {
        self.read(at_c, Solids::structure_percent)
    }

    /// Solid fat content, percent by mass, at a temperature, °C.
    pub fn solid_percent(&self, at_c: f64) -> f64 {
        self.read(at_c, Solids::fat_percent)
    }

    /// The highest temperature, °C, at which a figure of the solids is still `level` or more; `None` where it
    /// never is on the grid. Where it is so even at the hot end, that end.
    pub fn last_at_least(&self, level: f64, figure: fn(&Solids) -> f64) -> Option<f64> {
        let at = self.solids.iter().rposition(|solids| figure(solids) >= level)?;
        let Some(after) = self.solids.get(at + 1) else { return Some(self.at_c[at]) };
        let (from, to) = (figure(&self.solids[at]), figure(after));
        let share = if from > to { (from - level) / (from - to) } else { 0.0 };
        Some(self.at_c[at] + share * (self.at_c[at + 1] - self.at_c[at]))
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// A made-up fat that loses its solids smoothly around `middle_c`, with wax that stays to `wax_c`.
    pub(crate) fn invented(most: f64, middle_c: f64, wax: f64, wax_c: f64) -> MeltingProfile {
        MeltingProfile::new(grid_c().map(|c| {
            let left = |middle: f64, width: f64| 1.0 / (1.0 + libm::exp((c - middle) / width));
            let fat = left(middle_c, 2.0);
            let waxes = left(wax_c, 1.5);
            let solids = Solids { triglyceride: most * fat, ester: wax * waxes, ..Solids::default() };
            (c, solids, 0.01 * (150.0 * most * (1.0 - fat) + 180.0 * wax * (1.0 - waxes)))
        }))
    }

    #[test]
    fn the_grid_is_the_promised_one() {
        let grid: Vec<f64> = grid_c().collect();
        assert_eq!((grid.len(), grid[0], grid[160]), (161, -5.0, 75.0));
    }

    #[test]
    fn reading_back_and_crossing_agree() {
        let profile = invented(60.0, 28.0, 0.0, 50.0);
        let crossing = profile.last_at_least(10.0, Solids::structure_percent).unwrap();
        assert_abs_diff_eq!(profile.structure_percent(crossing), 10.0, epsilon = 1e-9);
        assert_eq!(profile.last_at_least(90.0, Solids::structure_percent), None);
        assert_abs_diff_eq!(profile.solid_percent(-50.0), profile.solids()[0].fat_percent());
        assert_eq!(MeltingProfile::default().structure_percent(20.0), 0.0);
    }
}
