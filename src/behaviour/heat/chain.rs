//! The solver: cells in a row that exchange heat with their neighbours and with what is outside.

use super::Enthalpy;

/// One finite volume.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    /// kg.
    pub mass_kg: f64,
    /// Which of the chain's materials.
    pub material: usize,
}

/// A conductance from a cell to something whose temperature is given.
#[derive(Clone, Copy, Debug)]
pub struct Outside {
    /// Which cell.
    pub cell: usize,
    /// W/K.
    pub w_per_k: f64,
    /// Which temperature, as [`Ambient`] numbers them.
    pub ambient: usize,
}

/// Given temperatures, °C, by time in seconds and number.
pub type Ambient<'a> = &'a dyn Fn(f64, usize) -> f64;

/// Cells in a row.
#[derive(Clone, Debug)]
pub struct ThermalChain {
    /// The materials that cells refer to.
    pub materials: Vec<Enthalpy>,
    /// The cells.
    pub cells: Vec<Cell>,
    /// Conductance between each cell and the next, W/K; one fewer than cells.
    pub links_w_per_k: Vec<f64>,
    /// Ways out of the row.
    pub outside: Vec<Outside>,
}

/// How a run is controlled.
#[derive(Clone, Debug)]
pub struct Control {
    /// When to end, s.
    pub end_s: f64,
    /// Times to land on, s, rising: corners of the given temperatures, and when a report is wanted.
    pub stops_s: Vec<f64>,
    /// The longest step, s.
    pub longest_s: f64,
    /// The largest difference in a cell's enthalpy, J/kg, between the step and one of first
    /// order; the error itself is less.
    pub error_j_per_kg: f64,
}

/// The state after an accepted step.
pub struct ChainState<'a> {
    /// s.
    pub time_s: f64,
    /// Enthalpy of each cell, J/kg.
    pub j_per_kg: &'a [f64],
}

/// What a run came to.
#[derive(Clone, Debug)]
pub struct ThermalRun {
    /// Enthalpy of each cell at the end, J/kg.
    pub j_per_kg: Vec<f64>,
    /// Heat that came in from outside, J.
    pub heat_in_j: f64,
    /// Accepted steps.
    pub steps: usize,
    /// Linear systems solved, which is what a run costs.
    pub solves: usize,
    /// When it ended, s.
    pub time_s: f64,
}

/// The method's one number, 1 − 1/√2: with it both orders hold and fast changes die out (L-stability).
const GAMMA: f64 = 1.0 - core::f64::consts::FRAC_1_SQRT_2;
/// Residual at which a stage counts as solved, as a share of the error that a step may make.
const SOLVED: f64 = 1e-3;
const NEWTON_STEPS: usize = 40;
const SHORTEST_S: f64 = 1e-6;
/// No run needs as many steps; a bound so that none can hang.
const MOST_STEPS: usize = 200_000;

impl ThermalChain {
    /// Heat held, J, over the zero of each material's table.
    pub fn heat_j(&self, j_per_kg: &[f64]) -> f64 {
        self.cells.iter().zip(j_per_kg).map(|(cell, h)| cell.mass_kg * h).sum()
    }

    /// The solid fraction, 0..=1, of the cells in `range`, by mass.
    pub fn solid(&self, range: std::ops::Range<usize>, j_per_kg: &[f64]) -> f64 {
        let (mut solid, mut mass) = (0.0, 0.0);
        for (cell, h) in self.cells[range.clone()].iter().zip(&j_per_kg[range]) {
            solid += cell.mass_kg * self.materials[cell.material].solid(*h);
            mass += cell.mass_kg;
        }
        if mass > 0.0 { solid / mass } else { 0.0 }
    }

    /// The temperature of a cell, °C.
    pub fn temperature_c(&self, cell: usize, j_per_kg: &[f64]) -> f64 {
        self.materials[self.cells[cell].material].temperature_c(j_per_kg[cell]).0
    }

