//! A natural fat from its fatty-acid profile and its minor components.

use super::{Chain, FattyAcid, FattyAcidProfile, Make, Rule, Species, profile::triglycerides};

/// A fat as a certificate of analysis describes it.
#[derive(Clone, PartialEq, Debug)]
pub struct Fat {
    /// How its acids are spread over the triglycerides.
    pub rule: Rule,
    /// Percent by mass of all fatty acids; scaled to 100.
    pub fatty_acids: Vec<(FattyAcid, f64)>,
    /// Percent by mass of the fat that is no glyceride (unsaponifiable matter); counted as liquid.
    pub unsaponifiable_percent: f64,
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
            let fat = (100.0 - self.unsaponifiable_percent - self.diglyceride_percent - free_sum).max(0.0);
            let crystallising = fat * known / named;
            let profile = FattyAcidProfile { rule: self.rule, fatty_acids: merged(chains) };
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
    fn a_make_sums_to_100_whatever_it_is_made_of() {
        let sum = |fatty_acids: Vec<(FattyAcid, f64)>| -> f64 {
            let fat = Fat {
                rule: Rule::Seed,
                fatty_acids,
                unsaponifiable_percent: 1.0,
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
