//! Symmetric matrices of a few dozen rows: Cholesky's factor, by plain loops in one order, so that
//! every machine has the same digits.

/// The lower factor L of a symmetric, positive matrix L·Lᵀ.
pub(super) struct Factor {
    size: usize,
    /// Row by row.
    lower: Vec<f64>,
}

impl Factor {
    /// That of a matrix, row by row, of which only the lower half is read. What is not positive by
    /// rounding is taken for next to nothing.
    pub(super) fn of(mut matrix: Vec<f64>, size: usize) -> Factor {
        const LEAST: f64 = 1e-12;
        for row in 0..size {
            for column in 0..=row {
                let mut sum = matrix[row * size + column];
                for before in 0..column {
                    sum -= matrix[row * size + before] * matrix[column * size + before];
                }
                matrix[row * size + column] =
                    if row == column { sum.max(LEAST).sqrt() } else { sum / matrix[column * size + column] };
            }
        }
        Factor { size, lower: matrix }
    }

    /// L·x.
    pub(super) fn times(&self, x: &[f64]) -> Vec<f64> {
        let of_row = |row: usize| (0..=row).map(|at| self.lower[row * self.size + at] * x[at]).sum();
        (0..self.size).map(of_row).collect()
    }

    /// L⁻¹·x; what is missing of x counts as 0.
    pub(super) fn divide(&self, x: &[f64]) -> Vec<f64> {
        let mut found = x.to_vec();
        found.resize(self.size, 0.0);
        let first = x.iter().position(|x| *x != 0.0).unwrap_or(self.size);
        for row in first..self.size {
            let known: f64 = (first..row).map(|at| self.lower[row * self.size + at] * found[at]).sum();
            found[row] = (found[row] - known) / self.lower[row * self.size + row];
        }
        found
    }

    /// The x of L·Lᵀ·x = y.
    pub(super) fn solve(&self, y: &[f64]) -> Vec<f64> {
        let mut found = self.divide(y);
        for row in (0..self.size).rev() {
            let known: f64 =
                (row + 1..self.size).map(|at| self.lower[at * self.size + row] * found[at]).sum();
            found[row] = (found[row] - known) / self.lower[row * self.size + row];
        }
        found
    }

    /// The first rows and columns of the inverse of the matrix, row by row.
    pub(super) fn inverse(&self, first: usize) -> Vec<f64> {
        let mut inverse = Vec::with_capacity(first * first);
        for column in 0..first {
            let unit: Vec<f64> = (0..self.size).map(|at| f64::from(u8::from(at == column))).collect();
            inverse.extend_from_slice(&self.solve(&unit)[..first]);
        }
        inverse
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_factor_solves_and_inverts() {
        let size = 7;
        let root: Vec<f64> = (0..size * size).map(|at| ((at * 37 + 11) % 19) as f64 / 19.0 - 0.4).collect();
        let entry = |row: usize, column: usize| -> f64 {
            let product: f64 = (0..size).map(|at| root[row * size + at] * root[column * size + at]).sum();
            product + f64::from(u8::from(row == column))
        };
        let matrix: Vec<f64> = (0..size * size).map(|at| entry(at / size, at % size)).collect();
        let factor = Factor::of(matrix.clone(), size);
        let x: Vec<f64> = (0..size).map(|at| at as f64 - 2.5).collect();
        let times = |x: &[f64]| -> Vec<f64> {
            (0..size).map(|row| (0..size).map(|at| matrix[row * size + at] * x[at]).sum()).collect()
        };
        for (found, wanted) in factor.solve(&times(&x)).iter().zip(&x) {
            assert_abs_diff_eq!(found, wanted, epsilon = 1e-10);
        }
        let inverse = factor.inverse(3);
        for column in 0..3 {
            let unit: Vec<f64> = (0..size).map(|at| f64::from(u8::from(at == column))).collect();
            for row in 0..3 {
                assert_abs_diff_eq!(inverse[column * 3 + row], factor.solve(&unit)[row], epsilon = 1e-12);
            }
        }
        for (found, wanted) in factor.times(&factor.divide(&x)).iter().zip(&x) {
            assert_abs_diff_eq!(found, wanted, epsilon = 1e-10);
        }
    }
}
