//! The data as Rust, for `src/substances/tables.rs` to include.

use std::fmt::Write as _;

use super::data::{CorrectionRow, Data, Ingredient, MakeUp, WATER};

/// The tables.
pub(crate) fn written(data: &Data) -> String {
    let sources = data.sources.iter().map(|source| {
        let (key, kind, citation, doi) = (&source.key, source.kind, &source.citation, &source.doi);
        format!("Source {{ key: {key:?}, kind: SourceKind::{kind:?}, citation: {citation:?}, doi: {doi:?} }}")
    });
    let melting = data.melting.iter().map(|((triglyceride, form), fusion)| {
        format!(
            "Melting {{ triglyceride: {triglyceride:?}, form: Form::{form:?}, melting_c: {:?}, fusion_kj_mol: {:?} }}",
            fusion.melting_c, fusion.fusion_kj_mol
        )
    });
    let substances = data.substances.iter().map(|substance| {
        format!(
            "Substance {{ id: {:?}, kind: SpeciesKind::{:?}, molar_mass_g_mol: {:?}, melting_c: {:?}, fusion_kj_mol: {:?} }}",
            substance.id,
            substance.kind,
            substance.molar_mass_g_mol,
            substance.fusion.melting_c,
            substance.fusion.fusion_kj_mol
        )
    });
    let cited = data.ingredients.iter().map(|one| {
        format!(
            "Cited {{ id: {:?}, melting: {:?}, make_up: &{:?} }}",
            one.row.id,
            one.row.melting_source,
            Vec::from_iter(&one.make_up_sources)
        )
    });
    let mut out = String::new();
    table("SOURCES", "Source", sources, &mut out);
    table("MELTING", "Melting", melting, &mut out);
    table("SUBSTANCES", "Substance", substances, &mut out);
    table("INGREDIENTS", "IngredientRow", data.ingredients.iter().map(ingredient), &mut out);
    table("CITED", "Cited", cited, &mut out);
    let _ = writeln!(out, "pub(super) static ALIASES: &str = {:?};", aliases(data));
    out
}

/// The aliases of each ingredient in a line, in the order of the catalogue, and those of water in the last:
/// one text, which packs better than as many texts. What the catalogue itself says (its name, its name on
/// labels, its id, all with and without what is in brackets) is not said again.
fn aliases(data: &Data) -> String {
    let alike = |name: &str| name.to_lowercase().replace(|letter: char| !letter.is_alphanumeric(), "");
    let line = |id: &str, own: &[&str]| {
        let own = own.iter().flat_map(|name| [alike(name), alike(&outside_brackets(name))]);
        let mut seen: std::collections::BTreeSet<String> = own.collect();
        let names = data.aliases.iter().filter(|one| one.id == id && seen.insert(alike(&one.alias)));
        names.map(|one| one.alias.as_str()).collect::<Vec<_>>().join(";")
    };
    let mut lines: Vec<String> = data
        .ingredients
        .iter()
        .map(|one| line(&one.row.id, &[&one.row.name, &one.row.inci, &one.row.id]))
        .collect();
    lines.push(line(WATER, &[]));
    lines.join("\n")
}

fn outside_brackets(name: &str) -> String {
    let mut inside = false;
    name.chars()
        .filter(|letter| {
            inside = (inside || *letter == '(') && *letter != ')';
            !inside && *letter != ')'
        })
        .collect()
}

fn table(name: &str, of: &str, rows: impl Iterator<Item = String>, out: &mut String) {
    let rows: Vec<String> = rows.map(|row| format!("    {row},\n")).collect();
    let _ = writeln!(out, "pub(super) static {name}: &[{of}] = &[\n{}];", rows.concat());
}

fn ingredient(one: &Ingredient) -> String {
    let row = &one.row;
    let allergens: Vec<&str> =
        row.allergens.split(';').map(str::trim).filter(|allergen| !allergen.is_empty()).collect();
    let corrections: Vec<String> = one.corrections.iter().map(correction).collect();
    format!(
        "IngredientRow {{ id: {:?}, name: {:?}, inci: {:?}, class: Class::{:?}, melting_c: {:?}, melting_kind: {:?}, \
         density_solid_g_ml: {:?}, density_liquid_g_ml: {:?}, allergens: &{allergens:?}, use_ceiling_percent: {:?}, \
         note: {:?}, commonness: {:?}, make_up: {}, corrections: &[{}] }}",
        row.id,
        row.name,
        row.inci,
        row.class,
        row.melting_low_c.zip(row.melting_high_c),
        row.melting_kind,
        row.density_solid_g_ml,
        row.density_liquid_g_ml,
        row.use_ceiling_percent,
        row.note,
        row.commonness,
        make_up(&one.make_up),
        corrections.join(", ")
    )
}

fn make_up(make_up: &MakeUp) -> String {
    match make_up {
        MakeUp::Species(parts) => format!("MakeUp::Species(&{parts:?})"),
        MakeUp::FattyAcids {
            spread,
            fatty_acids,
            unsaponifiable_percent,
            free_acid_percent,
            diglyceride_percent,
        } => format!(
            "MakeUp::FattyAcids {{ spread: Rule::{spread:?}, fatty_acids: &{fatty_acids:?}, \
             unsaponifiable_percent: {}, free_acid_percent: {}, diglyceride_percent: {} }}",
            or(*unsaponifiable_percent, "UNSAPONIFIABLE_PERCENT"),
            or(*free_acid_percent, "FREE_ACID_PERCENT"),
            or(*diglyceride_percent, "DIGLYCERIDE_PERCENT"),
        ),
    }
}

/// A figure, or the name of what stands for it where it was left out.
fn or(figure: Option<f64>, otherwise: &str) -> String {
    figure.map_or(otherwise.to_owned(), |figure| format!("{figure:?}"))
}

fn correction(row: &CorrectionRow) -> String {
    format!(
        "Correction {{ family: Family::{:?}, shift_k: {:?}, enthalpy_factor: {:?}, sets_at_once: {} }}",
        row.family,
        row.shift_k.unwrap_or(0.0),
        row.enthalpy_factor.unwrap_or(1.0),
        row.sets_at_once.is_some()
    )
}
