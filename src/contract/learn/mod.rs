//! `learn`: what own lots taught. `plan`, beside it, says which pot to make next.

mod bench;
mod observation;
mod plan;
mod points;
mod series;

pub use observation::{LotRequest, Observation, PotLine, SeenSign};
pub use plan::{PlanAnswer, PlanRequest, PlannedPot};
pub use points::PointBand;
pub use series::{SeriesAnswer, SeriesDose, SeriesRequest};

pub(super) use bench::{MOST_LOTS, MOST_OBSERVATIONS, check};
pub(super) use plan::plan;

use serde::{Deserialize, Serialize};

use self::{
    bench::{NamedBench, whole},
    observation::pot_format,
    points::{points, slip},
};
use super::{Failure, ItemLot};
use crate::{
    behaviour::Format,
    recipe::{KnownLot, Line, Recipe},
    surety::{
        Width,
        learned::{Agrees, Because, Measured, Taught},
    },
};

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
    /// How many of pots with it contradict each other, and do not count.
    pub disputed: usize,
    /// What they taught of where it slips.
    pub taught: Taught,
    /// The slip point of the lot by itself, before.
    pub slip_before: PointBand,
    /// And now.
    pub slip: PointBand,
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
    /// `yes`, `strained`, or `no`: then it was left out. `disputed`: it and others so called contradict each
    /// other, and none of them counts until one is measured again or left out.
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
    /// Whether no other that counts is of its lots: then it is compared with what is published alone.
    pub alone: bool,
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

/// Works out [`LearnRequest`].
pub(super) fn learn(request: LearnRequest) -> Result<LearnAnswer, Failure> {
    let mut named = NamedBench::of(&request.lots, &request.observations)?;
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
    let of_lot = |lot: usize, is_one: &dyn Fn(Agrees) -> bool| {
        let looks =
            (0..bench.looks.len()).filter(|at| bench.looks[*at].counts && is_one(learned.looks[*at].agrees));
        looks.filter(|at| bench.pots[bench.looks[*at].pot].lines.iter().any(|(of, _)| *of == lot)).count()
    };
    let lots = request.lots.iter().enumerate().map(|(lot, asked)| {
        let observations = of_lot(lot, &|agrees| matches!(agrees, Agrees::Yes | Agrees::Strained));
        let disputed = of_lot(lot, &|agrees| agrees == Agrees::Disputed);
        let [slip_before, slip] = [&bench.lots[lot], &now[lot]].map(slip);
        LearnedLot {
            name: asked.name.clone(),
            id: asked.id.clone(),
            lot: item_lot(&learned.lots[lot]),
            before: item_lot(&before(&bench.lots[lot])),
            observations,
            disputed,
            taught: Taught::of(observations, disputed, slip_before.known(), slip.known()),
            slip_before,
            slip,
        }
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
        alone: doubt.is_alone,
    });
    Ok(LearnAnswer {
        lots: lots.collect(),
        thermometers: thermometers.collect(),
        observations: observations.collect(),
        pots: bench.pots.len(),
        recipe,
    })
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

/// A line of a bench with other knowledge of its lot.
fn relearned(line: &Line, id: &str, known: KnownLot) -> Result<Line, Failure> {
    let mut own = whole(id, None)?.of_lot(known);
    own.percent = line.percent;
    Ok(own)
}
