//! Puzzles with known answers, `tests/data/cases.tsv`.

use gridsetter::board::{BoxShape, Grid, Layout, Size};

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
