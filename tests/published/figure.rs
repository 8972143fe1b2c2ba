//! Published figures, and what the engine says instead.

use std::sync::OnceLock;

use meltmargin::{behaviour, equilibrium::CrystalState};
use serde_json::json;

use crate::ask;

/// A row of `data/*.csv`.
pub(crate) struct Figure {
    pub(crate) file: String,
    pub(crate) recipe: Vec<(String, f64)>,
    pub(crate) basis: String,
    pub(crate) quantity: String,
    pub(crate) at_c: Option<f64>,
    pub(crate) low: Option<f64>,
    pub(crate) high: Option<f64>,
    pub(crate) source: String,
    pub(crate) looked_up: bool,
    pub(crate) role: Role,
}

/// Whether a correction was fitted to this quantity, as `corrections.csv` has it: what the data files call
/// proof is no proof of it since. A fit to solids or points is one to those of the ingredient alone, a fit to
/// gels one to every gel with it.
fn was_fitted(recipe: &[(String, f64)], quantity: &str) -> bool {
    let of_one = recipe.len() == 1;
    corrections().iter().filter(|(ingredient, _)| recipe.iter().any(|(name, _)| name == ingredient)).any(
        |(_, quantities)| {
            quantities.split(';').any(|fitted| match fitted {
                "solids" => of_one && quantity == "sfc",
                "points" => {
                    let points = ["slip", "drop", "clear", "congealing", "melting-range"];
                    of_one && points.contains(&quantity)
                }
                _ => quantity == fitted,
            })
        },
    )
}

/// Every correction's ingredient, and what the correction was fitted to; nothing where it was taken over.
fn corrections() -> &'static [(String, String)] {
    static CORRECTIONS: OnceLock<Vec<(String, String)>> = OnceLock::new();
    CORRECTIONS.get_or_init(|| {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/substances/data/corrections.csv");
        let mut reader = csv::Reader::from_path(path).unwrap();
        let columns = reader.headers().unwrap().clone();
        let column = |name| columns.iter().position(|column| column == name).unwrap();
        let (ingredient, quantities) = (column("ingredient"), column("quantities"));
        reader
            .records()
            .map(|record| {
                let record = record.unwrap();
                (record[ingredient].to_owned(), record[quantities].to_owned())
            })
            .collect()
    })
}

/// What a figure may be used for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Role {
    /// The model was fitted to it.
    Fit,
    /// Nothing was fitted to it.
    Proof,
    /// Shown, but too poorly documented to prove anything.
    Weak,
}

/// Figures that say nothing of what the catalogue holds: file, ingredient, measured; an empty word stands for
/// all.
///
/// Type II of the monograph is a half-hydrogenated oil; the catalogue's is type I. Jojoba oil counts as
/// liquid: the few saturated chains that set its 7 °C sit in half-saturated esters that are not species.
const OF_SOMETHING_ELSE: [(&str, &str, &str); 2] =
    [("pharmacopoeias", "hydrogenated-vegetable-oil", "20..50"), ("", "jojoba-oil", "")];

/// Every figure of what the catalogue holds, file by file in order of name.
pub(crate) fn all() -> Vec<Figure> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published/data");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
        .iter()
        .filter(|path| {
            path.extension().is_some_and(|end| end == "csv")
                && path.file_stem().is_some_and(|name| name != "samples")
        })
        .flat_map(|path| read(path))
        .filter(|figure| {
            !OF_SOMETHING_ELSE.iter().any(|(file, name, measured)| {
                figure.file.contains(file) && figure.holds(name) && figure.measured().contains(measured)
            })
        })
        .collect()
}

fn read(path: &std::path::Path) -> Vec<Figure> {
    let number = |text: &str| (!text.is_empty()).then(|| text.parse::<f64>().unwrap());
    csv::Reader::from_path(path)
        .unwrap()
        .records()
        .map(|record| {
            let record = record.unwrap();
            let recipe: Vec<(String, f64)> = record[0]
                .split(';')
                .map(|part| {
                    let (name, amount) = part.rsplit_once(':').unwrap();
                    (name.to_owned(), amount.parse().unwrap())
                })
                .collect();
            Figure {
                file: path.file_stem().unwrap().to_string_lossy().into_owned(),
                basis: record[1].to_owned(),
                quantity: record[2].to_owned(),
                at_c: number(&record[3]),
                low: number(&record[4]),
                high: number(&record[5]),
                source: record[6].to_owned(),
                looked_up: &record[7] == "looked-up",
                role: match &record[8] {
                    "proof" if was_fitted(&recipe, &record[2]) => Role::Fit,
                    "fit" => Role::Fit,
                    "proof" => Role::Proof,
                    "weak" => Role::Weak,
                    other => panic!("{}: no role {other}", path.display()),
                },
                recipe,
            }
        })
        .collect()
}

