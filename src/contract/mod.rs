#![doc = include_str!("README.md")]

mod band;
mod batch;
mod behave;
mod certificate;
mod check;
mod dab;
mod expose;
mod failure;
mod feel;
#[cfg(test)]
mod findings;
#[cfg(test)]
mod forms;
mod harden;
mod item;
mod label;
mod ladder;
mod learn;
mod limits;
mod link;
mod melt;
mod notebook;
mod proof;
mod qr;
mod ranges;
mod read;
mod remarks;
mod rescue;
mod rework;
mod search;
mod seasons;
mod state;
#[cfg(not(target_arch = "wasm32"))]
mod strict;
mod symptom;
mod wire;
mod wishes;

pub use crate::failure::ErrorKind;
pub use crate::reading::{LeftOutPiece, LineCorrection, ReadLine};
pub use crate::surety::RecipeClass;
pub use band::{ErrorBand, Figures};
pub use batch::{BatchAnswer, BatchLine, BatchNote, BatchRequest, Cost, Jars, ScaleUnit};
pub use behave::{BehaveAnswer, BehaveRequest, Curve, Place, Places, Residue, Room, Verdict};
pub use certificate::CertificateAnswer;
pub use dab::{DabAnswer, DabRequest, DabTimes};
pub use expose::{AirRequest, ExposeAnswer, ExposeRequest, PackedBetter, ParcelRequest};
pub use failure::{Failure, Fault};
pub use harden::{HardenAnswer, HardenRequest, Hardener, Stop};
pub use item::{Item, ItemLot, StorageC, WishesRequest};
pub use label::{Label, LabelName, LabelNote};
pub use ladder::{LadderAnswer, LadderRung};
pub use learn::{
    Agreement, LearnAnswer, LearnRequest, LearnedLot, LearnedRecipe, LearnedThermometer, LotRequest,
    Observation, PlanAnswer, PlanRequest, PlannedPot, PointBand, PotLine, SeenSign, SeriesAnswer, SeriesDose,
    SeriesRequest,
};
pub use limits::{Bounds, Limits, UsualLimits};
pub use link::{LinkAnswer, LinkRemark, LinkRequest, OpenLinkAnswer, OpenLinkRequest};
pub use melt::{Ingredient, LiquidusAnswer, LiquidusRequest, MeltAnswer, MeltRequest};
pub use notebook::{NotebookAnswer, NotebookRequest};
pub use proof::Proof;
pub use qr::{QrAnswer, QrRequest};
pub use read::{ReadAnswer, ReadRequest, ScaleAnswer, ScaleRequest};
pub use remarks::Remark;
pub use rescue::{Added, Addition, Made, RescueAnswer, RescueRequest, Rescued};
pub use rework::{
    Aim, CannotBe, Change, CoolerStorage, Foreseen, FormatThatDoes, Gives, HowSure, LiftedLimit,
    LimitInTheWay, Proposal, ReworkAnswer, ReworkProgress, ReworkRequest, SolidAt, WhyNot,
};
pub use search::{SearchAnswer, TextRequest};
pub use seasons::{SeasonsAnswer, SeasonsFinding, SeasonsRequest};
pub use state::{Picture, State, Swap, ToSee, Way};
pub use symptom::{SymptomAnswer, SymptomRequest};

use serde::{Deserialize, Serialize, de::DeserializeOwned};

use serde_json::{Map, Value};

use self::wire::{fields, read, refuse_others};
use crate::behaviour::Wishes;

/// The part of every request that says what is wanted.
#[derive(Deserialize)]
struct Ask {
    ask: String,
}

/// Hears how far a long answer has come; `false` stops the work.
type HearProgress<'a> = &'a mut dyn FnMut(&Value) -> bool;

/// What answers a question.
type Answer = fn(&Value, HearProgress) -> Result<Value, Failure>;

