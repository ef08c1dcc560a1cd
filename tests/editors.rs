//! Real clients, each set up as `editors/` says and at work on a copy of the demo. The two here are part of every run, and
//! `tests/all` installs them; `tests/editors/all` installs every one and runs it.

use std::path::Path;
use std::process::Command;

/// What a client prints for each step that it took; that it saw the right things, it makes sure of itself.
const STEPS: [&str; 6] = ["opened", "found", "hovered", "stepped", "formatted", "renamed"];

/// The exit code for a client that is not installed.
const NOT_THERE: i32 = 77;

fn works(client: &str) {
    let run = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/editors/run");
    let output = Command::new(run)
        .args([client, env!("CARGO_BIN_EXE_gridsetter")])
        .output()
        .expect("there is a shell");
    let told = String::from_utf8_lossy(&output.stdout);
    let troubles = String::from_utf8_lossy(&output.stderr);
    if output.status.code() == Some(NOT_THERE) {
        assert!(std::env::var_os("CI").is_none(), "{troubles}");
        return;
    }
    assert!(output.status.success(), "{told}{troubles}");
    let done: Vec<&str> = told.lines().filter_map(|line| Some(line.split_once('\t')?.0)).collect();
    for step in STEPS {
        assert!(done.contains(&step), "{client} was not seen to have {step}: {told}{troubles}");
    }
}

#[test]
fn neovim_finds_hovers_steps_formats_and_renames() {
    works("neovim");
}

#[test]
fn pytest_lsp_finds_hovers_steps_formats_and_renames() {
    works("pytest-lsp");
}