impl Figure {
    /// What the engine says; `None` for quantities that are not one number of one recipe (`blends.rs`,
    /// `waxes.rs`).
    ///
    /// Pharmacopoeia melting points of fats and waxes are those of an open capillary (Ph. Eur. 2.2.15, USP
    /// <741> class II): the slip point. Acids and alcohols melt in a closed one (Ph. Eur. 2.2.14, USP class
    /// I): the clear point. A drop falls when the solids no longer hold it: slip. A melt congeals, or clouds,
    /// on the first crystals: clear. The rules for congealing, cloud and drop are this project's reading, no
    /// source.
    ///
    /// All of a settled butter, even where a sample was chilled and measured within the hour: the fats that
    /// are measured so (lauric, palm) set in the form that they keep. Only an untempered cocoa butter is
    /// compared fresh.
    pub(crate) fn predicted(&self) -> Option<f64> {
        let in_state = |state| ask::mixture(&self.recipe, state);
        let mixture = || in_state(CrystalState::Settled);
        let slip = || behaviour::slip_point(&mixture()).celsius;
        let clear = |mixture| behaviour::clear_point(&mixture).celsius;
        match self.quantity.as_str() {
            "liquidus" if self.basis == "mole" => {
                let moles: serde_json::Map<_, _> =
                    self.recipe.iter().map(|(id, percent)| (id.clone(), json!(percent))).collect();
                ask::answer(&json!({"ask": "liquidus", "mole_percent": moles}))["liquidus_c"].as_f64()
            }
            // Species, not the commercial grades of the same name.
            "liquidus" => ask::of_species(&self.recipe).liquidus_c(),
            "sfc" => self.at_c.map(|at_c| mixture().at(at_c).solid_percent),
            "slip" | "drop" => slip(),
            "slip-untempered" => behaviour::slip_point(&in_state(CrystalState::Fresh)).celsius,
            "clear" | "congealing" | "cloud" | "gel-clear" => clear(mixture()),
            "melting-range" if self.is_of_class(&["fatty-acid", "fatty-alcohol"]) => clear(mixture()),
            "melting-range" => slip(),
            _ => None,
        }
    }

    /// Predicted less measured; 0 inside a published range.
    pub(crate) fn misfit(&self, predicted: f64) -> f64 {
        match (self.low, self.high) {
            (Some(low), _) if predicted < low => predicted - low,
            (_, Some(high)) if predicted > high => predicted - high,
            _ => 0.0,
        }
    }

    /// Whether a pharmacopoeia, the Codex Alimentarius, a food regulation or the palm refiners' association
    /// asks this of the ingredient: what its point is held to. All else (suppliers, papers, handbooks,
    /// codices out of force) is compared. What a monograph mentions under its characters, how cold an oil
    /// sets, asks nothing: weak.
    pub(crate) fn is_of_a_standard(&self) -> bool {
        let of_one = ["pharmacopoeias", "codex", "poram", "regulations", "from-memory-standards"];
        of_one.contains(&self.file.as_str()) && (self.role != Role::Weak || !self.looked_up)
    }

    /// Whether it is of a single ingredient.
    pub(crate) fn is_pure(&self) -> bool {
        self.recipe.len() == 1
    }

    /// Whether every ingredient is of one of these classes.
    pub(crate) fn is_of_class(&self, classes: &[&str]) -> bool {
        self.recipe.iter().all(|(name, _)| class(name).is_some_and(|class| classes.contains(&class)))
    }

    /// Whether some ingredient is of this class.
    pub(crate) fn holds_class(&self, wanted: &str) -> bool {
        self.recipe.iter().any(|(name, _)| class(name) == Some(wanted))
    }

    /// Whether a part of the recipe has this name.
    pub(crate) fn holds(&self, name: &str) -> bool {
        self.recipe.iter().any(|(found, _)| found == name)
    }

    /// The measured figure or range.
    pub(crate) fn measured(&self) -> String {
        let edge = |edge: Option<f64>| edge.map_or(String::new(), |edge| format!("{edge}"));
        if self.low == self.high {
            edge(self.low)
        } else {
            format!("{}..{}", edge(self.low), edge(self.high))
        }
    }

    /// Recipe and quantity.
    pub(crate) fn name(&self) -> String {
        let recipe: Vec<String> = self
            .recipe
            .iter()
            .map(|(name, amount)| if self.is_pure() { name.clone() } else { format!("{name} {amount}") })
            .collect();
        let at = self.at_c.map_or(String::new(), |at_c| format!(" at {at_c} °C"));
        format!("{} {}{at}", recipe.join(" + "), self.quantity)
    }
}

/// The class of a catalogue ingredient, as the contract spells it.
fn class(name: &str) -> Option<&'static str> {
    meltmargin::substances::find(name).map(|ingredient| ingredient.class().name())
}
