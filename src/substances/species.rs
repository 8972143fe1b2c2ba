//! Species: one kind of molecule each, with how it crystallises.

use super::{
    Family, Form, Fusion, OuterChains, SpeciesKind, Triglyceride, ZERO_CELSIUS_K, correlation,
    tables::{MELTING, Melting, SUBSTANCES},
};

/// How a species crystallises in a settled butter, or in a fresh one.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Crystal {
    /// How the pure crystal melts.
    pub fusion: Fusion,
    /// With what it shares its crystal.
    pub family: Family,
    /// For a triglyceride, its outer chains, for [`Family::disorder`].
    pub outer: OuterChains,
}

/// One kind of molecule.
#[derive(Clone, PartialEq, Debug)]
pub struct Species {
    /// Its id: triglyceride letters in the order outer–middle–outer, or a name such as `stearic-acid`.
    pub id: String,
    /// What it is.
    pub kind: SpeciesKind,
    /// g/mol.
    pub molar_mass: f64,
    /// How it crystallises days to weeks after making; `None` where it is always liquid, or never.
    pub settled: Option<Crystal>,
    /// How it crystallises just after chilling.
    pub fresh: Option<Crystal>,
}

/// What something is made of: species with percent by mass, summing to 100.
pub type Make = Vec<(Species, f64)>;

/// A species id that is not known.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SpeciesError {
    /// The id asked for.
    pub id: String,
}

/// Below this melting point a species is liquid in any butter that anybody stores, K (−12 °C).
const ALWAYS_LIQUID_BELOW_K: f64 = 261.0;

impl Species {
    /// The species of this id: triglyceride letters in either order, or a name from the table.
    pub fn find(id: &str) -> Result<Species, SpeciesError> {
        if let Some(row) = SUBSTANCES.iter().find(|row| row.id == id) {
            let crystal = row.melting_c.zip(row.fusion_kj_mol).map(|(melting_c, kj_mol)| Crystal {
                fusion: Fusion { melting_k: melting_c + ZERO_CELSIUS_K, enthalpy_j_mol: 1000.0 * kj_mol },
                family: Family::of_kind(row.kind),
                outer: OuterChains::default(),
            });
            return Ok(Species {
                id: row.id.to_owned(),
                kind: row.kind,
                molar_mass: row.molar_mass_g_mol,
                settled: crystal,
                fresh: crystal,
            });
        }
        let triglyceride = Triglyceride::parse(id).ok_or_else(|| SpeciesError { id: id.to_owned() })?;
        Ok(Species::triglyceride(triglyceride))
    }

    /// The same species as it comes in this ingredient: where its crystals do something of their own
    /// there, it goes by a name of its own.
    pub(super) fn in_ingredient(mut self, id: &str) -> Species {
        let kind = self.kind.in_ingredient(id);
        if kind != self.kind {
            self.kind = kind;
            self.id = format!("{} of {id}", self.id);
        }
        self
    }

    /// Whether it crystallises as the fats of coconut, palm kernel and the like do.
    pub fn is_lauric(&self) -> bool {
        self.settled.is_some_and(|crystal| {
            matches!(
                crystal.family,
                Family::Lauric30
                    | Family::Lauric36
                    | Family::Lauric40
                    | Family::Lauric44
                    | Family::LauricUnsaturated
            )
        })
    }

    /// The species of a triglyceride.
    pub fn triglyceride(triglyceride: Triglyceride) -> Species {
        let family = Family::of_triglyceride(triglyceride);
        let [_, beta_prime, beta] = forms(triglyceride);
        let settled = match family {
            // Mixed short chains and asymmetric chains pack in beta-prime and stay there (lauric
            // fats: Timms; SSO and PPO: Wesdorp 2012, where their measured stable form is
            // beta-prime; POO in their crystals).
            Family::Lauric30
            | Family::Lauric36
            | Family::Lauric40
            | Family::Lauric44
            | Family::SatSatOleic => beta_prime,
            _ => beta,
        };
        // A just-chilled butter has left alpha behind by the time its jar is cold (minutes to
        // hours), and is in beta-prime, as untempered cocoa butter is (form IV: Wille & Lutton
        // 1966). What melts low is no exception: left in alpha, palm oil at 10 °C would hold 9
        // points less than half an hour after chilling.
        let fresh = beta_prime;
        let outer = OuterChains::of(triglyceride);
        let crystal = |fusion: Fusion| {
            (fusion.melting_k >= ALWAYS_LIQUID_BELOW_K).then_some(Crystal { fusion, family, outer })
        };
        let settled = crystal(settled);
        Species {
            id: triglyceride.to_string(),
            kind: SpeciesKind::Triglyceride,
            molar_mass: triglyceride.molar_mass(),
            settled,
            // However low it melts: a fat that sets at once takes part of the settled crystal.
            fresh: settled.map(|settled| Crystal { fusion: fresh, ..settled }),
        }
    }
}

