//! The bounds that exclude whole regions hold: no mixture between the corners is outside them, and a blend at
//! one temperature is the mixture that it stands for.

use std::sync::Arc;

use meltmargin::{
    equilibrium::{Blend, CrystalState, Enclosure, IsothermalSection, Part, SolidsByKind, View},
    substances::{self, Family, OuterChains, Triglyceride},
};

use crate::{MENU, Random};

/// What structure counts: unlike for each kind, so that no two can be exchanged.
const WEIGHTS: SolidsByKind = SolidsByKind {
    triglyceride: 1.0,
    acid: 1.2,
    alcohol: 1.3,
    ester: 5.0,
    alkane: 4.0,
    mixed_ester: 1.1,
    glyceride: 1.5,
    beeswax_ester: 4.5,
    beeswax_alkane: 3.5,
    candelilla_ester: 6.0,
    candelilla_alkane: 7.0,
    carnauba_ester: 2.0,
};

fn weighted(solids: &SolidsByKind) -> f64 {
    solids.triglyceride
        + 1.2 * solids.acid
        + 1.3 * solids.alcohol
        + 5.0 * solids.ester
        + 4.0 * solids.alkane
        + 1.1 * solids.mixed_ester
        + 1.5 * solids.glyceride
        + 4.5 * solids.beeswax_ester
        + 3.5 * solids.beeswax_alkane
        + 6.0 * solids.candelilla_ester
        + 7.0 * solids.candelilla_alkane
        + 2.0 * solids.carnauba_ester
}

/// A random blend: seven ingredients of the menu, four of them fixed.
fn draw(random: &mut Random) -> (Blend, Vec<f64>) {
    let mut menu = MENU.to_vec();
    let parts: Vec<Part<'_>> = (0..7)
        .map(|_| {
            let found = substances::find(menu.swap_remove(random.below(menu.len()))).unwrap();
            Part { make: found.make(), corrections: found.corrections() }
        })
        .collect();
    let amounts = (0..4).map(|_| 20.0 * random.share()).collect();
    (Blend::new(&parts, CrystalState::Settled), amounts)
}

#[test]
fn a_section_is_the_mixture_at_that_temperature() {
    let mut random = Random::xorshift(11);
    for case in 0..300 {
        let (blend, mut amounts) = draw(&mut random);
        let celsius = 40.0 * random.share();
        let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, celsius)));
        view.load(&amounts, &[4, 5, 6]);
        for _ in 0..3 {
            let changing = [30.0 * random.share(), 30.0 * random.share(), 30.0 * random.share()];
            amounts.truncate(4);
            amounts.extend(changing);
            let (fast, slow) = (view.at(&changing), blend.mixture(&amounts).at(celsius));
            assert!((fast.solid_percent - slow.solid_percent).abs() < 1e-9, "case {case}: {fast:?} {slow:?}");
            assert!((weighted(&fast.by_kind) - weighted(&slow.by_kind)).abs() < 1e-9, "case {case}");
            assert!((fast.latent_j_per_g - slow.latent_j_per_g).abs() < 1e-9, "case {case}");
        }
    }
}

/// Bounds on a mixture of corners, in these shares.
fn mixed(bounds: &[[f64; 4]; 2], shares: &[f64]) -> [f64; 2] {
    bounds.map(|of| of.iter().zip(shares).map(|(corner, share)| corner * share).sum())
}

#[test]
fn no_mixture_between_the_corners_is_outside_the_bounds() {
    let mut random = Random::xorshift(7);
    let (mut proven, mut cases) = (0, 0);
    let mut enclosure = Enclosure::default();
    let mut gaps = [Vec::new(), Vec::new(), Vec::new()];
    for case in 0..1500 {
        let (blend, amounts) = draw(&mut random);
        let celsius = 10.0 + 25.0 * random.share();
        let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, celsius)));
        let weighting = view.section().weighting(&WEIGHTS, 0.0);
        view.load(&amounts, &[4, 5, 6]);
        // Three lines that share a sum: a triangle of side 1, 4 or 16 % somewhere among them.
        let size = case % 3;
        let side = [1.0, 4.0, 16.0][size];
        let at = [0, 1, 2].map(|_| 20.0 * random.share());
        let corners = [0, 1, 2].map(|grown| {
            let mut corner = at;
            corner[grown] += side;
            corner
        });
        cases += 1;
        let Some(bounds) = enclosure.bounds(&mut view, &corners, &weighting) else { continue };
        proven += 1;
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for trial in 0..24 {
            let mut weights = [random.share(), random.share(), random.share()];
            if trial < 3 {
                weights = [0.0; 3];
                weights[trial] = 1.0;
            }
            let sum: f64 = weights.iter().sum();
            let mut inside = [0.0; 3];
            for (corner, weight) in corners.iter().zip(weights) {
                for (value, part) in inside.iter_mut().zip(corner) {
                    *value += weight / sum * part;
                }
            }
            let found = weighted(&view.at(&inside).by_kind);
            least = least.min(found);
            most = most.max(found);
            let [low, high] = mixed(&bounds, &weights.map(|weight| weight / sum));
            assert!(
                (low - 1e-7..=high + 1e-7).contains(&found),
                "case {case} at {celsius} °C: {found} is outside {low}..{high} at {inside:?} of {corners:?}"
            );
        }
        let [low, high] = bounds;
        let low = low.into_iter().fold(f64::INFINITY, f64::min);
        let high = high.into_iter().fold(f64::NEG_INFINITY, f64::max);
        gaps[size].push((high - low) - (most - least));
    }
    for gap in &mut gaps {
        gap.sort_by(f64::total_cmp);
        println!(
            "{} proven; slack {:.3} median, {:.3} at nine tenths",
            gap.len(),
            gap[gap.len() / 2],
            gap[gap.len() * 9 / 10]
        );
    }
    assert!(proven * 10 >= cases * 9, "only {proven} of {cases} could be bounded");
}

