//! The question, validated: which lines may change, how far, and what is wanted.

use crate::{
    behaviour::Wishes,
    failure::{ErrorKind, Failure, FaultPlace, Limit, OfLine},
    recipe::{Line, Recipe},
    surety::{Allowance, Surety, Unknowns},
};

use super::{
    candidates::{Candidate, join, leading_butter, leave_as_one, led_by, lock, refuse},
    demands::Demand,
    group::Group,
    rung::Rung,
    scope::{MOST_CANDIDATES, ON_GRID, Scope, check_bounds},
};

/// The validated question.
#[derive(Clone)]
pub struct Problem {
    /// The lines of the recipe in their order, then the pantry in its order.
    pub candidates: Vec<Candidate>,
    /// What is wanted.
    pub wishes: Wishes,
    /// Percent.
    pub step: f64,
    /// The most lines that may change.
    pub changes: usize,
    /// The most of a group, percent.
    pub caps: Vec<(Group, f64)>,
    /// The butter that leads and is to go on: no other butter may come to exceed it; and
    /// nothing may, if nothing does now.
    pub lead: Option<usize>,
    /// By candidate, whether it may not come to exceed the lead; none where nothing leads.
    pub led: Vec<bool>,
    /// What must be met.
    pub demands: Vec<Demand>,
    /// How surely it is to hold.
    pub surety: Surety,
    /// The most equilibria to solve; `None` as many as it takes.
    pub work: Option<u64>,
}

