//! The temperatures that a maker needs.

use super::{Firmness, Format, Melting, Profile, Solids, regime::degrees};

/// How to make it, temperatures in °C. They are those of equilibrium: a fat that is cooled quickly sets some degrees lower
/// and later.
#[derive(Clone, Debug)]
pub struct Making {
    /// Melt to here, so that no crystal is left for others to copy.
    pub melt_out_c: f64,
    /// Keep it there so long, minutes.
    pub hold_min: f64,
    /// Pour between these: liquid, but as cool as it still flows; `null` where it is liquid at every temperature.
    pub pour_c: Option<(f64, f64)>,
    /// Whip between these: enough crystals to hold air, few enough to fold; for a whipped butter only.
    pub whip_c: Option<(f64, f64)>,
    /// Take it out of the mould below this; for a bar only.
    pub demould_c: Option<f64>,
    /// Cool through this range without lingering: here the highest-melting part sets alone, and grows grains.
    pub hurry_c: Option<(f64, f64)>,
    /// The steps, in order.
    pub steps: Vec<String>,
    /// What to be careful of.
    pub cautions: Vec<String>,
}

/// How far above its last crystals a melt forgets them, K: methods for solid fat melt at 60 °C fats that clear below 45
/// (AOCS Cd 16b, ISO 8292), and cocoa butter that cleared at 36 remembers up to about 45 (from memory).
const MEMORY_K: f64 = 10.0;
/// The least melt-out, °C: the melt of the solid-fat methods (ISO 8292).
const LEAST_MELT_OUT_C: f64 = 60.0;
/// Beeswax discolours above this, °C (an encyclopaedia, not traced further); laboratories melt waxes in oil at 75 to 90 (Callau et al. 2021 and others).
const GENTLE_C: f64 = 85.0;
/// Minutes at melt-out (common practice; solid-fat methods take 5 to 30).
const HOLD_MIN: f64 = 15.0;
/// Crystals that a foam can be whipped with, percent (oleofoam literature, from memory, low confidence; a margarine-like
/// beta-prime crystal does better than coarse beta).
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

/// Reads the making off a recipe: `settled` sampled over temperature, `fresh` as it first sets, where its last crystals
/// go and the storage that it is made for, °C.
pub fn making(
    settled: &Profile,
    fresh: &mut Melting<'_>,
    last_crystal_c: Option<f64>,
    format: Format,
    usual_c: f64,
) -> Making {
    let structure = Solids::structure_percent;
    let melt_out_c = (last_crystal_c.unwrap_or(0.0) + MEMORY_K).max(LEAST_MELT_OUT_C).ceil();
    let flows_c = settled.last_at_least(flows_below_percent(), structure);
    let cloud_c = settled.last_at_least(CLOUD_PERCENT, Solids::fat_percent);
    let pour_c = flows_c.map(|flows| (flows, cloud_c.unwrap_or(flows).max(flows + 2.0)));
    let whip_c = match format {
        Format::Whipped => window(fresh, WHIP_PERCENT),
        Format::Pot | Format::Bar => None,
    };
    let demould_c = match format {
        Format::Bar => falls_to(fresh, Format::Bar.least_structure_percent()),
        Format::Whipped | Format::Pot => None,
    };
    let bulk_percent = BULK * settled.read(usual_c, |solids| solids.triglyceride);
    let hurry_c = settled
        .last_at_least(bulk_percent.max(CLOUD_PERCENT), |solids| solids.triglyceride)
        .zip(cloud_c)
        .filter(|(bulk, cloud)| bulk_percent > CLOUD_PERCENT && cloud - bulk >= NARROW_K);
    let mut making = Making {
        melt_out_c,
        hold_min: HOLD_MIN,
        pour_c,
        whip_c,
        demould_c,
        hurry_c,
        steps: Vec::new(),
        cautions: cautions(melt_out_c),
    };
    making.steps = steps(&making, format);
    making
}

