//! What `behave` says besides its verdict.

use super::Miss;
use crate::{
    behaviour::{Firmness, PackVerdict, Regime, Solids, Wishes},
    recipe::Recipe,
    substances::Class,
};

/// What the remarks are made from.
pub(super) struct Told<'a> {
    pub(super) wishes: &'a Wishes,
    pub(super) recipe: &'a Recipe,
    /// Solids at the hottest storage.
    pub(super) hottest: &'a Solids,
    pub(super) misses: &'a [Miss],
    pub(super) pack: Option<&'a PackVerdict>,
    /// Where it stops keeping its shape, °C, and where at the weakest.
    pub(super) softening_c: Option<f64>,
    pub(super) softest_c: Option<f64>,
}

/// What else to say: reasons, warnings, what was not checked.
pub(super) fn remarks(told: &Told<'_>) -> Vec<String> {
    let Told { wishes, recipe, hottest, misses, pack, softening_c, softest_c } = *told;
    let hottest_c = wishes.hottest_c;
    let mut remarks: Vec<String> = misses.iter().map(|miss| miss.words.clone()).collect();
    remarks.extend(pack.filter(|pack| !pack.holds).map(|pack| pack.words.clone()));
    let weeps = hottest.weeping_oil_percent();
    if weeps >= WEEPS_PERCENT && Firmness::of(hottest.structure_percent()) > Firmness::Pourable {
        remarks.push(format!(
            "At {} °C about {weeps:.0} % of it is oil that the crystals cannot hold: it will weep.",
            hottest_c
        ));
    }
    let (low, high) = hottest.structure_band_percent();
    let (softest, hardest) = (Firmness::of(low), Firmness::of(high));
    let at_least_c = softest_c.unwrap_or(f64::NEG_INFINITY);
    let weakest = softening_c.is_some_and(|softening_c| softening_c >= hottest_c) && at_least_c < hottest_c;
    if hardest as usize > softest as usize + 1 {
        let mut remark = format!(
            "How much such crystals stiffen is known only roughly: at {hottest_c} °C anything from \u{201c}{}\u{201d} to \u{201c}{}\u{201d} is possible",
            softest.words(),
            hardest.words()
        );
        match softest_c {
            Some(softest_c) if weakest => {
                remark
                    .push_str(&format!(", and at its weakest it keeps its shape only to {softest_c:.0} °C"));
            }
            _ => {}
        }
        remark.push('.');
        remarks.push(remark);
    }
    let needs = wishes.format.least_structure_percent();
    if hottest.powder > MOST_POWDER_PERCENT {
        remarks.push(format!(
            "With {:.0} % powder it is a paste rather than a butter: outside what was checked, so make trial batches.",
            hottest.powder
        ));
    }
    if hottest.structure_percent() >= needs && hottest.crystal_structure_percent() < needs {
        remarks.push(format!(
            "At {hottest_c} °C its powder makes the difference: powder thickens, but it does not set, and in a melt it settles to the bottom."
        ));
    }
    let wax: f64 =
        recipe.lines().iter().filter(|line| line.class == Class::Wax).map(|line| line.percent).sum();
    if wax > MOST_WAX_PERCENT {
        remarks.push(format!(
            "With {wax:.1} % wax it is a balm rather than a butter: outside what was checked, so make trial batches."
        ));
    }
    remarks.extend(beyond(recipe).map(str::to_owned));
    let regime = Regime::of(wishes.hottest_c, wishes.skin_c);
    remarks.extend(regime.words(wishes.hottest_c, wishes.skin_c));
    remarks
}

/// What the recipe holds enough of that does what no equilibrium has.
fn beyond(recipe: &Recipe) -> impl Iterator<Item = &'static str> {
    let held = |ids: &[&str]| -> f64 {
        let lines = recipe.lines().iter().filter(|line| ids.contains(&line.key.as_str()));
        lines.map(|line| line.percent).sum()
    };
    let apart = held(&["castor-oil"]).min(held(&["mineral-oil", "petrolatum"]));
    [
        (
            held(&["hydrogenated-castor-oil", "12-hydroxystearic-acid"]) >= GELS_PERCENT,
            "Hydroxystearic acid and hydrogenated castor oil set oil to a gel that the model does not have: it may be far firmer, and hold in more heat. Make trial batches.",
        ),
        (
            held(&["silica"]) >= GELS_PERCENT,
            "Fumed silica thickens far more than powder counts for here: make trial batches.",
        ),
        (
            apart >= APART_PERCENT,
            "Castor oil does not mix with mineral oil or petrolatum unless another oil carries it, and the model takes all liquids for one: look for layers in a trial.",
        ),
    ]
    .into_iter()
    .filter_map(|(holds, words)| holds.then_some(words))
}

/// So much gels an oil, percent (oleogel literature, from memory: 1 to 2).
const GELS_PERCENT: f64 = 1.0;

/// So much of either may show as a layer, percent: ours; that they do not mix is in the Handbook of Pharmaceutical Excipients (from
/// memory).
const APART_PERCENT: f64 = 5.0;

/// Free oil worth a remark, percent: ours.
const WEEPS_PERCENT: f64 = 2.0;

/// Powder up to which it stays a butter, percent: common practice goes to 10 or 15; ours.
const MOST_POWDER_PERCENT: f64 = 30.0;

/// Wax up to which it stays a butter, percent: the cap that a rework never passes.
const MOST_WAX_PERCENT: f64 = 10.0;
