//! What a recipe holds that decides how well it is predicted.

use serde::Serialize;

use crate::{
    recipe::{Line, Recipe},
    substances::Species,
};

/// What decides how well a recipe is predicted.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum RecipeClass {
    /// Butters, oils, fatty acids and alcohols.
    Plain,
    /// Among them coconut, palm kernel and the like.
    Lauric,
    /// Among them waxes.
    Wax,
    /// Among them a fat that only its fatty acids describe.
    #[serde(rename = "fatty-acids")]
    Acids,
    /// Among them a fat that its fatty acids and its slip point describe.
    #[serde(rename = "fatty-acids-and-slip")]
    AcidsAtSlip,
}

/// A recipe with so much wax, percent, errs as such recipes do; less moves nothing that is compared.
const WAX_FROM_PERCENT: f64 = 0.2;

/// A recipe with so much of lauric crystals, or of fats by their fatty acids,
/// percent, errs as such recipes do.
const FATS_FROM_PERCENT: f64 = 5.0;

/// Whether a recipe errs as those with wax do.
pub(super) fn has_wax(recipe: &Recipe) -> bool {
    held(recipe, |species| species.kind.is_wax()) >= WAX_FROM_PERCENT
}

/// Whether a recipe errs as those with lauric fats do.
pub(super) fn has_lauric(recipe: &Recipe) -> bool {
    held(recipe, Species::is_lauric) >= FATS_FROM_PERCENT
}

/// Percent by mass of the species that count.
fn held(recipe: &Recipe, counts: fn(&Species) -> bool) -> f64 {
    let of_line = |line: &Line| -> f64 {
        let shares = line.make().iter().filter(|(species, _)| counts(species));
        0.01 * line.percent * shares.map(|(_, share)| share).sum::<f64>()
    };
    recipe.lines().iter().map(of_line).sum()
}

impl RecipeClass {
    /// The class of a recipe: the worst predicted of what it holds enough of.
    pub fn of(recipe: &Recipe) -> RecipeClass {
        let by_acids = |at_slip: bool| -> f64 {
            let lines = recipe.lines().iter().filter(|line| line.by_acids == Some(at_slip));
            lines.map(|line| line.percent).sum()
        };
        if by_acids(false) >= FATS_FROM_PERCENT {
            RecipeClass::Acids
        } else if by_acids(true) >= FATS_FROM_PERCENT {
            RecipeClass::AcidsAtSlip
        } else if has_wax(recipe) {
            RecipeClass::Wax
        } else if has_lauric(recipe) {
            RecipeClass::Lauric
        } else {
            RecipeClass::Plain
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{recipe::Line, substances};

    #[track_caller]
    fn assert_class(parts: &[(&str, f64)], class: RecipeClass) {
        let lines =
            parts.iter().map(|(id, percent)| Line::of(substances::find(id).unwrap(), *percent)).collect();
        let recipe = Recipe::new(lines).unwrap();
        assert_eq!(RecipeClass::of(&recipe), class, "{parts:?}");
    }

    #[test]
    fn recipes_fall_into_their_classes() {
        assert_class(
            &[("shea-butter", 60.0), ("stearic-acid", 3.0), ("olive-oil", 37.0)],
            RecipeClass::Plain,
        );
        assert_class(&[("palm-oil", 100.0)], RecipeClass::Plain);
        assert_class(&[("coconut-oil", 20.0), ("shea-butter", 80.0)], RecipeClass::Lauric);
        assert_class(&[("coconut-oil", 20.0), ("beeswax", 3.0), ("olive-oil", 77.0)], RecipeClass::Wax);
    }
}
