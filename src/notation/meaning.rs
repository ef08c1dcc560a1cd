//! What each statement says, in a sentence or two: for whoever asks while writing.

use super::Keyword;

impl Keyword {
    /// What it says, in a sentence or two of Markdown.
    pub fn meaning(self) -> &'static str {
        match self {
            Keyword::Notation => "Which edition of the notation this file is in; 1 if it does not say.",
            Keyword::Collection => "The title that this file prints as, each string a line.",
            Keyword::Series => "The series that the volume belongs to.",
            Keyword::Volume => "Which volume of its series this is.",
            Keyword::Edition => "Which edition of the volume this is.",
            Keyword::Status => "How far the book is: `draft`, `ready`, or `printed` with a date.",
            Keyword::Ids => {
                "The shape of the ids of this file, shown by the first one; the digits at its end count."
            }
            Keyword::Numbers => "From where printed numbers run: `numbers from 1`.",
            Keyword::Language => {
                "The language of prose and print, as a tag such as `en`; `en` if it is not said."
            }
            Keyword::Naming => "What print calls cells, lines and boxes: `r4c1`, `D1`, or `words`.",
            Keyword::Page => "How many puzzles a page holds: rows by columns, `2x1`.",
            Keyword::Answers => "Where answers are printed: `end`, `facing`, `after` or `none`.",
            Keyword::Ladder => "Which ladder of patterns the levels mean.",
            Keyword::Marks => {
                "What open marks mean in this book: `free`, noted and nothing more; or `by-box`, where a \
                 box has one of a digit, the digit is in a cell so marked."
            }
            Keyword::Part => {
                "Begins a chapter. What is said before its first puzzle holds up to the next part."
            }
            Keyword::Puzzle => "Begins a puzzle: its id, by which everything names it, and a title.",
            Keyword::Lesson => "Begins a page that teaches. It need not be a whole puzzle, and need not end.",
            Keyword::Answer => "A puzzle's solution, kept apart from it: the puzzle's id, and a grid below.",
            Keyword::Text => "Running text, printed where it stands.",
            Keyword::Plan => "What the book is still to contain.",
            Keyword::Take => "Puzzles of other files, printed here in this order: `take lk-001..lk-012`.",
            Keyword::Givens => "The printed digits, one symbol a cell, `.` where it is empty.",
            Keyword::Solution => "The answer, checked against the exact search.",
            Keyword::Regions => "The layout, where it is not boxes: one letter a cell.",
            Keyword::Position => "Where a lesson starts.",
            Keyword::From => {
                "Where a lesson starts: at a puzzle, or at a point of its walk: `from lk-007 at two-kettles`."
            }
            Keyword::Work => {
                "A solver's sheet, a token a cell: `5` written, `46` one of these, `46?` noted, `5!` \
                 known and not written yet, `.` nothing."
            }
            Keyword::Known => "Facts remembered with the sheet above or with the givens, a claim a line.",
            Keyword::Steps => "A walk: a step a line, and what is said, shown and asked between them.",
            Keyword::Note => "Printed under the puzzle.",
            Keyword::Hint => "Given on request; several in this order, each going further.",
            Keyword::Symbols => "What is printed for 1, 2, …: `symbols A-P`, or a sign for each.",
            Keyword::Size => "How many cells a side has, 4 to 25; 9 if it is not said.",
            Keyword::Boxes => "The boxes, rows by columns: `boxes 2x3`.",
            Keyword::Rules => "Further rules: `diagonals`.",
            Keyword::House => "An extra house: its name and its cells.",
            Keyword::Scanning => {
                "Claims that the puzzle can be finished with nothing written but digits; `held N`: with \
                 at most N facts remembered at once."
            }
            Keyword::Level => "Claims how hard the puzzle is.",
            Keyword::Levels => "Claims between which levels the puzzle is.",
            Keyword::Needs => {
                "Claims that the puzzle is not finished without these patterns, unless by dearer ones."
            }
            Keyword::Avoids => "Claims that the puzzle is finished without these patterns.",
            Keyword::Teaches => "What this page is there to teach.",
            Keyword::Clues => "Claims how many givens there are: `clues 24`, or `clues 22-26`.",
            Keyword::Symmetry => {
                "Claims how the pattern of the givens is carried to itself: `half-turn`, `quarter-turn`, \
                 `mirror-across`, `mirror-down`, `mirror-diagonal` or `none`."
            }
            Keyword::Minimal => "Claims that no given can go without a second solution.",
            Keyword::Cage => {
                "Cells that hold no digit twice, with their sum if one is said. Kept, and not used in \
                 solving yet."
            }
            Keyword::Sum => "Cells whose digits have this sum. Kept, and not used in solving yet.",
            Keyword::Thermometer => {
                "Cells whose digits rise from the first on. Kept, and not used in solving yet."
            }
            Keyword::Arrow => {
                "Cells whose number is the sum of those behind the colon. Kept, and not used in solving yet."
            }
            Keyword::Odd => "Cells that hold odd digits. Kept, and not used in solving yet.",
            Keyword::Even => "Cells that hold even digits. Kept, and not used in solving yet.",
            Keyword::Less => "The first cell holds less than the second. Kept, and not used in solving yet.",
            Keyword::Differ => {
                "How far the digits of two cells are apart. Kept, and not used in solving yet."
            }
            Keyword::Number => "The number that is printed over the puzzle, unique in its file.",
            Keyword::Setter => "Who made the puzzle.",
            Keyword::Source => "Where the puzzle comes from.",
            Keyword::Date => "When the puzzle was made.",
            Keyword::Tags => "Words to find the puzzle by.",
            Keyword::Tested => "When somebody tried the puzzle, and what came of it.",
            Keyword::Extra => "A key and a value that are handed on to outputs.",
            Keyword::Made => "How the puzzle was made: the seed and the options that bring it out again.",
            Keyword::Repeats => "This is that puzzle in another dress, on purpose.",
            Keyword::Revised => "When something was changed, and what.",
            Keyword::Erratum => "A mistake in what was printed, and since when it is known.",
            Keyword::Printed => "The fingerprint of the grid when it went to print.",
            Keyword::Allow => "Accepts a finding here, with the reason why.",
        }
    }
}
