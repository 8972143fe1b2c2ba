//! The figures that decide, each read off the solids.

use serde::Serialize;

use super::Solids;

/// A figure that decides: whether a format keeps its shape, or whether a wish is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Quantity {
    /// Structure, percent.
    Structure,
    /// Solid fat content, percent by mass.
    Solid,
    /// Crystals but wax, percent by mass: what holds a foam.
    Crystals,
    /// What is felt on skin, percent of fat crystals.
    OnSkin,
}

impl Quantity {
    /// How it is read off solids.
    pub fn figure(self) -> fn(&Solids) -> f64 {
        match self {
            Quantity::Structure => Solids::structure_percent,
            Quantity::Solid => Solids::fat_percent,
            Quantity::Crystals => Solids::crystals_percent,
            Quantity::OnSkin => Solids::on_skin_percent,
        }
    }

    /// The figure of these solids.
    pub fn of(self, solids: &Solids) -> f64 {
        self.figure()(solids)
    }
}
