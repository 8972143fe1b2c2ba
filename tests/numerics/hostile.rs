//! Requests that mean no good get an answer or an error that says what is wrong; never a panic.

use meltmargin::contract::answer_json_line;
use serde_json::Value;

use crate::random::Random;

/// The reply, which must be one JSON object with `answer` or an `error` of kind, place and message.
#[track_caller]
fn reply(line: &[u8]) -> Value {
    let text = answer_json_line(line);
    assert!(!text.contains('\n'), "a reply is one line: {text}");
    let reply: Value = serde_json::from_str(&text).unwrap();
    if let Some(error) = reply.get("error") {
        let words = |field: &str| error[field].as_str().map(str::len);
        assert!(words("kind") > Some(0) && words("message") > Some(10) && words("at").is_some(), "{text}");
    } else {
        assert!(reply.get("answer").is_some(), "{text}");
    }
    reply
}

#[track_caller]
fn assert_refused(line: &str, kind: &str, at: &str) {
    let reply = reply(line.as_bytes());
    assert_eq!(reply["error"]["kind"], kind, "{line} -> {reply}");
    assert_eq!(reply["error"]["at"], at, "{line} -> {reply}");
}

#[test]
fn what_is_not_json() {
    for line in [
        "",
        " ",
        "nonsense",
        "{",
        "[1,",
        "{\"ask\":NaN}",
        "{\"ask\":\"melt\",\"at_c\":[Infinity]}",
        "\u{feff}{}",
    ] {
        assert_refused(line, "not-json", "");
    }
    reply(&[0xff, 0xfe, 0x00]);
    reply(b"\0");
    reply("[".repeat(100_000).as_bytes());
    reply("{\"a\":".repeat(100_000).as_bytes());
}

