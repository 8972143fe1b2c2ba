//! Melting point and enthalpy of fusion of a triglyceride by the Wesdorp correlation, for
//! the forms that nobody measured.
//!
//! Parameters: Moorthy, Liu, Mazzanti, Wesdorp, Marangoni, JAOCS 2017, doi 10.1007/s11746-016-2935-1, Table 2
//! and supplement, "Model B", with true double-bond pair counts (n(n−1)/2 like pairs, n·m unlike ones), which
//! on the authors' own 197 rows err by 3.0 K where the printed counts err by 6.6 K. Standard error of a
//! melting point against those rows: 5.4 / 4.9 / 3.1 K for saturated and 4.0 / 4.0 / 3.0 K for unsaturated
//! ones (alpha / beta-prime / beta); of an enthalpy 8 to 14 kJ/mol.

use super::{Chain, Form, Triglyceride, ZERO_CELSIUS_K};

/// How a pure crystal melts.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Fusion {
    /// Melting point, K.
    pub melting_k: f64,
    /// Enthalpy of fusion, J/mol.
    pub enthalpy_j_mol: f64,
}

struct Parameters {
    h0: f64,
    h: f64,
    hxy: f64,
    k: f64,
    x0: f64,
    hodd: f64,
    a: [f64; 7],
    b: [f64; 7],
    a_chain: [f64; 4],
    a_pair: [f64; 7],
    b_chain: [f64; 3],
    h_chain: [f64; 3],
}

/// T_inf of Model B, K.
const INFINITE_CHAIN_K: f64 = 401.15;

// a, b: constant, odd, x, x², xy, y, y². a_chain: O E L Ln. a_pair: OO EE LL LnLn OL OLn LLn. b_chain:
// O L Ln. h_chain, kJ/mol: O E L.
const ALPHA: Parameters = Parameters {
    h0: -31.95,
    h: 2.70,
    hxy: -13.28,
    k: 4.39,
    x0: 1.25,
    hodd: 0.0,
    a: [-9.0581, -0.1958, 0.0029, -0.061_911_6, 0.115_128, -0.453_461, -0.005_827],
    b: [-4.4841, -0.0025, -0.00111, 0.148_938, -0.365_917, 1.41154, -0.001_766],
    a_chain: [-3.46, -1.38, -3.35, -4.20],
    a_pair: [-0.01, 0.01, -3.68, -0.98, 0.53, 0.83, -2.97],
    b_chain: [0.0, 5.4, 2.6],
    h_chain: [-31.7, -11.7, -37.7],
};
const BETA_PRIME: Parameters = Parameters {
    h0: -35.86,
    h: 3.86,
    hxy: -19.35,
    k: 1.99,
    x0: 2.46,
    hodd: 0.0,
    a: [-8.4543, -0.3075, -0.1036, -0.018_881, 0.073_941, -0.49721, 0.011_599_5],
    b: [-0.26501, 0.0050, 0.54997, 0.074_136, -0.340_928, 2.34238, -0.135_735],
    a_chain: [-2.20, -1.34, -2.51, -2.23],
    a_pair: [0.27, 0.04, 0.55, 1.51, -1.00, 0.76, 1.12],
    b_chain: [-4.3, -7.8, -13.7],
    h_chain: [-28.3, -15.9, -37.7],
};
const BETA: Parameters = Parameters {
    h0: -17.16,
    h: 3.89,
    hxy: -22.29,
    k: 2.88,
    x0: 0.77,
    hodd: 2.29,
    a: [-8.0481, -0.0193, 0.07413, -0.034_859_6, 0.007_714_2, -0.404_136, 0.011_193_8],
    b: [2.66923, 0.0082, -0.31675, 0.085_967, 0.040_642, 0.5504, 0.000_945],
    a_chain: [-2.93, -1.68, -4.69, -5.18],
    a_pair: [0.89, 0.40, 1.21, 1.38, 0.71, 0.69, 0.73],
    b_chain: [-3.7, -1.5, -1.8],
    h_chain: [-30.2, -15.9, -37.7],
};

