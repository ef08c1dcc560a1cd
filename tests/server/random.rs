//! A client that does at random all that a client can do, and sees to it that nothing comes of that which is stale,
//! misplaced or missing. Each thing that it does is decided by the seed and its number alone, so that some can be left out
//! when a failure is made smaller.

use super::client::Client;
use super::desk::{Desk, FILES};
use super::protocol::PROTOCOL;
use super::text::{Columns, Random, boundary, edit};
use super::truth;
use gridsetter::server::FEATURES;
use serde_json::{Value, json};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::thread;
use std::time::Duration;

/// So much is done with one server.
const AT_ONCE: usize = 400;

const SETTINGS: [&str; 2] = ["# nothing is set\n", "[check]\nskip = ['clues-wrong']\n"];

/// So many smaller runs are made of one that failed.
const SHRINKING: usize = 60;

/// A number from the surroundings.
fn told(name: &str, else_it_is: usize) -> usize {
    std::env::var(name).ok().and_then(|said| said.parse().ok()).unwrap_or(else_it_is)
}

/// `GRIDSETTER_EDITS` is how much is done in all, `GRIDSETTER_SEED` the first of the seeds.
#[test]
fn nothing_that_a_client_does_brings_it_what_is_stale_misplaced_or_missing() {
    let first = told("GRIDSETTER_SEED", 1);
    for seed in first..first + told("GRIDSETTER_EDITS", 3 * AT_ONCE).div_ceil(AT_ONCE) {
        let all: Vec<usize> = (0..AT_ONCE).collect();
        if let Err(failure) = attempt(seed, &all) {
            println!("seed {seed} fails; it is made smaller");
            println!(
                "GRIDSETTER_SEED={seed} GRIDSETTER_EDITS=1 fails with these alone: {:?}",
                shrunk(seed, all)
            );
            resume_unwind(failure);
        }
    }
}

fn attempt(seed: usize, deeds: &[usize]) -> thread::Result<()> {
    catch_unwind(AssertUnwindSafe(|| run(seed, deeds)))
}

/// Fewer deeds that fail still: halves are left out, then quarters, and so on.
fn shrunk(seed: usize, mut deeds: Vec<usize>) -> Vec<usize> {
    let (mut runs, mut size) = (0, deeds.len() / 2);
    while size > 0 && runs < SHRINKING {
        let mut at = 0;
        while at < deeds.len() && runs < SHRINKING {
            let mut fewer = deeds.clone();
            fewer.drain(at..(at + size).min(deeds.len()));
            runs += 1;
            if attempt(seed, &fewer).is_err() {
                deeds = fewer;
            } else {
                at += size;
            }
        }
        size /= 2;
    }
    deeds
}

fn run(seed: usize, deeds: &[usize]) {
    let mut desk = Desk::new(seed, Columns::ALL[seed % 3]);
    for deed in deeds {
        let mut random = Random(((seed as u64) << 32) + *deed as u64);
        act(&mut desk, &mut random);
        desk.hear_what_came();
    }
    // What a broken or blank file of settings said before holds still; a fresh server knows nothing of that.
    desk.write_settings(SETTINGS[seed % SETTINGS.len()]);
    desk.hear_all();
    truth::is_what_a_fresh_server_finds(&mut desk, &mut Random(seed as u64));
    desk.leave();
}

/// Does one thing.
fn act(desk: &mut Desk, random: &mut Random) {
    let file = random.below(FILES);
    if !desk.is_open(file) && !random.one_in(4) {
        return desk.open(file, None);
    }
    match random.below(100) {
        0..45 => change(desk, random, file),
        45..48 => desk.change(file, |text| {
            *text = a_text(random);
            vec![(None, text.clone())]
        }),
        48..74 => ask(desk, random, file),
        74..79 => desk.cancel(random),
        79..82 if desk.is_open(file) => desk.close(file),
        82 => desk.want(json!({
            "mistakes": random.one(&["show", "ask"]), "hover": random.one(&["grid", "words"]),
        })),
        83..87 => {
            let text = (!random.one_in(6)).then(|| a_text(random));
            desk.write(file, text);
        }
        87 => desk.write_settings(random.one(&[SETTINGS[0], SETTINGS[1], "", "[check\n"])),
        88 => desk.turn_folder(random.below(2)),
        89 => desk.save(file),
        90..93 => take_action(desk, random, file),
        93..96 => resolve_lens(desk, random, file),
        96 => format(desk, file),
        97 => truth::is_the_text(desk, file),
        98 => desk.hear_all(),
        _ => {
            // What takes longer is begun when nothing has happened for a moment; then the text changes under it.
            desk.change(file, |text| {
                *text = format!("{LONG}{}", a_text(random));
                vec![(None, text.clone())]
            });
            thread::sleep(Duration::from_millis(48 + random.below(24) as u64));
            change(desk, random, file);
        }
    }
}

