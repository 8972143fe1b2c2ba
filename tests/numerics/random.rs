//! Recipes drawn at random, the same on every machine.

use meltmargin::{
    recipe::{Line, Recipe},
    substances,
};

/// SplitMix64 (Steele, Lea & Flood 2014): small, and the same everywhere.
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn seeded(seed: u64) -> Random {
        Random(seed)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to below `end`.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    /// From 0 to below 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

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
