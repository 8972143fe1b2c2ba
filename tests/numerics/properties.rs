//! What must hold of any recipe, whatever the data.

use std::collections::BTreeMap;

use meltmargin::{
    behaviour::{clear_point, slip_point},
    equilibrium::{CrystalState, Mixture},
    recipe::Recipe,
};

use crate::{random::Random, recipes::recipe};

/// Differences of rounding: sums taken in another order, in percent.
const ROUNDING: f64 = 1e-10;

fn mixtures(seed: u64, count: usize) -> Vec<(Vec<(&'static str, f64)>, Mixture)> {
    let mut random = Random::splitmix(seed);
    (0..count)
        .map(|number| {
            let parts = random.parts(8);
            let state = if number % 3 == 0 { CrystalState::Fresh } else { CrystalState::Settled };
            let mixture = recipe(&parts).mixture(state);
            (parts, mixture)
        })
        .collect()
}

#[test]
fn solids_never_rise_with_temperature() {
    for (parts, mixture) in mixtures(3, 400) {
        let mut colder = 100.0;
        for step in -40..220 {
            let at_c = 0.5 * f64::from(step);
            let solid = mixture.at(at_c).solid_percent;
            assert!(solid <= colder + ROUNDING, "{parts:?}: {solid} % at {at_c} °C after {colder} %");
            colder = solid;
        }
    }
}

#[test]
fn solids_lie_between_nothing_and_everything() {
    for (parts, mixture) in mixtures(4, 300) {
        for at_c in [-60.0, -20.0, 0.0, 20.0, 40.0, 80.0, 150.0] {
            let state = mixture.at(at_c);
            let all = state.solid_percent + state.powder_percent;
            assert!((0.0..=100.0 + ROUNDING).contains(&all), "{parts:?} at {at_c} °C: {all} %");
        }
    }
}

#[track_caller]
fn assert_same(parts: &[(&str, f64)], other: &[(&str, f64)]) {
    let (one, two): (Recipe, Recipe) = (recipe(parts), recipe(other));
    for state in [CrystalState::Settled, CrystalState::Fresh] {
        let (one, two) = (one.mixture(state), two.mixture(state));
        for at_c in [0.0, 15.0, 24.0, 33.0, 60.0] {
            let difference = one.at(at_c).solid_percent - two.at(at_c).solid_percent;
            assert!(
                difference.abs() <= ROUNDING,
                "{parts:?} and {other:?} differ by {difference:e} points at {at_c} °C"
            );
        }
    }
}

/// To rounding, not to the bit: amounts of a species that two ingredients share are added in another order.
#[test]
fn order_changes_nothing() {
    let mut random = Random::splitmix(5);
    for _ in 0..100 {
        let parts = random.parts(8);
        let mut turned = parts.clone();
        turned.reverse();
        assert_same(&parts, &turned);
    }
}

#[test]
fn an_ingredient_of_no_amount_changes_nothing() {
    let mut random = Random::splitmix(6);
    for _ in 0..100 {
        let parts = random.parts(8);
        let mut with_none = parts.clone();
        with_none.insert(random.below(parts.len() + 1), ("carnauba-wax", 0.0));
        assert_same(&parts, &with_none);
    }
}

#[test]
fn splitting_an_ingredient_into_two_lines_changes_nothing() {
    let mut random = Random::splitmix(7);
    for _ in 0..100 {
        let parts = random.parts(8);
        let mut split = parts.clone();
        let at = random.below(parts.len());
        let (id, percent) = split[at];
        let first = percent * random.share();
        split[at].1 = first;
        split.push((id, percent - first));
        assert_same(&parts, &split);
    }
}

/// Liquid and solid moles of every species add up to what the recipe holds, and the liquid's to L.
#[test]
fn every_species_is_conserved() {
    for (parts, mixture) in mixtures(8, 200) {
        for at_c in [10.0, 25.0, 40.0] {
            let state = mixture.at(at_c);
            let species = mixture.species_at(at_c);
            let mut solid_grams = 0.0;
            let mut liquid_moles = mixture.solvent_moles();
            for one in &species {
                assert!(
                    one.solid_moles >= 0.0 && one.solid_moles <= one.moles * (1.0 + 1e-12),
                    "{parts:?} at {at_c} °C: {one:?}"
                );
                solid_grams += one.solid_moles * one.molar_mass;
                liquid_moles += one.moles - one.solid_moles;
            }
            let solid_percent = 100.0 * solid_grams / mixture.mass();
            assert!(
                (solid_percent - state.solid_percent).abs() <= 1e-7,
                "{parts:?} at {at_c} °C: {solid_percent} % against {} %",
                state.solid_percent
            );
            let total = liquid_moles + species.iter().map(|one| one.solid_moles).sum::<f64>();
            assert!(
                (liquid_moles - state.liquid_moles).abs() <= 1e-9 * total,
                "{parts:?} at {at_c} °C: {liquid_moles} mol of liquid against {}",
                state.liquid_moles
            );
        }
    }
}

/// Mass is conserved from recipe to mixture: 100 g in, 100 g laid out.
#[test]
fn a_recipe_of_a_hundred_grams_weighs_a_hundred() {
    for (parts, mixture) in mixtures(9, 300) {
        assert!((mixture.mass() - 100.0).abs() <= 1e-9, "{parts:?} weighs {} g", mixture.mass());
    }
}

/// A pure species is all solid below its melting point and all liquid above: species of several families.
#[test]
fn a_pure_species_melts_at_its_melting_point() {
    for id in
        ["SSS", "PPP", "stearic-acid", "palmitic-acid", "hexadecanol", "LaLaLa", "SOS", "POS", "SOA", "PPS"]
    {
        let species = meltmargin::substances::Species::find(id).unwrap();
        let melting_c = species.settled.unwrap().fusion.melting_k - 273.15;
        let mixture = Mixture::from_moles(&BTreeMap::from([(id.to_owned(), 1.0)])).unwrap();
        let (below, above) = (mixture.at(melting_c - 1e-6), mixture.at(melting_c + 1e-6));
        assert!((below.solid_percent - 100.0).abs() < 1e-9, "{id}: {} % below", below.solid_percent);
        assert!(above.solid_percent < 1e-9, "{id}: {} % above", above.solid_percent);
        assert!((mixture.liquidus_c().unwrap() - melting_c).abs() < 1e-6, "{id}");
        assert!((slip_point(&mixture).celsius.unwrap() - melting_c).abs() < 1e-4, "{id}");
    }
}

/// No jump with temperature: a hundredth of a degree moves solids by what melting a blend can, not by a step.
/// Fats of more than one species only: a pure species does jump.
#[test]
fn solids_are_continuous_in_temperature() {
    for (parts, mixture) in mixtures(10, 100) {
        if parts.len() < 4 {
            continue;
        }
        for step in 0..100 {
            let at_c = f64::from(step);
            let (here, there) = (mixture.at(at_c), mixture.at(at_c + 1e-7));
            let moved = (here.solid_percent - there.solid_percent).abs();
            assert!(moved <= 1e-3, "{parts:?}: {moved} points within 1e-7 K of {at_c} °C");
        }
    }
}

/// No jump with composition: a millionth of another ingredient moves solids by a millionth's worth.
#[test]
fn solids_are_continuous_in_amounts() {
    let mut random = Random::splitmix(11);
    for _ in 0..100 {
        let parts = random.parts(6);
        let mut moved: Vec<(&str, f64)> =
            parts.iter().map(|(id, percent)| (*id, percent * (1.0 - 1e-8))).collect();
        moved.push(("stearic-acid", 1e-6));
        let (one, two) =
            (recipe(&parts).mixture(CrystalState::Settled), recipe(&moved).mixture(CrystalState::Settled));
        for at_c in [15.0, 25.0, 35.0] {
            let difference = (one.at(at_c).solid_percent - two.at(at_c).solid_percent).abs();
            assert!(difference <= 1e-3, "{parts:?} at {at_c} °C: {difference} points");
        }
    }
}

#[test]
fn slip_comes_before_clear() {
    for (parts, mixture) in mixtures(12, 300) {
        if let (Some(slip), Some(clear)) = (slip_point(&mixture).celsius, clear_point(&mixture).celsius) {
            assert!(slip <= clear + 1e-6, "{parts:?}: slips at {slip}, clears at {clear} °C");
        }
    }
}
