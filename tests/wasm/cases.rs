//! Asks the engine, as WebAssembly in a worker of a browser, all of `tests/cases/`, and expects the replies
//! that the program gave. `cargo verify` runs it; see `webdriver.json` for how the browser is started.

#![cfg(all(test, target_arch = "wasm32"))]

use js_sys::{JSON, Reflect};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_dedicated_worker);

const CASES: &str = include_str!("../cases/recipes.jsonl");
const REPLIES: &str = include_str!("../cases/recipes.replies.jsonl");

fn parsed(line: &str) -> JsValue {
    JSON::parse(line).expect("a line of tests/cases is not JSON")
}

/// JSON as JavaScript writes it, whose numbers are the shortest that read back as the same bits.
fn text(value: &JsValue) -> String {
    JSON::stringify(value).expect("a reply is not data").into()
}

#[wasm_bindgen_test]
fn the_engine_in_the_browser_replies_as_the_program_does() {
    assert_eq!(CASES.lines().count(), REPLIES.lines().count(), "one reply a case");
    assert!(!CASES.is_empty(), "there are no cases");
    for (line, reply) in CASES.lines().zip(REPLIES.lines()) {
        let case = parsed(line);
        let part = |name: &str| Reflect::get(&case, &name.into()).expect("a case is not an object");
        let name = part("case").as_string().expect("a case has no name");
        let found = meltmargin::web::ask(part("request")).expect("the engine answers");
        assert_eq!(text(&found), text(&parsed(reply)), "case {name}");
    }
}

#[path = "../golden/digest.rs"]
mod digest;

/// Bit for bit, every ingredient by itself and some recipes.
#[wasm_bindgen_test]
fn curves_in_the_browser_are_those_of_the_program() {
    const RECORDED: &str = include_str!("../golden/digests.csv");
    let found = digest::digests();
    let moved: Vec<&str> =
        found.lines().filter(|line| !RECORDED.lines().any(|known| known == *line)).collect();
    assert!(moved.is_empty() && found.lines().count() == RECORDED.lines().count(), "differ: {moved:?}");
}

#[path = "../fuzz/properties.rs"]
mod properties;

/// Texts that fuzzing found worth keeping: the stack is smaller here than the program's.
#[wasm_bindgen_test]
fn hostile_texts_are_answered_in_the_browser() {
    let texts = |lines: &'static str| lines.lines().map(|line| parsed(line).as_string().expect("a text"));
    texts(include_str!("../fuzz/corpus/link.jsonl")).for_each(|text| properties::link(&text));
    texts(include_str!("../fuzz/corpus/reading.jsonl")).for_each(|text| properties::reading(&text));
    texts(include_str!("../fuzz/corpus/contract.jsonl")).for_each(|text| properties::contract(&text));
}
