//! A slow general solver: Φ in all its variables at once, by a primal-dual interior-point method over a dense
//! matrix.
//!
//! Maximises Φ(L, S) = Σ n_i ln(L + S_k(i) K_i) + n_0 ln L − L − Σ S_k over L, S ≥ 0 for n_0 moles that never
//! crystallise. With multipliers z of the bounds, ∇Φ + z = 0 and v z = μ is solved by Newton's method for
//! ever smaller μ (Nocedal & Wright, Numerical Optimization, 2nd ed., ch. 19). It shares nothing with the
//! engine's nested method but the statement of the problem.

use meltmargin::equilibrium::SpeciesState;

/// Where the barrier is small enough to matter to no digit that is compared.
const LEAST_BARRIER: f64 = 1e-17;

/// The moles of liquid and of each phase; amounts are moles.
pub(crate) fn solve(species: &[SpeciesState], liquid_remainder: f64) -> Vec<f64> {
    let total: f64 = liquid_remainder + species.iter().map(|one| one.moles).sum::<f64>();
    let phases = species.iter().map(|one| one.phase + 1).max().unwrap_or(0);
    let size = 1 + phases;
    let problem: Vec<(f64, f64, usize)> = species
        .iter()
        .map(|one| (one.moles / total, libm::exp(one.log_distribution), 1 + one.phase))
        .collect();
    let remainder = liquid_remainder / total;

    let mut v = vec![1.0 / size as f64; size];
    let mut z = vec![1.0; size];
    let mut barrier = 0.1;
    for _ in 0..2_000 {
        let (gradient, mut matrix) = derivatives(&problem, remainder, &v);
        let residual = (0..size).map(|at| (gradient[at] + z[at]).abs()).fold(0.0, f64::max);
        let gap = (0..size).map(|at| (v[at] * z[at] - barrier).abs()).fold(0.0, f64::max);
        if residual.max(gap) <= 10.0 * barrier {
            if barrier <= LEAST_BARRIER {
                break;
            }
            barrier *= 0.2;
        }
        for at in 0..size {
            matrix[at][at] += z[at] / v[at];
        }
        let right: Vec<f64> = (0..size).map(|at| gradient[at] + barrier / v[at]).collect();
        let step = solve_positive(matrix, right);
        let dual: Vec<f64> = (0..size).map(|at| barrier / v[at] - z[at] - z[at] / v[at] * step[at]).collect();
        let length = |values: &[f64], steps: &[f64]| {
            values
                .iter()
                .zip(steps)
                .filter(|(_, step)| **step < 0.0)
                .map(|(value, step)| -0.99 * value / step)
                .fold(1.0, f64::min)
        };
        let mut ahead = length(&v, &step);
        let objective = |v: &[f64]| {
            value(&problem, remainder, v) + barrier * v.iter().map(|v| libm::log(*v)).sum::<f64>()
        };
        let before = objective(&v);
        let try_at =
            |ahead: f64| -> Vec<f64> { v.iter().zip(&step).map(|(v, step)| v + ahead * step).collect() };
        while ahead > 1e-6 && objective(&try_at(ahead)) < before - 1e-12 * before.abs() {
            ahead *= 0.5;
        }
        let dual_ahead = length(&z, &dual);
        v = try_at(ahead);
        for (z, dual) in z.iter_mut().zip(&dual) {
            *z += dual_ahead * dual;
        }
    }
    v.iter().map(|v| v * total).collect()
}

fn value(problem: &[(f64, f64, usize)], remainder: f64, v: &[f64]) -> f64 {
    let mixing: f64 = problem.iter().map(|(n, k, phase)| n * libm::log(v[0] + v[*phase] * k)).sum();
    let remainder = if remainder > 0.0 { remainder * libm::log(v[0]) } else { 0.0 };
    mixing + remainder - v.iter().sum::<f64>()
}

/// The gradient of Φ, and its second derivatives with the sign turned.
fn derivatives(problem: &[(f64, f64, usize)], remainder: f64, v: &[f64]) -> (Vec<f64>, Vec<Vec<f64>>) {
    let mut gradient = vec![-1.0; v.len()];
    let mut matrix = vec![vec![0.0; v.len()]; v.len()];
    gradient[0] += remainder / v[0];
    matrix[0][0] += remainder / (v[0] * v[0]);
    for (n, k, phase) in problem {
        let amount = v[0] + v[*phase] * k;
        let (liquid, solid) = (1.0 / amount, k / amount);
        gradient[0] += n * liquid;
        gradient[*phase] += n * solid;
        matrix[0][0] += n * liquid * liquid;
        matrix[0][*phase] += n * liquid * solid;
        matrix[*phase][0] += n * liquid * solid;
        matrix[*phase][*phase] += n * solid * solid;
    }
    (gradient, matrix)
}

/// Solves a positive definite system by Cholesky's method.
fn solve_positive(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let size = b.len();
    for row in 0..size {
        for column in 0..=row {
            let sum: f64 = (0..column).map(|at| a[row][at] * a[column][at]).sum();
            if row == column {
                a[row][row] = libm::sqrt((a[row][row] - sum).max(f64::MIN_POSITIVE));
            } else {
                a[row][column] = (a[row][column] - sum) / a[column][column];
            }
        }
    }
    for row in 0..size {
        let sum: f64 = (0..row).map(|at| a[row][at] * b[at]).sum();
        b[row] = (b[row] - sum) / a[row][row];
    }
    for row in (0..size).rev() {
        let sum: f64 = (row + 1..size).map(|at| a[at][row] * b[at]).sum();
        b[row] = (b[row] - sum) / a[row][row];
    }
    b
}
