//! `symptom`: from what went wrong to why, and to a rework.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item, StorageC, item::recipe, written};
use crate::{
    behaviour::{
        MeltingProfile, Preset, Wishes,
        judgement::{self, Cause, Diagnosis, Reading, Remedy, SIGNS, Sign},
    },
    equilibrium::CrystalState,
};

/// `{"ask":"symptom"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SymptomRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// What was seen, by name; or else `words`.
    pub sign: Option<Sign>,
    /// What was seen, in the maker's words.
    pub words: Option<String>,
}

/// The answer to [`SymptomRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SymptomAnswer {
    /// What was seen.
    pub sign: Sign,
    /// Whether this recipe does that in the storage given.
    pub expected: bool,
    /// Why it happens, with this recipe's figures.
    pub causes: Vec<Cause>,
    /// What it says about the storage that it really saw.
    pub readings: Vec<Reading>,
    /// What to do.
    pub remedies: Vec<Remedy>,
    /// The storage to ask a rework for, so that it does not happen again; not beyond what a butter that melts
    /// on skin can bear.
    pub rework_storage_c: StorageC,
    /// On what way the words say that it was; absent where they do not.
    pub way: Option<Preset>,
}

/// Works out [`SymptomRequest`].
pub(super) fn symptom(request: SymptomRequest, wishes: Wishes) -> Result<SymptomAnswer, Failure> {
    let sign = sign(&request)?;
    let (profile, _) = MeltingProfile::of(&recipe(&request.recipe)?.mixture(CrystalState::Settled));
    let Diagnosis { causes, remedies, .. } = judgement::diagnose(&profile, &wishes, sign);
    let (readings, (coldest, hottest)) = judgement::readings(&profile, &wishes, sign);
    Ok(SymptomAnswer {
        sign,
        expected: judgement::prone_to(&profile, &wishes).contains(&sign),
        causes,
        readings,
        remedies,
        rework_storage_c: StorageC { coldest, hottest },
        way: request.words.as_deref().and_then(judgement::way_in),
    })
}

fn sign(request: &SymptomRequest) -> Result<Sign, Failure> {
    if let Some(sign) = request.sign {
        return Ok(sign);
    }
    // As the form spells them.
    let known = SIGNS.map(|sign| written(&sign).to_string().replace('"', "`")).join(", ");
    match &request.words {
        None => Err(Failure::new(
            ErrorKind::Empty,
            "sign",
            format!("what went wrong is not said: say it in your words, or choose one of {known}"),
        )),
        Some(words) => judgement::sign_in(words).ok_or_else(|| {
            Failure::new(
                ErrorKind::OutOfRange,
                "words",
                format!("these words name no sign, or several: say that it is grainy, wet on top, hard, runny, in layers, waxy or greasy, or choose one of {known}"),
            )
        }),
    }
}