/// A puzzle that takes longer to look at.
const LONG: &str = "puzzle d-1 \"Lang 🂡\"\nsize 9\nlevel 2\nneeds naked pair\ngivens\n  . . 8 . 2 . . 7 5\n  \
    . . . . . 8 . 3 1\n  . 2 . 6 . . . 8 .\n  2 . . . . 6 8 1 9\n  . . . . . . . . .\n  8 5 6 9 . . . . 2\n  \
    . 1 . . . 5 . 9 .\n  7 8 . 4 . . . . .\n  4 9 . . 6 . 1 . .\n\n";

/// A text that holds what the features are about.
pub fn a_text(random: &mut Random) -> String {
    let mut text =
        String::from(random.one(&["size 4\n\n", "notation 1\r\nsize 4\r\n", "part \"P 🂡\"\nsize 4\n", ""]));
    for _ in 0..=random.below(3) {
        text += random.one(&["puzzle ", "puzzle ", "lesson ", "answer "]);
        text += random.one(&["a-1 \"Eins 🂡\"\n", "a-2\r\n", "b-1 \"é\"\n", "c-1\n"]);
        text += random.one(&[
            "",
            "clues 5\n",
            "clues 9\n",
            "repeats a-1 \"turned\"\n",
            "level 2\n",
            "note\n  {a-1} {b-1}\n",
        ]);
        text += "givens\n  1 .  . 4\n  . .  1 .\n";
        text += random.one(&[
            "  2 .  . .\n  . .  . 3\n",
            "  2 . . .\r\n  . . . 3\r\n",
            "  2 .  . 5\n",
            "  1 .  . .\n  . .  . 3\n",
        ]);
        text +=
            random.one(&["", "work\n  1   23?  .   4\n  4   .   1   .\n  2   .   .   .\n  .   .   .   3!\n"]);
        text += random.one(&["", "steps\n  r1c3 = 3  by crossing in box 2\n  point here\n  finish\n"]);
        text += random.one(&["", "\n", "# a comment\n# of two lines\n\n"]);
    }
    text
}

fn change(desk: &mut Desk, random: &mut Random, file: usize) {
    let columns = desk.columns;
    desk.change(file, |text| {
        // Now and then it grows too long to be looked at by a person.
        if text.len() > 4000 {
            *text = a_text(random);
            return vec![(None, text.clone())];
        }
        (0..=random.below(3)).map(|_| edit(random, text, columns)).collect()
    });
}

/// Asks for one of all that is promised, at a random place.
fn ask(desk: &mut Desk, random: &mut Random, file: usize) {
    let methods: Vec<&str> = FEATURES.iter().flat_map(|feature| feature.methods).copied().collect();
    let method = loop {
        let method = random.one(&methods);
        let asks = PROTOCOL.of_client(true).any(|name| name == method);
        // What is resolved must have been told before.
        if asks && !method.ends_with("/resolve") {
            break method;
        }
    };
    let params = params(desk, random, file, method);
    desk.ask(method, file, params);
}

/// Parameters for a method that takes a text, and a place or a range in it.
pub fn params(desk: &Desk, random: &mut Random, file: usize, method: &str) -> Value {
    let mut params = PROTOCOL.sample_of(method);
    let text = desk.text(file);
    let mut place = || desk.columns.place(&text, boundary(&text, random.below(text.len() + 1)));
    let (one, other) = (place(), place());
    let (start, end) = if super::protocol::place(&one) <= super::protocol::place(&other) {
        (&one, &other)
    } else {
        (&other, &one)
    };
    for (name, value) in [
        ("textDocument", json!({"uri": desk.uri(file)})),
        ("position", one.clone()),
        ("positions", json!([one, other])),
        ("range", json!({"start": start, "end": end})),
        ("newName", json!(random.one(&["b-7", "a-1", "two words", ""]))),
        ("ch", json!("\n")),
        ("arguments", json!([desk.uri(file)])),
        ("previousResultId", json!(desk.last_tokens(file))),
    ] {
        if let Some(old) = params.get_mut(name) {
            *old = value;
        }
    }
    params
}

