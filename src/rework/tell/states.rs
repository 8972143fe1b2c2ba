//! A recipe as it is told: the states that decide, and what of the wishes it misses.

use crate::{
    behaviour::{self, Band, Where},
    equilibrium::{Blend, CrystalState, Equilibrium, Part},
    rework::question::{Problem, figure},
};

/// One line that changes.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateChange {
    /// Which candidate.
    pub candidate: usize,
    /// Percent before.
    pub from: f64,
    /// Percent after.
    pub to: f64,
}

/// The states at the temperatures that decide.
#[derive(Clone, Debug)]
pub struct States {
    /// At the coldest storage.
    pub coldest: Equilibrium,
    /// In the middle of the storage range.
    pub usual: Equilibrium,
    /// At the hottest storage.
    pub hottest: Equilibrium,
    /// On skin.
    pub skin: Equilibrium,
}

impl States {
    /// The state at a place.
    pub fn at(&self, place: Where) -> &Equilibrium {
        match place {
            Where::Coldest => &self.coldest,
            Where::Usual => &self.usual,
            Where::Hottest => &self.hottest,
            Where::Skin => &self.skin,
        }
    }
}

/// A band that is not met.
#[derive(Clone, Debug)]
pub struct MissedBand {
    /// The band.
    pub band: Band,
    /// What the recipe gives, percent.
    pub found: f64,
}

/// What counts as a difference from how it is now, percent points: one lot of a natural fat
/// differs from the next by more.
const DIFFERS: f64 = 0.5;

/// What a maker wants to know of a recipe.
#[derive(Clone, Debug)]
pub struct Forecast {
    /// Percentages in the order of the candidates.
    pub amounts: Vec<f64>,
    /// The states that decide.
    pub states: States,
    /// Slip point, °C.
    pub slip_c: Option<f64>,
    /// Clear point, °C.
    pub clear_c: Option<f64>,
    /// The bands of the wishes that are not met; where it is to be as now, what differs.
    pub misses: Vec<MissedBand>,
    /// Whether it holds as surely as was asked; where it is to be as now, nothing was.
    pub is_sure: bool,
}

impl Forecast {
    /// Whether it does all that was asked.
    pub fn is_met(&self) -> bool {
        self.misses.is_empty() && self.is_sure
    }

    pub(super) fn of(problem: &Problem, amounts: &[f64]) -> Forecast {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let mixture = Blend::new(&parts, CrystalState::Settled).mixture(amounts);
        let at = |place| mixture.at(problem.wishes.temperature_c(place));
        let states = States {
            coldest: at(Where::Coldest),
            usual: at(Where::Usual),
            hottest: at(Where::Hottest),
            skin: at(Where::Skin),
        };
        Forecast {
            amounts: amounts.to_vec(),
            misses: misses(problem, &states),
            is_sure: problem.is_as_now() || problem.holds_as_asked(amounts),
            states,
            slip_c: behaviour::slip_point(&mixture).celsius,
            clear_c: behaviour::clear_point(&mixture).celsius,
        }
    }
}

fn misses(problem: &Problem, states: &States) -> Vec<MissedBand> {
    let found = |band: &Band| figure(band.quantity, states.at(band.place));
    let (bands, least) = if problem.is_as_now() {
        (problem.demands.iter().map(|demand| demand.band).collect(), DIFFERS)
    } else {
        (problem.wishes.bands(), 0.0)
    };
    bands
        .into_iter()
        .map(|band| MissedBand { band, found: found(&band) })
        .filter(|miss| miss.band.miss(miss.found) > least)
        .collect()
}
