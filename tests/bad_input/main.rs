//! Whatever is given as input: a clear finding or message, the right exit code, nothing lost, nothing that hangs, and
//! no byte that a terminal would obey.

#[cfg(unix)]
mod hostile;

use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

/// A small puzzle that has nothing wrong with it.
const SOUND: &str =
    "size 4\n\npuzzle lp-01 \"Wick\"\ngivens\n  1 2  . .\n  . 4  . .\n  . .  . 3\n  . .  2 .\n";

fn gridsetter() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gridsetter"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    command
}

/// What a command came to.
struct Outcome {
    code: Option<i32>,
    out: String,
    err: String,
}

/// What every outcome has in common, whatever the input.
fn outcome(output: Output) -> Outcome {
    let text = |bytes: Vec<u8>| {
        let obeyed = |byte: &u8| byte.is_ascii_control() && !matches!(byte, b'\n' | b'\t' | b'\r');
        assert!(!bytes.iter().any(obeyed), "a control character in {}", bytes.escape_ascii());
        String::from_utf8(bytes).expect("output is UTF-8")
    };
    let (out, err) = (text(output.stdout), text(output.stderr));
    for fault in ["panicked", "a fault in the program", "RUST_BACKTRACE"] {
        assert!(!err.contains(fault), "{err}");
    }
    Outcome { code: output.status.code(), out, err }
}

/// A folder with files in it, and commands run there.
struct Desk(TempDir);

impl Desk {
    fn with(name: &str, bytes: impl AsRef<[u8]>) -> Desk {
        let desk = Desk(tempfile::tempdir().expect("there is room for a folder"));
        fs::write(desk.path(name), bytes).expect("there is room for a file");
        desk
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, arguments: &[&str]) -> Outcome {
        outcome(gridsetter().args(arguments).current_dir(self.0.path()).output().expect("the command runs"))
    }
}

/// Checks a file of these bytes in both formats: its exit code, and the names of its findings.
fn findings(bytes: impl AsRef<[u8]>) -> (Option<i32>, Vec<String>) {
    let bytes = bytes.as_ref();
    let desk = Desk::with("a.gset", bytes);
    let human = desk.run(&["check", "a.gset"]);
    let json = desk.run(&["check", "--format", "json", "a.gset"]);
    assert_eq!(human.code, json.code, "{}", human.err);
    let name = |line: &str| {
        let value: serde_json::Value = serde_json::from_str(line).expect("each line is JSON");
        value["name"].as_str().expect("each finding has a name").to_owned()
    };
    let names: Vec<String> = json.out.lines().map(name).collect();
    for name in &names {
        assert!(human.out.contains(&format!("[{name}]")), "{name} is shown to people too");
    }
    assert!(human.err.contains(" 1 file"), "there is a summary: {}", human.err);
    assert_eq!(
        fs::read(desk.path("a.gset")).expect("the file is still there"),
        bytes,
        "checking writes nothing"
    );
    (json.code, names)
}

#[test]
fn an_empty_file_has_nothing_wrong() {
    assert_eq!(findings(""), (Some(0), vec![]));
    assert_eq!(findings("\n\n \n"), (Some(0), vec![]));
}

#[test]
fn the_sound_puzzle_is_sound_in_every_dress() {
    let expected = (Some(0), Vec::<String>::new());
    assert_eq!(findings(SOUND), expected);
    assert_eq!(findings(SOUND.replace('\n', "\r\n")), expected, "CRLF");
    assert_eq!(findings(format!("\u{feff}{SOUND}")), expected, "a byte order mark");
    assert_eq!(findings(SOUND.replace("  ", "\t")), expected, "tabs");
    assert_eq!(findings(SOUND.trim_end()), expected, "no end of the last line");
}

#[test]
fn lone_returns_are_line_ends_and_said() {
    let (code, names) = findings(SOUND.replace('\n', "\r"));
    assert_eq!((code, names), (Some(1), vec!["encoding".to_owned()]));
}

#[test]
fn nul_and_bytes_that_are_no_text_are_said() {
    for bytes in [&b"\0"[..], b"puzzle a\0b\n", b"# \xff\n", b"puzzle lp-01 \"W\xc3", &SOUND.as_bytes()[..10]]
    {
        let (code, names) = findings(bytes);
        let clean = std::str::from_utf8(bytes).is_ok_and(|text| !text.contains('\0'));
        assert_eq!(names.contains(&"encoding".to_owned()), !clean, "{}: {names:?}", bytes.escape_ascii());
        assert_eq!(code, Some(i32::from(!names.is_empty())));
    }
}

