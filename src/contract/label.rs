//! The list of ingredients for a label.

use serde::Serialize;

use crate::{
    recipe::Recipe,
    substances::{self, Ingredient},
};

/// The list of ingredients for a label.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Label {
    /// The names in descending order, as a list to print.
    pub text: String,
    /// The same, one by one.
    pub names: Vec<LabelName>,
    /// The allergen groups in it, each once.
    pub allergens: Vec<&'static str>,
    /// What to know before printing it.
    pub notes: Vec<LabelNote>,
}

/// One name on a label.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LabelName {
    /// The name by the International Nomenclature of Cosmetic Ingredients; for an own ingredient like none of
    /// the catalogue, what the maker calls it, which the note says.
    pub inci: String,
    /// Percent by mass.
    pub percent: f64,
    /// Allergen groups.
    pub allergens: Vec<&'static str>,
}

/// What to know before printing a label.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
#[allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]
pub enum LabelNote {
    /// Names and order differ by region.
    RulesDiffer { any_order_percent: f64 },
    /// Of ingredients with several names, the shares are assumed.
    SharesAssumed { extract_percent: f64 },
    /// Some names are the maker's own.
    OwnNames { ids: Vec<String> },
}

/// Below this many regions allow any order, percent (usual in cosmetic labelling law, from memory).
const ANY_ORDER_PERCENT: f64 = 1.0;

/// What an ingredient holds of each extract or unsaponifiable matter that its name lists,
/// percent: common practice, no source.
const EXTRACT_PERCENT: f64 = 1.0;

/// The list for a recipe.
///
/// What is not an extract counts alike: the make-up of an oil hardened into a butter takes more
/// of the hydrogenated oil (60 %, common practice), but its sheets name the oil first, and half
/// of each is the nearest to both.
pub(super) fn label(recipe: &Recipe) -> Label {
    let mut names: Vec<LabelName> = Vec::new();
    let mut allergens: Vec<&'static str> = Vec::new();
    let (mut split, mut ids) = (false, Vec::new());
    for line in recipe.lines().iter().filter(|line| line.percent > 0.0) {
        allergens.extend(line.allergens());
        let Some(found) = line.ingredient.or(line.like) else {
            add(&mut names, &line.key, line.percent, &[]);
            ids.push(line.key.clone());
            continue;
        };
        let parts = || found.inci().split(',').map(str::trim_ascii_start);
        let (mut extracts, mut others, mut none_known) = (0.0, 0.0, true);
        for part in parts() {
            *(if is_extract(part) { &mut extracts } else { &mut others }) += 1.0;
            none_known &= alone(part).is_none();
        }
        split |= extracts + others > 1.0;
        if others == 0.0 {
            (extracts, others) = (0.0, extracts);
        }
        for part in parts() {
            let rest = (100.0 - EXTRACT_PERCENT * extracts) / others;
            let share = if extracts > 0.0 && is_extract(part) { EXTRACT_PERCENT } else { rest };
            // A name that the catalogue has alone brings its own groups; where it has
            // none of them, each has the line's.
            let theirs = match alone(part) {
                Some(one) => one.allergens(),
                None if none_known => line.allergens(),
                None => &[],
            };
            add(&mut names, part, 0.01 * share * line.percent, theirs);
        }
    }
    // Of equals the first in the recipe, or in the ingredient's own list, stays first.
    names.sort_by(|a, b| b.percent.total_cmp(&a.percent));
    allergens.sort_by(Ord::cmp);
    allergens.dedup();
    let mut notes = vec![LabelNote::RulesDiffer { any_order_percent: ANY_ORDER_PERCENT }];
    if split {
        notes.push(LabelNote::SharesAssumed { extract_percent: EXTRACT_PERCENT });
    }
    if !ids.is_empty() {
        notes.push(LabelNote::OwnNames { ids });
    }
    let text = names.iter().map(|name| name.inci.as_str()).collect::<Vec<_>>().join(", ");
    Label { text, names, allergens, notes }
}

fn is_extract(inci: &str) -> bool {
    inci.ends_with("Extract") || inci.ends_with("Unsaponifiables")
}

