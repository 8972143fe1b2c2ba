//! Against closed solutions, and what must hold of any run.

use super::{Body, Cell, Control, Enthalpy, Outside, ThermalChain};

const PI_ROOT: f64 = 1.772_453_850_905_516;

/// A slab of cells with its first side held at ambient 0.
fn slab(material: Enthalpy, thickness_m: f64, cells: usize, kg_per_m3: f64, w_per_m_k: f64) -> ThermalChain {
    let body = Body::slab(thickness_m, 1.0, cells, kg_per_m3, w_per_m_k);
    ThermalChain {
        materials: vec![material],
        cells: body.cells(0).collect(),
        links_w_per_k: body.links_w_per_k.clone(),
        outside: vec![Outside { cell: 0, w_per_k: body.surface_w_per_k, ambient: 0 }],
    }
}

fn control(end_s: f64, error_j_per_kg: f64) -> Control {
    Control { end_s, stops_s: Vec::new(), longest_s: end_s / 20.0, error_j_per_kg }
}

/// Root of a falling function by bisection.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if f(middle) > 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// How deep a half-space has melted, m: Neumann's solution with equal properties of both phases (Carslaw &
/// Jaeger, Conduction of Heat in Solids, §11.2; with the solid at its melting point, Stefan's).
fn neumann_depth_m(time_s: f64, surface_c: f64, melts_c: f64, start_c: f64, p: &Properties) -> f64 {
    let diffusivity = p.w_per_m_k / (p.kg_per_m3 * p.j_per_kg_k);
    let stefan = p.j_per_kg_k * (surface_c - melts_c) / p.latent_j_per_kg;
    let cold = (melts_c - start_c) / (surface_c - melts_c);
    let lambda = root(1e-6, 5.0, |l| {
        let gauss = libm::exp(-l * l);
        gauss / libm::erf(l) - cold * gauss / libm::erfc(l) - l * PI_ROOT / stefan
    });
    2.0 * lambda * libm::sqrt(diffusivity * time_s)
}

struct Properties {
    kg_per_m3: f64,
    w_per_m_k: f64,
    j_per_kg_k: f64,
    latent_j_per_kg: f64,
}

const FAT: Properties =
    Properties { kg_per_m3: 900.0, w_per_m_k: 0.17, j_per_kg_k: 2000.0, latent_j_per_kg: 120e3 };

fn melted_depth_m(surface_c: f64, melts_c: f64, start_c: f64, cells: usize, time_s: f64, error: f64) -> f64 {
    let thickness_m = 0.03;
    let fat = Enthalpy::sharp(melts_c, FAT.latent_j_per_kg, FAT.j_per_kg_k, FAT.j_per_kg_k);
    let chain = slab(fat, thickness_m, cells, FAT.kg_per_m3, FAT.w_per_m_k);
    // A solid exactly at its melting point starts at the foot of the jump.
    let start = if start_c == melts_c { melts_c - 1e-9 } else { start_c };
    let outcome = chain.run(&vec![start; cells], &|_, _| surface_c, &control(time_s, error), &mut |_| true);
    thickness_m * (1.0 - chain.solid(0..cells, &outcome.j_per_kg))
}

#[test]
fn stefan_and_neumann_to_one_percent() {
    for (surface_c, melts_c, start_c) in [(45.0, 34.0, 34.0), (45.0, 34.0, 20.0), (70.0, 50.0, 0.0)] {
        for time_s in [120.0, 300.0, 600.0] {
            let exact = neumann_depth_m(time_s, surface_c, melts_c, start_c, &FAT);
            let found = melted_depth_m(surface_c, melts_c, start_c, 150, time_s, 20.0);
            assert!(
                (found / exact - 1.0).abs() < 0.01,
                "{surface_c} {melts_c} {start_c} after {time_s} s: {found} against {exact}"
            );
        }
    }
}

#[test]
fn grid_and_step_converge() {
    let at = |cells, error| melted_depth_m(45.0, 34.0, 20.0, cells, 300.0, error);
    let exact = neumann_depth_m(300.0, 45.0, 34.0, 20.0, &FAT);
    let misfit = |cells| (at(cells, 5.0) / exact - 1.0).abs();
    assert!(misfit(240) < misfit(30), "a finer grid is no better: {} {}", misfit(240), misfit(30));
    assert!(misfit(240) < 0.005);
    let (coarse, fine) = (at(60, 40.0), at(60, 1.0));
    assert!((coarse / fine - 1.0).abs() < 0.002, "the step matters: {coarse} {fine}");
}