#[test]
fn binary_is_said_in_a_few_findings_and_never_written() {
    let mut state = 1_u32;
    let mut byte = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        state.to_be_bytes()[0]
    };
    let bytes: Vec<u8> = (0..300_000).map(|_| byte()).collect();
    let (code, names) = findings(&bytes);
    assert_eq!(code, Some(1));
    assert!(names.contains(&"encoding".to_owned()));
    let desk = Desk::with("a.gset", &bytes);
    assert_eq!(desk.run(&["check", "-q", "--fix-unsafe", "a.gset"]).code, Some(1));
    let formatted = desk.run(&["fmt", "a.gset"]);
    assert_eq!(formatted.code, Some(2));
    assert!(formatted.err.contains("gridsetter: a.gset: is not UTF-8 text; "), "{}", formatted.err);
    assert_eq!(fs::read(desk.path("a.gset")).expect("it is there"), bytes);
}

#[test]
fn utf16_is_named() {
    let bytes: Vec<u8> = SOUND.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let outcome = Desk::with("a.gset", bytes).run(&["check", "a.gset"]);
    assert_eq!(outcome.code, Some(2));
    assert!(outcome.err.contains("gridsetter: a.gset: is UTF-16 text; save it as UTF-8"), "{}", outcome.err);
}

#[test]
fn ten_megabytes_in_one_line() {
    let many = 10_000_000;
    for text in [
        "x".repeat(many),
        format!("puzzle lp-01 \"{}", "x".repeat(many)),
        format!("puzzle lp-01\nnote\n  {}\n", "{a}".repeat(many / 3)),
        format!("size 4\npuzzle lp-01\ngivens\n  {}\n", "1 ".repeat(many / 2)),
        format!("size 4\npuzzle lp-01\nwork\n  {}\n", "12? ".repeat(many / 4)),
    ] {
        let desk = Desk::with("a.gset", text);
        let checked = desk.run(&["check", "a.gset"]);
        assert_eq!(checked.code, Some(1));
        assert!(checked.out.len() < 10_000, "long lines are cut: {} bytes", checked.out.len());
    }
    let listed = Desk::with("list.txt", "1".repeat(many)).run(&["check", "list.txt"]);
    assert_eq!(listed.code, Some(1));
    assert!(listed.out.contains("error[row-length]"), "{}", listed.out);
}

#[test]
fn two_hundred_thousand_heads() {
    let count = 200_000;
    let heads: Vec<String> = (0..count).map(|n| format!("puzzle lp-{n}\n")).collect();
    let outcome = Desk::with("a.gset", heads.concat()).run(&["check", "a.gset"]);
    assert!(outcome.err.contains(&format!("in {count} puzzles, 1 file")), "{}", outcome.err);
    assert_eq!(outcome.code, Some(0));
    let same =
        Desk::with("a.gset", "puzzle lp-01\n".repeat(count)).run(&["check", "--format", "json", "a.gset"]);
    assert_eq!(same.code, Some(1));
    assert_eq!(same.out.lines().count(), count / 2, "of one finding no more than that is told");
    assert!(same.err.contains("a.gset: there may be more than these 100000 findings"), "{}", same.err);
}

#[test]
fn absurd_sizes_are_said() {
    for size in ["99999999999", "0", "-4", "3", "26", "4x4", "1e9", "99999999999999999999999999999999"] {
        let (code, names) = findings(format!("size {size}\n"));
        assert_eq!((code, names), (Some(1), vec!["value-unreadable".to_owned()]), "size {size}");
    }
}

#[test]
fn escapes_never_reach_a_terminal() {
    let title = "\u{1b}[2J\u{1b}]0;x\u{7}\u{202e}\u{9b}31m";
    let text = format!("size 4\npuzzle lp-01 \"{title}\"\ngivens\n  1 . . 1\n  {title}\nsolutoin {title}\n");
    let desk = Desk::with("\u{1b}[31m\u{202e}a.gset", &text);
    for arguments in [
        &["check", "."][..],
        &["check", "--format", "json", "."],
        &["check", "--diff", "."],
        &["solve", "."],
        &["fmt", "--check", "."],
        &["-v", "check", "\u{1b}[31mnone.gset", "."],
        &["check", "--only", "\u{1b}[31m", "."],
        &["explain", "\u{1b}[31m"],
    ] {
        let Outcome { code, out, err } = desk.run(arguments);
        assert!(
            !out.contains(['\u{202e}', '\u{9b}']) && !err.contains(['\u{202e}', '\u{9b}']),
            "{arguments:?}"
        );
        assert!(code.is_some_and(|code| code > 0), "{arguments:?}");
        assert!(out.contains("\\u") || err.contains("\\u"), "it is written out: {arguments:?} {out} {err}");
    }
}

