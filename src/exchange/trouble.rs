//! What an import could not take as it stood.

use super::symbols::Look;
use crate::board::{Digit, GridLineError, Size};

/// One place of foreign texts that did not come out as it stood.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Trouble {
    /// Which of the texts, from 0.
    pub source: usize,
    /// The line, from 1.
    pub line: usize,
    /// The character of that line, from 1.
    pub column: usize,
    /// What is wrong there.
    pub kind: TroubleKind,
    /// The size that most rows of the texts have, if several have one.
    pub usual: Option<Size>,
}

/// What a [`Trouble`] has done to its row.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Effect {
    /// Nothing that the row says is lost or changed.
    NothingLost,
    /// Its puzzle came out; something that it says is not as it was, or may not be as it was meant.
    Altered,
    /// It did not become a puzzle: it is kept as a comment.
    Left,
}

/// What is wrong at a [`Trouble`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum TroubleKind {
    // Each of these leaves the row as a comment.
    /// There is nothing where the givens should be.
    NoGivens,
    /// The symbols make no grid.
    Grid {
        /// Why not.
        error: GridLineError,
        /// What they look like.
        look: Look,
    },
    /// A spreadsheet has shortened the grid to a power of ten.
    Power,
    /// A spreadsheet has put marks between the digits, as for a large number.
    Grouped,
    /// A formula stands there, not its value.
    Formula,
    /// Blanks part the symbols into pieces of different length.
    Uneven,
    /// There is far more than the largest grid holds.
    TooLong {
        /// How many characters.
        characters: usize,
    },
    /// Givens and solution are grids of different sizes.
    SizesDiffer {
        /// Of the givens.
        givens: Size,
        /// Of the solution.
        solution: Size,
    },
    /// A record of a table has far more fields than any table.
    TooManyFields,
    /// A table whose columns nothing names; what the columns seem to be, to be said instead.
    NoHeading {
        /// As it would be said, such as `id,givens`.
        columns: String,
    },
    /// A row of a grid of several lines holds something that is no symbol.
    RowUnreadable {
        /// The character.
        symbol: char,
    },
    /// A row of a grid of several lines has not as many symbols as the grid's first row.
    RowLength {
        /// How many it has.
        found: usize,
        /// How many the first row has.
        expected: usize,
    },
    /// A grid of several lines has not as many rows as a row has symbols.
    RowCount {
        /// How many it has.
        found: usize,
        /// How many a row has.
        expected: usize,
    },
    /// Among grids of several lines, a whole grid in one line.
    LoneLine,

    // With these the puzzle comes out, altered.
    /// The id stands earlier in the text too.
    IdRepeated {
        /// The id that the puzzle has instead.
        new: String,
    },
    /// The id cannot be one in the notation.
    IdUnfit {
        /// The id that the puzzle has instead.
        new: String,
    },
    /// The level is no whole number.
    LevelUnreadable,
    /// The number is no whole number.
    NumberUnreadable,
    /// The solution is no grid.
    SolutionUnreadable(Box<TroubleKind>),
    /// There are more fields than columns.
    FieldsExtra {
        /// How many fields hold something.
        fields: usize,
        /// How many columns there are.
        columns: usize,
    },
    /// A quotation mark is opened and not closed, or closed inside a field.
    QuoteOpen,
    /// A character that has no place in a text, such as an escape.
    Control {
        /// The character.
        character: char,
    },
    /// The grid is smaller than most and may be a larger one that lost zeros at its front.
    PerhapsShortened {
        /// The size that it was read as.
        size: Size,
    },

    // With these nothing is lost.
    /// The solution shows how many zeros were lost at both ends.
    ZerosRestored {
        /// How many were put at the front.
        front: usize,
        /// How many were put at the end.
        back: usize,
    },
    /// A line before the heading of a table.
    BeforeHeading,
    /// A heading line below the first.
    HeadingAgain,
    /// No level, where the row above has one.
    LevelBlank,
    /// A row without an id, where the table has a column for it.
    IdBlank {
        /// The id that the puzzle has instead.
        new: String,
    },
}

