//! From what a request says of lots and pots to the bench that the engine learns from.

use super::{LotRequest, Observation, PotLine, SeenSign};
use crate::{
    contract::{
        ErrorKind, Failure, Item, ItemLot,
        check::{self, within},
        item::{self, skin_c},
        ranges::*,
    },
    equilibrium::CrystalState,
    quote::quoted,
    recipe::{Line, Recipe},
    surety::learned::{Bench, Look, Measured, Pot, Seen},
};

/// The most lots that a notebook may hold.
pub(in crate::contract) const MOST_LOTS: usize = 12;
/// The most observations likewise.
pub(in crate::contract) const MOST_OBSERVATIONS: usize = 40;
const MOST_POT_LINES: usize = 12;

/// A butter that was made so lately, days, counts as fresh (ours).
const FRESH_DAYS: f64 = 2.0;

/// The bench that a request describes, and what the request calls the things on it.
pub(super) struct NamedBench {
    pub(super) bench: Bench,
    /// What the maker calls the first lots of the bench. Behind them come catalogue ingredients, by their ids
    /// alone.
    pub(super) names: Vec<String>,
    /// The catalogue id of every lot of the bench.
    pub(super) ids: Vec<String>,
    pot_names: Vec<Option<String>>,
    pub(super) thermometers: Vec<(Measured, Option<String>)>,
}

pub(super) fn too_many(at: &str, found: usize, most: usize) -> Result<(), Failure> {
    if found <= most {
        return Ok(());
    }
    Err(Failure::new(ErrorKind::OutOfRange, at, format!("{found} are too many here: give at most {most}")))
}

/// A line of one ingredient alone.
pub(super) fn whole(id: &str, lot: Option<ItemLot>) -> Result<Line, Failure> {
    item::line(&Item { id: Some(id.to_owned()), percent: 100.0, lot, ..Item::default() }, 0)
}

impl NamedBench {
    /// Reads what a request says of lots and of pots.
    pub(super) fn of(lots: &[LotRequest], observations: &[Observation]) -> Result<NamedBench, Failure> {
        too_many("lots", lots.len(), MOST_LOTS)?;
        too_many("observations", observations.len(), MOST_OBSERVATIONS)?;
        let mut named = NamedBench {
            bench: Bench::default(),
            names: Vec::new(),
            ids: Vec::new(),
            pot_names: Vec::new(),
            thermometers: Vec::new(),
        };
        for (at, lot) in lots.iter().enumerate() {
            let place = |field: &str| format!("lots[{at}].{field}");
            check::named(Some(&lot.name), || place("name"))?;
            if named.names.contains(&lot.name) {
                return Err(Failure::new(
                    ErrorKind::Conflict,
                    place("name"),
                    format!("two lots are called `{}`: give each its own name", quoted(&lot.name)),
                ));
            }
            let line = whole(&lot.id, lot.lot).map_err(|failure| {
                let field = failure.at.strip_prefix("recipe[0].").unwrap_or("id").to_owned();
                failure.placed(|_| place(&field))
            })?;
            named.bench.lots.push(line);
            named.names.push(lot.name.clone());
            named.ids.push(lot.id.clone());
        }
        for (at, observation) in observations.iter().enumerate() {
            let look =
                named.look(observation).map_err(|failure| failure.below(&format!("observations[{at}]")))?;
            named.bench.looks.push(look);
        }
        Ok(named)
    }

    /// The lot of a line, by its name or its id.
    pub(super) fn lot(&mut self, line: &PotLine, at: &str) -> Result<usize, Failure> {
        match (&line.lot, &line.id) {
            (Some(name), None) => self.names.iter().position(|known| known == name).ok_or_else(|| {
                Failure::new(
                    ErrorKind::UnknownIngredient,
                    format!("{at}.lot"),
                    format!(
                        "there is no lot `{}`: name one of the lots, or give the id of an ingredient",
                        quoted(name)
                    ),
                )
            }),
            (None, Some(id)) => {
                let first = self.names.len();
                if let Some(known) = self.ids[first..].iter().position(|known| known == id) {
                    return Ok(first + known);
                }
                let line = whole(id, None).map_err(|failure| failure.placed(|_| format!("{at}.id")))?;
                self.bench.lots.push(line);
                self.ids.push(id.clone());
                Ok(self.ids.len() - 1)
            }
            _ => Err(Failure::new(
                ErrorKind::Conflict,
                at,
                "a line of a pot is of one of the lots, by its name, or of an ingredient, by its id: give one of the two",
            )),
        }
    }

    /// The lines of a pot, its lots by their places.
    pub(super) fn lines(&mut self, recipe: &[PotLine], at: &str) -> Result<Vec<(usize, f64)>, Failure> {
        too_many(at, recipe.len(), MOST_POT_LINES)?;
        let mut lines: Vec<(usize, f64)> = Vec::new();
        for (index, line) in recipe.iter().enumerate() {
            let lot = self.lot(line, &format!("{at}[{index}]"))?;
            lines.push((lot, line.percent));
        }
        let whole = lines.iter().map(|(lot, percent)| {
            let mut line = self.bench.lots[*lot].clone();
            line.percent = *percent;
            line
        });
        let recipe = Recipe::new(whole.collect())
            .map_err(Failure::from)
            .map_err(|failure| failure.placed(|place| place.replacen("recipe", at, 1)))?;
        for (line, exactly) in lines.iter_mut().zip(recipe.lines()) {
            line.1 = exactly.percent;
        }
        Ok(lines)
    }