#[test]
fn colours_only_where_they_are_wanted() {
    let desk = Desk::with("a.gset", "solutoin\n");
    let styled = |arguments: &[&str], no_color: bool| {
        let mut command = gridsetter();
        command.args(arguments).current_dir(desk.0.path());
        if no_color {
            command.env("NO_COLOR", "1");
        }
        command.output().expect("the command runs").stdout.contains(&0x1b)
    };
    assert!(styled(&["check", "--color", "always", "a.gset"], false));
    assert!(!styled(&["check", "--color", "never", "a.gset"], false));
    assert!(!styled(&["check", "a.gset"], false), "a pipe is no terminal");
    assert!(!styled(&["check", "a.gset"], true));
}

#[test]
fn what_is_no_file_is_said_and_the_rest_is_done() {
    let desk = Desk::with("a.gset", SOUND);
    let outcome = desk.run(&["check", "gone.gset", "a.gset"]);
    assert_eq!(outcome.code, Some(2));
    assert!(
        outcome.err.contains("gridsetter: gone.gset: there is no such file or folder; "),
        "{}",
        outcome.err
    );
    assert!(outcome.err.contains("no findings in 1 puzzle, 1 file"), "{}", outcome.err);
}

#[cfg(unix)]
mod unix {
    use super::{Desk, SOUND, gridsetter, outcome};
    use std::fs;
    use std::io::{Read as _, Write as _};
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, symlink};
    use std::os::unix::process::{CommandExt as _, ExitStatusExt as _};
    use std::process::{Command, Stdio};
    use std::time::Duration;

    #[test]
    fn a_pipe_or_a_device_is_no_file() {
        let desk = Desk::with("a.gset", SOUND);
        let made = Command::new("mkfifo").arg(desk.path("b.gset")).status().expect("mkfifo is there");
        assert!(made.success());
        for arguments in [&["check", "."][..], &["check", "b.gset", "a.gset"]] {
            let outcome = desk.run(arguments);
            assert_eq!(outcome.code, Some(2));
            assert!(outcome.err.contains("b.gset: is a pipe and not a file; "), "{}", outcome.err);
            assert!(outcome.err.contains("no findings in 1 puzzle, 1 file"), "{}", outcome.err);
        }
        let device = desk.run(&["check", "/dev/null"]);
        assert_eq!(device.code, Some(2));
        assert!(device.err.contains("/dev/null: is a device and not a file; "), "{}", device.err);
    }

    #[test]
    fn links_that_lead_in_circles_or_nowhere() {
        let desk = Desk::with("a.gset", SOUND);
        symlink(".", desk.path("round")).expect("links can be made");
        symlink("gone", desk.path("lost.gset")).expect("links can be made");
        let outcome = desk.run(&["check", "."]);
        assert_eq!(outcome.code, Some(2));
        assert!(outcome.err.contains("./round: is a link back to ."), "{}", outcome.err);
        assert!(outcome.err.contains("lost.gset: there is no such file or folder; "), "{}", outcome.err);
        assert!(outcome.err.contains("no findings in 1 puzzle, 1 file"), "{}", outcome.err);
    }

    #[test]
    fn without_rights() {
        let desk = Desk::with("a.gset", SOUND);
        fs::create_dir(desk.path("shut")).expect("a folder can be made");
        fs::write(desk.path("shut/b.gset"), SOUND).expect("a file can be made");
        fs::write(desk.path("c.gset"), SOUND).expect("a file can be made");
        for (name, mode) in [("shut", 0o000), ("c.gset", 0o000), (".", 0o755)] {
            fs::set_permissions(desk.path(name), fs::Permissions::from_mode(mode))
                .expect("rights can be set");
        }
        let mut command = gridsetter();
        command.args(["check", "."]).current_dir(desk.0.path());
        if fs::metadata(desk.0.path()).expect("it is there").uid() == 0 {
            // Whoever may do everything is never without rights.
            command.uid(65534);
        }
        let output = match command.output() {
            Ok(output) => output,
            Err(error) => return println!("skipped: nobody may not run this program here: {error}"),
        };
        let outcome = outcome(output);
        fs::set_permissions(desk.path("shut"), fs::Permissions::from_mode(0o755)).expect("rights can be set");
        assert_eq!(outcome.code, Some(2));
        for name in ["./shut", "./c.gset"] {
            let said = format!("gridsetter: {name}: permission is denied; ");
            assert!(outcome.err.contains(&said), "{}", outcome.err);
        }
        assert!(outcome.err.contains("no findings in 1 puzzle, 1 file"), "{}", outcome.err);
    }

    #[test]
    fn what_may_not_be_written_is_as_it_was() {
        let slip = SOUND.replace("puzzle", "puzle");
        let desk = Desk::with("a.gset", &slip);
        fs::set_permissions(desk.path("a.gset"), fs::Permissions::from_mode(0o444))
            .expect("rights can be set");
        for arguments in [&["check", "--fix", "a.gset"][..], &["fmt", "a.gset"]] {
            let outcome = desk.run(arguments);
            assert_eq!(outcome.code, Some(2), "{}", outcome.err);
            assert!(outcome.err.contains("gridsetter: a.gset: is read-only; "), "{}", outcome.err);
            assert_eq!(fs::read_to_string(desk.path("a.gset")).expect("it is there"), slip);
        }
    }

    #[test]
    fn mending_keeps_line_ends_links_and_rights() {
        let slip = SOUND.replace("puzzle", "puzle").replace('\n', "\r\n");
        let desk = Desk::with("a.gset", &slip);
        fs::set_permissions(desk.path("a.gset"), fs::Permissions::from_mode(0o640))
            .expect("rights can be set");
        symlink("a.gset", desk.path("link.gset")).expect("links can be made");
        let outcome = desk.run(&["check", "--fix", "link.gset"]);
        assert_eq!(outcome.code, Some(0), "{}", outcome.err);
        assert!(desk.path("link.gset").is_symlink());
        let now = fs::read_to_string(desk.path("a.gset")).expect("it is there");
        assert_eq!(now, SOUND.replace('\n', "\r\n"));
        let mode = fs::metadata(desk.path("a.gset")).expect("it is there").permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
        assert_eq!(
            fs::read_dir(desk.0.path()).expect("it can be read").count(),
            2,
            "nothing lies beside them"
        );
    }

    #[test]
    fn a_closed_pipe_ends_quietly() {
        let desk = Desk::with("a.gset", "puzzle lp-01\n".repeat(50_000));
        let mut child = gridsetter()
            .args(["check", "a.gset"])
            .current_dir(desk.0.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the command runs");
        let mut first = [0; 100];
        let mut out = child.stdout.take().expect("it has an output");
        out.read_exact(&mut first).expect("it writes something");
        drop(out);
        let output = child.wait_with_output().expect("it ends");
        assert_eq!(output.status.code(), Some(1));
        assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    }

    #[test]
    fn an_output_that_is_full_is_said() {
        let full = fs::OpenOptions::new().write(true).open("/dev/full");
        let Ok(full) = full else { return println!("skipped: there is no /dev/full here") };
        let desk = Desk::with("a.gset", "puzle\n");
        let mut command = gridsetter();
        command.args(["check", "a.gset"]).current_dir(desk.0.path()).stdout(full);
        let outcome = outcome(command.output().expect("the command runs"));
        assert_eq!(outcome.code, Some(2));
        assert!(outcome.err.contains("gridsetter: standard output: the disk is full; "), "{}", outcome.err);
    }

    /// Stopped at whatever moment, each file is the old one or the new one, and nothing lies beside them.
    #[test]
    fn stopping_leaves_nothing_half_written() {
        let old = SOUND.replace("  ", "    ").repeat(300);
        let whole = Desk::with("a.gset", &old);
        assert_eq!(whole.run(&["fmt", "a.gset"]).code, Some(0));
        let new = fs::read_to_string(whole.path("a.gset")).expect("it is there");
        assert_ne!(old, new);
        let mut stopped = 0;
        for wait in (0..30).map(|step| Duration::from_millis(step * 4)) {
            let desk = Desk::with("a00.gset", &old);
            for number in 1..40 {
                fs::write(desk.path(&format!("a{number:02}.gset")), &old).expect("there is room for a file");
            }
            let mut child = gridsetter()
                .args(["fmt", "-q", "."])
                .current_dir(desk.0.path())
                .stderr(Stdio::null())
                .spawn()
                .expect("the command runs");
            std::thread::sleep(wait);
            let sent =
                Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill is there");
            let status = child.wait().expect("it ends");
            if sent.success() && (status.code() == Some(130) || status.signal().is_some()) {
                stopped += 1;
            }
            let entries = fs::read_dir(desk.0.path()).expect("it can be read");
            for entry in entries.map(|entry| entry.expect("so can its entries").path()) {
                let name = entry.file_name().unwrap_or_default().to_string_lossy().into_owned();
                assert!(
                    name.strip_prefix('a').is_some_and(|rest| rest.trim_end_matches(".gset") != rest),
                    "{name} lies beside the files"
                );
                let text = fs::read_to_string(&entry).expect("it is there");
                assert!(text == old || text == new, "{name} is half written");
            }
        }
        assert!(stopped > 0, "at least one was stopped in time");
    }

    #[test]
    fn a_file_that_changes_meanwhile_is_not_written_over() {
        // What is piped in keeps the command waiting, after it has found its files and before it writes.
        let desk = Desk::with("a.gset", SOUND.replace("puzzle", "puzle"));
        let mut child = gridsetter()
            .args(["fmt", "-", "a.gset"])
            .current_dir(desk.0.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the command runs");
        std::thread::sleep(Duration::from_millis(300));
        fs::remove_file(desk.path("a.gset")).expect("it can be removed");
        let mut input = child.stdin.take().expect("it has an input");
        input.write_all(SOUND.as_bytes()).expect("it reads");
        drop(input);
        let outcome = outcome(child.wait_with_output().expect("it ends"));
        assert_eq!(outcome.code, Some(2));
        assert_eq!(outcome.out.lines().count(), SOUND.lines().count(), "the rest is done");
        assert!(
            outcome.err.contains("gridsetter: a.gset: there is no such file or folder; "),
            "{}",
            outcome.err
        );
        assert!(!desk.path("a.gset").exists());
    }
}

#[test]
fn standard_input_is_read_as_it_is_said() {
    let run = |arguments: &[&str], input: &str| {
        let mut child = gridsetter()
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the command runs");
        child.stdin.take().expect("it has an input").write_all(input.as_bytes()).expect("it reads");
        outcome(child.wait_with_output().expect("it ends"))
    };
    let checked = run(&["check", "--stdin-name", "new.gset", "-"], "solutoin\n");
    assert_eq!(checked.code, Some(1));
    assert!(checked.out.contains(" --> new.gset:1:1"), "{}", checked.out);
    let solved = run(&["solve", "--format", "json", "--list", "-"], "12...4.....3..2. card-1\n");
    assert_eq!(solved.code, Some(0), "{}", solved.err);
    let expected =
        "{\"id\":\"card-1\",\"size\":4,\"count\":1,\"stopped\":null,\"solution\":\"1234341221434321\"}\n";
    assert_eq!(solved.out, expected);
    assert_eq!(run(&["fmt", "-"], SOUND).out, SOUND.replace("size 4", "size       4"));
}

#[test]
fn what_gitignore_names_is_read_only_by_name() {
    let desk = Desk::with("a.gset", SOUND);
    fs::write(desk.path(".gitignore"), "drafts/\n").expect("there is room for a file");
    fs::create_dir(desk.path("drafts")).expect("a folder can be made");
    fs::write(desk.path("drafts/b.gset"), "puzle\n").expect("there is room for a file");
    let walked = desk.run(&["check", "."]);
    assert_eq!(walked.code, Some(0));
    assert!(walked.err.contains("no findings in 1 puzzle, 1 file"), "{}", walked.err);
    assert_eq!(desk.run(&["check", "drafts"]).code, Some(1));
}

#[test]
fn a_folder_without_puzzles_is_said() {
    let desk = Desk::with("notes.txt", "");
    let outcome = desk.run(&["check", "."]);
    assert_eq!(outcome.code, Some(0));
    assert!(outcome.err.contains(".: no .gset files in this folder"), "{}", outcome.err);
    assert!(desk.path("notes.txt").exists());
}