impl Trouble {
    /// What it has done to its row.
    pub fn effect(&self) -> Effect {
        use TroubleKind as K;
        match self.kind {
            K::NoGivens
            | K::Grid { .. }
            | K::Power
            | K::Grouped
            | K::Formula
            | K::Uneven
            | K::TooLong { .. }
            | K::SizesDiffer { .. }
            | K::TooManyFields
            | K::NoHeading { .. }
            | K::RowUnreadable { .. }
            | K::RowLength { .. }
            | K::RowCount { .. }
            | K::LoneLine => Effect::Left,
            K::IdRepeated { .. }
            | K::IdUnfit { .. }
            | K::LevelUnreadable
            | K::NumberUnreadable
            | K::SolutionUnreadable(_)
            | K::FieldsExtra { .. }
            | K::QuoteOpen
            | K::Control { .. }
            | K::PerhapsShortened { .. } => Effect::Altered,
            K::ZerosRestored { .. }
            | K::BeforeHeading
            | K::HeadingAgain
            | K::LevelBlank
            | K::IdBlank { .. } => Effect::NothingLost,
        }
    }

    /// What is wrong, in a sentence without a capital and a full stop.
    pub fn what(&self) -> String {
        what(&self.kind)
    }

    /// What to do, in a sentence without a capital and a full stop.
    pub fn help(&self) -> String {
        help(&self.kind, self.usual)
    }
}

fn what(kind: &TroubleKind) -> String {
    use TroubleKind as K;
    match kind {
        K::NoGivens => "this row has no givens".into(),
        K::Grid { error, .. } => error.to_string(),
        K::Power => "a spreadsheet took the grid for a number and kept only its first digits".into(),
        K::Grouped => "a spreadsheet took the grid for a number and set its digits in threes".into(),
        K::Formula => "this is a formula, not a grid".into(),
        K::Uneven => "blanks part the symbols into pieces of different length".into(),
        K::TooLong { characters } => format!("{characters} characters are more than any grid has"),
        K::SizesDiffer { givens, solution } => {
            format!("the givens are {givens} by {givens} and the solution is {solution} by {solution}")
        }
        K::TooManyFields => "this record has far more fields than any table".into(),
        K::NoHeading { .. } => "this is a table, and no heading line says what its columns are".into(),
        K::RowUnreadable { symbol } => {
            format!("this row of a grid holds {symbol:?}, which is no symbol and no empty cell")
        }
        K::RowLength { found, expected } => {
            format!("this row has {}, and the grid's first row has {expected}", count(*found, "symbol"))
        }
        K::RowCount { found, expected } => format!(
            "there {} {} of {expected} symbols, and a grid has as many rows as a row has symbols",
            if *found == 1 { "is" } else { "are" },
            count(*found, "row")
        ),

        K::LoneLine => "among grids of several lines, this line seems to be a whole grid".into(),
        K::IdRepeated { new } => format!("this id stands further up too; the puzzle is now `{new}`"),
        K::IdUnfit { new } => format!("this cannot be an id; the puzzle is now `{new}`"),
        K::LevelUnreadable => "the level is no whole number; it is kept as `extra level`".into(),
        K::NumberUnreadable => "the number is no whole number; it is kept as `extra number`".into(),
        K::SolutionUnreadable(kind) => {
            format!("the solution cannot be read and is kept as `extra solution`: {}", what(kind))
        }
        K::FieldsExtra { fields, columns } => {
            format!("this row has {fields} fields for {columns} columns; those beyond are kept as `extra`")
        }
        K::QuoteOpen => "a quotation mark has no partner; this line was read without regard to quotes".into(),
        K::Control { character } => {
            format!(
                "the control character {character:?} has no place in a text; a picture of it stands there now"
            )
        }
        K::PerhapsShortened { size } => {
            format!("this grid is {size} by {size}, unlike most rows, and is one number")
        }
        K::ZerosRestored { front, back } => {
            let end = match (front, back) {
                (_, 0) => format!("{} at its front", count(*front, "zero")),
                (0, _) => format!("{} at its end", count(*back, "zero")),
                _ => format!("{front} at its front and {} at its end", count(*back, "zero")),
            };
            format!("the grid had lost {end}; the solution leaves no other way to put them back")
        }
        K::BeforeHeading => {
            "this line stands before the heading of the table; it is kept as a comment".into()
        }
        K::HeadingAgain => "this is a heading line once more; it is kept as a comment".into(),
        K::LevelBlank => "this row has no level, and the row above has one".into(),
        K::IdBlank { new } => format!("this row has no id; the puzzle is now `{new}`"),
    }
}

