//! What a client hears of the work itself: traces, how far long work is, parts of an answer; and what is noted in a log.

use super::client::{Client, framed};
use serde_json::{Value, json};
use std::fs;

const SOUND: &str = "size 4\n\npuzzle a-1 \"One\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

/// The protocol's code for a request that was called off (3.17, `LSPErrorCodes`).
const CANCELLED: i64 = -32800;

fn greeting(more: &Value) -> Value {
    let mut params = json!({"processId": null, "rootUri": null, "capabilities": {}});
    params.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    params
}

fn hover() -> Value {
    json!({"textDocument": {"uri": "untitled:a"}, "position": {"line": 4, "character": 2}})
}

#[test]
fn the_work_is_traced_as_far_as_that_is_wanted() {
    let mut client = Client::greeted(greeting(&json!({"trace": "messages"})));
    let traced = |client: &mut Client, method: &str| {
        let begin = format!("{method} took ");
        let told = client.wait(|it| {
            let message = it["params"]["message"].as_str().unwrap_or_default();
            it["method"] == "$/logTrace" && message.starts_with(&begin)
        });
        told["params"]["verbose"].as_str().map(str::to_owned)
    };
    client.open("untitled:a", SOUND);
    assert_eq!(traced(&mut client, "textDocument/didOpen"), None);
    client.ask("textDocument/hover", hover()).unwrap();
    assert_eq!(traced(&mut client, "textDocument/hover"), None);
    client.tell("$/setTrace", json!({"value": "verbose"}));
    client.ask("textDocument/hover", hover()).unwrap();
    assert_eq!(traced(&mut client, "textDocument/hover"), Some("request 3, untitled:a".to_owned()));
    client.change("untitled:a", 1, &[(None, "box\n")]);
    assert_eq!(traced(&mut client, "textDocument/didChange"), Some("a notification, untitled:a".to_owned()));
    for wrong in [json!({"value": "loud"}), json!({}), json!([])] {
        let wrong = json!({"jsonrpc": "2.0", "method": "$/setTrace", "params": wrong});
        client.send(&framed(&wrong.to_string()));
    }
    client.tell("$/setTrace", json!({"value": "off"}));
    client.ask("textDocument/hover", hover()).unwrap();
    client.ask("textDocument/hover", hover()).unwrap();
    let hovers = |it: &Value| it["params"]["message"].as_str().is_some_and(|it| it.contains("hover"));
    assert!(!client.came(|it| it["method"] == "$/logTrace" && hovers(it)));
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn what_is_noted_depends_on_the_level() {
    let folder = tempfile::tempdir().unwrap();
    let noted = |level: &[&str]| {
        let log = folder.path().join(format!("log{}", level.concat()));
        let mut words = vec!["serve", "--log", log.to_str().unwrap()];
        words.extend(level);
        let mut client = Client::started(&words).careless();
        client.ask("initialize", greeting(&json!({}))).unwrap();
        client.open("untitled:a", SOUND);
        client.ask("textDocument/hover", hover()).unwrap();
        client.send("Content-Length: 1\r\n\r\n{");
        assert!(client.answer(&Value::Null).is_err());
        assert_eq!(client.leave(), Some(0));
        // Without the times, which are others each time.
        let lines = fs::read_to_string(&log).unwrap();
        let lines = lines.lines().map(|line| {
            let what = line.split_once(" ms  ").unwrap().1;
            what.split_once(" took ").map_or(what, |(method, _)| method).to_owned()
        });
        lines.collect::<Vec<_>>()
    };
    let started = concat!("info     started: gridsetter ", env!("CARGO_PKG_VERSION"));
    let (not_understood, ended) =
        ("warning  not understood: Parse error: Parse error", "info     ended: Ok(Orderly)");
    // On a busy machine anything may be slow: that is noted as a warning, and not for the debug level.
    let slow = "warning  slow: ";
    let quick = |level: &[&str]| {
        let mut lines = noted(level);
        lines.retain(|line| !line.starts_with(slow));
        lines
    };
    assert_eq!(quick(&["--log-level", "error"]), [""; 0]);
    assert_eq!(quick(&["--log-level", "warning"]), [not_understood]);
    assert_eq!(quick(&[]), [started, not_understood, ended]);
    let all = noted(&["--log-level", "debug"]);
    let all: Vec<String> = all.iter().map(|line| line.replace(slow, "debug    ")).collect();
    let methods = ["initialize", "textDocument/didOpen", "textDocument/hover", "shutdown"];
    let methods: Vec<String> = methods.iter().map(|method| format!("debug    {method}")).collect();
    let all: Vec<&String> = all.iter().filter(|line| methods.contains(line)).collect();
    assert_eq!(all, methods.iter().collect::<Vec<_>>());
}

/// Every part of an answer that came for a token.
fn parts(client: &mut Client, token: &Value) -> Vec<Value> {
    let mut parts = Vec::new();
    while client.came(|it| it["method"] == "$/progress" && it["params"]["token"] == *token) {
        let part = client.wait(|it| it["method"] == "$/progress" && it["params"]["token"] == *token);
        parts.extend(part["params"]["value"].as_array().unwrap().clone());
    }
    parts
}

#[test]
fn answers_come_in_parts_where_that_is_wanted() {
    let mut client = Client::greeted(greeting(&json!({})));
    let answers: String = (0..120).map(|_| "answer a-1\n").collect();
    client.open("untitled:a", &format!("{SOUND}\n{answers}"));
    let params = json!({
        "textDocument": {"uri": "untitled:a"}, "position": {"line": 2, "character": 8},
        "context": {"includeDeclaration": true},
    });
    let whole = client.ask("textDocument/references", &params).unwrap();
    let mut in_parts = params.clone();
    in_parts["partialResultToken"] = json!(7);
    assert_eq!(client.ask("textDocument/references", &in_parts), Ok(json!([])));
    let parts_of_references = parts(&mut client, &json!(7));
    assert_eq!((parts_of_references.len(), json!(parts_of_references)), (121, whole));
    let whole = client.ask("workspace/symbol", json!({"query": "a-1"})).unwrap();
    let asked = json!({"query": "a-1", "partialResultToken": "symbols"});
    assert_eq!(client.ask("workspace/symbol", asked), Ok(json!([])));
    assert_eq!(json!(parts(&mut client, &json!("symbols"))), whole);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn each_of_many_requests_that_are_called_off_gets_one_answer() {
    let mut client = Client::greeted(greeting(&json!({})));
    client.open("untitled:a", &SOUND.repeat(3000));
    let options =
        json!({"textDocument": {"uri": "untitled:a"}, "options": {"tabSize": 2, "insertSpaces": true}});
    let asked: Vec<i64> = (0..200).map(|_| client.begin("textDocument/formatting", &options)).collect();
    // The last first: of these most have not been begun.
    for id in asked.iter().rev() {
        client.tell("$/cancelRequest", json!({"id": id}));
    }
    let answers: Vec<Result<Value, i64>> = asked.iter().map(|id| client.answer(&json!(id))).collect();
    let called_off = answers.iter().filter(|it| **it == Err(CANCELLED)).count();
    assert!(answers.iter().all(|it| it.is_ok() || *it == Err(CANCELLED)), "{answers:?}");
    assert!(called_off > 100, "{called_off}: four are worked on at a time, and the others were not begun");
    // Nobody is answered twice.
    client.ask("textDocument/hover", hover()).unwrap();
    assert!(!client.came(|message| message.get("method").is_none()));
    assert_eq!(client.leave(), Some(0));
}
