//! Real clients, at work on a copy of the demo as `tests/editors/run` says. `tests/all` installs the two that are tested at
//! each run, `tests/editors/all` every one; where one is not found, there is nothing to test. `NVIM` and `PYTEST` name others.

use std::path::Path;
use std::process::Command;

/// What a client prints for each step that it took; that it saw the right things is its own to say.
const STEPS: [&str; 6] = ["opened", "found", "hovered", "stepped", "formatted", "renamed"];

fn works(client: &str, named: &str, else_: &str) {
    let program = std::env::var(named).unwrap_or_else(|_| else_.to_owned());
    if Command::new(&program).arg("--version").output().is_err() {
        assert!(std::env::var_os("CI").is_none(), "no {program}: tests/all installs it");
        return;
    }
    let run = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/editors/run");
    let output = Command::new(run)
        .args([client, env!("CARGO_BIN_EXE_gridsetter")])
        .env(named, program)
        .output()
        .expect("it can be started");
    let said = String::from_utf8_lossy(&output.stdout);
    let troubles = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}{troubles}");
    let done: Vec<&str> = said.lines().filter_map(|line| line.split('\t').next()).collect();
    for step in STEPS {
        assert!(done.contains(&step), "{client} never {step}: {said}{troubles}");
    }
}

#[test]
fn neovim_finds_hovers_steps_formats_and_renames() {
    works("neovim", "NVIM", "nvim");
}

#[test]
fn pytest_lsp_finds_hovers_steps_formats_and_renames() {
    works("pytest-lsp", "PYTEST", "target/pytest-lsp/bin/pytest");
}