/// Of four lines, the first gives what the others take: up to all of it, where what is left of it is dust.
#[test]
fn no_mixture_that_takes_from_one_line_for_three_is_outside_the_bounds() {
    let mut random = Random::xorshift(23);
    let (mut proven, mut cases) = (0, 0);
    let mut enclosure = Enclosure::default();
    for case in 0..900 {
        let (blend, amounts) = draw(&mut random);
        let celsius = 10.0 + 25.0 * random.share();
        let mut view = View::of(&Arc::new(IsothermalSection::new(&blend, celsius)));
        let weighting = view.section().weighting(&WEIGHTS, 0.0);
        // What was loaded before leaves nothing behind.
        view.load(&amounts, &[1, 4, 5]);
        view.load(&amounts, &[0, 4, 5, 6]);
        let most = if case % 3 == 0 { amounts[0] } else { amounts[0] * random.share() };
        let corners = [[0.0; 3], [most, 0.0, 0.0], [0.0, most, 0.0], [0.0, 0.0, most]];
        // What moves more than a fifth of the blend is often too wide.
        let counts = most <= 0.2 * amounts.iter().sum::<f64>();
        cases += u64::from(counts);
        let bounds = enclosure.bounds(&mut view, &corners, &weighting);
        for trial in 0..12 {
            // Of two or three, and of all that may be taken now and then.
            let mut parts = [random.share(), random.share(), random.share(), random.share()];
            parts[trial % 4] = 0.0;
            let sum: f64 = parts.iter().sum();
            let taken = [0, 1, 2].map(|at| most * parts[at] / sum);
            let mut whole = amounts.clone();
            whole[0] = (whole[0] - taken.iter().sum::<f64>()).max(0.0);
            whole.extend(taken);
            let slow = blend.mixture(&whole).at(celsius);
            let found = weighted(&slow.by_kind);
            if whole[0] > 1e-9 {
                let fast = view.at(&taken);
                assert!((weighted(&fast.by_kind) - found).abs() < 1e-9, "case {case}: {fast:?} {slow:?}");
            }
            if let Some(bounds) = &bounds {
                let [low, high] = mixed(bounds, &[3, 0, 1, 2].map(|at| parts[at] / sum));
                assert!(
                    (low - 1e-7..=high + 1e-7).contains(&found),
                    "case {case} at {celsius} °C: {found} is outside {low}..{high} at {taken:?}"
                );
            }
        }
        proven += u64::from(counts && bounds.is_some());
    }
    assert!(proven * 10 >= cases * 9, "only {proven} of {cases} could be bounded");
}

#[test]
fn disorder_stays_within_its_range() {
    let mut random = Random::xorshift(3);
    for _ in 0..1000 {
        let ends: Vec<OuterChains> = (0..1 + random.below(4))
            .map(|_| {
                let mut outer = OuterChains::default();
                for letters in ["POP", "POS", "SOS", "SOA", "AOA", "BOB"] {
                    // Often none of it.
                    let amount = (2.0 * random.share() - 1.0).max(0.0);
                    outer.add(amount, &OuterChains::of(Triglyceride::parse(letters).unwrap()));
                }
                outer
            })
            .collect();
        // An end without the family is no end.
        let ends: Vec<OuterChains> = ends.into_iter().filter(|end| *end != OuterChains::default()).collect();
        let (least, most) = Family::SatOleicSat.disorder_between(&ends);
        for _ in 0..20 {
            let mut mixed = OuterChains::default();
            for end in &ends {
                mixed.add(random.share(), end);
            }
            if ends.is_empty() {
                continue;
            }
            let found = Family::SatOleicSat.disorder(mixed);
            let slack = 1e-12;
            assert!((least.lowering_k - slack..=most.lowering_k + slack).contains(&found.lowering_k));
            assert!((least.left_out - slack..=most.left_out + slack).contains(&found.left_out));
        }
    }
}