/// Asks for the actions at a place, takes one, makes its edits, sees to it that the server has the text that comes of it,
/// and takes it back. Half the time the text changes before the action is resolved.
fn take_action(desk: &mut Desk, random: &mut Random, file: usize) {
    let mut asked = params(desk, random, file, "textDocument/codeAction");
    if random.one_in(2) {
        asked["range"]["end"] = asked["range"]["start"].clone();
    }
    if random.one_in(3) {
        asked["context"]["only"] = json!(["source.fixAll"]);
    }
    let actions = desk.answered("textDocument/codeAction", file, asked);
    let was = desk.text(file);
    // Whatever is answered: else the next deeds would find another text when an answer takes longer.
    if random.one_in(2) {
        change(desk, random, file);
    }
    let has_changed = *was != *desk.text(file);
    let Some(Ok(Value::Array(actions))) = actions else { return };
    let Some(action) = actions.get(random.below(actions.len().max(1))) else { return };
    if action["command"].is_string() || action.get("command").is_some() {
        return;
    }
    assert!(action.get("edit").is_some() || action.get("data").is_some(), "it does nothing: {action}");
    let action = if action.get("edit").is_some() {
        Some(Ok(action.clone()))
    } else {
        desk.answered("codeAction/resolve", file, action.clone())
    };
    let Some(Ok(action)) = action else { return };
    let edit = &action["edit"];
    let edits = match edit["documentChanges"].as_array() {
        Some(files) => {
            assert!(files.iter().all(|it| it["textDocument"]["uri"] == desk.uri(file)), "{action}");
            // An edit names the version that it is for; another one is not made.
            if files[0]["textDocument"]["version"] != json!(desk.version(file)) {
                assert!(has_changed || action.get("data").is_none(), "{action}");
                return;
            }
            files[0]["edits"].clone()
        }
        None if has_changed => return,
        None => edit["changes"][desk.uri(file)].clone(),
    };
    let now = desk.text(file);
    let new = desk.columns.applied(&now, &edits);
    assert_ne!(*now, *new, "nothing changes: {action}");
    desk.change(file, |text| {
        text.clone_from(&new);
        vec![(None, new)]
    });
    truth::is_the_text(desk, file);
    desk.change(file, |text| {
        *text = now.to_string();
        vec![(None, text.clone())]
    });
}

/// Asks for the lenses of a text, and for the words of one.
fn resolve_lens(desk: &mut Desk, random: &mut Random, file: usize) {
    let asked = params(desk, random, file, "textDocument/codeLens");
    let lenses = desk.answered("textDocument/codeLens", file, asked);
    if random.one_in(2) {
        change(desk, random, file);
    }
    let Some(Ok(Value::Array(lenses))) = lenses else { return };
    let Some(lens) = lenses.get(random.below(lenses.len().max(1))).cloned() else { return };
    if let Some(Ok(lens)) = desk.answered("codeLens/resolve", file, lens) {
        assert!(lens.get("command").is_some(), "{lens}");
    }
}

/// Formats a text, and sees to it that formatting it again changes nothing.
fn format(desk: &mut Desk, file: usize) {
    let was = desk.text(file);
    for again in [false, true] {
        let asked = params(desk, &mut Random(0), file, "textDocument/formatting");
        let Some(answer) = desk.answered("textDocument/formatting", file, asked) else { return };
        let edits = answer.unwrap();
        if edits.is_null() || edits == json!([]) {
            return;
        }
        assert!(!again, "{was:?} is formatted to {:?}, and that again by {edits}", desk.text(file));
        let columns = desk.columns;
        desk.change(file, |text| {
            *text = columns.applied(text, &edits);
            let changes = edits.as_array().unwrap().iter().rev();
            changes
                .map(|it| (Some(it["range"].clone()), it["newText"].as_str().unwrap().to_owned()))
                .collect()
        });
    }
}

/// A greeting that says what a client with this seed can do.
pub fn greeted(seed: usize, columns: Columns, folders: &[String], wants: &Value) -> Client {
    let folders: Vec<Value> = folders.iter().map(|uri| json!({"uri": uri, "name": "desk"})).collect();
    let can = seed.is_multiple_of(2);
    Client::greeted(json!({
        "processId": null, "rootUri": null, "workspaceFolders": folders, "initializationOptions": wants,
        "capabilities": {
            "general": {"positionEncodings": [columns.name()]},
            "workspace": {
                "workspaceEdit": {"documentChanges": can}, "configuration": seed.is_multiple_of(5),
                "didChangeWatchedFiles": {"dynamicRegistration": can},
            },
            "textDocument": {"codeAction": {
                "resolveSupport": {"properties": if seed.is_multiple_of(4) { vec!["edit"] } else { vec![] }},
            }},
        },
    }))
}
