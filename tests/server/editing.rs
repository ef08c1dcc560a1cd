//! Editing: the server's text is the client's, and what it finds is of the text as it is.

use super::client::Client;
use gridsetter::book::{Book, Workspace};
use gridsetter::{format, lint};
use serde_json::{Value, json};

const URI: &str = "untitled:random";

/// What columns count, as the client does it for itself.
#[derive(Clone, Copy, Debug)]
enum Columns {
    Bytes,
    Units,
    Characters,
}

impl Columns {
    fn name(self) -> &'static str {
        match self {
            Columns::Bytes => "utf-8",
            Columns::Units => "utf-16",
            Columns::Characters => "utf-32",
        }
    }

    fn of(self, text: &str) -> usize {
        match self {
            Columns::Bytes => text.len(),
            Columns::Units => text.encode_utf16().count(),
            Columns::Characters => text.chars().count(),
        }
    }

    /// Line and column of a byte; lines end with LF, CR LF or CR.
    fn position(self, text: &str, byte: usize) -> (usize, usize) {
        let (mut line, mut start) = (0, 0);
        let bytes = text.as_bytes();
        for at in 0..byte {
            let ends = bytes[at] == b'\n' || (bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
            if ends {
                (line, start) = (line + 1, at + 1);
            }
        }
        (line, self.of(&text[start..byte]))
    }
}

fn client(columns: Columns) -> Client {
    Client::greeted(json!({
        "processId": null, "rootUri": null,
        "capabilities": {"general": {"positionEncodings": [columns.name()]}},
        "initializationOptions": {"mistakes": "show"},
    }))
}

/// A small generator of numbers (`SplitMix64`: Steele, Lea and Flood 2014): the same seed gives the same run.
struct Random(u64);

impl Random {
    fn next(&mut self, below: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % below as u64).unwrap()
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.next(of.len())]
    }
}

const PIECES: &[&str] = &[
    "",
    "",
    "",
    "5",
    ".",
    "\n",
    "\r\n",
    "\r",
    "x",
    "é",
    "e\u{301}",
    "🂡",
    "👩\u{200d}🚀",
    "ℝ",
    "\u{feff}",
    "\u{2028}",
    "puzzle a-1\n",
    "puzzle a-2 \"Two 🂡\"\r\n",
    "lesson l-1\n",
    "part \"P\"\n",
    "size 4\n",
    "size 9\n",
    "givens\n  1 . . 4\n",
    "work\n  1 2? . .\n",
    "note\n  see {a-1}\n",
    "answer a-1\n",
    "# puzzle\n",
    " ",
    "\t",
    "allow id-unknown \"so\"\n",
];

const BEGINNING: &str = "size 4\n\npuzzle a-1 \"Eins 🂡\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n\
    \npuzzle a-2\r\ngivens\r\n  1 .  . 4\r\n  . .  1 .\r\n  2 .  . .\r\n  . .  . 3\r\n";

/// So many edits in each encoding: more with `GRIDSETTER_EDITS`.
fn edits() -> usize {
    std::env::var("GRIDSETTER_EDITS").ok().and_then(|said| said.parse().ok()).unwrap_or(400)
}

#[test]
fn after_random_edits_the_text_is_the_clients() {
    for columns in [Columns::Bytes, Columns::Units, Columns::Characters] {
        let mut random = Random(7);
        let mut client = client(columns);
        let mut text = BEGINNING.to_owned();
        client.open(URI, &text);
        for version in 1..=edits() {
            let mut changes = Vec::new();
            for _ in 0..=random.next(3) {
                changes.push(edit(&mut random, &mut text, columns));
            }
            let sent: Vec<(Option<Value>, &str)> =
                changes.iter().map(|(range, new)| (range.clone(), new.as_str())).collect();
            client.change(URI, i64::try_from(version).unwrap(), &sent);
            // Now and then it grows too long to be looked at by a person.
            if text.len() > 4000 {
                text = BEGINNING.to_owned();
                client.change(URI, i64::try_from(version).unwrap(), &[(None, BEGINNING)]);
            }
            if version % 20 == 0 || version == edits() {
                compare(&mut client, &text, columns, version);
            }
        }
        assert_eq!(client.leave(), Some(0));
    }
}

