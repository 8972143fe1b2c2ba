//! Fatty acids, by all the names that certificates of analysis use.

use super::Chain;

/// A fatty acid of a profile.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FattyAcid {
    /// Carbons and double bonds, `C18:1`; `t` for trans.
    pub name: &'static str,
    /// Its common name.
    pub common: &'static str,
    /// The chain that stands for it in triglycerides; `None` for those that keep a fat liquid.
    pub chain: Option<Chain>,
    /// The species that it is when free; `None` where it is liquid in any butter.
    pub free: Option<&'static str>,
}

const fn acid(
    name: &'static str,
    common: &'static str,
    chain: Option<Chain>,
    free: Option<&'static str>,
) -> FattyAcid {
    FattyAcid { name, common, chain, free }
}

/// Monounsaturated chains other than oleic melt near it, and are few where it matters.
const ACIDS: [FattyAcid; 22] = [
    acid("C6:0", "caproic", Some(Chain::Co), None),
    acid("C8:0", "caprylic", Some(Chain::Cy), Some("caprylic-acid")),
    acid("C10:0", "capric", Some(Chain::Ca), Some("capric-acid")),
    acid("C12:0", "lauric", Some(Chain::La), Some("lauric-acid")),
    acid("C14:0", "myristic", Some(Chain::M), Some("myristic-acid")),
    acid("C16:0", "palmitic", Some(Chain::P), Some("palmitic-acid")),
    acid("C18:0", "stearic", Some(Chain::S), Some("stearic-acid")),
    acid("C20:0", "arachidic", Some(Chain::A), Some("arachidic-acid")),
    acid("C22:0", "behenic", Some(Chain::B), Some("behenic-acid")),
    acid("C24:0", "lignoceric", Some(Chain::Lg), Some("lignoceric-acid")),
    acid("C16:1", "palmitoleic", Some(Chain::O), None),
    acid("C18:1", "oleic", Some(Chain::O), Some("oleic-acid")),
    acid("C18:1t", "elaidic", Some(Chain::E), None),
    acid("C20:1", "gondoic", Some(Chain::O), None),
    acid("C22:1", "erucic", Some(Chain::O), None),
    acid("C18:2", "linoleic", Some(Chain::L), Some("linoleic-acid")),
    acid("C18:3", "linolenic", Some(Chain::Ln), Some("linolenic-acid")),
    acid("C18:1-OH", "ricinoleic", None, None),
    acid("C20:4", "arachidonic", None, None),
    acid("C20:5", "eicosapentaenoic", None, None),
    acid("C22:6", "docosahexaenoic", None, None),
    FattyAcid::OTHER,
];

impl FattyAcid {
    /// Whatever a certificate does not name: counted as liquid.
    pub const OTHER: FattyAcid = acid("other", "other", None, None);

    /// The fatty acid of this name: `C16:0`, `16:0`, `palmitic` or `palmitic acid`, capitals or not.
    pub fn named(name: &str) -> Option<FattyAcid> {
        let name = name.trim().to_ascii_lowercase();
        let name =
            name.strip_suffix("acid").map_or(name.as_str(), |short| short.trim_end_matches([' ', '-', '_']));
        ACIDS.into_iter().find(|acid| {
            let short = acid.name.to_ascii_lowercase();
            name == acid.common || name == short || short.strip_prefix('c') == Some(name)
        })
    }

    /// Every name that [`Self::named`] knows, in pairs.
    pub fn all() -> impl Iterator<Item = FattyAcid> {
        ACIDS.into_iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_acid_goes_by_all_its_names() {
        for name in ["C16:0", "c16:0", "16:0", "palmitic", "Palmitic acid", " palmitic-acid "] {
            assert_eq!(FattyAcid::named(name).and_then(|acid| acid.chain), Some(Chain::P), "{name}");
        }
        assert_eq!(FattyAcid::named("C18:1t").and_then(|acid| acid.chain), Some(Chain::E));
        for name in ["", "acid", "C", "C17", "palm", "c16:0:1", "é"] {
            assert_eq!(FattyAcid::named(name), None, "{name}");
        }
    }
}
