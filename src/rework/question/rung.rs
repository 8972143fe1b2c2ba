//! The rungs of holding: how surely a recipe keeps its shape at the hottest, in
//! steps that a maker would feel.

use crate::{
    behaviour::{Where, Wishes},
    surety::{Surety, deviations},
};

/// A rung of holding. The first is the best; each is about a degree of room below the one before.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rung {
    /// With what odds at least, 0 to 1.
    pub odds: f64,
    /// So many kelvins below the hottest storage.
    pub cooler_k: f64,
}

/// The odds of the lowest rung: below what can be asked for.
const LEAST_ODDS: f64 = 0.25;

/// How far apart rungs are that miss room at the hottest, K: what a maker would feel.
const STEP_K: f64 = 2.0;

/// A rung is first looked for with so many standard deviations more than its odds ask for, so
/// that what is found mostly reaches it by lots: what just bears the allowance of 1/2 has odds
/// by lots of 0.48 in the middle.
const SPARE: f64 = 0.05;

impl Rung {
    /// The rungs from the one asked for down to what does not hold at the coldest storage either.
    pub fn from(asked: Surety, wishes: &Wishes) -> Vec<Rung> {
        let span_k = wishes.temperature_c(Where::Hottest) - wishes.temperature_c(Where::Coldest);
        let can_be_asked = Surety::ALL.into_iter().rev().map(Surety::odds);
        let at_hottest = can_be_asked.filter(|odds| *odds <= asked.odds()).chain([LEAST_ODDS]);
        let below = (1..).map(|step| STEP_K * f64::from(step)).take_while(|cooler_k| *cooler_k <= span_k);
        at_hottest
            .map(|odds| Rung { odds, cooler_k: 0.0 })
            .chain(below.map(|cooler_k| Rung { odds: LEAST_ODDS, cooler_k }))
            .collect()
    }

    /// How many standard deviations of room it is looked for with at first.
    pub(crate) fn deviations(&self) -> f64 {
        deviations(self.odds) + SPARE
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::Format;

    #[test]
    fn rungs_go_down_from_the_one_asked_for() {
        let wishes = Wishes {
            format: Format::Pot,
            coldest_c: 20.0,
            hottest_c: 25.0,
            skin_c: 32.5,
            firmness: None,
            on_skin: None,
        };
        let rungs = Rung::from(Surety::Likely, &wishes);
        assert_eq!(rungs.iter().map(|it| it.odds).collect::<Vec<_>>(), [0.75, 0.5, 0.25, 0.25, 0.25]);
        assert_eq!(rungs.iter().map(|it| it.cooler_k).collect::<Vec<_>>(), [0.0, 0.0, 0.0, 2.0, 4.0]);
    }
}
