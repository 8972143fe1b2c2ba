//! A packed butter in hot air: how heat gets to it, and what it does to it.

use super::{
    Format, MeltingProfile, Pack,
    air::Course,
    dab::{FAT_KG_PER_M3, FAT_W_PER_M_K},
    exposure::{Exposure, Recorder},
    heat::{Body, Cell, Control, Enthalpy, Outside, ThermalChain, in_series, power},
};

/// What is packed, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parcel {
    /// What it is packed in.
    pub pack: Pack,
    /// Fill of one pack, mL.
    pub volume_ml: f64,
    /// Height of the fill over its diameter; `None`: what is usual for the pack.
    pub slenderness: Option<f64>,
    /// Air whipped in, percent of the volume before.
    pub overrun_percent: f64,
    /// Packs that share a box.
    pub packs: u32,
    /// Thickness of insulation around them, mm of foam; 0: a bare pack in the
    /// air, unless there is a cold pack.
    pub insulation_mm: f64,
    /// Cold packs in the box, g.
    pub cold_pack_g: f64,
    /// Where they melt, °C: 0 for water gel.
    pub cold_pack_c: f64,
    /// The butter before, °C.
    pub start_c: f64,
}

/// Still air and the radiation of the walls around, W/(m² K): 4 to 5 each (heat-transfer textbooks).
const AIR_W_PER_M2_K: f64 = 9.0;
/// Polystyrene foam, W/(m K) (textbooks: 0.03–0.04).
const FOAM_W_PER_M_K: f64 = 0.035;
/// What a carton's board adds, m² K/W: 4 mm of corrugated board at 0.06 W/(m K) (assumption).
const BOARD_M2_K_PER_W: f64 = 0.07;
/// Room around the packs in a box, m (assumption).
const ROOM_M: f64 = 0.02;
/// Ice: J/kg and J/(kg K) solid and liquid (textbooks). A gel that melts elsewhere is taken to hold 200 kJ/kg
/// (usual for phase-change gels, from memory).
const ICE: (f64, f64, f64) = (334e3, 2100.0, 4180.0);
const GEL_J_PER_KG: f64 = 200e3;
/// A cold pack comes from a freezer this far below its melting point, K, but for gels that
/// melt above 0 only a little below.
const FREEZER_K: f64 = 18.0;
const FRIDGE_K: f64 = 2.0;
/// A cold pack is a slab so thick, m, of water's density (assumption).
const COLD_PACK_M: f64 = 0.02;
/// Board and paper, J/(kg K), and what the carton and the air in it weigh for each pack, kg (assumption).
const BOARD_J_PER_KG_K: f64 = 1300.0;
const CARTON_KG: f64 = 0.03;

/// Enough that a grid of 64 slumps within 3 % of the time (see the tests).
const SHELLS: usize = 16;
/// Local error of a step, J/kg: about a twentieth of a kelvin.
const ERROR_J_PER_KG: f64 = 100.0;
/// Moments reported, besides the start.
const MOMENTS: usize = 96;

/// Wall of a pack: mass in g for each mL of fill, J/(kg K), and m² K/W through it
/// (assumptions, from usual wares).
fn wall(pack: Pack) -> (f64, f64, f64) {
    match pack {
        Pack::Jar => (0.25, 1900.0, 0.01),
        Pack::GlassJar => (1.0, 840.0, 0.003),
        Pack::Tin => (0.25, 900.0, 0.0),
        Pack::Tube => (0.2, 1900.0, 0.01),
        Pack::PaperTube => (0.3, BOARD_J_PER_KG_K, 0.03),
        Pack::Wrap => (0.03, BOARD_J_PER_KG_K, 0.01),
    }
}

/// Height over diameter that is usual for the pack (assumption).
fn usual_slenderness(pack: Pack) -> f64 {
    match pack {
        Pack::Jar | Pack::GlassJar => 0.7,
        Pack::Tin => 0.35,
        Pack::Tube | Pack::PaperTube => 2.5,
        Pack::Wrap => 0.4,
    }
}

impl Parcel {
    /// Radius and height of the fill, m.
    fn size_m(&self) -> (f64, f64) {
        let slenderness = self.slenderness.unwrap_or(usual_slenderness(self.pack));
        let volume_m3 = 1e-6 * self.volume_ml;
        let diameter = power(4.0 * volume_m3 / (core::f64::consts::PI * slenderness), 1.0 / 3.0);
        (0.5 * diameter, slenderness * diameter)
    }

