//! What a person calls on: the rest of a walkthrough, its missing steps, fewer givens; reasons, lenses and pages; what is
//! told of an item when it is looked at.

use super::client::{Client, range};
use super::features::{
    CONTENT_MODIFIED, PUZZLE, TOLD, URI, acted, actions, applied, found, opened, opened_with, with,
};
use serde_json::{Value, json};
use std::fs;

#[test]
fn a_walkthrough_is_finished_from_where_it_stands() {
    let walk = format!("{PUZZLE}steps\n  > Begin.\n|  r1c3 = 3  by crossing in box 2\n  finish\n");
    let finished = acted(&walk, "finish the walkthrough", &["refactor.rewrite.finish"]);
    assert_eq!(found(&finished), [""; 0], "{finished}");
    insta::assert_snapshot!(&finished[PUZZLE.len()..], @r"
    steps
      > Begin.
      r1c3 = 3  by crossing in box 2
      r3c2 = 3  by crossing in box 3
      r2c1 = 3  by crossing in box 1
      r2c4 = 2  by counting in box 2
      r1c2 = 2  by counting in row 1
      r4c3 = 2  by crossing in box 4
      r3c3 = 4  by counting in col 3
      r2c2 = 4  by counting in box 1
      r4c1 = 4  by counting in col 1
      r4c2 = 1  by counting in box 3
      r3c4 = 1  by counting in box 4
    ");
    // Without a `finish`, with no step yet, and where facts are remembered.
    let begun = format!("{PUZZLE}st|eps\n  > Begin.\n");
    assert_eq!(found(&acted(&begun, "finish the walkthrough", &[])), [""; 0]);
    let cut = &TOLD[..TOLD.find("  r4c3 = 4  by").unwrap()];
    let told = format!("{}|{}", &cut[..cut.len() - 3], &cut[cut.len() - 3..]);
    let told = acted(&told, "finish the walkthrough", &[]);
    assert_eq!(found(&told), [""; 0], "{told}");
    // Nothing is left to be written.
    let (mut client, at) = opened(&format!("{finished}|"));
    let action = actions(&mut client, &at, &["refactor.rewrite.finish"]).remove(0);
    assert_eq!(client.ask("codeAction/resolve", action), Err(-32803));
}

#[test]
fn all_missing_steps_are_written_at_once() {
    let gaps = TOLD
        .replace("  r1c7 = 6  by crossing\n", "")
        .replace("  49 of box 2 in r1c6 r2c5  by crossing row 3 col 4\n", "")
        .replace("  r2c7 = 2  by", "  r2c7 = |2  by");
    let before = found(&gaps.replacen('|', "", 1));
    assert!(before.iter().filter(|name| **name == "step-early").count() > 1, "{before:?}");
    let whole = acted(&gaps, "write all missing steps of the walkthrough", &["refactor.rewrite"]);
    assert!(!found(&whole).contains(&"step-early"), "{whole}");
    let (mut client, at) = opened(&TOLD.replace("  r2c7 = 2  by", "  r2c7 = |2  by"));
    client.findings(0, |_| true);
    let titles = actions(&mut client, &at, &["refactor.rewrite"]);
    assert!(!titles.iter().any(|it| it["title"].as_str().unwrap().contains("missing")), "{titles:?}");
}

#[test]
fn givens_that_can_go_go() {
    let rows = "givens\n  1 2  3 .\n  . .  . .\n  . .  . .\n  . 1  2 3\n";
    let text = |facts: &str| format!("puz|zle a-1\nsize 4\n{facts}{rows}");
    let title = "take out what givens can go";
    let thin = acted(&text("clues 6\n"), title, &["refactor.rewrite.minimal"]);
    assert_eq!(
        thin,
        text("clues 5\n").replacen('|', "", 1).replace("  1 2  3 .", "  . 2  3 ."),
        "one is left out and the number is mended"
    );
    assert_eq!(found(&format!("{thin}minimal\n")), [""; 0]);
    let paired = acted(&text("symmetry half-turn\n"), title, &[]);
    assert_eq!(
        paired,
        text("symmetry half-turn\n")
            .replacen('|', "", 1)
            .replace("1 2  3 .", "1 2  . .")
            .replace(". 1  2 3", ". .  2 3")
    );
    for (facts, rows) in
        [("", "1 2  . .\n  . .  . .\n  . .  . .\n  . .  2 3"), ("printed 2026-05-31 7c1e40\n", "")]
    {
        let text = if rows.is_empty() {
            text(facts)
        } else {
            text(facts).replace("1 2  3 .\n  . .  . .\n  . .  . .\n  . 1  2 3", rows)
        };
        let (mut client, at) = opened(&text);
        let action = actions(&mut client, &at, &["refactor.rewrite.minimal"]).remove(0);
        assert_eq!(client.ask("codeAction/resolve", action), Err(-32803), "{text}");
    }
}

/// Who cannot wait gets what takes longer only when asking for it.
#[test]
fn what_takes_longer_is_worked_out_for_those_who_ask() {
    let mut client = Client::greeted(json!({"processId": null, "rootUri": null, "capabilities": {}}));
    let least = "puzzle a-1\nsize 4\ngivens\n  1 2  . .\n  . .  . .\n  . .  . .\n  . .  2 3\n";
    let more = least.replace("1 2  . .", "1 2  3 .");
    let at = json!({"textDocument": {"uri": URI}, "position": {"line": 0, "character": 0}});
    let minimal = |client: &mut Client, only: &[&str]| {
        let all = actions(client, &at, only);
        all.into_iter().find(|it| it["title"] == "take out what givens can go")
    };
    client.open(URI, &more);
    assert_eq!(minimal(&mut client, &[]), None);
    let action = minimal(&mut client, &["refactor"]).unwrap();
    let thin = applied(&more, &action["edit"]["changes"][URI]);
    client.change(URI, 1, &[(None, &thin)]);
    assert_eq!(minimal(&mut client, &["refactor"]), None, "nothing would change");
}

/// The hints of a whole text.
fn hints(client: &mut Client) -> Vec<Value> {
    let params = json!({"textDocument": {"uri": URI}, "range": range((0, 0), (99, 0))});
    client.ask("textDocument/inlayHint", params).unwrap().as_array().unwrap().clone()
}

#[test]
fn reasons_are_shown_to_those_who_want_them() {
    let text = format!(
        "{PUZZLE}steps\n  r1c3 = 3  # look\n  r1c2 = 2  by last open cell in row 1\n  r3c2 = 3, r4c3 = 2\n  finish\n|"
    );
    let reasons = |client: &mut Client| {
        hints(client)
            .into_iter()
            .filter(|it| it["label"].as_str().unwrap().starts_with("by "))
            .collect::<Vec<_>>()
    };
    let (mut client, _) = opened(&text);
    assert_eq!(reasons(&mut client), [Value::Null; 0]);
    let rows = hints(&mut client).len();
    let can = json!({"capabilities": {"workspace": {
        "inlayHint": {"refreshSupport": true}, "codeLens": {"refreshSupport": true},
        "semanticTokens": {"refreshSupport": true},
    }}});
    let (mut client, _) = opened_with(&text, &can);
    client.tell(
        "workspace/didChangeConfiguration",
        json!({"settings": {"gridsetter": {"reasons": "show", "rows": "hide"}}}),
    );
    let refresh = client.wait(|message| message["method"] == "workspace/inlayHint/refresh");
    client.reply(&refresh["id"], &Value::Null);
    let shown = reasons(&mut client);
    assert_eq!(hints(&mut client).len(), shown.len(), "the rows are silent now; there were {rows}");
    let labels: Vec<String> =
        shown.iter().map(|it| format!("{} {}", it["position"], it["label"].as_str().unwrap())).collect();
    insta::assert_snapshot!(labels.join("\n"), @r#"
    {"character":10,"line":9} by box hidden single in box 2
    {"character":20,"line":11} by box hidden single in box 3
    "#);
    // Accepted, it is what the author would write.
    let new =
        applied(&text.replacen('|', "", 1), &json!([shown[0]["textEdits"][0], shown[1]["textEdits"][0]]));
    assert_eq!(found(&new), [""; 0], "{new}");
    assert!(new.contains("  r1c3 = 3  by box hidden single in box 2  # look\n"), "{new}");
    let told = client.ask("inlayHint/resolve", &shown[0]).unwrap();
    assert_eq!(
        told["tooltip"],
        "Look at box 2. It has one place left for 3: r1c3. That is a hidden single: put 3 there."
    );
    client.change(URI, 1, &[(None, PUZZLE)]);
    assert_eq!(client.ask("inlayHint/resolve", &shown[0]), Err(CONTENT_MODIFIED));
    // Lenses and the kinds of words are asked for again, where they are shown otherwise.
    client.tell(
        "workspace/didChangeConfiguration",
        json!({"settings": {"gridsetter": {"lenses": "hide", "mistakes": "show"}}}),
    );
    for method in ["workspace/codeLens/refresh", "workspace/semanticTokens/refresh"] {
        let refresh = client.wait(|message| message["method"] == method);
        client.reply(&refresh["id"], &Value::Null);
    }
    let lenses = client.ask("textDocument/codeLens", json!({"textDocument": {"uri": URI}})).unwrap();
    assert_eq!(lenses, json!([]));
}

/// What is said above each line, once it is seen.
fn lenses(client: &mut Client) -> Vec<Value> {
    let lenses = client.ask("textDocument/codeLens", json!({"textDocument": {"uri": URI}})).unwrap();
    let seen = lenses.as_array().unwrap().iter().map(|lens| client.ask("codeLens/resolve", lens).unwrap());
    seen.collect::<Vec<_>>()
}

#[test]
fn a_lens_above_a_puzzle_leads_to_where_it_stands_again() {
    let again = "\npuzzle a-2\ngivens\n  4 .  . 1\n  . 1  . .\n  . .  . 2\n  3 .  . .\n\npuzzle a-3\ngivens\n  1 .  . 4\n  . .  . .\n  . .  . .\n  . .  . .\n\nlesson l-1\n";
    let (mut client, _) = opened(&format!("{PUZZLE}{again}|"));
    let all = lenses(&mut client);
    let titles: Vec<&str> = all.iter().map(|it| it["command"]["title"].as_str().unwrap()).collect();
    assert_eq!(
        titles,
        [
            "5 clues, level 1, repeats `a-2`: mirrored from left to right",
            "5 clues, level 1, repeats `a-1`: mirrored from left to right",
            "2 clues"
        ]
    );
    let command = &all[1]["command"];
    client.ask("workspace/executeCommand", called(command)).unwrap();
    let told = client.wait(|message| message["method"] == "window/showMessage");
    assert_eq!(told["params"]["message"], format!("It stands in line 3 of {URI}."));
    let (mut client, _) = opened_with(
        &format!("{PUZZLE}{again}|"),
        &json!({"capabilities": {"window": {"showDocument": {"support": true}}}}),
    );
    let command = lenses(&mut client)[1]["command"].clone();
    client.ask("workspace/executeCommand", called(&command)).unwrap();
    let shown = client.wait(|message| message["method"] == "window/showDocument");
    client.reply(&shown["id"], &json!({"success": true}));
    let place =
        json!({"uri": URI, "external": false, "takeFocus": true, "selection": range((2, 0), (2, 16))});
    assert_eq!(shown["params"], place);
}

/// A command as it is called: its title is for people.
fn called(command: &Value) -> Value {
    json!({"command": command["command"], "arguments": command["arguments"]})
}

/// The page that a client is asked to show.
fn page(client: &mut Client, command: &Value) -> String {
    client.ask("workspace/executeCommand", called(command)).unwrap();
    let shown = client.wait(|message| message["method"] == "window/showDocument");
    client.reply(&shown["id"], &json!({"success": true}));
    assert_eq!(shown["params"]["external"], true);
    fs::read_to_string(shown["params"]["uri"].as_str().unwrap().strip_prefix("file://").unwrap()).unwrap()
}

#[test]
fn pages_are_shown_and_hold_no_answer() {
    let can = json!({"capabilities": {"window": {"showDocument": {"support": true}}}});
    let (mut client, at) = opened_with(&TOLD.replace("puzzle ls3", "puz|zle ls3"), &can);
    let all = actions(&mut client, &at, &["source.page"]);
    let titles: Vec<&str> = all.iter().map(|it| it["title"].as_str().unwrap()).collect();
    assert_eq!(titles, ["show it as a printed page", "show the file as printed pages"]);
    for action in &all {
        let html = page(&mut client, &action["command"]);
        assert!(html.starts_with("<!DOCTYPE html>") && html.contains("Two Kettles"), "{html}");
        assert!(!html.contains("hidden"), "{html}");
    }
    let walk = lenses(&mut client).into_iter().find(|it| it["command"]["title"] == "run the walk").unwrap();
    let html = page(&mut client, &walk["command"]);
    assert!(html.matches("<h2>").count() > 30 && html.contains("From here there is always"), "{html}");
    // Who shows no page is told where it lies; when the server is gone, so is it.
    let (mut client, _) = opened(&format!("{TOLD}|"));
    client.ask("workspace/executeCommand", called(&all[0]["command"])).unwrap();
    let told = client.wait(|message| message["method"] == "window/showMessage");
    let told = told["params"]["message"].as_str().unwrap().to_owned();
    let path = told.strip_prefix("The page is in ").unwrap().strip_suffix('.').unwrap();
    assert!(path.ends_with("ls3-014.html") && fs::exists(path).unwrap(), "{told}");
    assert_eq!(client.leave(), Some(0));
    assert!(!fs::exists(path).unwrap());
}

#[test]
fn what_an_item_means_is_told_when_it_is_looked_at() {
    let formats = json!({"completionItem": {"documentationFormat": ["markdown"]}});
    let can = json!({"capabilities": {"textDocument": {"completion": formats}}});
    let (mut client, at) = opened_with("puzzle a\nle|", &can);
    let items = client.ask("textDocument/completion", at).unwrap();
    let items = items.as_array().unwrap();
    assert!(items.iter().all(|item| item.get("documentation").is_none() && item.get("insertText").is_none()));
    let page = |client: &mut Client, items: &[Value], label: &str| {
        let item = items.iter().find(|item| item["label"] == label).unwrap();
        let resolved = client.ask("completionItem/resolve", item).unwrap();
        assert_eq!(
            with(&resolved, &json!({"documentation": null})),
            with(item, &json!({"documentation": null}))
        );
        resolved["documentation"]["value"].as_str().unwrap().to_owned()
    };
    assert!(page(&mut client, items, "clues").starts_with("Claims how many givens there are"));
    let names = |client: &mut Client, text: &str, character: usize| {
        client.change(URI, 1, &[(None, text)]);
        let at = json!({"textDocument": {"uri": URI}, "position": {"line": 1, "character": character}});
        client.ask("textDocument/completion", at).unwrap().as_array().unwrap().clone()
    };
    let patterns = names(&mut client, "puzzle a\nneeds ", 6);
    assert!(
        page(&mut client, &patterns, "hidden pair").starts_with("**hidden pair**: a pattern of level 3.")
    );
    let findings = names(&mut client, "puzzle a\nallow ", 6);
    assert!(page(&mut client, &findings, "not-minimal").contains("a second solution"));

    // A level is that of the project's own ladder.
    let folder = tempfile::tempdir().unwrap();
    let levels = "[ladder]\nlevels = ['last open cell', 'box hidden single']\nnames = ['Calm']\n";
    fs::write(folder.path().join("gridsetter.toml"), levels).unwrap();
    let uri = format!("file://{}/one.gset", folder.path().display());
    client.open(&uri, "puzzle a\nneeds ");
    let at = json!({"textDocument": {"uri": uri}, "position": {"line": 1, "character": 6}});
    let items = client.ask("textDocument/completion", at).unwrap().as_array().unwrap().clone();
    let told = page(&mut client, &items, "last open cell");
    assert!(told.starts_with("**last open cell**: a pattern of level 1, Calm."), "{told}");

    // Places to be filled in, for those who take them.
    let can = json!({"capabilities": {"textDocument": {"completion": {"completionItem": {"snippetSupport": true}}}}});
    let (mut client, at) = opened_with("puzzle a\nsy|", &can);
    let items = client.ask("textDocument/completion", at).unwrap();
    let item = |label: &str| items.as_array().unwrap().iter().find(|item| item["label"] == label).unwrap();
    let symmetry = item("symmetry");
    assert_eq!(symmetry["insertTextFormat"], 2);
    assert_eq!(
        symmetry["insertText"],
        "symmetry   ${1|half-turn,quarter-turn,mirror-across,mirror-down,mirror-diagonal,none|}"
    );
    assert_eq!(item("givens")["insertText"], "givens\n  $0");
    assert_eq!(item("minimal").get("insertText"), None);
}

#[test]
fn the_range_of_a_symbol_comes_when_it_is_chosen() {
    let can = json!({"capabilities": {"workspace": {"symbol": {"resolveSupport": {"properties": ["location.range"]}}}}});
    let (mut client, _) = opened_with(&format!("{PUZZLE}\npuzzle b-1\n|"), &can);
    let found = client.ask("workspace/symbol", json!({"query": "b-1"})).unwrap();
    assert_eq!(found[0]["location"], json!({"uri": URI}));
    let resolved = client.ask("workspaceSymbol/resolve", &found[0]).unwrap();
    assert_eq!(resolved["location"], json!({"uri": URI, "range": range((9, 0), (9, 10))}));
    // It has moved, and is found by its name.
    client.change(URI, 1, &[(None, &format!("puzzle b-1\n\n{}", &PUZZLE["size 4\n\n".len()..]))]);
    let resolved = client.ask("workspaceSymbol/resolve", &found[0]).unwrap();
    assert_eq!(resolved["location"]["range"], range((0, 0), (0, 10)));
    client.change(URI, 2, &[(None, PUZZLE)]);
    assert_eq!(client.ask("workspaceSymbol/resolve", &found[0]).unwrap(), found[0], "it is gone");
}
