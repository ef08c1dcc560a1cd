//! The files of `editors/ci/`, in a repository that is made for the test, with the real program.

use super::installed;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

const GOOD: &str =
    "puzzle a-1\nsize 4\ngivens\n  1 . | . .\n  . . | 3 .\n  ----+----\n  . 4 | . .\n  . . | . 2\n";

/// The same with a clash in it.
fn bad() -> String {
    GOOD.replace(". . | 3 .", ". 1 | 3 .")
}

/// A repository with one puzzle as it was written, and a file of `editors/ci/` at its place.
struct Repository(TempDir);

impl Repository {
    fn with(file: &str, place: &str) -> Repository {
        let folder = tempfile::tempdir().unwrap();
        let repository = Repository(folder);
        assert!(repository.run("git", &["init", "--quiet"]).status.success());
        let place = repository.path(place);
        fs::create_dir_all(place.parent().unwrap()).unwrap();
        fs::copy(Path::new("editors/ci").join(file), place).unwrap();
        repository
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// Writes the only puzzle, in the one written form.
    fn says(&self, text: &str) {
        fs::write(self.path("a.gset"), text).unwrap();
        self.run("gridsetter", &["fmt", "a.gset"]);
        assert!(self.run("git", &["add", "."]).status.success());
    }

    fn run(&self, program: &str, arguments: &[&str]) -> Output {
        let own = Path::new(env!("CARGO_BIN_EXE_gridsetter")).parent().unwrap().to_owned();
        let mut folders = vec![own, fs::canonicalize("target/judge/bin").unwrap_or_default()];
        folders.extend(std::env::split_paths(&std::env::var_os("PATH").unwrap()));
        Command::new(program)
            .args(arguments)
            .current_dir(self.0.path())
            .env("PATH", std::env::join_paths(folders).unwrap())
            // What a user has set does not count here.
            .env("HOME", self.0.path())
            .env("PRE_COMMIT_HOME", self.path(".cache"))
            .output()
            .unwrap()
    }

    /// Runs the lines of a workflow one after the other, as a forge does: the first that fails ends it.
    fn steps(&self, lines: &[&str]) -> Output {
        self.run("sh", &["-ec", &lines.join("\n")])
    }
}

/// The lines of a workflow that run, but for those that install.
fn lines<'a>(text: &'a str, begin: &str) -> Vec<&'a str> {
    let all = text.lines().filter_map(|line| line.trim().strip_prefix(begin));
    all.filter(|line| !line.starts_with("cargo install")).collect()
}

fn is_valid(schema: &str, file: &str) {
    let Some(judge) = installed("check-jsonschema") else { return };
    let file = format!("editors/ci/{file}");
    let output = Command::new(judge).args(["--builtin-schema", schema, &file]).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
}

#[test]
fn a_workflow_of_github_passes_what_is_good_and_notes_what_is_not() {
    is_valid("vendor.github-workflows", "github.yml");
    let repository = Repository::with("github.yml", ".github/workflows/collection.yml");
    let text = fs::read_to_string(repository.path(".github/workflows/collection.yml")).unwrap();
    let lines = lines(&text, "run: ");
    assert_eq!(lines.len(), 2);
    repository.says(GOOD);
    let output = repository.steps(&lines);
    assert!(output.status.success(), "{output:?}");
    repository.says(&bad());
    let output = repository.steps(&lines);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("::error file=a.gset,line=5,"), "{said}");
}

#[test]
fn a_pipeline_of_gitlab_leaves_its_reports_and_ends_as_was_found() {
    is_valid("vendor.gitlab-ci", "gitlab.yml");
    let repository = Repository::with("gitlab.yml", ".gitlab-ci.yml");
    let text = fs::read_to_string(repository.path(".gitlab-ci.yml")).unwrap();
    let lines = lines(&text, "- ");
    assert_eq!(lines.len(), 4);
    for (puzzle, code, entries) in [(GOOD.to_owned(), 0, false), (bad(), 1, true)] {
        repository.says(&puzzle);
        let output = repository.steps(&lines);
        assert_eq!(output.status.code(), Some(code), "{output:?}");
        let report = fs::read_to_string(repository.path("code-quality.json")).unwrap();
        assert_eq!(report != "[]\n", entries, "{report}");
        let tests = fs::read_to_string(repository.path("tests.xml")).unwrap();
        assert_eq!(tests.contains("<failure"), entries, "{tests}");
    }
}

#[test]
fn a_hook_before_each_commit_stops_what_is_not_good() {
    if installed("pre-commit").is_none() {
        return;
    }
    let repository = Repository::with("pre-commit.yaml", ".pre-commit-config.yaml");
    repository.says(GOOD);
    let hooks = || repository.run("pre-commit", &["run", "--all-files"]);
    let output = hooks();
    assert!(output.status.success(), "{output:?}");
    repository.says(&bad());
    let output = hooks();
    assert!(
        !output.status.success() && String::from_utf8_lossy(&output.stdout).contains("givens-clash"),
        "{output:?}"
    );
}
