//! Walkthroughs that were found, written and read again: as they stand they check clean; changed, they do not, and what is
//! offered mends them.
//!
//! The long run is `cargo test --release --test walkthroughs -- --ignored --nocapture`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may stop, and its tables are for reading"
)]

#[allow(dead_code, reason = "the outside checks use the rest")]
#[path = "outside/random.rs"]
mod random;

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::book::{Book, Entry, WalkSays, Walkthrough, Workspace};
use gridsetter::edit::{lesson_lines, walk_lines, walk_to_point};
use gridsetter::format::grid_lines;
use gridsetter::ladder::{Ladder, NAMES};
use gridsetter::lint::{Report, check, mended};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::solve::Budget;
use gridsetter::step::{Method, Position, Seen};
use gridsetter::study::{Lessons, Subject, claims};
use random::Random;
use std::collections::BTreeMap;

/// A puzzle with a walk, as text.
struct Written {
    head: String,
    lines: Vec<String>,
}

impl Written {
    fn text(&self) -> String {
        let steps = self.head.clone() + "steps\n";
        self.lines.iter().fold(steps, |text, line| text + "  " + line + "\n")
    }

    fn with(&self, at: usize, line: Option<String>) -> Written {
        let mut lines = self.lines.clone();
        match line {
            Some(line) => lines[at] = line,
            None => _ = lines.remove(at),
        }
        Written { head: self.head.clone(), lines }
    }
}

/// Random minimal puzzles that the ladder finishes, each with its walk by one method.
fn written(seed: u64, count: usize, method: Method) -> Vec<Written> {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    let mut random = Random::new(seed);
    let mut all = Vec::new();
    while all.len() < count {
        let Some(full) = random::full_grid(&mut random, &layout) else { continue };
        let givens = random::puzzle_of(&mut random, &layout, &full, Budget { nodes: 200 });
        let walk = match method {
            Method::Marks => Walk::with_marks(&reasoner, Position::new(&layout, &givens)),
            Method::Scanning => Walk::by_scanning(&reasoner, &givens),
        };
        if walk.is_finished() {
            all.push(Written { head: head(&layout, &givens), lines: walk_lines(&walk, |_| None) });
        }
    }
    all
}

fn head(layout: &Layout, givens: &Grid) -> String {
    let rows: String = grid_lines(givens, layout.boxes()).iter().map(|row| row.to_owned() + "\n").collect();
    format!("puzzle a-1\ngivens\n{rows}")
}

fn found(text: &str) -> (Workspace, Vec<Report>) {
    let workspace = Workspace::new(vec![Book::read("a.gset", text)]);
    let reports = check(&workspace);
    (workspace, reports)
}

fn told(text: &str, reports: &[Report]) -> String {
    let told = |report: &Report| {
        let line = report.spot.span.of(text);
        format!("{}: {} at `{line}`\n", report.finding.name, report.message)
    };
    reports.iter().map(told).collect()
}

/// Makes the first fix of the first finding, and so on, until nothing is left or nothing can be done.
fn all_mended(text: &str) -> Result<String, String> {
    let mut text = text.to_owned();
    for _ in 0..12 {
        let (workspace, reports) = found(&text);
        let Some(first) = reports.first() else { return Ok(text) };
        let Some(fix) = first.fixes.first() else { return Err(told(&text, &reports)) };
        text = mended(&workspace, &[fix]).remove(0);
    }
    Err(told(&text, &found(&text).1))
}

/// Each fix makes its finding go, and brings no other.
fn each_fix_mends(text: &str) {
    let (workspace, reports) = found(text);
    for (at, report) in reports.iter().enumerate() {
        for fix in &report.fixes {
            let new = mended(&workspace, &[fix]).remove(0);
            let after = found(&new).1;
            let mut left: Vec<_> = reports.iter().map(|it| (it.finding.name, &it.message)).collect();
            left.remove(at);
            let known =
                |it: &Report| match left.iter().position(|other| *other == (it.finding.name, &it.message)) {
                    Some(at) => {
                        left.remove(at);
                        true
                    }
                    None => false,
                };
            assert!(
                after.iter().all(known),
                "`{}` of {} brings\n{}\nto\n{}\n{text}",
                fix.title,
                told(text, std::slice::from_ref(report)),
                told(&new, &after),
                told(text, &reports),
            );
        }
    }
}

