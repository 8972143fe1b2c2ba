//! Enthalpy against temperature.

/// Specific heat of a solid fat, J/(kg K): cocoa butter at 15–21 °C (Beckett,
/// Industrial Chocolate Manufacture).
pub(super) const SOLID_J_PER_KG_K: f64 = 2010.0;

/// Specific heat of a liquid fat, J/(kg K): cocoa butter at 32–82 °C (Beckett); Timms' correlation for
/// vegetable oils, 0.47 + 0.000 73 t cal/(g K), gives 2050 at 27 °C (from memory of JAOCS 62:241).
pub(super) const LIQUID_J_PER_KG_K: f64 = 2090.0;

/// The least specific heat that a table may have, J/(kg K): keeps temperature a function of enthalpy.
const LEAST_J_PER_KG_K: f64 = 1.0;

/// A material's enthalpy and solid fraction against temperature: piecewise linear, rising; beyond its ends
/// the last slope goes on. A jump (melting at one temperature) is two rows at the same temperature.
#[derive(Clone, Debug)]
pub struct Enthalpy {
    rows: Vec<Piece>,
}

/// Where a piece begins.
#[derive(Clone, Copy, Debug)]
struct Piece {
    at_c: f64,
    j_per_kg: f64,
    solid: f64,
    /// Kelvin per J/kg from here to the next row.
    slope: f64,
}

impl Enthalpy {
    /// A table with these rows of (°C, J/kg, solid fraction).
    fn of(rows: impl IntoIterator<Item = (f64, f64, f64)>) -> Enthalpy {
        let mut table = Enthalpy { rows: Vec::new() };
        for (at_c, j_per_kg, solid) in rows {
            if let Some(before) = table.rows.last_mut() {
                let rise = j_per_kg - before.j_per_kg;
                before.slope = if rise > 0.0 { (at_c - before.at_c) / rise } else { 0.0 };
            }
            table.rows.push(Piece { at_c, j_per_kg, solid, slope: 0.0 });
        }
        table
    }

    /// A material that melts over a range, from rows of (°C, heat absorbed by melting since the first row in
    /// J/kg, solid fraction 0..=1), temperatures rising. Noise that would make melting give heat back is
    /// flattened, and no rows at all is a liquid fat.
    pub fn melting(rows: &[(f64, f64, f64)]) -> Enthalpy {
        let Some(&(first_c, first_latent, first_solid)) = rows.first() else {
            return Enthalpy::constant(LIQUID_J_PER_KG_K);
        };
        let mut table = vec![(first_c, 0.0, first_solid)];
        let (mut low_c, mut latent, mut solid, mut total) = (first_c, first_latent, first_solid, 0.0);
        for &(high_c, now_latent, now_solid) in &rows[1..] {
            let now_latent = now_latent.max(latent);
            let now_solid = now_solid.min(solid);
            let mean = 0.5 * (solid + now_solid);
            let sensible = mean * SOLID_J_PER_KG_K + (1.0 - mean) * LIQUID_J_PER_KG_K;
            total += sensible * (high_c - low_c).max(0.0) + (now_latent - latent);
            table.push((high_c, total, now_solid));
            (low_c, latent, solid) = (high_c, now_latent, now_solid);
        }
        Enthalpy::guarded(&table, SOLID_J_PER_KG_K, LIQUID_J_PER_KG_K)
    }

    /// A material that does not melt, of the given specific heat, J/(kg K).
    pub fn constant(j_per_kg_k: f64) -> Enthalpy {
        let heat = j_per_kg_k.max(LEAST_J_PER_KG_K);
        Enthalpy::of([(0.0, 0.0, 0.0), (1.0, heat, 0.0)])
    }

    /// A material that melts at one temperature, °C, with its latent heat,
    /// J/kg, and specific heats, J/(kg K).
    pub fn sharp(
        melts_c: f64,
        latent_j_per_kg: f64,
        solid_j_per_kg_k: f64,
        liquid_j_per_kg_k: f64,
    ) -> Enthalpy {
        let rows = [(melts_c, 0.0, 1.0), (melts_c, latent_j_per_kg.max(0.0), 0.0)];
        Enthalpy::guarded(&rows, solid_j_per_kg_k, liquid_j_per_kg_k)
    }

    /// A table with a row a kelvin beyond each end, so that the slopes there are the plain specific heats.
    fn guarded(rows: &[(f64, f64, f64)], below_j_per_kg_k: f64, above_j_per_kg_k: f64) -> Enthalpy {
        let beyond = |end: Option<&(f64, f64, f64)>, kelvin: f64, heat: f64| {
            end.map(|(c, j_per_kg, solid)| {
                (c + kelvin, j_per_kg + kelvin * heat.max(LEAST_J_PER_KG_K), *solid)
            })
        };
        let below = beyond(rows.first(), -1.0, below_j_per_kg_k);
        let above = beyond(rows.last(), 1.0, above_j_per_kg_k);
        Enthalpy::of(below.into_iter().chain(rows.iter().copied()).chain(above))
    }

    /// The row that begins the piece in which a value lies, by a rising column.
    fn piece(&self, value: f64, column: fn(&Piece) -> f64) -> usize {
        self.rows.partition_point(|row| column(row) <= value).clamp(1, self.rows.len() - 1) - 1
    }

    /// Temperature, °C, at an enthalpy, J/kg, and its slope, kelvin per J/kg.
    pub fn temperature_c(&self, j_per_kg: f64) -> (f64, f64) {
        self.temperature_near(j_per_kg, &mut self.piece(j_per_kg, |row| row.j_per_kg))
    }

    /// The same, looked for from the piece where it was last.
    pub(super) fn temperature_near(&self, j_per_kg: f64, piece: &mut usize) -> (f64, f64) {
        let rows = self.rows.as_slice();
        let mut at = *piece;
        while at + 2 < rows.len() && rows[at + 1].j_per_kg <= j_per_kg {
            at += 1;
        }
        while at > 0 && rows[at].j_per_kg > j_per_kg {
            at -= 1;
        }
        *piece = at;
        let row = &rows[at];
        (row.at_c + row.slope * (j_per_kg - row.j_per_kg), row.slope)
    }

    /// Enthalpy, J/kg, at a temperature, °C; at a jump, its upper end.
    pub fn j_per_kg(&self, at_c: f64) -> f64 {
        let at = self.piece(at_c, |row| row.at_c);
        let (low, high) = (&self.rows[at], &self.rows[at + 1]);
        let width = high.at_c - low.at_c;
        let slope = if width > 0.0 { (high.j_per_kg - low.j_per_kg) / width } else { 0.0 };
        low.j_per_kg + slope * (at_c - low.at_c)
    }

    /// Solid fraction, 0..=1, at an enthalpy, J/kg.
    pub fn solid(&self, j_per_kg: f64) -> f64 {
        let at = self.piece(j_per_kg, |row| row.j_per_kg);
        let (low, high) = (&self.rows[at], &self.rows[at + 1]);
        let rise = high.j_per_kg - low.j_per_kg;
        let share = if rise > 0.0 { ((j_per_kg - low.j_per_kg) / rise).clamp(0.0, 1.0) } else { 0.0 };
        low.solid + share * (high.solid - low.solid)
    }
}
