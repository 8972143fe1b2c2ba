//! The engine against SciPy's general-purpose optimiser, on 200 recipes (`tests/reference/`).

use std::{collections::BTreeMap, fmt::Write};

use meltmargin::equilibrium::{CrystalState, Mixture, SpeciesState};

use crate::random::Random;

/// How far the solid share of all moles may differ.
const AGREES: f64 = 1e-6;

/// One problem: species, solid moles by SciPy, moles that are always liquid.
#[derive(Default)]
struct Problem {
    species: Vec<SpeciesState>,
    solid_moles: Vec<f64>,
    remainder: f64,
}

fn problems() -> BTreeMap<u32, Problem> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/recipes.csv");
    let mut problems: BTreeMap<u32, Problem> = BTreeMap::new();
    for record in csv::Reader::from_path(path).unwrap().records() {
        let record = record.unwrap();
        let problem = problems.entry(record[0].parse().unwrap()).or_default();
        let moles: f64 = record[2].parse().unwrap();
        match &record[1] {
            "-1" => problem.remainder += moles,
            phase => {
                problem.species.push(SpeciesState {
                    moles,
                    molar_mass: 1.0,
                    phase: phase.parse().unwrap(),
                    log_distribution: record[3].parse().unwrap(),
                    solid_moles: 0.0,
                });
                problem.solid_moles.push(record[4].parse().unwrap());
            }
        }
    }
    problems
}

#[test]
fn scipy_agrees() {
    let problems = problems();
    assert_eq!(problems.len(), 200);
    let mut partly_solid = 0;
    for (number, problem) in &problems {
        let mixture = Mixture::of_known_distribution(&problem.species, problem.remainder);
        let total: f64 = problem.remainder + problem.species.iter().map(|one| one.moles).sum::<f64>();
        let engine = 1.0 - mixture.at(20.0).liquid_moles / total;
        let scipy = problem.solid_moles.iter().sum::<f64>() / total;
        assert!((engine - scipy).abs() <= AGREES, "problem {number}: engine {engine}, SciPy {scipy}");
        for (one, solid) in mixture.species_at(20.0).iter().zip(&problem.solid_moles) {
            assert!(
                (one.solid_moles - solid).abs() <= AGREES * total,
                "problem {number}: {one:?}, SciPy {solid}"
            );
        }
        partly_solid += u32::from(engine > 0.01 && engine < 0.99);
    }
    assert!(partly_solid > 150, "only {partly_solid} problems have both solid and liquid");
}

/// Writes 200 problems for `gibbs.py` where `MELTMARGIN_EXPORT` says.
#[test]
#[ignore = "writes a file"]
fn export() {
    let path = std::env::var_os("MELTMARGIN_EXPORT").expect("MELTMARGIN_EXPORT says where to");
    let mut random = Random::splitmix(15);
    let mut text = String::from("problem,family,moles,log_distribution\n");
    let mut number = 0;
    while number < 200 {
        let recipe = random.recipe(4);
        let mixture = recipe.mixture(CrystalState::Settled);
        let at_c = 5.0 + 40.0 * random.share();
        // Few enough species for a general-purpose optimiser, and something to solve.
        let species = mixture.species_at(at_c);
        let solid = mixture.at(at_c).solid_percent;
        if species.len() > 40 || !(0.5..99.5).contains(&solid) {
            continue;
        }
        for one in &species {
            writeln!(text, "{number},{},{:.9e},{:.9}", one.phase, one.moles, one.log_distribution).unwrap();
        }
        if mixture.solvent_moles() > 0.0 {
            writeln!(text, "{number},-1,{:.9e},", mixture.solvent_moles()).unwrap();
        }
        number += 1;
    }
    std::fs::write(path, text).unwrap();
}
