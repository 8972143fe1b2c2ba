//! Recipes judged: what the bands say of one set of percentages.

use std::sync::Arc;

use crate::{
    behaviour::{Quantity, Solids},
    equilibrium::{
        Blend, Enclosure, Equilibrium, IsothermalSection, Part, Slope, SolidsByKind, State, View, Weighting,
    },
    ordered::{greater, lesser},
    rework::{
        grid::CORNERS,
        question::{Demand, Problem, figure},
    },
};

/// Misses are counted in millionths of a percent point, so that rounding never decides.
const MISS_UNITS: f64 = 1e6;

/// Those of whole recipes in hundredths of a percent point, in these units: nobody feels less, and a search that had to tell it
/// apart would look at every one of many recipes that are all but alike, all liquid for instance.
const GRAIN: u64 = 10_000;

/// A temperature at which something is wanted.
pub(crate) struct Station {
    celsius: f64,
    pub(crate) view: View,
    /// How many lines, and which.
    loaded: Option<(usize, [usize; 4])>,
    demands: Vec<Demand>,
    figures: Vec<Figure>,
}

/// A quantity that is wanted at a station.
struct Figure {
    quantity: Quantity,
    weighting: Weighting,
}

impl Station {
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
        let quantity = demand.band.quantity;
        if !self.figures.iter().any(|it| it.quantity == quantity) {
            let (by_kind, powder) = weights(quantity);
            self.figures
                .push(Figure { quantity, weighting: self.view.section().weighting(&by_kind, powder) });
        }
        self.demands.push(demand);
    }

    /// How far a state is outside the bands here, in all.
    pub(crate) fn miss(&self, state: &Equilibrium) -> f64 {
        let miss = |it: &Demand| it.weight * it.band.miss(figure(it.band.quantity, state));
        self.demands.iter().map(miss).sum()
    }
}

/// A miss as a whole number that is 0 only where nothing is missed.
pub(crate) fn units(miss: f64) -> u64 {
    (miss * MISS_UNITS).ceil() as u64
}

/// A miss in [`units`], or the least that it can be, as it counts of a whole recipe.
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

/// A miss as a whole number that it is at least.
fn units_at_least(miss: f64) -> u64 {
    (miss * MISS_UNITS).floor() as u64
}

/// What a quantity counts each kind of solid for, and powder, read off the figure itself: it is a sum of these, up to 100.
fn weights(quantity: Quantity) -> (SolidsByKind, f64) {
    let of = |solids: Solids| match quantity {
        Quantity::Structure => solids.structure_percent(),
        Quantity::Solid => solids.fat_percent(),
    };
    let none = Solids::default();
    let by_kind = SolidsByKind {
        triglyceride: of(Solids { triglyceride: 1.0, ..none }),
        acid: of(Solids { acid: 1.0, ..none }),
        alcohol: of(Solids { alcohol: 1.0, ..none }),
        ester: of(Solids { ester: 1.0, ..none }),
        alkane: of(Solids { alkane: 1.0, ..none }),
        mixed_ester: of(Solids { mixed_ester: 1.0, ..none }),
        glyceride: of(Solids { glyceride: 1.0, ..none }),
    };
    (by_kind, of(Solids { powder: 1.0, ..none }))
}

/// A figure that must lie within a band.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted {
    pub(crate) station: usize,
    /// Which of the station's.
    figure: usize,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

/// How far inside one end of a band the figure may be at most at each corner of what was bounded, percent points, less than 0 where it is
/// outside; of a mixture of the corners the same mixture of these. And what a point that is missed counts for.
pub(crate) struct Limit {
    pub(crate) inside: [f64; CORNERS],
    pub(crate) weight: f64,
}

/// What is known of a region at one temperature, percent points.
pub(crate) struct Bound {
    /// What every recipe misses by at least, in [`units`].
    pub(crate) least: u64,
    /// What its middle nearly misses by, percent points.
    pub(crate) middle: f64,
}

/// Judges recipes of one problem.
pub(crate) struct Judge {
    present: Vec<f64>,
    stations: Vec<Station>,
    /// The stations, the one first that excluded a region last.
    order: Vec<usize>,
    solves: u64,
    /// Of the region that was bounded last, at one temperature.
    pub(crate) limits: Vec<Limit>,
    enclosure: Enclosure,
}

