//! `melt`, `liquidus` and `ingredients`.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{ErrorBand, ErrorKind, Failure, Item, item::recipe};
use crate::{
    behaviour::{Melting, Solids},
    equilibrium::{CrystalState, Mixture, MixtureError, Sweep},
    quote::quoted,
    recipe::check_percent,
    substances::{self, Class, SpeciesError},
    surety::Unknowns,
};

/// `{"ask":"melt"}`: how a recipe melts.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct MeltRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// The temperatures to report solids at, °C.
    #[serde(default)]
    pub at_c: Vec<f64>,
    /// `settled` (days to weeks after making; the default) or `fresh` (chilled hours ago).
    #[serde(default)]
    pub state: CrystalState,
}

/// The answer to [`MeltRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct MeltAnswer {
    /// Solid fat content at each `at_c`, percent by mass.
    pub solid_percent: Vec<f64>,
    /// Structure at each `at_c`, percent.
    pub structure_percent: Vec<f64>,
    /// Crystals but wax at each `at_c`, percent by mass.
    pub crystals_percent: Vec<f64>,
    /// Slip point, °C; `null` where the recipe is liquid at every temperature considered.
    pub slip_c: Option<f64>,
    /// Clear point, °C; `null` likewise.
    pub clear_c: Option<f64>,
    /// The band of the slip point, °C: nine in ten of its lots lie within; `null` where there is no slip
    /// point, and for a fresh butter.
    pub slip_band_c: Option<(f64, f64)>,
    /// The band of the clear point, °C; likewise.
    pub clear_band_c: Option<(f64, f64)>,
    /// How far such figures may be off, either way; `null` for a fresh butter.
    pub band: Option<ErrorBand>,
    /// The largest violation of the optimality conditions over every state solved for this answer.
    pub certificate: f64,
}

/// `{"ask":"liquidus"}`: the temperature at which the last crystal of a mixture dissolves.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LiquidusRequest {
    /// Mole percent by species id, summing to 100.
    pub mole_percent: BTreeMap<String, f64>,
}

/// The answer to [`LiquidusRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LiquidusAnswer {
    /// °C.
    pub liquidus_c: f64,
}

/// One entry of the answer to `{"ask":"ingredients"}`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Ingredient {
    /// The id that recipes use.
    pub id: &'static str,
    /// The plain name.
    pub name: &'static str,
    /// The name on a label, by the International Nomenclature of Cosmetic Ingredients.
    pub inci: &'static str,
    /// What kind of ingredient it is.
    pub class: Class,
    /// The melting range that suppliers and pharmacopoeias promise, °C.
    pub melting_c: Option<(f64, f64)>,
    /// Which melting figure that is.
    pub melting_kind: &'static str,
    /// Allergen groups.
    pub allergens: &'static [&'static str],
    /// The most that the trade uses, percent, where it has a ceiling.
    pub use_ceiling_percent: Option<f64>,
    /// How often makers use it: 3 every day, 2 usually, 1 rarely.
    pub commonness: u8,
    /// What else to know.
    pub note: &'static str,
}

/// Temperatures that can be asked for, °C.
const ASKABLE_C: std::ops::RangeInclusive<f64> = -60.0..=150.0;

/// The most temperatures in one request.
const MOST_TEMPERATURES: usize = 10_000;

