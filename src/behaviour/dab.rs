//! A dab on skin: how long it keeps its solids.

use super::heat::{Ambient, Body, Cell, Control, Enthalpy, Outside, ThermalChain, in_series};

/// A dab laid on skin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dab {
    /// g; sets only how much skin it covers.
    pub mass_g: f64,
    /// How thick it lies, mm; between palms before it is spread over one of them.
    pub film_mm: f64,
    /// Its temperature before, °C.
    pub start_c: f64,
    /// Skin, °C.
    pub skin_c: f64,
    /// Between two palms instead of under a fingertip: warmed from both sides.
    pub both_sides: bool,
}

/// Mass of the default dab, g.
pub const DAB_G: f64 = 1.0;
/// Thickness of the default dab, mm.
pub const FILM_MM: f64 = 2.0;
/// A palm without its fingers, cm²: half a hundredth of the skin of a body of 1.8 m² (Rossiter et al. 1996,
/// from memory). Rubbing spreads a dab between two palms until it covers them; while it melts it is taken to
/// be as thick as the geometric mean of before and after (ours).
pub const PALM_CM2: f64 = 90.0;
/// Room that the dab comes from unless storage says otherwise, °C.
pub const ROOM_C: f64 = 20.0;

/// What a dab does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Melted {
    /// Seconds until half of its solids are gone; `None` where that never happens (within an hour).
    pub half_s: Option<f64>,
    /// Seconds until only the residue is left: all but a twentieth of what skin can
    /// melt has melted; `None` likewise.
    pub residue_s: Option<f64>,
    /// Solids before, percent by mass.
    pub start_percent: f64,
    /// Solids that skin does not melt, percent by mass.
    pub residue_percent: f64,
    /// How thick it lies, mm.
    pub film_mm: f64,
    /// Skin covered, cm².
    pub area_cm2: f64,
    /// Linear systems solved on the way, which is what it costs.
    pub solves: usize,
}

/// Thermal conductivity of a butter, W/(m K): 0.12 for liquid cocoa butter (Beckett), about 0.17 for oils and
/// 0.2 and more for solid fat (from memory).
pub(super) const FAT_W_PER_M_K: f64 = 0.17;
/// Density of a butter, kg/m³: shea 0.91–0.98, cocoa butter 0.96–0.99 solid and
/// 0.88–0.90 liquid (Codex; Beckett).
pub(super) const FAT_KG_PER_M3: f64 = 920.0;

/// The upper skin in life, W/(m K) (upper 2 mm; review table, Burns 2016, PMC5459687).
const SKIN_W_PER_M_K: f64 = 0.37;
/// J/(kg K): skin as a single layer, porcine, 3349 (same table).
const SKIN_J_PER_KG_K: f64 = 3349.0;
/// kg/m³ (from memory of tissue tables).
const SKIN_KG_PER_M3: f64 = 1109.0;
/// What blood brings, W/(m³ K): 106 mL/(min kg) of skin at rest, blood at 1050 kg/m³ and 3617 J/(kg K)
/// (from memory of tissue tables).
const PERFUSION_W_PER_M3_K: f64 = 1109.0 * 106e-6 / 60.0 * 1050.0 * 3617.0;
/// How deep skin is followed, m: beyond √(conductivity / perfusion) = 7 mm nothing is felt.
const SKIN_DEPTH_M: f64 = 0.012;
const LONGEST_S: f64 = 3600.0;
/// Share of what skin can melt at which the rest counts as gone.
const NEARLY_ALL: f64 = 0.95;

/// Follows a dab on skin.
///
/// Assumptions, ours: the film lies still and touches well; a fingertip covers its other side, which loses
/// nothing. All of the skin starts at its undisturbed temperature, and blood brings it back there; real
/// tissue is a little warmer, so times err on the long side. On skin, rubbing is left out, which would thin
/// the film: times are far longer than a maker's. Between palms the film has one thickness, between that of a
/// dab and that of a film all over the palm.
pub fn melt(fat: &Enthalpy, dab: &Dab) -> Melted {
    melt_on(fat, dab, &USUAL)
}

/// What the tests vary: how finely film and skin are cut, how deep skin goes, whether blood flows.
struct Fineness {
    film_cells: usize,
    widening: f64,
    skin_depth_m: f64,
    perfusion_w_per_m3_k: f64,
    error_j_per_kg: f64,
}

