//! How long an editor waits: for the findings after a keystroke, after opening a file, for the first answer. Beside each, in
//! the same run, what no server can be faster than: a byte through two pipes and back, and a process that does nothing.
//!
//! All of it is measured twice: with both ends on one core (where `taskset` is there to bring that about), which can be
//! repeated, and free, which is what a person gets: there, waking an idle core counts for more than all the rest.
//! Quote the ratios: the figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use gridsetter::board::{Cell, Digit, Grid};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/random.rs"]
mod random;

use random::Random;

const KEYSTROKES: usize = 2000;
const URI: &str = "untitled:bench";

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("echo") => echo(),
        Some("pinned") => measure("both ends on one core"),
        _ => {
            let itself = std::env::current_exe().unwrap();
            let pinned = Command::new("taskset").args(["-c", "0"]).arg(itself).arg("pinned").status();
            if pinned.is_err() {
                println!("no taskset: not measured on one core");
            }
            measure("free");
        }
    }
}

fn measure(how: &str) {
    println!("{how}");
    let echo = round_trips();
    row("one byte there and back", &echo);
    for puzzles in [1, 100, 1_000, 10_000] {
        let (keys, first, all) = keystrokes(puzzles);
        row(&format!("keystroke, {puzzles} puzzles in the file"), &keys);
        println!("    p50 {:.1} x the byte", ratio(percentile(&keys, 50), percentile(&echo, 50)));
        println!("    opened: first findings {first:.1?}, all {all:.1?}");
    }
    let nothing: Vec<Duration> = (0..100).map(|_| nothing()).collect();
    row("a process that does nothing", &nothing);
    let start: Vec<Duration> = (0..100).map(|_| first_answer()).collect();
    row("start to the first answer", &start);
    println!("    p50 {:.1} x nothing", ratio(percentile(&start, 50), percentile(&nothing, 50)));
}

fn row(name: &str, times: &[Duration]) {
    let [p50, p90, p99] = [50, 90, 99].map(|percent| percentile(times, percent));
    println!("  {name:40} p50 {p50:>9.1?}  p90 {p90:>9.1?}  p99 {p99:>9.1?}");
}

fn percentile(times: &[Duration], percent: usize) -> Duration {
    let mut times = times.to_vec();
    times.sort_unstable();
    times[(times.len() - 1) * percent / 100]
}

fn ratio(one: Duration, other: Duration) -> f64 {
    one.as_secs_f64() / other.as_secs_f64()
}

/// Sends back each byte that comes.
fn echo() {
    let mut byte = [0];
    let (mut input, mut output) = (std::io::stdin().lock(), std::io::stdout());
    while input.read_exact(&mut byte).is_ok() {
        output.write_all(&byte).and_then(|()| output.flush()).unwrap();
    }
}

fn round_trips() -> Vec<Duration> {
    let mut command = Command::new(std::env::current_exe().unwrap());
    let (mut child, mut input, mut output) = spawn(command.arg("echo"));
    let mut byte = [b'x'];
    let times = (0..KEYSTROKES).map(|_| {
        let start = Instant::now();
        input.write_all(&byte).unwrap();
        output.read_exact(&mut byte).unwrap();
        start.elapsed()
    });
    let times = times.collect();
    drop(input);
    child.wait().unwrap();
    times
}

fn spawn(command: &mut Command) -> (Child, ChildStdin, BufReader<ChildStdout>) {
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let (input, output) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
    (child, input, BufReader::new(output))
}

fn nothing() -> Duration {
    let start = Instant::now();
    Command::new("true").status().unwrap();
    start.elapsed()
}

fn first_answer() -> Duration {
    let start = Instant::now();
    let (mut child, mut input, mut output) = server();
    greet(&mut input);
    next(&mut output);
    let taken = start.elapsed();
    drop(input);
    child.wait().unwrap();
    taken
}

fn server() -> (Child, ChildStdin, BufReader<ChildStdout>) {
    spawn(Command::new(env!("CARGO_BIN_EXE_gridsetter")).arg("serve"))
}

fn greet(input: &mut ChildStdin) {
    let params = json!({"processId": std::process::id(), "rootUri": null, "capabilities": {}});
    send(input, &json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": params}));
}

fn send(input: &mut ChildStdin, message: &Value) {
    let body = message.to_string();
    input.write_all(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes()).unwrap();
}

/// The next message, not read any further.
fn next(output: &mut BufReader<ChildStdout>) -> Vec<u8> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        output.read_line(&mut line).unwrap();
        match line.strip_prefix("Content-Length: ") {
            Some(said) => length = said.trim_end().parse().unwrap(),
            None if line == "\r\n" => break,
            None => {}
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).unwrap();
    body
}

