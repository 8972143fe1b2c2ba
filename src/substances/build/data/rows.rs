//! Rows of the data files, each with its place, so that a refusal can say where to look.

use std::{collections::BTreeMap, fs, path::Path};

use serde::de::DeserializeOwned;

/// What is wrong with the data files and where, for whoever just edited them.
pub(crate) type Refusal = String;

/// A row of a data file.
pub(crate) struct Row<T> {
    /// The file, below the folder of the data, and the line.
    pub(crate) place: String,
    /// Its fields.
    pub(crate) fields: T,
}

/// The rows of a file.
pub(crate) fn of_file<T: DeserializeOwned>(folder: &Path, file: &str) -> Result<Vec<Row<T>>, Refusal> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_path(folder.join(file))
        .map_err(|error| format!("{file}: {error}"))?;
    let head = reader.headers().map_err(|error| format!("{file}: {error}"))?.clone();
    reader
        .records()
        .map(|record| {
            let record = record.map_err(|error| format!("{file}: {error}"))?;
            let line = record.position().map_or(0, csv::Position::line);
            let place = format!("{file}, line {line}");
            let fields =
                record.deserialize(Some(&head)).map_err(|error| format!("{place}: {}", reason(&error)))?;
            Ok(Row { place, fields })
        })
        .collect()
}

/// What the reader found wrong, without its own account of the place.
fn reason(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::Deserialize { err, .. } => err.to_string(),
        _ => error.to_string(),
    }
}

/// The rows of every file in a folder of such files; each file is named after the source of its figures.
pub(crate) fn by_source<T: DeserializeOwned>(
    data: &Path,
    folder: &str,
) -> Result<BTreeMap<String, Vec<Row<T>>>, Refusal> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(data.join(folder)).map_err(|error| format!("{folder}: {error}"))? {
        let path = entry.map_err(|error| format!("{folder}: {error}"))?.path();
        let stem = |ending: &str| path.file_name()?.to_str()?.strip_suffix(ending).map(str::to_owned);
        let Some(source) = stem(".csv") else {
            return Err(format!("{}: every file in {folder} is a table, NAME.csv", path.display()));
        };
        let rows = of_file(data, &format!("{folder}/{source}.csv"))?;
        found.insert(source, rows);
    }
    Ok(found)
}

/// Refuses a key that two rows have.
pub(crate) fn unique<'a, K: Ord>(
    rows: impl IntoIterator<Item = (K, &'a str)>,
    what: impl Fn(&K) -> String,
) -> Result<(), Refusal> {
    let mut seen = BTreeMap::new();
    for (key, place) in rows {
        let what = what(&key);
        if let Some(before) = seen.insert(key, place) {
            return Err(format!("{place}: {what} stands already in {before}; keep one of the two"));
        }
    }
    Ok(())
}
