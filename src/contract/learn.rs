//! `learn` and `plan`: what own lots taught, and which pot to make next.

use serde::{Deserialize, Serialize};

use super::{
    ErrorKind, Failure, Item, ItemLot,
    check::within,
    item::{self, skin_c},
    ranges::*,
};
use crate::{
    behaviour::{Firmness, Format, Melting, Wishes},
    equilibrium::State,
    quote::quoted,
    recipe::{KnownLot, Line, Recipe},
    substances::Class,
    surety::{
        Range as Band, Unknowns, Width,
        learned::{Agrees, Because, Bench, Candidate, Look, Looked, Measured, Pot, Seen, Series},
    },
};

/// A lot that the maker has.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LotRequest {
    /// What the maker calls it.
    pub name: String,
    /// The catalogue id of what it is a lot of.
    pub id: String,
    /// What is known of it already, as from a link; absent: nothing.
    pub lot: Option<ItemLot>,
}

/// A line of a pot: of one of the lots, or of a catalogue ingredient of which no lot is named (all pots are then taken to have
/// it from one jar).
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct PotLine {
    /// The name of a lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// Or else a catalogue id.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Percent by mass.
    pub percent: f64,
}

/// What was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum SeenSign {
    /// It kept its shape overnight.
    Held,
    /// It did not.
    Slumped,
    /// It had just melted clear.
    Clear,
    /// It slipped in an open tube.
    Slipped,
    /// It was of the class `firmness`.
    Firmness,
    /// Oil lay on top.
    OilOnTop,
    /// On skin there was still a film after a minute.
    Film,
    /// On skin it melted away.
    MeltsAway,
    /// A laboratory found `solid_percent` solid.
    Solid,
}

/// What was seen of a pot.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Observation {
    /// What the pot is made of, summing to 100: one lot alone, or a blend.
    pub recipe: Vec<PotLine>,
    /// What the pot is called; looks at pots of one name are looks at one pot. Absent: pots of one recipe are one.
    pub pot: Option<String>,
    /// What it is; a pot unless said otherwise.
    #[serde(default = "pot_format")]
    pub format: Format,
    /// What was seen.
    pub seen: SeenSign,
    /// With `seen` `firmness`: the class.
    pub firmness: Option<Firmness>,
    /// With `seen` `solid`: percent by mass.
    pub solid_percent: Option<f64>,
    /// °C, as it was read; on skin that of skin in the open, 32.5 unless said otherwise.
    pub at_c: Option<f64>,
    /// How many days after making; below 2 it counts as fresh, and absent as settled.
    pub after_days: Option<f64>,
    /// How the temperature was measured; with a kitchen thermometer unless said otherwise.
    #[serde(default)]
    pub measured: Measured,
    /// Which thermometer of that kind; all without a name are one.
    pub thermometer: Option<String>,
    /// Whether the maker leaves it out.
    #[serde(default)]
    pub left_out: bool,
    /// Whether the maker stands by it, whatever the others say.
    #[serde(default)]
    pub insist: bool,
}

fn pot_format() -> Format {
    Format::Pot
}

/// `{"ask":"learn"}`: what the lots are like, by what was seen of them.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LearnRequest {
    /// The lots, at most 12.
    pub lots: Vec<LotRequest>,
    /// What was seen, at most 40.
    #[serde(default)]
    pub observations: Vec<Observation>,
    /// A recipe of them, to be told what became of its figures; absent: none.
    #[serde(default)]
    pub recipe: Vec<PotLine>,
    /// How the recipe is sold; a pot unless said otherwise.
    #[serde(default = "pot_format")]
    pub format: Format,
}

/// The answer to [`LearnRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LearnAnswer {
    /// Each lot, in the order of the request.
    pub lots: Vec<LearnedLot>,
    /// The thermometers, in the order that they were met.
    pub thermometers: Vec<LearnedThermometer>,
    /// How each observation agrees, in the order of the request.
    pub observations: Vec<Agreement>,
    /// How many pots were looked at.
    pub pots: usize,
    /// The recipe before and after; `null` where none was given.
    pub recipe: Option<LearnedRecipe>,
}