    /// Runs from the given temperatures, one a cell; `watch` sees the start and every step, and
    /// stops the run by returning false.
    pub fn run(
        &self,
        start_c: &[f64],
        ambient: Ambient<'_>,
        control: &Control,
        watch: &mut dyn FnMut(&ChainState<'_>) -> bool,
    ) -> ThermalRun {
        let mut row = SteppedChain::new(self, SOLVED * control.error_j_per_kg);
        let mut now: Vec<f64> =
            row.nodes.iter().zip(start_c).map(|(node, c)| node.material.j_per_kg(*c)).collect();
        // The two stages, where the second starts from, and how fast enthalpies change, J/(kg s).
        let (mut early, mut late, mut from) = (now.clone(), now.clone(), now.clone());
        let mut rate = vec![0.0; now.len()];
        let (mut time_s, mut heat_in_j, mut steps) = (0.0, 0.0, 0);
        let mut step_s = (control.longest_s * 1e-3).max(SHORTEST_S);
        let mut stops =
            control.stops_s.iter().copied().filter(|stop| *stop > 0.0 && *stop < control.end_s).peekable();
        let mut go_on = watch(&ChainState { time_s, j_per_kg: &now });
        while go_on && time_s < control.end_s && steps < MOST_STEPS {
            while stops.next_if(|stop| *stop <= time_s).is_some() {}
            let target = stops.peek().copied().unwrap_or(control.end_s);
            let lands = time_s + step_s >= target - SHORTEST_S;
            let length = if lands { target - time_s } else { step_s };
            let next_s = if lands { target } else { time_s + length };
            let part_s = GAMMA * length;
            for ((h, now), rate) in early.iter_mut().zip(&now).zip(&rate) {
                *h = now + part_s * rate;
            }
            let one = row.stage(&now, &mut early, |number| ambient(time_s + part_s, number), part_s);
            for (((from, h), now), early) in from.iter_mut().zip(&mut late).zip(&now).zip(&early) {
                *from = now + (1.0 - GAMMA) / GAMMA * (early - now);
                *h = now + (early - now) / GAMMA;
            }
            let two = row.stage(&from, &mut late, |number| ambient(next_s, number), part_s);
            let mut error = 0.0;
            for (((now, early), from), late) in now.iter().zip(&early).zip(&from).zip(&late) {
                let differ = ((late - from) - (early - now)).abs();
                if differ > error {
                    error = differ;
                }
            }
            let solved = one.solved && two.solved;
            let good = solved && error <= control.error_j_per_kg;
            if good || length <= SHORTEST_S {
                for ((rate, from), late) in rate.iter_mut().zip(&from).zip(&late) {
                    *rate = (late - from) / part_s;
                }
                now.copy_from_slice(&late);
                heat_in_j += (1.0 - GAMMA) / GAMMA * one.heat_in_j + two.heat_in_j;
                time_s = next_s;
                steps += 1;
                go_on = watch(&ChainState { time_s, j_per_kg: &now });
            }
            // The error of a step goes as the square of its length.
            let change = if solved { 0.9 * (control.error_j_per_kg / error.max(1e-12)).sqrt() } else { 0.3 };
            let proposed = (length * change.clamp(0.2, 3.0)).clamp(SHORTEST_S, control.longest_s);
            // A step cut short to land on a stop says little about how long the next may be.
            step_s = if good && lands { step_s.max(proposed).min(control.longest_s) } else { proposed };
        }
        ThermalRun { j_per_kg: now, heat_in_j, steps, solves: row.solves, time_s }
    }
}

/// What solving one stage came to.
struct StageSolved {
    solved: bool,
    heat_in_j: f64,
}

/// The chain laid out for stepping: all of a cell in one place, so that a pass reads each once.
struct SteppedChain<'c> {
    nodes: Vec<SteppedCell<'c>>,
    outside: &'c [Outside],
    solved_j_per_kg: f64,
    solves: usize,
}

/// A cell, its link to the next, and the working room of a stage.
struct SteppedCell<'c> {
    material: &'c Enthalpy,
    mass_kg: f64,
    /// To the next cell, W/K.
    link_w_per_k: f64,
    /// All ways out of the row from here, W/K, and what they would bring at 0 °C, W.
    outside_w_per_k: f64,
    outside_w: f64,
    /// Enthalpy before the stage and now, J/kg.
    old: f64,
    new: f64,
    /// °C now, kelvin per J/kg, and the piece of the material's table that it lies in.
    at_c: f64,
    slope: f64,
    piece: usize,
    /// Heat that flows in from the next cell, W, and that cell's slope.
    from_next_w: f64,
    next_slope: f64,
    /// Heat that flows in from outside, and from everywhere, W.
    from_outside_w: f64,
    inflow_w: f64,
    /// Of the elimination.
    upper: f64,
    change: f64,
}

