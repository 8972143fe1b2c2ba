//! How wide what is not known is, from `data/widths.csv`, which the build has checked and turned into tables.

use super::class::{has_lauric, has_wax};
use crate::{
    behaviour::Solids,
    equilibrium::Lot,
    recipe::{KnownLot, Line, Recipe},
};

include!(concat!(env!("OUT_DIR"), "/widths.rs"));

/// How much the lots of an ingredient differ: standard deviations.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Width {
    /// Of how high its crystals melt, K.
    pub melts_k: f64,
    /// Of the natural logarithm of the share that crystallises.
    pub crystallises_log: f64,
    /// By how much higher its crystals melt for each standard deviation that more crystallises, K: of a lot
    /// that was looked at, where `melts_k` is what is left beside it.
    pub melts_with_share_k: f64,
}

/// A width by its name; the build refuses a table that lacks a class.
fn named(table: &[(&str, f64)], name: &str) -> Option<f64> {
    table.binary_search_by(|(known, _)| (*known).cmp(name)).ok().map(|at| table[at].1)
}

impl Width {
    /// The lot that lies so many widths off, of how high its crystals melt and of how much crystallises.
    pub fn lot(&self, melts: f64, crystallises: f64) -> Lot {
        Lot {
            melts_higher_k: self.melts_k * melts + self.melts_with_share_k * crystallises,
            crystallises_log: self.crystallises_log * crystallises,
        }
    }

    /// That of a line: what is left open of its lot, if that was looked at; else its own, else its class's.
    /// An own make-up that is known by species or by measured solids leaves little open; one that is like an
    /// ingredient of the catalogue differs as its lots do. A fat that is known by its fatty acids alone errs
    /// by more than lots do, and otherwise: [`Remainder`] has it.
    pub fn of(line: &Line) -> Width {
        if let Some(KnownLot { left, together, .. }) = line.lot {
            return Width {
                melts_k: left.melts_higher_k * (1.0 - together * together).max(0.0).sqrt(),
                melts_with_share_k: left.melts_higher_k * together,
                crystallises_log: left.crystallises_log,
            };
        }
        if line.by_acids.is_some() {
            return Width::default();
        }
        let of_class = |table| named(table, line.class.name()).unwrap_or(0.0);
        let of = |table| {
            let known = line.ingredient.or(line.like).and_then(|ingredient| named(table, ingredient.id()));
            let own = if line.make_known { named(table, "known-make-up") } else { None };
            own.or(known).unwrap_or_else(|| of_class(table))
        };
        let melts_k: f64 = of(MELTS);
        let stated = if line.slip_known { named(MELTS, "known-slip-point") } else { None };
        Width {
            melts_k: stated.map_or(melts_k, |stated| melts_k.min(stated)),
            crystallises_log: of(CRYSTALLISES),
            melts_with_share_k: 0.0,
        }
    }
}

/// How many kinds of solids there are.
pub(super) const KINDS: usize = 11;

/// A figure for each kind of solid.
pub(super) type ByKind = [f64; KINDS];

/// The figures of solids, in the order of [`powers`].
pub(super) fn by_kind(of: &Solids) -> ByKind {
    let Solids { triglyceride, acid, alcohol, glyceride, ester, alkane, .. } = *of;
    let Solids { short_ester, beeswax, candelilla, carnauba, powder, .. } = *of;
    [
        triglyceride,
        acid,
        alcohol,
        glyceride,
        ester,
        alkane,
        short_ester,
        beeswax,
        candelilla,
        carnauba,
        powder,
    ]
}

/// Solids of these figures, in the order of [`by_kind`].
pub(super) fn from_kinds(figures: &ByKind) -> Solids {
    let [
        triglyceride,
        acid,
        alcohol,
        glyceride,
        ester,
        alkane,
        short_ester,
        beeswax,
        candelilla,
        carnauba,
        powder,
    ] = *figures;
    Solids {
        triglyceride,
        acid,
        alcohol,
        glyceride,
        ester,
        alkane,
        short_ester,
        beeswax,
        candelilla,
        carnauba,
        powder,
    }
}

/// Standard deviations of the natural logarithm of what each kind of solid is worth as structure.
pub(super) fn powers() -> ByKind {
    [
        "triglyceride",
        "acid",
        "alcohol",
        "glyceride",
        "ester",
        "alkane",
        "short-ester",
        "beeswax",
        "candelilla",
        "carnauba",
        "powder",
    ]
    .map(|kind| named(POWERS, kind).unwrap_or(0.0))
}

/// What the model errs by beside the lots, as standard deviations: from published
/// figures that nothing was fitted to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Remainder {
    /// Solid fat content, percentage points.
    pub solid_percent: f64,
    /// Slip and softening point, K.
    pub slip_k: f64,
    /// Clear point, K.
    pub clear_k: f64,
}

/// The remainder of a figure, by its name.
pub(super) fn named_remainder(name: &str) -> f64 {
    named(REMAINDERS, name).unwrap_or(0.0)
}

impl Remainder {
    /// That of a recipe. A fat that is known by its fatty acids alone adds what whole fats told
    /// so have been off, by its share.
    pub fn of(recipe: &Recipe) -> Remainder {
        let width = named_remainder;
        let wax = has_wax(recipe);
        let slip = if wax || has_lauric(recipe) { "slip-lauric-wax" } else { "slip" };
        let mut sum = Remainder {
            solid_percent: width("solids"),
            slip_k: width(slip),
            clear_k: width(if wax { "clear-wax" } else { "clear" }),
        };
        for line in recipe.lines() {
            let Some(at_slip) = line.by_acids else { continue };
            let of = |figure: &str| {
                let known = if at_slip { "fatty-acids-and-slip" } else { "fatty-acids" };
                0.01 * line.percent * width(&format!("{figure}-{known}"))
            };
            sum.solid_percent = libm::hypot(sum.solid_percent, of("solids"));
            sum.slip_k = libm::hypot(sum.slip_k, of("slip"));
            sum.clear_k = libm::hypot(sum.clear_k, of("clear"));
        }
        sum
    }
}
