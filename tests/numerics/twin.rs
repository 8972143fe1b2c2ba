//! The engine and the slow general method agree to 1e-10.

use meltmargin::equilibrium::{CrystalState, Mixture, Sweep};

use crate::{interior_point, random::Random, recipes::recipe};

/// The share of the moles that is solid, by both methods.
fn solid_shares(mixture: &Mixture, at_c: f64) -> (f64, f64) {
    let species = mixture.species_at(at_c);
    let remainder = mixture.solvent_moles();
    let total = remainder + species.iter().map(|one| one.moles).sum::<f64>();
    let engine = 1.0 - mixture.at(at_c).liquid_moles / total;
    let general = 1.0 - interior_point::solve(&species, remainder)[0] / total;
    (engine, general)
}

#[test]
fn agrees_with_the_engine() {
    let mut random = Random::splitmix(2);
    let mut solid_somewhere = 0;
    for _ in 0..60 {
        let parts = random.parts(4);
        let mixture = recipe(&parts).mixture(CrystalState::Settled);
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

/// Sweeps, rising and wandering, find what the nested solver finds.
#[test]
fn sweeps_agree_with_single_states() {
    let mut random = Random::splitmix(16);
    let (mut steps, mut states) = (0, 0);
    for number in 0..500 {
        let parts = random.parts(12);
        let state = if number % 4 == 0 { CrystalState::Fresh } else { CrystalState::Settled };
        let mixture = recipe(&parts).mixture(state);
        let mut sweep = Sweep::new(&mixture);
        let mut at_c = -20.0;
        while at_c < 100.0 {
            let (swept, single) = (sweep.rising(at_c), mixture.at(at_c));
            steps += swept.steps;
            states += 1;
            let difference = swept.solid_percent - single.solid_percent;
            assert!(
                difference.abs() <= 1e-9 && swept.certificate <= 1e-9,
                "{parts:?} at {at_c} °C: {difference:e} points apart, certificate {:e}",
                swept.certificate
            );
            at_c += 8.0 * random.share() * random.share();
        }
        for _ in 0..10 {
            let at_c = -20.0 + 120.0 * random.share();
            let difference = sweep.at(at_c).solid_percent - mixture.at(at_c).solid_percent;
            assert!(
                difference.abs() <= 1e-9,
                "{parts:?}, wandering to {at_c} °C: {difference:e} points apart"
            );
        }
    }
    let mean = f64::from(steps) / f64::from(states);
    assert!(mean < 6.0, "{mean} steps a state: the nested solver has to help too often");
    println!("{mean:.2} steps a state");
}