/// Works out [`MeltRequest`].
pub(super) fn melt(request: MeltRequest) -> Result<MeltAnswer, Failure> {
    let recipe = recipe(&request.recipe)?;
    let mixture = recipe.mixture(request.state);
    if request.at_c.len() > MOST_TEMPERATURES {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "at_c",
            format!("{} temperatures are too many: ask for at most {MOST_TEMPERATURES}", request.at_c.len()),
        ));
    }
    let mut certificate: f64 = 0.0;
    let mut columns = [(); 3].map(|()| Vec::with_capacity(request.at_c.len()));
    let mut sweep = Sweep::new(&mixture);
    for (at, celsius) in request.at_c.iter().enumerate() {
        if !ASKABLE_C.contains(celsius) {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                format!("at_c[{at}]"),
                format!(
                    "{celsius} °C cannot be asked for: give temperatures from {} to {} °C",
                    ASKABLE_C.start(),
                    ASKABLE_C.end()
                ),
            ));
        }
        let state = sweep.rising(*celsius);
        certificate = certificate.max(state.certificate);
        let solids = Solids::from(&state);
        let figures = [state.solid_percent, solids.structure_percent(), solids.crystals_percent()];
        for (column, figure) in columns.iter_mut().zip(figures) {
            column.push(figure);
        }
    }
    let mut melting = Melting::of(&mixture);
    let (slip_c, clear_c) = (melting.slip_c(), melting.clear_c());
    // Too few fresh fats were measured to say how far those figures err.
    let (mut band, mut points_c) = (None, [None; 2]);
    if request.state == CrystalState::Settled {
        let unknowns = Unknowns::of(&recipe);
        let solids;
        (solids, points_c) = unknowns.melts(&some_of(&request.at_c), &mut melting);
        band = Some(ErrorBand::of_lots(&recipe, &solids, points_c[0], points_c[1]));
    }
    let [slip_band_c, clear_band_c] = points_c;
    let certificate = certificate.max(melting.certificate());
    let [solid_percent, structure_percent, crystals_percent] = columns;
    Ok(MeltAnswer {
        solid_percent,
        structure_percent,
        crystals_percent,
        slip_c,
        clear_c,
        slip_band_c,
        clear_band_c,
        band,
        certificate,
    })
}

/// The most temperatures that the solids of lots are looked at for one band.
const MOST_LOOKED_AT: usize = 4;

/// Some of these temperatures, evenly through the list.
fn some_of(at_c: &[f64]) -> Vec<f64> {
    let step = at_c.len().div_ceil(MOST_LOOKED_AT).max(1);
    at_c.iter().copied().step_by(step).collect()
}

/// How far the mole percentages of a `liquidus` request may sum from 100.
const MOLE_SUM_TOLERANCE: f64 = 0.1;

/// Works out [`LiquidusRequest`].
pub(super) fn liquidus(request: LiquidusRequest) -> Result<LiquidusAnswer, Failure> {
    let sum = request.mole_percent.values().sum::<f64>() + 0.0;
    for (id, percent) in &request.mole_percent {
        check_percent(*percent, format!("mole_percent.{id}"), &quoted(id))?;
    }
    if (sum - 100.0).abs() > MOLE_SUM_TOLERANCE {
        return Err(Failure::new(
            ErrorKind::SumNotHundred,
            "mole_percent",
            format!(
                "the mole percentages sum to {sum:.2}, not 100: give the whole mixture, with `liquid` for the rest"
            ),
        ));
    }
    let mixture = Mixture::from_moles(&request.mole_percent).map_err(|error| match error {
        MixtureError::Species(SpeciesError { id }) => Failure::new(
            ErrorKind::UnknownSpecies,
            format!("mole_percent.{id}"),
            format!("there is no species `{}`: use triglyceride letters such as SOS, or a name such as stearic-acid", quoted(&id)),
        ),
        MixtureError::Amount { id, amount } => Failure::new(
            ErrorKind::OutOfRange,
            format!("mole_percent.{id}"),
            format!("{} is {amount} mol %: give a number from 0 to 100", quoted(&id)),
        ),
    })?;
    let liquidus_c = mixture.liquidus_c().ok_or_else(|| {
        Failure::new(
            ErrorKind::Empty,
            "mole_percent",
            "nothing in this mixture crystallises above -100 °C: add a species that does",
        )
    })?;
    Ok(LiquidusAnswer { liquidus_c })
}

/// The catalogue.
pub(super) fn ingredients() -> Vec<Ingredient> {
    substances::catalogue()
        .iter()
        .map(|ingredient| Ingredient {
            id: ingredient.id(),
            name: ingredient.name(),
            inci: ingredient.inci(),
            class: ingredient.class(),
            melting_c: ingredient.melting_c(),
            melting_kind: ingredient.melting_kind(),
            allergens: ingredient.allergens(),
            use_ceiling_percent: ingredient.use_ceiling_percent(),
            commonness: ingredient.commonness(),
            note: ingredient.note(),
        })
        .collect()
}
