//! `batch`: what to weigh, how many jars it fills, what the label says and what it costs.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{
    ErrorKind, Failure, Item,
    check::within,
    item::recipe,
    label::{Label, label},
    ranges::*,
};
use crate::{apportion::apportion, behaviour::Format, quote::quoted, reading::OUNCE_G, recipe::Recipe};

/// `{"ask":"batch"}`: a batch of a recipe; or, with `weighed_g` or `weighed_oz`, the
/// percentages of what was weighed.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct BatchRequest {
    /// The recipe; percentages sum to 100 within 0.01. With weights it gives only the make-up of each line,
    /// and its percentages are not read.
    pub recipe: Vec<Item>,
    /// The batch, g; absent: from `jars`, or else 500.
    pub batch_g: Option<f64>,
    /// Or so many jars.
    pub jars: Option<f64>,
    /// What was weighed, in the order of the recipe, g: asks for percentages.
    pub weighed_g: Option<Vec<f64>>,
    /// The same in ounces.
    pub weighed_oz: Option<Vec<f64>>,
    /// What the scale shows; absent: grams, or what was weighed in.
    pub unit: Option<ScaleUnit>,
    /// The scale's step, in its unit; absent: 0.1 g or 0.01 oz.
    pub step: Option<f64>,
    /// How it is sold: a whipped butter fills jars set, the others are poured.
    #[serde(default = "pot")]
    pub format: Format,
    /// Air whipped in, percent of the volume before.
    #[serde(default)]
    pub overrun_percent: f64,
    /// What one jar is filled with, mL.
    #[serde(default = "jar_ml")]
    pub jar_ml: f64,
    /// Price of a kilogram by id or own name, in any currency; empty: no cost.
    #[serde(default)]
    pub price_per_kg: BTreeMap<String, f64>,
}

fn pot() -> Format {
    Format::Pot
}

fn jar_ml() -> f64 {
    120.0
}

/// What the scale shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum ScaleUnit {
    /// Grams.
    #[serde(rename = "g")]
    Gram,
    /// Avoirdupois ounces.
    #[serde(rename = "oz")]
    Ounce,
}

impl ScaleUnit {
    fn grams(self) -> f64 {
        match self {
            ScaleUnit::Gram => 1.0,
            ScaleUnit::Ounce => OUNCE_G,
        }
    }
    fn usual_step(self) -> f64 {
        match self {
            ScaleUnit::Gram => 0.1,
            ScaleUnit::Ounce => 0.01,
        }
    }
    fn name(self) -> &'static str {
        match self {
            ScaleUnit::Gram => "g",
            ScaleUnit::Ounce => "oz",
        }
    }
}

/// The answer to [`BatchRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct BatchAnswer {
    /// What to weigh, in the order of the recipe.
    pub lines: Vec<BatchLine>,
    /// The scale's unit.
    pub unit: ScaleUnit,
    /// Its step.
    pub step: f64,
    /// The batch in the scale's unit: the exact sum of what is weighed.
    pub total: f64,
    /// The same, g.
    pub total_g: f64,
    /// The jars that it fills.
    pub jars: Jars,
    /// The list of ingredients.
    pub label: Label,
    /// What it costs; `null` where no price was given.
    pub cost: Option<Cost>,
    /// What to know.
    pub notes: Vec<BatchNote>,
}

/// What to know of a batch.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum BatchNote {
    /// The scale's step is coarse for a line.
    CoarseStep { id: String, step_g: f64, asked_percent: f64, weighed_percent: f64 },
}

/// One line to weigh.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct BatchLine {
    /// The catalogue id, or the own name.
    pub id: String,
    /// The plain name.
    pub name: String,
    /// Percent by mass as asked; where weights were given, their percentage to a hundredth.
    pub percent: f64,
    /// In the scale's unit, to its step.
    pub amount: f64,
    /// Whole steps of the scale; these sum exactly.
    pub steps: u64,
    /// The same, g.
    pub grams: f64,
    /// The same, oz.
    pub ounces: f64,
    /// What it is of the batch as weighed, percent.
    pub weighed_percent: f64,
}

/// The jars that a batch fills.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Jars {
    /// Fill of one, mL.
    pub jar_ml: f64,
    /// Density as it is filled, g/mL: poured as a liquid, or whipped.
    pub fill_g_per_ml: f64,
    /// Net weight of one, g.
    pub jar_g: f64,
    /// Full jars.
    pub full: u64,
    /// What is left over, g.
    pub left_over_g: f64,
    /// Volume in all, mL.
    pub volume_ml: f64,
    /// Ingredients whose density is not known and was taken as 0.92 set and 0.90 poured, g/mL.
    pub density_unknown: Vec<String>,
}

