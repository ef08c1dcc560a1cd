//! What an editor shows of a text by itself: folds, selections, highlights, hints in rows, kinds of words.

use super::client::{Client, range};
use serde_json::{Value, json};

const URI: &str = "untitled:shapes";

const TEXT: &str = "\
# Our own.
# Two lines.

part \"One\"

puzzle a-1 \"One\"
size 4
givens
  1 .  . 4
  . .  1 .
  2 .  . .
  . .  . 3
work
  1 3! 23? 4
  4 24 1 .
  2 .  . .
  3 .  . .

puzzle a-2
size 4

part \"Two\"
puzzle a-3
";

fn opened() -> Client {
    let mut client = Client::greeted(json!({"processId": null, "rootUri": null, "capabilities": {}}));
    client.open(URI, TEXT);
    client
}

fn at(line: u32, character: u32) -> Value {
    json!({"textDocument": {"uri": URI}, "position": {"line": line, "character": character}})
}

#[test]
fn folds() {
    let answer = opened().ask("textDocument/foldingRange", at(0, 0)).unwrap();
    let lines: Vec<&str> = TEXT.lines().collect();
    let fold = |fold: &Value| {
        let line = |name: &str| lines[usize::try_from(fold[name].as_u64().unwrap()).unwrap()];
        format!(
            "{} .. {}{}",
            line("startLine"),
            line("endLine"),
            fold["kind"].as_str().map_or("", |_| " (comment)")
        )
    };
    let folds: Vec<String> = answer.as_array().unwrap().iter().map(fold).collect();
    assert_eq!(
        folds,
        [
            "# Our own. .. # Two lines. (comment)",
            "part \"One\" .. size 4",
            "puzzle a-1 \"One\" ..   3 .  . .",
            "givens ..   . .  . 3",
            "work ..   3 .  . .",
            "puzzle a-2 .. size 4",
            "part \"Two\" .. puzzle a-3",
        ]
    );
}

#[test]
fn a_selection_grows() {
    let params = json!({"textDocument": {"uri": URI}, "positions": [{"line": 9, "character": 7}]});
    let answer = opened().ask("textDocument/selectionRange", params).unwrap();
    let (mut grown, mut next) = (Vec::new(), Some(&answer[0]));
    while let Some(selection) = next {
        let place = |name: &str| {
            (selection["range"][name]["line"].as_u64(), selection["range"][name]["character"].as_u64())
        };
        grown.push((place("start"), place("end")));
        next = selection.get("parent");
    }
    let place = |line, character| (Some(line), Some(character));
    assert_eq!(
        grown,
        [
            (place(9, 7), place(9, 8)),
            (place(9, 2), place(9, 10)),
            (place(7, 0), place(11, 10)),
            (place(5, 0), place(16, 10)),
            (place(5, 0), place(18, 0)),
            (place(3, 0), place(21, 0)),
            (place(0, 0), place(23, 0)),
        ]
    );
}

#[test]
fn the_same_digit_is_highlighted() {
    let answer = opened().ask("textDocument/documentHighlight", at(8, 2)).unwrap();
    let places: Vec<&Value> = answer.as_array().unwrap().iter().map(|it| &it["range"]).collect();
    assert_eq!(places, [&range((8, 2), (8, 3)), &range((9, 7), (9, 8))]);
    let none = opened().ask("textDocument/documentHighlight", at(8, 4)).unwrap();
    assert_eq!(none, Value::Null, "the cell is empty");
}

#[test]
fn rows_say_what_they_miss() {
    let params = json!({"textDocument": {"uri": URI}, "range": range((8, 0), (14, 0))});
    let answer = opened().ask("textDocument/inlayHint", params).unwrap();
    let hints: Vec<String> = answer
        .as_array()
        .unwrap()
        .iter()
        .map(|hint| format!("{}: {}", hint["position"]["line"], hint["label"].as_str().unwrap()))
        .collect();
    assert_eq!(
        hints,
        [
            "8: misses 2 3",
            "9: misses 2 3 4",
            "10: misses 1 3 4",
            "11: misses 1 2 4",
            "13: misses 2",
            "14: misses 2 3",
        ]
    );
}