/// What is known of a lot.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LearnedLot {
    /// What the maker calls it.
    pub name: String,
    /// What it is a lot of.
    pub id: String,
    /// What is known of it now: a line of a recipe takes it as its `lot`.
    pub lot: ItemLot,
    /// What was known of it before.
    pub before: ItemLot,
    /// How many observations that count are of pots with it.
    pub observations: usize,
    /// The slip point of the lot by itself, before.
    pub slip_before: PointBand,
    /// And now.
    pub slip: PointBand,
}

/// A temperature and its band.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PointBand {
    /// °C; `null` where there is none.
    pub at_c: Option<f64>,
    /// Nine in ten lie within, °C; likewise.
    pub band_c: Option<Band>,
}

/// What a thermometer reads wrong.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LearnedThermometer {
    /// What kind it is.
    pub measured: Measured,
    /// Its name, if it has one.
    pub thermometer: Option<String>,
    /// K that it reads too high.
    pub reads_high_k: f64,
    /// What is left unknown of that, K, as a standard deviation.
    pub left_k: f64,
}

/// How an observation agrees with all others and with what is published.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Agreement {
    /// `yes`, `strained`, or `no`: then it was left out.
    pub agrees: Agrees,
    /// Of such observations, were all as the others say, the share that is so far off or farther.
    pub share_as_far_off: f64,
    /// Where, by all others, it should have been seen, °C.
    pub expected_c: f64,
    /// Nine in ten such readings would lie so near to that, K.
    pub within_k: f64,
    /// The likeliest reason, where it does not agree.
    pub because: Option<Because>,
    /// Another observation of the same pot that cannot be true beside it: which of the request.
    pub against: Option<usize>,
}

/// What became of a recipe's figures.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LearnedRecipe {
    /// Where it softens, of any lots.
    pub softening_before: PointBand,
    /// Of these.
    pub softening: PointBand,
    /// Where it slips, of any lots.
    pub slip_before: PointBand,
    /// Of these.
    pub slip: PointBand,
}

/// The most lots, observations, lines of a pot, pots to choose from, and temperatures.
pub(super) const MOST_LOTS: usize = 12;
pub(super) const MOST_OBSERVATIONS: usize = 40;
const MOST_POT_LINES: usize = 12;
const MOST_POTS: usize = 24;
const MOST_TEMPERATURES: usize = 24;

/// A butter that was made so lately, days, counts as fresh (ours).
const FRESH_DAYS: f64 = 2.0;

/// What the words of a request become.
struct Named {
    bench: Bench,
    /// The names of the lots that the maker named; behind them in the bench come catalogue ingredients by their ids.
    names: Vec<String>,
    ids: Vec<String>,
    pot_names: Vec<Option<String>>,
    thermometers: Vec<(Measured, Option<String>)>,
}

fn too_many(at: &str, found: usize, most: usize) -> Result<(), Failure> {
    if found <= most {
        return Ok(());
    }
    Err(Failure::new(ErrorKind::OutOfRange, at, format!("{found} are too many here: give at most {most}")))
}

fn whole(id: &str, lot: Option<ItemLot>) -> Result<Line, Failure> {
    item::line(&Item { id: Some(id.to_owned()), percent: 100.0, lot, ..Item::default() }, 0)
}

