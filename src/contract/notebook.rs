//! `notebook`: which entries of a kept notebook are such as `learn` takes, each by itself. A
//! notebook lives on for years, in files and beside later versions of the page: what is wrong with
//! one entry must not lose the others.

use serde::{Deserialize, Serialize, de::DeserializeOwned};
use serde_json::Value;

use super::{
    ErrorKind, Failure, Fault, LotRequest, Observation,
    learn::{MOST_LOTS, MOST_OBSERVATIONS, check},
    wire,
};

/// `{"ask":"notebook"}`.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct NotebookRequest {
    /// What should be lots, as `learn` takes them.
    #[serde(default)]
    #[cfg_attr(test, ts(type = "Array<unknown>"))]
    pub lots: Vec<Value>,
    /// What should be observations of pots of them.
    #[serde(default)]
    #[cfg_attr(test, ts(type = "Array<unknown>"))]
    pub observations: Vec<Value>,
}

/// The answer to [`NotebookRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct NotebookAnswer {
    /// What is wrong with each lot; `null`: nothing.
    pub lots: Vec<Option<Fault>>,
    /// What is wrong with each observation, beside the good lots and the good
    /// observations before it; likewise.
    pub observations: Vec<Option<Fault>>,
}

/// The entries that are good beside those before them, and what is wrong with the others.
fn sifted<Form: DeserializeOwned>(
    values: &[Value],
    most: usize,
    good: &mut Vec<Form>,
    mut check: impl FnMut(&[Form]) -> Result<(), Failure>,
) -> Vec<Option<Fault>> {
    let mut faults = Vec::with_capacity(values.len());
    for value in values {
        let read = wire::read_alone::<Form>(value).and_then(|form| {
            if good.len() >= most {
                let message = format!("the notebook has room for {most} of them: take one out first");
                return Err(Failure::new(ErrorKind::OutOfRange, "", message));
            }
            good.push(form);
            check(good).inspect_err(|_| {
                good.pop();
            })
        });
        faults.push(read.err().map(|failure| (*failure).clone()));
    }
    faults
}

/// Works out [`NotebookRequest`].
// What every question is answered by may fail; this one does not, since it is asked what fails.
#[allow(clippy::unnecessary_wraps)]
pub(super) fn notebook(request: NotebookRequest) -> Result<NotebookAnswer, Failure> {
    let mut good_lots: Vec<LotRequest> = Vec::new();
    let lots = sifted(&request.lots, MOST_LOTS, &mut good_lots, |lots| check(lots, &[]));
    let mut good: Vec<Observation> = Vec::new();
    let observations = sifted(&request.observations, MOST_OBSERVATIONS, &mut good, |observations| {
        check(&good_lots, observations)
    });
    Ok(NotebookAnswer { lots, observations })
}