    /// Mass of the fill, kg, and its conductivity, W/(m K). Air adds neither: Maxwell's formula
    /// for bubbles that conduct nothing.
    fn fill(&self) -> (f64, f64) {
        let fat = 1.0 / (1.0 + 0.01 * self.overrun_percent);
        let bubbles = 1.0 - fat;
        (1e-6 * self.volume_ml * FAT_KG_PER_M3 * fat, FAT_W_PER_M_K * 2.0 * fat / (2.0 + bubbles))
    }

    fn is_boxed(&self) -> bool {
        self.insulation_mm > 0.0 || self.cold_pack_g > 0.0
    }

    /// The chain of one pack: [cold pack, box air] where boxed, wall, then the butter from its surface in.
    /// Packs that share a box are alike, so that each has its share of walls and cold packs.
    fn chain(&self, fat: Enthalpy, shells: usize) -> (ThermalChain, Vec<f64>) {
        let (radius, height) = self.size_m();
        let area = 2.0 * core::f64::consts::PI * radius * (radius + height);
        let (mass_kg, conductivity) = self.fill();
        let volume_m3 = 1e-6 * self.volume_ml;
        let depth = radius.min(0.5 * height);
        let body = Body::new(depth, area, volume_m3, shells, mass_kg / volume_m3, conductivity);
        let (wall_g_per_ml, wall_heat, wall_resistance) = wall(self.pack);
        let wall_cell = Cell { mass_kg: 1e-3 * wall_g_per_ml * self.volume_ml, material: 1 };
        let film = AIR_W_PER_M2_K * area;
        let through_wall = if wall_resistance > 0.0 {
            in_series(area / wall_resistance, body.surface_w_per_k)
        } else {
            body.surface_w_per_k
        };
        let (cold_latent, cold_c) =
            if self.cold_pack_c.abs() < 0.5 { (ICE.0, 0.0) } else { (GEL_J_PER_KG, self.cold_pack_c) };
        let materials = vec![
            fat,
            Enthalpy::constant(wall_heat),
            Enthalpy::constant(BOARD_J_PER_KG_K),
            Enthalpy::sharp(cold_c, cold_latent, ICE.1, ICE.2),
        ];
        let mut cells = Vec::new();
        let mut links = Vec::new();
        let mut start = Vec::new();
        let mut outside = Vec::new();
        if self.is_boxed() {
            let packs = f64::from(self.packs.max(1));
            let cold_kg = 1e-3 * self.cold_pack_g / packs;
            if cold_kg > 0.0 {
                let cold_area = 2.0 * cold_kg / (1000.0 * COLD_PACK_M);
                cells.push(Cell { mass_kg: cold_kg, material: 3 });
                links.push(AIR_W_PER_M2_K * cold_area);
                start.push(cold_c - if cold_c < 0.5 { FREEZER_K } else { FRIDGE_K });
            }
            let (across, up) = (2.0 * (radius + ROOM_M), height + 2.0 * ROOM_M);
            let one_box = 2.0 * across * across + 4.0 * across * up;
            // A box for n packs has n^(2/3) times the wall of a box for one; each
            // pack answers for a share of it.
            let share = one_box * power(packs, -1.0 / 3.0);
            let resistance = 1.0 / AIR_W_PER_M2_K
                + 1.0 / AIR_W_PER_M2_K
                + BOARD_M2_K_PER_W
                + 1e-3 * self.insulation_mm / FOAM_W_PER_M_K;
            outside.push(Outside { cell: cells.len(), w_per_k: share / resistance, ambient: 0 });
            cells.push(Cell { mass_kg: CARTON_KG, material: 2 });
            links.push(film);
            start.push(self.start_c);
        } else {
            outside.push(Outside { cell: 0, w_per_k: film, ambient: 0 });
        }
        cells.push(wall_cell);
        links.push(through_wall);
        start.push(self.start_c);
        cells.extend(body.cells(0));
        links.extend(&body.links_w_per_k);
        start.resize(cells.len(), self.start_c);
        (ThermalChain { materials, cells, links_w_per_k: links, outside }, start)
    }
}

/// Follows a parcel through a course of air. The equilibrium curve is used in both directions.
/// In truth melting and setting lag behind it, so that a real butter survives a little longer
/// and sets again a little later.
pub fn expose(profile: &MeltingProfile, parcel: &Parcel, course: &Course, format: Format) -> Exposure {
    follow(profile, parcel, course, format, (SHELLS, ERROR_J_PER_KG))
}

