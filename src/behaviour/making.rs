//! The temperatures that a maker needs.

use serde::Serialize;

use super::{Firmness, Format, Melting, MeltingProfile, Solids};

/// How to make it, temperatures in °C. They are those of equilibrium: a fat that is cooled quickly
/// sets some degrees lower and later.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Making {
    /// Melt to here, so that no crystal is left for others to copy.
    pub melt_out_c: f64,
    /// Keep it there so long, minutes.
    pub hold_min: f64,
    /// Pour between these: liquid, but as cool as it still flows; `null` where it
    /// is liquid at every temperature.
    pub pour_c: Option<(f64, f64)>,
    /// Whip between these: enough crystals to hold air, few enough to fold; for a whipped butter only.
    pub whip_c: Option<(f64, f64)>,
    /// Take it out of the mould below this; for a bar only.
    pub demould_c: Option<f64>,
    /// Cool through this range without lingering: here the highest-melting part sets alone, and grows grains.
    pub hurry_c: Option<(f64, f64)>,
}

/// How far above its last crystals a melt forgets them, K: methods for solid fat melt at 60 °C
/// fats that clear below 45 (AOCS Cd 16b, ISO 8292), and cocoa butter that cleared at 36
/// remembers up to about 45 (from memory).
const MEMORY_K: f64 = 10.0;
/// The least melt-out, °C: the melt of the solid-fat methods (ISO 8292).
const LEAST_MELT_OUT_C: f64 = 60.0;
/// Minutes at melt-out (common practice; solid-fat methods take 5 to 30).
const HOLD_MIN: f64 = 15.0;
/// Crystals that a foam can be whipped with, percent (oleofoam literature, from memory, low confidence; a
/// margarine-like beta-prime crystal does better than coarse beta).
pub const WHIP_PERCENT: (f64, f64) = (10.0, 30.0);
/// Above this much structure it no longer flows, percent: the limit of the pourable class.
fn flows_below_percent() -> f64 {
    Firmness::Pourable.limits().1
}
/// Solids, percent, from which the first crystals cloud it.
const CLOUD_PERCENT: f64 = 0.5;
/// Share of the storage solids that counts as the bulk having begun to set: ours.
const BULK: f64 = 0.25;
/// A range narrower than this, K, is passed in any kitchen: ours.
const NARROW_K: f64 = 3.0;

/// What the making is read from.
pub struct MakingFrom<'a, 'm> {
    /// The settled butter, sampled over temperature and to be asked further.
    pub profile: &'a MeltingProfile,
    /// See `profile`.
    pub settled: &'a mut Melting<'m>,
    /// The butter as it first sets.
    pub fresh: &'a mut Melting<'m>,
    /// How it is sold.
    pub format: Format,
    /// The storage that it is made for, °C.
    pub usual_c: f64,
}

/// Reads the making off a recipe.
pub fn making(made: MakingFrom<'_, '_>) -> Making {
    let MakingFrom { profile, settled, fresh, format, usual_c } = made;
    let melt_out_c = (settled.last_crystal_c().unwrap_or(0.0) + MEMORY_K).max(LEAST_MELT_OUT_C).ceil();
    let flows_c = settled.falls_to(flows_below_percent(), RESOLUTION_K, Solids::crystal_structure_percent);
    let cloud_c = settled.falls_to(CLOUD_PERCENT, RESOLUTION_K, Solids::fat_percent);
    let pour_c = flows_c.map(|flows| (flows, cloud_c.unwrap_or(flows).max(flows + 2.0)));
    let whip_c = match format {
        Format::Whipped => window(fresh, WHIP_PERCENT),
        Format::Pot | Format::Bar | Format::Stick => None,
    };
    let demould_c = match format {
        Format::Bar => demould_c(fresh),
        Format::Whipped | Format::Pot | Format::Stick => None,
    };
    let bulk_percent = BULK * profile.read(usual_c, |solids| solids.triglyceride);
    let hurry_c = profile
        .last_at_least(bulk_percent.max(CLOUD_PERCENT), |solids| solids.triglyceride)
        .zip(cloud_c)
        .filter(|(bulk, cloud)| bulk_percent > CLOUD_PERCENT && cloud - bulk >= NARROW_K);
    Making { melt_out_c, hold_min: HOLD_MIN, pour_c, whip_c, demould_c, hurry_c }
}

/// Where a bar can leave its mould, °C: it is firm enough, much of its fat has set besides
/// the wax, and a hand can hold it.
fn demould_c(fresh: &mut Melting<'_>) -> Option<f64> {
    let firm_c = falls_to(fresh, Format::Bar.least_percent(), Solids::structure_percent)?;
    let much_set = MUCH_SET * fresh.solids(FRIDGE_C).triglyceride;
    let set_c = fresh.falls_to(much_set, RESOLUTION_K, |solids| solids.triglyceride);
    let set_c = set_c.filter(|_| much_set > CLOUD_PERCENT).map_or(firm_c, |set_c| set_c.max(ROOM_C));
    Some(firm_c.min(set_c).min(HAND_C))
}

/// Share of the fat that sets in a refrigerator, °C, which should have set in the mould: ours.
const MUCH_SET: f64 = 0.5;
/// See [`MUCH_SET`].
const FRIDGE_C: f64 = 5.0;
/// What is firm enough in a cool room is taken out there, however little of its fat has set beside the wax,
/// °C (common practice, no source).
const ROOM_C: f64 = 20.0;
/// What a hand takes hold of without harm, °C: ours.
const HAND_C: f64 = 40.0;
/// Where a butter that was poured rests while it sets, °C (common practice).
pub const REST_C: (f64, f64) = (15.0, 20.0);

