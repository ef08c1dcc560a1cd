//! How long an editor waits: for the findings after a keystroke, for a hover, a completion, a step that is taken, at all
//! lengths of file; after opening; for the first answer. Beside them, in the same run, what no server can be faster than: a
//! byte through two pipes and back, and a process that does nothing. And what a server takes of the machine.
//!
//! All of it is measured twice: with both ends on one core (where `taskset` is there to bring that about), which can be
//! repeated, and free, which is what a person gets: there, waking an idle core counts for more than all the rest.
//! Quote the ratios: the figures depend on the machine. `GRIDSETTER_PUZZLES=100` is a short look, with files no longer.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use serde_json::{Value, json};
use std::process::Command;
use std::thread;
use std::time::{Duration, Instant};

mod editor;
mod file;
mod puzzles;

use editor::{Editor, times_of};
use file::{File, Kind};
use puzzles::random::Random;

/// How often each thing is done.
const KEYSTROKES: usize = 2000;
const QUESTIONS: usize = 1000;
/// So often while something else goes on.
const BESIDE: usize = 200;

/// The longest file.
fn most() -> usize {
    std::env::var("GRIDSETTER_PUZZLES").ok().and_then(|said| said.parse().ok()).unwrap_or(10_000)
}

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("echo") => editor::echo(),
        Some("pinned") => measure("Both ends on one core"),
        _ => {
            let itself = std::env::current_exe().unwrap();
            let pinned = Command::new("taskset").args(["-c", "0"]).arg(itself).arg("pinned").status();
            if pinned.is_err() {
                println!("no taskset: not measured on one core");
            }
            measure("Free");
        }
    }
}

fn measure(how: &str) {
    println!("\n{how}:\n");
    println!("| what | puzzles in the file | p50 | p99 | most | p50, in bytes there and back |");
    println!("| --- | ---: | ---: | ---: | ---: | ---: |");
    let echo = editor::round_trips(KEYSTROKES);
    let table = Table { byte: percentile(&echo, 50) };
    table.row("one byte there and back", "", &echo);
    for puzzles in [1, 100, 1_000, 10_000].into_iter().filter(|puzzles| *puzzles <= most()) {
        let file = File::new(puzzles, Kind::Plain);
        let mut editor = Editor::new(false);
        editor.open(&file);
        editor.rest();
        typing(&table, &mut editor, &file);
        asking(&table, &mut editor, &file);
    }
    let file = File::new(most(), Kind::AllWrong);
    let mut editor = Editor::new(false);
    editor.open(&file);
    editor.rest();
    let keys = strokes(&mut editor, &file, BESIDE);
    table.row("keystroke to findings, each puzzle with one", &file.count(), &keys);
    pulling(&table, &file);
    beside_grading(&table);
    let nothing: Vec<Duration> = times_of(100, editor::nothing);
    table.row("a process that does nothing", "", &nothing);
    let start = times_of(100, || Editor::started(false).1);
    table.row("start to the first answer", "", &start);
    println!("\nStart to the first answer is {:.1} x a process that does nothing.", ratio(&start, &nothing));
    resources();
}

struct Table {
    /// A byte there and back.
    byte: Duration,
}

impl Table {
    fn row(&self, what: &str, puzzles: &str, times: &[Duration]) {
        let [p50, p99, most] = [50, 99, 100].map(|percent| percentile(times, percent));
        let bytes = p50.as_secs_f64() / self.byte.as_secs_f64();
        println!("| {what} | {puzzles} | {p50:.1?} | {p99:.1?} | {most:.1?} | {bytes:.1} |");
    }
}

fn percentile(times: &[Duration], percent: usize) -> Duration {
    let mut times = times.to_vec();
    times.sort_unstable();
    times[(times.len() - 1) * percent / 100]
}

fn ratio(one: &[Duration], other: &[Duration]) -> f64 {
    percentile(one, 50).as_secs_f64() / percentile(other, 50).as_secs_f64()
}

fn typing(table: &Table, editor: &mut Editor, file: &File) {
    let keys = strokes(editor, file, KEYSTROKES);
    table.row("keystroke to findings", &file.count(), &keys);
}

/// The times from keystrokes to the findings of the text with them. What was written is taken out again by the next.
fn strokes(editor: &mut Editor, file: &File, count: usize) -> Vec<Duration> {
    let mut random = Random::new(5);
    let mut written = None;
    times_of(count, || {
        let (place, new) = if let Some(place) = written.take() {
            (place, '.')
        } else {
            let place = file.empty_cell(&mut random);
            written = Some(place);
            (place, char::from(b'1' + u8::try_from(random.below(9)).unwrap()))
        };
        editor.write(place, new)
    })
}

