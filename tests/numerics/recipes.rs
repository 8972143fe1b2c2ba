//! Recipes drawn at random, the same on every machine.

use crate::random::Random;
use meltmargin::{
    recipe::{Line, Recipe},
    substances,
};

impl Random {
    /// Ids and percentages of 1 to `most` different ingredients: large and small amounts alike.
    pub(crate) fn parts(&mut self, most: usize) -> Vec<(&'static str, f64)> {
        let catalogue = substances::catalogue();
        let count = 1 + self.below(most);
        let mut parts: Vec<(&str, f64)> = Vec::new();
        while parts.len() < count {
            let id = catalogue[self.below(catalogue.len())].id();
            if parts.iter().all(|(found, _)| *found != id) {
                let share = self.share();
                parts.push((id, 0.001 + share * share * share));
            }
        }
        let sum: f64 = parts.iter().map(|(_, amount)| amount).sum();
        parts.iter().map(|(id, amount)| (*id, 100.0 * amount / sum)).collect()
    }

    /// A recipe of such parts.
    pub(crate) fn recipe(&mut self, most: usize) -> Recipe {
        recipe(&self.parts(most))
    }
}

/// The recipe of these ingredients.
pub(crate) fn recipe(parts: &[(&str, f64)]) -> Recipe {
    let lines = parts.iter().map(|(id, percent)| Line::of(substances::find(id).unwrap(), *percent)).collect();
    Recipe::new(lines).unwrap()
}
