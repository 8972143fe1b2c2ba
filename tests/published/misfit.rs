//! Every prediction beside what was measured, and the errors of each kind (`report.rs` writes them down).

use crate::figure::{self, Figure, Role};

/// A kind of figure whose errors are summed up together.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Kind {
    /// Solid fat content of one fat.
    SolidsOfOne,
    /// Solid fat content of a blend.
    SolidsOfBlend,
    /// Slip, clear, drop and congealing points and melting ranges of one fat.
    PointOfFat,
    /// The same of one liquid oil: traces of saturates decide, and no butter is kept that cold.
    PointOfOil,
    /// The same of one acid or alcohol.
    PointOfAcidOrAlcohol,
    /// The same of one wax.
    PointOfWax,
    /// The same of one of another class (emulsifiers).
    PointOfOther,
    /// Slip and clear points of a blend of fats.
    PointOfBlend,
    /// Clear point of a wax in oil.
    GelClear,
    /// Liquidus of two fatty acids, one unsaturated.
    LiquidusUnsaturated,
    /// Liquidus of two saturated fatty acids.
    LiquidusSaturated,
    /// Liquidus of two fatty alcohols.
    LiquidusAlcohols,
    /// Liquidus of two triglycerides.
    LiquidusTriglycerides,
}

/// Every kind, in the order it is printed.
pub(crate) const KINDS: [Kind; 13] = [
    Kind::SolidsOfOne,
    Kind::SolidsOfBlend,
    Kind::PointOfFat,
    Kind::PointOfOil,
    Kind::PointOfAcidOrAlcohol,
    Kind::PointOfWax,
    Kind::PointOfOther,
    Kind::PointOfBlend,
    Kind::GelClear,
    Kind::LiquidusUnsaturated,
    Kind::LiquidusSaturated,
    Kind::LiquidusAlcohols,
    Kind::LiquidusTriglycerides,
];

/// Quantities that are not one number of one recipe, or that the engine has nothing to set beside: what uses
/// them reads the files itself.
const NOT_ONE_NUMBER: [&str; 16] = [
    "sfi",
    "least-gelling",
    "dsc-peak",
    "dsc-range",
    "dsc-end",
    "softening",
    "cloud-on-cooling",
    "crystallizes-on-cooling",
    "eutectic",
    "melting-minimum",
    "monotectic",
    "sfc-below-cocoa",
    "sfc-change",
    "sfc-furthest-below",
    "sfc-limit",
    "sfc-order",
];

impl Kind {
    /// The kind that a figure belongs to.
    pub(crate) fn of(figure: &Figure) -> Option<Kind> {
        let unsaturated = ["oleic-acid", "linoleic-acid", "linolenic-acid"];
        Some(match figure.quantity.as_str() {
            "sfc" if figure.is_pure() => Kind::SolidsOfOne,
            "sfc" => Kind::SolidsOfBlend,
            "liquidus" if unsaturated.iter().any(|acid| figure.holds(acid)) => Kind::LiquidusUnsaturated,
            "liquidus" if figure.recipe.iter().all(|(id, _)| id.ends_with("-acid")) => {
                Kind::LiquidusSaturated
            }
            "liquidus" if figure.recipe.iter().all(|(id, _)| id.ends_with("anol")) => Kind::LiquidusAlcohols,
            "liquidus" => Kind::LiquidusTriglycerides,
            "gel-clear" => Kind::GelClear,
            "slip" | "slip-untempered" | "clear" | "drop" | "congealing" | "cloud" | "melting-range" => {
                if !figure.is_pure() {
                    Kind::PointOfBlend
                } else if figure.holds_class("wax") {
                    Kind::PointOfWax
                } else if figure.holds_class("fatty-acid") || figure.holds_class("fatty-alcohol") {
                    Kind::PointOfAcidOrAlcohol
                } else if figure.holds_class("other") {
                    Kind::PointOfOther
                } else if figure.holds_class("liquid-oil") {
                    Kind::PointOfOil
                } else {
                    Kind::PointOfFat
                }
            }
            other if NOT_ONE_NUMBER.contains(&other) => return None,
            other => panic!("{}: there is no quantity {other}", figure.file),
        })
    }
}

/// A prediction beside its figure.
pub(crate) struct Compared {
    pub(crate) figure: Figure,
    pub(crate) kind: Kind,
    /// What the engine says; `None` where it says that nothing melts.
    pub(crate) predicted: Option<f64>,
}

impl Compared {
    /// Predicted less measured; a point that the engine does not find counts as its whole distance from −20
    /// °C, the coldest that it looks.
    pub(crate) fn misfit(&self) -> f64 {
        self.figure.misfit(self.predicted.unwrap_or(-20.0))
    }
}

/// Every figure that is one number of one recipe, compared.
pub(crate) fn compared() -> Vec<Compared> {
    figure::all()
        .into_iter()
        .filter_map(|figure| {
            let kind = Kind::of(&figure)?;
            let predicted = figure.predicted();
            Some(Compared { figure, kind, predicted })
        })
        .collect()
}

/// Errors of several comparisons.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Errors {
    pub(crate) count: usize,
    /// Mean absolute error.
    pub(crate) mean: f64,
    /// Root of the mean square.
    pub(crate) root_mean_square: f64,
    /// The largest, with its sign.
    pub(crate) worst: f64,
}

/// The errors of these comparisons; `None` of none.
pub(crate) fn errors<'a>(compared: impl IntoIterator<Item = &'a Compared>) -> Option<Errors> {
    let misfits: Vec<f64> = compared.into_iter().map(Compared::misfit).collect();
    let count = misfits.len();
    let worst = misfits.iter().copied().max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some(Errors {
        count,
        mean: misfits.iter().map(|misfit| misfit.abs()).sum::<f64>() / count as f64,
        root_mean_square: (misfits.iter().map(|misfit| misfit * misfit).sum::<f64>() / count as f64).sqrt(),
        worst,
    })
}

/// The errors over one kind and role.
#[track_caller]
pub(crate) fn errors_of(compared: &[Compared], kind: Kind, role: Role) -> Errors {
    errors(compared.iter().filter(|one| one.kind == kind && one.figure.role == role))
        .unwrap_or_else(|| panic!("no figure of {kind:?}, {role:?}"))
}

/// A target that the model misses: holds the figure that it reaches, so that neither progress nor decay goes
/// unnoticed.
#[track_caller]
pub(crate) fn assert_known_misfit(what: &str, target: &str, reached: f64, pinned: f64, within: f64) {
    assert!(
        (reached - pinned).abs() <= within,
        "{what}: {reached:.2}, where {pinned} was known and {target} is wanted. If it is met now, assert the target; else put \
         the new figure here and into tests/published/README.md"
    );
}

#[test]
fn every_misfit_is_a_number() {
    for one in &compared() {
        assert!(one.misfit().is_finite(), "{} ({}) is not a number", one.figure.name(), one.figure.source);
    }
}