/// Hover, completion and steps, each at random places of the text at rest.
fn asking(table: &Table, editor: &mut Editor, file: &File) {
    let mut random = Random::new(7);
    let hovers =
        times_of(QUESTIONS, || editor.ask("textDocument/hover", &file::at(file.empty_cell(&mut random))));
    table.row("hover on a cell", &file.count(), &hovers);
    let completions = times_of(QUESTIONS, || {
        editor.ask("textDocument/completion", &file::at((file.begin(random.below(file.puzzles.len())), 0)))
    });
    table.row("completion of a statement", &file.count(), &completions);
    let mut chosen = Vec::new();
    let offers = times_of(QUESTIONS, || {
        let (answer, taken) = editor.answer("textDocument/codeAction", &step(file, &mut random));
        chosen.push(answer[0].clone());
        taken
    });
    table.row("what can be done at a cell", &file.count(), &offers);
    let mut chosen = chosen.into_iter();
    let steps = times_of(QUESTIONS, || editor.ask("codeAction/resolve", &chosen.next().unwrap()));
    table.row("the next step, taken", &file.count(), &steps);
}

/// Parameters that ask for the action that takes the next step, at a random place.
fn step(file: &File, random: &mut Random) -> Value {
    let at = file::at(file.empty_cell(random));
    let context = json!({"diagnostics": [], "only": ["refactor.rewrite.next"]});
    json!({
        "textDocument": at["textDocument"], "context": context,
        "range": {"start": at["position"], "end": at["position"]},
    })
}

/// Findings that are asked for: again with nothing changed, and after a keystroke.
fn pulling(table: &Table, file: &File) {
    let mut editor = Editor::new(true);
    if !editor.pulls() {
        println!("| findings asked for | not offered | | | | |");
        return;
    }
    editor.open(file);
    editor.rest();
    editor.pull();
    let again = times_of(QUESTIONS, || editor.pull());
    table.row("findings asked for, nothing changed, each puzzle with one", &file.count(), &again);
    let mut random = Random::new(5);
    let keys = times_of(BESIDE, || editor.write_and_pull(file.empty_cell(&mut random), '.'));
    table.row("keystroke and findings asked for, each puzzle with one", &file.count(), &keys);
}

/// The same while each puzzle of the file is graded, which begins when nobody has typed for a moment. The file is opened
/// again until there were times enough.
fn beside_grading(table: &Table) {
    let file = File::new(most(), Kind::Levels);
    let (mut random, mut keys, mut hovers, mut completions) =
        (Random::new(9), Vec::new(), Vec::new(), Vec::new());
    while keys.len() < BESIDE {
        let mut editor = Editor::new(false);
        editor.open(&file);
        for time in 0.. {
            let before = editor.processor();
            thread::sleep(Duration::from_millis(60 + random.below(20) as u64));
            // Who waited longer than a moment has seen the work go on, if there still is some.
            if time > 0 && editor.processor() == before {
                break;
            }
            keys.push(editor.write(file.empty_cell(&mut random), '.'));
            thread::sleep(Duration::from_millis(60 + random.below(20) as u64));
            hovers.push(editor.ask("textDocument/hover", &file::at(file.empty_cell(&mut random))));
            completions.push(editor.ask("textDocument/completion", &file::at((file.begin(0), 0))));
            if keys.len() >= BESIDE {
                break;
            }
        }
    }
    table.row("keystroke to findings, while all is graded", &file.count(), &keys);
    table.row("hover, while all is graded", &file.count(), &hovers);
    table.row("completion, while all is graded", &file.count(), &completions);
}

/// What opening takes, in time and memory, and what a server at rest takes of the processor.
fn resources() {
    let empty = Editor::new(false).memory_kb().0;
    for kind in [Kind::Plain, Kind::Levels] {
        let file = File::new(most(), kind);
        let mut editor = Editor::new(false);
        let start = Instant::now();
        editor.open(&file);
        let first = start.elapsed();
        let all = editor.rest() - start;
        let (now, peak) = editor.memory_kb();
        let before = editor.processor();
        thread::sleep(Duration::from_secs(2));
        println!(
            "\n{} puzzles, {}, {} bytes each: first findings {first:.1?}, all {all:.1?}; {} bytes a puzzle at rest, {} kB at \
             most; {} ticks of the processor in two seconds of rest.",
            file.count(),
            kind.name(),
            file.text.len() / most(),
            now.saturating_sub(empty) * 1024 / most() as u64,
            peak,
            editor.processor() - before,
        );
    }
}
