//! What `behave` says besides its verdict: warnings, and what was not checked.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::{
    behaviour::{
        Firmness, Format, MeltingProfile, Solids, Wishes,
        judgement::{Gap, MARGIN_K, MOST_WAX_PERCENT},
    },
    recipe::{Line, Recipe},
    substances::Class,
    surety::LotBand,
};

/// Something to mind.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum Remark {
    /// Part of it is oil that the crystals cannot hold.
    Weeps { hottest_c: f64, oil_percent: f64 },
    /// How much such crystals stiffen is known only roughly.
    KnownRoughly { hottest_c: f64, softest: Firmness, hardest: Firmness },
    /// At its weakest it keeps its shape only to below the hottest storage.
    MayHoldLess { holds_to_c: f64 },
    /// So much powder makes it a paste.
    Paste { powder_percent: f64 },
    /// Without its powder it would not hold.
    PowderDecides { hottest_c: f64 },
    /// So much wax makes it a balm.
    Balm { wax_percent: f64 },
    /// Something in it sets oil to a gel that the model does not have.
    GelsOil,
    /// Fumed silica thickens more than powder counts for.
    Silica,
    /// Over a wide range it lies so close to what its format needs that little moves
    /// where it gives way by as much.
    Grazes { from_c: f64, to_c: f64 },
    /// Wax holds it together well above where fats of so few solids slip.
    HoldsAboveSlip { slip_c: f64, holds_to_c: f64 },
    /// Two of its liquids do not mix.
    LiquidsPart,
    /// More of something than the trade usually takes.
    AboveUse { id: String, percent: f64, most_percent: f64 },
    /// The hottest storage is close below skin.
    SkinIsNear { hottest_c: f64, gap_k: f64, margin_k: f64 },
    /// The hottest storage is as warm as skin.
    AsWarmAsSkin { hottest_c: f64, skin_c: f64 },
}

/// What the remarks are made from.
pub(super) struct RemarksFrom<'a> {
    pub(super) wishes: &'a Wishes,
    pub(super) recipe: &'a Recipe,
    /// Its solids over temperature.
    pub(super) profile: &'a MeltingProfile,
    /// Solids at the hottest storage.
    pub(super) hottest: &'a Solids,
    /// The band of its structure there, percent.
    pub(super) hottest_band: LotBand,
    /// Where it stops keeping its shape, °C, and the cold end of that one's band.
    pub(super) softening_c: Option<f64>,
    pub(super) softest_c: Option<f64>,
    /// Its slip point, °C.
    pub(super) slip_c: Option<f64>,
}

/// What there is to mind.
pub(super) fn remarks(told: &RemarksFrom<'_>) -> Vec<Remark> {
    let RemarksFrom { wishes, recipe, profile, hottest, hottest_band, softening_c, softest_c, slip_c } =
        *told;
    let Wishes { hottest_c, skin_c, .. } = *wishes;
    let mut remarks = Vec::new();
    let oil_percent = hottest.weeping_oil_percent();
    if oil_percent >= WEEPS_PERCENT && Firmness::of(hottest.structure_percent()) > Firmness::Pourable {
        remarks.push(Remark::Weeps { hottest_c, oil_percent });
    }
    let (low, high) = hottest_band;
    let (softest, hardest) = (Firmness::of(low), Firmness::of(high));
    if hardest as usize > softest as usize + 1 {
        remarks.push(Remark::KnownRoughly { hottest_c, softest, hardest });
        let holds = softening_c.is_some_and(|softening_c| softening_c >= hottest_c);
        if let Some(holds_to_c) = softest_c.filter(|softest_c| holds && *softest_c < hottest_c) {
            remarks.push(Remark::MayHoldLess { holds_to_c });
        }
    }
    if hottest.powder > MOST_POWDER_PERCENT {
        remarks.push(Remark::Paste { powder_percent: hottest.powder });
    }
    let format = wishes.format;
    if format.holds(hottest) && !format.holds(&Solids { powder: 0.0, ..*hottest }) {
        remarks.push(Remark::PowderDecides { hottest_c });
    }
    let wax = recipe.lines().iter().filter(|line| line.class == Class::Wax);
    let wax_percent: f64 = wax.map(|line| line.percent).sum();
    if wax_percent > MOST_WAX_PERCENT {
        remarks.push(Remark::Balm { wax_percent });
    }
    remarks.extend(
        softening_c
            .zip(slip_c)
            .filter(|(holds_to_c, slip_c)| holds_to_c - slip_c > ABOVE_SLIP_K)
            .map(|(holds_to_c, slip_c)| Remark::HoldsAboveSlip { slip_c, holds_to_c }),
    );
    remarks.extend(grazes(profile, wishes.format));
    remarks.extend(beyond(recipe));
    remarks.extend(above_use(recipe));
    match Gap::of(hottest_c, skin_c) {
        Gap::Wide => {}
        Gap::Narrow => {
            remarks.push(Remark::SkinIsNear { hottest_c, gap_k: skin_c - hottest_c, margin_k: MARGIN_K });
        }
        Gap::None => remarks.push(Remark::AsWarmAsSkin { hottest_c, skin_c }),
    }
    remarks
}

