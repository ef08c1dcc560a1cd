//! How long an editor waits: for the findings after a keystroke, for a hover, a completion, a step that is taken, at all
//! lengths of file; after opening; for the first answer. Beside them, in the same run, what no server can be faster than: a
//! byte through two pipes and back, and a process that does nothing. And what a server takes of the machine.
//!
//! All of it is measured twice: with both ends on one core (where `taskset` is there to bring that about), which can be
//! repeated, and free, which is what a person gets: there, waking an idle core counts for more than all the rest.
//! Quote the ratios: the figures depend on the machine. `GRIDSETTER_PUZZLES=100` is a short look, with files no longer;
//! `cargo bench --bench server -- large start` measures these parts only (`PARTS`).

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use serde_json::{Value, json};
use std::process::Command;
use std::thread;
use std::time::{Duration, Instant};

mod editor;
mod file;
mod puzzles;

use editor::{Asks, Editor, times_of};
use file::{File, Kind};
use puzzles::random::Random;

/// How often each thing is done.
const KEYSTROKES: usize = 2000;
const QUESTIONS: usize = 1000;
/// So often where each takes longer.
const BESIDE: usize = 200;
/// So often while all is graded: between two of them it goes on for a while.
const BESIDE_GRADING: usize = 500;
/// So often a process is started.
const STARTS: usize = 200;
/// So often what has a large answer.
const LARGE: usize = 50;

/// Something that is measured: it writes rows of the table.
type Part = fn(&Table);

/// What is measured, by the name that asks for it alone.
const PARTS: [(&str, Part); 7] = [
    ("rest", at_rest),
    ("told", telling),
    ("pull", pulling),
    ("beside", beside_grading),
    ("large", large_answers),
    ("start", starting),
    ("resources", resources),
];

/// The longest file.
fn most() -> usize {
    std::env::var("GRIDSETTER_PUZZLES").ok().and_then(|said| said.parse().ok()).unwrap_or(10_000)
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if arguments.first().is_some_and(|first| first == "echo") {
        return editor::echo();
    }
    let wanted = |name: &str| arguments.iter().any(|said| said == name);
    let parts: Vec<Part> = PARTS.iter().filter(|(name, _)| wanted(name)).map(|(_, part)| *part).collect();
    let parts = if parts.is_empty() { PARTS.map(|(_, part)| part).to_vec() } else { parts };
    if wanted("pinned") {
        return measure("Both ends on one core", &parts);
    }
    let itself = std::env::current_exe().unwrap();
    let pinned =
        Command::new("taskset").args(["-c", "0"]).arg(itself).arg("pinned").args(&arguments).status();
    if pinned.is_err() {
        println!("no taskset: not measured on one core");
    }
    measure("Free", &parts);
}

