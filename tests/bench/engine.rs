//! The engine's speed. `cargo bench --bench engine`; targets: twelve ingredients, 161 temperatures and both
//! melting points in 0.4 ms, and a cost linear in the number of species.
#![allow(missing_docs, clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use meltmargin::{
    behaviour::{clear_point, slip_point},
    equilibrium::{CrystalState, Mixture, Sweep},
    recipe::{Line, Recipe},
    substances,
};

/// An invented whipped butter with twelve ingredients.
const TWELVE: [(&str, f64); 12] = [
    ("shea-butter", 30.0),
    ("cocoa-butter", 12.0),
    ("mango-butter", 10.0),
    ("coconut-oil", 10.0),
    ("kokum-butter", 5.0),
    ("sweet-almond-oil", 10.0),
    ("olive-oil", 8.0),
    ("jojoba-oil", 5.0),
    ("avocado-oil", 4.0),
    ("stearic-acid", 3.0),
    ("cetyl-alcohol", 1.5),
    ("beeswax", 1.5),
];

fn twelve() -> Recipe {
    let lines =
        TWELVE.iter().map(|(id, percent)| Line::of(substances::find(id).unwrap(), *percent)).collect();
    Recipe::new(lines).unwrap()
}

/// 0 to 80 °C by half degrees.
fn temperatures() -> Vec<f64> {
    (0..=160).map(|step| 0.5 * f64::from(step)).collect()
}

/// Curve and both points, from a recipe that is already read.
fn recipe(bench: &mut Criterion) {
    let recipe = twelve();
    let at_c = temperatures();
    recipe.mixture(CrystalState::Settled); // Make-ups are worked out when first asked for.
    bench.bench_function("twelve ingredients, 161 temperatures, slip and clear", |bench| {
        bench.iter(|| {
            let mixture = black_box(&recipe).mixture(CrystalState::Settled);
            let mut sweep = Sweep::new(&mixture);
            let solids: Vec<f64> = at_c.iter().map(|at_c| sweep.rising(*at_c).solid_percent).collect();
            let slip = slip_point(&mixture).celsius.unwrap();
            let clear = clear_point(&mixture).celsius.unwrap();
            assert!(solids[0] > solids[160] && slip < clear);
            (solids, slip, clear)
        });
    });
    let mixture = recipe.mixture(CrystalState::Settled);
    bench.bench_function("twelve ingredients, one temperature", |bench| {
        bench.iter(|| mixture.at(black_box(25.0)));
    });
    bench.bench_function("twelve ingredients, 161 temperatures", |bench| {
        bench.iter(|| {
            let mut sweep = Sweep::new(black_box(&mixture));
            at_c.iter().map(|at_c| sweep.rising(*at_c).solid_percent).sum::<f64>()
        });
    });
    bench.bench_function("twelve ingredients, slip", |bench| {
        bench.iter(|| slip_point(black_box(&mixture)));
    });
    bench.bench_function("twelve ingredients, mixture", |bench| {
        bench.iter(|| black_box(&recipe).mixture(CrystalState::Settled));
    });
}

/// Triglycerides of every set of chains that the letters allow, so many.
fn species(count: usize) -> Mixture {
    let chains = ["La", "M", "P", "S", "A", "B", "O", "L", "Ln"];
    let mut moles = BTreeMap::new();
    for outer in 0..chains.len() {
        for middle in 0..chains.len() {
            for other in outer..chains.len() {
                if moles.len() < count {
                    let id = format!("{}{}{}", chains[outer], chains[middle], chains[other]);
                    moles.insert(id, 1.0 + 0.1 * (middle + other) as f64);
                }
            }
        }
    }
    assert_eq!(moles.len(), count);
    Mixture::from_moles(&moles).unwrap()
}

fn size(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("species");
    for count in [10, 50, 250] {
        let mixture = species(count);
        group.throughput(Throughput::Elements(count as u64));
        group.bench_with_input(BenchmarkId::from_parameter(count), &mixture, |bench, mixture| {
            bench.iter(|| {
                let state = mixture.at(black_box(30.0));
                assert!(state.certificate < 1e-9);
                state
            });
        });
    }
    group.finish();
}

criterion_group!(engine, recipe, size);
criterion_main!(engine);
