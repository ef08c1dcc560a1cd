//! Editing in progress: whatever one slip of the pen does to a file, it adds at most three findings, nearly always one.
//!
//! Every sample, cut off after each character, and with each line deleted, doubled, indented, pushed to column 1, joined to
//! the next, and robbed of its last word. `cargo test --test editing -- --nocapture` prints the table.

use gridsetter::book::{Book, Workspace};
use gridsetter::lint;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;

/// How many findings of each name a file has.
type Counts = BTreeMap<&'static str, usize>;

fn findings(text: &str) -> Counts {
    let workspace = Workspace::new(vec![Book::read("sample.gset", text)]);
    let mut counts = Counts::new();
    for report in lint::check(&workspace) {
        *counts.entry(report.finding.name).or_default() += 1;
    }
    counts
}

/// The findings that `after` has beyond those of `before`.
fn added(before: &Counts, after: &Counts) -> Counts {
    let more = |(&name, &n): (&&'static str, &usize)| {
        (name, n.saturating_sub(before.get(name).copied().unwrap_or(0)))
    };
    after.iter().map(more).filter(|&(_, n)| n > 0).collect()
}

/// What is done to one line; `None` where it changes nothing.
type Edit = fn(&[&str], usize) -> Option<Vec<String>>;

fn replaced(lines: &[&str], at: usize, count: usize, with: &[String]) -> Option<Vec<String>> {
    let mut edited: Vec<String> = lines.iter().map(|&line| line.to_owned()).collect();
    edited.splice(at..at + count, with.iter().cloned());
    (edited != lines).then_some(edited)
}

const EDITS: &[(&str, Edit)] = &[
    ("deleted", |lines, at| replaced(lines, at, 1, &[])),
    ("doubled", |lines, at| replaced(lines, at, 1, &[lines[at].to_owned(), lines[at].to_owned()])),
    ("indented", |lines, at| replaced(lines, at, 1, &[format!("  {}", lines[at])])),
    ("pushed to column 1", |lines, at| replaced(lines, at, 1, &[lines[at].trim_start().to_owned()])),
    ("joined to the next", |lines, at| {
        let next = lines.get(at + 1)?;
        replaced(lines, at, 2, &[format!("{}{next}", lines[at])])
    }),
    ("last word gone", |lines, at| {
        let line = lines[at].trim_end();
        replaced(lines, at, 1, &[line[..line.rfind(' ').map_or(0, |at| at + 1)].to_owned()])
    }),
];

#[derive(Default)]
struct Row {
    /// How many cases added 0, 1, 2, 3 and more findings.
    by_count: [usize; 5],
    worst: Vec<String>,
}

impl Row {
    fn add(&mut self, case: impl Fn() -> String, added: &Counts) {
        let n = added.values().sum::<usize>();
        self.by_count[n.min(4)] += 1;
        if n >= 3 {
            self.worst.push(format!("{n}: {}: {added:?}", case()));
        }
    }
}

#[test]
fn one_slip_adds_at_most_three_findings() {
    let mut table: BTreeMap<&str, Row> = BTreeMap::new();
    let mut files: Vec<_> =
        fs::read_dir("tests/samples").expect("the samples are there").map(|it| it.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ext| ext == "gset"));
    files.sort();
    assert_eq!(files.len(), 14);
    for path in files {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let text = fs::read_to_string(&path).unwrap();
        let before = findings(&text);
        for (at, _) in text.char_indices() {
            let added = added(&before, &findings(&text[..at]));
            table
                .entry("cut off")
                .or_default()
                .add(|| format!("{file} after {:?}", tail(&text[..at])), &added);
        }
        let lines: Vec<&str> = text.lines().collect();
        for &(name, edit) in EDITS {
            for at in 0..lines.len() {
                if let Some(edited) = edit(&lines, at) {
                    let added = added(&before, &findings(&(edited.join("\n") + "\n")));
                    table
                        .entry(name)
                        .or_default()
                        .add(|| format!("{file}:{} {:?}", at + 1, lines[at]), &added);
                }
            }
        }
    }
    let mut shown = String::from("edit                 cases      0      1      2      3   more\n");
    let mut all = [0; 5];
    for (name, row) in &table {
        let [none, one, two, three, more] = row.by_count;
        let cases: usize = row.by_count.iter().sum();
        writeln!(shown, "{name:18} {cases:7} {none:6} {one:6} {two:6} {three:6} {more:6}").unwrap();
        all.iter_mut().zip(row.by_count).for_each(|(sum, n)| *sum += n);
    }
    for worst in table.values().flat_map(|row| &row.worst) {
        writeln!(shown, "  {worst}").unwrap();
    }
    println!("{shown}");
    let cases: usize = all.iter().sum();
    assert!(cases > 10_000, "{cases} cases");
    assert_eq!(all[4], 0, "a slip adds more than three findings\n{shown}");
    assert!(all[0] + all[1] > cases * 95 / 100, "not nearly always one\n{shown}");
}

/// The last characters of a text, to find the place again.
fn tail(text: &str) -> &str {
    let start = text.char_indices().rev().nth(24).map_or(0, |(at, _)| at);
    &text[start..]
}