impl Problem {
    /// The question of reworking `recipe` towards `wishes` with what is in `pantry`.
    ///
    /// Lines of the same ingredient are taken together; a line at 0 % counts as pantry.
    pub fn new(
        recipe: &Recipe,
        pantry: Vec<Line>,
        wishes: Wishes,
        scope: &Scope,
    ) -> Result<Problem, Failure> {
        scope.check()?;
        let mut candidates: Vec<Candidate> = Vec::new();
        let lines = recipe.lines();
        let present = lines.iter().enumerate().filter(|(_, line)| line.percent > 0.0);
        let absent = lines.iter().enumerate().filter(|(_, line)| line.percent <= 0.0);
        for (at, line) in present.chain(absent) {
            join(&mut candidates, line, FaultPlace::Line(at, OfLine::Whole))?;
        }
        for (at, line) in pantry.iter().enumerate() {
            if !candidates.iter().any(|found| found.line.key == line.key) {
                join(&mut candidates, line, FaultPlace::Limits(Limit::PantryEntry(at)))?;
            }
        }
        if candidates.len() > MOST_CANDIDATES {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                FaultPlace::Limits(Limit::Pantry),
                format!(
                    "the recipe and the pantry hold {} ingredients together: leave at most {MOST_CANDIDATES}",
                    candidates.len()
                ),
            ));
        }
        lock(&mut candidates, &scope.locked, Limit::Locked)?;
        lock(&mut candidates, &scope.actives, Limit::Active)?;
        if scope.ceilings {
            for found in &mut candidates {
                if let Some(ceiling) = found.line.ingredient.and_then(|it| it.use_ceiling_percent()) {
                    found.bounds.1 = ceiling.max(found.line.percent);
                }
            }
        }
        for (key, (min, max)) in &scope.bounds {
            let at = || FaultPlace::Limits(Limit::Bounds(key.clone()));
            check_bounds(key, *min, *max)?;
            let Some(found) = candidates.iter_mut().find(|found| found.line.key == *key) else {
                return Err(Failure::new(
                    ErrorKind::UnknownIngredient,
                    at(),
                    format!(
                        "`{key}` has bounds but is neither in the recipe nor in the pantry: add it, or drop the bounds"
                    ),
                ));
            };
            let percent = found.line.percent;
            if found.fixed && !(min - ON_GRID..=max + ON_GRID).contains(&percent) {
                return Err(Failure::new(
                    ErrorKind::Conflict,
                    at(),
                    format!(
                        "{key} is locked at {percent:.2} %, outside its bounds of {min} to {max} %: unlock it, or widen the bounds"
                    ),
                ));
            }
            found.bounds = (*min, *max);
        }
        refuse(&mut candidates, &scope.refuse)?;
        let least: f64 = candidates.iter().map(Candidate::least).sum();
        if least > 100.0 + ON_GRID {
            return Err(Failure::new(
                ErrorKind::Conflict,
                FaultPlace::Limits(Limit::AllBounds),
                format!("locks and least amounts sum to {least:.2} %, more than 100: lower one of them"),
            ));
        }
        let most: f64 = candidates.iter().map(Candidate::most).sum();
        if most < 100.0 - ON_GRID {
            return Err(Failure::new(
                ErrorKind::Conflict,
                FaultPlace::Limits(Limit::AllBounds),
                format!("locks and greatest amounts sum to {most:.2} %, less than 100: raise one of them"),
            ));
        }
        for (group, cap) in &scope.caps {
            let held: f64 = candidates.iter().filter(|found| found.is_of(*group)).map(Candidate::least).sum();
            if held > cap + ON_GRID {
                return Err(Failure::new(
                    ErrorKind::Conflict,
                    group.place(),
                    format!(
                        "locks and least amounts hold {held:.2} % {}, above the cap of {cap} %: unlock one, or raise the cap",
                        group.words()
                    ),
                ));
            }
        }
        for (key, price) in &scope.prices {
            let at = FaultPlace::Limits(Limit::Price(key.clone()));
            if !price.is_finite() || *price < 0.0 {
                return Err(Failure::new(
                    ErrorKind::OutOfRange,
                    at,
                    format!("the price of {key} is {price}: give a number that is not negative"),
                ));
            }
            // Prices of things that are not at hand do no harm.
            if let Some(found) = candidates.iter_mut().find(|found| found.line.key == *key) {
                found.price = Some(*price);
            }
        }
        // What must lose the lead is not asked to keep it.
        let may_lead = |at: &usize| candidates[*at].bounds.1 >= candidates[*at].now - ON_GRID;
        let lead = scope.keep_lead.then(|| leading_butter(&candidates)).flatten().filter(may_lead);
        let led = lead.map_or_else(Vec::new, |lead| led_by(&candidates, lead));
        leave_as_one(&mut candidates);
        let demands = Demand::of(&wishes, 0.0, &Allowance::NONE);
        Ok(Problem {
            candidates,
            wishes,
            step: scope.step,
            changes: scope.changes,
            caps: scope.caps.clone(),
            lead,
            led,
            demands,
            surety: scope.surety,
            work: scope.work,
        })
    }

    /// The percentages that the search starts from, in the order of the candidates.
    pub fn amounts(&self) -> Vec<f64> {
        self.candidates.iter().map(|found| found.line.percent).collect()
    }

    /// The percentages now.
    pub fn now(&self) -> Vec<f64> {
        self.candidates.iter().map(|found| found.now).collect()
    }

    /// Whether these percentages keep every bound, cap and lock.
    pub fn admits(&self, amounts: &[f64]) -> bool {
        let within = |found: &Candidate, amount: f64| {
            (found.bounds.0 - ON_GRID..=found.bounds.1 + ON_GRID).contains(&amount)
                && (!found.fixed || (amount - found.line.percent).abs() <= ON_GRID)
        };
        let bounded = self.candidates.iter().zip(amounts).all(|(found, amount)| within(found, *amount));
        let capped = self.caps.iter().all(|(group, cap)| {
            let held: f64 = self
                .candidates
                .iter()
                .zip(amounts)
                .filter(|(found, _)| found.is_of(*group))
                .map(|(_, amount)| amount)
                .sum();
            held <= cap + ON_GRID
        });
        bounded && capped && self.leads(amounts)
    }

    /// Whether it asks for how the recipe behaves now: every band is one figure, as no wish is.
    pub fn is_as_now(&self) -> bool {
        self.demands.iter().all(|demand| demand.band.low >= demand.band.high)
    }

    /// Whether this candidate may not come to exceed the lead.
    pub(crate) fn is_led(&self, at: usize) -> bool {
        self.led.get(at).copied().unwrap_or(false)
    }

    /// Whether the lead still leads.
    pub fn leads(&self, amounts: &[f64]) -> bool {
        let Some(most) = self.lead.map(|lead| amounts[lead] + ON_GRID) else { return true };
        amounts.iter().zip(&self.led).all(|(amount, led)| !led || *amount <= most)
    }

    /// The same question on a rung, with room for so many standard deviations.
    pub(crate) fn on(&self, rung: Rung, deviations: f64) -> Problem {
        let allowance = Allowance::of_deviations(deviations);
        Problem { demands: Demand::of(&self.wishes, rung.cooler_k, &allowance), ..self.clone() }
    }

    /// The same question, where holding is beyond reach.
    pub(crate) fn without_holding(&self) -> Problem {
        let mut demands = self.demands.clone();
        demands.retain(|demand| !demand.is_to_hold());
        Problem { demands, ..self.clone() }
    }

    /// The odds by lots that a recipe holds at the temperature of a rung.
    pub(crate) fn odds(&self, amounts: &[f64], rung: Rung) -> f64 {
        let hottest_c = self.wishes.hottest_c - rung.cooler_k;
        let wishes = Wishes { hottest_c, ..self.wishes };
        Unknowns::of(&self.recipe(amounts)).odds(&wishes).holds
    }

    /// Whether a recipe holds as surely as was asked, by lots.
    pub(crate) fn holds_as_asked(&self, amounts: &[f64]) -> bool {
        let odds = self.surety.odds();
        self.odds(amounts, Rung { odds, cooler_k: 0.0 }) >= odds
    }

    /// The recipe of these amounts.
    pub fn recipe(&self, amounts: &[f64]) -> Recipe {
        let held = self.candidates.iter().zip(amounts).filter(|(_, percent)| **percent > 0.0);
        Recipe::of_parts(held.map(|(found, percent)| {
            let mut line = found.line.clone();
            line.percent = *percent;
            line
        }))
    }
}
