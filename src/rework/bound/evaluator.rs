//! What recipes miss the bands by: of one recipe by solving it, of all recipes of a region by a bound.

use std::sync::Arc;

use crate::{
    behaviour::{Quantity, Solids},
    equilibrium::{
        Blend, CORNERS, CrystalState, Enclosure, Equilibrium, IsothermalSection, Part, Slope, View, Weighting,
    },
    extremes::{greater, lesser},
    rework::question::{Counts, Demand, Problem},
};

/// What rounding may do to a bound, percent points.
const ROUNDING: f64 = 1e-6;

/// Misses are counted in millionths of a percent point, so that rounding never decides.
const MISS_UNITS: f64 = 1e6;

/// Misses of whole recipes are rounded up to hundredths of a percent point, in [`MISS_UNITS`]. Nobody feels
/// less. And of many recipes that are almost the same (all liquid, say), a search that told finer misses
/// apart would have to solve every one.
const GRAIN: u64 = 10_000;

/// A miss as a whole number, rounded up: 0 only if nothing is missed.
pub(crate) fn units(miss: f64) -> u64 {
    (miss * MISS_UNITS).ceil() as u64
}

/// A miss as a whole number, rounded down: what is missed is at least this.
fn units_at_least(miss: f64) -> u64 {
    (miss * MISS_UNITS).floor() as u64
}

/// A miss in [`units`], or the least that it can be, as it counts for a whole recipe.
pub(crate) fn in_grains(miss: u64) -> u64 {
    miss.div_ceil(GRAIN) * GRAIN
}

/// The miss of a whole recipe, percent points, as it counts, in [`units`].
pub(crate) fn of_recipe(miss: f64) -> u64 {
    in_grains(units(miss))
}

/// A miss that was counted in [`units`], in percent points.
pub(crate) fn points(miss: u64) -> f64 {
    miss as f64 * 1e-6
}

/// What is demanded at one temperature.
struct Temperature {
    celsius: f64,
    view: View,
    /// How many lines change in what was loaded last, and which.
    loaded: Option<(usize, [usize; 4])>,
    demands: Vec<Demand>,
    figures: Vec<Figure>,
}

/// What bands are on.
struct Figure {
    /// One of the demands on it: what it says of the figure is the same in all.
    of: Demand,
    /// What each solid adds to it; none where that depends on how much there is of it.
    weighting: Option<Weighting>,
}

impl Temperature {
    fn load(&mut self, present: &[f64], lines: &[usize]) {
        let mut these = (lines.len(), [0; 4]);
        for (this, line) in these.1.iter_mut().zip(lines) {
            *this = *line;
        }
        if self.loaded != Some(these) {
            self.view.load(present, lines);
            self.loaded = Some(these);
        }
    }

    fn demand(&mut self, demand: Demand) {
        if !self.figures.iter().any(|it| same_figure(&it.of, &demand)) {
            let section = self.view.section();
            let is_linear = demand.band.quantity != Quantity::Structure || !section.holds_wax();
            let weighting = is_linear.then(|| weighting_of(section, &tangent(&demand, &Solids::default()).0));
            self.figures.push(Figure { of: demand, weighting });
        }
        self.demands.push(demand);
    }

    /// What a state misses the bands by, in all.
    fn miss(&self, state: &Equilibrium) -> f64 {
        let solids = Solids::from(state);
        self.demands.iter().map(|it| it.cost(it.band.miss(it.figure(&solids)))).sum()
    }
}

/// Whether two demands at one temperature are on the same figure.
fn same_figure(a: &Demand, b: &Demand) -> bool {
    a.band.quantity == b.band.quantity && (a.band.quantity != Quantity::Structure || a.worth == b.worth)
}

/// The tangent of a figure at these solids: what a percent of each adds, and its value where there are none.
/// It is nowhere below the figure.
fn tangent(of: &Demand, at: &Solids) -> (Solids, f64) {
    match of.band.quantity {
        Quantity::Structure => at.tangent(&of.worth),
        Quantity::Solid => (Solids::FAT, 0.0),
        Quantity::Crystals => (Solids::CRYSTALS, 0.0),
        Quantity::OnSkin => (Solids::ON_SKIN, 0.0),
    }
}

/// The secant of a figure up to these solids: what a percent of each adds at least, where there is no more of
/// any than here. It is nowhere above the figure.
fn secant(of: &Demand, most: &Solids) -> Solids {
    match of.band.quantity {
        Quantity::Structure => most.secant(&of.worth),
        Quantity::Solid | Quantity::Crystals | Quantity::OnSkin => tangent(of, most).0,
    }
}

fn weighting_of(section: &IsothermalSection, weights: &Solids) -> Weighting {
    section.weighting(&weights.by_kind(), weights.powder)
}