/// The correlation's estimate for one form of a triglyceride.
///
/// No term for the enthalpy of linolenic chains is published; linoleic's stands in. Far outside the data
/// (very short chains with several double bonds) the estimate can be absurd; it is kept above 150 K and 10
/// kJ/mol, where it is liquid in any butter.
pub fn wesdorp(triglyceride: Triglyceride, form: Form) -> Fusion {
    let p = match form {
        Form::Alpha => &ALPHA,
        Form::BetaPrime => &BETA_PRIME,
        Form::Beta => &BETA,
    };
    let carbons = |chain: Chain| f64::from(chain.carbons());
    let (one, middle, three) =
        (carbons(triglyceride.outer), carbons(triglyceride.middle), carbons(triglyceride.other));
    let n = one + middle + three;
    let (short, long) = (one.min(three), one.max(three));
    let (x, y) = (middle - short, long - short);
    // All named chains are even, so the odd-chain terms never act; they stay in
    // the tables for whoever adds one.
    let odd = 0.0;

    let bell = |u: f64| libm::exp(-u * u);
    let misfit = 2.0 - bell((x - p.x0) / p.k) - bell(y / p.k);
    let count = |chain: Chain| f64::from(triglyceride.count(chain));
    let (o, e, l, ln) = (count(Chain::O), count(Chain::E), count(Chain::L), count(Chain::Ln));
    let enthalpy_kj = p.h * n
        + p.h0
        + p.hxy * misfit
        + p.hodd * odd
        + p.h_chain[0] * o
        + p.h_chain[1] * e
        + p.h_chain[2] * (l + ln);

    let terms = [1.0, odd, x, x * x, x * y, y, y * y];
    let dot = |weights: &[f64; 7]| weights.iter().zip(terms).map(|(w, t)| w * t).sum::<f64>();
    let pairs = |m: f64| 0.5 * m * (m - 1.0);
    let a = dot(&p.a)
        + p.a_chain[0] * o
        + p.a_chain[1] * e
        + p.a_chain[2] * l
        + p.a_chain[3] * ln
        + p.a_pair[0] * pairs(o)
        + p.a_pair[1] * pairs(e)
        + p.a_pair[2] * pairs(l)
        + p.a_pair[3] * pairs(ln)
        + p.a_pair[4] * o * l
        + p.a_pair[5] * o * ln
        + p.a_pair[6] * l * ln;
    let b = dot(&p.b) + p.b_chain[0] * o + p.b_chain[1] * l + p.b_chain[2] * ln;
    let melting_k = INFINITE_CHAIN_K * (1.0 + a / n - a * b / (n * n));
    Fusion {
        melting_k: melting_k.clamp(150.0, 100.0 + ZERO_CELSIUS_K),
        enthalpy_j_mol: 1000.0 * enthalpy_kj.max(10.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[track_caller]
    fn check(letters: &str, form: Form, melting_c: f64, kj_mol: f64) {
        let fusion = wesdorp(Triglyceride::parse(letters).unwrap(), form);
        assert_abs_diff_eq!(fusion.melting_k - ZERO_CELSIUS_K, melting_c, epsilon = 0.051);
        assert_abs_diff_eq!(fusion.enthalpy_j_mol / 1000.0, kj_mol, epsilon = 0.051);
    }

    #[test]
    fn worked_values_of_the_published_correlation() {
        // Worked by hand from the published table, each to the digit given there.
        check("PPP", Form::Beta, 64.5, 168.0);
        check("SSS", Form::Beta, 71.2, 191.4);
        check("LaLaLa", Form::Beta, 45.0, 121.3);
        check("POP", Form::Beta, 37.7, 143.4);
        check("OOO", Form::Beta, 6.3, 100.8);
    }
}
