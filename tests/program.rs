//! The program as a terminal, or another program, has it: lines too long, and a reader that goes away.

// The lints' own exception for tests does not reach the helpers of a test crate.
#![allow(clippy::panic, clippy::unwrap_used)]

use std::io::{BufRead, BufReader, Read as _, Write as _};
use std::process::{Command, Stdio};

use meltmargin::contract::{LONGEST_LINE, answer_json_line};
use serde_json::Value;

const SHORT: &[u8] = br#"{"ask":"melt","recipe":[{"id":"cocoa-butter","percent":100}],"at_c":[20]}"#;

fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_meltmargin"));
    program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    program
}

/// A request of exactly so many bytes: JSON allows spaces at its end.
fn of_length(bytes: usize) -> Vec<u8> {
    let mut line = SHORT.to_vec();
    line.resize(bytes, b' ');
    line
}

#[test]
fn a_line_that_is_too_long_is_refused_and_the_next_is_answered() {
    let mut program = program().spawn().unwrap();
    let mut input = program.stdin.take().unwrap();
    let writer = std::thread::spawn(move || {
        for line in
            [&of_length(LONGEST_LINE)[..], &of_length(LONGEST_LINE + 1), &of_length(LONGEST_LINE + 2), SHORT]
        {
            input.write_all(line).unwrap();
            input.write_all(b"\n").unwrap();
        }
        // The last line has no end, and is too long.
        input.write_all(&of_length(LONGEST_LINE + 1)).unwrap();
    });
    let output = program.wait_with_output().unwrap();
    writer.join().unwrap();
    assert!(output.status.success(), "{output:?}");
    let replies: Vec<Value> = output
        .stdout
        .split(|byte| *byte == b'\n')
        .filter_map(|line| serde_json::from_slice(line).ok())
        .collect();
    let kinds: Vec<Option<&str>> = replies.iter().map(|reply| reply["error"]["kind"].as_str()).collect();
    assert_eq!(kinds, [None, Some("out-of-range"), Some("out-of-range"), None, Some("out-of-range")]);
    assert!(replies[1]["error"]["message"].as_str().unwrap().contains("4 MB"), "{}", replies[1]);
}

/// On 3214e57 a line was kept whole, however long it was.
#[cfg(target_os = "linux")]
#[test]
fn a_line_that_is_too_long_is_not_kept_in_memory() {
    let mut program = program().spawn().unwrap();
    let mut input = program.stdin.take().unwrap();
    let chunk = vec![b' '; 1_000_000];
    for _ in 0..64 {
        input.write_all(&chunk).unwrap();
    }
    input.write_all(b"\n").unwrap();
    let mut reply = String::new();
    let mut output = BufReader::new(program.stdout.take().unwrap());
    output.read_line(&mut reply).unwrap();
    assert!(reply.contains("out-of-range"), "{reply}");
    let status = std::fs::read_to_string(format!("/proc/{}/status", program.id())).unwrap();
    let most = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
    let most_kb: u64 = most.trim().trim_end_matches(" kB").parse().unwrap();
    // What the program itself takes is about 10 MB.
    assert!(most_kb < 40_000, "{most_kb} kB at most");
    drop(input);
    assert!(program.wait().unwrap().success());
}

/// On 3214e57 it ended in a message with `Os { .. }` and an exit code of 1.
#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_ends_it_quietly() {
    let mut program = program().spawn().unwrap();
    let mut input = program.stdin.take().unwrap();
    drop(program.stdout.take());
    // It may have ended before all of this is written.
    for _ in 0..100 {
        if input.write_all(SHORT).and_then(|()| input.write_all(b"\n")).is_err() {
            break;
        }
    }
    drop(input);
    let mut said = String::new();
    program.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!((program.wait().unwrap().code(), said.as_str()), (Some(141), ""));
}

/// What the program answers to these lines.
fn replies(lines: &str) -> Vec<Value> {
    let mut program = program().spawn().unwrap();
    let mut input = program.stdin.take().unwrap();
    input.write_all(lines.as_bytes()).unwrap();
    drop(input);
    let output = program.wait_with_output().unwrap();
    let replies = output.stdout.split(|byte| *byte == b'\n').filter(|line| !line.is_empty());
    replies.map(|line| serde_json::from_slice(line).unwrap()).collect()
}

/// What the README shows a newcomer is what the program answers.
#[test]
fn the_reply_in_the_readme_is_the_programs() {
    let readme = include_str!("../README.md");
    let request = readme.lines().find_map(|line| line.strip_prefix("echo '")?.strip_suffix("' \\"));
    let printed = readme.lines().find(|line| line.starts_with("{\"answer\":")).expect("a reply is printed");
    let printed: Value = serde_json::from_str(printed).expect("it is JSON");
    assert_eq!(replies(&format!("{}\n", request.expect("a request is printed"))), [printed]);
}

