//! A puzzle in another dress, from text to text: turned, with plain names for its digits, and with two digits that trade
//! names, in all files.

use super::client::{Client, range};
use super::features::{PUZZLE, URI, acted, actions, applied, found, opened, opened_with};
use serde_json::{Value, json};
use std::fs;

/// A puzzle with all that can be told of one.
const WHOLE: &str = "\
size 4

puzzle a-1 \"One\"
symmetry   none
givens
  1 .  . 4
  . .  1 .
  2 .  . .
  . .  . 3
solution
  1 2  3 4
  3 4  1 2
  2 3  4 1
  4 1  2 3
work
  1   .   3!  4  # mine
  .   24? 1   12
  2   .   .   .
  .   .   .   3
known
  4 of box 3 in row 4
steps
  > Begin with {row 1 misses 23}.
  r1c3 = 3  by crossing in box 2
  point begun
  show only box 2 ring r1c3 \"Here goes {r1c3 = 3}\"
  ask \"Which one?\" : r3c2 = 3
  finish
note
  See {r1c1..r2c2}, {col 4} and {a-1 at begun}.

answer a-1
  1 2  3 4
  3 4  1 2
  2 3  4 1
  4 1  2 3

lesson l-1
from       a-1 at begun
steps
  r1c2 = 2  by last open cell in row 1
";