/// Within 1 % of a grid six times as fine with a hundredth of the error, from films of a tenth of a
/// millimetre up (see the tests).
const USUAL: Fineness = Fineness {
    film_cells: 16,
    widening: 1.2,
    skin_depth_m: SKIN_DEPTH_M,
    perfusion_w_per_m3_k: PERFUSION_W_PER_M3_K,
    error_j_per_kg: 200.0,
};

fn melt_on(fat: &Enthalpy, dab: &Dab, fine: &Fineness) -> Melted {
    let volume_cm3 = dab.mass_g.max(0.0) / (1e-3 * FAT_KG_PER_M3);
    let spread_mm = if dab.both_sides { 10.0 * volume_cm3 / PALM_CM2 } else { f64::INFINITY };
    let film_mm = (dab.film_mm * dab.film_mm.min(spread_mm)).sqrt().clamp(0.05, 20.0);
    let film_m = 1e-3 * film_mm * if dab.both_sides { 0.5 } else { 1.0 };
    let solid_at = |c: f64| 100.0 * fat.solid(fat.j_per_kg(c));
    let start_percent = solid_at(dab.start_c);
    let residue_percent = solid_at(dab.skin_c).min(start_percent);
    let mut melted = Melted {
        half_s: None,
        residue_s: None,
        start_percent,
        residue_percent,
        film_mm,
        area_cm2: volume_cm3 / (0.1 * film_mm),
        solves: 0,
    };
    if start_percent < NOTHING_PERCENT || dab.start_c >= dab.skin_c {
        // Nothing solid to melt, or no heat to melt it with.
        melted.residue_s = Some(0.0);
        melted.half_s = (start_percent < NOTHING_PERCENT).then_some(0.0);
        return melted;
    }
    let chain = chain(fat, film_m, fine);
    let skin_cells = chain.cells.len() - fine.film_cells;
    let film = skin_cells..chain.cells.len();
    let mut start = vec![dab.skin_c; skin_cells];
    start.resize(chain.cells.len(), dab.start_c);
    let skin: Ambient<'_> = &|_, _| dab.skin_c;
    let control = Control {
        end_s: LONGEST_S,
        stops_s: Vec::new(),
        longest_s: 60.0,
        error_j_per_kg: fine.error_j_per_kg * (film_m / THIN_M).clamp(0.05, 1.0),
    };
    let half_percent = 0.5 * start_percent;
    let rest_percent = residue_percent + (1.0 - NEARLY_ALL) * (start_percent - residue_percent);
    let mut before = (0.0, start_percent);
    let outcome = chain.run(&start, skin, &control, &mut |step| {
        let now = (step.time_s, 100.0 * chain.solid(film.clone(), step.j_per_kg));
        melted.half_s = melted.half_s.or_else(|| crossing(before, now, half_percent));
        melted.residue_s = melted.residue_s.or_else(|| crossing(before, now, rest_percent));
        before = now;
        melted.residue_s.is_none() || (melted.half_s.is_none() && half_percent > residue_percent)
    });
    melted.solves = outcome.solves;
    melted
}

/// A film thinner than this, m, soon takes the skin's temperature and then waits for the skin to warm again.
/// That is slow, so a small error in temperature is a large one in time, and the error must be less.
const THIN_M: f64 = 1e-3;
/// Below this, percent, there is nothing solid worth speaking of.
const NOTHING_PERCENT: f64 = 1.0;

/// When a falling figure passes a level between two moments.
fn crossing(before: (f64, f64), now: (f64, f64), level: f64) -> Option<f64> {
    if now.1 > level {
        return None;
    }
    let fall = before.1 - now.1;
    let share = if fall > 0.0 { ((before.1 - level) / fall).clamp(0.0, 1.0) } else { 1.0 };
    Some(before.0 + share * (now.0 - before.0))
}

/// The layers of skin, deepest first, m. What happens fast happens near the surface, so the uppermost
/// is as thin as a cell of the film. Each below it is wider than the one above by one factor, until
/// they reach as deep as they should.
fn skin_widths_m(first_m: f64, fine: &Fineness) -> Vec<f64> {
    let mut widths = Vec::new();
    let (mut width, mut depth_m) = (first_m, 0.0);
    while depth_m < fine.skin_depth_m && widths.len() < MOST_LAYERS {
        widths.push(width);
        depth_m += width;
        width *= fine.widening;
    }
    let scale = fine.skin_depth_m / depth_m;
    widths.iter_mut().for_each(|width| *width *= scale);
    widths.reverse();
    widths
}

