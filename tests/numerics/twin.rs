//! The engine and the slow general method agree to 1e-10.

use meltmargin::equilibrium::{Mixture, State};

use crate::{
    interior_point,
    random::{Random, recipe},
};

/// The share of the moles that is solid, by both methods.
fn solid_shares(mixture: &Mixture, at_c: f64) -> (f64, f64) {
    let species = mixture.species_at(at_c);
    let remainder = mixture.liquid_remainder_moles();
    let total = remainder + species.iter().map(|one| one.moles).sum::<f64>();
    let engine = 1.0 - mixture.at(at_c).liquid_moles / total;
    let general = 1.0 - interior_point::solve(&species, remainder)[0] / total;
    (engine, general)
}

#[test]
fn agrees_with_the_engine() {
    let mut random = Random::seeded(2);
    let mut solid_somewhere = 0;
    for _ in 0..60 {
        let parts = random.parts(4);
        let mixture = recipe(&parts).mixture(State::Settled);
        if mixture.at(20.0).powder_percent > 99.0 {
            continue; // Powder alone: nothing to solve.
        }
        for at_c in [5.0, 22.0, 31.0, 50.0] {
            let (engine, general) = solid_shares(&mixture, at_c);
            assert!(
                (engine - general).abs() <= 1e-10,
                "{parts:?} at {at_c} °C: engine {engine}, general method {general}"
            );
            solid_somewhere += u32::from(engine > 0.01);
        }
    }
    // Agreement on liquids alone would prove little.
    assert!(solid_somewhere > 100, "{solid_somewhere}");
}
