//! The tables that the build makes from `data/`, read when they are first needed. The build has checked every field: what
//! has no meaning here cannot be there.

use std::sync::OnceLock;

use super::{Correction, Family, Form, ingredient::Class, profile::Rule, species::Kind};
use crate::decimal::decimal;

include!(concat!(env!("OUT_DIR"), "/tables.rs"));

/// A published figure of one form of a triglyceride.
pub(super) struct Measured {
    pub(super) triglyceride: &'static str,
    pub(super) form: Form,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// Every [`Measured`], by triglyceride; where a form has several, the one that counts first.
pub(super) fn measured() -> &'static [Measured] {
    static TABLE: OnceLock<Vec<Measured>> = OnceLock::new();
    TABLE.get_or_init(|| {
        MEASURED
            .lines()
            .map(|line| {
                let [triglyceride, form, melting_c, fusion_kj_mol] = fields(line);
                let form = match form {
                    "alpha" => Form::Alpha,
                    "beta-prime" => Form::BetaPrime,
                    _ => Form::Beta,
                };
                Measured {
                    triglyceride,
                    form,
                    melting_c: decimal(melting_c),
                    fusion_kj_mol: decimal(fusion_kj_mol),
                }
            })
            .collect()
    })
}

/// A species that is not a triglyceride.
pub(super) struct Substance {
    pub(super) id: &'static str,
    pub(super) kind: Kind,
    pub(super) molar_mass_g_mol: f64,
    pub(super) melting_c: Option<f64>,
    pub(super) fusion_kj_mol: Option<f64>,
}

/// Every [`Substance`].
pub(super) fn substances() -> &'static [Substance] {
    static TABLE: OnceLock<Vec<Substance>> = OnceLock::new();
    TABLE.get_or_init(|| {
        SUBSTANCES
            .lines()
            .map(|line| {
                let [id, kind, molar_mass_g_mol, melting_c, fusion_kj_mol] = fields(line);
                let kind = match kind {
                    "acid" => Kind::Acid,
                    "alcohol" => Kind::Alcohol,
                    "alkane" => Kind::Alkane,
                    "wax-ester" => Kind::WaxEster,
                    "mixed-ester" => Kind::MixedEster,
                    "glyceride" => Kind::Glyceride,
                    "powder" => Kind::Powder,
                    _ => Kind::Liquid,
                };
                Substance {
                    id,
                    kind,
                    molar_mass_g_mol: number(molar_mass_g_mol),
                    melting_c: decimal(melting_c),
                    fusion_kj_mol: decimal(fusion_kj_mol),
                }
            })
            .collect()
    })
}

/// A row of the ingredient table.
pub(super) struct IngredientRow {
    pub(super) id: &'static str,
    pub(super) name: &'static str,
    pub(super) inci: &'static str,
    pub(super) class: Class,
    pub(super) melting_c: Option<(f64, f64)>,
    pub(super) melting_kind: &'static str,
    pub(super) density_solid_g_ml: Option<f64>,
    pub(super) density_liquid_g_ml: Option<f64>,
    pub(super) allergens: Vec<&'static str>,
    pub(super) use_ceiling_percent: Option<f64>,
    pub(super) note: &'static str,
    parts: Vec<(&'static str, f64)>,
    rule: &'static str,
    corrections: &'static str,
}

/// What an ingredient is made of, as the data files say it, scaled to 100 %.
pub(super) struct MakeRow {
    /// Percent by mass over species, or over fatty acids where there is a rule.
    pub(super) parts: Vec<(&'static str, f64)>,
    /// For a fatty-acid profile.
    pub(super) rule: Option<RuleRow>,
}

/// How triglycerides follow from a fatty-acid profile.
pub(super) struct RuleRow {
    pub(super) rule: Rule,
    pub(super) non_glyceride_percent: f64,
    pub(super) free_acid_percent: f64,
    pub(super) diglyceride_percent: f64,
}

impl IngredientRow {
    /// What it is made of.
    pub(super) fn make(&self) -> MakeRow {
        let mut parts = self.parts.clone();
        let sum: f64 = parts.iter().map(|(_, percent)| percent).sum();
        for (_, percent) in &mut parts {
            *percent *= 100.0 / sum;
        }
        let mut words = self.rule.split(' ');
        let rule = match words.next() {
            Some("seed") => Some(Rule::Seed),
            Some("pulp") => Some(Rule::Pulp),
            Some("random") => Some(Rule::Random),
            _ => None,
        };
        let mut percent = || words.next().map_or(0.0, number);
        let rule = rule.map(|rule| RuleRow {
            rule,
            non_glyceride_percent: percent(),
            free_acid_percent: percent(),
            diglyceride_percent: percent(),
        });
        MakeRow { parts, rule }
    }

