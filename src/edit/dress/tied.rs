//! Why a puzzle cannot be put into another dress.

use super::Dress;
use super::geometry::{is_own, lines_of};
use crate::board::{HouseName, Layout};
use crate::book::{Constraints, Puzzle, has_rows};
use crate::notation::{FaultKind, Keyword, Section};
use std::fmt;

/// Why a puzzle cannot be put into another dress. Shown as a sentence without its end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Tied {
    /// A part of it is broken or absent.
    Unread,
    /// It says what holds for it as it stands: that it was printed, what was wrong in it then, or how it was made.
    Fixed(Keyword),
    /// Lines that are neighbours would not be afterwards, and a range of cells none.
    Neighbours,
    /// Its constraints speak of numbers, and digits would get other names.
    Numbers,
    /// Where its cells lie is said for several puzzles.
    Shared(Keyword),
    /// Its constraints are said for several puzzles.
    SharedConstraints,
}

impl fmt::Display for Tied {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Tied::Unread => f.write_str("a part of it cannot be read"),
            Tied::Fixed(keyword) => {
                write!(f, "`{}` speaks of the puzzle as it stands: take that line out first", keyword.word())
            }
            Tied::Neighbours => f.write_str("lines that are neighbours would be parted"),
            Tied::Numbers => f.write_str("its constraints speak of numbers, which would not change"),
            Tied::Shared(keyword) => {
                write!(f, "`{}` is said for several puzzles: say it in this puzzle first", keyword.word())
            }
            Tied::SharedConstraints => {
                f.write_str("its constraints are said for several puzzles: say them in this puzzle first")
            }
        }
    }
}

impl std::error::Error for Tied {}

/// Whether nothing keeps a puzzle from being put into a dress.
pub(super) fn check(dress: &Dress, section: &Section, puzzle: &Puzzle) -> Result<(), Tied> {
    if puzzle.unsure || !is_read(section, puzzle) {
        return Err(Tied::Unread);
    }
    let has = |keyword| is_own(section, puzzle, keyword);
    if let Some(fixed) = fixed(section, puzzle) {
        return Err(Tied::Fixed(fixed));
    }
    let constrained = puzzle.facts.constraints != Constraints::None;
    if !dress.moves() {
        return if constrained { Err(Tied::Numbers) } else { Ok(()) };
    }
    let own = section.statements[puzzle.statements.clone()].iter();
    let own_constraint = own.filter_map(|it| it.keyword).find(|keyword| keyword.is_constraint());
    let regions_move = dress.to.regions() != dress.from.regions();
    let house_moves = puzzle.facts.houses.iter().any(|house| {
        let name = HouseName::Named(house.value.name.as_str().into());
        let cells = |layout: &Layout| layout.house(&name).map(|it| *it.set());
        !house.own && cells(&dress.from) != cells(&dress.to)
    });
    let box_shape = dress.to.boxes() != dress.from.boxes();
    if constrained && own_constraint.is_none() {
        Err(Tied::SharedConstraints)
    } else if regions_move && !has(Keyword::Regions) {
        Err(Tied::Shared(Keyword::Regions))
    } else if house_moves {
        Err(Tied::Shared(Keyword::House))
    } else if box_shape && !puzzle_has_head(section, puzzle) {
        Err(Tied::Shared(Keyword::Boxes))
    } else {
        Ok(())
    }
}

/// What the puzzle says that holds for it as it stands: that it was printed, what was wrong in it then, how it was made.
pub fn fixed(section: &Section, puzzle: &Puzzle) -> Option<Keyword> {
    let fixed = [Keyword::Printed, Keyword::Erratum, Keyword::Made];
    fixed.into_iter().find(|keyword| is_own(section, puzzle, *keyword))
}

/// Whether there is a line below which something can be said of the puzzle alone.
fn puzzle_has_head(section: &Section, puzzle: &Puzzle) -> bool {
    let head = section.statements.get(puzzle.statements.start).and_then(|head| head.keyword);
    matches!(head, Some(Keyword::Puzzle | Keyword::Lesson))
}

/// Whether each line of the puzzle could be read.
pub(super) fn has_all_lines(section: &Section, puzzle: &Puzzle) -> bool {
    let lines = lines_of(section, puzzle);
    section.faults.iter().all(|fault| {
        let here = lines.start <= fault.span.start && fault.span.start < lines.end;
        !here || fault.kind.is_read() || matches!(fault.kind, FaultKind::NotIndented(_))
    })
}

/// Whether each line of the puzzle, and each of its grids, could be read.
fn is_read(section: &Section, puzzle: &Puzzle) -> bool {
    let rows = |keyword| {
        puzzle.blocks(section, keyword).filter(|(_, statement)| has_rows(section, statement)).count()
    };
    let boards = [
        (Keyword::Givens, &puzzle.givens),
        (Keyword::Position, &puzzle.position),
        (Keyword::Solution, &puzzle.solution),
    ];
    has_all_lines(section, puzzle)
        && boards.iter().all(|(keyword, board)| rows(*keyword) == usize::from(board.is_some()))
        && rows(Keyword::Work) == puzzle.sheets.len()
}