/// Where what holds the format lies within a twentieth of what it needs, as a prediction does at best, over a
/// range that a room passes through.
fn grazes(profile: &MeltingProfile, format: Format) -> Option<Remark> {
    let last = |part: f64| profile.last_at_least(part * format.least_percent(), format.held_by().figure());
    let to_c = last(1.0 - GRAZES)?;
    let from_c = last(1.0 + GRAZES).or(profile.at_c().first().copied())?;
    (to_c - from_c >= WIDE_K).then_some(Remark::Grazes { from_c, to_c })
}

/// A jar of fats lets go below where a tube of them slips. One that holds for so much longer, K, is held by
/// wax, and a tube of it would not slip there either. Ours.
const ABOVE_SLIP_K: f64 = 2.0;

/// See [`grazes`].
const GRAZES: f64 = 0.05;

/// A range worth telling, K: ours.
const WIDE_K: f64 = 10.0;

/// How much of a recipe is of these, percent.
fn held(recipe: &Recipe, ids: &[&str]) -> f64 {
    let lines = recipe.lines().iter().filter(|line| ids.contains(&line.key.as_str()));
    lines.map(|line| line.percent).sum()
}

/// Whether a recipe holds enough of what gels oil beyond any equilibrium.
pub(super) fn gels_oil(recipe: &Recipe) -> bool {
    held(recipe, &["hydrogenated-castor-oil", "12-hydroxystearic-acid"]) >= GELS_PERCENT
}

/// What gives scent. Either stands for many, so that two lines of one are not the same twice; and the verdict
/// speaks for them itself, since how much of it a skin bears is no matter of taste.
pub(super) const PERFUMES: [&str; 2] = ["essential-oil", "fragrance"];

/// Essential oil and fragrance in a recipe, percent.
pub(super) fn perfume_percent(recipe: &Recipe) -> f64 {
    recipe.lines().iter().filter(|line| is_of(line, &PERFUMES)).map(|line| line.percent).sum()
}

/// Whether something in it gives off vapour that catches fire where fats melt.
pub(super) fn is_volatile(recipe: &Recipe) -> bool {
    let volatile = ["essential-oil", "fragrance", "undecane-tridecane"];
    recipe.lines().iter().any(|line| line.percent > 0.0 && is_of(line, &volatile))
}

/// Whether a line is one of these, by its own name or not.
fn is_of(line: &Line, ids: &[&str]) -> bool {
    line.ingredient.or(line.like).is_some_and(|ingredient| ids.contains(&ingredient.id()))
}

/// What there is more of than the trade usually takes, all lines of an ingredient together.
fn above_use(recipe: &Recipe) -> Vec<Remark> {
    let mut held: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for line in recipe.lines() {
        let Some(ingredient) = line.ingredient.or(line.like).filter(|it| !PERFUMES.contains(&it.id())) else {
            continue;
        };
        if let Some(most_percent) = ingredient.use_ceiling_percent() {
            held.entry(ingredient.id()).or_insert((0.0, most_percent)).0 += line.percent;
        }
    }
    let above = held.into_iter().filter(|(_, (percent, most_percent))| percent > most_percent);
    above
        .map(|(id, (percent, most_percent))| Remark::AboveUse { id: id.to_owned(), percent, most_percent })
        .collect()
}

/// What the recipe holds enough of that does what no equilibrium has.
fn beyond(recipe: &Recipe) -> impl Iterator<Item = Remark> {
    let held = |ids: &[&str]| held(recipe, ids);
    let apart = held(&["castor-oil"]).min(held(&["mineral-oil", "petrolatum"]));
    [
        (gels_oil(recipe), Remark::GelsOil),
        (held(&["silica"]) >= GELS_PERCENT, Remark::Silica),
        (apart >= APART_PERCENT, Remark::LiquidsPart),
    ]
    .into_iter()
    .filter_map(|(holds, remark)| holds.then_some(remark))
}

/// So much gels an oil, percent (oleogel literature, from memory: 1 to 2).
const GELS_PERCENT: f64 = 1.0;

/// So much of either may show as a layer, percent: ours; that they do not mix is in the Handbook of
/// Pharmaceutical Excipients (from memory).
const APART_PERCENT: f64 = 5.0;

/// Free oil worth a remark, percent: ours.
const WEEPS_PERCENT: f64 = 2.0;

/// Powder up to which it stays a butter, percent: common practice goes to 10 or 15; ours.
const MOST_POWDER_PERCENT: f64 = 30.0;
