//! A solid body as shells between its surface and its middle.

use super::Cell;

/// A body cut in shells, the outermost first.
#[derive(Clone, Debug)]
pub struct Body {
    /// Mass of each shell, kg.
    pub mass_kg: Vec<f64>,
    /// Conductance between neighbours' middles, W/K.
    pub links_w_per_k: Vec<f64>,
    /// Conductance from the surface to the middle of the outermost shell, W/K.
    pub surface_w_per_k: f64,
    /// Surface, m².
    pub area_m2: f64,
}

impl Body {
    /// A body of the given surface and volume whose middle lies `depth_m` under the surface. Between slab,
    /// long cylinder and sphere its shape is a real number, depth × surface / volume, from 1 to 3, and the
    /// area at a distance r from the middle goes as r^(shape − 1): exact for the three, and right in
    /// surface, depth and heat held for a short cylinder (the "equivalent heat transfer dimensionality" of
    /// Cleland & Earle 1982, from memory).
    pub fn new(
        depth_m: f64,
        area_m2: f64,
        volume_m3: f64,
        shells: usize,
        kg_per_m3: f64,
        w_per_m_k: f64,
    ) -> Body {
        let shells = shells.max(2);
        let shape = (depth_m * area_m2 / volume_m3).clamp(1.0, 3.0);
        let width = 1.0 / shells as f64;
        let total_kg = volume_m3 * kg_per_m3;
        // In the variable x = r / depth, from 1 at the surface to 0 in the middle.
        let edge = |at: usize| 1.0 - at as f64 * width;
        let middle = |at: usize| 1.0 - (at as f64 + 0.5) * width;
        let mass_kg = (0..shells)
            .map(|at| total_kg * (power(edge(at), shape) - power(edge(at + 1).max(0.0), shape)))
            .collect();
        let conductance = |outer: f64, inner: f64| {
            let path = if (shape - 2.0).abs() < 1e-9 {
                libm::log(outer / inner)
            } else {
                (power(outer, 2.0 - shape) - power(inner, 2.0 - shape)) / (2.0 - shape)
            };
            w_per_m_k * area_m2 / (depth_m * path)
        };
        Body {
            mass_kg,
            links_w_per_k: (1..shells).map(|at| conductance(middle(at - 1), middle(at))).collect(),
            surface_w_per_k: conductance(1.0, middle(0)),
            area_m2,
        }
    }

    /// A slab insulated at its far side.
    pub fn slab(thickness_m: f64, area_m2: f64, cells: usize, kg_per_m3: f64, w_per_m_k: f64) -> Body {
        Body::new(thickness_m, area_m2, area_m2 * thickness_m, cells, kg_per_m3, w_per_m_k)
    }

    /// The shells as cells of one material.
    pub fn cells(&self, material: usize) -> impl Iterator<Item = Cell> + '_ {
        self.mass_kg.iter().map(move |mass_kg| Cell { mass_kg: *mass_kg, material })
    }
}

/// A power of a number that is not negative, to some 15 digits. (`libm::pow` gets the last one
/// right too, for 2 kB of the page.)
pub fn power(base: f64, exponent: f64) -> f64 {
    if exponent == 0.0 { 1.0 } else { libm::exp(exponent * libm::log(base)) }
}

/// Conductance of two in a row, W/K.
pub fn in_series(one_w_per_k: f64, other_w_per_k: f64) -> f64 {
    if one_w_per_k <= 0.0 || other_w_per_k <= 0.0 {
        return 0.0;
    }
    1.0 / (1.0 / one_w_per_k + 1.0 / other_w_per_k)
}
