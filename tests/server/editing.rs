//! What is found is of the text as it is, however fast it changes.

use super::client::Client;
use super::text::{Columns, Random, edit};
use gridsetter::book::{Book, Workspace};
use gridsetter::lint;
use serde_json::{Value, json};

const URI: &str = "untitled:random";

const BEGINNING: &str = "size 4\n\npuzzle a-1 \"Eins 🂡\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n\
    \npuzzle a-2\r\ngivens\r\n  1 .  . 4\r\n  . .  1 .\r\n  2 .  . .\r\n  . .  . 3\r\n";

/// What the library finds: name, and where it begins and ends.
pub fn expected(text: &str, columns: Columns) -> Vec<String> {
    let workspace = Workspace::new(vec![Book::read("", text)]);
    let begins: Vec<usize> = workspace.books[0].tree.placed().map(|(begin, _)| begin).collect();
    let reports = lint::check(&workspace);
    let mut all: Vec<String> = reports
        .iter()
        .map(|report| {
            let begin = begins[report.spot.section.section];
            let (start, end) =
                (report.spot.span.start as usize + begin, report.spot.span.end as usize + begin);
            let (start, end) = (columns.position(text, start), columns.position(text, end));
            format!("{} {start:?} {end:?} {}\n{}", report.finding.name, report.message, report.help)
        })
        .collect();
    all.sort();
    all
}

pub fn sorted(found: &[Value]) -> Vec<String> {
    let place = |place: &Value| (place["line"].as_u64().unwrap(), place["character"].as_u64().unwrap());
    let mut all: Vec<String> = found
        .iter()
        .map(|finding| {
            let (start, end) = (place(&finding["range"]["start"]), place(&finding["range"]["end"]));
            let (name, message) = (finding["code"].as_str().unwrap(), finding["message"].as_str().unwrap());
            format!("{name} {start:?} {end:?} {message}")
        })
        .collect();
    all.sort();
    all
}

/// A client that asks, sometimes before its last question is answered, has in the end what the library finds.
#[test]
fn what_is_asked_for_after_random_edits_is_of_the_text() {
    const SERVER_CANCELLED: i64 = -32802; // 3.17, `LSPErrorCodes`
    let columns = Columns::Characters;
    let mut client = Client::greeted(json!({
        "processId": null, "rootUri": null,
        "capabilities": {
            "general": {"positionEncodings": [columns.name()]},
            "textDocument": {"diagnostic": {}},
        },
        "initializationOptions": {"mistakes": "show"},
    }));
    let mut random = Random(11);
    let mut text = BEGINNING.to_owned();
    client.open(URI, &text);
    let (mut has, mut id) = (Vec::new(), Value::Null);
    for version in 1..=50_i64 {
        let mut asked = json!({"textDocument": {"uri": URI}});
        if id.is_string() {
            asked["previousResultId"] = id;
        }
        let earlier = random.one_in(2).then(|| client.begin("textDocument/diagnostic", &asked));
        // Now and then nothing changes.
        if !random.one_in(4) {
            let (range, new) = edit(&mut random, &mut text, columns);
            client.change(URI, version, &[(range, &new)]);
        }
        let now = client.begin("textDocument/diagnostic", &asked);
        if let Some(earlier) = earlier {
            let answer = client.answer(&json!(earlier));
            assert!(answer.is_ok() || answer == Err(SERVER_CANCELLED), "{answer:?}");
        }
        let answer = client.answer(&json!(now)).unwrap();
        if answer["kind"] == "full" {
            has = sorted(answer["items"].as_array().unwrap());
        }
        id = answer["resultId"].clone();
        assert_eq!(has, expected(&text, columns), "version {version}, of {text:?} with {answer}");
    }
    assert!(!client.came(|message| message["method"] == "textDocument/publishDiagnostics"));
    assert_eq!(client.leave(), Some(0));
}

/// Two puzzles edited in turn, faster than anything is looked at: whatever is told of a version is true of it.
#[test]
fn what_is_found_is_never_of_an_older_text() {
    let columns = Columns::Units;
    let mut client = Client::greeted(json!({
        "processId": null, "rootUri": null,
        "capabilities": {"general": {"positionEncodings": [columns.name()]}},
        "initializationOptions": {"mistakes": "show"},
    }));
    let mut text = BEGINNING.replace('\r', "");
    client.open(URI, &text);
    let mut texts = vec![text.clone()];
    let mut random = Random(3);
    let places: Vec<usize> = text.match_indices(". ").map(|(at, _)| at).collect();
    for version in 1..=200_i64 {
        // One cell of one puzzle, then one of the other: dots become digits and digits dots.
        let half = places.len() / 2;
        let at = places[random.below(half) + if version % 2 == 0 { half } else { 0 }];
        let new = if text.as_bytes()[at] == b'.' { random.one(&["1", "2", "3", "4", "x", "9"]) } else { "." };
        let (line, column) = columns.position(&text, at);
        let range = json!({
            "start": {"line": line, "character": column}, "end": {"line": line, "character": column + 1},
        });
        text.replace_range(at..=at, new);
        client.change(URI, version, &[(Some(range), new)]);
        texts.push(text.clone());
    }
    let last = i64::try_from(texts.len()).unwrap() - 1;
    let mut newest = 0;
    loop {
        let message = client.wait(|message| message["method"] == "textDocument/publishDiagnostics");
        let params = &message["params"];
        let version = params["version"].as_i64().unwrap();
        assert!(version >= newest, "an older version after a newer one");
        newest = version;
        let wanted = expected(&texts[usize::try_from(version).unwrap()], columns);
        let found = sorted(params["diagnostics"].as_array().unwrap());
        let stale: Vec<&String> = found.iter().filter(|one| !wanted.contains(one)).collect();
        assert!(stale.is_empty(), "version {version}: {stale:?}");
        if version == last && found == wanted {
            break;
        }
    }
    assert_eq!(client.leave(), Some(0));
}