/// The words of the text with what each is.
fn tokens(answer: &Value, legend: &Value) -> Vec<String> {
    let numbers: Vec<usize> = answer["data"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| usize::try_from(it.as_u64().unwrap()).unwrap())
        .collect();
    let lines: Vec<&str> = TEXT.lines().collect();
    let (mut line, mut column) = (0, 0);
    let token = |token: &[usize]| {
        (line, column) = if token[0] == 0 { (line, column + token[1]) } else { (line + token[0], token[1]) };
        let wrong = if token[4] == 1 { " wrong" } else { "" };
        format!(
            "{} {}{wrong}",
            &lines[line][column..column + token[2]],
            legend["tokenTypes"][token[3]].as_str().unwrap()
        )
    };
    numbers.chunks(5).map(token).collect()
}

#[test]
fn words_and_signs_have_kinds() {
    let params = json!({
        "processId": null, "rootUri": null, "capabilities": {}, "initializationOptions": {"mistakes": "show"},
    });
    let mut client = Client::new();
    let promised = client.ask("initialize", params).unwrap();
    client.tell("initialized", json!({}));
    let legend = &promised["capabilities"]["semanticTokensProvider"]["legend"];
    client.open(URI, TEXT);
    let whole = client.ask("textDocument/semanticTokens/full", at(0, 0)).unwrap();
    let all = tokens(&whole, legend);
    let some = json!({"textDocument": {"uri": URI}, "range": range((12, 0), (14, 99))});
    let sheet = client.ask("textDocument/semanticTokens/range", some).unwrap();
    let expected = [
        "work keyword",
        "1 number",
        "3! variable",
        "23? parameter",
        "4 number",
        "4 variable",
        "24 parameter",
        "1 number",
    ];
    let told = tokens(&sheet, legend);
    let plain: Vec<&str> = told.iter().map(|it| it.trim_end_matches(" wrong")).collect();
    assert_eq!(plain, expected);
    assert!(all.windows(told.len()).any(|window| window == told), "{all:?}");
    assert_eq!(
        all[..5],
        ["# Our own. comment", "# Two lines. comment", "part keyword", "\"One\" string", "puzzle keyword"]
    );

    // Of a change only the change is told.
    client.change(URI, 1, &[(Some(range((14, 9), (14, 10))), "3")]);
    let params = json!({"textDocument": {"uri": URI}, "previousResultId": whole["resultId"]});
    let delta = client.ask("textDocument/semanticTokens/full/delta", params).unwrap();
    let edits = delta["edits"].as_array().unwrap();
    assert_eq!(edits.len(), 1, "{delta}");
    let mut data = whole["data"].as_array().unwrap().clone();
    let start = usize::try_from(edits[0]["start"].as_u64().unwrap()).unwrap();
    let gone = usize::try_from(edits[0]["deleteCount"].as_u64().unwrap()).unwrap();
    data.splice(start..start + gone, edits[0]["data"].as_array().unwrap().iter().cloned());
    let now = client.ask("textDocument/semanticTokens/full", at(0, 0)).unwrap();
    assert_eq!(json!(data), now["data"]);
    assert!(edits[0]["data"].as_array().unwrap().len() <= 15, "{delta}");
}

#[test]
fn a_line_is_formatted_when_it_is_ended_and_a_range_by_itself() {
    let mut client = Client::greeted(json!({"processId": null, "rootUri": null, "capabilities": {}}));
    let text = "size   4\n\npuzzle   a-1\n\npuzzle    a-2\n";
    client.open(URI, text);
    let mut typed = at(3, 0);
    typed["ch"] = json!("\n");
    typed["options"] = json!({"tabSize": 2, "insertSpaces": true});
    let edits = client.ask("textDocument/onTypeFormatting", typed).unwrap();
    assert_eq!(edits, json!([{"range": range((2, 0), (3, 0)), "newText": "puzzle a-1\n"}]));
    let params = json!({
        "textDocument": {"uri": URI}, "range": range((4, 0), (4, 3)), "options": {"tabSize": 2, "insertSpaces": true},
    });
    let edits = client.ask("textDocument/rangeFormatting", params).unwrap();
    assert_eq!(edits, json!([{"range": range((4, 0), (5, 0)), "newText": "puzzle a-2\n"}]));
}
