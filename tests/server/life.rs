//! Beginning, end, and what goes wrong between. The codes of errors are those of JSON-RPC 2.0, section 5.1, and of the
//! Language Server Protocol 3.17, `ErrorCodes`.

use super::client::{Client, exit_code, framed, start};
use serde_json::{Value, json};
use std::io::{Read, Write};
use std::process::Child;
use std::thread;
use std::time::Duration;

const PARSE_ERROR: i64 = -32700;
const INVALID_REQUEST: i64 = -32600;
const METHOD_NOT_FOUND: i64 = -32601;
const INVALID_PARAMS: i64 = -32602;
const NOT_INITIALIZED: i64 = -32002;
const REQUEST_CANCELLED: i64 = -32800;
const REQUEST_FAILED: i64 = -32803;

fn greeting() -> Value {
    json!({"processId": null, "rootUri": null, "capabilities": {}})
}

#[test]
fn who_takes_leave_gets_0_and_who_does_not_gets_1() {
    assert_eq!(Client::greeted(greeting()).leave(), Some(0));
    assert_eq!(Client::greeted(greeting()).vanish(), Some(1));
    assert_eq!(Client::new().vanish(), Some(1));
    let mut client = Client::greeted(greeting());
    client.tell("exit", Value::Null);
    assert_eq!(client.code(), Some(1), "exit without shutdown");
    let mut client = Client::greeted(greeting());
    client.ask("shutdown", Value::Null).unwrap();
    assert_eq!(client.vanish(), Some(0));
    let mut client = Client::new();
    assert_eq!(client.ask("shutdown", Value::Null), Err(NOT_INITIALIZED));
    assert_eq!(client.vanish(), Some(1), "a refused shutdown is none");
}

#[test]
fn requests_out_of_time_are_refused() {
    let mut client = Client::new().careless();
    assert_eq!(client.ask("textDocument/hover", json!({})), Err(NOT_INITIALIZED));
    client.tell("textDocument/didOpen", json!({}));
    client.ask("initialize", greeting()).unwrap();
    assert_eq!(client.ask("initialize", greeting()), Err(INVALID_REQUEST));
    client.ask("shutdown", Value::Null).unwrap();
    assert_eq!(client.ask("textDocument/hover", json!({})), Err(INVALID_REQUEST));
    assert_eq!(client.vanish(), Some(0));
}

