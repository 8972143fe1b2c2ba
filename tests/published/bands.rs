//! The error bands that answers carry, recomputed from the published figures.

use meltmargin::{
    contract::{ErrorBand, Figures, RecipeClass},
    substances,
};

use crate::{
    ask,
    figure::{self, Figure, Role},
    misfit::{Compared, Kind, compared},
};

/// The figure of an answer that a comparison bears on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) enum Of {
    Solid,
    Slip,
    Clear,
}

pub(crate) fn bears_on(one: &Compared) -> Option<Of> {
    match (one.kind, one.figure.quantity.as_str()) {
        (Kind::SolidsOfOne | Kind::SolidsOfBlend, _) => Some(Of::Solid),
        (Kind::PointOfAcidOrAlcohol, "melting-range") => Some(Of::Clear),
        (_, "slip" | "drop" | "melting-range") => Some(Of::Slip),
        (_, "clear" | "congealing" | "cloud" | "gel-clear") => Some(Of::Clear),
        _ => None,
    }
}

/// Predicted less measured; against the middle of a published range, since a maker's lot may lie anywhere in
/// it.
fn off(one: &Compared) -> f64 {
    let predicted = one.predicted.unwrap_or(-20.0);
    predicted - middle(one)
}

/// The middle of what was measured.
pub(crate) fn middle(one: &Compared) -> f64 {
    0.5 * (one.figure.low.unwrap_or(f64::NAN) + one.figure.high.unwrap_or(f64::NAN))
}

/// A range wider than this, K or points, is a limit: its middle is nobody's figure.
const WIDEST: f64 = 10.0;

pub(crate) fn is_a_measurement(one: &Compared) -> bool {
    matches!((one.figure.low, one.figure.high), (Some(low), Some(high)) if high - low <= WIDEST)
}

/// What nine of ten lie within, to a tenth, and how many there are.
fn nine_of_ten(mut off: Vec<f64>) -> (f64, u32) {
    off.sort_by(f64::total_cmp);
    let rank = (9 * off.len()).div_ceil(10);
    let within = rank.checked_sub(1).map_or(f64::NAN, |at| off[at]);
    ((10.0 * within).ceil() / 10.0, off.len() as u32)
}

fn recomputed(class: RecipeClass, all: &[Compared]) -> ErrorBand {
    let band = |of: Of, counts: &dyn Fn(&Compared) -> bool| {
        nine_of_ten(
            all.iter()
                .filter(|one| bears_on(one) == Some(of) && counts(one))
                .filter(|one| is_a_measurement(one))
                .map(|one| off(one).abs())
                .collect(),
        )
    };
    let of_acids = [RecipeClass::Acids, RecipeClass::AcidsAtSlip].contains(&class);
    let is_proof = |one: &Compared| of_acids || one.figure.role == Role::Proof;
    let of_class = |one: &Compared| RecipeClass::of(&ask::recipe(&one.figure.recipe)) == class;
    // Solids of waxes in oil: none could be read. Clear points of gels: one proves something, so those
    // remembered (weak, but nothing was fitted to them) count too.
    let solid = match class {
        RecipeClass::Wax => band(Of::Solid, &is_proof),
        _ => band(Of::Solid, &|one| is_proof(one) && of_class(one)),
    };
    let slip = band(Of::Slip, &|one| is_proof(one) && of_class(one));
    let clear = match class {
        RecipeClass::Wax => band(Of::Clear, &|one| one.figure.role != Role::Fit && of_class(one)),
        // No clear point of a lauric fat could be read: its slip points, and the other fats' clear points.
        RecipeClass::Lauric => band(Of::Clear, &is_proof),
        _ => band(Of::Clear, &|one| is_proof(one) && of_class(one)),
    };
    ErrorBand {
        class,
        solid_percent: solid.0,
        slip_c: slip.0,
        clear_c: clear.0,
        figures: Figures { solid: solid.1, slip: slip.1, clear: clear.1 },
    }
}

/// Whole fats as their fatty acids alone describe them, or they and the middle of the slip points published:
/// nothing is fitted to such a make-up, so that every figure proves. Fractions and hardened fats are not
/// spread by any rule, and soy wax is one of them.
fn by_acids(prefix: &str) -> Vec<Compared> {
    let whole =
        |id: &str| !["stearin", "olein", "fraction", "hydrogenated", "wax"].iter().any(|it| id.contains(it));
    figure::all()
        .into_iter()
        .filter(|figure| figure.is_pure() && figure.role != Role::Weak)
        .filter_map(|figure| {
            let kind =
                Kind::of(&figure).filter(|kind| [Kind::SolidsOfOne, Kind::PointOfFat].contains(kind))?;
            let id = &figure.recipe[0].0;
            // Petrolatum is no fat.
            let known = substances::find(id).filter(|it| whole(id) && it.id() != "petrolatum")?;
            let figure = Figure { recipe: vec![(format!("{prefix}{}", known.id()), 100.0)], ..figure };
            let predicted = figure.predicted();
            Some(Compared { figure, kind, predicted })
        })
        .filter(|one| one.figure.quantity != "slip-untempered")
        .collect()
}

#[test]
fn bands_are_what_the_data_say() {
    let all: Vec<Compared> = compared()
        .into_iter()
        .filter(|one| bears_on(one).is_some())
        // A liquid oil's points are set by traces, and no butter is kept that cold.
        .filter(|one| one.kind != Kind::PointOfOil)
        .collect();
    let [acids, at_slip] = ["~", "~~"].map(by_acids);
    let classes = [
        (RecipeClass::Plain, "shea-butter", &all),
        (RecipeClass::Lauric, "coconut-oil", &all),
        (RecipeClass::Wax, "beeswax", &all),
        (RecipeClass::Acids, "~shea-butter", &acids),
        (RecipeClass::AcidsAtSlip, "~~shea-butter", &at_slip),
    ];
    let stated = classes.map(|(_, example, _)| ErrorBand::of(&ask::recipe(&[(example.to_owned(), 100.0)])));
    let found = classes.map(|(class, _, figures)| recomputed(class, figures));
    println!("{found:#?}");
    assert_eq!(stated, found, "put the latter into src/contract/band.rs");
}