/// The table of what was found for a kind of change.
#[derive(Default)]
struct Table(BTreeMap<&'static str, BTreeMap<String, usize>>);

impl Table {
    fn add(&mut self, change: &'static str, reports: &[Report]) {
        let names = match reports {
            [] => "nothing".to_owned(),
            [first, ..] => first.finding.name.to_owned(),
        };
        *self.0.entry(change).or_default().entry(names).or_default() += 1;
    }

    fn print(&self) {
        for (change, found) in &self.0 {
            println!("{change}: {found:?}");
        }
    }
}

/// A claim altered: another digit, or a neighbouring cell.
fn altered(random: &mut Random, line: &str) -> String {
    let (claim, rest) = line.split_at(line.find("  by ").unwrap());
    if claim.starts_with('r') && random.one_in(2) {
        let cell = &claim[..4];
        loop {
            let other = format!("r{}c{}", 1 + random.below(9), 1 + random.below(9));
            if !claim.contains(&other) {
                return line.replacen(cell, &other, 1);
            }
        }
    }
    let Some((cells, digits)) = claim.split_once(" = ") else {
        let (digit, after) = claim.split_once(' ').unwrap();
        return format!("{} {after}{rest}", other_digit(random, digit));
    };
    format!("{cells} = {}{rest}", other_digit(random, digits))
}

fn other_digit(random: &mut Random, digits: &str) -> String {
    let absent: Vec<char> = ('1'..='9').filter(|digit| !digits.contains(*digit)).collect();
    let new = absent[random.below(absent.len())];
    let mut all: Vec<char> = digits.chars().collect();
    let at = random.below(all.len());
    all[at] = new;
    all.sort_unstable();
    all.into_iter().collect()
}

const WAYS: [&str; 12] = [
    "crossing",
    "counting",
    "settling",
    "third line",
    "last open cell",
    "naked single",
    "box hidden single",
    "line hidden single",
    "locked candidates",
    "naked pair",
    "hidden triple",
    "x-wing",
];

/// The line with another name for its reason, and both names.
fn with_another_reason<'a>(random: &mut Random, line: &'a str) -> (String, &'a str, &'static str) {
    let at = line.find("  by ").unwrap() + "  by ".len();
    let ends = [" in ", " with "].map(|word| line[at..].find(word));
    let end = ends.into_iter().flatten().min().map_or(line.len(), |end| at + end);
    let name = &line[at..end];
    let others: Vec<&str> = WAYS.into_iter().filter(|way| *way != name).collect();
    let way = others[random.below(others.len())];
    (format!("{}{way}{}", &line[..at], &line[end..]), name, way)
}

