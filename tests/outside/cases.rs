//! Puzzles with known answers, `tests/data/cases.tsv`.

use gridsetter::board::{BoxShape, Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Contradiction, Stop};

/// How many cases, all of them large, may stay undecided at the default budget.
const UNDECIDED: usize = 3;

/// One line of `tests/data/cases.tsv`; where it comes from and on what terms is said in `LICENCES.md` beside it.
pub struct Case {
    pub id: String,
    pub layout: Layout,
    pub givens: Grid,
    /// 0, 1, or 2 for two or more.
    pub solutions: u64,
    pub solution: Option<Grid>,
    pub exact: Option<u64>,
    pub note: String,
}

/// Every case.
pub fn cases() -> Vec<Case> {
    let mut lines = include_str!("../data/cases.tsv").lines();
    let heading: Vec<&str> = lines.next().unwrap().split('\t').collect();
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split('\t').collect();
            let field = |name: &str| {
                let text = fields[heading.iter().position(|column| *column == name).unwrap()];
                (text != "-").then_some(text)
            };
            let size = Size::new(field("size").unwrap().parse().unwrap()).unwrap();
            let layout = match (field("boxes"), field("regions")) {
                (Some(boxes), None) => Layout::with_boxes(size, boxes.parse::<BoxShape>().unwrap()).unwrap(),
                (None, Some(regions)) => {
                    Layout::with_regions(size, &regions.chars().collect::<Vec<_>>()).unwrap()
                }
                both => panic!("{both:?}"),
            };
            let diagonals = field("kind").unwrap().contains("diagonals");
            Case {
                id: field("id").unwrap().to_owned(),
                layout: if diagonals { layout.and_diagonals() } else { layout },
                givens: Grid::from_line_of(size, field("puzzle").unwrap()).unwrap(),
                solutions: field("solutions").unwrap().trim_end_matches('+').parse().unwrap(),
                solution: field("solution").map(|line| Grid::from_line_of(size, line).unwrap()),
                note: field("note").unwrap_or_default().to_owned(),
                exact: field("exact").map(|count| count.parse().unwrap()),
            }
        })
        .collect()
}

#[test]
fn every_case_has_its_number_of_solutions() {
    let budget = Budget::default();
    let mut undecided = Vec::new();
    for case in cases() {
        let found = solve::count(&case.layout, &case.givens, 2, budget);
        // Whatever was found before the budget ran out is true as well.
        assert!(found.count <= case.solutions, "{}", case.id);
        if found.stopped == Some(Stop::Budget) {
            assert!(case.layout.size().side() >= 16, "{} is small enough to be decided", case.id);
            undecided.push(case.id);
            continue;
        }
        assert_eq!(found.count, case.solutions, "{}", case.id);
        if case.solutions == 1 {
            assert_eq!(found.first, case.solution, "{}", case.id);
        }
    }
    println!("undecided at {} nodes: {}", budget.nodes, undecided.join(" "));
    assert!(undecided.len() <= UNDECIDED, "more than there used to be: {undecided:?}");
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
