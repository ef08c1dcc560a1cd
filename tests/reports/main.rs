//! What `check` writes for forges and for what collects test results, judged by the published schemas.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod forges;

use serde_json::Value;
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A folder with what is hard to write into any of the formats: findings of every severity, some of them twice, related
/// places, fixes, a file without findings, and names that mean something to a terminal, to XML or to a workflow's log.
fn collection() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new("tests/samples");
    for name in ["01-easy.gset", "06-worksheet.gset", "07-walkthrough.gset", "10-mistakes.gset"] {
        fs::copy(samples.join(name), folder.path().join(name)).unwrap();
    }
    let hostile = "puzzle a<b&\"c\u{1b}[31m \"]]>::error::x\u{202e}%0A,\"\nsize 4\ngivens\n  1 1 . .\n  1 1 . .\nfoo\nfoo\n";
    fs::write(folder.path().join("a, b:%é&<.gset"), hostile).unwrap();
    folder
}

/// What `check` writes of the whole folder.
fn checked(folder: &Path, options: &[&str]) -> String {
    written(folder, &["."], options)
}

/// What `check` writes of these files.
fn written(folder: &Path, paths: &[&str], options: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
        .arg("check")
        .args(paths)
        .args(options)
        .current_dir(folder)
        .output()
        .unwrap();
    assert!(output.status.code().is_some_and(|code| code < 2), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

fn findings(folder: &Path) -> Vec<Value> {
    let lines = checked(folder, &["--format", "json"]);
    lines.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// A program that `tests/all` installs for these tests; `None` where that was not run.
fn installed(name: &str) -> Option<PathBuf> {
    let program = Path::new("target/judge/bin").join(name);
    let there = program.exists();
    assert!(there || std::env::var_os("CI").is_none(), "no {}: tests/all installs it", program.display());
    there.then_some(program)
}

/// What a schema says of a text; `None` where no judge is installed.
fn judged(schema: &str, text: &str) -> Option<Result<(), String>> {
    let python = installed("python")?;
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("report");
    fs::write(&file, text).unwrap();
    let schema = PathBuf::from("tests/reports/schemas").join(schema);
    let output = Command::new(python).arg("tests/reports/judge.py").args([&schema, &file]).output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
    Some(if output.status.success() { Ok(()) } else { Err(said.into_owned()) })
}

/// It is as the schema says, and one that is spoilt is not.
fn holds(schema: &str, text: &str, part: &str, spoilt: &str) {
    assert!(text.contains(part), "{text}");
    if let Some(said) = judged(schema, text) {
        assert_eq!(said, Ok(()));
        assert!(judged(schema, &text.replace(part, spoilt)).unwrap().is_err(), "{schema} is not looked at");
    }
}

#[test]
fn sarif_is_as_its_schema_says() {
    let folder = collection();
    let text = checked(folder.path(), &["--format", "sarif"]);
    holds("sarif-2.1.0.json", &text, "\"level\":\"note\"", "\"level\":\"info\"");
    let log: Value = serde_json::from_str(&text).unwrap();
    let run = &log["runs"][0];
    let results = run["results"].as_array().unwrap();
    let mut marks = HashSet::new();
    for (result, finding) in results.iter().zip(findings(folder.path())) {
        assert_eq!(result["ruleId"], finding["name"]);
        let rule =
            &run["tool"]["driver"]["rules"][usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap()];
        assert_eq!(rule["id"], finding["name"]);
        let region = &result["locations"][0]["physicalLocation"]["region"];
        assert_eq!(region["startLine"], finding["range"]["start"]["line"]);
        assert_eq!(region["endColumn"], finding["range"]["end"]["column"]);
        assert_eq!(
            result["relatedLocations"].as_array().unwrap().len(),
            finding["related"].as_array().unwrap().len()
        );
        assert!(
            marks.insert(result["partialFingerprints"]["wordsInPuzzle/v1"].clone()),
            "each has its own mark"
        );
    }
    assert_eq!(results.len(), findings(folder.path()).len());
    assert!(text.contains("a%2C%20b%3A%25%C3%A9%26%3C.gset"), "a name is written as a reference");
}

#[test]
fn junit_is_as_its_schema_says() {
    let folder = collection();
    let text = checked(folder.path(), &["--format", "junit"]);
    holds("junit-10.xsd", &text, "<testcase ", "<testcase results=\"\" ");
    let document = roxmltree::Document::parse(&text).unwrap();
    let all = |name: &'static str| document.descendants().filter(move |node| node.has_tag_name(name));
    let findings = findings(folder.path());
    let told = findings.iter().filter(|finding| finding["severity"] != "info").count();
    assert_eq!(all("failure").count(), told, "what fails the run is a failure");
    assert_eq!(all("system-out").count(), findings.len() - told);
    assert!(all("testcase").count() > findings.len(), "a puzzle without findings is a test that passes");
    assert_eq!(all("testsuite").count(), 5, "a suite a file, with findings or without");
    for suite in all("testsuite") {
        let count =
            |name: &str| suite.descendants().filter(|node| node.has_tag_name(name)).count().to_string();
        assert_eq!(suite.attribute("tests"), Some(count("testcase").as_str()));
        assert_eq!(suite.attribute("failures"), Some(count("failure").as_str()));
    }
}

/// By the table of "Code Quality report format" in GitLab's documentation: these keys are required, a mark stands for one
/// finding, and a path is relative, without `./`.
#[test]
fn code_quality_has_what_gitlab_asks_for() {
    let folder = collection();
    let text = checked(folder.path(), &["--format", "gitlab"]);
    let issues: Vec<Value> = serde_json::from_str(&text).unwrap();
    let findings = findings(folder.path());
    assert_eq!(issues.len(), findings.len());
    let mut marks = HashSet::new();
    for (issue, finding) in issues.iter().zip(&findings) {
        assert!(issue["description"].as_str().unwrap().contains(finding["message"].as_str().unwrap()));
        assert_eq!(issue["check_name"], finding["name"]);
        assert!(marks.insert(issue["fingerprint"].as_str().unwrap()));
        assert!(
            ["info", "minor", "major", "critical", "blocker"].contains(&issue["severity"].as_str().unwrap())
        );
        let path = issue["location"]["path"].as_str().unwrap();
        assert!(folder.path().join(path).is_file() && !path.starts_with("./"), "{path}");
        assert_eq!(issue["location"]["lines"]["begin"], finding["range"]["start"]["line"]);
    }
}

/// By "Workflow commands for GitHub Actions" in GitHub's documentation, read back as a runner reads them.
#[test]
fn annotations_are_read_back_by_the_rules_of_workflow_commands() {
    let folder = collection();
    let text = checked(folder.path(), &["--format", "github"]);
    let findings = findings(folder.path());
    assert_eq!(text.lines().count(), findings.len());
    let unescaped = |text: &str| {
        text.replace("%2C", ",")
            .replace("%3A", ":")
            .replace("%0A", "\n")
            .replace("%0D", "\r")
            .replace("%25", "%")
    };
    for (line, finding) in text.lines().zip(&findings) {
        let (command, message) = line.strip_prefix("::").unwrap().split_once("::").unwrap();
        let (level, properties) = command.split_once(' ').unwrap();
        assert_eq!(
            level,
            if finding["severity"] == "info" { "notice" } else { finding["severity"].as_str().unwrap() }
        );
        let property = |name: &str| {
            let mut all = properties.split(',').map(|one| one.split_once('=').unwrap());
            all.find(|(key, _)| *key == name).map(|(_, value)| unescaped(value)).unwrap()
        };
        assert_eq!(format!("./{}", property("file")), finding["file"].as_str().unwrap());
        assert_eq!(property("line"), finding["range"]["start"]["line"].to_string());
        assert!(property("title").ends_with(finding["name"].as_str().unwrap()));
        assert!(unescaped(message).contains(&finding["help"].as_str().unwrap().replace('\u{1b}', "\\u{1b}")));
        assert!(!line.contains(['\u{1b}', '\u{202e}']), "nothing hidden gets into a log");
    }
}

#[test]
fn what_was_found_before_is_left_out() {
    let folder = collection();
    let before = folder.path().join("before.json");
    fs::write(&before, checked(folder.path(), &["--format", "json"])).unwrap();
    let since = ["--baseline", "before.json", "--format", "json"];
    assert_eq!(checked(folder.path(), &since), "");
    // What moves is the same; what is new is told, also where it has the words of an old one.
    let file = folder.path().join("10-mistakes.gset");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, format!("# one line more\n{text}\npuzzle new\nsize 4\nfoo\ngivens\n  1 1 . .\n  . . . .\n  . . . .\n  . . . .\n"))
        .unwrap();
    let now = checked(folder.path(), &since);
    assert!(
        now.contains("\"puzzle\":\"new\"") && now.lines().all(|line| line.contains("10-mistakes")),
        "{now}"
    );
    fs::write(&file, format!("{text}\n{}", &text[text.find("puzzle").unwrap()..])).unwrap();
    assert_ne!(checked(folder.path(), &since), "");
}

/// How many findings a text of this format holds.
fn count(format: &str, text: &str) -> usize {
    let lines_with = |starts: &[&str]| {
        text.lines().filter(|line| starts.iter().any(|start| line.trim_start().starts_with(start))).count()
    };
    match format {
        "human" => lines_with(&["error[", "warning[", "info["]),
        "sarif" => {
            let log: Value = serde_json::from_str(text).unwrap();
            log["runs"][0]["results"].as_array().unwrap().len()
        }
        "gitlab" => serde_json::from_str::<Vec<Value>>(text).unwrap().len(),
        "junit" => {
            roxmltree::Document::parse(text).unwrap();
            lines_with(&["<failure", "<system-out"])
        }
        _ => text.lines().count(),
    }
}

/// What is reported, and what makes the run fail, does not depend on how it is written.
#[test]
fn every_option_holds_in_every_format() {
    let folder = collection();
    fs::write(folder.path().join("before.json"), checked(folder.path(), &["--format", "json"])).unwrap();
    let all = findings(folder.path());
    let of = |name: &str| all.iter().filter(|finding| finding["name"] == name).count();
    let errors = all.iter().filter(|finding| finding["severity"] == "error").count();
    assert!(of("unknown-statement") > 1 && of("not-indented") > 0 && errors < all.len());
    let cases: [(&[&str], usize, i32); 6] = [
        (&[], all.len(), 1),
        (&["--only", "unknown-statement"], of("unknown-statement"), 1),
        (&["--skip", "unknown-statement"], all.len() - of("unknown-statement"), 1),
        (&["--only", "not-indented"], of("not-indented"), 0),
        (&["--only", "not-indented", "--fail-on", "info"], of("not-indented"), 1),
        (&["--baseline", "before.json"], 0, 0),
    ];
    for format in ["human", "json", "sarif", "github", "gitlab", "junit"] {
        for (options, found, code) in cases {
            let output = Command::new(env!("CARGO_BIN_EXE_gridsetter"))
                .args(["check", "--format", format])
                .args(options)
                .arg(".")
                .current_dir(folder.path())
                .output()
                .unwrap();
            let text = String::from_utf8(output.stdout).unwrap();
            assert_eq!(count(format, &text), found, "{format} {options:?}: {text}");
            assert_eq!(output.status.code(), Some(code), "{format} {options:?}");
            // Of a machine format nothing else is on standard output; the summary is beside it.
            let summary = String::from_utf8(output.stderr).unwrap();
            let told = if found == 0 { "no findings".to_owned() } else { format!("{found} finding") };
            assert!(summary.starts_with(&told), "{summary}");
        }
    }
}

/// What is written for a list as it is read is what the schemas ask for, too.
#[test]
fn a_list_is_written_by_the_schemas_as_it_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let line = |number: usize| {
        let grid = ["12...4.....3..2.", "11..............", "1..............."][number % 3];
        format!("{grid} p-{number}\n")
    };
    fs::write(folder.path().join("a&b.txt"), (0..30).map(line).collect::<String>()).unwrap();
    fs::write(folder.path().join("empty.txt"), "").unwrap();
    let written = |format: &str| written(folder.path(), &["a&b.txt", "empty.txt"], &["--format", format]);
    holds("sarif-2.1.0.json", &written("sarif"), "\"level\":\"error\"", "\"level\":\"bad\"");
    let junit = written("junit");
    holds("junit-10.xsd", &junit, "<testcase ", "<testcase results=\"\" ");
    let document = roxmltree::Document::parse(&junit).unwrap();
    let suites: Vec<_> = document.descendants().filter(|node| node.has_tag_name("testsuite")).collect();
    let tests: Vec<_> = suites.iter().map(|suite| suite.attribute("tests").unwrap()).collect();
    let found = written("json").lines().count();
    assert_eq!(count("junit", &junit), found);
    let passing = document.descendants().filter(|node| node.has_tag_name("testcase") && !node.has_children());
    assert_eq!(tests, [(found + passing.count()).to_string().as_str(), "0"]);
    for format in ["sarif", "gitlab"] {
        assert_eq!(count(format, &written(format)), found, "{format}");
    }
}
