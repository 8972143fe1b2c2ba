//! A fat known only by its solid-fat curve: a stand-in that has the same curve, and dilutes as fats do.
//!
//! The stand-in is made of pure crystals, each with the molar mass and the enthalpy of fusion of a common
//! triglyceride. Between the measured points a monotone curve is drawn, and on every short stretch of it one
//! crystal dissolves to its end. From the warm end down, each crystal follows in closed form from two
//! conditions: it is just dissolved at the stretch's warm end, and at its cold end it supplies the solids
//! that the curve has there and the warmer crystals have not. With molar masses all alike, the moles of
//! liquid are the curve's own, so that nothing needs to be iterated, and no amount can be negative.
//!
//! Where the curve is flat and then falls steeply, crystals of that enthalpy dissolve too gradually: a fat of
//! few species in one solid solution melts more sharply. Then the enthalpies that set the solubility, not the
//! heat of melting, are raised by the smallest factor that meets every point.

use super::check_percent;
use crate::{
    equilibrium::{Blend, CrystalState, Part},
    failure::{ErrorKind, Failure, OfLine},
    substances::{
        Correction, Crystal, Family, Fusion, GAS_CONSTANT, Make, OuterChains, Species, SpeciesKind,
        ZERO_CELSIUS_K,
    },
};

/// How far the stand-in's curve may be from a measured point, points.
const WITHIN_POINTS: f64 = 0.5;

/// Temperatures of measured points, °C.
pub const MEASURABLE_C: std::ops::RangeInclusive<f64> = -30.0..=110.0;

/// The most points, and the least distance between two, K.
const MOST_POINTS: usize = 60;
const LEAST_STEP_K: f64 = 0.5;

/// The longest stretch that one crystal covers, K.
const STRETCH_K: f64 = 2.5;

/// Where the hottest point still has solids, the curve is drawn on at its last
/// slope, but ends within these, K.
const TAIL_K: (f64, f64) = (1.0, 15.0);

/// J/mol, about that of POP to PPP (Wesdorp et al. 2012: 140 to 170 kJ/mol).
const FUSION_J_MOL: f64 = 150e3;

/// Factors on it that are tried: each a quarter above the one before.
const FACTOR_STEP: f64 = 1.25;
const MOST_FACTOR: f64 = 80.0;

/// Less than this share of the whole is not worth a crystal of its own.
const NEGLIGIBLE: f64 = 2e-4;

/// A point of the curve: K, and the share that is solid.
#[derive(Clone, Copy)]
struct Point {
    kelvin: f64,
    solid: f64,
}

/// The stand-in for a fat with these measured points, °C and percent, and the correction that goes with it.
///
/// # Errors
/// Fewer than two points, a point out of range, two too close, solids that rise, or a
/// fall too steep for any crystal.
pub(super) fn make(name: &str, points: &[(f64, f64)]) -> Result<(Make, Correction), Failure<OfLine>> {
    let points = checked(name, points)?;
    let curve = curve(&points);
    let mut factor = 1.0;
    while factor <= MOST_FACTOR {
        if let Some(make) = crystals(&curve, factor * FUSION_J_MOL) {
            let correction =
                Correction { family: Family::Own, shift_k: 0.0, enthalpy_factor: factor, sets_at_once: true };
            if misfit(&make, correction, &points) <= WITHIN_POINTS {
                return Ok((make, correction));
            }
        }
        factor *= FACTOR_STEP;
    }
    Err(Failure::new(
        ErrorKind::OutOfRange,
        OfLine::SolidPoints,
        format!(
            "no fat melts as the measured solids of {name} say, within {WITHIN_POINTS} points: they are flat, then fall too steeply; check them, or give fewer"
        ),
    ))
}

/// The points, coldest first, each in range and none above the one before.
fn checked(name: &str, points: &[(f64, f64)]) -> Result<Vec<Point>, Failure<OfLine>> {
    let failure = |kind, at: OfLine, message: String| Err(Failure::new(kind, at, message));
    if points.len() < 2 {
        return failure(
            ErrorKind::Empty,
            OfLine::SolidPoints,
            format!("{name} has {} solid-fat point: give at least two, each as [°C, percent]", points.len()),
        );
    }
    if points.len() > MOST_POINTS {
        return failure(
            ErrorKind::OutOfRange,
            OfLine::SolidPoints,
            format!("{name} has {} solid-fat points: give at most {MOST_POINTS}", points.len()),
        );
    }
    for (i, (celsius, percent)) in points.iter().enumerate() {
        if !MEASURABLE_C.contains(celsius) {
            return failure(
                ErrorKind::OutOfRange,
                OfLine::SolidPoint(i),
                format!(
                    "{celsius} °C is no temperature for a solid-fat point: give [°C, percent] with °C from {} to {}",
                    MEASURABLE_C.start(),
                    MEASURABLE_C.end()
                ),
            );
        }
        check_percent(*percent, OfLine::SolidPoint(i), &format!("solid fat of {name} at {celsius} °C"))?;
    }
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|a, b| points[*a].0.total_cmp(&points[*b].0));
    for pair in order.windows(2) {
        let (cold, warm) = (points[pair[0]], points[pair[1]]);
        let place = OfLine::SolidPoint(pair[1]);
        if warm.0 - cold.0 < LEAST_STEP_K {
            return failure(
                ErrorKind::OutOfRange,
                place,
                format!(
                    "{name} has solid-fat points at {} and {} °C: keep at least {LEAST_STEP_K} K between two",
                    cold.0, warm.0
                ),
            );
        }
        if warm.1 > cold.1 {
            return failure(
                ErrorKind::Conflict,
                place,
                format!(
                    "the solids of {name} rise from {} % at {} °C to {} % at {} °C, but solids melt as it gets warmer: correct one of the points",
                    cold.1, cold.0, warm.1, warm.0
                ),
            );
        }
    }
    Ok(order
        .into_iter()
        .map(|i| Point {
            kelvin: points[i].0 + ZERO_CELSIUS_K,
            // Without a trace of liquid nothing would be dissolved, and no crystal known.
            solid: (points[i].1 / 100.0).min(1.0 - 0.004),
        })
        .collect())
}

