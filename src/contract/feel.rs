//! What proposals do to the feel, against the recipe as it is.

use super::{Item, item};
use crate::{
    behaviour::{
        MeltingProfile, Where, Wishes,
        dab::{DAB_G, Dab, FILM_MM, ROOM_C, melt},
        judgement::{Feel, Felt, feels},
    },
    equilibrium::CrystalState,
    recipe::{Line, Recipe},
    substances::{Class, SpeciesKind},
};

/// The wax that takes the shine off a butter.
const BEESWAX: &str = "beeswax";

/// What is felt of a recipe.
pub(super) fn felt(recipe: &Recipe, wishes: &Wishes) -> Felt {
    let mixture = recipe.mixture(CrystalState::Settled);
    let (mut melting, profile) = MeltingProfile::sampled(&mixture);
    let skin_c = wishes.temperature_c(Where::Skin);
    let start_c = ROOM_C.clamp(wishes.coldest_c, wishes.hottest_c);
    let dab = Dab { mass_g: DAB_G, film_mm: FILM_MM, start_c, skin_c, both_sides: false };
    let half_s = melt(&profile.enthalpy(), &dab).half_s;
    let mut at = |place| melting.solids(wishes.temperature_c(place));
    Felt {
        coldest: at(Where::Coldest),
        usual: at(Where::Usual),
        skin: at(Where::Skin),
        half_s,
        matting_percent: recipe.lines().iter().map(|line| line.percent * matting_share(line)).sum(),
    }
}

/// How much of a line takes the shine off.
fn matting_share(line: &Line) -> f64 {
    let matts = |kind| matches!(kind, SpeciesKind::Acid | SpeciesKind::Powder);
    match line.class {
        Class::Wax => f64::from(line.key == BEESWAX),
        _ => {
            0.01 * line
                .make()
                .iter()
                .filter(|(it, _)| matts(it.kind))
                .map(|(_, percent)| percent)
                .sum::<f64>()
        }
    }
}

/// What each of some recipes does to the feel of the first; a recipe that cannot be read does nothing, for it
/// was told before.
pub(super) fn tell<'a>(
    before: &Recipe,
    wishes: &Wishes,
    told: impl Iterator<Item = (&'a [Item], &'a mut Vec<Feel>)>,
) {
    let now = felt(before, wishes);
    for (items, feel) in told {
        if let Ok(recipe) = item::recipe(items) {
            *feel = feels(&now, &felt(&recipe, wishes), wishes.temperature_c(Where::Coldest));
        }
    }
}
