//! Questions asked as the program is asked them, as text.

#![allow(dead_code, reason = "each test crate that includes this file takes some of it")]
#![allow(clippy::panic, reason = "a test whose question is refused fails")]

use meltmargin::contract::answer_json_line;
use serde_json::Value;

/// The reply to a request.
pub(crate) fn reply(request: &Value) -> Value {
    let text = answer_json_line(request.to_string().as_bytes());
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{request} got no JSON ({error}): {text}"))
}

/// Its answer; it must have one.
#[track_caller]
pub(crate) fn answer(request: &Value) -> Value {
    match answer_or_error(request) {
        Ok(answer) => answer,
        Err(error) => panic!("{request} was refused: {error}"),
    }
}

/// Its error; it must be refused.
#[track_caller]
pub(crate) fn error(request: &Value) -> Value {
    match answer_or_error(request) {
        Ok(answer) => panic!("{request} was answered: {answer}"),
        Err(error) => error,
    }
}

/// Its answer, or its error.
pub(crate) fn answer_or_error(request: &Value) -> Result<Value, Value> {
    let mut reply = reply(request);
    match reply.get_mut("answer") {
        Some(answer) => Ok(answer.take()),
        None => Err(reply["error"].take()),
    }
}