/// Alpha, beta-prime and beta: measured where published, by the correlation where not, in physical order.
fn forms(triglyceride: Triglyceride) -> [Fusion; 3] {
    let id = triglyceride.to_string();
    let measured = &MELTING[MELTING.partition_point(|row| row.triglyceride < id.as_str())..];
    let measured = &measured[..measured.partition_point(|row| row.triglyceride <= id.as_str())];
    let mut fusions = [Form::Alpha, Form::BetaPrime, Form::Beta].map(|form| {
        let estimate = correlation::wesdorp(triglyceride, form);
        let published = |figure: fn(&Melting) -> Option<f64>| {
            measured.iter().find(|row| row.form == form).and_then(figure)
        };
        let melting_c = published(|row| row.melting_c);
        let kj_mol = published(|row| row.fusion_kj_mol);
        (
            Fusion {
                melting_k: melting_c.map_or(estimate.melting_k, |c| c + ZERO_CELSIUS_K),
                enthalpy_j_mol: kj_mol.map_or(estimate.enthalpy_j_mol, |kj| 1000.0 * kj),
            },
            melting_c.is_some(),
        )
    });
    // The correlation keeps alpha < beta-prime < beta for only half of its estimates (its authors' own
    // remark). An estimate gives way to a measurement, and among estimates the lower form gives way. Measured
    // inversions stand (PSP's stable form is beta-prime).
    for lower in [1, 0, 1] {
        let higher = lower + 1;
        if fusions[lower].0.melting_k > fusions[higher].0.melting_k {
            match (fusions[lower].1, fusions[higher].1) {
                (true, true) => {}
                (true, false) => {
                    fusions[higher] =
                        (Fusion { melting_k: fusions[lower].0.melting_k, ..fusions[higher].0 }, true)
                }
                (false, _) => fusions[lower].0.melting_k = fusions[higher].0.melting_k,
            }
        }
    }
    fusions.map(|(fusion, _)| fusion)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn measured_figures_go_before_the_correlation() {
        let melting_c =
            |id: &str| Species::find(id).unwrap().settled.unwrap().fusion.melting_k - ZERO_CELSIUS_K;
        // Wesdorp et al. 2012 compilation.
        assert_abs_diff_eq!(melting_c("POP"), 37.2, epsilon = 1e-9);
        assert_abs_diff_eq!(melting_c("SSS"), 72.5, epsilon = 1e-9);
        // Eckert et al. 2016.
        assert_abs_diff_eq!(melting_c("stearic-acid"), 70.6, epsilon = 1e-9);
    }

    #[test]
    fn an_unknown_species_is_named() {
        assert_eq!(Species::find("unobtainium"), Err(SpeciesError { id: "unobtainium".to_owned() }));
    }

    #[test]
    fn what_never_crystallises_in_a_butter_has_no_crystal() {
        for id in ["liquid", "squalane", "inert", "LnLnLn"] {
            assert_eq!(Species::find(id).unwrap().settled, None, "{id}");
        }
    }

    #[test]
    fn forms_keep_their_order_unless_measured_otherwise() {
        for id in ["POP", "POS", "SOS", "PLS", "SLS", "SOO", "POO", "AOA", "LaLaO", "CyLaM", "BOB"] {
            let [alpha, beta_prime, beta] = forms(Triglyceride::parse(id).unwrap());
            assert!(alpha.melting_k <= beta_prime.melting_k, "{id}");
            assert!(beta_prime.melting_k <= beta.melting_k, "{id}");
        }
    }
}