impl Judge {
    /// Of recipes that differ from the present one in some lines.
    pub(crate) fn new(problem: &Problem) -> Judge {
        Judge::of(problem, false)
    }

    /// Of what a batch of the present recipe becomes when something is melted in; the batch itself is the line after the
    /// candidates.
    pub(crate) fn of_batch(problem: &Problem) -> Judge {
        Judge::of(problem, true)
    }

    fn of(problem: &Problem, batch: bool) -> Judge {
        let parts: Vec<Part<'_>> = problem.candidates.iter().map(|candidate| candidate.line.part()).collect();
        let blend = Blend::new(&parts, State::Settled);
        let mut stations: Vec<Station> = Vec::new();
        for demand in &problem.demands {
            match stations.iter_mut().find(|station| station.celsius == demand.celsius) {
                Some(station) => station.demand(*demand),
                None => {
                    let mut section = IsothermalSection::new(&blend, demand.celsius);
                    if batch {
                        section.merge(&problem.amounts());
                    }
                    let view = View::of(&Arc::new(section));
                    let (demands, figures) = (Vec::new(), Vec::new());
                    let mut station =
                        Station { celsius: demand.celsius, view, loaded: None, demands, figures };
                    station.demand(*demand);
                    stations.push(station);
                }
            }
        }
        let present = if batch { Vec::new() } else { problem.amounts() };
        Judge {
            present,
            order: (0..stations.len()).collect(),
            stations,
            solves: 0,
            limits: Vec::new(),
            enclosure: Enclosure::default(),
        }
    }

    /// The total miss of a whole recipe, in [`units`].
    pub(crate) fn miss_of(&mut self, amounts: &[f64]) -> u64 {
        let mut miss = 0.0;
        for station in &mut self.stations {
            self.solves += 1;
            station.view.load(amounts, &[]);
            station.loaded = None;
            let state = station.view.at(&[0.0; 3]);
            miss += station.miss(&state);
        }
        of_recipe(miss)
    }

    /// The total miss of a support's lines at these percentages, in [`units`].
    pub(crate) fn miss(&mut self, lines: &[usize], amounts: &[f64; 3]) -> u64 {
        let mut miss = 0.0;
        for at in 0..self.stations.len() {
            miss += self.at(at, lines, amounts);
        }
        of_recipe(miss)
    }

    /// Whether every band is met; else the miss where that was first seen, in [`units`].
    pub(crate) fn meets(&mut self, lines: &[usize], amounts: &[f64; 3]) -> Result<(), u64> {
        for at in 0..self.stations.len() {
            let miss = of_recipe(self.at(at, lines, amounts));
            if miss > 0 {
                return Err(miss);
            }
        }
        Ok(())
    }

    /// What every recipe of a region misses by at least, in [`units`], from the first temperature that says so; where none does, a guess at
    /// what its middle misses by.
    pub(crate) fn misses_somewhere(&mut self, lines: &[usize], corners: &[[f64; 3]]) -> Result<u64, u64> {
        let mut guess = 0.0;
        for place in 0..self.order.len() {
            let at = self.order[place];
            let Bound { least, middle } = self.bound(at, lines, corners);
            if least > 0 {
                // What excluded one region is likely to exclude the next.
                self.order.swap(0, place);
                return Err(least);
            }
            guess += middle;
        }
        Ok(units(guess))
    }

    /// What every recipe of a region misses by at least, over all temperatures, in [`units`].
    pub(crate) fn misses_in_all(&mut self, lines: &[usize], corners: &[[f64; 3]]) -> u64 {
        (0..self.stations.len()).map(|at| self.bound(at, lines, corners).least).sum()
    }

