//! Reads the data files in `src/substances/data` and writes them as static Rust tables, so that a bad figure stops the
//! build, and nothing is parsed in the browser.

use std::{
    collections::{BTreeMap, BTreeSet},
    error::Error,
    fmt::Write as _,
    fs,
    path::{Path, PathBuf},
};

#[allow(dead_code, unreachable_pub)]
#[path = "chain.rs"]
mod chain;

type Result<T> = std::result::Result<T, Box<dyn Error>>;
type Row = BTreeMap<String, String>;

/// Where a triglyceride's form has several published figures, the first of these files that has one counts.
const MEASURED: [&str; 3] = ["jocs1998", "wesdorp2012", "sato1989"];

/// How far the parts of an ingredient may be from 100 %: rounding in the tables they come from.
const SUM_TOLERANCE: f64 = 0.1;

fn main() -> Result<()> {
    println!("cargo::rerun-if-changed=src/substances/data");
    println!("cargo::rerun-if-changed=src/substances/chain.rs");
    println!("cargo::rerun-if-changed=src/substances/build.rs");
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/substances/data");
    let mut out = String::new();
    let sources = write_sources(&data, &mut out)?;
    write_measured(&data, &mut out)?;
    let species = write_substances(&data, &sources, &mut out)?;
    write_ingredients(&data, &sources, &species, &mut out)?;
    fs::write(PathBuf::from(std::env::var("OUT_DIR")?).join("tables.rs"), out)?;
    Ok(())
}

/// The rows of a file, each with its columns by name.
fn rows(path: &Path) -> Result<Vec<Row>> {
    let mut reader = csv::Reader::from_path(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let head = reader.headers()?.clone();
    reader
        .records()
        .map(|record| {
            let record = record.map_err(|error| format!("{}: {error}", path.display()))?;
            Ok(head.iter().map(str::to_owned).zip(record.iter().map(|text| text.trim().to_owned())).collect())
        })
        .collect()
}

/// The rows of every file in a folder, by file name.
fn folder(path: &Path) -> Result<Vec<Row>> {
    if !path.is_dir() {
        return Ok(Vec::new());
    }
    let mut files: Vec<PathBuf> =
        fs::read_dir(path)?.map(|entry| Ok(entry?.path())).collect::<Result<_>>()?;
    files.retain(|file| {
        file.extension().is_some_and(|ending| ending == "csv")
            && file.file_stem().is_some_and(|stem| stem != "rules")
    });
    files.sort();
    Ok(files.iter().map(|file| rows(file)).collect::<Result<Vec<_>>>()?.concat())
}

fn text<'a>(row: &'a Row, column: &str) -> Result<&'a str> {
    row.get(column).map(String::as_str).ok_or_else(|| format!("no column `{column}` beside {row:?}").into())
}

fn number(row: &Row, column: &str) -> Result<Option<f64>> {
    let text = text(row, column)?;
    if text.is_empty() {
        return Ok(None);
    }
    let value: f64 =
        text.parse().map_err(|_| format!("`{text}` in column `{column}` is not a number: {row:?}"))?;
    if value.is_finite() { Ok(Some(value)) } else { Err(format!("`{text}` is not finite: {row:?}").into()) }
}

fn known<'a>(key: &'a str, keys: &BTreeSet<String>, what: &str, row: &Row) -> Result<&'a str> {
    if key.is_empty() || keys.contains(key) {
        Ok(key)
    } else {
        Err(format!("unknown {what} `{key}` in {row:?}").into())
    }
}

fn write_sources(data: &Path, out: &mut String) -> Result<BTreeSet<String>> {
    let mut keys = BTreeSet::new();
    out.push_str("pub(super) static SOURCES: &[(&str, &str, &str)] = &[\n");
    let mut all = rows(&data.join("sources.csv"))?;
    all.extend(rows(&data.join("species/sources.csv"))?);
    for row in &all {
        let key = text(row, "key")?;
        if !keys.insert(key.to_owned()) {
            return Err(format!("source `{key}` is listed twice").into());
        }
        writeln!(out, "({key:?}, {:?}, {:?}),", text(row, "citation")?, text(row, "link")?)?;
    }
    out.push_str("];\n");
    Ok(keys)
}

fn form(name: &str) -> Result<&'static str> {
    Ok(match name {
        "alpha" => "Form::Alpha",
        "beta-prime" => "Form::BetaPrime",
        "beta" => "Form::Beta",
        _ => return Err(format!("unknown crystal form `{name}`").into()),
    })
}