/// A figure, and the band in which it meets every demand on it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Target {
    /// Which temperature.
    pub(crate) temperature: usize,
    /// Which of its figures.
    figure: usize,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

/// How far a figure of a region can be inside one end of a band.
pub(crate) struct Slack {
    /// At each corner that was bounded, percent points, and negative outside. A mixture of the corners has at
    /// most the same mixture of these.
    pub(crate) at_corners: [f64; CORNERS],
    /// What missing the band counts for.
    pub(crate) counts: Counts,
}

/// What is known of a region at one temperature.
pub(crate) struct Bound {
    /// What every recipe misses by at least, in [`units`].
    pub(crate) least: u64,
    /// What the recipe in its centre misses by, nearly, percent points.
    pub(crate) at_centre: f64,
}

/// Solves recipes and bounds regions of one problem, and counts the equilibria that it takes.
pub(crate) struct Evaluator {
    /// The recipe now, percent by line.
    present: Vec<f64>,
    temperatures: Vec<Temperature>,
    equilibria: u64,
    /// Of the region that was bounded last.
    pub(crate) slacks: Vec<Slack>,
    enclosure: Enclosure,
}

impl Evaluator {
    /// For recipes that differ from the present one in some lines.
    pub(crate) fn new(problem: &Problem) -> Evaluator {
        Evaluator::of(problem, problem.amounts(), &|_| {})
    }

    /// For what a batch of the present recipe becomes when something is melted in: the batch is
    /// the line after the candidates.
    pub(crate) fn of_batch(problem: &Problem, present: Vec<f64>) -> Evaluator {
        let batch = problem.amounts();
        Evaluator::of(problem, present, &|section| section.merge(&batch))
    }

    fn of(problem: &Problem, present: Vec<f64>, add_lines: &dyn Fn(&mut IsothermalSection)) -> Evaluator {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let blend = Blend::new(&parts, CrystalState::Settled);
        let mut temperatures: Vec<Temperature> = Vec::new();
        for demand in &problem.demands {
            match temperatures.iter_mut().find(|it| it.celsius == demand.celsius) {
                Some(temperature) => temperature.demand(*demand),
                None => {
                    let mut section = IsothermalSection::new(&blend, demand.celsius);
                    add_lines(&mut section);
                    let mut temperature = Temperature {
                        celsius: demand.celsius,
                        view: View::of(&Arc::new(section)),
                        loaded: None,
                        demands: Vec::new(),
                        figures: Vec::new(),
                    };
                    temperature.demand(*demand);
                    temperatures.push(temperature);
                }
            }
        }
        Evaluator {
            present,
            temperatures,
            equilibria: 0,
            slacks: Vec::new(),
            enclosure: Enclosure::default(),
        }
    }

    /// How many equilibria were solved so far.
    pub(crate) fn equilibria(&self) -> u64 {
        self.equilibria
    }

    /// The total miss of a whole recipe, in [`units`].
    pub(crate) fn miss_of(&mut self, amounts: &[f64]) -> u64 {
        let mut miss = 0.0;
        for temperature in &mut self.temperatures {
            self.equilibria += 1;
            temperature.view.load(amounts, &[]);
            temperature.loaded = None;
            let state = temperature.view.at(&[0.0; 3]);
            miss += temperature.miss(&state);
        }
        of_recipe(miss)
    }

    /// The total miss, in [`units`], of a recipe in which these lines hold these shares.
    pub(crate) fn miss(&mut self, lines: &[usize], shares: &[f64; 3]) -> u64 {
        let mut miss = 0.0;
        for at in 0..self.temperatures.len() {
            miss += self.miss_at(at, lines, shares);
        }
        of_recipe(miss)
    }

    /// Whether such a recipe meets every band; else its miss at the first temperature
    /// where it does not, in [`units`].
    pub(crate) fn meets(&mut self, lines: &[usize], shares: &[f64; 3]) -> Result<(), u64> {
        for at in 0..self.temperatures.len() {
            let miss = of_recipe(self.miss_at(at, lines, shares));
            if miss > 0 {
                return Err(miss);
            }
        }
        Ok(())
    }

    fn miss_at(&mut self, at: usize, lines: &[usize], shares: &[f64; 3]) -> f64 {
        self.equilibria += 1;
        let temperature = &mut self.temperatures[at];
        temperature.load(&self.present, lines);
        let state = temperature.view.at(shares);
        temperature.miss(&state)
    }