fn measure(how: &str, parts: &[Part]) {
    println!("\n{how}:\n");
    println!("| what | puzzles in the file | p50 | p99 | most | p50, in bytes there and back |");
    println!("| --- | ---: | ---: | ---: | ---: | ---: |");
    let echo = editor::round_trips(KEYSTROKES);
    let table = Table { byte: percentile(&echo, 50) };
    table.row("one byte there and back", "", &echo);
    for part in parts {
        part(&table);
    }
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

/// At rest, in files of all lengths.
fn at_rest(table: &Table) {
    for puzzles in [1, 100, 1_000, 10_000].into_iter().filter(|puzzles| *puzzles <= most()) {
        let file = File::new(puzzles, Kind::Plain);
        let mut editor = Editor::new(Asks::Never);
        editor.open(&file);
        editor.rest();
        typing(table, &mut editor, &file);
        asking(table, &mut editor, &file);
    }
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

/// Findings that are told with each keystroke, of all puzzles.
fn telling(table: &Table) {
    let file = File::new(most(), Kind::AllWrong);
    let mut editor = Editor::new(Asks::Never);
    editor.open(&file);
    editor.rest();
    let keys = strokes(&mut editor, &file, BESIDE);
    table.row("keystroke to findings, each puzzle with one", &file.count(), &keys);
}

/// Findings that are asked for: again with nothing changed, and after a keystroke. Who cannot be asked to ask again waits for
/// what takes all puzzles together.
fn pulling(table: &Table) {
    let file = File::new(most(), Kind::AllWrong);
    for (asks, who) in [(Asks::Once, "once"), (Asks::Again, "and again when told to")] {
        let mut editor = Editor::new(asks);
        editor.open(&file);
        editor.pull();
        editor.rest();
        editor.pull();
        let again = times_of(QUESTIONS, || editor.pull());
        let what = format!("findings asked for {who}, nothing changed, each puzzle with one");
        table.row(&what, &file.count(), &again);
        let mut random = Random::new(5);
        let keys = times_of(BESIDE, || editor.write_and_pull(file.empty_cell(&mut random), '.'));
        let what = format!("keystroke and findings asked for {who}, each puzzle with one");
        table.row(&what, &file.count(), &keys);
    }
}

/// Keystrokes and questions while each puzzle of the file is graded, which begins when nobody has typed for a moment. The file
/// is opened again until there were times enough.
fn beside_grading(table: &Table) {
    let file = File::new(most(), Kind::Levels);
    let (mut random, mut keys, mut hovers, mut completions) =
        (Random::new(9), Vec::new(), Vec::new(), Vec::new());
    while keys.len() < BESIDE_GRADING {
        let mut editor = Editor::new(Asks::Never);
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
            if keys.len() >= BESIDE_GRADING {
                break;
            }
        }
    }
    table.row("keystroke to findings, while all is graded", &file.count(), &keys);
    table.row("hover, while all is graded", &file.count(), &hovers);
    table.row("completion, while all is graded", &file.count(), &completions);
}

/// What an editor asks for of a whole file, and how long a keystroke waits that comes right behind the question.
fn large_answers(table: &Table) {
    let file = File::new(most(), Kind::Plain);
    let mut editor = Editor::new(Asks::Never);
    editor.open(&file);
    editor.rest();
    let text = json!({"textDocument": {"uri": file::URI}});
    let mut all = text.clone();
    all["range"] = json!({
        "start": {"line": 0, "character": 0},
        "end": {"line": file.text.lines().count(), "character": 0},
    });
    let mut enter = file::at((file.begin(file.puzzles.len() / 2) + 1, 0));
    enter["ch"] = json!("\n");
    let mut format = text.clone();
    format["options"] = json!({"tabSize": 2, "insertSpaces": true});
    enter["options"] = format["options"].clone();
    let questions = [
        ("textDocument/codeLens", &text),
        ("textDocument/documentSymbol", &text),
        ("textDocument/foldingRange", &text),
        ("textDocument/documentLink", &text),
        ("textDocument/inlayHint", &all),
        ("textDocument/semanticTokens/full", &text),
        ("textDocument/formatting", &format),
        ("textDocument/onTypeFormatting", &enter),
    ];
    let mut random = Random::new(5);
    for (method, params) in questions {
        let times = times_of(LARGE, || editor.answer(method, params).1);
        table.row(method, &file.count(), &times);
        let keys = times_of(LARGE, || {
            editor.ask_unheard(method, params);
            let taken = editor.write(file.empty_cell(&mut random), '.');
            editor.hear();
            taken
        });
        table.row(&format!("keystroke to findings behind {method}"), &file.count(), &keys);
    }
    let mut tokens = || editor.answer("textDocument/semanticTokens/full", &text).0["resultId"].clone();
    let mut delta = text.clone();
    delta["previousResultId"] = tokens();
    let times = times_of(LARGE, || {
        editor.write(file.empty_cell(&mut random), '.');
        let (answer, taken) = editor.answer("textDocument/semanticTokens/full/delta", &delta);
        delta["previousResultId"] = answer["resultId"].clone();
        taken
    });
    table.row("textDocument/semanticTokens/full/delta after a keystroke", &file.count(), &times);
}

/// From the start to the first answer.
fn starting(table: &Table) {
    let nothing: Vec<Duration> = times_of(STARTS, editor::nothing);
    table.row("a process that does nothing", "", &nothing);
    let start = times_of(STARTS, || Editor::started(Asks::Never).1);
    table.row("start to the first answer", "", &start);
    println!("\nStart to the first answer is {:.1} x a process that does nothing.", ratio(&start, &nothing));
}

/// What opening takes, in time and memory, and what a server at rest takes of the processor.
fn resources(_: &Table) {
    let empty = Editor::new(Asks::Never).memory_kb().0;
    for kind in [Kind::Plain, Kind::Levels] {
        let file = File::new(most(), kind);
        let mut editor = Editor::new(Asks::Never);
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
