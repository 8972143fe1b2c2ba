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
pub struct Chain {
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
    /// The largest local error of a cell's enthalpy, J/kg.
    pub error_j_per_kg: f64,
}

/// The state after an accepted step.
pub struct Step<'a> {
    /// s.
    pub time_s: f64,
    /// Enthalpy of each cell, J/kg.
    pub j_per_kg: &'a [f64],
}

/// What a run came to.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Enthalpy of each cell at the end, J/kg.
    pub j_per_kg: Vec<f64>,
    /// Heat that came in from outside, J.
    pub heat_in_j: f64,
    /// Accepted steps.
    pub steps: usize,
    /// When it ended, s.
    pub time_s: f64,
}

/// Residual at which a step counts as solved, as a share of the error that a step may make.
const SOLVED: f64 = 1e-3;
const NEWTON_STEPS: usize = 40;
const SHORTEST_S: f64 = 1e-6;
/// No run needs as many steps; a bound so that none can hang.
const MOST_STEPS: usize = 200_000;

impl Chain {
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

    /// Runs from the given temperatures, one a cell; `watch` sees the start and every step, and stops the run by
    /// returning false.
    pub fn run(
        &self,
        start_c: &[f64],
        ambient: Ambient<'_>,
        control: &Control,
        mut watch: impl FnMut(&Step<'_>) -> bool,
    ) -> Outcome {
        let count = self.cells.len();
        let mut now: Vec<f64> = self
            .cells
            .iter()
            .zip(start_c)
            .map(|(cell, c)| self.materials[cell.material].j_per_kg(*c))
            .collect();
        let mut scratch = Scratch::new(count, SOLVED * control.error_j_per_kg);
        let (mut whole, mut half, mut halves) = (vec![0.0; count], vec![0.0; count], vec![0.0; count]);
        let (mut time_s, mut heat_in_j, mut steps) = (0.0, 0.0, 0);
        let mut step_s = (control.longest_s * 1e-3).max(SHORTEST_S);
        let mut stops =
            control.stops_s.iter().copied().filter(|stop| *stop > 0.0 && *stop < control.end_s).peekable();
        let mut go_on = watch(&Step { time_s, j_per_kg: &now });
        while go_on && time_s < control.end_s && steps < MOST_STEPS {
            while stops.next_if(|stop| *stop <= time_s).is_some() {}
            let target = stops.peek().copied().unwrap_or(control.end_s);
            let lands = time_s + step_s >= target - SHORTEST_S;
            let length = if lands { target - time_s } else { step_s };
            let next_s = if lands { target } else { time_s + length };
            // Each step starts from what the one before found, which is closer than where it came from.
            whole.copy_from_slice(&now);
            let one = self.step(&now, &mut whole, ambient, next_s, length, &mut scratch);
            for ((h, a), b) in half.iter_mut().zip(&now).zip(&whole) {
                *h = 0.5 * (a + b);
            }
            let first =
                self.step(&now, &mut half, ambient, time_s + 0.5 * length, 0.5 * length, &mut scratch);
            halves.copy_from_slice(&whole);
            let second = self.step(&half, &mut halves, ambient, next_s, 0.5 * length, &mut scratch);
            let error = whole.iter().zip(&halves).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            let solved = one.solved && first.solved && second.solved;
            let good = solved && error <= control.error_j_per_kg;
            if good || length <= SHORTEST_S {
                for ((h, a), b) in now.iter_mut().zip(&whole).zip(&halves) {
                    *h = 2.0 * b - a;
                }
                heat_in_j += 2.0 * (first.heat_in_j + second.heat_in_j) - one.heat_in_j;
                time_s = next_s;
                steps += 1;
                go_on = watch(&Step { time_s, j_per_kg: &now });
            }
            // The error of one step goes as the square of its length.
            let change =
                if solved { 0.9 * libm::sqrt(control.error_j_per_kg / error.max(1e-12)) } else { 0.3 };
            let proposed = (length * change.clamp(0.2, 3.0)).clamp(SHORTEST_S, control.longest_s);
            // A step cut short to land on a stop says little about how long the next may be.
            step_s = if good && lands { step_s.max(proposed).min(control.longest_s) } else { proposed };
        }
        Outcome { j_per_kg: now, heat_in_j, steps, time_s }
    }

    /// One backward Euler step, solved by Newton's method in the enthalpies from the guess in `new`; the new enthalpies are then taken from the
    /// fluxes, so that what one cell loses its neighbour gains however well it was solved.
    fn step(
        &self,
        old: &[f64],
        new: &mut [f64],
        ambient: Ambient<'_>,
        time_s: f64,
        length_s: f64,
        scratch: &mut Scratch,
    ) -> Solved {
        let count = self.cells.len();
        scratch.outside_w_per_k.fill(0.0);
        scratch.outside_w.fill(0.0);
        for way in &self.outside {
            scratch.outside_w_per_k[way.cell] += way.w_per_k;
            scratch.outside_w[way.cell] += way.w_per_k * ambient(time_s, way.ambient);
        }
        let mut solved = false;
        for turn in 0..NEWTON_STEPS {
            self.look_up(new, scratch);
            let worst = self.residual(old, new, length_s, scratch);
            if worst <= scratch.solved_j_per_kg {
                solved = true;
                break;
            }
            let damping = if turn < NEWTON_STEPS / 3 { 1.0 } else { 0.5 };
            scratch.solve(&self.cells, &self.links_w_per_k, length_s);
            for (h, change) in new.iter_mut().zip(&scratch.change) {
                *h -= damping * change;
            }
        }
        let mut heat_in_j = 0.0;
        for at in 0..count {
            let from_outside = scratch.outside_w[at] - scratch.outside_w_per_k[at] * scratch.at_c[at];
            heat_in_j += length_s * from_outside;
            new[at] = old[at]
                + length_s * (from_outside + self.neighbours_w(at, &scratch.at_c)) / self.cells[at].mass_kg;
        }
        Solved { solved, heat_in_j }
    }

    fn look_up(&self, j_per_kg: &[f64], scratch: &mut Scratch) {
        for (at, cell) in self.cells.iter().enumerate() {
            (scratch.at_c[at], scratch.slope[at]) = {
                let piece = &mut scratch.piece[at];
                self.materials[cell.material].temperature_near(j_per_kg[at], piece)
            };
        }
    }

    /// Heat that flows in from the neighbours, W.
    fn neighbours_w(&self, at: usize, at_c: &[f64]) -> f64 {
        let before = if at > 0 { self.links_w_per_k[at - 1] * (at_c[at - 1] - at_c[at]) } else { 0.0 };
        let after =
            if at + 1 < at_c.len() { self.links_w_per_k[at] * (at_c[at + 1] - at_c[at]) } else { 0.0 };
        before + after
    }

    /// Fills the residual, J, and returns its largest, J/kg.
    fn residual(&self, old: &[f64], new: &[f64], length_s: f64, scratch: &mut Scratch) -> f64 {
        let mut worst = 0.0_f64;
        for (at, cell) in self.cells.iter().enumerate() {
            let from_outside = scratch.outside_w[at] - scratch.outside_w_per_k[at] * scratch.at_c[at];
            let inflow = from_outside + self.neighbours_w(at, &scratch.at_c);
            let residual = cell.mass_kg * (new[at] - old[at]) - length_s * inflow;
            scratch.residual[at] = residual;
            worst = worst.max(residual.abs() / cell.mass_kg);
        }
        worst
    }
}

struct Solved {
    solved: bool,
    heat_in_j: f64,
}

/// Working room of a step.
struct Scratch {
    solved_j_per_kg: f64,
    at_c: Vec<f64>,
    slope: Vec<f64>,
    piece: Vec<usize>,
    outside_w_per_k: Vec<f64>,
    outside_w: Vec<f64>,
    residual: Vec<f64>,
    change: Vec<f64>,
    upper: Vec<f64>,
}

impl Scratch {
    fn new(count: usize, solved_j_per_kg: f64) -> Scratch {
        let zeros = || vec![0.0; count];
        Scratch {
            solved_j_per_kg,
            at_c: zeros(),
            slope: zeros(),
            piece: vec![0; count],
            outside_w_per_k: zeros(),
            outside_w: zeros(),
            residual: zeros(),
            change: zeros(),
            upper: zeros(),
        }
    }

    /// Solves the tridiagonal system of a Newton step by elimination. Its columns are diagonally dominant (a cell's own
    /// heat comes on top of what it shares), so no pivot vanishes.
    fn solve(&mut self, cells: &[Cell], links_w_per_k: &[f64], length_s: f64) {
        let count = cells.len();
        for at in 0..count {
            let before = if at > 0 { links_w_per_k[at - 1] } else { 0.0 };
            let after = if at + 1 < count { links_w_per_k[at] } else { 0.0 };
            let own =
                cells[at].mass_kg + length_s * (before + after + self.outside_w_per_k[at]) * self.slope[at];
            let (lower, upper_before, change_before) = if at > 0 {
                (-length_s * before * self.slope[at - 1], self.upper[at - 1], self.change[at - 1])
            } else {
                (0.0, 0.0, 0.0)
            };
            let pivot = own - lower * upper_before;
            self.upper[at] =
                if at + 1 < count { -length_s * after * self.slope[at + 1] / pivot } else { 0.0 };
            self.change[at] = (self.residual[at] - lower * change_before) / pivot;
        }
        for at in (0..count.saturating_sub(1)).rev() {
            self.change[at] -= self.upper[at] * self.change[at + 1];
        }
    }
}
