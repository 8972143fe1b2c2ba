//! Enthalpy against temperature.

/// Specific heat of a solid fat, J/(kg K): cocoa butter at 15–21 °C (Beckett, Industrial Chocolate Manufacture).
pub(super) const SOLID_J_PER_KG_K: f64 = 2010.0;

/// Specific heat of a liquid fat, J/(kg K): cocoa butter at 32–82 °C (Beckett); Timms' correlation for vegetable oils,
/// 0.47 + 0.000 73 t cal/(g K), gives 2050 at 27 °C (from memory of JAOCS 62:241).
pub(super) const LIQUID_J_PER_KG_K: f64 = 2090.0;

/// The least specific heat that a table may have, J/(kg K): keeps temperature a function of enthalpy.
const LEAST_J_PER_KG_K: f64 = 1.0;

/// A material's enthalpy and solid fraction against temperature: piecewise linear, rising; beyond its ends the last
/// slope goes on. A jump (melting at one temperature) is two rows at the same temperature.
#[derive(Clone, Debug)]
pub struct Enthalpy {
    at_c: Vec<f64>,
    j_per_kg: Vec<f64>,
    solid: Vec<f64>,
}

impl Enthalpy {
    /// A material that melts over a range, from rows of (°C, heat absorbed by melting since the first row in J/kg, solid
    /// fraction 0..=1), temperatures rising. Noise that would make melting give heat back is flattened, and no rows at
    /// all is a liquid fat.
    pub fn melting(rows: &[(f64, f64, f64)]) -> Enthalpy {
        let Some(&(first_c, first_latent, first_solid)) = rows.first() else {
            return Enthalpy::constant(LIQUID_J_PER_KG_K);
        };
        let mut table = Enthalpy { at_c: vec![first_c], j_per_kg: vec![0.0], solid: vec![first_solid] };
        let (mut low_c, mut latent, mut solid, mut total) = (first_c, first_latent, first_solid, 0.0);
        for &(high_c, now_latent, now_solid) in &rows[1..] {
            let now_latent = now_latent.max(latent);
            let now_solid = now_solid.min(solid);
            let mean = 0.5 * (solid + now_solid);
            let sensible = mean * SOLID_J_PER_KG_K + (1.0 - mean) * LIQUID_J_PER_KG_K;
            total += sensible * (high_c - low_c).max(0.0) + (now_latent - latent);
            table.at_c.push(high_c);
            table.j_per_kg.push(total);
            table.solid.push(now_solid);
            (low_c, latent, solid) = (high_c, now_latent, now_solid);
        }
        table.guard(SOLID_J_PER_KG_K, LIQUID_J_PER_KG_K)
    }

    /// A material that does not melt, of the given specific heat, J/(kg K).
    pub fn constant(j_per_kg_k: f64) -> Enthalpy {
        let heat = j_per_kg_k.max(LEAST_J_PER_KG_K);
        Enthalpy { at_c: vec![0.0, 1.0], j_per_kg: vec![0.0, heat], solid: vec![0.0, 0.0] }
    }

    /// A material that melts at one temperature, °C, with its latent heat, J/kg, and specific heats, J/(kg K).
    pub fn sharp(
        melts_c: f64,
        latent_j_per_kg: f64,
        solid_j_per_kg_k: f64,
        liquid_j_per_kg_k: f64,
    ) -> Enthalpy {
        let table = Enthalpy {
            at_c: vec![melts_c, melts_c],
            j_per_kg: vec![0.0, latent_j_per_kg.max(0.0)],
            solid: vec![1.0, 0.0],
        };
        table.guard(solid_j_per_kg_k, liquid_j_per_kg_k)
    }

    /// Adds a row a kelvin beyond each end, so that the slopes there are the plain specific heats.
    fn guard(mut self, below_j_per_kg_k: f64, above_j_per_kg_k: f64) -> Enthalpy {
        let last = self.at_c.len() - 1;
        self.at_c.push(self.at_c[last] + 1.0);
        self.j_per_kg.push(self.j_per_kg[last] + above_j_per_kg_k.max(LEAST_J_PER_KG_K));
        self.solid.push(self.solid[last]);
        self.at_c.insert(0, self.at_c[0] - 1.0);
        self.j_per_kg.insert(0, self.j_per_kg[0] - below_j_per_kg_k.max(LEAST_J_PER_KG_K));
        self.solid.insert(0, self.solid[0]);
        self
    }

    /// The row that begins the piece in which `value` lies, in a rising column.
    fn piece(column: &[f64], value: f64) -> usize {
        column.partition_point(|entry| *entry <= value).clamp(1, column.len() - 1) - 1
    }

    /// Temperature, °C, at an enthalpy, J/kg, and its slope, kelvin per J/kg.
    pub fn temperature_c(&self, j_per_kg: f64) -> (f64, f64) {
        self.temperature_near(j_per_kg, &mut 0)
    }

    /// The same, looked for first in the piece where it was last.
    pub(super) fn temperature_near(&self, j_per_kg: f64, piece: &mut usize) -> (f64, f64) {
        let within = self
            .j_per_kg
            .get(*piece..)
            .and_then(|rest| rest.get(..2))
            .is_some_and(|ends| ends[0] <= j_per_kg && j_per_kg < ends[1]);
        if !within {
            *piece = Self::piece(&self.j_per_kg, j_per_kg);
        }
        let at = *piece;
        let rise = self.j_per_kg[at + 1] - self.j_per_kg[at];
        let slope = if rise > 0.0 { (self.at_c[at + 1] - self.at_c[at]) / rise } else { 0.0 };
        (self.at_c[at] + slope * (j_per_kg - self.j_per_kg[at]), slope)
    }

    /// Enthalpy, J/kg, at a temperature, °C; at a jump, its upper end.
    pub fn j_per_kg(&self, at_c: f64) -> f64 {
        let at = Self::piece(&self.at_c, at_c);
        let width = self.at_c[at + 1] - self.at_c[at];
        let slope = if width > 0.0 { (self.j_per_kg[at + 1] - self.j_per_kg[at]) / width } else { 0.0 };
        self.j_per_kg[at] + slope * (at_c - self.at_c[at])
    }

    /// Solid fraction, 0..=1, at an enthalpy, J/kg.
    pub fn solid(&self, j_per_kg: f64) -> f64 {
        let at = Self::piece(&self.j_per_kg, j_per_kg);
        let rise = self.j_per_kg[at + 1] - self.j_per_kg[at];
        let share = if rise > 0.0 { ((j_per_kg - self.j_per_kg[at]) / rise).clamp(0.0, 1.0) } else { 0.0 };
        self.solid[at] + share * (self.solid[at + 1] - self.solid[at])
    }
}