/// The coldest and the warmest temperature between which crystals but wax lie within `percent`: it
/// is they that coat the bubbles.
fn window(fresh: &mut Melting<'_>, percent: (f64, f64)) -> Option<(f64, f64)> {
    let warmest = falls_to(fresh, percent.0, Solids::crystals_percent)?;
    Some((falls_to(fresh, percent.1, Solids::crystals_percent).unwrap_or(COLD_C), warmest))
}

/// Nobody whips or unmoulds below this, °C.
const COLD_C: f64 = 0.0;
/// A kitchen thermometer shows less, K.
const RESOLUTION_K: f64 = 1e-3;

/// The temperature, °C, at which a figure of the solids falls to a level; `None`
/// where there is less at [`COLD_C`].
fn falls_to(fresh: &mut Melting<'_>, percent: f64, of: fn(&Solids) -> f64) -> Option<f64> {
    fresh.falls_to(percent, RESOLUTION_K, of).filter(|celsius| *celsius > COLD_C)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    use crate::{
        equilibrium::CrystalState,
        recipe::{Line, Recipe},
        substances::find,
    };

    pub(crate) fn made(lines: &[(&str, f64)], format: Format) -> (Making, Option<f64>) {
        let lines = lines.iter().map(|(id, percent)| Line::of(find(id).unwrap(), *percent)).collect();
        let recipe = Recipe::new(lines).unwrap();
        let (settled, fresh) = (recipe.mixture(CrystalState::Settled), recipe.mixture(CrystalState::Fresh));
        let (mut melting, profile) = MeltingProfile::sampled(&settled);
        let last_c = melting.last_crystal_c();
        let made = MakingFrom {
            profile: &profile,
            settled: &mut melting,
            fresh: &mut Melting::of(&fresh),
            format,
            usual_c: 22.0,
        };
        (making(made), last_c)
    }

    #[test]
    fn melt_out_clears_everything() {
        let (waxy, last_c) = made(&[("beeswax", 20.0), ("olive-oil", 80.0)], Format::Pot);
        assert!(waxy.melt_out_c >= last_c.unwrap() + MEMORY_K);
        let (cocoa, last_c) = made(&[("cocoa-butter", 100.0)], Format::Bar);
        assert!(cocoa.melt_out_c >= 60.0 && cocoa.melt_out_c >= last_c.unwrap() + MEMORY_K);
        assert!(cocoa.demould_c.unwrap() < last_c.unwrap());
        assert_eq!(cocoa.whip_c, None);
    }

    #[test]
    fn the_whipping_window_holds_ten_to_thirty_percent() {
        let (whipped, _) = made(&[("shea-butter", 80.0), ("sunflower-oil", 20.0)], Format::Whipped);
        let (low, high) = whipped.whip_c.unwrap();
        assert!(low < high && high < 40.0, "{low} {high}");
        // Wax and powder stiffen it, but are few crystals or none.
        let lines = [("shea-butter", 50.0), ("olive-oil", 40.0), ("beeswax", 7.0), ("corn-starch", 3.0)];
        let (low, high) = made(&lines, Format::Whipped).0.whip_c.unwrap();
        let recipe = lines.map(|(id, percent)| Line::of(find(id).unwrap(), percent));
        let fresh = Recipe::new(recipe.into()).unwrap().mixture(CrystalState::Fresh);
        let solid = |celsius| Solids::from(&fresh.at(celsius)).crystals_percent();
        assert_abs_diff_eq!(solid(high), WHIP_PERCENT.0, epsilon = 0.01);
        assert_abs_diff_eq!(solid(low), WHIP_PERCENT.1, epsilon = 0.01);
        let (paste, _) = made(&[("corn-starch", 35.0), ("sunflower-oil", 65.0)], Format::Whipped);
        assert_eq!(paste.whip_c, None);
        let (oil, _) = made(&[("sunflower-oil", 100.0)], Format::Whipped);
        assert_eq!(oil.whip_c, None);
    }

    /// Wax alone makes a bar firm while its fat is still liquid, and hot wax must not be handled.
    #[test]
    fn a_bar_leaves_its_mould_when_its_fat_has_set() {
        let bar = [("cocoa-butter", 40.0), ("beeswax", 20.0), ("coconut-oil", 40.0)];
        let (waxy, last_c) = made(&bar, Format::Bar);
        assert!(waxy.demould_c.unwrap() < 25.0 && last_c.unwrap() > 50.0, "{:?}", waxy.demould_c);
        let (wax, _) = made(&[("carnauba-wax", 100.0)], Format::Bar);
        assert_eq!(wax.demould_c, Some(HAND_C));
        // It melts above the grid that curves are drawn on.
        assert!(wax.pour_c.unwrap().0 > 80.0, "{:?}", wax.pour_c);
    }

    #[test]
    fn a_wax_in_a_soft_butter_is_hurried_past() {
        let (waxy, _) = made(&[("beeswax", 5.0), ("shea-butter", 60.0), ("olive-oil", 35.0)], Format::Pot);
        let (low, high) = waxy.hurry_c.unwrap();
        assert!(high - low > 5.0, "{low} {high}");
    }
}
