//! How far a recipe's figures may be off: bands that belong to it, and what stands behind them.

use serde::Serialize;

use crate::{
    behaviour::Where,
    recipe::Recipe,
    surety::{LotBand, RecipeClass, Spread},
};

/// Error bands of the figures of one recipe: nine in ten of its lots lie within so much of the prediction,
/// either way, and so do nine of ten measured figures that nothing was fitted to (`src/surety/README.md`).
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

/// From `tests/published/data`, by `tests/published/bands.rs`, which recomputes them and prints what to put
/// here. No solids of waxes in oil could be read: theirs are those of all fats.
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

impl ErrorBand {
    /// The bands of the class of a recipe: nine of ten measured figures of such recipes that
    /// nothing was fitted to lie within so much of the prediction. Where a range was published,
    /// its middle counts as the figure.
    pub fn of(recipe: &Recipe) -> ErrorBand {
        BANDS[RecipeClass::of(recipe) as usize]
    }

    /// The bands that belong to the recipe itself in a climate.
    pub(super) fn of_spread(recipe: &Recipe, spread: &Spread) -> ErrorBand {
        let places = [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin];
        let solids = places.map(|place| spread.place(place).solid_percent);
        ErrorBand::of_lots(recipe, &solids, spread.slip_c, spread.clear_c)
    }

    /// The bands that belong to the recipe itself: half of the widest of these of its solids, and of those of
    /// its points; where a point has none, its class's stays.
    pub(super) fn of_lots(
        recipe: &Recipe,
        solids: &[LotBand],
        slip_c: Option<LotBand>,
        clear_c: Option<LotBand>,
    ) -> ErrorBand {
        let class = ErrorBand::of(recipe);
        let half = |(low, high): LotBand| 0.5 * (high - low);
        ErrorBand {
            solid_percent: solids.iter().copied().map(half).reduce(f64::max).unwrap_or(class.solid_percent),
            slip_c: slip_c.map_or(class.slip_c, half),
            clear_c: clear_c.map_or(class.clear_c, half),
            ..class
        }
    }
}
