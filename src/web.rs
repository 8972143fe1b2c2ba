//! The WebAssembly edge: the same contract, with JavaScript values for JSON.

use serde::Serialize;
use serde_json::Value;
use wasm_bindgen::prelude::*;

use crate::contract;

/// Answers one request object with one reply object, as the program does for a line of JSON.
///
/// Throws only where the request is no plain data (a function, a cycle).
#[wasm_bindgen]
pub fn ask(request: JsValue) -> Result<JsValue, JsValue> {
    let request: Value = serde_wasm_bindgen::from_value(request)?;
    Ok(contract::answer(&request).serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}