impl Named {
    fn of(lots: &[LotRequest], observations: &[Observation]) -> Result<Named, Failure> {
        too_many("lots", lots.len(), MOST_LOTS)?;
        too_many("observations", observations.len(), MOST_OBSERVATIONS)?;
        let mut named = Named {
            bench: Bench::default(),
            names: Vec::new(),
            ids: Vec::new(),
            pot_names: Vec::new(),
            thermometers: Vec::new(),
        };
        for (at, lot) in lots.iter().enumerate() {
            let place = |field: &str| format!("lots[{at}].{field}");
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
    fn lot(&mut self, line: &PotLine, at: &str) -> Result<usize, Failure> {
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
    fn lines(&mut self, recipe: &[PotLine], at: &str) -> Result<Vec<(usize, f64)>, Failure> {
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

    fn look(&mut self, observation: &Observation) -> Result<Look, Failure> {
        let Observation { seen, firmness, solid_percent, .. } = observation;
        let lines = self.lines(&observation.recipe, "recipe")?;
        let days = observation.after_days.unwrap_or(f64::INFINITY);
        if days < 0.0 {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                "after_days",
                format!("{days} days after making is not possible: give 0 or more, or leave it out"),
            ));
        }
        let state = if days < FRESH_DAYS { State::Fresh } else { State::Settled };
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

    fn thermometer(&mut self, measured: Measured, name: Option<String>) -> usize {
        let one = (measured, name);
        self.thermometers.iter().position(|known| *known == one).unwrap_or_else(|| {
            self.bench.thermometers.push(one.0);
            self.thermometers.push(one);
            self.thermometers.len() - 1
        })
    }

    /// A line of a pot, as the request has it.
    fn told(&self, (lot, percent): (usize, f64)) -> PotLine {
        match self.names.get(lot) {
            Some(name) => PotLine { lot: Some(name.clone()), id: None, percent },
            None => PotLine { lot: None, id: Some(self.ids[lot].clone()), percent },
        }
    }
}

/// Whether lots and observations go together, without learning from them.
pub(super) fn check(lots: &[LotRequest], observations: &[Observation]) -> Result<(), Failure> {
    Named::of(lots, observations).map(|_| ())
}

/// What is known of a lot, as a request takes it.
fn item_lot(known: &KnownLot) -> ItemLot {
    ItemLot {
        shift_k: known.lot.melts_higher_k,
        share_log: known.lot.crystallises_log,
        shift_left_k: known.left.melts_higher_k,
        share_left_log: known.left.crystallises_log,
        together: known.together,
    }
}

/// What was known of a lot before.
fn before(line: &Line) -> KnownLot {
    line.lot.unwrap_or_else(|| {
        let width = Width::of(line);
        KnownLot { left: width.lot(1.0, 1.0), ..KnownLot::default() }
    })
}

/// Where a recipe slips, and softens in a format.
fn points(recipe: &Recipe, format: Format) -> [PointBand; 2] {
    let mixture = recipe.mixture(State::Settled);
    let mut settled = Melting::of(&mixture);
    let softening_c = settled.softens_c(format.least_percent(), format.held_by().figure());
    let slip_c = settled.slip_c();
    // The climate decides nothing here but where lots are looked at.
    let about_c = softening_c.or(slip_c).unwrap_or(25.0);
    let wishes = Wishes {
        format,
        coldest_c: about_c - 8.0,
        hottest_c: about_c,
        skin_c: skin_c(),
        firmness: None,
        on_skin: None,
    };
    let spread = Unknowns::of(recipe).spread(&wishes, &mut settled);
    [
        PointBand { at_c: softening_c, band_c: spread.softening_c },
        PointBand { at_c: slip_c, band_c: spread.slip_c },
    ]
}

/// The slip point of a line alone.
fn slip(line: &Line) -> PointBand {
    let recipe = Recipe::of_parts([line.clone()].into_iter());
    let mixture = recipe.mixture(State::Settled);
    let mut settled = Melting::of(&mixture);
    let at_c = settled.slip_c();
    PointBand { at_c, band_c: Unknowns::of(&recipe).points_c(&mut settled)[0] }
}

/// A line of a bench with other knowledge of its lot.
fn relearned(line: &Line, id: &str, known: KnownLot) -> Result<Line, Failure> {
    let mut own = whole(id, None)?.of_lot(known);
    own.percent = line.percent;
    Ok(own)
}

/// Works out [`LearnRequest`].
pub(super) fn learn(request: LearnRequest) -> Result<LearnAnswer, Failure> {
    let mut named = Named::of(&request.lots, &request.observations)?;
    let recipe = match &request.recipe[..] {
        [] => None,
        recipe => Some(named.lines(recipe, "recipe")?),
    };
    let learned = named.bench.learn();
    let bench = &named.bench;
    let mut now: Vec<Line> = Vec::with_capacity(bench.lots.len());
    for ((line, id), known) in bench.lots.iter().zip(&named.ids).zip(&learned.lots) {
        now.push(relearned(line, id, *known)?);
    }
    let counts = |at: usize| bench.looks[at].counts && learned.looks[at].agrees != Agrees::No;
    let of_lot = |lot: usize| {
        let looks = (0..bench.looks.len()).filter(|at| counts(*at));
        looks.filter(|at| bench.pots[bench.looks[*at].pot].lines.iter().any(|(of, _)| *of == lot)).count()
    };
    let lots = request.lots.iter().enumerate().map(|(lot, asked)| LearnedLot {
        name: asked.name.clone(),
        id: asked.id.clone(),
        lot: item_lot(&learned.lots[lot]),
        before: item_lot(&before(&bench.lots[lot])),
        observations: of_lot(lot),
        slip_before: slip(&bench.lots[lot]),
        slip: slip(&now[lot]),
    });
    let recipe = recipe.map(|lines| {
        let of = |from: &[Line]| {
            let lines = lines.iter().map(|(lot, percent)| {
                let mut line = from[*lot].clone();
                line.percent = *percent;
                line
            });
            points(&Recipe::of_parts(lines), request.format)
        };
        let ([softening_before, slip_before], [softening, slip]) = (of(&bench.lots), of(&now));
        LearnedRecipe { softening_before, softening, slip_before, slip }
    });
    let thermometers =
        named.thermometers.iter().zip(&learned.thermometers).map(|((measured, name), bias)| {
            LearnedThermometer {
                measured: *measured,
                thermometer: name.clone(),
                reads_high_k: bias.reads_high_k,
                left_k: bias.left_k,
            }
        });
    let observations = learned.looks.iter().map(|doubt| Agreement {
        agrees: doubt.agrees,
        share_as_far_off: doubt.share_as_far_off,
        expected_c: doubt.expected_c,
        within_k: doubt.within_k,
        because: doubt.because,
        against: doubt.against,
    });
    Ok(LearnAnswer {
        lots: lots.collect(),
        thermometers: thermometers.collect(),
        observations: observations.collect(),
        pots: bench.pots.len(),
        recipe,
    })
}

/// `{"ask":"plan"}`: which pots to make next, so as to know best where a recipe softens, or which of two softens higher; and
/// a ratio series for a classroom.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlanRequest {
    /// The lots, as in `learn`.
    pub lots: Vec<LotRequest>,
    /// What was seen so far, as in `learn`.
    #[serde(default)]
    pub observations: Vec<Observation>,
    /// The recipe that matters.
    pub recipe: Vec<PotLine>,
    /// How it is sold; a pot unless said otherwise.
    #[serde(default = "pot_format")]
    pub format: Format,
    /// Another recipe to choose it from; absent: none.
    #[serde(default)]
    pub beside: Vec<PotLine>,
    /// The pots to choose from; absent: the recipe, each of its butters alone, and blends of two of its lines.
    #[serde(default)]
    pub pots: Vec<Vec<PotLine>>,
    /// The temperatures that the maker can keep a pot at overnight, °C.
    #[serde(default)]
    pub at_c: Vec<f64>,
    /// Whether a slip tube in a warming water bath is at hand.
    #[serde(default)]
    pub water_bath: bool,
    /// How temperatures will be measured; with a kitchen thermometer unless said otherwise.
    #[serde(default)]
    pub measured: Measured,
    /// Which thermometer of that kind.
    pub thermometer: Option<String>,
    /// How many pots to plan, 1 to 3; 2 unless said otherwise.
    #[serde(default = "two")]
    pub most: u32,
    /// How much a pot weighs, g; 20 unless said otherwise.
    #[serde(default = "twenty")]
    pub grams: f64,
    /// A ratio series to plan beside; absent: none.
    pub series: Option<SeriesRequest>,
}

fn two() -> u32 {
    2
}

fn twenty() -> f64 {
    20.0
}

/// A ratio series of one butter and one hardener.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesRequest {
    /// The butter: the name of a lot, or else a catalogue id.
    pub butter: String,
    /// The hardener, likewise.
    pub hardener: String,
    /// The largest dose, percent, 1 to 40; 20 unless said otherwise.
    #[serde(default = "most_dose")]
    pub most_percent: u32,
    /// How many doses to make, 1 to 10; 5 unless said otherwise.
    #[serde(default = "five")]
    pub doses: u32,
}

fn most_dose() -> u32 {
    20
}

fn five() -> u32 {
    5
}

/// The answer to [`PlanRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlanAnswer {
    /// What is unknown now of where the recipe softens by its lots, K, as a standard deviation; beside another recipe, of how much
    /// higher it does.
    pub now_k: f64,
    /// The pots, the one that tells most first. Make the first, say what was seen, and ask again: that tells far more than
    /// to make all at once.
    pub pots: Vec<PlannedPot>,
    /// What would be left after two, one at a time, K; `null` where only one is planned.
    pub one_by_one_k: Option<f64>,
    /// The ratio series; `null` where none was asked for.
    pub series: Option<SeriesAnswer>,
}

