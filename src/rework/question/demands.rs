//! What a search must meet: bands at temperatures, from wishes and how sure they are to be met,
//! or from how the recipe is now.

use crate::{
    behaviour::{Band, Quantity, Solids, Where, Wish, Wishes},
    equilibrium::{CrystalState, Equilibrium},
    recipe::Recipe,
    surety::Allowance,
};

/// The figure that a band is on.
pub fn figure(quantity: Quantity, state: &Equilibrium) -> f64 {
    quantity.of(&Solids::from(state))
}

/// What a miss counts for.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Counts {
    /// As much, however far it is missed: a matter of feel is right or it is not.
    Once(f64),
    /// So much for every percent point.
    ByPoint(f64),
}

/// A band at a temperature.
#[derive(Clone, Copy, Debug)]
pub struct Demand {
    /// °C.
    pub celsius: f64,
    /// The band.
    pub band: Band,
    /// What a crystal of each kind is worth, as a factor of what it usually is; of account
    /// where the band is on structure.
    pub worth: Solids,
    /// What missing it counts for.
    pub counts: Counts,
}

/// Far above what all else together can count for, so that what must be met comes first.
const FIRST: f64 = 1e6;

impl Demand {
    /// That a wish's band be met by the recipe as it is on record.
    fn plain(wishes: &Wishes, band: Band, counts: Counts) -> Demand {
        Demand { celsius: wishes.temperature_c(band.place), band, worth: Solids::ONE_EACH, counts }
    }

    /// That the format keeps its shape at the hottest, and bears an allowance there.
    fn to_hold(wishes: &Wishes, band: Band, cooler_k: f64, allowance: &Allowance) -> Demand {
        let by_mass = if band.quantity == Quantity::Structure { 1.0 } else { allowance.mass };
        Demand {
            celsius: wishes.temperature_c(band.place) - cooler_k + allowance.warmer_k,
            band: Band { low: band.low / by_mass + allowance.points, ..band },
            worth: allowance.worth,
            counts: Counts::Once(FIRST),
        }
    }

    /// What wishes amount to. Above all the recipe is to keep its shape at the hottest less `cooler_k` while
    /// it bears an allowance. Then it is to meet as many as can be of the matters of feel, each for the
    /// make-up on record, which is as likely as not.
    pub fn of(wishes: &Wishes, cooler_k: f64, allowance: &Allowance) -> Vec<Demand> {
        let demand = |band: Band| match band.wish {
            Wish::HoldsAtHottest => Demand::to_hold(wishes, band, cooler_k, allowance),
            _ => Demand::plain(wishes, band, Counts::Once(1.0)),
        };
        wishes.bands().into_iter().map(demand).collect()
    }

    /// To be as the recipe is now, at the temperatures of the wishes: structure in storage and on skin.
    pub fn as_now(recipe: &Recipe, wishes: &Wishes) -> Vec<Demand> {
        let mixture = recipe.mixture(CrystalState::Settled);
        [
            (Where::Coldest, Wish::SoftEnoughAtColdest, Quantity::Structure),
            (Where::Usual, Wish::FirmnessAtUsual, Quantity::Structure),
            (Where::Hottest, Wish::FirmEnoughAtHottest, Quantity::Structure),
            (Where::Skin, Wish::OnSkin, Quantity::OnSkin),
        ]
        .into_iter()
        .map(|(place, wish, quantity)| {
            let now = figure(quantity, &mixture.at(wishes.temperature_c(place)));
            let band = Band { wish, place, quantity, low: now, high: now };
            Demand::plain(wishes, band, Counts::ByPoint(1.0))
        })
        .collect()
    }

    /// The figure that its band is on.
    pub fn figure(&self, solids: &Solids) -> f64 {
        match self.band.quantity {
            Quantity::Structure => solids.structure_percent_at(&self.worth),
            other => other.of(solids),
        }
    }

    /// What a figure that is `outside` its band by so many percent points counts for.
    pub(crate) fn cost(&self, outside: f64) -> f64 {
        match self.counts {
            Counts::Once(cost) => {
                if outside > 0.0 {
                    cost
                } else {
                    0.0
                }
            }
            Counts::ByPoint(cost) => cost * outside,
        }
    }

    /// Whether it is that the butter keeps its shape.
    pub(crate) fn is_to_hold(&self) -> bool {
        self.band.wish == Wish::HoldsAtHottest
    }

    /// Whether nothing else makes up for missing it.
    fn is_first(&self) -> bool {
        matches!(self.counts, Counts::Once(cost) | Counts::ByPoint(cost) if cost >= FIRST)
    }

    /// The most that a recipe can miss by that meets what must be met first; `None` where nothing must.
    pub(crate) fn most_miss(demands: &[Demand]) -> Option<f64> {
        let rest = || demands.iter().filter(|it| !it.is_first());
        (rest().count() < demands.len()).then(|| rest().map(|it| it.cost(100.0)).sum())
    }

    /// The same demands with every wish but those `spared` to be met first, and these
    /// missed by as little as can be.
    pub fn all_but(demands: &[Demand], spared: &[Wish]) -> Vec<Demand> {
        demands
            .iter()
            .map(|demand| {
                let is_spared = spared.contains(&demand.band.wish);
                let counts = if is_spared { Counts::ByPoint(1.0) } else { Counts::Once(FIRST) };
                Demand { counts, ..*demand }
            })
            .collect()
    }
}
