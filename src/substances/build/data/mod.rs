//! The data files, read and checked: what does not hold together is refused with the
//! file, the line and what to do.

mod make_up;
mod rows;

// The engine's own types, so that the words of the files are those that the engine knows.
#[allow(dead_code, unreachable_pub)]
#[path = "../../chain.rs"]
mod chain;
#[allow(dead_code, unreachable_pub)]
#[path = "../../family.rs"]
mod family;
#[allow(dead_code, unreachable_pub)]
#[path = "../../fatty_acid.rs"]
mod fatty_acid;
#[allow(dead_code, unreachable_pub)]
#[path = "../../kinds.rs"]
mod kinds;

use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};

use serde::Deserialize;

pub(crate) use chain::{Chain, Triglyceride};
pub(crate) use family::Family;
pub(crate) use fatty_acid::FattyAcid;
pub(crate) use kinds::{Class, Form, Rule, SourceKind, SpeciesKind};
pub(crate) use make_up::MakeUp;
use rows::by_source;
pub(crate) use rows::{Refusal, Row, of_file, unique};

/// Everything in the data files.
pub(crate) struct Data {
    /// By key.
    pub(crate) sources: Vec<Source>,
    /// Published figures of triglycerides, by name and form.
    pub(crate) melting: BTreeMap<(String, Form), Fusion>,
    /// The species that are not triglycerides, in the order of their file.
    pub(crate) substances: Vec<Substance>,
    /// By id.
    pub(crate) ingredients: Vec<Ingredient>,
    /// In the order of their file.
    pub(crate) aliases: Vec<Alias>,
}

/// `sources.csv`: where figures come from.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Source {
    /// What the other files cite it by; a file of its figures is named after it.
    pub(crate) key: String,
    pub(crate) kind: SourceKind,
    pub(crate) citation: String,
    /// `10.…`, without the address of a resolver.
    pub(crate) doi: String,
}

/// `species.csv`: species that are not triglycerides.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SpeciesRow {
    id: String,
    kind: SpeciesKind,
    molar_mass_g_mol: f64,
    #[serde(rename = "note")]
    _note: String,
}

/// `melting/SOURCE.csv`: how pure species melt.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MeltingRow {
    species: String,
    /// Of a triglyceride; other species have one form here.
    form: Option<Form>,
    melting_c: Option<f64>,
    fusion_kj_mol: Option<f64>,
    #[serde(rename = "note")]
    _note: String,
}

/// How a species, or one of its forms, melts.
#[derive(Clone, Copy, Default)]
pub(crate) struct Fusion {
    pub(crate) melting_c: Option<f64>,
    pub(crate) fusion_kj_mol: Option<f64>,
}

/// A species that is not a triglyceride.
pub(crate) struct Substance {
    pub(crate) id: String,
    pub(crate) kind: SpeciesKind,
    pub(crate) molar_mass_g_mol: f64,
    pub(crate) fusion: Fusion,
}

/// `ingredients.csv`: what a label and a maker need to know.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct IngredientRow {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) inci: String,
    pub(crate) class: Class,
    /// The ingredient that it is made from: it lends its corrections, and its make-up
    /// to one that has none of its own.
    pub(crate) parent: Option<String>,
    pub(crate) melting_low_c: Option<f64>,
    pub(crate) melting_high_c: Option<f64>,
    pub(crate) melting_kind: String,
    pub(crate) melting_source: String,
    pub(crate) density_solid_g_ml: Option<f64>,
    pub(crate) density_liquid_g_ml: Option<f64>,
    density_source: String,
    /// With semicolons between.
    pub(crate) allergens: String,
    pub(crate) use_ceiling_percent: Option<f64>,
    use_source: String,
    pub(crate) note: String,
    /// How often makers use it: 3 every day, 2 usually, 1 rarely. Common practice, no source.
    pub(crate) commonness: u8,
}

/// `aliases.csv`: what an ingredient is called in the trade, in a language. A name that several ingredients
/// have stands once for each, the likeliest first.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Alias {
    pub(crate) alias: String,
    language: String,
    /// An ingredient, or [`WATER`].
    pub(crate) id: String,
    #[serde(rename = "note")]
    _note: String,
}

/// What stands for water and what is mostly water, in `aliases.csv`.
pub(crate) const WATER: &str = "water";

/// The words of the column `language`: codes of BCP 47, names on labels, and short forms.
const LANGUAGES: [&str; 11] = ["en", "inci", "short", "fr", "es", "pt", "de", "it", "id", "hi", "hi-Latn"];

