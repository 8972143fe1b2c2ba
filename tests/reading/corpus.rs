//! The texts with what should be read of them.

use serde::Deserialize;

/// A pasted text.
#[derive(Deserialize)]
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) text: String,
    pub(crate) expect: Expect,
}

/// What a perfect reader makes of it.
#[derive(Deserialize)]
pub(crate) struct Expect {
    pub(crate) lines: Vec<Line>,
    pub(crate) percent: Vec<Option<f64>>,
    pub(crate) ask: Vec<usize>,
    pub(crate) says: Vec<String>,
}

/// A line of it.
#[derive(Deserialize)]
pub(crate) struct Line {
    #[serde(default)]
    pub(crate) id: Option<String>,
    #[serde(default)]
    pub(crate) id_any: Option<Vec<String>>,
    #[serde(default)]
    pub(crate) name: Option<String>,
    pub(crate) amount: Option<f64>,
    #[serde(default)]
    pub(crate) unit: Option<String>,
    #[serde(default)]
    pub(crate) range: Option<[f64; 2]>,
    #[serde(default)]
    pub(crate) about: bool,
}

/// The texts of a file of this folder.
pub(crate) fn texts(file: &str) -> Vec<Text> {
    read(file)
}

/// The lines of a file of this folder.
pub(crate) fn read<T: serde::de::DeserializeOwned>(file: &str) -> Vec<T> {
    let path = format!("{}/tests/reading/{file}.jsonl", env!("CARGO_MANIFEST_DIR"));
    let lines = std::fs::read_to_string(&path).unwrap();
    lines
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_else(|error| panic!("{file}: {error}: {line}")))
        .collect()
}
