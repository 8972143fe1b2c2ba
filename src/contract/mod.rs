//! Requests and replies: one set of types for the page, the program and the tests.
//!
//! A request is an object whose `ask` names what is wanted; the reply is `{"answer": ..}` or
//! `{"error": {"kind", "at", "message"}}`. Temperatures are °C, amounts percent by mass. Fields may join
//! these forms; none leaves them.

mod batch;
mod behave;
mod check;
mod expose;
mod harden;
mod item;
mod link;
mod melt;
mod qr;
mod read;
mod rework;
mod symptom;
mod wishes;

pub use crate::failure::{ErrorKind, Failure};
pub use batch::{BatchAnswer, BatchLine, BatchRequest, Cost, Jars, Label, LabelName, Unit};
pub use behave::{
    BehaveAnswer, BehaveRequest, Curve, DabAnswer, DabRequest, DabTimes, Place, Places, Residue, Room,
    Verdict,
};
pub use expose::{AirRequest, ExposeAnswer, ExposeRequest, PackedBetter, ParcelRequest};
pub use harden::{HardenAnswer, HardenRequest, Hardener, Stop};
pub use item::{Item, StorageC, WishesRequest};
pub use link::{LinkAnswer, LinkRequest, OpenLinkAnswer, OpenLinkRequest, State};
pub use melt::{Ingredient, LiquidusAnswer, LiquidusRequest, MeltAnswer, MeltRequest};
pub use qr::{QrAnswer, QrRequest};
pub use read::{ReadAnswer, ReadRequest, ScaleAnswer, ScaleRequest};
pub use rework::{Change, Limits, Miss, Proposal, ReworkAnswer, ReworkRequest, SolidAt};
pub use symptom::{SymptomAnswer, SymptomRequest};

use serde::{Deserialize, Serialize, de::DeserializeOwned};

use crate::behaviour::Wishes;

/// Something a request can be read from: a JSON value in the program, a JavaScript value in the browser.
pub trait Source {
    /// Reads the whole request as a `T`; a failure names the place in the request.
    fn read<T: DeserializeOwned>(&self) -> Result<T, Failure>;
}

/// Where a finished answer goes: a JSON line in the program, a JavaScript value in the browser.
pub trait Sink {
    /// What a reply becomes.
    type Output;
    /// Writes `{"answer": answer}`.
    fn answer<T: Serialize>(&self, answer: &T) -> Self::Output;
    /// Writes `{"error": failure}`.
    fn error(&self, failure: &Failure) -> Self::Output;
}

/// The part of every request that says what is wanted.
#[derive(Deserialize)]
struct Ask {
    ask: String,
}

/// The questions that can be asked, in the order they are listed to someone who asks an unknown one.
const QUESTIONS: &[&str] = &[
    "melt",
    "behave",
    "rework",
    "expose",
    "batch",
    "symptom",
    "liquidus",
    "ingredients",
    "link",
    "open-link",
    "read",
    "scale",
    "qr",
    "harden",
];

/// Answers one request.
pub fn answer<S: Source, K: Sink>(source: &S, sink: &K) -> K::Output {
    let ask = match source.read::<Ask>() {
        Ok(Ask { ask }) => ask,
        Err(failure) => return sink.error(&failure),
    };
    match ask.as_str() {
        "melt" => reply(source, sink, melt::melt),
        "behave" => reply_to_wishes(source, sink, behave::behave),
        "rework" => reply_to_wishes(source, sink, rework::rework),
        "expose" => reply(source, sink, expose::expose),
        "batch" => reply(source, sink, batch::batch),
        "symptom" => reply_to_wishes(source, sink, symptom::symptom),
        "liquidus" => reply(source, sink, melt::liquidus),
        "ingredients" => sink.answer(&melt::ingredients()),
        "link" => reply(source, sink, link::write),
        "open-link" => reply(source, sink, link::open),
        "read" => reply(source, sink, read::read),
        "scale" => reply(source, sink, read::scale),
        "qr" => reply(source, sink, qr::qr),
        "harden" => reply_to_wishes(source, sink, harden::harden),
        _ => sink.error(&Failure::unknown_question(&ask, QUESTIONS)),
    }
}

/// Reads a request of type `Q`, works it out, and writes the outcome.
fn reply<S: Source, K: Sink, Q: DeserializeOwned, A: Serialize>(
    source: &S,
    sink: &K,
    work: impl FnOnce(Q) -> Result<A, Failure>,
) -> K::Output {
    match source.read().and_then(work) {
        Ok(answer) => sink.answer(&answer),
        Err(failure) => sink.error(&failure),
    }
}

/// As [`reply`], for a question that also states wishes.
fn reply_to_wishes<S: Source, K: Sink, Q: DeserializeOwned, A: Serialize>(
    source: &S,
    sink: &K,
    work: impl FnOnce(Q, Wishes) -> Result<A, Failure>,
) -> K::Output {
    let outcome = source
        .read::<WishesRequest>()
        .and_then(|wishes| wishes.wishes())
        .and_then(|wishes| work(source.read()?, wishes));
    match outcome {
        Ok(answer) => sink.answer(&answer),
        Err(failure) => sink.error(&failure),
    }
}

#[cfg(not(target_arch = "wasm32"))]
mod json {
    use super::{DeserializeOwned, Failure, Serialize, Sink, Source};

    impl Source for serde_json::Value {
        fn read<T: DeserializeOwned>(&self) -> Result<T, Failure> {
            serde_path_to_error::deserialize(self)
                .map_err(|error| Failure::malformed(error.path().to_string(), error.inner().to_string()))
        }
    }

    /// Writes replies as JSON text.
    struct JsonLine;

    #[derive(Serialize)]
    #[serde(rename_all = "lowercase")]
    enum Reply<'a, T> {
        Answer(&'a T),
        Error(&'a Failure),
    }

    fn line<T: Serialize>(reply: &Reply<'_, T>) -> String {
        serde_json::to_string(reply).unwrap_or_else(|error| {
            format!("{{\"error\":{{\"kind\":\"internal\",\"at\":\"\",\"message\":\"could not write the reply: {error}\"}}}}")
        })
    }

    impl Sink for JsonLine {
        type Output = String;
        fn answer<T: Serialize>(&self, answer: &T) -> String {
            line(&Reply::Answer(answer))
        }
        fn error(&self, failure: &Failure) -> String {
            line::<()>(&Reply::Error(failure))
        }
    }

    /// Answers one JSON request, as text, with one JSON reply without a line break. Never fails: what is wrong
    /// with the request is said in the reply.
    pub fn answer_json_line(line: &[u8]) -> String {
        match serde_json::from_slice::<serde_json::Value>(line) {
            Ok(request) => super::answer(&request, &JsonLine),
            Err(error) => JsonLine.error(&Failure::not_json(&error.to_string())),
        }
    }
}
#[cfg(not(target_arch = "wasm32"))]
pub use json::answer_json_line;