fn go_through(seed: u64, count: usize) {
    let mut random = Random::new(seed);
    let mut table = Table::default();
    // What is seen in two ways at once: each pair of names for which nothing was found.
    let mut both: BTreeMap<(String, &str), usize> = BTreeMap::new();
    for method in [Method::Marks, Method::Scanning] {
        for walk in written(seed, count, method) {
            let (_, reports) = found(&walk.text());
            assert!(reports.is_empty(), "{}{}", told(&walk.text(), &reports), walk.text());
            let at = random.below(walk.lines.len());

            let changed = walk.with(at, Some(altered(&mut random, &walk.lines[at])));
            let reports = found(&changed.text()).1;
            table.add("a claim altered", &reports);
            assert!(!reports.is_empty(), "line {at} is altered and nothing is found: {}", changed.text());
            each_fix_mends(&changed.text());

            let less = walk.with(at, None);
            let reports = found(&less.text()).1;
            table.add("a step taken out", &reports);
            each_fix_mends(&less.text());
            if let Err(left) = all_mended(&less.text()) {
                panic!("without line {at}, `{}`, this is left: {left}{}", walk.lines[at], less.text());
            }

            let (other, was, is) = with_another_reason(&mut random, &walk.lines[at]);
            let changed = walk.with(at, Some(other));
            let reports = found(&changed.text()).1;
            table.add("a reason changed", &reports);
            if reports.is_empty() {
                *both.entry((was.to_owned(), is)).or_default() += 1;
            }
            each_fix_mends(&changed.text());
            if let Err(left) = all_mended(&changed.text()) {
                panic!("with another reason in line {at} this is left: {left}{}", changed.text());
            }

            let leaning: Vec<usize> =
                (0..walk.lines.len()).filter(|at| walk.lines[*at].contains(" with ")).collect();
            if !leaning.is_empty() {
                let at = leaning[random.below(leaning.len())];
                let line = &walk.lines[at];
                let changed = walk.with(at, Some(line[..line.rfind(" with ").unwrap()].to_owned()));
                let reports = found(&changed.text()).1;
                table.add("a fact not named", &reports);
                assert_eq!(
                    reports.first().map(|report| report.finding.name),
                    Some("step-reason"),
                    "line {at}: {}",
                    changed.text()
                );
                each_fix_mends(&changed.text());
                assert!(all_mended(&changed.text()).is_ok());
            }
        }
    }
    table.print();
    println!("seen in two ways: {both:?}");
}

/// What a step says and why is written in words that have one reading: read again, it strikes the same, and its reason
/// names the same pattern or way of seeing, and as many facts.
#[test]
fn a_written_step_has_one_reading() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    let mut random = Random::new(11);
    let mut steps = 0;
    for number in 0..40 {
        let Some(full) = random::full_grid(&mut random, &layout) else { continue };
        let givens = random::puzzle_of(&mut random, &layout, &full, Budget { nodes: 200 });
        let mut walk = Walk::by_scanning(&reasoner, &givens);
        if number % 2 == 0 {
            walk = Walk::with_marks(&reasoner, Position::new(&layout, &givens));
        }
        let written = Written { head: head(&layout, &givens), lines: walk_lines(&walk, |_| None) };
        let book = Book::read("a.gset", &written.text());
        let Entry::Puzzle(puzzle) = &book.meanings[0].entries[0] else { panic!("a puzzle") };
        let read = Walkthrough::all(&book.tree.sections[0], puzzle, &layout).next().unwrap();
        assert_eq!(read.lines.len(), walk.steps.len());
        for ((before, step), line) in walk.positions().zip(&read.lines) {
            let WalkSays::Step(asserted, Some(because)) = &line.says else { panic!("{line:?}") };
            let again: Vec<_> = asserted.iter().flat_map(|it| claims(&it.says, &before)).collect();
            let step = &step.deduction;
            assert_eq!(before.strikes(&again), before.strikes(&step.claims), "{:?}", step.claims);
            let name = step.seen.map_or(step.pattern.name(), Seen::name);
            assert_eq!(because.name.name, name);
            assert_eq!(because.with.len(), step.facts_used().len());
            steps += 1;
        }
    }
    assert!(steps > 500, "{steps}");
}

/// A lesson that is taken from where something is the only way on, put into the file with its walk, has nothing against it
/// when it takes the step that it teaches.
#[test]
fn a_lesson_that_is_found_is_read_again() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    let mut random = Random::new(19);
    let mut taught: BTreeMap<&str, usize> = BTreeMap::new();
    for _ in 0..30 {
        let full = random::full_grid(&mut random, &layout).unwrap();
        let givens = random::puzzle_of(&mut random, &layout, &full, Budget { nodes: 200 });
        for subject in NAMES.iter().map(Subject::of) {
            let lessons = Lessons::of(&reasoner, &givens, subject);
            let Some(&at) = lessons.places.last() else { continue };
            let finish = lessons.finish(&reasoner, at);
            let walk = walk_to_point(&lessons.walk, at, "here", finish.as_deref()).join("\n");
            let lesson = lesson_lines(subject.name(), "a-1", "here").join("\n");
            let step = &walk_lines(&lessons.walk, |_| None)[at];
            let head = head(&layout, &givens);
            let text = format!("{head}{walk}\n\nlesson b-1 \"One look\"\n{lesson}\nsteps\n  {step}\n");
            let (_, mut reports) = found(&text);
            // Where the ladder does not finish the puzzle, its walk does not either.
            reports.retain(|report| finish.is_some() || report.finding.name != "steps-unfinished");
            assert!(reports.is_empty(), "{}{text}", told(&text, &reports));
            *taught.entry(subject.name()).or_default() += 1;
        }
    }
    println!("{taught:?}");
    assert!(taught.len() >= 10, "{taught:?}");
}