/// `corrections.csv`: what was fitted to an ingredient, for one crystal family.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CorrectionRow {
    ingredient: String,
    pub(crate) family: Family,
    /// Nothing where left out.
    pub(crate) shift_k: Option<f64>,
    /// 1 where left out.
    pub(crate) enthalpy_factor: Option<f64>,
    pub(crate) sets_at_once: Option<Yes>,
    fitted_to: String,
    /// What it was fitted to, for the published checks: they take such a figure for no proof.
    quantities: String,
    #[serde(rename = "note")]
    _note: String,
}

/// A mark that is there or not.
#[derive(Clone, Copy, Deserialize)]
pub(crate) enum Yes {
    #[serde(rename = "1")]
    Yes,
}

/// An ingredient with all that belongs to it.
pub(crate) struct Ingredient {
    pub(crate) row: IngredientRow,
    pub(crate) make_up: MakeUp,
    /// Where its make-up comes from, by key.
    pub(crate) make_up_sources: BTreeSet<String>,
    /// Its own, and those of what it is made from.
    pub(crate) corrections: Vec<CorrectionRow>,
}

/// The words of the column `melting_kind`.
const MELTING_KINDS: [&str; 6] = ["", "slip", "clear", "drop", "congealing", "melting-range"];

/// The words of the column `quantities`.
const QUANTITIES: [&str; 3] = ["solids", "points", "gel-clear"];

impl Data {
    /// Reads and checks the files of this folder.
    ///
    /// # Errors
    /// What is wrong, in which file and line, and what to do.
    pub(crate) fn read(folder: &Path) -> Result<Data, Refusal> {
        let sources = Sources::read(folder)?;
        let (substances, melting) = species(folder, &sources)?;
        let known: BTreeSet<&str> = substances.iter().map(|substance| substance.id.as_str()).collect();
        let make_ups = make_up::read(folder, &sources, &known)?;
        let ingredients = ingredients(folder, &sources, make_ups)?;
        let aliases = aliases(folder, &ingredients)?;
        Ok(Data { sources: sources.rows, melting, substances, ingredients, aliases })
    }
}

/// The table of sources.
struct Sources {
    rows: Vec<Source>,
    keys: BTreeSet<String>,
}

impl Sources {
    fn read(folder: &Path) -> Result<Sources, Refusal> {
        let rows: Vec<Row<Source>> = of_file(folder, "sources.csv")?;
        unique(rows.iter().map(|row| (row.fields.key.as_str(), row.place.as_str())), |key| {
            format!("source `{key}`")
        })?;
        for Row { place, fields } in &rows {
            if fields.citation.is_empty() {
                return Err(format!("{place}: say in `citation` what `{}` is", fields.key));
            }
            if !fields.doi.is_empty() && !fields.doi.starts_with("10.") {
                return Err(format!("{place}: a DOI begins with `10.`, `{}` does not", fields.doi));
            }
        }
        let keys = rows.iter().map(|row| row.fields.key.clone()).collect();
        Ok(Sources { rows: rows.into_iter().map(|row| row.fields).collect(), keys })
    }

    /// Refuses a key that is not in the table; an empty one cites nothing.
    fn check(&self, key: &str, place: &str) -> Result<(), Refusal> {
        if key.is_empty() || self.keys.contains(key) {
            Ok(())
        } else {
            Err(format!("{place}: no source `{key}` in sources.csv; add a row there, or mend the name"))
        }
    }
}

/// Species and how they melt.
type AllSpecies = (Vec<Substance>, BTreeMap<(String, Form), Fusion>);

