//! Lists of any length: told as they come, in order, on any number of processors, in memory that does not grow, and ended
//! at any moment.

#![allow(clippy::unwrap_used, reason = "every line of it is a test")]

#[allow(dead_code, reason = "other tests use the rest")]
#[path = "outside/random.rs"]
mod random;

use gridsetter::board::{Grid, Layout, Size};
use random::Random;
use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

fn gridsetter(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gridsetter"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").current_dir(folder);
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// Different puzzles of this size, each with exactly one solution.
fn puzzles(random: &mut Random, side: u8, count: usize) -> Vec<Grid> {
    let layout = Layout::classic(Size::new(side).unwrap()).unwrap();
    (0..count).map(|_| random::minimal(random, &layout).0).collect()
}

/// A list with everything in it that lists have: sound puzzles of several sizes, some of them twice, in other dress, with
/// several solutions, broken, with ids that come again, comments, all line ends, and bytes that are no text.
fn motley(random: &mut Random, count: usize) -> Vec<u8> {
    let mut sound = puzzles(random, 9, 25);
    sound.extend(puzzles(random, 4, 60));
    sound.extend(puzzles(random, 6, 20));
    let mut text = "\u{feff}# motley\n".as_bytes().to_vec();
    for number in 0..count {
        let mut line = sound[random.below(sound.len())].to_string();
        match random.below(12) {
            0 => line = line.chars().rev().collect(),
            1 => line = line.replace('1', "x").replace('2', "1").replace('x', "2"),
            2 => line = line.replacen(['1', '2', '3'], ".", 1),
            3 => line.truncate(random.below(line.len())),
            4 => line = line.replacen('.', ["?", "Z", "1", "0"][random.below(4)], 1),
            5 => line = format!("# {line}"),
            6 => line.insert_str(0, "  "),
            _ => {}
        }
        let behind = match random.below(6) {
            0 => String::new(),
            1 => format!(" twice-{}", random.below(40)),
            2 => format!("\t # {number} é"),
            _ => format!(" m-{number:05}"),
        };
        line.push_str(&behind);
        text.extend_from_slice(line.as_bytes());
        if random.one_in(400) {
            text.extend_from_slice(b" \xff\xfe");
        }
        text.extend_from_slice([&b"\n"[..], b"\r\n", b"\n", b"\n\n", b"\r"][random.below(5)]);
    }
    text
}