/// A pot to make.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlannedPot {
    /// What to make it of.
    pub recipe: Vec<PotLine>,
    /// How much of each, g.
    pub grams: Vec<f64>,
    /// What to look for: `held` (or not), or `slipped`.
    pub seen: SeenSign,
    /// Where to keep it, °C; `null` for a slip point.
    pub at_c: Option<f64>,
    /// Where, by all that is known, it will slip or soften, °C.
    pub expected_c: f64,
    /// Nine in ten such readings lie so near to that, K.
    pub within_k: f64,
    /// How likely it holds there; `null` for a slip point.
    pub holds: Option<f64>,
    /// What would be left unknown after it and those before it, K.
    pub left_k: f64,
}

/// A ratio series.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesAnswer {
    /// What is unknown now of the slip points over the series, K, as a standard deviation.
    pub now_k: f64,
    /// The doses worth making, percent, the one that tells most first.
    pub doses: Vec<SeriesDose>,
    /// What as many evenly spaced doses would leave, K.
    pub evenly_k: f64,
}

/// A dose of a series.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesDose {
    /// Percent of the hardener.
    pub percent: f64,
    /// What is left unknown of the whole series after it and those before it, K.
    pub left_k: f64,
}

/// Works out [`PlanRequest`].
pub(super) fn plan(request: PlanRequest) -> Result<PlanAnswer, Failure> {
    let mut named = Named::of(&request.lots, &request.observations)?;
    too_many("pots", request.pots.len(), MOST_POTS)?;
    too_many("at_c", request.at_c.len(), MOST_TEMPERATURES)?;
    within(f64::from(request.most), (1.0, 3.0), "most", "how many pots to plan", "")?;
    within(request.grams, BATCH_G, "grams", "the weight of a pot", "g")?;
    for (at, celsius) in request.at_c.iter().enumerate() {
        within(*celsius, SEEN_C, &format!("at_c[{at}]"), "the temperature to keep it at", "°C")?;
    }
    if request.at_c.is_empty() && !request.water_bath {
        return Err(Failure::new(
            ErrorKind::Empty,
            "at_c",
            "there is no way to look at a pot: give temperatures that one can be kept at, or say that a water bath is at hand",
        ));
    }
    let settled = |lines| Pot { lines, format: request.format, state: State::Settled };
    let recipe = settled(named.lines(&request.recipe, "recipe")?);
    let beside = match &request.beside[..] {
        [] => None,
        beside => Some(settled(named.lines(beside, "beside")?)),
    };
    let mut pots: Vec<Vec<(usize, f64)>> = Vec::new();
    for (at, pot) in request.pots.iter().enumerate() {
        pots.push(named.lines(pot, &format!("pots[{at}]"))?);
    }
    if pots.is_empty() {
        pots = usual_pots(&recipe, &named.bench.lots);
    }
    let series = match &request.series {
        Some(series) => Some((named.ends_of(series)?, series)),
        None => None,
    };
    let thermometer = named.thermometer(request.measured, request.thermometer.clone());
    let mut candidates: Vec<Candidate> = Vec::new();
    for lines in &pots {
        let pot = settled(lines.clone());
        let mut add = |looked| candidates.push(Candidate { pot: pot.clone(), looked, thermometer });
        request.at_c.iter().for_each(|at_c| add(Looked::HoldsAt(*at_c)));
        if request.water_bath {
            add(Looked::Slips);
        }
    }
    let learned = named.bench.learn();
    let bench = &named.bench;
    let plan = learned.plan(bench, &recipe, beside.as_ref(), &candidates, request.most as usize);
    let pots = plan.planned.iter().map(|planned| {
        let Candidate { pot, looked, .. } = &candidates[planned.candidate];
        let (seen, at_c) = match looked {
            Looked::HoldsAt(at_c) => (SeenSign::Held, Some(*at_c)),
            Looked::Slips => (SeenSign::Slipped, None),
        };
        PlannedPot {
            recipe: pot.lines.iter().map(|line| named.told(*line)).collect(),
            grams: pot.lines.iter().map(|(_, percent)| 0.01 * percent * request.grams).collect(),
            seen,
            at_c,
            expected_c: planned.expected_c,
            within_k: planned.within_k,
            holds: planned.holds,
            left_k: planned.left_k,
        }
    });
    let series = series.map(|(ends, asked)| {
        let Series { now_k, doses, evenly_k } =
            learned.series(bench, ends, asked.most_percent, asked.doses as usize, thermometer);
        let doses = doses.into_iter().map(|(dose, left_k)| SeriesDose { percent: f64::from(dose), left_k });
        SeriesAnswer { now_k, doses: doses.collect(), evenly_k }
    });
    Ok(PlanAnswer { now_k: plan.now_k, pots: pots.collect(), one_by_one_k: plan.one_by_one_k, series })
}