    /// What was seen, of a pot on the bench.
    fn look(&mut self, observation: &Observation) -> Result<Look, Failure> {
        let Observation { seen, firmness, solid_percent, .. } = observation;
        check::named(observation.pot.as_deref(), || "pot".to_owned())?;
        check::named(observation.thermometer.as_deref(), || "thermometer".to_owned())?;
        let lines = self.lines(&observation.recipe, "recipe")?;
        let days = observation.after_days.unwrap_or(f64::INFINITY);
        if days < 0.0 {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                "after_days",
                format!("{days} days after making is not possible: give 0 or more, or leave it out"),
            ));
        }
        let state = if days < FRESH_DAYS { CrystalState::Fresh } else { CrystalState::Settled };
        let pot = Pot { lines, format: observation.format, state };
        let pot = self.pot(pot, observation.pot.clone())?;
        let missing = |field: &str, what: &str| Failure::new(ErrorKind::Empty, field, what);
        let seen = match seen {
            SeenSign::Held => Seen::Held,
            SeenSign::Slumped => Seen::Slumped,
            SeenSign::Clear => Seen::Clear,
            SeenSign::Slipped => Seen::Slipped,
            SeenSign::Firmness => Seen::Firmness(firmness.ok_or_else(|| {
                missing("firmness", "how firm it was is not said: choose a class, from pourable to snapping")
            })?),
            SeenSign::OilOnTop => Seen::OilOnTop,
            SeenSign::Film => Seen::Film,
            SeenSign::MeltsAway => Seen::MeltsAway,
            SeenSign::Solid => {
                let percent = solid_percent.ok_or_else(|| {
                    missing(
                        "solid_percent",
                        "how much was solid is not said: give the percentage that was measured",
                    )
                })?;
                Seen::Solid(within(percent, SEEN_SOLID_PERCENT, "solid_percent", "what was solid", "%")?)
            }
        };
        let on_skin = matches!(seen, Seen::Film | Seen::MeltsAway);
        let at_c = match observation.at_c {
            Some(at_c) if on_skin => within(at_c, SKIN_C, "at_c", "skin", "°C")?,
            Some(at_c) => within(at_c, SEEN_C, "at_c", "the temperature that it was seen at", "°C")?,
            None if on_skin => skin_c(),
            None => {
                return Err(missing(
                    "at_c",
                    "at which temperature it was seen is not said: give it in °C, as it was read",
                ));
            }
        };
        let thermometer = self.thermometer(observation.measured, observation.thermometer.clone());
        Ok(Look { pot, seen, at_c, thermometer, counts: !observation.left_out, insisted: observation.insist })
    }

    /// The place of a pot on the bench, where it joins when it is first looked at.
    fn pot(&mut self, pot: Pot, name: Option<String>) -> Result<usize, Failure> {
        let same =
            |known: &Pot| known.lines == pot.lines && known.format == pot.format && known.state == pot.state;
        let known = self.bench.pots.iter().zip(&self.pot_names).position(|(known, known_name)| match &name {
            Some(_) => *known_name == name && known.state == pot.state,
            None => known_name.is_none() && same(known),
        });
        match known {
            Some(at) if same(&self.bench.pots[at]) => Ok(at),
            Some(_) => Err(Failure::new(
                ErrorKind::Conflict,
                "pot",
                format!(
                    "two pots of different recipes are called `{}`: give each its own name",
                    quoted(name.as_deref().unwrap_or_default())
                ),
            )),
            None => {
                self.bench.pots.push(pot);
                self.pot_names.push(name);
                Ok(self.bench.pots.len() - 1)
            }
        }
    }

    /// The place of a thermometer on the bench, where it joins when it is first named.
    pub(super) fn thermometer(&mut self, measured: Measured, name: Option<String>) -> usize {
        let one = (measured, name);
        self.thermometers.iter().position(|known| *known == one).unwrap_or_else(|| {
            self.bench.thermometers.push(one.0);
            self.thermometers.push(one);
            self.thermometers.len() - 1
        })
    }

    /// A line of a pot, as the request has it.
    pub(super) fn told(&self, (lot, percent): (usize, f64)) -> PotLine {
        match self.names.get(lot) {
            Some(name) => PotLine { lot: Some(name.clone()), id: None, percent },
            None => PotLine { lot: None, id: Some(self.ids[lot].clone()), percent },
        }
    }
}

/// Whether lots and observations go together, without learning from them.
pub(in crate::contract) fn check(lots: &[LotRequest], observations: &[Observation]) -> Result<(), Failure> {
    NamedBench::of(lots, observations).map(|_| ())
}