    /// What is known of a region at one temperature, with one state solved for each figure; [`Judge::limits`] tell more.
    pub(crate) fn bound(&mut self, at: usize, lines: &[usize], corners: &[[f64; 3]]) -> Bound {
        self.limits.clear();
        let station = &mut self.stations[at];
        station.load(&self.present, lines);
        let (mut miss, mut guess) = (0.0, 0.0);
        for Figure { quantity, weighting } in &station.figures {
            self.solves += 1;
            let Some(centre) = station.view.centre(corners, weighting) else { continue };
            let demands = station.demands.iter().filter(|it| it.band.quantity == *quantity);
            let off: f64 =
                demands.clone().map(|it| it.weight * it.band.miss(centre.percent.min(100.0))).sum();
            guess += off;
            // Where the middle misses nothing, no bound can say that all do.
            if off <= 0.0 {
                continue;
            }
            let bounds = self.enclosure.bounds_around(&mut station.view, centre, corners, weighting);
            let Some([low, high]) = bounds else { continue };
            for Demand { band, weight, .. } in demands {
                // No figure is above 100, whatever its solids count for: of what is concave, the lesser with it is concave too.
                let mut inside = [[0.0; CORNERS]; 2];
                let mut most = [f64::NEG_INFINITY; 2];
                for at in 0..CORNERS {
                    inside[0][at] = high[at] - band.low;
                    inside[1][at] = band.high - lesser(low[at], 100.0);
                    most = [greater(most[0], inside[0][at]), greater(most[1], inside[1][at])];
                }
                for end in 0..2 {
                    miss += weight * greater(-most[end], 0.0);
                    self.limits.push(Limit { inside: inside[end], weight: *weight });
                }
            }
        }
        Bound { least: units_at_least(miss), middle: guess }
    }

    /// The miss that counts, in [`units`], of a whole recipe: as it is, or with [`Problem::any_step`] at its worst.
    pub(crate) fn miss_weighed(&mut self, problem: &Problem, amounts: &[f64], enough: u64) -> u64 {
        if problem.any_step {
            self.miss_any_step(amounts, problem.step, enough)
        } else {
            self.miss_of(amounts)
        }
    }

    /// The greatest total miss, in [`units`], of a whole recipe and of those that it becomes when one line is weighed a step more
    /// or less; no more than what is above `enough`.
    fn miss_any_step(&mut self, amounts: &[f64], step: f64, enough: u64) -> u64 {
        let mut worst = self.miss_of(amounts);
        for line in 0..amounts.len() {
            for off in [-step, step] {
                if worst > enough || amounts[line] <= 0.0 || amounts[line] + off < 0.0 {
                    continue;
                }
                let mut weighed = amounts.to_vec();
                weighed[line] += off;
                worst = worst.max(self.miss_of(&weighed));
            }
        }
        worst
    }

    /// The figures that bands are on.
    pub(crate) fn wanted(&self) -> Vec<Wanted> {
        let mut wanted: Vec<Wanted> = Vec::new();
        for (station, it) in self.stations.iter().enumerate() {
            for (figure, Figure { quantity, .. }) in it.figures.iter().enumerate() {
                let mut all = Wanted { station, figure, low: f64::NEG_INFINITY, high: f64::INFINITY };
                for Demand { band, .. } in it.demands.iter().filter(|it| it.band.quantity == *quantity) {
                    (all.low, all.high) = (all.low.max(band.low), all.high.min(band.high));
                }
                wanted.push(all);
            }
        }
        wanted
    }

    /// What a support's lines at these percentages miss by, in [`units`], and what they give of what is wanted.
    pub(crate) fn read(&mut self, wanted: &[Wanted], lines: &[usize], amounts: &[f64; 3]) -> (u64, Vec<f64>) {
        let (mut miss, mut figures) = (0.0, Vec::with_capacity(wanted.len()));
        for (at, station) in self.stations.iter_mut().enumerate() {
            self.solves += 1;
            station.load(&self.present, lines);
            let state = station.view.at(amounts);
            miss += station.miss(&state);
            let here = wanted.iter().filter(|it| it.station == at);
            figures.extend(here.map(|it| figure(station.figures[it.figure].quantity, &state)));
        }
        (of_recipe(miss), figures)
    }

    /// How what is wanted moves with every candidate from the percentages that were read last.
    pub(crate) fn slopes(&self, wanted: &[Wanted], amounts: &[f64; 3]) -> Vec<Vec<Slope>> {
        let slopes = |it: &Wanted| {
            let station = &self.stations[it.station];
            station.view.slopes(amounts, &station.figures[it.figure].weighting)
        };
        wanted.iter().map(slopes).collect()
    }

    fn at(&mut self, at: usize, lines: &[usize], amounts: &[f64; 3]) -> f64 {
        self.solves += 1;
        let station = &mut self.stations[at];
        station.load(&self.present, lines);
        let state = station.view.at(amounts);
        station.miss(&state)
    }

    /// How many equilibria were solved so far.
    pub(crate) fn solves(&self) -> u64 {
        self.solves
    }
}
