//! `harden`: how a hardener moves the melting point, dose by dose.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item, check::within, item, ranges::DOSE_PERCENT, state::Swap};
use crate::{
    behaviour::{
        Firmness, Melting, Quantity, Where, Wishes, clear_point,
        judgement::{DoseNote, Dosed, NoButter},
    },
    equilibrium::CrystalState,
    recipe::{Line, Recipe, unknown_ingredient},
    substances::{self, Class},
};

/// `{"ask":"harden"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct HardenRequest {
    /// The base; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// Catalogue ids of one to four hardeners, each looked at alone.
    pub hardeners: Vec<String>,
    /// What a hardener replaces.
    pub swap: Swap,
    /// The doses, percent of the whole added to what the base has, 0 to 50, rising; absent: 0 to 20 by 1.
    #[serde(default = "doses")]
    pub doses_percent: Vec<f64>,
}

fn doses() -> Vec<f64> {
    (0..=20).map(f64::from).collect()
}

/// The answer to [`HardenRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct HardenAnswer {
    /// One for each hardener, in the order asked.
    pub hardeners: Vec<Hardener>,
}

/// What one hardener does, column by column over the doses.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Hardener {
    /// The catalogue id.
    pub id: String,
    /// Percent; shorter than asked where there is no more oil to replace.
    pub dose_percent: Vec<f64>,
    /// The most that there is to replace, percent: no dose goes beyond.
    pub most_percent: f64,
    /// What is left of each line of the base at each dose, percent, in the order asked; the dose is what is
    /// missing to 100.
    pub base_percent: Vec<Vec<f64>>,
    /// Where the format stops keeping its shape, °C; `null` where it never does.
    pub softens_c: Vec<Option<f64>>,
    /// Slip point, °C; `null` where it is liquid at every temperature considered.
    pub slip_c: Vec<Option<f64>>,
    /// Clear point, °C; `null` likewise.
    pub clear_c: Vec<Option<f64>>,
    /// Solid fat content at the coldest storage, percent by mass.
    pub coldest_percent: Vec<f64>,
    /// At the hottest storage.
    pub hottest_percent: Vec<f64>,
    /// On skin.
    pub skin_percent: Vec<f64>,
    /// Structure in the middle of the storage range, percent.
    pub structure_percent: Vec<f64>,
    /// Structure at the hottest storage, percent.
    pub structure_hottest_percent: Vec<f64>,
    /// The class that the structure falls in.
    pub firmness: Vec<Firmness>,
    /// What of it a class will ask about: a line that stays flat, a dose that does nothing.
    pub dose_notes: Vec<DoseNote>,
    /// Where it stops being a butter; `null` where it stays one.
    pub stops: Option<Stop>,
    /// The largest violation of the optimality conditions over every state solved for this hardener.
    pub certificate: f64,
}

/// Where a recipe stops being a butter.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Stop {
    /// The least dose at which it is none, of those asked.
    pub dose_percent: f64,
    /// Why.
    pub reason: NoButter,
}

/// The most doses.
const MOST_DOSES: usize = 101;

/// Works out [`HardenRequest`].
pub(super) fn harden(request: HardenRequest, wishes: Wishes) -> Result<HardenAnswer, Failure> {
    let base = item::recipe(&request.recipe)?;
    if request.hardeners.is_empty() || request.hardeners.len() > 4 {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "hardeners",
            format!("{} hardeners were given: choose one to four", request.hardeners.len()),
        ));
    }
    let doses = &request.doses_percent;
    if doses.is_empty() || doses.len() > MOST_DOSES {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "doses_percent",
            format!("there are {} doses: give 1 to {MOST_DOSES}", doses.len()),
        ));
    }
    for (at, dose) in doses.iter().enumerate() {
        let (place, what) = (format!("doses_percent[{at}]"), format!("dose {}", at + 1));
        within(*dose, DOSE_PERCENT, &place, &what, "%")?;
        if at > 0 && doses[at - 1] >= *dose {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                place,
                format!(
                    "{what}, {dose} %, does not come after {} %: put the doses in order, each once",
                    doses[at - 1]
                ),
            ));
        }
    }
    let hardeners = request
        .hardeners
        .iter()
        .enumerate()
        .map(|(at, id)| {
            let ingredient =
                substances::find(id).ok_or_else(|| unknown_ingredient(id, format!("hardeners[{at}]")))?;
            one(&base, ingredient, request.swap, doses, &wishes)
        })
        .collect::<Result<_, Failure>>()?;
    Ok(HardenAnswer { hardeners })
}

