//! `check --watch`: it stays, and what changes is checked again.

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::process::{Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

/// Longer than anything takes here, and short enough for a test that fails.
const PATIENCE: Duration = Duration::from_secs(50);

#[test]
fn what_changes_is_checked_again() {
    let desk = tempfile::tempdir().expect("there is room for a folder");
    let write =
        |name: &str, text: &str| fs::write(desk.path().join(name), text).expect("there is room for a file");
    write("a.gset", "puzle w-1\n");
    let mut child = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
        .args(["check", "--watch", "--format", "json", "."])
        .current_dir(desk.path())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the command runs");
    let out = child.stdout.take().expect("it has an output");
    let (send, lines) = mpsc::channel();
    let reader = thread::spawn(move || {
        let lines = BufReader::new(out).lines().map_while(Result::ok);
        lines.map_while(|line| send.send(line).ok()).count()
    });
    // A line that says this, sooner or later: it may be looked at while it is written.
    let expect = |what: &str| {
        while !lines.recv_timeout(PATIENCE).expect("it goes on").contains(what) {}
    };
    expect("unknown-statement");
    write("a.gset", "puzzle w-1\nsize 4\ngivens\n  1 1 . .\n  . . . .\n  . . . .\n  . . . .\n");
    expect("givens-clash");
    write("b.gset", "puzzle w-1\n");
    expect("id-repeated");
    write("gridsetter.toml", "[check]\nonly = [\"encoding\"]\n");
    write("b.gset", "puzzle w-2\r# \0\n");
    expect("encoding");
    child.kill().expect("it is still there");
    child.wait().expect("it ends");
    drop(lines);
    reader.join().expect("it reads to the end");
}