/// As [`expose`], cut so finely and with so little error.
fn follow(
    profile: &MeltingProfile,
    parcel: &Parcel,
    course: &Course,
    format: Format,
    (shells, error_j_per_kg): (usize, f64),
) -> Exposure {
    let (chain, start) = parcel.chain(profile.enthalpy(), shells);
    let butter = chain.cells.len() - shells..chain.cells.len();
    let needs = format.least_percent();
    let end_s = 3600.0 * course.hours();
    let moments: Vec<f64> = (1..MOMENTS).map(|at| end_s * at as f64 / MOMENTS as f64).collect();
    let mut stops: Vec<f64> =
        course.points.iter().map(|point| 3600.0 * point.0).chain(moments.iter().copied()).collect();
    stops.sort_by(f64::total_cmp);
    let control =
        Control { end_s, stops_s: stops, longest_s: (end_s / MOMENTS as f64).max(1.0), error_j_per_kg };
    let masses: Vec<f64> = chain.cells[butter.clone()].iter().map(|cell| cell.mass_kg).collect();
    let mut recorder = Recorder::new(masses);
    let mut start_solid = 0.0;
    let mut heat_before_j = None;
    let mut next_moment = 0.0;
    let outcome = chain.run(&start, &|time_s, _| course.at_c(time_s / 3600.0), &control, &mut |step| {
        let hour = step.time_s / 3600.0;
        let solid = chain.solid(butter.clone(), step.j_per_kg);
        if heat_before_j.is_none() {
            heat_before_j = Some(chain.heat_j(step.j_per_kg));
            start_solid = solid;
        }
        let melted = if start_solid > 0.0 { 100.0 * (1.0 - solid / start_solid).max(0.0) } else { 0.0 };
        let celsius: Vec<f64> = butter.clone().map(|cell| chain.temperature_c(cell, step.j_per_kg)).collect();
        let structure: Vec<f64> = celsius.iter().map(|celsius| profile.structure_percent(*celsius)).collect();
        let held: Vec<f64> =
            celsius.iter().map(|celsius| profile.read(*celsius, format.held_by().figure())).collect();
        recorder.see(hour, melted, (&structure, &held), needs);
        recorder.feel(&celsius);
        if step.time_s >= next_moment {
            next_moment += end_s / MOMENTS as f64;
            // Landing on a stop is exact only to rounding.
            next_moment -= 1e-6;
            let (surface_c, middle_c) = (celsius[0], celsius[celsius.len() - 1]);
            recorder.note(hour, course.at_c(hour), surface_c, middle_c, melted);
        }
        true
    });
    let gained_j = chain.heat_j(&outcome.j_per_kg) - heat_before_j.unwrap_or(0.0);
    let scale_j = gained_j.abs().max(outcome.heat_in_j.abs()).max(1.0);
    let mut exposure = recorder.exposure;
    exposure.energy_error = (gained_j - outcome.heat_in_j).abs() / scale_j;
    exposure.steps = outcome.steps;
    exposure
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::{
        air::{Air, Preset},
        profile::tests::invented,
    };

    const PARCEL: Parcel = Parcel {
        pack: Pack::Jar,
        volume_ml: 120.0,
        slenderness: None,
        overrun_percent: 0.0,
        packs: 1,
        insulation_mm: 0.0,
        cold_pack_g: 0.0,
        cold_pack_c: 0.0,
        start_c: 20.0,
    };

    fn exposed(parcel: Parcel, course: &Course) -> Exposure {
        expose(&invented(50.0, 30.0, 0.0, 50.0), &parcel, course, Format::Pot)
    }

    fn constant(celsius: f64, hours: f64) -> Course {
        Course { points: vec![(0.0, celsius), (hours, celsius)], air: Air::Listed, source: "test" }
    }

    #[test]
    fn energy_is_conserved_through_every_preset() {
        for preset in [Preset::ParkedCarSun, Preset::Mailbox, Preset::SeaContainer, Preset::DeliveryVan] {
            for parcel in [PARCEL, Parcel { insulation_mm: 30.0, cold_pack_g: 400.0, ..PARCEL }] {
                let exposure = exposed(parcel, &preset.course());
                assert!(exposure.energy_error < 1e-9, "{preset:?} {}", exposure.energy_error);
                assert!((90..=130).contains(&exposure.hours.len()), "{}", exposure.hours.len());
            }
        }
    }

    #[test]
    fn step_and_error_do_not_matter() {
        let profile = invented(50.0, 30.0, 0.0, 50.0);
        let course = Preset::Mailbox.course();
        let usual = follow(&profile, &PARCEL, &course, Format::Pot, (SHELLS, ERROR_J_PER_KG));
        let fine = follow(&profile, &PARCEL, &course, Format::Pot, (SHELLS, 1.0));
        let (slumps, fine_slumps) = (usual.slumps_at_h.unwrap(), fine.slumps_at_h.unwrap());
        assert!((slumps - fine_slumps).abs() < 0.05, "{slumps} {fine_slumps}");
        for (a, b) in usual.melted_percent.iter().zip(&fine.melted_percent) {
            assert!((a - b).abs() < 0.5, "{a} {b}");
        }
    }

    #[test]
    fn shells_do_not_matter() {
        let profile = invented(50.0, 30.0, 0.0, 50.0);
        for format in [Format::Pot, Format::Whipped, Format::Bar] {
            for (course, parcel) in [
                (Preset::Mailbox.course(), PARCEL),
                (constant(40.0, 12.0), PARCEL),
                (constant(36.0, 12.0), Parcel { volume_ml: 500.0, slenderness: Some(2.0), ..PARCEL }),
                (Preset::ParkedCarSun.course(), Parcel { insulation_mm: 10.0, ..PARCEL }),
            ] {
                let with = |shells| follow(&profile, &parcel, &course, format, (shells, ERROR_J_PER_KG));
                let (usual, fine) = (with(SHELLS), with(64));
                let (slumps, fine_slumps) = (usual.slumps_at_h.unwrap(), fine.slumps_at_h.unwrap());
                assert!((slumps / fine_slumps - 1.0).abs() < 0.03, "{format:?}: {slumps} {fine_slumps}");
                assert!((usual.lost_percent - fine.lost_percent).abs() < 2.0);
            }
        }
    }

    #[test]
    fn hotter_air_melts_more_and_help_helps() {
        let melted = |celsius| exposed(PARCEL, &constant(celsius, 4.0)).most_melted_percent;
        let by_air: Vec<f64> = [22.0, 28.0, 32.0, 38.0, 50.0].map(melted).to_vec();
        assert!(by_air.windows(2).all(|pair| pair[0] < pair[1]), "{by_air:?}");
        let hot = constant(45.0, 6.0);
        let slumps = |parcel| exposed(parcel, &hot).slumps_at_h.unwrap_or(f64::INFINITY);
        let bare = slumps(PARCEL);
        let foam = slumps(Parcel { insulation_mm: 30.0, ..PARCEL });
        let cold = slumps(Parcel { insulation_mm: 30.0, cold_pack_g: 500.0, ..PARCEL });
        assert!(bare < foam && foam < cold, "{bare} {foam} {cold}");
        assert!(slumps(Parcel { volume_ml: 500.0, ..PARCEL }) > bare);
        assert!(slumps(Parcel { insulation_mm: 30.0, packs: 12, ..PARCEL }) > foam);
    }

    #[test]
    fn cool_air_leaves_it_alone() {
        let exposure = exposed(PARCEL, &constant(20.0, 24.0));
        assert_eq!((exposure.slumps_at_h, exposure.lost_percent, exposure.poured), (None, 0.0, false));
        assert!(exposure.most_melted_percent < 1e-6);
    }

    /// Half air: half the mass, and by Maxwell's formula 2·½/(2 + ½) = 0.4 of the conductivity.
    #[test]
    fn air_takes_mass_and_conductivity() {
        let ((flat_kg, flat), (whipped_kg, whipped)) =
            (PARCEL.fill(), Parcel { overrun_percent: 100.0, ..PARCEL }.fill());
        assert!((whipped_kg / flat_kg - 0.5).abs() < 1e-12);
        assert!((whipped / flat - 0.4).abs() < 1e-12);
        let (radius, height) = Parcel { volume_ml: 100.0, slenderness: Some(2.0), ..PARCEL }.size_m();
        assert!((core::f64::consts::PI * radius * radius * height - 1e-4).abs() < 1e-12);
        assert!((height / radius - 4.0).abs() < 1e-12);
    }

    /// A jar in hot air for long reaches equilibrium with it.
    #[test]
    fn long_exposure_ends_at_equilibrium() {
        let profile = invented(50.0, 30.0, 0.0, 50.0);
        let exposure = expose(&profile, &PARCEL, &constant(33.0, 72.0), Format::Pot);
        let exact = 100.0 * (1.0 - profile.solid_percent(33.0) / profile.solid_percent(20.0));
        let last = exposure.melted_percent.last().unwrap();
        assert!((last - exact).abs() < 0.1, "{last} {exact}");
        assert!((exposure.middle_c.last().unwrap() - 33.0).abs() < 0.05);
    }
}
