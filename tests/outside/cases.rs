//! The search against puzzles with known answers.

use gridsetter::board::Grid;
use gridsetter::book::{Book, Workspace};
use gridsetter::lint;
use gridsetter::solve::{self, Budget, Contradiction, Stop};
use std::collections::BTreeMap;

use crate::known::{Case, cases};

/// The cases that the search leaves undecided at [`DEFAULT_NODES`], both of size 25. `pub25-003` takes 55,568 nodes, and
/// `pub25-002` more than 150,000.
const UNDECIDED: [&str; 2] = ["pub25-002", "pub25-003"];

/// The default budget that [`UNDECIDED`] goes with.
const DEFAULT_NODES: u64 = 40_000;

#[test]
fn every_case_has_its_number_of_solutions() {
    let budget = Budget::default();
    let mut undecided = Vec::new();
    for case in cases() {
        let found = solve::count(&case.layout, &case.givens, 2, budget);
        // Whatever was found before the budget ran out is true as well.
        assert!(found.count <= case.solutions, "{}", case.id);
        if found.stopped == Some(Stop::Budget) {
            undecided.push(case.id);
            continue;
        }
        assert_eq!(found.count, case.solutions, "{}", case.id);
        if case.solutions == 1 {
            assert_eq!(found.first, case.solution, "{}", case.id);
        }
    }
    assert_eq!(budget.nodes, DEFAULT_NODES);
    assert_eq!(undecided, UNDECIDED);
}

#[test]
fn check_finds_nothing_in_large_puzzles_but_what_it_cannot_decide() {
    let large = |case: &Case| case.layout.size().side() == 25 && case.solutions == 1;
    let found: BTreeMap<String, Vec<&str>> = cases()
        .into_iter()
        .filter(large)
        .map(|case| {
            let block = |word: &str, grid: &Grid| {
                let line = grid.to_string();
                let rows = line.as_bytes().chunks(25).map(|row| std::str::from_utf8(row).unwrap());
                let rows: Vec<&str> = rows.flat_map(|row| ["  ", row, "\n"]).collect();
                format!("{word}\n{}", rows.concat())
            };
            let grids = block("givens", &case.givens) + &block("solution", case.solution.as_ref().unwrap());
            let text = format!("puzzle {}\nsize 25\n{grids}", case.id);
            let workspace = Workspace::new(vec![Book::read("cases.gset", &text)]);
            let names = lint::check(&workspace).iter().map(|report| report.finding.name).collect();
            (case.id, names)
        })
        .collect();
    let told: Vec<(&str, &[&str])> = found.iter().map(|(id, names)| (&**id, &**names)).collect();
    assert_eq!(
        told,
        [
            ("gen25-001", &[][..]), // 10,837 nodes, the nearest to the budget
            ("gen25-002", &[]),
            ("gen25-003", &[]),
            ("gen25-004", &[]),
            ("gen25-005", &[]),
            ("gen25-006", &[]),
            ("pub25-001", &[]), // 8,036 nodes
            ("pub25-002", &["undecided"]),
            ("pub25-003", &["undecided"]),
        ],
        "at {DEFAULT_NODES} nodes"
    );
}

#[test]
fn every_case_has_its_exact_count() {
    for case in cases() {
        // The empty grid of size 6 has a test of its own, which takes long.
        let Some(exact) = case.exact.filter(|exact| *exact <= 200_000) else { continue };
        if case.layout.size().side() < 25 {
            let found = solve::count(&case.layout, &case.givens, u64::MAX, Budget { nodes: 400_000 });
            assert_eq!((found.count, found.stopped), (exact, None), "{}", case.id);
        }
    }
}

#[test]
fn clashes_are_found() {
    for case in cases() {
        let clashes = case.givens.clashes(&case.layout);
        let full_and_wrong = case.solutions == 0 && case.givens.is_full();
        assert_eq!(!clashes.is_empty(), case.id.starts_with("clash") || full_and_wrong, "{}", case.id);
        let Some((_, told)) = case.note.split_once("givens clash: ") else { continue };
        let shown: Vec<String> = clashes
            .iter()
            .flat_map(|clash| {
                let pairs = clash.cells.iter().flat_map(|a| clash.cells.iter().map(move |b| (a, b)));
                pairs.map(|(a, b)| format!("{a} and {b} in {}", clash.house)).collect::<Vec<_>>()
            })
            .collect();
        assert!(shown.iter().any(|one| one == told), "{}: {told} is not among {shown:?}", case.id);
    }
}

#[test]
fn plain_contradictions_are_found() {
    for case in cases() {
        // The notes name one of the contradictions; which comes first is for each program to choose.
        let shown = solve::contradiction(&case.layout, &case.givens).map(|found| match found {
            Contradiction::CellWithoutCandidate(cell) => format!("no candidate for {cell}"),
            Contradiction::DigitWithoutPlace(digit, house) => format!("no place for {digit} in {house}"),
        });
        if let Some((_, told)) = case.note.split_once("; no candidate for ") {
            assert_eq!(shown, Some(format!("no candidate for {told}")), "{}", case.id);
        } else if case.note.contains("; no place for ") {
            assert!(shown.is_some_and(|shown| shown.starts_with("no place for ")), "{}", case.id);
        } else if case.givens.clashes(&case.layout).is_empty() {
            assert_eq!(shown, None, "{}: {}", case.id, case.note);
        }
    }
}
