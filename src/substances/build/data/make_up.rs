//! What ingredients are made of: `compositions/SOURCE.csv`, by species, and
//! `profiles/SOURCE.csv`, by fatty acids.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};

use serde::Deserialize;

use super::rows::{Refusal, Row, by_source, unique};
use super::{FattyAcid, Rule, Sources, Triglyceride};

/// How far the parts of an ingredient may be from 100 %: rounding in the tables that they come from.
const SUM_TOLERANCE: f64 = 0.1;

/// Parts with percent by mass, in the order of the file.
pub(crate) type Parts = Vec<(String, f64)>;

/// What an ingredient is made of.
#[derive(Clone)]
pub(crate) enum MakeUp {
    Species(Parts),
    FattyAcids {
        spread: Rule,
        fatty_acids: Parts,
        unsaponifiable_percent: Option<f64>,
        free_acid_percent: Option<f64>,
        diglyceride_percent: Option<f64>,
    },
}

/// A make-up, where it stands, and its sources by key.
pub(super) struct Found {
    pub(super) place: String,
    pub(super) make_up: MakeUp,
    pub(super) sources: BTreeSet<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CompositionRow {
    ingredient: String,
    /// `POS 38.83; SOS 26.66; …`, percent by mass over species.
    parts: String,
    /// Where not every part is from the source that the file is named after: `codex-cxs-325r: liquid; …`.
    other_sources: String,
    #[serde(rename = "note")]
    _note: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ProfileRow {
    ingredient: String,
    spread: Rule,
    /// `C18:1 75.45; C16:0 11.57; …`, percent by mass of all fatty acids.
    fatty_acids: String,
    /// These three are from memory in every file; left out where they are a refined oil's.
    unsaponifiable_percent: Option<f64>,
    free_acid_percent: Option<f64>,
    diglyceride_percent: Option<f64>,
    #[serde(rename = "note")]
    _note: String,
}

/// The make-ups by ingredient.
pub(super) fn read(
    folder: &Path,
    sources: &Sources,
    species: &BTreeSet<&str>,
) -> Result<BTreeMap<String, Found>, Refusal> {
    let mut all: Vec<(String, Found)> = Vec::new();
    for (source, rows) in by_source::<CompositionRow>(folder, "compositions")? {
        sources.check(&source, &format!("compositions/{source}.csv"))?;
        for Row { place, fields } in rows {
            let parts = parts(&fields.parts, &place)?;
            let is_species = |name: &str| species.contains(name) || Triglyceride::parse(name).is_some();
            if let Some((name, _)) = parts.iter().find(|(name, _)| !is_species(name)) {
                return Err(format!(
                    "{place}: `{name}` is neither a triglyceride nor a species of species.csv"
                ));
            }
            let cited = cited(&source, &parts, &fields.other_sources, &place, sources)?;
            all.push((fields.ingredient, Found { place, make_up: MakeUp::Species(parts), sources: cited }));
        }
    }
    for (source, rows) in by_source::<ProfileRow>(folder, "profiles")? {
        sources.check(&source, &format!("profiles/{source}.csv"))?;
        for Row { place, fields } in rows {
            let fatty_acids = parts(&fields.fatty_acids, &place)?;
            if let Some((name, _)) = fatty_acids.iter().find(|(name, _)| FattyAcid::named(name).is_none()) {
                return Err(format!(
                    "{place}: `{name}` is no fatty acid that the engine knows (fatty_acid.rs)"
                ));
            }
            let make_up = MakeUp::FattyAcids {
                spread: fields.spread,
                fatty_acids,
                unsaponifiable_percent: fields.unsaponifiable_percent,
                free_acid_percent: fields.free_acid_percent,
                diglyceride_percent: fields.diglyceride_percent,
            };
            all.push((
                fields.ingredient,
                Found { place, make_up, sources: BTreeSet::from([source.clone()]) },
            ));
        }
    }
    unique(all.iter().map(|(id, found)| (id.as_str(), found.place.as_str())), |id| {
        format!("the make-up of `{id}`")
    })?;
    Ok(all.into_iter().collect())
}

/// Parts that sum to 100.
fn parts(text: &str, place: &str) -> Result<Parts, Refusal> {
    let mut parts = Parts::new();
    for part in text.split(';').map(str::trim) {
        let read = part
            .rsplit_once(' ')
            .and_then(|(name, percent)| Some((name.trim(), percent.parse::<f64>().ok()?)));
        let Some((name, percent)) = read.filter(|(_, percent)| percent.is_finite() && *percent >= 0.0) else {
            return Err(format!("{place}: `{part}` is no part with its percentage, such as `SOS 26.66`"));
        };
        if parts.iter().any(|(known, _)| known == name) {
            return Err(format!("{place}: `{name}` stands twice; add the two up"));
        }
        parts.push((name.to_owned(), percent));
    }
    let sum: f64 = parts.iter().map(|(_, percent)| percent).sum();
    if (sum - 100.0).abs() > SUM_TOLERANCE {
        return Err(format!("{place}: the parts sum to {sum:.2}, not to 100"));
    }
    Ok(parts)
}

/// The sources of a composition: that of its file, unless others give every part, and the others.
fn cited(
    of_file: &str,
    parts: &Parts,
    others: &str,
    place: &str,
    sources: &Sources,
) -> Result<BTreeSet<String>, Refusal> {
    let mut from_others = BTreeMap::new();
    for group in others.split(';').map(str::trim).filter(|group| !group.is_empty()) {
        let Some((source, names)) = group.split_once(':') else {
            return Err(format!(
                "{place}: `{group}` in `other_sources` is no source with its parts, such as `hpe: liquid`"
            ));
        };
        sources.check(source.trim(), place)?;
        for name in names.split_whitespace() {
            if !parts.iter().any(|(known, _)| known == name) {
                return Err(format!("{place}: `{name}` in `other_sources` is none of the parts"));
            }
            if from_others.insert(name, source.trim()).is_some() {
                return Err(format!("{place}: `{name}` has two sources in `other_sources`"));
            }
        }
    }
    let mut cited: BTreeSet<String> = from_others.values().map(|source| (*source).to_owned()).collect();
    if from_others.len() < parts.len() {
        cited.insert(of_file.to_owned());
    } else {
        return Err(format!(
            "{place}: no part is left for `{of_file}`; move the row to the file of its source"
        ));
    }
    Ok(cited)
}
