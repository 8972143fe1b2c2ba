//! Questions to the program, by the public contract.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use meltmargin::{
    equilibrium::{CrystalState, Mixture},
    recipe::{Line, Own, Recipe},
    substances::{self, Chain, FattyAcid, Make, Rule, Triglyceride},
};
use serde_json::{Value, json};

pub(crate) use crate::replies::answer;

/// A published recipe, whose parts are catalogue ids, `~` and one of them as its fatty acids alone describe
/// it, `~~` and one as they and its slip point do, `@` and a sample of `data/samples.csv`, or species.
#[track_caller]
pub(crate) fn recipe(parts: &[(String, f64)]) -> Recipe {
    let sum: f64 = parts.iter().map(|(_, amount)| amount).sum();
    Recipe::new(parts.iter().map(|(name, amount)| line(name, 100.0 * amount / sum)).collect()).unwrap()
}

/// Its mixture.
#[track_caller]
pub(crate) fn mixture(parts: &[(String, f64)], state: CrystalState) -> Mixture {
    recipe(parts).mixture(state)
}

#[track_caller]
fn line(name: &str, percent: f64) -> Line {
    if let Some(ingredient) = substances::find(name) {
        return Line::of(ingredient, percent);
    }
    if let Some(id) = name.strip_prefix('~') {
        let stated = id.strip_prefix('~');
        let id = stated.unwrap_or(id);
        let known = substances::find(id).unwrap();
        let acids = fatty_acids(known.make());
        let melts_at_c = stated.and(known.melting_c()).map(|(low, high)| 0.5 * (low + high));
        // That palm oil is of a fruit's pulp is known of any.
        let spread = (id == "palm-oil").then_some(Rule::Pulp);
        return own(name, percent, &Own { fatty_acids: Some(&acids), spread, melts_at_c, ..Own::default() });
    }
    let Some(sample) = name.strip_prefix('@') else {
        let composition = BTreeMap::from([(name.to_owned(), 100.0)]);
        return own(name, percent, &Own { composition: Some(&composition), ..Own::default() });
    };
    let rows: Vec<&Sample> = samples().iter().filter(|row| row.sample == sample).collect();
    assert!(!rows.is_empty(), "data/samples.csv has no sample {sample}");
    let composition = rows.iter().map(|row| (row.species.clone(), row.mass_percent)).collect();
    let like = Some(rows[0].like.as_str());
    own(name, percent, &Own { composition: Some(&composition), like, ..Own::default() })
}

#[track_caller]
fn own(name: &str, percent: f64, own: &Own<'_>) -> Line {
    Line::own(name, percent, own, 0).unwrap_or_else(|failure| panic!("{failure:?}"))
}

/// The fatty acids of the triglycerides in a make-up, percent by mass, as a certificate of analysis gives
/// them.
fn fatty_acids(make: &Make) -> BTreeMap<String, f64> {
    let (mut acids, mut other) = (Vec::<(Chain, f64)>::new(), 0.0);
    for (species, percent) in make {
        let Some(triglyceride) = Triglyceride::parse(&species.id) else {
            // What the catalogue does not name of a fat is liquid, and so it is here.
            other += if species.id == "liquid" { *percent } else { 0.0 };
            continue;
        };
        for chain in triglyceride.chains() {
            let grams = percent * chain.acid_molar_mass() / species.molar_mass;
            match acids.iter_mut().find(|(known, _)| *known == chain) {
                Some((_, sum)) => *sum += grams,
                None => acids.push((chain, grams)),
            }
        }
    }
    let all: f64 = acids.iter().map(|(_, grams)| grams).sum::<f64>() + other;
    let named = |chain: Chain| FattyAcid::all().find(|acid| acid.chain == Some(chain)).unwrap().name;
    let acids = acids.into_iter().map(|(chain, grams)| (named(chain).to_owned(), 100.0 * grams / all));
    acids.chain([("other".to_owned(), 100.0 * other / all)]).collect()
}

/// The mixture of these species, percent by mass.
#[track_caller]
pub(crate) fn of_species(parts: &[(String, f64)]) -> Mixture {
    let composition = parts.iter().cloned().collect();
    let mixture = own("mixture", 100.0, &Own { composition: Some(&composition), ..Own::default() });
    Recipe::new(vec![mixture]).unwrap().mixture(CrystalState::Settled)
}

struct Sample {
    sample: String,
    like: String,
    species: String,
    mass_percent: f64,
}

fn samples() -> &'static [Sample] {
    static SAMPLES: OnceLock<Vec<Sample>> = OnceLock::new();
    SAMPLES.get_or_init(|| {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published/data/samples.csv");
        csv::Reader::from_path(path)
            .unwrap()
            .records()
            .map(|record| {
                let record = record.unwrap();
                Sample {
                    sample: record[0].to_owned(),
                    like: record[1].to_owned(),
                    species: record[2].to_owned(),
                    mass_percent: record[3].parse().unwrap(),
                }
            })
            .collect()
    })
}

/// The catalogue ingredient that a part of a published recipe is a lot of, if it is one.
pub(crate) fn lot_of(name: &str) -> Option<&'static substances::Ingredient> {
    match name.strip_prefix('@') {
        None => substances::find(name),
        Some(sample) => {
            samples().iter().find(|row| row.sample == sample).and_then(|row| substances::find(&row.like))
        }
    }
}

/// The answer to `melt`.
#[track_caller]
pub(crate) fn melt(recipe: &Value, at_c: &[f64]) -> Value {
    answer(&json!({"ask": "melt", "recipe": recipe, "at_c": at_c}))
}