/// A bound, so that no film is followed without end.
const MOST_LAYERS: usize = 1000;

/// A square metre of skin, deepest first, with the film on it.
fn chain(fat: &Enthalpy, film_m: f64, fine: &Fineness) -> ThermalChain {
    let film = Body::slab(film_m, 1.0, fine.film_cells, FAT_KG_PER_M3, FAT_W_PER_M_K);
    let widths_m = skin_widths_m(film_m / fine.film_cells as f64, fine);
    let half_w_per_k: Vec<f64> = widths_m.iter().map(|width| 2.0 * SKIN_W_PER_M_K / width).collect();
    let mut cells: Vec<Cell> =
        widths_m.iter().map(|width| Cell { mass_kg: SKIN_KG_PER_M3 * width, material: 0 }).collect();
    cells.extend(film.cells(1));
    let mut links: Vec<f64> = half_w_per_k.windows(2).map(|pair| in_series(pair[0], pair[1])).collect();
    let surface_w_per_k = half_w_per_k.last().copied().unwrap_or(0.0);
    links.push(in_series(surface_w_per_k, film.surface_w_per_k));
    links.extend(&film.links_w_per_k);
    let mut outside: Vec<Outside> = widths_m
        .iter()
        .enumerate()
        .map(|(cell, width)| Outside { cell, w_per_k: fine.perfusion_w_per_m3_k * width, ambient: 0 })
        .collect();
    outside.push(Outside { cell: 0, w_per_k: half_w_per_k[0], ambient: 0 });
    ThermalChain {
        materials: vec![Enthalpy::constant(SKIN_J_PER_KG_K), fat.clone()],
        cells,
        links_w_per_k: links,
        outside,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::profile::tests::invented;

    const DAB: Dab = Dab { mass_g: DAB_G, film_mm: FILM_MM, start_c: 20.0, skin_c: 32.5, both_sides: false };

    #[test]
    fn grid_and_step_do_not_matter() {
        let finer = Fineness { film_cells: 96, widening: 1.02, error_j_per_kg: 2.0, ..USUAL };
        for (most, middle_c, wax) in [(60.0, 26.0, 0.0), (30.0, 30.0, 2.0), (80.0, 22.0, 0.0)] {
            let fat = invented(most, middle_c, wax, 50.0).enthalpy();
            let palms = Dab { skin_c: 34.0, both_sides: true, ..DAB };
            for (dab, most_solves) in [
                (DAB, 300),
                // Spread to half a millimetre.
                (palms, 1000),
                (Dab { film_mm: 8.0, ..DAB }, 500),
                (Dab { film_mm: 0.5, ..DAB }, 300),
                (Dab { film_mm: 0.1, ..palms }, 1000),
            ] {
                let (usual, fine) = (melt(&fat, &dab), melt_on(&fat, &dab, &finer));
                for (found, exact) in [(usual.half_s, fine.half_s), (usual.residue_s, fine.residue_s)] {
                    let ratio = found.zip(exact).map_or(1.0, |(found, exact)| found / exact);
                    assert!((ratio - 1.0).abs() < 0.01, "{most} {middle_c} {dab:?}: {found:?} {exact:?}");
                    assert_eq!(found.is_some(), exact.is_some(), "{most} {middle_c} {dab:?}");
                }
                assert!(usual.half_s.is_some() && usual.half_s < usual.residue_s.or(Some(LONGEST_S)));
                assert!(usual.solves < most_solves, "{most} {middle_c} {dab:?}: {} solves", usual.solves);
            }
        }
    }

    /// Behind a surface held a kelvin below blood, perfused skin carries √(k w) coth(d √(w/k)) W/m² for ever
    /// (Pennes' equation, steady), with w the heat that blood brings: 106 mL/(min kg) × 1109 kg/m³ of blood
    /// at 1050 kg/m³ and 3617 J/(kg K) is 7441 W/(m³ K).
    #[test]
    fn blood_warms_skin_as_pennes_has_it() {
        let count = 100;
        let fine = Fineness { film_cells: 2, widening: 1.0, ..USUAL };
        let mut skin = chain(&Enthalpy::constant(2000.0), 2.0 * SKIN_DEPTH_M / count as f64, &fine);
        skin.cells.truncate(count);
        skin.links_w_per_k.truncate(count - 1);
        let half_cell_w_per_k = 2.0 * 0.37 * count as f64 / SKIN_DEPTH_M;
        skin.outside.push(Outside { cell: count - 1, w_per_k: half_cell_w_per_k, ambient: 1 });
        let control = Control { end_s: 4000.0, stops_s: Vec::new(), longest_s: 100.0, error_j_per_kg: 20.0 };
        let ambient: Ambient<'_> = &|_, which| if which == 1 { 31.5 } else { 32.5 };
        let outcome = skin.run(&vec![32.5; count], ambient, &control, &mut |_| true);
        let flux = half_cell_w_per_k * (skin.temperature_c(count - 1, &outcome.j_per_kg) - 31.5);
        let reach = SKIN_DEPTH_M * (7441.0_f64 / 0.37).sqrt();
        let exact = (0.37_f64 * 7441.0).sqrt() * (libm::cosh(reach) / libm::sinh(reach));
        assert!((flux / exact - 1.0).abs() < 0.01, "{flux} against {exact}");
    }

    #[test]
    fn thicker_is_slower_warmer_is_faster_and_two_palms_faster_still() {
        let fat = invented(60.0, 26.0, 0.0, 50.0).enthalpy();
        let half = |dab: Dab| melt(&fat, &dab).half_s.unwrap();
        let usual = half(DAB);
        assert!(half(Dab { film_mm: 4.0, ..DAB }) > 2.0 * usual);
        assert!(half(Dab { skin_c: 34.0, ..DAB }) < usual);
        assert!(half(Dab { skin_c: 34.0, both_sides: true, ..DAB }) < half(Dab { skin_c: 34.0, ..DAB }));
        assert_eq!(half(Dab { mass_g: 3.0, ..DAB }), usual);
    }

    /// Skin without blood against a fat at its melting point has a closed solution (two half-spaces in
    /// contact, one of them melting; Carslaw & Jaeger §11.2): the interface keeps one temperature, the error
    /// function is on the skin's side and Stefan's solution on the fat's.
    #[test]
    fn contact_with_skin_follows_the_closed_solution() {
        let (melts_c, latent, heat) = (28.0, 100e3, 2000.0);
        let fat = Enthalpy::sharp(melts_c, latent, heat, heat);
        let bloodless = Fineness {
            film_cells: 96,
            widening: 1.02,
            skin_depth_m: 0.04,

            perfusion_w_per_m3_k: 0.0,
            error_j_per_kg: 5.0,
        };
        let melted = melt_on(&fat, &Dab { start_c: melts_c - 1e-6, ..DAB }, &bloodless);
        let effusivity = |k: f64, rho: f64, c: f64| (k * rho * c).sqrt();
        let skin = effusivity(SKIN_W_PER_M_K, SKIN_KG_PER_M3, SKIN_J_PER_KG_K);
        let film = effusivity(FAT_W_PER_M_K, FAT_KG_PER_M3, heat);
        // Interface temperature from equal fluxes, λ from Stefan's condition: bisection on λ.
        let (mut low, mut high) = (1e-6, 2.0);
        for _ in 0..200 {
            let l: f64 = 0.5 * (low + high);
            let share = skin * libm::erf(l) / (skin * libm::erf(l) + film);
            let stefan = heat * share * (DAB.skin_c - melts_c) / latent;
            let excess = l * libm::exp(l * l) * libm::erf(l) * core::f64::consts::PI.sqrt() - stefan;
            if excess > 0.0 { high = l } else { low = l }
        }
        let diffusivity = FAT_W_PER_M_K / (FAT_KG_PER_M3 * heat);
        let root_s = 0.001 / (2.0 * low);
        let exact_s = root_s * root_s / diffusivity;
        let half_s = melted.half_s.unwrap();
        // Time goes as the square of depth: 1 % in depth is 2 % in time.
        assert!((half_s / exact_s - 1.0).abs() < 0.02, "{half_s} against {exact_s}");
    }

    #[test]
    fn what_does_not_melt_says_so() {
        let waxy = invented(5.0, 26.0, 40.0, 55.0).enthalpy();
        let melted = melt(&waxy, &DAB);
        assert_eq!(melted.half_s, None);
        assert!(melted.residue_percent > 30.0);
        let warm_room = melt(&waxy, &Dab { start_c: 36.0, ..DAB });
        assert_eq!((warm_room.half_s, warm_room.residue_s), (None, Some(0.0)));
        let oil = melt(&Enthalpy::melting(&[]), &DAB);
        assert_eq!(oil.half_s, Some(0.0));
    }
}