/// What a batch costs.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Cost {
    /// All that has a price.
    pub total: f64,
    /// For a kilogram.
    pub per_kg: f64,
    /// For a full jar.
    pub per_jar: f64,
    /// Line by line, in the order of the recipe; `null` where no price was given.
    pub lines: Vec<Option<f64>>,
    /// Lines without a price: the true cost is higher.
    pub without_price: Vec<String>,
}

/// Densities where the catalogue has none, g/mL: liquid oils are 0.91–0.92, poured butters about
/// 0.90 (Codex CXS 210 and 325R).
const USUAL_SET_G_PER_ML: f64 = 0.92;
const USUAL_POURED_G_PER_ML: f64 = 0.90;

/// Works out [`BatchRequest`].
pub(super) fn batch(request: BatchRequest) -> Result<BatchAnswer, Failure> {
    let (recipe, total_g) = weighed(&request)?;
    let overrun =
        within(request.overrun_percent, OVERRUN_PERCENT, "overrun_percent", "the air whipped in", "%")?;
    let jar_ml = within(request.jar_ml, FILL_ML, "jar_ml", "the fill of a jar", "mL")?;
    let fill = Filling::of(&recipe, request.format, overrun);
    let jar_g = jar_ml * fill.g_per_ml;
    let asked_g = match (total_g, request.batch_g, request.jars) {
        (Some(total), None, None) => total,
        (Some(_), ..) | (None, Some(_), Some(_)) => {
            return Err(Failure::new(
                ErrorKind::Conflict,
                if request.batch_g.is_some() { "batch_g" } else { "jars" },
                "the batch is given twice: keep one: its weight, its jars, or the weight of each line",
            ));
        }
        (None, Some(batch), None) => within(batch, BATCH_G, "batch_g", "the batch", "g")?,
        (None, None, Some(jars)) => within(jars, JARS, "jars", "the number of jars", "")? * jar_g,
        (None, None, None) => 500.0,
    };
    let usual_unit = if request.weighed_oz.is_some() { ScaleUnit::Ounce } else { ScaleUnit::Gram };
    let unit = request.unit.unwrap_or(usual_unit);
    let step = within(
        request.step.unwrap_or(unit.usual_step()),
        SCALE_STEP,
        "step",
        "the step of the scale",
        unit.name(),
    )?;
    let rounded = asked_g / unit.grams() / step;
    // Jars are to be filled, so that a batch for jars is rounded up.
    let steps = if request.jars.is_some() { (rounded - 1e-9).ceil() } else { rounded.round() };
    if steps < 1.0 {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "step",
            format!(
                "a batch of {asked_g} g is less than one step of {step} {}: take a finer scale",
                unit.name()
            ),
        ));
    }
    let shares: Vec<f64> = recipe.lines().iter().map(|line| line.percent).collect();
    let weighed = apportion(&shares, steps as u64);
    // Whole steps times the step, without the last bit's noise.
    let amount = |steps: u64| (steps as f64 * step * 1e6).round() / 1e6;
    let grams = |steps: u64| steps as f64 * step * unit.grams();
    let total_g = grams(steps as u64);
    // A line that is taken as it is may still have a name of its own, such as that of an essential oil.
    let called = |key: &str| {
        let item = request.recipe.iter().find(|item| item.id.as_deref() == Some(key));
        item.and_then(|item| item.name.clone())
    };
    let lines: Vec<BatchLine> = recipe
        .lines()
        .iter()
        .zip(&weighed)
        .map(|(line, &of)| BatchLine {
            id: line.key.clone(),
            name: called(&line.key)
                .or_else(|| line.ingredient.map(|found| found.name().to_owned()))
                .unwrap_or_else(|| line.key.clone()),
            percent: line.percent,
            amount: amount(of),
            steps: of,
            grams: grams(of),
            ounces: grams(of) / OUNCE_G,
            weighed_percent: 100.0 * of as f64 / steps,
        })
        .collect();
    let full = (total_g / jar_g + 1e-9).floor();
    let cost = cost(&request.price_per_kg, &recipe, &lines, jar_g)?;
    Ok(BatchAnswer {
        notes: notes(&lines, step, unit),
        lines,
        unit,
        step,
        total: amount(steps as u64),
        total_g,
        jars: Jars {
            jar_ml,
            fill_g_per_ml: fill.g_per_ml,
            jar_g,
            full: full as u64,
            left_over_g: (total_g - full * jar_g).max(0.0),
            volume_ml: total_g / fill.g_per_ml,
            density_unknown: fill.unknown,
        },
        label: label(&recipe),
        cost,
    })
}

