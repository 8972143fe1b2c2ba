//! The solver: two nested one-dimensional problems.
//!
//! With σ_k = S_k/L, a family that is present obeys h_k(σ_k) = Σ n_i K_i/(1 + σ_k K_i) = L. Its reciprocal is concave and
//! rises with σ_k (a parallel sum of straight lines), so Newton's method on 1/h_k approaches the root from the left
//! from wherever it starts, and needs no bracket; for a pure crystal it is exact at once. Outside, L is the root of
//! F(L) = Σ n_i/(1 + σ_k(L) K_i) − L, positive below and negative above it because Φ is concave; for pure crystals F is
//! piecewise straight. Newton's method is safeguarded by the bracket that the signs give.

use super::Mixture;
use crate::substances::Kind;

/// The state of a mixture at one temperature.
#[derive(Clone, Debug)]
pub struct Equilibrium {
    /// Solids, percent of the whole mass, powders not counted.
    pub solid_percent: f64,
    /// The same by kind of crystal.
    pub by_kind: SolidsByKind,
    /// Powder, percent of the whole mass.
    pub powder_percent: f64,
    /// Moles of liquid, for amounts in grams.
    pub liquid_moles: f64,
    /// Heat that melting the solids would take, J per gram of the whole.
    pub latent_j_per_g: f64,
    /// The largest violation of the optimality conditions, a pure number.
    pub certificate: f64,
    /// Steps of the outer iteration, and of the inner ones in all.
    pub steps: (u32, u32),
}

/// Solids by kind of crystal, percent of the whole mass.
#[derive(Clone, Copy, Default, PartialEq, Debug)]
pub struct SolidsByKind {
    /// Triglycerides.
    pub triglyceride: f64,
    /// Free fatty acids.
    pub acid: f64,
    /// Fatty alcohols.
    pub alcohol: f64,
    /// Wax esters and hydrocarbons.
    pub wax: f64,
    /// Mono- and diglycerides.
    pub glyceride: f64,
}

/// Enough for any mixture met in tests by a factor of five; the certificate tells if it ever is not.
const MOST_STEPS: u32 = 200;

/// Relative step below which an iterate no longer moves.
const CONVERGED: f64 = 4.0 * f64::EPSILON;

