//! A file of random minimal puzzles.

use super::puzzles::{random::Random, random_minimal};
use gridsetter::board::{Cell, Digit, Grid, Layout, Size};
use serde_json::{Value, json};
use std::fmt::Write as _;

pub const URI: &str = "untitled:bench";

/// How many puzzles at the beginning of a file, and how many at its end, have a finding from the start: what is told again
/// with each keystroke is then much the same in files of all lengths.
const WITH_FINDINGS: usize = 5;

/// What is said of the puzzles.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// How many givens there are, which is wrong of a few.
    Plain,
    /// The same, wrong of all.
    AllWrong,
    /// Its level, so that each is graded; where it is wrong, that is accepted.
    Levels,
}

impl Kind {
    pub fn name(self) -> &'static str {
        match self {
            Kind::Plain => "a few findings",
            Kind::AllWrong => "a finding each",
            Kind::Levels => "each graded",
        }
    }
}

/// A file.
pub struct File {
    pub puzzles: Vec<Grid>,
    pub text: String,
    /// The lines on which the puzzles begin.
    begins: Vec<usize>,
}

impl File {
    pub fn new(count: usize, kind: Kind) -> File {
        let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
        let mut random = Random::new(5);
        let puzzles: Vec<Grid> = (0..count).map(|_| random_minimal(&mut random, &layout)).collect();
        let mut text = String::from("notation 1\n");
        if kind == Kind::Levels {
            text += "allow level-wrong \"only the time counts\"\n";
        }
        text.push('\n');
        let mut lines = text.matches('\n').count();
        let mut begins = Vec::new();
        for (at, grid) in puzzles.iter().enumerate() {
            begins.push(lines);
            let wrong = kind == Kind::AllWrong || at < WITH_FINDINGS || at + WITH_FINDINGS >= count;
            let claim = match kind {
                Kind::Levels if !wrong => "level      4".to_owned(),
                _ => format!("clues      {}", grid.filled() - usize::from(wrong)),
            };
            let _ = writeln!(text, "puzzle k-{at:05} \"Bench\"\n{claim}\ngivens");
            for row in 0..9 {
                let symbol = |col| grid.get(Cell::new(row, col)).map_or('.', Digit::symbol);
                let symbols: Vec<String> = (0..9).map(|col| symbol(col).to_string()).collect();
                let _ = writeln!(text, "  {}", symbols.join(" "));
            }
            text.push('\n');
            lines += 13;
        }
        File { puzzles, text, begins }
    }

    /// How many puzzles it has, as people write it.
    pub fn count(&self) -> String {
        match self.puzzles.len() {
            few @ 0..1000 => few.to_string(),
            many => format!("{},{:03}", many / 1000, many % 1000),
        }
    }

    /// The line on which a puzzle begins.
    pub fn begin(&self, puzzle: usize) -> usize {
        self.begins[puzzle]
    }

    /// Line and column of an empty cell of some puzzle.
    pub fn empty_cell(&self, random: &mut Random) -> (usize, usize) {
        let puzzle = random.below(self.puzzles.len());
        let empty: Vec<Cell> = self.puzzles[puzzle].empty_cells().collect();
        let cell = empty[random.below(empty.len())];
        (self.begins[puzzle] + 3 + usize::from(cell.row()), 2 + 2 * usize::from(cell.col()))
    }
}

/// A place of the file, for a question.
pub fn at((line, column): (usize, usize)) -> Value {
    json!({"textDocument": {"uri": URI}, "position": {"line": line, "character": column}})
}
