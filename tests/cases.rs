//! Asks the program all of `tests/cases/` and checks its replies against what each case expects, and against
//! the recorded replies that the browser is held to as well. `MINT=1` records them anew.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde::Deserialize;
use serde_json::{Map, Value};

/// One line of `recipes.jsonl`; `tests/cases/README.md` says what it means.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    case: String,
    request: Value,
    expect: Map<String, Value>,
}

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(name)
}

fn cases() -> Vec<Case> {
    let text = fs::read_to_string(file("recipes.jsonl")).expect("tests/cases/recipes.jsonl can be read");
    text.lines().map(|line| serde_json::from_str(line).expect(line)).collect()
}

/// What the program prints for these requests, a line each.
fn program(cases: &[Case]) -> String {
    let mut program = Command::new(env!("CARGO_BIN_EXE_meltmargin"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let requests: String = cases.iter().map(|case| format!("{}\n", case.request)).collect();
    let mut input = program.stdin.take().expect("the program has an input");
    let writer = std::thread::spawn(move || input.write_all(requests.as_bytes()));
    let output = program.wait_with_output().expect("the program ends");
    writer.join().expect("the writer ends").expect("the program reads its input");
    assert!(output.status.success(), "the program failed: {}", output.status);
    String::from_utf8(output.stdout).expect("the program prints text")
}

/// Says what is wrong with a value, if it is not what is expected.
fn fault(expected: &Value, found: Option<&Value>) -> Option<String> {
    let found = found.unwrap_or(&Value::Null);
    let as_wanted = match (expected.as_array().map(Vec::as_slice), found.as_f64()) {
        (Some([low, high]), Some(number)) => {
            let end = |value: &Value| value.as_f64().expect("the ends of a band are numbers");
            (end(low)..=end(high)).contains(&number)
        }
        _ => expected == found,
    };
    (!as_wanted).then(|| format!("expected {expected}, found {found}"))
}

#[test]
fn the_program_replies_as_expected_and_as_recorded() {
    let cases = cases();
    assert!(!cases.is_empty(), "there are no cases");
    let printed = program(&cases);
    assert_eq!(printed.lines().count(), cases.len(), "one reply a request");

    let mut faults = Vec::new();
    for (case, line) in cases.iter().zip(printed.lines()) {
        assert!(!case.expect.is_empty(), "case {} expects nothing", case.case);
        let reply: Value = serde_json::from_str(line).expect("a reply is JSON");
        for (place, expected) in &case.expect {
            if let Some(fault) = fault(expected, reply.pointer(place)) {
                faults.push(format!("case {}, {place}: {fault}", case.case));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));

    let record = file("recipes.replies.jsonl");
    if std::env::var_os("MINT").is_some() {
        fs::write(&record, &printed).expect("the record can be written");
    }
    let recorded = fs::read_to_string(&record).unwrap_or_default();
    for ((case, new), old) in
        cases.iter().zip(printed.lines()).zip(recorded.lines().chain(std::iter::repeat("")))
    {
        assert_eq!(
            new, old,
            "case {} is answered differently from the record; if that is meant: MINT=1 cargo test --test cases",
            case.case
        );
    }
    assert_eq!(printed, recorded, "the record has replies to no case");
}

/// The page shows the verdict on its worked example before its engine is there. It is the engine's own, and
/// kept so here.
#[test]
fn the_page_has_the_verdict_on_its_worked_example() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/src/worked-example.json");
    let kept = fs::read_to_string(&path).expect("the worked example is there");
    let request = serde_json::from_str::<Value>(&kept).expect("the worked example is JSON")["request"].take();
    let mut question = request.clone();
    question["ask"] = "behave".into();
    let answer = meltmargin::contract::answer(&question)["answer"].take();
    assert!(answer.is_object(), "{request} is answered");
    let minted = format!("{}\n", serde_json::json!({"request": request, "answer": answer}));
    if std::env::var_os("MINT").is_some() {
        fs::write(&path, minted).expect("the worked example can be written");
    } else {
        assert!(minted == kept, "if that is meant: MINT=1 cargo test --test cases");
    }
}

#[test]
fn a_wrong_reply_is_found_wrong() {
    let reply = serde_json::json!({"answer": {"slip_c": 30.0, "meets_all": true}});
    let fault = |expected: Value, place: &str| fault(&expected, reply.pointer(place));
    assert_eq!(fault(serde_json::json!([29, 30]), "/answer/slip_c"), None);
    assert!(fault(serde_json::json!([30.1, 31]), "/answer/slip_c").is_some());
    assert!(fault(serde_json::json!([29, 31]), "/answer/clear_c").is_some());
    assert_eq!(fault(serde_json::json!(true), "/answer/meets_all"), None);
    assert!(fault(serde_json::json!(false), "/answer/meets_all").is_some());
}
