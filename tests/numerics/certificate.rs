//! Every answer obeys its optimality conditions to 1e-9.

use meltmargin::{equilibrium::CrystalState, substances};

use crate::{random::Random, recipes::recipe};

const CERTIFIED: f64 = 1e-9;

/// −20 to 100 °C by 5.
fn temperatures() -> impl Iterator<Item = f64> {
    (0..25).map(|step| -20.0 + 5.0 * f64::from(step))
}

#[test]
fn of_every_ingredient() {
    for ingredient in substances::catalogue() {
        for state in [CrystalState::Settled, CrystalState::Fresh] {
            let mixture = recipe(&[(ingredient.id(), 100.0)]).mixture(state);
            for at_c in temperatures() {
                let certificate = mixture.at(at_c).certificate;
                assert!(
                    certificate <= CERTIFIED,
                    "{} {state:?} at {at_c} °C: {certificate:e}",
                    ingredient.id()
                );
            }
        }
    }
}

#[test]
fn of_ten_thousand_recipes() {
    let mut random = Random::splitmix(1);
    for number in 0..10_000 {
        let parts = random.parts(12);
        let state = if number % 4 == 0 { CrystalState::Fresh } else { CrystalState::Settled };
        let mixture = recipe(&parts).mixture(state);
        let shift = random.share();
        for at_c in temperatures() {
            let found = mixture.at(at_c + shift);
            assert!(
                found.certificate <= CERTIFIED,
                "{parts:?} {state:?} at {at_c} °C: {:e}",
                found.certificate
            );
        }
    }
}