/// Solves `mixture` at `kelvin`.
pub(super) fn solve(mixture: &Mixture, kelvin: f64) -> Equilibrium {
    let k: Vec<f64> = mixture.solutes.iter().map(|solute| solute.distribution(kelvin)).collect();
    let n = |i: usize| mixture.solutes[i].moles;
    let total: f64 = mixture.liquid.0 + mixture.solutes.iter().map(|solute| solute.moles).sum::<f64>();
    let mut sigma = vec![0.0; mixture.families.len()];
    let mut inner = 0;

    // Σ n_i/(S_k K_i) over all families, were everything solid: at most 1 where no liquid can form.
    let all_solid: f64 = mixture
        .families
        .iter()
        .map(|family| {
            let moles: f64 = family.clone().map(n).sum();
            family.clone().map(|i| n(i) / k[i]).sum::<f64>() / moles
        })
        .sum();
    if total <= 0.0 || mixture.liquid.0 <= 0.0 && all_solid <= 1.0 {
        return Equilibrium::of(mixture, 0.0, |_| if total > 0.0 { 1.0 } else { 0.0 }, 0.0, (0, 0), kelvin);
    }

    // The liquid moles that L moles of liquid would hold, and their slope in L; sets `sigma`.
    let mut held = |liquid: f64, sigma: &mut [f64]| -> (f64, f64) {
        let (mut moles, mut slope) = (mixture.liquid.0, 0.0);
        for (family, sigma) in mixture.families.iter().zip(sigma) {
            let free: f64 = family.clone().map(|i| n(i) * k[i]).sum();
            if free <= liquid {
                *sigma = 0.0;
                moles += family.clone().map(n).sum::<f64>();
                continue;
            }
            if family.len() == 1 {
                let i = family.start;
                *sigma = n(i) / liquid - 1.0 / k[i];
                moles += liquid / k[i];
                slope += 1.0 / k[i];
                continue;
            }
            let mut x = *sigma;
            for _ in 0..MOST_STEPS {
                inner += 1;
                let (mut h, mut falls) = (0.0, 0.0);
                for i in family.clone() {
                    let part = k[i] / (1.0 + x * k[i]);
                    h += n(i) * part;
                    falls += n(i) * part * part;
                }
                let next = (x + h * (h / liquid - 1.0) / falls).max(0.0);
                let moved = (next - x).abs();
                x = next;
                if moved <= CONVERGED * x {
                    break;
                }
            }
            *sigma = x;
            let (mut up, mut down) = (0.0, 0.0);
            for i in family.clone() {
                let q = 1.0 / (1.0 + x * k[i]);
                moles += n(i) * q;
                up += n(i) * k[i] * q * q;
                down += n(i) * k[i] * k[i] * q * q;
            }
            slope += up / down;
        }
        (moles, slope)
    };

    let (mut low, mut high) = (0.0, total);
    let mut liquid = total;
    let mut outer = 0;
    while outer < MOST_STEPS {
        outer += 1;
        let (moles, slope) = held(liquid, &mut sigma);
        let excess = moles - liquid;
        if excess >= 0.0 {
            low = liquid;
        }
        if excess <= 0.0 {
            high = liquid;
        }
        let newton = liquid - excess / (slope - 1.0);
        let next = if newton > low && newton < high {
            newton
        } else if newton == liquid || low == high {
            liquid
        } else {
            // The low end starts at 0, which has no geometric mean with anything.
            libm::sqrt(low.max(1e-15 * total) * high)
        };
        let moved = (next - liquid).abs();
        if moved <= CONVERGED * liquid {
            break;
        }
        liquid = next;
    }
    held(liquid, &mut sigma);

    // The certificate, from the conditions themselves.
    let mut held_moles = mixture.liquid.0;
    let mut violation: f64 = 0.0;
    let mut family_of = vec![0; k.len()];
    for (at, family) in mixture.families.iter().enumerate() {
        let mut sum = 0.0;
        for i in family.clone() {
            family_of[i] = at;
            let dissolved = n(i) / (1.0 + sigma[at] * k[i]);
            held_moles += dissolved;
            sum += dissolved * k[i] / liquid;
        }
        violation = violation.max(if sigma[at] > 0.0 { (sum - 1.0).abs() } else { sum - 1.0 });
    }
    violation = violation.max((held_moles / liquid - 1.0).abs());
    let solid_share = |i: usize| {
        let bound = sigma[family_of[i]] * k[i];
        bound / (1.0 + bound)
    };
    Equilibrium::of(mixture, liquid, solid_share, violation, (outer, inner), kelvin)
}

impl Equilibrium {
    fn of(
        mixture: &Mixture,
        liquid_moles: f64,
        solid_share: impl Fn(usize) -> f64,
        certificate: f64,
        steps: (u32, u32),
        _kelvin: f64,
    ) -> Equilibrium {
        let mut by_kind = SolidsByKind::default();
        let mut latent = 0.0;
        let per_mass = if mixture.mass > 0.0 { 1.0 / mixture.mass } else { 0.0 };
        for (i, solute) in mixture.solutes.iter().enumerate() {
            let moles = solute.moles * solid_share(i);
            *by_kind.of_mut(solute.kind) += 100.0 * moles * solute.molar_mass * per_mass;
            latent += moles * solute.slope * crate::substances::GAS_CONSTANT * per_mass;
        }
        Equilibrium {
            solid_percent: by_kind.sum(),
            by_kind,
            powder_percent: 100.0 * mixture.powder * per_mass,
            liquid_moles,
            latent_j_per_g: latent,
            certificate,
            steps,
        }
    }
}

impl SolidsByKind {
    fn of_mut(&mut self, kind: Kind) -> &mut f64 {
        match kind {
            Kind::Acid => &mut self.acid,
            Kind::Alcohol => &mut self.alcohol,
            Kind::Alkane | Kind::WaxEster => &mut self.wax,
            Kind::Glyceride => &mut self.glyceride,
            Kind::Triglyceride | Kind::Liquid | Kind::Powder => &mut self.triglyceride,
        }
    }

    /// All of them.
    pub fn sum(&self) -> f64 {
        self.triglyceride + self.acid + self.alcohol + self.wax + self.glyceride
    }
}
