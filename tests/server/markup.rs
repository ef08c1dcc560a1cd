//! What is told, to clients that show Markdown and to those that do not.

use super::client::Client;
use serde_json::{Value, json};

const URI: &str = "untitled:markup";

/// What a file of a stranger may hold.
const TITLE: &str = "2 * <img src=x onerror=alert(1)> [a](b)";

/// What is told on hover of an id, beside it where it can be written, and of a statement that is chosen, to a client that shows
/// these formats.
fn told(formats: &Value) -> (Value, Value, Value) {
    let mut client =
        Client::greeted(json!({"processId": null, "rootUri": null, "capabilities": {"textDocument": {
            "hover": {"contentFormat": formats},
            "completion": {"completionItem": {"documentationFormat": formats}},
        }}}));
    client.open(URI, &format!("size 4\npuzzle a-1 \"{TITLE}\"\ntext\n  see {{a-1}}\n"));
    let at = json!({"textDocument": {"uri": URI}, "position": {"line": 3, "character": 7}});
    let hover = client.ask("textDocument/hover", &at).unwrap()["contents"].take();
    let items = client.ask("textDocument/completion", &at).unwrap();
    let item = items.as_array().unwrap().iter().find(|item| item["label"] == "a-1").unwrap();
    let beside = item["detail"].clone();
    let at = json!({"textDocument": {"uri": URI}, "position": {"line": 2, "character": 1}});
    let items = client.ask("textDocument/completion", &at).unwrap();
    let item = items.as_array().unwrap().iter().find(|item| item["label"] == "known").unwrap();
    let chosen = client.ask("completionItem/resolve", item).unwrap();
    (hover, beside, chosen["documentation"].clone())
}

#[test]
fn a_title_is_no_markdown() {
    let escaped = r"2 \* \<img src\=x onerror\=alert\(1\)\> \[a\]\(b\)";
    let (hover, beside, chosen) = told(&json!(["markdown", "plaintext"]));
    let value = format!("**a-1** {escaped}\n\nA puzzle of `untitled:markup`.");
    assert_eq!(hover, json!({"kind": "markdown", "value": value}));
    assert_eq!(beside, TITLE, "what stands beside an item is plain text in every client");
    assert_eq!(chosen["kind"], "markdown");
}

#[test]
fn a_client_that_likes_plain_text_is_told_in_it() {
    for formats in [json!(["plaintext"]), json!(["plaintext", "markdown"])] {
        let (hover, beside, chosen) = told(&formats);
        let value = format!("a-1 {TITLE}\n\nA puzzle of untitled:markup.");
        assert_eq!(hover, json!({"kind": "plaintext", "value": value}));
        assert_eq!(beside, TITLE);
        assert!(chosen.as_str().is_some_and(|told| !told.contains('`')), "{chosen}");
    }
}
