//! A lot of an ingredient: how it differs from the make-up that is on record.

use crate::substances::{Correction, Make, Species, SpeciesKind};

/// How one lot of an ingredient differs from the make-up that is on record; not at all by default.
///
/// Two lots of shea butter differ by more than any formula can tell: in how high their crystals melt,
/// and in how much of them there is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lot {
    /// K by which all its crystals melt higher; negative where lower.
    pub melts_higher_k: f64,
    /// The natural logarithm of how many times as much of it crystallises. What crystallises less joins its
    /// liquid, so that mass is kept; what crystallises more can take no more than there is.
    pub crystallises_log: f64,
}

/// What melts above this as a pure crystal, K (25 °C), counts as what crystallises of an ingredient: a lot
/// with more of it has less of the rest, as hard lots of a butter have.
pub(super) const CRYSTALLISES_ABOVE_K: f64 = 298.15;

/// How many times as much a lot holds of each of the two parts of an ingredient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Parts {
    /// Of what crystallises.
    pub(super) crystallising: f64,
    /// Of the rest.
    pub(super) rest: f64,
    /// What crystallises no more where there is no rest that it could join, in the unit of the masses given.
    pub(super) melted: f64,
}

impl Lot {
    /// The parts of an ingredient that holds so much of what crystallises and of the rest, by mass.
    ///
    /// The share x becomes x·e^γ where γ < 0, and 1 − (1 − x)·e^(−γx/(1 − x)) where γ > 0: both begin with
    /// the slope x, and neither leaves 0 to 1.
    pub(super) fn parts(&self, crystallising: f64, rest: f64) -> Parts {
        let (gamma, all) = (self.crystallises_log, crystallising + rest);
        if gamma == 0.0 || crystallising <= 0.0 {
            return Parts { crystallising: 1.0, rest: 1.0, melted: 0.0 };
        }
        if gamma > 0.0 {
            let left = if rest > 0.0 { libm::exp(-gamma * crystallising / rest) } else { 1.0 };
            return Parts { crystallising: (all - rest * left) / crystallising, rest: left, melted: 0.0 };
        }
        let kept = libm::exp(gamma);
        let melted = crystallising * (1.0 - kept);
        if rest > 0.0 {
            Parts { crystallising: kept, rest: (rest + melted) / rest, melted: 0.0 }
        } else {
            Parts { crystallising: kept, rest: 1.0, melted }
        }
    }
}

impl Lot {
    /// The make-up of an ingredient and what was fitted to it, as this lot has them: what is mixed from them
    /// is what [`super::Blend::mixture_of_lots`] mixes from the lot.
    pub fn of_make(&self, make: &Make, corrections: &[Correction]) -> (Make, Vec<Correction>) {
        let crystallises = |species: &Species| {
            species.settled.or(species.fresh).is_some_and(|it| it.fusion.melting_k > CRYSTALLISES_ABOVE_K)
        };
        let held = |counts: &dyn Fn(&Species) -> bool| -> (f64, f64) {
            let counted =
                make.iter().filter(|(species, _)| species.kind != SpeciesKind::Powder && counts(species));
            counted.fold((0.0, 0.0), |(grams, moles), (species, percent)| {
                (grams + percent, moles + percent / species.molar_mass)
            })
        };
        let (crystallising, moles) = held(&crystallises);
        let (rest, _) = held(&|species| !crystallises(species));
        let parts = self.parts(crystallising, rest);
        let mut own: Make = make.clone();
        for (species, percent) in &mut own {
            *percent *= match species.kind {
                SpeciesKind::Powder => 1.0,
                _ if crystallises(species) => parts.crystallising,
                _ => parts.rest,
            };
        }
        if parts.melted > 0.0 {
            let melted = Species {
                id: "melted of a lot".to_owned(),
                kind: SpeciesKind::Liquid,
                molar_mass: crystallising / moles,
                settled: None,
                fresh: None,
            };
            own.push((melted, parts.melted));
        }
        let mut corrections = corrections.to_vec();
        if self.melts_higher_k != 0.0 {
            shift(make, &mut corrections, self.melts_higher_k);
        }
        (own, corrections)
    }
}

/// Adds a shift of every family of a make-up, K, to what was fitted to it.
pub(crate) fn shift(make: &Make, corrections: &mut Vec<Correction>, shift_k: f64) {
    for (species, _) in make {
        for crystal in [species.settled, species.fresh].into_iter().flatten() {
            if !corrections.iter().any(|correction| correction.family == crystal.family) {
                corrections.push(Correction {
                    family: crystal.family,
                    shift_k: 0.0,
                    enthalpy_factor: 1.0,
                    sets_at_once: false,
                });
            }
        }
    }
    for correction in corrections {
        correction.shift_k += shift_k;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        equilibrium::{Blend, CrystalState, Part},
        substances::catalogue,
    };
    use approx::assert_abs_diff_eq;

    /// A lot by its make-up melts as the same lot by its unknowns, alone and
    /// half in an oil, settled and fresh.
    #[test]
    fn a_make_up_of_its_own_is_the_same_lot() {
        let oil = crate::substances::find("olive-oil").unwrap();
        let oil = Part { make: oil.make(), corrections: oil.corrections() };
        for ingredient in catalogue() {
            let as_is = Part { make: ingredient.make(), corrections: ingredient.corrections() };
            for (melts_higher_k, crystallises_log) in [(1.5, -0.2), (-2.0, 0.15), (0.0, -0.1)] {
                let lot = Lot { melts_higher_k, crystallises_log };
                let (make, corrections) = lot.of_make(ingredient.make(), ingredient.corrections());
                let own = Part { make: &make, corrections: &corrections };
                for state in [CrystalState::Settled, CrystalState::Fresh] {
                    for amounts in [[100.0, 0.0], [50.0, 50.0]] {
                        let by_unknowns = Blend::new(&[as_is, oil], state).mixture_of_lots(&amounts, &[lot]);
                        let by_make = Blend::new(&[own, oil], state).mixture(&amounts);
                        for at_c in [5.0, 25.0, 32.0, 45.0] {
                            let [one, other] =
                                [&by_unknowns, &by_make].map(|mixture| mixture.at(at_c).solid_percent);
                            assert_abs_diff_eq!(one, other, epsilon = 1e-6);
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn mass_is_kept_and_no_part_is_more_than_all() {
        for gamma in [-3.0, -0.5, -0.1, 0.0, 0.1, 0.5, 3.0] {
            for crystallising in [0.0, 0.01, 0.5, 0.99, 1.0] {
                let rest = 1.0 - crystallising;
                let lot = Lot { crystallises_log: gamma, ..Lot::default() };
                let parts = lot.parts(crystallising, rest);
                let held = parts.crystallising * crystallising;
                assert_abs_diff_eq!(held + parts.rest * rest + parts.melted, 1.0, epsilon = 1e-12);
                assert!((0.0..=1.0 + 1e-12).contains(&held) && parts.rest >= 0.0, "{gamma} {crystallising}");
            }
        }
    }

    #[test]
    fn a_small_change_is_that_share_of_what_crystallises() {
        for gamma in [-1e-6, 1e-6] {
            let parts = Lot { crystallises_log: gamma, ..Lot::default() }.parts(0.6, 0.4);
            assert_abs_diff_eq!(parts.crystallising - 1.0, gamma, epsilon = 1e-11);
        }
    }
}