/// How many puzzles at the beginning of a file, and how many at its end, have a finding from the start: what is told again
/// with each keystroke is then much the same in files of all lengths.
const WITH_FINDINGS: usize = 5;

/// The times from a keystroke to the findings, and from opening to the first and to all findings.
fn keystrokes(puzzles: usize) -> (Vec<Duration>, Duration, Duration) {
    let mut random = Random::new(5);
    let file: Vec<Grid> = (0..puzzles).map(|_| relabelled(&mut random)).collect();
    let mut text = String::from("notation 1\n\n");
    let mut begins = Vec::new();
    let has_finding = |at: usize| at < WITH_FINDINGS || at + WITH_FINDINGS >= puzzles;
    for (at, grid) in file.iter().enumerate() {
        begins.push(text.matches('\n').count());
        let _ = write!(
            text,
            "puzzle k-{at:05} \"Bench\"\nclues      {}\ngivens\n",
            if has_finding(at) { 17 } else { grid.filled() }
        );
        for row in 0..9 {
            let symbol = |col| grid.get(Cell::new(row, col)).map_or('.', Digit::symbol);
            let symbols: Vec<String> = (0..9).map(|col| symbol(col).to_string()).collect();
            let _ = writeln!(text, "  {}", symbols.join(" "));
        }
        text.push('\n');
    }

    let (mut child, mut input, mut output) = server();
    greet(&mut input);
    next(&mut output);
    send(&mut input, &json!({"jsonrpc": "2.0", "method": "initialized", "params": {}}));
    let item = json!({"uri": URI, "languageId": "gridsetter", "version": 0, "text": text});
    let open = json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": item}});
    let start = Instant::now();
    send(&mut input, &open);
    let wanted = (0..puzzles).filter(|at| has_finding(*at)).count();
    let (mut first, mut found) = (None, 0);
    while found < wanted {
        let message = next(&mut output);
        found = count(&message, b"\"clues-wrong\"");
        first = first.or((found > 0).then(|| start.elapsed()));
    }
    let all = start.elapsed();

    let mut times = Vec::new();
    let mut written: Option<(usize, Cell)> = None;
    for version in 1..=KEYSTROKES {
        let (puzzle, cell, new) = if let Some((puzzle, cell)) = written.take() {
            // What was written is taken out again.
            (puzzle, cell, '.')
        } else {
            let puzzle = random.below(puzzles);
            let empty: Vec<Cell> = file[puzzle].empty_cells().collect();
            let cell = empty[random.below(empty.len())];
            written = Some((puzzle, cell));
            (puzzle, cell, char::from(b'1' + u8::try_from(random.below(9)).unwrap()))
        };
        let line = begins[puzzle] + 3 + usize::from(cell.row());
        let column = 2 + 2 * usize::from(cell.col());
        let place = |column: usize| json!({"line": line, "character": column});
        let change =
            json!({"range": {"start": place(column), "end": place(column + 1)}, "text": new.to_string()});
        let params = json!({"textDocument": {"uri": URI, "version": version}, "contentChanges": [change]});
        let message = json!({"jsonrpc": "2.0", "method": "textDocument/didChange", "params": params});
        let sign = format!("\"version\":{version},");
        let start = Instant::now();
        send(&mut input, &message);
        while count(&next(&mut output)[..120], sign.as_bytes()) == 0 {}
        times.push(start.elapsed());
    }
    drop(input);
    child.wait().unwrap();
    (times, first.unwrap(), all)
}

fn count(message: &[u8], sign: &[u8]) -> usize {
    memchr::memmem::find_iter(message, sign).count()
}

/// A puzzle with one solution, its digits changed about at random.
fn relabelled(random: &mut Random) -> Grid {
    const PUZZLE: &str = "..8.2..75.....8.31.2.6...8.2....6819.........8569....2.1...5.9.78.4.....49..6.1..";
    let mut digits: Vec<char> = ('1'..='9').collect();
    random.shuffle(&mut digits);
    let change = |c: char| c.to_digit(10).map_or('.', |digit| digits[digit as usize - 1]);
    Grid::from_line(&PUZZLE.chars().map(change).collect::<String>()).unwrap()
}