/// The recipe, and the batch in g where weights were given in place of percentages.
fn weighed(request: &BatchRequest) -> Result<(Recipe, Option<f64>), Failure> {
    let (weights, at, grams) = match (&request.weighed_g, &request.weighed_oz) {
        (None, None) => return Ok((recipe(&request.recipe)?, None)),
        (Some(_), Some(_)) => {
            return Err(Failure::new(
                ErrorKind::Conflict,
                "weighed_g",
                "the weights are given twice, in grams and in ounces: keep one",
            ));
        }
        (Some(weights), None) => (weights, "weighed_g", 1.0),
        (None, Some(weights)) => (weights, "weighed_oz", OUNCE_G),
    };
    if weights.len() != request.recipe.len() {
        return Err(Failure::new(
            ErrorKind::Conflict,
            at,
            format!(
                "there are {} weights for {} lines: give one for each",
                weights.len(),
                request.recipe.len()
            ),
        ));
    }
    for (line, weight) in weights.iter().enumerate() {
        within(
            *weight,
            (0.0, BATCH_G.1),
            &format!("{at}[{line}]"),
            &format!("the weight of line {}", line + 1),
            "",
        )?;
    }
    let total: f64 = weights.iter().sum();
    if total <= 0.0 {
        return Err(Failure::new(
            ErrorKind::Empty,
            at,
            "nothing was weighed: give at least one weight above 0",
        ));
    }
    let hundredths = apportion(weights, 10_000);
    let items: Vec<Item> = request
        .recipe
        .iter()
        .zip(&hundredths)
        .map(|(item, hundredths)| Item { percent: *hundredths as f64 / 100.0, ..item.clone() })
        .collect();
    Ok((recipe(&items)?, Some(total * grams)))
}

/// How dense it is when it goes into the jar.
struct Filling {
    g_per_ml: f64,
    unknown: Vec<String>,
}

impl Filling {
    /// Volumes add up: poured, every ingredient as a liquid; whipped, as it is set, with the air.
    fn of(recipe: &Recipe, format: Format, overrun_percent: f64) -> Filling {
        let mut unknown = Vec::new();
        let ml_per_g: f64 = recipe
            .lines()
            .iter()
            .map(|line| {
                let (known, usual) = match format {
                    Format::Whipped => {
                        let set = line.ingredient.and_then(|found| {
                            found.density_solid_g_ml().or_else(|| found.density_liquid_g_ml())
                        });
                        (set, USUAL_SET_G_PER_ML)
                    }
                    Format::Pot | Format::Bar | Format::Stick => {
                        let poured = line.ingredient.and_then(|found| {
                            found.density_liquid_g_ml().or_else(|| found.density_solid_g_ml())
                        });
                        (poured, USUAL_POURED_G_PER_ML)
                    }
                };
                if known.is_none() {
                    unknown.push(line.key.clone());
                }
                0.01 * line.percent / known.filter(|density| *density > 0.0).unwrap_or(usual)
            })
            .sum();
        Filling { g_per_ml: 1.0 / (ml_per_g * (1.0 + 0.01 * overrun_percent)), unknown }
    }
}

fn cost(
    prices: &BTreeMap<String, f64>,
    recipe: &Recipe,
    lines: &[BatchLine],
    jar_g: f64,
) -> Result<Option<Cost>, Failure> {
    if prices.is_empty() {
        return Ok(None);
    }
    for (id, price) in prices {
        within(*price, PRICE, &format!("price_per_kg.{id}"), &format!("the price of {}", quoted(id)), "")?;
        if !recipe.lines().iter().any(|line| line.key == *id) {
            return Err(Failure::new(
                ErrorKind::UnknownIngredient,
                format!("price_per_kg.{id}"),
                format!("the recipe has no line `{}`: price only what is in it", quoted(id)),
            ));
        }
    }
    let each: Vec<Option<f64>> =
        lines.iter().map(|line| prices.get(&line.id).map(|price| price * line.grams / 1000.0)).collect();
    let total: f64 = each.iter().flatten().sum();
    let total_g: f64 = lines.iter().map(|line| line.grams).sum();
    let per_g = if total_g > 0.0 { total / total_g } else { 0.0 };
    let without_price =
        lines.iter().zip(&each).filter(|(_, cost)| cost.is_none()).map(|(line, _)| line.id.clone()).collect();
    Ok(Some(Cost { total, per_kg: 1000.0 * per_g, per_jar: per_g * jar_g, lines: each, without_price }))
}

/// Rounding that changes an ingredient by more than this share deserves a word.
const COARSE: f64 = 0.05;

fn notes(lines: &[BatchLine], step: f64, unit: ScaleUnit) -> Vec<BatchNote> {
    lines
        .iter()
        .filter(|line| line.percent > 0.0 && (line.weighed_percent / line.percent - 1.0).abs() > COARSE)
        .map(|line| BatchNote::CoarseStep {
            id: line.id.clone(),
            step_g: step * unit.grams(),
            asked_percent: line.percent,
            weighed_percent: line.weighed_percent,
        })
        .collect()
}