fn one(
    base: &Recipe,
    ingredient: &'static substances::Ingredient,
    swap: Swap,
    doses: &[f64],
    wishes: &Wishes,
) -> Result<Hardener, Failure> {
    let mut told = Hardener {
        id: ingredient.id().to_owned(),
        dose_percent: Vec::new(),
        most_percent: room(base.lines(), ingredient, swap),
        base_percent: Vec::new(),
        softens_c: Vec::new(),
        slip_c: Vec::new(),
        clear_c: Vec::new(),
        coldest_percent: Vec::new(),
        hottest_percent: Vec::new(),
        skin_percent: Vec::new(),
        structure_percent: Vec::new(),
        structure_hottest_percent: Vec::new(),
        firmness: Vec::new(),
        dose_notes: Vec::new(),
        stops: None,
        certificate: 0.0,
    };
    let (held_by, least_percent) = (wishes.format.held_by(), wishes.format.least_percent());
    for dose in doses {
        let Some(left) = left(base.lines(), ingredient, swap, *dose) else { break };
        let lines = swapped(base.lines(), &left, ingredient, *dose);
        let wax: f64 = lines.iter().filter(|line| line.class == Class::Wax).map(|line| line.percent).sum();
        let mixture = Recipe::new(lines)?.mixture(CrystalState::Settled);
        let mut melting = Melting::of(&mixture);
        let [cold, usual, hot, skin] = [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin]
            .map(|place| melting.solids(wishes.temperature_c(place)));
        told.softens_c.push(melting.softens_c(least_percent, held_by.figure()));
        told.slip_c.push(melting.slip_c());
        told.clear_c.push(melting.clear_c());
        told.certificate = told.certificate.max(melting.certificate());
        let firmness = Firmness::of(usual.structure_percent());
        if told.stops.is_none() {
            told.stops = NoButter::of(firmness, skin.on_skin_percent(), wax)
                .map(|reason| Stop { dose_percent: *dose, reason });
        }
        told.dose_percent.push(*dose);
        told.base_percent.push(left);
        told.coldest_percent.push(cold.fat_percent());
        told.hottest_percent.push(hot.fat_percent());
        told.skin_percent.push(skin.fat_percent());
        told.structure_percent.push(usual.structure_percent());
        told.structure_hottest_percent.push(hot.structure_percent());
        told.firmness.push(firmness);
    }
    let alone = clear_point(&Recipe::new(vec![Line::of(ingredient, 100.0)])?.mixture(CrystalState::Settled));
    told.certificate = told.certificate.max(alone.certificate);
    told.dose_notes = DoseNote::of(&Dosed {
        doses_percent: &told.dose_percent,
        softens_c: &told.softens_c,
        slip_c: &told.slip_c,
        clear_c: &told.clear_c,
        hottest_percent: &told.hottest_percent,
        holds_no_air: ingredient.class() == Class::Wax && held_by == Quantity::Crystals,
        takes_solids: base
            .lines()
            .iter()
            .any(|line| line.class != Class::LiquidOil && gives(line, ingredient, swap)),
        alone_c: alone.celsius,
        hottest_c: wishes.hottest_c,
    });
    Ok(told)
}

/// Whether a line gives way to the hardener. What the base has of it stays: the dose comes on top.
fn gives(line: &Line, ingredient: &substances::Ingredient, swap: Swap) -> bool {
    line.key != ingredient.id() && (swap == Swap::All || line.class == Class::LiquidOil)
}

/// How much there is to replace, percent.
fn room(lines: &[Line], ingredient: &substances::Ingredient, swap: Swap) -> f64 {
    lines.iter().filter(|line| gives(line, ingredient, swap)).map(|line| line.percent).sum()
}

/// What a dose leaves of each line of the base, percent; `None` where there is not so much to take out.
fn left(lines: &[Line], ingredient: &substances::Ingredient, swap: Swap, dose: f64) -> Option<Vec<f64>> {
    let room = room(lines, ingredient, swap);
    if dose > room {
        return None;
    }
    let kept = if room > 0.0 { (room - dose) / room } else { 1.0 };
    let one = |line: &Line| line.percent * if gives(line, ingredient, swap) { kept } else { 1.0 };
    Some(lines.iter().map(one).collect())
}