    /// The corrections fitted to its own solid-fat curve.
    pub(super) fn corrections(&self) -> Vec<Correction> {
        let mut words = self.corrections.split(' ');
        let mut corrections = Vec::new();
        while let Some(family) = words.next().and_then(Family::named) {
            let mut word = || words.next().unwrap_or_default();
            corrections.push(Correction {
                family,
                shift_k: number(word()),
                enthalpy_factor: number(word()),
                sets_at_once: word() == "1",
            });
        }
        corrections
    }
}

/// The ingredients, by id.
pub(super) fn ingredients() -> Vec<IngredientRow> {
    let names: Vec<&str> = PART_NAMES.split(' ').collect();
    let (mut which, mut low, mut high) = (PART_WHICH.iter(), PART_LOW.iter(), PART_HIGH.iter());
    let mut part = |unit: f64| {
        let name = names[whole(&mut which)];
        let low = low.next().map_or(0, |low| usize::from(*low));
        (name, (128 * whole(&mut high) + low) as f64 / unit)
    };
    INGREDIENTS
        .lines()
        .map(|line| {
            let [
                id,
                name,
                inci,
                class,
                low,
                high,
                melting_kind,
                solid,
                liquid,
                allergens,
                ceiling,
                note,
                count,
                places,
                rule,
                corrections,
            ] = fields(line);
            let unit = [1.0, 10.0, 100.0, 1000.0, 1e4, 1e5][number(places) as usize];
            IngredientRow {
                id,
                name,
                inci,
                class: Class::named(class).unwrap_or(Class::Other),
                melting_c: decimal(low).zip(decimal(high)),
                melting_kind,
                density_solid_g_ml: decimal(solid),
                density_liquid_g_ml: decimal(liquid),
                allergens: allergens.split(';').filter(|allergen| !allergen.is_empty()).collect(),
                use_ceiling_percent: decimal(ceiling),
                note,
                parts: (0..number(count) as usize).map(|_| part(unit)).collect(),
                rule,
                corrections,
            }
        })
        .collect()
}

/// Of the ingredient of this id: the source of its melting range, and those of its make-up.
///
/// A table apart, so that whoever never asks for it (the page's engine) does not carry it.
pub(super) fn cited(id: &str) -> (&'static str, impl Iterator<Item = &'static str> + use<>) {
    let [_, melting, make] = CITED.lines().map(fields).find(|row: &[_; 3]| row[0] == id).unwrap_or_default();
    (melting, make.split(' '))
}

/// The next whole number, seven bits a byte, the lowest first.
fn whole(bytes: &mut std::slice::Iter<'_, u8>) -> usize {
    let mut number = 0;
    for (byte, shift) in bytes.zip((0..).step_by(7)) {
        number |= usize::from(byte & 127) << shift;
        if *byte < 128 {
            break;
        }
    }
    number
}

/// A figure that the build has found to be one.
fn number(text: &str) -> f64 {
    decimal(text).unwrap_or(f64::NAN)
}

/// The fields of a line.
fn fields<const N: usize>(line: &'static str) -> [&'static str; N] {
    let mut fields = line.split('\t');
    std::array::from_fn(|_| fields.next().unwrap_or_default())
}
