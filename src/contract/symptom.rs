//! `symptom`: from what went wrong to why, and to a rework.

use serde::{Deserialize, Serialize};

use super::{ErrorKind, Failure, Item, StorageC, item::recipe};
use crate::{
    behaviour::{self, Profile, SIGNS, Shows, Sign, Wishes},
    equilibrium::State,
};

/// `{"ask":"symptom"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
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
pub struct SymptomAnswer {
    /// What was seen.
    pub sign: Sign,
    /// Whether this recipe does that in the storage given.
    pub expected: bool,
    /// Why it happens, with this recipe's figures.
    pub cause: String,
    /// What it says about the storage that it really saw.
    pub reading: String,
    /// What to do.
    pub remedies: Vec<&'static str>,
    /// The storage to ask a rework for, so that it does not happen again.
    pub rework_storage_c: StorageC,
}

/// How far beyond the onset a rework should hold, K: what happened went past it, by how much is not known (ours).
const BEYOND_K: f64 = 2.0;

/// Works out [`SymptomRequest`].
pub(super) fn symptom(request: SymptomRequest, wishes: Wishes) -> Result<SymptomAnswer, Failure> {
    let sign = sign(&request)?;
    let (profile, _) = Profile::of(&recipe(&request.recipe)?.mixture(State::Settled));
    let trouble = behaviour::trouble(&profile, &wishes, sign);
    let expected = behaviour::troubles(&profile, &wishes).iter().any(|trouble| trouble.sign == sign);
    let mut storage = StorageC { coldest: wishes.coldest_c, hottest: wishes.hottest_c };
    let hottest = behaviour::degrees(wishes.hottest_c);
    let reading = match (behaviour::shows(&profile, &wishes, sign), sign) {
        (Shows::Always, _) if expected => "This recipe does that at any temperature considered.".to_owned(),
        (Shows::Always, _) => "This recipe goes further than that in your storage.".to_owned(),
        (Shows::Never, _) => "This recipe does not show that at any temperature considered: look for another cause, such as another batch of an ingredient, a weighing slip, or water in it.".to_owned(),
        (Shows::From(onset), Sign::TooHardInTheCold) => {
            storage.coldest = storage.coldest.min((onset - BEYOND_K).floor()).max(-20.0);
            format!("It gets that hard below {} °C.", behaviour::degrees(onset))
        }
        (Shows::From(onset), _) => {
            let near = onset + BEYOND_K > wishes.hottest_c;
            let (so, what) = match near {
                true if onset > wishes.hottest_c => {
                    (". If you saw it, the jar was warmer than the ", " you gave: in sun, in a car or on its way.")
                }
                true => (
                    ", so at your hottest storage, ",
                    ", it has only just begun: if it went far, the jar was warmer.",
                ),
                false => (", so your hottest storage, ", ", is enough for it."),
            };
            let mut reading = format!("It starts above {} °C{so}{hottest} °C{what}", behaviour::degrees(onset));
            if near {
                storage.hottest = (onset + BEYOND_K).ceil().min(60.0);
                if sign == Sign::Grainy {
                    reading += " Or the batch cooled slowly when it was made: that grows grains in any storage.";
                }
            }
            reading
        }
    };
    storage.coldest = storage.coldest.min(storage.hottest);
    Ok(SymptomAnswer {
        sign,
        expected,
        cause: trouble.cause,
        reading,
        remedies: trouble.remedies,
        rework_storage_c: storage,
    })
}

fn sign(request: &SymptomRequest) -> Result<Sign, Failure> {
    if let Some(sign) = request.sign {
        return Ok(sign);
    }
    let known: Vec<String> = SIGNS.iter().map(|sign| name(*sign)).map(|word| format!("`{word}`")).collect();
    let known = known.join(", ");
    match &request.words {
        None => Err(Failure::new(
            ErrorKind::Empty,
            "sign",
            format!("what went wrong is not said: give a `sign` ({known}) or `words`"),
        )),
        Some(words) => behaviour::heard(words).ok_or_else(|| {
            Failure::new(
                ErrorKind::OutOfRange,
                "words",
                format!("these words name no sign, or several: say that it is grainy, wet on top, hard, runny, or in layers, or give a `sign`: {known}"),
            )
        }),
    }
}

/// A sign's name in the contract.
fn name(sign: Sign) -> &'static str {
    match sign {
        Sign::TurnsToOil => "turns-to-oil",
        Sign::OilPool => "oil-pool",
        Sign::SoftTop => "soft-top",
        Sign::SeparatedLayers => "separated-layers",
        Sign::Grainy => "grainy",
        Sign::TooHardInTheCold => "too-hard-in-the-cold",
    }
}