/// Makes a random change in `text`; gives it as a client tells it.
fn edit(random: &mut Random, text: &mut String, columns: Columns) -> (Option<Value>, String) {
    let new = (0..=random.next(2)).map(|_| random.one(PIECES)).collect::<String>();
    if random.next(50) == 0 {
        text.clone_from(&new);
        return (None, new);
    }
    let boundary = |text: &str, at: usize| {
        // A place between CR and LF has no position of its own.
        let at = text.floor_char_boundary(at.min(text.len()));
        if text[..at].ends_with('\r') && text[at..].starts_with('\n') { at - 1 } else { at }
    };
    let start = boundary(text, random.next(text.len() + 1));
    let end = boundary(text, start + random.next(30) * random.next(2)).max(start);
    let place = |at: usize, beyond: usize| {
        let (line, column) = columns.position(text, at);
        json!({"line": line, "character": column + beyond})
    };
    // What lies behind the end of a line is its end.
    let ends_line = |at: usize| text[at..].is_empty() || text[at..].starts_with(['\n', '\r']);
    let beyond = if ends_line(end) { random.next(3) * 1000 } else { 0 };
    let range = json!({"start": place(start, 0), "end": place(end, beyond)});
    text.replace_range(start..end, &new);
    (Some(range), new)
}

/// The server's text, as far as it can be seen: formatting changes every line that is not as it should be, and the edits
/// that it asks for must make of the client's text what the library makes of it.
fn compare(client: &mut Client, text: &str, columns: Columns, version: usize) {
    let params = json!({"textDocument": {"uri": URI}, "options": {"tabSize": 8, "insertSpaces": false}});
    let answer = client.ask("textDocument/formatting", params).unwrap();
    let formatted = format::format(&Book::read("", text));
    let (ours, theirs) = (applied(text, &answer, columns), &formatted);
    assert_eq!(ours, *theirs, "{columns:?}, version {version}, of {text:?} with {answer}");

    // What is found at the end is what the library finds, at the same places.
    let wanted = expected(text, columns);
    client.findings(i64::try_from(version).unwrap(), |found| sorted(found) == wanted);
}

/// Edits of the protocol, made in a text.
fn applied(text: &str, edits: &Value, columns: Columns) -> String {
    let byte = |place: &Value| {
        let wanted = (place["line"].as_u64().unwrap(), place["character"].as_u64().unwrap());
        let boundary = |at: &usize| text.is_char_boundary(*at);
        let found = (0..=text.len()).filter(boundary).find(|at| {
            let (line, column) = columns.position(text, *at);
            (line as u64, column as u64) >= wanted
        });
        found.unwrap_or(text.len())
    };
    let mut new = text.to_owned();
    for edit in edits.as_array().unwrap().iter().rev() {
        let (start, end) = (byte(&edit["range"]["start"]), byte(&edit["range"]["end"]));
        new.replace_range(start..end, edit["newText"].as_str().unwrap());
    }
    new
}

/// What the library finds: name, and where it begins and ends.
fn expected(text: &str, columns: Columns) -> Vec<String> {
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

fn sorted(found: &[Value]) -> Vec<String> {
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
    for version in 1..=edits() / 8 {
        let asked = json!({"textDocument": {"uri": URI}, "previousResultId": id});
        let earlier = (random.next(2) == 0).then(|| client.begin("textDocument/diagnostic", &asked));
        // Now and then nothing changes.
        if random.next(4) > 0 {
            let (range, new) = edit(&mut random, &mut text, columns);
            client.change(URI, i64::try_from(version).unwrap(), &[(range, &new)]);
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
    let mut client = client(columns);
    let mut text = BEGINNING.replace('\r', "");
    client.open(URI, &text);
    let mut texts = vec![text.clone()];
    let mut random = Random(3);
    let places: Vec<usize> = text.match_indices(". ").map(|(at, _)| at).collect();
    for version in 1..=200_i64 {
        // One cell of one puzzle, then one of the other: dots become digits and digits dots.
        let half = places.len() / 2;
        let at = places[random.next(half) + if version % 2 == 0 { half } else { 0 }];
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
