//! One mixture, asked again and again: each state found narrows the search for the next.

use super::Solids;
use crate::{
    equilibrium::{Mixture, Sweep},
    roots,
};

/// The temperatures considered, °C: colder than any larder, hotter than any wax.
pub const RANGE_C: (f64, f64) = (-20.0, 120.0);

/// What is known of a mixture so far.
pub struct Melting<'m> {
    sweep: Sweep<'m>,
    /// °C and the solids there, coldest first.
    seen: Vec<(f64, Solids)>,
    certificate: f64,
}

impl<'m> Melting<'m> {
    /// A mixture of which nothing is known yet.
    pub fn of(mixture: &'m Mixture) -> Melting<'m> {
        Melting { sweep: Sweep::new(mixture), seen: Vec::new(), certificate: 0.0 }
    }

    /// Solids at a temperature above all that were asked for, °C, and the heat that melting has
    /// taken up there, J/g over any zero.
    pub(super) fn rising(&mut self, at_c: f64) -> (Solids, f64) {
        let state = self.sweep.rising(at_c);
        self.certificate = self.certificate.max(state.certificate);
        let solids = Solids::from(&state);
        self.seen.push((at_c, solids));
        (solids, -state.latent_j_per_g)
    }

    /// Solids at a temperature, °C.
    pub fn solids(&mut self, at_c: f64) -> Solids {
        match self.seen.binary_search_by(|(seen_c, _)| seen_c.total_cmp(&at_c)) {
            Ok(at) => self.seen[at].1,
            Err(at) => {
                let state = self.sweep.at(at_c);
                self.certificate = self.certificate.max(state.certificate);
                let solids = Solids::from(&state);
                self.seen.insert(at, (at_c, solids));
                solids
            }
        }
    }

    /// The temperature, °C, at which a figure of the solids falls to `level`, to within `resolution_k`;
    /// `None` where it is less at the cold end of [`RANGE_C`].
    pub fn falls_to(&mut self, level: f64, resolution_k: f64, figure: fn(&Solids) -> f64) -> Option<f64> {
        let warmer = self.seen.partition_point(|(_, solids)| figure(solids) > level);
        let end = |(at_c, solids): &(f64, Solids)| (*at_c, figure(solids) - level);
        let hot = self.seen.get(warmer).map_or((RANGE_C.1, -level), end);
        let cold = match warmer.checked_sub(1).and_then(|at| self.seen.get(at)) {
            Some(seen) => end(seen),
            None => (RANGE_C.0, figure(&self.solids(RANGE_C.0)) - level),
        };
        if cold.1 <= 0.0 || hot.0 <= cold.0 {
            return None;
        }
        Some(roots::falling(cold, hot, resolution_k, &mut |celsius| {
            let excess = figure(&self.solids(celsius)) - level;
            if excess > 0.0 {
                self.sweep.no_colder();
            }
            excess
        }))
    }

    /// The largest certificate of the states solved so far.
    pub fn certificate(&self) -> f64 {
        self.certificate
    }

    /// How many states were solved, which is what it cost.
    pub fn states(&self) -> usize {
        self.seen.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        behaviour::{MeltingProfile, SLIP_SOLID_PERCENT, falls_to},
        equilibrium::CrystalState,
        recipe::{Line, Recipe},
        substances::catalogue,
    };

    #[test]
    fn what_is_seen_before_changes_only_the_work() {
        let all = catalogue();
        for at in 0..all.len() {
            let shares = [(at, 40.0), (11 * at + 3, 35.0), (17 * at + 5, 25.0)];
            let lines = shares.map(|(at, percent)| Line::of(&all[at % all.len()], percent)).to_vec();
            let mixture = Recipe::new(lines).unwrap().mixture(CrystalState::Settled);
            let (mut sampled, profile) = MeltingProfile::sampled(&mixture);
            let mut unseen = Melting::of(&mixture);
            for level in [SLIP_SOLID_PERCENT, 0.1, 30.0, 10.0] {
                let alone = falls_to(&mixture, level, |state| state.solid_percent).celsius;
                let before = sampled.states();
                for found in
                    [&mut sampled, &mut unseen].map(|it| it.falls_to(level, 1e-6, Solids::fat_percent))
                {
                    match (alone, found) {
                        (Some(alone), Some(found)) => {
                            assert!((alone - found).abs() <= 2e-6, "{alone} {found}")
                        }
                        (alone, found) => assert_eq!(alone, found),
                    }
                }
                // Halving half a kelvin down to a millionth takes 19.
                assert!(sampled.states() <= before + 19, "{at} {level}: {}", sampled.states() - before);
            }
            for (at_c, solids) in profile.at_c().iter().zip(profile.solids()).step_by(16) {
                assert!((mixture.at(*at_c).solid_percent - solids.fat_percent()).abs() < 1e-8);
                assert_eq!(sampled.solids(*at_c), *solids);
            }
            assert!(sampled.certificate() < 1e-9 && unseen.certificate() < 1e-9);
        }
    }
}
