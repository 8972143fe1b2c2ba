//! What a search must meet: bands at temperatures, from wishes or from how the recipe is now.

use crate::{
    behaviour::{Band, Quantity, Solids, Where, Wish, Wishes},
    equilibrium::{Equilibrium, State},
    failure::{ErrorKind, Failure, Limit, Place},
    recipe::Recipe,
};

/// The figure that a band is on.
pub fn figure(quantity: Quantity, state: &Equilibrium) -> f64 {
    quantity.of(&Solids::from(state))
}

/// A band at a temperature.
#[derive(Clone, Copy, Debug)]
pub struct Demand {
    /// °C.
    pub celsius: f64,
    /// The band.
    pub band: Band,
    /// How much a percent point of miss counts; 1 unless another demand is to be met first.
    pub weight: f64,
}

/// Far above any miss, so that what must be met comes first.
const FIRST: f64 = 1e6;

impl Demand {
    /// The demands that wishes amount to.
    pub fn of(wishes: &Wishes) -> Vec<Demand> {
        wishes
            .bands()
            .into_iter()
            .map(|band| Demand { celsius: wishes.temperature_c(band.place), band, weight: 1.0 })
            .collect()
    }

    /// To be as the recipe is now, at the temperatures of the wishes: structure in storage and on skin.
    pub fn as_now(recipe: &Recipe, wishes: &Wishes) -> Vec<Demand> {
        let mixture = recipe.mixture(State::Settled);
        [
            (Where::Coldest, Wish::SoftEnoughAtColdest, Quantity::Structure),
            (Where::Usual, Wish::FirmnessAtUsual, Quantity::Structure),
            (Where::Hottest, Wish::FirmEnoughAtHottest, Quantity::Structure),
            (Where::Skin, Wish::OnSkin, Quantity::OnSkin),
        ]
        .into_iter()
        .map(|(place, wish, quantity)| {
            let celsius = wishes.temperature_c(place);
            let now = figure(quantity, &mixture.at(celsius));
            Demand { celsius, band: Band { wish, place, quantity, low: now, high: now }, weight: 1.0 }
        })
        .collect()
    }

    /// The same demands with each band narrower by `points` at either end that it has, so that they hold when the prediction
    /// errs by as much.
    pub fn narrowed(demands: &[Demand], points: f64) -> Result<Vec<Demand>, Failure> {
        demands
            .iter()
            .map(|demand| {
                let Band { low, high, .. } = demand.band;
                let low = if low > 0.0 { low + points } else { low };
                let high = if high < 100.0 { high - points } else { high };
                if low > high {
                    return Err(Failure::new(
                        ErrorKind::Conflict,
                        Place::Limits(Limit::Margin),
                        format!(
                            "at {} °C the band of {:.1} to {:.1} % leaves no room for a margin of {points} points: ask for less",
                            demand.celsius, demand.band.low, demand.band.high
                        ),
                    ));
                }
                Ok(Demand { band: Band { low, high, ..demand.band }, ..*demand })
            })
            .collect()
    }

    /// The most that a recipe can miss by, percent points, that meets what must be met first; `None` where nothing must.
    pub(crate) fn most_miss(demands: &[Demand]) -> Option<f64> {
        let rest = demands.iter().filter(|it| it.weight < FIRST).count();
        (rest < demands.len()).then_some(100.0 * rest as f64)
    }

    /// The same demands with every wish but those `spared` to be met first.
    pub fn all_but(demands: &[Demand], spared: &[Wish]) -> Vec<Demand> {
        demands
            .iter()
            .map(|demand| {
                let weight = if spared.contains(&demand.band.wish) { 1.0 } else { FIRST };
                Demand { weight, ..*demand }
            })
            .collect()
    }
}
