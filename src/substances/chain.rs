//! Fatty chains and the triglycerides they make.

use std::fmt;

/// A fatty chain of a triglyceride, as the letters of the oils-and-fats literature name them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Chain {
    /// Caproic, 6:0.
    Co,
    /// Caprylic, 8:0.
    Cy,
    /// Capric, 10:0.
    Ca,
    /// Lauric, 12:0.
    La,
    /// Myristic, 14:0.
    M,
    /// Palmitic, 16:0.
    P,
    /// Stearic, 18:0.
    S,
    /// Arachidic, 20:0.
    A,
    /// Behenic, 22:0.
    B,
    /// Lignoceric, 24:0.
    Lg,
    /// Oleic, 18:1 cis-9.
    O,
    /// Elaidic, 18:1 trans-9.
    E,
    /// Linoleic, 18:2.
    L,
    /// Linolenic, 18:3.
    Ln,
}

/// Letters, longest first where one begins another, with carbons and double bonds.
const LETTERS: [(&str, Chain, u32, u32); 14] = [
    ("Co", Chain::Co, 6, 0),
    ("Cy", Chain::Cy, 8, 0),
    ("Ca", Chain::Ca, 10, 0),
    ("La", Chain::La, 12, 0),
    ("Lg", Chain::Lg, 24, 0),
    ("Ln", Chain::Ln, 18, 3),
    ("M", Chain::M, 14, 0),
    ("P", Chain::P, 16, 0),
    ("S", Chain::S, 18, 0),
    ("A", Chain::A, 20, 0),
    ("B", Chain::B, 22, 0),
    ("O", Chain::O, 18, 1),
    ("E", Chain::E, 18, 1),
    ("L", Chain::L, 18, 2),
];

/// Standard atomic masses, g/mol (IUPAC 2021, abridged).
pub(super) const CARBON: f64 = 12.011;
pub(super) const HYDROGEN: f64 = 1.008;
pub(super) const OXYGEN: f64 = 15.999;

impl Chain {
    fn row(self) -> &'static (&'static str, Chain, u32, u32) {
        LETTERS.iter().find(|row| row.1 == self).unwrap_or(&LETTERS[0])
    }

    /// Its letter or letters.
    pub fn letters(self) -> &'static str {
        self.row().0
    }

    /// Carbon atoms.
    pub fn carbons(self) -> u32 {
        self.row().2
    }

    /// Double bonds.
    pub fn double_bonds(self) -> u32 {
        self.row().3
    }

    /// Whether it has no double bond.
    pub fn is_saturated(self) -> bool {
        self.double_bonds() == 0
    }

    /// Molar mass of the free acid, g/mol.
    pub fn acid_molar_mass(self) -> f64 {
        let (n, d) = (f64::from(self.carbons()), f64::from(self.double_bonds()));
        n * CARBON + 2.0 * (n - d) * HYDROGEN + 2.0 * OXYGEN
    }
}

/// A triglyceride: chains at sn-1, sn-2 and sn-3; sn-1 and sn-3 are not told apart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Triglyceride {
    /// The outer chain that sorts first.
    pub outer: Chain,
    /// The chain at sn-2.
    pub middle: Chain,
    /// The other outer chain.
    pub other: Chain,
}

impl Triglyceride {
    /// The triglyceride with these chains at sn-1, sn-2 and sn-3.
    pub fn new(first: Chain, middle: Chain, third: Chain) -> Self {
        Triglyceride { outer: first.min(third), middle, other: first.max(third) }
    }

    /// Reads letters such as `SOS` or `LaLaM`; `None` where they are not three chains.
    pub fn parse(letters: &str) -> Option<Self> {
        let mut rest = letters;
        let mut chains = [Chain::Co; 3];
        for chain in &mut chains {
            let (text, found, ..) = LETTERS.iter().find(|row| rest.starts_with(row.0))?;
            *chain = *found;
            rest = &rest[text.len()..];
        }
        rest.is_empty().then(|| Triglyceride::new(chains[0], chains[1], chains[2]))
    }

    /// Its chains: outer, middle, other.
    pub fn chains(self) -> [Chain; 3] {
        [self.outer, self.middle, self.other]
    }

    /// Carbons in its three chains.
    pub fn carbons(self) -> u32 {
        self.chains().iter().map(|chain| chain.carbons()).sum()
    }

    /// Whether none of its chains has a double bond.
    pub fn is_saturated(self) -> bool {
        self.chains().iter().all(|chain| chain.is_saturated())
    }

    /// How many of its chains are `chain`.
    pub fn count(self, chain: Chain) -> u32 {
        self.chains().iter().filter(|found| **found == chain).count() as u32
    }

    /// Molar mass, g/mol: three acids and glycerol less three waters.
    pub fn molar_mass(self) -> f64 {
        let glycerol = 3.0 * CARBON + 8.0 * HYDROGEN + 3.0 * OXYGEN;
        let water = 2.0 * HYDROGEN + OXYGEN;
        let acids: f64 = self.chains().iter().map(|chain| chain.acid_molar_mass()).sum();
        acids + glycerol - 3.0 * water
    }
}

impl fmt::Display for Triglyceride {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{}", self.outer.letters(), self.middle.letters(), self.other.letters())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn letters_read_greedily_and_sn_1_and_3_are_not_told_apart() {
        assert_eq!(Triglyceride::parse("SOP"), Triglyceride::parse("POS"));
        assert_ne!(Triglyceride::parse("SSO"), Triglyceride::parse("SOS"));
        let mixed = Triglyceride::parse("LnLLa").unwrap();
        assert_eq!(mixed, Triglyceride::new(Chain::La, Chain::L, Chain::Ln));
        for wrong in ["", "SO", "SOSS", "XOS", "liquid"] {
            assert_eq!(Triglyceride::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn molar_masses_agree_with_the_published_ones() {
        // Wesdorp et al. 2012 compilation as carried in the data file of Moorthy et al. 2017.
        for (letters, g_mol) in [("CyCyCy", 470.69), ("LgLgLg", 1143.99)] {
            assert_abs_diff_eq!(Triglyceride::parse(letters).unwrap().molar_mass(), g_mol, epsilon = 0.06);
        }
    }
}
