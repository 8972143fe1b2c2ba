//! Reads the data files in `src/substances/data` and writes them as static texts, so that a bad figure stops the build.
//!
//! Texts, a row a line, are a third of what the same rows weigh as Rust tables in the page's engine: `tables.rs` reads
//! them when they are first needed.

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
#[allow(unreachable_pub)]
#[path = "../decimal.rs"]
mod decimal;

type Result<T> = std::result::Result<T, Box<dyn Error>>;
type Row = BTreeMap<String, String>;

/// Where a triglyceride's form has several published figures, the first of these files that has one counts.
const MEASURED: [&str; 3] = ["jocs1998", "wesdorp2012", "sato1989"];

/// How far the parts of an ingredient may be from 100 %: rounding in the tables they come from.
const SUM_TOLERANCE: f64 = 0.1;

fn main() -> Result<()> {
    println!("cargo::rerun-if-changed=src/substances/data");
    println!("cargo::rerun-if-changed=src/substances/chain.rs");
    println!("cargo::rerun-if-changed=src/decimal.rs");
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

/// The text of a number as the engine will read it, or nothing.
fn figure<'a>(row: &'a Row, column: &str) -> Result<&'a str> {
    let text = text(row, column)?;
    match (text, decimal::decimal(text), text.parse::<f64>()) {
        ("", ..) => Ok(text),
        (_, Some(ours), Ok(value)) if ours == value => Ok(text),
        _ => Err(format!("`{text}` in column `{column}` is no number of at most 15 digits: {row:?}").into()),
    }
}

fn number(row: &Row, column: &str) -> Result<Option<f64>> {
    Ok(decimal::decimal(figure(row, column)?))
}

