//! `src/surety/data/widths.csv`, read, checked and written as Rust: how wide
//! what is not known of a recipe is.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};

use serde::Deserialize;

use crate::data::{Class, Data, Refusal, Row, of_file, unique};

/// A row: one width, a standard deviation.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WidthRow {
    what: What,
    /// An ingredient, a class of ingredients, a kind of crystal, or a figure.
    of: String,
    width: f64,
    /// A key of `sources.csv`, or one of [`OURS`].
    source: String,
    #[serde(rename = "note")]
    _note: String,
}

/// Of what it is the width.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(rename_all = "kebab-case")]
enum What {
    /// How high the crystals of an ingredient melt, K.
    Melts,
    /// The natural logarithm of the share of it that crystallises.
    Crystallises,
    /// The natural logarithm of what a kind of crystal is worth as structure.
    Power,
    /// What the model errs by beside the lots: points or K.
    Remainder,
}

/// What stands in `source` where no source does: a judgement, or the misfits
/// that `tests/published` works out.
const OURS: [&str; 2] = ["our-judgement", "published-misfits"];

/// Own ingredients of which more is known than of a lot.
const KNOWN: [&str; 2] = ["known-make-up", "known-slip-point"];

const KINDS: [&str; 11] = [
    "acid",
    "alcohol",
    "alkane",
    "beeswax",
    "candelilla",
    "carnauba",
    "ester",
    "glyceride",
    "powder",
    "short-ester",
    "triglyceride",
];

const FIGURES: [&str; 11] = [
    "clear",
    "clear-fatty-acids",
    "clear-fatty-acids-and-slip",
    "clear-wax",
    "slip",
    "slip-fatty-acids",
    "slip-fatty-acids-and-slip",
    "slip-lauric-wax",
    "solids",
    "solids-fatty-acids",
    "solids-fatty-acids-and-slip",
];

/// The tables of the file in this folder.
///
/// # Errors
/// What is wrong, in which line, and what to do.
pub(crate) fn written(folder: &Path, data: &Data) -> Result<String, Refusal> {
    let rows: Vec<Row<WidthRow>> = of_file(folder, "widths.csv")?;
    unique(
        rows.iter().map(|row| ((row.fields.what, row.fields.of.as_str()), row.place.as_str())),
        |(what, of)| format!("the width of {what:?} of `{of}`"),
    )?;
    let classes = Class::ALL.map(Class::name);
    let mut tables: BTreeMap<What, BTreeMap<String, f64>> = BTreeMap::new();
    for Row { place, fields } in rows {
        if !(fields.width.is_finite() && fields.width > 0.0) {
            return Err(format!("{place}: {} is no width: give a number above 0", fields.width));
        }
        let source = fields.source.as_str();
        if !OURS.contains(&source) && !data.sources.iter().any(|known| known.key == source) {
            return Err(format!(
                "{place}: no source `{source}` in sources.csv; add a row there, mend the name, or say {}",
                OURS.join(" or ")
            ));
        }
        let of = fields.of.as_str();
        let is_known = match fields.what {
            What::Power => KINDS.contains(&of),
            What::Remainder => FIGURES.contains(&of),
            What::Melts | What::Crystallises => {
                classes.contains(&of)
                    || KNOWN.contains(&of)
                    || data.ingredients.iter().any(|ingredient| ingredient.row.id == of)
            }
        };
        if !is_known {
            return Err(format!("{place}: `{of}` is nothing that {:?} has a width of", fields.what));
        }
        tables.entry(fields.what).or_default().insert(fields.of, fields.width);
    }
    let mut out = String::new();
    for (what, name, needed) in [
        (What::Melts, "MELTS", BTreeSet::from_iter(classes.into_iter().chain(KNOWN))),
        (What::Crystallises, "CRYSTALLISES", BTreeSet::from_iter(classes)),
        (What::Power, "POWERS", BTreeSet::from(KINDS)),
        (What::Remainder, "REMAINDERS", BTreeSet::from(FIGURES)),
    ] {
        let table = tables.remove(&what).unwrap_or_default();
        if let Some(missing) = needed.into_iter().find(|needed| !table.contains_key(*needed)) {
            return Err(format!("widths.csv: no width of {what:?} of `{missing}`: add its row"));
        }
        let rows = Vec::from_iter(table);
        out.push_str(&format!("static {name}: &[(&str, f64)] = &{rows:?};\n"));
    }
    Ok(out)
}