fn told(command: &mut Command) -> Output {
    let output = command.output().expect("the command runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(!said.contains("a fault in the program"), "{said}");
    output
}

const COMMANDS: [&[&str]; 8] = [
    &["solve"],
    &["solve", "--format", "json"],
    &["check", "--format", "json"],
    &["check"],
    &["find", "-v", "--repeated"],
    &["find", "--clues", "4-23", "--format", "json"],
    &["find", "--clues", "4-5", "--level", "1-2", "--teaches", "counting", "--limit", "9"],
    &["walk", "--id", "m-00007", "--id", "m-00023"],
];

/// Not only the results: what is said beside them too, and each at its place.
#[test]
fn any_number_of_jobs_tells_the_same() {
    let desk = TempDir::new().unwrap();
    let mut random = Random::new(11);
    fs::write(desk.path().join("list.txt"), motley(&mut random, 600)).unwrap();
    let section = |(number, grid): (usize, &Grid)| {
        let rows: Vec<String> =
            grid.to_string().as_bytes().chunks(9).map(|row| format!("  {}\n", row.escape_ascii())).collect();
        format!("puzzle g-{number:03}\ngivens\n{}\n", rows.concat())
    };
    let sound = puzzles(&mut random, 9, 60);
    let book: String = sound.iter().enumerate().map(section).collect();
    fs::write(desk.path().join("book.gset"), &book).unwrap();
    for (number, part) in book.split_inclusive("\n\n").take(25).enumerate() {
        let again = part.replace("puzzle g-", "puzzle h-");
        fs::write(desk.path().join(format!("one-{number:02}.gset")), again).unwrap();
    }
    for command in COMMANDS {
        let with = |jobs: &str| {
            let paths = ["book.gset", "list.txt", "nowhere.txt", "."];
            told(gridsetter(desk.path()).args(command).args(["-j", jobs]).args(paths))
        };
        let (one, two, many) = (with("1"), with("2"), with("7"));
        assert!(one.stdout.len() > 100, "{command:?}");
        for other in [two, many] {
            assert!(one.stdout == other.stdout, "{command:?}: results differ");
            assert_eq!(String::from_utf8_lossy(&one.stderr), String::from_utf8_lossy(&other.stderr));
            assert_eq!(one.status.code(), other.status.code());
        }
    }
}

/// A list beside a file of the notation is read whole, and by itself line by line: what is found is the same.
#[test]
fn what_is_found_line_by_line_is_what_is_found_in_the_whole() {
    let desk = TempDir::new().unwrap();
    fs::write(desk.path().join("none.gset"), "").unwrap();
    for seed in 0..3 {
        let mut random = Random::new(100 + seed);
        fs::write(desk.path().join("a.txt"), motley(&mut random, 300)).unwrap();
        fs::write(desk.path().join("b.txt"), motley(&mut random, 200)).unwrap();
        for format in ["human", "json", "github", "sarif", "gitlab", "junit"] {
            let check = |paths: &[&str]| {
                told(gridsetter(desk.path()).args(["check", "--format", format]).args(paths))
            };
            let (lines, whole) = (check(&["a.txt", "b.txt"]), check(&["a.txt", "none.gset", "b.txt"]));
            assert!(lines.stdout.len() > 5000);
            assert_eq!(said(format, &lines.stdout), said(format, &whole.stdout));
            assert_eq!(lines.status.code(), whole.status.code());
            let sum = String::from_utf8(lines.stderr).unwrap().replace("2 files", "3 files");
            assert_eq!(sum, String::from_utf8(whole.stderr).unwrap());
        }
    }
}

/// What is said, line by line. For people, lines of a file that are near each other are shown in one piece where the whole is
/// there: of that only what is found is compared.
/// The file that makes the other run a whole has a suite of its own.
fn said(format: &str, out: &[u8]) -> Vec<String> {
    const OF_NONE: &str =
        "  <testsuite name=\"none.gset\" tests=\"0\" failures=\"0\" errors=\"0\">\n  </testsuite>\n";
    let out = std::str::from_utf8(out).unwrap().replace(OF_NONE, "");
    out.lines().filter(|line| format != "human" || line.contains("]: ")).map(str::to_owned).collect()
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::io::{self, BufRead as _, BufReader, Read as _, Write as _};
    use std::process::{Child, ChildStdout};
    use std::thread::{self, JoinHandle};
    use std::time::Duration;

    /// Lines without end of a sound puzzle, under other names and with other digits, until nobody reads on.
    fn feed(child: &mut Child, count: usize) -> JoinHandle<()> {
        let mut input = child.stdin.take().expect("it has an input");
        thread::spawn(move || {
            let mut random = Random::new(5);
            let sound = puzzles(&mut random, 4, 30);
            for some in 0..count.div_ceil(100) {
                let line =
                    |at: usize| format!("{} p-{}\n", sound[random.below(sound.len())], 100 * some + at);
                let lines: String = (0..100).map(line).collect();
                if input.write_all(lines.as_bytes()).is_err() {
                    return;
                }
            }
            // The input stays open until this thread is asked for its end.
            thread::park();
        })
    }

    fn spawn(command: &[&str]) -> Child {
        let mut child = gridsetter(Path::new("."));
        child.args(command).stdin(Stdio::piped()).spawn().expect("the command runs")
    }

    fn lines_of(child: &mut Child) -> BufReader<ChildStdout> {
        BufReader::new(child.stdout.take().expect("it has an output"))
    }

    #[test]
    fn an_answer_comes_as_soon_as_its_line_is_there() {
        for command in
            [&["solve", "--format", "json", "--list", "-"], &["grade", "--format", "json", "--list", "-"]]
        {
            let mut child = spawn(command);
            let mut input = child.stdin.take().expect("it has an input");
            let mut lines = lines_of(&mut child);
            for number in 0..3 {
                input.write_all(format!("12...4.....3..2. p-{number}\n").as_bytes()).expect("it reads");
                let mut line = String::new();
                lines.read_line(&mut line).expect("it answers");
                assert!(line.starts_with(&format!("{{\"id\":\"p-{number}\"")), "{line}");
            }
            drop(input);
            assert_eq!(child.wait().expect("it ends").code(), Some(0));
        }
    }

    /// Read whole, so many puzzles would take about 200 MiB.
    #[cfg(target_os = "linux")]
    #[test]
    fn memory_does_not_grow_with_a_list() {
        const PUZZLES: usize = 60_000;
        const MOST_KIB: usize = 48 << 10;
        for command in [
            &["solve", "-j2", "--format", "json", "--list", "-"][..],
            &["find", "-j2", "--clues", "4", "--format", "json", "--list", "-"],
            &[
                "check",
                "-j2",
                "--skip",
                "repeated-puzzle,id-repeated,not-minimal",
                "--format",
                "json",
                "--list",
                "-",
            ],
        ] {
            let mut child = spawn(command);
            let feeder = feed(&mut child, PUZZLES);
            feeder.thread().unpark();
            let (most, _) = to_the_end(&mut child);
            assert!((1..MOST_KIB).contains(&most), "{command:?} took {most} KiB");
        }
    }

    /// Nor with what is found in it, also where that becomes one document: kept whole, each finding would take about 10 KiB.
    #[cfg(target_os = "linux")]
    #[test]
    fn memory_does_not_grow_with_what_is_found() {
        const MOST_KIB: usize = 48 << 10;
        let desk = TempDir::new().unwrap();
        let list: Vec<String> = (0..10_000).map(|number| format!("11.............. p-{number}\n")).collect();
        fs::write(desk.path().join("list.txt"), list.concat()).unwrap();
        for format in ["human", "json", "github", "sarif", "gitlab", "junit"] {
            let mut child = gridsetter(desk.path())
                .args(["check", "-j2", "--format", format, "list.txt"])
                .spawn()
                .unwrap();
            let (most, said) = to_the_end(&mut child);
            assert!((1..MOST_KIB).contains(&most), "{format} took {most} KiB");
            assert!(said > 1_000_000);
        }
    }

    /// Waits for the end of a process; gives the most memory that it took, in KiB, and how many bytes it said.
    #[cfg(target_os = "linux")]
    fn to_the_end(child: &mut Child) -> (usize, u64) {
        let mut out = lines_of(child);
        let reader = thread::spawn(move || io::copy(&mut out, &mut io::sink()));
        let mut most = 0;
        while child.try_wait().expect("it can be asked").is_none() {
            most = peak(child).map_or(most, |peak| most.max(peak));
            thread::sleep(Duration::from_millis(5));
        }
        (most, reader.join().expect("it reads").expect("all of it"))
    }

    /// The most memory that a process has taken so far, in KiB.
    #[cfg(target_os = "linux")]
    fn peak(child: &Child) -> Option<usize> {
        let status = fs::read_to_string(format!("/proc/{}/status", child.id())).ok()?;
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
        line.trim().trim_end_matches(" kB").parse().ok()
    }

    /// Stopped in the middle: whole lines, in order, and a word on how many.
    #[test]
    fn a_stopped_list_ends_with_a_whole_line() {
        for (command, read) in [
            (&["solve", "--format", "json", "--list", "-"], 0),
            (&["grade", "--format", "json", "--list", "-"], 300),
        ] {
            let mut child = spawn(command);
            let feeder = feed(&mut child, usize::MAX);
            let mut out = lines_of(&mut child);
            let mut lines = Vec::new();
            for _ in 0..=read {
                let mut line = String::new();
                out.read_line(&mut line).expect("it answers");
                lines.push(line);
            }
            let sent = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
            assert!(sent.expect("kill is there").success());
            let mut rest = String::new();
            out.read_to_string(&mut rest).expect("what comes is text");
            lines.extend(rest.split_inclusive('\n').map(str::to_owned));
            feeder.thread().unpark();
            for (line, number) in lines.iter().zip(0..) {
                assert!(
                    line.starts_with(&format!("{{\"id\":\"p-{number}\"")) && line.ends_with("}\n"),
                    "{line}"
                );
            }
            let output = child.wait_with_output().expect("it ends");
            assert_eq!(output.status.code(), Some(130));
            let said = String::from_utf8(output.stderr).expect("what it says is text");
            let told =
                said.strip_prefix("stopped: ").and_then(|said| said.split(' ').next()?.parse::<usize>().ok());
            // Where it did not end by itself in time, what was just written may not be counted yet.
            assert!(
                told.is_some_and(|told| (told..told + 200).contains(&lines.len())),
                "{} lines: {said}",
                lines.len()
            );
            feeder.join().expect("it feeds");
        }
    }

    #[test]
    fn a_list_of_which_nobody_reads_the_end_ends_quietly() {
        for command in [
            &["solve", "--list", "-"][..],
            &["solve", "--format", "json", "--list", "-"],
            &["find", "--clues", "4", "--list", "-"],
        ] {
            let mut child = spawn(command);
            let feeder = feed(&mut child, usize::MAX);
            let mut out = lines_of(&mut child);
            let mut line = String::new();
            out.read_line(&mut line).expect("it answers");
            drop(out);
            let output = child.wait_with_output().expect("it ends");
            assert_eq!(output.status.code(), Some(0), "{command:?}");
            assert_eq!(String::from_utf8_lossy(&output.stderr), "");
            feeder.thread().unpark();
            feeder.join().expect("it feeds");
        }
    }
}