/// The base as a dose leaves it, with the dose of the hardener in it.
fn swapped(
    lines: &[Line],
    left: &[f64],
    ingredient: &'static substances::Ingredient,
    dose: f64,
) -> Vec<Line> {
    let mut lines = lines.to_vec();
    for (line, percent) in lines.iter_mut().zip(left) {
        line.percent = *percent;
    }
    match lines.iter_mut().find(|line| line.key == ingredient.id()) {
        Some(line) => line.percent += dose,
        None if dose > 0.0 => lines.push(Line::of(ingredient, dose)),
        None => {}
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::{Format, judgement::DoseLine};

    const WISHES: Wishes = Wishes {
        format: Format::Pot,
        coldest_c: 18.0,
        hottest_c: 28.0,
        skin_c: 32.5,
        firmness: None,
        on_skin: None,
    };

    /// The dose is added to what the base has of the hardener, whatever gives way.
    #[test]
    fn what_the_base_has_of_the_hardener_stays() {
        let lines = |base: &[(&str, f64)], hardener: &str, swap, dose| {
            let line = |(id, percent): &(&str, f64)| Line::of(substances::find(id).unwrap(), *percent);
            let lines: Vec<Line> = base.iter().map(line).collect();
            let hardener = substances::find(hardener).unwrap();
            let left = left(&lines, hardener, swap, dose)?;
            let swapped = swapped(&lines, &left, hardener, dose);
            Some(swapped.iter().map(|line| line.percent).collect::<Vec<_>>())
        };
        let base = [("cocoa-butter", 20.0), ("shea-butter", 60.0), ("olive-oil", 20.0)];
        assert_eq!(lines(&base, "cocoa-butter", Swap::All, 40.0), Some(vec![60.0, 30.0, 10.0]));
        assert_eq!(lines(&base, "cocoa-butter", Swap::Oil, 10.0), Some(vec![30.0, 60.0, 10.0]));
        assert_eq!(lines(&base, "cocoa-butter", Swap::All, 81.0), None);
        assert_eq!(lines(&base, "olive-oil", Swap::Oil, 1.0), None);
    }

    fn item(id: &str, percent: f64) -> Item {
        Item { id: Some(id.to_owned()), percent, ..Item::default() }
    }

    fn ask(hardener: &str, swap: Swap) -> Hardener {
        let request = HardenRequest {
            recipe: vec![item("shea-butter", 60.0), item("sunflower-oil", 40.0)],
            hardeners: vec![hardener.to_owned()],
            swap,
            doses_percent: doses(),
        };
        let mut answer = harden(request, WISHES).expect("answers");
        answer.hardeners.remove(0)
    }

    /// Hardened oil in the place of oil: molecules of the same size that melt far higher, so no dose can
    /// lower the solids (ideal solubility).
    #[test]
    fn hardened_oil_in_place_of_oil_never_lowers_solids() {
        let told = ask("hydrogenated-vegetable-oil", Swap::Oil);
        assert_eq!(told.dose_percent.len(), 21);
        assert!(told.clear_c[20] > told.clear_c[0], "{:?}", told.clear_c);
        for solids in [&told.coldest_percent, &told.hottest_percent, &told.skin_percent] {
            assert!(solids.windows(2).all(|pair| pair[1] >= pair[0] - 1e-6), "{solids:?}");
        }
        assert!(told.certificate < 1e-8, "{}", told.certificate);
    }

    /// While stearic acid is dissolved, its small molecules thin the liquid: there are three for
    /// one triglyceride, and the butter's own solids fall (ideal solubility). From where it
    /// crystallises itself they rise.
    #[test]
    fn stearic_acid_softens_a_little_before_it_hardens() {
        let told = ask("stearic-acid", Swap::Oil);
        let solids = &told.hottest_percent;
        let lowest = solids.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(lowest < solids[0], "{solids:?}");
        assert!(solids[20] > solids[0] + 5.0, "{solids:?}");
        assert!(told.clear_c[20] > told.clear_c[0]);
    }

    /// A note says of a line what the line does: what is said to be flat stays within a quarter of a degree,
    /// and what is said to fall falls.
    #[test]
    fn no_note_contradicts_its_line() {
        let shea = [item("shea-butter", 100.0)];
        let mixed = [item("shea-butter", 60.0), item("sunflower-oil", 40.0)];
        let whipped = [item("shea-butter", 50.0), item("coconut-oil", 20.0), item("sweet-almond-oil", 30.0)];
        let mut kinds = Vec::new();
        for (recipe, swap) in [(&shea[..], Swap::All), (&mixed, Swap::Oil), (&whipped, Swap::Oil)] {
            for format in [Format::Pot, Format::Whipped] {
                let request = HardenRequest {
                    recipe: recipe.to_vec(),
                    hardeners: ["cocoa-butter", "stearic-acid", "beeswax"].map(str::to_owned).to_vec(),
                    swap,
                    doses_percent: doses(),
                };
                let wishes = Wishes { format, hottest_c: 30.0, ..WISHES };
                for told in harden(request, wishes).expect("answers").hardeners {
                    for note in &told.dose_notes {
                        kinds.push((told.id.clone(), note.clone()));
                        agrees(&told, note);
                    }
                }
            }
        }
        let said =
            |id: &str, test: fn(&DoseNote) -> bool| kinds.iter().any(|(of, note)| of == id && test(note));
        assert!(said("cocoa-butter", |note| matches!(note, DoseNote::MeltsThere { .. })), "{kinds:?}");
        assert!(said("cocoa-butter", |note| matches!(note, DoseNote::MeltsSooner { .. })), "{kinds:?}");
        assert!(said("stearic-acid", |note| matches!(note, DoseNote::Thins { .. })), "{kinds:?}");
        assert!(said("stearic-acid", |note| matches!(note, DoseNote::Displaces { .. })), "{kinds:?}");
        assert!(said("beeswax", |note| matches!(note, DoseNote::Idle { .. })), "{kinds:?}");
        assert!(said("beeswax", |note| matches!(note, DoseNote::HoldsNoAir { .. })), "{kinds:?}");
        assert!(said("beeswax", |note| matches!(note, DoseNote::DisplacesAir { .. })), "{kinds:?}");
    }

    fn agrees(told: &Hardener, note: &DoseNote) {
        let line = |of: DoseLine| -> Vec<f64> {
            match of {
                DoseLine::Softens => told.softens_c.iter().map_while(|one| *one).collect(),
                DoseLine::Slip => told.slip_c.iter().map_while(|one| *one).collect(),
                DoseLine::Clear => told.clear_c.iter().map_while(|one| *one).collect(),
                DoseLine::Hottest => told.hottest_percent.clone(),
            }
        };
        let at = |percent: f64| {
            told.dose_percent.iter().position(|dose| *dose == percent).expect("a dose asked for")
        };
        let drops = |line: &[f64], to: usize| line[0] - line[to];
        match *note {
            DoseNote::Idle { of, to_percent } => {
                let line = line(of);
                let least = if of == DoseLine::Hottest { 0.5 } else { 0.25 };
                assert!(line[..=at(to_percent)].iter().all(|one| (one - line[0]).abs() <= least), "{line:?}");
                assert!(*line.last().expect("doses") > line[0] + least, "{line:?}");
            }
            DoseNote::Thins { of, to_percent } | DoseNote::Displaces { of, to_percent } => {
                let line = line(of);
                assert!(drops(&line, at(to_percent)) > 0.25, "{of:?} {line:?}");
            }
            DoseNote::MeltsSooner { of, .. } | DoseNote::DisplacesAir { of } => {
                let line = line(of);
                assert!(drops(&line, line.len() - 1) > 0.25, "{of:?} {line:?}");
            }
            DoseNote::MeltsThere { of, moves_k, .. } => {
                let line = line(of);
                assert!(line.iter().all(|one| (one - line[0]).abs() <= moves_k + 1e-9), "{line:?}");
                assert!(moves_k <= 1.0, "{line:?}");
            }
            DoseNote::HoldsNoAir { of } => {
                let line = line(of);
                assert!(drops(&line, line.len() - 1) <= 0.25, "{line:?}");
            }
        }
    }

    #[test]
    fn dose_zero_is_the_base_whatever_the_hardener_and_the_swap() {
        let stearic = ask("stearic-acid", Swap::Oil);
        let beeswax = ask("beeswax", Swap::All);
        assert_eq!(stearic.coldest_percent[0], beeswax.coldest_percent[0]);
        assert_eq!(stearic.slip_c[0], beeswax.slip_c[0]);
    }

    #[test]
    fn wax_stops_it_being_a_butter_above_ten_percent_at_the_latest() {
        let stop = ask("candelilla-wax", Swap::All).stops.expect("20 % wax is no butter");
        assert!(stop.dose_percent <= 11.0, "{stop:?}");
    }

    #[test]
    fn the_dose_ends_where_the_oil_does() {
        let request = HardenRequest {
            recipe: vec![item("shea-butter", 95.0), item("sunflower-oil", 5.0)],
            hardeners: vec!["beeswax".to_owned()],
            swap: Swap::Oil,
            doses_percent: doses(),
        };
        let answer = harden(request, WISHES).expect("answers");
        assert_eq!(answer.hardeners[0].dose_percent, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]);
        assert_eq!(answer.hardeners[0].most_percent, 5.0);
    }

    /// A class weighs each pot: what is left of the base and the dose make up the whole.
    #[test]
    fn what_is_left_of_the_base_and_the_dose_are_the_whole() {
        for swap in [Swap::Oil, Swap::All] {
            let told = ask("stearic-acid", swap);
            assert_eq!(told.base_percent[0], [60.0, 40.0]);
            for (dose, left) in told.dose_percent.iter().zip(&told.base_percent) {
                assert!((left.iter().sum::<f64>() + dose - 100.0).abs() < 1e-9, "{dose}: {left:?}");
            }
        }
        assert_eq!(ask("stearic-acid", Swap::Oil).base_percent[10], [60.0, 30.0]);
        assert_eq!(ask("stearic-acid", Swap::All).base_percent[10], [54.0, 36.0]);
    }
}