/// An empty line was no JSON, "EOF while parsing a value".
#[test]
fn an_empty_line_has_its_reply_that_says_so() {
    let short = std::str::from_utf8(SHORT).unwrap();
    let replies = replies(&format!("{short}\n\n \t\r\n{short}\n"));
    let kinds: Vec<Option<&str>> = replies.iter().map(|reply| reply["error"]["kind"].as_str()).collect();
    assert_eq!(kinds, [None, Some("not-json"), Some("not-json"), None]);
    assert!(replies[1]["error"]["message"].as_str().unwrap().contains("empty"), "{}", replies[1]);
}

/// Of two values of one key the last counted, in silence.
#[test]
fn a_key_that_is_there_twice_is_refused_with_its_place() {
    for (line, at) in [
        (r#"{"ask":"read","text":"shea 1 g","text":"olive oil 1 g"}"#, "text"),
        (
            r#"{"ask":"melt","recipe":[{"id":"olive-oil","percent":50},{"id":"olive-oil","percent":1,"percent":2}]}"#,
            "recipe[1].percent",
        ),
        (r#"{"ask":"rework","limits":{"bounds":{"a.b":{"low":1,"low":1}}}}"#, "limits.bounds.a.b.low"),
        (r#"{"ask":1,"\u0061sk":"ingredients"}"#, "ask"),
    ] {
        let reply = &replies(line)[0];
        assert_eq!(
            (&reply["error"]["kind"], &reply["error"]["at"]),
            (&"malformed".into(), &at.into()),
            "{reply}"
        );
        assert!(reply["error"]["message"].as_str().unwrap().contains("twice"), "{reply}");
    }
    // What else is no JSON is told as before, and depth has its end.
    let deep = format!("{}1{}", "[".repeat(500), "]".repeat(500));
    for line in [r#"{"ask":"read","text":}"#, r#"{"ask":"read"} x"#, deep.as_str()] {
        assert_eq!(replies(line)[0]["error"]["kind"], "not-json", "{line}");
    }
}

/// "-0.00 %" and "-0 °C" were said.
#[test]
fn zero_is_said_without_a_sign() {
    for line in [
        r#"{"ask":"melt","recipe":[{"id":"olive-oil","percent":-0.0}],"at_c":[20]}"#,
        r#"{"ask":"melt","recipe":[{"name":"x","like":"shea-butter","melts_at_c":-0.0,"percent":100}],"at_c":[20]}"#,
        r#"{"ask":"melt","recipe":[{"name":"x","fatty_acids":{"oleic":-0.0},"percent":100}],"at_c":[20]}"#,
        r#"{"ask":"liquidus","mole_percent":{"SOS":-0.0}}"#,
    ] {
        // As the program reads it, and as the page does.
        let request: Value = serde_json::from_str(line).unwrap();
        let by_page =
            if line.contains("melts_at_c") { Value::Null } else { meltmargin::contract::answer(&request) };
        for reply in [replies(line)[0].clone(), by_page] {
            let message = reply["error"]["message"].as_str().unwrap_or("");
            assert!(!message.contains("-0"), "{message}");
            assert!(reply.is_null() || message.contains('0'), "{reply}");
        }
    }
}

/// Some editors begin a file with a byte order mark: the first line was no JSON then.
#[test]
fn a_byte_order_mark_is_no_part_of_the_first_line() {
    let mut program = program().spawn().unwrap();
    let mut input = program.stdin.take().unwrap();
    input.write_all(b"\xef\xbb\xbf").unwrap();
    input.write_all(SHORT).unwrap();
    input.write_all(b"\n").unwrap();
    drop(input);
    let output = program.wait_with_output().unwrap();
    let reply: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(reply.get("answer").is_some(), "{reply}");
}

/// On 3214e57 an id of a megabyte was compared with every id of the catalogue, for minutes, and was in the
/// message whole.
#[test]
fn an_id_longer_than_any_is_neither_compared_nor_said_whole() {
    let id = "shea-butter".repeat(100_000);
    for line in [
        format!(r#"{{"ask":"melt","recipe":[{{"id":"{id}","percent":100}}],"at_c":[20]}}"#),
        format!(r#"{{"ask":"{id}"}}"#),
        format!(r#"{{"ask":"melt","recipe":[],"{id}":1}}"#),
        format!(r#"{{"ask":"melt","recipe":"{id}"}}"#),
        format!(r#"{{"ask":"melt","state":"{id}","recipe":[]}}"#),
    ] {
        let reply: Value = serde_json::from_str(&answer_json_line(line.as_bytes())).unwrap();
        let message = reply["error"]["message"].as_str().unwrap();
        assert!(message.len() < 1000, "{} bytes: {}", message.len(), &message[..200]);
        assert!(!message.contains("did you mean"), "{message}");
    }
}