/// The ingredient that is this and nothing else.
fn alone(inci: &str) -> Option<&'static Ingredient> {
    substances::catalogue().iter().find(|one| one.inci() == inci)
}

fn add(names: &mut Vec<LabelName>, inci: &str, percent: f64, allergens: &[&'static str]) {
    match names.iter_mut().find(|name| name.inci == inci) {
        Some(name) => name.percent += percent,
        None => names.push(LabelName { inci: inci.to_owned(), percent, allergens: allergens.to_vec() }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::Line;

    fn of(lines: &[(&str, f64)]) -> Label {
        let lines =
            lines.iter().map(|(id, percent)| Line::of(substances::find(id).unwrap(), *percent)).collect();
        label(&Recipe::new(lines).unwrap())
    }

    fn listed(lines: &[(&str, f64)]) -> Vec<(String, f64)> {
        let names = of(lines).names.into_iter();
        names.map(|name| (name.inci, (1000.0 * name.percent).round() / 1000.0)).collect()
    }

    fn list(names: &[(&str, f64)]) -> Vec<(String, f64)> {
        names.iter().map(|(inci, percent)| ((*inci).to_owned(), *percent)).collect()
    }

    #[test]
    fn an_ingredient_of_several_names_is_listed_name_by_name() {
        let infused = [
            ("calendula-infused-oil", 50.0),
            ("sunflower-oil", 5.0),
            ("beeswax", 10.0),
            ("shea-butter", 35.0),
        ];
        let expected = [
            ("Helianthus Annuus (Sunflower) Seed Oil", 54.5),
            ("Butyrospermum Parkii (Shea) Butter", 35.0),
            ("Cera Alba (Beeswax)", 10.0),
            ("Calendula Officinalis Flower Extract", 0.5),
        ];
        assert_eq!(listed(&infused), list(&expected));
        let aloe = [("aloe-butter", 50.0), ("coconut-oil", 30.0), ("olive-oil", 20.0)];
        let expected = [
            ("Cocos Nucifera (Coconut) Oil", 79.5),
            ("Olea Europaea (Olive) Fruit Oil", 20.0),
            ("Aloe Barbadensis Leaf Extract", 0.5),
        ];
        assert_eq!(listed(&aloe), list(&expected));
        let avocado = [
            ("avocado-butter", 40.0),
            ("shea-butter", 30.0),
            ("olive-oil", 15.0),
            ("hydrogenated-vegetable-oil", 10.0),
            ("avocado-oil", 5.0),
        ];
        let expected = [
            ("Hydrogenated Vegetable Oil", 30.0),
            ("Butyrospermum Parkii (Shea) Butter", 30.0),
            ("Persea Gratissima (Avocado) Oil", 25.0),
            ("Olea Europaea (Olive) Fruit Oil", 15.0),
        ];
        // The two at 30 % stand as they come in the recipe: the hydrogenated oil in its first line.
        assert_eq!(listed(&avocado), list(&expected));
    }

    #[test]
    fn every_ingredient_keeps_its_order_its_whole_and_its_allergens() {
        for one in substances::catalogue() {
            let label = of(&[(one.id(), 100.0)]);
            assert_eq!(label.text, one.inci());
            let sum: f64 = label.names.iter().map(|name| name.percent).sum();
            assert!((sum - 100.0).abs() < 1e-9, "{}: {sum}", one.id());
            let shares = LabelNote::SharesAssumed { extract_percent: EXTRACT_PERCENT };
            assert_eq!(label.notes.contains(&shares), label.names.len() > 1);
            let mut each: Vec<&str> = label.names.iter().flat_map(|name| name.allergens.clone()).collect();
            each.sort_unstable();
            each.dedup();
            assert_eq!(each, label.allergens, "{}", one.id());
        }
        let almond = of(&[("almond-butter", 100.0)]);
        assert_eq!(almond.names[0].allergens, ["tree-nut"]);
        assert_eq!(almond.names[1].allergens, ["soy"]);
        assert!(of(&[("aloe-butter", 100.0)]).names[1].allergens.is_empty());
    }
}
