//! The WebAssembly edge: the same contract, with JavaScript values for JSON.

use serde::{Serialize, de::DeserializeOwned};
use wasm_bindgen::prelude::*;

use crate::contract::{self, Failure, Sink, Source};

struct Value(JsValue);

impl Source for Value {
    fn read<T: DeserializeOwned>(&self) -> Result<T, Failure> {
        serde_path_to_error::deserialize(serde_wasm_bindgen::Deserializer::from(self.0.clone())).map_err(
            |error| {
                // It is a JavaScript Error, which says so before its message; the program's replies do not.
                let detail = error.inner().to_string();
                let detail = detail.strip_prefix("Error: ").unwrap_or(&detail);
                Failure::malformed(error.path().to_string(), detail.to_owned())
            },
        )
    }
}

struct Object;

#[derive(Serialize)]
#[serde(rename_all = "lowercase")]
enum Reply<'a, T> {
    Answer(&'a T),
    Error(&'a Failure),
}

fn object<T: Serialize>(reply: &Reply<'_, T>) -> JsValue {
    reply
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .unwrap_or_else(|error| JsValue::from(error))
}

impl Sink for Object {
    type Output = JsValue;
    fn answer<T: Serialize>(&self, answer: &T) -> JsValue {
        object(&Reply::Answer(answer))
    }
    fn error(&self, failure: &Failure) -> JsValue {
        object::<()>(&Reply::Error(failure))
    }
}

/// Answers one request object with one reply object, as the program does for a line of JSON.
#[wasm_bindgen]
pub fn ask(request: JsValue) -> JsValue {
    contract::answer(&Value(request), &Object)
}