    /// Bounds, at one temperature, all recipes in which these lines hold a mixture of what they hold at the
    /// corners. It solves one state for each figure that a band is on; [`Evaluator::slacks`] tell more.
    pub(crate) fn bound(&mut self, temperature: usize, lines: &[usize], corners: &[[f64; 3]]) -> Bound {
        self.slacks.clear();
        let temperature = &mut self.temperatures[temperature];
        temperature.load(&self.present, lines);
        let mut bound = Bound { least: 0, at_centre: 0.0 };
        self.equilibria += 1;
        let Some(centre) = temperature.view.centre(corners) else { return bound };
        let here = Solids::of(&centre.solids, centre.powder);
        let bends = temperature.figures.iter().any(|figure| figure.weighting.is_none());
        let most =
            if bends { Solids::of(&temperature.view.most_solid(corners), 0.0) } else { Solids::default() };
        let mut least = 0.0;
        for Figure { of, weighting } in &temperature.figures {
            let found = of.figure(&here);
            let demands = temperature.demands.iter().filter(|it| same_figure(it, of));
            let miss: f64 = demands.clone().map(|it| it.band.miss(found)).sum();
            bound.at_centre += miss;
            // Where the centre misses nothing, no bound can say that all recipes do.
            if miss <= 0.0 {
                continue;
            }
            let view = &mut temperature.view;
            let [low, high] = match weighting {
                Some(weighting) => {
                    let found = self.enclosure.bounds_around(view, centre, corners, weighting);
                    found.map_or([None; 2], |bounds| bounds.map(Some))
                }
                // Only the side on which the centre lies outside can exclude.
                None => {
                    let mut around = |weights: &Solids| {
                        let weighting = weighting_of(view.section(), weights);
                        self.enclosure.bounds_around(view, centre, corners, &weighting)
                    };
                    let (slopes, none) = tangent(of, &here);
                    let is_short = demands.clone().any(|it| found < it.band.low);
                    let high = is_short.then(|| around(&slopes)).flatten();
                    let high = high.map(|[_, high]| high.map(|it| it + none));
                    let is_over = demands.clone().any(|it| found > it.band.high);
                    let low = is_over.then(|| around(&secant(of, &most))).flatten();
                    [low.map(|[low, _]| low), high]
                }
            };
            for demand in demands {
                let Demand { band, counts, .. } = demand;
                // No figure is above 100, whatever its solids count for. The lesser of 100 and a concave
                // function is concave too, so that mixtures of corners may still be taken.
                let above = high.map(|it| it.map(|high| high - band.low));
                let below = low.map(|it| it.map(|low| band.high - lesser(low, 100.0)));
                for at_corners in [above, below].into_iter().flatten() {
                    let most = at_corners.into_iter().fold(f64::NEG_INFINITY, greater);
                    // What rounding may have done does not count as missed.
                    if most < -ROUNDING {
                        least += demand.cost(-most);
                    }
                    self.slacks.push(Slack { at_corners, counts: *counts });
                }
            }
        }
        bound.least = units_at_least(least);
        bound
    }

    /// The figures that bands are on.
    pub(crate) fn targets(&self) -> Vec<Target> {
        let mut targets: Vec<Target> = Vec::new();
        for (temperature, it) in self.temperatures.iter().enumerate() {
            for (figure, Figure { of, .. }) in it.figures.iter().enumerate() {
                let mut target = Target { temperature, figure, low: f64::NEG_INFINITY, high: f64::INFINITY };
                for Demand { band, .. } in it.demands.iter().filter(|it| same_figure(it, of)) {
                    (target.low, target.high) = (target.low.max(band.low), target.high.min(band.high));
                }
                targets.push(target);
            }
        }
        targets
    }

    /// The total miss, in [`units`], of a recipe in which these lines hold these shares,
    /// and the figures of the targets.
    pub(crate) fn figures(
        &mut self,
        targets: &[Target],
        lines: &[usize],
        shares: &[f64; 3],
    ) -> (u64, Vec<f64>) {
        let (mut miss, mut figures) = (0.0, Vec::with_capacity(targets.len()));
        for (at, temperature) in self.temperatures.iter_mut().enumerate() {
            self.equilibria += 1;
            temperature.load(&self.present, lines);
            let state = temperature.view.at(shares);
            miss += temperature.miss(&state);
            let solids = Solids::from(&state);
            let here = targets.iter().filter(|it| it.temperature == at);
            figures.extend(here.map(|it| temperature.figures[it.figure].of.figure(&solids)));
        }
        (of_recipe(miss), figures)
    }