/// A table as the engine reads it: a line a row, a tab between the fields.
fn write_table<R: AsRef<[String]>>(name: &str, rows: &[R], out: &mut String) -> Result<()> {
    let mut lines = String::new();
    for row in rows {
        if let Some(field) = row.as_ref().iter().find(|field| field.contains(['\t', '\n', '\r'])) {
            return Err(format!("a field of {name} has a tab or a line break: {field:?}").into());
        }
        lines.push_str(&row.as_ref().join("\t"));
        lines.push('\n');
    }
    writeln!(out, "pub(super) static {name}: &str = {:?};", lines.trim_end_matches('\n'))?;
    Ok(())
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

fn write_measured(data: &Path, out: &mut String) -> Result<()> {
    let mut lines = Vec::new();
    for (rank, name) in MEASURED.iter().enumerate() {
        for row in rows(&data.join(format!("species/{name}.csv")))? {
            let id = text(&row, "triglyceride")?;
            let triglyceride = chain::Triglyceride::parse(id)
                .ok_or_else(|| format!("`{id}` is not a triglyceride: {row:?}"))?
                .to_string();
            let form = text(&row, "form")?;
            if !["alpha", "beta-prime", "beta"].contains(&form) {
                return Err(format!("unknown crystal form `{form}`").into());
            }
            let line = [&triglyceride, form, figure(&row, "melting_c")?, figure(&row, "fusion_kj_mol")?];
            let line = line.map(str::to_owned);
            lines.push((triglyceride, rank, line));
        }
    }
    lines.sort();
    let lines: Vec<_> = lines.into_iter().map(|(_, _, line)| line).collect();
    write_table("MEASURED", &lines, out)
}

fn write_substances(data: &Path, sources: &BTreeSet<String>, out: &mut String) -> Result<BTreeSet<String>> {
    let mut ids = BTreeSet::new();
    let mut lines = Vec::new();
    for row in rows(&data.join("species/substances.csv"))? {
        let id = text(&row, "id")?;
        if !ids.insert(id.to_owned()) {
            return Err(format!("species `{id}` is listed twice").into());
        }
        let kind = text(&row, "kind")?;
        if !["acid", "alcohol", "alkane", "wax-ester", "mixed-ester", "glyceride", "powder", "liquid"]
            .contains(&kind)
        {
            return Err(format!("unknown kind `{kind}` in {row:?}").into());
        }
        for column in ["melting_source", "fusion_source"] {
            known(text(&row, column)?, sources, "source", &row)?;
        }
        number(&row, "molar_mass_g_mol")?.ok_or("a species needs a molar mass")?;
        let figures =
            [figure(&row, "molar_mass_g_mol")?, figure(&row, "melting_c")?, figure(&row, "fusion_kj_mol")?];
        lines.push([id, kind, figures[0], figures[1], figures[2]].map(str::to_owned));
    }
    write_table("SUBSTANCES", &lines, out)?;
    Ok(ids)
}

/// The field of a line that tells the decimal places of its parts.
const PLACES: usize = 13;

/// The most decimal places of a part that `tables.rs` reads.
const MOST_PLACES: usize = 5;

const CLASSES: [&str; 7] =
    ["hard-butter", "soft-butter", "liquid-oil", "fatty-acid", "fatty-alcohol", "wax", "other"];

/// Groups rows by their `ingredient`.
fn by_ingredient(rows: Vec<Row>) -> Result<BTreeMap<String, Vec<Row>>> {
    let mut groups: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows {
        groups.entry(text(&row, "ingredient")?.to_owned()).or_default().push(row);
    }
    Ok(groups)
}

/// What an ingredient consists of: names, and percentages as they are written.
type Parts = Vec<(String, String)>;

/// The parts of one ingredient; they sum to 100.
fn parts(id: &str, rows: &[Row], column: &str) -> Result<Parts> {
    let mut parts = Parts::new();
    let mut sum = 0.0;
    for row in rows {
        let percent = number(row, "mass_percent")?.ok_or_else(|| format!("no percentage in {row:?}"))?;
        if percent < 0.0 {
            return Err(format!("a negative percentage in {row:?}").into());
        }
        sum += percent;
        parts.push((text(row, column)?.to_owned(), text(row, "mass_percent")?.to_owned()));
    }
    if (sum - 100.0_f64).abs() > SUM_TOLERANCE {
        return Err(format!("the parts of `{id}` sum to {sum}, not 100").into());
    }
    Ok(parts)
}

/// The parts of all ingredients, column by column, which packs better than text: their names once, the commonest first, and
/// which they are; and their percentages as whole numbers of the ingredient's last place, low bits and the rest apart.
/// Returns the decimal places of each ingredient.
fn write_parts(all: &[Parts], out: &mut String) -> Result<Vec<usize>> {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for (name, _) in all.iter().flatten() {
        *counts.entry(name).or_default() += 1;
    }
    let mut names: Vec<&str> = counts.keys().copied().collect();
    names.sort_by_key(|name| std::cmp::Reverse(counts[name]));
    let (mut which, mut low, mut high) = (Vec::new(), Vec::new(), Vec::new());
    let mut places = Vec::new();
    for parts in all {
        let decimals = |text: &str| text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let most = parts.iter().map(|(_, percent)| decimals(percent)).max().unwrap_or(0);
        if most > MOST_PLACES {
            return Err(format!("a part has {most} decimal places: {MOST_PLACES} are read").into());
        }
        for (name, percent) in parts {
            write_whole(names.iter().position(|known| known == name).unwrap_or(0), &mut which);
            let digits = percent.replace('.', "") + &"0".repeat(most - decimals(percent));
            let digits: usize = digits.parse().map_err(|_| format!("`{percent}` has too many digits"))?;
            low.push((digits % 128) as u8);
            write_whole(digits / 128, &mut high);
        }
        places.push(most);
    }
    writeln!(out, "static PART_NAMES: &str = {:?};", names.join(" "))?;
    for (name, bytes) in [("PART_WHICH", which), ("PART_LOW", low), ("PART_HIGH", high)] {
        writeln!(out, "static {name}: &[u8] = &{bytes:?};")?;
    }
    Ok(places)
}

/// Seven bits a byte, the lowest first; the highest bit says that more follow.
fn write_whole(mut number: usize, bytes: &mut Vec<u8>) {
    while number >= 128 {
        bytes.push((number % 128) as u8 | 128);
        number /= 128;
    }
    bytes.push(number as u8);
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
        let found = compositions.get(id).or(profiles.get(id));
        let found = found.ok_or_else(|| format!("`{id}` has neither a composition nor a profile"))?;
        for row in found {
            cited.insert(known(text(row, "source")?, sources, "source", row)?.to_owned());
        }
        let (make, rule) = if compositions.contains_key(id) {
            if profiles.contains_key(id) {
                return Err(format!("`{id}` has both a composition and a profile").into());
            }
            for row in found {
                let name = text(row, "species")?;
                if !species.contains(name) && chain::Triglyceride::parse(name).is_none() {
                    return Err(format!("unknown species `{name}` in `{id}`").into());
                }
            }
            (parts(id, found, "species")?, String::new())
        } else {
            let rule =
                rules.get(id).and_then(|rows| rows.first()).ok_or_else(|| format!("no rule for `{id}`"))?;
            let name = match text(rule, "rule")? {
                "palm-pulp" => "pulp",
                name @ ("seed" | "pulp" | "random") => name,
                other => return Err(format!("unknown rule `{other}` for `{id}`").into()),
            };
            let mut words = vec![name.to_owned()];
            for column in ["non_glyceride_percent", "free_acid_percent", "diglyceride_percent"] {
                words.push(or(figure(rule, column)?, "0"));
            }
            (parts(id, found, "fatty_acid")?, words.join(" "))
        };
        let mut fitted = Vec::new();
        for row in corrections.get(id).into_iter().flatten() {
            known(text(row, "fitted_to")?, sources, "source", row)?;
            fitted.push(text(row, "family")?.to_owned());
            fitted.extend([or(figure(row, "shift_k")?, "0"), or(figure(row, "enthalpy_factor")?, "1")]);
            fitted.push(match text(row, "sets_at_once")? {
                once @ ("" | "1") => or(once, "0"),
                other => {
                    return Err(format!("`{other}` in column `sets_at_once` is neither 1 nor empty").into());
                }
            });
        }
        for column in ["melting_source", "density_source", "use_source"] {
            known(text(&row, column)?, sources, "source", &row)?;
        }
        let class = text(&row, "class")?;
        if !CLASSES.contains(&class) {
            return Err(format!("unknown class `{class}`").into());
        }
        let allergens: Vec<&str> =
            text(&row, "allergens")?.split(';').map(str::trim).filter(|a| !a.is_empty()).collect();
        let cited: Vec<String> = cited.into_iter().filter(|key| !key.is_empty()).collect();
        let line = [
            id.to_owned(),
            text(&row, "name")?.to_owned(),
            text(&row, "inci")?.to_owned(),
            class.to_owned(),
            figure(&row, "melting_low_c")?.to_owned(),
            figure(&row, "melting_high_c")?.to_owned(),
            text(&row, "melting_kind")?.to_owned(),
            figure(&row, "density_solid_g_ml")?.to_owned(),
            figure(&row, "density_liquid_g_ml")?.to_owned(),
            allergens.join(";"),
            figure(&row, "use_ceiling_percent")?.to_owned(),
            text(&row, "note")?.to_owned(),
            make.len().to_string(),
            String::new(),
            rule,
            fitted.join(" "),
        ];
        let cited = [id.to_owned(), text(&row, "melting_source")?.to_owned(), cited.join(" ")];
        if lines.insert(id.to_owned(), (line, cited, make)).is_some() {
            return Err(format!("ingredient `{id}` is listed twice").into());
        }
    }
    for id in compositions.keys().chain(profiles.keys()).chain(corrections.keys()) {
        if !lines.contains_key(id) {
            return Err(format!("`{id}` has data but is not in ingredients.csv").into());
        }
    }
    let (mut ingredients, mut cited, mut makes) = (Vec::new(), Vec::new(), Vec::new());
    for (line, sources, make) in lines.into_values() {
        ingredients.push(line);
        cited.push(sources);
        makes.push(make);
    }
    for (line, places) in ingredients.iter_mut().zip(write_parts(&makes, out)?) {
        line[PLACES] = places.to_string();
    }
    write_table("INGREDIENTS", &ingredients, out)?;
    write_table("CITED", &cited, out)
}

fn or(text: &str, otherwise: &str) -> String {
    if text.is_empty() { otherwise } else { text }.to_owned()
}