fn steps(making: &Making, format: Format) -> Vec<String> {
    let mut steps = vec![format!(
        "Melt everything in a water bath to {} °C and keep it there {:.0} minutes, so that no crystal survives to seed coarse ones. Add what heat harms (fragrance, vitamin E) once it has cooled, below its flash point and just before it clouds.",
        degrees(making.melt_out_c),
        making.hold_min
    )];
    if let Some((bulk, cloud)) = making.hurry_c {
        steps.push(format!(
            "Cool it quickly and stir it from {} to {} °C: here the highest-melting part sets alone, and slow cooling grows it into grains. A bath of cold water does; then keep it at 15 to 20 °C without swings (common practice).",
            degrees(cloud),
            degrees(bulk)
        ));
    } else {
        steps.push(
            "Cool it steadily with stirring, then keep it at 15 to 20 °C without swings (common practice)."
                .to_owned(),
        );
    }
    match (format, making.whip_c, making.pour_c) {
        (Format::Whipped, Some((low, high)), _) => steps.push(format!(
            "Whip it between {} and {} °C, where 10 to 30 % of it is crystals: below that it tears, above it holds no air. The range comes from studies of whipped oils and is a guide only.",
            degrees(low),
            degrees(high)
        )),
        (Format::Whipped, None, _) => {
            steps.push("It never has the crystals that hold air, so it cannot be whipped as it is.".to_owned());
        }
        (_, _, Some((low, high))) => steps.push(format!(
            "Pour it between {} and {} °C: the cooler it still flows, the finer it sets and the less it sinks in the middle.",
            degrees(low),
            degrees(high)
        )),
        (_, _, None) => steps.push("It flows at every temperature considered: fill it when cool.".to_owned()),
    }
    if let Some(demould) = making.demould_c {
        steps.push(format!(
            "Take bars out of the mould once they are below {} °C all through.",
            degrees(demould)
        ));
    }
    steps.push("Judge it after a day or two: crystals go on settling, and it gets firmer.".to_owned());
    steps
}

/// What to be careful of with hot fat: safety data sheets; flash points from the Handbook of Pharmaceutical Excipients and
/// from memory.
fn cautions(melt_out_c: f64) -> Vec<String> {
    let mut cautions = vec![
        "Heat in a water bath, never over a flame or on a bare plate, and never leave it alone: fats and waxes burn, stearic acid and paraffin from a flash point of about 195 to 200 °C.".to_owned(),
        "Keep water out of hot fat and wax: it spatters. Never put water on burning fat: cover it, or use powder or carbon dioxide.".to_owned(),
        "Hot fat sticks: cool a burn under running water, and do not peel wax off.".to_owned(),
    ];
    if melt_out_c > GENTLE_C {
        cautions.push(format!(
            "Above {GENTLE_C:.0} °C beeswax darkens and oils age quickly: melt the wax with a little of the oil first, and keep the rest cooler."
        ));
    }
    cautions
}

/// The temperatures between which structure lies within `percent`, (coldest, warmest).
fn window(fresh: &mut Melting<'_>, percent: (f64, f64)) -> Option<(f64, f64)> {
    let warmest = falls_to(fresh, percent.0)?;
    Some((falls_to(fresh, percent.1).unwrap_or(COLD_C), warmest))
}

/// Nobody whips or unmoulds below this, °C.
const COLD_C: f64 = 0.0;
/// A kitchen thermometer shows less, K.
const RESOLUTION_K: f64 = 1e-3;

/// The temperature, °C, at which structure falls to a level; `None` where there is less at [`COLD_C`].
fn falls_to(fresh: &mut Melting<'_>, percent: f64) -> Option<f64> {
    fresh.falls_to(percent, RESOLUTION_K, Solids::structure_percent).filter(|celsius| *celsius > COLD_C)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        equilibrium::State,
        recipe::{Line, Recipe},
        substances::find,
    };

    fn made(lines: &[(&str, f64)], format: Format) -> (Making, Option<f64>) {
        let lines = lines.iter().map(|(id, percent)| Line::of(find(id).unwrap(), *percent)).collect();
        let recipe = Recipe::new(lines).unwrap();
        let (settled, fresh) = (recipe.mixture(State::Settled), recipe.mixture(State::Fresh));
        let (mut melting, profile) = Melting::sampled(&settled);
        let last_c = melting.last_crystal_c();
        (making(&profile, &mut Melting::of(&fresh), last_c, format, 22.0), last_c)
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
        let (oil, _) = made(&[("sunflower-oil", 100.0)], Format::Whipped);
        assert_eq!(oil.whip_c, None);
        assert!(oil.steps.iter().any(|step| step.contains("cannot be whipped")));
    }

    #[test]
    fn a_wax_in_a_soft_butter_is_hurried_past() {
        let (waxy, _) = made(&[("beeswax", 5.0), ("shea-butter", 60.0), ("olive-oil", 35.0)], Format::Pot);
        let (low, high) = waxy.hurry_c.unwrap();
        assert!(high - low > 5.0, "{low} {high}");
    }

    #[test]
    fn open_heat_is_never_advised() {
        let (making, _) = made(&[("carnauba-wax", 10.0), ("olive-oil", 90.0)], Format::Pot);
        assert!(making.cautions.iter().any(|caution| caution.contains("never over a flame")));
        assert!(making.steps[0].contains("water bath"));
    }
}