fn species(folder: &Path, sources: &Sources) -> Result<AllSpecies, Refusal> {
    let rows: Vec<Row<SpeciesRow>> = of_file(folder, "species.csv")?;
    unique(rows.iter().map(|row| (row.fields.id.as_str(), row.place.as_str())), |id| {
        format!("species `{id}`")
    })?;
    let mut known = BTreeSet::new();
    for Row { place, fields } in &rows {
        if !(fields.molar_mass_g_mol.is_finite() && fields.molar_mass_g_mol > 0.0) {
            return Err(format!("{place}: the molar mass of `{}` is no positive number", fields.id));
        }
        known.insert(fields.id.as_str());
    }
    let mut of_triglycerides: BTreeMap<(String, Form), Fusion> = BTreeMap::new();
    let mut of_others: BTreeMap<String, Fusion> = BTreeMap::new();
    let mut places: BTreeMap<(String, &'static str), String> = BTreeMap::new();
    for (source, rows) in by_source::<MeltingRow>(folder, "melting")? {
        sources.check(&source, &format!("melting/{source}.csv"))?;
        for Row { place, fields } in rows {
            finite(&place, &[fields.melting_c, fields.fusion_kj_mol])?;
            let triglyceride = Triglyceride::parse(&fields.species).map(|found| found.to_string());
            let (fusion, name) = match (triglyceride, fields.form) {
                _ if known.contains(fields.species.as_str()) => {
                    if fields.form.is_some() {
                        return Err(format!("{place}: only triglycerides have several forms here"));
                    }
                    (of_others.entry(fields.species.clone()).or_default(), fields.species)
                }
                (Some(name), Some(form)) => {
                    let which = format!("{name} in {form:?}");
                    (of_triglycerides.entry((name, form)).or_default(), which)
                }
                (Some(name), None) => {
                    return Err(format!("{place}: say in `form` which form of {name} it is"));
                }
                (None, _) => {
                    return Err(format!(
                        "{place}: `{}` is neither a triglyceride nor a species of species.csv",
                        fields.species
                    ));
                }
            };
            for (figure, given, what) in [
                (&mut fusion.melting_c, fields.melting_c, "melting point"),
                (&mut fusion.fusion_kj_mol, fields.fusion_kj_mol, "enthalpy of fusion"),
            ] {
                if given.is_none() {
                    continue;
                }
                if let Some(before) = places.insert((name.clone(), what), place.clone()) {
                    return Err(format!(
                        "{place}: the {what} of {name} stands already in {before}; leave out the one that gives way, and name it in `note`"
                    ));
                }
                *figure = given;
            }
        }
    }
    let substances = rows.into_iter().map(|row| Substance {
        fusion: of_others.get(&row.fields.id).copied().unwrap_or_default(),
        id: row.fields.id,
        kind: row.fields.kind,
        molar_mass_g_mol: row.fields.molar_mass_g_mol,
    });
    Ok((substances.collect(), of_triglycerides))
}

fn ingredients(
    folder: &Path,
    sources: &Sources,
    mut make_ups: BTreeMap<String, make_up::Found>,
) -> Result<Vec<Ingredient>, Refusal> {
    let rows: Vec<Row<IngredientRow>> = of_file(folder, "ingredients.csv")?;
    unique(rows.iter().map(|row| (row.fields.id.as_str(), row.place.as_str())), |id| {
        format!("ingredient `{id}`")
    })?;
    let parents: BTreeMap<String, Option<String>> =
        rows.iter().map(|row| (row.fields.id.clone(), row.fields.parent.clone())).collect();
    for (id, found) in &make_ups {
        if !parents.contains_key(id) {
            return Err(format!(
                "{}: no ingredient `{id}` in ingredients.csv; add a row there, or mend the name",
                found.place
            ));
        }
    }
    let own = corrections(folder, sources, &parents)?;
    let mut all = BTreeMap::new();
    let own_make_ups: BTreeMap<String, (MakeUp, BTreeSet<String>)> = std::mem::take(&mut make_ups)
        .into_iter()
        .map(|(id, found)| (id, (found.make_up, found.sources)))
        .collect();
    for Row { place, fields: row } in rows {
        check(&row, &place, sources)?;
        let line = ancestors(&row.id, &parents, &place)?;
        let (make_up, make_up_sources) =
            line.iter().find_map(|id| own_make_ups.get(id)).cloned().ok_or_else(|| {
                format!(
                    "{place}: `{}` has no make-up; add its row to a file in compositions or profiles",
                    row.id
                )
            })?;
        let mut corrections: Vec<CorrectionRow> = Vec::new();
        for correction in line.iter().rev().filter_map(|id| own.get(id)).flatten() {
            match corrections.iter_mut().find(|known| known.family == correction.family) {
                Some(known) => *known = correction.clone(),
                None => corrections.push(correction.clone()),
            }
        }
        all.insert(row.id.clone(), Ingredient { row, make_up, make_up_sources, corrections });
    }
    Ok(all.into_values().collect())
}

fn aliases(folder: &Path, ingredients: &[Ingredient]) -> Result<Vec<Alias>, Refusal> {
    let rows: Vec<Row<Alias>> = of_file(folder, "aliases.csv")?;
    unique(
        rows.iter()
            .map(|row| ((&row.fields.alias, &row.fields.language, &row.fields.id), row.place.as_str())),
        |(alias, language, id)| format!("the alias `{alias}` ({language}) of `{id}`"),
    )?;
    for Row { place, fields } in &rows {
        if fields.id != WATER && !ingredients.iter().any(|one| one.row.id == fields.id) {
            return Err(format!("{place}: no ingredient `{}` in ingredients.csv", fields.id));
        }
        if fields.alias.is_empty() || fields.alias.contains([';', '\n']) {
            return Err(format!("{place}: an alias is a name without `;`"));
        }
        if !LANGUAGES.contains(&fields.language.as_str()) {
            return Err(format!(
                "{place}: `{}` in `language` is none of {}",
                fields.language,
                LANGUAGES.join(", ")
            ));
        }
    }
    Ok(rows.into_iter().map(|row| row.fields).collect())
}

/// Checks what an ingredient's row says by itself.
fn check(row: &IngredientRow, place: &str, sources: &Sources) -> Result<(), Refusal> {
    let densities = row.density_solid_g_ml.or(row.density_liquid_g_ml);
    for (source, figure, column) in [
        (&row.melting_source, row.melting_low_c.or(row.melting_high_c), "melting_source"),
        (&row.density_source, densities, "density_source"),
        (&row.use_source, row.use_ceiling_percent, "use_source"),
    ] {
        if source.is_empty() && figure.is_some() {
            return Err(format!("{place}: a figure without its source; fill in `{column}`"));
        }
        sources.check(source, place)?;
    }
    finite(
        place,
        &[
            row.melting_low_c,
            row.melting_high_c,
            row.density_solid_g_ml,
            row.density_liquid_g_ml,
            row.use_ceiling_percent,
        ],
    )?;
    if !(1..=3).contains(&row.commonness) {
        return Err(format!("{place}: `commonness` is 3 (every day), 2 (usual) or 1 (rare)"));
    }
    if !MELTING_KINDS.contains(&row.melting_kind.as_str()) {
        return Err(format!(
            "{place}: `{}` in `melting_kind` is none of {}",
            row.melting_kind,
            MELTING_KINDS[1..].join(", ")
        ));
    }
    match (row.melting_low_c, row.melting_high_c) {
        (None, None) => Ok(()),
        (Some(low), Some(high)) if low <= high => Ok(()),
        _ => Err(format!("{place}: the melting range of `{}` needs two ends, the lower first", row.id)),
    }
}

/// An ingredient, what it is made from, what that is made from, and so on.
fn ancestors(
    id: &str,
    parents: &BTreeMap<String, Option<String>>,
    place: &str,
) -> Result<Vec<String>, Refusal> {
    let mut line = vec![id.to_owned()];
    let mut last = id;
    while let Some(parent) = parents.get(last).and_then(Option::as_deref) {
        if !parents.contains_key(parent) {
            return Err(format!(
                "{place}: `{last}` is made from `{parent}`, which is not in ingredients.csv"
            ));
        }
        if line.iter().any(|known| known == parent) {
            line.push(parent.to_owned());
            return Err(format!("{place}: in a circle, each is made from the next: {}", line.join(", ")));
        }
        line.push(parent.to_owned());
        last = parent;
    }
    Ok(line)
}

/// Corrections by ingredient.
fn corrections(
    folder: &Path,
    sources: &Sources,
    parents: &BTreeMap<String, Option<String>>,
) -> Result<BTreeMap<String, Vec<CorrectionRow>>, Refusal> {
    let rows: Vec<Row<CorrectionRow>> = of_file(folder, "corrections.csv")?;
    unique(
        rows.iter().map(|row| ((row.fields.ingredient.as_str(), row.fields.family), row.place.as_str())),
        |(id, family)| format!("the correction of `{id}` for {family:?}"),
    )?;
    let mut found: BTreeMap<String, Vec<CorrectionRow>> = BTreeMap::new();
    for Row { place, fields } in rows {
        if !parents.contains_key(&fields.ingredient) {
            return Err(format!("{place}: no ingredient `{}` in ingredients.csv", fields.ingredient));
        }
        sources.check(&fields.fitted_to, &place)?;
        finite(&place, &[fields.shift_k, fields.enthalpy_factor])?;
        for word in fields.quantities.split(';').filter(|word| !word.is_empty()) {
            if !QUANTITIES.contains(&word) {
                return Err(format!(
                    "{place}: `{word}` in `quantities` is none of {}",
                    QUANTITIES.join(", ")
                ));
            }
        }
        found.entry(fields.ingredient.clone()).or_default().push(fields);
    }
    Ok(found)
}

/// Refuses what is no number that anybody can have measured.
fn finite(place: &str, figures: &[Option<f64>]) -> Result<(), Refusal> {
    match figures.iter().flatten().find(|figure| !figure.is_finite()) {
        None => Ok(()),
        Some(figure) => Err(format!("{place}: {figure} is no figure")),
    }
}
