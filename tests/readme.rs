//! What README.md shows is true.

use gridsetter::book::{Book, Workspace};
use gridsetter::lint;
use std::fs;
use std::process::Command;

fn readme() -> String {
    fs::read_to_string("README.md").expect("README.md is there")
}

#[test]
fn the_first_command_runs_and_finds_nothing() {
    let text = readme();
    let line = text.lines().find_map(|line| line.strip_prefix("$ cargo run -- ")).expect("it is shown");
    let run = Command::new(env!("CARGO_BIN_EXE_gridsetter")).args(line.split(' ')).output().expect("it runs");
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stdout));
}

#[test]
fn the_file_that_is_wrong_on_purpose_is_found_wrong() {
    let run = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
        .args(["check", "demo/mistakes"])
        .output()
        .expect("it runs");
    assert_eq!(run.status.code(), Some(1), "{}", String::from_utf8_lossy(&run.stderr));
}

#[test]
fn the_puzzle_shown_is_a_puzzle() {
    let text = readme();
    let shown =
        text.split("```gset\n").nth(1).and_then(|rest| rest.split("```").next()).expect("one is shown");
    let workspace = Workspace::new(vec![Book::read("README.gset", shown)]);
    let found: Vec<String> = lint::check(&workspace).iter().map(|report| report.message.clone()).collect();
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn every_command_shown_has_help() {
    for row in readme().lines().filter_map(|line| line.strip_prefix("| `")) {
        for command in row.split(" |").next().unwrap_or_default().split(", ") {
            let command = command.trim_matches('`');
            let run = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
                .args([command, "--help"])
                .output()
                .expect("it runs");
            assert_eq!(run.status.code(), Some(0), "{command}");
        }
    }
}