/// Every question, with what answers it.
const QUESTIONS: &[(&str, Answer)] = &[
    ("melt", |request, _| reply(request, melt::melt)),
    ("behave", |request, _| reply_to_wishes(request, behave::behave)),
    ("rework", |request, report| {
        let mut report = |progress: &ReworkProgress| report(&written(progress));
        reply_to_wishes(request, |rework, wishes| rework::rework(&rework, wishes, &mut report))
    }),
    ("rescue", |request, report| {
        refuse_others(
            request,
            &[
                fields::<Ask>(),
                fields::<ReworkRequest>(),
                fields::<RescueRequest>(),
                fields::<WishesRequest>(),
            ],
        )?;
        let (rework, made, wishes) = (read(request)?, read(request)?, read::<WishesRequest>(request)?);
        let report = &mut |progress| rework::told(progress, report);
        Ok(written(&rescue::rescue(&rework, &made, wishes.wishes()?, report)?))
    }),
    ("ladder", |request, report| {
        refuse_others(request, &[fields::<Ask>(), fields::<ReworkRequest>(), fields::<WishesRequest>()])?;
        let (asked, wishes) = (read(request)?, read::<WishesRequest>(request)?);
        let report = &mut |progress: &ReworkProgress| report(&written(progress));
        Ok(written(&ladder::ladder(&asked, wishes.wishes()?, report)?))
    }),
    ("seasons", |request, report| {
        refuse_others(request, &[fields::<Ask>(), fields::<ReworkRequest>(), fields::<SeasonsRequest>()])?;
        let (rework, both) = (read(request)?, read(request)?);
        let report = &mut |progress| rework::told(progress, report);
        Ok(written(&seasons::seasons(&rework, &both, report)?))
    }),
    ("expose", |request, _| reply(request, expose::expose)),
    ("batch", |request, _| reply(request, batch::batch)),
    ("liquidus", |request, _| reply(request, melt::liquidus)),
    ("link", |request, _| {
        refuse_others(request, &[fields::<Ask>(), fields::<LinkRequest>()])?;
        Ok(written(&link::write(request)?))
    }),
    ("open-link", |request, _| reply(request, link::open)),
    ("read", |request, _| reply(request, read::read)),
    ("scale", |request, _| reply(request, read::scale)),
    ("certificate", |request, _| reply(request, certificate::certificate)),
    ("search", |request, _| reply(request, search::search)),
    ("qr", |request, _| reply(request, qr::qr)),
    ("harden", |request, _| reply_to_wishes(request, harden::harden)),
    ("symptom", |request, _| reply_to_wishes(request, symptom::symptom)),
    ("learn", |request, _| reply(request, learn::learn)),
    ("plan", |request, _| reply(request, learn::plan)),
    ("notebook", |request, _| reply(request, notebook::notebook)),
    ("ingredients", |request, _| {
        refuse_others(request, &[fields::<Ask>()])?;
        Ok(written(&melt::ingredients()))
    }),
];

/// Answers one request; what is wrong with it is said in the reply.
///
/// Requests and replies pass through one dynamic value on every edge. Were each form read from and written to
/// JavaScript directly, its code would be in the page once more.
pub fn answer(request: &Value) -> Value {
    answer_with_progress(request, &mut |_| true)
}

/// As [`answer`], with reports on the way of a `rework`, `ladder`, `rescue` or `seasons`, each a
/// [`ReworkProgress`]. Where one is answered with `false` the search stops, and the reply holds what was
/// found until then.
pub fn answer_with_progress(request: &Value, report: &mut dyn FnMut(&Value) -> bool) -> Value {
    finish(route(request, report))
}

fn route(request: &Value, report: HearProgress) -> Result<Value, Failure> {
    let Ask { ask } = read(request)?;
    match QUESTIONS.iter().find(|(name, _)| *name == ask) {
        Some((_, answer)) => answer(request, report),
        None => Err(Failure::unknown_question(&ask, QUESTIONS.iter().map(|(name, _)| *name))),
    }
}

/// Reads a request of type `Q`, works it out, and writes the outcome.
fn reply<Q: DeserializeOwned, A: Serialize>(
    request: &Value,
    work: impl FnOnce(Q) -> Result<A, Failure>,
) -> Result<Value, Failure> {
    refuse_others(request, &[fields::<Ask>(), fields::<Q>()])?;
    Ok(written(&work(read(request)?)?))
}