#[test]
fn a_turn_takes_along_all_that_is_told() {
    assert_eq!(found(WHOLE), [""; 0]);
    let text = WHOLE.replace("puzzle a-1", "puz|zle a-1");
    let turned = acted(&text, "turn by a quarter to the right", &["refactor.rewrite.turn"]);
    insta::assert_snapshot!(turned, @r#"
    size 4

    puzzle a-1 "One"
    symmetry   none
    givens
      . 2  . 1
      . .  . .
      . .  1 .
      3 .  . 4
    solution
      4 2  3 1
      1 3  4 2
      2 4  1 3
      3 1  2 4
    work
      .   2   .   1  # mine
      .   .   24? .
      .   .   1   3!
      3   .   12  4
    known
      4 of box 1 in col 1
    steps
      > Begin with {col 4 misses 23}.
      r3c4 = 3  by crossing in box 4
      point begun
      show only box 4 ring r3c4 "Here goes {r3c4 = 3}"
      ask "Which one?" : r2c2 = 3
      finish
    note
      See {r1c3..r2c4}, {row 4} and {a-1 at begun}.

    answer a-1
      4 2  3 1
      1 3  4 2
      2 4  1 3
      3 1  2 4

    lesson l-1
    from       a-1 at begun
    steps
      r2c4 = 2  by last open cell in col 4
    "#);
    assert_eq!(found(&turned), [""; 0], "{turned}");
    let back = acted(&turned.replace("puzzle a-1", "puz|zle a-1"), "turn by a quarter to the left", &[]);
    assert_eq!(back, WHOLE);
    let mirrored = acted(&text, "mirror from left to right", &[]);
    assert_eq!(found(&mirrored), [""; 0], "{mirrored}");
}

#[test]
fn digits_get_plain_names() {
    let text = WHOLE.replace("puzzle a-1", "puz|zle a-1");
    let named =
        acted(&text, "name the digits in the order in which they are given", &["refactor.rewrite.relabel"]);
    assert!(named.contains("givens\n  1 .  . 2\n  . .  1 .\n  3 .  . .\n  . .  . 4\n"), "{named}");
    assert!(named.contains("  . .  . 4\nsolution\n  1 3  4 2\n"), "{named}");
    assert!(named.contains("  1   .   4!  2  # mine\n  .   23? 1   13\n"), "{named}");
    assert_eq!(found(&named), [""; 0], "{named}");
    // The first row reads in order as it is.
    let (mut client, at) = opened(&text);
    let titles: Vec<Value> = actions(&mut client, &at, &["refactor.rewrite.relabel"]);
    assert_eq!(titles.len(), 1);
}

/// What only prose says nobody can turn: then it is told why nothing is offered, to clients that show it.
#[test]
fn what_cannot_be_turned_says_why() {
    let ability = json!({"capabilities": {
        "workspace": {"workspaceEdit": {"documentChanges": true}},
        "textDocument": {"codeAction": {"disabledSupport": true, "resolveSupport": {"properties": ["edit"]}}},
    }});
    let why = |text: &str| {
        let text = text.replace("puzzle a-1", "puz|zle a-1");
        let (mut client, at) = opened_with(&text, &ability);
        let all = actions(&mut client, &at, &["refactor.rewrite.turn", "refactor.rewrite.relabel"]);
        let mut reasons: Vec<String> =
            all.iter().map(|it| it["disabled"]["reason"].as_str().unwrap_or("none").to_owned()).collect();
        reasons.dedup();
        let (mut client, at) = opened(&text);
        let shown = actions(&mut client, &at, &["refactor.rewrite.turn", "refactor.rewrite.relabel"]);
        let offered = all.iter().filter(|it| it.get("disabled").is_none()).count();
        assert_eq!(shown.len(), offered, "{shown:?}");
        reasons.join("; ")
    };
    assert_eq!(why(WHOLE), "none");
    assert_eq!(
        why(&WHOLE.replace("> Begin", "> In row 1 begin")),
        "line 23 names digits, lines or cells outside of braces, which stay as they are"
    );
    assert_eq!(
        why(&WHOLE.replace("symmetry   none", "made seed 7 \"--size 4\"")),
        "`made` speaks of the puzzle as it stands: take that line out first"
    );
    assert_eq!(why(&WHOLE.replace("note\n", "nonsense here\n")), "a part of it cannot be read");
    let odd = WHOLE.replace("symmetry   none", "odd r1c1");
    assert_eq!(why(&odd), "none; its constraints speak of numbers, which would not change");
    // A lesson elsewhere is seen when the action is chosen.
    let lesson = WHOLE.replace(
        "from       a-1 at begun\nsteps\n",
        "from       a-1 at begun\nsteps\n  > Row 1 has one left.\n",
    );
    let (mut client, at) = opened(&lesson.replace("puzzle a-1", "puz|zle a-1"));
    let turn = actions(&mut client, &at, &["refactor.rewrite.turn"]).remove(0);
    assert_eq!(client.ask("codeAction/resolve", turn), Err(-32803));
    // So is what cannot be read there.
    for (good, bad) in
        [("  r1c2 = 2  by last", "  r1c2 : 2  by last"), ("answer a-1\n  1 2  3 4\n", "answer a-1\n")]
    {
        let text = WHOLE.replace("puzzle a-1", "puz|zle a-1").replace(good, bad);
        let (mut client, at) = opened(&text);
        let turn = actions(&mut client, &at, &["refactor.rewrite.turn"]).remove(0);
        assert_eq!(client.ask("codeAction/resolve", turn), Err(-32803), "{bad}");
    }
}

#[test]
fn boxes_that_are_not_square_lie_the_other_way_afterwards() {
    let six = "puz|zle b-1\nsize       6\ngivens\n  1 . .  . . 6\n  . . 2  3 . .\n  . 6 .  . 1 .\n  . 3 .  . 5 .\n  . . 5  4 . .\n  4 . .  . . 3\n";
    insta::assert_snapshot!(acted(six, "turn by a quarter to the left", &[]), @r"
    puzzle b-1
    size       6
    boxes      3x2
    givens
      6 .  . .  . 3
      . .  1 5  . .
      . 3  . .  4 .
      . 2  . .  5 .
      . .  6 3  . .
      1 .  . .  . 4
    ");
}

/// A folder with a puzzle, and its answer and a lesson in other files.
fn desk(cursor: &str) -> (tempfile::TempDir, Client, Value) {
    let folder = tempfile::tempdir().unwrap();
    let (puzzle, rest) = WHOLE.split_at(WHOLE.find("\nanswer").unwrap());
    let (answer, lesson) = rest.split_at(rest.find("\nlesson").unwrap());
    for (name, text) in [("one.gset", puzzle), ("answers.gset", answer), ("lessons.gset", lesson)] {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let root = format!("file://{}", folder.path().display());
    let mut client = Client::greeted(json!({
        "processId": null, "rootUri": root, "workspaceFolders": [{"uri": root, "name": "desk"}],
        "capabilities": {"workspace": {"workspaceEdit": {"documentChanges": true}}},
    }));
    let (line, character) = {
        let before = &puzzle[..puzzle.find(cursor).unwrap()];
        (before.matches('\n').count(), before.rsplit('\n').next().unwrap().len())
    };
    client.open(&format!("{root}/one.gset"), puzzle);
    let at = json!({"textDocument": {"uri": format!("{root}/one.gset")}, "position": {"line": line, "character": character}});
    (folder, client, at)
}

/// The files after a rename, one after the other, as soon as all are read: before that nothing is changed.
fn renamed(folder: &tempfile::TempDir, client: &mut Client, at: &Value, new: &str) -> String {
    let mut params = at.clone();
    params["newName"] = json!(new);
    for _ in 0..200 {
        let Ok(edit) = client.ask("textDocument/rename", &params) else {
            std::thread::sleep(std::time::Duration::from_millis(10));
            continue;
        };
        let changes = edit["documentChanges"].as_array().unwrap();
        assert_eq!(changes.len(), 3, "{edit}");
        let mut texts = Vec::new();
        for name in ["one.gset", "answers.gset", "lessons.gset"] {
            let text = fs::read_to_string(folder.path().join(name)).unwrap();
            let of_file = |it: &&Value| it["textDocument"]["uri"].as_str().unwrap().ends_with(name);
            let change = changes.iter().find(of_file).unwrap();
            texts.push(applied(&text, &change["edits"]));
        }
        return texts.concat();
    }
    panic!("the other files are not read")
}

#[test]
fn two_digits_trade_names_in_all_files() {
    let (folder, mut client, at) = desk("2 .  . .\n  . .  . 3\nsolution");
    let prepared = client.ask("textDocument/prepareRename", &at).unwrap();
    assert_eq!(prepared, json!({"range": range((7, 2), (7, 3)), "placeholder": "2"}));
    let new = renamed(&folder, &mut client, &at, "4");
    insta::assert_snapshot!(new, @r#"
    size 4

    puzzle a-1 "One"
    symmetry   none
    givens
      1 .  . 2
      . .  1 .
      4 .  . .
      . .  . 3
    solution
      1 4  3 2
      3 2  1 4
      4 3  2 1
      2 1  4 3
    work
      1   .   3!  2  # mine
      .   24? 1   14
      4   .   .   .
      .   .   .   3
    known
      2 of box 3 in row 4
    steps
      > Begin with {row 1 misses 34}.
      r1c3 = 3  by crossing in box 2
      point begun
      show only box 2 ring r1c3 "Here goes {r1c3 = 3}"
      ask "Which one?" : r3c2 = 3
      finish
    note
      See {r1c1..r2c2}, {col 4} and {a-1 at begun}.

    answer a-1
      1 4  3 2
      3 2  1 4
      4 3  2 1
      2 1  4 3

    lesson l-1
    from       a-1 at begun
    steps
      r1c2 = 4  by last open cell in row 1
    "#);
    assert_eq!(found(&new), [""; 0], "{new}");
    assert!(!client.came(|message| message["method"] == "window/showMessage"));
    // The same way goes back.
    for (name, text) in [
        ("one.gset", &new[..new.find("\nanswer").unwrap()]),
        ("answers.gset", &new[new.find("\nanswer").unwrap()..new.find("\nlesson").unwrap()]),
        ("lessons.gset", &new[new.find("\nlesson").unwrap()..]),
    ] {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let uri = |name: &str| json!({"uri": format!("file://{}/{name}", folder.path().display()), "type": 2});
    client.tell(
        "workspace/didChangeWatchedFiles",
        json!({"changes": [uri("answers.gset"), uri("lessons.gset")]}),
    );
    let open = at["textDocument"]["uri"].as_str().unwrap().to_owned();
    client.change(&open, 1, &[(None, &new[..new.find("\nanswer").unwrap()])]);
    // As soon as the other files are read again.
    let mut back = || {
        std::thread::sleep(std::time::Duration::from_millis(10));
        renamed(&folder, &mut client, &at, "2")
    };
    let read = (0..200).map(|_| back()).find(|it| it == WHOLE);
    assert_eq!(read.unwrap_or_else(back), WHOLE);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_digit_can_only_become_a_digit_of_the_size() {
    let (_folder, mut client, at) = desk("2 .  . .\n  . .  . 3\nsolution");
    for wrong in ["5", "0", "A", "12", "x-1", ""] {
        let mut params = at.clone();
        params["newName"] = json!(wrong);
        let id = client.begin("textDocument/rename", params);
        let answer = client.wait(|message| message["id"] == id);
        let message = format!("`{wrong}` is no digit of this puzzle: its digits are 1 to 4");
        assert_eq!(
            (&answer["error"]["code"], &answer["error"]["message"]),
            (&json!(-32602), &json!(message))
        );
    }
    // An open cell has no name, an entry and each mark has.
    let prepared = |cursor: &str| {
        let (_folder, mut client, at) = desk(cursor);
        client.ask("textDocument/prepareRename", at).unwrap()["placeholder"].clone()
    };
    assert_eq!(prepared(".  . 4\n  . .  1"), Value::Null);
    assert_eq!(prepared("3!  4"), json!("3"));
    assert_eq!(prepared("4? 1   12"), json!("4"));
    assert_eq!(prepared("a-1 \"One"), json!("a-1"));
}

#[test]
fn prose_that_stays_is_told() {
    let text = PUZZLE.to_owned()
        + "note\n  The 4 comes last, in column 2.\n\nlesson l-1\nfrom a-1\nnote\n  Not 3.\n";
    let (mut client, at) = opened(&text.replacen("  2 .", "  |2 .", 1));
    let mut params = at;
    params["newName"] = json!("4");
    let edit = client.ask("textDocument/rename", params).unwrap();
    let told = client.wait(|message| message["method"] == "window/showMessage");
    assert_eq!(
        told["params"]["message"],
        "2 and 4 have traded names; lines 10 and 15 name digits, lines or cells outside of braces, which stay as they are."
    );
    let new = applied(&text, &edit["documentChanges"][0]["edits"]);
    assert_eq!(new, text.replace("1 .  . 4", "1 .  . 2").replace("  2 .  . .", "  4 .  . ."));
    assert_eq!(edit["documentChanges"][0]["textDocument"], json!({"uri": URI, "version": 0}));
}
