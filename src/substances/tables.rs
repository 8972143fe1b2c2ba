//! The static tables that the build makes from `data/`.

use super::{correlation::Form, ingredient::Class, profile::Rule, species::Kind};

/// A published figure of one form of a triglyceride.
pub(super) struct Measured {
    pub(super) triglyceride: &'static str,
    pub(super) form: Form,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// A species that is not a triglyceride.
pub(super) struct Substance {
    pub(super) id: &'static str,
    pub(super) kind: Kind,
    pub(super) molar_mass_g_mol: f64,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// A row of the ingredient table.
pub(super) struct IngredientRow {
    pub(super) id: &'static str,
    pub(super) name: &'static str,
    pub(super) inci: &'static str,
    pub(super) class: Class,
    pub(super) melting_c: Option<(f64, f64)>,
    pub(super) melting_kind: &'static str,
    pub(super) melting_source: &'static str,
    pub(super) density_solid_g_ml: Option<f64>,
    pub(super) density_liquid_g_ml: Option<f64>,
    pub(super) allergens: &'static [&'static str],
    pub(super) use_ceiling_percent: Option<f64>,
    pub(super) note: &'static str,
    pub(super) make: MakeRow,
    pub(super) corrections: &'static [CorrectionRow],
    pub(super) sources: &'static [&'static str],
}

/// What an ingredient is made of, as the data files say it.
pub(super) enum MakeRow {
    /// Percent by mass over species.
    Species(&'static [(&'static str, f64)]),
    /// A fatty-acid profile.
    Profile {
        rule: Rule,
        fatty_acids: &'static [(&'static str, f64)],
        non_glyceride_percent: f64,
        free_acid_percent: f64,
        diglyceride_percent: f64,
    },
}

/// A correction fitted to an ingredient's own solid-fat curve.
pub(super) struct CorrectionRow {
    pub(super) family: &'static str,
    pub(super) shift_k: f64,
    pub(super) enthalpy_factor: f64,
    pub(super) sets_at_once: bool,
}

include!(concat!(env!("OUT_DIR"), "/tables.rs"));