/// Without latent heat: a half-space whose surface jumps (Carslaw & Jaeger §2.5).
#[test]
fn plain_conduction_is_the_error_function() {
    let diffusivity = FAT.w_per_m_k / (FAT.kg_per_m3 * FAT.j_per_kg_k);
    let chain = slab(Enthalpy::constant(FAT.j_per_kg_k), 0.05, 200, FAT.kg_per_m3, FAT.w_per_m_k);
    let outcome = chain.run(&[20.0; 200], &|_, _| 40.0, &control(300.0, 5.0), &mut |_| true);
    for cell in [2, 10, 20, 40] {
        let depth = (cell as f64 + 0.5) * 0.05 / 200.0;
        let exact = 40.0 - 20.0 * libm::erf(depth / (2.0 * libm::sqrt(diffusivity * 300.0)));
        let found = chain.temperature_c(cell, &outcome.j_per_kg);
        assert!((found - exact).abs() < 0.02, "at {depth} m: {found} against {exact}");
    }
}

/// A small sphere and cylinder in a poor wind cool as one lump: exp(−hAt/mc).
#[test]
fn shapes_hold_the_right_heat() {
    let radius = 0.002;
    let four_pi = 4.0 * core::f64::consts::PI;
    let shapes = [
        (four_pi * radius * radius, four_pi / 3.0 * radius * radius * radius),
        (2.0 * core::f64::consts::PI * radius, core::f64::consts::PI * radius * radius),
        (1.0, radius),
    ];
    for (area, volume) in shapes {
        let body = Body::new(radius, area, volume, 20, 900.0, 0.17);
        assert!((body.mass_kg.iter().sum::<f64>() / (900.0 * volume) - 1.0).abs() < 1e-12);
        let weak = 0.05 * area;
        let chain = ThermalChain {
            materials: vec![Enthalpy::constant(2000.0)],
            cells: body.cells(0).collect(),
            links_w_per_k: body.links_w_per_k.clone(),
            outside: vec![Outside {
                cell: 0,
                w_per_k: super::body::in_series(weak, body.surface_w_per_k),
                ambient: 0,
            }],
        };
        let end_s = 20_000.0;
        let outcome = chain.run(&[40.0; 20], &|_, _| 20.0, &control(end_s, 5.0), &mut |_| true);
        let exact = 20.0 + 20.0 * libm::exp(-weak * end_s / (2000.0 * 900.0 * volume));
        let found = chain.temperature_c(10, &outcome.j_per_kg);
        assert!((found - exact).abs() < 0.03, "{found} against {exact}");
    }
}

/// A jar-like body with a melting range in air that swings: the heat that came in is the heat that is held.
#[test]
fn energy_is_conserved() {
    let rows: Vec<(f64, f64, f64)> = (0..=120)
        .map(|i| {
            let c = -5.0 + 0.5 * i as f64;
            let molten = 1.0 / (1.0 + libm::exp(-(c - 30.0) / 2.0));
            (c, 130e3 * molten, 0.8 * (1.0 - molten))
        })
        .collect();
    let body = Body::new(0.025, 0.012, 1.2e-4, 24, 900.0, 0.17);
    let mut cells = vec![Cell { mass_kg: 0.05, material: 1 }, Cell { mass_kg: 0.02, material: 2 }];
    cells.extend(body.cells(0));
    let mut links = vec![0.05, 0.08];
    links.extend(&body.links_w_per_k);
    let chain = ThermalChain {
        materials: vec![
            Enthalpy::melting(&rows),
            Enthalpy::sharp(0.0, 334e3, 2100.0, 4180.0),
            Enthalpy::constant(1300.0),
        ],
        cells,
        links_w_per_k: links,
        outside: vec![Outside { cell: 1, w_per_k: 0.06, ambient: 0 }],
    };
    let count = chain.cells.len();
    let mut start = vec![20.0; count];
    start[0] = -15.0;
    let air = |time_s: f64, _: usize| 35.0 + 25.0 * libm::sin(time_s / 7000.0);
    for error in [2000.0, 50.0, 1.0] {
        let mut before = None;
        let outcome = chain.run(&start, &air, &control(86_400.0, error), &mut |step| {
            before.get_or_insert(chain.heat_j(step.j_per_kg));
            true
        });
        let gained = chain.heat_j(&outcome.j_per_kg) - before.unwrap();
        // Scaled by the heat that went to and fro, which is more than what is left of it.
        let scale = outcome.heat_in_j.abs().max(1000.0);
        assert!((gained - outcome.heat_in_j).abs() / scale < 1e-9, "{gained} {}", outcome.heat_in_j);
        assert!((outcome.time_s - 86_400.0).abs() < 1e-6);
    }
}

#[test]
fn a_table_reads_back_what_it_was_given() {
    let table = Enthalpy::melting(&[(10.0, 0.0, 0.9), (20.0, 50e3, 0.5), (30.0, 120e3, 0.0)]);
    for c in [-20.0, 5.0, 10.0, 13.0, 20.0, 29.9, 30.0, 80.0] {
        let (back, slope) = table.temperature_c(table.j_per_kg(c));
        assert!((back - c).abs() < 1e-9 && slope > 0.0, "{c} {back}");
    }
    assert!((table.solid(table.j_per_kg(20.0)) - 0.5).abs() < 1e-12);
    assert_eq!(table.solid(table.j_per_kg(60.0)), 0.0);
    assert_eq!(table.solid(table.j_per_kg(-60.0)), 0.9);
}