#[test]
fn what_is_found_is_read_again_and_what_is_changed_in_it_is_noticed() {
    go_through(7, 25);
}

#[test]
#[ignore = "the long run"]
fn the_same_of_two_thousand_puzzles() {
    go_through(2026, 2_000);
}

/// The puzzle of two of the walks below.
const TWICE: &str = "puzzle a-1
givens
  . . 3  . . .  . 8 9
  . 5 4  . 6 .  . . .
  . . 9  . . .  . 6 1
  . 3 .  . 8 .  1 . .
  . 4 8  . . 3  6 . .
  9 . 1  2 4 .  . . 8
  . . .  6 9 4  8 2 3
  3 8 6  7 2 1  9 . .
  4 9 2  8 3 5  7 1 6
";

/// Walks of which a mend touches more than its own line, each behind its puzzle, with the finding that it has first.
const ENTANGLED: [(&str, &str, &str); 4] = [
    // Behind the missing steps the claim comes to what a line further down says, which is then taken out.
    (
        "step-early",
        TWICE,
        "steps
  2 of box 6 in col 9
  r2c9 = 7  by naked single
  r5c9 = 2  by last open cell in col 9
  finish
",
    ),
    // The one line that names the dearest pattern is taken out: it is named where that is written instead.
    (
        "step-early",
        "puzzle a-1
givens
  2 9 .  3 6 8  . 5 7
  5 . .  . 7 9  2 . 3
  3 . .  . 2 5  8 6 9
  . 2 .  6 8 3  7 9 5
  . . 9  2 5 .  . 8 6
  6 . .  7 9 .  . . 2
  9 1 2  8 . 6  5 7 4
  . . .  5 1 2  9 3 8
  8 . .  9 4 7  6 2 1
",
        "steps
  r9c3 = 3
  1 of box 1 in col 3  by locked candidates in box 1
  r4c3 = 4
  finish
",
    ),
    // A pattern that counts only where it is named: the reason is the slip, and not what came before.
    (
        "step-reason",
        TWICE,
        "steps
  2 of box 6 in col 9  by line hidden single in box 6
  finish
",
    ),
    // How a fact came about has no say in how others speak of it.
    (
        "step-reason",
        "puzzle a-1
givens
  . 1 .  . 3 9  4 . .
  . . 3  . 4 5  . 2 .
  . 4 6  . 7 8  3 . .
  . 2 .  9 . 4  . 3 6
  . . 5  8 . 7  2 4 .
  . . 4  3 . 2  . 7 8
  . . 9  4 8 3  . . 2
  4 8 1  5 2 6  7 9 3
  . . 2  7 9 1  . . 4
",
        "steps
  5 of box 6 in col 7  by crossing in box 6
  5 of box 9 in col 8  by third line in box 9
  r3c8 = 1  by counting
  finish
",
    ),
];

#[test]
fn a_mend_that_touches_other_lines_brings_nothing_new() {
    for (finding, puzzle, steps) in ENTANGLED {
        let text = &format!("{puzzle}{steps}");
        let (_, reports) = found(text);
        assert!(told(text, &reports).starts_with(finding), "{}{text}", told(text, &reports));
        each_fix_mends(text);
    }
}