/// As [`reply`], for a question that also states wishes.
fn reply_to_wishes<Q: DeserializeOwned, A: Serialize>(
    request: &Value,
    work: impl FnOnce(Q, Wishes) -> Result<A, Failure>,
) -> Result<Value, Failure> {
    refuse_others(request, &[fields::<Ask>(), fields::<Q>(), fields::<WishesRequest>()])?;
    let (asked, wishes) = (read(request)?, read::<WishesRequest>(request)?);
    Ok(written(&work(asked, wishes.wishes()?)?))
}

/// A part of a reply as a value. Its forms are structs, lists and words, and those always can be written.
fn written(form: &impl Serialize) -> Value {
    serde_json::to_value(form).unwrap_or(Value::Null)
}

/// `{"answer": ..}` or `{"error": ..}`.
fn finish(outcome: Result<Value, Failure>) -> Value {
    let (name, value) = match outcome {
        Ok(answer) => ("answer", answer),
        Err(failure) => ("error", written(&*failure)),
    };
    let mut reply = Map::new();
    reply.insert(name.to_owned(), value);
    Value::Object(reply)
}

/// After how many equilibria a search of the program stops, unless its request says otherwise: some ten
/// seconds. Nobody can stop it by hand.
#[cfg(not(target_arch = "wasm32"))]
const WORK_OF_A_LINE: u64 = 1_000_000;

/// Puts it into a request for a search that does not say.
#[cfg(not(target_arch = "wasm32"))]
fn bound_work(request: &mut Value) {
    const SEARCHES: [&str; 4] = ["rework", "rescue", "seasons", "ladder"];
    let Some(fields) = request.as_object_mut() else { return };
    if !fields.get("ask").and_then(Value::as_str).is_some_and(|ask| SEARCHES.contains(&ask)) {
        return;
    }
    let limits = fields.entry("limits").or_insert_with(|| Value::Object(Map::new()));
    if let Some(limits) = limits.as_object_mut()
        && limits.get("work").is_none_or(Value::is_null)
    {
        limits.insert("work".to_owned(), Value::from(WORK_OF_A_LINE));
    }
}

/// The longest line that is answered, in bytes: far above any real request.
#[cfg(not(target_arch = "wasm32"))]
pub const LONGEST_LINE: usize = 4_000_000;

/// The reply to a line that is longer than [`LONGEST_LINE`].
#[cfg(not(target_arch = "wasm32"))]
pub fn refuse_long_line() -> String {
    finish(Err(Failure::long_line(LONGEST_LINE / 1_000_000))).to_string()
}

/// Answers one JSON request, as text, with one JSON reply without a line break. Never fails: what is wrong
/// with the request is said in the reply, of an empty line too, so that every line has its reply.
#[cfg(not(target_arch = "wasm32"))]
pub fn answer_json_line(line: &[u8]) -> String {
    if line.len() > LONGEST_LINE {
        return refuse_long_line();
    }
    let outcome = if line.trim_ascii().is_empty() {
        Err(Failure::empty_line())
    } else {
        match strict::value(line) {
            Ok(mut request) => {
                bound_work(&mut request);
                route(&request, &mut |_| true)
            }
            Err(strict::Fault::NotJson(detail)) => Err(Failure::not_json(&detail)),
            Err(strict::Fault::Twice(at)) => Err(Failure::twice(at)),
        }
    };
    finish(outcome).to_string()
}

#[cfg(test)]
mod tests {
    use super::QUESTIONS;

    #[test]
    fn the_chapter_lists_every_question() {
        let chapter = include_str!("README.md");
        let rows = chapter
            .lines()
            .filter(|line| line.starts_with("| `"))
            .map(|line| line.split('|').nth(1).unwrap_or(""));
        let named: Vec<&str> = rows.flat_map(|cell| cell.split('`').skip(1).step_by(2)).collect();
        for (question, _) in QUESTIONS {
            assert!(named.contains(question), "`{question}` is not in the table of src/contract/README.md");
        }
    }
}