#[test]
fn what_is_no_message_is_answered_and_survived() {
    let mut client = Client::greeted(greeting()).careless();
    for bad in [
        framed("{"),
        framed(""),
        framed("\u{0}\u{1}"),
        framed(&"[".repeat(100_000)),
        framed("{\"jsonrpc\": \"2.0\", \"id\": 1, \"method\": \"x\", \"params\": [}"),
        "Content-Length: many\r\n\r\n".to_owned(),
        "Content-Type: text\r\n\r\n".to_owned(),
        "\u{fffd}\r\n\r\n".to_owned(),
    ] {
        client.send(&bad);
        assert_eq!(client.answer(&Value::Null), Err(PARSE_ERROR), "{bad:?}");
    }
    for bad in [
        "[]",
        "1",
        "{}",
        "{\"jsonrpc\": \"1.0\", \"method\": \"x\"}",
        "{\"jsonrpc\": \"2.0\", \"method\": 3}",
        // Half a character, as some clients send it while one is typed.
        "{\"jsonrpc\": \"2.0\", \"method\": \"x\", \"params\": {\"text\": \"\\ud83c\"}}",
    ] {
        client.send(&framed(bad));
        assert_eq!(client.answer(&Value::Null), Err(INVALID_REQUEST), "{bad}");
    }
    client.send(&framed("{\"jsonrpc\": \"2.0\", \"id\": \"seven\", \"method\": 3}"));
    assert_eq!(client.answer(&json!("seven")), Err(INVALID_REQUEST));
    assert_eq!(client.ask("gridsetter/nonsense", json!({})), Err(METHOD_NOT_FOUND));
    assert_eq!(client.ask("textDocument/hover", json!({"no": 1})), Err(INVALID_PARAMS));
    // Notifications have no answer, so that nothing comes of wrong ones; the server is there still.
    client.tell("textDocument/didOpen", json!([3]));
    client.tell("textDocument/didChange", json!({"textDocument": {"uri": "untitled:a", "version": 1}}));
    client.tell("$/whatever", json!({}));
    client.tell("nonsense", json!({}));
    client.send(&framed("{\"jsonrpc\": \"2.0\", \"id\": 999, \"result\": null}"));
    client.open("untitled:a", "puzzle a-1\nbox\n");
    client.finds(0, &["unknown-statement"]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_cancelled_request_gets_one_answer() {
    let mut client = Client::greeted(greeting());
    client.open("untitled:a", &"puzzle a\ngivens\n  1 . .\n".repeat(3000));
    for _ in 0..20 {
        let text = json!({"uri": "untitled:a"});
        let options = json!({"tabSize": 2, "insertSpaces": true});
        let id = client.begin("textDocument/formatting", json!({"textDocument": text, "options": options}));
        client.tell("$/cancelRequest", json!({"id": id}));
        match client.answer(&json!(id)) {
            Ok(_) | Err(REQUEST_CANCELLED) => {}
            Err(other) => panic!("{other}"),
        }
    }
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_flood_of_requests_is_answered_one_by_one() {
    let mut client = Client::greeted(greeting());
    client.open("untitled:a", &"puzzle   a\ngivens\n  1 . .\n".repeat(50));
    let options = json!({"tabSize": 2, "insertSpaces": true});
    let params = json!({"textDocument": {"uri": "untitled:a"}, "options": options});
    let asked: Vec<i64> = (0..2000).map(|_| client.begin("textDocument/formatting", &params)).collect();
    let answers: Vec<_> = asked.iter().map(|id| client.answer(&json!(id))).collect();
    let refused = answers.iter().filter(|answer| **answer == Err(REQUEST_FAILED)).count();
    assert!(refused <= 2000 - 256, "{refused}");
    assert!(
        answers
            .iter()
            .all(|answer| answer.as_ref().is_err_and(|code| *code == REQUEST_FAILED) || answer.is_ok())
    );
    assert!(client.ask("textDocument/formatting", &params).is_ok(), "there is room again");
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_client_that_dies_leaves_no_server_behind() {
    // To the server, a client that was killed and one that closed its pipes look alike.
    let (mut server, mut input, output) = start();
    input
        .write_all(
            framed(
                &json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": greeting()}).to_string(),
            )
            .as_bytes(),
        )
        .unwrap();
    drop(output);
    drop(input);
    assert_eq!(exit_code(&mut server), Some(1));

    let (mut server, mut input, output) = start();
    input.write_all(b"Content-Length: 100\r\n\r\n{\"jsonrpc\"").unwrap();
    drop(input);
    assert_eq!(exit_code(&mut server), Some(1));
    drop(output);

    // It takes nothing any more and says nothing more, and its end of our input stays open.
    let (mut server, mut input, output) = start();
    drop(output);
    let _ = input.write_all(framed("{").as_bytes());
    assert_eq!(exit_code(&mut server), Some(1));
    drop(input);
}

/// Something that stays there until it is killed.
fn somebody() -> Child {
    let (child, input, _) = start();
    std::mem::forget(input);
    child
}

#[test]
fn a_client_whose_process_is_gone_leaves_no_server_behind() {
    let mut client = somebody();
    let greeting = |process: u32| json!({"processId": process, "rootUri": null, "capabilities": {}});
    let mut server = Client::greeted(greeting(client.id()));
    server.open("untitled:a", "puzzle a-1\nbox\n");
    server.finds(0, &["unknown-statement"]);
    client.kill().unwrap();
    client.wait().unwrap();
    if cfg!(unix) {
        // Its pipes are open still: this test holds them.
        assert_eq!(server.code(), Some(1));
    }
    // A process that never was to be seen is no sign of anything.
    let mut server = Client::greeted(greeting(client.id()));
    thread::sleep(Duration::from_millis(100));
    assert_eq!(server.ask("shutdown", Value::Null), Ok(Value::Null));
    assert_eq!(server.vanish(), Some(0));
}

#[test]
fn who_does_not_read_keeps_the_server_from_nothing() {
    let (mut server, mut input, mut output) = start();
    let send =
        |input: &mut dyn Write, message: Value| input.write_all(framed(&message.to_string()).as_bytes());
    send(&mut input, json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": greeting()}))
        .unwrap();
    send(&mut input, json!({"jsonrpc": "2.0", "method": "initialized", "params": {}})).unwrap();
    // Findings of 300 kB for each of 300 changes: more than any pipe holds, and than is kept.
    let text = "puzzle a\ngivens\n  1 x\n".repeat(1000);
    let item = json!({"uri": "untitled:a", "languageId": "gridsetter", "version": 0, "text": text});
    send(
        &mut input,
        json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": item}}),
    )
    .unwrap();
    for version in 1..=300 {
        let params = json!({
            "textDocument": {"uri": "untitled:a", "version": version},
            "contentChanges": [{"range": super::client::range((0, 0), (0, 0)), "text": "#"}],
        });
        send(&mut input, json!({"jsonrpc": "2.0", "method": "textDocument/didChange", "params": params}))
            .unwrap();
    }
    assert!(memory_kb(server.id()).is_none_or(|kb| kb < 150_000), "{:?}", memory_kb(server.id()));
    // Then it reads again, and gets what counts: the findings of the last version, and its answers.
    send(&mut input, json!({"jsonrpc": "2.0", "id": 2, "method": "shutdown"})).unwrap();
    let reader = thread::spawn(move || {
        let mut all = String::new();
        output.read_to_string(&mut all).unwrap();
        all
    });
    thread::sleep(Duration::from_millis(100));
    send(&mut input, json!({"jsonrpc": "2.0", "method": "exit"})).unwrap();
    assert_eq!(exit_code(&mut server), Some(0));
    let all = reader.join().unwrap();
    assert!(all.contains("\"version\":300") && all.contains("\"id\":2"), "{} bytes", all.len());

    // Who never reads and leaves is not waited for.
    let (mut server, mut input, output) = start();
    let lost = thread::spawn(move || {
        for id in 0..200_000 {
            if send(&mut input, json!({"jsonrpc": "2.0", "id": id, "method": "none"})).is_err() {
                return;
            }
        }
        let _ = send(&mut input, json!({"jsonrpc": "2.0", "method": "exit"}));
    });
    assert_eq!(exit_code(&mut server), Some(1));
    drop(output);
    lost.join().unwrap();
}

/// What a process takes of memory just now, where the system tells.
pub fn memory_kb(process: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
    line.trim().trim_end_matches(" kB").parse().ok()
}