/// A monotone curve through the points, to where the solids end, in short stretches.
///
/// Cubics with slopes by the harmonic mean of the neighbouring chords (Fritsch & Butland 1984, SIAM J. Sci.
/// Stat. Comput. 5:300), which keep it monotone.
fn curve(points: &[Point]) -> Vec<Point> {
    let mut nodes = points.to_vec();
    if let [.., before, last] = points
        && last.solid > 0.0
    {
        let slope = (before.solid - last.solid) / (last.kelvin - before.kelvin);
        let tail = if slope > 0.0 { (last.solid / slope).clamp(TAIL_K.0, TAIL_K.1) } else { TAIL_K.1 };
        nodes.push(Point { kelvin: last.kelvin + tail, solid: 0.0 });
    }
    let chords: Vec<f64> = nodes
        .windows(2)
        .map(|pair| (pair[1].solid - pair[0].solid) / (pair[1].kelvin - pair[0].kelvin))
        .collect();
    let slopes: Vec<f64> = (0..nodes.len())
        .map(|i| match (i.checked_sub(1).map(|left| chords[left]), chords.get(i)) {
            (Some(left), Some(right)) if left * right > 0.0 => 2.0 * left * right / (left + right),
            (Some(_), Some(_)) => 0.0,
            (None, Some(end)) => *end,
            (Some(_), None) | (None, None) => 0.0,
        })
        .collect();
    let mut fine = vec![nodes[0]];
    for (i, pair) in nodes.windows(2).enumerate() {
        let width = pair[1].kelvin - pair[0].kelvin;
        let parts = (width / STRETCH_K).ceil().max(1.0);
        let mut part = 1.0;
        while part < parts {
            let u = part / parts;
            let (h00, h10) = ((1.0 + 2.0 * u) * (1.0 - u) * (1.0 - u), u * (1.0 - u) * (1.0 - u));
            let (h01, h11) = (u * u * (3.0 - 2.0 * u), u * u * (u - 1.0));
            let solid =
                h00 * pair[0].solid + h01 * pair[1].solid + width * (h10 * slopes[i] + h11 * slopes[i + 1]);
            fine.push(Point { kelvin: pair[0].kelvin + u * width, solid });
            part += 1.0;
        }
        fine.push(pair[1]);
    }
    fine
}

/// Pure crystals of this enthalpy whose curve is this one, as near as such crystals can; `None` where they
/// would need more than there is.
fn crystals(curve: &[Point], fusion_j_mol: f64) -> Option<Make> {
    let liquid = Species::find("liquid").ok()?;
    let slope = fusion_j_mol / GAS_CONSTANT;
    // Share of the whole, and melting point.
    let mut found: Vec<(f64, f64)> = Vec::new();
    for pair in curve.windows(2).rev() {
        let [cold, warm] = [pair[0], pair[1]];
        let (cold_liquid, warm_liquid) = (1.0 - cold.solid, 1.0 - warm.solid);
        let warmer: f64 = found
            .iter()
            .map(|(share, melting_k)| {
                share - cold_liquid * libm::exp(-slope * (1.0 / cold.kelvin - 1.0 / melting_k))
            })
            .map(|solid| solid.max(0.0))
            .sum();
        let wanted = cold.solid - warmer;
        if wanted <= NEGLIGIBLE {
            continue;
        }
        let cooling = libm::exp(-slope * (1.0 / cold.kelvin - 1.0 / warm.kelvin));
        let fraction = wanted / (warm_liquid - cold_liquid * cooling);
        let inverse = 1.0 / warm.kelvin + libm::log(fraction) / slope;
        found.push((warm_liquid * fraction, 1.0 / inverse));
    }
    let crystallising: f64 = found.iter().map(|(share, _)| share).sum();
    if crystallising > 1.0 || crystallising.is_nan() {
        return None;
    }
    let mut make: Make = found
        .into_iter()
        .map(|(share, melting_k)| {
            let crystal = Crystal {
                fusion: Fusion { melting_k, enthalpy_j_mol: FUSION_J_MOL },
                family: Family::Own,
                outer: OuterChains::default(),
            };
            let species = Species {
                // Every digit: two stand-ins share a crystal only where it is the same.
                id: format!("solid point {melting_k} K"),
                kind: SpeciesKind::Triglyceride,
                molar_mass: liquid.molar_mass,
                settled: Some(crystal),
                fresh: Some(crystal),
            };
            (species, 100.0 * share)
        })
        .collect();
    make.push((liquid, 100.0 * (1.0 - crystallising)));
    Some(make)
}

/// The largest distance of its curve from the points, percentage points.
fn misfit(make: &Make, correction: Correction, points: &[Point]) -> f64 {
    let mixture =
        Blend::new(&[Part { make, corrections: &[correction] }], CrystalState::Settled).mixture(&[100.0]);
    points
        .iter()
        .map(|point| (mixture.at(point.kelvin - ZERO_CELSIUS_K).solid_percent - 100.0 * point.solid).abs())
        .fold(0.0, f64::max)
}