#[test]
fn json_of_the_wrong_shape() {
    for line in ["null", "1", "\"melt\"", "[]", "{}", "{\"ask\":1}", "{\"ask\":null}", "{\"ask\":[\"melt\"]}"]
    {
        assert!(reply(line.as_bytes()).get("error").is_some(), "{line}");
    }
    assert_refused(r#"{"ask":"bake"}"#, "unknown-question", "ask");
    assert_refused(r#"{"ask":"melt"}"#, "malformed", "");
    assert_refused(r#"{"ask":"melt","recipe":[]}"#, "empty", "recipe");
    assert_refused(r#"{"ask":"melt","recipe":[{}]}"#, "malformed", "recipe[0]");
    assert_refused(r#"{"ask":"melt","recipe":[{"percent":100}]}"#, "empty", "recipe[0]");
}

/// Requests that differ in one value, each refused with a kind and a place.
#[track_caller]
fn assert_each_refused(request: impl Fn(&str) -> String, cases: &[(&str, &str, &str)]) {
    for (value, kind, at) in cases {
        assert_refused(&request(value), kind, at);
    }
}

#[test]
fn amounts_that_cannot_be() {
    let melt = |percent: &str| {
        format!(r#"{{"ask":"melt","recipe":[{{"id":"cocoa-butter","percent":{percent}}}],"at_c":[20]}}"#)
    };
    let place = "recipe[0].percent";
    assert_each_refused(
        melt,
        &[
            ("-1", "out-of-range", place),
            ("1e308", "out-of-range", place),
            ("0", "sum-not-hundred", "recipe"),
            ("99.9", "sum-not-hundred", "recipe"),
            ("1e-320", "sum-not-hundred", "recipe"),
            ("\"100\"", "malformed", place),
            ("null", "malformed", place),
            ("1e999", "not-json", ""),
        ],
    );
}

#[test]
fn temperatures_that_cannot_be() {
    let melt = |at_c: &str| {
        format!(r#"{{"ask":"melt","recipe":[{{"id":"cocoa-butter","percent":100}}],"at_c":{at_c}}}"#)
    };
    let many = format!("[{}20]", "20,".repeat(20_000));
    assert_each_refused(
        melt,
        &[
            ("[20,-274]", "out-of-range", "at_c[1]"),
            ("[1e308]", "out-of-range", "at_c[0]"),
            ("[\"warm\"]", "malformed", "at_c[0]"),
            (&many, "out-of-range", "at_c"),
        ],
    );
}

#[test]
fn make_ups_that_cannot_be() {
    let melt = |composition: &str| {
        format!(r#"{{"ask":"melt","recipe":[{{"name":"lot","percent":100,"composition":{composition}}}]}}"#)
    };
    let name = "S".repeat(100_000);
    let (long, long_place) = (format!(r#"{{"{name}":100}}"#), format!("recipe[0].composition.{name}"));
    assert_each_refused(
        melt,
        &[
            ("{}", "sum-not-hundred", "recipe[0].composition"),
            (r#"{"SOS":0}"#, "sum-not-hundred", "recipe[0].composition"),
            (r#"{"SOS":-5,"liquid":105}"#, "out-of-range", "recipe[0].composition.SOS"),
            (r#"{"butter":100}"#, "unknown-species", "recipe[0].composition.butter"),
            (r#"{"":100}"#, "unknown-species", "recipe[0].composition."),
            (r#"{"ßÖ🧈":100}"#, "unknown-species", "recipe[0].composition.ßÖ🧈"),
            (r#"{"SOS":1e308,"PPP":1e308}"#, "out-of-range", "recipe[0].composition.PPP"),
            (&long, "unknown-species", &long_place),
        ],
    );
}

#[test]
fn the_same_ingredient_twice_is_one() {
    let one = reply(br#"{"ask":"melt","recipe":[{"id":"cocoa-butter","percent":100}],"at_c":[25]}"#);
    let two = reply(
        br#"{"ask":"melt","recipe":[{"id":"cocoa-butter","percent":40},{"id":"cocoa-butter","percent":60}],"at_c":[25]}"#,
    );
    let solid = |reply: &Value| reply["answer"]["solid_percent"][0].as_f64().unwrap();
    assert!((solid(&one) - solid(&two)).abs() < 1e-10, "{one} {two}");
}

/// Pieces that well-formed and ill-formed requests are made of.
const PIECES: [&str; 44] = [
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    "\"",
    "null",
    "true",
    "-",
    "0",
    "1e308",
    "-1e308",
    "1e-308",
    "100",
    "50",
    "NaN",
    "\"ask\"",
    "\"melt\"",
    "\"behave\"",
    "\"rework\"",
    "\"liquidus\"",
    "\"link\"",
    "\"open-link\"",
    "\"ingredients\"",
    "\"recipe\"",
    "\"id\"",
    "\"percent\"",
    "\"cocoa-butter\"",
    "\"beeswax\"",
    "\"composition\"",
    "\"SOS\"",
    "\"liquid\"",
    "\"at_c\"",
    "\"mole_percent\"",
    "\"stearic-acid\"",
    "\"format\"",
    "\"whipped\"",
    "\"storage_c\"",
    "\"coldest\"",
    "\"hottest\"",
    "\"fragment\"",
    "\u{202e}",
    "🧈",
];

#[test]
fn pieces_thrown_together() {
    let mut random = Random::splitmix(13);
    for _ in 0..20_000 {
        let count = 1 + random.below(30);
        let line: String = (0..count).map(|_| PIECES[random.below(PIECES.len())]).collect();
        reply(line.as_bytes());
    }
}

/// Values that well-formed requests may carry in the wrong place.
fn value(random: &mut Random) -> Value {
    use serde_json::json;
    match random.below(12) {
        0 => Value::Null,
        1 => json!(true),
        2 => json!(-1.0),
        3 => json!(1e308),
        4 => json!(5e-324),
        5 => json!(""),
        6 => json!("cocoa-butter"),
        7 => json!([]),
        8 => json!({}),
        9 => json!([[1, 2], {"id": "🧈"}]),
        10 => json!(100.0 * random.share()),
        _ => json!(u64::MAX),
    }
}

/// Well-formed requests, then one to three of their values replaced.
#[test]
fn requests_with_values_replaced() {
    let whole: Vec<Value> = [
        r#"{"ask":"melt","recipe":[{"id":"cocoa-butter","percent":60},{"name":"lot 7","percent":40,"composition":{"SOS":50,"liquid":50},"like":"cocoa-butter"}],"at_c":[20,30]}"#,
        r#"{"ask":"liquidus","mole_percent":{"stearic-acid":40,"oleic-acid":60}}"#,
        r#"{"ask":"behave","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"whipped","storage_c":{"coldest":16,"hottest":31},"skin_c":32.5,"firmness":"scoopable","on_skin":"melts"}"#,
        r#"{"ask":"link","state":{"recipe":[{"id":"shea-butter","percent":100}],"format":"pot","storage_c":{"coldest":16,"hottest":31},"skin_c":32.5}}"#,
        r#"{"ask":"open-link","fragment":"v1&recipe=shea-butter:100&as=pot&store=16~31"}"#,
        r#"{"ask":"rework","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"pot","storage_c":{"coldest":16,"hottest":28},"limits":{"pantry":["beeswax"],"step_percent":1,"changes":2,"bounds":{"olive-oil":{"min":5,"max":40}}}}"#,
        r#"{"ask":"rescue","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"pot","storage_c":{"coldest":16,"hottest":28},"limits":{"pantry":["beeswax"]},"made":{"grams":500,"used_grams":20}}"#,
        r#"{"ask":"seasons","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"limits":{"pantry":["beeswax"],"step_percent":1,"changes":2},"summer":{"format":"pot","storage_c":{"coldest":16,"hottest":28}},"winter":{"format":"pot","storage_c":{"coldest":10,"hottest":22}}}"#,
        r#"{"ask":"read","text":"shea butter 70 %\nolive oil 30 %"}"#,
        r#"{"ask":"scale","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":40}],"step_percent":0.5}"#,
        r#"{"ask":"qr","text":"https://example.org/"}"#,
        r#"{"ask":"expose","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"pot","air":{"points":[[0,20],[1,40]]},"parcel":{"volume_ml":60,"packs":2,"insulation_mm":20,"cold_pack_g":100,"start_c":20}}"#,
        r#"{"ask":"batch","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"weighed_g":[70,30],"step":0.1,"jar_ml":60,"overrun_percent":50,"price_per_kg":{"shea-butter":10}}"#,
        r#"{"ask":"symptom","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"pot","storage_c":{"coldest":16,"hottest":31},"words":"grainy"}"#,
        r#"{"ask":"harden","recipe":[{"id":"shea-butter","percent":70},{"id":"olive-oil","percent":30}],"format":"pot","storage_c":{"coldest":16,"hottest":31},"hardeners":["beeswax"],"swap":"oil","doses_percent":[0,5]}"#,
        r#"{"ask":"learn","lots":[{"name":"a","id":"shea-butter","lot":{"shift_k":-1,"share_log":0.1,"shift_left_k":1,"share_left_log":0.1,"together":-0.3}}],"observations":[{"recipe":[{"lot":"a","percent":70},{"id":"olive-oil","percent":30}],"pot":"one","seen":"firmness","firmness":"soft","at_c":24,"after_days":9,"thermometer":"b","measured":"probe"}],"recipe":[{"lot":"a","percent":100}]}"#,
        r#"{"ask":"plan","lots":[{"name":"a","id":"shea-butter"}],"recipe":[{"lot":"a","percent":70},{"id":"olive-oil","percent":30}],"beside":[{"lot":"a","percent":100}],"pots":[[{"lot":"a","percent":100}]],"at_c":[26],"water_bath":true,"most":1,"grams":20,"series":{"butter":"a","hardener":"beeswax","most_percent":4,"doses":2}}"#,
    ]
    .iter()
    .map(|line| serde_json::from_str(line).unwrap())
    .collect();
    for request in &whole {
        let reply = reply(request.to_string().as_bytes());
        assert!(reply.get("answer").is_some(), "{request} -> {reply}");
    }
    let mut random = Random::splitmix(14);
    for _ in 0..3_000 {
        let mut request = whole[random.below(whole.len())].clone();
        for _ in 0..=random.below(3) {
            let paths = paths(&request);
            let path = &paths[random.below(paths.len())];
            if let Some(place) = request.pointer_mut(path) {
                *place = value(&mut random);
            }
        }
        reply(request.to_string().as_bytes());
    }
}

/// Every place in a value, as JSON pointers.
fn paths(value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![(String::new(), value)];
    while let Some((path, value)) = open.pop() {
        match value {
            Value::Object(fields) => {
                open.extend(fields.iter().map(|(name, value)| (format!("{path}/{name}"), value)));
            }
            Value::Array(items) => {
                open.extend(items.iter().enumerate().map(|(at, value)| (format!("{path}/{at}"), value)));
            }
            _ => {}
        }
        if !path.is_empty() {
            found.push(path);
        }
    }
    found
}