    /// How each target moves with every line from the shares that [`Evaluator::figures`] solved last.
    pub(crate) fn slopes(&self, targets: &[Target], shares: &[f64; 3]) -> Vec<Vec<Slope>> {
        let slopes = |it: &Target| {
            let temperature = &self.temperatures[it.temperature];
            let (view, Figure { of, weighting }) = (&temperature.view, &temperature.figures[it.figure]);
            match weighting {
                Some(weighting) => view.slopes(shares, weighting),
                None => {
                    let (solids, powder) = view.solids(shares);
                    let (slopes, _) = tangent(of, &Solids::of(&solids, powder));
                    view.slopes(shares, &weighting_of(view.section(), &slopes))
                }
            }
        };
        targets.iter().map(slopes).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        behaviour::{Band, Format, Where, Wish, Wishes},
        random::Congruential,
        recipe::{Line, Recipe},
        rework::question::Scope,
        substances,
    };

    /// Wax counts the less the more there is of it, so that a figure of structure is bounded by a
    /// tangent from above and a secant from below: no mixture of the corners lies further inside a band
    /// than the same mixture of the slacks.
    #[test]
    fn no_mixture_with_wax_is_further_inside_than_its_slack() {
        const MENU: [&str; 8] = [
            "beeswax",
            "candelilla-wax",
            "sunflower-wax",
            "olive-oil",
            "cocoa-butter",
            "shea-butter",
            "stearic-acid",
            "paraffin",
        ];
        let mut random = Congruential(11);
        let mut share = || random.share();
        let (mut bounded, mut excluded) = (0, 0);
        for case in 0..400 {
            let amounts = MENU.map(|_| 1.0 + 40.0 * share() * share());
            let sum: f64 = amounts.iter().sum();
            let line = |(id, amount): (&&str, &f64)| {
                Line::of(substances::find(id).expect("an ingredient"), 100.0 * amount / sum)
            };
            let recipe = Recipe::new(MENU.iter().zip(&amounts).map(line).collect()).expect("sums to 100");
            let wishes = Wishes {
                format: Format::Pot,
                coldest_c: 20.0,
                hottest_c: 30.0,
                skin_c: 32.5,
                firmness: None,
                on_skin: None,
            };
            let scope = Scope { step: 0.5, changes: 3, ..Scope::default() };
            let mut problem = Problem::new(&recipe, Vec::new(), wishes, &scope).expect("a question");
            // Three lines, of which one at least is wax, share a sum: a triangle of side 1, 4 or 16 %.
            let lines = [case % 3, 3 + case % 5, (case + 1) % 3];
            let side = [1.0, 4.0, 16.0][case % 3];
            let at = [0; 3].map(|_| 12.0 * share());
            let corners = [0, 1, 2].map(|grown| {
                let mut corner = at;
                corner[grown] += side;
                corner
            });
            let demand = |low, high| {
                let band = Band {
                    wish: Wish::FirmnessAtUsual,
                    place: Where::Usual,
                    quantity: Quantity::Structure,
                    low,
                    high,
                };
                let worth =
                    if case % 3 == 0 { Solids { ester: 0.6, ..Solids::ONE_EACH } } else { Solids::ONE_EACH };
                Demand { celsius: 15.0 + case as f64 % 25.0, band, worth, counts: Counts::ByPoint(1.0) }
            };
            let figure = |problem: &Problem, shares: &[f64; 3]| {
                let mut evaluator = Evaluator::new(problem);
                let targets = evaluator.targets();
                evaluator.figures(&targets, &lines, shares).1[0]
            };
            problem.demands = vec![demand(0.0, f64::INFINITY)];
            let middle = figure(&problem, &at.map(|amount| amount + side / 3.0));
            let is_short = case % 2 == 0;
            problem.demands = vec![if is_short {
                demand(middle + 3.0 * share(), f64::INFINITY)
            } else {
                demand(0.0, middle - 3.0 * share())
            }];
            let mut evaluator = Evaluator::new(&problem);
            let bound = evaluator.bound(0, &lines, &corners);
            let [Slack { at_corners, .. }] = evaluator.slacks[..] else { continue };
            bounded += 1;
            excluded += u64::from(bound.least > 0);
            for trial in 0..12 {
                let mut parts = [share(), share(), share()];
                if trial < 3 {
                    parts = [0.0; 3];
                    parts[trial] = 1.0;
                }
                let whole: f64 = parts.iter().sum();
                let parts = parts.map(|part| part / whole);
                let shares = [0, 1, 2].map(|line| (0..3).map(|at| parts[at] * corners[at][line]).sum());
                let found = figure(&problem, &shares);
                let Band { low, high, .. } = problem.demands[0].band;
                let inside = if is_short { found - low } else { high - found };
                let most: f64 = parts.iter().zip(at_corners).map(|(part, slack)| part * slack).sum();
                assert!(inside <= most + 1e-6, "case {case}: {inside} inside, {most} at most");
            }
        }
        assert!(bounded > 300 && excluded > 100, "{bounded} bounded, {excluded} excluded");
    }
}