impl<'c> SteppedChain<'c> {
    fn new(chain: &'c ThermalChain, solved_j_per_kg: f64) -> SteppedChain<'c> {
        let links = chain.links_w_per_k.iter().copied().chain([0.0]);
        let nodes = chain.cells.iter().zip(links).map(|(cell, link_w_per_k)| SteppedCell {
            material: &chain.materials[cell.material],
            mass_kg: cell.mass_kg,
            link_w_per_k,
            outside_w_per_k: 0.0,
            outside_w: 0.0,
            old: 0.0,
            new: 0.0,
            at_c: 0.0,
            slope: 0.0,
            piece: 0,
            from_next_w: 0.0,
            next_slope: 0.0,
            from_outside_w: 0.0,
            inflow_w: 0.0,
            upper: 0.0,
            change: 0.0,
        });
        let mut row =
            SteppedChain { nodes: nodes.collect(), outside: &chain.outside, solved_j_per_kg, solves: 0 };
        for way in row.outside {
            row.nodes[way.cell].outside_w_per_k += way.w_per_k;
        }
        row
    }

    /// One stage: a backward Euler step from `old`, solved for the enthalpies by Newton's method from the
    /// guess in `new`. The new enthalpies are then taken from the fluxes, so that what one cell loses its
    /// neighbour gains, however well the stage was solved.
    fn stage(
        &mut self,
        old: &[f64],
        new: &mut [f64],
        ambient_c: impl Fn(usize) -> f64,
        length_s: f64,
    ) -> StageSolved {
        for ((node, old), new) in self.nodes.iter_mut().zip(old).zip(&*new) {
            (node.old, node.new, node.outside_w) = (*old, *new, 0.0);
        }
        for way in self.outside {
            self.nodes[way.cell].outside_w += way.w_per_k * ambient_c(way.ambient);
        }
        let mut solved = false;
        for turn in 0..NEWTON_STEPS {
            self.look_up();
            if self.eliminate(length_s) <= self.solved_j_per_kg {
                solved = true;
                break;
            }
            self.solves += 1;
            self.move_by(if turn < NEWTON_STEPS / 3 { 1.0 } else { 0.5 });
        }
        let mut heat_in_j = 0.0;
        for (node, new) in self.nodes.iter().zip(new) {
            heat_in_j += length_s * node.from_outside_w;
            *new = node.old + length_s * node.inflow_w / node.mass_kg;
        }
        StageSolved { solved, heat_in_j }
    }

    /// Temperatures, and what flows between neighbours.
    fn look_up(&mut self) {
        let (mut next_c, mut next_slope) = (0.0, 0.0);
        for node in self.nodes.iter_mut().rev() {
            (node.at_c, node.slope) = node.material.temperature_near(node.new, &mut node.piece);
            node.from_next_w = node.link_w_per_k * (next_c - node.at_c);
            node.next_slope = next_slope;
            (next_c, next_slope) = (node.at_c, node.slope);
        }
    }

    /// The way down of the tridiagonal elimination of a Newton step; returns the largest residual,
    /// J/kg. Its columns are diagonally dominant (a cell's own heat comes on top of what it
    /// shares), so no pivot vanishes.
    fn eliminate(&mut self, length_s: f64) -> f64 {
        let (mut link, mut from_next_w, mut slope, mut upper, mut change) = (0.0, 0.0, 0.0, 0.0, 0.0);
        let mut worst = 0.0_f64;
        for node in &mut self.nodes {
            node.from_outside_w = node.outside_w - node.outside_w_per_k * node.at_c;
            node.inflow_w = node.from_outside_w + node.from_next_w - from_next_w;
            let residual = node.mass_kg * (node.new - node.old) - length_s * node.inflow_w;
            let off = residual.abs() / node.mass_kg;
            if off > worst {
                worst = off;
            }
            let shared = link + node.link_w_per_k + node.outside_w_per_k;
            let lower = -length_s * link * slope;
            let pivot = node.mass_kg + length_s * shared * node.slope - lower * upper;
            node.upper = -length_s * node.link_w_per_k * node.next_slope / pivot;
            node.change = (residual - lower * change) / pivot;
            (link, from_next_w, slope) = (node.link_w_per_k, node.from_next_w, node.slope);
            (upper, change) = (node.upper, node.change);
        }
        worst
    }

    /// The way back, and the move, so much of it.
    fn move_by(&mut self, damping: f64) {
        let mut change = 0.0;
        for node in self.nodes.iter_mut().rev() {
            change = node.change - node.upper * change;
            node.new -= damping * change;
        }
    }
}