fn write_measured(data: &Path, out: &mut String) -> Result<()> {
    let mut lines = Vec::new();
    for (rank, name) in MEASURED.iter().enumerate() {
        for row in rows(&data.join(format!("species/{name}.csv")))? {
            let id = text(&row, "triglyceride")?;
            let triglyceride = chain::Triglyceride::parse(id)
                .ok_or_else(|| format!("`{id}` is not a triglyceride: {row:?}"))?;
            let form = form(text(&row, "form")?)?;
            let line = format!(
                "Measured {{ triglyceride: \"{triglyceride}\", form: {form}, melting_c: {:?}, fusion_kj_mol: {:?} }},\n",
                number(&row, "melting_c")?,
                number(&row, "fusion_kj_mol")?
            );
            lines.push((triglyceride.to_string(), rank, line));
        }
    }
    lines.sort();
    out.push_str("pub(super) static MEASURED: &[Measured] = &[\n");
    out.extend(lines.into_iter().map(|(_, _, line)| line));
    out.push_str("];\n");
    Ok(())
}

fn write_substances(data: &Path, sources: &BTreeSet<String>, out: &mut String) -> Result<BTreeSet<String>> {
    let mut ids = BTreeSet::new();
    out.push_str("pub(super) static SUBSTANCES: &[Substance] = &[\n");
    for row in rows(&data.join("species/substances.csv"))? {
        let id = text(&row, "id")?;
        if !ids.insert(id.to_owned()) {
            return Err(format!("species `{id}` is listed twice").into());
        }
        let kind = match text(&row, "kind")? {
            "acid" => "Acid",
            "alcohol" => "Alcohol",
            "alkane" => "Alkane",
            "wax-ester" => "WaxEster",
            "glyceride" => "Glyceride",
            "powder" => "Powder",
            "liquid" => "Liquid",
            other => return Err(format!("unknown kind `{other}` in {row:?}").into()),
        };
        for column in ["melting_source", "fusion_source"] {
            known(text(&row, column)?, sources, "source", &row)?;
        }
        writeln!(
            out,
            "Substance {{ id: {id:?}, kind: Kind::{kind}, molar_mass_g_mol: {:?}, melting_c: {:?}, fusion_kj_mol: {:?} }},",
            number(&row, "molar_mass_g_mol")?.ok_or("a species needs a molar mass")?,
            number(&row, "melting_c")?,
            number(&row, "fusion_kj_mol")?
        )?;
    }
    out.push_str("];\n");
    Ok(ids)
}

fn class(name: &str) -> Result<&'static str> {
    Ok(match name {
        "hard-butter" => "HardButter",
        "soft-butter" => "SoftButter",
        "liquid-oil" => "LiquidOil",
        "fatty-acid" => "FattyAcid",
        "fatty-alcohol" => "FattyAlcohol",
        "wax" => "Wax",
        "other" => "Other",
        _ => return Err(format!("unknown class `{name}`").into()),
    })
}

/// Groups rows by their `ingredient`.
fn by_ingredient(rows: Vec<Row>) -> Result<BTreeMap<String, Vec<Row>>> {
    let mut groups: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows {
        groups.entry(text(&row, "ingredient")?.to_owned()).or_default().push(row);
    }
    Ok(groups)
}

/// The parts of one ingredient as `(name, percent)`, scaled to exactly 100.
fn parts(id: &str, rows: &[Row], column: &str) -> Result<Vec<(String, f64)>> {
    let mut parts = Vec::new();
    for row in rows {
        let percent = number(row, "mass_percent")?.ok_or_else(|| format!("no percentage in {row:?}"))?;
        if percent < 0.0 {
            return Err(format!("a negative percentage in {row:?}").into());
        }
        parts.push((text(row, column)?.to_owned(), percent));
    }
    let sum: f64 = parts.iter().map(|(_, percent)| percent).sum();
    if (sum - 100.0).abs() > SUM_TOLERANCE {
        return Err(format!("the parts of `{id}` sum to {sum}, not 100").into());
    }
    for (_, percent) in &mut parts {
        *percent *= 100.0 / sum;
    }
    Ok(parts)
}

