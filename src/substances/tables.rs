//! The data files as Rust tables, which the build writes (`build/`). It has checked them: what has
//! no meaning here cannot be there.

use super::{
    Class, Correction, DIGLYCERIDE_PERCENT, FREE_ACID_PERCENT, Family, Form, Rule, SourceKind, SpeciesKind,
    UNSAPONIFIABLE_PERCENT,
};

include!(concat!(env!("OUT_DIR"), "/tables.rs"));

/// Where figures come from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Source {
    /// The key that the data files cite it by.
    pub key: &'static str,
    /// How much it is worth.
    pub kind: SourceKind,
    /// Author, year, where it stands, and what was taken from it.
    pub citation: &'static str,
    /// Its digital object identifier, `10.…`; empty where it has none, or none was read.
    pub doi: &'static str,
}

/// What was published of one crystal form of a triglyceride.
pub(super) struct Melting {
    pub(super) triglyceride: &'static str,
    pub(super) form: Form,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// A species that is not a triglyceride.
pub(super) struct Substance {
    pub(super) id: &'static str,
    pub(super) kind: SpeciesKind,
    pub(super) molar_mass_g_mol: f64,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// What the catalogue says of an ingredient.
pub(super) struct IngredientRow {
    pub(super) id: &'static str,
    pub(super) name: &'static str,
    pub(super) inci: &'static str,
    pub(super) class: Class,
    pub(super) melting_c: Option<(f64, f64)>,
    pub(super) melting_kind: &'static str,
    pub(super) density_solid_g_ml: Option<f64>,
    pub(super) density_liquid_g_ml: Option<f64>,
    pub(super) allergens: &'static [&'static str],
    pub(super) use_ceiling_percent: Option<f64>,
    pub(super) note: &'static str,
    pub(super) commonness: u8,
    pub(super) make_up: MakeUp,
    pub(super) corrections: &'static [Correction],
}

/// What an ingredient is made of, percent by mass as its source gives it.
pub(super) enum MakeUp {
    /// Species.
    Species(&'static [(&'static str, f64)]),
    /// Fatty acids, from which triglycerides follow by a rule.
    FattyAcids {
        spread: Rule,
        fatty_acids: &'static [(&'static str, f64)],
        unsaponifiable_percent: f64,
        free_acid_percent: f64,
        diglyceride_percent: f64,
    },
}

/// The sources of an ingredient, by key. A table apart, so that whoever never asks for it (the
/// page's engine) does not carry it.
pub(super) struct Cited {
    pub(super) id: &'static str,
    pub(super) melting: &'static str,
    pub(super) make_up: &'static [&'static str],
}
