//! A natural fat from its fatty-acid profile and its minor components.

use super::{Chain, Make, Profile, Rule, Species, profile::triglycerides};

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

/// A fat as a certificate of analysis describes it.
#[derive(Clone, PartialEq, Debug)]
pub struct Fat {
    /// How its acids are spread over the triglycerides.
    pub rule: Rule,
    /// Percent by mass of all fatty acids; scaled to 100.
    pub fatty_acids: Vec<(FattyAcid, f64)>,
    /// Percent by mass of the fat that is no glyceride (unsaponifiable matter); counted as liquid.
    pub non_glyceride_percent: f64,
    /// Percent by mass of free fatty acids, of the profile's make-up.
    pub free_acid_percent: f64,
    /// Percent by mass of diglycerides; counted as liquid.
    pub diglyceride_percent: f64,
}

impl Fat {
    /// Its species, percent by mass, summing to 100; all liquid for an empty profile.
    pub fn make(&self) -> Make {
        let named: f64 = self.fatty_acids.iter().map(|(_, percent)| percent).sum();
        let mut parts = Make::new();
        if named > 0.0 {
            let chains: Vec<(Chain, f64)> = self
                .fatty_acids
                .iter()
                .filter_map(|(acid, percent)| acid.chain.map(|chain| (chain, *percent)))
                .collect();
            let known: f64 = chains.iter().map(|(_, percent)| percent).sum();
            let free: Make = self
                .fatty_acids
                .iter()
                .filter_map(|(acid, percent)| {
                    let species = Species::find(acid.free?).ok()?;
                    Some((species, percent * self.free_acid_percent / named))
                })
                .collect();
            let free_sum: f64 = free.iter().map(|(_, percent)| percent).sum();
            let fat = (100.0 - self.non_glyceride_percent - self.diglyceride_percent - free_sum).max(0.0);
            let crystallising = fat * known / named;
            let profile = Profile { rule: self.rule, fatty_acids: merged(chains) };
            parts.extend(triglycerides(&profile).into_iter().map(|(triglyceride, percent)| {
                (Species::triglyceride(triglyceride), percent * crystallising / 100.0)
            }));
            parts.extend(free);
        }
        let rest = 100.0 - parts.iter().map(|(_, percent)| percent).sum::<f64>();
        if rest > 0.0 {
            parts.extend(Species::find("liquid").ok().map(|liquid| (liquid, rest)));
        }
        parts
    }
}

/// Acids that one chain stands for, together.
fn merged(chains: Vec<(Chain, f64)>) -> Vec<(Chain, f64)> {
    let mut found: Vec<(Chain, f64)> = Vec::new();
    for (chain, percent) in chains {
        match found.iter_mut().find(|(known, _)| *known == chain) {
            Some((_, sum)) => *sum += percent,
            None => found.push((chain, percent)),
        }
    }
    found
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

    #[test]
    fn a_make_sums_to_100_whatever_it_is_made_of() {
        let sum = |fatty_acids: Vec<(FattyAcid, f64)>| -> f64 {
            let fat = Fat {
                rule: Rule::Seed,
                fatty_acids,
                non_glyceride_percent: 1.0,
                free_acid_percent: 2.0,
                diglyceride_percent: 3.0,
            };
            fat.make().iter().map(|(_, percent)| percent).sum()
        };
        let acid = |name| FattyAcid::named(name).unwrap();
        for fatty_acids in [
            Vec::new(),
            vec![(acid("other"), 100.0)],
            vec![(acid("oleic"), 60.0), (acid("erucic"), 5.0), (acid("stearic"), 20.0)],
        ] {
            assert!((sum(fatty_acids.clone()) - 100.0).abs() < 1e-9, "{fatty_acids:?}");
        }
    }
}
