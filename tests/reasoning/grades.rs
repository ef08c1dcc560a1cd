//! `hardest` and `needs` as they are defined, by trying: the shortest beginning of the ladder that finishes a puzzle, and
//! those of its patterns without any one of which it does not.

use std::collections::BTreeMap;

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::ladder::{Ladder, Pattern};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::Position;
use gridsetter::study::Grader;

use crate::known::Case;
use crate::puzzles;
use crate::random::{self, Random};

fn finishes(layout: &Layout, puzzle: &Grid, patterns: &[Pattern]) -> bool {
    let reasoner = Reasoner::with(layout, patterns.to_vec());
    Walk::with_marks(&reasoner, Position::new(layout, puzzle).with_one_solution()).is_finished()
}

/// The names of `hardest` and `needs`, by their definition.
fn by_definition(
    layout: &Layout,
    puzzle: &Grid,
    ladder: &[Pattern],
) -> (Option<&'static str>, Vec<&'static str>) {
    let Some(end) = (1..=ladder.len()).find(|&end| finishes(layout, puzzle, &ladder[..end])) else {
        return (None, Vec::new());
    };
    let beginning = &ladder[..end];
    let less = |left_out: Pattern| -> Vec<Pattern> {
        beginning.iter().copied().filter(|&pattern| pattern != left_out).collect()
    };
    let needed = beginning.iter().filter(|&&pattern| !finishes(layout, puzzle, &less(pattern)));
    (beginning.last().map(|pattern| pattern.name()), needed.map(|pattern| pattern.name()).collect())
}

fn compare(count: usize) {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let grader = Grader::new(&layout, &Ladder::default());
    let ladder = grader.reasoner().patterns().to_vec();
    let mut random = Random::new(31);
    let mut shares: BTreeMap<&str, u32> = BTreeMap::new();
    for _ in 0..count {
        let (puzzle, _) = random::minimal(&mut random, &layout);
        let grade = grader.grade(&puzzle);
        let (hardest, needs) = by_definition(&layout, &puzzle, &ladder);
        assert_eq!((grade.hardest, &grade.needs), (hardest, &needs), "{puzzle}");
        assert_eq!(grade.finished, hardest.is_some(), "{puzzle}");
        assert_eq!(grader.hardest(&puzzle), hardest, "{puzzle}");
        for name in needs {
            assert!(grader.open_without(&puzzle, hardest.unwrap(), name) > 0, "{puzzle} {name}");
        }
        *shares.entry(hardest.unwrap_or("not finished")).or_default() += 1;
    }
    println!("hardest of {count} random minimal puzzles: {shares:?}");
}

#[test]
fn hardest_and_needs_are_what_they_are_defined_to_be() {
    compare(60);
}

#[test]
#[ignore = "the same for a thousand puzzles"]
fn hardest_and_needs_of_a_thousand() {
    compare(1000);
}

/// Puzzles in which so much must be tried that the walk is cut short.
const MUCH_TO_TRY: [&str; 6] =
    ["diag16-001", "diag16-002", "gen25-001", "pub25-001", "pub25-002", "pub25-003"];

#[test]
#[ignore = "takes minutes"]
fn a_puzzle_in_which_very_much_must_be_tried_has_a_level() {
    let mut open = Vec::new();
    for Case { id: name, layout, givens, .. } in puzzles::known(16).chain(puzzles::known(25)) {
        if !MUCH_TO_TRY.contains(&&*name) {
            continue;
        }
        let grader = Grader::new(&layout, &Ladder::default());
        assert_eq!(grader.hardest(&givens), Some("trial"), "{name}");
        assert_eq!(grader.open_without(&givens, "trial", "naked single"), 0, "{name}");
        let grade = grader.grade(&givens);
        assert_eq!((grade.level, grade.hardest, &grade.needs[..]), (Some(7), Some("trial"), &["trial"][..]));
        assert_eq!(grade.finished, grade.open == 0, "{name}");
        open.push((name, grade.steps, grade.open));
    }
    println!("steps, and cells that stay open: {open:?}");
    assert_eq!(open.len(), MUCH_TO_TRY.len());
}
