//! The WebAssembly edge: the same contract, with JavaScript values for JSON.

use serde_json::Value;
use wasm_bindgen::prelude::*;

use crate::contract;

/// A third of the size of the standard library's, and no slower.
#[global_allocator]
static ALLOCATOR: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();

/// Answers one request object with one reply object, as the program does for a line of JSON.
///
/// Throws only where the request is no plain data (a function, a cycle).
#[wasm_bindgen]
pub fn ask(request: JsValue) -> Result<JsValue, JsValue> {
    let request: Value = serde_wasm_bindgen::from_value(request)?;
    plain(&contract::answer(&request))
}

/// As JavaScript's own parser would read it: a key that somebody chose, even `__proto__`, stays a plain key.
fn plain(value: &Value) -> Result<JsValue, JsValue> {
    js_sys::JSON::parse(&value.to_string())
}

/// As [`ask`], with reports on the way of a `rework`, `rescue` or `seasons`: `progress` is called with each,
/// and a `false` from it stops the search.
#[wasm_bindgen]
pub fn ask_with_progress(request: JsValue, progress: &js_sys::Function) -> Result<JsValue, JsValue> {
    let request: Value = serde_wasm_bindgen::from_value(request)?;
    let mut report = |value: &Value| {
        let answer = plain(value).and_then(|value| progress.call1(&JsValue::NULL, &value));
        // A report that cannot be told does not stop the work.
        answer.map_or(true, |answer| answer != JsValue::FALSE)
    };
    plain(&contract::answer_with_progress(&request, &mut report))
}