impl Named {
    /// The butter and the hardener of a series.
    fn ends_of(&mut self, series: &SeriesRequest) -> Result<(usize, usize), Failure> {
        let most = f64::from(series.most_percent);
        within(most, (1.0, 40.0), "series.most_percent", "the largest dose", "%")?;
        within(f64::from(series.doses), (1.0, 10.0), "series.doses", "how many doses to make", "")?;
        let mut end = |name: &str, at: &str| {
            let is_lot = self.names.iter().any(|known| known == name);
            let (lot, id) =
                if is_lot { (Some(name.to_owned()), None) } else { (None, Some(name.to_owned())) };
            self.lot(&PotLine { lot, id, percent: 0.0 }, at)
                .map_err(|failure| failure.placed(|_| at.to_owned()))
        };
        let ends = (end(&series.butter, "series.butter")?, end(&series.hardener, "series.hardener")?);
        if ends.0 == ends.1 {
            return Err(Failure::new(
                ErrorKind::Conflict,
                "series.hardener",
                "the butter and the hardener of the series are one: choose another hardener",
            ));
        }
        Ok(ends)
    }
}

/// The pots that a recipe's lots offer: the recipe; each line but oils and what is used by the percent alone; and of every two of
/// its lines, where one of them is a butter, half and half or as much as the recipe has of the smaller.
fn usual_pots(recipe: &Pot, lots: &[Line]) -> Vec<Vec<(usize, f64)>> {
    let is_butter = |lot: usize| matches!(lots[lot].class, Class::HardButter | Class::SoftButter);
    let mut pots: Vec<Vec<(usize, f64)>> = vec![recipe.lines.clone()];
    let mut add = |lines: Vec<(usize, f64)>| {
        if !pots.contains(&lines) && pots.len() < MOST_POTS {
            pots.push(lines);
        }
    };
    for (lot, _) in recipe.lines.iter().filter(|(lot, _)| is_butter(*lot)) {
        add(vec![(*lot, 100.0)]);
    }
    for (one, _) in recipe.lines.iter().filter(|(lot, _)| is_butter(*lot)) {
        for (other, percent) in recipe.lines.iter().filter(|(lot, _)| lot != one) {
            let is_additive =
                matches!(lots[*other].class, Class::Wax | Class::FattyAcid | Class::FattyAlcohol);
            let share = if is_additive { percent.clamp(2.0, 50.0) } else { 50.0 };
            add(vec![(*one, 100.0 - share), (*other, share)]);
        }
    }
    pots
}
