//! How far a recipe's figures may be off: bands that belong to it, and what stands behind them.

use serde::Serialize;

use crate::{
    behaviour::Where,
    recipe::Recipe,
    substances::Species,
    surety::{Range, Spread},
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

/// Error bands of the figures of one recipe: nine in ten of its lots lie within so much of the prediction, either way, and so
/// do nine of ten measured figures that nothing was fitted to (`src/surety/README.md`).
#[derive(Clone, Copy, PartialEq, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ErrorBand {
    /// Which class the recipe is of.
    pub class: RecipeClass,
    /// Solid fat content, percentage points.
    pub solid_percent: f64,
    /// Slip point, K.
    pub slip_c: f64,
    /// Clear point, K.
    pub clear_c: f64,
    /// How many measured figures stand behind each of the three.
    pub figures: Figures,
}

/// How many measured figures stand behind a band.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Figures {
    /// Behind that of solids.
    pub solid: u32,
    /// Behind that of slip points.
    pub slip: u32,
    /// Behind that of clear points.
    pub clear: u32,
}

/// From `tests/published/data`, by `tests/published/bands.rs`, which recomputes them and prints what to put here. No solids of
/// waxes in oil could be read: theirs are those of all fats.
const BANDS: [ErrorBand; 5] = [
    ErrorBand {
        class: RecipeClass::Plain,
        solid_percent: 4.3,
        slip_c: 3.9,
        clear_c: 3.0,
        figures: Figures { solid: 19, slip: 26, clear: 20 },
    },
    ErrorBand {
        class: RecipeClass::Lauric,
        solid_percent: 5.7,
        slip_c: 2.1,
        clear_c: 3.0,
        figures: Figures { solid: 6, slip: 13, clear: 23 },
    },
    ErrorBand {
        class: RecipeClass::Wax,
        solid_percent: 4.3,
        slip_c: 1.7,
        clear_c: 3.9,
        figures: Figures { solid: 25, slip: 11, clear: 13 },
    },
    // Whole fats of the catalogue from their fatty acids alone, against what was published of them.
    ErrorBand {
        class: RecipeClass::Acids,
        solid_percent: 12.7,
        slip_c: 10.2,
        clear_c: 7.4,
        figures: Figures { solid: 37, slip: 26, clear: 6 },
    },
    ErrorBand {
        class: RecipeClass::AcidsAtSlip,
        solid_percent: 19.6,
        slip_c: 3.0,
        clear_c: 7.5,
        figures: Figures { solid: 35, slip: 26, clear: 6 },
    },
];

/// A recipe with so much wax, percent, is of that class; less moves nothing that is compared.
const WAX_FROM_PERCENT: f64 = 0.2;

/// A recipe with so much of lauric crystals, or of fats by their fatty acids, percent, is of that class.
const FATS_FROM_PERCENT: f64 = 5.0;

impl RecipeClass {
    /// The class of a recipe: the worst predicted of what it holds enough of.
    pub fn of(recipe: &Recipe) -> RecipeClass {
        let percent = |counts: fn(&Species) -> bool| -> f64 {
            recipe
                .lines()
                .iter()
                .flat_map(|line| {
                    line.make().iter().map(move |(species, share)| (species, line.percent * share))
                })
                .filter(|(species, _)| counts(species))
                .map(|(_, amount)| 0.01 * amount)
                .sum()
        };
        let by_acids = |at_slip: bool| -> f64 {
            let lines = recipe.lines().iter().filter(|line| line.by_acids == Some(at_slip));
            lines.map(|line| line.percent).sum()
        };
        if by_acids(false) >= FATS_FROM_PERCENT {
            RecipeClass::Acids
        } else if by_acids(true) >= FATS_FROM_PERCENT {
            RecipeClass::AcidsAtSlip
        } else if percent(|species| species.kind.is_wax()) >= WAX_FROM_PERCENT {
            RecipeClass::Wax
        } else if percent(Species::is_lauric) >= FATS_FROM_PERCENT {
            RecipeClass::Lauric
        } else {
            RecipeClass::Plain
        }
    }
}

impl ErrorBand {
    /// The bands of the class of a recipe: nine of ten measured figures of such recipes that nothing was fitted to lie within
    /// so much of the prediction. Where a range was published, its middle counts as the figure.
    pub fn of(recipe: &Recipe) -> ErrorBand {
        BANDS[RecipeClass::of(recipe) as usize]
    }

    /// The bands that belong to the recipe itself in a climate.
    pub(super) fn of_spread(recipe: &Recipe, spread: &Spread) -> ErrorBand {
        let places = [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin];
        let solids = places.map(|place| spread.place(place).solid_percent);
        ErrorBand::of_lots(recipe, &solids, spread.slip_c, spread.clear_c)
    }

    /// The bands that belong to the recipe itself: half of the widest of these of its solids, and of those of its points;
    /// where a point has none, its class's stays.
    pub(super) fn of_lots(
        recipe: &Recipe,
        solids: &[Range],
        slip_c: Option<Range>,
        clear_c: Option<Range>,
    ) -> ErrorBand {
        let class = ErrorBand::of(recipe);
        let half = |(low, high): Range| 0.5 * (high - low);
        ErrorBand {
            solid_percent: solids.iter().copied().map(half).reduce(f64::max).unwrap_or(class.solid_percent),
            slip_c: slip_c.map_or(class.slip_c, half),
            clear_c: clear_c.map_or(class.clear_c, half),
            ..class
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
        assert_eq!(ErrorBand::of(&recipe).class, class);
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