fn write_ingredients(
    data: &Path,
    sources: &BTreeSet<String>,
    species: &BTreeSet<String>,
    out: &mut String,
) -> Result<()> {
    let compositions = by_ingredient(folder(&data.join("compositions"))?)?;
    let profiles = by_ingredient(folder(&data.join("profiles"))?)?;
    let rules = by_ingredient(rows(&data.join("profiles/rules.csv"))?)?;
    let corrections = by_ingredient(rows(&data.join("corrections.csv"))?)?;
    let mut lines = BTreeMap::new();
    for row in rows(&data.join("ingredients.csv"))? {
        let id = text(&row, "id")?;
        let mut cited = BTreeSet::new();
        let make = if let Some(found) = compositions.get(id) {
            if profiles.contains_key(id) {
                return Err(format!("`{id}` has both a composition and a profile").into());
            }
            let parts = parts(id, found, "species")?;
            for ((name, _), row) in parts.iter().zip(found) {
                if !species.contains(name) && chain::Triglyceride::parse(name).is_none() {
                    return Err(format!("unknown species `{name}` in `{id}`").into());
                }
                cited.insert(known(text(row, "source")?, sources, "source", row)?.to_owned());
            }
            format!("MakeRow::Species(&{parts:?})")
        } else if let Some(found) = profiles.get(id) {
            let parts = parts(id, found, "fatty_acid")?;
            for row in found {
                cited.insert(known(text(row, "source")?, sources, "source", row)?.to_owned());
            }
            let rule =
                rules.get(id).and_then(|rows| rows.first()).ok_or_else(|| format!("no rule for `{id}`"))?;
            let name = match text(rule, "rule")? {
                "seed" => "Seed",
                "pulp" | "palm-pulp" => "Pulp",
                "random" => "Random",
                other => return Err(format!("unknown rule `{other}` for `{id}`").into()),
            };
            format!(
                "MakeRow::Profile {{ rule: Rule::{name}, fatty_acids: &{parts:?}, non_glyceride_percent: {:?}, free_acid_percent: {:?}, diglyceride_percent: {:?} }}",
                number(rule, "non_glyceride_percent")?.unwrap_or(0.0),
                number(rule, "free_acid_percent")?.unwrap_or(0.0),
                number(rule, "diglyceride_percent")?.unwrap_or(0.0)
            )
        } else {
            return Err(format!("`{id}` has neither a composition nor a profile").into());
        };
        let mut fitted = String::new();
        for row in corrections.get(id).into_iter().flatten() {
            known(text(row, "fitted_to")?, sources, "source", row)?;
            write!(
                fitted,
                "CorrectionRow {{ family: {:?}, shift_k: {:?}, enthalpy_factor: {:?}, sets_at_once: {} }},",
                text(row, "family")?,
                number(row, "shift_k")?.unwrap_or(0.0),
                number(row, "enthalpy_factor")?.unwrap_or(1.0),
                match text(row, "sets_at_once")? {
                    "" => false,
                    "1" => true,
                    other =>
                        return Err(
                            format!("`{other}` in column `sets_at_once` is neither 1 nor empty").into()
                        ),
                }
            )?;
        }
        for column in ["melting_source", "density_source", "use_source"] {
            known(text(&row, column)?, sources, "source", &row)?;
        }
        let allergens: Vec<&str> =
            text(&row, "allergens")?.split(';').map(str::trim).filter(|a| !a.is_empty()).collect();
        let melting = number(&row, "melting_low_c")?.zip(number(&row, "melting_high_c")?);
        let cited: Vec<String> = cited.into_iter().filter(|key| !key.is_empty()).collect();
        let line = format!(
            "IngredientRow {{ id: {id:?}, name: {:?}, inci: {:?}, class: Class::{}, melting_c: {melting:?}, melting_kind: {:?}, melting_source: {:?}, density_solid_g_ml: {:?}, density_liquid_g_ml: {:?}, allergens: &{allergens:?}, use_ceiling_percent: {:?}, note: {:?}, make: {make}, corrections: &[{fitted}], sources: &{cited:?} }},\n",
            text(&row, "name")?,
            text(&row, "inci")?,
            class(text(&row, "class")?)?,
            text(&row, "melting_kind")?,
            text(&row, "melting_source")?,
            number(&row, "density_solid_g_ml")?,
            number(&row, "density_liquid_g_ml")?,
            number(&row, "use_ceiling_percent")?,
            text(&row, "note")?,
        );
        if lines.insert(id.to_owned(), line).is_some() {
            return Err(format!("ingredient `{id}` is listed twice").into());
        }
    }
    for id in compositions.keys().chain(profiles.keys()).chain(corrections.keys()) {
        if !lines.contains_key(id) {
            return Err(format!("`{id}` has data but is not in ingredients.csv").into());
        }
    }
    out.push_str("pub(super) static INGREDIENTS: &[IngredientRow] = &[\n");
    out.extend(lines.into_values());
    out.push_str("];\n");
    Ok(())
}