fn help(kind: &TroubleKind, usual: Option<Size>) -> String {
    use TroubleKind as K;
    match kind {
        K::NoGivens => "if cells were merged, write into each row what holds for it; if this is no puzzle, delete the row".into(),
        K::Grid { error, look } => grid_help(error, *look, usual),
        K::Power => "the rest is lost: take the grid from where it came from, into a column set to text".into(),
        K::Grouped => "export again with the column set to text, so that no digit is lost or added".into(),
        K::Formula => "export the values of the table instead of its formulas".into(),
        K::Uneven => "write `.` for each empty cell, and put nothing else into this place".into(),
        K::TooLong { .. } => "write one puzzle a line".into(),
        K::SizesDiffer { .. } => "see which of the two is wrong and mend it".into(),
        K::TooManyFields => "see whether the line ends of the file are lost".into(),
        K::NoHeading { columns } => format!("name them in the first line, or say `--columns {columns}`"),
        K::RowUnreadable { .. } => "write a digit `1` to `9`, a letter `A` to `P`, or `.` for an empty cell".into(),
        K::RowLength { .. } => "write one symbol for each cell, `.` for an empty one".into(),
        K::RowCount { found, expected } if found > expected => "put an empty line between grids".into(),
        K::RowCount { .. } => "write a row for each, also where all its cells are empty".into(),
        K::LoneLine => "import the lines of this kind apart, as a list".into(),
        K::IdRepeated { .. } => "give one of the two puzzles another id".into(),
        K::IdUnfit { .. } => "write ids as one word, without quotes, braces and commas".into(),
        K::LevelUnreadable => "write the level as a whole number".into(),
        K::NumberUnreadable => "write the number as a whole number".into(),
        K::SolutionUnreadable(_) => "write the whole solution, or leave the field empty".into(),
        K::FieldsExtra { .. } => {
            "put a field that holds the separator between quotes, or name the further columns in the heading".into()
        }
        K::QuoteOpen => "write a quotation mark within a quoted field twice".into(),
        K::Control { .. } => "delete it".into(),
        K::PerhapsShortened { .. } => "see whether zeros are lost at its front; if it is right as it is, nothing is to be done".into(),
        K::ZerosRestored { .. } => "set the column to text before it is exported again".into(),
        K::BeforeHeading | K::HeadingAgain => "if it should be a puzzle, mend it; otherwise nothing is to be done".into(),
        K::LevelBlank => "if these cells were merged, write the level into each row".into(),
        K::IdBlank { .. } => "if cells were merged or ids are to last, write one into each row".into(),
    }
}

fn grid_help(error: &GridLineError, look: Look, usual: Option<Size>) -> String {
    match error {
        GridLineError::TooGreat { digit, .. } if matches!(digit.symbol(), 'O' | 'I' | 'L') => {
            let meant = if *digit == Digit::new(24).unwrap_or(*digit) {
                "nought, write `0`"
            } else {
                "one, write `1`"
            };
            format!("if the letter was typed for a {meant}; a letter is never taken for a digit unasked")
        }
        GridLineError::TooGreat { .. } | GridLineError::NotASymbol { .. } => {
            "write a digit that the size has, or `.` for an empty cell".into()
        }
        GridLineError::NoSize { found } | GridLineError::WrongCount { found, .. } => {
            let usual = usual.map(Size::cells);
            match (look, usual) {
                (Look::Number, Some(usual)) if *found < usual => format!(
                    "most rows here have {usual}: if a spreadsheet dropped the zeros at its front, export again with the column set to text"
                ),
                (Look::Number, None) => {
                    "if a spreadsheet dropped the zeros at its front, export again with the column set to text".into()
                }
                (Look::Full, Some(usual)) if *found < usual => format!(
                    "most rows here have {usual}, and no cell of this one is empty: see whether its dots are lost"
                ),
                (_, Some(usual)) => format!("write one symbol for each cell; most rows here have {usual}"),
                (_, None) => "write one symbol for each cell, `.` for an empty one".into(),
            }
        }
    }
}

fn count(n: usize, noun: &str) -> String {
    format!("{n} {noun}{}", if n == 1 { "" } else { "s" })
}
